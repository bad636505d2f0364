package frame_test

import (
	"fmt"
	"math"
	"testing"

	"bench.example/soapstone/fab/frame"
)

const angleRim = `
units = "mm"
tape = "1mm"
[section.rim]
shape = "angle"
size = "50 x 40 x 5"
[section.leg]
shape = "square-tube"
size = "30 x 30 x 2"
[[rectangle]]
name = "top"
section = "rim"
length = 1200
width = 600
corner = %q
heel = %q
stand = %q
sizes = %q
`

// TestAngleCorners: a rim of angle 50 x 40 x 5, mitred, butted and coped, in all four heel positions and both stands.
func TestAngleCorners(t *testing.T) {
	for _, heel := range []string{"out-bottom", "out-top", "in-bottom", "in-top"} {
		for _, stand := range []string{"edge", "flat"} {
			face := 40.0 // seen from above: the leg along the width lies in the plane
			if stand == "flat" {
				face = 50
			}
			for corner, want := range map[string][2]float64{"mitre": {1200, 600}, "butt-long": {1200, 600 - 2*face}, "butt-short": {1200 - 2*face, 600}, "cope": {1200, 590}} {
				if corner == "cope" && heel[:2] == "in" {
					want[1] = 600 - 2*face // the heel's leg stands at the inside and stops everything
				}
				f := sound(t, fmt.Sprintf(angleRim, corner, heel, stand, "outside"))
				if x, y := f.LengthMM(f.Index("top.x1")), f.LengthMM(f.Index("top.y2")); math.Abs(x-want[0]) > 1e-6 || math.Abs(y-want[1]) > 1e-6 {
					t.Errorf("%s %s %s: %v and %v, not %v", corner, heel, stand, x, y, want)
				}
				if len(f.Joints) != 4 {
					t.Errorf("%s %s %s: %d joints", corner, heel, stand, len(f.Joints))
				}
				for i := range f.Members {
					heelAt(t, f, &f.Members[i], heel)
				}
				noOverlap(t, f, 100, 1)
			}
		}
	}
}

// heelAt checks where the heel of a side is.
func heelAt(t *testing.T, f *frame.Frame, m *frame.Member, heel string) {
	t.Helper()
	x := m.Place(m.A.Dist(m.B)/2, -m.Section.DepthMM/2, -m.Section.WidthMM/2)
	q := f.Rects[0]
	low := math.Abs(x.Z-q.Corner.Z) < 1e-6
	u, v := x.X-q.Corner.X, x.Y-q.Corner.Y
	out := math.Abs(u) < 1e-6 || math.Abs(u-q.LengthMM) < 1e-6 || math.Abs(v) < 1e-6 || math.Abs(v-q.WidthMM) < 1e-6
	if low != (heel[len(heel)-3:] != "top") || out != (heel[:3] == "out") {
		t.Errorf("%s: the heel of %s is at %v", heel, m.Name, x)
	}
	if d := m.Axis.Cross(m.Depth).Dist(m.Width); d > 1e-12 {
		t.Errorf("%s: left-handed", m.Name)
	}
}

// TestAngleInside: 1200 x 600 inside is what lies between the upright legs, so that a top of that size drops in.
func TestAngleInside(t *testing.T) {
	f := sound(t, fmt.Sprintf(angleRim, "mitre", "out-bottom", "edge", "inside"))
	if x := f.LengthMM(f.Index("top.x1")); math.Abs(x-1210) > 1e-6 {
		t.Errorf("%v", x)
	}
}

// TestLegsInsideHeel: legs stand inside the heel, against both upright legs of the angle, under the flat ones.
func TestLegsInsideHeel(t *testing.T) {
	f := sound(t, fmt.Sprintf(angleRim, "cope", "out-top", "edge", "outside")+`
[[legs]]
under = "top"
section = "leg"
surface = "floor"
at = "inside-corners"
[surface.floor]
level = -820
`)
	leg := f.Index("top.leg1")
	if m := f.Members[leg]; math.Abs(m.A.X-5-15) > 1e-9 || math.Abs(m.A.Y-5-15) > 1e-9 || math.Abs(m.A.Z-45) > 1e-9 {
		t.Errorf("leg at %v", m.A)
	}
	if got := f.LengthMM(leg); math.Abs(got-865) > 1e-6 {
		t.Errorf("leg %v long", got)
	}
	n := 0
	for _, j := range f.Joints {
		if j.Members[0] == leg || j.Members[1] == leg {
			n += len(j.Contacts)
		}
	}
	if n != 3 { // two upright legs, and the flat one of the side that runs through the coped corner
		t.Errorf("%d contacts at a leg", n)
	}
	if foot := f.Feet[0]; foot.AngleDeg != 0 || foot.GapMM != 0 || foot.LengthMM != f.LengthMM(leg) {
		t.Errorf("%+v", foot)
	}
}

func TestChannel(t *testing.T) {
	for _, corner := range []string{"mitre", "butt-long", "cope"} {
		f := sound(t, fmt.Sprintf(`
units = "mm"
[section.c]
shape = "channel"
size = "80 x 45 x 6"
[[rectangle]]
name = "a"
section = "c"
length = 900
width = 500
corner = %q
`, corner))
		want := map[string]float64{"mitre": 500, "butt-long": 410, "cope": 488}[corner]
		if y := f.LengthMM(f.Index("a.y1")); math.Abs(y-want) > 1e-6 {
			t.Errorf("%s: %v", corner, y)
		}
		noOverlap(t, f, 200, 1)
	}
}
