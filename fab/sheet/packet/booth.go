package packet

import (
	"fmt"
	"strings"
	"time"

	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/view"
	"bench.example/soapstone/fab/weld"
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
		{Name: "wire or rods", Value: fmt.Sprintf("%.2f kg", w.WireKG)}}})
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
		var kinds []string
		by := map[string][]string{}
		arc := time.Duration(0)
		for _, i := range j.Seams {
			s := &l.Seams[i]
			short := strings.TrimPrefix(s.ID, j.ID)
			if s.Skipped != "" {
				kinds = append(kinds, short+" not welded: "+clean(s.Skipped))
				continue
			}
			arc += m.p.Weld.Seams[i].Arc
			kind := fmt.Sprintf("%s %s, %s", s.Type, m.mm(s.LegMM), s.Position)
			if s.TackOnly {
				kind = "tacks only"
			}
			if s.Passes > 1 {
				kind += fmt.Sprintf(", %d passes", s.Passes)
			}
			if s.Dress {
				kind += ", ground flush"
			}
			if s.Stage < len(l.Stages) && &l.Stages[s.Stage] != st {
				kind += fmt.Sprintf(", in %d", s.Stage+1)
			}
			if s.Tight != "" {
				kind += " (" + clean(s.Tight) + ")"
			}
			if by[kind] == nil {
				kinds = append(kinds, kind)
			}
			seam := short + " " + m.mm(s.WeldMM)
			if s.Beads > 1 {
				seam += fmt.Sprintf(" in %d beads", s.Beads)
			}
			by[kind] = append(by[kind], seam)
		}
		var lines []string
		for _, kind := range kinds {
			if by[kind] == nil {
				lines = append(lines, kind)
				continue
			}
			lines = append(lines, kind+": "+strings.Join(by[kind], ", "))
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

// run is a stretch of the schedule that is done in one go.
type run struct {
	what  string
	items []string
	stage int
	arc   time.Duration
	start time.Duration
	rest  time.Duration // after it
}

// mostInRun is how many seams one row holds.
const mostInRun = 9

// order condenses the schedule: what is tacked or welded in one go, then how long the machine rests.
func (m *maker) order() *page.Table {
	w := m.p.Weld
	var runs []run
	stage := -1
	for _, e := range w.Schedule.Entries {
		last := len(runs) - 1
		if e.Task < 0 {
			if last >= 0 {
				runs[last].rest += e.End - e.Start
			}
			continue
		}
		t := &w.Docket.Tasks[e.Task]
		what, item := "", ""
		switch {
		case e.Kind == weld.Tack:
			what, item = "fit and tack", t.Joint
		case e.Kind.Burns():
			what, item = "weld", t.Seam
		case e.Kind == weld.Turn, e.Kind == weld.Fit && t.Joint == "":
			what, item = "square up", "measure both diagonals and square the frame before any pass"
			if e.Kind == weld.Turn {
				what, item = "turn", clean(t.What)
			}
		default:
			continue
		}
		if last < 0 || runs[last].what != what || runs[last].rest > 0 || runs[last].stage != t.Stage || len(runs[last].items) >= mostInRun {
			runs = append(runs, run{what: what, stage: t.Stage, start: e.Start})
			last++
		}
		r := &runs[last]
		if len(r.items) == 0 || r.items[len(r.items)-1] != item {
			r.items = append(r.items, item)
		}
		if e.Kind.Burns() {
			r.arc += e.End - e.Start
		}
	}
	t := &page.Table{Columns: []page.Column{{Width: 17, Size: 13}, {Head: "at", Width: 20}, {Head: "do", Width: 32, Bold: true}, {Head: "joints and seams, in this order"}, {Head: "arc", Width: 17, Right: true}, {Head: "then rest", Width: 22, Right: true, Bold: true}}}
	for i := range runs {
		r := &runs[i]
		if r.stage != stage && r.stage < len(w.Layout.Stages) {
			stage = r.stage
			t.Rows = append(t.Rows, page.Row{Wide: true, Cells: cells(fmt.Sprintf("%d. %s", stage+1, clean(w.Layout.Stages[stage].Name)))})
		}
		arc, rest := "", ""
		if r.arc > 0 {
			arc = sheet.Clock(r.arc)
		}
		if r.rest > 0 {
			rest = sheet.Clock(r.rest)
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(fmt.Sprint(i + 1)), {Text: sheet.Clock(r.start)}, {Text: r.what}, {Text: strings.Join(r.items, ", ")}, {Text: arc}, {Text: rest}}})
	}
	return t
}
