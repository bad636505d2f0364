package packet

import (
	"fmt"

	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sheet/page"
)

// paint is the page for whoever paints: preparation, coats, what dries when, holes and caps.
func (m *maker) paint() page.Part {
	s := m.p.Paint
	if s == nil {
		return page.Part{}
	}
	blocks := []page.Block{head(1, "Paint and drying")}
	facts := []page.Fact{{Name: "to be covered", Value: sheet.PaintArea(s.AreaM2, m.tape)}}
	if s.Hours > 0 {
		facts = append(facts, page.Fact{Name: "first to last", Value: sheet.Span(s.Hours * 3600)})
	}
	if s.Caps > 0 {
		facts = append(facts, page.Fact{Name: "plugs or caps", Value: fmt.Sprint(s.Caps)})
	}
	blocks = append(blocks, &page.Facts{Facts: facts})
	for _, c := range s.Cautions {
		blocks = append(blocks, warn(c))
	}
	for _, c := range s.Traps {
		blocks = append(blocks, warn(c))
	}
	if len(s.Prep) > 0 {
		t := &page.Table{Columns: []page.Column{{Width: 8}, {Head: "grade", Width: 44, Bold: true}, {Head: "area", Width: 34}, {Head: "do"}}}
		for _, x := range s.Prep {
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(""), {Text: clean(x.Grade)}, {Text: sheet.PaintArea(x.M2, m.tape)}, {Text: long(x.Do)}}})
		}
		blocks = append(blocks, head(2, "The surface first"), t)
	}
	if len(s.Coats) > 0 {
		t := &page.Table{Columns: []page.Column{{Width: 8}, {Head: "paint"}, {Head: "coats", Width: 16, Size: 16, Bold: true}, {Head: "wet, by the comb", Width: 34, Size: 16, Bold: true}, {Head: "dry", Width: 24, Size: 14}, {Head: "takes", Width: 28, Size: 14}, {Head: "by", Width: 22}}}
		for i := range s.Coats {
			c := &s.Coats[i]
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(""), {Text: clean(c.Name)}, {Text: fmt.Sprint(c.Coats)}, {Text: sheet.PaintFilm(c.WetMM, m.tape)}, {Text: sheet.PaintFilm(c.Spec.FilmMM, m.tape)}, {Text: sheet.PaintVolume(c.Litres, m.tape)}, {Text: clean(c.Method)}}})
		}
		blocks = append(blocks, head(2, "Coats"), t)
	}
	if z := s.Zinc; z != nil {
		blocks = append(blocks, head(2, "Hot-dip galvanised after welding"), say(fmt.Sprintf("%s inside and out, about %s of zinc on %s of steel.", sheet.PaintArea(z.AreaM2, m.tape), m.mass(z.KG), m.mass(z.SteelKG))))
		t := &page.Table{Columns: []page.Column{{Width: 8}, {Head: "closed tube", Width: 60}, {Head: "holes at each end", Width: 36, Size: 16, Bold: true}, {Head: "of", Width: 32, Size: 16, Bold: true}, {Head: "by"}}}
		for i := range s.Sealed {
			x := &s.Sealed[i]
			row := []page.Cell{tick(""), {Text: clean(x.Member)}, {Text: fmt.Sprint(x.Vent.Each)}, {Text: m.mm(x.Vent.MM)}, {Text: clean(x.Vent.Source)}}
			if x.Vent.Each == 0 {
				row[2].Text, row[3].Text, row[4].Text = "ask", "", "larger than the table of vent holes: the galvaniser says"
			}
			t.Rows = append(t.Rows, page.Row{Cells: row})
		}
		if len(t.Rows) > 0 {
			blocks = append(blocks, t)
		}
	}
	if len(s.Steps) > 0 {
		t := &page.Table{Columns: []page.Column{{Width: 8}, {Head: "when", Width: 50, Bold: true}, {Head: "what"}, {Head: "takes", Width: 34, Size: 13, Right: true}}}
		for _, x := range s.Steps {
			what := clean(x.What)
			if !x.Work {
				what += " (it dries)"
			}
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(""), {Text: sheet.PaintWhen(x)}, {Text: what}, {Text: sheet.Span((x.EndH - x.StartH) * 3600)}}})
		}
		blocks = append(blocks, head(2, "The calendar"), t)
	}
	return page.Part{Name: "Paint", Blocks: blocks}
}
