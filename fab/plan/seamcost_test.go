package plan

import (
	"strings"
	"testing"
)

const seamed = `
title = "Struts"
units = "in"
[saw]
kerf = "1/16"
[section.rail]
shape = "rect-tube"
size = "2 x 1 x .083"
tube_seam = "SEAM"
sticks = [ {length = "20ft", price = 30} ]
[[piece]]
section = "rail"
length = LENGTH
ends = [45, 45]
across = "FACE"
qty = 10
`

// TestSeamCost: trapezoids share their mitres where every other one is turned. With the seam kept to one face of the least
// width they may still be turned so across the depth; across the width nothing brings the mitres together, each needs its own wedge of
// an inch, and five of 48.6 in no longer fit a stick (5 x 48.6 - 4 x 1 + 4 kerfs of 1/16 in over the mitre = 239.4 in with turning, 243.4 in without).
func TestSeamCost(t *testing.T) {
	build := func(seam, face, length string) *Plan {
		return buildWith(t, strings.NewReplacer("SEAM", seam, "FACE", face, "LENGTH", length).Replace(seamed), Input{})
	}
	for _, c := range []struct {
		face, length string
		sticks       int
		says         string
	}{
		{"width", "48.6", 1, "costs 1 stick, USD 30.00"},
		{"width", "40", 0, "no stick and no money; 8\" more steel"},
		{"depth", "40", 0, "costs nothing"},
	} {
		p, free := build("inside", c.face, c.length), build("any", c.face, c.length)
		if len(free.Seams) != 0 || len(p.Seams) != 1 {
			t.Fatalf("%s: %d and %d costs told", c.face, len(p.Seams), len(free.Seams))
		}
		x := p.Seams[0]
		if x.Sticks != c.sticks || x.Cost != p.Nests[0].Nest.Cost-free.Nests[0].Nest.Cost || x.Free.Cost != free.Nests[0].Nest.Cost {
			t.Errorf("%s: %d sticks, %v; free %v", c.face, x.Sticks, x.Cost, free.Nests[0].Nest.Cost)
		}
		if notes := strings.Join(p.Notes, "\n"); !strings.Contains(notes, c.says) {
			t.Errorf("%s: %s", c.face, notes)
		}
	}
}
