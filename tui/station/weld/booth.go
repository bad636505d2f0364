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

// doneSetting begins the names of settings that tell of a task without an entry of its own: fitted, cleaned, turned.
const doneSetting = "done: "

// booth is a weld plan beside what was done of it: made once for a plan, brought up to date when the record grew.
type booth struct {
	of     *plan.Plan
	keys   []string       // of each task of the docket: its name in the record
	byKey  map[string]int // the way back
	order  []int          // tasks in the order of the schedule
	starts []time.Duration
	state  *work.State
	events int
	done   []bool
	burns  []weld.Burn
	arcs   []work.Arc
	next   int // the task in hand, -1 where all is done
	left   time.Duration
	real   time.Duration // arc that really burnt for tasks that are done
	plan   time.Duration // and what was planned for them
}

// keyOf names a joint so that it is known again after an edit that numbers the joints anew: by its members.
func keyOf(p *plan.Plan, joint int) string {
	j := p.Weld.Layout.Joints[joint]
	key := strings.Join(j.Members, "+")
	if key == "" || len(key) > 160 {
		return j.ID
	}
	return key
}

func (b *booth) follow(d *station.Desk) {
	if b.of != d.Plan {
		*b = booth{of: d.Plan, byKey: map[string]int{}}
		w := d.Plan.Weld
		joints := map[string]string{}
		for i := range w.Layout.Joints {
			joints[w.Layout.Joints[i].ID] = keyOf(d.Plan, i)
		}
		seen := map[string]int{}
		for _, t := range w.Docket.Tasks {
			key := t.ID
			if t.Joint != "" && joints[t.Joint] != "" {
				key = joints[t.Joint] + strings.TrimPrefix(t.ID, t.Joint)
			}
			if t.Kind == weld.Gate {
				key = ""
			} else if seen[key]++; seen[key] > 1 {
				key = fmt.Sprintf("%s #%d", key, seen[key])
			}
			b.keys = append(b.keys, key)
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
		return
	}
	b.state, b.events = d.Work, d.Work.Events()
	w := d.Plan.Weld
	b.done = make([]bool, len(b.keys))
	for i, t := range w.Docket.Tasks {
		switch {
		case t.Kind == weld.Gate:
		case t.Kind == weld.Saw: // the saw's own record says so
			mark, unit := pieceOf(t.ID)
			b.done[i] = d.Work.IsCut(mark, unit)
		case t.Kind == weld.Tack:
			b.done[i] = d.Work.Joint(b.keys[i]).Tacked
		case t.Kind == weld.Arc:
			b.done[i] = d.Work.Joint(b.keys[i]).Welded
		default:
			v, _ := d.Work.Setting(doneSetting + b.keys[i])
			b.done[i] = v == "yes"
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
	b.next, b.left, b.real, b.plan = -1, 0, 0, 0
	for _, i := range b.order {
		t := w.Docket.Tasks[i]
		if !b.done[i] {
			b.left += t.Take
			if b.next < 0 && t.Kind != weld.Saw && b.ready(i) {
				b.next = i
			}
			continue
		}
		if t.Kind.Burns() {
			b.real += time.Duration(d.Work.Joint(b.keys[i]).ArcNS)
			b.plan += t.Take
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
	r := d.Plan.Weld.Budget
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
