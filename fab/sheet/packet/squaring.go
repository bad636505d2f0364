package packet

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/square"
)

// squaring has the target diagonals, boxes for the measured ones, the steps in their order, and the feet.
func (m *maker) squaring() page.Part {
	f := m.p.Frame
	if len(f.Members) == 0 {
		return page.Part{}
	}
	blocks := []page.Block{head(1, "Squaring up")}
	targets := square.Targets(f)
	for i := range targets {
		t := &targets[i]
		inner := []page.Block{head(2, fmt.Sprintf("%s: both diagonals %s", clean(t.Name), m.mm(t.DiagonalMM))), m.rectangle(t)}
		box := &page.Table{Least: 9.5, Columns: []page.Column{{Head: "", Width: 44}, {Head: "1 to 3", Width: 30}, {Head: "2 to 4", Width: 30}, {Head: "difference", Width: 30}, {Head: "pull the longer by half of it"}}}
		for _, when := range []string{"tacked outside", "tacked inside", "welded"} {
			box.Rows = append(box.Rows, page.Row{Cells: []page.Cell{tick(when), {}, {}, {}, {}}})
		}
		high := &page.Table{Least: 9.5, Columns: []page.Column{{Head: "heights of the corners", Width: 46}, {Head: "1", Width: 28}, {Head: "2", Width: 28}, {Head: "3", Width: 28}, {Head: "4", Width: 28}, {Head: "1 + 3 - 2 - 4"}}}
		high.Rows = []page.Row{{Cells: cells("from the table", "", "", "", "", "")}}
		inner = append(inner, box, high, &page.Space{MM: 2})
		blocks = append(blocks, &page.Group{Blocks: inner})
	}
	if bodies := square.Bodies(f); len(bodies) > 0 {
		t := &page.Table{Least: 12, Columns: []page.Column{{Head: "low corner to the high one across", Width: 62}, {Head: "from 1", Width: 31, Size: 15, Bold: true}, {Head: "from 2", Width: 31, Size: 15, Bold: true}, {Head: "from 3", Width: 31, Size: 15, Bold: true}, {Head: "from 4", Size: 15, Bold: true}}}
		for _, b := range bodies {
			row := []page.Cell{{Text: clean(b.Lower) + " to " + clean(b.Upper)}}
			for _, v := range b.DiagonalMM {
				row = append(row, page.Cell{Text: m.mm(v)})
			}
			t.Rows = append(t.Rows, page.Row{Cells: row}, page.Row{Cells: cells("measured", "", "", "", "")})
		}
		blocks = append(blocks, head(2, "Through the body"), t)
	}
	if steps := square.Steps(f, m.tape); len(steps) > 0 {
		t := &page.Table{Columns: []page.Column{{Width: 17, Size: 13}, {Head: "step", Width: 52, Bold: true}, {Head: "do"}}}
		for i, s := range steps {
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(fmt.Sprint(i + 1)), {Text: clean(s.Title)}, {Text: long(s.Do)}}})
		}
		blocks = append(blocks, head(2, "In this order"), t)
	}
	if len(f.Feet) > 0 {
		t := &page.Table{Columns: []page.Column{{Head: "foot", Width: 44}, {Head: "leg, tip to tip", Width: 36, Size: 16, Bold: true}, {Head: "cut, from square", Width: 32, Size: 16}, {Head: "rise over run", Width: 28}, {Head: "gap if cut square"}}}
		for _, x := range f.Feet {
			t.Rows = append(t.Rows, page.Row{Cells: cells(clean(f.Members[x.Member].Name), m.mm(x.LengthMM), sheet.Degrees(x.AngleDeg), fmt.Sprintf("%.4f", x.RiseRun), m.mm(x.GapMM))})
		}
		blocks = append(blocks, head(2, "Feet on their ground"), t)
	}
	var fit *page.Table
	for i := range f.Members {
		if x := &f.Members[i]; x.CutFit != "" {
			if fit == nil {
				fit = &page.Table{Columns: []page.Column{{Head: "piece", Width: 24, Bold: true}, {Head: "member", Width: 44}, {Head: "measured", Width: 34}, {Head: "why"}}, Least: 9}
				blocks = append(blocks, head(2, "Measure in place before it is cut"), fit)
			}
			fit.Rows = append(fit.Rows, page.Row{Cells: []page.Cell{tick(m.marks[i]), {Text: clean(x.Name)}, {}, {Text: clean(x.CutFit)}}})
		}
	}
	return page.Part{Name: "Squaring", Blocks: blocks}
}

// rectangle draws a frame with its diagonals and the numbers of its corners.
func (m *maker) rectangle(t *square.Target) *page.Drawing {
	const boxW, boxH, size = 120.0, 26.0, 15.0
	scale := min(boxW/max(1, t.LengthMM), boxH/max(1, t.WidthMM))
	w, h := t.LengthMM*scale, t.WidthMM*scale
	x, y := (page.Width-w)/2, 8.0
	d := &page.Drawing{W: page.Width, H: y + h + 9, Says: "the frame " + clean(t.Name) + " with its diagonals"}
	bar := max(1.6, min(w, h)*0.06)
	d.Add(page.Rect(x, y, w, h, 0.5, page.Chalk))
	if w > 3*bar && h > 3*bar {
		d.Add(page.Rect(x+bar, y+bar, w-2*bar, h-2*bar, 0.3, page.Chalk))
	}
	d.Add(page.Line{X0: x, Y0: y, X1: x + w, Y1: y + h, W: 0.4, Dash: true}, page.Line{X0: x, Y0: y + h, X1: x + w, Y1: y, W: 0.4, Dash: true})
	for i, c := range [][2]float64{{x, y + h}, {x + w, y + h}, {x + w, y}, {x, y}} {
		dx := -5.0
		if i == 1 || i == 2 {
			dx = 5
		}
		d.Add(page.Disc{X: c[0] + dx, Y: c[1], R: 3.2, Fill: page.Slate}, page.Label{X: c[0] + dx, Y: c[1] + 1.6, Text: fmt.Sprint(i + 1), Size: 12, Bold: true, White: true, Anchor: page.Middle})
	}
	label := m.mm(t.DiagonalMM)
	lw := page.WidthMM(label, size, true) + 3
	if lw < w {
		d.Add(page.Rect(x+w/2-lw/2, y+h/2-3.6, lw, 7.2, 0, page.Chalk))
	}
	d.Add(page.Label{X: x + w/2, Y: y + h/2 + 2, Text: label, Size: size, Bold: true, Anchor: page.Middle},
		page.Label{X: x + w/2, Y: y + h + 6.5, Text: m.mm(t.LengthMM), Size: size, Anchor: page.Middle},
		page.Label{X: max(1, x-12), Y: y + h/2 + 2, Text: m.mm(t.WidthMM), Size: size, Anchor: page.End})
	if math.IsNaN(scale) {
		return &page.Drawing{W: page.Width, H: 1}
	}
	return d
}
