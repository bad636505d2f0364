package stiffness

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// factor is K = L D L^T in blocks.  Suspects are unknowns whose pivot nearly vanished: they are held at zero in L D L^T
// and dealt with apart (see System).
type factor struct {
	plan     *plan
	rows     [][]int32   // unknowns of each block: its own columns, then those below
	cols     []int       // number of own columns
	l        [][]float64 // len(rows) x cols, by rows; the upper part of the first cols rows is not used
	invD     []float64   // by unknown
	suspects []int32
	negative int // pivots below zero
	entries  int // stored figures of L
	flops    float64
}

// suspicious is the share of an unknown's own stiffness below which a pivot is looked into.
const suspicious = 1e-8

// factorise runs the multifrontal elimination.  unknowns gives the unknowns of a vertex; add assembles the stiffness
// whose first vertex in the order stands at place k, through put(i, j, v) with both (i, j) and (j, i) meant by one call.
// own is each unknown's own stiffness.  With indefinite set no pivot is a suspect unless it is exactly zero.
func factorise(p *plan, unknowns [][]int32, own []float64, add func(k int32, put func(i, j int32, v float64)), indefinite bool) *factor {
	nb := len(p.blocks)
	f := &factor{plan: p, rows: make([][]int32, nb), cols: make([]int, nb), l: make([][]float64, nb), invD: make([]float64, len(own))}
	loc := make([]int32, len(own))
	left := make([][]float64, nb) // what a block leaves for its parent
	var work []float64
	for s := range p.blocks {
		b := &p.blocks[s]
		var rows []int32
		for k := b.first; k < b.last; k++ {
			rows = append(rows, unknowns[p.order[k]]...)
		}
		nc := len(rows)
		for _, k := range b.below {
			rows = append(rows, unknowns[p.order[k]]...)
		}
		n := len(rows)
		for i, u := range rows {
			loc[u] = int32(i)
		}
		if cap(work) < n*n {
			work = make([]float64, n*n)
		}
		a := work[:n*n]
		clear(a)
		put := func(i, j int32, v float64) {
			x, y := loc[i], loc[j]
			if x < y {
				x, y = y, x
			}
			a[int(x)*n+int(y)] += v
		}
		for k := b.first; k < b.last; k++ {
			add(k, put)
		}
		for _, c := range b.children {
			cr := f.rows[c][f.cols[c]:]
			cu := left[c]
			m := len(cr)
			for i := 0; i < m; i++ {
				x := int(loc[cr[i]])
				row := cu[i*m : i*m+i+1]
				for j, v := range row {
					y := int(loc[cr[j]])
					if y <= x {
						a[x*n+y] += v
					} else {
						a[y*n+x] += v
					}
				}
			}
			left[c] = nil
		}
		f.eliminate(a, n, nc, rows, own, indefinite)
		lb := make([]float64, n*nc)
		for i := 0; i < n; i++ {
			copy(lb[i*nc:(i+1)*nc], a[i*n:i*n+nc])
		}
		f.rows[s], f.cols[s], f.l[s] = rows, nc, lb
		f.entries += n * nc
		if m := n - nc; m > 0 {
			u := make([]float64, m*m)
			for i := 0; i < m; i++ {
				copy(u[i*m:i*m+i+1], a[(nc+i)*n+nc:(nc+i)*n+nc+i+1])
			}
			left[s] = u
		}
	}
	return f
}

const panel = 48

// eliminate factors the first nc columns of the lower triangle a (n x n, by rows) and updates the rest.
func (f *factor) eliminate(a []float64, n, nc int, rows []int32, own []float64, indefinite bool) {
	var d, inv [panel]float64
	for k0 := 0; k0 < nc; k0 += panel {
		k1 := min(k0+panel, nc)
		w := k1 - k0
		// The panel's own triangle.  A held unknown's column of L comes out as zero.
		for i := k0; i < k1; i++ {
			ri := a[i*n : i*n+i+1]
			for j := k0; j < i; j++ {
				rj := a[j*n : j*n+j+1]
				s := ri[j]
				for p := k0; p < j; p++ {
					s -= ri[p] * rj[p] // ri[p] still holds L D
				}
				ri[j] = s
			}
			s := ri[i]
			for p := k0; p < i; p++ {
				l := ri[p] * inv[p-k0]
				s -= l * ri[p]
				ri[p] = l
			}
			u := rows[i]
			d[i-k0] = s
			switch {
			case s == 0 || (!indefinite && s <= suspicious*own[u]):
				inv[i-k0] = 0
				f.suspects = append(f.suspects, u)
			default:
				inv[i-k0] = 1 / s
				if s < 0 {
					f.negative++
				}
			}
			f.invD[u] = inv[i-k0]
		}
		if k1 == n {
			continue
		}
		m := n - k1
		ld := make([]float64, m*w) // L D of the rows below
		lo := make([]float64, m*w) // L of the rows below, packed
		for i := k1; i < n; i++ {
			ri := a[i*n+k0 : i*n+k1]
			wi := ld[(i-k1)*w : (i-k1+1)*w]
			li := lo[(i-k1)*w : (i-k1+1)*w]
			for j := 0; j < w; j++ {
				rj := a[(k0+j)*n+k0 : (k0+j)*n+k0+j]
				s := ri[j]
				for p, v := range rj {
					s -= wi[p] * v
				}
				if inv[j] == 0 {
					s = 0
				}
				wi[j] = s
				li[j] = s * inv[j]
			}
			copy(ri, li)
		}
		f.flops += float64(m) * float64(m) * float64(w)
		trail(a, n, k1, ld, lo, w)
	}
}

// trail subtracts (L D) L^T from the lower triangle from row and column k1 on.
func trail(a []float64, n, k1 int, ld, lo []float64, w int) {
	m := n - k1
	procs := runtime.GOMAXPROCS(0)
	if procs < 2 || m*m*w < 400000 {
		trailRows(a, n, k1, ld, lo, w, 0, m)
		return
	}
	// Bands of rows with about equal areas; each entry is computed by one worker alone, so the result does not depend on
	// their number.
	const bands = 8
	var wg sync.WaitGroup
	next := make(chan [2]int, bands)
	at := 0
	for b := bands; b >= 1; b-- {
		end := m
		if b > 1 {
			end = at + (m-at)/b
			end = (end + 1) &^ 1
		}
		next <- [2]int{at, end}
		at = end
	}
	close(next)
	// A fault of a worker is raised again in the caller: in a goroutine of its own it would end the program past every guard.
	var fault atomic.Value
	for range min(procs, bands) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			defer func() {
				if v := recover(); v != nil {
					fault.Store(fmt.Sprintf("%v\n%s", v, debug.Stack()))
				}
			}()
			for r := range next {
				trailRows(a, n, k1, ld, lo, w, r[0], r[1])
			}
		}()
	}
	wg.Wait()
	if v := fault.Load(); v != nil {
		panic(v)
	}
}

func trailRows(a []float64, n, k1 int, ld, lo []float64, w, from, to int) {
	for i := from; i < to; i += 2 {
		x0 := ld[i*w : i*w+w]
		r0 := a[(k1+i)*n+k1:]
		if i+1 >= to {
			for j := 0; j <= i; j++ {
				r0[j] -= dot(x0, lo[j*w:j*w+w])
			}
			continue
		}
		x1 := ld[(i+1)*w : (i+1)*w+w]
		r1 := a[(k1+i+1)*n+k1:]
		j := 0
		for ; j+4 <= i+1; j += 4 {
			y0, y1, y2, y3 := lo[j*w:j*w+w], lo[(j+1)*w:(j+1)*w+w], lo[(j+2)*w:(j+2)*w+w], lo[(j+3)*w:(j+3)*w+w]
			var s00, s01, s02, s03, s10, s11, s12, s13 float64
			x1 := x1[:len(x0)]
			y0, y1, y2, y3 = y0[:len(x0)], y1[:len(x0)], y2[:len(x0)], y3[:len(x0)]
			for p, u := range x0 {
				v := x1[p]
				b0, b1, b2, b3 := y0[p], y1[p], y2[p], y3[p]
				s00 += u * b0
				s01 += u * b1
				s02 += u * b2
				s03 += u * b3
				s10 += v * b0
				s11 += v * b1
				s12 += v * b2
				s13 += v * b3
			}
			r0[j] -= s00
			r0[j+1] -= s01
			r0[j+2] -= s02
			r0[j+3] -= s03
			r1[j] -= s10
			r1[j+1] -= s11
			r1[j+2] -= s12
			r1[j+3] -= s13
		}
		for ; j <= i+1; j++ {
			y := lo[j*w : j*w+w]
			if j <= i {
				r0[j] -= dot(x0, y)
			}
			r1[j] -= dot(x1, y)
		}
	}
}

func dot(x, y []float64) (s float64) {
	y = y[:len(x)]
	for p, u := range x {
		s += u * y[p]
	}
	return s
}

// solve overwrites b with the solution of L D L^T x = b; unknowns under suspicion come out as zero.
func (f *factor) solve(b []float64) {
	for s, l := range f.l {
		rows, nc := f.rows[s], f.cols[s]
		for i, u := range rows {
			ri := l[i*nc : i*nc+min(i, nc)]
			t := 0.0
			for p, v := range ri {
				t += v * b[rows[p]]
			}
			b[u] -= t
		}
	}
	for u := range b {
		b[u] *= f.invD[u]
	}
	for s := len(f.l) - 1; s >= 0; s-- {
		l, rows, nc := f.l[s], f.rows[s], f.cols[s]
		for i := len(rows) - 1; i >= 0; i-- {
			x := b[rows[i]]
			if x == 0 {
				continue
			}
			for p, v := range l[i*nc : i*nc+min(i, nc)] {
				b[rows[p]] -= v * x
			}
		}
	}
}
