package hold

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/figure"
)

// EndFixity is how a column's ends are held, with the effective length factor that theory gives and the one that the
// standard recommends.
type EndFixity struct {
	Name                string
	Theory, Recommended float64
}

// EndFixities are the rows of ANSI/AISC 360-22, Commentary Table C-A-7.1.
func EndFixities() []EndFixity {
	return []EndFixity{
		{"fixed-fixed", 0.5, 0.65}, {"fixed-pinned", 0.7, 0.80}, {"fixed-guided", 1.0, 1.2},
		{"pinned-pinned", 1.0, 1.0}, {"fixed-free", 2.0, 2.1}, {"pinned-guided", 2.0, 2.0},
	}
}

// Euler gives the elastic buckling load of a straight column in N: E in MPa, I in mm4, length in mm.
func Euler(eMPa, iMM4, lengthMM, k float64, prefix string) (figure.Figure, error) {
	for _, c := range []struct {
		name string
		v    float64
	}{{"e", eMPa}, {"i", iMM4}, {"length", lengthMM}, {"k", k}} {
		if !(c.v > 0) || math.IsInf(c.v, 0) {
			return figure.Figure{}, fmt.Errorf("%s must be more than nothing", c.name)
		}
	}
	return figure.New(prefix+"euler", "Euler's buckling load", "N", "pi^2*E*I/(K*L)^2",
		figure.Source{Kind: figure.Handbook, Text: "Euler; Timoshenko and Gere, Theory of Elastic Stability, 2nd ed., 2.1"},
		figure.In("E", "modulus of elasticity", eMPa, "MPa", ""), figure.In("I", "least second moment of area", iMM4, "mm4", ""),
		figure.In("K", "effective length factor", k, "", "ANSI/AISC 360-22, Table C-A-7.1"), figure.In("L", "length", lengthMM, "mm", "")).
		Without("yielding, crookedness and a load off the axis: a short column fails before it, see the column curve"), nil
}
