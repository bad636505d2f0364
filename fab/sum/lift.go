package sum

import (
	"strings"

	"bench.example/soapstone/fab/lift"
	"bench.example/soapstone/fab/measure"
)

func liftSums() []Sum {
	return []Sum{
		{
			Name: "sling", Purpose: "tension in each leg of a sling",
			Takes: []Arg{
				{Name: "weight", Takes: "weight on the hook", Example: "450lb"},
				{Name: "legs", Takes: "number of legs; more than two count as two on a rigid frame", Example: "4"},
				{Name: "angle", Takes: "of a leg from the horizontal, 30 to 90 degrees", Example: "60"},
			},
			Run: slingSum,
		},
		{
			Name: "carry", Purpose: "lifting index for one person by the revised lifting equation",
			Takes: []Arg{
				{Name: "h", Takes: "hands out from the ankles, level", Example: "15in"},
				{Name: "v", Takes: "hands above the floor at the start", Example: "20in"},
				{Name: "d", Takes: "vertical travel", Example: "20in"},
				{Name: "a", Takes: "twist in degrees; 0", Example: "30", Optional: true},
				{Name: "f", Takes: "lifts a minute; 0.2", Example: "1", Optional: true},
				{Name: "hours", Takes: "hours of such work; 1", Example: "2", Optional: true},
				{Name: "coupling", Takes: "good fair poor: how well the hands hold; good", Example: "fair", Optional: true},
				{Name: "load", Takes: "weight of the load", Example: "40lb"},
			},
			Run: carrySum,
		},
	}
}

func slingSum(a *Args) (Result, error) {
	var r Result
	w := a.Positive("weight", measure.ParseForce)
	legs := a.Count("legs", 1, 1)
	angle := a.Quantity("angle", measure.ParseAngle)
	if a.Err() != nil {
		return r, a.Err()
	}
	s, err := lift.NewSling(w, legs, angle, "sling.")
	if err != nil {
		return r, err
	}
	r.Figures = append(r.Figures, s.Counts)
	r.Add("leg_n", s.Leg.Value)
	r.AddFigure("factor", s.Factor)
	r.Figures = append(r.Figures, s.Leg)
	r.Notes = lift.SlingCautions()
	return r, nil
}

func carrySum(a *Args) (Result, error) {
	var r Result
	h := lift.Hand{PerMin: 0.2, Hours: 1, Metric: a.metricLength("h") && a.metricLength("v") && a.metricLength("d")}
	size := measure.InchMM
	if h.Metric {
		size = 10
	}
	h.H, h.V, h.D = a.MM("h")/size, a.MM("v")/size, a.MM("d")/size
	h.ADeg = a.Quantity("a", measure.ParseAngle)
	if a.Has("f") {
		h.PerMin = a.Quantity("f", measure.ParseNumber)
	}
	if a.Has("hours") {
		h.Hours = a.Positive("hours", func(t string) (float64, error) {
			if v, err := measure.ParseNumber(t); err == nil {
				return v, nil
			}
			d, err := measure.ParseTime(t)
			return d.Hours(), err
		})
	}
	switch a.OneOf("coupling", "good", "fair", "poor") {
	case "fair":
		h.Coupling = lift.Fair
	case "poor":
		h.Coupling = lift.Poor
	}
	h.LoadKG = a.Positive("load", measure.ParseMass)
	if a.Err() != nil {
		return r, a.Err()
	}
	s, err := h.Solve("carry.")
	if err != nil {
		return r, err
	}
	r.Add("rwl_kg", s.RWL.Value)
	if s.Possible {
		r.Add("index", s.Index.Value)
	} else {
		r.Add("index", nil)
	}
	r.AddFigure("hm", s.HM)
	r.AddFigure("vm", s.VM)
	r.AddFigure("dm", s.DM)
	r.AddFigure("am", s.AM)
	r.AddFigure("fm", s.FM)
	r.AddFigure("cm", s.CM)
	r.Figures = append(r.Figures, s.RWL)
	if s.Possible {
		r.Figures = append(r.Figures, s.Index)
	}
	r.Notes = s.Notes
	if s.Possible && s.Index.Value > 1 {
		r.Notes = append(r.Notes, "an index above 1 means a lift that hurts some healthy workers: lighten it, bring it closer, raise it, or use a hoist")
	}
	return r, nil
}

// metricLength tells whether an argument is given in metric.
func (a *Args) metricLength(name string) bool {
	t := strings.ToLower(strings.TrimSpace(a.values[name]))
	switch {
	case strings.HasSuffix(t, "mm") || strings.HasSuffix(t, "cm") || strings.HasSuffix(t, "m"):
		return true
	case strings.ContainsAny(t, `abcdefghijklmnopqrstuvwxyz"'`):
		return false
	}
	return a.unit.Metric()
}
