package price

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// money is the page of the price.
func (s *Price) money(d *station.Desk, w, h int) []string {
	l := d.Look
	q, cur := s.quote(0), text.Clean(d.Plan.Job.Currency)
	amount := q.Price.String()
	what := cur + " before tax"
	if s.bare {
		what = cur + " for what is bought"
	} else if q.Tax > 0 {
		what += ", " + q.Total.String() + " with it"
	}
	var out []string
	if draw.DigitsWidth(amount) <= w-6 && h >= 17 {
		if h >= 24 {
			out = append(out, "")
		}
		for _, r := range draw.Digits(amount, []rune(l.Signs.Full)[0]) {
			out = append(out, "  "+l.Strong.Render(r))
		}
		out = append(out, "  "+l.Dim.Render(what))
	} else {
		out = append(out, "  "+l.Strong.Render(amount)+" "+l.Dim.Render(what))
	}
	out = append(out, s.stepperRows(d, q, w)...)
	line := fmt.Sprintf("markup %s = margin %s; %s over the cost", q.Markup.Percent(), q.Margin.Percent(), q.Profit)
	if w >= 90 {
		line = fmt.Sprintf("markup %s of the cost = margin %s of the price; %s over the cost", q.Markup.Percent(), q.Margin.Percent(), q.Profit)
	}
	if q.AtLeast {
		line += "; the minimum charge decides"
	}
	for _, x := range wrapped(line, w-4) {
		out = append(out, l.Chalk.Render("  "+x))
	}
	if q.Price < q.Cost {
		style := l.Warn
		if q.Price < q.OutOfHand {
			style = l.Bad
		}
		for _, x := range wrapped(s.verdict(d), w-6) {
			out = append(out, style.Render("  "+l.Signs.Warn+" "+x))
		}
	}
	if h >= 24 {
		out = append(out, "")
	}
	wide := min(64, w-4)
	if w >= 110 {
		wide = min(64, w-60)
	}
	right := s.costLines(d, q, wide)
	table := s.columns(d, w)
	if w >= 110 {
		out = append(out, draw.Columns(table, right, 54, 2)...)
	} else {
		out = append(append(append(out, table...), ""), right...)
	}
	return append(out, s.warnings(d, w)...)
}

// stepperRows draws the steppers.
func (s *Price) stepperRows(d *station.Desk, q price.Quote, w int) []string {
	l := d.Look
	cells := max(6, min(36, w-46))
	full, light := []rune(l.Signs.Full)[0], []rune(l.Signs.Light)[0]
	profit, v, most := "markup", q.Markup, mostMarkup/2
	if s.set.ByMargin {
		profit, v, most = "margin", q.Margin, mostMargin
	}
	part := func(a, b measure.Money) float64 {
		if b <= 0 {
			return 0
		}
		return min(1, max(0, a.Float()/b.Float()))
	}
	if s.set.Fixed == 0 { // as set; what the rounded price comes to stands below
		if v = s.set.Markup; s.set.ByMargin {
			v = s.set.Margin
		}
	}
	hour := q.EarnsHour
	rows := []struct {
		name, value string
		share       float64
		off         bool
	}{
		{profit, v.Percent(), min(1, max(0, v.Float()/most.Float())), false},
		{"rate", s.set.Rate.String() + " an hour", part(s.set.Rate, 200*measure.Whole), q.PaidS == 0},
		{"price", q.Price.String(), part(q.Price, 2*q.Cost), false},
		{"an hour pays", hour.String(), part(hour, 200*measure.Whole), q.PaidS == 0},
	}
	var out []string
	for i, r := range rows {
		name := fmt.Sprintf("%-13s", r.name)
		lead := "   " + l.Chalk.Render(name)
		if i == s.at {
			lead = " " + l.Mark.Render(l.Signs.Next+" "+name)
		}
		bar := l.Key.Render("< ") + l.Hot.Render(draw.Gauge(r.share, cells, full, light)) + l.Key.Render(" > ") + l.Strong.Render(r.value)
		if r.off {
			bar = l.Dim.Render("no hours are counted")
		}
		if i == stepPrice && s.set.Fixed > 0 {
			bar += l.Warn.Render("  as typed or stepped")
		}
		out = append(out, lead+bar)
	}
	return out
}

// columns is the price of one frame beside that of several made at one go.
func (s *Price) columns(d *station.Desk, w int) []string {
	l := d.Look
	var qs []price.Quote
	for i := range s.costs {
		qs = append(qs, s.quote(i))
	}
	first := min(24, max(16, w-28))
	head := fmt.Sprintf("%-*s", first, "")
	for _, q := range qs {
		name := "one frame"
		if q.Frames > 1 {
			name = fmt.Sprintf("each of %d", q.Frames)
		}
		head += fmt.Sprintf("%13s", name)
	}
	out := []string{"  " + l.Dim.Render(head)}
	row := func(name string, strong bool, of func(q price.Quote) string) {
		line := fmt.Sprintf("%-*s", first, draw.FitLine(name, first))
		for _, q := range qs {
			line += fmt.Sprintf("%13s", of(q))
		}
		if strong {
			out = append(out, "  "+l.Strong.Render(line))
			return
		}
		out = append(out, "  "+l.Chalk.Render(line))
	}
	each := func(m measure.Money, q price.Quote) string { return price.Product(m, 1, int64(q.Frames)).String() }
	row("price", true, func(q price.Quote) string { return q.Each.String() })
	row("break-even: the cost", false, func(q price.Quote) string { return each(q.BreakEven, q) })
	if s.costs[0].Hours.PaidS > 0 {
		row("an hour pays", true, func(q price.Quote) string { return q.EarnsHour.String() })
		if qs[0].WorkS != qs[0].PaidS {
			row("the same, rests too", false, func(q price.Quote) string { return q.EarnsAll.String() })
		}
		row("hours", false, func(q price.Quote) string { return hoursOf(float64(q.PaidS) / float64(q.Frames)) })
		row("below it hours are free", false, func(q price.Quote) string { return each(q.OutOfHand, q) })
	}
	if qs[0].Tax > 0 {
		row("with tax", false, func(q price.Quote) string { return each(q.Total, q) })
	}
	if qs[0].Deposit > 0 {
		row("deposit", false, func(q price.Quote) string { return each(q.Deposit, q) })
	}
	if len(qs) > 1 && qs[0].Each > 0 {
		off := 1 - qs[1].Each.Float()/qs[0].Each.Float()
		for _, x := range wrapped(fmt.Sprintf("%d at one go share sticks and set-ups: %.1f %% off each", qs[1].Frames, off*100), min(w-4, 50)) {
			out = append(out, l.Dim.Render("  "+x))
		}
	}
	return out
}

func hoursOf(seconds float64) string {
	m := int(seconds/60 + 0.5)
	return fmt.Sprintf("%d h %02d", m/60, m%60)
}

// costLines lists what the cost is made of.
func (s *Price) costLines(d *station.Desk, q price.Quote, w int) []string {
	l := d.Look
	var out []string
	line := func(a, b string, strong bool) {
		if room := w - utf8.RuneCountInString(b) - 2; utf8.RuneCountInString(a) > room {
			a = text.Short(a, max(4, room))
		}
		gap := max(1, w-utf8.RuneCountInString(a)-utf8.RuneCountInString(b))
		if strong {
			out = append(out, "  "+l.Strong.Render(a+strings.Repeat(" ", gap)+b))
			return
		}
		out = append(out, "  "+l.Chalk.Render(a)+l.Rule.Render(strings.Repeat(".", gap))+l.Chalk.Render(b))
	}
	for _, x := range q.Lines {
		name := text.Clean(x.Name)
		if x.Qty != "" {
			name += ", " + text.Clean(x.Qty)
		}
		line(name, x.Cost.String(), false)
	}
	line("cost", q.Cost.With(text.Clean(d.Plan.Job.Currency)), true)
	return out
}

// warnings tells of old prices, of what has no price, and of what the haul limit costs.
func (s *Price) warnings(d *station.Desk, w int) []string {
	l, p := d.Look, d.Plan
	var out []string
	say := func(format string, a ...any) {
		for _, x := range wrapped(fmt.Sprintf(format, a...), w-6) {
			out = append(out, l.Warn.Render("  "+x))
		}
	}
	for _, u := range p.Prices {
		if u.Old {
			say("OLD price: %s at %s is of %s, %d days ago", u.What, u.Each, u.Date, u.AgeDays)
		}
	}
	if m := s.costs[0].Unpriced; len(m) > 0 {
		say("without a price: %s", strings.Join(m, ", "))
	}
	for _, h := range p.Haul {
		out = append(out, "")
		for _, x := range wrapped(p.HaulWords(h), w-6) {
			out = append(out, l.Dim.Render("  "+x))
		}
	}
	if s.bare {
		for _, x := range wrapped("The job has no [quote]: hours, paint and overhead do not count yet. Add [labour] and [quote] at the sketch, or to the shop file.", w-6) {
			out = append(out, l.Dim.Render("  "+x))
		}
	}
	return out
}
