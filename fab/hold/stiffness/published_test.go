package stiffness

import (
	"fmt"
	"math"
	"testing"

	"bench.example/soapstone/fab/figure/outside"
)

// frame is shorthand for the tests.
func node(id string, x, y, z float64, fix string) Node {
	n := Node{ID: id, At: Vec{x, y, z}}
	for _, c := range fix {
		for d, f := range "xyzXYZ" {
			if c == f {
				n.Fix[d] = true
			}
		}
	}
	return n
}

const allFixed = "xyzXYZ"

func must(t testing.TB, m *Model, c Case) *Result {
	t.Helper()
	s, err := NewSystem(m)
	if err != nil {
		t.Fatal(err)
	}
	r, err := s.Solve(c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func (r *Result) at(node int) [6]float64 {
	for _, q := range r.Reactions {
		if q.Node == node {
			return q.F
		}
	}
	return [6]float64{}
}

// printed checks a value against its printed digits.
func printed(t *testing.T, source, what string, got, want, rel float64) {
	t.Helper()
	outside.Check(t, outside.Case{Field: "loads", Source: source, What: what, Got: got, Want: want, Rel: rel, Why: "printed to so many digits"})
}

// worked checks a value against one worked out from a formula, which no source outside vouches for.
func worked(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: %.10g, worked out %.10g (to %g)", what, got, want, rel)
	}
}

func planeXY(ns []Node) { // leaves ux, uy, rz
	for i := range ns {
		ns[i].Fix[UZ], ns[i].Fix[RX], ns[i].Fix[RY] = true, true, true
	}
}

func TestKassimaliSpaceFrame(t *testing.T) {
	const src = "Kassimali, Matrix Analysis of Structures, 2nd ed., Example 8.4"
	b := Bar{A: 32.9, Iz: 716, Iy: 236, J: 15.1, E: 29000, G: 11500, To: 0}
	c, s := math.Cos(math.Pi/6), math.Sin(math.Pi/6)
	m := &Model{Nodes: []Node{node("1", 0, 0, 0, ""), node("2", -240, 0, 0, allFixed), node("3", 0, -240, 0, allFixed), node("4", 0, 0, -240, allFixed)}}
	for i, up := range []Vec{{0, 0, 1}, {1, 0, 0}, {-c, -s, 0}} { // roll 0, 90 and 30 degrees in the book's convention
		b.From, b.Up, b.ID = i+1, up, fmt.Sprint(i+1)
		m.Bars = append(m.Bars, b)
	}
	r := must(t, m, Case{
		Joints:  []JointLoad{{Node: 0, M: Vec{-1800, 0, 1800}}},
		Spreads: []Spread{{Bar: 0, W0: Vec{0, -0.25, 0}, W1: Vec{0, -0.25, 0}, To: 240, Local: true}},
	})
	for _, q := range []struct {
		n, d int
		v    float64
	}{{1, 2, -0.74272}, {1, 4, 58.987}, {1, 5, 2330.5}, {2, 0, -4.6249}, {2, 2, -6.4607}, {2, 3, -515.55}, {2, 5, 369.67}, {3, 0, -0.75082}, {3, 3, -383.5}, {3, 4, -60.166}} {
		printed(t, src, fmt.Sprintf("reaction at joint %d, component %d", q.n+1, q.d), r.at(q.n)[q.d], q.v, 5e-4)
	}
	for d, v := range []float64{-1.3522e-3, -2.7965e-3, -1.812e-3, -3.0021e-3, 1.0569e-3, 6.4986e-3} {
		// These six were recalled, not read, and agreed with by a second solver: no source vouches for them.
		worked(t, "displacement of joint 1, component "+fmt.Sprint(d), r.U[0][d], v, 5e-4)
	}
}

func TestKassimaliSpaceTruss(t *testing.T) {
	const src = "Kassimali, Matrix Analysis of Structures, 2nd ed., Example 8.1"
	m := &Model{Nodes: []Node{node("1", -72, 0, 96, "xyz"), node("2", 144, 0, 96, "xyz"), node("3", 72, 0, -96, "xyz"), node("4", -144, 0, -96, "xyz"), node("5", 0, 288, 0, "")}}
	for i := 0; i < 4; i++ {
		b := Bar{From: i, To: 4, A: 8.4, E: 10000, G: 4000, Iy: 1, Iz: 1, J: 1}
		for d := range b.Release {
			b.Release[d] = d%6 >= RX
		}
		b.Release[9] = false // torsion at one end only
		m.Bars = append(m.Bars, b)
	}
	r := must(t, m, Case{Joints: []JointLoad{{Node: 4, F: Vec{0, -100, -50}}}})
	for _, q := range []struct {
		n, d int
		v    float64
	}{{0, 0, -5.5581}, {1, 1, -2.7677}, {2, 0, -19.442}, {2, 2, 25.923}, {3, 1, 47.232}, {3, 2, 15.744}} {
		printed(t, src, fmt.Sprintf("reaction at joint %d, component %d", q.n+1, q.d), r.at(q.n)[q.d], q.v, 5e-4)
	}
}

func TestKassimaliPlaneFrame(t *testing.T) {
	const src = "Kassimali, Matrix Analysis of Structures, 2nd ed., Example 6.6"
	m := &Model{Nodes: []Node{node("1", 0, 0, 0, allFixed), node("2", 120, 240, 0, ""), node("3", 360, 240, 0, allFixed)}}
	b := Bar{A: 11.8, Iz: 310, Iy: 310, J: 1, E: 29000, G: 11500}
	b.From, b.To = 0, 1
	m.Bars = append(m.Bars, b)
	b.From, b.To = 1, 2
	m.Bars = append(m.Bars, b)
	planeXY(m.Nodes)
	r := must(t, m, Case{
		Joints:  []JointLoad{{Node: 1, M: Vec{0, 0, -1500}}},
		Points:  []Point{{Bar: 0, At: m.Length(0) / 2, F: Vec{0, -90, 0}}},
		Spreads: []Spread{{Bar: 1, W0: Vec{0, -.125, 0}, W1: Vec{0, -.125, 0}, To: 240}},
	})
	for _, q := range []struct {
		n, d int
		v    float64
	}{{0, 0, 30.371}, {0, 1, 102.09}, {0, 5, 1216}, {2, 0, -30.372}, {2, 1, 17.913}, {2, 5, -854.07}} {
		printed(t, src, fmt.Sprintf("reaction at joint %d, component %d", q.n+1, q.d), r.at(q.n)[q.d], q.v, 5e-4)
	}
}

func cornerFrame(nodes []Vec, b Bar) *Model {
	m := &Model{}
	for i, p := range nodes {
		fix := allFixed
		if i == 0 {
			fix = ""
		}
		m.Nodes = append(m.Nodes, node(fmt.Sprint(i+1), p[0], p[1], p[2], fix))
		if i > 0 {
			b.From, b.To, b.ID = 0, i, fmt.Sprint(i)
			m.Bars = append(m.Bars, b)
		}
	}
	return m
}

func TestLoganSpaceFrame(t *testing.T) {
	const src = "Logan, A First Course in the Finite Element Method, 4th ed., Example 5.8"
	m := cornerFrame([]Vec{{0, 0, 0}, {-100, 0, 0}, {0, 0, -100}, {0, -100, 0}}, Bar{E: 30000, G: 10000, A: 10, Iy: 100, Iz: 100, J: 50})
	r := must(t, m, Case{Joints: []JointLoad{{Node: 0, F: Vec{0, -50, 0}, M: Vec{-1000, 0, 0}}}})
	for d, v := range []float64{7.098e-5, -0.014, -2.352e-3, -3.996e-3, 1.78e-5, -1.033e-4} {
		rel := 1e-3
		if d == 1 {
			rel = 0.02 // two digits printed
		}
		printed(t, src, "displacement of joint 1, component "+fmt.Sprint(d), r.U[0][d], v, rel)
	}
}

func TestFerreiraSpaceFrame(t *testing.T) {
	const src = "Ferreira, MATLAB Codes for Finite Element Analysis, Example 8.3"
	// The book's local axes: Iy and Iz swap roles along the vertical bar, so each bar's up is set here.
	m := cornerFrame([]Vec{{0, 0, 0}, {3, 0, 0}, {0, 0, -3}, {0, -4, 0}}, Bar{E: 210e6, G: 84e6, A: 0.02, Iy: 1e-4, Iz: 2e-4, J: 5e-5})
	for i := range m.Bars {
		m.Bars[i].Up = ferreiraUp(m, i)
	}
	r := must(t, m, Case{Joints: []JointLoad{{Node: 0, F: Vec{-10, 0, 20}}}})
	for d, v := range []float64{-7.05e-6, -7e-8, 1.418e-5, 1.45e-6, 1.75e-6, 1.14e-6} {
		rel := 5e-3
		if d == 1 {
			rel = 0.08 // one digit printed
		}
		printed(t, src, "displacement of joint 1, component "+fmt.Sprint(d), r.U[0][d], v, rel)
	}
}

// ferreiraUp gives z' as the book's transformation does: for a bar along global z, x' = +-z, y' = y; else y' is level
// in the x-y plane (y' = (-cy, cx, 0)/d) and z' = x' x y'.
func ferreiraUp(m *Model, i int) Vec {
	x := m.Nodes[m.Bars[i].To].At.sub(m.Nodes[m.Bars[i].From].At)
	x = x.scale(1 / x.norm())
	if math.Hypot(x[0], x[1]) < 1e-12 {
		return x.cross(Vec{0, 1, 0})
	}
	d := math.Hypot(x[0], x[1])
	return x.cross(Vec{-x[1] / d, x[0] / d, 0})
}

func mcguireBeam(third Node, fixB string) *Model {
	m := &Model{Nodes: []Node{node("a", 0, 0, 0, allFixed), node("b", 8000, 0, 0, fixB), third}}
	m.Bars = []Bar{{ID: "ab", From: 0, To: 1, A: 6000, Iz: 200e6, Iy: 200e6, J: 1e6, E: 200000, G: 77000},
		{ID: "bc", From: 1, To: 2, A: 4000, Iz: 50e6, Iy: 50e6, J: 1e6, E: 200000, G: 77000}}
	planeXY(m.Nodes)
	return m
}

const mcguire = "McGuire, Gallagher, Ziemian, Matrix Structural Analysis, 2nd ed., Example "

func TestMcGuireBeams(t *testing.T) {
	// 4.9: overhang loaded at its tip.
	m := mcguireBeam(node("c", 13000, 0, 0, ""), "y")
	p := 5000 / math.Sqrt2
	r := must(t, m, Case{Joints: []JointLoad{{Node: 2, F: Vec{p, -p, 0}}}})
	for _, q := range []struct {
		what      string
		got, want float64
	}{{"u of b, mm", r.U[1][0], 0.024}, {"u of c, mm", r.U[2][0], 0.046}, {"v of c, mm", r.U[2][1], -19.15}, {"rotation of c", r.U[2][5], -0.0053}} {
		printed(t, mcguire+"4.9", q.what, q.got, q.want, 0.02)
	}
	printed(t, mcguire+"4.9", "Rax, kN", r.at(0)[0]/1e3, -3.54, 3e-3)

	// 4.10: both ends fixed, moment at the middle support.
	m = mcguireBeam(node("c", 13000, 0, 0, allFixed), "y")
	r = must(t, m, Case{Joints: []JointLoad{{Node: 1, M: Vec{0, 0, 50e6}}}})
	printed(t, mcguire+"4.10", "Ray, kN", r.at(0)[1]/1e3, 6.70, 2e-3)
	printed(t, mcguire+"4.10", "Ma, kN m", r.at(0)[5]/1e6, 17.86, 2e-3)
	printed(t, mcguire+"4.10", "Rby, kN", r.at(1)[1]/1e3, -2.41, 2e-3)
	printed(t, mcguire+"4.10", "Mc, kN m", r.at(2)[5]/1e6, 7.14, 2e-3)

	// 4.11: the middle support settles.
	m.Nodes[1].Settle[UY] = -20
	r = must(t, m, Case{Settle: 1})
	printed(t, mcguire+"4.11", "Ray, kN", r.at(0)[1]/1e3, 15.13, 1e-3)
	printed(t, mcguire+"4.11", "Ma, kN m", r.at(0)[5]/1e6, 65.36, 1e-3)
	printed(t, mcguire+"4.11", "Rcy, kN", r.at(2)[1]/1e3, 21.51, 1e-3)
	printed(t, mcguire+"4.11", "Mc, kN m", r.at(2)[5]/1e6, -51.86, 1e-3)

	// 4.13: L frame.
	m = mcguireBeam(node("c", 8000, -5000, 0, allFixed), "")
	r = must(t, m, Case{Joints: []JointLoad{{Node: 1, F: Vec{70710.7, -70710.7, 0}, M: Vec{0, 0, 50e6}}}})
	printed(t, mcguire+"4.13", "u of b, mm", r.U[1][0], 0.4415, 3e-3)
	printed(t, mcguire+"4.13", "v of b, mm", r.U[1][1], -0.3999, 3e-3)
	printed(t, mcguire+"4.13", "rotation of b", r.U[1][5], 0.00169, 3e-3)
}

func TestMcGuireSpaceTruss(t *testing.T) {
	const src = mcguire + "5.4"
	m := &Model{Nodes: []Node{node("a", 2000, 4000, 8000, ""), node("b", 0, 0, 0, "xyz"), node("c", 8000, 0, 0, "xyz"), node("d", 8000, 6000, 0, "xyz"), node("e", 0, 6000, 0, "xyz")}}
	for i, a := range []float64{20000, 30000, 40000, 30000} {
		m.Bars = append(m.Bars, Bar{From: 0, To: i + 1, A: a, E: 200000}) // no bending stiffness at all: a truss bar
	}
	r := must(t, m, Case{Joints: []JointLoad{{Node: 0, F: Vec{200e3, 600e3, -800e3}}}})
	for d, v := range []float64{0.178, 2.722, -0.487} {
		printed(t, src, "displacement of a, mm, component "+fmt.Sprint(d), r.U[0][d], v, 2e-3)
	}
	for _, q := range []struct {
		n, d int
		v    float64
	}{{1, 0, -76.4}, {1, 2, -305.6}, {2, 0, 170.8}, {2, 1, -113.9}, {2, 2, -227.8}, {3, 1, -156.9}, {4, 1, -176.4}} {
		printed(t, src, fmt.Sprintf("reaction at joint %d, kN, component %d", q.n+1, q.d), r.at(q.n)[q.d]/1e3, q.v, 1e-3)
	}
}

func TestMcGuireLoadedBeams(t *testing.T) {
	// 5.6: continuous beam, uniform load on one span, point load on the other.
	m := mcguireBeam(node("c", 13000, 0, 0, allFixed), "y")
	m.Nodes[0] = node("a", 0, 0, 0, "xy")
	planeXY(m.Nodes)
	r := must(t, m, Case{
		Spreads: []Spread{{Bar: 0, W0: Vec{0, -2, 0}, W1: Vec{0, -2, 0}, To: 8000}},
		Points:  []Point{{Bar: 1, At: 2000, F: Vec{0, -20e3, 0}}},
	})
	printed(t, mcguire+"5.6", "Ray, kN", r.at(0)[1]/1e3, 6.13, 2e-3)
	printed(t, mcguire+"5.6", "Rcy, kN", r.at(2)[1]/1e3, 6.87, 2e-3)
	printed(t, mcguire+"5.6", "Mc, kN m", r.at(2)[5]/1e6, -9.32, 2e-3)

	// 5.7: sloped and level member.
	m = mcguireBeam(node("c", 15416.198, 3000, 0, allFixed), "")
	m.Nodes[1].At = Vec{7416.198, 3000, 0}
	m.Bars[1].A, m.Bars[1].Iz = 6000, 200e6
	l := m.Length(0)
	r = must(t, m, Case{
		Joints:  []JointLoad{{Node: 1, F: Vec{50e3 * 3000 / l, -50e3 * 7416.198 / l, 0}}},
		Spreads: []Spread{{Bar: 1, W0: Vec{0, -4, 0}, W1: Vec{0, -4, 0}, To: 8000}},
	})
	printed(t, mcguire+"5.7", "v of b, mm", r.U[1][1], -4.982, 1e-3)
	printed(t, mcguire+"5.7", "rotation of b", r.U[1][5], -0.000534, 1e-3)
	printed(t, mcguire+"5.7", "Rax, kN", r.at(0)[0]/1e3, 130.5, 2e-3)
	printed(t, mcguire+"5.7", "Rcx, kN", r.at(2)[0]/1e3, -149.3, 2e-3)
	printed(t, mcguire+"5.7", "Rcy, kN", r.at(2)[1]/1e3, 22.7, 2e-3)
	printed(t, mcguire+"5.7", "Mc, kN m", r.at(2)[5]/1e6, -45.36, 2e-3)
}

func TestPortal(t *testing.T) {
	// Fixed-base portal of one section, h = 120 in, L = 240 in, axially (nearly) rigid as the closed form assumes.
	m := &Model{Nodes: []Node{node("a", 0, 0, 0, allFixed), node("b", 0, 120, 0, ""), node("c", 240, 120, 0, ""), node("d", 240, 0, 0, allFixed)}}
	for i := 0; i < 3; i++ {
		m.Bars = append(m.Bars, Bar{From: i, To: i + 1, A: 1e5, Iz: 100, Iy: 100, J: 1, E: 29000, G: 11000})
	}
	planeXY(m.Nodes)
	w := Vec{0, -0.05, 0}
	r := must(t, m, Case{Spreads: []Spread{{Bar: 1, W0: w, W1: w, To: 240}}})
	// Closed form of a fixed-base portal: base w L^2 / (12 (k + 2)), knee w L^2 / (6 (k + 2)), k = Ib h / (Ic L).
	worked(t, "base moment, kip in", math.Abs(r.at(0)[5]), 96, 1e-3)    // closed form neglects axial strain
	worked(t, "knee moment, kip in", math.Abs(r.Ends[1][5]), 192, 1e-3) // closed form neglects axial strain
}

// Beams of the handbook: W = 300 lb, L = 60 in, E = 29e6 psi, I = 1 in^4.
func TestHandbookBeams(t *testing.T) {
	const w, l, e = 300.0, 60.0, 29e6
	fixed, pinned, roller, guided := allFixed, "xyzX", "yzX", "xzXYZ"
	line := func(from, to string) *Model {
		m := &Model{Nodes: []Node{node("a", 0, 0, 0, from), node("b", l, 0, 0, to)}, Bars: []Bar{{From: 0, To: 1, A: 10, Iy: 1, Iz: 1, J: 1, E: e, G: 11e6}}}
		return m
	}
	uniform := Case{Spreads: []Spread{{W0: Vec{0, 0, -w / l}, W1: Vec{0, 0, -w / l}, To: l}}}
	at := func(x ...float64) (c Case) {
		for _, x := range x {
			c.Points = append(c.Points, Point{At: x, F: Vec{0, 0, -w}})
		}
		return c
	}
	for _, q := range []struct {
		name         string
		from, to     string
		load         Case
		moment, sag  float64
		relM, relSag float64
		whereLoad    float64 // deflection at this place, else the largest
	}{
		{"case 1, simple, uniform", pinned, roller, uniform, w * l / 8, 5 * w * l * l * l / 384 / e, 1e-9, 1e-6, 0},
		{"case 2, simple, middle", pinned, roller, at(30), w * l / 4, w * l * l * l / 48 / e, 1e-9, 1e-6, 0},
		{"case 3, simple, at 20 in", pinned, roller, at(20), w * 20 * 40 / l, w * 400 * 1600 / (3 * e * l), 1e-9, 1e-6, 20},
		{"case 4, simple, two loads", pinned, roller, at(15, 45), w * 15, w * 15 * (3*l*l - 4*225) / 24 / e, 1e-9, 1e-6, 0},
		{"case 10, cantilever, uniform", fixed, "", uniform, w * l / 2, w * l * l * l / 8 / e, 1e-9, 1e-6, 0},
		{"case 11, cantilever, tip", fixed, "", at(l), w * l, w * l * l * l / 3 / e, 1e-9, 1e-6, 0},
		{"case 15, fixed and pinned, uniform", fixed, roller, uniform, w * l / 8, w * l * l * l / 185 / e, 1e-9, 2e-3, 0}, // 185 is rounded: 184.6
		{"case 17, fixed and guided, end", fixed, guided, at(l), w * l / 2, w * l * l * l / 12 / e, 1e-9, 1e-6, 0},
		{"case 18, fixed ends, middle", fixed, fixed, at(30), w * l / 8, w * l * l * l / 192 / e, 1e-9, 1e-6, 0},
		{"case 20, fixed ends, uniform", fixed, fixed, uniform, w * l / 12, w * l * l * l / 384 / e, 1e-9, 1e-6, 0},
	} {
		t.Run(q.name, func(t *testing.T) {
			m := line(q.from, q.to)
			if q.to == guided { // guided: free to move across, not to turn
				m.Nodes[1].Fix = [6]bool{RX: true, RY: true, RZ: true, UY: true}
			}
			r := must(t, m, q.load)
			most, sag := 0.0, 0.0
			for _, s := range r.Along(0, 8) {
				most = math.Max(most, math.Abs(s.My))
				if q.whereLoad == 0 || s.X == q.whereLoad {
					sag = math.Max(sag, -s.U[2])
				}
			}
			const src = "Machinery's Handbook, 31st ed., Stresses and Deflections in Beams, pp. 276-293"
			outside.Check(t, outside.Case{Field: "loads", Source: src, What: q.name + ": largest moment, lb in", Got: most, Want: q.moment, Rel: q.relM, Why: "exact formula"})
			outside.Check(t, outside.Case{Field: "loads", Source: src, What: q.name + ": deflection, in", Got: sag, Want: q.sag, Rel: q.relSag, Why: "formula; its constant as printed"})
		})
	}
}
