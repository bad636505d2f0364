package weld

import "time"

// JSON is the plan in the words of `plan --json`.
type JSON struct {
	DutyEffective float64     `json:"duty_effective"`
	WindowS       float64     `json:"window_s"`
	BurstS        float64     `json:"burst_s"`
	CoolS         float64     `json:"cool_s"`
	ArcS          float64     `json:"arc_s"`
	RestS         float64     `json:"rest_s"` // of the machine: the schedule's rests, those with work away from the booth too
	IdleS         float64     `json:"idle_s"` // of it, with nothing to do
	WorkS         float64     `json:"work_s"` // at the booth, arcs and rests left out
	ElapsedS      float64     `json:"elapsed_s"`
	BoundS        float64     `json:"bound_s"`
	Proven        bool        `json:"proven"`
	UnfilledS     float64     `json:"unfilled_s"`
	FireWatchS    float64     `json:"fire_watch_s"`
	Days          int         `json:"days"`
	WireKG        float64     `json:"wire_kg"`
	MetalKG       float64     `json:"metal_kg"`
	GasM3         float64     `json:"gas_m3"`
	Pack          string      `json:"pack"` // what wire or rods are sold in
	PackKG        float64     `json:"pack_kg"`
	Packs         int         `json:"packs"`
	TestBeadS     float64     `json:"test_bead_s"`
	ScrapMM       float64     `json:"test_bead_scrap_mm"`
	Settings      []string    `json:"settings"`
	DayEndsS      []float64   `json:"day_ends_s"` // of each day, the fire watch included
	Turns         int         `json:"turns"`
	Joints        []JointJSON `json:"joints"`
	Schedule      []EntryJSON `json:"schedule"`
	Cautions      []string    `json:"cautions"`
	ThermalPeak   float64     `json:"thermal_peak"`
	PreSets       []string    `json:"pre_sets"`
	LopsidedMM    float64     `json:"lopsided_mm"`
	PlainMM       float64     `json:"lopsided_joint_by_joint_mm"`
	Bows          []BowJSON   `json:"bows"`
	Stages        []StageJSON `json:"stages"`
	OwnOrder      bool        `json:"own_order"` // [sequence] gives one
}

// StageJSON is one stage, in the order in which they are welded.
type StageJSON struct {
	Key  string   `json:"key"` // as [sequence] names it
	Name string   `json:"name"`
	Turn bool     `json:"turn"`
	Set  []string `json:"joints"` // set and tacked in it
}

// BowJSON is the bow that a stage's seams are expected to leave.
type BowJSON struct {
	Stage   string  `json:"stage"`
	Along   string  `json:"along"`
	Towards string  `json:"towards"`
	EndMM   float64 `json:"bow_mm"`
	SwayMM  float64 `json:"strays_mm"`
	PlainMM float64 `json:"strays_joint_by_joint_mm"`
	PreSet  string  `json:"pre_set,omitempty"`
}

// JointJSON is one joint.
type JointJSON struct {
	ID      string     `json:"id"`
	Members []string   `json:"members"`
	Kind    string     `json:"kind"`
	Stage   string     `json:"stage"`
	Tacks   int        `json:"tacks"`
	Seams   []SeamJSON `json:"seams"`
	// NotWelded are the seams that the job's [[joint]] leaves out.
	NotWelded []LeftOutJSON `json:"not_welded,omitempty"`
}

// LeftOutJSON is a seam that is not welded, and why.
type LeftOutJSON struct {
	ID       string   `json:"id"`
	LengthMM float64  `json:"length_mm"`
	Type     string   `json:"type"`
	Faces    []string `json:"faces"`
	Skipped  string   `json:"skipped"`
}

// SeamJSON is one seam.
type SeamJSON struct {
	ID       string   `json:"id"`
	LengthMM float64  `json:"length_mm"`
	WeldMM   float64  `json:"weld_mm"`
	Type     string   `json:"type"`
	LegMM    float64  `json:"leg_mm"`
	ThroatMM float64  `json:"throat_mm"`
	Position string   `json:"position"`
	Stage    string   `json:"stage"`
	Passes   int      `json:"passes"`
	ArcS     float64  `json:"arc_s"`
	HeatKJMM float64  `json:"heat_kj_mm"`
	HeatKJIn float64  `json:"heat_kj_in"` // arc energy, as AWS codes count it
	Finish   string   `json:"finish"`
	Beads    int      `json:"beads"`
	Dress    bool     `json:"dress"`
	BackStep bool     `json:"back_step"`
	Faces    []string `json:"faces"`
	Tight    string   `json:"tight,omitempty"`
	Early    string   `json:"early,omitempty"` // no torch reaches it afterwards
	Skipped  string   `json:"skipped,omitempty"`
}

// EntryJSON is one entry of the schedule. A rest in which something away from the booth is done names it.
type EntryJSON struct {
	Kind   string  `json:"kind"`
	Joint  string  `json:"joint"`
	Seam   string  `json:"seam,omitempty"`
	Doing  string  `json:"doing,omitempty"`
	StartS float64 `json:"start_s"`
	EndS   float64 `json:"end_s"`
}

// JSON gives the plan for the document; nil stays null.
func (p *Plan) JSON() *JSON {
	if p == nil {
		return nil
	}
	s := p.Schedule
	var away time.Duration // work that the document calls a rest
	for _, e := range s.Entries {
		if e.Task >= 0 && e.Kind.Plain() == string(Rest) {
			away += e.End - e.Start
		}
	}
	j := &JSON{
		DutyEffective: p.Duty.Value, WindowS: p.Budget.Window.Seconds(), BurstS: p.Budget.Arc.Seconds(), CoolS: p.Budget.Cool().Seconds(),
		ArcS: s.ArcTime.Seconds(), RestS: (s.RestSum + away).Seconds(), IdleS: s.RestSum.Seconds(), WorkS: (s.WorkSum - away).Seconds(), ElapsedS: s.Elapsed.Seconds(), BoundS: s.Bound.Seconds(),
		Proven: s.Proven, UnfilledS: s.Unfilled.Seconds(), FireWatchS: p.Rates.FireWatch.Seconds(), Days: len(p.Days), WireKG: p.WireKG, MetalKG: p.MetalKG,
		GasM3: p.Buy.GasM3, Pack: p.Buy.What, PackKG: p.Buy.PackKG, Packs: p.Buy.Packs, TestBeadS: p.TestBead.Seconds(), ScrapMM: p.ScrapMM, Settings: []string{}, DayEndsS: []float64{}, Turns: p.Layout.Turns, Joints: []JointJSON{}, Bows: []BowJSON{}, Stages: []StageJSON{}, OwnOrder: p.OwnOrder, Schedule: []EntryJSON{}, Cautions: p.Cautions,
		ThermalPeak: p.Peak, PreSets: append([]string{}, p.Pull.PreSets...), LopsidedMM: p.Pull.Lopsided, PlainMM: p.Pull.Plain,
	}
	if j.Cautions == nil {
		j.Cautions = []string{}
	}
	stage := func(i int) string {
		if i < len(p.Layout.Stages) {
			return p.Layout.Stages[i].Name
		}
		return ""
	}
	for _, x := range p.Layout.Joints {
		o := JointJSON{ID: x.ID, Members: x.Members, Kind: x.Kind, Stage: stage(x.Stage), Tacks: x.Tacks, Seams: []SeamJSON{}}
		for _, k := range x.Seams {
			s := p.Layout.Seams[k]
			o.Seams = append(o.Seams, SeamJSON{ID: s.ID, LengthMM: s.LengthMM, WeldMM: s.WeldMM, Type: string(s.Type), LegMM: s.LegMM, ThroatMM: s.ThroatMM,
				Position: string(s.Position), Stage: stage(s.Stage), Passes: s.Passes, ArcS: p.Seams[k].Arc.Seconds(), HeatKJMM: p.Seams[k].HeatKJ, HeatKJIn: 25.4 * p.Seams[k].EnergyKJ, Finish: string(s.Finish), Beads: s.Beads, Dress: s.Dress, BackStep: p.Seams[k].BackStep, Faces: append([]string{}, s.Faces...), Tight: s.Tight, Early: s.Early, Skipped: s.Skipped})
		}
		for _, s := range x.LeftOut {
			o.NotWelded = append(o.NotWelded, LeftOutJSON{s.ID, s.LengthMM, string(s.Type), append([]string{}, s.Faces...), s.Skipped})
		}
		j.Joints = append(j.Joints, o)
	}
	for _, g := range p.Guides {
		j.Settings = append(j.Settings, g.Words(p.tape))
	}
	for _, d := range p.Days {
		j.DayEndsS = append(j.DayEndsS, max(d.End, d.Watch).Seconds())
	}
	for _, st := range p.Layout.Stages {
		o := StageJSON{Key: st.Key, Name: st.Name, Turn: st.Turn, Set: []string{}}
		for _, k := range st.Joints {
			o.Set = append(o.Set, p.Layout.Joints[k].ID)
		}
		j.Stages = append(j.Stages, o)
	}
	for _, b := range p.Pull.Bows {
		j.Bows = append(j.Bows, BowJSON{p.Layout.Stages[b.Stage].Key, b.Along, b.Way, b.EndMM, b.Sway, b.Plain, b.PreSet})
	}
	for _, e := range s.Entries {
		o := EntryJSON{Kind: e.Kind.Plain(), Joint: e.Joint, StartS: e.Start.Seconds(), EndS: e.End.Seconds()}
		if e.Task >= 0 {
			o.Seam, o.Doing = p.Docket.Tasks[e.Task].Seam, p.Docket.Tasks[e.Task].What
		}
		j.Schedule = append(j.Schedule, o)
	}
	return j
}
