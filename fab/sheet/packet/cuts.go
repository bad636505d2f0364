package packet

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sheet/page"
)

// cuts is the sheet for the saw: each stick drawn to scale, under it every step with its settings and a box to tick.
func (m *maker) cuts() page.Part {
	q := m.p.Queue
	if len(q.Steps) == 0 {
		return page.Part{}
	}
	saw := &m.p.Job.Saw
	reads := "from square"
	if saw.ReadsBlade {
		reads = "as a scale reads that has 90 at square"
	}
	blocks := []page.Block{head(1, "Cut sheet"), warn(sheet.SawCaution),
		&page.Facts{Facts: []page.Fact{{Name: "kerf", Value: m.thin(saw.Kerf)}, {Name: "settings of swing", Value: fmt.Sprint(q.Swings)}, {Name: "settings of stop", Value: fmt.Sprint(q.Stops)}, {Name: "about", Value: sheet.Span(q.EstS)}}},
		say("The blade runs beyond the line, on the drop's side. The swing is given " + reads + "; left or right is where the line leans at the far edge. Near and far edge: from the tip of the fresh end to the line. Hook the tape on the edge in bold.")}
	for i := range m.p.Nests {
		sn := &m.p.Nests[i]
		blocks = append(blocks, say(m.sectionName(sn.Section)+"; "+sheet.Proof(*sn, m.currency)+"."))
	}
	for i := 0; i < len(q.Steps); {
		k := i + 1
		for k < len(q.Steps) && q.Steps[k].Stick == q.Steps[i].Stick && q.Steps[k].Bundle == q.Steps[i].Bundle {
			k++
		}
		blocks = append(blocks, &page.Group{Blocks: []page.Block{m.stick(q.Steps[i:k]), m.steps(q.Steps[i:k]), &page.Space{MM: 2}}})
		i = k
	}
	return page.Part{Name: "Cut sheet", Blocks: blocks}
}

// stick draws one stick to scale with its pieces, the slants as they are on the face that lies up.
func (m *maker) stick(steps []cut.Step) *page.Drawing {
	s := steps[0]
	sn := &m.p.Nests[s.Bundle]
	u := &sn.Nest.Used[s.Used]
	st := sn.Problem.Sticks[u.Stick]
	sec := m.p.Sections[sn.Section]
	const w, top, bar = page.Width, 9.5, 13.0
	d := &page.Drawing{W: w, H: top + bar + 1.5, Says: fmt.Sprintf("stick %d to scale", s.Stick)}
	name := clean(m.p.StickName(s.Bundle, s.Used)) + ", " + m.sectionName(sn.Section)
	source := "bought"
	if st.OnHand {
		source = "on hand"
	}
	drop := "drop " + m.print(u.Drop)
	if keep := m.p.Job.Saw.Keep; keep > 0 && u.Drop >= keep {
		drop += ", keep it"
	}
	left := fmt.Sprintf("Stick %d", s.Stick)
	d.Add(page.Label{X: 0, Y: 6.2, Text: left, Size: 17, Bold: true})
	at := page.WidthMM(left, 17, true) + 4
	right := page.WidthMM(drop, 13, true)
	d.Add(page.Label{X: at, Y: 6.2, Text: page.Cut(fmt.Sprintf("%s %s: %s", m.tape.PrintLong(st.Length), source, name), 13, false, w-at-right-4), Size: 13},
		page.Label{X: w, Y: 6.2, Text: drop, Size: 13, Bold: true, Anchor: page.End})
	scale := w / max(1, st.Length.MM())
	d.Add(page.Rect(0, top, w, bar, 0.35, page.Light))
	end := 0.0
	type piece struct {
		poly     []page.Point
		from, to float64
		step     *cut.Step
	}
	var all []piece
	for i := range steps {
		c := &steps[i]
		if c.Op != cut.Cut {
			continue
		}
		lean := func(q nest.Plane) float64 {
			if q.SY != 0 {
				return float64(q.SY) / 1e9 * sec.Depth.MM()
			}
			return float64(q.SZ) / 1e9 * sec.Width.MM()
		}
		l, r := lean(c.Left), lean(c.Right)
		from, to := c.From.MM(), c.To.MM()
		lb, lt := (from+max(0, -l))*scale, (from+max(0, l))*scale
		rb, rt := (to-max(0, r))*scale, (to-max(0, -r))*scale
		all = append(all, piece{[]page.Point{{X: lb, Y: top + bar}, {X: lt, Y: top}, {X: rt, Y: top}, {X: rb, Y: top + bar}}, max(lb, lt), min(rb, rt), c})
		end = max(end, rb, rt)
	}
	if w-end > 2 { // what is left, hatched
		d.Add(page.Hatch([]page.Point{{X: end, Y: top}, {X: w, Y: top}, {X: w, Y: top + bar}, {X: end, Y: top + bar}}, 2.2, 0.2)...)
	}
	for _, x := range all {
		d.Add(page.Poly{Points: x.poly, W: 0.45, Fill: page.Chalk})
		name, room := fmt.Sprintf("%s-%d", x.step.Mark, x.step.Unit), x.to-x.from-1
		mid := (x.from + x.to) / 2
		switch {
		case page.WidthMM(name, 9, true) <= room:
			size := page.Fit(name, 16, 9, true, room)
			d.Add(page.Label{X: mid, Y: top + bar/2 + size*page.PointMM*0.36, Text: name, Size: size, Bold: true, Anchor: page.Middle})
		case room >= 3:
			d.Add(page.Label{X: mid + 1.1, Y: top + bar/2, Text: name, Size: page.Fit(name, 9, 5, true, bar-1), Bold: true, Up: true, Anchor: page.Middle})
		}
	}
	for _, p := range u.Partings() {
		x := p.MM() * scale
		d.Add(page.Line{X0: x, Y0: top - 2.5, X1: x, Y1: top + bar + 1.5, W: 0.7, Dash: true},
			page.Label{X: x, Y: top - 0.2, Text: "yard", Size: 8, Bold: true, Anchor: page.Middle})
	}
	return d
}

// steps is the table under a stick.
func (m *maker) steps(steps []cut.Step) *page.Table {
	t := &page.Table{Columns: []page.Column{{Head: fmt.Sprintf("stick %d", steps[0].Stick), Width: 16, Size: 12}, {Head: "piece", Width: 23, Size: 17, Bold: true}, {Head: "stop: tip to tip", Width: 31, Size: 17, Bold: true},
		{Head: "swing", Width: 28, Size: 14}, {Head: "near edge", Width: 22, Size: 13}, {Head: "far edge", Width: 22, Size: 13}, {Head: "do"}}}
	reads := m.p.Job.Saw.ReadsBlade
	for i := range steps {
		s := &steps[i]
		no := tick(fmt.Sprint(s.Number))
		do := ""
		add := func(x string) {
			if do != "" {
				do += "; "
			}
			do += x
		}
		if s.Flip {
			add("first half a turn")
		}
		if s.TiltDeg != 0 {
			add("tilt the blade " + sheet.Degrees(math.Abs(s.TiltDeg)))
		}
		if s.WedgeDeg != 0 {
			add("roll it " + sheet.Degrees(math.Abs(s.WedgeDeg)) + " on wedges")
		}
		swing := page.Cell{Text: sheet.Swing(s.SwingDeg, reads), Bold: s.NewSwing}
		row := []page.Cell{no, {}, {}, {}, {}, {}, {}}
		switch s.Op {
		case cut.Load:
			row[1], row[2], row[6] = page.Cell{Text: "load"}, page.Cell{Text: m.print(s.Length)}, page.Cell{Text: "measure it"}
		case cut.Part:
			row[1], row[2], row[6] = page.Cell{Text: "part"}, page.Cell{Text: m.print(s.Near)}, page.Cell{Text: "the yard's cut, from the first end"}
		case cut.Prove:
			swing.Bold = true
			row[1], row[3] = page.Cell{Text: "prove"}, swing
			row[6].Text = "scrap: flip, halve the gap"
			if s.Offset != 0 {
				row[6].Text += "; it leans " + m.print(s.Offset.Abs())
			}
		case cut.Trim:
			row[1], row[3], row[4].Text, row[5].Text, row[6].Text = page.Cell{Text: "trim"}, swing, m.print(s.Near), m.print(s.Far), do
		default:
			if s.Pattern {
				add("pattern: measure it")
			}
			near, far := page.Cell{Text: m.print(s.Near)}, page.Cell{Text: m.print(s.Far)}
			if s.Edge == "far" { // the edge to hook on
				far.Bold = true
			} else {
				near.Bold = true
			}
			if s.Measure != "" && s.Measure != "tip-tip" {
				add(s.Measure + " on the " + s.Edge + " edge")
			}
			row = []page.Cell{no, {Text: fmt.Sprintf("%s-%d", s.Mark, s.Unit)}, {Text: m.print(s.Stop)}, swing, near, far, {Text: do}}
		}
		t.Rows = append(t.Rows, page.Row{Cells: row})
	}
	return t
}
