package packet

import (
	"fmt"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sheet/page"
)

// stand is the lift and bolt sheet.
func (m *maker) stand() page.Part {
	p := m.p
	if p.Mass == nil || len(p.Frame.Members) == 0 {
		return page.Part{}
	}
	b := p.Mass.Whole
	blocks := []page.Block{head(1, "Lift and bolt"), &page.Facts{Facts: []page.Fact{{Name: "weight as lifted", Value: m.mass(b.KG)}, {Name: "balance, along x", Value: m.mm(b.Centre.X)}, {Name: "across y", Value: m.mm(b.Centre.Y)}, {Name: "up z", Value: m.mm(b.Centre.Z)}}}}
	blocks = append(blocks, m.lift()...)
	blocks = append(blocks, m.loads()...)
	blocks = append(blocks, m.bolts()...)
	return page.Part{Name: "Lift and bolt", Blocks: blocks}
}

func (m *maker) force(n float64) string { return m.tape.Force(n) }

func (m *maker) lift() []page.Block {
	a := m.p.Lift
	if a == nil {
		return nil
	}
	var blocks []page.Block
	for _, c := range a.Cautions {
		blocks = append(blocks, warn(c))
	}
	if h := a.Hand; h != nil {
		blocks = append(blocks, head(2, fmt.Sprintf("By hand: %d people, %s each while it is level", h.People, m.mass(h.EachKG))),
			keep(fmt.Sprintf("No fewer than %d at no more than %s each.", h.Fewest, m.mass(h.LimitKG))))
		t := &page.Table{Columns: []page.Column{{Head: "tilted by", Width: 40, Size: 14}, {Head: "the low end carries", Width: 60, Size: 16, Bold: true}, {Head: "the high end carries", Size: 16, Bold: true}}}
		for _, e := range h.Ends {
			t.Rows = append(t.Rows, page.Row{Cells: cells(sheet.Degrees(e.TiltDeg)+" degrees", m.mass(e.LowKG), m.mass(e.HighKG))})
		}
		blocks = append(blocks, t)
	}
	if s := a.Sling; s != nil {
		blocks = append(blocks, head(2, "By sling: the hook "+m.mm(s.HookMM)+" over the picks"))
		if !s.Hangs {
			blocks = append(blocks, warn("The centre of mass lies above the picks: it may turn over."))
		}
		t := &page.Table{Columns: []page.Column{{Width: 8}, {Head: "pick"}, {Head: "in the leg", Width: 40, Size: 16, Bold: true}, {Head: "from level", Width: 32, Size: 14}, {Head: "leg, long", Width: 40, Size: 14}}}
		for _, k := range s.Picks {
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(""), {Text: clean(k.Name)}, {Text: m.force(k.TensionN)}, {Text: sheet.Degrees(k.AngleDeg)}, {Text: m.mm(k.LegMM)}}})
		}
		blocks = append(blocks, t)
	}
	if k := a.Jack; k != nil {
		blocks = append(blocks, head(2, "By jack: "+m.force(k.JackN)+" under the end that goes up by "+m.mm(k.RaiseMM)),
			say("A strap on the feet that stay, cribbing under the end at every step. The standing feet carry "+m.force(k.StandsN)+"."))
		blocks = append(blocks, say(fmt.Sprintf("It tips over the standing feet at %s degrees, sideways at %s; they slide at %s.", sheet.Degrees(k.TipDeg), sheet.Degrees(k.SideTipDeg), sheet.Degrees(k.SlideDeg))))
	}
	if len(a.Turns) > 0 {
		t := &page.Table{Columns: []page.Column{{Width: 8}, {Head: "turn in the shop"}, {Head: "weighs", Width: 36, Size: 15, Bold: true}, {Head: "pairs of hands", Width: 34, Size: 15, Bold: true}, {Head: "", Width: 44}}}
		for _, x := range a.Turns {
			gear := ""
			if x.Gear {
				gear = "a hoist or a turning stand"
			}
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(""), {Text: clean(x.Name)}, {Text: m.mass(x.MassKG)}, {Text: fmt.Sprint(x.Hands)}, {Text: gear}}})
		}
		blocks = append(blocks, head(2, "Turning it while it is welded"), t)
	}
	if x := a.Access; x != nil {
		blocks = append(blocks, head(2, "The way to its place"))
		for _, why := range x.Why {
			blocks = append(blocks, say("- "+long(why)))
		}
		for _, s := range x.Splits {
			blocks = append(blocks, say(fmt.Sprintf("- a bolted split would fall at %s %s", s.Axis, m.mm(s.AtMM))))
		}
	}
	return blocks
}

// loads gives what each foot passes on to the ground, case by case.
func (m *maker) loads() []page.Block {
	a := m.p.Loads
	if a == nil {
		return nil
	}
	t := &page.Table{Columns: []page.Column{{Head: "foot or support", Width: 64}, {Head: "up", Width: 40, Size: 15, Bold: true, Right: true}, {Head: "along x", Width: 40, Size: 13, Right: true}, {Head: "along y", Size: 13, Right: true}}}
	for _, c := range a.Cases {
		if len(c.Reactions) == 0 {
			continue
		}
		t.Rows = append(t.Rows, page.Row{Wide: true, Cells: cells(clean(c.Name))})
		for _, r := range c.Reactions {
			t.Rows = append(t.Rows, page.Row{Cells: cells(clean(r.Name), m.force(r.Force[2]), m.force(r.Force[0]), m.force(r.Force[1]))})
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []page.Block{head(2, "What each foot carries"), keep("A reckoning by ANSI/AISC 360-22 allowable strength, not an approval: local codes and a licensed engineer decide what a frame may carry."), t}
}

func (m *maker) bolts() []page.Block {
	if len(m.p.Bolts) == 0 {
		return nil
	}
	t := &page.Table{Columns: []page.Column{{Head: "bolt", Width: 50, Size: 14, Bold: true}, {Head: "how many", Width: 22, Size: 16, Bold: true, Right: true}, {Head: "clearance hole", Width: 34, Size: 15}, {Head: "tighten to", Width: 44, Size: 14}, {Head: "pulls with"}}}
	var cautions []page.Block
	for i := range m.p.Bolts {
		s := &m.p.Bolts[i]
		name := clean(s.Bolt.Name)
		if name == "" {
			name = clean(s.Size.Name)
		}
		hole := m.drill(s.Hole.Value)
		torque := fmt.Sprintf("%.0f lb ft\n%.0f N m", s.Tight.Torque.Value/measure.PoundFtNM, s.Tight.Torque.Value)
		t.Rows = append(t.Rows, page.Row{Cells: cells(name+"\n"+clean(s.Grade.Name), fmt.Sprint(s.Qty), hole, torque, m.force(s.Tight.Clamp.Value))})
		for _, c := range s.Cautions {
			cautions = append(cautions, warn(c))
		}
	}
	blocks := []page.Block{head(2, "Bolts"), t}
	w := &page.Table{Columns: []page.Column{{Width: 8}, {Head: "place"}, {Head: "pull on each bolt", Width: 44, Size: 14}, {Head: "across it", Width: 38, Size: 14}, {Head: "worked to", Width: 30, Size: 14}}}
	for i := range m.p.Bolts {
		for _, x := range m.p.Bolts[i].Places {
			w.Rows = append(w.Rows, page.Row{Cells: []page.Cell{tick(""), {Text: clean(x.Name)}, {Text: m.force(x.Load.TensionN)}, {Text: m.force(x.Load.ShearN)}, {Text: fmt.Sprintf("%.0f %%", 100*x.Use)}}})
		}
	}
	if len(w.Rows) > 0 {
		blocks = append(blocks, w)
	}
	return append(blocks, cautions...)
}

// drill prints the diameter of a hole: the next drill is read from the tape's own fractions, the decimal beside it.
func (m *maker) drill(mm float64) string {
	if m.tape.Metric() {
		return fmt.Sprintf("%.1f mm", mm)
	}
	return measure.Sixtyfourths.Print(measure.FromMM(mm)) + fmt.Sprintf("\n(%.3f\")", mm/measure.InchMM)
}
