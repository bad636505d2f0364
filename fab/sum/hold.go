package sum

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/hold"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

func holdSums() []Sum {
	var cases []string
	for _, c := range hold.BeamCases() {
		cases = append(cases, fmt.Sprintf("%d %s", c.Number, c.Name))
	}
	return []Sum{
		{
			Name: "beam", Purpose: "moment and deflection of a beam",
			Takes: []Arg{
				{Name: "case", Takes: "supports and load, or the handbook's number: " + strings.Join(cases, "; "), Example: "simple-uniform"},
				{Name: "load", Takes: "the whole load, or a line load where it is uniform", Example: "300lb"},
				{Name: "span", Takes: "length between supports, or of the cantilever", Example: "60in"},
				{Name: "section", Takes: "shape and size, depth upright; instead of e and i", Example: "rect-tube 2-1/2 x 1-1/2 x 11ga", Optional: true},
				{Name: "stand", Takes: "edge or flat: how the section lies; edge", Example: "flat", Optional: true},
				{Name: "grade", Takes: "of the section; left out: the usual one of the shape", Example: "A500-C", Optional: true},
				{Name: "e", Takes: "modulus of elasticity", Example: "29000ksi", Optional: true},
				{Name: "i", Takes: "second moment of area", Example: "0.55in4", Optional: true},
				{Name: "at", Takes: "place of the load, where the case asks for it", Example: "20in", Optional: true},
			},
			Run: beamSum,
		},
		{
			Name: "column", Purpose: "Euler's buckling load",
			Takes: []Arg{
				{Name: "e", Takes: "modulus of elasticity", Example: "29000ksi"},
				{Name: "i", Takes: "least second moment of area", Example: "0.55in4"},
				{Name: "length", Takes: "length of the column", Example: "96in"},
				{Name: "k", Takes: "effective length factor: 1 pinned, 0.65 fixed ends, 2.1 free at the top", Example: "1"},
			},
			Run: columnSum,
		},
		{
			Name: "frame", Purpose: "displacements, reactions and bar forces of a frame in space", File: true,
			Run: frameSum,
		},
	}
}

// sectionWords reads `rect-tube 2 x 1 x 11ga`, `rect-tube: 2 x 1 x 11ga`.
func (a *Args) sectionWords(name, grade string) (steel.Section, error) {
	t := strings.TrimSpace(a.String(name))
	shape, size, _ := strings.Cut(strings.Replace(t, ":", " ", 1), " ")
	sh, err := steel.ParseShape(strings.TrimSpace(shape))
	if err != nil {
		return steel.Section{}, Use("%s=%s: write shape and size, such as 'rect-tube 2 x 1 x 11ga': %v", name, t, err)
	}
	return steel.New(steel.Spec{Shape: sh, Size: strings.TrimSpace(size), Grade: a.String(grade), Unit: a.Unit()}, a.Tables.Steel)
}

func beamSum(a *Args) (Result, error) {
	var r Result
	c, err := hold.ParseBeamCase(a.String("case"))
	if err != nil {
		return r, Use("%v", err)
	}
	span, at := a.PositiveMM("span"), a.PositiveMM("at")
	var e, i float64
	switch {
	case a.Has("section") && (a.Has("e") || a.Has("i")):
		return r, Use("give section, or e and i, not both")
	case a.Has("section"):
		s, err := a.sectionWords("section", "grade")
		if err != nil {
			return r, err
		}
		p := s.Properties(steel.Design)
		e, i = s.Material.EMPa, p.IxMM4
		if a.OneOf("stand", "edge", "flat") == "flat" {
			i = p.IyMM4
		}
		r.Notes = append(gradeNotes(s), fmt.Sprintf("I = %.6g mm4 by the %s wall, E = %.6g MPa", i, steel.Design, e))
	case a.Has("e") && a.Has("i"):
		if a.Has("stand") || a.Has("grade") {
			return r, Use("stand and grade go with section")
		}
		e, i = a.Positive("e", measure.ParseStress), a.Positive("i", measure.ParseInertia)
	default:
		return r, Use("give section, or e and i")
	}
	load, err := measure.ParseLoad(a.String("load"))
	if err != nil {
		return r, Use("load: %v", err)
	}
	if a.Err() != nil {
		return r, a.Err()
	}
	if c.NeedsAt() && !a.Has("at") {
		return r, Use("%s wants at, the place of the load", c.Name)
	}
	if !c.NeedsAt() && a.Has("at") {
		return r, Use("%s does not take at", c.Name)
	}
	switch {
	case !(load.Value > 0):
		a.Fail("load", "must be more than nothing")
		return r, a.Err()
	case load.Kind == measure.AreaLoad:
		a.Fail("load", "an area load needs a width: multiply it by the width that the beam carries")
		return r, a.Err()
	case load.Kind == measure.LineLoad && !c.Uniform():
		a.Fail("load", "a line load goes with a uniform case, not with %s", c.Name)
		return r, a.Err()
	case load.Kind == measure.LineLoad:
		f := figure.New("beam.load", "whole load", "N", "w*L", figure.Source{Kind: figure.Geometry, Text: "line load times span"},
			figure.In("w", "line load", load.Value, "N/mm", ""), figure.In("L", "span", span, "mm", ""))
		r.Figures = append(r.Figures, f)
		load.Value = f.Value
	}
	b, err := hold.Beam(c, load.Value, span, at, e, i, "beam.")
	if err != nil {
		return r, err
	}
	r.AddFigure("moment_nm", b.Moment)
	r.AddFigure("deflection_mm", b.Deflection)
	r.Add("case", c.Name)
	r.Notes = append(r.Notes, "load is the whole load: of a uniform one, too; the beam's own weight comes on top")
	return r, nil
}

func columnSum(a *Args) (Result, error) {
	var r Result
	e, i := a.Positive("e", measure.ParseStress), a.Positive("i", measure.ParseInertia)
	l, k := a.PositiveMM("length"), a.Positive("k", measure.ParseNumber)
	if a.Err() != nil {
		return r, a.Err()
	}
	f, err := hold.Euler(e, i, l, k, "column.")
	if err != nil {
		return r, err
	}
	r.AddFigure("euler_n", f)
	r.Notes = append(r.Notes, "a real column carries less: crooked, loaded off its middle, yielding; design takes a share of this")
	return r, nil
}
