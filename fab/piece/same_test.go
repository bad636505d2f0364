package piece_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"bench.example/soapstone/fab/space"
)

// TestNearlyEqual: what differs by more than a hundredth of a millimetre never has one mark, a row of small steps leads
// nowhere, and what differs by noise has one; however the pieces lie in space.
func TestNearlyEqual(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for range 30 {
		var toml strings.Builder
		long := map[string]float64{}
		tube := func(name string, mm float64) {
			long[name] = mm
			at, dir := anywhere(r, space.Vec{X: float64(len(long)) * 3000}, false)
			m := strut{name: name, section: "pipe", to: space.Vec{X: mm}, depth: space.Z, ends: `"free", "free"`}
			toml.WriteString(written([]strut{m}, "", r, at, dir))
		}
		for k := range 12 {
			tube(fmt.Sprint("step", k), 700+0.004*float64(k)) // 0.044 mm from the first to the last
			tube(fmt.Sprint("twin", k), 900)
		}
		marks := map[string]int{}
		for _, p := range pieces(t, trussSections+toml.String()) {
			lo, hi := 1e9, 0.0
			for _, m := range p.Members {
				lo, hi = min(lo, long[m]), max(hi, long[m])
				marks[m[:4]]++
			}
			if hi-lo > 0.01 {
				t.Errorf("%s stands for %v, of %v to %v mm", p.Mark, p.Members, lo, hi)
			}
			if p.Members[0][:4] == "twin" && p.Qty != 12 {
				t.Errorf("twelve equal tubes: %s is for %v", p.Mark, p.Members)
			}
		}
	}
}

// TestToldApart: branches that differ in one thing by two hundredths of a millimetre, or by the size of what they meet, have
// marks of their own.
func TestToldApart(t *testing.T) {
	still := func(v space.Vec) space.Vec { return v }
	r := rand.New(rand.NewPCG(6, 6))
	// Two headers along x, 600 mm apart, and a branch between them at 70 degrees or so.
	frameOf := func(change func(h1, h2, b *strut)) string {
		h1 := strut{name: "h1", section: "pipe", to: space.Vec{X: 1000}, ends: `"free", "free"`}
		h2 := strut{name: "h2", section: "pipe", from: space.Vec{Y: 600}, to: space.Vec{X: 1000, Y: 600}, ends: `"free", "free"`}
		b := strut{name: "b", section: "pipe", from: space.Vec{X: 300}, to: space.Vec{X: 500, Y: 600}, ends: `"auto", "auto"`}
		change(&h1, &h2, &b)
		return written([]strut{h1, h2, b}, "", r, still, still) +
			written([]strut{
				{name: "g1", section: "pipe", to: space.Vec{X: 1000}, ends: `"free", "free"`},
				{name: "g2", section: "pipe", from: space.Vec{Y: 600}, to: space.Vec{X: 1000, Y: 600}, ends: `"free", "free"`},
				{name: "c", section: "pipe", from: space.Vec{X: 300}, to: space.Vec{X: 500, Y: 600}, ends: `"auto", "auto"`},
			}, "", r, func(v space.Vec) space.Vec { return v.Add(space.Vec{Z: 2000}) }, still)
	}
	for _, c := range []struct {
		what   string
		same   bool
		change func(h1, h2, b *strut)
	}{
		{"nothing", true, func(_, _, _ *strut) {}},
		{"the whole is moved along", true, func(_, _, b *strut) { b.from.X += 7; b.to.X += 7 }},
		{"a nanometre", true, func(_, _, b *strut) { b.from.Z += 1e-6; b.to.X -= 1e-6 }},
		{"the angle", false, func(_, _, b *strut) { b.to.X += 0.4 }},
		{"it passes by", false, func(_, _, b *strut) { b.from.Z += 0.02; b.to.Z += 0.02 }},
		{"the upper header is wider", false, func(_, h, _ *strut) { h.section = "thick" }},
		{"the headers stand farther apart", false, func(_, h, b *strut) { h.from.Y += 0.02; h.to.Y += 0.02; b.to.Y += 0.02 }},
		{"the upper header is askew", false, func(_, h, _ *strut) { h.from.Z += 1; h.to.Z -= 1 }},
	} {
		marks := map[string]string{}
		for _, p := range pieces(t, trussSections+frameOf(c.change)) {
			for _, m := range p.Members {
				marks[m] = p.Mark
			}
		}
		if same := marks["b"] == marks["c"]; same != c.same {
			t.Errorf("%s: one mark %v, not %v", c.what, same, c.same)
		}
	}
}
