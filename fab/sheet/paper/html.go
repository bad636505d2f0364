// Package paper writes laid-out pages: as one HTML file that needs nothing from outside, as PDF, and as plain text for tests
// and for those who read pages by ear. No line and no page is broken here; all of that stands in the pages already.
package paper

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/sheet/page"
)

// style is the whole of the look on paper: slate and chalk. Type is Helvetica or what has its widths, so that lines end where
// the lay-out ends them; where it is wider nonetheless, rows grow and nothing is lost.
const style = `*{box-sizing:border-box}html{font-family:Helvetica,Arial,"Liberation Sans","Nimbus Sans",sans-serif;color:#11171c;background:#fff}
body{margin:0;font-size:12pt;line-height:1.26}
.page{position:relative;width:186mm;margin:0 auto}
h1,h2,h3,h4,p,table,figure,dl,dd,dt,ul{margin:0;padding:0;font-weight:normal;font-size:inherit}
.aside{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.band{display:block;margin-bottom:4mm}
h2,h3,h4{font-weight:bold}h2{font-size:26pt;margin-bottom:3mm}h3{font-size:17pt;margin-bottom:2mm}h4{font-size:14pt;margin-bottom:1mm}
h2,h3,h4{break-after:avoid}
p{margin-bottom:1.5mm}.b{font-weight:bold}
.caution{position:relative;border:.7mm solid #11171c;padding:1.3mm 1.3mm 1.3mm 10.3mm;margin-bottom:2mm;break-inside:avoid}
.caution svg{position:absolute;left:1.3mm;top:.9mm}
.facts{display:flex;margin-bottom:3mm;height:17mm}.facts div{flex:1 1 0;min-width:0;border-left:1.1mm solid #11171c;padding-left:2.4mm}
.facts dt{font-size:11pt}.facts dd{font-weight:bold}
table{border-collapse:collapse;table-layout:fixed;width:186mm;margin-bottom:2.5mm}
th{font-size:10pt;text-align:left;font-weight:bold;border-bottom:.5mm solid #11171c;vertical-align:bottom;overflow-wrap:anywhere}
td{border-bottom:.2mm solid #5c666e;vertical-align:top;overflow-wrap:anywhere}th,td{padding:.9mm 1.3mm .7mm}
tr{break-inside:avoid}thead{display:table-header-group}.r{text-align:right}
.wide td{font-weight:bold;border-bottom:.5mm solid #11171c;padding-top:1mm}
.box{display:inline-block;width:4.6mm;height:4.6mm;border:.45mm solid #11171c;vertical-align:-1mm;margin-right:1mm}
figure{margin-bottom:1.5mm;break-inside:avoid}figure svg,.band,.caution svg{display:block}
svg{overflow:visible}svg text{font-family:Helvetica,Arial,"Liberation Sans","Nimbus Sans",sans-serif;fill:#11171c}svg .w{fill:#fff}
svg .m{text-anchor:middle}svg .e{text-anchor:end}
@media screen{html{background:#dde1e4}.page{background:#fff;padding:12mm;width:210mm;margin:6mm auto;box-shadow:0 1mm 4mm #8a949b}}
@media print{.page+.page{break-before:page}}
`

// HTML writes the document. Every element is closed and every attribute quoted, so that it reads as XML too.
func HTML(d *page.Document) []byte {
	w := &web{d: d}
	size := ""
	if s := d.Paper.String(); s != "" {
		size = map[string]string{"letter": "letter portrait", "a4": "A4 portrait"}[s]
		size = "size:" + size + ";"
	}
	w.f("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width\"/>\n<title>%s</title>\n", esc(d.Title+": "+d.Name))
	w.f("<style>\n%s@page{%smargin:12mm}\n</style>\n</head>\n<body>\n", style, size)
	for i := range d.Pages {
		w.page(&d.Pages[i], i == 0)
	}
	w.s("</body>\n</html>\n")
	return []byte(w.b.String())
}

type web struct {
	d *page.Document
	b strings.Builder
}

func esc(s string) string { return html.EscapeString(s) }

func (w *web) s(s string)              { w.b.WriteString(s) }
func (w *web) f(form string, a ...any) { fmt.Fprintf(&w.b, form, a...) }

// n writes a number with at most two decimals.
func n(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64)
}

func (w *web) page(p *page.Page, first bool) {
	w.f("<section class=\"page\" aria-label=\"%s, page %d\">\n", esc(p.Part), p.Number)
	if first {
		w.f("<h1 class=\"aside\">%s</h1>\n", esc(w.d.Title))
	}
	w.drawing(band(w.d, p), "band")
	for _, x := range p.Blocks {
		w.block(x.Block)
	}
	w.s("</section>\n")
}

func (w *web) lines(lines []string) {
	for i, l := range lines {
		if i > 0 {
			w.s("<br/>")
		}
		w.s(esc(l))
	}
}

func (w *web) block(b page.Block) {
	switch x := b.(type) {
	case *page.Heading:
		tag := "h" + strconv.Itoa(x.Level+1)
		w.f("<%s>", tag)
		w.lines(x.Lines)
		w.f("</%s>\n", tag)
	case *page.Text:
		class := ""
		if x.Bold {
			class = ` class="b"`
		}
		w.f("<p%s%s>", class, sized(x.Size))
		w.lines(x.Lines)
		w.s("</p>\n")
	case *page.Caution:
		w.s(`<div class="caution">`)
		w.svg(sign(), "")
		w.lines(x.Lines)
		w.s("</div>\n")
	case *page.Facts:
		w.s(`<dl class="facts">`)
		for _, f := range x.Facts {
			w.f("<div><dt>%s</dt><dd%s>%s</dd></div>", esc(f.NameLine), sized(f.Size), esc(f.Value))
		}
		w.s("</dl>\n")
	case *page.Table:
		w.table(x)
	case *page.Space:
		w.f("<div style=\"height:%smm\"></div>\n", n(x.MM))
	case *page.Drawing:
		w.s("<figure>")
		w.drawing(x, "")
		w.s("</figure>\n")
	}
}

func sized(size float64) string {
	if size == 12 {
		return ""
	}
	return ` style="font-size:` + n(size) + `pt"`
}

func (w *web) table(t *page.Table) {
	w.s("<table><colgroup>")
	for _, c := range t.Columns {
		w.f(`<col style="width:%smm"/>`, n(c.Width))
	}
	w.s("</colgroup>\n")
	if t.HeadHigh() > 0 {
		w.f(`<thead><tr style="height:%smm">`, n(t.HeadHigh()))
		for _, c := range t.Columns {
			class := ""
			if c.Right {
				class = ` class="r"`
			}
			w.f(`<th scope="col"%s>%s</th>`, class, esc(c.HeadLine))
		}
		w.s("</tr></thead>\n")
	}
	w.s("<tbody>\n")
	for _, r := range t.Rows {
		if r.Wide {
			w.f(`<tr class="wide" style="height:%smm"><td colspan="%d">`, n(r.High), len(t.Columns))
			w.lines(r.Cells[0].Lines)
			w.s("</td></tr>\n")
			continue
		}
		w.f(`<tr style="height:%smm">`, n(r.High))
		for i, c := range r.Cells {
			col := &t.Columns[i]
			class := ""
			if col.Bold || c.Bold {
				class = "b"
			}
			if col.Right {
				class = strings.TrimSpace(class + " r")
			}
			if class != "" {
				class = ` class="` + class + `"`
			}
			w.f("<td%s%s>", class, sized(col.Size))
			if c.Box {
				w.s(`<span class="box"></span>`)
			}
			w.lines(c.Lines)
			w.s("</td>")
		}
		w.s("</tr>\n")
	}
	w.s("</tbody></table>\n")
}

func (w *web) drawing(d *page.Drawing, class string) {
	if class != "" {
		class = ` class="` + class + `"`
	}
	w.svg(d, class)
	w.s("\n")
}

// svg writes a drawing. Strokes of one kind that follow each other share a path.
func (w *web) svg(d *page.Drawing, class string) {
	role := ` aria-hidden="true"`
	if d.Says != "" {
		role = ` role="img" aria-label="` + esc(d.Says) + `"`
	}
	w.f(`<svg%s%s width="%smm" height="%smm" viewBox="0 0 %s %s">`, class, role, n(d.W), n(d.H), n(d.W), n(d.H))
	var kind page.Line
	open := false
	shut := func() {
		if open {
			w.f(`" fill="none" stroke="%s" stroke-width="%s" stroke-linecap="round"%s/>`, grey(kind.Grey), n(kind.W), dashed(kind.Dash))
			open = false
		}
	}
	for _, s := range d.Shapes {
		if l, ok := s.(page.Line); ok {
			k := page.Line{W: l.W, Dash: l.Dash, Grey: l.Grey}
			if !open || k != kind {
				shut()
				w.s(`<path d="`)
				kind, open = k, true
			}
			w.s("M" + n(l.X0) + " " + n(l.Y0) + "L" + n(l.X1) + " " + n(l.Y1))
			continue
		}
		shut()
		switch x := s.(type) {
		case page.Poly:
			w.s(`<path d="`)
			for i, p := range x.Points {
				c := "L"
				if i == 0 {
					c = "M"
				}
				w.s(c + n(p.X) + " " + n(p.Y))
			}
			w.f(`Z" %s/>`, painted(x.Fill, x.W))
		case page.Disc:
			w.f(`<circle cx="%s" cy="%s" r="%s" %s/>`, n(x.X), n(x.Y), n(x.R), painted(x.Fill, x.W))
		case page.Label:
			w.label(x)
		}
	}
	shut()
	w.s("</svg>")
}

func (w *web) label(x page.Label) {
	var class []string
	if x.White {
		class = append(class, "w")
	}
	switch x.Anchor {
	case page.Middle:
		class = append(class, "m")
	case page.End:
		class = append(class, "e")
	}
	extra := ""
	if len(class) > 0 {
		extra += ` class="` + strings.Join(class, " ") + `"`
	}
	if x.Bold {
		extra += ` font-weight="bold"`
	}
	if x.Up {
		extra += fmt.Sprintf(` transform="rotate(-90 %s %s)"`, n(x.X), n(x.Y))
	}
	w.f(`<text x="%s" y="%s" font-size="%s"%s>%s</text>`, n(x.X), n(x.Y), n(x.Size*page.PointMM), extra, esc(x.Text))
}

func dashed(on bool) string {
	if on {
		return ` stroke-dasharray="1.6 1.2"`
	}
	return ""
}

func grey(v float64) string {
	if v == 0 {
		return "#11171c"
	}
	k := int(math.Round(v * 255))
	return fmt.Sprintf("#%02x%02x%02x", k, k, k)
}

func painted(fill page.Tone, width float64) string {
	s := `fill="` + map[page.Tone]string{page.None: "none", page.Chalk: "#fff", page.Light: "#e4e7e9", page.Slate: "#1d2831"}[fill] + `"`
	if width > 0 {
		s += ` stroke="#11171c" stroke-linejoin="round" stroke-width="` + n(width) + `"`
	}
	return s
}
