package stiffness

import (
	"runtime"
	"testing"
)

// tower is a frame of nx by ny bays, nz storeys, columns fixed at the foot, beams both ways, side load and weight.
func tower(nx, ny, nz int) (*Model, Case) {
	m := &Model{}
	at := func(i, j, k int) int { return (k*(ny+1)+j)*(nx+1) + i }
	for k := 0; k <= nz; k++ {
		for j := 0; j <= ny; j++ {
			for i := 0; i <= nx; i++ {
				fix := ""
				if k == 0 {
					fix = allFixed
				}
				m.Nodes = append(m.Nodes, node("", 600*float64(i), 500*float64(j), 400*float64(k), fix))
			}
		}
	}
	c := Case{Gravity: Vec{0, 0, -9.81}}
	add := func(a, b int) {
		m.Bars = append(m.Bars, Bar{From: a, To: b, A: 580, Iy: 2.2e5, Iz: 2e5, J: 3.6e5, E: 200000, G: 77200, Mass: 0.0046})
	}
	for k := 0; k <= nz; k++ {
		for j := 0; j <= ny; j++ {
			for i := 0; i <= nx; i++ {
				if k < nz {
					add(at(i, j, k), at(i, j, k+1))
				}
				if k > 0 && i < nx {
					add(at(i, j, k), at(i+1, j, k))
				}
				if k > 0 && j < ny {
					add(at(i, j, k), at(i, j+1, k))
				}
			}
		}
	}
	for i := range m.Nodes {
		if i%7 == 0 {
			c.Joints = append(c.Joints, JointLoad{Node: i, F: Vec{20, 5, 0}})
		}
	}
	return m, c
}

// cut puts n-1 joints into every bar.
func cut(m *Model, n int) *Model {
	out := &Model{Nodes: append([]Node(nil), m.Nodes...)}
	for _, b := range m.Bars {
		a, z := m.Nodes[b.From].At, m.Nodes[b.To].At
		prev := b.From
		for i := 1; i <= n; i++ {
			q := b
			q.From, q.To = prev, b.To
			if i < n {
				out.Nodes = append(out.Nodes, Node{At: a.add(z.sub(a).scale(float64(i) / float64(n)))})
				q.To = len(out.Nodes) - 1
			}
			prev = q.To
			out.Bars = append(out.Bars, q)
		}
	}
	return out
}

func BenchmarkFrame(b *testing.B) {
	for _, q := range []struct {
		name       string
		nx, ny, nz int
		cuts       int
	}{
		{"200 members", 3, 2, 7, 1},
		{"1000 members", 5, 4, 12, 1},
		{"3000 members", 8, 6, 17, 1},
		{"10000 members", 10, 9, 32, 1},
		{"10000 members of 60000 unknowns", 8, 5, 14, 6},
		{"29000 members of 60000 unknowns", 9, 9, 100, 1},
	} {
		b.Run(q.name, func(b *testing.B) {
			m, c := tower(q.nx, q.ny, q.nz)
			if q.cuts > 1 {
				m = cut(m, q.cuts)
			}
			var s *System
			var r *Result
			var err error
			for b.Loop() {
				if s, err = NewSystem(m); err != nil {
					b.Fatal(err)
				}
				if r, err = s.Solve(c); err != nil {
					b.Fatal(err)
				}
			}
			var ms runtime.MemStats
			runtime.ReadMemStats(&ms)
			b.ReportMetric(float64(len(m.Bars)), "members")
			b.ReportMetric(float64(len(s.own)), "unknowns")
			b.ReportMetric(float64(s.fac.entries)*8/1e6, "MB-of-L")
			b.ReportMetric(float64(ms.Sys)/1e6, "MB-from-system")
			b.ReportMetric(s.fac.flops/1e9, "Gflop")
			if r.Imbalance > 1e-9 {
				b.Errorf("imbalance %g", r.Imbalance)
			}
		})
	}
}

func TestTowerBalances(t *testing.T) {
	for _, n := range [][3]int{{3, 2, 7}, {5, 4, 12}} {
		m, c := tower(n[0], n[1], n[2])
		r := must(t, m, c)
		if r.Imbalance > 1e-9 {
			t.Errorf("%v: imbalance %g", n, r.Imbalance)
		}
	}
}
