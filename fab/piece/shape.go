package piece

import (
	"math"
	"slices"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/space"
)

// shape is a piece in its own frame: x from its first tip along it, y over the depth and z over the width from the centre
// line. Two pieces are the same where a motion of their section lays one shape on the other.
type shape struct {
	section *frame.Section
	length  float64
	ends    [2]endShape
	holes   []hole
}

// endShape is how one end is cut.
type endShape struct {
	kind   frame.EndKind
	planes []flat // those that bound the end; the first is that of the saw
	notch  [][]flat
	saddle *drum
}

// flat is a plane nx*x + ny*y + nz*z = d, the material behind.
type flat struct{ nx, ny, nz, d float64 }

// drum is a cylinder that an end fits: a point of its axis, its direction, its radius.
type drum struct {
	x, dx float64
	at    space.Vec2
	dir   space.Vec2
	r     float64
}

// hole is a hole's axis: at x along the piece, through the section's middle, drilled from the side to which out points.
type hole struct {
	x       float64
	out     space.Vec2
	size    float64
	through bool
	vent    bool
	face    string
}

// shapeOf takes a member's shape.
func shapeOf(m *frame.Member) shape {
	from, to := m.Tips()
	s := shape{section: m.Section, length: to - from}
	local := func(p space.Plane) flat {
		f := flat{nx: p.Normal.Dot(m.Axis), ny: p.Normal.Dot(m.Depth), nz: p.Normal.Dot(m.Width)}
		x, y, z := m.Local(p.Point)
		f.d = f.nx*(x-from) + f.ny*y + f.nz*z
		return f
	}
	for e := range m.Ends {
		end := &m.Ends[e]
		s.ends[e].kind = end.Kind
		for _, p := range end.Planes {
			s.ends[e].planes = append(s.ends[e].planes, local(p))
		}
		for _, n := range end.Notch {
			var fs []flat
			for _, p := range n {
				fs = append(fs, local(p))
			}
			s.ends[e].notch = append(s.ends[e].notch, fs)
		}
		if c := end.Saddle; c != nil {
			// The point of its axis nearest to the centre line's start, so that equal headers read alike.
			at := c.At.Along(c.Dir, m.A.Sub(c.At).Dot(c.Dir))
			x, y, z := m.Local(at)
			dir := c.Dir
			d := &drum{x: x - from, dx: dir.Dot(m.Axis), at: space.Vec2{Y: y, Z: z}, dir: space.Vec2{Y: dir.Dot(m.Depth), Z: dir.Dot(m.Width)}, r: c.RadiusMM}
			d.settle()
			s.ends[e].saddle = d
		}
	}
	for _, h := range m.Holes {
		out := space.Vec2{Z: 1}
		if h.Face == "width" {
			out = space.Vec2{Y: 1}
		}
		s.holes = append(s.holes, hole{h.AtMM, out, h.SizeMM, h.Through, h.Vent, h.Face})
	}
	return s
}

// settle moves the drum's point to where its axis passes the piece's centre line most closely, and points its direction
// to the greater z, then y, then x.
func (d *drum) settle() {
	n := d.dir.Y*d.dir.Y + d.dir.Z*d.dir.Z
	if n > 1e-12 {
		t := -(d.at.Y*d.dir.Y + d.at.Z*d.dir.Z) / n
		d.x += t * d.dx
		d.at.Y += t * d.dir.Y
		d.at.Z += t * d.dir.Z
	}
	if d.dir.Z < -1e-9 || math.Abs(d.dir.Z) <= 1e-9 && (d.dir.Y < -1e-9 || math.Abs(d.dir.Y) <= 1e-9 && d.dx < 0) {
		d.dir, d.dx = space.Vec2{Y: -d.dir.Y, Z: -d.dir.Z}, -d.dx
	}
}

func (f flat) moved(m frame.Motion, length float64) flat {
	v := m.Apply(space.Vec2{Y: f.ny, Z: f.nz})
	g := flat{f.nx, v.Y, v.Z, f.d}
	if m.Turned {
		g.nx = -f.nx
		g.d = f.d - f.nx*length
	}
	return g
}

// moved lays the shape down by a motion.
func (s shape) moved(m frame.Motion) shape {
	out := shape{section: s.section, length: s.length}
	flats := func(fs []flat) []flat {
		var g []flat
		for _, f := range fs {
			g = append(g, f.moved(m, s.length))
		}
		return g
	}
	for e := range s.ends {
		to := e
		if m.Turned {
			to = 1 - e
		}
		in := &s.ends[e]
		x := endShape{kind: in.kind, planes: flats(in.planes)}
		for _, n := range in.notch {
			x.notch = append(x.notch, flats(n))
		}
		if d := in.saddle; d != nil {
			c := &drum{x: d.x, dx: d.dx, at: m.Apply(d.at), dir: m.Apply(d.dir), r: d.r}
			if m.Turned {
				c.x, c.dx = s.length-d.x, -d.dx
			}
			c.settle()
			x.saddle = c
		}
		out.ends[to] = x
	}
	for _, h := range s.holes {
		h.out = m.Apply(h.out)
		if m.Turned {
			h.x = s.length - h.x
		}
		out.holes = append(out.holes, h)
	}
	return out
}

// mirrored gives the shape of the other hand: the piece seen in a mirror that stands square to its axis.
func (s shape) mirrored() shape {
	return s.moved(frame.Motion{YY: 1, ZZ: 1, Turned: true}) // no hand can do this; the arithmetic does not mind
}

// Grains below which two figures count as one: of lengths in mm, of directions. The offset keeps the steps off the round
// values that shops use.
const (
	grainMM  = 1e-3
	grainDir = 1e-6
	offset   = 0.3183098861837907
)

func coarse(v, grain float64) float64 { return math.Floor(v/grain + offset) }

// key gives the shape as a list of numbers: equal lists, equal pieces.
func (s shape) key() []float64 {
	k := []float64{coarse(s.length, grainMM)}
	put := func(f flat) []float64 {
		return []float64{coarse(f.nx, grainDir), coarse(f.ny, grainDir), coarse(f.nz, grainDir), coarse(f.d, grainMM)}
	}
	sorted := func(fs []flat) []float64 {
		var lists [][]float64
		for _, f := range fs {
			lists = append(lists, put(f))
		}
		slices.SortFunc(lists, slices.Compare[[]float64])
		return slices.Concat(lists...)
	}
	for e := range s.ends {
		x := &s.ends[e]
		k = append(k, float64(len(x.planes)), float64(len(x.notch)))
		k = append(k, sorted(x.planes)...)
		var notches [][]float64
		for _, n := range x.notch {
			notches = append(notches, append([]float64{float64(len(n))}, sorted(n)...))
		}
		slices.SortFunc(notches, slices.Compare[[]float64])
		k = append(k, slices.Concat(notches...)...)
		if d := x.saddle; d != nil {
			k = append(k, coarse(d.x, grainMM), coarse(d.dx, grainDir), coarse(d.at.Y, grainMM), coarse(d.at.Z, grainMM), coarse(d.dir.Y, grainDir),
				coarse(d.dir.Z, grainDir), coarse(d.r, grainMM))
		}
	}
	var holes [][]float64
	for _, h := range s.holes {
		out := h.out
		if h.through && (out.Y < -0.5 || out.Z < -0.5) {
			out = space.Vec2{Y: -out.Y, Z: -out.Z}
		}
		holes = append(holes, []float64{coarse(h.x, grainMM), math.Round(-out.Y), math.Round(-out.Z), coarse(h.size, grainMM), truth(h.through), truth(h.vent)})
	}
	slices.SortFunc(holes, slices.Compare[[]float64])
	return append(k, slices.Concat(holes...)...)
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// slope gives the plane of an end as the saw cuts it off the stick: that of a plain end; square at the tip where more is
// done to it afterwards (a point, a saddle).
func (s *shape) slope(e int) Slope {
	x := &s.ends[e]
	if len(x.planes) != 1 || x.saddle != nil {
		return Slope{}
	}
	f := x.planes[0]
	return Slope{tidy(-f.ny / f.nx), tidy(-f.nz / f.nx)}
}

// leanNone is the slope below which a cut does not lean across a face: 2e-5 is a thousandth of a degree, 4 micrometres over a
// section of 200 mm. Places that were typed to a few decimals leave such leans where none is meant, and a cut that leans
// both ways is much more work than one that does not.
const leanNone = 2e-5

// tidy takes the noise off a slope.
func tidy(v float64) float64 {
	if math.Abs(v) < leanNone {
		return 0
	}
	return v
}

// motions gives the ways to lay the shape down again among which the shown one is chosen: those of its section; of a
// round one, which may be rolled by any angle, the rolls that bring one of its features (the lean of a cut, a header, a
// hole) upright.
func (s shape) motions() []frame.Motion {
	if !s.section.Round {
		return s.section.Motions()
	}
	var out []frame.Motion
	for _, m := range []frame.Motion{frame.Stay, frame.FlipWidth} {
		x := s.moved(m)
		up := x.features()
		if len(up) == 0 {
			out = append(out, m)
		}
		for _, d := range up {
			n := math.Hypot(d.Y, d.Z)
			c, w := d.Y/n, d.Z/n
			// Roll d upright, or upside down.
			out = append(out, m.Then(frame.Motion{YY: c, YZ: w, ZY: -w, ZZ: c}), m.Then(frame.Motion{YY: -c, YZ: -w, ZY: w, ZZ: -c}))
		}
	}
	return out
}

// features gives the directions in the section that tell one roll of a round piece from another.
func (s shape) features() []space.Vec2 {
	var out []space.Vec2
	put := func(v space.Vec2) {
		if math.Hypot(v.Y, v.Z) > 1e-6 {
			out = append(out, v)
		}
	}
	for e := range s.ends {
		for _, f := range s.ends[e].planes {
			put(space.Vec2{Y: f.ny, Z: f.nz})
		}
		if d := s.ends[e].saddle; d != nil {
			put(d.dir)
			put(d.at)
		}
	}
	for _, h := range s.holes {
		put(h.out)
	}
	return out
}
