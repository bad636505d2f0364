package packet

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sheet/page"
)

// markOut draws every piece that carries marks as a bar to scale, face by face, with running measures from one hook of the
// tape, and lists them.
func (m *maker) markOut() page.Part {
	var blocks []page.Block
	for i := range m.p.Pieces {
		x := &m.p.Pieces[i]
		if len(x.MarksOut) == 0 {
			continue
		}
		title := fmt.Sprintf("%s: %d of %s, %s", x.Mark, x.Qty, clean(x.Section), m.print(x.Length))
		if x.Hand != "" {
			title += ", " + x.Hand + " hand"
		}
		blocks = append(blocks, m.laidOut(x, title)...)
		for _, u := range m.p.Measured[x.Mark] {
			if u.Length != x.Length {
				one := x.AsMeasured(u.Length)
				blocks = append(blocks, m.laidOut(&one, fmt.Sprintf("%s-%d, measured in its place: %s", x.Mark, u.Unit, m.print(u.Length)))...)
			}
		}
	}
	if len(blocks) == 0 {
		return page.Part{}
	}
	first := []page.Block{head(1, "Mark-out"), say("The piece lies with its across face, the front, towards you. Hook the tape once on the first tip: all measures run from there. Every face is drawn with the first tip on the left. Hatched is where the neighbour lands, between its two edges.")}
	return page.Part{Name: "Mark-out", Blocks: append(first, blocks...)}
}

// laidOut draws and lists the marks of one piece.
func (m *maker) laidOut(x *piece.Piece, title string) []page.Block {
	var blocks []page.Block
	for n, set := range sets(x) {
		var inner []page.Block
		if n == 0 {
			inner = append(inner, head(2, title))
		}
		if set.on != "" {
			inner = append(inner, &page.Text{Text: set.on, Bold: true, Keep: true})
		}
		for _, side := range []string{"top", "front", "bottom", "back"} {
			if d := m.strip(x, set.marks, side); d != nil {
				inner = append(inner, d)
			}
		}
		t := &page.Table{Columns: []page.Column{{Width: 16, Size: 12}, {Head: "face", Width: 18, Bold: true}, {Head: "first edge", Width: 32, Size: 16, Bold: true}, {Head: "second edge", Width: 32, Size: 16, Bold: true}, {Head: "what"}}}
		for k, mark := range set.marks {
			second := m.mm(mark.ToMM)
			if mark.ToMM == mark.AtMM {
				second = "hole"
			}
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{tick(fmt.Sprint(k + 1)), {Text: mark.Side}, {Text: m.mm(mark.AtMM)}, {Text: second}, {Text: clean(mark.What)}}})
		}
		inner = append(inner, t, &page.Space{MM: 3})
		blocks = append(blocks, &page.Group{Blocks: inner, Loose: true})
	}
	return blocks
}

// set are the marks that the same members of a mark carry.
type set struct {
	on    string
	marks []piece.Mark
}

// sets sorts the marks of a piece by the members that carry them; those that all carry come with each.
func sets(x *piece.Piece) []set {
	var keys []string
	var all []piece.Mark
	by := map[string][]piece.Mark{}
	members := map[string][]string{}
	for _, k := range x.MarksOut {
		if len(k.For) == 0 {
			all = append(all, k)
			continue
		}
		key := strings.Join(k.For, "\x00")
		if by[key] == nil {
			keys = append(keys, key)
			members[key] = k.For
		}
		by[key] = append(by[key], k)
	}
	if len(keys) == 0 {
		return []set{{marks: all}}
	}
	var out []set
	covered := 0
	for _, key := range keys {
		names := members[key]
		covered += len(names)
		shown := names[:min(len(names), 6)]
		on := fmt.Sprintf("%d of them: %s", len(names), clean(strings.Join(shown, ", ")))
		if len(names) > len(shown) {
			on += fmt.Sprintf(" and %d more", len(names)-len(shown))
		}
		marks := append(append([]piece.Mark(nil), by[key]...), all...)
		sortMarks(marks)
		out = append(out, set{on, marks})
	}
	if rest := x.Qty - covered; rest > 0 && len(all) > 0 {
		out = append(out, set{fmt.Sprintf("the other %d", rest), all})
	}
	return out
}

func sortMarks(ms []piece.Mark) {
	for i := 1; i < len(ms); i++ {
		for k := i; k > 0 && ms[k].AtMM < ms[k-1].AtMM; k-- {
			ms[k], ms[k-1] = ms[k-1], ms[k]
		}
	}
}

// strip draws one face of a piece with its marks; nil where it has none.
func (m *maker) strip(x *piece.Piece, marks []piece.Mark, side string) *page.Drawing {
	length := x.Length.MM()
	sec, ok := m.p.Sections[x.Section]
	if !ok || length <= 0 {
		return nil
	}
	const w, top, bar, size = page.Width, 6.0, 8.0, 12.0
	scale := w / length
	d := &page.Drawing{W: w, Says: "the " + side + " of " + x.Mark + " to scale"}
	// The slants show on the face on which the ends are seen, and on the one behind it, from which they are seen turned round.
	lean := func(e int) float64 {
		deg := x.Ends[e].MiterDeg
		if side == "top" || side == "bottom" {
			return 0
		}
		span := sec.Width.MM()
		if x.Across == "depth" {
			span = sec.Depth.MM()
		}
		return span * math.Tan(deg*math.Pi/180) * scale
	}
	l, r := lean(0), lean(1)
	d.Add(page.Poly{Points: []page.Point{{X: max(0, -l), Y: top + bar}, {X: max(0, l), Y: top}, {X: w - max(0, r), Y: top}, {X: w - max(0, -r), Y: top + bar}}, W: 0.45, Fill: page.Chalk})
	d.Add(page.Label{X: 0, Y: top - 1.8, Text: side, Size: size, Bold: true})
	last, any, deep := -100.0, false, 0.0
	note := func(at float64, s string) {
		xx := at * scale
		place := max(min(xx, w-1.6), last+4.7, 1.8)
		if place > w-1.4 { // no more room: the table has it
			return
		}
		last = place
		long := page.WidthMM(s, size, true)
		deep = max(deep, long)
		d.Add(page.Line{X0: xx, Y0: top + bar, X1: xx, Y1: top + bar + 1.2, W: 0.25}, page.Line{X0: xx, Y0: top + bar + 1.2, X1: place, Y1: top + bar + 3, W: 0.25},
			page.Label{X: place + 1.4, Y: top + bar + 4, Text: s, Size: size, Bold: true, Up: true, Anchor: page.End})
	}
	lastNo := page.WidthMM(side, size, true) - 2
	for k, mark := range marks {
		if mark.Side != side {
			continue
		}
		any = true
		a, b := mark.AtMM*scale, mark.ToMM*scale
		if mark.ToMM > mark.AtMM {
			box := []page.Point{{X: a, Y: top}, {X: b, Y: top}, {X: b, Y: top + bar}, {X: a, Y: top + bar}}
			d.Add(page.Hatch(box, 1.3, 0.18)...)
			d.Add(page.Line{X0: a, Y0: top, X1: a, Y1: top + bar, W: 0.5}, page.Line{X0: b, Y0: top, X1: b, Y1: top + bar, W: 0.5})
		} else {
			d.Add(page.Disc{X: a, Y: top + bar/2, R: 1, W: 0.35, Fill: page.Chalk}, page.Line{X0: a - 1.8, Y0: top + bar/2, X1: a + 1.8, Y1: top + bar/2, W: 0.2}, page.Line{X0: a, Y0: top + bar/2 - 1.8, X1: a, Y1: top + bar/2 + 1.8, W: 0.2})
		}
		no := fmt.Sprint(k + 1)
		if mid := (a + b) / 2; mid-lastNo > 5 {
			lastNo = mid
			d.Add(page.Label{X: min(mid, w-2), Y: top - 1.2, Text: no, Size: 11, Anchor: page.Middle})
		}
		note(mark.AtMM, m.mm(mark.AtMM))
		if b-a >= 4.7 || mark.ToMM > mark.AtMM && b > w-12 {
			note(mark.ToMM, m.mm(mark.ToMM))
		}
	}
	if !any {
		return nil
	}
	d.H = top + bar + 5.5 + deep
	return d
}

// labels are to be cut out and taped to the pieces as they come off the saw, in that order.
func (m *maker) labels(o Options) page.Part {
	steps := m.cutSteps()
	if len(steps) == 0 {
		return page.Part{}
	}
	const across, down = 3, 6
	const w, h = page.Width / across, 39.0
	byMark := map[string]*piece.Piece{}
	for i := range m.p.Pieces {
		byMark[m.p.Pieces[i].Mark] = &m.p.Pieces[i]
	}
	var blocks []page.Block
	var d *page.Drawing
	for i := range steps {
		k := i % (across * down)
		if k == 0 {
			d = &page.Drawing{W: page.Width, H: h * down, Says: "labels to cut out"}
			blocks = append(blocks, d)
		}
		x, y := float64(k%across)*w, float64(k/across)*h
		for _, l := range [][4]float64{{x, y, x + w, y}, {x, y + h, x + w, y + h}, {x, y, x, y + h}, {x + w, y, x + w, y + h}} {
			d.Add(page.Line{X0: l[0], Y0: l[1], X1: l[2], Y1: l[3], W: 0.2, Dash: true, Grey: 0.4})
		}
		s := &steps[i]
		name := fmt.Sprintf("%s-%d", s.Mark, s.Unit)
		d.Add(page.Label{X: x + 3, Y: y + 13, Text: name, Size: page.Fit(name, 34, 12, true, 34), Bold: true},
			page.Label{X: x + w - 3, Y: y + 7, Text: fmt.Sprintf("stick %d", s.Stick), Size: 11, Anchor: page.End},
			page.Label{X: x + w - 3, Y: y + 12, Text: fmt.Sprintf("step %d", s.Number), Size: 11, Anchor: page.End})
		d.Add(page.Label{X: x + 3, Y: y + 21.5, Text: m.print(s.Stop), Size: 20, Bold: true})
		steel := page.Cut(m.sectionName(s.Section), 11, false, w-6)
		d.Add(page.Label{X: x + 3, Y: y + 27, Text: steel, Size: 11})
		ends := "square ends"
		if q := byMark[s.Mark]; q != nil {
			if e := sheet.PieceEnds(q); e != sheet.SquareEnds {
				ends = e
			}
			if q.Hand != "" {
				ends = q.Hand + " hand, " + ends
			}
		}
		d.Add(page.Label{X: x + 3, Y: y + 31.8, Text: page.Cut(ends, 11, false, w-6), Size: 11})
		foot := m.title
		if o.Revision != "" {
			foot = page.Cut(foot, 8.5, false, w-6-page.WidthMM(" · "+o.Revision, 8.5, false)) + " · " + o.Revision
		}
		d.Add(page.Label{X: x + 3, Y: y + 36.3, Text: page.Cut(foot, 8.5, false, w-6), Size: 8.5})
	}
	return page.Part{Name: "Labels", Blocks: blocks}
}
