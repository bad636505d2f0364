package lift

// JSON is the lift object of `plan --json`.
type JSON struct {
	MassKG   float64      `json:"mass_kg"`
	CentreMM [3]float64   `json:"centre_mm"`
	SizeMM   [3]float64   `json:"size_mm"`
	Stands   []StandJSON  `json:"stands"`
	Hand     *HandJSON    `json:"hand"`
	Sling    *SlingJSON   `json:"sling"`
	Jack     *JackJSON    `json:"jack"`
	Turns    []TurnJSON   `json:"turns"`
	Access   *PassageJSON `json:"access"`
	Cautions []string     `json:"cautions"`
}

// StandJSON is what a leg carries of the weight.
type StandJSON struct {
	Name string     `json:"name"`
	AtMM [3]float64 `json:"at_mm"`
	N    float64    `json:"n"`
}

// HandJSON is a lift by people.
type HandJSON struct {
	People  int            `json:"people"`
	Fewest  int            `json:"fewest"`
	EachKG  float64        `json:"each_kg"`
	LimitKG float64        `json:"limit_kg"`
	Ends    []EndShareJSON `json:"ends"`
	One     *OneJSON       `json:"one"` // one person alone
}

// EndShareJSON is the share of each end at a tilt.
type EndShareJSON struct {
	TiltDeg float64 `json:"tilt_deg"`
	LowKG   float64 `json:"low_kg"`
	HighKG  float64 `json:"high_kg"`
}

// OneJSON is the lifting equation; Index is null where the limit is nothing.
type OneJSON struct {
	RWLKG float64  `json:"rwl_kg"`
	Index *float64 `json:"index"`
	HM    float64  `json:"hm"`
	VM    float64  `json:"vm"`
	DM    float64  `json:"dm"`
	AM    float64  `json:"am"`
	FM    float64  `json:"fm"`
	CM    float64  `json:"cm"`
}

// SlingJSON is a lift by slings.
type SlingJSON struct {
	Picks    []PickJSON `json:"picks"`
	HookMM   float64    `json:"hook_mm"`
	LeastDeg float64    `json:"least_deg"`
	Hangs    bool       `json:"hangs"`
	Proposed bool       `json:"proposed"`
}

// PickJSON is one pick.
type PickJSON struct {
	Name     string     `json:"name"`
	AtMM     [3]float64 `json:"at_mm"`
	ShareN   float64    `json:"share_n"`
	AngleDeg float64    `json:"angle_deg"`
	LegMM    float64    `json:"leg_mm"`
	LegN     float64    `json:"leg_n"`
}

// JackJSON is a lift of one end.
type JackJSON struct {
	RaiseMM    float64 `json:"raise_mm"`
	TiltDeg    float64 `json:"tilt_deg"`
	JackN      float64 `json:"jack_n"`
	StandsN    float64 `json:"stands_n"`
	TipDeg     float64 `json:"tip_deg"`
	SideTipDeg float64 `json:"side_tip_deg"`
	SlideDeg   float64 `json:"slide_deg"`
	Tips       bool    `json:"tips"`
	Slides     bool    `json:"slides"`
}

// TurnJSON is a turn in the shop.
type TurnJSON struct {
	Stage    string     `json:"stage"`
	MassKG   float64    `json:"mass_kg"`
	Hands    int        `json:"hands"`
	EdgeN    float64    `json:"edge_n"`
	Gear     bool       `json:"gear"`
	OffMM    float64    `json:"off_middle_mm"` // of the centre of mass, along the edge turned about
	CentreMM [3]float64 `json:"centre_mm"`
}

// PassageJSON says where it passes; null where the job does not ask.
type PassageJSON struct {
	Door    *bool       `json:"door"`
	Trailer *bool       `json:"trailer"`
	Lift    *bool       `json:"lift"`
	Parts   int         `json:"parts"`
	Splits  []SplitJSON `json:"splits"`
	Why     []string    `json:"why"`
}

// SplitJSON is a place for a bolted split.
type SplitJSON struct {
	Axis string  `json:"axis"`
	AtMM float64 `json:"at_mm"`
}

// JSON gives the answer as the plan's object.
func (a *Answer) JSON() *JSON {
	j := &JSON{MassKG: a.MassKG, CentreMM: [3]float64{a.Centre.X, a.Centre.Y, a.Centre.Z}, SizeMM: [3]float64{a.Size.X, a.Size.Y, a.Size.Z}, Turns: []TurnJSON{}, Stands: []StandJSON{}, Cautions: append([]string{}, a.Cautions...)}
	for _, s := range a.Stands {
		j.Stands = append(j.Stands, StandJSON{s.Name, [3]float64{s.At.X, s.At.Y, s.At.Z}, s.N})
	}
	if h := a.Hand; h != nil {
		x := &HandJSON{People: h.People, Fewest: h.Fewest, EachKG: h.EachKG, LimitKG: h.LimitKG}
		for _, e := range h.Ends {
			x.Ends = append(x.Ends, EndShareJSON(e))
		}
		if s := h.Single; s != nil {
			x.One = &OneJSON{RWLKG: s.RWL.Value, HM: s.HM.Value, VM: s.VM.Value, DM: s.DM.Value, AM: s.AM.Value, FM: s.FM.Value, CM: s.CM.Value}
			if s.Possible {
				v := s.Index.Value
				x.One.Index = &v
			}
		}
		j.Hand = x
	}
	if s := a.Sling; s != nil {
		x := &SlingJSON{HookMM: s.HookMM, LeastDeg: s.LeastDeg, Hangs: s.Hangs, Proposed: s.Proposed, Picks: []PickJSON{}}
		for _, p := range s.Picks {
			x.Picks = append(x.Picks, PickJSON{p.Name, [3]float64{p.At.X, p.At.Y, p.At.Z}, p.ShareN, p.AngleDeg, p.LegMM, p.TensionN})
		}
		j.Sling = x
	}
	if k := a.Jack; k != nil {
		j.Jack = &JackJSON{k.RaiseMM, k.TiltDeg, k.JackN, k.StandsN, k.TipDeg, k.SideTipDeg, k.SlideDeg, k.Tips, k.Slips}
	}
	for _, t := range a.Turns {
		j.Turns = append(j.Turns, TurnJSON{t.Name, t.MassKG, t.Hands, t.AboutN, t.Gear, t.OffMM, [3]float64{t.Centre.X, t.Centre.Y, t.Centre.Z}})
	}
	if p := a.Access; p != nil {
		x := &PassageJSON{Door: p.Door, Trailer: p.Trailer, Lift: p.Lift, Parts: p.Parts, Splits: []SplitJSON{}, Why: append([]string{}, p.Why...)}
		for _, s := range p.Splits {
			x.Splits = append(x.Splits, SplitJSON(s))
		}
		j.Access = x
	}
	return j
}
