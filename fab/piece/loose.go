package piece

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// loose adds the job's loose pieces. One without a mark joins the pieces that are the same; one with a mark keeps it and
// its numbers as they are written.
func (g *gatherer) loose() {
	sections := map[string]*frame.Section{}
	for _, s := range g.f.Sections {
		sections[s.Name] = s
	}
	marked := map[string]int{}
	for i := range g.job.Pieces {
		p := &g.job.Pieces[i]
		s := sections[p.Section]
		if s == nil || p.Qty <= 0 {
			continue
		}
		shape, problem := looseShape(p, s, g.job)
		if problem != "" {
			g.problems = append(g.problems, p.In("length").Problem(text.Error, frame.CodeNoRoom, problem))
			continue
		}
		if k, known := marked[p.Mark]; known && p.Mark != "" {
			x := &g.groups[k]
			if x.piece.Section == s.Name && x.piece.Over == p.Over && x.piece.Same == p.SameStick && len(shape.onto(&x.shape, 1)) > 0 {
				x.piece.Qty += p.Qty
			} else {
				g.problems = append(g.problems, p.In("mark").Problem(text.Error, text.CodeDuplicate, fmt.Sprintf("mark %q is given to two different pieces; give one of them another mark", p.Mark)))
			}
			continue
		}
		if p.Mark == "" {
			if k := g.known.find(&shape, p.Over, g.groups, func(x *group) bool { return x.piece.Same == p.SameStick }); k >= 0 {
				g.groups[k].piece.Qty += p.Qty
				continue
			}
		}
		x := g.pieceOf(&shape)
		x.Mark, x.Qty, x.Length, x.Over, x.Same, x.Where = p.Mark, p.Qty, p.Length, p.Over, p.SameStick, p.Where
		x.MassKG = looseMass(&shape)
		if x.Ends[0].Slope.face() == "" && x.Ends[1].Slope.face() == "" && p.Across != "" {
			x.Across, x.Ends[0].Across, x.Ends[1].Across = p.Across, p.Across, p.Across
		}
		k := len(g.groups)
		if p.Mark != "" {
			marked[p.Mark] = k
		} else {
			g.known.add(&shape, p.Over, k)
		}
		g.groups = append(g.groups, newGroup(x, shape))
	}
}

// looseShape makes the shape of a loose piece from its numbers.
func looseShape(p *job.Piece, s *frame.Section, j *job.Job) (shape, string) {
	x := shape{section: s, length: p.Length.MM()}
	h := s.DepthMM
	if p.Across == width {
		h = s.WidthMM
	}
	least := 0.0
	for e, number := range p.Ends {
		t := math.Tan(number / deg)
		if e == 1 {
			t = -t
		}
		// The plane through the tip: x = x0 + t*u, u over the face from its middle; at a right end the tip is the length.
		x0 := math.Abs(t) * h / 2
		f := flat{nx: -1}
		if e == 1 {
			x0, f.nx = x.length-x0, 1
		}
		f.ny, f.nz = -t*f.nx, 0
		if p.Across == width {
			f.ny, f.nz = 0, -t*f.nx
		}
		n := math.Sqrt(1 + t*t)
		f.nx, f.ny, f.nz = f.nx/n, f.ny/n, f.nz/n
		f.d = f.nx * x0
		x.ends[e] = endShape{kind: frame.Square, planes: []flat{f}}
		if number != 0 {
			x.ends[e].kind = frame.Mitre
		}
	}
	// The shorter edge must still be there.
	short := x.length
	for _, u := range []float64{-h / 2, h / 2} {
		a := math.Abs(math.Tan(p.Ends[0]/deg))*h/2 + math.Tan(p.Ends[0]/deg)*u
		b := math.Abs(math.Tan(p.Ends[1]/deg))*h/2 + math.Tan(p.Ends[1]/deg)*u
		short = min(short, x.length-a-b)
	}
	if short < least {
		return x, fmt.Sprintf("with these end cuts the piece must be at least %s long from tip to tip; it is %s: make it longer, or cut its ends less steeply", j.Tape.Print(p.Length-lengthOf(short)), j.Tape.Print(p.Length))
	}
	for _, hole := range p.Holes {
		out := looseOut(hole.Face)
		x.holes = append(x.holes, holeAt(hole, out))
	}
	x.centre()
	return x, ""
}

func lengthOf(mm float64) measure.Length { return measure.FromMM(mm) }

func looseOut(face string) space.Vec2 {
	if face == width {
		return space.Vec2{Y: 1}
	}
	return space.Vec2{Z: 1}
}

func holeAt(h job.Hole, out space.Vec2) hole {
	return hole{x: h.At[0].MM(), out: out, size: h.Size.MM(), through: h.Through, face: h.Face}
}

// looseMass gives the mass of a piece between two plane cuts: that of its length along the line of centroids.
func looseMass(s *shape) float64 {
	var x [2]float64
	for e := range x {
		f := s.ends[e].planes[0]
		x[e] = (f.d - f.ny*s.section.CentroidYMM - f.nz*s.section.CentroidZMM) / f.nx
	}
	return s.section.MassKGM * (x[1] - x[0]) / 1000
}
