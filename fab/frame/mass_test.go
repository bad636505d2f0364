package frame_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/space"
)

// TestMass holds mass and centre of members with slanted ends against their solids, cut into tetrahedra.
func TestMass(t *testing.T) {
	j := frametest.Read(t, "[section.a]\nshape = \"flat\"\nsize = \"3 x 1\"\n[section.b]\nshape = \"angle\"\nsize = \"3 x 2 x 1/4\"\n[section.c]\nshape = \"channel\"\nsize = \"3 x 2 x 1/4\"\n")
	sections := frametest.Sections(t, j)
	rapid.Check(t, func(r *rapid.T) {
		s := frame.NewSection("s", "", sections[rapid.SampledFrom([]string{"a", "b", "c"}).Draw(r, "section")])
		m := frame.Member{Section: s, B: space.Vec{X: 600}, Axis: space.X, Depth: space.Y, Width: space.Z}
		f := func(n string) float64 { return rapid.Float64Range(-1.2, 1.2).Draw(r, n) }
		m.Ends[0].Planes = []space.Plane{{Normal: space.Vec{X: -1, Y: f("y0"), Z: f("z0")}.Unit()}}
		m.Ends[1].Planes = []space.Plane{{Point: m.B, Normal: space.Vec{X: 1, Y: f("y1"), Z: f("z1")}.Unit()}}
		var volume float64
		var sum space.Vec
		for _, s := range m.Solids() {
			o := s.Facets[0].Poly[0]
			for _, f := range s.Facets {
				for k := 1; k+1 < len(f.Poly); k++ {
					a, b, c := f.Poly[0].Sub(o), f.Poly[k].Sub(o), f.Poly[k+1].Sub(o)
					v := a.Dot(b.Cross(c)) / 6
					volume += v
					sum = sum.Add(o.Add(a.Add(b).Add(c).Mul(0.25)).Mul(v))
				}
			}
		}
		if want := volume * 7850e-9; math.Abs(m.MassKG()-want) > 1e-6*want {
			r.Fatalf("%v kg, by its solids %v", m.MassKG(), want)
		}
		if want := sum.Mul(1 / volume); m.Centre().Dist(want) > 1e-6 {
			r.Fatalf("centre %v, by its solids %v", m.Centre(), want)
		}
	})
}
