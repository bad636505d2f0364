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
	w.line("duty %.1f%%: no more than %s of arc in any %s; arc %s in all, %s of wire or rods", 100*p.Duty.Value, Clock(p.Budget.Arc), Clock(p.Budget.Window), Clock(p.Schedule.ArcTime), w.tape.Mass(p.WireKG))
	proof := "proven the shortest"
	if !p.Schedule.Proven {
		proof = "at least " + Clock(p.Schedule.Bound)
	}
	if b := p.Buy; b.Packs > 0 {
		gas := ""
		if b.GasM3 > 0 {
			gas = fmt.Sprintf("; gas %.2f m3 (%.0f cu ft)", b.GasM3, b.GasM3/0.0283168466)
		}
		w.line("to buy: %d x %s, %s each%s", b.Packs, b.What, w.tape.Mass(b.PackKG), gas)
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
		w.line("%s", g.Words(w.tape))
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
		if b.EndMM < 0.5 && b.Plain < 0.5 { // under what a tape shows
			continue
		}
		w.line("    %s: the seams would bow it %s along %s towards %s lying free; in this order it strays at most %s from an even pull, %s if joint after joint were finished",
			text.Clean(p.Layout.Stages[b.Stage].Key), w.mm(b.EndMM), b.Along, b.Way, w.mm(b.Sway), w.mm(b.Plain))
	}
	for _, x := range p.Pull.PreSets {
		w.line("    %s", text.Clean(x))
	}
	w.line("")
	for i := range p.Layout.Joints {
		j := &p.Layout.Joints[i]
		lines, arc := p.Kinds(j, w.mm)
		w.line("%-5s %-7s %s, %s of arc", j.ID, j.Kind, text.Clean(strings.Join(j.Members, " + ")), Clock(arc))
		for _, x := range lines {
			w.line("      %s", text.Clean(x))
		}
	}
	w.line("")
	w.line("In this order; the tacks of a stage come first, and what is not arc (cleaning, chipping, sawing) fills the rests")
	stage := -1
	for _, r := range p.Runs(mostInRun) {
		if r.Stage != stage {
			stage = r.Stage
			w.line("%d. %s", stage+1, text.Clean(p.Layout.Stages[stage].Name))
		}
		rest := ""
		if r.Rest > 0 {
			rest = "; then rest " + Clock(r.Rest)
		}
		w.line("%8s  %-12s %s%s", Clock(r.Start), r.What, text.Clean(strings.Join(r.Items, ", ")), rest)
	}
}

// mostInRun is how many joints or seams stand on one line.
const mostInRun = 12

// Clock prints a time as minutes and seconds, with hours where there are any.
func Clock(d time.Duration) string {
	d = d.Round(time.Second)
	h, m, s := int(d.Hours()), int(d.Minutes())%60, int(d.Seconds())%60
	if h > 0 {
		return fmt.Sprintf("%d:%02d:%02d", h, m, s)
	}
	return fmt.Sprintf("%d:%02d", m, s)
}
