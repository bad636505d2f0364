// Package space is the little geometry that frames are made of: vectors, planes, flat convex polygons and convex solids,
// in float64 millimetres. A coordinate of 10 m is so held to about 2e-12 m; lengths are rounded to whole nanometres only
// when they become a piece's.
package space

import "math"

// Vec is a point or a direction in space, in mm.
type Vec struct{ X, Y, Z float64 }

// The axes.
var (
	X = Vec{1, 0, 0}
	Y = Vec{0, 1, 0}
	Z = Vec{0, 0, 1}
)

// Add gives v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub gives v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Mul gives v scaled by f.
func (v Vec) Mul(f float64) Vec { return Vec{v.X * f, v.Y * f, v.Z * f} }

// Along gives v + f*dir: the point at distance f from v where dir is a unit vector.
func (v Vec) Along(dir Vec, f float64) Vec {
	return Vec{v.X + f*dir.X, v.Y + f*dir.Y, v.Z + f*dir.Z}
}

// Dot gives the scalar product.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }

// Cross gives the vector product.
func (v Vec) Cross(w Vec) Vec {
	return Vec{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
}

// Len gives the length of v.
func (v Vec) Len() float64 { return math.Sqrt(v.Dot(v)) }

// Dist gives the distance between two points.
func (v Vec) Dist(w Vec) float64 { return v.Sub(w).Len() }

// Unit gives v at length 1; the zero vector stays what it is.
func (v Vec) Unit() Vec {
	l := v.Len()
	if l == 0 {
		return v
	}
	return Vec{v.X / l, v.Y / l, v.Z / l}
}

// Lerp gives the point at share t of the way from v to w.
func (v Vec) Lerp(w Vec, t float64) Vec { return v.Add(w.Sub(v).Mul(t)) }

// AngleDeg gives the angle between two directions, 0 to 180 degrees; exact near 0 and 180, where the arc cosine is not.
func (v Vec) AngleDeg(w Vec) float64 {
	return math.Atan2(v.Cross(w).Len(), v.Dot(w)) * 180 / math.Pi
}

// Rotate turns v right-handed about the unit axis by deg degrees (Rodrigues). Quarter turns are exact.
func (v Vec) Rotate(axis Vec, deg float64) Vec {
	sin, cos := SinCosDeg(deg)
	return v.Mul(cos).Add(axis.Cross(v).Mul(sin)).Add(axis.Mul(axis.Dot(v) * (1 - cos)))
}

// Finite tells whether all coordinates are finite.
func (v Vec) Finite() bool {
	s := v.X + v.Y + v.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}

// SinCosDeg gives sine and cosine of an angle in degrees, exact at the quarter turns.
func SinCosDeg(deg float64) (sin, cos float64) {
	switch math.Mod(math.Mod(deg, 360)+360, 360) {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	return math.Sincos(deg * math.Pi / 180)
}

// Vec2 is a point of a section: Y along its depth, Z along its width, in mm.
type Vec2 struct{ Y, Z float64 }
