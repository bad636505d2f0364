package weld

import (
	"fmt"
	"sort"
	"time"
)

// Budget is the window rule: in every window of length Window, wherever it starts, the arc burns at most Arc.
type Budget struct {
	Window time.Duration // the plate's period
	Arc    time.Duration // the most arc in it; Arc == Window: no limit
}

// NewBudget gives the budget of a duty (fraction of the window), rounded down to a nanosecond.
func NewBudget(window time.Duration, duty float64) (Budget, error) {
	switch {
	case window <= 0:
		return Budget{}, fmt.Errorf("the window is %v: it must be longer than nothing (plates say 10m)", window)
	case !(duty > 0):
		return Budget{}, fmt.Errorf("a duty of %g %% leaves no arc at all", 100*duty)
	case duty >= 1:
		return Budget{window, window}, nil
	}
	b := time.Duration(float64(window) * duty)
	if b <= 0 {
		return Budget{}, fmt.Errorf("a duty of %g %% leaves no arc at all", 100*duty)
	}
	return Budget{window, b}, nil
}

// Cool is the rest that restores the whole budget after a full burst.
func (b Budget) Cool() time.Duration { return b.Window - b.Arc }

// Span is a stretch of time, [Start, End).
type Span struct {
	Start, End time.Duration
}

// Length of the span.
func (s Span) Length() time.Duration { return s.End - s.Start }

// burnt is the arc so far, in order of time, with the running total, so that "when had c seconds of arc been burnt" is a
// search. Arcs must be added in order and must not overlap.
type burnt struct {
	spans []Span
	total []time.Duration // at the end of each span
}

func (b *burnt) sum() time.Duration {
	if n := len(b.total); n > 0 {
		return b.total[n-1]
	}
	return 0
}

func (b *burnt) add(s Span) {
	if s.End > s.Start {
		b.total = append(b.total, b.sum()+s.Length())
		b.spans = append(b.spans, s)
	}
}

func (b *burnt) cut(n int) { b.spans, b.total = b.spans[:n], b.total[:n] }

// when gives the first moment at which c of arc had been burnt, 0 < c <= sum.
func (b *burnt) when(c time.Duration) time.Duration {
	i := len(b.total) - 1 // the answer lies within the last window, a few spans back
	for i > 0 && b.total[i-1] >= c {
		i--
	}
	return b.spans[i].End - (b.total[i] - c)
}

// at gives the arc burnt before the moment t.
func (b *burnt) at(t time.Duration) time.Duration {
	i := sort.Search(len(b.spans), func(i int) bool { return b.spans[i].End > t })
	var sum time.Duration
	if i > 0 {
		sum = b.total[i-1]
	}
	if i < len(b.spans) && b.spans[i].Start < t {
		sum += t - b.spans[i].Start
	}
	return sum
}

// earliest gives the first moment from t on at which an unbroken arc of length a may start.
//
// While an arc burns, the arc inside the window that ends now never falls (one second comes in, at most one goes out), so
// the window that ends with the arc decides: it must not reach back to the moment at which total+a-Arc had been burnt.
func (r Budget) earliest(b *burnt, t, a time.Duration) time.Duration {
	over := b.sum() + a - r.Arc
	if over <= 0 || r.Arc >= r.Window {
		return t
	}
	return max(t, r.Window+b.when(min(over, b.sum()))-a)
}

// capacity gives the longest unbroken arc that may start at t (0 where none may).
func (r Budget) capacity(b *burnt, t time.Duration) time.Duration {
	if r.Arc >= r.Window {
		return 1<<62 - 1
	}
	from := t - r.Window
	left := r.Arc - (b.sum() - b.at(from)) // may still be added while the window's rear passes arc-free time
	if left < 0 {
		return 0
	}
	i := sort.Search(len(b.spans), func(i int) bool { return b.spans[i].End > from })
	at := from
	for ; i < len(b.spans) && b.spans[i].Start < t; i++ {
		s := b.spans[i]
		if s.Start > at {
			if free := s.Start - at; free > left {
				return at + left - from
			} else {
				left -= free
			}
		}
		at = s.End // over the old arc the window gives back what the new arc takes
	}
	return min(at+left-from, r.Arc)
}

// Excess looks at every window that starts or ends with an arc (no other window can hold more) and gives the greatest
// amount by which one exceeds the budget (0: none does) and where that window starts.
func (r Budget) Excess(arcs []Span) (over, start time.Duration) {
	var b burnt
	sorted := append([]Span(nil), arcs...)
	sort.Slice(sorted, func(i, j int) bool { return sorted[i].Start < sorted[j].Start })
	for _, s := range sorted {
		b.add(s)
	}
	for _, s := range b.spans {
		for _, from := range [2]time.Duration{s.Start, s.End - r.Window} {
			if e := b.at(from+r.Window) - b.at(from) - r.Arc; e > over {
				over, start = e, from
			}
		}
	}
	return over, start
}
