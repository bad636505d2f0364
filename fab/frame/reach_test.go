package frame_test

import (
	"fmt"
	"math"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
)

// TestSaddleTip: the tip of a tube that is saddled to a round one, whatever its roll, against the textbook equation of the
// curve taken over its own corners or its own circle: a line of the branch at (u, v) from its axis, u in the plane of both
// axes, ends (sqrt(R^2 - v^2) - u*cos a)/sin a before the header's axis, least where it is longest.
func TestSaddleTip(t *testing.T) {
	const header, out = 1.5, 20.0 // radius and distance of the branch's free end, in
	reach := func(u, v, a float64) float64 { return (math.Sqrt(header*header-v*v) - u*math.Cos(a)) / math.Sin(a) }
	for _, c := range []struct {
		shape, size string
		h, b        float64 // half depth, half width; b 0: round
	}{{"round-tube", "1-1/2 x 14ga", 0.75, 0}, {"rect-tube", "2 x 1 x 14ga", 1, 0.5}, {"square-tube", "1 x 14ga", 0.5, 0.5}} {
		for _, deg := range []float64{40, 63, 90, 118} {
			for _, roll := range []float64{0, 7.3, 33.7, 90, 151} {
				a, r := deg*math.Pi/180, roll*math.Pi/180
				toml := fmt.Sprintf(`
[section.h]
shape = "round-tube"
size = "3 x 11ga"
[section.b]
shape = "%s"
size = "%s"
[[member]]
name = "header"
section = "h"
from = [-40, 0, 0]
to = [40, 0, 0]
ends = ["free", "free"]
[[member]]
name = "branch"
section = "b"
from = [%.9f, 0, %.9f]
to = [0, 0, 0]
roll = %g
ends = ["free", "auto"]
`, c.shape, c.size, out*math.Cos(a), out*math.Sin(a), roll)
				j := frametest.Read(t, toml)
				f, _ := frame.Build(j, frametest.Sections(t, j))
				// Its own points, finely: round the circle, or along the four sides.
				least := math.Inf(1)
				try := func(y, z float64) {
					// The depth lies in the plane of the axes at roll 0 (upright), the width across it. The sign of u does not
					// matter, since both signs are tried with every point.
					u, v := y*math.Cos(r)-z*math.Sin(r), y*math.Sin(r)+z*math.Cos(r)
					least = min(least, reach(u, v, a), reach(-u, v, a))
				}
				const n = 20000
				for i := range n + 1 {
					s := float64(i) / n
					if c.b == 0 {
						try(c.h*math.Cos(2*math.Pi*s), c.h*math.Sin(2*math.Pi*s))
						continue
					}
					for _, sign := range []float64{1, -1} {
						try(c.h*(2*s-1), sign*c.b)
						try(sign*c.h, c.b*(2*s-1))
					}
				}
				got := f.LengthMM(f.Index("branch")) / 25.4
				if want := out - least; math.Abs(got-want) > 4e-6 { // 1e-4 mm: a step that hits the tip so well stays
					t.Errorf("%s at %g, rolled %g: %.8f in, want %.8f", c.shape, deg, roll, got, want)
				}
			}
		}
	}
}
