package weld

import (
	"math"
	"strings"

	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// drawing is where the frame was drawn last, for clicks on it.
type drawing struct{ top, w, h int }

// nearCells is how far from a joint, in cells, a click still means it.
const nearCells = 3

// Click on a joint of the drawing asks whether it is to come next; on the joint in hand it says what it is.
func (s *Weld) Click(d *station.Desk, x, y, _, _ int) []station.Intent {
	at := s.drawn
	if s.why(d) != "" || at.h == 0 || y < at.top || y >= at.top+at.h || d.Plan.Frame == nil {
		return nil
	}
	s.booth.follow(d)
	pic := s.frames.picture(d.Plan, s.turn)
	place := draw.Place(draw.NewCanvas(at.w, at.h, d.Look.Unicode), pic.MinX, pic.MinY, pic.MaxX, pic.MaxY)
	best, found := 2.0*nearCells, -1
	depth := 0.0
	for k, t := range d.Plan.Weld.Docket.Tasks {
		if t.Joint == "" {
			continue
		}
		px, py, near := pic.View.Project(vec(t.Place))
		cx, cy := place(px, py)
		// The drawing stands one cell in; a cell is two dots wide and four high.
		far := math.Hypot(cx-float64(2*(x-1)+1), cy-float64(4*(y-at.top)+2))
		if far < best-1e-9 || far < best+1e-9 && found >= 0 && near > depth {
			best, found, depth = far, k, near
		}
	}
	if found < 0 {
		return nil
	}
	joint := d.Plan.Weld.Docket.Tasks[found].Joint
	members, open := "", false
	for k := range d.Plan.Weld.Layout.Joints {
		if d.Plan.Weld.Layout.Joints[k].ID == joint {
			members = text.Clean(strings.ReplaceAll(d.Plan.Weld.Key(k), "+", " with "))
		}
	}
	for k, t := range d.Plan.Weld.Docket.Tasks {
		open = open || t.Joint == joint && t.Kind.Burns() && !s.booth.done[k]
	}
	if i := s.booth.task(d); i >= 0 && d.Plan.Weld.Docket.Tasks[i].Joint == joint {
		return []station.Intent{station.Say{Text: joint + ", " + members + ": this one is in hand"}}
	}
	if !open {
		return []station.Intent{station.Say{Text: joint + ", " + members + ": finished"}}
	}
	out := s.other(d)
	for k, i := range out {
		if ask, ok := i.(station.Ask); ok {
			ask.Initial, ask.Help = joint, members+"; enter calls it up as soon as it can come"
			out[k] = ask
		}
	}
	return out
}
