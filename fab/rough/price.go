package rough

import (
	"context"
	"fmt"
	"math"
	"slices"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// Input is what a rough price is reckoned with, besides the answers.
type Input struct {
	Plan plan.Input // Steel, Book, Today, Past are used
	Shop []job.File
	Like *plan.Plan // the job that it is like, planned; nil: none
}

// Swing is how far the price moves with one thing that is not known.
type Swing struct {
	What      string
	Low, High measure.Money // the price with it at its least and at its most
	Why       string
}

// Price is the answer.
type Price struct {
	Likely, Low, High measure.Money // before tax
	Quote             price.Quote
	Swings            []Swing // the largest first
	Plan              *plan.Plan
	SteelMM           float64
	Joints            int
	Notes             []string
	Figures           []figure.Figure
}

// Shares by which what was answered may be off, at the least and at the most: this program's own (a guess over the telephone),
// common practice where they say so.
const (
	sizeOff       = 0.10
	jointsOff     = 0.25
	steelOff      = 0.08
	oldSteelOff   = 0.20 // where the price is old
	paceLess      = 0.15
	paceMore      = 0.35 // work grows more often than it shrinks
	learntPaceOff = 0.15 // where the last jobs say what work takes
	likeOff       = 0.15
)

// Reckon gives the price. An error says what of the answers is missing or cannot be built.
func Reckon(ctx context.Context, a Answers, in Input) (*Price, error) {
	if err := a.Check(); err != nil {
		return nil, err
	}
	if in.Like != nil {
		return like(a, in)
	}
	base, err := build(ctx, a, in, 1, 1)
	if err != nil {
		return nil, err
	}
	r := &Price{Plan: base, Notes: base.Notes}
	if base.Hours == nil || len(base.Costs) == 0 {
		return nil, fmt.Errorf("nothing can be priced: no hours and no costs came out")
	}
	costs, set := base.Costs[0], price.SettingsOf(base.Job)
	r.Quote = price.Reckon(costs, set)
	r.Likely = r.Quote.Price
	r.SteelMM = steelOf(base)
	r.Joints = len(base.Frame.Joints)
	again := func(scale, joints float64) measure.Money {
		p, err := build(ctx, a, in, scale, joints)
		if err != nil || len(p.Costs) == 0 {
			return r.Likely
		}
		return price.Reckon(p.Costs[0], set).Price
	}
	r.Swings = append(r.Swings, Swing{"sizes", again(1-sizeOff, 1), again(1+sizeOff, 1), "told, not measured: 10 % less to 10 % more"})
	if a.Sizes[0] == 0 || a.Bars > 0 {
		r.Swings = append(r.Swings, Swing{"joints", again(1, 1-jointsOff), again(1, 1+jointsOff), "a quarter less to a quarter more bars and joints"})
	}
	r.common(costs, set)
	r.spread()
	return r, nil
}

// build plans the small job.
func build(ctx context.Context, a Answers, in Input, scale, joints float64) (*plan.Plan, error) {
	if shape, err := steel.ParseShape(a.Shape); err == nil {
		if sec, err := steel.New(steel.Spec{Shape: shape, Size: a.Size, Unit: a.Units}, in.Plan.Steel); err == nil {
			a.depthMM = sec.Depth.MM()
		}
	}
	src := a.Job(scale, joints)
	rd := job.Reader{Catalogue: &in.Plan.Steel}
	j, problems := rd.Read(job.File{Name: "answers", Data: src}, in.Shop...)
	if j.Welder == nil && !text.HasErrors(problems) {
		j, problems = rd.Read(job.File{Name: "answers", Data: append(src, plainWelder...)}, in.Shop...)
	}
	if text.HasErrors(problems) {
		return nil, fault(problems)
	}
	pi := in.Plan
	pi.Job, pi.Effort, pi.Work = &j, -1, nil
	p := plan.Build(ctx, pi)
	if p.Failed() {
		return nil, fault(p.Problems)
	}
	return p, nil
}

// steelOf is the length of all pieces, tip to tip.
func steelOf(p *plan.Plan) (mm float64) {
	for _, x := range p.Pieces {
		mm += x.Length.MM() * float64(x.Qty)
	}
	return mm
}

func fault(problems []text.Problem) error {
	for _, p := range problems {
		if p.Severity == text.Error {
			return fmt.Errorf("the answers make no frame that can be built: %s", p.Message)
		}
	}
	return nil
}

// like takes the costs of an earlier job, made as many times larger. What is shared by a lot (office, errands, set-up) does
// not grow.
func like(a Answers, in Input) (*Price, error) {
	p := in.Like
	if len(p.Costs) == 0 {
		return nil, fmt.Errorf("the job that it is like has no [quote], in its own file or the shop's, so it has no price to go by")
	}
	r := &Price{Plan: p, Joints: int(math.Round(float64(len(p.Frame.Joints)) * a.Times))}
	r.SteelMM = steelOf(p) * a.Times
	set := price.SettingsOf(p.Job)
	at := func(times float64) measure.Money { return price.Reckon(scaled(p.Costs[0], times, 1, 1), set).Price }
	costs := scaled(p.Costs[0], a.Times, 1, 1)
	r.Quote = price.Reckon(costs, set)
	r.Likely = r.Quote.Price
	r.Swings = append(r.Swings, Swing{"size", at(a.Times * (1 - likeOff)), at(a.Times * (1 + likeOff)), "how much larger it is than the other: 15 % less to 15 % more"})
	r.common(costs, set)
	r.spread()
	return r, nil
}

// scaled makes costs larger: materials, hours that grow, steel by itself.
func scaled(c price.Costs, times, pace, steel float64) price.Costs {
	out := c
	out.Lines, out.Hours.Entries = slices.Clone(c.Lines), slices.Clone(c.Hours.Entries)
	for i := range out.Lines {
		l := &out.Lines[i]
		f := times
		switch l.Kind {
		case price.Steel, price.Credit:
			f *= steel
		case price.Sundries, price.Delivery:
			f = 1
		}
		l.Cost = l.Cost.Scale(f)
	}
	out.Hours.PlanS, out.Hours.PaidS = 0, 0
	for i := range out.Hours.Entries {
		e := &out.Hours.Entries[i]
		f := times * pace
		if e.Shared {
			f = pace
		}
		e.PlanS, e.PaidS = int64(math.Round(float64(e.PlanS)*f)), int64(math.Round(float64(e.PaidS)*f))
		out.Hours.PlanS, out.Hours.PaidS = out.Hours.PlanS+e.PlanS, out.Hours.PaidS+e.PaidS
	}
	return out
}

// common adds the swings that every rough price has: what steel costs on the day, and how the work goes.
func (r *Price) common(costs price.Costs, set price.Settings) {
	at := func(pace, steel float64) measure.Money { return price.Reckon(scaled(costs, 1, pace, steel), set).Price }
	off, why := steelOff, "the yard's price on the day: 8 % less to 8 % more"
	for _, u := range r.Plan.Prices {
		if u.Old {
			off, why = oldSteelOff, "the price is old: a fifth less to a fifth more"
		}
	}
	r.Swings = append(r.Swings, Swing{"steel price", at(1, 1-off), at(1, 1+off), why})
	less, more, pace := paceLess, paceMore, "how the work goes: 15 % less to 35 % more time"
	for _, e := range costs.Hours.Entries {
		if e.PastX > 0 {
			less, more, pace = learntPaceOff, learntPaceOff, "how the work goes, beside the last jobs: 15 % less to 15 % more time"
		}
	}
	r.Swings = append(r.Swings, Swing{"hours", at(1-less, 1), at(1+more, 1), pace})
}

var rss = figure.Source{Kind: figure.Standard, Text: "JCGM 100:2008 (GUM) 5.1.2: independent contributions add as the root of the sum of their squares"}

// spread combines the swings and sorts them.
func (r *Price) spread() {
	slices.SortStableFunc(r.Swings, func(a, b Swing) int { return int(min(1, max(-1, (b.High-b.Low)-(a.High-a.Low)))) })
	side := func(id, name, sign string, of func(Swing) measure.Money) measure.Money {
		formula := "p " + sign + " sqrt(0"
		in := []figure.Input{figure.In("p", "likely price", r.Likely.Float(), "", "price.price")}
		for i, s := range r.Swings {
			sym := fmt.Sprintf("s%d", i+1)
			formula += fmt.Sprintf(" + %s^2", sym)
			in = append(in, figure.In(sym, "swing of "+s.What, max(0, of(s).Float()), "", s.Why))
		}
		f := figure.New(id, name, "", formula+")", rss, in...).Without("what nobody thought of")
		r.Figures = append(r.Figures, f)
		return measure.Money(math.Round(max(0, f.Value) * float64(measure.Whole))).Cents()
	}
	r.Low = side("rough.low", "price at the low end", "-", func(s Swing) measure.Money { return r.Likely - min(s.Low, s.High) })
	r.High = side("rough.high", "price at the high end", "+", func(s Swing) measure.Money { return max(s.Low, s.High) - r.Likely })
}

// Round rounds a rough price to a figure that one says: to 5 up to 200, to 10 up to 1000, to 50 beyond.
func Round(m measure.Money) measure.Money {
	to := 50 * measure.Whole
	switch {
	case m < 200*measure.Whole:
		to = 5 * measure.Whole
	case m < 1000*measure.Whole:
		to = 10 * measure.Whole
	}
	return (m + to/2) / to * to
}
