package lp

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
)

// Sense is the relation of a row.
type Sense int8

const (
	GE Sense = iota // at least the right-hand side
	LE              // at most
	EQ              // equal
)

// Status tells how Solve ended.
type Status int8

const (
	Optimal    Status = iota
	Infeasible        // no point satisfies the rows
	Unbounded         // the objective falls without end
	Stopped           // the context ended first
	Troubled          // the numbers broke down; the point is not to be used
)

func (s Status) String() string {
	return [...]string{"optimal", "infeasible", "unbounded", "stopped", "troubled"}[s]
}

// ErrShape is returned where a column names a row that is not there.
var ErrShape = errors.New("lp: column names a row outside the matrix")

const (
	nonbasic = int32(-1)
	barred   = int32(-2) // never enters
)

// LP is a growing linear program with its current basis. The zero value is an empty program.
type LP struct {
	m     int
	rhs   []float64
	nudge []float64 // small shifts of rhs that break ties; see Nudge
	sense []Sense
	slack []int32 // row -> its logical column

	cost  []float64
	shift []float64
	start []int32
	idx   []int32
	val   []float64
	where []int32 // column -> basis position, nonbasic or barred
	logic []bool

	basis []int32 // position -> column
	xb    []float64
	f     factor
	fresh bool // factor and xb match the basis

	tol           float64 // of the reduced costs under these duals
	pi            []float64
	alpha, rowbuf []float64
	cand          []int32
	scan          int

	// Pivots counts the basis changes since the program was made.
	Pivots int
}

const (
	tolPrimal = 1e-9
	tolDual   = 1e-9
	refactor  = 80
)

// Rows returns the number of rows, Cols the number of columns given by AddCol.
func (l *LP) Rows() int { return l.m }

// AddRow appends a row and returns its index. Existing columns have no entry in it.
func (l *LP) AddRow(sense Sense, rhs float64) int {
	r := l.m
	l.m++
	l.rhs = append(l.rhs, rhs)
	l.nudge = append(l.nudge, 0)
	l.sense = append(l.sense, sense)
	v := -1.0
	if sense != GE {
		v = 1
	}
	j := l.newCol(0, []int32{int32(r)}, []float64{v})
	l.logic[j] = true
	l.slack = append(l.slack, int32(j))
	l.where[j] = int32(r)
	l.basis = append(l.basis, int32(j))
	l.fresh = false
	return r
}

func (l *LP) newCol(cost float64, idx []int32, val []float64) int {
	if len(l.start) == 0 {
		l.start = append(l.start, 0)
	}
	j := len(l.cost)
	l.cost = append(l.cost, cost)
	l.shift = append(l.shift, 0)
	l.idx = append(l.idx, idx...)
	l.val = append(l.val, val...)
	l.start = append(l.start, int32(len(l.idx)))
	l.where = append(l.where, nonbasic)
	l.logic = append(l.logic, false)
	return j
}

// AddCol appends a column x_j >= 0 and returns its handle.
func (l *LP) AddCol(cost float64, idx []int32, val []float64) (int, error) {
	for _, r := range idx {
		if r < 0 || int(r) >= l.m {
			return -1, fmt.Errorf("%w: row %d of %d", ErrShape, r, l.m)
		}
	}
	return l.newCol(cost, idx, val), nil
}

// SetCost changes the cost of column j.
func (l *LP) SetCost(j int, c float64) { l.cost[j] = c }

// Cost returns the cost of column j.
func (l *LP) Cost(j int) float64 { return l.cost[j] }

// SetRHS changes the right-hand side of row r.
func (l *LP) SetRHS(r int, b float64) {
	l.rhs[r] = b
	l.fresh = false
}

// Nudge shifts the right-hand side of row r by a small amount while solving, which breaks the ties that make the
// simplex method stall. Duals stay duals; X carries the shift.
func (l *LP) Nudge(r int, by float64) {
	l.nudge[r] = by
	l.fresh = false
}

// Bar keeps column j out of the basis from now on (a basic one stays until it leaves); Unbar allows it again.
func (l *LP) Bar(j int) {
	if l.where[j] == nonbasic {
		l.where[j] = barred
	}
}

// Unbar undoes Bar.
func (l *LP) Unbar(j int) {
	if l.where[j] == barred {
		l.where[j] = nonbasic
	}
}

// Basic tells whether column j is in the basis.
func (l *LP) Basic(j int) bool { return l.where[j] >= 0 }

// X returns the value of column j.
func (l *LP) X(j int) float64 {
	if p := l.where[j]; p >= 0 {
		return l.xb[p]
	}
	return 0
}

// Dual returns the dual value of row r after Solve.
func (l *LP) Dual(r int) float64 { return l.pi[r] }

// Value returns the objective of the current basis at the unshifted right-hand side.
func (l *LP) Value() float64 {
	v := 0.0
	for r := 0; r < l.m; r++ {
		v += l.pi[r] * l.rhs[r]
	}
	return v
}

// Reduced returns cost minus duals times column for column j.
func (l *LP) Reduced(j int) float64 {
	return l.cost[j] + l.shift[j] - l.price(j)
}

func (l *LP) column(p int) ([]int32, []float64) {
	j := l.basis[p]
	a, b := l.start[j], l.start[j+1]
	return l.idx[a:b], l.val[a:b]
}

// refresh factors the basis (repairing it with logicals where it is singular) and recomputes the basic values.
func (l *LP) refresh() {
	for try := 0; ; try++ {
		bad, rows := l.f.build(l.m, l.column)
		if len(bad) == 0 {
			break
		}
		for n, p := range bad {
			if j := l.basis[p]; l.where[j] == p {
				l.where[j] = nonbasic
			}
			s := l.slack[rows[n]]
			l.basis[p] = s
			l.where[s] = p
		}
		if try > 3 {
			break
		}
	}
	l.xb = resize(l.xb, l.m)
	l.alpha = resize(l.alpha, l.m)
	l.rowbuf = resize(l.rowbuf, l.m)
	l.pi = resize(l.pi, l.m)
	for r := 0; r < l.m; r++ {
		l.rowbuf[r] = l.rhs[r] + l.nudge[r]
	}
	l.f.ftran(l.rowbuf, l.xb)
	l.fresh = true
}

func (l *LP) duals() {
	c := l.rowbuf
	for p := 0; p < l.m; p++ {
		j := l.basis[p]
		c[p] = l.cost[j] + l.shift[j]
	}
	l.f.btran(c, l.pi)
	// Where duals are large the last digits of the reduced costs are noise, over which the basis might go round for ever.
	most := 0.0
	for _, v := range l.pi {
		most = math.Max(most, math.Abs(v))
	}
	l.tol = math.Max(tolDual, 2e-14*most)
}

// direction computes alpha = B^-1 a_j.
func (l *LP) direction(j int32) {
	b := l.rowbuf
	for i := range b {
		b[i] = 0
	}
	for q := l.start[j]; q < l.start[j+1]; q++ {
		b[l.idx[q]] = l.val[q]
	}
	l.f.ftran(b, l.alpha)
}

// swap makes column j basic at position r with step t.
func (l *LP) swap(r int, j int32, t float64) {
	for i, a := range l.alpha {
		if a != 0 {
			l.xb[i] -= t * a
		}
	}
	l.xb[r] = t
	out := l.basis[r]
	l.where[out] = nonbasic
	if l.logic[out] && l.senseOf(out) == EQ {
		l.where[out] = barred
	}
	l.basis[r] = j
	l.where[j] = int32(r)
	l.Pivots++
	if len(l.f.etaPos)+1 >= refactor || len(l.f.etaIdx) > 8*(len(l.f.lidx)+len(l.f.uidx)+l.m) {
		l.refresh()
		return
	}
	l.f.pivot(r, l.alpha)
}

func (l *LP) senseOf(logical int32) Sense { return l.sense[l.idx[l.start[logical]]] }

// Solve brings the program to optimality from the current basis.
func (l *LP) Solve(ctx context.Context) Status {
	if l.m == 0 {
		for _, c := range l.cost {
			if c < 0 {
				return Unbounded
			}
		}
		return Optimal
	}
	for try := 0; try < 4; try++ {
		if !l.fresh || try > 0 {
			l.refresh()
		}
		for j := range l.shift {
			l.shift[j] = 0
		}
		if !l.primalFeasible() {
			l.duals()
			l.shiftCosts()
			if s := l.dual(ctx); s != Optimal {
				if s == Troubled {
					continue
				}
				l.unshift()
				l.duals()
				return s
			}
			l.unshift()
		}
		s := l.primal(ctx)
		if s == Troubled {
			continue
		}
		return s
	}
	return Troubled
}

func (l *LP) unshift() {
	for j := range l.shift {
		l.shift[j] = 0
	}
}

func (l *LP) primalFeasible() bool {
	for p, x := range l.xb {
		if x < -tolPrimal {
			return false
		}
		if j := l.basis[p]; l.logic[j] && l.senseOf(j) == EQ && x > tolPrimal {
			return false
		}
	}
	return true
}

// price returns the duals times column j.
func (l *LP) price(j int) float64 {
	d := 0.0
	for q := l.start[j]; q < l.start[j+1]; q++ {
		d += l.pi[l.idx[q]] * l.val[q]
	}
	return d
}

// primal runs the primal simplex method (Dantzig's rule over a short list of candidates).
func (l *LP) primal(ctx context.Context) Status {
	stall, bland := 0, false
	for iter := 0; ; iter++ {
		if iter&15 == 0 && ctx.Err() != nil {
			l.duals()
			return Stopped
		}
		if iter > 200*l.m+20000 {
			return Troubled
		}
		l.duals()
		j := l.entering(bland)
		if j < 0 {
			return Optimal
		}
		l.direction(j)
		r, t := l.leaving(bland)
		if r < 0 {
			if len(l.f.etaPos) > 0 {
				l.refresh()
				continue
			}
			return Unbounded
		}
		if math.Abs(l.alpha[r]) < 1e-7 && len(l.f.etaPos) > 0 {
			l.refresh()
			if !l.primalFeasible() {
				return Troubled
			}
			continue
		}
		if t > 1e-11 {
			stall, bland = 0, false
		} else if stall++; stall > 3*l.m+200 {
			bland = true
			if stall > 60*l.m+5000 {
				return Troubled
			}
		}
		l.swap(r, j, t)
	}
}

func (l *LP) entering(bland bool) int32 {
	if bland {
		for j := range l.cost {
			if l.where[j] == nonbasic && l.Reduced(j) < -l.tol {
				return int32(j)
			}
		}
		return -1
	}
	pick := func() int32 {
		best, at := -l.tol, int32(-1)
		keep := l.cand[:0]
		for _, j := range l.cand {
			if l.where[j] != nonbasic {
				continue
			}
			d := l.Reduced(int(j))
			if d >= -l.tol {
				continue
			}
			keep = append(keep, j)
			if d < best {
				best, at = d, j
			}
		}
		l.cand = keep
		return at
	}
	if j := pick(); j >= 0 {
		return j
	}
	const most = 64
	n := len(l.cost)
	if l.scan >= n {
		l.scan = 0
	}
	l.cand = l.cand[:0]
	for k := 0; k < n; k++ {
		j := l.scan
		if l.scan++; l.scan == n {
			l.scan = 0
		}
		if l.where[j] == nonbasic && l.Reduced(j) < -l.tol {
			if l.cand = append(l.cand, int32(j)); len(l.cand) == most {
				break
			}
		}
	}
	return pick()
}

// leaving is the ratio test with a tolerance (Harris): among the positions that block within it, the largest pivot.
func (l *LP) leaving(bland bool) (int, float64) {
	const eps = 1e-9
	limit := math.Inf(1)
	for i, a := range l.alpha {
		if a > eps {
			if t := (math.Max(l.xb[i], 0) + 1e-9) / a; t < limit {
				limit = t
			}
		} else if a < -eps {
			// A logical of an equality that is basic at zero must not grow.
			if j := l.basis[i]; l.logic[j] && l.senseOf(j) == EQ {
				if t := 1e-9 / -a; t < limit {
					limit = t
				}
			}
		}
	}
	if math.IsInf(limit, 1) {
		return -1, 0
	}
	r, big := -1, 0.0
	for i, a := range l.alpha {
		if a > eps && math.Max(l.xb[i], 0) <= limit*a {
			if bland {
				if r < 0 || l.basis[i] < l.basis[r] {
					r, big = i, a
				}
			} else if a > big {
				r, big = i, a
			}
		} else if a < -eps && -a > big && !bland {
			if j := l.basis[i]; l.logic[j] && l.senseOf(j) == EQ {
				r, big = i, -a
			}
		}
	}
	if r < 0 {
		return -1, 0
	}
	t := math.Max(l.xb[r], 0) / l.alpha[r]
	if l.alpha[r] < 0 {
		t = 0
	}
	return r, t
}

// RHS returns the right-hand side of row r.
func (l *LP) RHS(r int) float64 { return l.rhs[r] }

// Clone returns an independent copy in the same state.
func (l *LP) Clone() *LP {
	c := &LP{
		m: l.m, rhs: slices.Clone(l.rhs), nudge: slices.Clone(l.nudge), sense: slices.Clone(l.sense), slack: slices.Clone(l.slack),
		cost: slices.Clone(l.cost), shift: slices.Clone(l.shift), start: slices.Clone(l.start), idx: slices.Clone(l.idx), val: slices.Clone(l.val),
		where: slices.Clone(l.where), logic: slices.Clone(l.logic), basis: slices.Clone(l.basis), Pivots: l.Pivots,
	}
	c.refresh()
	c.duals()
	return c
}

// Barred tells whether column j is kept out.
func (l *LP) Barred(j int) bool { return l.where[j] == barred }

// Start makes the given columns basic, one for each row as far as they go, the rows' own logicals for the rest; Solve
// goes on from there. Columns that are dependent are replaced when the basis is factored.
func (l *LP) Start(cols []int) {
	for p, j := range l.basis {
		if l.where[j] == int32(p) {
			l.where[j] = nonbasic
		}
	}
	p := 0
	for _, j := range cols {
		if p < l.m && l.where[j] == nonbasic {
			l.basis[p] = int32(j)
			l.where[j] = int32(p)
			p++
		}
	}
	for r := 0; r < l.m && p < l.m; r++ {
		if s := l.slack[r]; l.where[s] < 0 {
			l.basis[p] = s
			l.where[s] = int32(p)
			p++
		}
	}
	l.fresh = false
}

// Logical returns the handle of the logical column of row r.
func (l *LP) Logical(r int) int { return int(l.slack[r]) }
