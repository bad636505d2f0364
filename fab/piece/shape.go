package piece

import (
	"math"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/space"
)

// shape is a piece in its own frame: x from its first tip along it, y over the depth and z over the width from the centre
// line. Two pieces are the same where a motion of their section lays one shape on the other.
type shape struct {
	section *frame.Section
	length  float64
	mid     float64 // see centre
	ends    [2]endShape
	holes   []hole
}

// endShape is how one end is cut.
type endShape struct {
	kind    frame.EndKind
	planes  []flat // those that bound the end; the first is that of the saw
	notch   [][]flat
	drums   []drum // what it is saddled onto: two over a corner of round members ...
	split   flat   // ... beyond which the second is there ...
	through bool   // ... and whether the first runs through
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
		for c := end.Saddle; c != nil; c = c.Also {
			x, y, z := m.Local(c.At)
			d := drum{x: x - from, dx: c.Dir.Dot(m.Axis), at: space.Vec2{Y: y, Z: z}, dir: space.Vec2{Y: c.Dir.Dot(m.Depth), Z: c.Dir.Dot(m.Width)}, r: c.RadiusMM}
			d.settle()
			s.ends[e].drums = append(s.ends[e].drums, d)
		}
		if c := end.Saddle; c != nil && c.Also != nil {
			s.ends[e].split, s.ends[e].through = local(c.Split), c.Through
		}
	}
	for _, h := range m.Holes {
		out := space.Vec2{Z: 1}
		if h.Face == "width" {
			out = space.Vec2{Y: 1}
		}
		s.holes = append(s.holes, hole{h.AtMM, out, h.SizeMM, h.Through, h.Vent, h.Face})
	}
	s.centre()
	return s
}

// settle moves the drum's point to where its axis passes the piece's centre line most closely, so that equal headers read
// alike.
func (d *drum) settle() {
	n := d.dir.Y*d.dir.Y + d.dir.Z*d.dir.Z
	if n > 1e-12 {
		t := -(d.at.Y*d.dir.Y + d.at.Z*d.dir.Z) / n
		d.x += t * d.dx
		d.at.Y += t * d.dir.Y
		d.at.Z += t * d.dir.Z
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
func (s *shape) moved(m frame.Motion) shape {
	if m == frame.Stay {
		return *s
	}
	out := shape{section: s.section, length: s.length, mid: s.mid}
	if m.Turned {
		out.mid = s.length - s.mid
	}
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
		for _, d := range in.drums {
			c := drum{x: d.x, dx: d.dx, at: m.Apply(d.at), dir: m.Apply(d.dir), r: d.r}
			if m.Turned {
				c.x, c.dx = s.length-d.x, -d.dx
			}
			x.drums = append(x.drums, c)
		}
		x.split, x.through = in.split.moved(m, s.length), in.through
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
func (s *shape) mirrored() shape {
	return s.moved(frame.Motion{YY: 1, ZZ: 1, Turned: true}) // no hand can do this; the arithmetic does not mind
}

// slope gives the plane of an end as the saw cuts it off the stick: that of a plain end; square at the tip where more is
// done to it afterwards (a point, a saddle).
func (s *shape) slope(e int) Slope {
	x := &s.ends[e]
	if len(x.planes) != 1 || len(x.drums) > 0 {
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
// hole) upright, weak ones left aside, which do not tell the roll well.
func (s *shape) motions() []frame.Motion {
	if !s.section.Round {
		return s.section.Motions()
	}
	const weak = 0.0873 // of the strongest: no round share, on which features would lie to either side by noise
	var out []frame.Motion
	best, told := s.strongest()
	for _, m := range []frame.Motion{frame.Stay, frame.FlipWidth} {
		if !told {
			out = append(out, m)
			continue
		}
		x := s.moved(m)
		for _, d := range x.features() {
			if math.Hypot(d.Y, d.Z) < weak*math.Hypot(best.Y, best.Z) {
				continue
			}
			for _, roll := range rolls(d, space.Vec2{Y: 1}) {
				out = append(out, m.Then(roll))
			}
		}
	}
	return out
}
