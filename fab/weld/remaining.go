package weld

import (
	"fmt"
	"math"
	"time"

	"bench.example/soapstone/fab/figure"
)

// Progress is what the record says at a moment of the work at the booth.
type Progress struct {
	Done  []bool          // of each task of the plan's docket, gates left out
	Spent []time.Duration // arc that burnt already for each task that is not done; nil: none
	Burns []Burn          // of the last windows
	Now   time.Duration
	Trips Trips
	Rank  []int         // of each task: less than 0 comes first where it can, more than 0 last; nil: the planned order
	Real  time.Duration // arc that burnt for the passes and tacks that are done,
	Plan  time.Duration // what was planned for the same,
	Count int           // and how many they are
}

// Remaining is the rest of a plan, timed anew from what really happened. Times count from now.
type Remaining struct {
	Budget  Budget        // what the machine is good for after its trips, and after the arc without any since
	Duty    figure.Figure // the working duty behind it
	Pace    figure.Figure // how much longer a seam burns than planned
	Order   []int         // tasks of the plan's docket that are left, in the order in which they come
	Start   []time.Duration
	Elapsed time.Duration
	Arc     time.Duration
	Rest    time.Duration // with nothing to do but wait
	Bound   time.Duration // no order of what is left is shorter
}

// Pace is judged from so many arcs on, and never taken as more than twice or less than half of the plan: a seam that was
// left and taken up again is no measure.
const (
	paceAfter = 4
	paceMost  = 2.0
)

// pace gives the factor between real and planned arc.
func pace(x Progress) figure.Figure {
	real, plan := x.Real.Seconds(), x.Plan.Seconds()
	if x.Count < paceAfter || plan <= 0 || real <= 0 {
		real, plan = 1, 1
	}
	return figure.New("weld.pace", "how much longer a seam burns than planned", "", "min(m, max(1 / m, r / p))",
		figure.Source{Kind: figure.Shop, Text: "arcs of the record beside the plan's"},
		figure.In("r", "arc that burnt", real, "s", "record of work"), figure.In("p", "planned for the same seams", plan, "s", "weld plan"),
		figure.In("m", "most that is believed", paceMost, "", "shop's own"))
}

// least is the share of a task that is planned for what is left of it, however long it burnt already.
const least = 0.1

// Remaining times what is left of the plan from what really happened: the arcs that burnt are what the window sees, done
// tasks fall out, the machine's working duty is lowered by its trips and given back by arc without one, seams take as much
// longer or shorter as those before did, and tasks come in the plan's order, or as the worker moved them.
func (p *Plan) Remaining(x Progress) (Remaining, error) {
	var out Remaining
	var err error
	plate := PlateOf(&p.Welder)
	if out.Duty, err = plate.Working(p.Welder.Amps, p.Welder.Derate, x.Trips); err != nil {
		return out, err
	}
	if out.Budget, err = NewBudget(plate.Window, out.Duty.Value); err != nil {
		return out, err
	}
	out.Pace = pace(x)
	d := p.Docket
	d.Budget = out.Budget
	d.Tasks = append([]Task(nil), p.Docket.Tasks...)
	for i := range d.Tasks {
		t := &d.Tasks[i]
		if !t.Kind.Burns() {
			continue
		}
		take := float64(t.Take) * out.Pace.Value
		if i < len(x.Spent) {
			take = math.Max(take-float64(x.Spent[i]), least*take)
		}
		// A seam longer than what the trips left of the budget is split when the plan is made anew.
		t.Take = min(time.Duration(take), d.Budget.Arc)
	}
	keep := p.rank(x)
	_, s, old, err := d.Retime(x.Done, x.Burns, x.Now, keep, Effort{})
	if err != nil {
		return out, err
	}
	out.Elapsed, out.Arc, out.Rest, out.Bound = s.Elapsed, s.ArcTime, s.RestSum, s.Bound
	for _, e := range s.Entries {
		if e.Task >= 0 {
			out.Order, out.Start = append(out.Order, old[e.Task]), append(out.Start, e.Start)
		}
	}
	return out, nil
}

// rank gives the order of what is left: the plan's, but what the worker moved up comes as soon as it can, and what he moved
// down only when nothing else can.
func (p *Plan) rank(x Progress) []int {
	order := p.Schedule.Order()
	t := p.Docket.Tasks
	over := make([]bool, len(t))
	var left []int
	for _, i := range order {
		if i < len(x.Done) && x.Done[i] {
			over[i] = true
		} else {
			left = append(left, i)
		}
	}
	moved := false
	for _, i := range left {
		moved = moved || i < len(x.Rank) && x.Rank[i] != 0
	}
	var ready func(i int) bool
	ready = func(i int) bool {
		for _, a := range t[i].After {
			if !over[a] && (t[a].Kind != Gate || !ready(a)) {
				return false
			}
			over[a] = true // a gate that was passed stays so
		}
		return true
	}
	out := make([]int, 0, len(left))
	for len(left) > 0 {
		at := -1
		for k, i := range left {
			r := 0
			if i < len(x.Rank) {
				r = x.Rank[i]
			}
			if at >= 0 && (r >= rankOf(x.Rank, left[at])) || !ready(i) {
				continue
			}
			at = k
			if !moved || r < 0 {
				break
			}
		}
		if at < 0 { // what is done was done out of order: the rest in its own
			return append(out, left...)
		}
		over[left[at]] = true
		out = append(out, left[at])
		copy(left[1:at+1], left[:at])
		left = left[1:]
	}
	return out
}

func rankOf(rank []int, i int) int {
	if i < len(rank) {
		return rank[i]
	}
	return 0
}

// String words it in a line.
func (r Remaining) String() string {
	return fmt.Sprintf("%s left: arc %s, rest with nothing to do %s", r.Elapsed.Round(time.Second), r.Arc.Round(time.Second), r.Rest.Round(time.Second))
}
