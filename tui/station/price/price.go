// Package price is the station of the quote: what the steel and the hardware cost, and a stepper for markup or margin that
// answers at once. Markup is a share of the cost, margin a share of the price, and the two stand side by side so that
// nobody confuses them.
package price

import (
	"fmt"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sum"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// Price is the station.
type Price struct {
	margin bool // the stepper steps the margin, else the markup
	steps  int  // of half a percent
	slate  []string
	asked  string
	top    int
	tables sum.Tables
}

// New makes the station; the tables are those that the sums of the slate look into.
func New(tables sum.Tables) *Price { return &Price{steps: 50, tables: tables} }

// Name is the station's name.
func (s *Price) Name() string { return "Price" }

// Purpose says what one does here.
func (s *Price) Purpose() string {
	return "What the job costs to make and what it must bring. Left and right step the markup or the margin and the price answers at once. The slate below does the small sums of the bench: s, then a sum and what it takes, such as diagonal a=118in b=44in."
}

// Keys gives the bindings.
func (s *Price) Keys(d *station.Desk) []station.Key {
	off := station.Unplanned(d)
	other := "by margin"
	if s.margin {
		other = "by markup"
	}
	return []station.Key{
		{Keys: []string{"left", "right", "-", "+"}, Shown: "left right", Does: "less more", Off: off},
		{Keys: []string{"m"}, Does: other, Off: off},
		{Keys: []string{"p"}, Does: "from a price", Off: off},
		{Keys: []string{"s"}, Does: "a sum on the slate"},
		{Keys: []string{"c"}, Does: "copy the price", Off: off, Quiet: true},
		{Keys: []string{"down", "j", "up", "k"}, Shown: "down up", Does: "read on", Quiet: true},
	}
}

// cost adds up what is known to cost money.
func cost(d *station.Desk) (total measure.Money, lines [][2]string, missing []string) {
	p := d.Plan
	cur := text.Clean(p.Job.Currency)
	for _, b := range p.Buy {
		if !b.Priced {
			missing = append(missing, "sticks of "+b.Section)
			continue
		}
		total += b.Cost
		lines = append(lines, [2]string{fmt.Sprintf("%d x %s %s", b.Qty, text.Clean(b.Section), p.Job.Tape.PrintLong(b.Length)), b.Cost.With(cur)})
	}
	if p.YardCuts > 0 && p.Job.Saw.YardCut > 0 {
		c := p.Job.Saw.YardCut * measure.Money(p.YardCuts)
		total += c
		lines = append(lines, [2]string{fmt.Sprintf("%d cuts by the yard", p.YardCuts), c.With(cur)})
	}
	for i := range p.Bolts {
		for _, b := range p.Bolts[i].Buy {
			if !b.Priced {
				missing = append(missing, b.Name+" "+b.What)
				continue
			}
			total += b.Price
			lines = append(lines, [2]string{fmt.Sprintf("%d %s %s", b.Qty, b.Name, b.What), b.Price.With(cur)})
		}
	}
	for _, x := range p.Job.Items {
		if x.Price == 0 {
			missing = append(missing, x.Name)
			continue
		}
		c := x.Price * measure.Money(x.Qty)
		total += c
		lines = append(lines, [2]string{fmt.Sprintf("%d %s", x.Qty, text.Clean(x.Name)), c.With(cur)})
	}
	return total, lines, missing
}

func (s *Price) share() float64 { return float64(s.steps) * 0.005 }

// asking gives the price and the two shares.
func (s *Price) asking(d *station.Desk) (total measure.Money, f figure.Figure, markup, margin float64) {
	total, _, _ = cost(d)
	c := total.Float()
	if s.margin {
		margin = s.share()
		if f, err := price.ByMargin(c, margin); err == nil {
			return total, f, price.MarkupOf(margin).Value, margin
		}
	}
	markup = s.share()
	f, err := price.ByMarkup(c, markup)
	if err != nil {
		return total, figure.Figure{}, 0, 0
	}
	return total, f, markup, price.MarginOf(markup).Value
}

// Press answers a key.
func (s *Price) Press(d *station.Desk, key string) []station.Intent {
	switch key {
	case "left", "-":
		s.steps = max(0, s.steps-1)
	case "right", "+":
		most := 400
		if s.margin {
			most = 180
		}
		s.steps = min(most, s.steps+1)
	case "m":
		if station.Unplanned(d) == "" {
			_, _, markup, margin := s.asking(d)
			s.margin = !s.margin
			v := markup
			if s.margin {
				v = min(margin, 0.9)
			}
			s.steps = max(0, min(400, int(v*200+0.5)))
		}
	case "down", "j":
		s.top++
	case "up", "k":
		s.top = max(0, s.top-1)
	case "p":
		return s.offered(d)
	case "s":
		return s.sum(d)
	case "c":
		if station.Unplanned(d) == "" {
			_, f, _, _ := s.asking(d)
			return []station.Intent{station.Copy{Text: fmt.Sprintf("%.2f %s", f.Value, text.Clean(d.Plan.Job.Currency))}}
		}
	}
	return nil
}

// offered goes the other way round: what a price that somebody offers leaves.
func (s *Price) offered(d *station.Desk) []station.Intent {
	if station.Unplanned(d) != "" {
		return nil
	}
	_, f, _, _ := s.asking(d)
	return []station.Intent{station.Ask{Prompt: "offered price:", Initial: fmt.Sprintf("%.2f", f.Value), Help: "what somebody would pay; the stepper goes to the margin that it leaves", Done: func(word string) ([]station.Intent, error) {
		v, err := strconv.ParseFloat(strings.TrimSpace(word), 64)
		total, _, _ := cost(d)
		if err != nil || !(v > 0) || v > 1e9 {
			return nil, fmt.Errorf("%q is no price", text.Short(word, 20))
		}
		c := total.Float()
		if c <= 0 {
			return nil, fmt.Errorf("nothing in this job has a cost yet")
		}
		if v < c {
			return nil, fmt.Errorf("that is %.2f under what is bought", c-v)
		}
		s.margin = true
		s.steps = max(0, min(180, int((v-c)/v*200+0.5)))
		return []station.Intent{station.Say{Text: fmt.Sprintf("%.2f leaves %.2f: a margin of %.1f %%, a markup of %.1f %%", v, v-c, (v-c)/v*100, (v-c)/c*100)}}, nil
	}}}
}

// sum asks for a sum and works it out on the slate.
func (s *Price) sum(d *station.Desk) []station.Intent {
	var names []string
	for _, x := range sum.List() {
		names = append(names, x.Name)
	}
	return []station.Intent{station.Ask{Prompt: "sum:", Initial: s.asked, Help: "a name and what it takes; the name alone says what that is", Done: func(words string) ([]station.Intent, error) {
		fields := strings.Fields(words)
		if len(fields) == 0 {
			s.asked, s.slate = "", draw.Wrap("sums: "+strings.Join(names, " "), 70)
			return nil, nil
		}
		x, err := sum.Find(fields[0])
		if err != nil {
			return nil, fmt.Errorf("no sum of that name; leave the line empty for the list")
		}
		s.asked, s.top = words, 0
		if len(fields) == 1 {
			s.asked = fields[0] + " "
			s.slate = strings.Split(strings.TrimRight(x.Usage(), "\n"), "\n")
			return nil, nil
		}
		if x.File {
			return nil, fmt.Errorf("this sum takes a file: soapstone sum %s", x.Name)
		}
		args := fields[1:]
		if d.Plan != nil && d.Plan.Job != nil && !strings.Contains(words, "units=") {
			args = append(args, "units="+d.Plan.Job.Units.String())
		}
		r, err := x.Call(args, s.tables, "", nil)
		if err != nil {
			return nil, err
		}
		s.slate = []string{words}
		for _, v := range r.Values {
			s.slate = append(s.slate, fmt.Sprintf("  %s = %v", v.Key, v.Value))
		}
		for _, n := range r.Notes {
			s.slate = append(s.slate, "  "+n)
		}
		for _, f := range r.Figures {
			s.slate = append(s.slate, "")
			for _, y := range strings.Split(strings.TrimRight(f.Working(), "\n"), "\n") {
				s.slate = append(s.slate, "  "+y)
			}
		}
		return nil, nil
	}}}
}

// View draws the station.
func (s *Price) View(d *station.Desk, w, h int) []string {
	l := d.Look
	lines := station.Waiting(d, w)
	if lines == nil {
		lines = s.quote(d, w, h)
	}
	if len(s.slate) > 0 {
		lines = append(lines, "", l.Strong.Render(" Slate"))
		for _, x := range s.slate {
			for _, y := range draw.Wrap(text.Clean(x), max(10, w-4)) {
				lines = append(lines, l.Chalk.Render("  "+y))
			}
		}
	}
	if top := max(0, len(lines)-h); s.top > top {
		s.top = top
	}
	return lines[min(s.top, len(lines)):]
}

func (s *Price) quote(d *station.Desk, w, h int) []string {
	l, p := d.Look, d.Plan
	cur := text.Clean(p.Job.Currency)
	total, lines, missing := cost(d)
	_, f, markup, margin := s.asking(d)
	amount := fmt.Sprintf("%.2f", f.Value)
	var out []string
	share := "markup"
	if s.margin {
		share = "margin"
	}
	big := draw.Digits(amount, []rune(l.Signs.Full)[0])
	if draw.DigitsWidth(amount) <= w-6 && h >= 18 {
		out = append(out, "")
		for _, r := range big {
			out = append(out, "  "+l.Strong.Render(r))
		}
		out = append(out, "  "+l.Dim.Render(cur+" for what is bought, with this "+share))
	} else {
		out = append(out, "  "+l.Strong.Render(amount+" "+cur)+l.Dim.Render(" for what is bought, with this "+share))
	}
	cells := max(8, min(40, w-30))
	v, most := markup, 2.0
	if s.margin {
		v, most = margin, 0.9
	}
	out = append(out, "  "+l.Key.Render("< ")+l.Hot.Render(draw.Gauge(v/most, cells, []rune(l.Signs.Full)[0], []rune(l.Signs.Light)[0]))+l.Key.Render(" >")+l.Strong.Render(fmt.Sprintf(" %s %.1f %%", share, v*100)))
	out = append(out, l.Chalk.Render(fmt.Sprintf("  markup %.1f %% of the cost = margin %.1f %% of the price; %.2f %s over the cost", markup*100, margin*100, f.Value-total.Float(), cur)), "")
	width := min(w-6, 60)
	for _, x := range lines {
		room := max(1, width-len([]rune(x[0]))-len([]rune(x[1])))
		out = append(out, "  "+l.Chalk.Render(x[0])+l.Rule.Render(strings.Repeat(".", room))+l.Chalk.Render(x[1]))
	}
	t := total.With(cur)
	out = append(out, "  "+l.Strong.Render("bought"+strings.Repeat(" ", max(1, width-6-len([]rune(t))))+t))
	if p.Weld != nil {
		out = append(out, l.Dim.Render("  time: saw about "+sheet.Span(p.Queue.EstS)+", booth about "+sheet.Span(p.Weld.Schedule.Elapsed.Seconds())))
	} else {
		out = append(out, l.Dim.Render("  time: saw about "+sheet.Span(p.Queue.EstS)))
	}
	for _, m := range p.Machines {
		what := fmt.Sprintf("%s: %s at the booth, %d days", m.Name, sheet.Span(m.Elapsed.Seconds()), m.Days)
		if m.Cost > 0 {
			what += ", " + m.Cost.With(cur)
		}
		if m.Why != "" {
			what = m.Name + ": " + m.Why
		}
		out = append(out, l.Dim.Render("  machine "+text.Clean(what)))
	}
	if len(missing) > 0 {
		for _, x := range draw.Wrap("without a price: "+text.Clean(strings.Join(missing, ", ")), max(10, w-6)) {
			out = append(out, l.Warn.Render("  "+x))
		}
	}
	return out
}

// Figures gives the working of the price.
func (s *Price) Figures(d *station.Desk) []string {
	_, f, _, _ := s.asking(d)
	if f.ID == "" {
		return nil
	}
	return []string{f.Working()}
}
