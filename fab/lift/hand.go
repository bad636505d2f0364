package lift

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
)

// Coupling is how well the hands hold.
type Coupling int

// Couplings of the lifting equation.
const (
	Good Coupling = iota
	Fair
	Poor
)

// Hand is a lift by one person. Lengths are in inches, or in centimetres where Metric is set: the equation has a form for
// each, which differ a little.
type Hand struct {
	Metric   bool
	H        float64 // hands from the ankles, level
	V        float64 // hands above the floor at the start
	D        float64 // vertical travel
	ADeg     float64 // twist
	PerMin   float64 // lifts a minute
	Hours    float64 // of such work
	Coupling Coupling
	LoadKG   float64
}

// HandLift is the equation's answer.
type HandLift struct {
	HM, VM, DM, AM, FM, CM figure.Figure
	RWL                    figure.Figure // recommended weight limit, kg
	Index                  figure.Figure // load over limit; not valid where the limit is nil
	Possible               bool          // the limit is more than nothing
	Notes                  []string
}

// frequencyRow is a row of Table 5: three spans of work, each with the hands below 30 in at the start and above.
type frequencyRow struct {
	f                        float64
	low1, high1, low2, high2 float64
	low8, high8              float64
}

var frequencyTable = [...]frequencyRow{
	{0.2, 1, 1, .95, .95, .85, .85}, {0.5, .97, .97, .92, .92, .81, .81}, {1, .94, .94, .88, .88, .75, .75}, {2, .91, .91, .84, .84, .65, .65},
	{3, .88, .88, .79, .79, .55, .55}, {4, .84, .84, .72, .72, .45, .45}, {5, .80, .80, .60, .60, .35, .35}, {6, .75, .75, .50, .50, .27, .27},
	{7, .70, .70, .42, .42, .22, .22}, {8, .60, .60, .35, .35, .18, .18}, {9, .52, .52, .30, .30, 0, .15}, {10, .45, .45, .26, .26, 0, .13},
	{11, .41, .41, 0, .23, 0, 0}, {12, .37, .37, 0, .21, 0, 0}, {13, 0, .34, 0, 0, 0, 0}, {14, 0, .31, 0, 0, 0, 0}, {15, 0, .28, 0, 0, 0, 0},
}

// FrequencyMultiplier interpolates Table 5; high tells that the hands start at 30 in (75 cm) or above.
func FrequencyMultiplier(perMin, hours float64, high bool) float64 {
	at := func(r frequencyRow) float64 {
		switch {
		case hours <= 1 && high:
			return r.high1
		case hours <= 1:
			return r.low1
		case hours <= 2 && high:
			return r.high2
		case hours <= 2:
			return r.low2
		case high:
			return r.high8
		}
		return r.low8
	}
	if perMin <= frequencyTable[0].f {
		return at(frequencyTable[0])
	}
	for i := 1; i < len(frequencyTable); i++ {
		a, b := frequencyTable[i-1], frequencyTable[i]
		if perMin <= b.f {
			return at(a) + (at(b)-at(a))*(perMin-a.f)/(b.f-a.f)
		}
	}
	return 0
}

const niosh = "Waters, Putz-Anderson, Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110, "

// Solve evaluates the revised lifting equation RWL = LC HM VM DM AM FM CM. Errors for what it is not made for: a negative
// measure, more than eight hours.
func (h Hand) Solve(prefix string) (HandLift, error) {
	unit, lc, h0, hFar, v0, vs, vFar, d0, ds, dFar := "in", 51.0, 10.0, 25.0, 30.0, 0.0075, 70.0, 10.0, 1.8, 70.0
	if h.Metric {
		unit, lc, h0, hFar, v0, vs, vFar, d0, ds, dFar = "cm", 23, 25, 63, 75, 0.003, 175, 25, 4.5, 175
	}
	for _, c := range []struct {
		name string
		v    float64
	}{{"h", h.H}, {"v", h.V}, {"d", h.D}, {"a", h.ADeg}, {"f", h.PerMin}, {"hours", h.Hours}} {
		if !(c.v >= 0) || math.IsInf(c.v, 0) {
			return HandLift{}, fmt.Errorf("%s=%g: it must be zero or more", c.name, c.v)
		}
	}
	if h.Hours > 8 {
		return HandLift{}, fmt.Errorf("hours=%g: the equation covers up to 8 hours of lifting a day", h.Hours)
	}
	if !(h.LoadKG > 0) {
		return HandLift{}, fmt.Errorf("the load must be more than nothing")
	}
	src := func(page string) figure.Source { return figure.Source{Kind: figure.Standard, Text: niosh + page} }
	var r HandLift
	in := figure.In
	H, V, D, A := in("H", "hands out from the ankles", h.H, unit, ""), in("V", "hands above the floor at the start", h.V, unit, ""), in("D", "vertical travel", h.D, unit, ""), in("A", "twist", h.ADeg, "deg", "")
	const tiny = 1e-9
	switch {
	case h.H > hFar*(1+tiny):
		r.HM = figure.New(prefix+"hm", "horizontal multiplier", "", "if(H, far, b/H, 0)", src("p. 8"), H, in("far", "out of reach beyond", hFar, unit, ""), in("b", "least distance", h0, unit, ""))
		r.Notes = append(r.Notes, fmt.Sprintf("hands more than %g %s out: no weight is acceptable there", hFar, unit))
	default:
		r.HM = figure.New(prefix+"hm", "horizontal multiplier", "", "b/max(H, b)", src("p. 8"), H, in("b", "least distance", h0, unit, ""))
	}
	r.VM = figure.New(prefix+"vm", "vertical multiplier", "", "if(V, far, 1 - s*abs(V - v), 0)", src("p. 9"), V, in("v", "knuckle height", v0, unit, ""), in("s", "loss for each "+unit, vs, "", ""), in("far", "out of reach above", vFar, unit, ""))
	r.DM = figure.New(prefix+"dm", "distance multiplier", "", "if(D, far, min(1, 0.82 + s/max(D, d)), 0)", src("pp. 10-11"), D, in("s", "constant", ds, unit, ""), in("d", "least travel", d0, unit, ""), in("far", "too far beyond", dFar, unit, ""))
	r.AM = figure.New(prefix+"am", "asymmetric multiplier", "", "if(A, 135, 1 - 0.0032*A, 0)", src("p. 12"), A)
	fm := FrequencyMultiplier(h.PerMin, h.Hours, h.V >= v0-tiny)
	r.FM = figure.New(prefix+"fm", "frequency multiplier", "", "t", src("Table 5, p. 15, between its rows in proportion"), in("t", fmt.Sprintf("listed for %g lifts a minute over %g h", h.PerMin, h.Hours), fm, "", "table"))
	cm := 1.0
	switch {
	case h.Coupling == Fair && h.V < v0-tiny:
		cm = 0.95
	case h.Coupling == Poor:
		cm = 0.90
	}
	word := [...]string{"good", "fair", "poor"}[h.Coupling]
	r.CM = figure.New(prefix+"cm", "coupling multiplier", "", "t", src("Table 7, p. 18"), in("t", "listed for a "+word+" hold at this height", cm, "", "table"))
	kg, lcUnit := "LC*HM*VM*DM*AM*FM*CM*0.45359237", "lb"
	if h.Metric {
		kg, lcUnit = "LC*HM*VM*DM*AM*FM*CM", "kg"
	}
	r.RWL = figure.New(prefix+"rwl", "recommended weight limit", "kg", kg, src("p. 7"), in("LC", "load constant", lc, lcUnit, ""), r.HM.As("HM"), r.VM.As("VM"), r.DM.As("DM"), r.AM.As("AM"), r.FM.As("FM"), r.CM.As("CM")).
		Without("one-handed, seated, kneeling or two-person lifts, poor footing, heat, and anything that can fail to hold")
	r.Possible = r.RWL.Value > 0
	if r.Possible {
		r.Index = figure.New(prefix+"index", "lifting index", "", "load/limit", src("p. 7"), in("load", "load", h.LoadKG, "kg", ""), r.RWL.As("limit"))
	}
	r.Notes = append(r.Notes, "for one person; the equation says nothing about a load carried by two, and its limit is never multiplied by the number of helpers")
	return r, nil
}

// Words puts the lifting equation in a line: its multipliers, the limit, the index.
func (h *HandLift) Words(tape measure.Tape) string {
	out := fmt.Sprintf("horizontal %.2f, vertical %.2f, travel %.2f, twist %.2f, frequency %.2f, grip %.2f", h.HM.Value, h.VM.Value, h.DM.Value, h.AM.Value, h.FM.Value, h.CM.Value)
	if !h.Possible {
		return out + ": no weight at all is recommended so"
	}
	out += fmt.Sprintf(" of 23 kg (51 lb) recommend %s; the lifting index is %.1f", tape.Mass(h.RWL.Value), h.Index.Value)
	if h.Index.Value > 1 {
		out += ", over 1: not alone"
	}
	return out
}
