package seam

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/figure"
)

// inch in mm.
const inch = 25.4

// tableMinimum is AISC 360-22 Table J2.4 (AWS D1.1:2020 Table 7.7 has the same rows): the least leg of a fillet by the
// thickness of the part, inches.
var tableMinimum = []struct{ upTo, leg float64 }{{0.25, 0.125}, {0.5, 0.1875}, {0.75, 0.25}, {math.Inf(1), 0.3125}}

var minimumSource = figure.Source{Kind: figure.Standard, Text: "AISC 360-22 Table J2.4; AWS D1.1:2020 Table 7.7"}

// slack lets a thickness that was converted from inches hit the table's limit: a nanometre.
const slack = 1e-6

// MinLeg gives the least leg of a fillet between parts of two thicknesses (other 0: both alike), as a figure. With a
// low-hydrogen process (all wire processes, low-hydrogen rods) the thinner part decides; without one the thicker, where no
// preheat was calculated (AWS D1.1). The leg need not exceed the thinner part.
func MinLeg(thicknessMM, otherMM float64, lowHydrogen bool) figure.Figure {
	if otherMM <= 0 {
		otherMM = thicknessMM
	}
	thin, thick := math.Min(thicknessMM, otherMM), math.Max(thicknessMM, otherMM)
	rules, name := thin, "thinner part (low-hydrogen process)"
	if !lowHydrogen {
		rules, name = thick, "thicker part (not low-hydrogen, no calculated preheat)"
	}
	leg := 0.0
	for _, r := range tableMinimum {
		if rules <= r.upTo*inch+slack {
			leg = r.leg * inch
			break
		}
	}
	f := figure.New("fillet.min", "least leg of the fillet", "mm", "min(row, t)", minimumSource,
		figure.In("row", fmt.Sprintf("row of the table for %.4g mm, the %s", rules, name), leg, "mm", "Table J2.4"),
		figure.In("t", "thinner part: the leg need not exceed it", thin, "mm", ""))
	return f.Without("cyclic loads (AWS D1.1: then not under 3/16 in); sheet under 1/8 in is AWS D1.3's ground")
}

// MaxLeg gives the greatest leg of a fillet along the edge of a part, as a figure: its thickness below 1/4 in, 1/16 in less
// from there up.
func MaxLeg(thicknessMM float64) figure.Figure {
	return figure.New("fillet.max", "greatest leg along an edge", "mm", "if(t + 0.000001, 6.35, t, t - 1.5875)",
		figure.Source{Kind: figure.Standard, Text: "AISC 360-22 J2.2b: t below 1/4 in; t - 1/16 in from 1/4 in, unless marked to be built out"},
		figure.In("t", "thickness at the edge", thicknessMM, "mm", "")).
		Without("an inside corner has no edge: there the legs may be longer")
}

// MPaPerKsi converts ksi to MPa.
const MPaPerKsi = 6.894757293168361

// Allowable gives the force (N) that a fillet of that leg carries for each mm of its length by allowable stress design, as
// a figure: 0.60 FEXX on the throat, divided by 2.00. No increase for direction is taken: on the branches of tube joints it
// may be unsafe.
func Allowable(legMM, exxKsi float64) figure.Figure {
	return figure.New("fillet.allow", "allowable force a length of fillet", "N/mm", "0.707 * w * 0.60 * F / 2.00",
		figure.Source{Kind: figure.Standard, Text: "AISC 360-22 J2.4 and Table J2.5: Fnw = 0.60 FEXX on the throat of 0.707 leg, Omega = 2.00"},
		figure.In("w", "leg", legMM, "mm", ""), figure.In("F", "electrode's strength FEXX", exxKsi*MPaPerKsi, "MPa", "electrode class")).
		Without("the base metal beside the weld, ends, cyclic loads; a licensed engineer answers for a design")
}

// Directional is the factor by which a fillet loaded at an angle (degrees) to its length is stronger: 1 + 0.5 sin^1.5.
// Not for welds at the branches of hollow sections.
func Directional(deg float64) float64 {
	return 1 + 0.5*math.Pow(math.Abs(math.Sin(deg*math.Pi/180)), 1.5)
}

// LengthFactor is the share of an end-loaded fillet's length that counts (AISC 360-22 J2.2b): 1 up to 100 legs, then
// 1.2 - 0.002 L/w, and no more than 180 legs beyond 300.
func LengthFactor(lengthMM, legMM float64) float64 {
	switch r := lengthMM / legMM; {
	case r <= 100:
		return 1
	case r <= 300:
		return 1.2 - 0.002*r
	default:
		return 180 / r
	}
}

// MinLength is the least effective length of a fillet: four legs, and 1-1/2 in for the beads of an intermittent one
// (AISC 360-22 J2.2b).
func MinLength(legMM float64, intermittent bool) float64 {
	if intermittent {
		return math.Max(4*legMM, 1.5*inch)
	}
	return 4 * legMM
}

// FilletGap gives the leg that a fillet needs over a root gap: nothing more up to 1/16 in, beyond it the gap is added; a gap
// above 3/16 in must be closed first (AWS D1.1:2015 5.21.1).
func FilletGap(legMM, gapMM float64) (float64, error) {
	switch {
	case gapMM > 3.0/16*inch+slack:
		return legMM, fmt.Errorf("a gap of %.1f mm is too wide for a fillet: AWS D1.1 allows 4.8 mm (3/16 in); close it first", gapMM)
	case gapMM > inch/16+slack:
		return legMM + gapMM, nil
	}
	return legMM, nil
}

// FlareThroat gives the throat that a flare-bevel groove filled flush may be counted with, by process and outside corner
// radius: AISC 360-22 Table J2.2; below a radius of 3/8 in only a reinforcing fillet counts, so nothing is given.
func FlareThroat(process string, radiusMM float64) float64 {
	if radiusMM < 3.0/8*inch-slack {
		return 0
	}
	switch process {
	case "GMAW", "FCAW-G":
		return 5.0 / 8 * radiusMM
	default:
		return 5.0 / 16 * radiusMM
	}
}

// largestPass is the leg that one pass of a hand welder lays at most (common practice: 5/16 in; with small wire and a small
// machine 1/4 in).
const largestPass = 0.25 * inch

// Passes gives the number of passes for a leg (or groove depth): the metal grows with its square.
func Passes(legMM float64) int {
	if legMM <= largestPass+slack {
		return 1
	}
	return int(math.Ceil(legMM*legMM/(largestPass*largestPass) - 1e-9))
}
