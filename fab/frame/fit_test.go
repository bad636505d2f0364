package frame_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"bench.example/soapstone/fab/frame"
)

const base60 = rail + `
[[rectangle]]
name = "f"
section = "rail"
length = "60in"
width = "30in"
`

// TestGap: a root gap shortens the piece that is cut last, and mitred sides by half each.
func TestGap(t *testing.T) {
	f := sound(t, base60+`
[[crossbars]]
on = "f"
section = "rail"
count = 1
fit = "1/16"
[[joint]]
between = ["f.bar1", "f.x1"]
gap = "1/8"
`)
	if got := f.Length(f.Index("f.bar1")); got != inches(27-1.0/16-1.0/8) {
		t.Errorf("%v", got)
	}
	for _, j := range f.Joints {
		if j.Spec != nil && (j.Kind != frame.Tee || j.GapMM < 25.4*(1.0/8+1.0/32)-1e-9) {
			t.Error(j.Kind, j.GapMM)
		}
	}
	if len(f.Joints) != 6 {
		t.Errorf("%d joints", len(f.Joints))
	}
	f = sound(t, base60+"[[joint]]\nbetween = [\"f.x1\", \"f.y1\"]\ngap = \"1/16\"")
	if got := f.LengthMM(f.Index("f.x1")) / 25.4; got > 60-0.04 || got < 60-0.05 { // sqrt(2)/32
		t.Error(got)
	}
	if len(f.Joints) != 4 {
		t.Errorf("%d joints", len(f.Joints))
	}
}

const roundRim = `
[section.pipe]
shape = "round-tube"
size = "2 x 11ga"
[section.thin]
shape = "round-tube"
size = "1 x 14ga"
[[rectangle]]
name = "f"
section = "pipe"
length = "60in"
width = "30in"
[[crossbars]]
on = "f"
section = "thin"
count = 1
set = "centre"
`

// TestRoundGap: fit and root gaps keep a saddled end off its header as they keep a plane one.
func TestRoundGap(t *testing.T) {
	const joint = "[[joint]]\nbetween = [\"f.bar1\", \"f.x1\"]\ngap = \"1/8\"\n"
	for _, c := range []struct {
		toml   string
		lo, hi float64 // gaps at its two ends, in
	}{
		{roundRim, 0, 0},
		{roundRim + "fit = \"1/16\"", 1.0 / 32, 1.0 / 32},
		{roundRim + joint, 1.0 / 8, 0},
		{roundRim + "fit = \"1/16\"\n" + joint, 1.0/8 + 1.0/32, 1.0 / 32},
	} {
		f := sound(t, c.toml)
		m := &f.Members[f.Index("f.bar1")]
		// The sides' centre lines lie 28 in apart; in the bar's middle plane it ends on their flanks, at its short points,
		// and at its long points half an inch beside it.
		for e, gap := range []float64{c.lo, c.hi} {
			r := 1 + gap
			least, most := m.SaddleReach(e)
			h := f.Members[f.Index([]string{"f.x1", "f.x2"}[e])].A.Y
			least, most = least+m.A.Y-h, most+m.A.Y-h
			if e == 1 {
				least, most = -most, -least
			}
			short, long := most/25.4, least/25.4
			if math.Abs(short-r) > 1e-6 || math.Abs(long-math.Sqrt(r*r-0.25)) > 1e-6 {
				t.Errorf("end %d: %v and %v from the header's axis, not %v and %v", e+1, short, long, r, math.Sqrt(r*r-0.25))
			}
			if math.Abs(m.Ends[e].GapMM/25.4-gap) > 1e-9 {
				t.Errorf("end %d: gap %v", e+1, m.Ends[e].GapMM)
			}
		}
		for _, j := range f.Joints {
			if slices.Contains(j.Members, f.Index("f.bar1")) && slices.Contains(j.Members, f.Index("f.x1")) && math.Abs(j.GapMM/25.4-c.lo) > 1e-9 {
				t.Errorf("joint: gap %v", j.GapMM)
			}
		}
	}
}

// TestCopeGap: a root gap opens a coped corner by as much everywhere, once.
func TestCopeGap(t *testing.T) {
	const gap = 25.4 / 16
	plain := sound(t, fmt.Sprintf(angleRim, "cope", "out-top", "edge", "outside"))
	open := sound(t, fmt.Sprintf(angleRim, "cope", "out-top", "edge", "outside")+"[[joint]]\nbetween = [\"top.x1\", \"top.y1\"]\ngap = \"1/16in\"\n")
	y := open.Index("top.y1")
	if d := plain.LengthMM(y) - open.LengthMM(y); math.Abs(d-gap) > 1e-6 {
		t.Errorf("shorter by %v", d)
	}
	n := 0
	for _, j := range open.Joints {
		if j.Spec == nil {
			continue
		}
		for _, c := range j.Contacts {
			n++
			if math.Abs(c.GapMM-gap) > 1e-6 {
				t.Errorf("a face stands off by %v", c.GapMM)
			}
		}
	}
	if n < 2 {
		t.Errorf("%d faces", n)
	}
}
