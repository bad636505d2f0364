package frame_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// wholeJob draws a frame with everything on it: two levels of any tube, round ones too, bars, posts, legs with feet on a
// surface that falls both ways, and struts between named places.
func wholeJob(t *rapid.T) string {
	n := 0
	num := func(lo, hi int) int { n++; return rapid.IntRange(lo, hi).Draw(t, fmt.Sprint("n", n)) }
	one := func(words ...string) string { n++; return rapid.SampledFrom(words).Draw(t, fmt.Sprint("w", n)) }
	rails := one("rect-tube|2-1/2 x 1-1/2 x 11ga", "square-tube|1-1/2 x 14ga", "rect-tube|3 x 1 x 11ga", "round-tube|1-1/2 x 11ga")
	uprights := one("square-tube|1-1/2 x 11ga", "rect-tube|2 x 1 x 14ga", "round-tube|1-1/2 x 11ga")
	if rails[:5] == "round" {
		uprights = "round-tube|1-1/2 x 11ga" // its centre then stands over the rails'
	}
	s := ""
	for _, x := range [][2]string{{"rail", rails}, {"up", uprights}, {"bar", one("rect-tube|2 x 1 x 14ga", "square-tube|1 x 14ga", "flat|1-1/4 x 1/4")}, {"strut", one("square-tube|1 x 14ga", "rect-tube|1-1/2 x 1 x 14ga", "round-tube|1 x 14ga")}} {
		shape, size, _ := cutAt(x[1])
		s += fmt.Sprintf("[section.%s]\nshape = %q\nsize = %q\n", x[0], shape, size)
	}
	corner := one("mitre", "butt-long", "butt-short")
	length, width := num(40, 90), num(24, 50)
	s += fmt.Sprintf("[[rectangle]]\nname = \"a\"\nsection = \"rail\"\nlength = %d\nwidth = %d\ncorner = %q\nstand = %q\nat = [%d, %d, %d]\n", length, width, corner, one("edge", "flat"), num(-30, 30), num(-30, 30), num(-9, 9))
	s += fmt.Sprintf("[[rectangle]]\nname = \"b\"\nsection = \"rail\"\nlength = %d\nwidth = %d\nabove = \"a\"\nclear = %d\ncorner = %q\n", length, width, num(10, 40), corner)
	s += fmt.Sprintf("[[crossbars]]\non = \"a\"\nsection = \"bar\"\ncount = %d\nset = \"centre\"\nrun = %q\n", num(1, 4), one("width", "length"))
	s += "[[posts]]\nfrom = \"a\"\nto = \"b\"\nsection = \"up\"\n"
	s += "[[legs]]\nunder = \"a\"\nsection = \"up\"\nsurface = \"g\"\n"
	if num(0, 1) == 1 {
		s += "over = \"1/2\"\n"
	}
	s += fmt.Sprintf("[surface.g]\nchord = 300\nrise = %d\ncentre = %d\ntop = -25\nslope = \"1:%d\"\n", num(1, 40), num(-40, 40), num(8, 60))
	for k := range num(0, 2) {
		s += fmt.Sprintf("[[member]]\nname = \"s%d\"\nsection = \"strut\"\nfrom = \"a.%s@%din\"\nto = \"b.%s@%din\"\nroll = %s\n", k, one("x1", "x2"), num(4, 36), one("x1", "x2", "y1", "y2"), num(4, 20), one("0", "0", "45", "-20"))
	}
	return s
}

func cutAt(s string) (shape, size string, ok bool) {
	for i := range s {
		if s[i] == '|' {
			return s[:i], s[i+1:], true
		}
	}
	return s, "", false
}

// TestWholeFrames: property (a) on frames with everything: no solid enters another, the cut face of every bar, post and leg
// lies on its neighbour wherever that has steel, every foot lies in the tangent plane of its surface, and every saddle's
// rim on what it is cut to.
func TestWholeFrames(t *testing.T) {
	built, refused, feet, saddles, faces := 0, 0, 0, 0, 0
	codes := map[string]int{}
	rapid.Check(t, func(r *rapid.T) {
		j := frametest.Read(t, wholeJob(r))
		f, problems := frame.Build(j, frametest.Sections(t, j))
		if text.HasErrors(problems) {
			refused++
			for _, p := range problems {
				if p.Severity == text.Error {
					codes[p.Code+": "+p.Message[:min(60, len(p.Message))]]++
				}
			}
			return
		}
		built++
		noOverlap(r, f, 12, 7)
		for i := range f.Members {
			m := &f.Members[i]
			for e := range m.Ends {
				switch {
				case m.Ends[e].Saddle != nil:
					saddles++
					rim(r, f, i, e)
				case m.Role == frame.Post || m.Role == frame.Leg && e == 0 || m.Role == frame.Bar:
					if len(m.Ends[e].Meets) > 0 || m.Role != frame.Bar {
						faces++
						if touchArea(f, i, e) < 1 {
							r.Fatalf("%s end %d touches nothing", m.Name, e)
						}
					}
					wholeFace(r, f, i, e)
				}
			}
		}
		rnd := rand.New(rand.NewSource(3))
		for _, foot := range f.Feet {
			m := &f.Members[foot.Member]
			feet++
			for range 20 {
				p := m.Place(0, (rnd.Float64()-0.5)*m.Section.DepthMM, (rnd.Float64()-0.5)*m.Section.WidthMM)
				x, ok := m.Ends[1].Planes[0].Line(p, m.Axis)
				if !ok {
					r.Fatalf("%s: no foot", m.Name)
				}
				if d := p.Along(m.Axis, x).Sub(foot.At).Dot(foot.Normal); math.Abs(d) > 1e-6 {
					r.Fatalf("%s: its foot lies %v mm off the tangent plane", m.Name, d)
				}
			}
		}
	})
	t.Logf("%d built, %d refused, %d feet, %d saddles, %d faces; refused: %v", built, refused, feet, saddles, faces, codes)
	if built < 3*refused || feet == 0 || saddles == 0 || faces == 0 {
		t.Errorf("too little was tried: %d built, %d refused, %d feet, %d saddles, %d faces", built, refused, feet, saddles, faces)
	}
}

// rim checks that the rim of a saddled end lies on the skin of the members that it is cut to, wherever it meets them at all.
func rim(t rapidOrTest, f *frame.Frame, i, e int) {
	m := &f.Members[i]
	on := 0
	curve := m.SaddleCurve(e, 72)
	for _, p := range curve {
		nearest := math.Inf(1)
		for _, k := range m.Ends[e].Meets {
			h := &f.Members[k]
			nearest = min(nearest, math.Abs(space.LineDist(p, h.A, h.Axis)-h.Section.RadiusMM))
		}
		if nearest < 1e-6 {
			on++
		}
	}
	if on < len(curve)/3 {
		t.Fatalf("%s end %d: only %d of %d points of its rim lie on what it is cut to", m.Name, e, on, len(curve))
	}
}
