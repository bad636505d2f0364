package seam

import (
	"slices"
	"strings"
	"testing"

	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
	"pgregory.net/rapid"
)

func TestFacingOf(t *testing.T) {
	// a bar along +y against a rail at its back face: what touches looks to the back
	back := space.Vec{Y: 1}
	for _, c := range []struct {
		name        string
		out, normal space.Vec
		corner      space.Vec
		want        string
	}{
		{"fillet on top of a tee: the torch leans over the rail", space.Vec{Y: 1, Z: 1}, back, space.Vec{}, "top"},
		{"below it", space.Vec{Y: 1, Z: -1}, back, space.Vec{}, "bottom"},
		{"its left", space.Vec{X: -1, Y: 1}, back, space.Vec{}, "left"},
		{"flush on top", space.Vec{Z: 1}, back, space.Vec{}, "top"},
		{"a bar that lies on a rail", space.Vec{X: 1, Z: -1}, space.Vec{Z: 1}, space.Vec{}, "right"},
		{"a lap's front", space.Vec{Y: -1, Z: 1}, space.Vec{Z: 1}, space.Vec{}, "front"},
		{"leans 30 degrees from straight up", space.Vec{X: 0.5, Z: 0.866}, back, space.Vec{}, "top"},
		{"a mitre's outer edge", space.Vec{X: -1, Y: -1}, space.Vec{X: 1, Y: -1}, space.Vec{X: 1, Y: 1}, "left front outside"},
		{"a mitre's inner edge", space.Vec{X: 1, Y: 1}, space.Vec{X: 1, Y: -1}, space.Vec{X: 1, Y: 1}, "right back inside"},
		{"a mitre's top", space.Vec{Z: 1}, space.Vec{X: 1, Y: -1}, space.Vec{X: 1, Y: 1}, "top"},
		{"an edge that looks along the normal", space.Vec{Y: 1}, back, space.Vec{}, "back"},
	} {
		if got := strings.Join(FacingOf(c.out.Unit(), c.normal.Unit(), c.corner), " "); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestFacingProperties: every seam has a word, opposite sides have opposite words, and no seam has both of a pair.
func TestFacingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vec := func(name string) space.Vec {
			v := space.Vec{X: rapid.Float64Range(-1, 1).Draw(t, name+"x"), Y: rapid.Float64Range(-1, 1).Draw(t, name+"y"), Z: rapid.Float64Range(-1, 1).Draw(t, name+"z")}
			if v.Len() < 0.01 {
				v = space.Vec{Z: 1}
			}
			return v.Unit()
		}
		out, normal, corner := vec("out"), vec("normal"), vec("corner")
		there, away := FacingOf(out, normal, corner), FacingOf(out.Mul(-1), normal, corner)
		if len(there) == 0 || len(there) != len(away) {
			t.Fatalf("%v and %v", there, away)
		}
		for _, pair := range [][2]string{{"top", "bottom"}, {"left", "right"}, {"front", "back"}, {"inside", "outside"}} {
			for _, p := range [][2]string{pair, {pair[1], pair[0]}} {
				if slices.Contains(there, p[0]) != slices.Contains(away, p[1]) || slices.Contains(there, p[0]) && slices.Contains(there, p[1]) {
					t.Fatalf("%v and %v", there, away)
				}
			}
		}
	})
}

// at gives the joint between two members.
func at(t *testing.T, l *Layout, a, b string) *Joint {
	t.Helper()
	for k := range l.Joints {
		if j := &l.Joints[k]; slices.Contains(j.Members, a) && slices.Contains(j.Members, b) {
			return j
		}
	}
	t.Fatalf("no joint of %s and %s", a, b)
	return nil
}

func TestSidesByWord(t *testing.T) {
	_, all, _ := layout(t, full)
	for _, c := range []struct{ between, sides, faces string }{
		{`"lower.x1", "lower.bar2"`, `["left", "top"]`, "left top"},
		{`"lower.bar2", "lower.x1"`, `["right"]`, "right"},
		{`"lower.x1", "lower.bar2"`, `"bottom"`, "bottom"},
		{`"lower.x1", "lower.y1"`, `["outside", "top"]`, "outside top"},
		{`"lower.x1", "lower.y1"`, `["inside"]`, "inside"},
	} {
		_, l, ps := layout(t, full+"[[joint]]\nbetween = ["+c.between+"]\nsides = "+c.sides+"\n")
		if len(faults(ps)) > 0 {
			t.Errorf("%s: %v", c.sides, faults(ps))
			continue
		}
		names := strings.Split(strings.Trim(strings.ReplaceAll(c.between, `"`, ""), " "), ", ")
		was, is := at(t, &all, names[0], names[1]), at(t, &l, names[0], names[1])
		if len(is.Seams) == 0 || len(is.LeftOut) == 0 || len(is.Seams)+len(is.LeftOut) != len(was.Seams) {
			t.Errorf("%s %s: %d welded, %d left out, of %d", c.between, c.sides, len(is.Seams), len(is.LeftOut), len(was.Seams))
		}
		wanted := func(x Seam) bool {
			return slices.ContainsFunc(strings.Fields(c.faces), func(w string) bool { return slices.Contains(x.Faces, w) })
		}
		for _, k := range was.Seams { // a seam keeps its number, and is where the words say or left out
			x := all.Seams[k]
			welded := slices.ContainsFunc(is.Seams, func(k int) bool { return l.Seams[k].ID == x.ID && l.Seams[k].From == x.From })
			left := slices.ContainsFunc(is.LeftOut, func(y Seam) bool {
				return y.ID == x.ID && y.From == x.From && strings.Contains(y.Skipped, "welds only")
			})
			if welded != wanted(x) || left == welded {
				t.Errorf("%s %s: seam %s faces %v: welded %v, left out %v", c.between, c.sides, x.ID, x.Faces, welded, left)
			}
		}
		if !strings.Contains(is.NotWelded(), "not welded: ") || !strings.Contains(is.NotWelded(), "[[joint]] on line ") {
			t.Errorf("%q", is.NotWelded())
		}
		// nothing else changes
		for k := range l.Joints {
			if j := &l.Joints[k]; j.ID != is.ID && (len(j.Seams) != len(all.Joints[k].Seams) || len(j.LeftOut) > 0) {
				t.Errorf("joint %s: %d seams, %d left out", j.ID, len(j.Seams), len(j.LeftOut))
			}
		}
	}
}

func TestSidesByNumberSayWhatIsLeftOut(t *testing.T) {
	_, l, _ := layout(t, full+"[[joint]]\nbetween = [\"lower.x1\", \"lower.bar2\"]\nsides = 2\n")
	j := at(t, &l, "lower.x1", "lower.bar2")
	if len(j.Seams) != 2 || len(j.LeftOut) == 0 || !strings.Contains(j.NotWelded(), "welds the easiest 2 only") {
		t.Errorf("%d seams, %q", len(j.Seams), j.NotWelded())
	}
}

func TestSidesThatNoSeamHas(t *testing.T) {
	_, _, ps := layout(t, full+"[[joint]]\nbetween = [\"lower.x1\", \"lower.bar2\"]\nsides = [\"top\",\n  \"back\"]\n")
	got := faults(ps)
	if len(got) != 1 || got[0].Key != "joint.sides" || got[0].File != "test.toml" || got[0].Line != strings.Count(full, "\n")+4 || got[0].Code != text.CodeName ||
		!strings.Contains(got[0].Message, `faces "back"; the sides there are top, bottom, left, right`) || !strings.Contains(got[0].Message, "lower.bar2") {
		t.Errorf("%v", got)
	}
	// inside and outside are a corner's only
	if _, _, ps := layout(t, full+"[[joint]]\nbetween = [\"lower.x1\", \"lower.bar2\"]\nsides = [\"inside\"]\n"); len(faults(ps)) != 1 {
		t.Errorf("%v", faults(ps))
	}
}
