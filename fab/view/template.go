package view

import (
	"math"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/space"
)

// WrapPoint is a point of a cut's rim, unrolled: so far round the skin, so far along the piece.
type WrapPoint struct {
	RoundMM float64
	AlongMM float64 // from the piece's tip, from which its length counts, back along it
}

// WrapSide is where a side of the piece lies on the paper: a flat's middle, or the line of a round piece that looks there.
type WrapSide struct {
	Name    string // top, front, bottom, back, as on the mark-out; of an open section's insides "bottom, inside"
	RoundMM float64
}

// Wrap is the rim of a cut, unrolled from the skin of the piece and seen from outside, the cut at the top of the paper. It
// runs to the right over one turn: from the middle of the top as the piece lies for its mark-out, of an open section from
// the heel (or the corner that lies there), where the paper follows the insides too. A tip on the sharp corner that a
// tube's round one has not lies beyond the rim.
type Wrap struct {
	Points  []WrapPoint // the first point repeated at the end
	GirthMM float64
	DepthMM float64    // from the tip to the short point
	Folds   []float64  // of a section with corners: where along the girth they lie; the middles of round ones
	Sides   []WrapSide // in the order in which the paper meets them
}

// wrapStepMM is the most between two points of a wrap before its bends are looked for; wrapTrueMM how far the line drawn
// between two points may lie off the rim: a fifth of a fine pencil's line.
const (
	wrapStepMM = 3.0
	wrapTrueMM = 0.02
)

// WrapOf unrolls end e of a piece of the frame, or of a loose one, as the piece is shown.
func WrapOf(f *frame.Frame, x *piece.Piece, e int) Wrap {
	var section *frame.Section
	for _, s := range f.Sections {
		if s.Name == x.Section {
			section = s
		}
	}
	// How far a line along the skin reaches towards the end; a loose piece has plane ends.
	reach := func(y, z float64) float64 {
		s := x.Ends[e].Slope
		if e == 0 {
			return -s.SY*y - s.SZ*z
		}
		return s.SY*y + s.SZ*z
	}
	tip := 0.0
	if s := x.Ends[e].Slope; section.Round {
		tip = section.RadiusMM * math.Hypot(s.SY, s.SZ)
	} else {
		for _, part := range section.Parts {
			for _, c := range part {
				tip = max(tip, reach(c.Y, c.Z))
			}
		}
	}
	if len(x.Indices) > 0 {
		m, end := &f.Members[x.Indices[0]], e
		if x.Way.Turned {
			end = 1 - e
		}
		dir := m.Axis
		from, to := m.Tips()
		tip = to
		if end == 0 {
			dir, tip = dir.Mul(-1), -from
		}
		w := x.Way // back to the member: the other way round, since it only turns and mirrors
		reach = func(y, z float64) float64 { return reachOf(m, end, dir, w.YY*y+w.ZY*z, w.YZ*y+w.ZZ*z) }
	}
	skin := skinOf(section, x.Across, e == 0)
	w := Wrap{GirthMM: skin.girth, Folds: skin.folds, Sides: skin.sides}
	at := func(s float64) WrapPoint {
		y, z := skin.at(s)
		return WrapPoint{s, reach(y, z)}
	}
	var fill func(a, b WrapPoint)
	fill = func(a, b WrapPoint) {
		mid := at((a.RoundMM + b.RoundMM) / 2)
		if gap := b.RoundMM - a.RoundMM; gap > wrapTrueMM && (gap > wrapStepMM || math.Abs(mid.AlongMM-(a.AlongMM+b.AlongMM)/2) > wrapTrueMM/2) {
			fill(a, mid)
			fill(mid, b)
			return
		}
		w.Points = append(w.Points, b)
	}
	last := at(0)
	w.Points = append(w.Points, last)
	for _, s := range append(skin.stops[1:], skin.girth) {
		next := at(s)
		fill(last, next)
		last = next
	}
	for i := range w.Points {
		w.Points[i].AlongMM = tip - w.Points[i].AlongMM
		w.DepthMM = max(w.DepthMM, w.Points[i].AlongMM)
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
