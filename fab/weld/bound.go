package weld

import (
	"sort"
	"time"
)

// bound gives a time that no schedule of the docket can beat, and says which argument gave it.
//
// One worker: the elapsed time is at least the sum of all tasks.
//
// One machine: follow any schedule from its first arc and collect arcs into a burst while their sum stays within the
// budget B. The arc that no longer fits must end a whole window W after the burst began, or the window that begins with
// the burst would hold more than B; so between the starts of two bursts lie the first burst's arcs and at least W-B
// without arc. The bursts are a packing of the arcs into bins of B, so there are at least as many as the best packing has,
// and from the first arc to the last passes at least (bins-1)(W-B) + the sum of the arcs. Before the first arc lies at
// least the work that every arc waits for, behind the last at least the work that waits for it; and of the last burst,
// which holds at least what is left when all others are full, each arc has its own work behind it (cleaning).
//
// A gate parts the work: all that leads to it comes before all that stands behind it, so the bounds of the parts add up;
// boundOver finds the chain of gates with the greatest sum.
func bound(b *book) (time.Duration, string) {
	all := make([]bool, len(b.Tasks))
	for i := range all {
		all[i] = true
	}
	best, why := b.part(all, true)
	if t := b.overGates(); t > best {
		best, why = t, "the bursts and the work of each stage, one stage after the other"
	}
	return best, why
}

// gatesSeen bounds the gates that overGates looks at: its work grows with their square.
const gatesSeen = 14

// overGates gives the greatest sum of parts over chains of gates.
func (b *book) overGates() time.Duration {
	var gates []int
	for i, t := range b.Tasks {
		if t.Kind == Gate && len(gates) < gatesSeen {
			gates = append(gates, i)
		}
	}
	if len(gates) == 0 {
		return 0
	}
	before := make([][]bool, len(gates))
	behind := make([][]bool, len(gates))
	for k, g := range gates {
		before[k] = b.reach(g, func(i int) []int { return b.Tasks[i].After })
		behind[k] = b.reach(g, func(i int) []int { return b.next[i] })
	}
	sum := make([]time.Duration, len(gates)) // up to each gate
	order := make([]int, len(gates))
	size := make([]int, len(gates)) // a gate that leads to another has fewer tasks before it
	for k := range gates {
		order[k] = k
		for _, in := range before[k] {
			if in {
				size[k]++
			}
		}
	}
	sort.SliceStable(order, func(i, j int) bool { return size[order[i]] < size[order[j]] })
	var best time.Duration
	part := make([]bool, len(b.Tasks))
	for n, k := range order {
		sum[k], _ = b.part(before[k], true)
		for _, h := range order[:n] {
			if before[k][gates[h]] {
				for i := range part {
					part[i] = before[k][i] && behind[h][i]
				}
				t, _ := b.part(part, false)
				sum[k] = max(sum[k], sum[h]+t)
			}
		}
		t, _ := b.part(behind[k], false)
		best = max(best, sum[k]+t)
	}
	return best
}

func (b *book) reach(i int, towards func(int) []int) []bool {
	seen := make([]bool, len(b.Tasks))
	stack := []int{i}
	for len(stack) > 0 {
		k := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, j := range towards(k) {
			if !seen[j] {
				seen[j] = true
				stack = append(stack, j)
			}
		}
	}
	return seen
}

// part bounds the time of the tasks in the set, alone; past: what was welded before the plan counts.
func (b *book) part(in []bool, past bool) (time.Duration, string) {
	var arcs []time.Duration
	var arc, work time.Duration
	for i, t := range b.Tasks {
		if !in[i] {
			continue
		}
		if t.Kind.Burns() {
			if t.Take > 0 {
				arcs = append(arcs, t.Take)
				arc += t.Take
			}
		} else {
			work += t.Take
		}
	}
	best, why := arc+work, "one worker cannot be quicker than the sum of the work"
	if len(arcs) == 0 {
		return best, why
	}
	head, tail := b.ends(in)
	bins := packs(arcs, b.Budget.Arc)
	if cool := b.Budget.Cool(); cool > 0 {
		// Either the fewest bursts, and then the last of them holds what the others cannot; or one more.
		t := arc + time.Duration(bins-1)*cool + max(tail, b.behindLast(in, arc-time.Duration(bins-1)*b.Budget.Arc))
		t = head + min(t, arc+time.Duration(bins)*cool+tail)
		if t > best {
			best, why = t, "the arcs fill so many bursts, with a rest between each two, and the last ones must be cleaned"
		}
	}
	if past && b.past.sum() > 0 && b.Budget.Arc < b.Budget.Window {
		// the last arc ends k windows after the arc that lies k budgets before it
		total := b.past.sum() + arc
		k := (arc + b.Budget.Arc - 1) / b.Budget.Arc
		if c := total - k*b.Budget.Arc; c > 0 {
			if t := k*b.Budget.Window + b.past.when(c) + tail; t > best {
				best, why = t, "what was welded before must leave the window first"
			}
		}
	}
	return best, why
}

// behindLast gives the least work that follows once the last burst has begun, where that holds at least arc: the work that
// waits for an arc of it. Each work is counted with one arc that it waits for; the cheapest arcs are taken, the last of
// them in part, which no choice of whole ones beats.
func (b *book) behindLast(in []bool, arc time.Duration) time.Duration {
	if arc <= 0 {
		return 0
	}
	behind := make([]time.Duration, len(b.Tasks))
	owner := make([]int, len(b.Tasks)) // the arc that a work is counted with, +1
	for _, i := range b.sorted {
		t := &b.Tasks[i]
		if !in[i] {
			continue
		}
		if t.Kind.Burns() {
			owner[i] = i + 1
			continue
		}
		for _, a := range t.After {
			if in[a] && owner[a] > 0 {
				owner[i] = owner[a]
			}
		}
		if owner[i] > 0 {
			behind[owner[i]-1] += t.Take
		}
	}
	var all []int
	for i, t := range b.Tasks {
		if in[i] && t.Kind.Burns() && t.Take > 0 {
			all = append(all, i)
		}
	}
	ratio := func(i int) float64 { return float64(behind[i]) / float64(b.Tasks[i].Take) }
	sort.SliceStable(all, func(x, y int) bool { return ratio(all[x]) < ratio(all[y]) })
	var sum float64
	for _, i := range all {
		take := min(arc, b.Tasks[i].Take)
		sum += ratio(i) * float64(take)
		if arc -= take; arc <= 0 {
			break
		}
	}
	return time.Duration(sum)
}

// ends gives the least work before any first arc and after any last arc.
func (b *book) ends(in []bool) (head, tail time.Duration) {
	head = b.least(in, func(i int) []int { return b.Tasks[i].After })
	tail = b.least(in, func(i int) []int { return b.next[i] })
	return head, tail
}

// least looks at each arc that has no other arc in that direction and gives the least sum of work there.
func (b *book) least(in []bool, towards func(int) []int) time.Duration {
	best := far
	seen := make([]int, len(b.Tasks))
	for i, t := range b.Tasks {
		if !t.Kind.Burns() || !in[i] || best == 0 {
			continue
		}
		var sum time.Duration
		other := false
		stack := []int{i}
		for len(stack) > 0 && !other && sum < best {
			k := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, j := range towards(k) {
				if seen[j] == i+1 || !in[j] {
					continue
				}
				seen[j] = i + 1
				if b.Tasks[j].Kind.Burns() {
					other = true
					break
				}
				sum += b.Tasks[j].Take
				stack = append(stack, j)
			}
		}
		if !other {
			best = min(best, sum)
		}
	}
	if best == far {
		return 0
	}
	return best
}

// packs gives a number of bins of size room that no packing of the items can go below: the bound L2 of Martello and Toth,
// Knapsack Problems (1990), section 8.3. For a threshold k, items above room-k need a bin each, those above room/2 too,
// and what of the others (at least k) does not fit beside the latter needs further bins.
func packs(items []time.Duration, room time.Duration) int {
	if len(items) == 0 {
		return 0
	}
	a := append([]time.Duration(nil), items...)
	sort.Slice(a, func(i, j int) bool { return a[i] > a[j] })
	sums := make([]time.Duration, len(a)+1)
	for i, v := range a {
		sums[i+1] = sums[i] + v
	}
	above := func(limit time.Duration) int { // items > limit
		return sort.Search(len(a), func(i int) bool { return a[i] <= limit })
	}
	best := int((sums[len(a)] + room - 1) / room)
	half := above(room / 2)
	for i := -1; i < len(a); i++ {
		k := time.Duration(0)
		if i >= 0 {
			k = a[i]
			if 2*k > room {
				continue
			}
		}
		big := min(above(room-k), half)
		small := sort.Search(len(a), func(i int) bool { return a[i] < k })
		need := sums[small] - sums[half]
		free := time.Duration(half-big)*room - (sums[half] - sums[big])
		n := half
		if need > free {
			n += int((need - free + room - 1) / room)
		}
		best = max(best, n)
	}
	return max(best, stepped(a, room))
}

// Limits of stepped's search: greatest k, and how many thresholds are tried.
const (
	steps      = 8
	thresholds = 16
)

// stepped bounds the bins by the dual feasible functions u(k) of Fekete and Schepers, New classes of fast lower bounds for
// bin packing problems (Math. Programming 91 (2001) 11-31): a size x of the room counts as floor((k+1)x)/k, or as x where
// (k+1)x is whole; sizes below a threshold count as nothing and those above room less threshold as a whole bin. It sees
// that no three items of a little over a third share a bin. a is sorted, longest first.
func stepped(a []time.Duration, room time.Duration) int {
	best := 0
	half := sort.Search(len(a), func(i int) bool { return 2*a[i] <= room })
	low := len(a) - half
	tries := min(low, thresholds)
	for t := -1; t < tries; t++ {
		limit := time.Duration(0)
		if t >= 0 {
			limit = a[half+t*low/tries]
		}
		for k := int64(1); k <= steps; k++ {
			var sum int64 // in 1/(k(k+1)) of a bin
			for _, x := range a {
				switch n := (k + 1) * int64(x); {
				case x > room-limit:
					sum += k * (k + 1)
				case x < limit:
				case n%int64(room) == 0:
					sum += n / int64(room) * k
				default:
					sum += n / int64(room) * (k + 1)
				}
			}
			best = max(best, int((sum+k*(k+1)-1)/(k*(k+1))))
		}
	}
	return best
}
