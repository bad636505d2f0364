package packet

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sheet/page"
)

// buy is the list that is handed to the yard, one page for each supplier: no prices, so that it can be shown to anybody.
func (m *maker) buy() page.Part {
	p := m.p
	var blocks []page.Block
	for i, o := range p.Orders() {
		title := "Buy list"
		if o.Supplier != "" {
			title += ": " + clean(o.Supplier)
		}
		level := 1
		if i > 0 {
			level = 2
		}
		blocks = append(blocks, head(level, title))
		if len(o.Sticks) > 0 {
			blocks = append(blocks, m.sticks(o))
		}
		if o.Partings > 0 {
			blocks = append(blocks, say(fmt.Sprintf("Please cut %d times as told. No part may be longer than %s; the rough cut may take %s of either side.", o.Partings, m.tape.PrintLong(p.Job.Saw.Haul), m.print(p.Job.Saw.YardTrim))))
		}
		if len(o.Goods) > 0 {
			t := &page.Table{Least: 9, Columns: []page.Column{{Width: 8}, {Head: "pieces", Width: 22, Size: 16, Bold: true, Right: true}, {Head: "goods"}}}
			for _, g := range o.Goods {
				t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(""), {Text: fmt.Sprint(g.Qty)}, {Text: clean(g.Name)}}})
			}
			blocks = append(blocks, t)
		}
	}
	if len(blocks) == 0 {
		blocks = append(blocks, head(1, "Buy list"), say("Nothing: what is on hand is enough."))
	}
	if w := p.Weld; w != nil && w.Buy.Packs > 0 {
		t := &page.Table{Least: 9, Columns: []page.Column{{Width: 8}, {Head: "packs", Width: 22, Size: 16, Bold: true, Right: true}, {Head: "for the welder, unless it is there"}}}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(""), {Text: fmt.Sprint(w.Buy.Packs)}, {Text: fmt.Sprintf("%s of %s (%s are used up)", clean(w.Buy.What), m.mass(w.Buy.PackKG), m.mass(w.WireKG))}}})
		if w.Buy.GasM3 > 0 {
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(""), {}, {Text: fmt.Sprintf("shielding gas, about %.2f m3 at the nozzle (%.0f cu ft)", w.Buy.GasM3, w.Buy.GasM3/0.0283168466)}}})
		}
		blocks = append(blocks, t)
	}
	if on := m.onHand(); len(on) > 0 {
		t := &page.Table{Columns: []page.Column{{Width: 8}, {Head: "sticks", Width: 22, Size: 16, Bold: true, Right: true}, {Head: "length", Width: 46, Size: 16, Bold: true}, {Head: "steel"}}, Rows: on}
		blocks = append(blocks, head(2, "From your own rack"), t)
	}
	return page.Part{Name: "Buy list", Blocks: blocks}
}

// sticks are the sticks of one order, with the cuts that the yard is asked for.
func (m *maker) sticks(o plan.Order) *page.Table {
	t := &page.Table{Least: 10, Columns: []page.Column{{Width: 8}, {Head: "sticks", Width: 22, Size: 18, Bold: true, Right: true}, {Head: "length", Width: 46, Size: 16, Bold: true}, {Head: "steel"}}}
	if o.Partings > 0 {
		t.Columns = append(t.Columns, page.Column{Head: "cut at, from one end", Width: 58, Size: 14, Bold: true})
	}
	for _, b := range o.Sticks {
		row := []page.Cell{tick(""), {Text: fmt.Sprint(b.Qty)}, {Text: m.tape.PrintLong(b.Length)}, {Text: m.steel(b.Section)}}
		if o.Partings > 0 {
			row = append(row, page.Cell{Text: m.partings(b.Parts)})
		}
		t.Rows = append(t.Rows, page.Row{Cells: row})
	}
	return t
}

// partings says where the yard cuts each stick of a line; sticks parted alike are counted.
func (m *maker) partings(parts [][]measure.Length) string {
	var out []string
	count := map[string]int{}
	for _, places := range parts {
		if len(places) == 0 {
			continue
		}
		var at []string
		for _, l := range places {
			at = append(at, m.print(l))
		}
		s := strings.Join(at, " and ")
		if count[s] == 0 {
			out = append(out, s)
		}
		count[s]++
	}
	for i, s := range out {
		if len(parts) > 1 {
			out[i] = fmt.Sprintf("%d at %s", count[s], s)
		}
	}
	return strings.Join(out, "\n")
}

// onHand are the sticks that the nests take from the shop's own.
func (m *maker) onHand() []page.Row {
	var rows []page.Row
	for i := range m.p.Nests {
		sn := &m.p.Nests[i]
		count := map[int]int{}
		var order []int
		for _, u := range sn.Nest.Used {
			if sn.Problem.Sticks[u.Stick].OnHand {
				if count[u.Stick] == 0 {
					order = append(order, u.Stick)
				}
				count[u.Stick]++
			}
		}
		for _, k := range order {
			rows = append(rows, page.Row{Cells: []page.Cell{tick(""), {Text: fmt.Sprint(count[k])}, {Text: m.tape.PrintLong(sn.Problem.Sticks[k].Length)}, {Text: m.sectionName(sn.Section)}}})
		}
	}
	return rows
}

// receipt is filled in when the steel comes in: what it really cost and how it really is.
func (m *maker) receipt() page.Part {
	p := m.p
	if len(p.Buy) == 0 {
		return page.Part{}
	}
	blocks := []page.Block{head(1, "When the steel is in"),
		say("Count it, and measure it before the yard is out of sight. Stay-at-home page: it has the prices that the plan was made with. Put into the job file what is different; the plan follows.")}
	t := &page.Table{Least: 13, Columns: []page.Column{{Width: 8}, {Head: "sticks", Width: 16, Size: 16, Bold: true, Right: true}, {Head: "steel"}, {Head: "price, each", Width: 26, Right: true}, {Head: "true price", Width: 30}, {Head: "count", Width: 22}}}
	var total measure.Money
	priced := true
	for _, b := range p.Buy {
		price := "none known"
		if b.Priced {
			price = b.Price.With(m.currency)
		}
		if b.Old {
			price += "\n(old)"
		}
		priced = priced && b.Priced
		total += b.Cost
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(""), {Text: fmt.Sprint(b.Qty)}, {Text: m.tape.PrintLong(b.Length) + " " + m.steel(b.Section)}, {Text: price}, {}, {}}})
	}
	blocks = append(blocks, t)
	if priced {
		blocks = append(blocks, strong("Steel as planned: "+total.With(m.currency)))
	}
	w := &page.Table{Least: 13, Columns: []page.Column{{Head: "steel"}, {Head: "wall ordered", Width: 28}, {Head: "wall, measured", Width: 32}, {Head: "bow in the length", Width: 32}, {Head: "twist", Width: 28}}}
	seen := map[string]bool{}
	for _, b := range p.Buy {
		if seen[b.Section] {
			continue
		}
		seen[b.Section] = true
		wall := ""
		if s, ok := p.Sections[b.Section]; ok && s.Wall > 0 {
			wall = m.thin(s.Wall)
		}
		w.Rows = append(w.Rows, page.Row{Cells: []page.Cell{{Text: m.sectionName(b.Section)}, {Text: wall}, {}, {}, {}}})
	}
	blocks = append(blocks, head(2, "How it is"), w,
		say("Bow: sight along the stick, or a string from end to end and the widest gap. Twist: lay it on a flat table, press one end flat and measure the gap under a corner of the other. Bow goes where a weld pulls it straight; twisted sticks are for short pieces."))
	return page.Part{Name: "Receipt", Blocks: blocks}
}

// thin prints a wall: thousandths of an inch, or mm.
func (m *maker) thin(l measure.Length) string {
	if m.tape.Metric() {
		return sheet.Degrees(l.MM()) + " mm"
	}
	return fmt.Sprintf("%.3f\"", l.MM()/measure.InchMM)
}
