package steel

import "math"

// Point is a point of the outline in mm: Y along the depth, Z along the width, from the centre of the bounding rectangle.
type Point struct{ Y, Z float64 }

// Outline is the section's outline by its nominal dimensions as closed polygons (the first point is not repeated).
type Outline struct {
	Outer []Point // counter-clockwise with y to the right and z up
	Inner []Point // the hollow of a tube, clockwise; nil where there is none
}

// Outline draws the section. Round corners become arcs of steps chords a quarter turn (at least 1; 8 keeps within 0.5 % of
// the radius), round shapes polygons of four times as many sides whose corners lie on the circle.
func (s Section) Outline(steps int) Outline {
	steps = max(steps, 1)
	h, b, t := s.Depth.MM(), s.Width.MM(), s.Wall.MM()
	var o Outline
	switch s.Shape {
	case Angle:
		y, z := -h/2, -b/2
		o.Outer = []Point{{y, z}, {y + h, z}, {y + h, z + t}, {y + t, z + t}, {y + t, z + b}, {y, z + b}}
	case Channel:
		y, z, f := -h/2, -b/2, s.Flange.MM()
		o.Outer = []Point{{y, z}, {y + h, z}, {y + h, z + b}, {y + h - f, z + b}, {y + h - f, z + t}, {y + f, z + t}, {y + f, z + b}, {y, z + b}}
	case RoundTube, Pipe, RoundBar:
		o.Outer = circle(h/2, 4*steps)
		if s.Shape != RoundBar {
			o.Inner = reversed(circle(h/2-t, 4*steps))
		}
	default:
		o.Outer = roundedRectangle(h, b, s.OutsideRadius.MM(), steps)
		if s.Shape.Hollow() {
			o.Inner = reversed(roundedRectangle(h-2*t, b-2*t, s.InsideRadius.MM(), steps))
		}
	}
	return o
}

func circle(r float64, n int) []Point {
	p := make([]Point, n)
	for i := range p {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		p[i] = Point{r * cos, r * sin}
	}
	return p
}

func roundedRectangle(h, b, r float64, steps int) []Point {
	if r <= 0 {
		return []Point{{-h / 2, -b / 2}, {h / 2, -b / 2}, {h / 2, b / 2}, {-h / 2, b / 2}}
	}
	var p []Point
	for q, c := range [4]Point{{h/2 - r, b/2 - r}, {-h/2 + r, b/2 - r}, {-h/2 + r, -b/2 + r}, {h/2 - r, -b/2 + r}} {
		for i := 0; i <= steps; i++ {
			sin, cos := math.Sincos(math.Pi / 2 * (float64(q) + float64(i)/float64(steps)))
			p = append(p, Point{c.Y + r*cos, c.Z + r*sin})
		}
	}
	return p
}

func reversed(p []Point) []Point {
	for i, j := 0, len(p)-1; i < j; i, j = i+1, j-1 {
		p[i], p[j] = p[j], p[i]
	}
	return p
}

// Area gives the area that the polygons enclose, in mm2.
func (o Outline) Area() float64 { return signedArea(o.Outer) + signedArea(o.Inner) }

func signedArea(p []Point) float64 {
	var a float64
	for i, q := range p {
		n := p[(i+1)%len(p)]
		a += q.Y*n.Z - n.Y*q.Z
	}
	return a / 2
}
