package cut

import (
	"cmp"
	"math"
	"slices"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

// setting is what the saw is set to for a piece: its stop and the swing of its last cut.
type setting struct {
	stop  measure.Length
	swing float64
}

// arrangement is one stick with its pieces in a chosen order.
type arrangement struct {
	used        int
	cuts        []nest.Cut
	first, last setting // of its pieces
	entry       float64 // swing of its first cut
	inner       int     // weight of the resets within
}

// Weights of a reset: a swing is proved on scrap, a stop is only measured.
const (
	swingWeight = 20
	stopWeight  = 1
	maxChoices  = 24 // orders tried for one stick
)

// arrange gives the sticks of a bundle in an order, and their pieces in an order, with few resets.
func arrange(b *Bundle) []arrangement {
	choices := make([][]arrangement, len(b.Nest.Used))
	for i := range b.Nest.Used {
		choices[i] = orders(b, i)
	}
	if len(choices) == 0 {
		return nil
	}
	best := chain(choices, 0)
	bestCost := weigh(best)
	starts := len(choices)
	if starts > 40 {
		starts = 8
	}
	for s := 1; s < starts; s++ {
		if c := chain(choices, s); weigh(c) < bestCost {
			best, bestCost = c, weigh(c)
		}
	}
	// The stick that lies in the saw is cut on before another one is loaded, whatever it costs in settings.
	slices.SortStableFunc(best, func(x, y arrangement) int { return cmp.Compare(b.turn(y.used), b.turn(x.used)) })
	return best
}

// turn ranks a stick by when it was taken: 0 for one that is still to be loaded.
func (b *Bundle) turn(used int) int {
	if i := b.Nest.Used[used].Stick; i < b.InWork {
		return i + 1
	}
	return 0
}

// chain goes greedily from the stick start to the one that needs the least new settings.
func chain(choices [][]arrangement, start int) []arrangement {
	out := make([]arrangement, 0, len(choices))
	open := make([]int, 0, len(choices))
	for i := range choices {
		if i != start {
			open = append(open, i)
		}
	}
	pick := slices.MinFunc(choices[start], func(a, b arrangement) int { return cmp.Compare(a.inner, b.inner) })
	out = append(out, pick)
	for len(open) > 0 {
		last := out[len(out)-1]
		bi, bc, least := 0, 0, 1<<30
		for i, s := range open {
			for c, a := range choices[s] {
				if w := between(last, a)*2 + a.inner*2; w < least {
					bi, bc, least = i, c, w
				}
			}
		}
		out = append(out, choices[open[bi]][bc])
		open = slices.Delete(open, bi, bi+1)
	}
	return out
}

func weigh(as []arrangement) int {
	total := 0
	for i, a := range as {
		total += a.inner
		if i > 0 {
			total += between(as[i-1], a)
		}
	}
	return total
}

// between weighs the resets from one stick to the next.
func between(a, b arrangement) int {
	w := 0
	if a.last.swing != b.entry {
		w += swingWeight
	}
	if a.last.stop != b.first.stop {
		w += stopWeight
	}
	return w
}

// orders gives the orders of a stick's pieces that are worth trying. Pieces may change places where both planes are
// the same and no parting lies between them.
func orders(b *Bundle, used int) []arrangement {
	u := b.Nest.Used[used]
	group := b.groupOf(u)
	base := slices.Clone(u.Cuts)
	lengths := func(cuts []nest.Cut, less func(a, b nest.Cut) int) []nest.Cut {
		out := slices.Clone(cuts)
		for g := range slices.Max(append(group, 0)) + 1 {
			var at []int
			var members []nest.Cut
			for i, x := range group {
				if x == g {
					at, members = append(at, i), append(members, cuts[i])
				}
			}
			slices.SortStableFunc(members, less)
			for k, i := range at {
				out[i] = members[k]
			}
		}
		return out
	}
	long := func(a, b nest.Cut) int {
		return cmp.Or(cmp.Compare(b.To-b.From, a.To-a.From), cmp.Compare(a.Kind, b.Kind))
	}
	short := func(a, b nest.Cut) int { return -long(a, b) }
	var all [][]nest.Cut
	all = append(all, lengths(base, long), lengths(base, short), base)
	kinds := distinct(base)
	for _, first := range kinds {
		for _, last := range kinds {
			if first == last && len(kinds) > 1 || len(all) >= maxChoices {
				continue
			}
			rank := func(c nest.Cut) int {
				switch c.Kind {
				case first:
					return 0
				case last:
					return 2
				}
				return 1
			}
			all = append(all, lengths(base, func(a, b nest.Cut) int { return cmp.Or(cmp.Compare(rank(a), rank(b)), long(a, b)) }))
		}
	}
	var out []arrangement
	for _, cuts := range all {
		if a, ok := settle(b, used, cuts); ok {
			out = append(out, a)
		}
	}
	if len(out) == 0 {
		a, _ := settle(b, used, base)
		out = append(out, a)
	}
	return out
}

func distinct(cuts []nest.Cut) []int {
	var kinds []int
	for _, c := range cuts {
		if !slices.Contains(kinds, c.Kind) {
			kinds = append(kinds, c.Kind)
		}
	}
	return kinds
}

// groupOf numbers the places of a stick: places with one number may exchange their pieces.
func (b *Bundle) groupOf(u nest.Used) []int {
	type key struct {
		left, right nest.Plane
		part        int
		waits       bool
	}
	var keys []key
	group := make([]int, len(u.Cuts))
	for i, c := range u.Cuts {
		k := key{c.Lay.Left, c.Lay.Right, partOf(u, c), b.waits(c.Kind)}
		at := slices.Index(keys, k)
		if at < 0 {
			at = len(keys)
			keys = append(keys, k)
		}
		group[i] = at
	}
	return group
}

// partOf gives the number of the part of a hauled stick in which a piece lies.
func partOf(u nest.Used, c nest.Cut) int {
	n := 0
	for _, p := range u.Partings() {
		if c.From >= p {
			n++
		}
	}
	return n
}

// settle places the pieces in the new order (the gaps between the places stay) and weighs its resets; ok tells that
// the vise still holds the last one.
func settle(b *Bundle, used int, cuts []nest.Cut) (arrangement, bool) {
	u := b.Nest.Used[used]
	a := arrangement{used: used, cuts: slices.Clone(cuts)}
	for i := range a.cuts {
		length := cuts[i].To - cuts[i].From
		from := u.Cuts[i].From
		if i > 0 && partOf(u, u.Cuts[i]) == partOf(u, u.Cuts[i-1]) {
			from = a.cuts[i-1].To + u.Cuts[i].From - u.Cuts[i-1].To
		}
		a.cuts[i].From, a.cuts[i].To = from, from+length
	}
	n := len(a.cuts)
	if n == 0 {
		return a, true
	}
	was, is := u.Cuts[n-1], a.cuts[n-1]
	ok := is.To-is.From+u.Drop >= min(b.Problem.Rules.Grip, was.To-was.From+u.Drop)
	swing := 0.0
	for i, c := range a.cuts {
		left, right := swingOf(c.Lay.Left), swingOf(c.Lay.Right)
		if b.Flips {
			left, right = math.Abs(left), math.Abs(right)
		}
		stop := c.To - c.From
		if i == 0 {
			a.entry, a.first = left, setting{stop, right}
		} else {
			if left != swing {
				a.inner += swingWeight
			}
			if stop != a.last.stop {
				a.inner += stopWeight
			}
		}
		if right != left {
			a.inner += swingWeight
		}
		swing = right
		a.last = setting{stop, right}
	}
	return a, ok
}
