package bolt

import (
	"math"

	"bench.example/soapstone/fab/figure"
)

// Load is what one bolt carries, in newtons.
type Load struct{ TensionN, ShearN float64 }

// Strength is what a bolt may carry by ANSI/AISC 360 allowable strength design.
type Strength struct {
	Tension, Shear figure.Figure // N, each alone
	Bearing        figure.Figure // N, of the ply it bears on; no formula where no ply is known
	Use            figure.Figure // of the load it was asked for
}

const j3 = "ANSI/AISC 360-22, "

// Strength gives the allowable loads of a bolt in standard holes, threads in the shear plane, and how much of them a load
// takes. plyMM and edgeMM are the thickness of the ply that it bears on and the distance from the hole's centre to its
// edge; 0 where they are not known. The ply is taken to have fuMPa.
func (s Size) Strength(g Grade, l Load, plyMM, edgeMM, holeMM, fuMPa float64, prefix string) Strength {
	ab := figure.In("Ab", "area of the shank", math.Pi/4*s.DiaMM*s.DiaMM, "mm2", "size "+s.Name)
	fu := figure.In("Fu", "tensile strength", g.RuptureMPa, "MPa", g.Name)
	std := func(text string) figure.Source { return figure.Source{Kind: figure.Standard, Text: j3 + text} }
	var out Strength
	out.Tension = figure.New(prefix+"tension", "allowable tension", "N", "0.75*Fu*Ab/2", std("Table J3.2, threaded parts, Fnt = 0.75 Fu; J3-1, omega 2.00"), fu, ab).Without("prying, fatigue")
	out.Shear = figure.New(prefix+"shear", "allowable shear", "N", "0.45*Fu*Ab/2", std("Table J3.2, threads in the shear plane, Fnv = 0.450 Fu; J3-1, omega 2.00"), fu, ab)
	T, V := figure.In("T", "tension", l.TensionN, "N", "reactions"), figure.In("V", "shear", l.ShearN, "N", "reactions")
	Ta, Va := out.Tension.As("Ta"), out.Shear.As("Va")
	// J3-3b: F'nt = 1.3 Fnt - omega Fnt frv / Fnv <= Fnt, so the allowable tension is (1.3 - V/Va) Ta at most Ta.
	formula, inputs := "max(V/Va, T/(Ta*max(0.0001, min(1, 1.3 - V/Va))))", []figure.Input{T, V, Ta, Va}
	if plyMM > 0 && edgeMM > 0 {
		lc := edgeMM - holeMM/2
		out.Bearing = figure.New(prefix+"bearing", "allowable bearing and tear-out of the ply", "N", "min(1.2*max(lc, 0)*t*Fp, 2.4*d*t*Fp)/2", std("J3-6a, J3-6c, omega 2.00"),
			figure.In("lc", "clear distance to the edge", lc, "mm", ""), figure.In("t", "thinnest ply", plyMM, "mm", ""), figure.In("Fp", "tensile strength of the ply", fuMPa, "MPa", "A36 taken"), figure.In("d", "bolt", s.DiaMM, "mm", "size "+s.Name))
		formula = "max(V/Va, V/max(0.001, Rb), T/(Ta*max(0.0001, min(1, 1.3 - V/Va))))"
		inputs = append(inputs, out.Bearing.As("Rb"))
	}
	out.Use = figure.New(prefix+"use", "utilisation of a bolt", "", formula, std("J3.6, J3.7 (combined tension and shear), J3.10"), inputs...).Without("moments that the foot passes on to its bolts, unless the bolts' distance is given")
	return out
}

// MinEdgeMM gives the least distance from the centre of a standard hole to an edge.
func (s Size) MinEdgeMM() (float64, figure.Source) {
	table := figure.Source{Kind: figure.Standard, Text: "ANSI/AISC 360-16, Table J3.4"}
	if s.Metric {
		for _, r := range [][2]float64{{16, 22}, {20, 26}, {22, 28}, {24, 30}, {27, 34}, {30, 38}, {36, 46}} {
			if s.DiaMM == r[0] {
				return r[1], table
			}
		}
		return 1.5 * s.DiaMM, figure.Source{Kind: figure.Common, Text: "one and a half diameters, where Table J3.4 of AISC 360 lists none"}
	}
	for _, r := range [][2]float64{{.5, .75}, {.625, .875}, {.75, 1}, {.875, 1.125}, {1, 1.25}, {1.125, 1.5}, {1.25, 1.625}} {
		if math.Abs(s.DiaIn()-r[0]) < 1e-9 {
			return r[1] * inch, table
		}
	}
	if s.DiaIn() > 1.25 {
		return 1.25 * s.DiaMM, table
	}
	return 1.5 * s.DiaMM, figure.Source{Kind: figure.Common, Text: "one and a half diameters, below the sizes of Table J3.4 of AISC 360"}
}

// MassKG estimates the mass of a bolt of a length with its nut and washers: shank, hexagons of the wrench size, rings.
func (s Size) MassKG(lengthMM float64, nut Nut, flats, locks int, w Washer) float64 {
	const rho = 7.85e-6
	f, h := s.FlatsMM()
	hex := func(flats, high float64) float64 { return math.Sqrt(3) / 2 * flats * flats * high }
	area := math.Pi / 4 * s.DiaMM * s.DiaMM
	v := area*lengthMM + hex(h, 0.65*s.DiaMM)
	if nut != NoNut {
		v += hex(f, s.NutMM(nut)) - area*s.NutMM(nut)
	}
	t, od, _ := s.WasherMM(w)
	v += float64(flats) * (math.Pi/4*od*od - area) * t
	v += float64(locks) * area * 1.6 * s.LockMM()
	return v * rho
}
