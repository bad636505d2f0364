package sheet

import (
	"encoding/base64"
	"fmt"
	"html"
	"strings"

	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/view"
)

// pageStyle prints on Letter and A4 alike: large type, black on white, no page break inside a stick or a table's row.
const pageStyle = `body{font:12pt/1.35 Georgia,serif;color:#000;background:#fff;margin:0 auto;max-width:190mm}
h1{font-size:24pt;border-bottom:3pt solid #000;margin:0 0 6pt}h2{font-size:16pt;margin:18pt 0 4pt;border-left:10pt solid #000;padding-left:6pt;break-after:avoid}
pre{font:9pt/1.3 "DejaVu Sans Mono",Consolas,monospace;white-space:pre-wrap;overflow-wrap:anywhere;margin:0}
.stick{break-inside:avoid;margin:8pt 0}.stick svg{width:100%;height:auto}.box{display:inline-block;width:10pt;height:10pt;border:1.2pt solid #000;margin-right:6pt}
.caution{border:2pt solid #000;padding:6pt;margin:6pt 0;font-weight:bold;break-inside:avoid}.drawing{width:100%;height:auto}
section{break-before:page}section.first{break-before:auto}@page{margin:14mm}`

// HTML writes the packet for the shop as one page that needs nothing from outside: cover with drawing and cautions, the
// sticks to scale with boxes to tick, and the plan in the order of the work.
func HTML(p *plan.Plan) []byte {
	var b strings.Builder
	title := text.Clean(p.Job.Title)
	if title == "" {
		title = "Untitled job"
	}
	esc := html.EscapeString
	fmt.Fprintf(&b, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>%s</title>\n<style>\n%s\n</style>\n</head>\n<body>\n", esc(title), pageStyle)
	fmt.Fprintf(&b, "<section class=\"first\">\n<h1>%s</h1>\n", esc(title))
	if len(p.Frame.Members) > 0 {
		// As a picture of its own, so that its styles stay its own.
		fmt.Fprintf(&b, "<img class=\"drawing\" alt=\"the frame\" src=\"data:image/svg+xml;base64,%s\">\n", base64.StdEncoding.EncodeToString(SVG(p)))
	}
	fmt.Fprintf(&b, "<p class=\"caution\">%s</p>\n", esc(SawCaution))
	if p.Weld != nil {
		for _, c := range p.Weld.Cautions {
			fmt.Fprintf(&b, "<p class=\"caution\">%s</p>\n", esc(text.Clean(c)))
		}
	}
	b.WriteString("</section>\n<section>\n<h2>Sticks</h2>\n")
	n := 0
	for i := range p.Nests {
		sn := &p.Nests[i]
		fmt.Fprintf(&b, "<p>%s: %s</p>\n", esc(text.Clean(sn.Section)), esc(Proof(*sn, text.Clean(p.Job.Currency))))
		for _, u := range sn.Nest.Used {
			n++
			b.WriteString(stickHTML(p, sn, u, n))
		}
	}
	b.WriteString("</section>\n")
	for i, part := range parts(Plain(p)) {
		if i == 0 || part.head == "Sticks" {
			continue
		}
		fmt.Fprintf(&b, "<section>\n<h2>%s</h2>\n<pre>%s</pre>\n</section>\n", esc(part.head), esc(part.body))
	}
	b.WriteString("</body>\n</html>\n")
	return []byte(b.String())
}

// SVG draws the frame with its dimensions, each member with its mark.
func SVG(p *plan.Plan) []byte {
	marks := map[int]string{}
	for _, x := range p.Pieces {
		for _, i := range x.Indices {
			marks[i] = x.Mark
		}
	}
	return view.SVG(p.Frame, view.Options{Title: text.Clean(p.Job.Title), Tape: p.Job.Tape, Lit: -1, Label: func(i int) string { return marks[i] }})
}

// stickHTML draws one stick to scale, with a box to tick for each piece.
func stickHTML(p *plan.Plan, sn *plan.SectionNest, u nest.Used, n int) string {
	length := sn.Problem.Sticks[u.Stick].Length.MM()
	sec := p.Sections[sn.Section]
	var b strings.Builder
	source := "bought"
	if sn.Problem.Sticks[u.Stick].OnHand {
		source = "on hand"
	}
	fmt.Fprintf(&b, "<div class=\"stick\">\n<div><b>%d</b> %s, %s; drop %s, slack %s</div>\n", n, html.EscapeString(p.Job.Tape.PrintLong(sn.Problem.Sticks[u.Stick].Length)), source,
		html.EscapeString(p.Job.Tape.Print(u.Drop)), html.EscapeString(p.Job.Tape.Print(u.Slack)))
	const wide, high = 1000.0, 46.0
	x := func(mm float64) float64 { return mm / length * (wide - 4) }
	fmt.Fprintf(&b, "<svg viewBox=\"0 0 %g %g\" role=\"img\"><rect x=\"1\" y=\"1\" width=\"%.2f\" height=\"%g\" fill=\"#eee\" stroke=\"#000\"/>", wide, high, x(length), high-2)
	lean := func(q nest.Plane) float64 {
		if q.SY != 0 {
			return float64(q.SY) / 1e9 * sec.Depth.MM()
		}
		return float64(q.SZ) / 1e9 * sec.Width.MM()
	}
	for _, c := range u.Cuts {
		l, r := lean(c.Lay.Left), lean(c.Lay.Right)
		from, to := c.From.MM(), c.To.MM()
		lb, lt := from+max(0, -l), from+max(0, l)
		rb, rt := to-max(0, r), to-max(0, -r)
		fmt.Fprintf(&b, "<path d=\"M%.2f %g L%.2f 1 L%.2f 1 L%.2f %g Z\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"1.5\"/>", x(lb)+1, high-1, x(lt)+1, x(rt)+1, x(rb)+1, high-1)
		fmt.Fprintf(&b, "<text x=\"%.2f\" y=\"29\" font-size=\"18\" text-anchor=\"middle\">%s</text>", x((from+to)/2)+1, html.EscapeString(p.Pieces[sn.Pieces[c.Kind]].Mark))
	}
	for _, at := range u.Partings() {
		fmt.Fprintf(&b, "<path d=\"M%.2f 0 L%.2f %g\" stroke=\"#000\" stroke-width=\"3\" stroke-dasharray=\"5 3\"/>", x(at.MM())+1, x(at.MM())+1, high)
	}
	b.WriteString("</svg>\n<div>")
	for _, c := range u.Cuts {
		k := &p.Pieces[sn.Pieces[c.Kind]]
		fmt.Fprintf(&b, "<span class=\"box\"></span>%s %s&emsp;", html.EscapeString(k.Mark), html.EscapeString(p.Job.Tape.Print(k.Length)))
	}
	b.WriteString("</div>\n</div>\n")
	return b.String()
}

// part is one headed part of the plain plan.
type part struct{ head, body string }

// parts takes the plain plan apart at its heads, which are underlined.
func parts(plain string) []part {
	lines := strings.Split(plain, "\n")
	var out []part
	for i := 0; i < len(lines); i++ {
		if i+1 < len(lines) && lines[i] != "" && len(lines[i+1]) >= 3 && strings.Trim(lines[i+1], "-=") == "" && len([]rune(lines[i])) == len(lines[i+1]) {
			out = append(out, part{head: lines[i]})
			i++
			continue
		}
		if len(out) > 0 {
			out[len(out)-1].body += lines[i] + "\n"
		}
	}
	return out
}
