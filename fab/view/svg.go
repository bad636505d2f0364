package view

import (
	"bytes"
	"fmt"
	"html"
	"math"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/measure"
)

// Options of a drawing on paper.
type Options struct {
	Title    string
	Tape     measure.Tape
	Lit      int              // member to be drawn bold; -1 for none
	Label    func(int) string // what is written beside a member (its mark); nil for nothing
	WidthMM  float64          // of the paper; 0: 277 (A4 and letter lying, with margins)
	HeightMM float64          // 0: 190
}

const css = `line{stroke:#000;fill:none;stroke-linecap:round}.g{stroke:#888;stroke-dasharray:1.5 1}.p{stroke:#555}.d{stroke:#06c;stroke-width:.18}.lit{stroke:#c30}` +
	`text{font-family:sans-serif;font-size:3.2px;fill:#000}.t{font-size:5px}.m{font-size:2.8px;fill:#06c}.k{font-size:2.8px;fill:#555}`

// SVG draws the frame on one sheet: front, top, right side and isometric, with the measures over all, those of each
// rectangle, the clear heights and where the bars stand.
func SVG(f *frame.Frame, o Options) []byte {
	if o.WidthMM == 0 {
		o.WidthMM, o.HeightMM = 277, 190
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="0 0 %g %g"><title>%s</title><style>%s</style><rect width="100%%" height="100%%" fill="#fff"/>`+"\n",
		o.WidthMM, o.HeightMM, o.WidthMM, o.HeightMM, html.EscapeString(o.Title), css)
	fmt.Fprintf(&b, `<text class="t" x="4" y="7">%s</text>`+"\n", html.EscapeString(o.Title))
	// Third-angle arrangement: top over front, the right side beside the front, the isometric in the free corner. One scale
	// for the three, so that edges line up.
	pics := []Picture{Draw(f, Top), Draw(f, Isometric(0)), Draw(f, Front), Draw(f, Side)}
	const margin, gap, head = 16.0, 20.0, 10.0
	w0, w1 := pics[2].MaxX-pics[2].MinX, pics[3].MaxX-pics[3].MinX
	h0, h1 := pics[0].MaxY-pics[0].MinY, pics[2].MaxY-pics[2].MinY
	availW, availH := o.WidthMM-2*margin-gap, o.HeightMM-head-2*margin-gap
	scale := min(availW/max(1, w0+w1), availH/max(1, h0+h1))
	colB, rowB := margin+w0*scale+gap, head+margin+h0*scale+gap
	// The isometric goes into the free corner, or under the front view where a low frame leaves more room there.
	wi, hi := max(1, pics[1].MaxX-pics[1].MinX), max(1, pics[1].MaxY-pics[1].MinY)
	isoX, isoY := colB, head+4.0
	iso := min((o.WidthMM-colB-4)/wi, (rowB-head-14)/hi)
	under := rowB + h1*scale + 24
	if below := min((o.WidthMM-2*margin)/wi, (o.HeightMM-under-6)/hi); below > iso {
		iso, isoX, isoY = below, margin, under
	}
	places := []pen{
		{&b, pics[0], margin, head + margin, scale},
		{&b, pics[1], isoX, isoY, iso},
		{&b, pics[2], margin, rowB, scale},
		{&b, pics[3], colB, rowB, scale},
	}
	for i := range places {
		places[i].draw(&o)
		places[i].dims(f, &o)
	}
	fmt.Fprintf(&b, `<text class="k" x="%g" y="%g">all lengths over the outside unless shown between faces; drawn 1:%.3g</text>`+"\n</svg>\n", 4.0, o.HeightMM-2, 1/scale)
	return b.Bytes()
}

// pen draws a picture at a place of the paper.
type pen struct {
	b     *bytes.Buffer
	p     Picture
	x, y  float64 // of the picture's top left corner
	scale float64
}

func (n *pen) at(x, y float64) (px, py float64) {
	return n.x + (x-n.p.MinX)*n.scale, n.y + (n.p.MaxY-y)*n.scale
}

func (n *pen) draw(o *Options) {
	fmt.Fprintf(n.b, `<g><text class="k" x="%.2f" y="%.2f">%s</text>`+"\n", n.x, n.y-8, n.p.View.Name)
	for _, s := range n.p.Strokes {
		x0, y0 := n.at(s.X0, s.Y0)
		x1, y1 := n.at(s.X1, s.Y1)
		class := ""
		switch {
		case s.Kind == Ground:
			class = ` class="g"`
		case s.Kind == Plate:
			class = ` class="p"`
		case s.Member == o.Lit && o.Lit >= 0:
			class = ` class="lit"`
		}
		// What is near is drawn heavier and darker.
		width := 0.12 + 0.25*s.Near
		fmt.Fprintf(n.b, `<line%s x1="%.2f" y1="%.2f" x2="%.2f" y2="%.2f" stroke-width="%.2f" stroke-opacity="%.2f"/>`+"\n", class, x0, y0, x1, y1, width, 0.45+0.55*s.Near)
	}
	n.b.WriteString("</g>\n")
}

// dims writes the measures of a view.
func (n *pen) dims(f *frame.Frame, o *Options) {
	if n.p.View.RiseDeg != 0 && n.p.View.RiseDeg != 90 {
		if o.Label != nil {
			n.labels(f, o)
		}
		return
	}
	for _, d := range Measures(f, n.p.View) {
		if d.Place == Running {
			continue
		}
		off := map[Place]float64{Under: 11, Left: 10, Right: -4}[d.Place]
		n.dim(d.X0, d.Y0, d.X1, d.Y1, off, o)
	}
	n.running(f, o)
}

// running writes, along the frame's low side, where the centres of the bars stand, as many as there is room for.
func (n *pen) running(f *frame.Frame, o *Options) {
	last, row := math.Inf(-1), math.NaN()
	for _, d := range Measures(f, n.p.View) {
		if d.Place != Running {
			continue
		}
		if x, y := n.at(d.X1, d.Y1); x-last >= 9 || y != row {
			last, row = x, y
			fmt.Fprintf(n.b, `<text class="m" text-anchor="middle" x="%.2f" y="%.2f">%s</text>`+"\n", x, y+4, html.EscapeString(o.Tape.Print(measure.FromMM(d.X1-d.X0))))
		}
	}
}

// dim draws one dimension line at a distance from the points that it measures (mm of the paper; below or left of them
// where positive).
func (n *pen) dim(x0, y0, x1, y1, off float64, o *Options) {
	text := o.Tape.Print(measure.FromMM(math.Hypot(x1-x0, y1-y0)))
	ax, ay := n.at(x0, y0)
	bx, by := n.at(x1, y1)
	level := math.Abs(ay-by) < 1e-9
	dx, dy := -off, 0.0
	if level {
		dx, dy = 0, off
	}
	line := func(x0, y0, x1, y1 float64) {
		fmt.Fprintf(n.b, `<line class="d" x1="%.2f" y1="%.2f" x2="%.2f" y2="%.2f"/>`, x0, y0, x1, y1)
	}
	line(ax+dx/8, ay+dy/8, ax+dx*1.1, ay+dy*1.1)
	line(bx+dx/8, by+dy/8, bx+dx*1.1, by+dy*1.1)
	line(ax+dx, ay+dy, bx+dx, by+dy)
	// A slanting tick at each end, as on a workshop drawing.
	for _, p := range [][2]float64{{ax + dx, ay + dy}, {bx + dx, by + dy}} {
		line(p[0]-0.8, p[1]+0.8, p[0]+0.8, p[1]-0.8)
	}
	mx, my := (ax+bx)/2+dx, (ay+by)/2+dy
	turn := ""
	if !level && off < 0 { // beside the line, so that short ones do not run into each other
		fmt.Fprintf(n.b, `<text class="m" x="%.2f" y="%.2f">%s</text>`+"\n", mx+1.2, my+1, html.EscapeString(text))
		return
	}
	if !level {
		turn = fmt.Sprintf(` transform="rotate(-90 %.2f %.2f)"`, mx-1, my)
		mx--
	} else {
		my--
	}
	fmt.Fprintf(n.b, `<text class="m" text-anchor="middle" x="%.2f" y="%.2f"%s>%s</text>`+"\n", mx, my, turn, html.EscapeString(text))
}

// labels writes each member's label at its middle; members of one label near to each other share one.
func (n *pen) labels(f *frame.Frame, o *Options) {
	seen := map[string]bool{}
	for i := range f.Members {
		m := &f.Members[i]
		text := o.Label(i)
		if text == "" || seen[text+m.Group] {
			continue
		}
		seen[text+m.Group] = true
		x, y, _ := n.p.View.Project(m.Centre())
		px, py := n.at(x, y)
		fmt.Fprintf(n.b, `<text class="m" x="%.2f" y="%.2f">%s</text>`+"\n", px+1, py-1, html.EscapeString(text))
	}
}
