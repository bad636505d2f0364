package cutstock

import (
	"context"
	"fmt"
)

// Solve returns a plan of least cost. It is anytime: when ctx ends it returns the best plan so far with Proven false
// (and no error), or ErrNotFound where limited stocks have kept it from finding any. Other errors: ErrInput, an
// *ItemError with ErrTooLong, ErrInfeasible, and ErrDear where Options.Most is set.
func Solve(ctx context.Context, p Problem, o Options) (Answer, error) {
	if err := p.check(); err != nil {
		return Answer{}, err
	}
	s := &solver{p: p, o: o, ctx: ctx}
	s.c = reduce(p)
	s.run()
	if s.best == nil {
		switch {
		case o.Most > 0 && (s.bound >= maxTotal || s.trueBound() > o.Most):
			return Answer{}, ErrDear
		case s.bound >= maxTotal:
			return Answer{}, ErrInfeasible
		}
		return Answer{Bound: s.trueBound()}, ErrNotFound
	}
	a := s.answer()
	if err := Verify(p, a); err != nil {
		panic(fmt.Sprintf("our own plan does not hold: %v", err))
	}
	return a, nil
}

type solver struct {
	p     Problem
	o     Options
	ctx   context.Context
	c     *core
	in    *inst
	best  *plan
	upper int64 // cost of best; above every possible cost while there is none
	bound int64 // proven, in core cost
	nodes int
	m     *master

	gaveUp bool  // a node was left open for numerical reasons
	lowest int64 // the least bound of such nodes
}

func (s *solver) trueBound() int64 { return s.c.base + s.bound*s.c.unit }

func (s *solver) answer() Answer {
	a := Answer{Nodes: s.nodes}
	a.Cost = s.c.base + s.best.cost*s.c.unit
	a.Bound = min(s.trueBound(), a.Cost)
	a.Proven = s.bound >= s.best.cost
	a.Patterns = s.c.assemble(s.best)
	if s.m != nil {
		a.Rounds, a.Pivots = s.m.rounds, s.m.lp.Pivots
	}
	return a
}

// done tells whether the question is answered.
func (s *solver) done() bool {
	if s.o.Most > 0 && (s.best != nil || s.bound >= s.upper) {
		return true
	}
	return s.best != nil && s.bound >= s.best.cost || s.bound >= maxTotal
}

// ended tells whether the time or the rounds are used up.
func (s *solver) ended() bool {
	return s.ctx.Err() != nil || s.o.Rounds > 0 && s.m.rounds >= s.o.Rounds
}

func (s *solver) offer(p *plan) {
	if p == nil || p.cost >= s.upper {
		return
	}
	s.best, s.upper = p, p.cost
	s.tell()
}

func (s *solver) raise(b int64) {
	if b > s.bound {
		s.bound = b
		if s.best != nil && s.bound >= s.upper {
			s.bound = s.upper
		}
		s.tell()
	}
}

func (s *solver) tell() {
	if s.o.Progress != nil && s.best != nil {
		s.o.Progress(s.answer())
	}
}

func (s *solver) run() {
	if s.o.Most > 0 && s.c.base > s.o.Most {
		s.bound = maxTotal
		return
	}
	if len(s.c.size) == 0 {
		s.best = &plan{}
		return
	}
	s.in = s.c.inst()
	s.upper = 1
	for _, b := range s.in.stocks {
		s.upper += b.cost * int64(b.hi)
	}
	if s.o.Most > 0 {
		s.upper = min(s.upper, (s.o.Most-s.c.base)/s.c.unit+1)
	}
	if len(s.in.stocks) == 0 || s.in.size[0] > s.in.stocks[0].cap {
		s.bound = maxTotal
		return
	}
	var room int64
	for _, b := range s.in.stocks {
		if room += min(int64(b.hi), s.c.volume/b.cap+1) * b.cap; room >= s.c.volume {
			break
		}
	}
	if room < s.c.volume {
		s.bound = maxTotal
		return
	}
	if s.offer(quick(s.in)); s.done() {
		return
	}
	for k := range s.in.stocks {
		// A stick that alone costs as much as the plan in hand is no part of a better one.
		if b := &s.in.stocks[k]; b.cost >= s.upper {
			b.hi, b.free = 0, false
		}
	}
	s.m = newMaster(s.in)
	s.m.most = s.o.Rounds
	// The bound by length: every unit of size is worth the same.
	s.m.metalBound(s.upper)
	s.raise(s.m.bound)
	if s.done() {
		return
	}
	for k := range s.in.size {
		for q, b := range s.in.stocks {
			if n := min(int64(s.in.dem[k]), b.cap/s.in.size[k]); n > 0 && b.hi > 0 {
				s.m.add(pattern{int32(q), []take{{int32(k), int32(n)}}})
			}
		}
	}
	if s.best != nil {
		s.m.addPlan(s.best)
	}
	if len(s.in.stocks) > 1 {
		s.m.pr.lax = laxMix
		if !s.root() {
			return
		}
		s.mixes()
		if s.done() || s.ended() {
			return
		}
		s.m.pr.lax = 0
	}
	if !s.root() {
		return
	}
	dives := 12
	if s.o.Most > 0 {
		dives = 4 // a plan one dearer is as good as in hand: what remains is mostly a no
	}
	for v := 0; v < dives && !s.done() && !s.ended(); v++ {
		s.offer(s.m.dive(s.ctx, s.upper, v))
	}
	if s.done() || s.ended() {
		return
	}
	s.lowest = s.upper
	s.tree()
}

// root solves the root master and tells whether the search goes on.
func (s *solver) root() bool {
	out := s.m.generate(s.ctx, s.upper)
	s.raise(s.m.bound)
	if out == pruned && s.best == nil {
		s.bound = maxTotal
	}
	return out == converged
}
