package packet

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/view"
)

// slate is the block at the head of a document: its title in chalk.
func (m *maker) slate(kind string, o Options) *page.Drawing {
	const high = 30.0
	d := &page.Drawing{W: page.Width, H: high}
	d.Add(page.Rect(0, 0, page.Width, high, 0, page.Slate))
	size := page.Fit(m.title, 30, 17, true, page.Width-12)
	lines := page.Wrap(m.title, size, true, page.Width-12)
	if len(lines) > 2 {
		lines = []string{lines[0], page.Cut(strings.Join(lines[1:], " "), size, true, page.Width-12)}
	}
	y := 14.5
	if len(lines) == 2 {
		y = 10.5
	}
	for i, l := range lines {
		d.Add(page.Label{X: 6, Y: y + float64(i)*page.LineMM(size), Text: l, Size: size, Bold: true, White: true})
	}
	under := kind
	if !o.Made.IsZero() {
		under += " · " + o.Made.Format("2 January 2006")
	}
	if o.Revision != "" {
		under += " · revision " + o.Revision
	}
	d.Add(page.Line{X0: 6, Y0: 21.3, X1: page.Width - 6, Y1: 21.3, W: 0.3, Grey: 0.75})
	d.Add(page.Label{X: 6, Y: 26.8, Text: under, Size: 13, White: true})
	return d
}

func (m *maker) cover(o Options) page.Part {
	p := m.p
	blocks := []page.Block{m.slate("Shop packet", o), &page.Space{MM: 2}}
	if len(p.Frame.Members) > 0 {
		blocks = append(blocks, m.isometric(), m.views(), &page.Space{MM: 2})
	}
	pieces, sticks := 0, 0
	for i := range p.Pieces {
		pieces += p.Pieces[i].Qty
	}
	for i := range p.Nests {
		sticks += len(p.Nests[i].Nest.Used)
	}
	facts := []page.Fact{{Name: "pieces", Value: fmt.Sprint(pieces)}, {Name: "sticks", Value: fmt.Sprint(sticks)}}
	if p.Mass != nil && len(p.Frame.Members) > 0 {
		b := p.Mass.Whole
		size := b.Bounds.Hi.Sub(b.Bounds.Lo)
		facts = append(facts, page.Fact{Name: "weight", Value: m.mass(b.KG)})
		facts = append(facts, page.Fact{Name: "long", Value: m.mm(size.X)}, page.Fact{Name: "wide", Value: m.mm(size.Y)}, page.Fact{Name: "high", Value: m.mm(size.Z)})
		blocks = append(blocks, &page.Facts{Facts: facts})
	} else {
		facts = append(facts, page.Fact{Name: "weight of the steel", Value: m.mass(p.MassKG)})
		blocks = append(blocks, &page.Facts{Facts: facts})
	}
	blocks = append(blocks, head(2, "Before you start"))
	for _, c := range m.cautions() {
		blocks = append(blocks, warn(c))
	}
	var known []string
	known = append(known, p.Notes...)
	for _, x := range p.Problems {
		if x.Severity != text.Caution {
			known = append(known, x.Message)
		}
	}
	if len(known) > 0 {
		blocks = append(blocks, head(2, "To know"))
		for _, s := range known {
			blocks = append(blocks, say("- "+long(s)))
		}
	}
	return page.Part{Name: "Cover", Blocks: blocks}
}

// cautions are the warnings that hold for the whole job; those of a station stand on its own page.
func (m *maker) cautions() []string {
	out := []string{sheet.SawCaution}
	if m.p.Weld != nil {
		out = append(out, "At the arc: shade, gloves and sleeves, dry ground, fumes led away, a fire watch after the last arc. The whole list stands on the weld map.")
	}
	if m.p.Lift != nil || m.p.Mass != nil && len(m.p.Frame.Members) > 0 {
		out = append(out, "Lifting: weigh it up before you take hold. Weights and shares are reckoned and stand on the lift sheet; nobody under the load.")
	}
	for _, x := range m.p.Problems {
		if x.Severity == text.Caution {
			out = append(out, x.Message)
		}
	}
	out = append(out, "Figures here are a reckoning, not an approval. The machines' manuals, the local codes and a licensed engineer have the last word.")
	return out
}

// isometric draws the frame with its marks.
func (m *maker) isometric() *page.Drawing {
	d := &page.Drawing{W: page.Width, H: 63, Says: "the frame, with the marks of its pieces"}
	v := fitted(d, view.Draw(m.p.Frame, view.Isometric(0)), 6, 2, d.W-12, d.H-4)
	v.strokes(nil)
	m.markTags(v)
	return d
}

// views draws the frame from the top, the front and the right side with its measures: top over front and the side beside it
// at one scale, so that edges line up.
func (m *maker) views() *page.Drawing {
	f := m.p.Frame
	const most = 86.0
	d := &page.Drawing{W: page.Width, Says: "the frame from the top, the front and the right side, with its measures"}
	top, front, side := view.Draw(f, view.Top), view.Draw(f, view.Front), view.Draw(f, view.Side)
	wide := func(p view.Picture) float64 { return max(1, p.MaxX-p.MinX) }
	high := func(p view.Picture) float64 { return max(1, p.MaxY-p.MinY) }
	const left, right, under, head = 9.0, 20.0, 12.0, 1.0
	scale := min((page.Width-2*left-2*right)/(wide(front)+wide(side)), (most-2*under-head)/(high(top)+high(front)))
	x0 := (page.Width - 2*left - 2*right - scale*(wide(front)+wide(side))) / 2
	colB := x0 + left + wide(front)*scale + right + left
	rowB := head + high(top)*scale + under
	d.H = rowB + high(front)*scale + under
	for _, v := range []*frameView{{d, top, x0 + left, head, scale}, {d, front, x0 + left, rowB, scale}, {d, side, colB, rowB, scale}} {
		v.strokes(nil)
		v.measures(view.Measures(f, v.pic.View), m.tape, 9)
	}
	return d
}

// markTags writes the pieces' marks on a view: one for each mark of a group of members.
func (m *maker) markTags(v *frameView) {
	f := m.p.Frame
	var tags []tag
	seen := map[string]bool{}
	for i := range f.Members {
		mark := m.marks[i]
		if mark == "" || seen[mark+"\x00"+f.Members[i].Group] || len(tags) >= 60 {
			continue
		}
		seen[mark+"\x00"+f.Members[i].Group] = true
		x, y, _ := v.pic.View.Project(f.Members[i].Centre())
		px, py := v.at(x, y)
		tags = append(tags, tag{text: mark, px: px, py: py, x: px + 4, y: py - 4})
	}
	spread(tags, 8.4, 5, v.d.W, v.d.H)
	drawTags(v.d, tags, 7.8, 4.4, 10)
}
