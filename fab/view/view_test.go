package view_test

import (
	"encoding/xml"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/view"
)

const rack = `
title = "Kayak rack, north boathouse"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
[section.post]
shape = "square-tube"
size = "1-1/2 x 1-1/2 x 11ga"
[section.pipe]
shape = "round-tube"
size = "1-1/2 x 11ga"
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
[[rectangle]]
name = "upper"
section = "rail"
length = "96in"
width = "48in"
above = "lower"
clear = "24in"
[[crossbars]]
on = "lower"
section = "rail"
count = 5
stand = "flat"
[[posts]]
from = "lower"
to = "upper"
section = "post"
inset = "1/4"
[[legs]]
under = "lower"
section = "post"
surface = "slip"
inset = "1/4"
pad = "foot"
[surface.slip]
chord = "60in"
rise = "3in"
centre = "24in"
top = "-9in"
slope = "1:40"
[[plate]]
name = "foot"
size = "4 x 4 x 1/4"
[[member]]
name = "a"
section = "pipe"
from = [0, 10, 50]
to = [96, 10, 50]
ends = ["free", "free"]
[[member]]
name = "b"
section = "pipe"
from = [48, 40, 50]
to = "a@40in"
ends = ["free", "auto"]
`

func build(t testing.TB) *frame.Frame {
	t.Helper()
	j := frametest.Read(t, rack)
	f, problems := frame.Build(j, frametest.Sections(t, j))
	for _, p := range problems {
		t.Error(p)
	}
	return f
}

// TestViews checks where the eye stands in each view.
func TestViews(t *testing.T) {
	p := space.Vec{X: 1, Y: 2, Z: 3}
	for _, c := range []struct {
		v       view.View
		x, y, n float64
	}{{view.Front, 1, 3, -2}, {view.Side, 2, 3, 1}, {view.Top, 1, 2, 3}} {
		if x, y, n := c.v.Project(p); math.Abs(x-c.x)+math.Abs(y-c.y)+math.Abs(n-c.n) > 1e-12 {
			t.Errorf("%s: %v %v %v", c.v.Name, x, y, n)
		}
	}
	// Isometric: all three axes equally long, sqrt(2/3), and the eye over the near, left corner.
	for _, a := range []space.Vec{space.X, space.Y, space.Z} {
		if x, y, _ := view.Isometric(0).Project(a); math.Abs(math.Hypot(x, y)-math.Sqrt(2.0/3)) > 1e-12 {
			t.Errorf("%v is %v long", a, math.Hypot(x, y))
		}
	}
}

func TestDraw(t *testing.T) {
	f := build(t)
	for _, v := range []view.View{view.Front, view.Side, view.Top, view.Isometric(0), view.Isometric(77)} {
		p := view.Draw(f, v)
		seen := map[int]bool{}
		for i, s := range p.Strokes {
			if s.Near < 0 || s.Near > 1 || i > 0 && s.Near < p.Strokes[i-1].Near {
				t.Fatalf("%s: stroke %d is out of order: %v", v.Name, i, s.Near)
			}
			seen[s.Member] = true
		}
		for i := range f.Members {
			if !seen[i] {
				t.Errorf("%s: %s is not drawn", v.Name, f.Members[i].Name)
			}
		}
	}
	// A lone bar seen from a corner shows three faces: nine edges.
	j := frametest.Read(t, "[section.s]\nshape = \"square-bar\"\nsize = \"1\"\n[[member]]\nname = \"m\"\nsection = \"s\"\nfrom = [0,0,0]\nto = [10,0,0]\nends = [\"free\", \"free\"]")
	g, _ := frame.Build(j, frametest.Sections(t, j))
	if n := len(view.Draw(g, view.Isometric(10)).Strokes); n != 9 {
		t.Errorf("%d edges", n)
	}
	if n := len(view.Draw(g, view.Front).Strokes); n != 4 {
		t.Errorf("%d edges from the front", n)
	}
	if n := len(view.Draw(&frame.Frame{}, view.Front).Strokes); n != 0 {
		t.Error("nothing to draw")
	}
}

// wellFormed reads an XML document to its end.
func wellFormed(t *testing.T, doc []byte) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(string(doc)))
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

func TestSVG(t *testing.T) {
	f := build(t)
	doc := view.SVG(f, view.Options{Title: `Rack <"1"> & co`, Tape: measure.Sixteenths, Lit: 3, Label: func(i int) string { return "A" }})
	wellFormed(t, doc)
	for _, want := range []string{`>96&#34;<`, `>24&#34;<`, `>2-1/2&#34;<`, `class="lit"`, "right side", "isometric", "Rack &lt;"} {
		if !strings.Contains(string(doc), want) {
			t.Errorf("no %s", want)
		}
	}
	if p := os.Getenv("SHOW"); p != "" {
		if err := os.WriteFile(p, doc, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
