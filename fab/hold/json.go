package hold

import "math"

// JSON is the loads object of `plan --json`.
type JSON struct {
	Cases   []CaseJSON   `json:"cases"`
	Members []MemberJSON `json:"members"`
	Welds   []WeldJSON   `json:"welds"`
	Try     []TryJSON    `json:"try"`
	SagOver float64      `json:"sag_over"`
	Method  string       `json:"method"`
	Notes   []string     `json:"notes"`
}

// CaseJSON is one combination.
type CaseJSON struct {
	Name         string         `json:"name"`
	Utilisation  float64        `json:"utilisation"`
	Worst        string         `json:"worst"`
	Clause       string         `json:"clause"`
	DeflectionMM float64        `json:"deflection_mm"`
	DeflectionOn string         `json:"deflection_on"`
	Buckling     *float64       `json:"buckling_factor"`
	Source       string         `json:"source"`
	Reactions    []ReactionJSON `json:"reactions"`
}

// ReactionJSON is what a support gives.
type ReactionJSON struct {
	Name     string     `json:"name"`
	AtMM     [3]float64 `json:"at_mm"`
	ForceN   [3]float64 `json:"force_n"`
	MomentNM [3]float64 `json:"moment_nm"`
}

// MemberJSON is the worst of a member.
type MemberJSON struct {
	Name        string     `json:"name"`
	Mark        string     `json:"mark"`
	Utilisation float64    `json:"utilisation"`
	Case        string     `json:"case"`
	Clause      string     `json:"clause"`
	AtMM        float64    `json:"at_mm"`
	SagMM       float64    `json:"sag_mm"`
	SpanOverSag *float64   `json:"span_over_sag"`
	SagOK       bool       `json:"sag_ok"`
	Slenderness float64    `json:"slenderness"`
	Walls       []WallJSON `json:"walls"`
}

// WallJSON is the slenderness of a wall.
type WallJSON struct {
	Name  string  `json:"name"`
	Ratio float64 `json:"ratio"`
	Limit float64 `json:"limit"`
	Class string  `json:"class"`
}

// WeldJSON is the throat stress of a joint's welds.
type WeldJSON struct {
	Joint       string  `json:"joint"`
	Member      string  `json:"member"`
	Utilisation float64 `json:"utilisation"`
	StressMPa   float64 `json:"stress_mpa"`
	AllowMPa    float64 `json:"allow_mpa"`
	Case        string  `json:"case"`
}

// TryJSON is one size tried; Error says why it could not be.
type TryJSON struct {
	Section      string   `json:"section"`
	Size         string   `json:"size"`
	Utilisation  float64  `json:"utilisation"`
	Worst        string   `json:"worst"`
	DeflectionMM float64  `json:"deflection_mm"`
	SpanOverSag  *float64 `json:"span_over_sag"`
	MassKG       float64  `json:"mass_kg"`
	Error        string   `json:"error"`
}

// finite gives nil for a ratio that there is none of.
func finite(v float64) *float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}

// JSON gives the answer as the plan's object; tried are the sizes by section.
func (a *Answer) JSON(m *Model, welds []WeldAnswer, tried map[string][]Tried, order []string) *JSON {
	j := &JSON{Cases: []CaseJSON{}, Members: []MemberJSON{}, Welds: []WeldJSON{}, Try: []TryJSON{}, SagOver: m.sagOver(), Method: "direct stiffness; ANSI/AISC 360-22 allowable strength design", Notes: append([]string{}, a.Notes...)}
	for _, c := range a.Cases {
		x := CaseJSON{Name: c.Name, Utilisation: c.Utilisation, Worst: c.Worst, Clause: c.Clause, DeflectionMM: c.DeflectionMM, DeflectionOn: c.DeflectionAt, Source: c.Source, Reactions: []ReactionJSON{}}
		if c.Buckling > 0 {
			x.Buckling = finite(c.Buckling)
		}
		for _, r := range c.Reactions {
			x.Reactions = append(x.Reactions, ReactionJSON{r.Name, r.At, r.Force, [3]float64{r.Moment[0] / 1000, r.Moment[1] / 1000, r.Moment[2] / 1000}})
		}
		j.Cases = append(j.Cases, x)
	}
	for i := range a.Members {
		ma := &a.Members[i]
		x := MemberJSON{Name: ma.Name, Mark: m.Members[i].Mark, Utilisation: ma.Use.Value, Clause: ma.Use.Clause, SagMM: ma.SagMM, SpanOverSag: finite(ma.SpanOver), SagOK: ma.SagOK, Slenderness: ma.Slender, Walls: []WallJSON{}}
		if ma.Case >= 0 {
			x.Case, x.AtMM = a.Cases[ma.Case].Name, a.Cases[ma.Case].Members[i].AtMM
		}
		for _, w := range a.Strength[i].Walls {
			x.Walls = append(x.Walls, WallJSON{w.Name, w.Ratio, w.Compact, w.Class})
		}
		j.Members = append(j.Members, x)
	}
	for _, w := range welds {
		j.Welds = append(j.Welds, WeldJSON{w.Joint, w.Member, w.Use.Value, w.StressMPa, w.AllowMPa, w.Case})
	}
	for _, name := range order {
		for _, t := range tried[name] {
			x := TryJSON{Section: name, Size: t.Size, Utilisation: t.Utilisation, Worst: t.Worst, DeflectionMM: t.DeflectionMM, SpanOverSag: finite(t.SpanOver), MassKG: t.MassKG}
			if t.Err != nil {
				x.Error = t.Err.Error()
			}
			j.Try = append(j.Try, x)
		}
	}
	return j
}
