package plan

import (
	"cmp"
	"context"
	"slices"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

// preferRests lays as much as it can on the sticks in work, where that costs nothing: the worker goes on with the stick
// that lies in the saw and does not open another one for the same money. best is the nest found without that wish.
func preferRests(ctx context.Context, p nest.Problem, rests int, best nest.Nest, opt nest.Options) nest.Nest {
	used := make([]bool, rests)
	for _, u := range best.Used {
		if u.Stick < rests {
			used[u.Stick] = true
		}
	}
	opt.Progress = nil
	for r := range rests {
		if used[r] {
			continue
		}
		if n, ok := fillRest(ctx, p, r, opt); ok && n.Cost <= best.Cost && (!best.Proven || n.Proven) {
			best = n
		}
	}
	return best
}

// fillRest puts the longest pieces that it holds onto rest r and nests the others anew.
func fillRest(ctx context.Context, p nest.Problem, r int, opt nest.Options) (nest.Nest, bool) {
	order := make([]int, len(p.Kinds))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Kinds[b].Length, p.Kinds[a].Length) })
	alone := nest.Problem{Sticks: p.Sticks[r : r+1], Rules: p.Rules}
	take := make([]int, len(p.Kinds))
	var onRest nest.Nest
	kindOf := func() []int { // kinds of the small problem, as indices into p.Kinds
		var ks []int
		for i, n := range take {
			if n > 0 {
				ks = append(ks, i)
			}
		}
		return ks
	}
	try := func() bool {
		alone.Kinds = nil
		for _, i := range kindOf() {
			k := p.Kinds[i]
			k.Qty = take[i]
			alone.Kinds = append(alone.Kinds, k)
		}
		n, err := nest.Solve(ctx, alone, opt)
		if err == nil {
			onRest = n
		}
		return err == nil
	}
	for _, i := range order {
		for take[i] < p.Kinds[i].Qty {
			take[i]++
			if p.Kinds[i].Same != "" || !try() {
				take[i]--
				break
			}
		}
	}
	onKinds := kindOf()
	if len(onKinds) == 0 || !try() {
		return nest.Nest{}, false
	}
	others := p
	others.Kinds, others.Sticks = nil, slices.Delete(slices.Clone(p.Sticks), r, r+1)
	var otherKinds []int
	for i, k := range p.Kinds {
		if k.Qty -= take[i]; k.Qty > 0 {
			others.Kinds, otherKinds = append(others.Kinds, k), append(otherKinds, i)
		}
	}
	var n nest.Nest
	if len(others.Kinds) > 0 {
		var err error
		if n, err = nest.Solve(ctx, others, opt); err != nil {
			return n, false
		}
	} else {
		n = nest.Nest{Proven: true, Priced: onRest.Priced}
	}
	for u := range n.Used {
		x := &n.Used[u]
		if x.Stick >= r {
			x.Stick++
		}
		for c := range x.Cuts {
			x.Cuts[c].Kind = otherKinds[x.Cuts[c].Kind]
		}
	}
	for _, x := range onRest.Used {
		x.Stick = r
		for c := range x.Cuts {
			x.Cuts[c].Kind = onKinds[x.Cuts[c].Kind]
		}
		n.Used = slices.Insert(n.Used, 0, x)
	}
	units := map[int]int{}
	for u := range n.Used {
		for c := range n.Used[u].Cuts {
			k := &n.Used[u].Cuts[c]
			units[k.Kind]++
			k.Unit = units[k.Kind]
		}
	}
	n.Bars = len(n.Used)
	n.BoundBars = min(n.BoundBars, n.Bars)
	n.UsedLength += onRest.UsedLength
	n.Drops = append(n.Drops, onRest.Drops...)
	slices.SortFunc(n.Drops, func(a, b measure.Length) int { return cmp.Compare(b, a) })
	return n, true
}
