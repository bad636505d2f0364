package stiffness

import (
	"math"
	"sort"
)

// Reaction is what a support does to the frame at a joint, global axes; a spring's force included.
type Reaction struct {
	Node int
	F    [6]float64
}

// Result is the answer to one case.
type Result struct {
	Case      string
	U         [][6]float64  // displacement of each joint
	Reactions []Reaction    // of joints with a support, in the order of the joints
	Ends      [][12]float64 // forces on each bar's ends, local axes
	Imbalance float64       // of loads and reactions together, force and moment, as a share of what was applied

	sys  *System
	load *applied
}

// applied is a case turned to what the bars and the joints feel.
type applied struct {
	joint  [][6]float64  // loads at the joints, those from bars included
	ends   [][12]float64 // equivalent end loads of each bar, local, releases condensed
	pieces map[int][]piece
	jabs   map[int][]jab
}

func (s *System) apply(c *Case) (*applied, error) {
	m := s.model
	a := &applied{joint: make([][6]float64, len(m.Nodes)), ends: make([][12]float64, len(m.Bars)), pieces: map[int][]piece{}, jabs: map[int][]jab{}}
	for _, l := range c.Joints {
		for i := 0; i < 3; i++ {
			a.joint[l.Node][i] += l.F[i]
			a.joint[l.Node][3+i] += l.M[i]
		}
	}
	add := func(bar int, w0, w1 Vec, from, to float64) {
		e := s.elems[bar]
		from, to = math.Max(from, 0), math.Min(to, e.l)
		if to > from && (w0 != Vec{} || w1 != Vec{}) {
			a.pieces[bar] = append(a.pieces[bar], piece{from, to, w0, w1})
		}
	}
	for _, l := range c.Spreads {
		e := s.elems[l.Bar]
		if l.Local {
			add(l.Bar, l.W0, l.W1, l.From, l.To)
		} else {
			add(l.Bar, e.toLocal(l.W0), e.toLocal(l.W1), l.From, l.To)
		}
	}
	if c.Gravity != (Vec{}) {
		for i := range m.Bars {
			if w := s.elems[i].toLocal(c.Gravity.scale(m.Bars[i].Mass)); m.Bars[i].Mass > 0 {
				add(i, w, w, 0, s.elems[i].l)
			}
		}
	}
	for _, l := range c.Points {
		e := s.elems[l.Bar]
		j := jab{math.Min(math.Max(l.At, 0), e.l), l.F, l.M}
		if !l.Local {
			j.f, j.m = e.toLocal(l.F), e.toLocal(l.M)
		}
		a.jabs[l.Bar] = append(a.jabs[l.Bar], j)
	}
	for i, e := range s.elems {
		q := &a.ends[i]
		if len(a.pieces[i]) == 0 && len(a.jabs[i]) == 0 {
			continue
		}
		for k := range a.pieces[i] {
			e.putSpread(q, &a.pieces[i][k])
		}
		for _, j := range a.jabs[i] {
			e.put(q, j.at, j.f, j.m)
		}
		if e.any {
			big := 0.0
			for _, v := range q {
				big = math.Max(big, math.Abs(v))
			}
			whole := *e
			whole.k, _, _ = localStiffness(&m.Bars[i], e.l)
			if loose := whole.condense(q); loose > 1e-9*big {
				return nil, faultf(m.barName(i), "a load acts in a direction in which both its ends are released")
			}
		}
		e.toJoints(q, 1, a.joint)
	}
	return a, nil
}

// Solve answers one case.
func (s *System) Solve(c Case) (*Result, error) {
	m := s.model
	if err := m.checkCase(&c); err != nil {
		return nil, err
	}
	a, err := s.apply(&c)
	if err != nil {
		return nil, err
	}
	if err := s.checkSpins(a); err != nil {
		return nil, err
	}
	for n := range m.Nodes {
		if !s.used[n] {
			for d, v := range a.joint[n] {
				if v != 0 && !m.Nodes[n].Fix[d] {
					return nil, &MechanismError{[][]Motion{{{n, s.name(n), d, 1}}}}
				}
			}
		}
	}
	u := make([][6]float64, len(m.Nodes))
	if c.Settle != 0 {
		for n := range m.Nodes {
			for d, v := range m.Nodes[n].Settle {
				u[n][d] = v * c.Settle
			}
		}
	}
	scale := 0.0
	for pass := 0; ; pass++ {
		r := s.resist(u)
		for n := range r {
			for d := range r[n] {
				r[n][d] = a.joint[n][d] - r[n][d]
			}
		}
		b := s.gather(r)
		big := 0.0
		for _, v := range b {
			big = math.Max(big, math.Abs(v))
		}
		if pass == 0 {
			scale = big
		}
		if pass == 4 || big <= 1e-15*scale {
			break
		}
		if err := s.solveInto(b, u); err != nil {
			return nil, err
		}
	}
	res := &Result{Case: c.Name, U: u, Ends: make([][12]float64, len(m.Bars)), sys: s, load: a}
	forces := make([][6]float64, len(u))
	for i, e := range s.elems {
		d := e.ends(u)
		f := e.elastic(&d)
		for k := range f {
			f[k] -= a.ends[i][k]
		}
		res.Ends[i] = f
		e.toJoints(&f, 1, forces)
	}
	direct := make([][6]float64, len(u))
	for _, l := range c.Joints {
		for i := 0; i < 3; i++ {
			direct[l.Node][i] += l.F[i]
			direct[l.Node][3+i] += l.M[i]
		}
	}
	for n := range m.Nodes {
		nd := &m.Nodes[n]
		r, any := Reaction{Node: n}, false
		for d := 0; d < 6; d++ {
			switch {
			case nd.Fix[d]:
				r.F[d], any = forces[n][d]-direct[n][d], true
			case nd.Spring[d] > 0:
				r.F[d], any = -nd.Spring[d]*u[n][d], true
			}
		}
		if any {
			res.Reactions = append(res.Reactions, r)
		}
	}
	res.Imbalance = res.imbalance(&c)
	for n := range u {
		for d := range u[n] {
			if !finite(u[n][d]) {
				return nil, faultf("frame", "its stiffness is lost in rounding")
			}
		}
	}
	if res.Imbalance > 1e-6 {
		return nil, faultf("frame", "loads and reactions do not balance (%.2g of the load): bars of very different stiffness meet, and the answer is lost in rounding", res.Imbalance)
	}
	return res, nil
}

// checkSpins finds a moment on a joint that can turn freely.
func (s *System) checkSpins(a *applied) error {
	big := 0.0
	for n := range a.joint {
		for d, v := range a.joint[n] {
			if d < RX {
				v *= s.reach
			}
			big = math.Max(big, math.Abs(v))
		}
	}
	for _, sp := range s.spins {
		j := a.joint[sp.node]
		if t := sp.axis.dot(Vec{j[3], j[4], j[5]}); math.Abs(t) > 1e-9*big {
			d := 0
			for i := range sp.axis {
				if math.Abs(sp.axis[i]) > math.Abs(sp.axis[d])+1e-9 {
					d = i
				}
			}
			return &MechanismError{[][]Motion{{{sp.node, s.name(sp.node), RX + d, 1}}}}
		}
	}
	return nil
}

// imbalance sums the loads as given and the reactions, forces and moments about the middle of the frame.
func (r *Result) imbalance(c *Case) float64 {
	m := r.sys.model
	var mid Vec
	for i := range m.Nodes {
		mid = mid.add(m.Nodes[i].At.scale(1 / float64(len(m.Nodes))))
	}
	var f, mo Vec
	fAll, mAll := 0.0, 0.0
	add := func(p, force, moment Vec) {
		arm := p.sub(mid)
		f = f.add(force)
		mo = mo.add(moment).add(arm.cross(force))
		fAll += force.norm()
		mAll += moment.norm() + arm.norm()*force.norm()
	}
	for _, l := range c.Joints {
		add(m.Nodes[l.Node].At, l.F, l.M)
	}
	for i := range m.Bars {
		e := r.sys.elems[i]
		start := m.Nodes[e.n1].At.add(e.o1)
		for k := range r.load.pieces[i] {
			p := &r.load.pieces[i][k]
			h := (p.to - p.from) / 2
			for _, g := range gauss3 {
				x := p.from + h*(1+g[0])
				add(start.add(e.r[0].scale(x)), e.toGlobal(p.at(x)).scale(h*g[1]), Vec{})
			}
		}
		for _, j := range r.load.jabs[i] {
			add(start.add(e.r[0].scale(j.at)), e.toGlobal(j.f), e.toGlobal(j.m))
		}
	}
	for _, q := range r.Reactions {
		add(m.Nodes[q.Node].At, Vec{q.F[0], q.F[1], q.F[2]}, Vec{q.F[3], q.F[4], q.F[5]})
	}
	if c.Settle != 0 { // a settling support may call up no force at all: then what is left is rounding of the forces within
		inner := 0.0
		for n := range r.U {
			for d, x := range r.U[n] {
				if u := r.sys.eq[n][d]; u >= 0 {
					inner = math.Max(inner, r.sys.own[u]*math.Abs(x))
				}
			}
		}
		fAll += 1e-9 * inner
		mAll += 1e-9 * inner * math.Max(1, r.sys.reach)
	}
	bad := 0.0
	if fAll > 0 {
		bad = f.norm() / fAll
	}
	if mAll > 0 {
		bad = math.Max(bad, mo.norm()/mAll)
	}
	return bad
}

// Station is what goes on at a place along a bar.  Forces and moments act on the cut face that looks towards the To end,
// local axes: N is tension, T twist.  At a point load there are two stations, before and after it.
type Station struct {
	X                    float64 // from the From end
	N, Vy, Vz, T, My, Mz float64
	U                    Vec // displacement, global axes
}

// cut gives the forces at x; after says on which side of a point load at x.
func (r *Result) cut(bar int, x float64, after bool) (st Station) {
	f := &r.Ends[bar]
	st.X = x
	st.N, st.Vy, st.Vz, st.T = -f[0], -f[1], -f[2], -f[3]
	st.My = -f[4] - x*f[2]
	st.Mz = -f[5] + x*f[1]
	for k := range r.load.pieces[bar] {
		p := &r.load.pieces[bar][k]
		to := math.Min(x, p.to)
		if to <= p.from {
			continue
		}
		// Of the stretch up to `to`, which is linear too: its sum, and its moment about x.
		h, w0, w1 := to-p.from, p.w0, p.w1
		if to < p.to {
			w1 = p.at(to)
		}
		st.N -= h / 2 * (w0[0] + w1[0])
		y, z := h/2*(w0[1]+w1[1]), h/2*(w0[2]+w1[2])
		st.Vy -= y
		st.Vz -= z
		st.Mz += (x-to)*y + h*h/6*(2*w0[1]+w1[1])
		st.My -= (x-to)*z + h*h/6*(2*w0[2]+w1[2])
	}
	for _, j := range r.load.jabs[bar] {
		if j.at > x || (j.at == x && !after) {
			continue
		}
		st.N -= j.f[0]
		st.Vy -= j.f[1]
		st.Vz -= j.f[2]
		st.T -= j.m[0]
		st.My -= j.m[1] + (x-j.at)*j.f[2]
		st.Mz += -j.m[2] + (x-j.at)*j.f[1]
	}
	return st
}

// Along gives at least n+1 stations along a bar, with more at load edges and wherever moment or deflection peaks.
func (r *Result) Along(bar, n int) []Station {
	l := r.sys.elems[bar].l
	n = max(n, 1)
	var xs []float64
	for i := 0; i <= n; i++ {
		xs = append(xs, l*float64(i)/float64(n))
	}
	for _, p := range r.load.pieces[bar] {
		xs = append(xs, p.from, p.to)
	}
	for _, j := range r.load.jabs[bar] {
		xs = append(xs, j.at)
	}
	xs = tidy(xs, l)
	// Where a shear changes sign a moment peaks.
	given := len(xs)
	for i := 0; i+1 < given; i++ {
		for _, pick := range []func(Station) float64{func(s Station) float64 { return s.Vy }, func(s Station) float64 { return s.Vz }} {
			if x, ok := crossing(xs[i], xs[i+1], func(x float64) float64 { return pick(r.cut(bar, x, x < xs[i+1])) }); ok {
				xs = append(xs, x)
			}
		}
	}
	xs = tidy(xs, l)
	sag := r.march(bar, xs)
	var more []float64
	for i := 0; i+1 < len(sag); i++ {
		for k := 1; k <= 2; k++ {
			a, b := sag[i].slope[k], sag[i+1].slope[k]
			if a*b < 0 {
				more = append(more, xs[i]+(xs[i+1]-xs[i])*a/(a-b))
			}
		}
	}
	xs = tidy(append(xs, more...), l)
	sag = r.march(bar, xs)
	var out []Station
	for i, x := range xs {
		st := r.cut(bar, x, false)
		st.U = sag[i].u
		jump := false
		for _, j := range r.load.jabs[bar] {
			jump = jump || j.at == x
		}
		if !(jump && x == 0) {
			out = append(out, st)
		}
		if jump && x < l {
			st = r.cut(bar, x, true)
			st.U = sag[i].u
			out = append(out, st)
		}
	}
	return out
}

func crossing(a, b float64, f func(float64) float64) (float64, bool) {
	fa, fb := f(a), f(b)
	if fa*fb >= 0 {
		return 0, false
	}
	for range 60 {
		x := (a + b) / 2
		fx := f(x)
		if fx == 0 {
			return x, true
		}
		if fa*fx < 0 {
			b = x
		} else {
			a, fa = x, fx
		}
	}
	return (a + b) / 2, true
}

// tidy sorts and drops places closer than rounding.
func tidy(xs []float64, l float64) []float64 {
	sort.Float64s(xs)
	k := 0
	for i, x := range xs {
		if i == 0 || x-xs[k-1] > 1e-10*l {
			xs[k] = x
			k++
		}
	}
	xs = xs[:k]
	xs[len(xs)-1] = math.Min(xs[len(xs)-1], l)
	return xs
}

type sagPoint struct {
	u     Vec // global
	slope Vec // of the local displacements along x'
	local Vec
}

// march integrates strains along the bar from its From end: exact, as strains are polynomials of degree three at most
// between the places xs.
func (r *Result) march(bar int, xs []float64) []sagPoint {
	e, b := r.sys.elems[bar], &r.sys.model.Bars[bar]
	d := e.ends(r.U)
	inv := func(x float64) float64 {
		if x > 0 {
			return 1 / x
		}
		return 0
	}
	eiz, eiy, ea := inv(b.E*b.Iz), inv(b.E*b.Iy), inv(b.E*b.A)
	gy, gz := inv(b.G*b.ShearY), inv(b.G*b.ShearZ)
	pts := make([]sagPoint, len(xs))
	// Rotation of the section (t) and displacement (v), both from zero at the From end.
	var v, t Vec
	for i := range xs {
		if i > 0 {
			a, h := xs[i-1], xs[i]-xs[i-1]
			dv := Vec{0, t[1] * h, t[2] * h}
			dt := Vec{}
			for _, g := range gauss3 {
				s := h / 2 * (1 + g[0])
				w := h / 2 * g[1]
				c := r.cut(bar, a+s, true)
				ky, kz := c.Mz*eiz, -c.My*eiy
				dv[0] += w * c.N * ea
				dv[1] += w * ((h-s)*ky + c.Vy*gy)
				dv[2] += w * ((h-s)*kz + c.Vz*gz)
				dt[1] += w * ky
				dt[2] += w * kz
			}
			v, t = v.add(dv), t.add(dt)
		}
		c := r.cut(bar, xs[i], true)
		pts[i].local = v
		pts[i].slope = Vec{0, t[1] + c.Vy*gy, t[2] + c.Vz*gz}
	}
	// Fit what the ends know: both displacements where neither is released.
	last := pts[len(pts)-1].local
	at := func(k int) (base, turn float64) {
		rot := d[5]
		if k == 2 {
			rot = -d[4]
		}
		switch {
		case b.Release[6+k]:
			return d[k], rot
		case b.Release[k]:
			return d[6+k] - last[k] - rot*e.l, rot
		}
		return d[k], (d[6+k] - d[k] - last[k]) / e.l
	}
	y0, yt := at(1)
	z0, zt := at(2)
	x0 := d[0]
	if b.Release[0] && !b.Release[6] {
		x0 = d[6] - last[0]
	}
	for i, x := range xs {
		p := &pts[i]
		p.local = p.local.add(Vec{x0, y0 + yt*x, z0 + zt*x})
		p.slope = p.slope.add(Vec{0, yt, zt})
		p.u = e.toGlobal(p.local)
	}
	return pts
}

// AtJoint gives what the joint at an end (0 From, 1 To) of a bar does to it: force, and moment about the joint, global axes.
func (r *Result) AtJoint(bar, end int) (force, moment Vec) {
	e := r.sys.elems[bar]
	f := r.Ends[bar][6*end:]
	force = e.toGlobal(Vec{f[0], f[1], f[2]})
	arm := e.o1
	if end == 1 {
		arm = e.o2
	}
	return force, e.toGlobal(Vec{f[3], f[4], f[5]}).add(arm.cross(force))
}
