// Package overview is the first station: what the job is, what it takes, how far it is, and what wants attention.
package overview

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
)

// Overview is the station.
type Overview struct {
	top int

	lines  []string // as they were drawn last, from what follows
	of     *plan.Plan
	state  *work.State
	events int
	w      int
	look   *look.Look
	said   string // the last change told
	row    int    // the line of the first piece
}

// New makes the station.
func New() *Overview { return &Overview{} }

// Name is the station's name.
func (o *Overview) Name() string { return "Job" }

// Purpose says what one sees here.
func (o *Overview) Purpose() string {
	return "The job at a glance: the pieces to make, the sticks to buy and how sure it is that none cheaper would do, how far the work is, and what wants attention."
}

// Keys gives the bindings.
func (o *Overview) Keys(d *station.Desk) []station.Key {
	off := ""
	if d.Plan == nil || d.Plan.Failed() {
		off = "there is no plan"
	}
	return []station.Key{
		{Keys: []string{"enter", "space"}, Shown: "enter", Does: "go to the saw", Off: off},
		{Keys: []string{"c"}, Does: "copy the job in a line", Off: off, Quiet: true},
		{Keys: []string{"down", "j", "up", "k"}, Shown: "down up", Does: "read on", Quiet: true},
	}
}

// Press answers a key.
func (o *Overview) Press(d *station.Desk, key string) []station.Intent {
	switch key {
	case "down", "j":
		o.top++
	case "up", "k":
		o.top = max(0, o.top-1)
	case "c":
		if station.Unplanned(d) == "" {
			return []station.Intent{station.Copy{Text: summary(d)}}
		}
	default:
		return []station.Intent{station.Go{Station: "Saw"}}
	}
	return nil
}

// summary is the job in a line.
func summary(d *station.Desk) string {
	p := d.Plan
	n, cost, priced := 0, measure.Money(0), len(p.Buy) > 0
	for _, x := range p.Pieces {
		n += x.Qty
	}
	words := []string{fmt.Sprintf("%s: %d pieces, %s of steel", text.Clean(p.Job.Title), n, p.Job.Tape.Mass(p.MassKG))}
	for _, b := range p.Buy {
		cost += b.Cost
		priced = priced && b.Priced
		words = append(words, fmt.Sprintf("%d x %s %s", b.Qty, text.Clean(b.Section), p.Job.Tape.PrintLong(b.Length)))
	}
	if priced {
		words = append(words, cost.With(text.Clean(p.Job.Currency)))
	}
	return strings.Join(words, ", ")
}

// View draws the station.
func (o *Overview) View(d *station.Desk, w, h int) []string {
	l := d.Look
	if d.Plan == nil {
		return []string{"", l.Dim.Render("  The plan is being made ...")}
	}
	if d.Bare && !d.Plan.Failed() {
		return o.bare(d, w, h)
	}
	if o.lines == nil || o.of != d.Plan || o.state != d.Work || o.events != d.Work.Events() || o.w != w || o.look != l || o.said != d.Changed {
		o.lines = o.draw(d, w)
		o.of, o.state, o.events, o.w, o.look, o.said = d.Plan, d.Work, d.Work.Events(), w, l, d.Changed
	}
	if top := max(0, len(o.lines)-h); o.top > top {
		o.top = top
	}
	return o.lines[min(o.top, len(o.lines)):]
}

// Click on a piece goes to its marks.
func (o *Overview) Click(d *station.Desk, _, y, _, h int) []station.Intent {
	if d.Plan == nil || d.Plan.Failed() || len(o.lines) == 0 || d.Bare {
		return nil
	}
	k := min(o.top, max(0, len(o.lines)-h)) + y - o.row
	if k < 0 || k >= len(d.Plan.Pieces) {
		return nil
	}
	return []station.Intent{station.Go{Station: "Square", On: d.Plan.Pieces[k].Mark}}
}

func (o *Overview) draw(d *station.Desk, w int) []string {
	var lines []string
	// What must be mended or looked into stands on top; cautions stand behind the facts, above the pieces.
	lines = append(lines, problems(d, w, "Look at this first", func(s text.Severity) bool { return s != text.Caution })...)
	if !d.Plan.Failed() {
		head := len(lines)
		lines = append(lines, o.body(d, w)...)
		o.row += head
	}
	return lines
}

// problems lists those of the severities that are wanted.
func problems(d *station.Desk, w int, title string, want func(text.Severity) bool) []string {
	l := d.Look
	var lines []string
	for _, p := range d.Plan.Problems {
		if !want(p.Severity) {
			continue
		}
		if len(lines) == 0 {
			lines = append(lines, l.Strong.Render(" "+title))
		}
		style, sign := l.Warn, l.Signs.Warn
		if p.Severity == text.Error {
			style, sign = l.Bad, l.Signs.Bad
		}
		for i, x := range draw.Wrap(strings.Replace(p.String(), "caution: ", "", 1), w-6) {
			lead := "    "
			if i == 0 {
				lead = "  " + sign + " "
			}
			lines = append(lines, style.Render(lead+x))
		}
	}
	if len(lines) > 0 {
		lines = append(lines, "")
	}
	return lines
}

func (o *Overview) body(d *station.Desk, w int) []string {
	l, p := d.Look, d.Plan
	tape := p.Job.Tape
	var lines []string
	row := func(label, what string) {
		for i, x := range draw.Wrap(what, w-18) {
			if i > 0 {
				label = ""
			}
			lines = append(lines, "  "+l.Dim.Render(draw.FitLine(label, 12))+l.Chalk.Render(x))
		}
	}
	pieces := 0
	for _, x := range p.Pieces {
		pieces += x.Qty
	}
	cuts, done := 0, 0
	for i := range p.Queue.Steps {
		if s := &p.Queue.Steps[i]; s.Op == cut.Cut {
			cuts++
			if d.Work.IsCut(s.Mark, s.Unit) {
				done++
			}
		}
	}
	before := pieces - cuts
	share := 1.0
	if pieces > 0 {
		share = float64(before+done) / float64(pieces)
	}
	gauge := draw.Gauge(share, max(4, min(30, w-40)), []rune(l.Signs.Full)[0], []rune(l.Signs.Light)[0])
	lines = append(lines, "  "+l.Dim.Render(draw.FitLine("cut", 12))+l.Cool.Render(gauge)+l.Chalk.Render(fmt.Sprintf(" %d of %d pieces", before+done, pieces)))
	if d.Changed != "" {
		row("changed", d.Changed)
	}
	row("pieces", fmt.Sprintf("%d of %d kinds; %s of steel", pieces, len(p.Pieces), tape.Mass(p.MassKG)))
	for _, b := range p.Buy {
		price := ""
		if b.Priced {
			price = "  " + b.Cost.With(text.Clean(p.Job.Currency))
		}
		row("buy", fmt.Sprintf("%d x %s, %s%s", b.Qty, text.Clean(b.Section), tape.PrintLong(b.Length), price))
	}
	for _, sn := range p.Nests {
		row("nest", text.Clean(sn.Section)+": "+sheet.Proof(sn, text.Clean(p.Job.Currency)))
	}
	q := p.Queue
	row("saw", fmt.Sprintf("about %s; %s, %s to set", sheet.Span(q.EstS), text.Count(q.Swings, "swing"), text.Count(q.Stops, "stop")))
	lines = append(lines, "")
	lines = append(lines, problems(d, w, "Cautions", func(s text.Severity) bool { return s == text.Caution })...)
	lines = append(lines, l.Strong.Render(" Pieces"))
	o.row = len(lines)
	for _, x := range p.Pieces {
		n := 0
		for u := 1; u <= x.Qty; u++ {
			if d.Work.IsCut(x.Mark, u) {
				n++
			}
		}
		sign := l.Signs.Open
		style := l.Chalk
		if n == x.Qty {
			sign, style = l.Signs.Done, l.Cool
		}
		line := fmt.Sprintf("  %s %-4s %2d of %2d  %-10s %-22s %s", sign, x.Mark, n, x.Qty, text.Clean(x.Section), tape.PrintLong(x.Length), sheet.PieceEnds(&x))
		lines = append(lines, style.Render(line))
	}
	if len(p.Notes) > 0 {
		lines = append(lines, "", l.Strong.Render(" Taken for granted"))
		for _, n := range p.Notes {
			for i, x := range draw.Wrap(text.Clean(n), w-6) {
				lead := "    "
				if i == 0 {
					lead = "  " + l.Signs.Bullet + " "
				}
				lines = append(lines, l.Dim.Render(lead+x))
			}
		}
	}
	return lines
}
