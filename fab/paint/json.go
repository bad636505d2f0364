package paint

// JSON is the paint of `plan --json`.
type JSON struct {
	AreaM2   float64    `json:"area_m2"`
	Areas    []AreaJSON `json:"areas"`
	Prep     []PrepJSON `json:"prep"`
	Coats    []CoatJSON `json:"coats"`
	Zinc     *ZincJSON  `json:"galvanising"`
	OpenEnds []EndJSON  `json:"open_ends"`
	Sealed   []SealJSON `json:"sealed"`
	Traps    []string   `json:"traps"`
	Caps     int        `json:"caps"`
	Strips   int        `json:"strips"`
	CapCost  float64    `json:"cap_cost"`
	ThinnerL float64    `json:"thinner_l"`
	MassKG   float64    `json:"mass_kg"`
	Cost     float64    `json:"cost"`
	Unpriced []string   `json:"unpriced"`
	Steps    []StepJSON `json:"steps"`
	ElapsedS float64    `json:"elapsed_s"`
	WorkS    float64    `json:"work_s"`
	Cautions []string   `json:"cautions"`
}

// AreaJSON is the area of a section, or of the plates.
type AreaJSON struct {
	Section   string  `json:"section"`
	AreaM2    float64 `json:"area_m2"`
	SkinM2    float64 `json:"skin_m2"`
	EndsM2    float64 `json:"ends_m2"`
	LooseM2   float64 `json:"loose_m2"`
	ContactM2 float64 `json:"contact_m2"`
}

// PrepJSON is the preparation of one finish.
type PrepJSON struct {
	Finish string  `json:"finish"`
	Grade  string  `json:"grade"`
	AreaM2 float64 `json:"area_m2"`
	Do     string  `json:"do"`
}

// CoatJSON is one paint.
type CoatJSON struct {
	Name       string    `json:"name"`
	Coats      int       `json:"coats"`
	Method     string    `json:"method"`
	Solids     float64   `json:"solids"`
	FilmMM     float64   `json:"film_mm"`
	WetMM      float64   `json:"wet_film_mm"`
	Loss       float64   `json:"loss"`
	CoverM2L   float64   `json:"coverage_m2_l"`
	PractM2L   float64   `json:"practical_m2_l"`
	Litres     float64   `json:"litres"`
	BoughtL    float64   `json:"bought_l"`
	DryKG      float64   `json:"dry_kg"`
	Cans       []CanJSON `json:"cans"`
	Cost       float64   `json:"cost"`
	UsedCost   float64   `json:"used_cost"`
	RecoatS    float64   `json:"recoat_s"`
	CheapestOK bool      `json:"cheapest"`
}

// CanJSON is so many cans of a size.
type CanJSON struct {
	Size      string  `json:"size"`
	Litres    float64 `json:"size_l"`
	Qty       int     `json:"qty"`
	UnitPrice float64 `json:"unit_price"`
	Cost      float64 `json:"cost"`
}

// ZincJSON is hot-dip galvanising.
type ZincJSON struct {
	AreaM2  float64 `json:"area_m2"`
	CoatMM  float64 `json:"coating_mm"`
	MassKG  float64 `json:"mass_kg"`
	SteelKG float64 `json:"steel_kg"`
	Cost    float64 `json:"cost"`
}

// EndJSON is an open tube end.
type EndJSON struct {
	Member string `json:"member"`
	End    int    `json:"end"` // 1 or 2
	Up     bool   `json:"up"`
	Gets   string `json:"gets"`
}

// SealJSON is a closed tube; vents are what each of its ends needs where it is galvanised.
type SealJSON struct {
	Member  string  `json:"member"`
	VolumeL float64 `json:"volume_l"`
	VentMM  float64 `json:"vent_mm"`
	Vents   int     `json:"vents_each_end"`
}

// StepJSON is an entry of the calendar.
type StepJSON struct {
	What   string  `json:"what"`
	Kind   string  `json:"kind"` // work | dry
	StartS float64 `json:"start_s"`
	EndS   float64 `json:"end_s"`
	Day    int     `json:"day"`
}

// JSON gives the sheet for scripts; a nil sheet gives nil.
func (s *Sheet) JSON() *JSON {
	if s == nil {
		return nil
	}
	o := &JSON{AreaM2: s.AreaM2, Areas: []AreaJSON{}, Prep: []PrepJSON{}, Coats: []CoatJSON{}, OpenEnds: []EndJSON{}, Sealed: []SealJSON{}, Traps: append([]string{}, s.Traps...),
		Caps: s.Caps, Strips: s.Strips, CapCost: s.CapCost.Float(), ThinnerL: s.Thinner, MassKG: s.MassKG, Cost: s.Cost.Float(), Unpriced: append([]string{}, s.Unpriced...), Steps: []StepJSON{},
		ElapsedS: s.Hours * 3600, Cautions: append([]string{}, s.Cautions...)}
	for _, a := range s.Areas {
		o.Areas = append(o.Areas, AreaJSON{a.Name, a.M2, a.SkinM2, a.EndsM2, a.LooseM2, a.ClosedM2})
	}
	for _, p := range s.Prep {
		o.Prep = append(o.Prep, PrepJSON{string(p.Finish), p.Grade, p.M2, p.Do})
	}
	for _, c := range s.Coats {
		x := CoatJSON{Name: c.Name, Coats: c.Coats, Method: c.Method, Solids: c.Spec.Solids, FilmMM: c.Spec.FilmMM, WetMM: c.WetMM, Loss: c.Loss, CoverM2L: c.CoverM2L, PractM2L: c.PracM2L,
			Litres: c.Litres, BoughtL: c.BoughtL, DryKG: c.DryKG, Cans: []CanJSON{}, Cost: c.Cost.Float(), UsedCost: c.UsedCost.Float(), RecoatS: c.Spec.Recoat.Seconds(), CheapestOK: c.CanOptimal}
		for _, b := range c.Cans {
			x.Cans = append(x.Cans, CanJSON{b.Size, b.Litres, b.Qty, b.Price.Float(), b.Cost.Float()})
		}
		o.Coats = append(o.Coats, x)
	}
	if z := s.Zinc; z != nil {
		o.Zinc = &ZincJSON{z.AreaM2, z.Microns / 1000, z.KG, z.SteelKG, z.Cost.Float()}
	}
	for _, e := range s.Ends {
		o.OpenEnds = append(o.OpenEnds, EndJSON{e.Member, e.End + 1, e.Up, e.Gets})
	}
	for _, x := range s.Sealed {
		o.Sealed = append(o.Sealed, SealJSON{x.Member, x.VolumeL, x.Vent.MM, x.Vent.Each})
	}
	for _, t := range s.Steps {
		kind := "dry"
		if t.Work {
			kind = "work"
		}
		o.Steps = append(o.Steps, StepJSON{t.What, kind, t.StartH * 3600, t.EndH * 3600, t.Day})
	}
	for _, w := range s.Work {
		o.WorkS += w.Seconds
	}
	return o
}
