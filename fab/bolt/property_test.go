package bolt

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A bolt that is bought is long enough, by less than one step of its series too long, and a thicker grip never takes a
// shorter one; torque grows with friction and with the share of the proof load, and no tightening goes past the proof load.
func TestBoltsHoldTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size, err := ParseSize(rapid.SampledFrom([]string{"1/4-20", "5/16-18", "3/8-16", "1/2-13", "5/8-11", "3/4-10", "M6", "M8", "M10", "M12", "M16", "M20"}).Draw(t, "size"))
		if err != nil {
			t.Fatal(err)
		}
		st := Stack{GripMM: rapid.Float64Range(3, 90).Draw(t, "grip"), Flats: rapid.IntRange(0, 4).Draw(t, "flats"), Locks: rapid.IntRange(0, 1).Draw(t, "locks")}
		b, err := st.Length(size, "")
		if err != nil {
			t.Fatal(err)
		}
		if b.StockMM < b.Need.Value-1e-9 { // rounding
			t.Errorf("%s is %g mm long where %g is needed", b.Name, b.StockMM, b.Need.Value)
		}
		if shorter, ok := StockLength(size, b.Need.Value); !ok || math.Abs(shorter-b.StockMM) > 1e-9 {
			t.Errorf("%g mm is bought, the series has %g", b.StockMM, shorter)
		}
		thicker := st
		thicker.GripMM += rapid.Float64Range(0, 10).Draw(t, "more")
		if c, err := thicker.Length(size, ""); err == nil && (c.StockMM < b.StockMM || c.Need.Value < b.Need.Value) {
			t.Errorf("a grip of %g mm takes %g mm, one of %g only %g", st.GripMM, b.StockMM, thicker.GripMM, c.StockMM)
		}
		grade := "5"
		if size.Metric {
			grade = "8.8"
		}
		g, err := ParseGrade(grade, size)
		if err != nil {
			t.Fatal(err)
		}
		k, share := rapid.Float64Range(0.1, 0.3).Draw(t, "k"), rapid.Float64Range(0.1, 0.9).Draw(t, "share")
		a, err := Tighten(size, g, k, share, "")
		if err != nil {
			t.Fatal(err)
		}
		if a.Clamp.Value > a.Proof.Value || a.Proof.Value >= a.Rupture.Value {
			t.Errorf("clamp %g, proof %g, rupture %g N", a.Clamp.Value, a.Proof.Value, a.Rupture.Value)
		}
		if c, err := Tighten(size, g, k*1.1, share, ""); err != nil || math.Abs(c.Torque.Value-1.1*a.Torque.Value) > 1e-9*a.Torque.Value { // rounding
			t.Errorf("a tenth more friction: %g after %g N m, %v", c.Torque.Value, a.Torque.Value, err)
		}
	})
}
