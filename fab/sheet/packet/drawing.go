package packet

import (
	"math"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/view"
)

// frameView is a view of the frame in a box of a drawing.
type frameView struct {
	d     *page.Drawing
	pic   view.Picture
	x, y  float64 // of the picture's upper left corner
	scale float64
}

// fitted places a picture in the middle of a box, as large as it goes.
func fitted(d *page.Drawing, pic view.Picture, x, y, w, h float64) *frameView {
	pw, ph := max(1, pic.MaxX-pic.MinX), max(1, pic.MaxY-pic.MinY)
	scale := min(w/pw, h/ph)
	return &frameView{d: d, pic: pic, x: x + (w-pw*scale)/2, y: y + (h-ph*scale)/2, scale: scale}
}

func (v *frameView) at(x, y float64) (float64, float64) {
	return v.x + (x-v.pic.MinX)*v.scale, v.y + (v.pic.MaxY-y)*v.scale
}

// strokes draws the view: what is near heavy and dark, what is far thin and grey. lit tells which members are drawn so in
// full; the others are faint. nil: all.
func (v *frameView) strokes(lit func(member int) bool) {
	for _, s := range v.pic.Strokes {
		x0, y0 := v.at(s.X0, s.Y0)
		x1, y1 := v.at(s.X1, s.Y1)
		near := math.Round(s.Near*4) / 4 // few kinds of line, so that neighbours share one
		l := page.Line{X0: x0, Y0: y0, X1: x1, Y1: y1, W: 0.15 + 0.2*near, Grey: 0.5 * (1 - near)}
		switch {
		case s.Kind == view.Ground:
			l.W, l.Grey, l.Dash = 0.2, 0.5, true
		case lit != nil && (s.Member < 0 || !lit(s.Member)):
			l.W, l.Grey = 0.15, 0.7
		}
		v.d.Add(l)
	}
}

// measures draws the dimension lines of a view.
func (v *frameView) measures(ms []view.Measure, tape measure.Tape, size float64) {
	lastX, lastRow := math.Inf(-1), math.NaN()
	var taken [][2]float64 // of texts on the right
	for _, m := range ms {
		s := tape.Print(measure.FromMM(m.LengthMM()))
		ax, ay := v.at(m.X0, m.Y0)
		bx, by := v.at(m.X1, m.Y1)
		width := page.WidthMM(s, size, false)
		switch m.Place {
		case view.Running:
			if bx-lastX >= width+1.5 || by != lastRow {
				lastX, lastRow = bx, by
				v.d.Add(page.Label{X: bx, Y: by + size*page.PointMM + 0.6, Text: s, Size: size, Anchor: page.Middle})
			}
		case view.Under:
			y := ay + 9
			v.line(ax, ay+1, ax, y+1)
			v.line(bx, by+1, bx, y+1)
			v.tickLine(ax, y, bx, y)
			v.d.Add(page.Label{X: (ax + bx) / 2, Y: y - 0.9, Text: s, Size: size, Anchor: page.Middle})
		case view.Left:
			x := ax - 4
			v.line(ax-1, ay, x-1, ay)
			v.line(bx-1, by, x-1, by)
			v.tickLine(x, ay, x, by)
			v.d.Add(page.Label{X: x - 0.9, Y: max((ay+by)/2, width/2), Text: s, Size: size, Anchor: page.Middle, Up: true})
		case view.Right:
			x := ax + 4
			mid := max((ay+by)/2+size*page.PointMM*0.35, size*page.PointMM)
			free := true
			for _, t := range taken {
				free = free && math.Abs(t[0]-mid) > size*page.PointMM
			}
			if !free {
				continue
			}
			taken = append(taken, [2]float64{mid, 0})
			v.line(ax+1, ay, x+1, ay)
			v.line(bx+1, by, x+1, by)
			v.tickLine(x, ay, x, by)
			v.d.Add(page.Label{X: x + 1.5, Y: mid, Text: s, Size: size})
		}
	}
}

func (v *frameView) line(x0, y0, x1, y1 float64) {
	v.d.Add(page.Line{X0: x0, Y0: y0, X1: x1, Y1: y1, W: 0.15})
}

// tickLine is a dimension line with a slanting tick at each end, as on a workshop drawing.
func (v *frameView) tickLine(x0, y0, x1, y1 float64) {
	v.line(x0, y0, x1, y1)
	for _, p := range [][2]float64{{x0, y0}, {x1, y1}} {
		v.d.Add(page.Line{X0: p[0] - 0.9, Y0: p[1] + 0.9, X1: p[0] + 0.9, Y1: p[1] - 0.9, W: 0.35})
	}
}

// tag is a text that belongs to a point of a drawing and must not lie on another.
type tag struct {
	text   string
	px, py float64 // the point
	x, y   float64 // middle of the text
}

// spread moves tags apart until none lies on another, inside a box; the same tags give the same places. w and h are the room
// of one tag.
func spread(tags []tag, w, h, boxW, boxH float64) {
	rounds := 80
	if len(tags) > 120 {
		rounds = 20
	}
	for range rounds {
		moved := false
		for i := range tags {
			for k := i + 1; k < len(tags); k++ {
				dx, dy := tags[k].x-tags[i].x, tags[k].y-tags[i].y
				ox, oy := w-math.Abs(dx), h-math.Abs(dy)
				if ox <= 0 || oy <= 0 {
					continue
				}
				moved = true
				// Along the way that is shorter; points that fall together go by their order.
				if ox*h < oy*w {
					if dx < 0 {
						ox = -ox
					}
					tags[i].x, tags[k].x = tags[i].x-ox/2, tags[k].x+ox/2
				} else {
					if dy < 0 {
						oy = -oy
					}
					tags[i].y, tags[k].y = tags[i].y-oy/2, tags[k].y+oy/2
				}
			}
		}
		for i := range tags {
			tags[i].x = min(max(tags[i].x, w/2), boxW-w/2)
			tags[i].y = min(max(tags[i].y, h/2), boxH-h/2)
		}
		if !moved {
			return
		}
	}
}

// drawTags draws tags as plates with a leader to their points.
func drawTags(d *page.Drawing, tags []tag, w, h, size float64) {
	for _, t := range tags {
		if math.Hypot(t.x-t.px, t.y-t.py) > h/2 {
			d.Add(page.Line{X0: t.px, Y0: t.py, X1: t.x, Y1: t.y, W: 0.2})
		}
		d.Add(page.Disc{X: t.px, Y: t.py, R: 0.7, Fill: page.Slate})
	}
	for _, t := range tags {
		d.Add(page.Rect(t.x-w/2, t.y-h/2, w, h, 0.3, page.Chalk),
			page.Label{X: t.x, Y: t.y + size*page.PointMM*0.36, Text: t.text, Size: page.Fit(t.text, size, 6, true, w-1), Bold: true, Anchor: page.Middle})
	}
}
