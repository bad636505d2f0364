package weld

import (
	"fmt"
	"sort"
	"time"
)

// policies are tried one after another; the first of equally good schedules is kept unless a later one heats more evenly.
var policies = []policy{
	{whole: true, big: true, unlock: true, near: 0.001},
	{whole: true, big: true, unlock: true, near: 0.005},
	{whole: true, big: true, unlock: true, near: 0.02},
	{whole: true, greedy: true, unlock: true},
	{whole: true, unlock: true, near: 0.005},
	{fill: true, greedy: true, unlock: true},
	{fill: true, big: true, unlock: true, near: 0.001},
	{fill: true, big: true, unlock: true, near: 0.005},
	{fill: true, unlock: true, near: 0.005},
	{fill: true, unlock: true, near: 0.005, overrun: 30 * time.Second},
	{fill: true, big: true, unlock: true, near: 0.005, overrun: far},
	{unlock: true, overrun: far},
}

// Effort bounds the search; both are counts, so that a plan is the same on every machine.
type Effort struct {
	Nodes int // of the search that sees every order (dockets of up to 64 tasks)
	Moves int // tasks moved, times the number of tasks
}

// DefaultEffort keeps a plan of 300 seams well under 200 ms.
var DefaultEffort = Effort{Nodes: 60_000, Moves: 400_000}

// Best schedules the docket: elapsed time as short as the search finds it, and among equals the order that heats the frame
// most evenly. It says in Proven and Why how good the result is.
func (d *Docket) Best(e Effort) (Schedule, error) {
	if err := d.Check(); err != nil {
		return Schedule{}, err
	}
	b := newBook(d)
	low, why := bound(b)
	var best *lane
	var bestHeat float64
	for _, p := range policies {
		l := list(b, p)
		if best == nil || l.now < best.now || l.now == best.now && l.heat() < bestHeat {
			best, bestHeat = l, l.heat()
		}
	}
	proven := best.now <= low
	if !proven {
		seen, order := exhaust(b, best.now, low, e.Nodes)
		if order != nil {
			best = replay(b, order)
		}
		switch {
		case seen:
			low, why, proven = best.now, "every order that could be better was looked at", true
		default:
			best = improve(b, best, low, e.Moves)
			proven = best.now <= low
		}
	}
	if proven {
		best = settle(b, best, e.Moves)
	}
	s := b.schedule(best)
	s.Bound, s.Proven = low, proven
	switch {
	case proven:
		s.Why = "no order is quicker: " + why
	default:
		s.Why = "not proven: " + why + "; whole seams and the order of work may not allow that much"
	}
	return s, nil
}

// InOrder schedules the tasks in the worker's own order. An order that lays a task before what it waits for is refused by
// naming both tasks; the rule that spreads the heat gives way to the worker.
func (d *Docket) InOrder(order []int) (Schedule, error) {
	if err := d.Check(); err != nil {
		return Schedule{}, err
	}
	b := newBook(d)
	l := newLane(b)
	for _, i := range order {
		if i < 0 || i >= len(d.Tasks) || !l.ready[i] {
			return Schedule{}, d.blocked(l, i)
		}
		l.do(i)
	}
	for i := range d.Tasks {
		if l.ready[i] {
			return Schedule{}, fmt.Errorf("the order leaves out %s", d.Tasks[i].ID)
		}
	}
	s := b.schedule(l)
	low, why := bound(b)
	s.Bound, s.Proven, s.Why = low, s.Elapsed <= low, "in the worker's order; "+why
	return s, nil
}

// replay runs an order that is known to be allowed.
func replay(b *book, order []int) *lane {
	l := newLane(b)
	for _, i := range order {
		l.do(i)
	}
	return l
}

// heat rates how evenly an order heats the frame, and how straight it keeps it on the way; less is better.
func (l *lane) heat() float64 {
	var sum float64
	bow := make([]Bend, l.stages)
	var recent [remembered]int // the last passes, newest first
	n := 0
	for _, i := range l.order {
		if l.Tasks[i].Kind != Arc {
			continue
		}
		w := 1.0
		for _, j := range recent[:n] {
			if l.joint[j] == l.joint[i] {
				sum += w * (60 + l.Tasks[j].Take.Seconds())
			} else {
				sum += w * l.Tasks[j].Take.Seconds() / (1 + distance(l.Tasks[i].Place, l.Tasks[j].Place)/200)
			}
			w *= 0.7
		}
		copy(recent[1:], recent[:remembered-1])
		recent[0] = i
		n = min(n+1, remembered)
		if l.bendPer > 0 {
			at := &bow[l.Tasks[i].Stage]
			*at = at.plus(l.Tasks[i].Bend)
			sum += bowWeight * l.bendPer * at.size()
		}
	}
	return sum
}

// schedule turns a finished lane into entries, rests between them.
func (b *book) schedule(l *lane) Schedule {
	var s Schedule
	var now time.Duration
	for k, i := range l.order {
		t := b.Tasks[i]
		if l.start[k] > now {
			s.Entries = append(s.Entries, Entry{-1, Rest, "", now, l.start[k]})
			s.RestSum += l.start[k] - now
		}
		now = l.start[k] + t.Take
		if t.Kind.Burns() {
			s.ArcTime += t.Take
		} else {
			s.WorkSum += t.Take
		}
		s.Entries = append(s.Entries, Entry{i, t.Kind, t.Joint, l.start[k], now})
	}
	s.Elapsed = now
	s.Unfilled = s.WorkSum + b.bare(l.order)
	return s
}

// bare gives the time from the first arc to the last when the machine's rests are spent waiting.
func (b *book) bare(order []int) time.Duration {
	arc := burnt{spans: append([]Span(nil), b.past.spans...), total: append([]time.Duration(nil), b.past.total...)}
	var now time.Duration
	for _, i := range order {
		if t := b.Tasks[i]; t.Kind.Burns() {
			start := b.Budget.earliest(&arc, now, t.Take)
			now = start + t.Take
			arc.add(Span{start, now})
		}
	}
	return now
}

// exhaust looks at every order of a docket of up to 64 tasks, leaving out those that cannot beat best or that another
// state reaches no later with no more arc in the window. It tells whether it saw all within the nodes, and the best order
// found (nil: none better than best).
func exhaust(b *book, best, low time.Duration, nodes int) (seen bool, order []int) {
	s := &solver{book: b, best: best, low: low, nodes: nodes, memo: map[state][]moment{}}
	var ids []int
	for i, t := range b.Tasks {
		if t.Kind != Gate {
			ids = append(ids, i)
		}
	}
	if len(ids) > 64 || nodes <= 0 {
		return false, nil
	}
	number := make([]int, len(b.Tasks))
	for k, i := range ids {
		number[i] = k
	}
	s.ids = ids
	s.pred = make([]uint64, len(ids))
	for k, i := range ids {
		stack := append([]int(nil), b.Tasks[i].After...)
		for len(stack) > 0 { // gates pass on what they wait for
			a := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if b.Tasks[a].Kind == Gate {
				stack = append(stack, b.Tasks[a].After...)
			} else {
				s.pred[k] |= 1 << number[a]
			}
		}
		if b.Tasks[i].Kind.Burns() {
			s.arcLeft += b.Tasks[i].Take
		} else {
			s.workLeft += b.Tasks[i].Take
		}
	}
	all := make([]bool, len(b.Tasks))
	for i := range all {
		all[i] = true
	}
	_, s.tail = b.ends(all)
	s.arc = burnt{spans: append([]Span(nil), b.past.spans...), total: append([]time.Duration(nil), b.past.total...)}
	done := s.walk(0, 0, -1)
	return done, s.found
}

type state struct {
	done uint64
	last int // joint of the last pass, where the heat rule makes it matter
}

// moment is when a state was reached and the arc that the window still sees.
type moment struct {
	now  time.Duration
	arcs []Span
}

type solver struct {
	*book
	ids               []int
	pred              []uint64
	tail              time.Duration
	arc               burnt
	path              []int
	arcLeft, workLeft time.Duration
	best, low         time.Duration
	found             []int
	nodes             int
	memo              map[state][]moment
}

// walk goes on from a state; false: the nodes ran out.
func (s *solver) walk(done uint64, now time.Duration, last int) bool {
	if len(s.path) == len(s.ids) {
		if now < s.best {
			s.best = now
			s.found = append([]int(nil), s.path...)
		}
		return true
	}
	if s.nodes--; s.nodes < 0 {
		return false
	}
	if s.atLeast(now) >= s.best || s.dominated(done, now, last) {
		return true
	}
	type step struct {
		k          int
		start, end time.Duration
	}
	var steps []step
	waiting := 0 // joints other than last with a pass ready
	for k, i := range s.ids {
		if done>>k&1 == 0 && s.pred[k]&^done == 0 && s.Tasks[i].Kind == Arc && s.joint[i] != last {
			waiting++
		}
	}
	for k, i := range s.ids {
		if done>>k&1 == 1 || s.pred[k]&^done != 0 {
			continue
		}
		t := &s.Tasks[i]
		if s.Spread && t.Kind == Arc && s.joint[i] == last && waiting > 0 {
			continue
		}
		start := now
		if t.Kind.Burns() {
			start = s.Budget.earliest(&s.arc, now, t.Take)
		}
		steps = append(steps, step{k, start, start + t.Take})
	}
	sort.SliceStable(steps, func(a, b int) bool {
		if steps[a].start != steps[b].start {
			return steps[a].start < steps[b].start
		}
		x, y := &s.Tasks[s.ids[steps[a].k]], &s.Tasks[s.ids[steps[b].k]]
		if x.Kind.Burns() != y.Kind.Burns() {
			return x.Kind.Burns()
		}
		return x.Take > y.Take
	})
	for _, st := range steps {
		i := s.ids[st.k]
		t := &s.Tasks[i]
		n := len(s.arc.spans)
		l := last
		if t.Kind.Burns() {
			s.arc.add(Span{st.start, st.end})
			s.arcLeft -= t.Take
			if t.Kind == Arc {
				l = s.joint[i]
			}
		} else {
			s.workLeft -= t.Take
		}
		s.path = append(s.path, i)
		ok := s.walk(done|1<<st.k, st.end, l)
		s.path = s.path[:len(s.path)-1]
		s.arc.cut(n)
		if t.Kind.Burns() {
			s.arcLeft += t.Take
		} else {
			s.workLeft += t.Take
		}
		if !ok {
			return false
		}
		if s.best <= s.low {
			return true
		}
	}
	return true
}

// atLeast bounds the elapsed time from here: the sum of what is left, and the k-th window back from the last arc.
func (s *solver) atLeast(now time.Duration) time.Duration {
	t := now + s.arcLeft + s.workLeft
	if s.arcLeft == 0 || s.Budget.Arc >= s.Budget.Window {
		return t
	}
	past := s.arc.sum()
	total := past + s.arcLeft
	k := (s.arcLeft + s.Budget.Arc - 1) / s.Budget.Arc
	if c := total - k*s.Budget.Arc; c > 0 {
		t = max(t, k*s.Budget.Window+s.arc.when(c)+s.tail)
	}
	// one window less: the point lies in what is still to come, no sooner than straight on from now
	return max(t, (k-1)*s.Budget.Window+now+(s.arcLeft-(k-1)*s.Budget.Arc)+s.tail)
}

// dominated tells whether the same tasks were done no later with no more arc left in the window, and remembers the state.
func (s *solver) dominated(done uint64, now time.Duration, last int) bool {
	key := state{done, -1}
	if s.Spread {
		key.last = last
	}
	from := sort.Search(len(s.arc.spans), func(i int) bool { return s.arc.spans[i].End > now-s.Budget.Window })
	mine := s.arc.spans[from:]
	for _, m := range s.memo[key] {
		if m.now <= now && noLater(m.arcs, mine) {
			return true
		}
	}
	if len(s.memo[key]) < 24 {
		s.memo[key] = append(s.memo[key], moment{now, append([]Span(nil), mine...)})
	}
	return false
}

// noLater tells whether the arc of a, counted back from its end, lies nowhere later than that of b. Both end with the same
// total; what is missing in front is older than any window sees.
func noLater(a, b []Span) bool {
	// walk back over both, cutting at each other's boundaries, in amounts of arc
	i, j := len(a)-1, len(b)-1
	var usedA, usedB time.Duration
	for i >= 0 && j >= 0 {
		leftA, leftB := a[i].Length()-usedA, b[j].Length()-usedB
		if a[i].End-usedA > b[j].End-usedB {
			return false
		}
		step := min(leftA, leftB)
		usedA, usedB = usedA+step, usedB+step
		if a[i].End-usedA > b[j].End-usedB {
			return false
		}
		if usedA == a[i].Length() {
			i, usedA = i-1, 0
		}
		if usedB == b[j].Length() {
			j, usedB = j-1, 0
		}
	}
	return i < 0
}
