package packet

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/view"
)

// booth is the weld map: where each numbered joint is, what is welded at it, and in which order, with the machine's rests.
func (m *maker) booth() page.Part {
	w := m.p.Weld
	if w == nil || len(w.Layout.Seams) == 0 {
		return page.Part{}
	}
	blocks := []page.Block{head(1, "Weld map")}
	for _, c := range w.Cautions {
		blocks = append(blocks, warn(c))
	}
	blocks = append(blocks, &page.Facts{Facts: []page.Fact{
		{Name: "arc in any " + sheet.Clock(w.Budget.Window), Value: sheet.Clock(w.Budget.Arc)},
		{Name: "arc in all", Value: sheet.Clock(w.Schedule.ArcTime)},
		{Name: "first move to last", Value: sheet.Clock(w.Schedule.Elapsed)},
		{Name: "wire or rods", Value: m.mass(w.WireKG)}}})
	if len(w.Days) > 1 {
		blocks = append(blocks, say(fmt.Sprintf("It takes %d days of %s. Overnight the machine is cold again.", len(w.Days), sheet.Clock(w.Rates.HoursPerDay))))
	}
	blocks = append(blocks, say(fmt.Sprintf("After the last arc of a day the fire watch stays %s.", sheet.Clock(w.Rates.FireWatch))))
	for i := range w.Layout.Stages {
		st := &w.Layout.Stages[i]
		if len(st.Joints) == 0 {
			continue
		}
		blocks = append(blocks, head(2, fmt.Sprintf("%d. %s", i+1, clean(st.Name))), m.map1(st), m.joints(st))
	}
	blocks = append(blocks, head(2, "In this order"), keep("Tack all of a stage before its first pass. Between the passes brush, chip and dress what has cooled. A rest is for the machine: leave it on, its fan running."), m.order())
	for _, s := range w.Pull.PreSets {
		blocks = append(blocks, say("- "+long(s)))
	}
	return page.Part{Name: "Weld map", Blocks: blocks}
}

// map1 draws the joints that are fitted in a stage.
func (m *maker) map1(st *seam.Stage) *page.Drawing {
	f := m.p.Frame
	d := &page.Drawing{W: page.Width, H: 96, Says: "the joints of " + clean(st.Name)}
	v := fitted(d, view.Draw(f, view.Isometric(0)), 8, 6, d.W-16, d.H-12)
	lit := map[int]bool{}
	var tags []tag
	for _, k := range st.Joints {
		j := &m.p.Weld.Layout.Joints[k]
		for _, i := range j.Index {
			lit[i] = true
		}
		x, y, _ := v.pic.View.Project(j.At)
		px, py := v.at(x, y)
		tags = append(tags, tag{text: j.ID, px: px, py: py, x: px, y: py - 5})
	}
	v.strokes(func(i int) bool { return lit[i] })
	w, h, size := 10.4, 5.6, 12.0
	if len(tags) > 40 {
		w, h, size = 8, 4.2, 8.5
	}
	spread(tags, w+0.8, h+0.8, d.W, d.H)
	drawTags(d, tags, w, h, size)
	return d
}

// joints lists the joints of a stage with their seams, those of one kind together.
func (m *maker) joints(st *seam.Stage) *page.Table {
	l := &m.p.Weld.Layout
	t := &page.Table{Columns: []page.Column{{Head: "joint", Width: 21, Size: 13, Bold: true}, {Head: "members", Width: 43}, {Head: "seams", Width: 0}, {Head: "arc", Width: 17, Right: true}}}
	for _, k := range st.Joints {
		j := &l.Joints[k]
		lines, arc := m.p.Weld.Kinds(j, m.mm)
		for i, x := range lines {
			lines[i] = clean(x)
		}
		names := make([]string, len(j.Members))
		for i, n := range j.Members {
			names[i] = clean(n)
			if mark := m.marks[j.Index[i]]; mark != "" {
				names[i] = mark + " " + names[i]
			}
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(j.ID), {Text: strings.Join(names, "\n")}, {Text: strings.Join(lines, "\n")}, {Text: sheet.Clock(arc)}}})
	}
	return t
}

// mostInRun is how many seams one row holds.
const mostInRun = 9

// order condenses the schedule: what is tacked or welded in one go, then how long the machine rests.
func (m *maker) order() *page.Table {
	w := m.p.Weld
	runs := w.Runs(mostInRun)
	stage := -1
	t := &page.Table{Columns: []page.Column{{Width: 17, Size: 13}, {Head: "at", Width: 20}, {Head: "do", Width: 32, Bold: true}, {Head: "joints and seams, in this order"}, {Head: "arc", Width: 17, Right: true}, {Head: "then rest", Width: 22, Right: true, Bold: true}}}
	for i := range runs {
		r := &runs[i]
		if r.Stage != stage && r.Stage < len(w.Layout.Stages) {
			stage = r.Stage
			t.Rows = append(t.Rows, page.Row{Wide: true, Cells: cells(fmt.Sprintf("%d. %s", stage+1, clean(w.Layout.Stages[stage].Name)))})
		}
		arc, rest := "", ""
		if r.Arc > 0 {
			arc = sheet.Clock(r.Arc)
		}
		if r.Rest > 0 {
			rest = sheet.Clock(r.Rest)
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(fmt.Sprint(i + 1)), {Text: sheet.Clock(r.Start)}, {Text: r.What}, {Text: clean(strings.Join(r.Items, ", "))}, {Text: arc}, {Text: rest}}})
	}
	return t
}
