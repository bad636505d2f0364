package mass

import (
	"math"
	"sort"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/steel"
)

// Kind is what a part of the whole is.
type Kind string

// Kinds of part.
const (
	Member   Kind = "member"
	Loose    Kind = "loose piece"
	Plate    Kind = "plate"
	Item     Kind = "item"
	Weld     Kind = "weld metal"
	Paint    Kind = "paint"
	Hardware Kind = "hardware"
)

// SteelKGPerMM3 is the density of carbon steel, 7850 kg/m3.
const SteelKGPerMM3 = 7.85e-6

// Part is one thing that weighs. A part that is not placed counts in the weight, not in the centre.
type Part struct {
	Name    string
	Kind    Kind
	Mark    string
	Section string
	Qty     int
	KG      float64 // of all Qty
	Placed  bool
	At      space.Vec // centre of mass, mm
	Inertia Tensor    // about its own centre, kg mm2
}

// Steel tells whether the part belongs to the frame's own steel.
func (p Part) Steel() bool { return p.Kind == Member || p.Kind == Plate }

// Tensor is a symmetric tensor of inertia: XX is the moment about x, XY minus the product of x and y.
type Tensor struct{ XX, YY, ZZ, XY, XZ, YZ float64 }

// Add gives the sum.
func (t Tensor) Add(u Tensor) Tensor {
	return Tensor{t.XX + u.XX, t.YY + u.YY, t.ZZ + u.ZZ, t.XY + u.XY, t.XZ + u.XZ, t.YZ + u.YZ}
}

func (t Tensor) times(k float64) Tensor {
	return Tensor{k * t.XX, k * t.YY, k * t.ZZ, k * t.XY, k * t.XZ, k * t.YZ}
}

// moved gives the tensor of a mass about a point d away from its centre (Steiner).
func (t Tensor) moved(kg float64, d space.Vec) Tensor {
	return t.Add(Tensor{kg * (d.Y*d.Y + d.Z*d.Z), kg * (d.X*d.X + d.Z*d.Z), kg * (d.X*d.X + d.Y*d.Y), -kg * d.X * d.Y, -kg * d.X * d.Z, -kg * d.Y * d.Z})
}

// along is the tensor of principal moments a, b, c about the unit directions u, v, w.
func along(a, b, c float64, u, v, w space.Vec) (t Tensor) {
	for _, q := range []struct {
		m float64
		d space.Vec
	}{{a, u}, {b, v}, {c, w}} {
		t = t.Add(Tensor{q.m * q.d.X * q.d.X, q.m * q.d.Y * q.d.Y, q.m * q.d.Z * q.d.Z, q.m * q.d.X * q.d.Y, q.m * q.d.X * q.d.Z, q.m * q.d.Y * q.d.Z})
	}
	return t
}

// Line is a sum over parts: of a mark, a section.
type Line struct {
	Name string
	Qty  int
	KG   float64
}

// Sheet is a frame weighed.
type Sheet struct {
	Parts     []Part
	ByMark    []Line
	BySection []Line
	ByKind    []Line
	Steel     Body    // members and plates
	Whole     Body    // everything that is placed in the frame; its mass counts what has no place, too
	Loose     float64 // kg of loose pieces, outside the frame
	Unplaced  float64 // kg in Whole's mass that have no place and do not count in the centre
}

// Body is a mass with its centre, inertia about that centre, and bounds.
type Body struct {
	KG      float64
	Centre  space.Vec
	Inertia Tensor // kg mm2, about the centre, axes of the job
	Bounds  space.Box
}

// Extra is mass beyond the frame and the job's tables: weld metal, paint, hardware.
type Extra struct {
	Kind   Kind
	Name   string
	Qty    int
	KG     float64
	At     space.Vec
	Placed bool
	Member string // a member of the frame that it covers evenly (paint, zinc): placed with it, At and Placed not needed
}

// part places the extra; a name that is no member of the frame leaves it where At and Placed say.
func (e Extra) part(f *frame.Frame) Part {
	p := Part{Name: e.Name, Kind: e.Kind, Qty: max(1, e.Qty), KG: e.KG, At: e.At, Placed: e.Placed}
	if i := f.Index(e.Member); e.Member != "" && i >= 0 {
		m := memberPart(&f.Members[i], "")
		p.At, p.Placed = m.At, true
		if m.KG > 0 { // as thin all over as the member is thick: its inertia in proportion
			p.Inertia = m.Inertia.times(e.KG / m.KG)
		}
	}
	return p
}

// Weigh weighs a frame with its pieces, items and what else is known.
func Weigh(f *frame.Frame, j *job.Job, pieces []piece.Piece, extra []Extra) Sheet {
	var s Sheet
	marks := map[int]string{}
	for _, p := range pieces {
		for _, i := range p.Indices {
			marks[i] = p.Mark
		}
	}
	box := space.EmptyBox()
	for i := range f.Members {
		m := &f.Members[i]
		s.Parts = append(s.Parts, memberPart(m, marks[i]))
		for _, solid := range m.Solids() {
			box = box.Join(solid.Box())
		}
	}
	for i := range f.Plates {
		p := plateOf(&f.Plates[i])
		s.Parts = append(s.Parts, p)
		if p.Placed {
			box = box.Join(plateBox(&f.Plates[i]))
		}
	}
	for _, it := range j.Items {
		s.Parts = append(s.Parts, itemParts(f, it)...)
	}
	for _, p := range pieces {
		if len(p.Indices) == 0 {
			s.Parts = append(s.Parts, Part{Name: p.Mark, Kind: Loose, Mark: p.Mark, Section: p.Section, Qty: p.Qty, KG: p.MassKG * float64(p.Qty)})
		}
	}
	for _, e := range extra {
		s.Parts = append(s.Parts, e.part(f))
	}
	s.Steel = body(s.Parts, Part.Steel)
	s.Whole = body(s.Parts, func(p Part) bool { return p.Kind != Loose })
	for _, p := range s.Parts {
		switch {
		case p.Kind == Loose:
			s.Loose += p.KG
		case !p.Placed:
			s.Whole.KG += p.KG
			s.Unplaced += p.KG
			if p.Steel() {
				s.Steel.KG += p.KG
			}
		}
	}
	s.Steel.Bounds, s.Whole.Bounds = box, box
	s.ByMark = lines(s.Parts, func(p Part) string { return p.Mark })
	s.BySection = lines(s.Parts, func(p Part) string { return p.Section })
	s.ByKind = lines(s.Parts, func(p Part) string { return string(p.Kind) })
	return s
}

func memberPart(m *frame.Member, mark string) Part {
	kg := m.MassKG()
	from, to := m.Tips()
	l := to - from
	p := m.Section.Properties(steel.Nominal)
	gx, gy := p.IxMM4/p.AreaMM2, p.IyMM4/p.AreaMM2
	t := along(kg*(gx+gy), kg*(l*l/12+gy), kg*(l*l/12+gx), m.Axis, m.Depth, m.Width)
	return Part{Name: m.Name, Kind: Member, Mark: mark, Section: m.Section.Name, Qty: 1, KG: kg, Placed: true, At: m.Centre(), Inertia: t}
}

func plateOf(p *frame.Plate) Part {
	a, b, c := p.SizeMM[0], p.SizeMM[1], p.SizeMM[2]
	volume := a * b * c
	if p.Spec != nil {
		for _, h := range p.Spec.Holes {
			volume -= math.Pi / 4 * h.Size.MM() * h.Size.MM() * c
		}
	}
	qty := max(1, p.Qty)
	kg := math.Max(volume, 0) * SteelKGPerMM3 * float64(qty)
	out := Part{Name: p.Name, Kind: Plate, Qty: qty, KG: kg, Placed: p.On >= 0}
	if out.Placed {
		v := p.Normal.Cross(p.Along)
		out.At = p.At.Along(p.Normal, -c/2)
		out.Inertia = along(kg*(b*b+c*c)/12, kg*(a*a+c*c)/12, kg*(a*a+b*b)/12, p.Along, v, p.Normal)
	}
	return out
}

func plateBox(p *frame.Plate) space.Box {
	b := space.EmptyBox()
	v := p.Normal.Cross(p.Along)
	for k := range 8 {
		x, y, z := p.SizeMM[0]/2, p.SizeMM[1]/2, 0.0
		if k&1 != 0 {
			x = -x
		}
		if k&2 != 0 {
			y = -y
		}
		if k&4 != 0 {
			z = -p.SizeMM[2]
		}
		b = b.Take(p.At.Along(p.Along, x).Along(v, y).Along(p.Normal, z))
	}
	return b
}

// itemParts shares an item over the members that it hangs on; without any it has no place.
func itemParts(f *frame.Frame, it job.Item) (out []Part) {
	kg := it.MassKG * float64(it.Qty)
	var at []int
	for _, name := range it.At {
		if i := f.Index(name); i >= 0 {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		return []Part{{Name: it.Name, Kind: Item, Qty: it.Qty, KG: kg}}
	}
	for k, i := range at {
		qty := it.Qty / len(at)
		if k < it.Qty%len(at) {
			qty++
		}
		out = append(out, Part{Name: it.Name, Kind: Item, Qty: qty, KG: kg / float64(len(at)), Placed: true, At: f.Members[i].Centre()})
	}
	return out
}

// WeldMetal gives the mass of weld metal of each seam at its middle: fillets by their legs, the others by the depth and
// gap that they fill.
func WeldMetal(l *seam.Layout) (out []Extra) {
	for i := range l.Seams {
		q := &l.Seams[i]
		area := q.LegMM * q.LegMM / 2
		switch q.Type {
		case seam.SquareGroove:
			area = q.LegMM * math.Max(q.GapMM, 1)
		case seam.OutsideCorner:
			area = q.LegMM * q.LegMM / 2
		case seam.FlareBevel:
			area = q.LegMM * q.LegMM * (1 - math.Pi/4)
		}
		out = append(out, Extra{Kind: Weld, Name: q.ID, Qty: 1, KG: area * q.WeldMM * SteelKGPerMM3, At: q.Middle(), Placed: true})
	}
	return out
}

func body(parts []Part, take func(Part) bool) (b Body) {
	for _, p := range parts {
		if p.Placed && take(p) {
			b.KG += p.KG
			b.Centre = b.Centre.Along(p.At, p.KG)
		}
	}
	if b.KG == 0 {
		return b
	}
	b.Centre = b.Centre.Mul(1 / b.KG)
	for _, p := range parts {
		if p.Placed && take(p) {
			b.Inertia = b.Inertia.Add(p.Inertia.moved(p.KG, p.At.Sub(b.Centre)))
		}
	}
	return b
}

// lines sums parts by a name, the heaviest first; parts without the name are left out.
func lines(parts []Part, name func(Part) string) []Line {
	at := map[string]int{}
	var out []Line
	for _, p := range parts {
		n := name(p)
		if n == "" {
			continue
		}
		k, ok := at[n]
		if !ok {
			k = len(out)
			at[n] = k
			out = append(out, Line{Name: n})
		}
		out[k].Qty += p.Qty
		out[k].KG += p.KG
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].KG > out[j].KG })
	return out
}

// Figures gives the weights as figures.
func (s *Sheet) Figures(prefix string) []figure.Figure {
	src := figure.Source{Kind: figure.Geometry, Text: "sum over the parts; members are prisms of their section's nominal wall between their end cuts"}
	var steelIn, wholeIn []figure.Input
	sumSteel, sumWhole := "0", "0"
	for i, l := range s.ByKind {
		if l.Name == string(Loose) {
			continue
		}
		sym := "m" + string(rune('a'+i))
		in := figure.In(sym, l.Name, l.KG, "kg", "")
		sumWhole += " + " + sym
		wholeIn = append(wholeIn, in)
		if l.Name == string(Member) || l.Name == string(Plate) {
			sumSteel += " + " + sym
			steelIn = append(steelIn, in)
		}
	}
	return []figure.Figure{
		figure.Found(prefix+"steel", "weight of the frame's steel", s.Steel.KG, "kg", sumSteel, src, steelIn...).Without("holes in members, mill tolerance of the wall (some 10 %)"),
		figure.Found(prefix+"whole", "weight as hoisted", s.Whole.KG, "kg", sumWhole, src, wholeIn...).Without("what is loaded on it"),
	}
}

// onePoint is how close points lie, mm, that count as one: a micrometre carries no moment in a shop.
const onePoint = 1e-3

// Share is what one point carries of a weight.
type Share struct {
	At space.Vec
	N  float64
}

// Shares gives how a weight whose centre is known falls on points that hold it from below or above, as on equal springs
// under a stiff frame: exact for two and three points, the evenest for more. A negative share means that the frame would
// tip off that point. The second value is false where the points cannot hold the centre at all (one point, or all in a
// line that does not pass under it within a millimetre). Where they can, the shares add up to the weight, and their middle
// lies under the centre: to rounding, or within that millimetre where the points are in a line or in one place.
func Shares(kg float64, centre space.Vec, points []space.Vec) ([]Share, bool) {
	n := len(points)
	w := kg * measure.Gravity
	out := make([]Share, n)
	if n == 0 {
		return nil, false
	}
	var mx, my float64
	for i, p := range points {
		out[i].At = p
		mx += p.X / float64(n)
		my += p.Y / float64(n)
	}
	// Once more about the mean: its rounding would be a force where the points lie close together.
	var rx, ry float64
	for _, p := range points {
		rx += (p.X - mx) / float64(n)
		ry += (p.Y - my) / float64(n)
	}
	mx, my = mx+rx, my+ry
	var xx, yy, xy float64
	for _, p := range points {
		xx += (p.X - mx) * (p.X - mx)
		yy += (p.Y - my) * (p.Y - my)
		xy += (p.X - mx) * (p.Y - my)
	}
	ex, ey := centre.X-mx, centre.Y-my
	det := xx*yy - xy*xy
	t := xx + yy
	var a, b float64
	ok := true
	switch {
	case t <= float64(n)*onePoint*onePoint:
		ok = math.Hypot(ex, ey) < 1
	case det > 1e-9*t*t:
		a = (ex*yy - ey*xy) / det
		b = (ey*xx - ex*xy) / det
	default: // all in a line: the principal axis of the points, and their second moment along it
		uy, ux := math.Sincos(math.Atan2(2*xy, xx-yy) / 2)
		along := t/2 + math.Hypot((xx-yy)/2, xy)
		e := ex*ux + ey*uy
		a, b = e*ux/along, e*uy/along
		ok = math.Abs(ex*uy-ey*ux) < 1
	}
	for i, p := range points {
		out[i].N = w * (1/float64(n) + a*(p.X-mx) + b*(p.Y-my))
	}
	return out, ok
}
