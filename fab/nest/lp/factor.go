package lp

import "math"

// factor is B = L U up to row and column order, followed by the etas of the pivots made since.
// "Row" is a row of the matrix, "position" a place in the basis.
type factor struct {
	m            int
	lptr         []int32 // L by elimination step: multipliers of the rows below the pivot
	lidx         []int32
	lval         []float64
	uptr         []int32 // U by elimination step: entries above the diagonal, indexed by their row
	uidx         []int32
	uval         []float64
	udiag        []float64
	prow, pcol   []int32 // step -> pivot row, step -> basis position
	steprow      []int32 // row -> step that pivots on it, -1 before
	etaPos       []int32
	etaPtr       []int32
	etaIdx       []int32
	etaVal       []float64
	etaPiv       []float64
	work         []float64
	mark         []int32
	stack, order []int32
	pstack       []int32
	tag          int32
}

const (
	dropTol  = 1e-13
	pivotTol = 1e-9
)

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/4+8)
	}
	return s[:n]
}

// build factors the basis whose position p holds column col(p). It returns the positions that could not be pivoted
// on and the rows left over (a singular basis); the caller puts the rows' logicals there.
func (f *factor) build(m int, col func(p int) ([]int32, []float64)) (badPos, badRow []int32) {
	f.m = m
	f.lptr = append(f.lptr[:0], 0)
	f.uptr = append(f.uptr[:0], 0)
	f.lidx, f.lval, f.uidx, f.uval = f.lidx[:0], f.lval[:0], f.uidx[:0], f.uval[:0]
	f.udiag, f.prow, f.pcol = f.udiag[:0], f.prow[:0], f.pcol[:0]
	f.etaPos, f.etaIdx, f.etaVal, f.etaPiv = f.etaPos[:0], f.etaIdx[:0], f.etaVal[:0], f.etaPiv[:0]
	f.etaPtr = append(f.etaPtr[:0], 0)
	f.steprow = resize(f.steprow, m)
	f.work = resize(f.work, m)
	f.mark = resize(f.mark, m)
	for i := 0; i < m; i++ {
		f.steprow[i], f.work[i], f.mark[i] = -1, 0, 0
	}
	f.tag = 0
	rowCount, order, want := f.sequence(m, col)
	for k, p := range order {
		idx, val := col(int(p))
		f.tag++
		f.order = f.order[:0]
		for n, r := range idx {
			f.work[r] = val[n]
			if f.mark[r] != f.tag {
				f.reach(r)
			}
		}
		// f.order is a post-order: its reverse is topological for the eliminations.
		best := 0.0
		for n := len(f.order) - 1; n >= 0; n-- {
			r := f.order[n]
			x := f.work[r]
			s := f.steprow[r]
			if s < 0 {
				if a := math.Abs(x); a > best {
					best = a
				}
				continue
			}
			if x == 0 {
				continue
			}
			for q := f.lptr[s]; q < f.lptr[s+1]; q++ {
				f.work[f.lidx[q]] -= f.lval[q] * x
			}
		}
		// The largest may have changed while later rows were updated: look again over the free rows.
		best = 0
		for _, r := range f.order {
			if f.steprow[r] < 0 {
				if a := math.Abs(f.work[r]); a > best {
					best = a
				}
			}
		}
		piv := int32(-1)
		if best > pivotTol {
			if w := want[k]; w >= 0 && f.steprow[w] < 0 && f.mark[w] == f.tag && math.Abs(f.work[w]) >= 0.05*best {
				piv = w
			} else {
				for _, r := range f.order {
					if f.steprow[r] >= 0 || math.Abs(f.work[r]) < 0.1*best {
						continue
					}
					if piv < 0 || rowCount[r] < rowCount[piv] || rowCount[r] == rowCount[piv] && r < piv {
						piv = r
					}
				}
			}
		}
		if piv < 0 {
			badPos = append(badPos, p)
			for _, r := range f.order {
				f.work[r] = 0
			}
			continue
		}
		d := f.work[piv]
		for _, r := range f.order {
			x := f.work[r]
			f.work[r] = 0
			if r == piv || math.Abs(x) < dropTol {
				continue
			}
			if f.steprow[r] >= 0 {
				f.uidx = append(f.uidx, r)
				f.uval = append(f.uval, x)
			} else {
				f.lidx = append(f.lidx, r)
				f.lval = append(f.lval, x/d)
			}
		}
		f.steprow[piv] = int32(len(f.prow))
		f.prow = append(f.prow, piv)
		f.pcol = append(f.pcol, p)
		f.udiag = append(f.udiag, d)
		f.lptr = append(f.lptr, int32(len(f.lidx)))
		f.uptr = append(f.uptr, int32(len(f.uidx)))
	}
	if len(badPos) > 0 {
		for i := 0; i < m; i++ {
			if f.steprow[i] < 0 {
				badRow = append(badRow, int32(i))
			}
		}
	}
	return badPos, badRow
}

// reach pushes r and all rows that its elimination touches on f.order, in post-order.
func (f *factor) reach(r int32) {
	f.stack = append(f.stack[:0], r)
	f.pstack = append(f.pstack[:0], f.firstL(r))
	f.mark[r] = f.tag
	for len(f.stack) > 0 {
		top := len(f.stack) - 1
		r := f.stack[top]
		s := f.steprow[r]
		done := true
		if s >= 0 {
			for q := f.pstack[top]; q < f.lptr[s+1]; q++ {
				c := f.lidx[q]
				if f.mark[c] != f.tag {
					f.mark[c] = f.tag
					f.pstack[top] = q + 1
					f.stack = append(f.stack, c)
					f.pstack = append(f.pstack, f.firstL(c))
					done = false
					break
				}
			}
		}
		if done {
			f.order = append(f.order, r)
			f.stack = f.stack[:top]
			f.pstack = f.pstack[:top]
		}
	}
}

func (f *factor) firstL(r int32) int32 {
	if s := f.steprow[r]; s >= 0 {
		return f.lptr[s]
	}
	return 0
}

// sequence orders the basis positions for elimination: columns, then rows, with one entry left in the shrinking
// matrix first (they cause no fill), the rest by their count. want gives the pivot row where it is settled.
func (f *factor) sequence(m int, col func(p int) ([]int32, []float64)) (rowCount []int32, order, want []int32) {
	rowCount = make([]int32, m)
	colCount := make([]int32, m)
	nnz := 0
	for p := 0; p < m; p++ {
		idx, _ := col(p)
		colCount[p] = int32(len(idx))
		nnz += len(idx)
		for _, r := range idx {
			rowCount[r]++
		}
	}
	rptr := make([]int32, m+1)
	for i := 0; i < m; i++ {
		rptr[i+1] = rptr[i] + rowCount[i]
	}
	ridx := make([]int32, nnz)
	fill := append([]int32(nil), rptr[:m]...)
	for p := 0; p < m; p++ {
		idx, _ := col(p)
		for _, r := range idx {
			ridx[fill[r]] = int32(p)
			fill[r]++
		}
	}
	order = make([]int32, 0, m)
	want = make([]int32, 0, m)
	colDone := make([]bool, m)
	rowDone := make([]bool, m)
	var queueC, queueR []int32
	for p := 0; p < m; p++ {
		if colCount[p] == 1 {
			queueC = append(queueC, int32(p))
		}
	}
	for r := 0; r < m; r++ {
		if rowCount[r] == 1 {
			queueR = append(queueR, int32(r))
		}
	}
	take := func(p, r int32) {
		order = append(order, p)
		want = append(want, r)
		colDone[p], rowDone[r] = true, true
		idx, _ := col(int(p))
		for _, q := range idx {
			if !rowDone[q] {
				if rowCount[q]--; rowCount[q] == 1 {
					queueR = append(queueR, q)
				}
			}
		}
		for _, c := range ridx[rptr[r]:rptr[r+1]] {
			if !colDone[c] {
				if colCount[c]--; colCount[c] == 1 {
					queueC = append(queueC, c)
				}
			}
		}
	}
	for len(queueC) > 0 || len(queueR) > 0 {
		if n := len(queueC); n > 0 {
			p := queueC[n-1]
			queueC = queueC[:n-1]
			if colDone[p] || colCount[p] != 1 {
				continue
			}
			idx, _ := col(int(p))
			for _, r := range idx {
				if !rowDone[r] {
					take(p, r)
					break
				}
			}
			continue
		}
		n := len(queueR)
		r := queueR[n-1]
		queueR = queueR[:n-1]
		if rowDone[r] || rowCount[r] != 1 {
			continue
		}
		for _, p := range ridx[rptr[r]:rptr[r+1]] {
			if !colDone[p] {
				take(p, r)
				break
			}
		}
	}
	// The nucleus: by count, ties by position (a counting sort keeps it stable).
	most := int32(0)
	for p := 0; p < m; p++ {
		if !colDone[p] && colCount[p] > most {
			most = colCount[p]
		}
	}
	heads := make([]int32, most+2)
	for p := 0; p < m; p++ {
		if !colDone[p] {
			heads[colCount[p]+1]++
		}
	}
	for i := int32(1); i <= most+1; i++ {
		heads[i] += heads[i-1]
	}
	base := int32(len(order))
	order = order[:m]
	for p := 0; p < m; p++ {
		if !colDone[p] {
			order[base+heads[colCount[p]]] = int32(p)
			heads[colCount[p]]++
		}
	}
	for len(want) < m {
		want = append(want, -1)
	}
	return rowCount, order, want
}

// ftran solves B y = b: b by row (spoiled), y by position (fully written).
func (f *factor) ftran(b, y []float64) {
	m := f.m
	for k := 0; k < m; k++ {
		t := b[f.prow[k]]
		if t == 0 {
			continue
		}
		for q := f.lptr[k]; q < f.lptr[k+1]; q++ {
			b[f.lidx[q]] -= f.lval[q] * t
		}
	}
	for k := m - 1; k >= 0; k-- {
		t := b[f.prow[k]]
		if t == 0 {
			y[f.pcol[k]] = 0
			continue
		}
		t /= f.udiag[k]
		y[f.pcol[k]] = t
		for q := f.uptr[k]; q < f.uptr[k+1]; q++ {
			b[f.uidx[q]] -= f.uval[q] * t
		}
	}
	for e, r := range f.etaPos {
		t := y[r]
		if t == 0 {
			continue
		}
		t /= f.etaPiv[e]
		y[r] = t
		for q := f.etaPtr[e]; q < f.etaPtr[e+1]; q++ {
			y[f.etaIdx[q]] -= f.etaVal[q] * t
		}
	}
}

// btran solves z B = c: c by position (spoiled), z by row (fully written).
func (f *factor) btran(c, z []float64) {
	m := f.m
	for e := len(f.etaPos) - 1; e >= 0; e-- {
		r := f.etaPos[e]
		t := c[r]
		for q := f.etaPtr[e]; q < f.etaPtr[e+1]; q++ {
			t -= f.etaVal[q] * c[f.etaIdx[q]]
		}
		c[r] = t / f.etaPiv[e]
	}
	for k := 0; k < m; k++ {
		t := c[f.pcol[k]]
		for q := f.uptr[k]; q < f.uptr[k+1]; q++ {
			t -= f.uval[q] * z[f.uidx[q]]
		}
		z[f.prow[k]] = t / f.udiag[k]
	}
	for k := m - 1; k >= 0; k-- {
		t := z[f.prow[k]]
		for q := f.lptr[k]; q < f.lptr[k+1]; q++ {
			t -= f.lval[q] * z[f.lidx[q]]
		}
		z[f.prow[k]] = t
	}
}

// pivot records that position r now holds the column whose ftran is alpha.
func (f *factor) pivot(r int, alpha []float64) {
	for i, a := range alpha {
		if i != r && math.Abs(a) > dropTol {
			f.etaIdx = append(f.etaIdx, int32(i))
			f.etaVal = append(f.etaVal, a)
		}
	}
	f.etaPos = append(f.etaPos, int32(r))
	f.etaPiv = append(f.etaPiv, alpha[r])
	f.etaPtr = append(f.etaPtr, int32(len(f.etaIdx)))
}
