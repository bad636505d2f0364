package frame_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/space"
)

// TestSaddleReachDense: the tips of a saddled end, and where it stands on its header, against the same curve walked in very
// small steps; branches are wider and narrower than the header, beside it and turned.
func TestSaddleReachDense(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	tried := 0
	for range 60 {
		size := []string{`"round-tube"` + "\nsize = \"%.3f x 1\"\n", `"square-tube"` + "\nsize = \"%.3f x 1\"\n"}[r.IntN(2)]
		toml := "units = \"mm\"\n[section.head]\nshape = \"round-tube\"\nsize = \"40 x 2\"\n[section.branch]\nshape = " + fmt.Sprintf(size, in(15, 50)) +
			fmt.Sprintf("[[member]]\nname = \"h\"\nsection = \"head\"\nfrom = [-300, 0, 0]\nto = [300, 0, 0]\nends = [\"free\", \"free\"]\n"+
				"[[member]]\nname = \"b\"\nsection = \"branch\"\nfrom = [0, %.4f, 0]\nto = [%.4f, %.4f, 300]\nroll = %.3f\nends = [\"auto\", \"free\"]\n", in(-6, 6), in(-200, 200), in(-30, 30), in(0, 90))
		j := frametest.Read(t, toml)
		f, _ := frame.Build(j, frametest.Sections(t, j))
		m := &f.Members[1]
		if m.Ends[0].Saddle == nil {
			continue
		}
		tried++
		h := &f.Members[0]
		least, most, ok := m.SeatReach(0, h)
		tip, _ := m.Tips()
		dir := m.Axis.Mul(-1)
		lo, hi, far := math.Inf(1), math.Inf(-1), math.Inf(1)
		walk := func(y, z float64) {
			p := m.Place(0, y, z)
			d := m.Ends[0].Saddle.Reach(p, dir)
			x := p.Along(dir, d).Sub(h.A).Dot(h.Axis)
			lo, hi, far = min(lo, x), max(hi, x), min(far, -d)
		}
		const steps = 40000
		half := m.Section.DepthMM / 2
		for i := range steps {
			if m.Section.Round {
				sin, cos := space.SinCosDeg(360 * float64(i) / steps)
				walk(half*cos, half*sin)
				continue
			}
			u := m.Section.DepthMM*float64(i)/steps - half
			walk(u, half)
			walk(u, -half)
			walk(half, u)
			walk(-half, u)
		}
		// Steps of some thousandths of a millimetre miss a kink, behind which the curve falls like a root, by some tenths
		// (sqrt(2 * 20 * 0.004) = 0.4); elsewhere they miss nothing that can be seen. No draw is as wide as the header.
		if !ok || least > lo+1e-6 || most < hi-1e-6 || tip > far+1e-6 || least < lo-0.4 || most > hi+0.4 || tip < far-0.4 {
			t.Errorf("%s\nseat %v to %v, tip %v; walked %v to %v, %v", toml, least, most, tip, lo, hi, far)
		}
	}
	if tried < 40 {
		t.Errorf("only %d tried", tried)
	}
}
