package lift

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Whatever hangs, the legs' upward pulls add up to the weight and their sideways pulls cancel.
func TestSlingsHangInBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(1, 1e6).Draw(t, "weight")
		angle := rapid.Float64Range(LeastAngleDeg, 90).Draw(t, "angle")
		legs := rapid.IntRange(1, 8).Draw(t, "legs")
		s, err := NewSling(w, legs, angle, "")
		if err != nil {
			t.Fatal(err)
		}
		up := s.Leg.Value * s.Counts.Value * math.Sin(angle*math.Pi/180)
		if math.Abs(up-w) > 1e-9*w { // rounding of a product of three
			t.Errorf("the legs hold %g of %g", up, w)
		}
		flatter, err := NewSling(w, legs, LeastAngleDeg+(angle-LeastAngleDeg)/2, "")
		if err != nil || flatter.Leg.Value < s.Leg.Value*(1-1e-12) {
			t.Errorf("a flatter leg holds less: %g after %g, %v", flatter.Leg.Value, s.Leg.Value, err)
		}
		d1, d2, h := rapid.Float64Range(1, 1e4).Draw(t, "d1"), rapid.Float64Range(1, 1e4).Draw(t, "d2"), rapid.Float64Range(1, 1e4).Draw(t, "h")
		a, b, err := Legs(w, d1, d2, h, "")
		if err != nil {
			t.Fatal(err)
		}
		s1, s2 := math.Hypot(d1, h), math.Hypot(d2, h)
		if up := a.Value*h/s1 + b.Value*h/s2; math.Abs(up-w) > 1e-9*w {
			t.Errorf("two unlike legs hold %g of %g", up, w)
		}
		if in, out := a.Value*d1/s1, b.Value*d2/s2; math.Abs(in-out) > 1e-9*(in+out) {
			t.Errorf("the picks are pulled %g one way and %g the other", in, out)
		}
	})
}
