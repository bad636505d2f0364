package stiffness

import "math"

// symmetricEigen gives values (ascending) and vectors (columns of vec) of a small symmetric matrix by Jacobi's rotations.
// It destroys nothing.
func symmetricEigen(m [][]float64) (val []float64, vec [][]float64) {
	n := len(m)
	a := make([][]float64, n)
	vec = make([][]float64, n)
	for i := range a {
		a[i] = append([]float64(nil), m[i]...)
		vec[i] = make([]float64, n)
		vec[i][i] = 1
	}
	for sweep := 0; sweep < 60; sweep++ {
		off, all := 0.0, 0.0
		for i := range a {
			for j := range a {
				all += a[i][j] * a[i][j]
				if i != j {
					off += a[i][j] * a[i][j]
				}
			}
		}
		if off == 0 || off <= 1e-34*all {
			break
		}
		for p := 0; p < n; p++ {
			for q := p + 1; q < n; q++ {
				if a[p][q] == 0 {
					continue
				}
				th := (a[q][q] - a[p][p]) / (2 * a[p][q])
				t := 1 / (math.Abs(th) + math.Sqrt(th*th+1))
				if th < 0 {
					t = -t
				}
				c := 1 / math.Sqrt(t*t+1)
				s := t * c
				for k := 0; k < n; k++ {
					x, y := a[k][p], a[k][q]
					a[k][p], a[k][q] = c*x-s*y, s*x+c*y
				}
				for k := 0; k < n; k++ {
					x, y := a[p][k], a[q][k]
					a[p][k], a[q][k] = c*x-s*y, s*x+c*y
				}
				for k := 0; k < n; k++ {
					x, y := vec[k][p], vec[k][q]
					vec[k][p], vec[k][q] = c*x-s*y, s*x+c*y
				}
			}
		}
	}
	val = make([]float64, n)
	for i := range val {
		val[i] = a[i][i]
	}
	for i := 0; i < n; i++ { // selection sort: n is small
		k := i
		for j := i + 1; j < n; j++ {
			if val[j] < val[k] {
				k = j
			}
		}
		val[i], val[k] = val[k], val[i]
		for r := range vec {
			vec[r][i], vec[r][k] = vec[r][k], vec[r][i]
		}
	}
	return val, vec
}

// solveDense solves a small system by elimination with row pivoting; false where it is singular.
func solveDense(m [][]float64, rhs []float64) ([]float64, bool) {
	n := len(rhs)
	a := make([][]float64, n)
	for i := range a {
		a[i] = append(append([]float64(nil), m[i]...), rhs[i])
	}
	for k := 0; k < n; k++ {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[p][k]) {
				p = i
			}
		}
		if a[p][k] == 0 {
			return nil, false
		}
		a[k], a[p] = a[p], a[k]
		for i := k + 1; i < n; i++ {
			f := a[i][k] / a[k][k]
			for j := k; j <= n; j++ {
				a[i][j] -= f * a[k][j]
			}
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		t := a[i][n]
		for j := i + 1; j < n; j++ {
			t -= a[i][j] * x[j]
		}
		x[i] = t / a[i][i]
	}
	return x, true
}
