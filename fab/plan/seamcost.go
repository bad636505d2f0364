package plan

import (
	"context"
	"fmt"
	"slices"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/piece"
)

// SeamCost is what it costs in one section to keep the tube's own seam to one face: the nest as it is beside the nest of
// the same pieces that may lie with the seam anywhere.
type SeamCost struct {
	Section    string
	With, Free nest.Nest
	Sticks     int           // so many more are bought
	Cost       measure.Money // so much more; 0 where nothing is priced
	Material   measure.Length
}

// seamCosts nests every section with `tube_seam = "inside"` again without that, and tells what it costs.
func (p *Plan) seamCosts(ctx context.Context, in Input) {
	free := *p.Job
	free.Sections = slices.Clone(p.Job.Sections)
	kept := map[string]bool{}
	for i := range free.Sections {
		if s := &free.Sections[i]; s.TubeSeam == "inside" {
			kept[s.Name] = true
			s.TubeSeam = "any"
		}
	}
	if len(kept) == 0 {
		return
	}
	f, _ := frame.Build(&free, p.Sections) // its problems were told of the frame as it is
	pieces, _ := piece.Gather(f, &free)
	members, loose := map[string]int{}, map[job.Where]int{}
	for k := range pieces {
		for _, m := range pieces[k].Members {
			members[m] = k
		}
		if len(pieces[k].Members) == 0 {
			loose[pieces[k].Where] = k
		}
	}
	for i := range p.Nests {
		sn := &p.Nests[i]
		if !kept[sn.Section] {
			continue
		}
		q := sn.Problem
		q.Kinds = slices.Clone(q.Kinds)
		for k := range q.Kinds {
			x := &p.Pieces[sn.Pieces[k]]
			y, ok := loose[x.Where]
			if len(x.Members) > 0 {
				y, ok = members[x.Members[0]]
			}
			if ok {
				q.Kinds[k].Lays = lays(&pieces[y])
			}
		}
		opt := nest.Options{Effort: in.Effort}
		n, err := nest.Solve(ctx, q, opt)
		if w := sn.waiting(); err == nil && w != nil {
			if last, ok := waitLast(ctx, q, n, w, opt); ok {
				n = last
			}
		}
		if err != nil {
			continue // what fits with the seam kept fits without; a context may have ended
		}
		c := SeamCost{Section: sn.Section, With: sn.Nest, Free: n, Sticks: bought(sn.Problem, sn.Nest) - bought(q, n), Material: measure.Length(sn.Nest.Material.Value - n.Material.Value)}
		if sn.Nest.Priced {
			c.Cost = sn.Nest.Cost - n.Cost
		}
		p.Seams = append(p.Seams, c)
		p.note("%s", p.seamWords(c))
	}
}

// seamWords says in a line where the seam lies and what that costs.
func (p *Plan) seamWords(c SeamCost) string {
	s := fmt.Sprintf("section %s: the tube's own seam lies at the back of a piece shown across its depth, underneath one shown across its width (in a rectangle it looks inwards); keeping it there costs ", c.Section)
	switch {
	case c.Sticks == 0 && c.Cost == 0 && c.Material <= 0:
		s += "nothing"
	case c.Sticks == 0 && c.Cost == 0:
		s += "no stick and no money"
	default:
		s += fmt.Sprintf("%d %s", c.Sticks, plural(c.Sticks, "stick"))
		if c.With.Priced {
			s += ", " + c.Cost.With(p.Job.Currency)
		}
	}
	if c.Material > 0 {
		s += fmt.Sprintf("; %s more steel is used up", p.Job.Tape.PrintLong(c.Material))
	}
	if !c.With.Proven || !c.Free.Proven {
		s += "; one of the two nests is not proven the best, so it may be a little less or more"
	}
	return s
}
