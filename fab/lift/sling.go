package lift

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/figure"
)

// LeastAngleDeg is the flattest that a sling leg may run, from the horizontal (ASME B30.9 and B30.26).
const LeastAngleDeg = 30

// Sling is a bridle under load.
type Sling struct {
	Leg    figure.Figure // tension in each leg that carries, N
	Factor figure.Figure // tension over a leg's vertical share
	Counts figure.Figure // legs that are counted on
}

// NewSling gives the tension in the legs of a bridle. angleDeg is from the horizontal. Two legs at most are counted: a
// rigid frame hangs on two of its corners, the others go slack. An error below 30 degrees, above 90, or without legs.
func NewSling(weightN float64, legs int, angleDeg float64, prefix string) (Sling, error) {
	switch {
	case !(weightN > 0) || math.IsInf(weightN, 0):
		return Sling{}, fmt.Errorf("the weight must be more than nothing")
	case legs < 1:
		return Sling{}, fmt.Errorf("a sling has at least one leg, not %d", legs)
	case !(angleDeg > 0) || angleDeg > 90:
		return Sling{}, fmt.Errorf("a leg's angle is measured from the horizontal: above 0, and 90 for a leg that hangs plumb; %g is neither", angleDeg)
	case angleDeg < LeastAngleDeg-1e-9:
		return Sling{}, fmt.Errorf("%g degrees is too flat: no leg may run under 30 degrees from the horizontal (ASME B30.9); there each leg carries %.2f times its share; take longer slings or a spreader bar",
			angleDeg, 1/math.Sin(angleDeg*math.Pi/180))
	}
	var s Sling
	src := figure.Source{Kind: figure.Standard, Text: "ASME B30.9 (sling angle from the horizontal): T = W / (N sin a)"}
	a := figure.In("a", "angle from the horizontal", angleDeg, "deg", "")
	s.Counts = figure.New(prefix+"counts", "legs counted on", "", "min(n, 2)", figure.Source{Kind: figure.Common, Text: "a rigid frame hangs on two legs at a time, however many there are"},
		figure.In("n", "legs", float64(legs), "", ""))
	s.Factor = figure.New(prefix+"factor", "tension factor", "", "1/sin(a)", src, a)
	s.Leg = figure.New(prefix+"leg", "tension in a leg", "N", "W*f/N", src, figure.In("W", "weight", weightN, "N", ""), s.Factor.As("f"), s.Counts.As("N")).
		Without("shock, a load that is not over its middle, and the choker's or edge's loss of strength")
	return s, nil
}

// Legs gives tension in the two legs of a pick that are not alike: D1 and D2 from the middle of mass to each pick along
// the level, the hook height above the picks. The middle of mass hangs under the hook.
func Legs(weightN, d1, d2, height float64, prefix string) (first, second figure.Figure, err error) {
	if !(weightN > 0) || !(d1 > 0) || !(d2 > 0) || !(height > 0) {
		return first, second, fmt.Errorf("weight, both distances and the hook's height must be more than nothing")
	}
	src := figure.Source{Kind: figure.Handbook, Text: "statics of a two-leg sling: T1 = W D2 S1 / (H (D1 + D2))"}
	in := []figure.Input{figure.In("W", "weight", weightN, "N", ""), figure.In("D1", "first pick to the middle of mass", d1, "mm", ""),
		figure.In("D2", "second pick to the middle of mass", d2, "mm", ""), figure.In("H", "hook above the picks", height, "mm", "")}
	first = figure.New(prefix+"leg1", "tension in the first leg", "N", "W*D2*sqrt(D1^2 + H^2)/(H*(D1 + D2))", src, in...)
	second = figure.New(prefix+"leg2", "tension in the second leg", "N", "W*D1*sqrt(D2^2 + H^2)/(H*(D1 + D2))", src, in...)
	return first, second, nil
}

// SlingCautions are said with every sling.
func SlingCautions() []string {
	return []string{
		"rated gear only, tag legible, looked over today; pad every tube end and edge that a sling bears on",
		"hook over the middle of mass: lift an inch, look, and set down if it tips or swings",
		"nobody under the load or between it and a wall; a tag line, not hands",
		"lifting points that the shop made carry a marked working load and a proof test to 125 % before use (29 CFR 1926.251(a)(4))",
		"where people or property can be hurt, a qualified rigger plans the lift",
	}
}
