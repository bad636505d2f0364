package page

// The band at the head of every page, with the job, the part and the page's number.
const (
	BandHigh  = 9.0
	BandSpace = 4.0
	Body      = Height - BandHigh - BandSpace // what is left for blocks
)

// Lay puts the parts on pages.
func (d *Document) Lay(parts []Part) {
	for _, part := range parts {
		l := layer{d: d, part: part.Name}
		l.turn()
		d.Pages[len(d.Pages)-1].First = true
		for i := range part.Blocks {
			l.put(part.Blocks, i)
		}
	}
}

type layer struct {
	d    *Document
	part string
	y    float64
}

// turn begins a page.
func (l *layer) turn() {
	l.d.Pages = append(l.d.Pages, Page{Part: l.part, Number: len(l.d.Pages) + 1})
	l.y = 0
}

func (l *layer) place(b Block, h float64) {
	p := &l.d.Pages[len(l.d.Pages)-1]
	p.Blocks = append(p.Blocks, Placed{Y: BandHigh + BandSpace + l.y, H: h, Block: b})
	l.y += h
}

// put places block i, on the next page where this one has no room for it.
func (l *layer) put(blocks []Block, i int) {
	b := blocks[i]
	h := b.lay(Width)
	if _, ok := b.(*Space); ok && l.y == 0 {
		return
	}
	need := h
	for k := i; keeps(blocks[k]) && k+1 < len(blocks); k++ { // with what stands under it
		if keeps(blocks[k+1]) {
			need += blocks[k+1].lay(Width)
		} else {
			need += leastOf(blocks[k+1])
		}
	}
	if g, ok := b.(*Group); ok {
		if h > Body-l.y && h <= Body && l.y > 0 && (!g.Loose || l.y > Body/4) {
			l.turn()
		}
		for k := range g.Blocks {
			l.put(g.Blocks, k)
		}
		return
	}
	if l.y+need <= Body+1e-9 {
		l.place(b, h)
		return
	}
	switch x := b.(type) {
	case *Table:
		for {
			first, rest := x.split(Body - l.y)
			if first == nil {
				if l.y == 0 { // cannot be: no row is higher than a page
					l.place(x, h)
					return
				}
				l.turn()
				continue
			}
			l.place(first, first.lay(Width))
			if len(rest.Rows) == 0 {
				return
			}
			x = rest
			l.turn()
		}
	case *Text:
		l.text(x)
		return
	case *Caution:
		l.caution(x)
		return
	}
	if l.y > 0 {
		l.turn()
	}
	l.place(b, h)
}

// keeps tells whether a block stays with the one after it.
func keeps(b Block) bool {
	switch x := b.(type) {
	case *Heading:
		return true
	case *Text:
		return x.Keep
	}
	return false
}

// leastOf gives the least room that a block takes on the page where it begins.
func leastOf(b Block) float64 {
	h := b.lay(Width)
	switch x := b.(type) {
	case *Table:
		least := x.HeadHigh() + 2.5
		for _, r := range x.Rows {
			least += r.High
			if !r.Wide {
				break
			}
		}
		return least
	case *Text:
		return min(h, 2*LineMM(x.Size))
	case *Group:
		if h <= Body {
			return h
		}
		if len(x.Blocks) > 0 {
			return leastOf(x.Blocks[0])
		}
		return 0
	}
	return min(h, Body/2)
}

// text breaks a paragraph between lines.
func (l *layer) text(x *Text) {
	lines := x.Lines
	for len(lines) > 0 {
		n := min(len(lines), int((Body-l.y-1.5)/LineMM(x.Size)))
		if n < min(2, len(lines)) && l.y > 0 {
			l.turn()
			continue
		}
		part := *x
		part.Lines = lines[:n]
		l.place(&part, part.lay(Width))
		if lines = lines[n:]; len(lines) > 0 {
			l.turn()
		}
	}
}

// caution keeps a warning whole where a page holds it.
func (l *layer) caution(x *Caution) {
	lines := x.Lines
	if l.y > 0 {
		l.turn()
	}
	for len(lines) > 0 {
		n := min(len(lines), int((Body-l.y-2*CautionPad-2)/LineMM(CautionSize)))
		part := Caution{Text: x.Text, Lines: lines[:n]}
		l.place(&part, part.lay(Width))
		if lines = lines[n:]; len(lines) > 0 {
			l.turn()
		}
	}
}
