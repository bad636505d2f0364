package sheet

import (
	"fmt"
	"strings"
	"time"

	"bench.example/soapstone/fab/measure"
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
	if b := p.Buy; b.Packs > 0 {
		gas := ""
		if b.GasM3 > 0 {
			gas = fmt.Sprintf("; gas %.2f m3 (%.0f cu ft)", b.GasM3, b.GasM3/0.0283168466)
		}
		w.line("to buy: %d %s of %.2f kg (%.0f lb)%s", b.Packs, b.What, b.PackKG, b.PackKG/measure.PoundKG, gas)
	}
	w.line("%s from the first move to the last (%s); %s if nothing were done in the rests; then the fire watch of %s", Clock(p.Schedule.Elapsed), proof, Clock(p.Schedule.Unfilled), Clock(p.Rates.FireWatch))
	if len(p.Days) > 1 {
		for i, d := range p.Days {
			if i == 9 && len(p.Days) > 10 {
				w.line("... and %d more such days", len(p.Days)-i)
				break
			}
			w.line("day %d of %s: done after %s, fire watch until %s", i+1, Clock(p.Rates.HoursPerDay), Clock(d.End), Clock(max(d.End, d.Watch)))
		}
	}
	w.line("a test bead on scrap first: %s of arc", Clock(p.TestBead))
	for _, g := range p.Guides {
		w.line("%s", g.Words())
	}
	if len(p.Guides) > 0 {
		w.line("%s", weld.DoorChart)
	}
	w.line("")
	own := "as planned; [sequence] stages = [...] changes it"
	if p.OwnOrder {
		own = "the order is the job's own"
	}
	w.line("Stages, %s", own)
	for i, st := range p.Layout.Stages {
		w.line("%2d  %-16s %s", i+1, text.Clean(st.Key), text.Clean(st.Name))
	}
	for _, b := range p.Pull.Bows {
		if b.EndMM < 0.05 && b.Plain < 0.05 {
			continue
		}
		w.line("    %s: the seams would bow it %.1f mm along %s towards %s lying free; in this order it strays at most %.1f mm from an even pull, %.1f mm if joint after joint were finished",
			text.Clean(p.Layout.Stages[b.Stage].Key), b.EndMM, b.Along, b.Way, b.Sway, b.Plain)
	}
	for _, x := range p.Pull.PreSets {
		w.line("    %s", text.Clean(x))
	}
	w.line("")
	for _, j := range p.Layout.Joints {
		w.line("%-5s %-7s %s", j.ID, j.Kind, text.Clean(strings.Join(j.Members, " + ")))
		for _, k := range j.Seams {
			s := p.Layout.Seams[k]
			tight := ""
			if s.Early != "" {
				tight = "  (" + text.Clean(s.Early) + ")"
			}
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
