package piece_test

import (
	"fmt"
	"testing"

	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/piece"
)

// TestLaysAgreeWithNest: the ways to lie that follow from a section's motions are those of the nest's own rules for end
// numbers.
func TestLaysAgreeWithNest(t *testing.T) {
	for _, c := range []struct {
		shape, size string
		sym         nest.Symmetry
	}{
		{"rect-tube", "2-1/2 x 1-1/2 x 11ga", nest.Rectangular}, {"square-tube", "2 x 2 x 11ga", nest.Quarter}, {"channel", "4 x 2 x 1/4", nest.Channel},
		{"angle", "2 x 2 x 1/4", nest.EqualAngle}, {"angle", "3 x 2 x 1/4", nest.Handed},
	} {
		for _, face := range []nest.Face{nest.Depth, nest.Width} {
			for _, ends := range [][2]float64{{45, 45}, {45, -45}, {30, 0}, {0, 45}, {30, -45}, {20, 70}} {
				across := map[nest.Face]string{nest.Depth: "depth", nest.Width: "width"}[face]
				ps := gather(t, fmt.Sprintf("[section.s]\nshape = %q\nsize = %q\n[[piece]]\nsection = \"s\"\nlength = 60\nends = [%g, %g]\nacross = %q\n", c.shape, c.size, ends[0], ends[1], across))
				p := &ps[0]
				type planes struct{ l, r nest.Plane }
				want := map[planes]bool{}
				for _, l := range nest.LaysOf(ends[0], ends[1], face, c.sym) {
					want[planes{l.Left, l.Right}] = true
				}
				got := map[planes]piece.Lay{}
				for _, l := range p.Lays {
					got[planes{nest.PlaneOf(l.Left.SY, l.Left.SZ), nest.PlaneOf(l.Right.SY, l.Right.SZ)}] = l
				}
				if len(got) != len(want) {
					t.Errorf("%s %s %v %s: %d ways, the nest has %d", c.shape, c.size, ends, across, len(got), len(want))
				}
				for w := range want {
					if _, ok := got[w]; !ok {
						t.Errorf("%s %s %v %s: %v is missing", c.shape, c.size, ends, across, w)
					}
				}
				if p.Ends[0].MiterDeg != ends[0] || p.Ends[1].MiterDeg != ends[1] || p.Lays[0].Turned || p.Lays[0].RollDeg != 0 {
					t.Errorf("%s %v %s: shown as %s", c.shape, ends, across, line(p))
				}
				// What a lay says was done to the piece gives its planes.
				for _, l := range nest.LaysOfPlanes(nest.PlaneOf(p.Lays[0].Left.SY, p.Lays[0].Left.SZ), nest.PlaneOf(p.Lays[0].Right.SY, p.Lays[0].Right.SZ), face, c.sym) {
					g := got[planes{l.Left, l.Right}]
					if g.RollDeg != l.Roll || g.Turned != l.Turned {
						t.Errorf("%s %v %s: %v, the nest says %v", c.shape, ends, across, g, l)
					}
				}
			}
		}
	}
}
