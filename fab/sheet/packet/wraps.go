package packet

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/view"
)

// wraps are templates at full size, to be cut out and wrapped round the end of a piece that no saw of the job cuts.
func (m *maker) wraps() page.Part {
	var blocks []page.Block
	for _, w := range sheet.Wraps(m.p) {
		blocks = append(blocks, m.wrap(w.Wrap, w.Title)...)
	}
	if len(blocks) == 0 {
		return page.Part{}
	}
	first := []page.Block{head(1, "Templates, full size"), say("Print at 100 %, never fitted to the page, and measure both bars first. Cut along the heavy line and wrap the lower part round the piece, the print outwards, the upper dashed line where the piece's length ends (its tip; of a tube the sharp corner), with the words on the sides that they name: the piece lies as for its mark-out, its across face, the front, towards you. Mark along the edge. Steel above the heavy line is cut off.")}
	return page.Part{Name: "Templates", Blocks: append(first, blocks...)}
}

// wrap draws one template, over several strips of paper where its girth is more than the page is wide.
func (m *maker) wrap(w view.Wrap, title string) []page.Block {
	const lap, keep, wide = 10.0, 22.0, page.Width
	total := w.GirthMM + lap
	strips := int(math.Ceil((total - lap) / (wide - lap)))
	var out []page.Block
	for k := range max(1, strips) {
		from := float64(k) * (wide - lap)
		to := min(from+wide, total)
		name := title
		if strips > 1 {
			name += fmt.Sprintf(" (strip %d of %d)", k+1, strips)
		}
		out = append(out, &page.Group{Blocks: []page.Block{head(3, name), m.strips(w, from, to, total, lap, keep), m.bars()}})
	}
	return out
}

// strips draws the part of a template from one place of the girth to another.
func (m *maker) strips(w view.Wrap, from, to, total, lap, keep float64) *page.Drawing {
	const top = 5.0
	h := top + w.DepthMM + keep
	d := &page.Drawing{W: page.Width, H: h, Says: "a template at full size"}
	y := func(along float64) float64 { return top + along }
	clip := func(x0, y0, x1, y1, width float64, dash bool) {
		if x0 > x1 {
			x0, y0, x1, y1 = x1, y1, x0, y0
		}
		if x1 < from || x0 > to {
			return
		}
		if x0 < from {
			y0 += (y1 - y0) * (from - x0) / (x1 - x0)
			x0 = from
		}
		if x1 > to {
			y1 = y0 + (y1-y0)*(to-x0)/(x1-x0)
			x1 = to
		}
		d.Add(page.Line{X0: x0 - from, Y0: y0, X1: x1 - from, Y1: y1, W: width, Dash: dash})
	}
	for i := 1; i < len(w.Points); i++ {
		a, b := w.Points[i-1], w.Points[i]
		clip(a.RoundMM, y(a.AlongMM), b.RoundMM, y(b.AlongMM), 0.6, false)
	}
	first, last := w.Points[0], w.Points[len(w.Points)-1]
	clip(last.RoundMM, y(last.AlongMM), total, y(last.AlongMM), 0.3, false)
	clip(0, y(0), w.GirthMM, y(0), 0.2, true)
	clip(0, h-0.5, total, h-0.5, 0.3, false)
	clip(0, y(first.AlongMM), 0, h-0.5, 0.3, false)
	clip(w.GirthMM, y(last.AlongMM), w.GirthMM, h-0.5, 0.25, true)
	clip(total, y(last.AlongMM), total, h-0.5, 0.3, false)
	for _, f := range w.Folds {
		clip(f, y(0), f, h-0.5, 0.2, true)
	}
	for _, side := range w.Sides {
		x := side.RoundMM - from
		if x < -1e-9 || side.RoundMM > to {
			continue
		}
		d.Add(page.Line{X0: x, Y0: h - 4.5, X1: x, Y1: h - 0.5, W: 0.35}, page.Label{X: x + 0.8, Y: h - 2, Text: side.Name, Size: 12})
	}
	if from > 0 { // where this strip meets the one before
		clip(from+lap, top, from+lap, h-0.5, 0.2, true)
		d.Add(page.Label{X: 1, Y: h - 8, Text: "lay over", Size: 8})
	}
	d.Add(page.Label{X: 0, Y: h + 4.5, Text: "once round " + m.mm(w.GirthMM) + ", cut " + m.mm(w.DepthMM) + " deep; the end strip goes under", Size: 12})
	d.H += 6
	return d
}

// bars are measured on the print before a template is trusted.
func (m *maker) bars() *page.Drawing {
	d := &page.Drawing{W: page.Width, H: 16, Says: "bars of 100 mm and 4 in to check the print"}
	for i, b := range []struct {
		mm   float64
		text string
	}{{100, "100 mm on paper"}, {101.6, "4 in on paper"}} {
		y := 5 + float64(i)*8
		d.Add(page.Line{X0: 0.2, Y0: y, X1: 0.2 + b.mm, Y1: y, W: 0.35}, page.Line{X0: 0.2, Y0: y - 2, X1: 0.2, Y1: y + 2, W: 0.35}, page.Line{X0: 0.2 + b.mm, Y0: y - 2, X1: 0.2 + b.mm, Y1: y + 2, W: 0.35},
			page.Label{X: 0.2 + b.mm + 4, Y: y + 1.5, Text: b.text, Size: 11})
	}
	return d
}
