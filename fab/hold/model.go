package hold

import (
	"fmt"
	"math"
	"sort"

	"bench.example/soapstone/fab/hold/stiffness"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

// Vec is a vector in space, mm or N.
type Vec = stiffness.Vec

// Model is a frame to be analysed, in millimetres and newtons: members with their places, where they are joined, what
// holds them, what loads them. Loads are in cases; combinations say which cases act together.
type Model struct {
	Members      []Member
	Links        []Link
	Holds        []Hold
	Loads        []Load
	Combinations []Combination
	SpanOver     float64 // deflection allowed: span over this; 0: 240
}

// Member is a straight member.
type Member struct {
	Name    string
	Mark    string // of its piece; several members may share one
	Section *steel.Section
	Group   string  // name of the section's table in the job
	A, B    Vec     // ends of the centre line
	Depth   Vec     // unit, along the section's depth
	K       float64 // effective length factor; 0: 1
	KFrom   string  // where K comes from
	MassKGM float64 // 0: the section's
}

// LengthMM gives the length of the centre line.
func (m *Member) LengthMM() float64 {
	return math.Sqrt(sq(m.B[0]-m.A[0]) + sq(m.B[1]-m.A[1]) + sq(m.B[2]-m.A[2]))
}

func sq(x float64) float64 { return x * x }

// At gives the place at a distance from A.
func (m *Member) At(mm float64) Vec {
	l := m.LengthMM()
	var p Vec
	for i := range p {
		p[i] = m.A[i] + (m.B[i]-m.A[i])*mm/l
	}
	return p
}

// Link joins members rigidly: each at a distance from its A, by a rigid arm from the link's place to its centre line.
type Link struct {
	Name   string
	Joints []string // IDs of the frame's joints that it stands for; none: Name alone
	At     Vec
	Ends   []LinkEnd
}

// LinkEnd is where a link grips a member.
type LinkEnd struct {
	Member int
	AtMM   float64
	// Pinned lets the member turn there about all its axes but its own length (a bolt, a bar that only lies on another).
	Pinned bool
}

// Hold is a support: it holds a member's centre line at a distance from its A.
type Hold struct {
	Name   string
	Member int
	AtMM   float64
	Fix    [6]bool
	Spring [6]float64 // N/mm, N·mm per radian
}

// LoadKind says how a load lies.
type LoadKind int

// Kinds of load.
const (
	AtPoint LoadKind = iota // N at AtMM
	Line                    // N/mm from FromMM to ToMM
)

// Load acts on a member, in global axes. Carried says that it is the weight of something that rides along: an
// acceleration of a combination acts on it too.
type Load struct {
	Case         string
	Member       int
	Kind         LoadKind
	AtMM         float64
	FromMM, ToMM float64
	W            Vec
	Moment       Vec // N·mm, with AtPoint
	Carried      bool
	From         string // line of the job
}

// OwnWeight is the case of loads that belong to the frame itself: plates and hardware on it. It acts as the members' own
// weight does, with Combination.Weight and Combination.G.
const OwnWeight = "own weight"

// Combination is what acts together.
type Combination struct {
	Name   string
	Terms  []CaseFactor
	Weight float64 // factor on the frame's own weight, downwards
	// G is an acceleration in g on the frame's own mass and on what is carried, besides the weights above: {0.5, 0, 0}
	// presses everything towards +x with half its weight.
	G      Vec
	Source string // clause of a standard that the factors come from
}

// CaseFactor is a case with its factor.
type CaseFactor struct {
	Case   string
	Factor float64
}

// FaultError says what is wrong with a model, in the worker's words.
type FaultError struct {
	Where, What string
	Err         error // what lies behind it, such as a *stiffness.MechanismError; nil for a plain fault
}

// Unwrap gives what lies behind it.
func (e *FaultError) Unwrap() error { return e.Err }

func (e *FaultError) Error() string { return e.Where + ": " + e.What }

// build is a model made ready for the stiffness method.
type build struct {
	m        *Model
	sm       *stiffness.Model
	bars     [][]int            // bars of each member, in order
	from     [][]float64        // where each of them starts
	linkNode []int              // of each link; -1 where it joins nothing
	props    []steel.Properties // of each member
	cache    map[*steel.Section]steel.Properties
}

func (b *build) properties(s *steel.Section) steel.Properties {
	p, ok := b.cache[s]
	if !ok {
		p = s.Properties(steel.Design)
		b.cache[s] = p
	}
	return p
}

type grip struct {
	at     float64
	node   int
	pinned bool
}

const joinMM = 0.5 // stations closer than this are one

func (m *Model) build(section func(i int) *steel.Section) (*build, error) {
	b := &build{m: m, sm: &stiffness.Model{}, bars: make([][]int, len(m.Members)), from: make([][]float64, len(m.Members)), props: make([]steel.Properties, len(m.Members)), cache: map[*steel.Section]steel.Properties{}}
	if len(m.Members) == 0 {
		return nil, &FaultError{Where: "loads", What: "the frame has no members"}
	}
	if len(m.Holds) == 0 {
		return nil, &FaultError{Where: "loads", What: "nothing supports the frame: give [[support]] tables, such as at = \"legs\""}
	}
	spots := make([][]grip, len(m.Members))
	for i := range m.Members {
		if !(m.Members[i].LengthMM() > joinMM) {
			return nil, &FaultError{Where: m.Members[i].Name, What: "it has no length"}
		}
	}
	check := func(where string, member int, at float64) error {
		if member < 0 || member >= len(m.Members) {
			return &FaultError{Where: where, What: "there is no such member"}
		}
		if l := m.Members[member].LengthMM(); math.IsNaN(at) || at < -l-1 || at > 2*l+1 {
			return &FaultError{Where: where, What: fmt.Sprintf("%.0f mm is not on %s, which is %.0f mm long", at, m.Members[member].Name, l)}
		}
		return nil
	}
	for _, k := range m.Links {
		if len(k.Ends) < 2 {
			b.linkNode = append(b.linkNode, -1)
			continue
		}
		n := len(b.sm.Nodes)
		b.linkNode = append(b.linkNode, n)
		b.sm.Nodes = append(b.sm.Nodes, stiffness.Node{ID: k.Name, At: k.At})
		for _, e := range k.Ends {
			if err := check("joint "+k.Name, e.Member, e.AtMM); err != nil {
				return nil, err
			}
			spots[e.Member] = append(spots[e.Member], grip{e.AtMM, n, e.Pinned})
		}
	}
	for _, h := range m.Holds {
		if err := check("support "+h.Name, h.Member, h.AtMM); err != nil {
			return nil, err
		}
		n := -1
		for _, s := range spots[h.Member] { // a support at a joint holds the member, not the joint's middle
			if p := b.sm.Nodes[s.node].At; math.Abs(s.at-h.AtMM) < joinMM && dist(p, m.Members[h.Member].At(h.AtMM)) < joinMM {
				n = s.node
			}
		}
		if n < 0 {
			n = len(b.sm.Nodes)
			b.sm.Nodes = append(b.sm.Nodes, stiffness.Node{ID: h.Name, At: m.Members[h.Member].At(h.AtMM)})
			spots[h.Member] = append(spots[h.Member], grip{h.AtMM, n, false})
		}
		nd := &b.sm.Nodes[n]
		if nd.ID == "" || len(h.Name) > 0 {
			nd.ID = h.Name
		}
		for d := range h.Fix {
			nd.Fix[d] = nd.Fix[d] || h.Fix[d]
			nd.Spring[d] += h.Spring[d]
		}
	}
	for i := range m.Members {
		if err := b.member(i, section(i), spots[i]); err != nil {
			return nil, err
		}
	}
	return b, nil
}

func dist(a, b Vec) float64 { return math.Sqrt(sq(a[0]-b[0]) + sq(a[1]-b[1]) + sq(a[2]-b[2])) }

// member cuts a member at its spots into bars.
func (b *build) member(i int, s *steel.Section, spots []grip) error {
	m := &b.m.Members[i]
	l := m.LengthMM()
	b.props[i] = b.properties(s)
	p := b.props[i]
	sort.SliceStable(spots, func(x, y int) bool { return spots[x].at < spots[y].at })
	if len(spots) == 0 {
		return &FaultError{Where: m.Name, What: "it is joined to nothing and held by nothing; give it a support or let it touch another member"}
	}
	// The ends, where they stand out beyond the last joint.
	ends := []float64{0, l}
	for _, at := range ends {
		near := false
		for _, q := range spots {
			near = near || at == 0 && q.at < joinMM || at == l && q.at > l-joinMM
		}
		if !near {
			n := len(b.sm.Nodes)
			b.sm.Nodes = append(b.sm.Nodes, stiffness.Node{ID: fmt.Sprintf("end of %s", m.Name), At: m.At(at)})
			spots = append(spots, grip{at, n, false})
		}
	}
	sort.SliceStable(spots, func(x, y int) bool { return spots[x].at < spots[y].at })
	up := m.Depth
	iy, iz := p.IxMM4, p.IyMM4
	sy, sz := p.ShearStiffWidthMM2, p.ShearStiffDepthMM2
	if s.Shape == steel.Angle { // principal axes
		a := p.MinorAxisDeg * math.Pi / 180
		w := m.width()
		for d := range up {
			up[d] = math.Cos(a)*w[d] + math.Sin(a)*m.Depth[d]
		}
		iy, iz, sy, sz = p.IMajorMM4, p.IMinorMM4, 0, 0
	}
	mass := m.MassKGM
	if mass == 0 {
		mass = p.MassKGM
	}
	at := func(k int) Vec { return m.At(math.Min(math.Max(spots[k].at, -l), 2*l)) }
	arm := func(k int) Vec {
		q, n := at(k), b.sm.Nodes[spots[k].node].At
		return Vec{q[0] - n[0], q[1] - n[1], q[2] - n[2]}
	}
	for k := 0; k+1 < len(spots); k++ {
		if spots[k+1].at-spots[k].at < joinMM {
			// Two joints at one place of the member: the second takes the first's place on it by a stiff short bar.
			if spots[k].node == spots[k+1].node {
				spots[k+1].pinned = spots[k+1].pinned || spots[k].pinned
				continue
			}
			if spots[k+1].at-spots[k].at < 1e-6 {
				spots[k+1].at = spots[k].at + joinMM/2
			}
		}
		bar := stiffness.Bar{ID: m.Name, From: spots[k].node, To: spots[k+1].node, A: p.AreaMM2, Iy: iy, Iz: iz, J: p.JMM4, E: s.Material.EMPa, G: s.Material.GMPa,
			ShearY: sy, ShearZ: sz, Up: up, OffsetFrom: arm(k), OffsetTo: arm(k + 1), Mass: mass / 1000} // kg/mm: accelerations in m/s2 give N/mm
		if k == 0 && spots[k].pinned {
			bar.Release[stiffness.RY], bar.Release[stiffness.RZ] = true, true
		}
		if k+2 == len(spots) && spots[k+1].pinned {
			bar.Release[6+stiffness.RY], bar.Release[6+stiffness.RZ] = true, true
		}
		b.bars[i] = append(b.bars[i], len(b.sm.Bars))
		b.from[i] = append(b.from[i], spots[k].at)
		b.sm.Bars = append(b.sm.Bars, bar)
	}
	if len(b.bars[i]) == 0 {
		return &FaultError{Where: m.Name, What: "its joints all lie at one place"}
	}
	return nil
}

func (m *Member) axis() Vec {
	l := m.LengthMM()
	return Vec{(m.B[0] - m.A[0]) / l, (m.B[1] - m.A[1]) / l, (m.B[2] - m.A[2]) / l}
}

// width is Axis x Depth.
func (m *Member) width() Vec {
	a, d := m.axis(), m.Depth
	return Vec{a[1]*d[2] - a[2]*d[1], a[2]*d[0] - a[0]*d[2], a[0]*d[1] - a[1]*d[0]}
}

// load puts a combination's loads on the bars.
func (b *build) load(c Combination) (stiffness.Case, error) {
	out := stiffness.Case{Name: c.Name}
	factor := map[string]float64{OwnWeight: c.Weight}
	for _, t := range c.Terms {
		factor[t.Case] += t.Factor
	}
	out.Gravity = Vec{c.G[0] * measure.Gravity, c.G[1] * measure.Gravity, (c.G[2] - c.Weight) * measure.Gravity}
	for _, l := range b.m.Loads {
		f := factor[l.Case]
		w := Vec{l.W[0] * f, l.W[1] * f, l.W[2] * f}
		if l.Case == OwnWeight {
			size := math.Sqrt(sq(l.W[0]) + sq(l.W[1]) + sq(l.W[2]))
			for d := range w {
				w[d] += c.G[d] * size
			}
		} else if l.Carried {
			size := math.Sqrt(sq(l.W[0]) + sq(l.W[1]) + sq(l.W[2]))
			for d := range w {
				w[d] += c.G[d] * size * f
			}
		}
		mo := Vec{l.Moment[0] * f, l.Moment[1] * f, l.Moment[2] * f}
		if w == (Vec{}) && mo == (Vec{}) {
			continue
		}
		if l.Member < 0 || l.Member >= len(b.bars) {
			return out, &FaultError{Where: "load " + l.From, What: "there is no such member"}
		}
		bars, from := b.bars[l.Member], b.from[l.Member]
		switch l.Kind {
		case AtPoint:
			k := sort.SearchFloat64s(from, l.AtMM+1e-9) - 1
			k = max(0, min(k, len(bars)-1))
			ln := b.sm.Length(bars[k])
			out.Points = append(out.Points, stiffness.Point{Bar: bars[k], At: math.Min(math.Max(l.AtMM-from[k], 0), ln), F: w, M: mo})
		case Line:
			for k, bar := range bars {
				ln := b.sm.Length(bar)
				lo, hi := math.Max(l.FromMM-from[k], 0), math.Min(l.ToMM-from[k], ln)
				if k == 0 && l.FromMM < from[0] {
					lo = 0
				}
				if hi > lo {
					out.Spreads = append(out.Spreads, stiffness.Spread{Bar: bar, W0: w, W1: w, From: lo, To: hi})
				}
			}
		}
	}
	return out, nil
}
