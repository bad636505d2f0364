package paper

import (
	"bytes"
	_ "embed" // the second font
	"fmt"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"codeberg.org/go-pdf/fpdf"

	"bench.example/soapstone/fab/sheet/page"
)

// PDF writes the document with the core fonts that every reader of PDF has, and a second one where a name needs it. The same pages give the same bytes: the date in
// the file is the document's own.
func PDF(d *page.Document) ([]byte, error) {
	w, h := d.Paper.SizeMM()
	name := "letter"
	if d.Paper == page.A4 {
		name = "a4"
	}
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", SizeStr: name, Size: fpdf.SizeType{Wd: w, Ht: h}})
	made := d.Made.UTC()
	if d.Made.IsZero() {
		made = time.Unix(0, 0).UTC()
	}
	f.SetCreationDate(made)
	f.SetModificationDate(made)
	f.SetCatalogSort(true)
	f.SetProducer("soapstone", false)
	f.SetTitle(d.Title+": "+d.Name, true)
	f.SetLang("en")
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.SetLineCapStyle("round")
	f.SetLineJoinStyle("round")
	p := &ink{f: f, ox: (w - page.Width) / 2, oy: min((h-page.Height)/2, 16)}
	for i := range d.Pages {
		g := &d.Pages[i]
		f.AddPage()
		p.size, p.grey, p.text, p.fill = 0, -1, -1, -1
		p.width, p.dash = 0, false
		f.SetDashPattern(nil, 0)
		if g.First {
			f.Bookmark(printable(g.Part), 0, 0)
		}
		p.drawing(band(d, g), 0, 0)
		for _, x := range g.Blocks {
			p.block(x.Block, x.Y)
		}
	}
	var b bytes.Buffer
	if err := f.Output(&b); err != nil {
		return nil, fmt.Errorf("the PDF could not be made: %w", err)
	}
	return b.Bytes(), nil
}

// ink draws on the pages, and remembers what is set so that it is not set again.
type ink struct {
	f      *fpdf.Fpdf
	ox, oy float64
	size   float64
	bold   bool
	second bool // the second font is set
	loaded bool // and has been read
	grey   float64
	text   int
	fill   page.Tone
	width  float64
	dash   bool
}

// wideFont is the second font, for letters of names that the core fonts lack (Łódź, Žižkov, Волга): DejaVu Sans Condensed,
// free to embed (see font/LICENSE). A file takes along only the letters that it uses.
//
//go:embed font/DejaVuSansCondensed.ttf
var wideFont []byte

// wide are the scripts that the second font is used for: Latin, Greek and Cyrillic letters, arrows and signs.
func wide(r rune) bool {
	return r >= 0x100 && r <= 0x17f || r >= 0x391 && r <= 0x3c9 || r >= 0x400 && r <= 0x45f || r >= 0x2190 && r <= 0x2199 || r >= 0x2200 && r <= 0x222b || r >= 0x2260 && r <= 0x2265
}

// printable gives a text in the core fonts' own code; what they lack is spelled out.
func printable(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch c, ok := page.Code(r); {
		case ok:
			b.WriteByte(c)
		case r < 0x10000:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			fmt.Fprintf(&b, `\U%08x`, r)
		}
	}
	return b.String()
}

func (p *ink) write(x, y float64, s string, size float64, bold, white bool) {
	if s == "" {
		return
	}
	shade := 0
	if white {
		shade = 1
	}
	if shade != p.text {
		if white {
			p.f.SetTextColor(255, 255, 255)
		} else {
			p.f.SetTextColor(17, 23, 28)
		}
		p.text = shade
	}
	for s != "" { // runs of one font
		first, _ := utf8.DecodeRuneInString(s)
		_, core := page.Code(first)
		second := !core && wide(first)
		n := strings.IndexFunc(s, func(r rune) bool {
			_, ok := page.Code(r)
			return (!ok && wide(r)) != second
		})
		if n < 0 {
			n = len(s)
		}
		run := s[:n]
		s = s[n:]
		p.font(size, bold, second)
		if !second {
			run = printable(run)
		}
		p.f.Text(p.ox+x, p.oy+y, run)
		if s != "" {
			x += p.f.GetStringWidth(run)
		}
	}
}

// font sets the font that is needed now.
func (p *ink) font(size float64, bold, second bool) {
	if size == p.size && bold == p.bold && second == p.second {
		return
	}
	p.size, p.bold, p.second = size, bold, second
	style := ""
	if bold {
		style = "B"
	}
	if second {
		if !p.loaded {
			p.f.AddUTF8FontFromBytes("wide", "", wideFont)
			p.loaded = true
		}
		p.f.SetFont("wide", "", size)
		return
	}
	p.f.SetFont("Helvetica", style, size)
}

// base gives how far under the top of a line its baseline lies.
func base(size float64) float64 { return page.LineMM(size)*0.5 + size*page.PointMM*0.36 }

func (p *ink) lines(x, y float64, lines []string, size float64, bold bool) {
	for i, l := range lines {
		p.write(x, y+float64(i)*page.LineMM(size)+base(size), l, size, bold, false)
	}
}

func (p *ink) block(b page.Block, y float64) {
	switch x := b.(type) {
	case *page.Heading:
		p.lines(0, y, x.Lines, page.HeadingSize(x.Level), true)
	case *page.Text:
		p.lines(0, y, x.Lines, x.Size, x.Bold)
	case *page.Caution:
		high := float64(len(x.Lines))*page.LineMM(page.CautionSize) + 2*page.CautionPad
		p.pen(0.7, false, 0)
		p.f.Rect(p.ox+.35, p.oy+y+.35, page.Width-.7, high-.7, "D")
		p.drawing(sign(), 2, y+1.6)
		p.lines(page.CautionInset, y+page.CautionPad, x.Lines, page.CautionSize, false)
	case *page.Facts:
		each := page.Width / float64(max(1, len(x.Facts)))
		for i, f := range x.Facts {
			left := float64(i) * each
			p.tone(page.Slate)
			p.f.Rect(p.ox+left, p.oy+y, 1.1, page.FactHigh, "F")
			p.write(left+3.5, y+base(page.FactName), f.NameLine, page.FactName, false, false)
			p.write(left+3.5, y+page.LineMM(page.FactName)+base(f.Size), f.Value, f.Size, true, false)
		}
	case *page.Table:
		p.table(x, y)
	case *page.Drawing:
		p.drawing(x, 0, y)
	}
}

func (p *ink) table(t *page.Table, y float64) {
	if h := t.HeadHigh(); h > 0 {
		left := 0.0
		for _, c := range t.Columns {
			at := left + page.CellPad
			if c.Right {
				at = left + c.Width - page.CellPad - page.WidthMM(c.HeadLine, page.HeadSize, true)
			}
			p.write(at, y+page.RowPad+base(page.HeadSize), c.HeadLine, page.HeadSize, true, false)
			left += c.Width
		}
		y += h
		p.rule(y, 0.5, 0)
	}
	for _, r := range t.Rows {
		left := 0.0
		for i, c := range r.Cells {
			size, bold, right, width := 12.0, true, false, page.Width
			if !r.Wide {
				col := &t.Columns[i]
				size, bold, right, width = col.Size, col.Bold || c.Bold, col.Right, col.Width
			}
			at := left + page.CellPad
			if c.Box {
				p.pen(0.45, false, 0)
				p.f.Rect(p.ox+at+.2, p.oy+y+page.RowPad+.2, page.BoxMM-.4, page.BoxMM-.4, "D")
				at += page.BoxMM + 1
			}
			for k, l := range c.Lines {
				x := at
				if right {
					x = left + width - page.CellPad - page.WidthMM(l, size, bold)
				}
				p.write(x, y+page.RowPad+float64(k)*page.LineMM(size)+base(size), l, size, bold, false)
			}
			left += width
		}
		y += r.High
		if r.Wide {
			p.rule(y, 0.5, 0)
		} else {
			p.rule(y, 0.2, 0.4)
		}
	}
}

func (p *ink) rule(y, width, grey float64) {
	p.pen(width, false, grey)
	p.f.Line(p.ox, p.oy+y, p.ox+page.Width, p.oy+y)
}

func (p *ink) pen(width float64, dash bool, grey float64) {
	if width != p.width {
		p.f.SetLineWidth(width)
		p.width = width
	}
	if dash != p.dash {
		if dash {
			p.f.SetDashPattern([]float64{1.6, 1.2}, 0)
		} else {
			p.f.SetDashPattern(nil, 0)
		}
		p.dash = dash
	}
	if grey != p.grey {
		k := int(math.Round(grey * 255))
		if grey == 0 {
			p.f.SetDrawColor(17, 23, 28)
		} else {
			p.f.SetDrawColor(k, k, k)
		}
		p.grey = grey
	}
}

func (p *ink) tone(t page.Tone) {
	if t == p.fill {
		return
	}
	switch t {
	case page.Chalk:
		p.f.SetFillColor(255, 255, 255)
	case page.Light:
		p.f.SetFillColor(228, 231, 233)
	case page.Slate:
		p.f.SetFillColor(29, 40, 49)
	}
	p.fill = t
}

func (p *ink) drawing(d *page.Drawing, x0, y0 float64) {
	for _, s := range d.Shapes {
		switch x := s.(type) {
		case page.Line:
			p.pen(x.W, x.Dash, x.Grey)
			p.f.Line(p.ox+x0+x.X0, p.oy+y0+x.Y0, p.ox+x0+x.X1, p.oy+y0+x.Y1)
		case page.Poly:
			if do := p.paint(x.Fill, x.W); do != "" {
				points := make([]fpdf.PointType, len(x.Points))
				for i, q := range x.Points {
					points[i] = fpdf.PointType{X: p.ox + x0 + q.X, Y: p.oy + y0 + q.Y}
				}
				p.f.Polygon(points, do)
			}
		case page.Disc:
			if do := p.paint(x.Fill, x.W); do != "" {
				p.f.Circle(p.ox+x0+x.X, p.oy+y0+x.Y, x.R, do)
			}
		case page.Label:
			p.label(x, x0, y0)
		}
	}
}

// paint sets pen and tone, and gives what the library is to do.
func (p *ink) paint(fill page.Tone, width float64) string {
	do := ""
	if fill != page.None {
		p.tone(fill)
		do = "F"
	}
	if width > 0 {
		p.pen(width, false, 0)
		do += "D"
	}
	return do
}

func (p *ink) label(x page.Label, x0, y0 float64) {
	shift := 0.0
	switch x.Anchor {
	case page.Middle:
		shift = -page.WidthMM(x.Text, x.Size, x.Bold) / 2
	case page.End:
		shift = -page.WidthMM(x.Text, x.Size, x.Bold)
	}
	if !x.Up {
		p.write(x0+x.X+shift, y0+x.Y, x.Text, x.Size, x.Bold, x.White)
		return
	}
	p.f.TransformBegin()
	p.f.TransformRotate(90, p.ox+x0+x.X, p.oy+y0+x.Y)
	p.write(x0+x.X+shift, y0+x.Y, x.Text, x.Size, x.Bold, x.White)
	p.f.TransformEnd()
	p.size, p.text = 0, -1 // what was set inside is forgotten outside
}
