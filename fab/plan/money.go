package plan

import (
	"context"
	"fmt"
	"slices"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/mass"
	"bench.example/soapstone/fab/paint"
	"bench.example/soapstone/fab/price"
)

// Trade is what a job takes and brings: paint, hours, price.
type Trade struct {
	Paint  *paint.Sheet  // nil without [paint]
	Hours  *price.Hours  // of one frame; nil without [labour] and [quote]
	Costs  []price.Costs // of one frame, then of [quote] many at one go where they can be cut; nil without [quote]
	Quotes []price.Quote // index for index with Costs
	Offer  *price.Quote  // at the price that somebody offers ([quote] offered); nil where nobody does
	Stated []price.Ratio // what the record of work says was done of this job, beside the plan
}

// coat reckons the paint; its weight is part of what is hoisted.
func (p *Plan) coat() {
	p.Paint = paint.Make(paint.Input{Job: p.Job, Frame: p.Frame, Pieces: p.Pieces, Sections: p.Sections})
}

// paintWeight gives the paint or zinc of each member, and of the plates, as mass.
func (p *Plan) paintWeight() []mass.Extra {
	if p.Paint == nil || p.Paint.MassKG <= 0 {
		return nil
	}
	var out []mass.Extra
	for _, c := range p.Paint.Cover {
		out = append(out, mass.Extra{Kind: mass.Paint, Name: "on " + c.Member, KG: c.KG, Member: c.Member})
	}
	for _, a := range p.Paint.Areas {
		if a.Name == "plates" && p.Paint.PerMM2KG > 0 {
			out = append(out, mass.Extra{Kind: mass.Paint, Name: "on plates", KG: a.M2 * 1e6 * p.Paint.PerMM2KG})
		}
	}
	return out
}

// money reckons hours, costs and quotes.
func (p *Plan) money(ctx context.Context, in Input) {
	q := &p.Job.Quote
	if !q.Given && !p.Job.Labour.Given {
		return
	}
	one := p.whole(ctx, in, 1, nil)
	if one == nil {
		return
	}
	h := p.hours(one, in.Past)
	p.Stated = p.took(one, in.Work)
	h.Took(p.Stated)
	p.Hours = &h
	if !q.Given {
		return
	}
	p.Costs = []price.Costs{p.costs(one, h)}
	if q.Many > 1 {
		if many := p.whole(ctx, in, q.Many, one); many != nil {
			p.Costs = append(p.Costs, p.costs(many, p.hours(many, in.Past)))
		}
	}
	s := price.SettingsOf(p.Job)
	for _, c := range p.Costs {
		p.Quotes = append(p.Quotes, price.Reckon(c, s))
	}
	if q.Offered > 0 {
		o := price.At(p.Costs[0], s, q.Offered)
		p.Offer = &o
	}
	if !q.ProfitGiven {
		p.note("no markup and no margin given: the price is the cost")
	}
	if p.Job.Labour.Rate == 0 {
		p.note("no [labour] rate given: hours are counted, not charged")
	}
}

// lot is so many frames made at one go, nested together as if nothing had been cut yet.
type lot struct {
	n       int
	nests   []SectionNest
	bundles []cut.Bundle
	queue   cut.Queue
	paint   *paint.Sheet
}

// mostTogether is how many pieces of one section are nested together for a lot; beyond it each frame's nest is repeated,
// which costs no less.
const mostTogether = 400

// whole gives the lot of n frames; nil where they cannot be cut, of which a note tells. one is the lot of a single frame, for
// lots too large to be nested together.
func (p *Plan) whole(ctx context.Context, in Input, n int, one *lot) *lot {
	l := &lot{n: n, nests: p.Nests, bundles: p.Bundles, queue: p.Queue, paint: p.Paint}
	if n == 1 && p.untouched() {
		return l
	}
	x := &Plan{Job: p.Job, catalogue: p.catalogue, Sections: p.Sections, Frame: p.Frame, Pieces: slices.Clone(p.Pieces), book: p.book, Today: p.Today}
	most, count := 0, map[string]int{}
	for i := range x.Pieces {
		x.Pieces[i].Qty *= n
		count[x.Pieces[i].Section] += x.Pieces[i].Qty
		most = max(most, count[x.Pieces[i].Section])
	}
	if n > 1 {
		l.paint = paint.Make(paint.Input{Job: p.Job, Frame: p.Frame, Pieces: p.Pieces, Sections: p.Sections, Frames: n})
		if most > mostTogether {
			p.note("%d frames: more than %d pieces of a section; the price is that of %d single frames, sticks not shared", n, mostTogether, n)
			return one.repeated(n, l.paint)
		}
	}
	fresh := Input{Job: p.Job, Steel: in.Steel, Shelf: in.Shelf, Rates: in.Rates, Effort: -1, Book: in.Book, Today: in.Today}
	x.nest(ctx, fresh, func(Stage) {})
	if x.Failed() {
		if n > 1 {
			p.note("%d frames at one go cannot be cut: %s", n, x.Problems[0].Message)
		}
		return nil
	}
	x.queue(fresh)
	l.nests, l.bundles, l.queue = x.Nests, x.Bundles, x.Queue
	return l
}

// repeated makes the lot of n times the same nest.
func (l *lot) repeated(n int, sheet *paint.Sheet) *lot {
	m := &lot{n: n, nests: slices.Clone(l.nests), bundles: l.bundles, queue: l.queue, paint: sheet}
	for i := range m.nests {
		m.nests[i].Nest.Used = slices.Repeat(m.nests[i].Nest.Used, n)
	}
	m.queue.Steps = slices.Repeat(m.queue.Steps, n)
	m.queue.EstS *= float64(n)
	return m
}

// untouched tells whether nothing was cut or received yet: the plan is that of the whole job.
func (p *Plan) untouched() bool {
	return len(p.Done.Cut) == 0 && len(p.Done.Rests) == 0 && len(p.Done.Taken) == 0 && len(p.receipts) == 0
}

// tradeFigures gives the working of paint, hours and price.
func (p *Plan) tradeFigures() []figure.Figure {
	var fs []figure.Figure
	if p.Paint != nil {
		fs = append(fs, p.Paint.Figures...)
	}
	if p.Hours != nil {
		for _, e := range p.Hours.Entries {
			fs = append(fs, e.Working)
		}
		fs = append(fs, p.Hours.Figures...)
	}
	cur := p.Job.Currency
	for i := range p.Quotes {
		prefix := "price."
		if i > 0 {
			for _, e := range p.Costs[i].Hours.Entries {
				fs = append(fs, e.Working)
			}
			fs = append(fs, p.Costs[i].Hours.Figures...)
			prefix = fmt.Sprintf("price.of%d.", p.Quotes[i].Frames)
		}
		fs = append(fs, p.Quotes[i].Figures(prefix, cur)...)
	}
	if p.Offer != nil {
		fs = append(fs, p.Offer.Figures("price.offered.", cur)...)
	}
	return fs
}

// tradeJSON fills in paint, hours and price.
func (p *Plan) tradeJSON(d *Document) {
	if j := p.Paint.JSON(); j != nil {
		d.Paint = j
	}
	if p.Hours != nil {
		d.Hours = p.Hours.JSON()
	}
	if len(p.Quotes) > 0 {
		q := &p.Job.Quote
		d.Price = price.QuoteJSON(p.Quotes, p.Offer, p.Costs[0].Unpriced, q.ValidDays, q.LeadDays)
	}
}
