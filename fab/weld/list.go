package weld

import (
	"math"
	"slices"
	"sort"
	"time"
)

// book is what stays the same about a docket over many passes.
type book struct {
	*Docket
	next    [][]int
	waits   []int           // predecessors of each task
	joint   []int           // number of each task's joint
	joints  int             // how many there are
	unlocks []time.Duration // arc on the longest chain behind each task
	past    *burnt
	sorted  []int   // tasks in an order in which predecessors come first
	rank    []int   // place of each task among all, longest first
	bendPer float64 // seconds of heat that a mm of bow counts as, so that both weigh alike
	stages  int
}

func newBook(d *Docket) *book {
	n := len(d.Tasks)
	b := &book{Docket: d, next: d.successors(), waits: make([]int, n), joint: make([]int, n), unlocks: make([]time.Duration, n), past: d.history()}
	number := map[string]int{}
	for i, t := range d.Tasks {
		k, ok := number[t.Joint]
		if !ok {
			k = len(number)
			number[t.Joint] = k
		}
		b.joint[i] = k
		b.waits[i] = len(t.After)
	}
	b.joints = len(number)
	var bend, arc float64
	for _, t := range d.Tasks {
		b.stages = max(b.stages, t.Stage+1)
		if t.Kind == Arc {
			bend, arc = bend+t.Bend.size(), arc+t.Take.Seconds()
		}
	}
	if bend > 0 {
		b.bendPer = arc / bend
	}
	byTake := make([]int, n)
	for i := range byTake {
		byTake[i] = i
	}
	sort.SliceStable(byTake, func(i, j int) bool { return d.Tasks[byTake[i]].Take > d.Tasks[byTake[j]].Take })
	b.rank = make([]int, n)
	for k, i := range byTake {
		b.rank[i] = k
	}
	sorted := make([]int, 0, n)
	waits := append([]int(nil), b.waits...)
	for i := range waits {
		if waits[i] == 0 {
			sorted = append(sorted, i)
		}
	}
	for k := 0; k < len(sorted); k++ {
		for _, j := range b.next[sorted[k]] {
			if waits[j]--; waits[j] == 0 {
				sorted = append(sorted, j)
			}
		}
	}
	b.sorted = sorted
	for k := len(sorted) - 1; k >= 0; k-- {
		i := sorted[k]
		for _, j := range b.next[i] {
			u := b.unlocks[j]
			if d.Tasks[j].Kind.Burns() {
				u += d.Tasks[j].Take
			}
			b.unlocks[i] = max(b.unlocks[i], u)
		}
	}
	return b
}

// lane is the state of one pass over a docket: what is done, what waits, and the arc so far.
type lane struct {
	*book
	wait    []int  // predecessors still open
	ready   []bool // open to be done (and not a gate)
	arcs    []int  // ready tasks that burn, and those that do not, by index
	works   []int
	order   []int
	start   []time.Duration // of order[k]
	now     time.Duration
	arc     burnt
	left    int  // tasks still to do, gates included
	last    int  // the last pass (Kind Arc), -1 before the first
	burning bool // a burst that was planned as a whole has begun
	// ready passes in all and of each joint, for the rule that spreads the heat
	passes  int
	ofJoint []int
	bow     []Bend // of each stage so far
}

func newLane(b *book) *lane {
	n := len(b.Tasks)
	l := &lane{book: b, wait: append([]int(nil), b.waits...), ready: make([]bool, n), left: n, last: -1, ofJoint: make([]int, b.joints), bow: make([]Bend, b.stages),
		order: make([]int, 0, n), start: make([]time.Duration, 0, n)}
	l.arc.spans = append(make([]Span, 0, n), b.past.spans...)
	l.arc.total = append(make([]time.Duration, 0, n), b.past.total...)
	for i, w := range b.waits {
		if w == 0 {
			l.open(i)
		}
	}
	return l
}

// open makes a task ready; a gate opens what stands behind it at once.
func (l *lane) open(i int) {
	if l.Tasks[i].Kind == Gate {
		l.left--
		for _, j := range l.next[i] {
			if l.wait[j]--; l.wait[j] == 0 {
				l.open(j)
			}
		}
		return
	}
	l.ready[i] = true
	list := &l.works
	if l.Tasks[i].Kind.Burns() {
		list = &l.arcs
	}
	at, _ := slices.BinarySearch(*list, i)
	*list = slices.Insert(*list, at, i)
	if l.Tasks[i].Kind == Arc {
		l.passes++
		l.ofJoint[l.joint[i]]++
	}
}

// allowed tells whether task i, which is ready, may come next under the rule that spreads the heat.
func (l *lane) allowed(i int) bool {
	if !l.Spread || l.Tasks[i].Kind != Arc || l.last < 0 || l.joint[l.last] != l.joint[i] {
		return true
	}
	return l.passes == l.ofJoint[l.joint[i]]
}

// do puts task i next, as early as the budget lets it start. Starting each task of a given order as early as possible is
// best for all that follow: earlier arcs leave the window earlier.
func (l *lane) do(i int) {
	t := &l.Tasks[i]
	start := l.now
	if t.Kind.Burns() {
		start = l.Budget.earliest(&l.arc, l.now, t.Take)
		l.arc.add(Span{start, start + t.Take})
	}
	l.now = start + t.Take
	l.order = append(l.order, i)
	l.start = append(l.start, start)
	l.ready[i] = false
	list := &l.works
	if t.Kind.Burns() {
		list = &l.arcs
	}
	if at, ok := slices.BinarySearch(*list, i); ok {
		*list = slices.Delete(*list, at, at+1)
	}
	l.left--
	if t.Kind == Arc {
		l.passes--
		l.ofJoint[l.joint[i]]--
		l.last = i
		l.bow[t.Stage] = l.bow[t.Stage].plus(t.Bend)
	}
	for _, j := range l.next[i] {
		if l.wait[j]--; l.wait[j] == 0 {
			l.open(j)
		}
	}
}

// policy is one way of choosing what comes next.
type policy struct {
	fill    bool          // choose the passes of a burst so that they use up its budget
	big     bool          // and take the longest pass first
	whole   bool          // begin a burst only when the budget holds all of it
	greedy  bool          // make a burst of the longest pass that fits, again and again
	near    float64       // share of the budget that a burst may leave, for the sake of using long passes first
	unlock  bool          // prefer work that arcs wait for
	overrun time.Duration // work may delay the next arc by so much
}

// far stands for "as long as it likes".
const far = time.Duration(math.MaxInt64 / 4)

// list schedules the docket by one policy.
func list(d *book, p policy) *lane {
	l := newLane(d)
	var burst map[int]bool
	arcs := make([]int, 0, len(d.Tasks)) // those that may come next
	for l.left > 0 {
		arcs = arcs[:0]
		var waiting time.Duration
		soonest := far
		for _, i := range l.arcs {
			waiting += d.Tasks[i].Take
			if l.allowed(i) {
				arcs = append(arcs, i)
				soonest = min(soonest, d.Budget.earliest(&l.arc, l.now, d.Tasks[i].Take))
			}
		}
		if p.whole && len(arcs) > 0 {
			soonest = l.wholeBurst(arcs, soonest, p, &burst)
		}
		if len(arcs) > 0 && soonest <= l.now {
			if i := l.pickArc(arcs, p, &burst); i >= 0 {
				l.do(i)
				continue
			}
		}
		if i := l.pickWork(l.works, soonest, waiting, p); i >= 0 {
			l.do(i)
			continue
		}
		// nothing to do but rest until an arc may start
		l.now = max(l.now, soonest)
	}
	return l
}

// wholeBurst gives the moment at which the next arc should begin when bursts are not to be broken up: at once within a
// burst (or for a tack), else when the budget holds the whole of the next one.
func (l *lane) wholeBurst(arcs []int, soonest time.Duration, p policy, burst *map[int]bool) time.Duration {
	live := false
	for _, i := range arcs {
		if l.Tasks[i].Kind == Tack {
			return soonest
		}
		live = live || (*burst)[i]
	}
	if live && l.burning {
		return soonest
	}
	if !live {
		*burst = bestBurst(l.book, l.arcs, l.Budget.Arc, p)
		l.burning = false
	}
	var sum time.Duration
	for i := range *burst {
		if l.ready[i] {
			sum += l.Tasks[i].Take
		}
	}
	if sum == 0 {
		return soonest
	}
	start := l.Budget.earliest(&l.arc, l.now, sum)
	l.burning = start <= l.now
	return start
}

// pickArc chooses among the arcs that may start now; -1 where none can.
func (l *lane) pickArc(arcs []int, p policy, burst *map[int]bool) int {
	t := l.Tasks
	can := func(i int) bool { return l.Budget.earliest(&l.arc, l.now, t[i].Take) <= l.now }
	for _, i := range arcs { // tacks first: they hold the frame while the passes pull
		if t[i].Kind == Tack && can(i) {
			return i
		}
	}
	if p.fill && !p.whole {
		live := false
		for _, i := range arcs {
			live = live || (*burst)[i] && can(i)
		}
		if !live {
			*burst = bestBurst(l.book, l.arcs, l.Budget.capacity(&l.arc, l.now), p)
		}
	}
	best, heat := -1, math.Inf(1)
	for _, i := range arcs {
		if !can(i) {
			continue
		}
		h := l.heatAt(i)
		if (p.fill || p.whole) && !(*burst)[i] {
			h += 1e6
		}
		if p.big {
			h -= 10 * t[i].Take.Seconds()
		}
		if h < heat {
			best, heat = i, h
		}
	}
	return best
}

// bowWeight is what the bow counts for beside the heat.
const bowWeight = 1.0

// remembered is how many passes back the heat of a place is felt.
const remembered = 6

// heatAt tells how warm the place of task i still is from the last passes: seconds of arc, less with distance and with
// each pass since; and how much further it bows the frame about its neutral axis. Only the order of the values matters.
func (l *lane) heatAt(i int) float64 {
	var h float64
	weight := 1.0
	seen := 0
	if l.bendPer > 0 { // about the neutral axis: what straightens the frame comes before what bows it
		bow := l.bow[l.Tasks[i].Stage]
		h = bowWeight * l.bendPer * (bow.plus(l.Tasks[i].Bend).size() - bow.size())
	}
	for k := len(l.order) - 1; k >= 0 && seen < remembered; k-- {
		j := l.order[k]
		if l.Tasks[j].Kind != Arc {
			continue
		}
		seen++
		if l.joint[j] == l.joint[i] {
			h += weight * (60 + l.Tasks[j].Take.Seconds())
		} else {
			h += weight * l.Tasks[j].Take.Seconds() / (1 + distance(l.Tasks[i].Place, l.Tasks[j].Place)/200)
		}
		weight *= 0.7
	}
	return h
}

func distance(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// pickWork chooses work for the time until the next arc may start; -1: rather wait.
func (l *lane) pickWork(works []int, soonest, waiting time.Duration, p policy) int {
	gap := soonest - l.now
	best := -1
	better := func(i, j int) bool { // is i better than j
		if soonest >= far { // no arc waits: in the order of the docket, what leads to arcs first
			if (l.unlocks[i] > 0) != (l.unlocks[j] > 0) {
				return l.unlocks[i] > 0
			}
			return i < j
		}
		a, b := &l.Tasks[i], &l.Tasks[j]
		if p.unlock && waiting < l.Budget.Arc && l.unlocks[i] != l.unlocks[j] {
			return l.unlocks[i] > l.unlocks[j]
		}
		return a.Take > b.Take
	}
	for _, i := range works {
		if l.Tasks[i].Take <= gap && (best < 0 || better(i, best)) {
			best = i
		}
	}
	if best >= 0 {
		return best
	}
	for _, i := range works {
		if l.Tasks[i].Take-gap <= p.overrun && (best < 0 || l.Tasks[i].Take < l.Tasks[best].Take) {
			best = i
		}
	}
	return best
}

// bestBurst chooses among the arcs those whose sum comes nearest to room without exceeding it (with big, the longest that
// fits is among them).
func bestBurst(b *book, arcs []int, room time.Duration, p policy) map[int]bool {
	t := b.Tasks
	chosen := map[int]bool{}
	near := time.Duration(float64(room) * p.near)
	big := p.big
	rest := append([]int(nil), arcs...)
	slices.SortFunc(rest, func(i, j int) int { return b.rank[i] - b.rank[j] })
	if p.greedy {
		for _, i := range rest {
			if t[i].Take <= room {
				chosen[i] = true
				room -= t[i].Take
			}
		}
		return chosen
	}
	if big {
		longest := -1
		for k, i := range rest {
			if t[i].Take <= room && (longest < 0 || t[i].Take > t[rest[longest]].Take) {
				longest = k
			}
		}
		if longest >= 0 {
			chosen[rest[longest]] = true
			room -= t[rest[longest]].Take
			rest = append(rest[:longest], rest[longest+1:]...)
		}
	}
	if len(rest) > candidates { // an even choice of lengths serves as well
		few := make([]int, candidates)
		for k := range few {
			few[k] = rest[k*len(rest)/candidates]
		}
		rest = few
	}
	takes := make([]time.Duration, len(rest))
	for k, i := range rest {
		takes[k] = t[i].Take
	}
	for _, k := range nearestSum(takes, room, near) {
		chosen[rest[k]] = true
	}
	return chosen
}

// candidates bounds the passes among which a burst is chosen.
const candidates = 200

// sumsKept bounds the sums that nearestSum remembers; sums that lie close together are thinned out beyond it.
const sumsKept = 200

// nearestSum gives indices of a subset whose sum is as near to room as possible without exceeding it: exact while there
// are no more than sumsKept different sums. It stops early at a sum that leaves no more than near: what comes first in
// takes is then used first.
func nearestSum(takes []time.Duration, room, near time.Duration) []int {
	type node struct {
		sum       time.Duration
		item, low int // the item added last, and the node before it
	}
	nodes := []node{{0, -1, -1}}
	front := []int{0} // nodes by rising sum
	for k, a := range takes {
		if a > room || a <= 0 {
			continue
		}
		merged := make([]int, 0, 2*len(front))
		i, j := 0, 0
		for i < len(front) || j < len(front) {
			if j < len(front) && (nodes[front[j]].sum+a > room) {
				j = len(front)
				continue
			}
			switch {
			case j >= len(front) || i < len(front) && nodes[front[i]].sum <= nodes[front[j]].sum+a:
				if m := len(merged); m == 0 || nodes[merged[m-1]].sum != nodes[front[i]].sum {
					merged = append(merged, front[i])
				}
				i++
			default:
				s := nodes[front[j]].sum + a
				if m := len(merged); m == 0 || nodes[merged[m-1]].sum != s {
					nodes = append(nodes, node{s, k, front[j]})
					merged = append(merged, len(nodes)-1)
				}
				j++
			}
		}
		front = merged
		if nodes[front[len(front)-1]].sum >= room-near {
			break
		}
		if len(front) > sumsKept {
			thin := front[:0]
			step := room / sumsKept
			for m, f := range front {
				if m == 0 || m == len(front)-1 || nodes[f].sum-nodes[thin[len(thin)-1]].sum >= step {
					thin = append(thin, f)
				}
			}
			front = thin
		}
	}
	var picked []int
	for at := front[len(front)-1]; nodes[at].item >= 0; at = nodes[at].low {
		picked = append(picked, nodes[at].item)
	}
	return picked
}
