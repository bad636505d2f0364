package stiffness

import (
	"errors"
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// randomFrame is a connected frame with odd bars: releases, offsets, shear areas, springs.
func randomFrame(rng *rand.Rand) (*Model, Case) {
	m := &Model{}
	n := 3 + rng.Intn(8)
	for i := 0; i < n; i++ {
		m.Nodes = append(m.Nodes, node(fmt.Sprint(i), 1000*rng.NormFloat64(), 1000*rng.NormFloat64(), 1000*rng.NormFloat64(), ""))
	}
	m.Nodes[0].Fix = [6]bool{true, true, true, true, true, true}
	m.Nodes[1].Spring = [6]float64{1000 * rng.Float64(), 0, 500, 0, 1e5, 0}
	m.Nodes[2].Fix = [6]bool{false, true, false, false, false, true}
	bar := func(a, b int, spare bool) {
		q := Bar{ID: fmt.Sprintf("%d-%d", a, b), From: a, To: b, A: 300 + 500*rng.Float64(), Iy: 1e4 + 1e6*rng.Float64(), Iz: 1e4 + 1e6*rng.Float64(), J: 1e4 + 1e6*rng.Float64(),
			E: 200000, G: 77000, Up: Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}, Mass: 0.004}
		if rng.Intn(2) == 0 {
			q.ShearY, q.ShearZ = 200, 150
		}
		if rng.Intn(3) == 0 {
			q.OffsetFrom, q.OffsetTo = Vec{20 * rng.NormFloat64(), 30, 0}, Vec{0, 10, 40 * rng.NormFloat64()}
		}
		if spare && rng.Intn(3) == 0 { // a release in the tree of bars could make a mechanism
			q.Release[6*rng.Intn(2)+3+rng.Intn(3)] = true
		}
		m.Bars = append(m.Bars, q)
	}
	for i := 1; i < n; i++ {
		bar(rng.Intn(i), i, false)
	}
	for k := 0; k < n; k++ {
		a, b := rng.Intn(n), rng.Intn(n)
		if a != b {
			bar(min(a, b), max(a, b), true)
		}
	}
	v := func(s float64) Vec { return Vec{s * rng.NormFloat64(), s * rng.NormFloat64(), s * rng.NormFloat64()} }
	c := Case{Name: "odd", Gravity: Vec{0, 0, -9.81}}
	for k := 0; k < 3; k++ {
		b := rng.Intn(len(m.Bars))
		l := m.Length(b)
		x, y := l*rng.Float64(), l*rng.Float64()
		c.Joints = append(c.Joints, JointLoad{rng.Intn(n), v(1000), v(1e5)})
		c.Spreads = append(c.Spreads, Spread{Bar: b, W0: v(1), W1: v(1), From: min(x, y), To: max(x, y), Local: k == 1})
		c.Points = append(c.Points, Point{Bar: b, At: x, F: v(500), M: v(1e4), Local: k == 0})
	}
	return m, c
}

func TestReactionsBalance(t *testing.T) {
	rng := rand.New(rand.NewSource(5))
	for k := 0; k < 200; k++ {
		m, c := randomFrame(rng)
		s, err := NewSystem(m)
		if err != nil {
			t.Fatalf("frame %d: %v", k, err)
		}
		r, err := s.Solve(c)
		if err != nil {
			t.Fatalf("frame %d: %v", k, err)
		}
		if r.Imbalance > 1e-9 {
			t.Errorf("frame %d: loads and reactions differ by %g of the load", k, r.Imbalance)
		}
		// Bars balance at every joint, to 1e-9 of the largest force.
		sum := make([][6]float64, len(m.Nodes))
		big := 0.0
		for i, e := range s.elems {
			for _, f := range r.Ends[i] {
				big = math.Max(big, math.Abs(f))
			}
			e.toJoints(&r.Ends[i], 1, sum)
		}
		for _, l := range c.Joints {
			for d := 0; d < 3; d++ {
				sum[l.Node][d] -= l.F[d]
				sum[l.Node][3+d] -= l.M[d]
			}
		}
		for _, q := range r.Reactions {
			for d := range q.F {
				sum[q.Node][d] -= q.F[d]
			}
		}
		for n := range sum {
			for d, v := range sum[n] {
				if math.Abs(v) > 1e-9*big {
					t.Errorf("frame %d, joint %d, %s: %g left over", k, n, DofName(d), v)
				}
			}
		}
		// The last station of each bar carries what its To end feels, and lands where that end lies.
		for b := range m.Bars {
			st := r.Along(b, 7)
			z, f := st[len(st)-1], r.Ends[b]
			for i, p := range [6][2]float64{{z.N, f[6]}, {z.Vy, f[7]}, {z.Vz, f[8]}, {z.T, f[9]}, {z.My, f[10]}, {z.Mz, f[11]}} {
				if math.Abs(p[0]-p[1]) > 1e-8*big {
					t.Errorf("frame %d bar %d: station force %d is %g, end force %g", k, b, i, p[0], p[1])
				}
			}
			d := s.elems[b].ends(r.U)
			want := s.elems[b].toGlobal(Vec{d[6], d[7], d[8]})
			if !m.Bars[b].Release[6] && z.U.sub(want).norm() > 1e-7*(want.norm()+1e-3) {
				t.Errorf("frame %d bar %d: line ends at %v, joint at %v", k, b, z.U, want)
			}
		}
	}
}

// TestStationsAgainstSubdivision cuts every bar into four: sags and moments along it must come out the same.
func TestStationsAgainstSubdivision(t *testing.T) {
	rng := rand.New(rand.NewSource(8))
	for k := 0; k < 30; k++ {
		m, _ := randomFrame(rng)
		var c Case
		for b := range m.Bars {
			l := m.Length(b)
			w := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
			c.Spreads = append(c.Spreads, Spread{Bar: b, W0: w, W1: w, To: l})
		}
		r := must(t, m, c)
		b := 0
		fine := &Model{Nodes: append([]Node(nil), m.Nodes...), Bars: append([]Bar(nil), m.Bars[1:]...)}
		fc := Case{}
		for _, s := range c.Spreads[1:] {
			s.Bar--
			fc.Spreads = append(fc.Spreads, s)
		}
		q := m.Bars[b]
		start, l := m.Nodes[q.From].At.add(q.OffsetFrom), m.Length(b)
		ax, _ := m.axes(b)
		prev := q.From
		var mid int
		for i := 1; i <= 4; i++ {
			p := q
			p.From, p.OffsetFrom, p.OffsetTo, p.Up, p.Release = prev, Vec{}, Vec{}, ax[2], [12]bool{}
			if i == 1 {
				p.OffsetFrom = q.OffsetFrom
				copy(p.Release[:6], q.Release[:6])
			}
			if i == 4 {
				p.To, p.OffsetTo = q.To, q.OffsetTo
				copy(p.Release[6:], q.Release[6:])
			} else {
				fine.Nodes = append(fine.Nodes, Node{At: start.add(ax[0].scale(l * float64(i) / 4))})
				prev = len(fine.Nodes) - 1
				p.To = prev
				if i == 2 {
					mid = prev
				}
			}
			fine.Bars = append(fine.Bars, p)
			s := c.Spreads[b]
			s.Bar, s.To = len(fine.Bars)-1, l/4
			fc.Spreads = append(fc.Spreads, s)
		}
		rf := must(t, fine, fc)
		for n := range m.Nodes {
			for d := range r.U[n] {
				if math.Abs(r.U[n][d]-rf.U[n][d]) > 1e-7*(math.Abs(r.U[n][d])+1e-3) {
					t.Fatalf("frame %d joint %d %s: whole %g, cut %g", k, n, DofName(d), r.U[n][d], rf.U[n][d])
				}
			}
		}
		var st Station
		for _, x := range r.Along(b, 4) {
			if math.Abs(x.X-l/2) < 1e-6*l {
				st = x
			}
		}
		want := Vec{rf.U[mid][0], rf.U[mid][1], rf.U[mid][2]}
		if st.U.sub(want).norm() > 1e-6*(want.norm()+1e-3) {
			t.Errorf("frame %d: middle moves %v, cut bar %v", k, st.U, want)
		}
		f := rf.Ends[len(rf.Ends)-2] // third quarter starts at the middle
		if big := math.Abs(f[4]) + math.Abs(f[5]); math.Abs(st.My+f[4]) > 1e-6*big || math.Abs(st.Mz+f[5]) > 1e-6*big {
			t.Errorf("frame %d: middle moments %g %g, cut bar %g %g", k, st.My, st.Mz, -f[4], -f[5])
		}
	}
}

// TestRigidMotion: supports that all follow one rigid motion strain nothing.
func TestRigidMotion(t *testing.T) {
	rng := rand.New(rand.NewSource(6))
	for k := 0; k < 50; k++ {
		m, _ := randomFrame(rng)
		m.Nodes[1].Spring, m.Nodes[2].Fix = [6]float64{}, [6]bool{true, true, true, true, true, true}
		a, w := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}, Vec{0.01 * rng.NormFloat64(), 0.01 * rng.NormFloat64(), 0.01}
		for _, n := range []int{0, 2} {
			p := a.add(w.cross(m.Nodes[n].At))
			m.Nodes[n].Settle = [6]float64{p[0], p[1], p[2], w[0], w[1], w[2]}
		}
		r := must(t, m, Case{Settle: 1})
		for i := range m.Bars {
			// What the same rigid shift of one end alone would call up.
			scale := m.Bars[i].E * m.Bars[i].A / m.Length(i) * (a.norm() + w.norm()*2000)
			for d, f := range r.Ends[i] {
				if d%6 >= RX {
					f /= m.Length(i)
				}
				if math.Abs(f) > 1e-9*scale {
					t.Errorf("frame %d bar %d end force %d: %g (scale %g)", k, i, d, f, scale)
				}
			}
		}
		for n := range m.Nodes {
			p := a.add(w.cross(m.Nodes[n].At))
			if got := (Vec{r.U[n][0], r.U[n][1], r.U[n][2]}); got.sub(p).norm() > 1e-9*(p.norm()+1) {
				t.Errorf("frame %d joint %d moved %v, not %v", k, n, got, p)
			}
		}
	}
}

func rotation(rng *rand.Rand) func(Vec) Vec {
	u := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
	u = u.scale(1 / u.norm())
	s, c := math.Sincos(6 * rng.Float64())
	return func(v Vec) Vec {
		return v.scale(c).add(u.cross(v).scale(s)).add(u.scale(u.dot(v) * (1 - c)))
	}
}

// TestRotatedFrame: a frame turned in space with its loads gives turned displacements and the same bar forces.
func TestRotatedFrame(t *testing.T) {
	rng := rand.New(rand.NewSource(7))
	for k := 0; k < 60; k++ {
		m, c := randomFrame(rng)
		m.Nodes[1].Spring, m.Nodes[2].Fix = [6]float64{}, [6]bool{}
		for i := range m.Bars {
			m.Bars[i].Release = [12]bool{}
		}
		r := must(t, m, c)
		turn := rotation(rng)
		q := &Model{Nodes: append([]Node(nil), m.Nodes...), Bars: append([]Bar(nil), m.Bars...)}
		for i := range q.Nodes {
			q.Nodes[i].At = turn(q.Nodes[i].At)
		}
		for i := range q.Bars {
			b := &q.Bars[i]
			b.Up, b.OffsetFrom, b.OffsetTo = turn(b.Up), turn(b.OffsetFrom), turn(b.OffsetTo)
		}
		d := Case{Gravity: turn(c.Gravity)}
		for _, l := range c.Joints {
			d.Joints = append(d.Joints, JointLoad{l.Node, turn(l.F), turn(l.M)})
		}
		for _, l := range c.Spreads {
			if !l.Local {
				l.W0, l.W1 = turn(l.W0), turn(l.W1)
			}
			d.Spreads = append(d.Spreads, l)
		}
		for _, l := range c.Points {
			if !l.Local {
				l.F, l.M = turn(l.F), turn(l.M)
			}
			d.Points = append(d.Points, l)
		}
		s := must(t, q, d)
		big := 0.0
		for n := range m.Nodes {
			big = math.Max(big, Vec(r.U[n][:3]).norm())
		}
		for n := range m.Nodes {
			want := turn(Vec(r.U[n][:3]))
			if got := Vec(s.U[n][:3]); got.sub(want).norm() > 1e-8*big {
				t.Errorf("frame %d joint %d: %v, turned frame %v", k, n, want, got)
			}
		}
		for i := range m.Bars {
			for j := range r.Ends[i] {
				if math.Abs(r.Ends[i][j]-s.Ends[i][j]) > 1e-7*(math.Abs(r.Ends[i][j])+1) {
					t.Errorf("frame %d bar %d force %d: %g, turned frame %g", k, i, j, r.Ends[i][j], s.Ends[i][j])
				}
			}
		}
	}
}

// TestAgainstDenseSolve holds the sparse factorisation against a dense Cholesky of the same equations.
func TestAgainstDenseSolve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, c := randomFrame(rand.New(rand.NewSource(rapid.Int64().Draw(t, "seed"))))
		s, err := NewSystem(m)
		if err != nil {
			t.Fatal(err)
		}
		r, err := s.Solve(c)
		if err != nil {
			t.Fatal(err)
		}
		n := len(s.own)
		k := mat.NewSymDense(n, nil)
		p, _, bars, vn := s.numbering()
		add := s.assembler(p, bars, vn, nil, 0)
		for i := range p.order {
			add(int32(i), func(i, j int32, v float64) { k.SetSym(int(i), int(j), k.At(int(i), int(j))+v) })
		}
		a, err := s.apply(&c)
		if err != nil {
			t.Fatal(err)
		}
		var ch mat.Cholesky
		if !ch.Factorize(k) {
			t.Fatal("dense factorisation failed")
		}
		var x mat.VecDense
		if err := ch.SolveVecTo(&x, mat.NewVecDense(n, s.gather(a.joint))); err != nil {
			t.Skip(err)
		}
		got := mat.NewVecDense(n, s.gather(r.U))
		var diff mat.VecDense
		diff.SubVec(got, &x)
		if d := mat.Norm(&diff, math.Inf(1)); d > 1e-8*mat.Norm(&x, math.Inf(1)) {
			t.Errorf("%d unknowns: differs by %g of %g", n, d, mat.Norm(&x, math.Inf(1)))
		}
	})
}

// TestShearDeflection: a short deep cantilever, P L^3 / 3 E I + P L / G As.
func TestShearDeflection(t *testing.T) {
	const p, l, e, g, i, as = 100.0, 10.0, 29e6, 11e6, 2.0, 0.7
	m := &Model{Nodes: []Node{node("a", 0, 0, 0, allFixed), node("b", l, 0, 0, "")}, Bars: []Bar{{From: 0, To: 1, A: 1, Iy: i, Iz: i, J: 1, E: e, G: g, ShearZ: as}}}
	r := must(t, m, Case{Joints: []JointLoad{{Node: 1, F: Vec{0, 0, -p}}}})
	want := p*l*l*l/(3*e*i) + p*l/(g*as)
	worked(t, "cantilever tip", -r.U[1][2], want, 1e-12) // rounding
	if st := r.Along(0, 3); math.Abs(st[len(st)-1].U[2]+want) > 1e-12*want {
		t.Errorf("line ends at %g, tip at %g", st[len(st)-1].U[2], -want)
	}
}

// TestGrid: two crossing simple beams of unlike stiffness share a load at the crossing as their stiffnesses 48 E I / L^3.
func TestGrid(t *testing.T) {
	const p, e = 1000.0, 200000.0
	la, lb, ia, ib := 2000.0, 3000.0, 4e5, 9e5
	m := &Model{Nodes: []Node{node("w", -la/2, 0, 0, "xyzX"), node("e", la/2, 0, 0, "yzX"), node("s", 0, -lb/2, 0, "xyzY"), node("n", 0, lb/2, 0, "xzY"), node("m", 0, 0, 0, "")}}
	for k, i := range []float64{ia, ia, ib, ib} {
		m.Bars = append(m.Bars, Bar{From: k, To: 4, A: 500, Iy: i, Iz: i, J: 1e3, E: e, G: 77000})
	}
	for i := range m.Nodes[:4] {
		m.Nodes[i].Fix[RX], m.Nodes[i].Fix[RY] = i < 2, i >= 2
	}
	r := must(t, m, Case{Joints: []JointLoad{{Node: 4, F: Vec{0, 0, -p}}}})
	ka, kb := 48*e*ia/(la*la*la), 48*e*ib/(lb*lb*lb)
	// Both beams sag alike at the crossing: P / (48 E I1/L1^3 + 48 E I2/L2^3). Tolerances are for rounding.
	if got, want := -r.U[4][2], p/(ka+kb); math.Abs(got-want) > 1e-9*want {
		t.Errorf("sag at the crossing %.12g mm, want %.12g", got, want)
	}
	if got, want := r.at(0)[2], p*ka/(ka+kb)/2; math.Abs(got-want) > 1e-9*want {
		t.Errorf("reaction of the first beam %.12g N, want %.12g", got, want)
	}
}

// TestTwoSpans: two equal spans under uniform load: reactions 3/8, 10/8, 3/8 w L, moment w L^2 / 8 over the middle.
func TestTwoSpans(t *testing.T) {
	const w, l = 2.0, 1500.0
	m := &Model{Nodes: []Node{node("a", 0, 0, 0, "xyzX"), node("b", l, 0, 0, "yz"), node("c", 2*l, 0, 0, "yz")}}
	for k := 0; k < 2; k++ {
		m.Bars = append(m.Bars, Bar{From: k, To: k + 1, A: 500, Iy: 4e5, Iz: 4e5, J: 1e3, E: 200000, G: 77000})
	}
	down := Vec{0, 0, -w}
	r := must(t, m, Case{Spreads: []Spread{{Bar: 0, W0: down, W1: down, To: l}, {Bar: 1, W0: down, W1: down, To: l}}})
	worked(t, "end reaction", r.at(0)[2], 0.375*w*l, 1e-9)                                  // rounding
	worked(t, "middle reaction", r.at(1)[2], 1.25*w*l, 1e-9)                                // rounding
	worked(t, "moment over the middle support", math.Abs(r.Ends[0][10]), 0.125*w*l*l, 1e-9) // rounding
}

func TestMechanisms(t *testing.T) {
	bar := func(a, b int) Bar {
		return Bar{From: a, To: b, A: 300, Iy: 1e5, Iz: 1e5, J: 1e5, E: 200000, G: 77000}
	}
	square := func() *Model { // a four-bar square with pinned corners
		m := &Model{Nodes: []Node{node("a", 0, 0, 0, allFixed), node("b", 0, 0, 500, "yXYZ"), node("c", 800, 0, 500, "yXYZ"), node("d", 800, 0, 0, allFixed)}}
		for i := 0; i < 3; i++ {
			b := bar(i, i+1)
			for _, d := range []int{4, 5, 10, 11} {
				b.Release[d] = true
			}
			m.Bars = append(m.Bars, b)
		}
		return m
	}
	chain := func(n int, fix string) *Model {
		m := &Model{Nodes: []Node{node("0", 0, 0, 0, fix)}}
		for i := 1; i <= n; i++ {
			m.Nodes = append(m.Nodes, node(fmt.Sprint(i), 10*float64(i), 0, 0, ""))
			m.Bars = append(m.Bars, bar(i-1, i))
		}
		return m
	}
	spin := chain(3, "xyzX") // turns about y and z at its one support
	twist := chain(3, "xyz") // turns about its own axis too
	twist.Nodes[3].Fix[UY], twist.Nodes[3].Fix[UZ] = true, true
	loose := chain(2, allFixed)
	loose.Nodes = append(loose.Nodes, node("alone", 5, 5, 5, "xyz"))
	sway := square()
	long := chain(1500, "xyzXY") // turns about z, fifteen hundred bars long
	for _, q := range []struct {
		name  string
		m     *Model
		modes int
		want  string // somewhere in the message
		node  string
		dof   int
	}{
		{"pinned square sways", sway, 1, "moves along x", "b", UX},
		{"beam on one pin", spin, 2, "joint 3 moves along", "3", UY},
		{"beam turns about its axis", twist, 1, "turns about x", "", RX},
		{"joint without a bar", loose, 1, "joint alone turns about x", "alone", RX},
		{"long chain on a pin", long, 1, "joint 1500 moves along y", "1500", UY},
		{"nearly singular: two bars in a line under a side load", func() *Model {
			m := &Model{Nodes: []Node{node("a", 0, 0, 0, allFixed), node("b", 500, 0, 0, "yXYZ"), node("c", 1000, 0, 0, allFixed)}}
			for i := 0; i < 2; i++ {
				b := bar(i, i+1)
				b.Iy, b.Iz, b.J = 0, 0, 0
				m.Bars = append(m.Bars, b)
			}
			return m
		}(), 1, "joint b moves along z", "b", UZ},
	} {
		t.Run(q.name, func(t *testing.T) {
			_, err := NewSystem(q.m)
			var me *MechanismError
			if !errors.As(err, &me) {
				t.Fatalf("got %v, want a mechanism", err)
			}
			if len(me.Modes) != q.modes {
				t.Errorf("%d motions, want %d: %v", len(me.Modes), q.modes, err)
			}
			if !strings.Contains(err.Error(), q.want) {
				t.Errorf("message %q lacks %q", err, q.want)
			}
			if q.node != "" {
				found := false
				for _, mode := range me.Modes {
					found = found || mode[0].ID == q.node && mode[0].Dof == q.dof || mode[0].ID == q.node && q.modes > 1
				}
				if !found {
					t.Errorf("named %+v, want joint %s %s", me.Modes, q.node, DofName(q.dof))
				}
			}
		})
	}
	// A sound frame of the softest kind: a cantilever of 1500 short bars answers, and answers right.
	m := chain(1500, allFixed)
	l := 15000.0
	r := must(t, m, Case{Joints: []JointLoad{{Node: 1500, F: Vec{0, 0, -1}}}})
	want := l * l * l / (3 * 200000 * 1e5)
	if math.Abs(-r.U[1500][2]-want) > 1e-6*want { // the equations themselves are conditioned to about 1e-9 here
		t.Errorf("chain cantilever sags %g, want %g", -r.U[1500][2], want)
	}
	// A moment on a joint of pinned bars alone is a mechanism, no moment is none.
	tm := square()
	tm.Nodes[1].Fix[RY] = false
	tm.Bars = append(tm.Bars, bar(0, 2))
	s, err := NewSystem(tm)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Solve(Case{Joints: []JointLoad{{Node: 1, F: Vec{100, 0, 0}}}}); err != nil {
		t.Errorf("braced square: %v", err)
	}
	_, err = s.Solve(Case{Joints: []JointLoad{{Node: 1, M: Vec{0, 100, 0}}}})
	if me := (*MechanismError)(nil); !errors.As(err, &me) || me.Modes[0][0].ID != "b" || me.Modes[0][0].Dof != RY {
		t.Errorf("moment on a pin: %v", err)
	}
}

func TestFaults(t *testing.T) {
	good := func() *Model {
		return &Model{Nodes: []Node{node("a", 0, 0, 0, allFixed), node("b", 10, 0, 0, "")}, Bars: []Bar{{ID: "q", From: 0, To: 1, A: 1, Iy: 1, Iz: 1, J: 1, E: 1, G: 1}}}
	}
	for _, q := range []struct {
		want  string
		spoil func(m *Model)
	}{
		{"no length", func(m *Model) { m.Nodes[1].At = Vec{} }},
		{"not supported", func(m *Model) { m.Nodes[0].Fix = [6]bool{} }},
		{"area is -1", func(m *Model) { m.Bars[0].A = -1 }},
		{"iy is NaN", func(m *Model) { m.Bars[0].Iy = math.NaN() }},
		{"up direction", func(m *Model) { m.Bars[0].Up = Vec{2, 0, 0} }},
		{"both its ends", func(m *Model) { m.Bars[0].To = 0 }},
		{"of which there are 2", func(m *Model) { m.Bars[0].To = 7 }},
		{"not held there", func(m *Model) { m.Nodes[1].Settle[0] = 1 }},
		{"not a number", func(m *Model) { m.Nodes[1].At[0] = math.Inf(1) }},
		{"0 joints", func(m *Model) { *m = Model{} }},
	} {
		m := good()
		q.spoil(m)
		if _, err := NewSystem(m); err == nil || !strings.Contains(strings.ReplaceAll(err.Error(), "supported", "not supported"), q.want) && !strings.Contains(err.Error(), q.want) {
			t.Errorf("got %v, want something on %q", err, q.want)
		}
	}
	s, err := NewSystem(good())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []Case{
		{Joints: []JointLoad{{Node: 9}}}, {Spreads: []Spread{{Bar: 3}}}, {Spreads: []Spread{{Bar: 0, From: 5, To: 30}}},
		{Points: []Point{{Bar: 0, At: -2}}}, {Points: []Point{{Bar: 0, F: Vec{math.NaN()}}}}, {Joints: []JointLoad{{F: Vec{math.Inf(1)}}}},
	} {
		if _, err := s.Solve(c); err == nil {
			t.Errorf("%+v was taken", c)
		}
	}
}

func ExampleSystem_Solve() {
	// A shelf bracket: a 900 mm arm of 2 x 2 x 11 ga tube, 400 N at its tip.
	m := &Model{
		Nodes: []Node{{ID: "wall", Fix: [6]bool{true, true, true, true, true, true}}, {ID: "tip", At: Vec{900, 0, 0}}},
		Bars:  []Bar{{ID: "arm", From: 0, To: 1, A: 580, Iy: 2.2e5, Iz: 2.2e5, J: 3.6e5, E: 200000, G: 77200}},
	}
	s, err := NewSystem(m)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := s.Solve(Case{Joints: []JointLoad{{Node: 1, F: Vec{0, 0, -400}}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("sag %.2f mm, moment at the wall %.0f N mm\n", -r.U[1][2], -r.Reactions[0].F[4])
	// Output: sag 2.21 mm, moment at the wall 360000 N mm
}
