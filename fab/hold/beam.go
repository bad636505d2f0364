package hold

import (
	"fmt"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/figure"
)

// BeamCase is a beam with its supports and load.
type BeamCase struct {
	Number     int    // in the handbook's table
	Name       string // "simple, uniform"
	supports   string
	load       string
	moment     string // formula of the largest moment; W is the whole load in N, L in mm, a the place of the load
	deflection string
	where      string
	uniform    bool
	needsAt    bool
}

const beams = "Machinery's Handbook, 31st ed., Stresses and Deflections in Beams, pp. 276-293, case "

// beamCases are those of the handbook's table (W the whole load).
var beamCases = [...]BeamCase{
	{1, "simple, uniform", "simple", "uniform", "W*L/8", "5*W*L^3/(384*E*I)", "at the middle", true, false},
	{2, "simple, middle", "simple", "middle", "W*L/4", "W*L^3/(48*E*I)", "at the middle", false, false},
	{3, "simple, anywhere", "simple", "anywhere", "W*a*(L - a)/L", "W*a^2*(L - a)^2/(3*E*I*L)", "at the load", false, true},
	{4, "simple, two alike", "simple", "two", "W*a", "W*a*(3*L^2 - 4*a^2)/(24*E*I)", "at the middle; W is each of the two loads, a their distance from the ends", false, true},
	{10, "cantilever, uniform", "cantilever", "uniform", "W*L/2", "W*L^3/(8*E*I)", "at the free end", true, false},
	{11, "cantilever, tip", "cantilever", "tip", "W*L", "W*L^3/(3*E*I)", "at the free end", false, false},
	{12, "cantilever, anywhere", "cantilever", "anywhere", "W*a", "W*a^2*(3*L - a)/(6*E*I)", "at the free end; a from the wall", false, true},
	{15, "fixed-pinned, uniform", "fixed-pinned", "uniform", "W*L/8", "W*L^3/(185*E*I)", "0.42 L from the pinned end", true, false},
	{16, "fixed-pinned, middle", "fixed-pinned", "middle", "3*W*L/16", "W*L^3*sqrt(5)/(240*E*I)", "0.447 L from the pinned end", false, false},
	{17, "fixed-guided, end", "fixed-guided", "tip", "W*L/2", "W*L^3/(12*E*I)", "at the guided end", false, false},
	{18, "fixed-fixed, middle", "fixed-fixed", "middle", "W*L/8", "W*L^3/(192*E*I)", "at the middle", false, false},
	{20, "fixed-fixed, uniform", "fixed-fixed", "uniform", "W*L/12", "W*L^3/(384*E*I)", "at the middle", true, false},
}

// BeamCases lists the beams that BeamCaseFor knows.
func BeamCases() []BeamCase { return append([]BeamCase(nil), beamCases[:]...) }

// Uniform tells whether the load is spread over the whole span.
func (c BeamCase) Uniform() bool { return c.uniform }

// NeedsAt tells whether the place of the load must be given.
func (c BeamCase) NeedsAt() bool { return c.needsAt }

// ParseBeamCase reads a beam: the number of the handbook's case (`1`), or supports and load in words in either order
// (`simple uniform`, `cantilever-tip`, `fixed-fixed, middle`).
func ParseBeamCase(text string) (BeamCase, error) {
	fail := func() (BeamCase, error) {
		names := make([]string, len(beamCases))
		for i, c := range beamCases {
			names[i] = fmt.Sprintf("%d %s", c.Number, c.Name)
		}
		return BeamCase{}, fmt.Errorf("beam case %q is not known; there are: %s", text, strings.Join(names, "; "))
	}
	t := strings.ToLower(strings.TrimSpace(text))
	if n, err := strconv.Atoi(strings.TrimSpace(strings.TrimPrefix(t, "case"))); err == nil {
		for _, c := range beamCases {
			if c.Number == n {
				return c, nil
			}
		}
		return fail()
	}
	t = " " + strings.Join(strings.FieldsFunc(t, func(r rune) bool { return strings.ContainsRune(" -_,;/+:", r) }), " ") + " "
	take := func(words ...string) bool {
		for _, w := range words {
			if i := strings.Index(t, " "+w+" "); i >= 0 {
				t = t[:i] + " " + t[i+len(w)+1:]
				return true
			}
		}
		return false
	}
	supports := ""
	switch {
	case take("fixed pinned", "pinned fixed", "fixed simple", "fixed supported", "propped cantilever", "propped", "fixed hinged", "fixed roller"):
		supports = "fixed-pinned"
	case take("fixed guided", "guided fixed", "guided"):
		supports = "fixed-guided"
	case take("fixed fixed", "both ends fixed", "ends fixed", "fixed ends", "both fixed", "built in", "encastre", "fixed both"):
		supports = "fixed-fixed"
	case take("cantilever", "fixed free", "cant", "overhang"):
		supports = "cantilever"
	case take("simply supported", "simple supports", "simple", "simply", "pinned pinned", "pinned", "ss", "supported"):
		supports = "simple"
	case take("fixed"):
		supports = "fixed-fixed"
	}
	load := ""
	point := take("point load", "point", "concentrated", "load")
	switch {
	case take("uniform load", "uniformly distributed", "uniform", "udl", "distributed", "spread", "line"):
		load = "uniform"
	case take("two alike", "two loads", "two points", "two", "2"):
		load = "two"
	case take("anywhere", "any", "at", "off centre", "off center"):
		load = "anywhere"
	case take("at middle", "middle", "mid span", "midspan", "mid", "centre", "center", "central"):
		load = "middle"
	case take("at tip", "tip", "end", "free end", "free"):
		load = "tip"
	case point && (supports == "cantilever" || supports == "fixed-guided"):
		load = "tip"
	case point:
		load = "middle"
	}
	take("load", "point", "at", "the", "beam", "span", "ends", "end")
	if supports == "" || load == "" || strings.TrimSpace(t) != "" {
		return fail()
	}
	for _, c := range beamCases {
		if c.supports == supports && c.load == load {
			return c, nil
		}
	}
	return fail()
}

// BeamSum is a beam's answer.
type BeamSum struct{ Moment, Deflection figure.Figure }

// Beam gives the largest moment (N·m) and the deflection (mm) of a beam: W the whole load in N, spans in mm, E in MPa, I in
// mm4. Weight of the beam itself is not in it.
func Beam(c BeamCase, weightN, spanMM, atMM, eMPa, iMM4 float64, prefix string) (BeamSum, error) {
	if !(spanMM > 0) || !(eMPa > 0) || !(iMM4 > 0) {
		return BeamSum{}, fmt.Errorf("span, E and I must all be more than nothing")
	}
	if c.needsAt && !(atMM > 0 && atMM < spanMM) && !(c.load == "anywhere" && c.supports == "cantilever" && atMM == spanMM) {
		return BeamSum{}, fmt.Errorf("%s: at, the place of the load, must lie between 0 and the span", c.Name)
	}
	if c.load == "two" && atMM > spanMM/2 {
		return BeamSum{}, fmt.Errorf("%s: at is the distance of each load from its end, at most half the span", c.Name)
	}
	src := figure.Source{Kind: figure.Handbook, Text: beams + strconv.Itoa(c.Number)}
	in := []figure.Input{figure.In("W", "load", weightN, "N", ""), figure.In("L", "span", spanMM, "mm", "")}
	if c.needsAt {
		in = append(in, figure.In("a", "place of the load", atMM, "mm", ""))
	}
	m := figure.New(prefix+"moment", "largest moment ("+c.Name+")", "N*m", "("+c.moment+")/1000", src, in...)
	d := figure.New(prefix+"deflection", "deflection "+c.where, "mm", c.deflection, src,
		append(in, figure.In("E", "modulus of elasticity", eMPa, "MPa", ""), figure.In("I", "second moment of area", iMM4, "mm4", ""))...).
		Without("the beam's own weight and shear deflection")
	return BeamSum{m, d}, nil
}
