package piece

import (
	"fmt"
	"slices"
	"strings"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// group is pieces that are the same.
type group struct {
	piece Piece
	shape shape // as it is shown
	key   string
	other string // key of the other hand; equal to key where the piece has no hand
}

// Gather makes the cut list of a frame and of the job's loose pieces. Marks go by the order of the frame's members: A, B,
// C ... without I and O, which read as 1 and 0 on steel.
func Gather(f *frame.Frame, j *job.Job) ([]Piece, []text.Problem) { return GatherAs(f, j, nil) }

// GatherAs is Gather with other letters: as says which letter stands in place of the one that the order gives.
func GatherAs(f *frame.Frame, j *job.Job, as map[string]string) ([]Piece, []text.Problem) {
	g := &gatherer{f: f, job: j, as: as, byKey: map[string]int{}, used: map[string]bool{}, closed: shut(f)}
	for i := range j.Pieces {
		if m := j.Pieces[i].Mark; m != "" {
			g.used[m] = true
		}
	}
	for i := range f.Members {
		g.member(i)
	}
	g.loose()
	g.mark()
	g.markOut()
	for i := range g.groups {
		g.saw(&g.groups[i])
	}
	g.compounds()
	out := make([]Piece, len(g.groups))
	for i := range g.groups {
		out[i] = g.groups[i].piece
	}
	return out, g.problems
}

type gatherer struct {
	f        *frame.Frame
	job      *job.Job
	groups   []group
	byKey    map[string]int
	used     map[string]bool
	as       map[string]string // letters in place of those of the order
	closed   [][2]bool
	compound []*group // pieces with compound ends, where the saw does not tilt
	problems []text.Problem
}

// best gives the shape as it is shown: of all ways to lie the one with the greatest end numbers, the first end first; and
// the key under which all of them are known.
func best(s shape) (show shape, key string, turned bool) {
	var bestNumbers, least []float64
	for _, m := range s.motions() {
		x := s.moved(m)
		k := x.key()
		if least == nil || slices.Compare(k, least) < 0 {
			least = k
		}
		ends, _ := x.numbersOf()
		n := []float64{coarse(ends[0].MiterDeg, 1e-6), coarse(ends[1].MiterDeg, 1e-6), coarse(ends[0].BevelDeg, 1e-6), coarse(ends[1].BevelDeg, 1e-6)}
		if bestNumbers == nil || slices.Compare(n, bestNumbers) > 0 { // of equal ones as it is built
			show, bestNumbers, turned = x, n, m.Turned
		}
	}
	var b strings.Builder
	for _, v := range least {
		fmt.Fprintf(&b, "%.0f ", v+0)
	}
	return show, b.String(), turned
}

func (g *gatherer) member(i int) {
	m := &g.f.Members[i]
	s := shapeOf(m)
	show, key, turned := best(s)
	_, other, _ := best(s.mirrored())
	prefix := fmt.Sprintf("%s|%g|", m.Section.Name, m.OverMM)
	key, other = prefix+key, prefix+other
	k, known := g.byKey[key]
	if !known {
		k = len(g.groups)
		g.byKey[key] = k
		p := g.pieceOf(show)
		p.Length = measure.FromMM(s.length)
		p.Over, p.CutFit, p.Where = measure.FromMM(m.OverMM), m.CutFit, m.Where
		p.MassKG = m.MassKG()
		p.Reversed = turned
		g.groups = append(g.groups, group{p, show, key, other})
	}
	p := &g.groups[k].piece
	p.Qty++
	p.Members = append(p.Members, m.Name)
	p.Indices = append(p.Indices, i)
}

// pieceOf fills in what follows from the shape.
func (g *gatherer) pieceOf(s shape) Piece {
	p := Piece{Section: s.section.Name}
	p.Ends, p.Across = s.numbersOf()
	p.Lays = s.lays(p.Across)
	return p
}

// mark gives the marks and the hands.
func (g *gatherer) mark() {
	next := 0
	name := func() string {
		for {
			m := Letters(next)
			next++
			if !g.used[m] {
				g.used[m] = true
				if x := g.as[m]; x != "" {
					return x
				}
				return m
			}
		}
	}
	for i := range g.groups {
		x := &g.groups[i]
		if x.key != x.other && x.piece.Hand == "" {
			x.piece.Hand = "right"
			if x.key < x.other {
				x.piece.Hand = "left"
			}
		}
		if x.piece.Mark != "" {
			continue
		}
		k, pair := g.byKey[x.other]
		if x.key == x.other || !pair || g.groups[k].piece.Mark != "" {
			x.piece.Mark = name()
			continue
		}
		// Two hands of one piece share the letter.
		m := name()
		for _, h := range []*Piece{&x.piece, &g.groups[k].piece} {
			h.Hand = "right"
			if h == &x.piece == (x.key < x.other) {
				h.Hand = "left"
			}
			h.Mark = m + "-" + strings.ToUpper(h.Hand[:1])
		}
		x.piece.Mirror, g.groups[k].piece.Mirror = g.groups[k].piece.Mark, x.piece.Mark
	}
}

// Letters gives the n-th mark, from 0: A ... Z without I and O, then AA, AB ...
func Letters(n int) string {
	const alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	s := ""
	for n++; n > 0; n = (n - 1) / len(alphabet) {
		s = string(alphabet[(n-1)%len(alphabet)]) + s
	}
	return s
}
