package bolt

import (
	"math"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
)

// holes gives where the holes of a plate lie, on its upper face, and how near the nearest edge of the plate comes to a
// hole's centre (mm); none for a plate without holes.
func holes(p *frame.Plate) (at []space.Vec, edgeMM float64) {
	if p.Spec == nil {
		return nil, 0
	}
	across := p.Normal.Cross(p.Along)
	edgeMM = math.Inf(1)
	for _, h := range p.Spec.Holes {
		x, y := h.At[0].MM(), h.At[1].MM()
		at = append(at, p.At.Along(p.Along, x-p.SizeMM[0]/2).Along(across, y-p.SizeMM[1]/2))
		edgeMM = math.Min(edgeMM, math.Min(math.Min(x, p.SizeMM[0]-x), math.Min(y, p.SizeMM[1]-y)))
	}
	if len(at) == 0 {
		edgeMM = 0
	}
	return at, edgeMM
}

// drill finds the holes that a place is bolted through: those of the plate itself, or of the plates on the member.
func (p *Place) drill(f *frame.Frame, member, plate int) {
	for k := range f.Plates {
		x := &f.Plates[k]
		if k != plate && (plate >= 0 || x.On != member) {
			continue
		}
		at, edge := holes(x)
		if len(at) == 0 {
			continue
		}
		p.Holes = append(p.Holes, at...)
		if p.EdgeMM == 0 || edge < p.EdgeMM {
			p.EdgeMM = edge
		}
	}
}

// Apart gives the least distance between two holes of the place, mm; 0 with fewer than two.
func (p *Place) Apart() float64 {
	least := math.Inf(1)
	for i, a := range p.Holes {
		for _, b := range p.Holes[:i] {
			least = math.Min(least, a.Dist(b))
		}
	}
	if math.IsInf(least, 0) {
		return 0
	}
	return least
}

// Words says what an anchor's maker asks for: where, how hard it is pulled and pushed aside, and how far apart.
func (p *Place) Words(tape measure.Tape) string {
	mm := func(v float64) string { return tape.Print(measure.FromMM(v)) }
	out := p.Name + " at x " + mm(p.At.X) + ", y " + mm(p.At.Y) + ": each pulled with " + tape.Force(p.Load.TensionN) + ", pushed aside with " + tape.Force(p.Load.ShearN)
	if p.Case != "" {
		out += " (" + p.Case + ")"
	}
	for i, h := range p.Holes {
		if i == 0 {
			out += "; holes at"
		} else {
			out += " and"
		}
		out += " x " + mm(h.X) + ", y " + mm(h.Y)
	}
	if d := p.Apart(); d > 0 {
		out += "; " + mm(d) + " apart"
	}
	if p.EdgeMM > 0 {
		out += ", " + mm(p.EdgeMM) + " from the plate's edge"
	}
	return out
}
