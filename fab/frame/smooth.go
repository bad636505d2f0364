package frame

import (
	"math"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// threePoint is the circle (or line) through heights over three places: a curve with three parameters that stays well
// behaved where the circle is flat, and may be hollow. Least squares moves the three heights.
type threePoint struct {
	y, z [3]float64
}

// circle gives centre and radius; ok is false where the three heights lie on a line as far as it matters.
func (c threePoint) circle() (cy, cz, r float64, ok bool) {
	ax, ay := c.y[1]-c.y[0], c.z[1]-c.z[0]
	bx, by := c.y[2]-c.y[0], c.z[2]-c.z[0]
	d := 2 * (ax*by - ay*bx)
	span := bx * bx
	if math.Abs(d) < 1e-9*span {
		return 0, 0, 0, false
	}
	a2, b2 := ax*ax+ay*ay, bx*bx+by*by
	ux, uy := (by*a2-ay*b2)/d, (ax*b2-bx*a2)/d
	return c.y[0] + ux, c.z[0] + uy, math.Hypot(ux, uy), true
}

func (c threePoint) at(y float64) (z, slope float64) {
	cy, cz, r, ok := c.circle()
	if !ok {
		slope = (c.z[2] - c.z[0]) / (c.y[2] - c.y[0])
		return c.z[0] + slope*(y-c.y[0]), slope
	}
	up := 1.0
	if cz > c.z[1] {
		up = -1
	}
	x := y - cy
	edge := max(-0.999*r, min(0.999*r, x))
	root := math.Sqrt(r*r - edge*edge)
	slope = -up * edge / root
	return cz + up*root + slope*(x-edge), slope
}

// bspline is a cubic spline on even intervals.
type bspline struct {
	lo, step float64
	c        []float64 // one more than the intervals by two
}

// basis gives the four cubic B-splines that are not zero at y, with derivatives, and the first one's index.
func (s *bspline) basis(y float64) (first int, v, d [4]float64) {
	n := len(s.c) - 3
	u := (y - s.lo) / s.step
	first = max(0, min(n-1, int(math.Floor(u))))
	t := max(-1, min(2, u-float64(first))) // a little beyond the ends the last piece goes on
	q := 1 - t
	v = [4]float64{q * q * q / 6, (3*t*t*t - 6*t*t + 4) / 6, (-3*t*t*t + 3*t*t + 3*t + 1) / 6, t * t * t / 6}
	d = [4]float64{-q * q / 2, (3*t*t - 4*t) / 2, (-3*t*t + 2*t + 1) / 2, t * t / 2}
	for i := range d {
		d[i] /= s.step
	}
	return first, v, d
}

func (s *bspline) at(y float64) (z, slope float64) {
	i, v, d := s.basis(y)
	for k := range 4 {
		z += s.c[i+k] * v[k]
		slope += s.c[i+k] * d[k]
	}
	return z, slope
}

// smooth fits a surface to measured points.
func (b *builder) smooth(s *Surface, j *job.Surface) bool {
	var pts []space.Vec
	solid := len(j.Points[0]) == 3
	for _, p := range j.Points {
		v := space.Vec{Y: p[0].MM(), Z: p[1].MM()}
		if solid {
			v = space.Vec{X: p[0].MM(), Y: p[1].MM(), Z: p[2].MM()}
		}
		pts = append(pts, v)
	}
	box := space.EmptyBox()
	for _, p := range pts {
		box = box.Take(p)
	}
	s.LoY, s.HiY = box.Lo.Y, box.Hi.Y
	if solid {
		s.LoX, s.HiX = box.Lo.X, box.Hi.X
	}
	s.Smooth = j.Smooth
	if s.Smooth == "" {
		s.Smooth = "circle"
	}
	if solid && s.Smooth == "circle" {
		s.Smooth = "cylinder" // the same circle all along, on a slope
	}
	fit := fitCircle
	if s.Smooth == "spline" {
		fit = fitSpline
	}
	slope := s.Slope // of the job, on top of what was measured
	s.Slope = 0
	if !fit(s, pts, solid) {
		b.problem(j.Where.In("points"), text.Error, CodeSurface, "surface %q: these points do not fix a %s: they need at least %s at different places: measure more, or choose another smooth", j.Name, s.Smooth, need(s.Smooth, solid))
		return false
	}
	worst := s.residuals(pts)
	b.slip(s, j, pts, worst, fit, solid)
	s.Slope += slope
	if j.TopGiven {
		y0 := s.highest(0, s.LoY, 0, s.HiY)
		s.base += j.Top.MM() - y0.Z
	}
	return true
}

func need(smooth string, solid bool) string {
	switch {
	case smooth == "spline" && solid:
		return "eight points over two places along x"
	case smooth == "spline":
		return "four points"
	case solid:
		return "three places across and two along"
	}
	return "three points"
}

// residuals fills in how far each point lies over the surface and gives the index of the worst.
func (s *Surface) residuals(pts []space.Vec) int {
	s.Residuals = s.Residuals[:0]
	var sum, most float64
	worst := 0
	for i, p := range pts {
		off := p.Z - s.Height(p.X, p.Y)
		s.Residuals = append(s.Residuals, Residual{p, off})
		sum += off * off
		if math.Abs(off) > most {
			most, worst = math.Abs(off), i
		}
	}
	s.RMSMM = math.Sqrt(sum / float64(len(pts)))
	return worst
}

// slip warns of a point that does not belong: far off the surface that the others make.
func (b *builder) slip(s *Surface, j *job.Surface, pts []space.Vec, worst int, fit func(*Surface, []space.Vec, bool) bool, solid bool) {
	rest := append(append([]space.Vec(nil), pts[:worst]...), pts[worst+1:]...)
	without := Surface{Smooth: s.Smooth, LoX: s.LoX, HiX: s.HiX, LoY: s.LoY, HiY: s.HiY}
	if len(rest) < 5 || !fit(&without, rest, solid) {
		return
	}
	without.residuals(rest)
	p := pts[worst]
	off := p.Z - without.Height(p.X, p.Y)
	// Beyond six times the scatter of the others, and more than a tape's slip of an eighth of an inch.
	if math.Abs(off) > max(6*without.RMSMM, 3) {
		b.problem(j.Where.In("points"), text.Warning, CodeSurface, "surface %q: the point at y %s lies %s off the %s through the others (they keep to %s): a slip of the tape? measure it again", j.Name,
			b.tape(p.Y), b.tape(math.Abs(off)), s.Smooth, b.tape(without.RMSMM))
	}
}

// fitCircle fits a circle over y, and a slope along x where x was measured, by least squares of the heights (Gauss-Newton
// on three heights).
func fitCircle(s *Surface, pts []space.Vec, solid bool) bool {
	if s.HiY-s.LoY < 1 || solid && s.HiX-s.LoX < 1 {
		return false
	}
	c := threePoint{y: [3]float64{s.LoY, (s.LoY + s.HiY) / 2, s.HiY}}
	n := 3
	if solid {
		n = 4
	}
	p := make([]float64, n)
	value := func(p []float64, v space.Vec) float64 {
		c.z = [3]float64(p[:3])
		z, _ := c.at(v.Y)
		if solid {
			z += p[3] * v.X
		}
		return z
	}
	var mean float64
	for _, v := range pts {
		mean += v.Z / float64(len(pts))
	}
	p[0], p[1], p[2] = mean, mean, mean
	const h = 1e-3
	for range 60 {
		a, r := newNormal(n), make([]float64, n)
		for _, v := range pts {
			z := value(p, v)
			g := make([]float64, n)
			for k := range g {
				old := p[k]
				step := h
				if k == 3 {
					step = h / max(1, s.HiX-s.LoX)
				}
				p[k] = old + step
				up := value(p, v)
				p[k] = old - step
				g[k] = (up - value(p, v)) / (2 * step)
				p[k] = old
			}
			for i := range g {
				r[i] += g[i] * (v.Z - z)
				for k := range g {
					a[i][k] += g[i] * g[k]
				}
			}
		}
		d, ok := solve(a, r)
		if !ok {
			return false
		}
		var most float64
		for k := range p {
			p[k] += d[k]
			if k < 3 {
				most = max(most, math.Abs(d[k]))
			}
		}
		if most < 1e-9 {
			break
		}
	}
	c.z = [3]float64(p[:3])
	s.profile = c
	if solid {
		s.Slope = p[3]
	}
	if _, cz, r, ok := c.circle(); ok {
		s.RadiusMM = r
		if cz > c.z[1] {
			s.RadiusMM = -r
		}
	}
	return true
}

// fitSpline fits a cubic spline over y by least squares, with one interval for every four places measured and at most
// eight; of points in three dimensions height and slope along x are such splines.
func fitSpline(s *Surface, pts []space.Vec, solid bool) bool {
	places := map[float64]bool{}
	for _, p := range pts {
		places[p.Y] = true
	}
	k := max(1, min(8, len(places)/4))
	if len(places) < 4 || s.HiY-s.LoY < 1 || solid && s.HiX-s.LoX < 1 {
		return false
	}
	z := &bspline{lo: s.LoY, step: (s.HiY - s.LoY) / float64(k), c: make([]float64, k+3)}
	m := k + 3
	n := m
	if solid {
		n = 2 * m
	}
	a, r := newNormal(n), make([]float64, n)
	mid, half := (s.LoX+s.HiX)/2, (s.HiX-s.LoX)/2 // x counts from -1 to 1, so that both splines weigh alike
	if !solid {
		mid, half = 0, 1
	}
	for _, p := range pts {
		first, v, _ := z.basis(p.Y)
		g := make([]float64, n)
		for i := range 4 {
			g[first+i] = v[i]
			if solid {
				g[m+first+i] = v[i] * (p.X - mid) / half
			}
		}
		for i := range g {
			r[i] += g[i] * p.Z
			for j := range g {
				a[i][j] += g[i] * g[j]
			}
		}
	}
	// A trace of stiffness fixes what the points leave open.
	var trace float64
	for i := range a {
		trace += a[i][i]
	}
	for i := 1; i+1 < m; i++ {
		for off := 0; off < n; off += m {
			for p, cp := range [3]float64{1, -2, 1} {
				for q, cq := range [3]float64{1, -2, 1} {
					a[off+i-1+p][off+i-1+q] += cp * cq * 1e-11 * trace
				}
			}
		}
	}
	c, ok := solve(a, r)
	if !ok {
		return false
	}
	copy(z.c, c)
	s.profile = z
	if solid {
		t := &bspline{lo: z.lo, step: z.step, c: make([]float64, m)}
		for i := range t.c {
			t.c[i] = c[m+i] / half
			z.c[i] -= t.c[i] * mid
		}
		s.twist = t
	}
	return true
}

func newNormal(n int) [][]float64 {
	a := make([][]float64, n)
	for i := range a {
		a[i] = make([]float64, n)
	}
	return a
}

// solve solves a small system by elimination with pivots; ok is false where it has no single answer.
func solve(a [][]float64, r []float64) ([]float64, bool) {
	n := len(r)
	scale := 0.0
	for i := range a {
		for _, v := range a[i] {
			scale = max(scale, math.Abs(v))
		}
	}
	for c := range n {
		p := c
		for i := c + 1; i < n; i++ {
			if math.Abs(a[i][c]) > math.Abs(a[p][c]) {
				p = i
			}
		}
		if !(math.Abs(a[p][c]) > 1e-14*scale) {
			return nil, false
		}
		a[c], a[p], r[c], r[p] = a[p], a[c], r[p], r[c]
		for i := c + 1; i < n; i++ {
			f := a[i][c] / a[c][c]
			for k := c; k < n; k++ {
				a[i][k] -= f * a[c][k]
			}
			r[i] -= f * r[c]
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = r[i]
		for k := i + 1; k < n; k++ {
			x[i] -= a[i][k] * x[k]
		}
		x[i] /= a[i][i]
	}
	return x, true
}
