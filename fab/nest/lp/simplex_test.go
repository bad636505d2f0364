package lp

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	gonum "gonum.org/v1/gonum/optimize/convex/lp"
)

type dense struct {
	c     []float64
	a     [][]float64
	b     []float64
	sense []Sense
}

func (d dense) oracle() (float64, error) {
	m, n := len(d.b), len(d.c)
	slack := 0
	for _, s := range d.sense {
		if s != EQ {
			slack++
		}
	}
	a := mat.NewDense(m, n+slack, nil)
	c := make([]float64, n+slack)
	copy(c, d.c)
	k := n
	for i := range d.b {
		for j := range d.c {
			a.Set(i, j, d.a[i][j])
		}
		switch d.sense[i] {
		case GE:
			a.Set(i, k, -1)
			k++
		case LE:
			a.Set(i, k, 1)
			k++
		}
	}
	// The general solver refuses zero columns and more rows than columns.
	if n+slack < m {
		return 0, errOpinion
	}
	for j := 0; j < n+slack; j++ {
		zero := true
		for i := 0; i < m; i++ {
			zero = zero && a.At(i, j) == 0
		}
		if zero {
			return 0, errOpinion
		}
	}
	v, _, err := gonum.Simplex(c, a, d.b, 1e-11, nil)
	return v, err
}

var errOpinion = errors.New("no opinion")

func load(d dense) *LP {
	l := new(LP)
	for i, b := range d.b {
		l.AddRow(d.sense[i], b)
	}
	for j, c := range d.c {
		var idx []int32
		var val []float64
		for i := range d.b {
			if d.a[i][j] != 0 {
				idx = append(idx, int32(i))
				val = append(val, d.a[i][j])
			}
		}
		if _, err := l.AddCol(c, idx, val); err != nil {
			panic(err)
		}
	}
	return l
}

// Optimality is also checked without the oracle: primal feasible, dual feasible, equal values.
func certify(t *testing.T, d dense, l *LP, n int) {
	t.Helper()
	x := make([]float64, n)
	obj := 0.0
	for j := 0; j < n; j++ {
		x[j] = l.X(len(d.b) + j)
		obj += d.c[j] * x[j]
		if x[j] < -1e-7 {
			t.Fatalf("x[%d] = %g", j, x[j])
		}
		red := d.c[j]
		for i := range d.b {
			red -= l.Dual(i) * d.a[i][j]
		}
		if red < -1e-6 {
			t.Fatalf("column %d has reduced cost %g", j, red)
		}
	}
	for i, b := range d.b {
		s := 0.0
		for j := range x {
			s += d.a[i][j] * x[j]
		}
		if d.sense[i] != LE && s < b-1e-6 || d.sense[i] != GE && s > b+1e-6 {
			t.Fatalf("row %d: %g against %g", i, s, b)
		}
		if y := l.Dual(i); d.sense[i] == GE && y < -1e-7 || d.sense[i] == LE && y > 1e-7 {
			t.Fatalf("dual of row %d has the wrong sign: %g", i, y)
		}
	}
	if v := l.Value(); math.Abs(v-obj) > 1e-6*(1+math.Abs(obj)) {
		t.Fatalf("value %g, objective %g", v, obj)
	}
}

func random(r *rand.Rand, signed bool) dense {
	m, n := 1+r.IntN(8), 1+r.IntN(14)
	d := dense{c: make([]float64, n), b: make([]float64, m), sense: make([]Sense, m)}
	for j := range d.c {
		d.c[j] = float64(1 + r.IntN(9))
		if signed {
			d.c[j] -= 3
		}
	}
	for i := range d.b {
		row := make([]float64, n)
		for j := range row {
			if r.IntN(3) == 0 {
				row[j] = float64(1 + r.IntN(4))
				if signed && r.IntN(3) == 0 {
					row[j] = -row[j]
				}
			}
		}
		d.a = append(d.a, row)
		d.b[i] = float64(r.IntN(12))
		d.sense[i] = Sense(r.IntN(3))
		if !signed && r.IntN(2) == 0 {
			d.sense[i] = GE
		}
	}
	return d
}

func TestAgainstGeneralSolver(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	counts := map[Status]int{}
	for n := 0; n < 4000; n++ {
		d := random(r, n%2 == 1)
		l := load(d)
		s := l.Solve(context.Background())
		counts[s]++
		want, err := d.oracle()
		switch s {
		case Optimal:
			certify(t, d, l, len(d.c))
			if err == nil && math.Abs(want-l.Value()) > 1e-6*(1+math.Abs(want)) {
				t.Fatalf("case %d: %g, the general solver says %g", n, l.Value(), want)
			}
			if err == gonum.ErrInfeasible || err == gonum.ErrUnbounded {
				t.Fatalf("case %d: optimal %g, the general solver says %v", n, l.Value(), err)
			}
		case Infeasible:
			if err == nil {
				t.Fatalf("case %d: infeasible, the general solver found %g", n, want)
			}
		case Unbounded:
			if err == nil {
				t.Fatalf("case %d: unbounded, the general solver found %g", n, want)
			}
		default:
			t.Fatalf("case %d: %v", n, s)
		}
	}
	if counts[Optimal] < 500 || counts[Infeasible] < 100 || counts[Unbounded] < 100 {
		t.Fatalf("the cases are one-sided: %v", counts)
	}
}

// A program grown column by column, row by row and by moved right-hand sides ends where a fresh one ends.
func TestWarmStart(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for n := 0; n < 600; n++ {
		d := random(r, false)
		for i := range d.sense {
			d.sense[i] = GE
			d.b[i] = float64(1 + r.IntN(9))
		}
		m := len(d.b)
		for i := 0; i < m; i++ { // a dear column for each row keeps it feasible
			d.c = append(d.c, 50)
			for k := range d.a {
				v := 0.0
				if k == i {
					v = 1
				}
				d.a[k] = append(d.a[k], v)
			}
		}
		l := new(LP)
		for i, b := range d.b {
			l.AddRow(GE, b)
			l.Nudge(i, 0)
		}
		for j := len(d.c) - 1; j >= 0; j-- {
			var idx []int32
			var val []float64
			for i := range d.b {
				if d.a[i][j] != 0 {
					idx = append(idx, int32(i))
					val = append(val, d.a[i][j])
				}
			}
			l.AddCol(d.c[j], idx, val)
			if j < len(d.c)-m && r.IntN(2) == 0 {
				if s := l.Solve(context.Background()); s != Optimal {
					t.Fatal(s)
				}
			}
		}
		for k := 0; k < 3; k++ {
			i := r.IntN(m)
			d.b[i] = float64(r.IntN(15))
			l.SetRHS(i, d.b[i])
			if s := l.Solve(context.Background()); s != Optimal {
				t.Fatal(s)
			}
			f := load(d)
			if s := f.Solve(context.Background()); s != Optimal {
				t.Fatal(s)
			}
			if math.Abs(f.Value()-l.Value()) > 1e-6*(1+math.Abs(f.Value())) {
				t.Fatalf("warm %g, fresh %g", l.Value(), f.Value())
			}
		}
	}
}

func TestColumnOutside(t *testing.T) {
	l := new(LP)
	l.AddRow(GE, 1)
	if _, err := l.AddCol(1, []int32{1}, []float64{1}); err == nil {
		t.Fatal("a column in row 1 of a one-row program was taken")
	}
}
