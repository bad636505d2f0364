package frame

import (
	"math"
	"strings"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// plates places the plates that are not pads of legs: at the corners of a rectangle, on members, or nowhere in the model.
func (b *builder) plates() {
	for i := range b.job.Plates {
		p := &b.job.Plates[i]
		size := [3]float64{p.Size[0].MM(), p.Size[1].MM(), p.Size[2].MM()}
		if len(p.At) == 0 {
			if p.Qty > 0 {
				b.f.Plates = append(b.f.Plates, Plate{Name: p.Name, SizeMM: size, On: -1, Spec: p, Qty: p.Qty, Normal: space.Z, Along: space.X})
			}
			continue
		}
		for _, at := range p.At {
			if name, ok := strings.CutSuffix(at, " corners"); ok {
				b.cornerPlates(p, strings.TrimSpace(name), size)
				continue
			}
			b.memberPlate(p, at, size)
		}
	}
}

// cornerPlates puts a plate under each corner of a rectangle; the pads of legs under it are those plates already.
func (b *builder) cornerPlates(p *job.Plate, name string, size [3]float64) {
	k, ok := b.rects[name]
	if !ok {
		return
	}
	for i := range b.job.Legs {
		if b.job.Legs[i].Under == name && b.job.Legs[i].Pad == p.Name {
			return
		}
	}
	q := &b.f.Rects[k]
	for c := range 4 {
		u, v := size[0]/2, size[1]/2
		if c%2 == 1 {
			u = q.LengthMM - u
		}
		if c/2 == 1 {
			v = q.WidthMM - v
		}
		on := q.Sides[c/2] // x1 or x2
		b.f.Plates = append(b.f.Plates, Plate{Name: p.Name, SizeMM: size, At: q.Corner.Along(q.U, u).Along(q.V, v), Normal: q.N, Along: q.U, On: on, Spec: p, Qty: 1})
	}
}

// memberPlate puts a plate on a member: at its middle, or so far along.
func (b *builder) memberPlate(p *job.Plate, at string, size [3]float64) {
	name, along, given := strings.Cut(at, "@")
	i := b.f.Index(strings.TrimSpace(name))
	if i < 0 {
		b.problem(p.Where.In("at"), text.Error, text.CodeName, "plate %s: there is no member %q; a plate belongs to a member, to a place such as \"lower.x1@24in\", or to \"NAME corners\"", p.Name, name)
		return
	}
	m := &b.f.Members[i]
	from, to := m.Tips()
	x := (from + to) / 2
	if given {
		l, err := measure.ParseLength(along, b.job.Units)
		if err != nil {
			b.problem(p.Where.In("at"), text.Error, text.CodeValue, "plate %s, %q: %v", p.Name, at, err)
			return
		}
		x = from + l.MM()
		if x > to+space.Near {
			b.problem(p.Where.In("at"), text.Error, CodeNoRoom, "plate %s: %s is only %s long: give a place on it", p.Name, m.Name, b.tape(to-from))
			return
		}
	}
	b.f.Plates = append(b.f.Plates, Plate{Name: p.Name, SizeMM: size, At: m.Place(x, -m.Section.DepthMM/2, 0), Normal: m.Depth, Along: m.Axis, On: i, Spec: p, Qty: 1})
}

// holes checks the holes of every member: each must open in a wall that is there, on its flat, and not under a neighbour.
func (b *builder) holes() {
	for i := range b.f.Members {
		m := &b.f.Members[i]
		if len(m.Holes) == 0 {
			continue
		}
		from, to := m.Tips()
		for _, h := range m.Holes {
			x, r := from+h.AtMM, h.SizeMM/2
			flat, half := m.Section.DepthMM, m.Section.WidthMM/2
			out, along := space.Vec2{Z: 1}, m.Depth
			if h.Face == "width" {
				flat, half = m.Section.WidthMM, m.Section.DepthMM/2
				out, along = space.Vec2{Y: 1}, m.Width
			}
			if m.Section.Open() { // the outside of the leg, web or flange that spans the face
				out = space.Vec2{Y: -out.Y, Z: -out.Z}
			} else if !m.Section.Round {
				flat -= 2 * m.Section.RadiusMM
			}
			what := b.tape(h.SizeMM) + " hole at " + b.tape(h.AtMM)
			if 2*r > flat+space.Near {
				b.problem(m.Where.In("holes"), text.Warning, CodeHole, "%s: the %s is wider than the flat of its face (%s): a smaller one, or the other face", m.Name, what, b.tape(flat))
				continue
			}
			if h.AtMM+r > to-from || h.AtMM < r {
				b.problem(m.Where.In("holes"), text.Error, CodeHole, "%s: the %s runs out of the end: the piece is %s long from tip to tip; give its centre from %s to %s", m.Name, what, b.tape(to-from), b.tape(r), b.tape(to-from-r))
				continue
			}
			walls := []space.Vec2{out}
			if m.Section.pierced(h) {
				walls = append(walls, space.Vec2{Y: -out.Y, Z: -out.Z})
			}
			for n, o := range walls {
				where := what
				if n > 0 {
					where += ", on its far side,"
				}
				if !b.wallAround(i, x, r, half, o, along) {
					b.problem(m.Where.In("holes"), text.Warning, CodeHole, "%s: the %s opens into nothing: the end cut has taken the wall away there; move it along", m.Name, where)
					break
				}
				b.covered(i, m, m.Place(x, o.Y*half, o.Z*half), h, where)
				if m.Section.Open() { // something may stand on the inside of the leg, too
					deep := half - m.Section.WallMM
					if m.Section.Shape == steel.Channel && h.Face == "width" {
						deep = half - m.Section.FlangeMM
					}
					b.covered(i, m, m.Place(x, o.Y*deep, o.Z*deep), h, what+", on the inside,")
				}
			}
		}
	}
}

// pierced tells whether a hole also comes out of the wall opposite to that into which it is drilled.
func (s *Section) pierced(h Hole) bool {
	switch {
	case s.Shape == steel.Flat:
		return true
	case s.Shape == steel.Channel:
		return h.Through && h.Face == "width" // the other flange; a web stands alone
	}
	return h.Through && !s.Open()
}

// wallAround tells whether the wall of member i that looks along out is there all round a hole of radius r at x along it,
// just under its face, half from the centre line. along runs across that face.
func (b *builder) wallAround(i int, x, r, half float64, out space.Vec2, along space.Vec) bool {
	m := &b.f.Members[i]
	const in = 0.9
	for k := range 8 {
		sin, cos := space.SinCosDeg(45 * float64(k))
		across, deep := r*in*sin, half*(1-1e-6)
		if m.Section.Round { // on the polygon that stands for the circle
			rim := half * math.Cos(math.Pi/roundSides) * (1 - 1e-3)
			across, deep = across*rim/half, rim*math.Sqrt(max(0, 1-across*across/half/half))
		}
		p := m.Place(x, deep*out.Y, deep*out.Z).Along(m.Axis, r*in*cos).Along(along, across)
		held := false
		for _, s := range b.solids[i].parts {
			held = held || s.Contains(p, -touch)
		}
		if !held {
			return false
		}
	}
	return true
}

// covered warns of a hole that a neighbour stands on.
func (b *builder) covered(i int, m *Member, at space.Vec, h Hole, what string) {
	for k := range b.f.Joints {
		for _, c := range b.f.Joints[k].Contacts {
			for s, j := range c.Members {
				if j != i || c.Ends[s] >= 0 || absDist(c.Plane, at) > touch+c.GapMM {
					continue
				}
				inside := true
				for n, p := range c.Outline {
					q := c.Outline[(n+1)%len(c.Outline)]
					if q.Sub(p).Unit().Cross(c.Plane.Normal).Dot(at.Sub(p)) > h.SizeMM/2 {
						inside = false
					}
				}
				if inside {
					b.problem(m.Where.In("holes"), text.Warning, CodeHole, "%s: the %s lies under %s; move it, or drill both", m.Name, what, b.f.Members[c.Members[1-s]].Name)
				}
			}
		}
	}
}

func absDist(p space.Plane, v space.Vec) float64 {
	d := p.Dist(v)
	if d < 0 {
		return -d
	}
	return d
}
