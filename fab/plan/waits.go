package plan

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
)

// A piece that is cut to fit (`over`) is reserved in the nest with its length and what it may be longer, and lies behind
// everything else on its stick, so that all else can be cut without it. It waits until what it goes between stands; then
// its length is measured there, and the plan made anew with it.

// addKinds adds a piece to the problem of its section: the units whose length is measured with that length each, the
// others with what is reserved for them.
func (p *Plan) addKinds(sn *SectionNest, k int, state *work.State) {
	x := &p.Pieces[k]
	add := func(length measure.Length, units []int, waits bool) {
		if len(units) == 0 {
			return
		}
		sn.Problem.Kinds = append(sn.Problem.Kinds, nest.Kind{Name: x.Mark, Length: length, Qty: len(units), Lays: lays(x), Same: x.Same})
		sn.Pieces, sn.Units, sn.Waits = append(sn.Pieces, k), append(sn.Units, units), append(sn.Waits, waits)
	}
	var rest []int
	for _, u := range p.Done.open(x) {
		if l, ok := measuredOf(state, x, u); ok {
			add(l, []int{u}, false)
		} else {
			rest = append(rest, u)
		}
	}
	add(Reserved(x), rest, x.Over > 0)
}

func measuredOf(state *work.State, x *piece.Piece, unit int) (measure.Length, bool) {
	if state == nil || x.Over <= 0 {
		return 0, false
	}
	return state.Fit(x.Mark, unit)
}

// Reserved gives the length that the nest keeps for a piece: its own, and what is allowed over it.
func Reserved(x *piece.Piece) measure.Length { return x.Length + x.Over }

// Measured is one piece that was measured in its place.
type Measured struct {
	Unit   int
	Length measure.Length
}

// measured lists the pieces of a mark whose length was measured, cut ones too.
func measured(state *work.State, x *piece.Piece) (list []Measured) {
	for u := 1; u <= x.Qty && x.Over > 0; u++ {
		if l, ok := measuredOf(state, x, u); ok {
			list = append(list, Measured{u, l})
		}
	}
	return list
}

// CheckFit says what is wrong with a length measured for a piece that is cut to fit: longer than what is reserved for it,
// or shorter than it was drawn by more than is allowed over.
func CheckFit(x *piece.Piece, l measure.Length, tape measure.Tape) error {
	least, most := x.Length-x.Over, Reserved(x)
	if x.Over <= 0 {
		return fmt.Errorf("%s is not cut to fit: its length is that of the drawing, %s", text.Clean(x.Mark), tape.PrintLong(x.Length))
	}
	if l < least || l > most {
		return fmt.Errorf("%s cannot be right: %s is drawn %s and may come out from %s to %s (`over`); measure again, tip to tip, or change the drawing", tape.PrintLong(l), text.Clean(x.Mark),
			tape.PrintLong(x.Length), tape.PrintLong(max(least, 0)), tape.PrintLong(most))
	}
	return nil
}

// waiting gives the kinds that wait, nil where none does.
func (sn *SectionNest) waiting() []bool {
	if slices.Contains(sn.Waits, true) && slices.Contains(sn.Waits, false) {
		return sn.Waits
	}
	return nil
}

// waitLast changes the nest so that what waits lies behind all else on every stick. Where the order of a stick cannot be
// changed so, the rest is nested first and what waits on its drops and on sticks of its own; ok tells whether that worked.
func waitLast(ctx context.Context, p nest.Problem, n nest.Nest, waits []bool, opt nest.Options) (nest.Nest, bool) {
	opt.Progress = nil
	if in, ok := reorder(ctx, p, n, waits, opt); ok {
		return in, true
	}
	return apart(ctx, p, n, waits, opt)
}

// reorder keeps every piece on its stick and lays what waits behind the others.
func reorder(ctx context.Context, p nest.Problem, n nest.Nest, waits []bool, opt nest.Options) (nest.Nest, bool) {
	out := n
	out.Used = slices.Clone(n.Used)
	for i, u := range n.Used {
		first := slices.IndexFunc(u.Cuts, func(c nest.Cut) bool { return waits[c.Kind] })
		if first < 0 || !slices.ContainsFunc(u.Cuts[first:], func(c nest.Cut) bool { return !waits[c.Kind] }) {
			continue
		}
		if len(u.Parts) > 1 {
			return n, false
		}
		alone := p
		alone.Rules.Haul = 0
		alone.Sticks = []nest.Stick{single(p.Sticks[u.Stick])}
		now, ok := subset(ctx, alone, u.Cuts, func(k int) bool { return !waits[k] }, opt)
		if !ok || len(now.Used) != 1 {
			return n, false
		}
		front := now.Used[0]
		rest := restOf(p, p.Sticks[u.Stick].Length, front, waits)
		alone.Sticks = []nest.Stick{rest}
		later, ok := subset(ctx, alone, u.Cuts, func(k int) bool { return waits[k] }, opt)
		if !ok || len(later.Used) != 1 {
			return n, false
		}
		front.Stick = u.Stick
		out.Used[i] = onto(p.Rules, p.Sticks[u.Stick].Length, rest.Length, front, later.Used[0])
	}
	return total(p, n, out), true
}

// apart nests what can be cut now by itself, and what waits on the drops of that and on further sticks.
func apart(ctx context.Context, p nest.Problem, whole nest.Nest, waits []bool, opt nest.Options) (nest.Nest, bool) {
	pick := func(want bool) nest.Problem {
		q := p
		q.Kinds = slices.Clone(p.Kinds)
		for i := range q.Kinds {
			if waits[i] != want {
				q.Kinds[i].Qty = 0
			}
		}
		return q
	}
	now, err := nest.Solve(ctx, pick(false), opt)
	if err != nil {
		return whole, false
	}
	q := pick(true)
	q.Sticks = nil
	var of []int // of the first sticks of q: the one in now.Used that it is left of
	used := make([]int, len(p.Sticks))
	for i, u := range now.Used {
		used[u.Stick]++
		if rest := restOf(p, p.Sticks[u.Stick].Length, u, waits); rest.Length > 0 {
			q.Sticks, of = append(q.Sticks, rest), append(of, i)
		}
	}
	var open []int // of the further sticks of q: which of p's
	for i, s := range p.Sticks {
		if s.Limit > 0 {
			if s.Limit -= used[i]; s.Limit <= 0 {
				continue
			}
		}
		q.Sticks, open = append(q.Sticks, s), append(open, i)
	}
	later, err := nest.Solve(ctx, q, opt)
	if err != nil {
		return whole, false
	}
	out := whole
	out.Used = slices.Clone(now.Used)
	for _, u := range later.Used {
		if u.Stick < len(of) {
			front := out.Used[of[u.Stick]]
			out.Used[of[u.Stick]] = onto(p.Rules, p.Sticks[front.Stick].Length, q.Sticks[u.Stick].Length, front, u)
			continue
		}
		u.Stick = open[u.Stick-len(of)]
		out.Used = append(out.Used, u)
	}
	out.Cost = now.Cost + later.Cost
	out.Proven = whole.Proven && out.Cost == whole.Cost
	return total(p, whole, out), true
}

// single gives the stick as one that lies there.
func single(s nest.Stick) nest.Stick {
	s.Limit, s.OnHand, s.Price = 1, true, 0
	return s
}

// subset nests the pieces of one stick whose kind is picked, on the problem's sticks.
func subset(ctx context.Context, p nest.Problem, cuts []nest.Cut, pick func(kind int) bool, opt nest.Options) (nest.Nest, bool) {
	p.Kinds = slices.Clone(p.Kinds)
	for i := range p.Kinds {
		p.Kinds[i].Qty = 0
	}
	for _, c := range cuts {
		if pick(c.Kind) {
			p.Kinds[c.Kind].Qty++
		}
	}
	n, err := nest.Solve(ctx, p, opt)
	return n, err == nil
}

// restOf gives what is left of a stick behind its last piece, as a stick with a fresh end, for the kinds that wait: as much
// shorter as the steepest of their cuts takes more than the one that made the end.
func restOf(p nest.Problem, length measure.Length, u nest.Used, waits []bool) nest.Stick {
	if len(u.Cuts) == 0 {
		return nest.Stick{}
	}
	last := u.Cuts[len(u.Cuts)-1]
	if at := u.Partings(); len(at) > 0 && last.From < at[len(at)-1] {
		return nest.Stick{} // the last part is whole: it is not told apart from what the yard cut
	}
	own := secant(last.Lay.Right)
	most := own
	for i, k := range p.Kinds {
		for _, l := range k.Lays {
			if waits[i] {
				most = max(most, secant(l.Left))
			}
		}
	}
	from := tipBehind(p.Rules, last.To, last.Lay.Right) + measure.Length(math.Ceil(float64(p.Rules.Kerf)*(most-own)))
	s := nest.Stick{Length: length - from, Limit: 1, OnHand: true, Trimmed: true}
	if last.Lay.Right != (nest.Plane{}) {
		s.Ends = []nest.Lay{{Left: last.Lay.Right}}
	}
	return s
}

// tipBehind gives where the rest of a stick begins: the tip of the fresh end behind a cut whose piece ends at to.
func tipBehind(r nest.Rules, to measure.Length, plane nest.Plane) measure.Length {
	y, z := math.Abs(float64(plane.SY))/1e9, math.Abs(float64(plane.SZ))/1e9
	lean := measure.Length(math.Floor(y*float64(r.Depth) + z*float64(r.Width)))
	return to - lean + measure.Length(math.Ceil(float64(r.Kerf)*secant(plane)))
}

// onto lays the pieces of the rest of a stick of that length, planned as one of length left, behind those before, as close
// as neighbours stand.
func onto(r nest.Rules, length, left measure.Length, front, rest nest.Used) nest.Used {
	before := front.Cuts[len(front.Cuts)-1]
	moved := before.To + r.Joint(before.Lay.Right, rest.Cuts[0].Lay.Left) - rest.Cuts[0].From
	last := rest.Cuts[len(rest.Cuts)-1]
	front.Cuts = slices.Clone(front.Cuts)
	for _, c := range rest.Cuts {
		c.From, c.To = c.From+moved, c.To+moved
		front.Cuts = append(front.Cuts, c)
	}
	if n := len(front.Drops); n > 0 && front.Drop > 0 && front.Drop >= r.Keep {
		front.Drops = slices.Clone(front.Drops[:n-1]) // that of the last part, which the rest was
	}
	slack := rest.Slack + length - left - moved
	if len(front.Parts) > 1 {
		slack = min(slack, front.Slack)
	}
	front.Slack = slack
	drop := max(0, length-last.To-moved-measure.Length(math.Ceil(float64(r.Kerf)*secant(last.Lay.Right)-1e-6)))
	front.Drop = drop
	if drop > 0 && drop >= r.Keep {
		front.Drops = append(slices.Clip(front.Drops), drop)
	}
	return front
}

// total counts a nest anew whose sticks were laid out otherwise; was is the nest of the same pieces that it came from.
func total(p nest.Problem, was, n nest.Nest) nest.Nest {
	lengths := func(used []nest.Used) (sticks, drops, last measure.Length, material int64) {
		for _, u := range used {
			length := p.Sticks[u.Stick].Length
			end, kept := measure.Length(0), measure.Length(0)
			for _, c := range u.Cuts {
				end = max(end, c.To)
			}
			for _, d := range u.Drops {
				kept += d
			}
			sticks, drops, last = sticks+length, drops+kept, last+end
			if p.Rules.Keep == 0 && len(u.Parts) <= 1 {
				material += int64(end + p.Rules.Kerf)
			} else {
				material += int64(length - kept)
			}
		}
		return
	}
	s0, d0, _, m0 := lengths(was.Used)
	s1, d1, last, m1 := lengths(n.Used)
	n.Waste = was.Waste + s1 - s0 - (d1 - d0)
	n.UsedLength = last
	n.Material = was.Material
	n.Material.Value = was.Material.Value + m1 - m0
	n.Material.Proven = was.Material.Proven && n.Proven && n.Material.Value == was.Material.Value
	n.Drops = nil
	units := map[int]int{}
	n.Used = slices.Clone(n.Used)
	for i := range n.Used {
		u := &n.Used[i]
		n.Drops = append(n.Drops, u.Drops...)
		u.Cuts = slices.Clone(u.Cuts)
		for c := range u.Cuts {
			units[u.Cuts[c].Kind]++
			u.Cuts[c].Unit = units[u.Cuts[c].Kind]
		}
	}
	slices.SortFunc(n.Drops, func(a, b measure.Length) int { return cmp.Compare(b, a) })
	n.Longest = was.Longest
	n.Longest.Value = 0
	if len(n.Drops) > 0 {
		n.Longest.Value = int64(n.Drops[0])
	}
	n.Longest.Bound = max(n.Longest.Bound, n.Longest.Value)
	n.Longest.Proven = was.Longest.Proven && n.Material.Proven && n.Longest.Value == was.Longest.Value
	n.Bars = len(n.Used)
	n.BoundBars = min(n.BoundBars, n.Bars)
	return n
}

// tellWaits says at each step that waits what it waits for, and in the notes what is reserved and what was measured.
func (p *Plan) tellWaits(state *work.State) {
	near := p.neighbours()
	for i := range p.Queue.Steps {
		s := &p.Queue.Steps[i]
		if s.Op != cut.Cut || !s.Waits {
			continue
		}
		sn := &p.Nests[s.Bundle]
		for kind, k := range sn.Pieces {
			if p.Pieces[k].Mark == s.Mark && sn.Waits[kind] {
				s.WaitsFor = p.waitsFor(&p.Pieces[k], s.Unit, near)
			}
		}
	}
	for i := range p.Pieces {
		x := &p.Pieces[i]
		if x.Over <= 0 {
			continue
		}
		p.note("%s is cut to fit: %s lies reserved for each (%s drawn, %s over), behind all else; it waits for %s", text.Clean(x.Mark), p.Job.Tape.PrintLong(Reserved(x)),
			p.Job.Tape.PrintLong(x.Length), p.Job.Tape.Print(x.Over), p.waitsFor(x, 1, near))
		list := measured(state, x)
		if p.Measured == nil {
			p.Measured = map[string][]Measured{}
		}
		p.Measured[x.Mark] = list
		for _, m := range list {
			p.note("%s-%d was measured in its place: %s (%s drawn)", text.Clean(x.Mark), m.Unit, p.Job.Tape.PrintLong(m.Length), p.Job.Tape.PrintLong(x.Length))
		}
	}
}

// neighbours gives the members that each member cut to fit meets.
func (p *Plan) neighbours() map[int][]string {
	near := map[int][]string{}
	for _, j := range p.Frame.Joints {
		for _, i := range j.Members {
			if p.Frame.Members[i].OverMM <= 0 {
				continue
			}
			for _, k := range j.Members {
				if k != i {
					near[i] = append(near[i], p.Frame.Members[k].Name)
				}
			}
		}
	}
	return near
}

// waitsFor says what has to stand before a piece can be measured, and in which stage of the welding it is set.
func (p *Plan) waitsFor(x *piece.Piece, unit int, near map[int][]string) string {
	if unit > len(x.Indices) {
		return "the place that it goes into, to be measured there"
	}
	i := x.Indices[unit-1]
	m := &p.Frame.Members[i]
	if m.Role == frame.Leg {
		return "the frame to stand on its other legs"
	}
	what := "the frame"
	names := slices.Clone(near[i])
	slices.Sort(names)
	if names = slices.Compact(names); len(names) > 0 {
		if len(names) > 4 {
			names = append(names[:3], fmt.Sprintf("%d more", len(names)-3))
		}
		what = text.Clean(strings.Join(names[:len(names)-1], ", "))
		if len(names) > 1 {
			what += " and "
		}
		what += text.Clean(names[len(names)-1])
	}
	what += " to be tacked up"
	if p.Weld == nil {
		return what
	}
	stage := -1 // the last in which it is set, since it is measured before any of its ends is
	for _, j := range p.Weld.Layout.Joints {
		if slices.Contains(j.Index, i) && len(j.Seams) > 0 && j.Stage < len(p.Weld.Layout.Stages) {
			stage = max(stage, j.Stage)
		}
	}
	if stage < 0 {
		return what
	}
	return what + " (stage: " + text.Clean(p.Weld.Layout.Stages[stage].Name) + ")"
}
