package price

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/paint"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// hours is the page of the hours: planned beside what it took and what the last jobs took.
func (s *Price) hours(d *station.Desk, w int) []string {
	l, h := d.Look, d.Plan.Hours
	if h == nil {
		return append([]string{""}, dim(d, "The job counts no hours: add [labour] to it, or to the shop file; every pace has a stated default.", w)...)
	}
	most := int64(1)
	for _, e := range h.Entries {
		most = max(most, e.PlanS)
	}
	cells := max(0, min(40, w-66))
	wide := w >= 64
	head := fmt.Sprintf("%-16s%12s%12s", "", "planned", "done so far")
	if wide {
		head += fmt.Sprintf("%18s", "past jobs")
	}
	out := []string{"  " + l.Dim.Render(head)}
	full, light := []rune(l.Signs.Full)[0], []rune(l.Signs.Light)[0]
	var took, done int64
	for _, e := range h.Entries {
		line := l.Chalk.Render(fmt.Sprintf("%-16s%12s", string(e.Activity), sheet.Span(float64(e.PlanS))))
		now := strings.Repeat(" ", 12)
		if e.TookS > 0 {
			took, done = took+e.TookS, done+e.DoneS
			now = fmt.Sprintf("%12s", sheet.Span(float64(e.TookS)))
			style := l.Cool
			if e.TookS > e.DoneS+e.DoneS/4 && e.DoneS > 0 {
				style = l.Warn
			}
			now = style.Render(now)
		}
		past := fmt.Sprintf("%18s", "")
		if e.PastX > 0 {
			past = fmt.Sprintf("%18s", fmt.Sprintf("%.2f x in %d", e.PastX, e.PastOf))
		}
		line += now
		if wide {
			line += l.Dim.Render(past)
		}
		if cells >= 8 {
			line += "  " + l.Hot.Render(draw.Gauge(float64(e.PlanS)/float64(most), cells, full, light))
		}
		out = append(out, "  "+line)
	}
	total := fmt.Sprintf("%-16s%12s", "in all", sheet.Span(float64(h.PlanS)))
	if took > 0 {
		total += fmt.Sprintf("%12s", sheet.Span(float64(took)))
	}
	out = append(out, "  "+l.Strong.Render(total))
	if h.PaidS != h.PlanS {
		out = append(out, dim(d, fmt.Sprintf("paid: %s", sheet.Span(float64(h.PaidS))), w)...)
	}
	if done > 0 {
		out = append(out, dim(d, fmt.Sprintf("the part that is done was planned with %s and took %s", sheet.Span(float64(done)), sheet.Span(float64(took))), w)...)
	}
	if len(s.costs) > 1 {
		n := s.costs[1].Hours
		out = append(out, dim(d, fmt.Sprintf("%d at one go: %s each", n.Frames, sheet.Span(float64(n.PlanS)/float64(max(1, n.Frames)))), w)...)
	}
	for _, x := range h.Notes {
		out = append(out, dim(d, x, w)...)
	}
	return out
}

func dim(d *station.Desk, s string, w int) (out []string) {
	for _, x := range wrapped(s, w-6) {
		out = append(out, d.Look.Dim.Render("  "+x))
	}
	return out
}

// paint is the page of the paint: areas, preparation, coats with their cans, the calendar, and what would go wrong.
func (s *Price) paint(d *station.Desk, w int) []string {
	l, p := d.Look, d.Plan.Paint
	if p == nil {
		return append([]string{""}, dim(d, "The job says nothing of paint: add [paint] to it.", w)...)
	}
	metric := d.Plan.Job.Units.Metric()
	cur := text.Clean(d.Plan.Job.Currency)
	chalk := func(s string) (out []string) {
		for i, x := range wrapped(s, w-8) {
			lead := "  "
			if i > 0 {
				lead = "    "
			}
			out = append(out, l.Chalk.Render(lead+x))
		}
		return out
	}
	out := []string{" " + l.Strong.Render(" "+area(p.AreaM2, metric)+" to be covered")}
	var parts []string
	for _, a := range p.Areas {
		parts = append(parts, text.Clean(a.Name)+" "+area(a.M2, metric))
	}
	out = append(out, chalk(strings.Join(parts, ", "))...)
	out = append(out, s.coats(d, p, metric, cur, chalk)...)
	if z := p.Zinc; z != nil {
		out = append(out, chalk(fmt.Sprintf("hot-dip galvanised: %s inside and outside, %.0f um, %s of zinc", area(z.AreaM2, metric), z.Microns, d.Plan.Job.Tape.Mass(z.KG)))...)
	}
	if p.Cost > 0 {
		out = append(out, "  "+l.Strong.Render("paint "+p.Cost.With(cur)))
	}
	if len(p.Unpriced) > 0 {
		for _, x := range wrapped("without a price: "+strings.Join(p.Unpriced, ", "), w-6) {
			out = append(out, l.Warn.Render("  "+x))
		}
	}
	out = append(out, s.calendar(d, p, w)...)
	out = append(out, "", " "+l.Strong.Render(" Preparation"))
	for _, x := range p.Prep {
		own := ""
		if x.Own {
			own = ", the job's own choice"
		}
		out = append(out, chalk(fmt.Sprintf("%s steel: %s%s: %s", x.Finish, x.Grade, own, x.Do))...)
	}
	open := 0
	for _, e := range p.Ends {
		if e.Gets == "open" {
			open++
		}
	}
	switch {
	case p.Caps > 0:
		out = append(out, chalk(fmt.Sprintf("%d open tube ends get a cap", p.Caps))...)
	case open > 0:
		out = append(out, chalk(fmt.Sprintf("%d tube ends stay open", open))...)
	}
	for _, x := range append(append([]string{}, p.Traps...), p.Cautions...) {
		for i, y := range wrapped(x, w-8) {
			lead := "  " + l.Signs.Warn + " "
			if i > 0 {
				lead = "    "
			}
			out = append(out, l.Warn.Render(lead+y))
		}
	}
	return out
}

func (s *Price) coats(d *station.Desk, p *paint.Sheet, metric bool, cur string, chalk func(string) []string) (out []string) {
	for _, c := range p.Coats {
		n := "a coat"
		if c.Coats > 1 {
			n = fmt.Sprintf("%d coats", c.Coats)
		}
		line := fmt.Sprintf("%s of %s, %s: %s", n, text.Clean(c.Name), c.Method, volume(c.Litres, metric))
		if c.ThinL > 0 {
			line += " and " + volume(c.ThinL, metric) + " of thinner"
		}
		line += fmt.Sprintf(", loss %.0f %%", c.Loss*100)
		var cans []string
		for _, b := range c.Cans {
			cans = append(cans, fmt.Sprintf("%d x %s", b.Qty, text.Clean(b.Size)))
		}
		if len(cans) > 0 {
			line += "; buy " + strings.Join(cans, " and ")
		}
		if c.Priced {
			line += ", " + c.Cost.With(cur)
		}
		out = append(out, chalk(line)...)
	}
	return out
}

// calendar draws work and drying along the working days.
func (s *Price) calendar(d *station.Desk, p *paint.Sheet, w int) []string {
	l := d.Look
	end := 0.0
	for _, x := range p.Steps {
		end = math.Max(end, x.EndH)
	}
	if end <= 0 {
		return nil
	}
	cells := max(10, min(70, w-40))
	full, light := []rune(l.Signs.Full)[0], []rune(l.Signs.Light)[0]
	out := []string{"", " " + l.Strong.Render(" Calendar, from when the frame is ready for paint")}
	for _, x := range p.Steps {
		from := int(x.StartH / end * float64(cells))
		to := max(from+1, int(math.Round(x.EndH/end*float64(cells))))
		fill, style := light, l.Dim
		if x.Work {
			fill, style = full, l.Hot
		}
		name := text.Short(text.Clean(x.What), 22)
		when := fmt.Sprintf("day %-3d", x.Day)
		out = append(out, "  "+l.Dim.Render(when)+l.Chalk.Render(fmt.Sprintf("%-23s", name))+strings.Repeat(" ", min(from, cells-1))+style.Render(strings.Repeat(string(fill), max(1, min(to, cells)-min(from, cells-1)))))
	}
	return append(out, l.Dim.Render(fmt.Sprintf("  filled: hands at it, %s in all; light: it dries", sheet.Span(work(p)))))
}

func work(p *paint.Sheet) (s float64) {
	for _, x := range p.Work {
		s += x.Seconds
	}
	return s
}

// area prints an area in the units of the job.
func area(m2 float64, metric bool) string {
	if metric {
		return fmt.Sprintf("%.2f m2", m2)
	}
	return fmt.Sprintf("%.1f sq ft", m2/0.09290304)
}

// volume prints paint as it is measured out: litres, or US gallons and quarts.
func volume(l float64, metric bool) string {
	const gallon = 3.785411784
	switch {
	case metric:
		return fmt.Sprintf("%.2f l", l)
	case l < gallon/2:
		return fmt.Sprintf("%.2f qt", l/gallon*4)
	}
	return fmt.Sprintf("%.2f gal", l/gallon)
}
