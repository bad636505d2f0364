package view

import (
	"bytes"
	"fmt"
	"html"
	"math"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
)

// WrapPoint is a point of a cut's rim, unrolled: so far round the skin, so far along the piece.
type WrapPoint struct {
	RoundMM float64
	AlongMM float64 // from the cut's long point back along the piece
}

// Wrap is the rim of a cut, unrolled from the skin of the piece.
type Wrap struct {
	Points  []WrapPoint // over one turn, the first point repeated at its end
	GirthMM float64     // outside girth
	DepthMM float64     // from the long point to the short one
	Folds   []float64   // of a section with corners: where along the girth the middles of its corners lie
}

// WrapOf unrolls the end e of a member (0 at A): where lines along its skin end. The seam of the paper lies along the
// middle of the side at greatest depth, or where a round piece has its depth axis.
func WrapOf(m *frame.Member, e int) Wrap {
	outline := m.Section.Outline(12).Outer
	// Begin at the middle of the side at greatest depth: between the outline's points that lie there.
	start := 0
	for i, p := range outline {
		if q := outline[(i+1)%len(outline)]; p.Y > m.Section.DepthMM/2-1e-6 && q.Y > m.Section.DepthMM/2-1e-6 {
			start = i + 1
			break
		}
	}
	rim := make([]space.Vec2, 0, len(outline)+1)
	if first := outline[start%len(outline)]; m.Section.Round {
		rim = append(rim, space.Vec2{Y: first.Y, Z: first.Z})
	} else {
		rim = append(rim, space.Vec2{Y: m.Section.DepthMM / 2})
	}
	for k := range outline {
		p := outline[(start+k)%len(outline)]
		rim = append(rim, space.Vec2{Y: p.Y, Z: p.Z})
	}
	rim = append(rim, rim[0])
	var w Wrap
	dir := m.Axis
	if e == 0 {
		dir = dir.Mul(-1)
	}
	long := math.Inf(-1)
	short := math.Inf(1)
	var last space.Vec2
	for k, p := range rim {
		if k > 0 {
			step := math.Hypot(p.Y-last.Y, p.Z-last.Z)
			if m.Section.Round { // along the arc, not the chord
				r := m.Section.RadiusMM
				step = 2 * r * math.Asin(min(1, step/(2*r)))
			}
			// Long flats are walked in steps, so that a curve shows on them too.
			n := max(1, int(math.Ceil(step/3)))
			for i := 1; i < n; i++ {
				t := float64(i) / float64(n)
				w.Points = append(w.Points, WrapPoint{w.GirthMM + step*t, reachOf(m, e, dir, last.Y+(p.Y-last.Y)*t, last.Z+(p.Z-last.Z)*t)})
			}
			w.GirthMM += step
		}
		w.Points = append(w.Points, WrapPoint{w.GirthMM, reachOf(m, e, dir, p.Y, p.Z)})
		last = p
	}
	for _, p := range w.Points {
		long, short = max(long, p.AlongMM), min(short, p.AlongMM)
	}
	for i := range w.Points {
		w.Points[i].AlongMM = long - w.Points[i].AlongMM
	}
	w.DepthMM = long - short
	if !m.Section.Round && len(m.Section.Parts) == 1 {
		h, b, r := m.Section.DepthMM, m.Section.WidthMM, m.Section.RadiusMM
		arc := math.Pi / 2 * r
		a, c := b-2*r, h-2*r
		w.Folds = []float64{a/2 + arc/2, a/2 + arc*1.5 + c, a*1.5 + arc*2.5 + c, a*1.5 + arc*3.5 + 2*c}
	}
	return w
}

// reachOf gives how far a line along the skin reaches towards the end before it is cut.
func reachOf(m *frame.Member, e int, dir space.Vec, y, z float64) float64 {
	p := m.Place(0, y, z)
	if s := m.Ends[e].Saddle; s != nil {
		return s.Reach(p, dir)
	}
	t := math.Inf(1)
	for _, q := range m.Ends[e].Planes {
		if v, ok := q.Line(p, dir); ok {
			t = min(t, v)
		}
	}
	for _, notch := range m.Ends[e].Notch {
		t = min(t, enter(notch, p, dir))
	}
	return t
}

// enter gives where a line along dir enters a notch for the last time before its open end; infinite where it does not.
func enter(n frame.Notch, p, dir space.Vec) float64 {
	lo, hi := math.Inf(-1), math.Inf(1)
	for _, q := range n {
		d, side := q.Normal.Dot(dir), q.Dist(p)
		switch {
		case math.Abs(d) < 1e-12 && side >= -space.Near:
			return math.Inf(1)
		case math.Abs(d) < 1e-12:
		case d < 0:
			lo = max(lo, -side/d)
		default:
			hi = min(hi, -side/d)
		}
	}
	if lo >= hi {
		return math.Inf(1)
	}
	return lo
}

// Template draws a wrap at its full size, with a scale bar to check the print and the folds of a section with corners. The
// hatched side is waste.
func Template(w Wrap, title string, tape measure.Tape) []byte {
	const margin, lap = 12.0, 12.0
	height := w.DepthMM + 40
	width := w.GirthMM + lap + 2*margin
	total := height + 2*margin + 26
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%.3fmm" height="%.3fmm" viewBox="0 0 %.3f %.3f"><title>%s</title><style>%s path{fill:none;stroke:#000;stroke-width:.25}.f{stroke:#06c;stroke-dasharray:2 1.5;stroke-width:.15}</style><rect width="100%%" height="100%%" fill="#fff"/>`+"\n",
		max(width, 130), total, max(width, 130), total, html.EscapeString(title), css)
	fmt.Fprintf(&b, `<text x="%g" y="6">%s</text>`+"\n", margin, html.EscapeString(title))
	x0, y0 := margin, margin+6.0
	top := func(along float64) float64 { return y0 + 10 + along }
	fmt.Fprintf(&b, `<path d="M%.3f %.3f V%.3f H%.3f V%.3f"/>`+"\n", x0, top(w.Points[0].AlongMM), y0+height, x0+w.GirthMM+lap, top(w.Points[0].AlongMM))
	b.WriteString(`<path d="`)
	for i, p := range w.Points {
		c := "L"
		if i == 0 {
			c = "M"
		}
		fmt.Fprintf(&b, "%s%.3f %.3f ", c, x0+p.RoundMM, top(p.AlongMM))
	}
	b.WriteString("\"/>\n")
	line := func(class string, x0, y0, x1, y1 float64) {
		fmt.Fprintf(&b, `<line class="%s" x1="%.3f" y1="%.3f" x2="%.3f" y2="%.3f" stroke-width=".2"/>`+"\n", class, x0, y0, x1, y1)
	}
	line("f", x0, top(0), x0+w.GirthMM, top(0))
	line("f", x0+w.GirthMM, top(0), x0+w.GirthMM, y0+height)
	for _, f := range w.Folds {
		line("f", x0+f, top(0), x0+f, y0+height)
	}
	fmt.Fprintf(&b, `<text class="k" x="%.2f" y="%.2f">long point on the dashed line; the strip on the right goes under; keep this side, cut off above</text>`+"\n", x0+2, y0+height-4)
	fmt.Fprintf(&b, `<text class="k" x="%.2f" y="%.2f">girth %s, depth of the cut %s</text>`+"\n", x0+2, y0+height-8, html.EscapeString(tape.Print(measure.FromMM(w.GirthMM))), html.EscapeString(tape.Print(measure.FromMM(w.DepthMM))))
	ys := y0 + height + 10
	for i, bar := range []struct {
		mm   float64
		text string
	}{{100, "100 mm: measure it on the print; where it is off, print at 100 %"}, {101.6, "4 in"}} {
		y := ys + float64(i)*9
		line("s", x0, y, x0+bar.mm, y)
		line("s", x0, y-2, x0, y+2)
		line("s", x0+bar.mm, y-2, x0+bar.mm, y+2)
		fmt.Fprintf(&b, `<text class="k" x="%.2f" y="%.2f">%s</text>`+"\n", x0+1, y-1.5, bar.text)
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}
