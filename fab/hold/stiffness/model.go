package stiffness

import (
	"fmt"
	"math"
)

// Vec is a vector in space.
type Vec [3]float64

func (a Vec) add(b Vec) Vec       { return Vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a Vec) sub(b Vec) Vec       { return Vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func (a Vec) scale(s float64) Vec { return Vec{a[0] * s, a[1] * s, a[2] * s} }
func (a Vec) dot(b Vec) float64   { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a Vec) norm() float64       { return math.Sqrt(a.dot(a)) }
func (a Vec) cross(b Vec) Vec {
	return Vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
func (a Vec) finite() bool {
	return finite(a[0]) && finite(a[1]) && finite(a[2])
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// The degrees of freedom of a joint, in order.
const (
	UX = iota // displacement along x
	UY
	UZ
	RX // rotation about x
	RY
	RZ
)

// DofName says a degree of freedom in words: "along x", "about z".
func DofName(d int) string {
	return [...]string{"along x", "along y", "along z", "about x", "about y", "about z"}[d]
}

// Node is a joint.
type Node struct {
	ID     string
	At     Vec
	Fix    [6]bool    // held by a rigid support, per degree of freedom
	Spring [6]float64 // stiffness of an elastic support, force per length or moment per radian; 0 for none
	Settle [6]float64 // displacement that a rigid support is given; only where Fix is set
}

// Bar is a prismatic bar between two joints.
type Bar struct {
	ID       string
	From, To int // indices of joints
	A        float64
	Iy, Iz   float64 // second moments for bending about the local y' and z'
	J        float64 // Saint-Venant torsion constant
	E, G     float64
	ShearY   float64 // shear area for forces along y'; 0: no shear deformation
	ShearZ   float64 // the same along z'
	Up       Vec     // z' points to this side; zero: global z, or global x for a bar along z
	Release  [12]bool
	// OffsetFrom and OffsetTo lead from the joint to the end of the bar's clear length, in global axes: rigid arms for
	// bars that sit on another's face.
	OffsetFrom, OffsetTo Vec
	Mass                 float64 // per length, for Case.Gravity
}

// Model is a frame: joints, bars, supports.
type Model struct {
	Nodes []Node
	Bars  []Bar
}

// JointLoad is a force and a moment on a joint, global axes.
type JointLoad struct {
	Node int
	F, M Vec
}

// Spread is a line load on a bar, varying linearly from W0 at From to W1 at To (distances from the bar's From end along
// its clear length), force per length of bar.
type Spread struct {
	Bar      int
	W0, W1   Vec
	From, To float64
	Local    bool // W0 and W1 are in the bar's axes, else global
}

// Point is a force and a moment on a bar at a distance from its From end.
type Point struct {
	Bar   int
	At    float64
	F, M  Vec
	Local bool
}

// Case is one load case.
type Case struct {
	Name    string
	Joints  []JointLoad
	Spreads []Spread
	Points  []Point
	Gravity Vec     // acceleration on every bar's Mass
	Settle  float64 // factor on the joints' Settle
}

// Term is a case and its factor in a combination.
type Term struct {
	Case   Case
	Factor float64
}

// Combine adds factored cases into one.
func Combine(name string, terms ...Term) Case {
	out := Case{Name: name}
	for _, t := range terms {
		f := t.Factor
		for _, l := range t.Case.Joints {
			out.Joints = append(out.Joints, JointLoad{l.Node, l.F.scale(f), l.M.scale(f)})
		}
		for _, l := range t.Case.Spreads {
			l.W0, l.W1 = l.W0.scale(f), l.W1.scale(f)
			out.Spreads = append(out.Spreads, l)
		}
		for _, l := range t.Case.Points {
			l.F, l.M = l.F.scale(f), l.M.scale(f)
			out.Points = append(out.Points, l)
		}
		out.Gravity = out.Gravity.add(t.Case.Gravity.scale(f))
		out.Settle += f * t.Case.Settle
	}
	return out
}

// Fault is what is wrong with a model or a load, and where.
type Fault struct {
	Where string // "bar b1", "joint 3", "load 2 of case dead"
	What  string
}

func (f *Fault) Error() string { return f.Where + ": " + f.What }

func faultf(where, format string, a ...any) error { return &Fault{where, fmt.Sprintf(format, a...)} }

// Length gives the clear length of bar i, between the ends of its rigid offsets.
func (m *Model) Length(i int) float64 {
	b := &m.Bars[i]
	return m.Nodes[b.To].At.add(b.OffsetTo).sub(m.Nodes[b.From].At.add(b.OffsetFrom)).norm()
}

func (m *Model) nodeName(i int) string {
	if id := m.Nodes[i].ID; id != "" {
		return "joint " + id
	}
	return fmt.Sprintf("joint number %d", i+1)
}

func (m *Model) barName(i int) string {
	if id := m.Bars[i].ID; id != "" {
		return "bar " + id
	}
	return fmt.Sprintf("bar number %d", i+1)
}

// Check finds the first thing that makes the model unfit: no joints or bars, figures that are not finite, a bar of no
// length or with negative stiffness, an Up along the bar, a settlement without a support.
func (m *Model) Check() error {
	if len(m.Nodes) == 0 || len(m.Bars) == 0 {
		return faultf("frame", "it has %d joints and %d bars; it needs at least two joints and one bar", len(m.Nodes), len(m.Bars))
	}
	held := false
	for i := range m.Nodes {
		n := &m.Nodes[i]
		if !n.At.finite() {
			return faultf(m.nodeName(i), "its place is not a number: %v", n.At)
		}
		for d := 0; d < 6; d++ {
			if !finite(n.Spring[d]) || n.Spring[d] < 0 {
				return faultf(m.nodeName(i), "its spring %s is %g; a spring's stiffness is 0 or more", DofName(d), n.Spring[d])
			}
			if !finite(n.Settle[d]) || (n.Settle[d] != 0 && !n.Fix[d]) {
				return faultf(m.nodeName(i), "it is to settle %s by %g but is not held there; only a held direction can settle", DofName(d), n.Settle[d])
			}
			held = held || n.Fix[d] || n.Spring[d] > 0
		}
	}
	if !held {
		return faultf("frame", "no joint is supported, so the whole frame can move; hold at least one joint in all six directions, or several in enough of them")
	}
	for i := range m.Bars {
		if err := m.checkBar(i); err != nil {
			return err
		}
	}
	return nil
}

func (m *Model) checkBar(i int) error {
	b, who := &m.Bars[i], m.barName(i)
	if b.From < 0 || b.From >= len(m.Nodes) || b.To < 0 || b.To >= len(m.Nodes) {
		return faultf(who, "it joins joints %d and %d, of which there are %d", b.From+1, b.To+1, len(m.Nodes))
	}
	if b.From == b.To {
		return faultf(who, "both its ends are at %s; a bar joins two different joints", m.nodeName(b.From))
	}
	for _, q := range []struct {
		name string
		v    float64
		zero bool
	}{{"area", b.A, false}, {"E", b.E, false}, {"iy", b.Iy, true}, {"iz", b.Iz, true}, {"j", b.J, true}, {"G", b.G, b.J == 0 || b.G > 0},
		{"shear area y", b.ShearY, true}, {"shear area z", b.ShearZ, true}, {"mass", b.Mass, true}} {
		if !finite(q.v) || q.v < 0 || (q.v == 0 && !q.zero) {
			want := "above 0"
			if q.zero {
				want = "0 or more"
			}
			return faultf(who, "its %s is %g; it must be %s", q.name, q.v, want)
		}
	}
	if !b.OffsetFrom.finite() || !b.OffsetTo.finite() || !b.Up.finite() {
		return faultf(who, "its offsets or its up direction are not numbers")
	}
	l := m.Length(i)
	scale := m.Nodes[b.From].At.norm() + m.Nodes[b.To].At.norm() + b.OffsetFrom.norm() + b.OffsetTo.norm()
	if !(l > 1e-12*scale) || l == 0 {
		return faultf(who, "its two ends are at the same place, so it has no length")
	}
	if _, err := m.axes(i); err != nil {
		return err
	}
	return nil
}

// axes gives the rows x', y', z' of bar i's local axes.
func (m *Model) axes(i int) ([3]Vec, error) {
	b := &m.Bars[i]
	x := m.Nodes[b.To].At.add(b.OffsetTo).sub(m.Nodes[b.From].At.add(b.OffsetFrom))
	x = x.scale(1 / x.norm())
	up := b.Up
	if up == (Vec{}) {
		up = Vec{0, 0, 1}
		if math.Abs(x[2]) > 1-1e-9 {
			up = Vec{1, 0, 0}
		}
	}
	up = up.scale(1 / up.norm())
	z := up.sub(x.scale(up.dot(x)))
	if z.norm() < 1e-6 {
		return [3]Vec{}, faultf(m.barName(i), "its up direction %v runs along the bar; up must point to a side of it", b.Up)
	}
	z = z.scale(1 / z.norm())
	z = z.sub(x.scale(z.dot(x)))
	z = z.scale(1 / z.norm())
	return [3]Vec{x, z.cross(x), z}, nil
}

func (m *Model) checkCase(c *Case) error {
	where := func(kind string, k int) string {
		s := fmt.Sprintf("%s load %d", kind, k+1)
		if c.Name != "" {
			s += " of case " + c.Name
		}
		return s
	}
	if !c.Gravity.finite() || !finite(c.Settle) {
		return faultf("case "+c.Name, "its acceleration is not a number")
	}
	for k, l := range c.Joints {
		if l.Node < 0 || l.Node >= len(m.Nodes) {
			return faultf(where("joint", k), "there is no such joint")
		}
		if !l.F.finite() || !l.M.finite() {
			return faultf(where("joint", k), "its force or moment is not a number")
		}
	}
	for k, l := range c.Spreads {
		if l.Bar < 0 || l.Bar >= len(m.Bars) {
			return faultf(where("spread", k), "there is no such bar")
		}
		if !l.W0.finite() || !l.W1.finite() {
			return faultf(where("spread", k), "its force is not a number")
		}
		if ln := m.Length(l.Bar); !(l.From >= -1e-9*ln && l.To <= ln*(1+1e-9) && l.From <= l.To) {
			return faultf(where("spread", k), "it runs from %g to %g on %s, which is %g long", l.From, l.To, m.barName(l.Bar), ln)
		}
	}
	for k, l := range c.Points {
		if l.Bar < 0 || l.Bar >= len(m.Bars) {
			return faultf(where("point", k), "there is no such bar")
		}
		if !l.F.finite() || !l.M.finite() {
			return faultf(where("point", k), "its force or moment is not a number")
		}
		if ln := m.Length(l.Bar); !(l.At >= -1e-9*ln && l.At <= ln*(1+1e-9)) {
			return faultf(where("point", k), "it sits at %g on %s, which is %g long", l.At, m.barName(l.Bar), ln)
		}
	}
	return nil
}
