package weld

import (
	"fmt"
	"time"
)

// Kind is what a task or an entry of the schedule is.
type Kind string

// Kinds. Tack and Arc burn; the others keep the worker busy with the arc off. Rest is only ever an entry. Gate takes no
// time: it stands for "all of those before any of these" and is no entry.
const (
	Tack  Kind = "tack"
	Arc   Kind = "arc"
	Rest  Kind = "rest"
	Fit   Kind = "fit"
	Clean Kind = "clean"
	Grind Kind = "grind"
	Turn  Kind = "turn"
	Saw   Kind = "saw"
	Gate  Kind = ""
)

// Burns tells whether the arc burns.
func (k Kind) Burns() bool { return k == Tack || k == Arc }

// Plain gives the kind in the words of the plan's JSON: grinding is cleaning, and the saw runs while the machine rests.
func (k Kind) Plain() string {
	switch k {
	case Grind:
		return string(Clean)
	case Saw:
		return string(Rest)
	}
	return string(k)
}

// Task is one piece of work for the one worker: never interrupted once begun.
type Task struct {
	ID    string
	Kind  Kind
	Joint string // the corner that it heats or belongs to
	Seam  string
	What  string // for the worker
	Stage int
	Take  time.Duration
	After []int      // indices of the tasks that must be done before
	Place [3]float64 // mm, for the order of heat
	Bend  Bend       // how far a pass makes the bow of its stage's frame stray from an even pull
}

// Docket is everything that one worker with one machine has to do.
type Docket struct {
	Tasks  []Task
	Budget Budget
	Before []Span // arc already burnt, at times up to 0 (negative: before the plan's start)
	// Spread asks that no two passes in a row be laid at one joint while a pass of another joint waits.
	Spread bool
}

// Entry is one line of a schedule.
type Entry struct {
	Task  int // index into the docket; -1 for a rest
	Kind  Kind
	Joint string
	Start time.Duration
	End   time.Duration
}

// Schedule is a docket in time.
type Schedule struct {
	Entries []Entry
	Elapsed time.Duration // start to the end of the last task
	ArcTime time.Duration // tacks included
	RestSum time.Duration // nothing to do but wait
	WorkSum time.Duration // everything else
	Bound   time.Duration // no schedule under these rules is shorter
	Proven  bool          // Elapsed == Bound, or the search saw every order
	Why     string        // what proves it, or where the gap may be
	// Unfilled is the elapsed time of the same order of arcs when nothing is done while the machine rests.
	Unfilled time.Duration
}

// Order gives the tasks in the order of the schedule.
func (s Schedule) Order() []int {
	order := make([]int, 0, len(s.Entries))
	for _, e := range s.Entries {
		if e.Task >= 0 {
			order = append(order, e.Task)
		}
	}
	return order
}

// Arcs gives the spans in which the arc burns.
func (s Schedule) Arcs() []Span {
	var arcs []Span
	for _, e := range s.Entries {
		if e.Kind.Burns() {
			arcs = append(arcs, Span{e.Start, e.End})
		}
	}
	return arcs
}

// Check says why a docket cannot be scheduled: a task longer than the budget (split it first), a negative time, a
// predecessor that does not exist, a circle.
func (d *Docket) Check() error {
	if d.Budget.Window <= 0 || d.Budget.Arc <= 0 || d.Budget.Arc > d.Budget.Window {
		return fmt.Errorf("the budget of %v in %v is impossible", d.Budget.Arc, d.Budget.Window)
	}
	waits := make([]int, len(d.Tasks))
	for i, t := range d.Tasks {
		switch {
		case t.Take < 0:
			return fmt.Errorf("task %s takes %v", t.ID, t.Take)
		case t.Kind.Burns() && t.Take > d.Budget.Arc && d.Budget.Arc < d.Budget.Window:
			return fmt.Errorf("arc %s takes %v, more than the window's budget of %v", t.ID, t.Take, d.Budget.Arc)
		case t.Kind == Rest:
			return fmt.Errorf("task %s: a rest is not a task", t.ID)
		case t.Kind == Gate && t.Take != 0:
			return fmt.Errorf("gate %s takes %v", t.ID, t.Take)
		}
		for _, a := range t.After {
			if a < 0 || a >= len(d.Tasks) {
				return fmt.Errorf("task %s waits for task %d of %d", t.ID, a, len(d.Tasks))
			}
		}
		waits[i] = len(t.After)
	}
	next := d.successors()
	var open []int
	for i, w := range waits {
		if w == 0 {
			open = append(open, i)
		}
	}
	done := 0
	for ; len(open) > 0; done++ {
		i := open[len(open)-1]
		open = open[:len(open)-1]
		for _, j := range next[i] {
			if waits[j]--; waits[j] == 0 {
				open = append(open, j)
			}
		}
	}
	if done < len(d.Tasks) {
		for i, w := range waits {
			if w > 0 {
				return fmt.Errorf("task %s waits for itself in a circle", d.Tasks[i].ID)
			}
		}
	}
	for i, s := range d.Before {
		if s.End > 0 || s.End < s.Start || i > 0 && s.Start < d.Before[i-1].End {
			return fmt.Errorf("arc before the plan from %v to %v is out of order", s.Start, s.End)
		}
	}
	return nil
}

func (d *Docket) successors() [][]int {
	next := make([][]int, len(d.Tasks))
	for i, t := range d.Tasks {
		for _, a := range t.After {
			next[a] = append(next[a], i)
		}
	}
	return next
}

func (d *Docket) history() *burnt {
	b := &burnt{}
	for _, s := range d.Before {
		b.add(s)
	}
	return b
}

func (d *Docket) blocked(l *lane, i int) error {
	if i < 0 || i >= len(d.Tasks) {
		return fmt.Errorf("the order names task %d of %d", i, len(d.Tasks))
	}
	done := make([]bool, len(d.Tasks))
	for _, k := range l.order {
		if k == i {
			return fmt.Errorf("the order names %s twice", d.Tasks[i].ID)
		}
		done[k] = true
	}
	stack := append([]int(nil), d.Tasks[i].After...)
	for len(stack) > 0 {
		a := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if d.Tasks[a].Kind == Gate {
			stack = append(stack, d.Tasks[a].After...)
		} else if !done[a] {
			return fmt.Errorf("%s cannot come before %s", d.Tasks[i].ID, d.Tasks[a].ID)
		}
	}
	return fmt.Errorf("%s cannot come here", d.Tasks[i].ID)
}
