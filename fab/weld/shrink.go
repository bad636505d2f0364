package weld

import (
	"math"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/seam"
)

// Shrinkage is an estimate of how a seam pulls; real frames differ by half of it either way.
type Shrinkage struct {
	AcrossMM figure.Figure // transverse
	AlongMM  figure.Figure // longitudinal
}

// Shrink estimates the shrinkage of one seam.
func Shrink(s seam.Seam) Shrinkage {
	thin := math.Min(s.WallMM[0], s.WallMM[1])
	var x Shrinkage
	if s.Type == seam.Fillet {
		x.AcrossMM = TransverseFillet(s.LegMM, thin)
	} else {
		x.AcrossMM = TransverseButt(s.Area().Value, thin, s.GapMM)
	}
	x.AlongMM = Longitudinal(s.Type == seam.Fillet, s.WeldMM)
	return x
}

var twi = figure.Source{Kind: figure.Handbook, Text: "TWI, frequently asked questions: how much distortion to expect (rules of thumb)"}

// TransverseFillet estimates the shrinkage across a fillet, mm: 0.8 mm while the leg is no more than 3/4 of the thickness,
// beyond that taken as growing with the leg.
func TransverseFillet(legMM, thicknessMM float64) figure.Figure {
	return figure.New("weld.shrink.across", "shrinkage across a fillet", "mm", "0.8 * max(1, z / (0.75 * t))", twi,
		figure.In("z", "leg", legMM, "mm", ""), figure.In("t", "thickness", thicknessMM, "mm", "")).
		Without("clamps, tacks and stiffness; growth beyond 3/4 t is our reading of 'more with bigger legs'")
}

// TransverseButt estimates the shrinkage across a butt weld, mm: 0.2 A/t + 0.05 g.
func TransverseButt(areaMM2, thicknessMM, gapMM float64) figure.Figure {
	return figure.New("weld.shrink.across", "shrinkage across a butt weld", "mm", "0.2 * A / t + 0.05 * g",
		figure.Source{Kind: figure.Handbook, Text: "Procedure Handbook of Arc Welding: S = 0.2 Aw/t + 0.05 d"},
		figure.In("A", "cross-section of the weld", areaMM2, "mm2", ""), figure.In("t", "thickness", thicknessMM, "mm", ""),
		figure.In("g", "root gap", gapMM, "mm", "")).Without("clamps, tacks and stiffness")
}

// Longitudinal estimates the shrinkage along a seam, mm: 0.8 mm in 3 m of fillet, 3 mm in 3 m of butt weld.
func Longitudinal(fillet bool, lengthMM float64) figure.Figure {
	rate, what := 3.0, "shrinkage along a butt weld"
	if fillet {
		rate, what = 0.8, "shrinkage along a fillet"
	}
	return figure.New("weld.shrink.along", what, "mm", "s * L / 3000", twi,
		figure.In("s", "shrinkage in 3 m", rate, "mm", "rule of thumb"), figure.In("L", "length", lengthMM, "mm", "")).Without("clamps, tacks and stiffness")
}

// AngularTee estimates how far the tip of a tee's flange lifts, mm: 0.02 W w^1.3 / t^2 in inches (from memory of Blodgett,
// Design of Welded Structures 7.7).
func AngularTee(flangeMM, legMM, thicknessMM float64) figure.Figure {
	return figure.New("weld.shrink.lift", "lift of the flange's edge", "mm", "25.4 * 0.02 * (W / 25.4) * (w / 25.4)^1.3 / (t / 25.4)^2",
		figure.Source{Kind: figure.Handbook, Text: "Blodgett, Design of Welded Structures 7.7 (from memory)"},
		figure.In("W", "width of the flange", flangeMM, "mm", ""), figure.In("w", "leg", legMM, "mm", ""), figure.In("t", "thickness of the flange", thicknessMM, "mm", ""))
}

// Bowing estimates how far a member bows under a seam off its neutral axis, mm: 0.005 A d L^2 / I in inches, which has no
// unit of its own (from memory of Blodgett, Design of Welded Structures 7.7).
func Bowing(areaMM2, offsetMM, lengthMM, inertiaMM4 float64) figure.Figure {
	return figure.New("weld.shrink.bow", "bow of the member", "mm", "0.005 * A * d * L^2 / I",
		figure.Source{Kind: figure.Handbook, Text: "Blodgett, Design of Welded Structures 7.7 (from memory)"},
		figure.In("A", "weld metal with the fused zone", areaMM2, "mm2", ""), figure.In("d", "from the weld to the neutral axis", offsetMM, "mm", ""),
		figure.In("L", "length", lengthMM, "mm", ""), figure.In("I", "second moment of area", inertiaMM4, "mm4", ""))
}
