package frame

import (
	"fmt"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

func point(at [3]measure.Length) space.Vec {
	return space.Vec{X: at[0].MM(), Y: at[1].MM(), Z: at[2].MM()}
}

// tape prints a length for a message.
func (b *builder) tape(mm float64) string { return b.job.Tape.Print(measure.FromMM(mm)) }

// crossbars places the bars of every [[crossbars]].
func (b *builder) crossbars() {
	for i := range b.job.Crossbars {
		c := &b.job.Crossbars[i]
		k, ok := b.rects[c.On]
		s := b.section(c.Section)
		if !ok || s == nil {
			continue
		}
		b.bars(c, &b.f.Rects[k], s)
	}
}

// bars places the bars of one table. Their length runs along `run`, they stand side by side along the other direction.
func (b *builder) bars(c *job.Crossbars, q *Rect, s *Section) {
	face, thick := s.WidthMM, s.DepthMM // as they stand: seen square to the plane, and through it
	if c.Flat {
		face, thick = thick, face
	}
	// The height of the bars' underside over the rectangle's low face.
	var low float64
	switch c.Set {
	case "top":
		low = q.seat(false) - thick - c.Offset.MM()
	case "centre":
		low = (q.ThickMM-thick)/2 + c.Offset.MM()
	default:
		low = q.seat(true) + c.Offset.MM()
	}
	run, side, ends, runLength, sideLength := q.V, q.U, [2]int{x1, x2}, q.WidthMM, q.LengthMM
	if c.Run == "length" {
		run, side, ends, runLength, sideLength = q.U, q.V, [2]int{y1, y2}, q.LengthMM, q.WidthMM
	}
	in := q.inner(low, low+thick)
	if in == 0 {
		b.problem(c.Where.In("offset", "set"), text.Error, CodeNoRoom, "the bars stand beside the sides of %q, not between them: their underside is %s over its low face, which is %s thick, and they are %s; choose set and offset so that they lie within that",
			c.On, b.tape(low), b.tape(q.ThickMM), b.tape(thick))
		return
	}
	length := runLength - 2*in - c.Fit.MM()
	if length <= space.Near {
		b.problem(c.Where.In("fit", "on"), text.Error, CodeNoRoom, "the bars would be %s long: %q is only %s wide between its sides; take less than that off with fit", b.tape(length), c.On, b.tape(runLength-2*in))
		return
	}
	centres, ok := b.centres(c, q, in, face, sideLength)
	if !ok {
		return
	}
	if len(centres) == 0 {
		b.problem(c.Where.In("spacing", "gap", "count"), text.Warning, CodeNoBars, "no bar is needed: between the end sides of %q there is no more than that already; give less, or take the [[crossbars]] out", c.On)
	}
	gap := c.Fit.MM() / 2
	first := b.count[c.On+".bar"]
	b.count[c.On+".bar"] += len(centres)
	for i, at := range centres {
		from := q.Corner.Along(run, in+gap).Along(side, at).Along(q.N, low+thick/2)
		depth := q.N
		if c.Flat {
			depth = q.N.Cross(run) // Width = N
		}
		m := spread(fmt.Sprintf("%s.bar%d", c.On, first+i+1), s, from, from.Along(run, length), depth)
		m.Role, m.Group, m.Table, m.Where = Bar, c.On, "crossbars", c.Where
		if c.Fit < littleFit {
			m.CutFit = fmt.Sprintf("with a fit of %s it has no play between sides that the welding of the frame may draw in", b.job.Tape.Print(c.Fit))
		}
		for e := range m.Ends {
			rail := q.Sides[ends[e]]
			if h := &b.f.Members[rail]; h.Section.Round {
				b.saddle(&m, e, rail)
				m.Ends[e].Saddle.RadiusMM += gap
				m.Ends[e].GapMM = gap
				continue
			}
			m.Ends[e].Kind, m.Ends[e].GapMM = Butt, gap
			m.Ends[e].meets(rail)
		}
		b.add(m)
	}
}

// littleFit is the play under which a bar may not slip in any more once the frame is welded (common practice: a mitred
// frame of small tube draws in by about a thirty-second).
const littleFit = measure.Inch / 32

// saddle fits end e onto the round member i.
func (b *builder) saddle(m *Member, e, i int) {
	h := &b.f.Members[i]
	m.Ends[e] = End{Kind: Saddled, Saddle: &Saddle{At: h.A, Dir: h.Axis, RadiusMM: h.Section.RadiusMM}, Meets: []int{i}}
}

// centres gives the centres of the bars from the outer low face, in mm. Counting is done in whole nanometres, so that a
// frame that is exactly filled is filled.
func (b *builder) centres(c *job.Crossbars, q *Rect, in, face, sideLength float64) ([]float64, bool) {
	var out []float64
	if len(c.At) > 0 {
		for _, l := range c.At {
			at := l.MM()
			if at-face/2 < -space.Near || at+face/2 > sideLength+space.Near {
				b.problem(c.Where.In("at"), text.Error, CodeNoRoom, "a bar at %s, %s wide, lies outside %q, which reaches from 0 to %s; give centres from %s to %s", b.tape(at), b.tape(face), c.On, b.tape(sideLength), b.tape(face/2), b.tape(sideLength-face/2))
				return nil, false
			}
			out = append(out, at)
		}
		return out, true
	}
	inner := q.inner(0, q.ThickMM) // the end sides as they stand in the way of the bars
	if in < inner && q.Section.Open() {
		inner = in
	}
	clear := measure.FromMM(sideLength - 2*inner)
	bar := measure.FromMM(face)
	n := c.Count
	switch {
	case c.Spacing > 0:
		// Between the centre lines of the end sides; as few steps as keep each within the spacing.
		span := measure.FromMM(sideLength - q.FaceMM)
		n = int(ceilDiv(span, c.Spacing)) - 1
		step := span.MM() / float64(n+1)
		if n > 0 && step < face-space.Near {
			b.problem(c.Where.In("spacing"), text.Error, CodeNoRoom, "bars every %s overlap: each is %s wide as it stands; give more than that", b.tape(c.Spacing.MM()), b.tape(face))
			return nil, false
		}
		for i := range n {
			out = append(out, q.FaceMM/2+step*float64(i+1))
		}
		return out, true
	case c.Gap > 0:
		n = FewestBars(clear, bar, c.Gap)
	}
	_, centres, ok := EvenGaps(clear, bar, n)
	if !ok {
		key := "count"
		if c.Gap > 0 {
			key = "gap"
		}
		b.problem(c.Where.In(key), text.Error, CodeNoRoom, "%d bars of %s do not fit into %q: it is %s clear between its end sides, %s of that would be bars; give fewer, or narrower ones", n, b.tape(face), c.On,
			b.tape(clear.MM()), b.tape((measure.Length(n) * bar).MM()))
		return nil, false
	}
	for _, at := range centres {
		out = append(out, inner+at)
	}
	return out, true
}
