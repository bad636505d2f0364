package frame_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// inside tells whether a point lies in a member's steel (a tube taken full), worked out apart from the solids of the
// package: by the outline and the cut planes alone.
func inside(m *frame.Member, p space.Vec, margin float64) bool {
	_, y, z := m.Local(p)
	if m.Section.Round {
		if math.Hypot(y, z) > m.Section.RadiusMM-margin {
			return false
		}
	} else {
		in := false
		for _, part := range m.Section.Parts {
			lo, hi := part[0], part[2]
			in = in || y > lo.Y+margin && y < hi.Y-margin && z > lo.Z+margin && z < hi.Z-margin
		}
		if !in {
			return false
		}
	}
	for e := range m.Ends {
		for _, q := range m.Ends[e].Planes {
			if q.Dist(p) > -margin {
				return false
			}
		}
		for _, n := range m.Ends[e].Notch {
			gone := true
			for _, q := range n {
				gone = gone && q.Dist(p) < margin
			}
			if gone {
				return false
			}
		}
		if s := m.Ends[e].Saddle; s != nil {
			// It reaches no farther than to the axis of what it is cut to.
			if beyond(s, m, p) {
				return false
			}
			here, there := true, false // which of the rails of a corner is there
			if s.Also != nil {
				side := s.Split.Dist(p)
				here, there = s.Through || side < margin, side > -margin
			}
			if here && space.LineDist(p, s.At, s.Dir) < s.RadiusMM+margin || there && space.LineDist(p, s.Also.At, s.Also.Dir) < s.Also.RadiusMM+margin {
				return false
			}
		}
	}
	return true
}

// beyond tells whether a point lies farther along the member than the plane through the saddle's axis that stands as square
// to the member as it can.
func beyond(s *frame.Saddle, m *frame.Member, p space.Vec) bool {
	n := m.Axis.Sub(s.Dir.Mul(m.Axis.Dot(s.Dir)))
	return p.Sub(s.At).Dot(n) != 0 && (p.Sub(s.At).Dot(n) > 0) == (s.At.Sub(m.A.Lerp(m.B, 0.5)).Dot(n) > 0)
}

// sample gives a point in a member's steel.
func sample(r *rand.Rand, m *frame.Member) (space.Vec, bool) {
	from, to := m.Tips()
	for range 2000 {
		x := from + r.Float64()*(to-from)
		if r.Intn(2) == 0 { // half of them near an end
			x = from + r.Float64()*100
			if r.Intn(2) == 0 {
				x = to - r.Float64()*100
			}
		}
		p := m.Place(x, (r.Float64()-0.5)*m.Section.DepthMM, (r.Float64()-0.5)*m.Section.WidthMM)
		if inside(m, p, 0) {
			return p, true
		}
	}
	return space.Vec{}, false
}

// noOverlap checks by sampled points that no member enters another.
func noOverlap(t rapidOrTest, f *frame.Frame, points int, seed int64) {
	r := rand.New(rand.NewSource(seed))
	for i := range f.Members {
		for range points {
			p, ok := sample(r, &f.Members[i])
			if !ok {
				t.Fatalf("no steel in %s", f.Members[i].Name)
			}
			for k := range f.Members {
				if k != i && inside(&f.Members[k], p, 0.1) && inside(&f.Members[i], p, 0.1) {
					t.Fatalf("%s enters %s at %v", f.Members[i].Name, f.Members[k].Name, p)
				}
			}
		}
	}
}

type rapidOrTest interface{ Fatalf(string, ...any) }

var tubes = []string{
	"shape = \"rect-tube\"\nsize = \"2-1/2 x 1-1/2 x 11ga\"", "shape = \"square-tube\"\nsize = \"1-1/2 x 1-1/2 x 14ga\"",
	"shape = \"rect-tube\"\nsize = \"3 x 1 x 11ga\"", "shape = \"flat\"\nsize = \"2 x 1/4\"", "shape = \"angle\"\nsize = \"2 x 2 x 1/4\"",
	"shape = \"angle\"\nsize = \"3 x 2 x 1/4\"", "shape = \"square-tube\"\nsize = \"2 x 2 x 11ga\"",
}

// randomJob draws a job of one or two rectangles with bars, posts, legs and braces.
func randomJob(t *rapid.T, onlyTube bool) string {
	n := len(tubes)
	if onlyTube {
		n = 4
	}
	pick := func(name string) string { return tubes[rapid.IntRange(0, n-1).Draw(t, name)] }
	frac := func(name string, lo, hi int) string {
		return fmt.Sprintf("\"%d/64in\"", rapid.IntRange(lo*64, hi*64).Draw(t, name))
	}
	one := func(name string, words ...string) string { return rapid.SampledFrom(words).Draw(t, name) }
	rails := pick("rails")
	corner := []string{"mitre", "butt-long", "butt-short"}
	if rails[9:14] == "angle" {
		corner = append(corner, "cope")
	}
	plane := one("plane", "xy", "xy", "xz", "yz")
	s := fmt.Sprintf("[section.rail]\n%s\n[section.post]\n%s\n[section.bar]\n%s\n", rails, pick("post"), pick("bar"))
	s += fmt.Sprintf("[[rectangle]]\nname = \"a\"\nsection = \"rail\"\nlength = %s\nwidth = %s\nplane = %q\ncorner = %q\nstand = %q\nheel = %q\nat = [%s, %s, %s]\n",
		frac("length", 30, 90), frac("width", 20, 60), plane, one("corner", corner...), one("stand", "edge", "flat"), one("heel", "out-bottom", "out-top", "in-bottom", "in-top"),
		frac("x", -40, 40), frac("y", -40, 40), frac("z", -40, 40))
	s += fmt.Sprintf("[[crossbars]]\non = \"a\"\nsection = \"bar\"\ncount = %d\nrun = %q\nstand = %q\nset = %q\n", rapid.IntRange(1, 4).Draw(t, "count"),
		one("run", "width", "length"), one("barstand", "edge", "flat"), one("set", "bottom", "centre", "top"))
	if plane == "xy" && rapid.Bool().Draw(t, "upper") {
		s += fmt.Sprintf("[[rectangle]]\nname = \"b\"\nsection = \"rail\"\nlength = \"95in\"\nwidth = \"65in\"\nabove = \"a\"\nclear = %s\ncorner = %q\n", frac("clear", 5, 40), one("corner2", corner...))
		s += fmt.Sprintf("[[posts]]\nfrom = \"a\"\nto = \"b\"\nsection = \"post\"\ninset = %s\n", frac("inset", 0, 2))
	}
	return s
}

// TestNoMemberEntersAnother builds random frames; those that the program takes for sound must be so by sampled points,
// and every bar's cut face must lie wholly on what it meets.
func TestNoMemberEntersAnother(t *testing.T) {
	var built, refused int
	rapid.Check(t, func(r *rapid.T) {
		j := frametest.Read(t, randomJob(r, false))
		f, problems := frame.Build(j, frametest.Sections(t, j))
		if text.HasErrors(problems) {
			refused++
			return
		}
		built++
		noOverlap(r, f, 20, 1)
		clash := map[string]bool{}
		for _, p := range problems {
			clash[p.Code] = true
		}
		if clash[frame.CodeNothing] {
			return
		}
		for i := range f.Members {
			m := &f.Members[i]
			if m.Role != frame.Bar || m.Section.Open() {
				continue
			}
			for e := range m.Ends {
				area := touchArea(f, i, e)
				rail := f.Members[m.Ends[e].Meets[0]]
				if want := m.Section.DepthMM * m.Section.WidthMM; area < want*0.999 && !rail.Section.Open() && fits(f, m, &rail) {
					r.Fatalf("%s end %d: %v of %v mm2 in contact with %s", m.Name, e, area, want, rail.Name)
				}
			}
		}
	})
	if built < refused/3 {
		t.Errorf("only %d frames of %d were sound", built, built+refused)
	}
	t.Logf("%d built, %d refused", built, refused)
}

// fits tells whether a bar's cut face lies within the height of the rail.
func fits(f *frame.Frame, bar, rail *frame.Member) bool {
	n := f.Rects[0].N
	half := func(m *frame.Member) float64 {
		return math.Abs(m.Depth.Dot(n))*m.Section.DepthMM/2 + math.Abs(m.Width.Dot(n))*m.Section.WidthMM/2
	}
	return math.Abs(bar.A.Sub(rail.A).Dot(n))+half(bar) <= half(rail)+1e-6
}

// TestSamplesSeeOverlap checks the judge: a bar pushed into a rail must be seen.
func TestSamplesSeeOverlap(t *testing.T) {
	f := sound(t, rack)
	m := &f.Members[f.Index("lower.bar3")]
	m.Ends[1].Planes[0] = m.Ends[1].Planes[0].Moved(5)
	var r recorder
	func() {
		defer func() { _ = recover() }()
		noOverlap(&r, f, 200, 1)
	}()
	if !r.failed {
		t.Error("a bar 5 mm in a rail was not seen")
	}
}

type recorder struct{ failed bool }

func (r *recorder) Fatalf(string, ...any) { r.failed = true; panic("seen") }

// TestStruts lays random struts between random places of a rack; those that the program takes for sound must enter nothing,
// and the cut face of each must lie on what it meets as far as the faces reach.
func TestStruts(t *testing.T) {
	built, refused, ends := 0, 0, 0
	check := func(r *rapid.T) {
		hosts := []string{"lower.x1", "lower.x2", "lower.y1", "lower.y2", "upper.x1", "upper.x2", "upper.y1", "upper.y2", "lower.post1", "lower.post2", "lower.post3", "lower.post4", "lower.bar2", "lower.bar4"}
		reach := map[byte]int{'x': 95, 'y': 47, 'p': 23, 'b': 44}
		place := func(name string) string {
			h := rapid.SampledFrom(hosts).Draw(r, name)
			return fmt.Sprintf("%s@%d/16in", h, rapid.IntRange(1, 16*reach[h[6]]).Draw(r, name+" at"))
		}
		toml := rack
		n := rapid.IntRange(1, 2).Draw(r, "struts")
		for k := range n {
			from, to := place("from"), place("to")
			if from == to {
				return
			}
			toml += fmt.Sprintf("[[member]]\nname = \"s%d\"\nsection = \"%s\"\nfrom = %q\nto = %q\nroll = %d\n", k, rapid.SampledFrom([]string{"rail", "post"}).Draw(r, "section"), from, to,
				rapid.SampledFrom([]int{0, 0, 90, 30}).Draw(r, "roll"))
		}
		j := frametest.Read(t, toml)
		f, problems := frame.Build(j, frametest.Sections(t, j))
		if text.HasErrors(problems) {
			refused++
			return
		}
		for i := range f.Members {
			if f.Members[i].Role == frame.Single && f.LengthMM(i) < 200 {
				return // a stub no longer than its hosts are thick lies within them
			}
		}
		built++
		noOverlap(r, f, 30, 5)
		for i := range f.Members {
			m := &f.Members[i]
			if m.Role != frame.Single {
				continue
			}
			for e := range m.Ends {
				if k := m.Ends[e].Kind; k != frame.Butt && k != frame.Point {
					continue
				}
				if len(m.Ends[e].Meets) == 0 {
					continue // told as touching nothing
				}
				ends++
				if area := touchArea(f, i, e); area < 1 {
					if told(problems, m.Name) {
						continue // near the end of its host it runs past it, and the worker is told
					}
					r.Fatalf("%s, end %d, cut to %d members, touches none", m.Name, e, len(m.Ends[e].Meets))
				}
				wholeFace(r, f, i, e)
			}
		}
	}
	// Most random struts are refused: on until enough were built, or it is plain that they are not.
	for round := 0; round < 6 && ends < 60; round++ {
		rapid.Check(t, check)
	}
	t.Logf("%d built, %d refused, %d ends", built, refused, ends)
	if ends < 20 {
		t.Errorf("only %d ends were tried", ends)
	}
}

// told tells whether a problem says that an end of the member touches nothing.
func told(problems []text.Problem, member string) bool {
	for _, p := range problems {
		if p.Code == frame.CodeNothing && strings.Contains(p.Message, member) {
			return true
		}
	}
	return false
}

// touchArea gives the area in which an end's cut face touches others.
func touchArea(f *frame.Frame, i, e int) (area float64) {
	for _, x := range f.Joints {
		for _, c := range x.Contacts {
			for s := range c.Members {
				if c.Members[s] == i && c.Ends[s] == e {
					area += c.AreaMM2
				}
			}
		}
	}
	return area
}

// wholeFace checks that the contacts of an end cover all of its cut face that lies on a neighbour: points just outside the
// face that are in a neighbour's steel must lie in the outline of a contact.
func wholeFace(t rapidOrTest, f *frame.Frame, i, e int) {
	m := &f.Members[i]
	rnd := rand.New(rand.NewSource(11))
	for _, plane := range m.Ends[e].Planes {
		for range 60 {
			y, z := (rnd.Float64()-0.5)*m.Section.DepthMM, (rnd.Float64()-0.5)*m.Section.WidthMM
			base := m.Place(0, y, z)
			x, ok := plane.Line(base, m.Axis)
			if !ok {
				continue
			}
			p := base.Along(m.Axis, x)
			if !inside(m, p.Along(plane.Normal, -0.2), 0.1) {
				continue // cut off by the other plane of a point
			}
			ridge := false // so near to the other plane that the tenths of a millimetre allowed here reach past it
			for _, other := range m.Ends[e].Planes {
				ridge = ridge || other != plane && other.Dist(p) > -0.3
			}
			if ridge {
				continue
			}
			q := p.Along(plane.Normal, 0.2)
			for _, k := range m.Ends[e].Meets {
				if !inside(&f.Members[k], q, 0.1) || inside(&f.Members[k], p.Along(plane.Normal, -0.2), 0) {
					continue
				}
				covered := false
				for _, x := range f.Joints {
					for _, c := range x.Contacts {
						if (c.Members == [2]int{i, k} || c.Members == [2]int{k, i}) && math.Abs(c.Plane.Dist(p)) < 0.05 {
							in := true
							for n, a := range c.Outline {
								b := c.Outline[(n+1)%len(c.Outline)]
								in = in && b.Sub(a).Cross(c.Plane.Normal).Dot(p.Sub(a)) < 1e-3
							}
							covered = covered || in
						}
					}
				}
				if !covered {
					t.Fatalf("%s, end %d: %v lies on %s, yet in no contact", m.Name, e, p, f.Members[k].Name)
				}
			}
		}
	}
}
