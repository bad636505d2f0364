package hold

import (
	"math"
	"sort"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/spot"
)

// An area load lies on the whole outline of a rectangle, to its outer faces: 20 psf on a frame of 96 x 48 in are 640 lb,
// however its bars lie. Across the bars each takes the strip half way to its neighbours, the outermost to the outer face;
// along them it takes what lies over its own length, and what lies over the rails at its ends falls on those rails where
// they are loaded too, else on the bar itself. Bars carry one way: where a rectangle's bars are among the members loaded,
// the sides across them take only what lies over themselves; without bars its long sides carry, as far as they are named.

// areas gives for each member of a set that belongs to a rectangle the area (mm2) that it carries of it.
func (b *fromFrame) areas(set []spot.Spot) map[int]float64 {
	out := map[int]float64{}
	for ri := range b.f.Rects {
		r := &b.f.Rects[ri]
		var in []int
		for _, p := range set {
			if m := &b.f.Members[p.Member]; m.Group == r.Name && (m.Role == frame.Bar || m.Role == frame.Side) {
				in = append(in, p.Member)
			}
		}
		if len(in) > 0 {
			b.share(r, in, out)
		}
	}
	return out
}

// share divides the outline of a rectangle among some of its members.
func (b *fromFrame) share(r *frame.Rect, in []int, out map[int]float64) {
	along := b.bearingAxis(r, in)
	across, long, wide := r.V, r.LengthMM, r.WidthMM
	if math.Abs(along.Dot(r.U)) < 0.9 {
		across, long, wide = r.U, r.WidthMM, r.LengthMM
	}
	runs := func(i int) bool { return math.Abs(b.f.Members[i].Axis.Dot(along)) > 0.99 }
	at := func(i int) float64 {
		m := &b.f.Members[i]
		return m.A.Lerp(m.B, 0.5).Sub(r.Corner).Dot(across)
	}
	type line struct {
		member int
		at     float64
		named  bool
	}
	named := map[int]bool{}
	var lines []line
	var cross []int
	for _, i := range in {
		named[i] = true
		if runs(i) {
			lines = append(lines, line{i, at(i), true})
		} else {
			cross = append(cross, i)
		}
	}
	for i := range b.f.Members { // a bar that is not loaded keeps its strip to itself
		if m := &b.f.Members[i]; m.Group == r.Name && m.Role == frame.Bar && !named[i] && runs(i) {
			lines = append(lines, line{i, at(i), false})
		}
	}
	sort.SliceStable(lines, func(x, y int) bool { return lines[x].at < lines[y].at })
	over := 0.0 // the rails at the bars' ends
	for k, x := range lines {
		if !x.named {
			continue
		}
		lo, hi := 0.0, wide
		if k > 0 {
			lo = (lines[k-1].at + x.at) / 2
		}
		if k+1 < len(lines) {
			hi = (lines[k+1].at + x.at) / 2
		}
		strip := math.Max(hi-lo, 0)
		own := math.Min(b.f.LengthMM(x.member), long)
		if len(cross) == 0 {
			own = long
		}
		out[x.member] += strip * own
		over += strip * (long - own)
	}
	for _, i := range cross {
		out[i] += over / float64(len(cross))
	}
}

// bearingAxis gives the direction in which the members of a set carry: that of the bars, else of the longer sides.
func (b *fromFrame) bearingAxis(r *frame.Rect, in []int) space.Vec {
	best, rank := r.U, -1
	for _, i := range in {
		m := &b.f.Members[i]
		k := 0
		if math.Abs(m.Axis.Dot(r.U)) > 0.9 == (r.LengthMM >= r.WidthMM) {
			k = 1 // a long side
		}
		if m.Role == frame.Bar {
			k = 2
		}
		if k > rank {
			best, rank = m.Axis, k
		}
	}
	return best
}
