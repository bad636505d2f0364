package station

import (
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
)

// Waiting gives what a station shows while there is no plan to show: that it is being made, or why there is none. It is nil
// where there is a plan.
func Waiting(d *Desk, w int) []string {
	l := d.Look
	switch {
	case d.Plan == nil:
		return []string{"", l.Dim.Render("  The plan is being made ...")}
	case d.Plan.Failed():
		lines := []string{"", l.Bad.Render(" " + l.Signs.Bad + " This job cannot be built as it is written:"), ""}
		for _, p := range d.Plan.Problems {
			if p.Severity != text.Error {
				continue
			}
			for i, x := range draw.Wrap(p.String(), w-6) {
				lead := "   "
				if i == 0 {
					lead = " " + l.Signs.Bullet + " "
				}
				lines = append(lines, l.Chalk.Render(lead+x))
			}
		}
		return lines
	}
	return nil
}

// Unplanned says in a few words why there is no plan, "" where there is one: for keys that are off.
func Unplanned(d *Desk) string {
	switch {
	case d.Plan == nil:
		return "the plan is still being made"
	case d.Plan.Failed():
		return "the job cannot be built as it is written"
	}
	return ""
}

// Scroll keeps the top row of a list so that its selected row stays in sight.
func Scroll(top, at, rows, room int) int {
	if at < top {
		top = at
	}
	if at >= top+room {
		top = at - room + 1
	}
	return max(0, min(top, rows-room))
}
