package weld

import (
	"math/rand/v2"
	"time"
)

// improve moves single tasks within an order, or lets two arcs change places, as long as that shortens it or heats the
// frame more evenly in the same time: a fixed number of times. Most tries are made near a rest, which is what is to be
// filled.
func improve(b *book, best *lane, low time.Duration, moves int) *lane {
	n := len(best.order)
	if n < 2 {
		return best
	}
	r := rand.New(rand.NewPCG(uint64(n), 7))
	order := append([]int(nil), best.order...)
	heat := best.heat()
	idle := waits(b, best)
	for tries := moves / n; tries > 0 && best.now > low; tries-- {
		from, to := r.IntN(n), r.IntN(n)
		if len(idle) > 0 && r.IntN(4) > 0 { // in front of an arc that waits, from behind it or from not far before
			to = idle[r.IntN(len(idle))]
			if from = to + 1 + r.IntN(40); r.IntN(3) == 0 {
				from = to - 1 - r.IntN(60)
			}
			from = min(max(0, from), n-1)
		}
		if from == to {
			continue
		}
		copy(order, best.order)
		i, j := order[from], order[to]
		switch {
		case b.Tasks[i].Kind == Arc && b.Tasks[j].Kind == Arc && r.IntN(2) == 0:
			order[from], order[to] = j, i
		case from < to:
			copy(order[from:to], order[from+1:to+1])
			order[to] = i
		default:
			copy(order[to+1:from+1], order[to:from])
			order[to] = i
		}
		l := tryOrder(b, order, best.now)
		if l == nil {
			continue
		}
		if h := l.heat(); l.now < best.now || h < heat {
			best, heat, idle = l, h, waits(b, l)
		}
	}
	return best
}

// settle lets two passes of one stage change places as long as that heats the frame more evenly, or keeps it straighter, in
// the same time: a fixed number of times.
func settle(b *book, best *lane, moves int) *lane {
	var passes []int // places of passes in the order
	for k, i := range best.order {
		if b.Tasks[i].Kind == Arc {
			passes = append(passes, k)
		}
	}
	if len(passes) < 2 {
		return best
	}
	r := rand.New(rand.NewPCG(uint64(len(best.order)), 11))
	order := append([]int(nil), best.order...)
	heat := best.heat()
	for tries := moves / len(order) / 2; tries > 0; tries-- {
		x, y := passes[r.IntN(len(passes))], passes[r.IntN(len(passes))]
		if x == y || b.Tasks[order[x]].Stage != b.Tasks[order[y]].Stage {
			continue
		}
		order[x], order[y] = order[y], order[x]
		if l := tryOrder(b, order, best.now); l != nil {
			if h := l.heat(); h < heat {
				best, heat = l, h
				continue
			}
		}
		order[x], order[y] = order[y], order[x]
	}
	return best
}

// waits gives the places in an order at which an arc waits for the machine.
func waits(b *book, l *lane) []int {
	var at []int
	var now time.Duration
	for k, i := range l.order {
		if l.start[k] > now {
			at = append(at, k)
		}
		now = l.start[k] + b.Tasks[i].Take
	}
	return at
}

// tryOrder replays an order if precedence and the heat rule allow it and it stays within limit.
func tryOrder(b *book, order []int, limit time.Duration) *lane {
	l := newLane(b)
	for _, i := range order {
		if !l.ready[i] || !l.allowed(i) {
			return nil
		}
		if l.do(i); l.now > limit {
			return nil
		}
	}
	return l
}
