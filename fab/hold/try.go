package hold

import (
	"fmt"

	"bench.example/soapstone/fab/steel"
)

// Tried is a frame with another size of one section.
type Tried struct {
	Size         string
	Section      steel.Section
	Utilisation  float64 // of the members of that section, the worst
	Worst        string  // the member
	DeflectionMM float64 // greatest movement of the frame
	SpanOver     float64 // least span over sag of those members
	MassKG       float64 // of those members, at their present lengths
	Err          error   // the size or the analysis failed; the rest is empty
}

// Try analyses the frame again with other sizes of one section, the one that it has first. Centre lines and lengths stay
// as they are: a deeper rail moves them by less than the analysis notices, the cut list is another matter.
func (m *Model) Try(group string, sizes []steel.Section) []Tried {
	var out []Tried
	var now *steel.Section
	for i := range m.Members {
		if m.Members[i].Group == group {
			now = m.Members[i].Section
			break
		}
	}
	if now == nil {
		return nil
	}
	all := []steel.Section{*now}
	for _, s := range sizes {
		if !s.Same(*now) {
			all = append(all, s)
		}
	}
	for k := range all {
		s := &all[k]
		x := Tried{Size: s.Size, Section: *s}
		trial := *m
		trial.Members = append([]Member(nil), m.Members...)
		for i := range trial.Members {
			if q := &trial.Members[i]; q.Group == group {
				q.MassKGM *= s.MassKGM() / q.Section.MassKGM()
				q.Section = s
				x.MassKG += q.MassKGM * q.LengthMM() / 1000
			}
		}
		a, err := Analyse(&trial)
		if err != nil {
			x.Err = fmt.Errorf("%s: %w", s.Size, err)
			out = append(out, x)
			continue
		}
		first := true
		for i := range trial.Members {
			if trial.Members[i].Group != group {
				continue
			}
			ma := &a.Members[i]
			if ma.Use.Value > x.Utilisation || x.Worst == "" {
				x.Utilisation, x.Worst = ma.Use.Value, ma.Name
			}
			if ma.SpanOver > 0 && (first || ma.SpanOver < x.SpanOver) {
				x.SpanOver, first = ma.SpanOver, false
			}
		}
		for _, c := range a.Cases {
			x.DeflectionMM = max(x.DeflectionMM, c.DeflectionMM)
		}
		out = append(out, x)
	}
	return out
}
