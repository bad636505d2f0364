package stiffness

import (
	"math"
	"testing"
)

func TestEulerColumns(t *testing.T) {
	const l, e, i = 2000.0, 200000.0, 1e5
	for _, c := range []struct {
		name, from, to string
		k              float64
	}{{"pinned", "xyzX", "yz", 1}, {"free", allFixed, "", 2}, {"fixed and pinned", allFixed, "yz", 0.6992}, {"fixed and guided", allFixed, "YZ", 1}, {"fixed", allFixed, "yzXYZ", 0.5}} {
		m := &Model{Nodes: []Node{node("a", 0, 0, 0, c.from), node("b", l, 0, 0, c.to)}, Bars: []Bar{{From: 0, To: 1, A: 600, Iy: i, Iz: 2 * i, J: i, E: e, G: 77000}}}
		r := must(t, m, Case{Joints: []JointLoad{{Node: 1, F: Vec{-1000, 0, 0}}}})
		f, ok, err := r.Buckling(6)
		if err != nil || !ok {
			t.Fatalf("%s: %v %v", c.name, ok, err)
		}
		worked(t, "column, other end "+c.name, f*1000, math.Pi*math.Pi*e*i/(c.k*c.k*l*l), 2e-3) // six parts to a bar: 0.16 % with fixed ends; K printed to four digits
	}
	m := &Model{Nodes: []Node{node("a", 0, 0, 0, allFixed), node("b", l, 0, 0, "")}, Bars: []Bar{{From: 0, To: 1, A: 600, Iy: i, Iz: i, J: i, E: e, G: 77000}}}
	if f, ok, err := must(t, m, Case{Joints: []JointLoad{{Node: 1, F: Vec{1000, 0, 0}}}}).Buckling(4); ok || err != nil {
		t.Errorf("a bar in tension buckles at %g, %v", f, err)
	}
	// Released in the middle of a pinned column's length by nothing: pins at both ends through releases.
	m = &Model{Nodes: []Node{node("a", 0, 0, 0, allFixed), node("b", l, 0, 0, "yzXYZ")}, Bars: []Bar{{From: 0, To: 1, A: 600, Iy: i, Iz: 2 * i, J: i, E: e, G: 77000}}}
	for _, d := range []int{4, 5, 10, 11} {
		m.Bars[0].Release[d] = true
	}
	f, ok, err := must(t, m, Case{Joints: []JointLoad{{Node: 1, F: Vec{-1000, 0, 0}}}}).Buckling(6)
	if err != nil || !ok || math.Abs(f*1000/(math.Pi*math.Pi*e*i/(l*l))-1) > 1e-3 {
		t.Errorf("released column buckles at %g: %v %v", f*1000, ok, err)
	}
}

func TestSwayOfPortals(t *testing.T) {
	// Square portal of one section, a load on each column: hinged feet kl tan kl = 6, fixed feet kl / tan kl = -6.
	const h, e, i = 1000.0, 200000.0, 1e5
	for _, c := range []struct {
		name, fix string
		kl        float64
	}{{"hinged", "xyzXZ", 1.349553}, {"fixed", allFixed, 2.716461}} {
		m := &Model{Nodes: []Node{node("a", 0, 0, 0, c.fix), node("b", 0, 0, h, "yXZ"), node("c", h, 0, h, "yXZ"), node("d", h, 0, 0, c.fix)}}
		for k := 0; k < 3; k++ {
			m.Bars = append(m.Bars, Bar{From: k, To: k + 1, A: 1e5, Iy: i, Iz: i, J: i, E: e, G: 77000, Up: [3]Vec{{1, 0, 0}, {0, 0, 1}, {1, 0, 0}}[k]})
		}
		r := must(t, m, Case{Joints: []JointLoad{{Node: 1, F: Vec{0, 0, -1000}}, {Node: 2, F: Vec{0, 0, -1000}}}})
		f, ok, err := r.Buckling(6)
		if err != nil || !ok {
			t.Fatal(err)
		}
		worked(t, "square portal, feet "+c.name+", P h^2 / E I", f*1000*h*h/(e*i), c.kl*c.kl, 2e-3) // axial strain is left out there
	}
}

// TestPartsOfABar: what few parts cost with fixed ends, as NewBuckler says.
func TestPartsOfABar(t *testing.T) {
	const l, e, i = 2000.0, 200000.0, 1e5
	m := &Model{Nodes: []Node{node("a", 0, 0, 0, allFixed), node("b", l, 0, 0, "yzXYZ")}, Bars: []Bar{{From: 0, To: 1, A: 600, Iy: i, Iz: 2 * i, J: i, E: e, G: 77000}}}
	r := must(t, m, Case{Joints: []JointLoad{{Node: 1, F: Vec{-1000, 0, 0}}}})
	for parts, most := range map[int]float64{2: 0.014, 4: 0.009} {
		f, ok, err := r.Buckling(parts)
		if want := 4 * math.Pi * math.Pi * e * i / (l * l); err != nil || !ok || f*1000 < want || f*1000 > want*(1+most) {
			t.Errorf("%d parts: %g of %g", parts, f*1000, want)
		}
	}
}
