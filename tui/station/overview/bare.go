package overview

import (
	"fmt"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// bare shows how far the job is, to be read from across the shop, and what comes next.
func (o *Overview) bare(d *station.Desk, w, h int) []string {
	l, p := d.Look, d.Plan
	pieces, open, next := 0, 0, ""
	for i := range p.Pieces {
		pieces += p.Pieces[i].Qty
	}
	for i := range p.Queue.Steps {
		s := &p.Queue.Steps[i]
		if s.Op != cut.Cut || d.Work.IsCut(s.Mark, s.Unit) {
			continue
		}
		if open++; next == "" {
			next = "at the saw: " + sheet.StepText(*s, p.Job.Saw.ReadsBlade, p.Job.Tape)
		}
	}
	if next == "" {
		next = "every piece is cut: mark out and square up, then the booth"
	}
	digits := fmt.Sprintf("%d/%d", pieces-open, pieces)
	rows := draw.Digits(digits, []rune(l.Signs.Full)[0])
	if h >= 16 && 2*draw.DigitsWidth(digits)+4 <= w {
		rows = draw.Twice(rows)
	}
	out := []string{""}
	for _, r := range rows {
		out = append(out, "  "+l.Strong.Render(r))
	}
	out = append(out, "  "+l.Dim.Render("pieces cut"), "")
	for _, x := range draw.Wrap(text.Clean(next), w-4) {
		out = append(out, "  "+l.Chalk.Render(x))
	}
	return out
}
