package nest

import (
	"math"
	"testing"
)

// The numbers of every way to lie, seen on the face where the cut now shows, give its planes back; so pieces that lie
// side by side share a cut by their numbers exactly when their planes are parallel.
func TestNumbersGiveThePlanes(t *testing.T) {
	for sym := Rectangular; sym <= Handed; sym++ {
		for _, face := range []Face{Depth, Width} {
			for _, ends := range [][2]float64{{45, 45}, {45, -45}, {30, 0}, {0, -22.5}, {30, -45}, {-10, 60}} {
				for _, l := range LaysOf(ends[0], ends[1], face, sym) {
					seen := face
					if l.Roll%180 != 0 {
						seen = Width - face
					}
					a, b := l.Numbers(ends[0], ends[1])
					if LeftPlane(a, seen) != l.Left || RightPlane(b, seen) != l.Right {
						t.Errorf("symmetry %d face %d %v: %+v has the numbers %g/%g", sym, face, ends, l, a, b)
					}
				}
			}
		}
	}
}

// What a lay says was done to the piece is what its planes show: half a turn about the angle's diagonal carries (y, z) to
// (z, y) and turns the stick end for end.
func TestEqualAngleTurn(t *testing.T) {
	for _, face := range []Face{Depth, Width} {
		left, right := Plane{300_000_000, 100_000_000}, Plane{-200_000_000, 50_000_000}
		lays := LaysOfPlanes(left, right, face, EqualAngle)
		want := Lay{Left: Plane{-right.SZ, -right.SY}, Right: Plane{-left.SZ, -left.SY}, Turned: true, Roll: map[Face]int{Depth: 90, Width: 270}[face]}
		if len(lays) != 2 || lays[1] != want {
			t.Errorf("face %d: %+v, want %+v", face, lays, want)
		}
	}
}

// A compound end keeps the sign of the slope that its number stands for.
func TestNumbersOfCompoundEnds(t *testing.T) {
	miter := math.Atan(0.6) * 180 / math.Pi
	for _, l := range LaysOfPlanes(PlaneOf(0.6, 0.2), PlaneOf(-0.6, 0.2), Depth, Quarter) {
		a, b := l.Numbers(miter, miter)
		at, bt := l.Left.SY, -l.Right.SY
		if l.Roll%180 != 0 {
			at, bt = l.Left.SZ, -l.Right.SZ
		}
		if a > 0 != (at > 0) || b > 0 != (bt > 0) {
			t.Errorf("%+v: %g/%g", l, a, b)
		}
	}
}
