package nest

import (
	"math"
	"slices"

	"bench.example/soapstone/fab/measure"
)

// Plane is the plane of an end cut as the piece lies, as the slopes of x = x0 + SY*y + SZ*z in billionths: whole numbers,
// so that two planes are parallel exactly when they are equal. y runs over the section's depth from the bottom edge up,
// z over its width.
type Plane struct{ SY, SZ int64 }

// Square is the plane of a square cut.
var Square = Plane{}

// slopeUnit is the number of Plane units in a slope of 1.
const slopeUnit = 1e9

// PlaneOf gives the plane with slopes sy and sz, rounded to a billionth.
func PlaneOf(sy, sz float64) Plane {
	return Plane{int64(math.Round(sy * slopeUnit)), int64(math.Round(sz * slopeUnit))}
}

// Face is the face of the section on which an end's number is seen.
type Face int

// The faces.
const (
	Depth Face = iota // the angle is seen across the depth
	Width             // across the width
)

// LeftPlane gives the plane of a left end with the number deg (degrees from square, positive: its tip at the bottom edge)
// seen on the face.
func LeftPlane(deg float64, face Face) Plane {
	s := math.Tan(deg * math.Pi / 180)
	if face == Width {
		return PlaneOf(0, s)
	}
	return PlaneOf(s, 0)
}

// RightPlane gives the plane of a right end with the number deg seen on the face.
func RightPlane(deg float64, face Face) Plane { return LeftPlane(-deg, face) }

// Lay is one way in which a piece (or a drop) lies: the planes of its ends there, and what was done to bring it there.
type Lay struct {
	Left, Right Plane
	Roll        int  // degrees about its own axis: 0, 90, 180, 270
	Turned      bool // end for end, the across face's bottom edge staying at the bottom; before the roll
}

// Numbers gives the end numbers as the piece lies, from those of the piece: turning swaps them, half a turn of roll
// negates them. At a quarter they are seen on the other face, and their signs are those of the planes there, so that the
// rule of the shared cut (the right number is the next one's left number with the other sign) holds among all that lie.
func (l Lay) Numbers(left, right float64) (float64, float64) {
	if l.Turned {
		left, right = right, left
	}
	switch l.Roll {
	case 180:
		return neg(left), neg(right)
	case 90, 270:
		return l.Left.signed(left), neg(l.Right.signed(right))
	}
	return left, right
}

// signed gives the number deg the sign of the slope that it stands for (of a compound cut the one nearer to it), as a left
// end.
func (p Plane) signed(deg float64) float64 {
	want := math.Abs(math.Tan(deg * math.Pi / 180))
	off := func(v int64) float64 { return math.Abs(math.Abs(float64(v)/slopeUnit) - want) }
	slope := p.SY
	if off(p.SZ) < off(p.SY) {
		slope = p.SZ
	}
	if deg = math.Abs(deg); slope < 0 {
		return neg(deg)
	}
	return deg
}

func neg(v float64) float64 {
	if v == 0 {
		return 0
	}
	return -v
}

// Symmetry says which movements lay a section on itself.
type Symmetry int

// The symmetries of the shapes.
const (
	Rectangular Symmetry = iota // half rolls and turns: tubes, pipe, flat, round and square bar
	Quarter                     // quarter rolls too: square and round sections
	Channel                     // depth across the web, the flanges alike: a turn with its flanges changing places
	EqualAngle                  // equal legs along depth and width: a turn with its legs changing places
	Handed                      // nothing but itself: an angle of unequal legs
)

// LaysOf gives the ways in which a piece with the two end numbers, seen on the face, may lie; different ways with equal
// planes are given once (the one that needs the least handling).
func LaysOf(left, right float64, face Face, sym Symmetry) []Lay {
	return LaysOfPlanes(LeftPlane(left, face), RightPlane(right, face), face, sym)
}

// LaysOfPlanes is LaysOf for ends cut at any planes, compound ones included; Turned keeps the bottom edge of the face at
// the bottom.
func LaysOfPlanes(left, right Plane, face Face, sym Symmetry) []Lay {
	id := Lay{Left: left, Right: right}
	turned := turn(id, face)
	var all []Lay
	switch sym {
	case Rectangular:
		all = []Lay{id, roll(id, 180), turned, roll(turned, 180)}
	case Quarter:
		all = []Lay{id, roll(id, 180), turned, roll(turned, 180), roll(id, 90), roll(id, 270), roll(turned, 90), roll(turned, 270)}
	case Channel:
		// A turn about the width axis: seen on the width face a plain turn, on the depth face a turn and half a roll.
		all = []Lay{id, turn(id, Width)}
		if face == Depth {
			all[1] = roll(turned, 180)
		}
	case EqualAngle:
		// Half a turn about the diagonal: the ends and the legs change places. That is a turn and a quarter of roll, on
		// the width face the other way round.
		quarter := 90
		if face == Width {
			quarter = 270
		}
		all = []Lay{id, roll(turned, quarter)}
	default:
		all = []Lay{id}
	}
	var out []Lay
	for _, l := range all {
		if !slices.ContainsFunc(out, func(o Lay) bool { return o.Left == l.Left && o.Right == l.Right }) {
			out = append(out, l)
		}
	}
	return out
}

// turn lays a piece end for end about the face's upright axis: x and the other axis of the section change sign.
func turn(l Lay, face Face) Lay {
	flip := func(p Plane) Plane {
		if face == Width {
			return Plane{p.SY, -p.SZ}
		}
		return Plane{-p.SY, p.SZ}
	}
	l.Left, l.Right = flip(l.Right), flip(l.Left)
	l.Turned = !l.Turned
	return l
}

// roll turns a piece about its own axis; quarters carry the depth onto the width.
func roll(l Lay, deg int) Lay {
	for range deg / 90 {
		l.Left, l.Right = Plane{-l.Left.SZ, l.Left.SY}, Plane{-l.Right.SZ, l.Right.SY}
	}
	l.Roll = (l.Roll + deg) % 360
	return l
}

// corners gives the plane's place at the four corners of the section, relative to its place at y = z = 0.
func (p Plane) corners(r *Rules) [4]int64 {
	at := func(y, z measure.Length) int64 {
		return int64(math.Round(float64(p.SY)*float64(y)/slopeUnit + float64(p.SZ)*float64(z)/slopeUnit))
	}
	return [4]int64{at(0, 0), at(r.Depth, 0), at(0, r.Width), at(r.Depth, r.Width)}
}

// secant is 1/cos of the angle between the cut and a square one: how much of the stick's length a kerf takes.
func (p Plane) secant() float64 {
	y, z := float64(p.SY)/slopeUnit, float64(p.SZ)/slopeUnit
	return math.Sqrt(1 + y*y + z*z)
}
