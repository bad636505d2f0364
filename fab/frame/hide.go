package frame

import (
	"math"

	"bench.example/soapstone/fab/space"
)

// reachMM is how far out of an edge another member hides it from the torch; stepMM how finely an edge is looked along, and
// edgeMM how finely the places are found where cover begins and ends.
const (
	reachMM = 2.0
	stepMM  = 4.0
	edgeMM  = 0.05
)

// hide marks the edges that other members cover, and parts those that are covered for a stretch only. Members stand in
// the order of assembly: what is there before the joint is made hides its edge, what comes later only covers it.
func (b *builder) hide(g *grid) {
	var near []int
	for i := range b.f.Joints {
		j := &b.f.Joints[i]
		last := max(j.Members[0], j.Members[1])
		for k := range j.Contacts {
			c := &j.Contacts[k]
			parted := false
			for n := range c.Edges {
				e := &c.Edges[n]
				out := e.Out().Mul(reachMM)
				box := space.EmptyBox().Take(e.From.Add(out)).Take(e.To.Add(out))
				others := near[:0]
				near = g.touching(near[:0], box, b.solids)
				for _, m := range near {
					if m != j.Members[0] && m != j.Members[1] {
						others = append(others, m)
					}
				}
				if len(others) == 0 {
					continue
				}
				cover := func(t float64) (hidden, covered bool) {
					at := e.From.Lerp(e.To, t).Add(out)
					for _, m := range others {
						for _, s := range b.solids[m].parts {
							if s.Contains(at, 0) {
								hidden = hidden || m < last
								covered = covered || m > last
							}
						}
					}
					return hidden, covered
				}
				if parts := part(*e, cover); len(parts) > 1 {
					if !parted {
						c.Edges = append([]Edge(nil), c.Edges...)
						e, parted = &c.Edges[n], true
					}
					*e = parts[0]
					c.more = append(c.more, parts[1:]...)
				} else {
					*e = parts[0]
				}
			}
			c.Edges = append(c.Edges, c.more...)
			c.more = nil
		}
	}
}

// part cuts an edge where its cover changes.
func part(e Edge, cover func(t float64) (hidden, covered bool)) []Edge {
	length := e.LengthMM()
	n := max(1, min(64, int(math.Ceil(length/stepMM))))
	var parts []Edge
	whole := e
	from := 0.0
	h0, c0 := cover(0.5 / float64(n))
	for k := 1; k <= n; k++ {
		h1, c1 := h0, c0
		if k < n {
			h1, c1 = cover((float64(k) + 0.5) / float64(n))
		}
		if k < n && h1 == h0 && c1 == c0 {
			continue
		}
		to := 1.0
		if k < n { // halve the step until the change is found
			lo, hi := (float64(k)-0.5)/float64(n), (float64(k)+0.5)/float64(n)
			for (hi-lo)*length > edgeMM {
				mid := (lo + hi) / 2
				if h, c := cover(mid); h == h0 && c == c0 {
					lo = mid
				} else {
					hi = mid
				}
			}
			to = (lo + hi) / 2
		}
		p := whole
		p.From, p.To = whole.From.Lerp(whole.To, from), whole.From.Lerp(whole.To, to)
		p.Hidden, p.Covered = h0, c0
		if to == 1 {
			p.To = whole.To
		}
		parts = append(parts, p)
		from, h0, c0 = to, h1, c1
	}
	return parts
}
