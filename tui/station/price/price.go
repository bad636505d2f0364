// Package price is the station of paint, hours and price, a page each: what is painted and when it is dry; what every
// activity takes, beside what it took; what the job costs, with steppers for the profit, the rate, the price and what an hour
// earns. Each step is reckoned by the core from the costs of the plan and answers at once; nothing is planned anew.
//
// Markup is a share of the cost, margin a share of the price, and the two stand side by side so that nobody confuses them.
package price

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// The pages.
const (
	pagePrice = iota
	pageHours
	pagePaint
	pages
)

var pageNames = [pages]string{"Price", "Hours", "Paint"}

// The steppers of the page of the price.
const (
	stepProfit = iota
	stepRate
	stepPrice
	stepHour
	steppers
)

// Price is the station.
type Price struct {
	page, top int
	at        int // stepper
	of        *plan.Plan
	set       price.Settings
	ownProfit bool // the profit was stepped here
	ownRate   bool
	costs     []price.Costs
	bare      bool // the job has no [quote]: only what is bought counts
}

// New makes the station.
func New() *Price { return &Price{} }

// Name is the station's name.
func (s *Price) Name() string { return "Price" }

// Purpose says what one does here.
func (s *Price) Purpose() string {
	return "What the job costs and what it must bring, the hours behind it, and the paint. Space turns the page. On the page of the price choose a stepper with up and down and step it with left and right: markup or margin, the rate of an hour, the price itself, or what an hour shall pay; all the others follow at once. Nothing is changed in the job until w writes it there."
}

// follow takes a new plan in: what was stepped here stays, all else is the job's.
func (s *Price) follow(d *station.Desk) {
	if d.Plan == nil || d.Plan.Failed() || s.of == d.Plan {
		return
	}
	s.of = d.Plan
	was := s.set
	s.set = price.SettingsOf(d.Plan.Job)
	s.costs, s.bare = d.Plan.Costs, len(d.Plan.Costs) == 0
	if s.bare {
		s.costs = []price.Costs{bought(d.Plan)}
		if s.set.Markup == 0 && s.set.Margin == 0 {
			s.set.Markup = price.One / 4 // something to begin stepping from
		}
	}
	if s.ownProfit {
		s.set.ByMargin, s.set.Markup, s.set.Margin = was.ByMargin, was.Markup, was.Margin
	}
	if s.ownRate {
		s.set.Rate = was.Rate
	}
	s.set.Fixed = was.Fixed
}

// bought is what the plan knows to cost money where the job has no [quote].
func bought(p *plan.Plan) price.Costs {
	c := price.Costs{Frames: 1}
	add := func(kind price.Kind, name, qty string, cost measure.Money, priced bool) {
		if !priced {
			c.Unpriced = append(c.Unpriced, strings.TrimSpace(qty+" "+name))
			return
		}
		c.Lines = append(c.Lines, price.Line{Kind: kind, Name: name, Qty: qty, Cost: cost.Cents()})
	}
	for _, b := range append(append([]plan.Purchase{}, p.Received...), p.Buy...) {
		add(price.Steel, b.Section, fmt.Sprintf("%d x %s", b.Qty, p.Job.Tape.PrintLong(b.Length)), b.Cost, b.Priced)
	}
	if p.YardCuts > 0 && p.Job.Saw.YardCut > 0 {
		add(price.Steel, "cuts by the yard", fmt.Sprint(p.YardCuts), p.Job.Saw.YardCut*measure.Money(p.YardCuts), true)
	}
	for i := range p.Bolts {
		for _, b := range p.Bolts[i].Buy {
			add(price.Hardware, b.Name, fmt.Sprint(b.Qty), b.Price, b.Priced)
		}
	}
	for _, x := range p.Job.Items {
		add(price.Item, x.Name, fmt.Sprint(x.Qty), x.Price*measure.Money(x.Qty), x.Priced)
	}
	return c
}

// quote reckons the n-th column with the steppers as they stand: one frame, then several at one go.
func (s *Price) quote(n int) price.Quote {
	set := s.set
	if n > 0 && set.Fixed > 0 {
		set.Fixed *= measure.Money(s.costs[n].Frames)
	}
	return price.Reckon(s.costs[n], set)
}

// Keys gives the bindings.
func (s *Price) Keys(d *station.Desk) []station.Key {
	s.follow(d)
	off := station.Unplanned(d)
	next := strings.ToLower(pageNames[(s.page+1)%pages])
	keys := []station.Key{{Keys: []string{"space", "v"}, Shown: "space", Does: next, Off: off}}
	if s.page != pagePrice {
		return append(keys, station.Key{Keys: []string{"down", "j", "up", "k", "pgdown", "pgup"}, Shown: "down up", Does: "read on", Off: off})
	}
	other := "by margin"
	if s.set.ByMargin {
		other = "by markup"
	}
	keep := off
	switch {
	case off != "":
	case d.CanEdit != "" || d.Doc == nil:
		if keep = d.CanEdit; keep == "" {
			keep = "the job file cannot be written"
		}
	case !s.ownProfit && !s.ownRate && s.set.Fixed == 0:
		keep = "nothing was stepped"
	}
	stepped := off
	if stepped == "" && !s.ownProfit && !s.ownRate && s.set.Fixed == 0 {
		stepped = "the steppers stand as the job has them"
	}
	return append(keys,
		station.Key{Keys: []string{"left", "right", "-", "+"}, Shown: "left right", Does: "less more", Off: s.stepOff(d)},
		station.Key{Keys: []string{"down", "j", "up", "k"}, Shown: "down up", Does: "choose a stepper", Off: off},
		station.Key{Keys: []string{"m"}, Does: other, Off: off},
		station.Key{Keys: []string{"p"}, Does: "type a price", Off: off},
		station.Key{Keys: []string{"w"}, Does: "into the job", Off: keep},
		station.Key{Keys: []string{"x"}, Does: "as the job has it", Off: stepped},
		station.Key{Keys: []string{"c"}, Does: "copy the price", Off: off, Quiet: true},
		station.Key{Keys: []string{"pgdown", "pgup"}, Does: "read on", Off: off, Quiet: true})
}

// stepOff says why the chosen stepper cannot be stepped.
func (s *Price) stepOff(d *station.Desk) string {
	if off := station.Unplanned(d); off != "" {
		return off
	}
	if s.at >= stepHour && s.costs[0].Hours.PaidS == 0 {
		return "the job counts no hours; give it [labour] and [quote]"
	}
	if s.at == stepRate && s.costs[0].Hours.PaidS == 0 {
		return "the job counts no hours; give it [labour] and [quote]"
	}
	return ""
}

// Press answers a key.
func (s *Price) Press(d *station.Desk, key string) []station.Intent {
	s.follow(d)
	if station.Unplanned(d) != "" {
		return nil
	}
	switch key {
	case "space", "v":
		s.page, s.top = (s.page+1)%pages, 0
		return nil
	case "pgdown":
		s.top += 8
		return nil
	case "pgup":
		s.top = max(0, s.top-8)
		return nil
	}
	if s.page != pagePrice {
		switch key {
		case "down", "j":
			s.top++
		case "up", "k":
			s.top = max(0, s.top-1)
		}
		return nil
	}
	switch key {
	case "down", "j":
		s.at = (s.at + 1) % steppers
	case "up", "k":
		s.at = (s.at + steppers - 1) % steppers
	case "left", "-":
		s.step(d, -1)
	case "right", "+":
		s.step(d, 1)
	case "m":
		s.otherWay()
	case "p":
		return s.offered(d)
	case "w":
		return s.keep(d)
	case "x":
		s.of, s.ownProfit, s.ownRate, s.set.Fixed = nil, false, false, 0
		s.follow(d)
	case "c":
		q := s.quote(0)
		return []station.Intent{station.Copy{Text: q.Price.String() + " " + text.Clean(d.Plan.Job.Currency)}}
	}
	return nil
}

// Most that the steppers reach.
const (
	mostMarkup = 4 * price.One
	mostMargin = price.One * 9 / 10
	mostRate   = 1000 * measure.Whole
)

// step steps the chosen stepper once.
func (s *Price) step(d *station.Desk, by int) {
	if s.stepOff(d) != "" {
		return
	}
	q := s.quote(0)
	switch s.at {
	case stepProfit:
		const half = price.One / 200
		was, most := q.Markup, mostMarkup
		if s.set.ByMargin {
			was, most = q.Margin, mostMargin
		}
		if s.set.Fixed == 0 { // the share as set, not as the rounded price comes to
			if was = s.set.Markup; s.set.ByMargin {
				was = s.set.Margin
			}
		}
		v := min(most, max(0, ladder(was, half, price.Share(by))))
		s.ownProfit, s.set.Fixed = true, 0
		if s.set.ByMargin {
			s.set.Margin = v
		} else {
			s.set.Markup = v
		}
	case stepRate:
		s.ownRate = true
		s.set.Rate = min(mostRate, max(0, ladder(s.set.Rate, measure.Whole, measure.Money(by))))
	case stepPrice:
		s.set.Fixed = max(measure.Whole, ladder(q.Price, priceStep(q.Price, s.set.Step), measure.Money(by)))
	case stepHour:
		set := s.set
		set.Fixed = 0
		hour := max(0, ladder(q.EarnsHour, measure.Whole, measure.Money(by)))
		s.set.Fixed = max(measure.Whole, price.ForHour(s.costs[0], set, hour))
	}
}

// ladder goes from a value to the next rung above or below it.
func ladder[T ~int64](v, rung, by T) T {
	switch rest := v % rung; {
	case rest == 0 || by > 0:
		return v - rest + by*rung
	default:
		return v - rest
	}
}

// priceStep is how far one key moves the price: the job's own rounding, or about one hundredth in a round figure.
func priceStep(p, own measure.Money) measure.Money {
	if own > 0 {
		return own
	}
	for _, s := range []measure.Money{measure.Whole, 5 * measure.Whole, 10 * measure.Whole, 50 * measure.Whole} {
		if p < 150*s {
			return s
		}
	}
	return 100 * measure.Whole
}

// otherWay changes from markup to margin or back; the price stays what it is.
func (s *Price) otherWay() {
	q := s.quote(0)
	s.set.ByMargin, s.ownProfit = !s.set.ByMargin, true
	if q.Price > 0 && q.Cost > 0 && q.Profit >= 0 {
		before := q.Before
		if s.set.Fixed > 0 {
			before = q.Price
		}
		if over := before - q.Cost; s.set.ByMargin {
			s.set.Margin = min(mostMargin, share(over, before))
		} else {
			s.set.Markup = min(mostMarkup, share(over, q.Cost))
		}
	}
}

func share(part, of measure.Money) price.Share {
	if of <= 0 {
		return 0
	}
	return price.ShareOf(max(0, part.Float()/of.Float()))
}

// offered goes the other way round: what a price that somebody offers pays for an hour.
func (s *Price) offered(d *station.Desk) []station.Intent {
	q := s.quote(0)
	return []station.Intent{station.Ask{Prompt: "price:", Initial: q.Price.String(), Help: "before tax; 0 goes back to the markup or margin", Done: func(word string) ([]station.Intent, error) {
		v, err := measure.ParseMoney(strings.TrimSpace(word))
		if err != nil || v < 0 || v > measure.MaxMoney/100 {
			return nil, fmt.Errorf("%q is no price", text.Short(word, 20))
		}
		if s.set.Fixed = v.Cents(); v == 0 {
			return nil, nil
		}
		s.at = stepPrice
		return []station.Intent{station.Say{Text: s.verdict(d), Bad: v < s.quote(0).OutOfHand}}, nil
	}}}
}

// verdict says in a line what the price is worth.
func (s *Price) verdict(d *station.Desk) string {
	q, cur := s.quote(0), text.Clean(d.Plan.Job.Currency)
	switch {
	case q.Price < q.OutOfHand:
		return fmt.Sprintf("at %s the shop pays %s for the work", q.Price.With(cur), (q.OutOfHand - q.Price).With(cur))
	case q.PaidS == 0:
		return fmt.Sprintf("%s leaves %s over what is bought", q.Price.With(cur), q.Profit.With(cur))
	case q.Price < q.Cost:
		return fmt.Sprintf("at %s an hour pays %s, under the rate of %s", q.Price.With(cur), q.EarnsHour, q.Settings.Rate)
	}
	return fmt.Sprintf("at %s an hour pays %s; margin %s, markup %s", q.Price.With(cur), q.EarnsHour, q.Margin.Percent(), q.Markup.Percent())
}

// keep writes what was stepped into the job file.
func (s *Price) keep(d *station.Desk) []station.Intent {
	if d.Doc == nil {
		return nil
	}
	doc := d.Doc
	var failed error
	edit := func(p text.Path, value string) {
		if failed != nil {
			return
		}
		var out []byte
		if value == "" {
			if doc.Find(p) == nil {
				return
			}
			out, failed = doc.Delete(p)
		} else {
			out, failed = doc.Set(p, value)
		}
		if failed == nil {
			doc, _ = text.Parse(doc.Name, out)
		}
	}
	if s.ownProfit {
		way, other, v := "markup", "margin", s.set.Markup
		if s.set.ByMargin {
			way, other, v = "margin", "markup", s.set.Margin
		}
		edit(text.At("quote", other), "")
		edit(text.At("quote", way), text.Quote(strings.ReplaceAll(v.Percent(), " ", "")))
	}
	if s.ownRate {
		edit(text.At("labour", "rate"), s.set.Rate.String())
	}
	if s.set.Fixed > 0 {
		edit(text.At("quote", "offered"), s.set.Fixed.String())
	}
	if failed != nil {
		return []station.Intent{station.Say{Text: "not written: " + failed.Error(), Bad: true}}
	}
	s.ownProfit, s.ownRate = false, false
	return []station.Intent{station.Rewrite{Text: doc.Bytes(), What: "the price as stepped"}}
}

// View draws the station.
func (s *Price) View(d *station.Desk, w, h int) []string {
	if x := station.Waiting(d, w); x != nil {
		return x
	}
	s.follow(d)
	var body []string
	switch s.page {
	case pageHours:
		body = s.hours(d, w)
	case pagePaint:
		body = s.paint(d, w)
	default:
		body = s.money(d, w, h-1)
	}
	room := max(1, h-1)
	s.top = max(0, min(s.top, len(body)-room))
	body = body[s.top:]
	if len(body) > room {
		body = append(body[:room-1:room-1], d.Look.Dim.Render(fmt.Sprintf("  %d more lines", len(body)-room+1)))
	}
	return append([]string{s.tabs(d)}, body...)
}

// tabs shows which page lies open.
func (s *Price) tabs(d *station.Desk) string {
	l := d.Look
	line := " "
	for i, n := range pageNames {
		if i == s.page {
			line += l.Mark.Render(" "+n+" ") + " "
		} else {
			line += l.Dim.Render(" "+n+" ") + " "
		}
	}
	return line
}

// Figures gives the workings of the page that lies open.
func (s *Price) Figures(d *station.Desk) []string {
	s.follow(d)
	p := d.Plan
	var fs []figure.Figure
	switch s.page {
	case pageHours:
		if p.Hours != nil {
			fs = append(fs, p.Hours.Figures...)
			for _, e := range p.Hours.Entries {
				fs = append(fs, e.Working)
			}
		}
	case pagePaint:
		if p.Paint != nil {
			fs = p.Paint.Figures
		}
	default:
		q := s.quote(0)
		fs = q.Figures("price.", text.Clean(p.Job.Currency))
	}
	var out []string
	for _, f := range fs {
		if f.ID != "" {
			out = append(out, f.Working())
		}
	}
	return out
}

// wrapped breaks a text into lines of the station's width.
func wrapped(s string, w int) []string { return draw.Wrap(text.Clean(s), max(10, w)) }
