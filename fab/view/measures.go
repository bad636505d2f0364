package view

import (
	"math"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/space"
)

// Place says where a measure is written.
type Place int

// The places of measures.
const (
	Under   Place = iota // a line under the view
	Left                 // a line on its left
	Right                // a line on its right
	Running              // at its end, under the low side: where a bar stands, all from one face as the tape lies
)

// Measure is a distance that belongs on a view, between two points of the picture.
type Measure struct {
	X0, Y0, X1, Y1 float64
	Place          Place
}

// LengthMM gives the distance.
func (m Measure) LengthMM() float64 { return math.Hypot(m.X1-m.X0, m.Y1-m.Y0) }

// Measures gives the measures of a view from the front, the side or the top: over all; from the top where the bars of each
// rectangle stand; from front and side the heights of the rectangles that lie flat and what is clear between them. None for
// other views.
func Measures(f *frame.Frame, v View) []Measure {
	if v.RiseDeg != 0 && v.RiseDeg != 90 || len(f.Members) == 0 {
		return nil
	}
	box := space.EmptyBox()
	for i := range f.Members {
		for _, s := range f.Members[i].Solids() {
			box = box.Join(s.Box())
		}
	}
	x0, y0, _ := v.Project(box.Lo)
	x1, y1, _ := v.Project(box.Hi)
	left, right, low, high := min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)
	out := []Measure{{left, low, right, low, Under}, {left, low, left, high, Left}}
	if v.RiseDeg == 90 {
		for i := range f.Rects {
			q := &f.Rects[i]
			for k := range f.Members {
				m := &f.Members[k]
				if m.Role == frame.Bar && m.Group == q.Name && q.N == space.Z && math.Abs(m.Axis.Dot(q.V)) >= 0.9 {
					out = append(out, Measure{q.Corner.X, q.Corner.Y, q.Corner.X + m.A.Sub(q.Corner).Dot(q.U), q.Corner.Y, Running})
				}
			}
		}
		return out
	}
	seen := map[float64]bool{}
	for i := range f.Rects {
		q := &f.Rects[i]
		if q.N != space.Z || seen[q.Corner.Z] {
			continue
		}
		seen[q.Corner.Z] = true
		out = append(out, Measure{right, q.Corner.Z, right, q.Corner.Z + q.ThickMM, Right})
		for k := range f.Rects {
			over := &f.Rects[k]
			if k != i && over.N == space.Z && over.Corner.Z-q.Corner.Z-q.ThickMM > 1 {
				out = append(out, Measure{right, q.Corner.Z + q.ThickMM, right, over.Corner.Z, Right})
			}
		}
	}
	return out
}
