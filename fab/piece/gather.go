package piece

import (
	"strings"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// group is pieces that are the same.
type group struct {
	piece  Piece
	shape  shape // as it is shown
	lean   float64
	way    frame.Motion // how the first member lies when its places are laid out
	handed bool         // no motion of a hand makes it its own mirror image
}

func newGroup(p Piece, shown shape) group {
	other := shown.mirrored()
	return group{piece: p, shape: shown, lean: shown.lean(), handed: len(other.onto(&shown, 1)) == 0}
}

// left tells which of its two hands a piece with a hand is: the left one is that whose numbers come first.
func (x *group) left() bool {
	other := x.shape.mirrored()
	return order(x.shape.least(), other.least()) < 0
}

// Gather makes the cut list of a frame and of the job's loose pieces. Marks go by the order of the frame's members: A, B,
// C ... without I and O, which read as 1 and 0 on steel.
func Gather(f *frame.Frame, j *job.Job) ([]Piece, []text.Problem) { return GatherAs(f, j, nil) }

// GatherAs is Gather with other letters: as says which letter stands in place of the one that the order gives.
func GatherAs(f *frame.Frame, j *job.Job, as map[string]string) ([]Piece, []text.Problem) {
	g := &gatherer{f: f, job: j, as: as, known: book{}, used: map[string]bool{}, closed: shut(f)}
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
	known    book
	used     map[string]bool
	as       map[string]string // letters in place of those of the order
	closed   [][2]bool
	compound []*group // pieces with compound ends, where the saw does not tilt
	problems []text.Problem
}

// best gives the shape as it is shown: of all ways to lie the one with the greatest end numbers, the first end first. Of
// ways that are equal in that it takes the one as it is built; a round piece is built with any roll, so that there the
// whole shape decides.
func best(s *shape) (show shape, turned bool) {
	var numbers, whole []float64
	for _, m := range s.motions() {
		x := s.moved(m)
		ends, _ := x.numbersOf()
		n := []float64{ends[0].MiterDeg, ends[1].MiterDeg, ends[0].BevelDeg, ends[1].BevelDeg}
		c := 1
		if numbers != nil {
			if c = order(n, numbers); c == 0 && s.section.Round && m.Turned == turned {
				c = order(x.list(), whole)
			}
		}
		if c > 0 {
			show, numbers, turned = x, n, m.Turned
			if s.section.Round {
				whole = x.list()
			}
		}
	}
	return show, turned
}

func (g *gatherer) member(i int) {
	m := &g.f.Members[i]
	s := shapeOf(m)
	over := measure.FromMM(m.OverMM)
	k := g.known.find(&s, over, g.groups, func(*group) bool { return true })
	if k < 0 {
		k = len(g.groups)
		show, _ := best(&s)
		g.known.add(&show, over, k)
		p := g.pieceOf(&show)
		p.Length = measure.FromMM(s.length)
		p.Over, p.CutFit, p.Where = over, m.CutFit, m.Where
		p.MassKG = m.MassKG()
		g.groups = append(g.groups, newGroup(p, show))
	}
	p := &g.groups[k].piece
	p.Qty++
	p.Members = append(p.Members, m.Name)
	p.Indices = append(p.Indices, i)
}

// pieceOf fills in what follows from the shape.
func (g *gatherer) pieceOf(s *shape) Piece {
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
		if x.handed && x.piece.Hand == "" {
			x.piece.Hand = "right"
			if x.left() {
				x.piece.Hand = "left"
			}
		}
		if x.piece.Mark != "" {
			continue
		}
		k := -1
		if x.handed {
			other := x.shape.mirrored()
			k = g.known.find(&other, x.piece.Over, g.groups, func(y *group) bool { return y != x && y.piece.Mark == "" })
		}
		if k < 0 {
			x.piece.Mark = name()
			continue
		}
		// Two hands of one piece share the letter.
		m := name()
		left := x.piece.Hand == "left"
		for _, h := range []*Piece{&x.piece, &g.groups[k].piece} {
			h.Hand = "right"
			if (h == &x.piece) == left {
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
