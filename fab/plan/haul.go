package plan

import (
	"context"
	"fmt"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

// HaulCost is what the haul limit costs in one section: the nest as it is beside the nest of the same pieces whose sticks
// may stay whole.
type HaulCost struct {
	Section    string
	With, Free nest.Nest
	Sticks     int           // so many more are bought
	Cost       measure.Money // so much more, the yard's cuts included; 0 where nothing is priced
	Material   measure.Length
	Partings   int
	bought     int
	Why        string // why no nest without the limit can be told; "" where it can
}

// haulCosts nests again without the haul limit, where the limit touches anything, and tells what it costs.
func (p *Plan) haulCosts(ctx context.Context, in Input) {
	if p.Job.Saw.Haul == 0 {
		return
	}
	for i := range p.Nests {
		sn := &p.Nests[i]
		touched := false
		for _, st := range sn.Problem.Sticks {
			touched = touched || !st.OnHand && p.parted(st.Length)
		}
		if !touched {
			continue
		}
		h := HaulCost{Section: sn.Section, With: sn.Nest, Partings: yardCuts(sn.Nest)}
		free := sn.Problem
		free.Rules.Haul, free.Rules.YardTrim, free.Rules.YardCut = 0, 0, 0
		opt := nest.Options{Effort: in.Effort}
		n, err := nest.Solve(ctx, free, opt)
		if w := sn.waiting(); err == nil && w != nil {
			if last, ok := waitLast(ctx, free, n, w, opt); ok {
				n = last
			}
		}
		if err != nil { // cannot be: what fits with the limit fits without; a context may have ended
			h.Why = err.Error()
			p.Haul = append(p.Haul, h)
			continue
		}
		h.Free = n
		h.bought = bought(sn.Problem, sn.Nest)
		h.Sticks, h.Material = h.bought-bought(free, n), measure.Length(sn.Nest.Material.Value-n.Material.Value)
		if sn.Nest.Priced {
			h.Cost = sn.Nest.Cost - n.Cost
		}
		p.Haul = append(p.Haul, h)
		p.note("%s", p.HaulWords(h))
	}
}

func bought(pr nest.Problem, n nest.Nest) (sticks int) {
	for _, u := range n.Used {
		if !pr.Sticks[u.Stick].OnHand {
			sticks++
		}
	}
	return sticks
}

// HaulWords says what the haul limit costs, in a line.
func (p *Plan) HaulWords(h HaulCost) string {
	s := fmt.Sprintf("section %s: the haul limit of %s costs ", h.Section, p.Job.Tape.PrintLong(p.Job.Saw.Haul))
	if h.Why != "" {
		return s + "something, but how much is not known: " + h.Why
	}
	switch {
	case h.Sticks == 0 && h.Cost == 0 && h.Partings == 0:
		return s + "nothing: no stick that is bought has to be parted"
	case h.Sticks == 0 && h.Cost == 0:
		s += fmt.Sprintf("no stick and no money; the yard makes %d", h.Partings)
	default:
		switch {
		case h.Sticks == 0:
			s += "no stick more"
		case h.Sticks < 0:
			s += fmt.Sprintf("%d %s less", -h.Sticks, plural(-h.Sticks, "stick"))
		default:
			s += fmt.Sprintf("%d %s", h.Sticks, plural(h.Sticks, "stick"))
		}
		if h.With.Priced {
			s += ", " + h.Cost.With(p.Job.Currency)
		}
		s += fmt.Sprintf(", with %d", h.Partings)
	}
	s += " " + plural(h.Partings, "cut") + " by the yard"
	switch {
	case h.Material > 0:
		s += fmt.Sprintf(" and %s more steel used up", p.Job.Tape.PrintLong(h.Material))
	case h.Material < 0:
		s += fmt.Sprintf(" and %s less steel used up", p.Job.Tape.PrintLong(-h.Material))
	}
	if !h.With.Proven || !h.Free.Proven {
		s += "; one of the two nests is not proven the best, so it may be a little less or more"
	}
	return s
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

// haulFigures gives the working of what the limit costs.
func (p *Plan) haulFigures() []figure.Figure {
	var fs []figure.Figure
	for _, h := range p.Haul {
		if h.Why != "" {
			continue
		}
		id := "nest." + h.Section + ".haul."
		if h.With.Priced {
			fs = append(fs, figure.New(id+"cost", "what the haul limit costs in "+h.Section, p.Job.Currency, "w - f", proofSource,
				figure.In("w", "money with the limit, the yard's cuts included", h.With.Cost.Float(), p.Job.Currency, "nest."+h.Section+".cost"),
				figure.In("f", "money for the same pieces on whole sticks", h.Free.Cost.Float(), p.Job.Currency, "nest without the limit")))
		}
		fs = append(fs, figure.New(id+"sticks", "sticks more that the haul limit takes in "+h.Section, "", "w - f", proofSource,
			figure.In("w", "sticks bought with the limit", float64(h.bought), "", "nest."+h.Section+".sticks"),
			figure.In("f", "sticks bought for the same pieces without it", float64(h.bought-h.Sticks), "", "nest without the limit")))
	}
	return fs
}
