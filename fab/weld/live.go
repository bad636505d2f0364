package weld

import (
	"fmt"
	"sort"
	"time"
)

// Burn is one arc as the booth recorded it. Times are on the clock of the record, as durations since any fixed moment.
type Burn struct {
	Start   time.Duration
	End     time.Duration
	Open    bool          // no end was recorded: it burns now, or the record broke off
	Planned time.Duration // how long the plan thought it would take; 0: not known
	Seam    string
}

// Booth is the state of the machine at a moment, from what was recorded.
type Booth struct {
	Burning  bool          // an arc burns
	Since    time.Duration // how long it has burnt
	Used     time.Duration // arc in the window that ends now
	Left     time.Duration // arc that may still be added to that window
	Straight time.Duration // the longest unbroken arc that may begin now (or how much longer the present one may go on)
	Cold     time.Duration // how long until the whole budget is back, if the arc stays off
	Doubts   []Doubt
}

// Doubt is a recorded arc that should be asked about.
type Doubt struct {
	Burn int // index
	Why  string
	// Guess is an end that would be plausible: the planned length after its start, or now.
	Guess time.Duration
}

// longArc is how many times longer than planned an arc may be before it is asked about.
const longArc = 2

// lostArc is how long an arc without a plan may burn before it is asked about: longer than any budget of a small machine.
func lostArc(b Budget) time.Duration { return min(2*b.Arc, b.Window) }

// At gives the state of the booth at the moment now. Burns may come in any order; overlapping ones are joined. An open burn
// counts as burning until now.
func (r Budget) At(burns []Burn, now time.Duration) Booth {
	var s Booth
	b := &burnt{}
	for _, x := range joined(burns, now) {
		b.add(x)
	}
	for i, x := range burns {
		if x.Open && x.Start <= now {
			s.Burning = true
			s.Since = max(s.Since, now-x.Start)
		}
		if d, ok := r.doubt(x, now); ok {
			d.Burn = i
			s.Doubts = append(s.Doubts, d)
		}
	}
	s.Used = b.sum() - b.at(now-r.Window)
	s.Left = max(0, r.Arc-s.Used)
	s.Straight = r.capacity(b, now)
	if r.Arc >= r.Window {
		s.Left, s.Straight = r.Window, r.Window
	}
	s.Cold = max(0, r.earliest(b, now, r.Arc)-now)
	return s
}

func (r Budget) doubt(x Burn, now time.Duration) (Doubt, bool) {
	end := x.End
	if x.Open {
		end = now
	}
	took := end - x.Start
	switch {
	case took < 0:
		return Doubt{Why: "it ends before it starts", Guess: x.Start}, true
	case x.Planned > 0 && took > longArc*x.Planned:
		why := fmt.Sprintf("it burnt %s, planned were %s", took.Round(time.Second), x.Planned.Round(time.Second))
		if x.Open {
			why = fmt.Sprintf("it has no end; %s have passed, planned were %s", took.Round(time.Second), x.Planned.Round(time.Second))
		}
		return Doubt{Why: why, Guess: x.Start + x.Planned}, true
	case x.Planned <= 0 && took > lostArc(r):
		return Doubt{Why: fmt.Sprintf("it burnt %s, twice what the machine is good for", took.Round(time.Second)), Guess: x.Start + r.Arc}, true
	}
	return Doubt{}, false
}

// joined sorts burns by time and joins those that overlap; what lies after now is cut off.
func joined(burns []Burn, now time.Duration) []Span {
	var spans []Span
	for _, x := range burns {
		s := Span{x.Start, x.End}
		if x.Open || s.End > now {
			s.End = now
		}
		if s.End > s.Start {
			spans = append(spans, s)
		}
	}
	sort.Slice(spans, func(i, j int) bool { return spans[i].Start < spans[j].Start })
	var out []Span
	for _, s := range spans {
		if n := len(out); n > 0 && s.Start <= out[n-1].End {
			out[n-1].End = max(out[n-1].End, s.End)
			continue
		}
		out = append(out, s)
	}
	return out
}

// Ready gives the first moment from now on at which an unbroken arc of that length may begin, if no other arc burns in
// between. An arc longer than the budget never may; ok is false then.
func (r Budget) Ready(burns []Burn, now, arc time.Duration) (when time.Duration, ok bool) {
	if arc > r.Arc && r.Arc < r.Window {
		return now, false
	}
	b := &burnt{}
	for _, x := range joined(burns, now) {
		b.add(x)
	}
	return r.earliest(b, now, arc), true
}

// Retime gives the rest of a docket as it stands at the moment now: done tasks fall out, the arc that really burnt is what
// the window sees, and what is left is planned anew (keep: in the order of the schedule that was in hand). Times of the new
// schedule count from now; its entries name tasks of the returned docket, whose indices differ from the old ones (old gives
// the way back).
func (d *Docket) Retime(done []bool, burns []Burn, now time.Duration, keep []int, effort Effort) (rest Docket, s Schedule, old []int, err error) {
	rest = Docket{Budget: d.Budget, Spread: d.Spread}
	for _, x := range joined(burns, now) {
		if x.End-now > -2*d.Budget.Window {
			rest.Before = append(rest.Before, Span{x.Start - now, x.End - now})
		}
	}
	number := make([]int, len(d.Tasks))
	for i, t := range d.Tasks {
		number[i] = -1
		if i < len(done) && done[i] {
			continue
		}
		number[i] = len(rest.Tasks)
		rest.Tasks = append(rest.Tasks, t)
		old = append(old, i)
	}
	for k := range rest.Tasks {
		var after []int
		for _, a := range rest.Tasks[k].After {
			if number[a] >= 0 {
				after = append(after, number[a])
			}
		}
		rest.Tasks[k].After = after
	}
	if keep != nil {
		var order []int
		for _, i := range keep {
			if number[i] >= 0 {
				order = append(order, number[i])
			}
		}
		s, err = rest.InOrder(order)
		return rest, s, old, err
	}
	s, err = rest.Best(effort)
	return rest, s, old, err
}

// Meanwhile lists what can be done with the arc off at a moment of a docket: tasks that wait for nothing, longest first
// among those that fit the time, then the others.
func (d *Docket) Meanwhile(done []bool, free time.Duration) []int {
	var fit, long []int
	opened := make([]int, len(d.Tasks)) // 0 unknown, 1 over, 2 open
	var over func(i int) bool
	over = func(i int) bool {
		if i < len(done) && done[i] {
			return true
		}
		if d.Tasks[i].Kind != Gate {
			return false
		}
		if opened[i] == 0 {
			opened[i] = 1
			for _, a := range d.Tasks[i].After {
				if !over(a) {
					opened[i] = 2
					break
				}
			}
		}
		return opened[i] == 1
	}
	for i, t := range d.Tasks {
		if t.Kind == Gate || t.Kind.Burns() || i < len(done) && done[i] {
			continue
		}
		ready := true
		for _, a := range t.After {
			ready = ready && over(a)
		}
		switch {
		case !ready:
		case t.Take <= free:
			fit = append(fit, i)
		default:
			long = append(long, i)
		}
	}
	sort.SliceStable(fit, func(a, b int) bool { return d.Tasks[fit[a]].Take > d.Tasks[fit[b]].Take })
	return append(fit, long...)
}
