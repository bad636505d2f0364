package view

import (
	"bytes"
	"fmt"
	"html"

	"bench.example/soapstone/fab/measure"
)

// Named is a wrap with what it is for.
type Named struct {
	Title string
	Wrap  Wrap
}

// How paper is laid out around a template, mm.
const (
	paperEdge = 12.0 // margin
	paperLap  = 12.0 // strip that goes under the other end
	paperKeep = 30.0 // paper behind the short point
)

// Templates draws wraps at their full size, one below the other, each with bars to check the print, the sides of the piece
// and the folds of a section with corners. It is nil where there is none.
func Templates(list []Named, tape measure.Tape) []byte {
	if len(list) == 0 {
		return nil
	}
	wide, high := 130.0, 0.0
	var b bytes.Buffer
	for _, x := range list {
		wide = max(wide, x.Wrap.GirthMM+paperLap+2*paperEdge)
		high = template(&b, x, tape, high)
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" width="%.3fmm" height="%.3fmm" viewBox="0 0 %.3f %.3f"><title>%s</title><style>%s path{fill:none;stroke:#000;stroke-width:.25}.f{stroke:#06c;stroke-dasharray:2 1.5;stroke-width:.15}</style><rect width="100%%" height="100%%" fill="#fff"/>`+"\n",
		wide, high, wide, high, html.EscapeString(list[0].Title), css)
	out.Write(b.Bytes())
	out.WriteString("</svg>\n")
	return out.Bytes()
}

// template draws one wrap from the height y down, and gives the height below it.
func template(b *bytes.Buffer, n Named, tape measure.Tape, y float64) float64 {
	w := &n.Wrap
	const x0 = paperEdge
	y0 := y + paperEdge + 12
	foot := y0 + w.DepthMM + paperKeep
	line := func(class string, x0, y0, x1, y1 float64) {
		fmt.Fprintf(b, `<line class="%s" x1="%.3f" y1="%.3f" x2="%.3f" y2="%.3f" stroke-width=".2"/>`+"\n", class, x0, y0, x1, y1)
	}
	note := func(x, y float64, s string) {
		fmt.Fprintf(b, `<text class="k" x="%.2f" y="%.2f">%s</text>`+"\n", x, y, html.EscapeString(s))
	}
	fmt.Fprintf(b, `<text x="%g" y="%.2f">%s</text>`+"\n", x0, y+8, html.EscapeString(n.Title))
	edge := y0 + w.Points[0].AlongMM
	fmt.Fprintf(b, `<path d="M%.3f %.3f V%.3f H%.3f V%.3f H%.3f"/>`+"\n", x0, edge, foot, x0+w.GirthMM+paperLap, edge, x0+w.GirthMM)
	b.WriteString(`<path class="rim" d="`)
	for i, p := range w.Points {
		c := "L"
		if i == 0 {
			c = "M"
		}
		fmt.Fprintf(b, "%s%.3f %.3f ", c, x0+p.RoundMM, y0+p.AlongMM)
	}
	b.WriteString("\"/>\n")
	line("f", x0, y0, x0+w.GirthMM, y0)
	line("f", x0+w.GirthMM, y0, x0+w.GirthMM, foot)
	for _, f := range w.Folds {
		line("f", x0+f, y0, x0+f, foot)
	}
	for _, s := range w.Sides {
		line("s", x0+s.RoundMM, foot, x0+s.RoundMM, foot-6)
		note(x0+s.RoundMM+0.8, foot-2, s.Name)
	}
	note(x0+2, foot-13, "the upper dashed line at the tip of the piece, from which its length counts; print outwards; the strip on the right goes under; keep this side, cut off above")
	note(x0+2, foot-9, "once round "+tape.Print(measure.FromMM(w.GirthMM))+", cut "+tape.Print(measure.FromMM(w.DepthMM))+" deep")
	ys := foot + 8
	for i, bar := range []struct {
		mm   float64
		text string
	}{{100, "100 mm: measure it on the print; where it is off, print at 100 %"}, {101.6, "4 in"}} {
		y := ys + float64(i)*9
		line("s", x0, y, x0+bar.mm, y)
		line("s", x0, y-2, x0, y+2)
		line("s", x0+bar.mm, y-2, x0+bar.mm, y+2)
		note(x0+1, y-1.5, bar.text)
	}
	return ys + 18
}
