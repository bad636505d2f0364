package lp

import (
	"context"
	"math"
)

// shiftCosts makes every nonbasic column dual feasible, and no two alike: a small share of its own, the same in every
// run, keeps the dual method from stalling on ties.
func (l *LP) shiftCosts() {
	for j := range l.cost {
		if l.where[j] == nonbasic {
			h := uint32(j) * 2654435761
			h ^= h >> 15
			l.shift[j] = 1e-7 * (1 + float64(h&0xffff)/65536)
			if d := l.cost[j] - l.price(j); d < 0 {
				l.shift[j] -= d
			}
		}
	}
}

// dual runs the dual simplex method from a dual feasible basis until the basis is primal feasible too.
func (l *LP) dual(ctx context.Context) Status {
	rho := make([]float64, l.m)
	red := make([]float64, len(l.cost))
	row := make([]float64, len(l.cost)) // the pivot row, nonbasic part
	stale := true
	for iter := 0; ; iter++ {
		if iter&15 == 0 && ctx.Err() != nil {
			l.duals()
			return Stopped
		}
		if iter > 200*l.m+20000 {
			return Troubled
		}
		if stale {
			l.duals()
			for j := range l.cost {
				if l.where[j] == nonbasic {
					red[j] = l.Reduced(j)
				}
			}
			stale = false
		}
		r, worst, up := -1, tolPrimal, false
		for p, x := range l.xb {
			if -x > worst {
				r, worst, up = p, -x, false
			} else if x > worst {
				if j := l.basis[p]; l.logic[j] && l.senseOf(j) == EQ {
					r, worst, up = p, x, true
				}
			}
		}
		if r < 0 {
			return Optimal
		}
		for i := range l.rowbuf {
			l.rowbuf[i] = 0
		}
		l.rowbuf[r] = 1
		l.f.btran(l.rowbuf, rho)
		sign := -1.0
		if up {
			sign = 1
		}
		enter, bestRatio, bestPiv := int32(-1), math.Inf(1), 0.0
		for j := range l.cost {
			if l.where[j] != nonbasic {
				continue
			}
			a := 0.0
			for q := l.start[j]; q < l.start[j+1]; q++ {
				a += rho[l.idx[q]] * l.val[q]
			}
			a *= sign
			row[j] = a
			if a <= 1e-9 {
				continue
			}
			ratio := math.Max(red[j], 0) / a
			if ratio < bestRatio-1e-12 || ratio < bestRatio+1e-12 && a > bestPiv {
				enter, bestRatio, bestPiv = int32(j), ratio, a
			}
		}
		if enter < 0 {
			if len(l.f.etaPos) > 0 {
				l.refresh()
				stale = true
				continue
			}
			return Infeasible
		}
		l.direction(enter)
		if math.Abs(l.alpha[r]) < 1e-7 || math.Abs(math.Abs(l.alpha[r])-bestPiv) > 1e-6*(1+bestPiv) {
			if len(l.f.etaPos) > 0 {
				l.refresh()
				stale = true
				continue
			}
			if math.Abs(l.alpha[r]) < 1e-9 {
				return Troubled
			}
		}
		// Reduced costs move along the pivot row; they are computed anew with every factoring.
		out := l.basis[r]
		for j := range l.cost {
			if l.where[j] == nonbasic && row[j] != 0 {
				red[j] -= bestRatio * row[j]
			}
		}
		red[out] = bestRatio
		l.swap(r, enter, l.xb[r]/l.alpha[r])
		stale = len(l.f.etaPos) == 0
	}
}
