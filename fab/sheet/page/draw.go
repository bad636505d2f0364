package page

import (
	"math"
	"sort"
)

// Drawing is a picture of strokes, its own upper left corner the origin.
type Drawing struct {
	W, H   float64
	Says   string // what it shows, for those who do not see it
	Shapes []Shape
}

func (b *Drawing) lay(float64) float64 { return b.H + 1.5 }

// Shape is a Line, a Poly, a Disc or a Label.
type Shape interface{ shape() }

// Point is a place of a drawing.
type Point struct{ X, Y float64 }

// Tone is how dark something is; patterns are lines of their own (Hatch).
type Tone int

// The tones, which read apart in black and white.
const (
	None  Tone = iota
	Chalk      // the paper's white, over what lies under it
	Light      // a light grey
	Slate      // nearly black
)

// Line is a straight stroke. Grey is from 0, black, to 1, white.
type Line struct {
	X0, Y0, X1, Y1 float64
	W              float64 // mm
	Dash           bool
	Grey           float64
}

// Poly is a polygon; W is the width of its edge, 0 for none.
type Poly struct {
	Points []Point
	W      float64
	Fill   Tone
}

// Disc is a circle.
type Disc struct {
	X, Y, R float64
	W       float64
	Fill    Tone
}

// Anchor says which point of a text its place is.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Label is a line of text; Y is its baseline. Up is written upwards, from its place on.
type Label struct {
	X, Y   float64
	Text   string
	Size   float64 // points
	Bold   bool
	White  bool
	Up     bool
	Anchor Anchor
}

func (Line) shape()  {}
func (Poly) shape()  {}
func (Disc) shape()  {}
func (Label) shape() {}

// Add adds shapes.
func (b *Drawing) Add(s ...Shape) { b.Shapes = append(b.Shapes, s...) }

// Rect gives a rectangle as a polygon.
func Rect(x, y, w, h, line float64, fill Tone) Poly {
	return Poly{Points: []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, W: line, Fill: fill}
}

// Hatch fills a convex polygon with lines that rise at 45 degrees, a pattern that reads without any tone.
func Hatch(poly []Point, gap, width float64) []Shape {
	// In u = x + y, v = x - y the lines are those of equal u.
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range poly {
		lo, hi = min(lo, p.X+p.Y), max(hi, p.X+p.Y)
	}
	var out []Shape
	step := gap * math.Sqrt2
	for k := math.Ceil(lo/step) * step; k < hi; k += step {
		var at []Point
		for i, a := range poly {
			b := poly[(i+1)%len(poly)]
			fa, fb := a.X+a.Y-k, b.X+b.Y-k
			if (fa < 0) != (fb < 0) {
				t := fa / (fa - fb)
				at = append(at, Point{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t})
			}
		}
		if len(at) < 2 {
			continue
		}
		sort.Slice(at, func(i, j int) bool { return at[i].X < at[j].X })
		out = append(out, Line{X0: at[0].X, Y0: at[0].Y, X1: at[len(at)-1].X, Y1: at[len(at)-1].Y, W: width})
	}
	return out
}
