package nest

import (
	"fmt"
	"math"
	"slices"
)

// The verifier knows nothing of joints: it draws every piece as a polygon in slices across the section's width, with the
// strip that the saw takes beyond each end, and clips polygons against one another.

type point struct{ x, y float64 }

// clip cuts the convex polygon p (counterclockwise) by the convex polygon q (Sutherland and Hodgman, CACM 17, 1974).
func clip(p, q []point) []point {
	for i := range q {
		a, b := q[i], q[(i+1)%len(q)]
		side := func(c point) float64 { return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x) }
		var out []point
		for j := range p {
			c, d := p[j], p[(j+1)%len(p)]
			sc, sd := side(c), side(d)
			if sc >= 0 {
				out = append(out, c)
			}
			if sc*sd < 0 {
				t := sc / (sc - sd)
				out = append(out, point{c.x + t*(d.x-c.x), c.y + t*(d.y-c.y)})
			}
		}
		p = out
		if len(p) == 0 {
			return nil
		}
	}
	return p
}

func area(p []point) float64 {
	s := 0.0
	for i := range p {
		a, b := p[i], p[(i+1)%len(p)]
		s += a.x*b.y - b.x*a.y
	}
	return s / 2
}

// solid is a piece or stick between two planes; x in mm at y, z.
type solid struct{ left, right func(y, z float64) float64 }

// outline is the solid's polygon in the slice z, grown by l and r along the stick at its ends.
func (s solid) outline(z, height, l, r float64) []point {
	return []point{{s.left(0, z) - l, 0}, {s.right(0, z) + r, 0}, {s.right(height, z) + r, height}, {s.left(height, z) - l, height}}
}

func slopeAt(p Plane, y, z float64) float64 { return float64(p.SY)/1e9*y + float64(p.SZ)/1e9*z }

func extent(p Plane, depth, width float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, y := range []float64{0, depth} {
		for _, z := range []float64{0, width} {
			lo, hi = math.Min(lo, slopeAt(p, y, z)), math.Max(hi, slopeAt(p, y, z))
		}
	}
	return lo, hi
}

// between gives the solid whose tips are at from and to.
func between(l Lay, from, to, depth, width float64) solid {
	lo, _ := extent(l.Left, depth, width)
	_, hi := extent(l.Right, depth, width)
	return solid{
		func(y, z float64) float64 { return from - lo + slopeAt(l.Left, y, z) },
		func(y, z float64) float64 { return to - hi + slopeAt(l.Right, y, z) },
	}
}

func alongStick(kerf float64, p Plane) float64 {
	// The cut's normal is (1, -sy, -sz); a slab kerf thick takes kerf/cos of its angle to the stick.
	sy, sz := float64(p.SY)/1e9, float64(p.SZ)/1e9
	return kerf / (1 / math.Sqrt(1+sy*sy+sz*sz))
}

// faults says what is wrong with a nest, by drawing it.
func faults(p *Problem, n *Nest) []string {
	var out []string
	say := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	r := &p.Rules
	depth, width, kerf := r.Depth.MM(), r.Width.MM(), r.Kerf.MM()
	height := depth
	if height == 0 {
		height = 1
	}
	const tol = 2e-5 // mm: joints, kerfs and slopes are rounded to the nanometre, each at four corners
	units := make([]map[int]bool, len(p.Kinds))
	sticks := make([]int, len(p.Sticks))
	same := map[string]int{}
	cost := int64(0)
	for si := range n.Used {
		u := &n.Used[si]
		st := &p.Sticks[u.Stick]
		sticks[u.Stick]++
		if n.Priced {
			cost += int64(st.Price) + int64(max(0, len(u.Parts)-1))*int64(r.YardCut)
		} else if !st.OnHand {
			cost += int64(st.Length)
		}
		if len(u.Cuts) == 0 {
			say("stick %d holds nothing", si)
			continue
		}
		if len(st.Ends) > 0 && !slices.Contains(st.Ends, u.Ends) || len(st.Ends) == 0 && u.Ends != (Lay{}) {
			say("stick %d is loaded with ends it does not have: %+v", si, u.Ends)
		}
		// The room for pieces: the stick, or its parts one after the other.
		type room struct {
			s        solid
			from, to float64
			last     *Cut
		}
		var rooms []room
		trim := r.Trim.MM()
		if st.Trimmed {
			trim = 0
		}
		whole := between(u.Ends, 0, st.Length.MM(), depth, width)
		if len(u.Parts) == 0 {
			if r.Haul > 0 && !st.OnHand && st.Length > r.Haul {
				say("stick %d is longer than can be hauled", si)
			}
			rooms = []room{{s: solid{func(y, z float64) float64 { return whole.left(y, z) + trim },
				func(y, z float64) float64 { return whole.right(y, z) - r.TrimEnd.MM() }}, to: st.Length.MM()}}
		} else {
			at := 0.0
			for i, l := range u.Parts {
				if l > r.Haul || l < 0 {
					say("stick %d, part %d is %g mm long", si, i, l.MM())
				}
				end := at + l.MM()
				rm := room{from: at, to: end}
				a, b := at+r.YardTrim.MM(), end-r.YardTrim.MM()
				rm.s = solid{func(_, _ float64) float64 { return a }, func(_, _ float64) float64 { return b }}
				if i == 0 {
					rm.s.left = func(y, z float64) float64 { return whole.left(y, z) + trim }
				}
				if i == len(u.Parts)-1 {
					rm.s.right = func(y, z float64) float64 { return whole.right(y, z) - r.TrimEnd.MM() }
				}
				rooms = append(rooms, rm)
				at = end
			}
			if math.Abs(at-st.Length.MM()) > tol {
				say("stick %d: its parts add up to %g", si, at)
			}
		}
		slack := math.Inf(1)
		place := make([]int, len(u.Cuts)) // the room of each cut
		for ci := range u.Cuts {
			c := &u.Cuts[ci]
			k := &p.Kinds[c.Kind]
			if units[c.Kind] == nil {
				units[c.Kind] = map[int]bool{}
			}
			if units[c.Kind][c.Unit] || c.Unit < 1 || c.Unit > k.Qty {
				say("kind %d: unit %d twice or not wanted", c.Kind, c.Unit)
			}
			units[c.Kind][c.Unit] = true
			if k.Same != "" {
				if was, ok := same[k.Same]; ok && was != si {
					say("%q comes from sticks %d and %d", k.Same, was, si)
				}
				same[k.Same] = si
			}
			if c.To-c.From != k.Length {
				say("stick %d, cut %d: %g mm from tip to tip", si, ci, (c.To - c.From).MM())
			}
			if len(k.Lays) > 0 && !slices.Contains(k.Lays, c.Lay) || len(k.Lays) == 0 && c.Lay != (Lay{}) {
				say("stick %d, cut %d lies as it may not: %+v", si, ci, c.Lay)
			}
			s := between(c.Lay, c.From.MM(), c.To.MM(), depth, width)
			in := -1
			for i := range rooms {
				if c.From.MM() >= rooms[i].from-tol && c.To.MM() <= rooms[i].to+tol {
					in = i
				}
			}
			if in < 0 {
				say("stick %d, cut %d runs out of its stick or part", si, ci)
				continue
			}
			rooms[in].last = c
			place[ci] = in
			for _, z := range []float64{0, width / 3, width} {
				p := s.outline(z, height, 0, 0)
				inside := area(clip(p, rooms[in].s.outline(z, height, 0, 0)))
				if out := area(p) - inside; out > tol*height {
					say("stick %d, cut %d: %.6g mm2 of it are outside the stick", si, ci, out)
				}
				// The strip of the saw on the right of the earlier piece, and that on the left of the later one; what lies on
				// another part of the stick was sawn off before.
				for oi := range ci {
					if place[oi] != in {
						continue
					}
					o := &u.Cuts[oi]
					before := between(o.Lay, o.From.MM(), o.To.MM(), depth, width)
					grown := s.outline(z, height, alongStick(kerf, c.Lay.Left), 0)
					if a := area(clip(grown, before.outline(z, height, 0, 0))); a > tol*height {
						say("stick %d, cut %d or its kerf takes %.6g mm2 of cut %d before it", si, ci, a, oi)
					}
					if a := area(clip(before.outline(z, height, 0, alongStick(kerf, o.Lay.Right)), p)); a > tol*height {
						say("stick %d, the kerf of cut %d takes %.6g mm2 of cut %d", si, oi, a, ci)
					}
				}
			}
		}
		for ri := range rooms {
			rm := &rooms[ri]
			c := rm.last
			tail := 0.0
			if ri < len(rooms)-1 {
				tail = r.YardTrim.MM()
			}
			if c == nil {
				continue
			}
			drop := math.Max(0, rm.to-tail-c.To.MM()-alongStick(kerf, c.Lay.Right))
			if ri == len(rooms)-1 && math.Abs(drop-u.Drop.MM()) > tol {
				say("stick %d: its drop is %.6f, not %.6f", si, drop, u.Drop.MM())
			}
			if (c.To-c.From).MM()+drop < r.Grip.MM()-tol {
				say("stick %d: the vise holds only %.6f", si, (c.To-c.From).MM()+drop)
			}
			s := between(c.Lay, c.From.MM(), c.To.MM(), depth, width)
			for _, y := range []float64{0, depth} {
				for _, z := range []float64{0, width} {
					slack = math.Min(slack, rm.s.right(y, z)-s.right(y, z))
				}
			}
		}
		if math.Abs(slack-u.Slack.MM()) > tol {
			say("stick %d: slack %.6f, not %.6f", si, slack, u.Slack.MM())
		}
	}
	for k := range p.Kinds {
		if len(units[k]) != p.Kinds[k].Qty {
			say("kind %d: %d pieces of %d", k, len(units[k]), p.Kinds[k].Qty)
		}
	}
	for s, c := range sticks {
		if l := p.Sticks[s].Limit; l > 0 && c > l {
			say("%d of stick %d, there are %d", c, s, l)
		}
	}
	if cost != int64(n.Cost) {
		say("cost %d, the sticks cost %d", n.Cost, cost)
	}
	if n.Bars != len(n.Used) {
		say("%d sticks, said to be %d", len(n.Used), n.Bars)
	}
	if n.BoundCost > n.Cost || n.Proven != (n.BoundCost == n.Cost) || n.BoundBars > n.Bars {
		say("cost %d, bound %d, proven %v; sticks %d, bound %d", n.Cost, n.BoundCost, n.Proven, n.Bars, n.BoundBars)
	}
	return out
}
