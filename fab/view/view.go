package view

import (
	"math"
	"sort"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/space"
)

// View is a direction from which a frame is looked at, without perspective.
type View struct {
	Name    string
	TurnDeg float64 // the eye goes round the frame, anticlockwise seen from above; 0 looks along +y, x to the right
	RiseDeg float64 // the eye over the horizon; 90 looks straight down
}

// The usual views. From an isometric view, turned from 45 degrees on and up by atan(1/sqrt 2), all three axes look equally
// long.
var (
	Front = View{"front", 0, 0}
	Side  = View{"right side", 90, 0}
	Top   = View{"top", 0, 90}
)

// Isometric gives the view from a corner, turned by so many degrees from the usual one.
func Isometric(turnDeg float64) View {
	return View{"isometric", -45 + turnDeg, math.Atan(1/math.Sqrt2) * 180 / math.Pi}
}

// axes gives the directions that lie to the right and up in the picture, and towards the eye.
func (v View) axes() (right, up, eye space.Vec) {
	st, ct := space.SinCosDeg(v.TurnDeg)
	se, ce := space.SinCosDeg(v.RiseDeg)
	right = space.Vec{X: ct, Y: st}
	eye = space.Vec{X: st * ce, Y: -ct * ce, Z: se}
	return right, eye.Cross(right), eye
}

// Project gives a point's place in the picture, in mm to the right and up, and its height towards the eye.
func (v View) Project(p space.Vec) (x, y, near float64) {
	r, u, e := v.axes()
	return p.Dot(r), p.Dot(u), p.Dot(e)
}

// Kind says what a stroke is.
type Kind int

// Kinds of strokes.
const (
	Edge   Kind = iota // of a member's side
	Cut                // of an end
	Plate              // of a plate
	Ground             // of a surface
)

// Stroke is a straight line of the picture.
type Stroke struct {
	X0, Y0, X1, Y1 float64
	Near           float64 // 0 the farthest of the picture, 1 the nearest
	Member         int     // index in the frame; -1 for plates and ground
	Kind           Kind
}

// Picture is a drawn view.
type Picture struct {
	View                   View
	Strokes                []Stroke // far ones first
	MinX, MinY, MaxX, MaxY float64
}

// Draw draws a frame.
func Draw(f *frame.Frame, v View) Picture {
	d := &drawer{v: v, p: Picture{View: v, MinX: math.Inf(1), MinY: math.Inf(1), MaxX: math.Inf(-1), MaxY: math.Inf(-1)}}
	_, _, d.eye = v.axes()
	for i := range f.Members {
		d.member(i, &f.Members[i])
	}
	for i := range f.Plates {
		if f.Plates[i].On >= 0 {
			d.plate(&f.Plates[i])
		}
	}
	d.ground(f)
	return d.done()
}

type drawer struct {
	v   View
	eye space.Vec
	p   Picture
}

func (d *drawer) line(a, b space.Vec, member int, kind Kind) {
	x0, y0, n0 := d.v.Project(a)
	x1, y1, n1 := d.v.Project(b)
	if math.Hypot(x1-x0, y1-y0) < 1e-6 {
		return
	}
	d.p.Strokes = append(d.p.Strokes, Stroke{x0, y0, x1, y1, (n0 + n1) / 2, member, kind})
	d.p.MinX, d.p.MaxX = min(d.p.MinX, x0, x1), max(d.p.MaxX, x0, x1)
	d.p.MinY, d.p.MaxY = min(d.p.MinY, y0, y1), max(d.p.MaxY, y0, y1)
}

// done sorts the strokes and scales their nearness.
func (d *drawer) done() Picture {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, s := range d.p.Strokes {
		lo, hi = min(lo, s.Near), max(hi, s.Near)
	}
	for i := range d.p.Strokes {
		s := &d.p.Strokes[i]
		if hi-lo > 1e-9 {
			s.Near = (s.Near - lo) / (hi - lo)
		} else {
			s.Near = 1
		}
	}
	sort.SliceStable(d.p.Strokes, func(i, j int) bool { return d.p.Strokes[i].Near < d.p.Strokes[j].Near })
	if len(d.p.Strokes) == 0 {
		d.p.MinX, d.p.MinY, d.p.MaxX, d.p.MaxY = 0, 0, 0, 0
	}
	return d.p
}

// edge is an edge of a solid with the normals of its faces.
type edge struct {
	a, b    space.Vec
	normals []space.Vec
	cut     bool
}

// edgesOf gathers the edges of a solid's facets, each once.
func edgesOf(s *space.Solid) []edge {
	type key [6]int64
	round := func(v float64) int64 { return int64(math.Round(v * 1e3)) }
	index := map[key]int{}
	var out []edge
	for i := range s.Facets {
		f := &s.Facets[i]
		for k, a := range f.Poly {
			b := f.Poly[(k+1)%len(f.Poly)]
			ka := key{round(a.X), round(a.Y), round(a.Z), round(b.X), round(b.Y), round(b.Z)}
			kb := key{ka[3], ka[4], ka[5], ka[0], ka[1], ka[2]}
			n, ok := index[kb]
			if !ok {
				n = len(out)
				index[ka] = n
				out = append(out, edge{a: a, b: b})
			}
			out[n].normals = append(out[n].normals, f.Plane.Normal)
			out[n].cut = out[n].cut || f.Tag < 0
		}
	}
	return out
}

func (d *drawer) member(i int, m *frame.Member) {
	for e := range m.Ends {
		if m.Ends[e].Saddle != nil {
			curve := m.SaddleCurve(e, 48)
			for k, a := range curve {
				d.line(a, curve[(k+1)%len(curve)], i, Cut)
			}
		}
	}
	solids := m.Solids()
	for k := range solids {
		for _, e := range edgesOf(&solids[k]) {
			facing := 0
			smooth := len(e.normals) == 2 && e.normals[0].Dot(e.normals[1]) > 0.9 && m.Section.Round
			for _, n := range e.normals {
				if n.Dot(d.eye) > 1e-9 {
					facing++
				}
			}
			switch {
			case facing == 0: // on the far side of its own member
				continue
			case smooth && facing == len(e.normals): // within a round skin; only its outline is a line
				continue
			}
			kind := Edge
			if e.cut {
				kind = Cut
			}
			d.line(e.a, e.b, i, kind)
		}
	}
}

func (d *drawer) plate(p *frame.Plate) {
	across := p.Normal.Cross(p.Along)
	var c [8]space.Vec
	for k := range c {
		u, v, w := -p.SizeMM[0]/2, -p.SizeMM[1]/2, -p.SizeMM[2]
		if k&1 != 0 {
			u = -u
		}
		if k&2 != 0 {
			v = -v
		}
		if k&4 != 0 {
			w = 0
		}
		c[k] = p.At.Along(p.Along, u).Along(across, v).Along(p.Normal, w)
	}
	for a := range c {
		for _, bit := range []int{1, 2, 4} {
			if b := a | bit; b != a {
				d.line(c[a], c[b], -1, Plate)
			}
		}
	}
}

// ground draws each surface under its feet: lines across through every row of feet, and along through the crown and the
// outer feet.
func (d *drawer) ground(f *frame.Frame) {
	for s := range f.Surfaces {
		surface := &f.Surfaces[s]
		xs, box := map[float64]bool{}, space.EmptyBox()
		for i := range f.Feet {
			if f.Feet[i].Surface == surface.Name {
				xs[math.Round(f.Feet[i].At.X)] = true
				box = box.Take(f.Feet[i].At)
			}
		}
		if len(xs) == 0 {
			continue
		}
		box = box.Grown(150)
		rows := make([]float64, 0, len(xs))
		for x := range xs {
			rows = append(rows, x)
		}
		sort.Float64s(rows)
		const steps = 24
		at := func(x, y float64) space.Vec { return space.Vec{X: x, Y: y, Z: surface.Height(x, y)} }
		for _, x := range rows {
			for k := range steps {
				y0 := box.Lo.Y + (box.Hi.Y-box.Lo.Y)*float64(k)/steps
				d.line(at(x, y0), at(x, y0+(box.Hi.Y-box.Lo.Y)/steps), -1, Ground)
			}
		}
		for _, y := range []float64{box.Lo.Y, (box.Lo.Y + box.Hi.Y) / 2, box.Hi.Y} {
			d.line(at(box.Lo.X, y), at(box.Hi.X, y), -1, Ground)
		}
	}
}
