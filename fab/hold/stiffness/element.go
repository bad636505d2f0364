package stiffness

import "math"

// element is a bar made ready: axes, condensed local stiffness, what is needed to condense its loads.
type element struct {
	n1, n2 int
	l      float64
	r      [3]Vec // rows x' y' z'
	o1, o2 Vec
	phiY   float64 // shear parameter of bending in the x'-y' plane: 12 E Iz / (G ShearY L^2)
	phiZ   float64
	free   [12]bool // released freedoms
	any    bool
	k      [12][12]float64
}

// localStiffness is the 12 x 12 stiffness of the bar with both ends joined, local axes (Przemieniecki 1968, 5.6).
func localStiffness(b *Bar, l float64) (k [12][12]float64, phiY, phiZ float64) {
	ea, gj := b.E*b.A/l, b.G*b.J/l
	k[0][0], k[6][6], k[0][6], k[6][0] = ea, ea, -ea, -ea
	k[3][3], k[9][9], k[3][9], k[9][3] = gj, gj, -gj, -gj
	if b.ShearY > 0 {
		phiY = 12 * b.E * b.Iz / (b.G * b.ShearY * l * l)
	}
	if b.ShearZ > 0 {
		phiZ = 12 * b.E * b.Iy / (b.G * b.ShearZ * l * l)
	}
	bend := func(v1, t1, v2, t2 int, ei, phi, s float64) {
		c := ei / (1 + phi)
		a, h := 12*c/(l*l*l), 6*c/(l*l)*s
		p, q := (4+phi)*c/l, (2-phi)*c/l
		set := func(i, j int, v float64) { k[i][j], k[j][i] = v, v }
		set(v1, v1, a)
		set(v2, v2, a)
		set(v1, v2, -a)
		set(v1, t1, h)
		set(v1, t2, h)
		set(v2, t1, -h)
		set(v2, t2, -h)
		set(t1, t1, p)
		set(t2, t2, p)
		set(t1, t2, q)
	}
	bend(1, 5, 7, 11, b.E*b.Iz, phiY, 1)
	bend(2, 4, 8, 10, b.E*b.Iy, phiZ, -1)
	return k, phiY, phiZ
}

func (m *Model) element(i int) (*element, error) {
	b := &m.Bars[i]
	r, err := m.axes(i)
	if err != nil {
		return nil, err
	}
	e := &element{n1: b.From, n2: b.To, l: m.Length(i), r: r, o1: b.OffsetFrom, o2: b.OffsetTo}
	e.k, e.phiY, e.phiZ = localStiffness(b, e.l)
	for d, rel := range b.Release {
		if rel {
			e.free[d], e.any = true, true
		}
	}
	if e.any {
		e.condense(nil)
	}
	return e, nil
}

// condense takes the released freedoms out of the stiffness, and out of the load f where one is given (f holds the loads
// equivalent to what lies on the bar).  A freedom whose remaining stiffness is nil has been released twice over (both
// ends free to twist, say): the bar then carries nothing along it.  It reports the largest load left on such a freedom.
func (e *element) condense(f *[12]float64) (loose float64) {
	var diag [12]float64
	for d := range diag {
		diag[d] = e.k[d][d]
	}
	for d := 0; d < 12; d++ {
		if !e.free[d] {
			continue
		}
		p := e.k[d][d]
		if p <= 1e-9*diag[d] {
			for j := range e.k {
				e.k[d][j], e.k[j][d] = 0, 0
			}
			if f != nil {
				loose = math.Max(loose, math.Abs(f[d]))
				f[d] = 0
			}
			continue
		}
		for i := 0; i < 12; i++ {
			if i == d || e.k[i][d] == 0 {
				continue
			}
			g := e.k[i][d] / p
			if f != nil {
				f[i] -= g * f[d]
			}
			for j := 0; j < 12; j++ {
				if j != d {
					e.k[i][j] -= g * e.k[d][j]
				}
			}
		}
		for j := range e.k {
			e.k[d][j], e.k[j][d] = 0, 0
		}
		if f != nil {
			f[d] = 0
		}
	}
	// Symmetry is exact in theory; make it so in the figures.
	for i := 0; i < 12; i++ {
		for j := 0; j < i; j++ {
			v := (e.k[i][j] + e.k[j][i]) / 2
			e.k[i][j], e.k[j][i] = v, v
		}
	}
	return loose
}

func (e *element) toLocal(v Vec) Vec { return Vec{e.r[0].dot(v), e.r[1].dot(v), e.r[2].dot(v)} }
func (e *element) toGlobal(v Vec) Vec {
	return e.r[0].scale(v[0]).add(e.r[1].scale(v[1])).add(e.r[2].scale(v[2]))
}

// ends gives the displacements of the bar's two ends in local axes from those of its joints.
func (e *element) ends(u [][6]float64) (d [12]float64) {
	put := func(n int, o Vec, at int) {
		t := Vec{u[n][0], u[n][1], u[n][2]}
		w := Vec{u[n][3], u[n][4], u[n][5]}
		a, b := e.toLocal(t.add(w.cross(o))), e.toLocal(w)
		copy(d[at:], a[:])
		copy(d[at+3:], b[:])
	}
	put(e.n1, e.o1, 0)
	put(e.n2, e.o2, 6)
	return d
}

// strained gives the motion of the To end relative to the From end carried along rigidly: what strains the bar.
// Working from it keeps the rounding of large rigid motions out of forces and energies.
func (e *element) strained(d *[12]float64) [6]float64 {
	return [6]float64{
		d[6] - d[0],
		d[7] - d[1] - e.l*d[5],
		d[8] - d[2] + e.l*d[4],
		d[9] - d[3], d[10] - d[4], d[11] - d[5],
	}
}

// elastic gives the end forces that the end displacements d call up.
func (e *element) elastic(d *[12]float64) (f [12]float64) {
	s := e.strained(d)
	for i := 0; i < 6; i++ {
		for j := 0; j < 6; j++ {
			f[6+i] += e.k[6+i][6+j] * s[j]
		}
	}
	// The From end balances the To end.
	f[0], f[1], f[2], f[3] = -f[6], -f[7], -f[8], -f[9]
	f[4] = -f[10] + e.l*f[8]
	f[5] = -f[11] - e.l*f[7]
	return f
}

// energyPair is a^T K b of the bar for two sets of joint displacements.
func (e *element) energyPair(a, b *[12]float64) float64 {
	sa, sb := e.strained(a), e.strained(b)
	t := 0.0
	for i := 0; i < 6; i++ {
		for j := 0; j < 6; j++ {
			t += sa[i] * e.k[6+i][6+j] * sb[j]
		}
	}
	return t
}

// toJoints adds the end forces f (local) to the joints' forces in global axes.
func (e *element) toJoints(f *[12]float64, sign float64, out [][6]float64) {
	put := func(n int, o Vec, at int) {
		p := e.toGlobal(Vec{f[at], f[at+1], f[at+2]})
		q := e.toGlobal(Vec{f[at+3], f[at+4], f[at+5]}).add(o.cross(p))
		for i := 0; i < 3; i++ {
			out[n][i] += sign * p[i]
			out[n][3+i] += sign * q[i]
		}
	}
	put(e.n1, e.o1, 0)
	put(e.n2, e.o2, 6)
}

// global gives the stiffness in global axes at the joints.
func (e *element) global() (g [12][12]float64) { return e.turned(&e.k) }

func (e *element) turned(k *[12][12]float64) (g [12][12]float64) {
	var t [12][12]float64
	for end, o := range [2]Vec{e.o1, e.o2} {
		at := 6 * end
		for i := 0; i < 3; i++ {
			for j := 0; j < 3; j++ {
				t[at+i][at+j] = e.r[i][j]
				t[at+3+i][at+3+j] = e.r[i][j]
			}
			c := o.cross(e.r[i]) // r . (w x o) = w . (o x r)
			for j := 0; j < 3; j++ {
				t[at+i][at+3+j] = c[j]
			}
		}
	}
	var kt [12][12]float64
	for i := 0; i < 12; i++ {
		for p := 0; p < 12; p++ {
			v := k[i][p]
			if v == 0 {
				continue
			}
			at := p / 6 * 6
			for j := at; j < at+6; j++ {
				kt[i][j] += v * t[p][j]
			}
		}
	}
	for p := 0; p < 12; p++ {
		at := p / 6 * 6
		for i := at; i < at+6; i++ {
			v := t[p][i]
			if v == 0 {
				continue
			}
			for j := 0; j < 12; j++ {
				g[i][j] += v * kt[p][j]
			}
		}
	}
	return g
}

// shape gives the four displacement functions and their four rotations at x for bending with shear parameter phi.
func (e *element) shape(x, phi float64) (n, t [4]float64) {
	l := e.l
	s := x / l
	c := 1 / (1 + phi)
	n = [4]float64{
		(1 - 3*s*s + 2*s*s*s + phi*(1-s)) * c,
		l * (s - 2*s*s + s*s*s + phi/2*(s-s*s)) * c,
		(3*s*s - 2*s*s*s + phi*s) * c,
		l * (-s*s + s*s*s - phi/2*(s-s*s)) * c,
	}
	t = [4]float64{
		6 * (s*s - s) / l * c,
		(1 - 4*s + 3*s*s + phi*(1-s)) * c,
		6 * (s - s*s) / l * c,
		(-2*s + 3*s*s + phi*s) * c,
	}
	return n, t
}

// put adds to q the loads at the ends that are equivalent to force f and moment m at x, local axes.
func (e *element) put(q *[12]float64, x float64, f, m Vec) {
	s := x / e.l
	q[0] += f[0] * (1 - s)
	q[6] += f[0] * s
	q[3] += m[0] * (1 - s)
	q[9] += m[0] * s
	n, t := e.shape(x, e.phiY)
	q[1] += f[1]*n[0] + m[2]*t[0]
	q[5] += f[1]*n[1] + m[2]*t[1]
	q[7] += f[1]*n[2] + m[2]*t[2]
	q[11] += f[1]*n[3] + m[2]*t[3]
	n, t = e.shape(x, e.phiZ)
	q[2] += f[2]*n[0] - m[1]*t[0]
	q[4] += -f[2]*n[1] + m[1]*t[1]
	q[8] += f[2]*n[2] - m[1]*t[2]
	q[10] += -f[2]*n[3] + m[1]*t[3]
}

// gauss3 is exact to degree five: shape functions (degree three) times loads of degree one.
var gauss3 = [3][2]float64{{-0.7745966692414834, 5.0 / 9}, {0, 8.0 / 9}, {0.7745966692414834, 5.0 / 9}}

func (e *element) putSpread(q *[12]float64, p *piece) {
	h := (p.to - p.from) / 2
	for _, g := range gauss3 {
		x := p.from + h*(1+g[0])
		e.put(q, x, p.at(x).scale(h*g[1]), Vec{})
	}
}

// piece is a linear line load in local axes.
type piece struct {
	from, to float64
	w0, w1   Vec
}

func (p *piece) at(x float64) Vec {
	if p.to <= p.from {
		return p.w0
	}
	s := (x - p.from) / (p.to - p.from)
	return p.w0.scale(1 - s).add(p.w1.scale(s))
}

// jab is a point load in local axes.
type jab struct {
	at   float64
	f, m Vec
}
