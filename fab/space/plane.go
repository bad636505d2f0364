package space

// Plane is a plane through Point with the unit vector Normal. Where it bounds something, that lies behind it: on the
// side from which Normal points away.
type Plane struct{ Point, Normal Vec }

// Dist gives the signed distance of p from the plane, positive on the side to which Normal points.
func (p Plane) Dist(v Vec) float64 { return v.Sub(p.Point).Dot(p.Normal) }

// Moved gives the plane shifted by d along its normal.
func (p Plane) Moved(d float64) Plane { return Plane{p.Point.Along(p.Normal, d), p.Normal} }

// Flipped gives the plane seen from behind.
func (p Plane) Flipped() Plane { return Plane{p.Point, p.Normal.Mul(-1)} }

// Line gives the parameter t at which from + t*dir crosses the plane; ok is false where it runs along it.
func (p Plane) Line(from, dir Vec) (t float64, ok bool) {
	d := dir.Dot(p.Normal)
	if d > -1e-12 && d < 1e-12 {
		return 0, false
	}
	return -p.Dist(from) / d, true
}
