// Package weld is the station at the booth: the next seam lit on the frame, how much arc the machine's rating plate leaves
// and when the next seam may begin, one key that starts and stops the arc, and what can be done while the machine rests.
package weld

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/weld"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/station"
)

// Settings of the record: doneSetting tells of a task without an entry of its own (fitted, cleaned, turned), firstSetting
// and lastSetting of a joint that the worker moved up or down.
const (
	doneSetting  = "done: "
	firstSetting = "first: "
	lastSetting  = "later: "
)

// booth is a weld plan beside what was done of it: made once for a plan, brought up to date when the record grew.
type booth struct {
	of     *plan.Plan
	keys   []string // of each task of the docket: its name in the record
	wholes []string // the same of the whole seam, of which it may be a part
	parts  []weld.Part
	shares [2]map[string]*weld.Shares // of each whole that was tacked, welded: as far as the record says
	byKey  map[string]int             // the way back
	order  []int                      // tasks in the order of the schedule
	starts []time.Duration
	state  *work.State
	events int
	done   []bool
	burns  []weld.Burn
	arcs   []work.Arc
	next   int               // the task in hand, -1 where all is done
	joints map[string]string // of each joint's ID its name in the record
	rest   weld.Remaining    // what is left, timed anew from what happened
	restAt time.Duration     // when it was
	amiss  error
	last   int           // the task whose arc burnt last, -1
	real   time.Duration // arc that really burnt for tasks that are done
	plan   time.Duration // and what was planned for them
}

func (b *booth) follow(d *station.Desk) {
	if b.of != d.Plan {
		*b = booth{of: d.Plan, byKey: map[string]int{}}
		w := d.Plan.Weld
		b.parts = w.Parts()
		b.keys, b.wholes = w.Names()
		b.joints = map[string]string{}
		for i := range w.Layout.Joints {
			b.joints[w.Layout.Joints[i].ID] = w.Key(i)
		}
		for i, k := range b.keys {
			if k != "" {
				b.byKey[k] = i
			}
		}
		in := make([]bool, len(b.keys))
		for _, e := range w.Schedule.Entries {
			if e.Task >= 0 && e.Task < len(in) && !in[e.Task] {
				in[e.Task] = true
				b.order, b.starts = append(b.order, e.Task), append(b.starts, e.Start)
			}
		}
		for i := range in {
			if !in[i] && b.keys[i] != "" {
				b.order, b.starts = append(b.order, i), append(b.starts, w.Schedule.Elapsed)
			}
		}
	}
	if b.state == d.Work && b.events == d.Work.Events() && b.done != nil {
		if t := now(d) - b.restAt; t >= retimed || t < 0 { // nothing was recorded, but time passed
			b.retime(d)
		}
		return
	}
	b.state, b.events = d.Work, d.Work.Events()
	w := d.Plan.Weld
	b.done = make([]bool, len(b.keys))
	tacked, welded := d.Work.Finished()
	b.shares = [2]map[string]*weld.Shares{sharesOf(tacked), sharesOf(welded)}
	for i, t := range w.Docket.Tasks {
		switch {
		case t.Kind == weld.Gate:
		case t.Kind == weld.Saw: // the saw's own record says so
			mark, unit := pieceOf(t.ID)
			b.done[i] = d.Work.IsCut(mark, unit)
		case t.Kind.Burns():
			b.done[i], _ = b.share(i)
		default:
			b.done[i] = b.set(d, b.keys[i]) || b.parts[i].To < 1 && (b.set(d, b.wholes[i]) || b.beyond(i))
		}
	}
	// A gate is passed when all before it is done.
	for again := true; again; {
		again = false
		for i, t := range w.Docket.Tasks {
			if t.Kind == weld.Gate && !b.done[i] && b.ready(i) {
				b.done[i], again = true, true
			}
		}
	}
	b.burns = b.burns[:0]
	b.arcs = d.Work.Arcs(d.Now.Add(-2 * w.Budget.Window).UnixNano())
	for _, a := range b.arcs {
		x := weld.Burn{Start: time.Duration(a.From), End: time.Duration(a.To), Open: a.Open, Seam: a.Joint}
		if i, ok := b.byKey[a.Joint]; ok {
			x.Planned = w.Docket.Tasks[i].Take
		}
		b.burns = append(b.burns, x)
	}
	b.retime(d)
}

// sharesOf gathers the names of parts that are done by the whole that they belong to.
func sharesOf(names []string) map[string]*weld.Shares {
	of := make(map[string]*weld.Shares, len(names))
	for _, n := range names {
		whole, share := weld.ReadPart(n)
		if of[whole] == nil {
			of[whole] = &weld.Shares{}
		}
		of[whole].Add(share)
	}
	return of
}

// recorded gives what the record says of the seam, or the tacks, that the task is of.
func (b *booth) recorded(i int) weld.Shares {
	k := 1
	if b.of.Weld.Docket.Tasks[i].Kind == weld.Tack {
		k = 0
	}
	if s := b.shares[k][b.wholes[i]]; s != nil {
		return *s
	}
	return nil
}

// share tells whether a run or tack is done, in whatever parts, and else how much of it.
func (b *booth) share(i int) (done bool, share float64) {
	return b.recorded(i).Done(b.parts[i])
}

// beyond tells whether the seam went on behind the run that a cleaning belongs to: it was cleaned, then.
func (b *booth) beyond(i int) bool {
	s := b.shares[1][strings.TrimSuffix(b.wholes[i], " clean")]
	if s == nil {
		return false
	}
	_, more := s.Done(weld.Part{From: b.parts[i].To, To: 1})
	return more > 0.001
}

// set tells whether a task without an entry of its own is ticked off under that name.
func (b *booth) set(d *station.Desk, key string) bool {
	v, _ := d.Work.Setting(doneSetting + key)
	return v == "yes"
}

// retimed is how old the timing of the rest may grow while nothing is recorded.
const retimed = 10 * time.Second

// retime times what is left from what really happened, and finds what comes next.
func (b *booth) retime(d *station.Desk) {
	w := d.Plan.Weld
	x := weld.Progress{Done: b.done, Burns: b.burns, Now: now(d), Trips: plan.TripsOf(d.Work), Rank: make([]int, len(b.keys)), Spent: make([]time.Duration, len(b.keys))}
	b.real, b.plan, b.last = 0, 0, -1
	for i, t := range w.Docket.Tasks {
		if t.Kind == weld.Gate {
			continue
		}
		x.Rank[i] = b.rank(d, t)
		if !t.Kind.Burns() {
			continue
		}
		arc := time.Duration(d.Work.Joint(b.keys[i]).ArcNS)
		switch {
		case !b.done[i]:
			_, share := b.share(i)
			x.Spent[i] = arc + time.Duration(share*float64(t.Take))
		case arc > 0 && b.recorded(i).Own(b.parts[i]): // finished by hand without an arc, or in other parts, is no measure
			b.real, b.plan = b.real+arc, b.plan+t.Take
			x.Count++
		}
	}
	for _, a := range b.arcs {
		if i, ok := b.byKey[a.Joint]; ok && !a.Open {
			b.last = i
		}
	}
	x.Real, x.Plan = b.real, b.plan
	b.rest, b.amiss = w.Remaining(x)
	b.restAt = x.Now
	order := b.rest.Order
	if b.amiss != nil { // the machine's plate says nothing for what is set: the plan's own order still stands
		order = b.order
	}
	b.next = -1
	for _, i := range order {
		if !b.done[i] && w.Docket.Tasks[i].Kind != weld.Saw && b.ready(i) {
			b.next = i
			return
		}
	}
}

// rank tells whether the worker moved the task's joint up (-1) or down (1). A task without a joint is moved by itself.
func (b *booth) rank(d *station.Desk, t weld.Task) int {
	name := b.moves(t)
	if v, _ := d.Work.Setting(firstSetting + name); v == "yes" {
		return -1
	}
	if v, _ := d.Work.Setting(lastSetting + name); v == "yes" {
		return 1
	}
	return 0
}

// moves gives the name under which a task is moved up or down.
func (b *booth) moves(t weld.Task) string {
	if name := b.joints[t.Joint]; t.Joint != "" && name != "" {
		return name
	}
	return t.ID
}

// budget is what the machine is good for now, after its trips.
func (b *booth) budget(d *station.Desk) weld.Budget {
	if b.amiss == nil && b.rest.Budget.Window > 0 {
		return b.rest.Budget
	}
	return d.Plan.Weld.Budget
}

// pieceOf reads the mark and number of a piece from a chore at the saw.
func pieceOf(id string) (mark string, unit int) {
	k := strings.LastIndexByte(id, '-')
	if k < 0 {
		return id, 0
	}
	unit, _ = strconv.Atoi(id[k+1:])
	return id[:k], unit
}

func (b *booth) ready(i int) bool {
	for _, k := range b.of.Weld.Docket.Tasks[i].After {
		if !b.done[k] {
			return false
		}
	}
	return true
}

// open gives the arc that has no end; the latest may burn right now.
func (b *booth) open(d *station.Desk) (work.Arc, bool) {
	a := d.Work.OpenArcs()
	if len(a) == 0 {
		return work.Arc{}, false
	}
	return a[len(a)-1], true
}

// task gives the task in hand; while an arc burns it is that arc's.
func (b *booth) task(d *station.Desk) int {
	if a, ok := b.open(d); ok {
		if i, ok := b.byKey[a.Joint]; ok {
			return i
		}
	}
	return b.next
}

// now is the time on the record's clock.
func now(d *station.Desk) time.Duration { return time.Duration(d.Now.UnixNano()) }

// wait gives how long until an arc of that length may begin. Tasks are never longer than the budget; what was measured may
// still be counted to the nanosecond, so the arc is held to the budget.
func (b *booth) wait(d *station.Desk, take time.Duration) time.Duration {
	r := b.budget(d)
	when, ok := r.Ready(b.burns, now(d), min(take, r.Arc))
	if !ok {
		return 0
	}
	return max(0, when-now(d))
}

// clock words a time for the eye: 8 s, 1:05, 1:02:03.
func clock(t time.Duration) string {
	s := int64((t + time.Second - 1) / time.Second)
	switch {
	case s < 0:
		s = 0
		fallthrough
	case s < 60:
		return fmt.Sprintf("%d s", s)
	case s < 3600:
		return fmt.Sprintf("%d:%02d", s/60, s%60)
	}
	return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
}
