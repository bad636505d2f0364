package space_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/space"
)

func vec(t *rapid.T, name string, size float64) space.Vec {
	f := func(k string) float64 { return rapid.Float64Range(-size, size).Draw(t, name+k) }
	return space.Vec{X: f("x"), Y: f("y"), Z: f("z")}
}

// box gives a box turned in space.
func box(t *rapid.T, name string) (space.Solid, [3]float64) {
	size := [3]float64{rapid.Float64Range(1, 300).Draw(t, name+"a"), rapid.Float64Range(1, 300).Draw(t, name+"b"), rapid.Float64Range(1, 300).Draw(t, name+"c")}
	at := vec(t, name+"at", 100)
	axis := vec(t, name+"axis", 1)
	if axis.Len() < 0.1 {
		axis = space.Z
	}
	axis = axis.Unit()
	turn := rapid.Float64Range(-180, 180).Draw(t, name+"turn")
	u, v, w := space.X.Rotate(axis, turn), space.Y.Rotate(axis, turn), space.Z.Rotate(axis, turn)
	base := []space.Vec{at, at.Along(u, size[0]), at.Along(u, size[0]).Along(v, size[1]), at.Along(v, size[1])}
	return space.Prism(base, w, 0, size[2]), size
}

// TestClipVolume: a plane cuts a box into two parts that together are the box, and the parts lie on their sides.
func TestClipVolume(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s, size := box(r, "s")
		whole := size[0] * size[1] * size[2]
		if v := s.Volume(); math.Abs(v-whole) > 1e-9*whole {
			r.Fatalf("volume %v, not %v", v, whole)
		}
		n := vec(r, "n", 1)
		if n.Len() < 0.1 {
			return
		}
		p := space.Plane{Point: vec(r, "p", 200), Normal: n.Unit()}
		a, _ := s.Clip(p, 7)
		b, _ := s.Clip(p.Flipped(), 7)
		// Slivers under the tolerance of a tenth of a micrometre may be dropped on either side.
		if v := a.Volume() + b.Volume(); math.Abs(v-whole) > 1e-6*whole+space.Near*(size[0]*size[1]+size[1]*size[2]+size[0]*size[2]) {
			r.Fatalf("parts make %v of %v", v, whole)
		}
		for _, f := range a.Facets {
			for _, v := range f.Poly {
				if p.Dist(v) > 2*space.Near {
					r.Fatalf("%v lies %v in front", v, p.Dist(v))
				}
			}
		}
	})
}

// TestCommon: what two boxes share is the same from either side, and no larger than either.
func TestCommon(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		a, _ := box(r, "a")
		b, _ := box(r, "b")
		x, _ := a.Common(b)
		y, _ := b.Common(a)
		va, vb := x.Volume(), y.Volume()
		if math.Abs(va-vb) > 1e-6*(a.Volume()+b.Volume())+1 || va > a.Volume()*(1+1e-9) {
			r.Fatalf("%v and %v", va, vb)
		}
	})
}

func TestPolygons(t *testing.T) {
	square := []space.Vec{{}, {X: 10}, {X: 10, Y: 10}, {Y: 10}}
	moved := []space.Vec{{X: 5, Y: 5}, {X: 15, Y: 5}, {X: 15, Y: 15}, {X: 5, Y: 15}}
	if a := space.Area(space.Overlap(square, moved, space.Z)); math.Abs(a-25) > 1e-9 {
		t.Error(a)
	}
	if space.Overlap(square, []space.Vec{{X: 10}, {X: 20}, {X: 20, Y: 5}}, space.Z) != nil {
		t.Error("they touch along an edge only")
	}
	if c := space.Centroid(square); c.Dist(space.Vec{X: 5, Y: 5}) > 1e-12 {
		t.Error(c)
	}
	if n := space.Normal(space.Reversed(square)); n.Dist(space.Z.Mul(-1)) > 1e-12 {
		t.Error(n)
	}
}

func TestRotate(t *testing.T) {
	if v := space.X.Rotate(space.Z, 90); v != space.Y {
		t.Error("quarter turns are exact", v)
	}
	rapid.Check(t, func(r *rapid.T) {
		axis, v := vec(r, "axis", 1), vec(r, "v", 1000)
		if axis.Len() < 0.1 {
			return
		}
		deg := rapid.Float64Range(-400, 400).Draw(r, "deg")
		w := v.Rotate(axis.Unit(), deg)
		if math.Abs(w.Len()-v.Len()) > 1e-9 || math.Abs(w.Dot(axis)-v.Dot(axis)) > 1e-9 || w.Rotate(axis.Unit(), -deg).Dist(v) > 1e-9 {
			r.Fatalf("%v to %v", v, w)
		}
	})
}

// TestArc holds the arc against its formulas at the half circle and beyond, and on nearly flat ground.
func TestArc(t *testing.T) {
	for _, c := range []struct{ chord, rise, radius, length float64 }{
		{96, 24, 60, 111.27542}, {2, 1, 1, math.Pi}, {2, 1 + math.Sqrt2, math.Sqrt2, math.Sqrt2 * 1.5 * math.Pi}, {1e4, 1e-3, 1.25e10 + 5e-4, 1e4},
	} {
		a := space.Arc{Chord: c.chord, Rise: c.rise}
		if got := a.Radius(); math.Abs(got-c.radius) > 1e-12*c.radius { // rounding
			t.Errorf("chord %g, rise %g: radius %.15g, want %.15g", c.chord, c.rise, got, c.radius)
		}
		if got := a.Length(); math.Abs(got-c.length) > 1e-7*c.length { // worked to seven figures
			t.Errorf("chord %g, rise %g: arc %.9g, want %.9g", c.chord, c.rise, got, c.length)
		}
		if y := a.Ordinate(c.chord / 2); c.rise <= a.Radius() && math.Abs(y) > 1e-9*c.chord {
			t.Errorf("the arc ends %v over its chord", y)
		}
	}
	// Flat ground keeps its figures: a drop of x^2/2R.
	if a := (space.Arc{Chord: 1e4, Rise: 1e-3}); math.Abs(a.Drop(1000)-1e6/2/a.Radius()) > 1e-15 {
		t.Error(a.Drop(1000))
	}
}

func ExampleArc() {
	a := space.Arc{Chord: 60, Rise: 3}
	fmt.Printf("radius %.1f, at 23 from the middle %.4f down at %.4f degrees\n", a.Radius(), a.Drop(23), a.SlopeDeg(23))
	// Output: radius 151.5, at 23 from the middle 1.7561 down at 8.7321 degrees
}
