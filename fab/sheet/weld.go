package sheet

import (
	"fmt"
	"strings"
	"time"

	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/weld"
)

// weld writes the plan at the booth: what the machine allows, the joints with their seams, and the order with its rests.
func (w *writer) weld(p *weld.Plan) {
	if p == nil {
		return
	}
	w.head("At the booth")
	for _, c := range p.Cautions {
		w.line("! %s", c)
	}
	w.line("duty %.1f%%: no more than %s of arc in any %s; arc %s in all, %.2f kg of wire or rods", 100*p.Duty.Value, Clock(p.Budget.Arc), Clock(p.Budget.Window), Clock(p.Schedule.ArcTime), p.WireKG)
	proof := "proven the shortest"
	if !p.Schedule.Proven {
		proof = "at least " + Clock(p.Schedule.Bound)
	}
	w.line("%s from the first move to the last (%s); %s if nothing were done in the rests; then the fire watch of %s", Clock(p.Schedule.Elapsed), proof, Clock(p.Schedule.Unfilled), Clock(p.Rates.FireWatch))
	w.line("")
	for _, j := range p.Layout.Joints {
		w.line("%-5s %-7s %s", j.ID, j.Kind, text.Clean(strings.Join(j.Members, " + ")))
		for _, k := range j.Seams {
			s := p.Layout.Seams[k]
			tight := ""
			if s.Tight != "" {
				tight = "  (" + s.Tight + ")"
			}
			w.line("      %-7s %-14s %-10s %s, leg %s, %s%s", s.ID, s.Type, s.Position, w.mm(s.LengthMM), w.mm(s.LegMM), Clock(p.Seams[k].Arc), tight)
		}
	}
	w.line("")
	for _, e := range p.Schedule.Entries {
		doing := ""
		if e.Task >= 0 {
			doing = p.Docket.Tasks[e.Task].What
		}
		w.line("%8s %8s  %-5s %-6s %s", Clock(e.Start), Clock(e.End), e.Kind, e.Joint, doing)
	}
}

// Clock prints a time as minutes and seconds, with hours where there are any.
func Clock(d time.Duration) string {
	d = d.Round(time.Second)
	h, m, s := int(d.Hours()), int(d.Minutes())%60, int(d.Seconds())%60
	if h > 0 {
		return fmt.Sprintf("%d:%02d:%02d", h, m, s)
	}
	return fmt.Sprintf("%d:%02d", m, s)
}
