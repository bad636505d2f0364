package spot

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/text"
)

const rack = `
units = "in"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
[section.post]
shape = "square-tube"
size = "1-1/2 x .120"
[[rectangle]]
name = "lower"
section = "rail"
length = 96
width = 48
[[rectangle]]
name = "upper"
section = "rail"
length = 96
width = 48
above = "lower"
clear = 24
[[crossbars]]
on = "lower"
section = "rail"
count = 3
[[posts]]
from = "lower"
to = "upper"
section = "post"
[[legs]]
under = "lower"
section = "post"
length = 12
[[member]]
name = "tie"
section = "post"
from = "lower.x1@30in"
to = "upper.x1@66in"
`

func namesOf(t testing.TB, toml string) (*frame.Frame, *Names, []piece.Piece) {
	t.Helper()
	j := frametest.Read(t, toml)
	f, ps := frame.Build(j, frametest.Sections(t, j))
	pieces, qs := piece.Gather(f, j)
	for _, p := range append(ps, qs...) {
		if p.Severity == text.Error {
			t.Fatal(p.Long())
		}
	}
	return f, NewNames(f, pieces, j.Units), pieces
}

func find(n *Names, name string) ([]Spot, *text.Problem) {
	return n.Find(job.Name{Where: job.Where{File: "job.toml", Line: 7, Key: "load[1].on"}, Text: name})
}

func TestNamesMeanPlaces(t *testing.T) {
	f, n, _ := namesOf(t, rack)
	words := func(s []Spot) string {
		var out []string
		for _, x := range s {
			w := f.Members[x.Member].Name
			if x.Given {
				w += fmt.Sprintf("@%.4g", x.AtMM/25.4)
			}
			out = append(out, w)
		}
		return strings.Join(out, " ")
	}
	for _, c := range []struct{ name, want string }{
		{"lower.x1", "lower.x1"},
		{" tie ", "tie"},
		{"lower.x1@24in", "lower.x1@24"},
		{"lower.x1 @ 2'", "lower.x1@24"},
		{"lower.x1@0", "lower.x1@0"},
		{"lower.x1@96", "lower.x1@96"},
		{"lower", "lower.x1 lower.x2 lower.y1 lower.y2"},
		{"lower sides", "lower.x1 lower.x2 lower.y1 lower.y2"},
		{"lower bars", "lower.bar1 lower.bar2 lower.bar3"},
		{"bars", "lower.bar1 lower.bar2 lower.bar3"},
		{"legs", "lower.leg1 lower.leg2 lower.leg3 lower.leg4"},
		{"lower legs", "lower.leg1 lower.leg2 lower.leg3 lower.leg4"},
		{"upper corners", "upper.x1@0 upper.x1@96 upper.x2@0 upper.x2@96"},
		{"corners", "lower.x1@0 lower.x1@96 lower.x2@0 lower.x2@96 upper.x1@0 upper.x1@96 upper.x2@0 upper.x2@96"},
		{"members", "tie"},
	} {
		got, p := find(n, c.name)
		if p != nil || words(got) != c.want {
			t.Errorf("%q: %s, want %s (%v)", c.name, words(got), c.want, p)
		}
	}
}

func TestWrongNamesAreTold(t *testing.T) {
	_, n, _ := namesOf(t, rack)
	for _, c := range []struct{ name, want string }{
		{"lower.x9", "did you mean"},
		{"lowr bars", "there is no member, rectangle or mark"},
		{"upper bars", "the frame has no upper bars"},
		{"lower.x1@", "behind the @"},
		{"lower.x1@nine", "behind the @"},
		{"lower.x1@97", "is not on it"},
		{"lower.x1@-1in", "is not on it"},
		{"mezzanine@3", "no member"},
		{"", "no member"},
		{"lower  ", ""},
	} {
		got, p := find(n, c.name)
		switch {
		case c.want == "" && p != nil:
			t.Errorf("%q: %v", c.name, p)
		case c.want == "":
		case p == nil || len(got) > 0:
			t.Errorf("%q means %v", c.name, got)
		case !strings.Contains(p.Message, c.want) || p.Line != 7 || p.Key != "load[1].on" || p.Severity != text.Error || p.Code != text.CodeName:
			t.Errorf("%q: %+v, want %q", c.name, *p, c.want)
		}
	}
}

// TestEveryNameIsFound: each member by its name, each mark as all its members, each rectangle as its four sides; and each
// group is the union of the rectangles' groups.
func TestEveryNameIsFound(t *testing.T) {
	f, n, pieces := namesOf(t, rack)
	for i := range f.Members {
		if s, p := find(n, f.Members[i].Name); p != nil || len(s) != 1 || s[0].Member != i || s[0].Given {
			t.Errorf("%s: %v, %v", f.Members[i].Name, s, p)
		}
	}
	for _, x := range pieces {
		s, p := find(n, x.Mark)
		if p != nil || len(s) != x.Qty {
			t.Errorf("mark %s: %d of %d, %v", x.Mark, len(s), x.Qty, p)
		}
	}
	for word := range groups {
		whole, p := find(n, word)
		if p != nil {
			continue // the frame has none of these
		}
		of := map[int]bool{}
		for _, s := range whole {
			of[s.Member] = true
		}
		sum := 0
		for _, r := range f.Rects {
			part, p := find(n, r.Name+" "+word)
			if p != nil {
				continue
			}
			for _, s := range part {
				if sum++; !of[s.Member] {
					t.Errorf("%s %s: %s is not among the %s", r.Name, word, f.Members[s.Member].Name, word)
				}
			}
		}
		if word != "members" && sum != len(whole) {
			t.Errorf("%d %s, %d by rectangle", len(whole), word, sum)
		}
	}
	if !n.IsRect(" lower ") || n.IsRect("lower.x1") || n.IsRect("tie") {
		t.Error("lower is a rectangle, the others are none")
	}
}

// TestPlacesLieOnTheMember: any place on any member is found again to the nanometre, lies on the member's axis at that
// distance from its first tip, and the first tip of a leg that stands is its lower end.
func TestPlacesLieOnTheMember(t *testing.T) {
	f, n, _ := namesOf(t, rack)
	rapid.Check(t, func(rt *rapid.T) {
		i := rapid.IntRange(0, len(f.Members)-1).Draw(rt, "member")
		share := rapid.Float64Range(0, 1).Draw(rt, "share")
		m := &f.Members[i]
		at := measure.FromMM(f.LengthMM(i) * share)
		s, p := find(n, fmt.Sprintf("%s@%.6fmm", m.Name, at.MM()))
		if p != nil || len(s) != 1 || s[0].Member != i || !s[0].Given {
			rt.Fatalf("%v, %v", s, p)
		}
		// the text has six decimals of a millimetre: a nanometre, half of it in rounding
		if math.Abs(s[0].AtMM-at.MM()) > 1.5e-6 {
			rt.Fatalf("%.9f mm, written %.9f", s[0].AtMM, at.MM())
		}
		q := n.Point(s[0])
		tip := n.Point(Spot{Member: i})
		if d := q.Sub(tip); math.Abs(d.Dot(m.Axis)-s[0].AtMM) > 1e-6 || d.Cross(m.Axis).Len() > 1e-6 {
			rt.Fatalf("%s@%.3f lies at %v, its tip at %v", m.Name, s[0].AtMM, q, tip)
		}
		low, level := n.LowEnd(i)
		a, z := tip, n.Point(Spot{Member: i, AtMM: f.LengthMM(i)})
		switch {
		case level:
			if math.Abs(m.Axis.Z) >= 0.26 || low != 0 {
				rt.Fatalf("%s is not level", m.Name)
			}
		default:
			want := a
			if z.Z < a.Z {
				want = z
			}
			if n.Point(Spot{Member: i, AtMM: low}).Dist(want) > 1e-6 {
				rt.Fatalf("the low end of %s is at %g", m.Name, low)
			}
		}
	})
}

// FuzzFind: no text a job may hold makes it fail otherwise than by a problem, and what it finds is in the frame.
func FuzzFind(f *testing.F) {
	for _, s := range []string{"lower.x1@24in", "lower corners", "legs", "A-L", "@", "lower.x1@@2", " x1 @ -0", "lower.x1@1e309in"} {
		f.Add(s)
	}
	fr, n, _ := namesOf(f, rack)
	f.Fuzz(func(t *testing.T, s string) {
		got, p := find(n, s)
		if (p == nil) == (len(got) == 0) {
			t.Fatalf("%q: %d spots and %v", s, len(got), p)
		}
		for _, x := range got {
			if x.Member < 0 || x.Member >= len(fr.Members) || math.IsNaN(x.AtMM) || x.AtMM < 0 || x.AtMM > fr.LengthMM(x.Member)+0.5 {
				t.Fatalf("%q: %+v", s, x)
			}
		}
	})
}

func ExampleNames_Find() {
	j := frametest.Read(new(testing.T), rack)
	f, _ := frame.Build(j, frametest.Sections(new(testing.T), j))
	n := NewNames(f, nil, j.Units)
	spots, _ := n.Find(job.Name{Text: "lower.x1@24in"})
	fmt.Printf("%s, %.1f mm from its first tip\n", f.Members[spots[0].Member].Name, spots[0].AtMM)
	// Output: lower.x1, 609.6 mm from its first tip
}
