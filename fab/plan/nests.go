package plan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sort"
	"strings"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// SectionNest is the nest of one section.
type SectionNest struct {
	Section string
	Problem nest.Problem
	Nest    nest.Nest
	Pieces  []int       // of each kind: its index into Plan.Pieces
	Units   [][]int     // of each kind: the numbers of the pieces that are still to be cut
	Waits   []bool      // of each kind: cut to fit, and its length not measured yet
	Offers  []job.Stick // of each of the problem's sticks that is bought: what the job or the book says of it
	Rests   []Rest      // the first sticks of Problem, index for index: what is left of sticks in work
}

// Purchase is one line of the buy list.
type Purchase struct {
	Section  string
	Length   measure.Length
	Qty      int
	Price    measure.Money // for one
	Priced   bool
	Cost     measure.Money
	Supplier string
	Date     book.Day           // of the price; 0: not told
	Old      bool               // the price is old
	Book     bool               // the price is the price book's
	Least    int                // sticks from which on the price holds; 0 or 1: no least
	Parts    [][]measure.Length // where the yard parts each, one list a stick; nil where it parts none
}

// usualSticks are the lengths that yards stock (common practice): 20 ft where inches are used, 6 m where millimetres are.
func usualStick(u measure.Unit) measure.Length {
	if u.Metric() {
		return 6 * measure.Metre
	}
	return 20 * measure.Foot
}

func (p *Plan) nest(ctx context.Context, in Input, report func(Stage)) {
	for i := range p.Job.Sections {
		s := &p.Job.Sections[i]
		sn := SectionNest{Section: s.Name}
		for k := range p.Pieces {
			x := &p.Pieces[k]
			if x.Section != s.Name {
				continue
			}
			p.addKinds(&sn, k, in.Work)
		}
		if len(sn.Pieces) == 0 {
			continue
		}
		sn.Problem.Rules = p.rules(p.Sections[s.Name])
		sn.Rests = p.Done.rests(s.Name)
		sn.Problem.Sticks, sn.Offers = p.sticks(s, sn.Rests, in)
		opt := nest.Options{Effort: in.Effort, Progress: func(n nest.Nest) { report(Stage{"nest " + s.Name, &n}) }}
		n, err := nest.Solve(ctx, sn.Problem, opt)
		if err != nil {
			p.add(p.nestProblem(s, sn, err))
			continue
		}
		if len(sn.Rests) > 0 {
			n = preferRests(ctx, sn.Problem, len(sn.Rests), n, opt)
		}
		if w := sn.waiting(); w != nil {
			before, ok := n, false
			if n, ok = waitLast(ctx, sn.Problem, n, w, opt); !ok {
				p.note("section %s: there is no room to leave what is cut to fit behind all else; some pieces wait with it", s.Name)
			} else if n.Cost > before.Cost {
				p.note("section %s: leaving what is cut to fit behind all else takes %d sticks instead of %d", s.Name, n.Bars, before.Bars)
			}
		}
		sn.Nest = n
		p.Nests = append(p.Nests, sn)
	}
	p.buy()
}

func lays(x *piece.Piece) []nest.Lay {
	out := make([]nest.Lay, 0, len(x.Lays))
	for _, l := range x.Lays {
		out = append(out, nest.Lay{Left: nest.PlaneOf(l.Left.SY, l.Left.SZ), Right: nest.PlaneOf(l.Right.SY, l.Right.SZ), Roll: l.RollDeg, Turned: l.Turned})
	}
	return out
}

func (p *Plan) rules(s steel.Section) nest.Rules {
	w := p.Job.Saw
	return nest.Rules{Kerf: w.Kerf, Trim: w.Trim, TrimEnd: w.TrimEnd, Grip: w.Grip, Keep: w.Keep, Haul: w.Haul, YardTrim: w.YardTrim, YardCut: w.YardCut,
		Depth: s.Depth, Width: s.Width}
}

// sticks gives what a section may be cut from: what is left of sticks in work, what is on hand, what the yard sells.
func (p *Plan) sticks(s *job.Section, rests []Rest, in Input) (out []nest.Stick, offers []job.Stick) {
	sec := p.Sections[s.Name]
	for _, r := range rests {
		st := nest.Stick{Length: r.Left, Limit: 1, OnHand: true, Trimmed: r.Fresh}
		if r.Plane != (nest.Plane{}) {
			st.Ends = []nest.Lay{{Left: r.Plane}}
		}
		out = append(out, st)
	}
	taken := p.Done.taken(s.Name, "shelf")
	onHand := func(length measure.Length, price measure.Money, qty int, e [2]float64) {
		for qty > 0 && taken[length] > 0 {
			taken[length]--
			qty--
		}
		if qty > 0 {
			out = append(out, nest.Stick{Length: length, Price: price, Limit: qty, OnHand: true, Ends: ends(e)})
		}
	}
	for _, h := range p.Job.OnHand {
		if h.Section == s.Name {
			onHand(h.Length, h.Price, h.Qty, h.Ends)
		}
	}
	for _, d := range in.Shelf {
		if sameSteel(d.Section, sec) {
			onHand(d.Length, 0, d.Qty, d.Ends)
		}
	}
	p.inShop(s.Name, func(length measure.Length, qty int) { onHand(length, 0, qty, [2]float64{}) })
	bought := s.Sticks
	if len(bought) == 0 {
		l := usualStick(p.Job.Units)
		p.note("section %s: no sticks given; %s taken, the usual length of the yards", s.Name, p.Job.Tape.Print(l))
		bought = []job.Stick{{Length: l, Limit: -1}}
	}
	offers = make([]job.Stick, len(out))
	p.halfPriced(s, sec, bought)
	for _, b := range bought {
		st := nest.Stick{Length: b.Length, Price: StickPrice(s, sec, b)}
		if paid := p.paid(s.Name, b.Length); paid > 0 {
			st.Price = paid
		}
		most, ok := p.left(s.Name, b.Length, b.Limit)
		if !ok {
			continue
		}
		st.Limit = most
		out, offers = append(out, st), append(offers, b)
	}
	return out, offers
}

// halfPriced warns of sticks without a price among priced ones: they count as free, and the nest would take them for that alone.
func (p *Plan) halfPriced(s *job.Section, sec steel.Section, bought []job.Stick) {
	var free []string
	for _, b := range bought {
		if !b.Priced && StickPrice(s, sec, b) == 0 {
			free = append(free, p.Job.Tape.Print(b.Length))
		}
	}
	if len(free) > 0 && len(free) < len(bought) {
		p.add(s.Where.Problem(text.Warning, "half-priced", fmt.Sprintf("sticks without a price (%s) count as free beside those that have one: give every stick of %s a price, or price = 0 where it is free",
			strings.Join(free, ", "), text.Clean(s.Name))))
	}
}

func ends(e [2]float64) []nest.Lay {
	if e == ([2]float64{}) {
		return nil
	}
	return nest.LaysOf(e[0], e[1], nest.Depth, nest.Rectangular)
}

// sameSteel tells whether a drop will do for a section: the same dimensions; of the grade the worker has to know.
func sameSteel(a, b steel.Section) bool {
	return a.Shape == b.Shape && a.Depth == b.Depth && a.Width == b.Width && a.Wall == b.Wall && a.Flange == b.Flange
}

// StickPrice gives what one stick costs: its own price, or its length or mass by the section's price, to the cent.
func StickPrice(s *job.Section, sec steel.Section, b job.Stick) measure.Money {
	switch {
	case b.Priced:
		return b.Price
	case s.PriceFt > 0:
		return s.PriceFt.Times(int64(b.Length), int64(measure.Foot)).Cents()
	case s.PriceKG > 0:
		return s.PriceKG.Scale(sec.MassKGM() * b.Length.MM() / 1000)
	case s.PriceCwt > 0:
		return s.PriceCwt.Scale(sec.MassKGM() * b.Length.MM() / 1000 / (100 * measure.PoundKG))
	}
	return 0
}

func (p *Plan) nestProblem(s *job.Section, sn SectionNest, err error) text.Problem {
	where, code := s.Where.In("sticks"), "no-nest"
	message := err.Error()
	var e *nest.Error
	if errors.As(err, &e) {
		message = e.Say(p.Job.Tape.PrintLong)
	}
	if e != nil && e.Kind >= 0 && e.Kind < len(sn.Pieces) {
		x := p.Pieces[sn.Pieces[e.Kind]]
		if x.Where.Line > 0 {
			where = x.Where.Size()
		}
		code = "too-long"
		message = fmt.Sprintf("piece %s (%s of %s) cannot be cut", x.Mark, p.Job.Tape.PrintLong(x.Length), s.Name)
		if e.Most > 0 {
			message += fmt.Sprintf(": the longest that a stick of %s holds is %s", s.Name, p.Job.Tape.PrintLong(e.Most))
		} else {
			message += ": " + e.Reason(p.Job.Tape.PrintLong)
		}
		message += "; use a longer stick, or make it of two pieces"
	}
	return where.Problem(text.Error, code, message)
}

// buy counts the sticks that are bought.
func (p *Plan) buy() {
	for _, sn := range p.Nests {
		p.YardCuts += yardCuts(sn.Nest)
		count := map[int]int{}
		parts := map[int][][]measure.Length{}
		for _, u := range sn.Nest.Used {
			if !sn.Problem.Sticks[u.Stick].OnHand {
				count[u.Stick]++
				if len(u.Parts) > 1 {
					parts[u.Stick] = append(parts[u.Stick], u.Partings())
				}
			}
		}
		order := make([]int, 0, len(count))
		for i := range count {
			order = append(order, i)
		}
		sort.Ints(order)
		for _, i := range order {
			st := sn.Problem.Sticks[i]
			b := Purchase{Section: sn.Section, Length: st.Length, Qty: count[i], Price: st.Price, Priced: sn.Nest.Priced,
				Cost: st.Price * measure.Money(count[i]), Parts: parts[i]}
			if i < len(sn.Offers) {
				o := sn.Offers[i]
				b.Supplier, b.Date, b.Old, b.Book, b.Least = o.Supplier, o.Date, p.book.Old(o.Date, p.Today), o.Book > 0, o.Least
			}
			p.Buy = append(p.Buy, b)
		}
	}
}

func (p *Plan) queue(in Input) {
	for _, sn := range p.Nests {
		sec := p.Sections[sn.Section]
		b := cut.Bundle{Section: sn.Section, InWork: len(sn.Rests), Waits: sn.Waits, Problem: sn.Problem, Nest: sn.Nest, Depth: sec.Depth, Width: sec.Width, Flips: sec.Symmetry().HalfRoll, Round: sec.Shape.Round(),
			AreaMM2: sec.Properties(steel.Nominal).AreaMM2}
		for i, k := range sn.Pieces {
			x := p.Pieces[k]
			b.Units = append(b.Units, sn.Units[i])
			b.Marks = append(b.Marks, x.Mark)
			b.Ends = append(b.Ends, [2]float64{x.Ends[0].MiterDeg, x.Ends[1].MiterDeg})
			b.Faces = append(b.Faces, faceOf(x.Across))

		}
		p.Bundles = append(p.Bundles, b)
	}
	rates := p.sawRates(in)
	w := p.Job.Saw
	rates.StopMaxMM = w.StopMax.MM()
	p.Queue = cut.Build(p.Bundles, cut.Saw{Kerf: w.Kerf, Limited: w.SwingGiven, Least: w.Swing[0], Most: w.Swing[1], Tilts: w.Tilts}, rates)
	p.nameSticks(p.Done)
	if most := steepest(p.Queue); !w.SwingGiven && most > ordinarySwing {
		p.note("saw: swing is left out, and %.4g degrees from square are planned, which many saws do not reach: write what yours does, such as swing = [-45, 60], and the plan says how to cut what lies beyond", most)
	}
}

// ordinarySwing is as far as a small bandsaw's vise turns at the least (common practice).
const ordinarySwing = 45.0

// steepest gives the greatest swing in a queue, to either side, to the hundredth of a degree.
func steepest(q cut.Queue) float64 {
	most := 0.0
	for _, s := range q.Steps {
		most = max(most, math.Abs(s.SwingDeg))
	}
	return math.Round(most*100) / 100
}

func faceOf(across string) nest.Face {
	if across == "width" {
		return nest.Width
	}
	return nest.Depth
}
