package stiffness

import (
	"fmt"
	"math"
	"sort"
	"strings"
)

// System is a model that has been checked, numbered and factored: it solves any number of cases.
type System struct {
	model *Model
	elems []*element
	eq    [][6]int32 // unknown of each joint's freedom, -1 where held or where no bar ends
	own   []float64  // each unknown's own stiffness
	spins []spin
	fac   *factor
	// Unknowns under suspicion: unit motions and what they strain (Z and Z^T K Z).
	z     [][][6]float64
	zz    [][]float64
	used  []bool  // joints where a bar ends
	reach float64 // half the size of the frame
}

// spin is a rotation of a joint that no bar resists.
type spin struct {
	node int
	axis Vec
	k    float64 // stiffness lent to it so that the equations have an answer; it takes no load
}

// Motion is a joint that moves in a mechanism: the freedom in which it moves most.
type Motion struct {
	Node  int
	ID    string
	Dof   int     // UX ... RZ
	Share float64 // of the largest motion, rotations counted at half the frame's size
}

// MechanismError says that the frame can move without straining a bar.
type MechanismError struct {
	Modes [][]Motion // independent motions, each with its joints, largest first
}

func (e *MechanismError) Error() string {
	var b strings.Builder
	b.WriteString("the frame can move: ")
	for i, mode := range e.Modes {
		if i == 3 {
			fmt.Fprintf(&b, "; and %d more", len(e.Modes)-i)
			break
		}
		if i > 0 {
			b.WriteString("; ")
		}
		for k, mo := range mode {
			if k == 3 {
				fmt.Fprintf(&b, " (with %d more joints)", len(mode)-k)
				break
			}
			if k > 0 {
				b.WriteString(" with ")
			}
			verb := "moves"
			if mo.Dof >= RX {
				verb = "turns"
			}
			fmt.Fprintf(&b, "joint %s %s %s", mo.ID, verb, DofName(mo.Dof))
		}
	}
	b.WriteString(" and nothing holds it; add a support there, a brace, or a joint that does not turn")
	return b.String()
}

// NewSystem checks, numbers and factors the model.  It returns a *Fault for a model that makes no sense and a
// *MechanismError for one that can move.
func NewSystem(m *Model) (*System, error) {
	s, err := prepare(m)
	if err != nil {
		return nil, err
	}
	p, unknowns, bars, vertexNode := s.numbering()
	s.fac = factorise(p, unknowns, s.own, s.assembler(p, bars, vertexNode, nil, 0), false)
	if err := s.clearSuspects(); err != nil {
		return nil, err
	}
	return s, nil
}

func prepare(m *Model) (*System, error) {
	if err := m.Check(); err != nil {
		return nil, err
	}
	s := &System{model: m, elems: make([]*element, len(m.Bars)), eq: make([][6]int32, len(m.Nodes)), used: make([]bool, len(m.Nodes))}
	for i := range m.Bars {
		e, err := m.element(i)
		if err != nil {
			return nil, err
		}
		s.elems[i] = e
		s.used[e.n1], s.used[e.n2] = true, true
	}
	lo, hi := m.Nodes[0].At, m.Nodes[0].At
	for i := range m.Nodes {
		n := &m.Nodes[i]
		for d := 0; d < 3; d++ {
			lo[d], hi[d] = math.Min(lo[d], n.At[d]), math.Max(hi[d], n.At[d])
		}
		if s.used[i] {
			continue
		}
		for d, fixed := range n.Fix {
			if !fixed && n.Spring[d] == 0 {
				return nil, &MechanismError{[][]Motion{{{i, s.name(i), d, 1}}}}
			}
		}
	}
	s.reach = hi.sub(lo).norm() / 2
	n := int32(0)
	for i := range m.Nodes {
		for d := range s.eq[i] {
			s.eq[i][d] = -1
			if s.used[i] && !m.Nodes[i].Fix[d] {
				s.eq[i][d] = n
				n++
			}
		}
	}
	s.own = make([]float64, n)
	s.ownStiffness()
	return s, nil
}

func (s *System) name(i int) string { return strings.TrimPrefix(s.model.nodeName(i), "joint ") }

// ownStiffness gathers each joint's own stiffness and finds the rotations that no bar resists.
func (s *System) ownStiffness() {
	blocks := make([][6][6]float64, len(s.model.Nodes))
	for _, e := range s.elems {
		g := e.global()
		for i := 0; i < 6; i++ {
			for j := 0; j < 6; j++ {
				blocks[e.n1][i][j] += g[i][j]
				blocks[e.n2][i][j] += g[6+i][6+j]
			}
		}
	}
	for n := range blocks {
		if !s.used[n] {
			continue
		}
		b := &blocks[n]
		var free []int
		for d := 0; d < 6; d++ {
			b[d][d] += s.model.Nodes[n].Spring[d]
			if u := s.eq[n][d]; u >= 0 && d >= RX {
				free = append(free, d)
			}
		}
		if len(free) > 0 {
			sub := make([][]float64, len(free))
			trace := 0.0
			for i, d := range free {
				sub[i] = make([]float64, len(free))
				for j, c := range free {
					sub[i][j] = b[d][c]
				}
				trace += sub[i][i]
			}
			lend := trace
			if lend == 0 {
				lend = 1
			}
			val, vec := symmetricEigen(sub)
			for k, v := range val {
				if v > 1e-12*trace {
					continue
				}
				sp := spin{node: n, k: lend}
				for i, d := range free {
					sp.axis[d-RX] = vec[i][k]
				}
				s.spins = append(s.spins, sp)
				for _, d := range free {
					b[d][d] += sp.k * sp.axis[d-RX] * sp.axis[d-RX]
				}
			}
		}
		for d := 0; d < 6; d++ {
			if u := s.eq[n][d]; u >= 0 {
				s.own[u] = b[d][d]
			}
		}
	}
}

// numbering makes the graph of joints with unknowns and its symbolic factorisation.
func (s *System) numbering() (p *plan, unknowns [][]int32, bars [][]int32, vertexNode []int32) {
	vertex := make([]int32, len(s.model.Nodes))
	for i := range s.model.Nodes {
		vertex[i] = -1
		var list []int32
		for _, u := range s.eq[i] {
			if u >= 0 {
				list = append(list, u)
			}
		}
		if len(list) > 0 {
			vertex[i] = int32(len(unknowns))
			unknowns = append(unknowns, list)
			vertexNode = append(vertexNode, int32(i))
		}
	}
	adj := make([][]int32, len(unknowns))
	for _, e := range s.elems {
		a, b := vertex[e.n1], vertex[e.n2]
		if a >= 0 && b >= 0 {
			adj[a] = append(adj[a], b)
			adj[b] = append(adj[b], a)
		}
	}
	width := make([]int32, len(unknowns))
	for i, l := range adj {
		sort.Slice(l, func(a, b int) bool { return l[a] < l[b] })
		k := 0
		for j, v := range l {
			if j == 0 || v != l[j-1] {
				l[k] = v
				k++
			}
		}
		adj[i] = l[:k]
		width[i] = int32(len(unknowns[i]))
	}
	p = newPlan(adj, width)
	bars = make([][]int32, len(unknowns)) // by place: the bars whose first joint in the order is here
	for i, e := range s.elems {
		k := int32(-1)
		for _, n := range [2]int{e.n1, e.n2} {
			if v := vertex[n]; v >= 0 && (k < 0 || p.place[v] < k) {
				k = p.place[v]
			}
		}
		if k >= 0 {
			bars[k] = append(bars[k], int32(i))
		}
	}
	return p, unknowns, bars, vertexNode
}

// assembler puts K + factor x extra into place; extra(bar) is a further stiffness in global axes, or nil.
func (s *System) assembler(p *plan, bars [][]int32, vertexNode []int32, extra func(bar int) *[12][12]float64, factor float64) func(int32, func(i, j int32, v float64)) {
	spinsAt := map[int32][]spin{}
	for _, sp := range s.spins {
		spinsAt[int32(sp.node)] = append(spinsAt[int32(sp.node)], sp)
	}
	return func(k int32, put func(i, j int32, v float64)) {
		for _, bi := range bars[k] {
			e := s.elems[bi]
			g := e.global()
			if extra != nil {
				x := extra(int(bi))
				for i := range g {
					for j := range g {
						g[i][j] += factor * x[i][j]
					}
				}
			}
			var u [12]int32
			copy(u[:6], s.eq[e.n1][:])
			copy(u[6:], s.eq[e.n2][:])
			for i := 0; i < 12; i++ {
				if u[i] < 0 {
					continue
				}
				for j := 0; j <= i; j++ {
					if u[j] >= 0 && g[i][j] != 0 {
						put(u[i], u[j], g[i][j])
					}
				}
			}
		}
		n := vertexNode[p.order[k]]
		for d, v := range s.model.Nodes[n].Spring {
			if u := s.eq[n][d]; u >= 0 && v != 0 {
				put(u, u, v)
			}
		}
		for _, sp := range spinsAt[n] {
			for i := 0; i < 3; i++ {
				for j := 0; j <= i; j++ {
					a, b := s.eq[n][RX+i], s.eq[n][RX+j]
					if a >= 0 && b >= 0 {
						put(a, b, sp.k*sp.axis[i]*sp.axis[j])
					}
				}
			}
		}
	}
}

// resist gives the forces with which bars, springs and lent stiffness resist the displacements u, at the joints.
func (s *System) resist(u [][6]float64) [][6]float64 {
	out := make([][6]float64, len(u))
	for _, e := range s.elems {
		d := e.ends(u)
		f := e.elastic(&d)
		e.toJoints(&f, 1, out)
	}
	for n := range s.model.Nodes {
		for d, k := range s.model.Nodes[n].Spring {
			out[n][d] += k * u[n][d]
		}
	}
	for _, sp := range s.spins {
		t := sp.k * sp.axis.dot(Vec{u[sp.node][3], u[sp.node][4], u[sp.node][5]})
		for i := range sp.axis {
			out[sp.node][RX+i] += t * sp.axis[i]
		}
	}
	return out
}

// energyPair is a^T K b, summed bar by bar from strains.
func (s *System) energyPair(a, b [][6]float64) float64 {
	t := 0.0
	for _, e := range s.elems {
		da, db := e.ends(a), e.ends(b)
		t += e.energyPair(&da, &db)
	}
	for n := range s.model.Nodes {
		for d, k := range s.model.Nodes[n].Spring {
			t += k * a[n][d] * b[n][d]
		}
	}
	for _, sp := range s.spins {
		ra := sp.axis.dot(Vec{a[sp.node][3], a[sp.node][4], a[sp.node][5]})
		rb := sp.axis.dot(Vec{b[sp.node][3], b[sp.node][4], b[sp.node][5]})
		t += sp.k * ra * rb
	}
	return t
}

func (s *System) gather(v [][6]float64) []float64 {
	b := make([]float64, len(s.own))
	for n := range s.eq {
		for d, u := range s.eq[n] {
			if u >= 0 {
				b[u] = v[n][d]
			}
		}
	}
	return b
}

func (s *System) scatter(b []float64, v [][6]float64, scale float64) {
	for n := range s.eq {
		for d, u := range s.eq[n] {
			if u >= 0 {
				v[n][d] += scale * b[u]
			}
		}
	}
}

// mostSuspects bounds the dense work on suspects; more than these means many mechanisms at once.
const mostSuspects = 150

// clearSuspects decides for every suspect whether it belongs to a mechanism, and if none does readies the correction.
func (s *System) clearSuspects() error {
	sus := s.fac.suspects
	if len(sus) == 0 {
		return nil
	}
	if len(sus) > mostSuspects {
		sus = sus[:mostSuspects]
	}
	where := make([][2]int, len(s.own))
	for n := range s.eq {
		for d, u := range s.eq[n] {
			if u >= 0 {
				where[u] = [2]int{n, d}
			}
		}
	}
	m := len(sus)
	z := make([][][6]float64, m)
	size := make([]float64, m)
	for a, u := range sus {
		v := make([][6]float64, len(s.eq))
		v[where[u][0]][where[u][1]] = 1
		for range 3 { // each pass corrects what rounding left of the one before
			b := s.gather(s.resist(v))
			s.fac.solve(b)
			s.scatter(b, v, -1)
		}
		z[a] = v
		for n := range v {
			for d, x := range v[n] {
				if q := s.eq[n][d]; q >= 0 {
					size[a] += s.own[q] * x * x
				}
			}
		}
		size[a] = math.Sqrt(size[a])
		if size[a] == 0 { // an unknown with no stiffness of its own
			size[a] = 1
		}
	}
	k := make([][]float64, m)
	for a := range k {
		k[a] = make([]float64, m)
		for b := 0; b <= a; b++ {
			k[a][b] = s.energyPair(z[a], z[b]) / size[a] / size[b]
			k[b][a] = k[a][b]
		}
	}
	val, vec := symmetricEigen(k)
	var modes [][]Motion
	for c, v := range val {
		if v > nothing {
			continue
		}
		mode := make([][6]float64, len(s.eq))
		for a := range z {
			w := vec[a][c] / size[a]
			for n := range mode {
				for d := range mode[n] {
					mode[n][d] += w * z[a][n][d]
				}
			}
		}
		modes = append(modes, s.motions(mode))
	}
	if len(modes) == 0 && len(s.fac.suspects) > mostSuspects {
		return faultf("frame", "%d of its joints hardly resist motion; the answer would be nothing but rounding", len(s.fac.suspects))
	}
	if len(modes) > 0 {
		return &MechanismError{modes}
	}
	for a := range z {
		for n := range z[a] {
			for d := range z[a][n] {
				z[a][n][d] /= size[a]
			}
		}
	}
	s.z, s.zz = z, k
	return nil
}

// nothing is the share of a motion's largest possible strain energy that rounding alone leaves: strains carry an error of
// some 1e-15 of the motion, energies its square.  The softest sound frame (a cantilever of a thousand short bars) has
// about 1e-13.
const nothing = 1e-20

// motions lists the joints that move in a mode, the largest motion first.
func (s *System) motions(mode [][6]float64) []Motion {
	arm := s.reach
	most := 0.0
	var list []Motion
	for n := range mode {
		best := Motion{Node: n, ID: s.name(n)}
		for d, x := range mode[n] {
			x = math.Abs(x)
			if d >= RX {
				x *= arm * 0.1 // a joint that travels is named by its travel
			}
			if x > best.Share {
				best.Dof, best.Share = d, x
			}
		}
		if best.Share > 0 {
			list = append(list, best)
			most = math.Max(most, best.Share)
		}
	}
	k := 0
	for _, mo := range list {
		if mo.Share /= most; mo.Share > 0.05 {
			list[k] = mo
			k++
		}
	}
	list = list[:k]
	sort.SliceStable(list, func(a, b int) bool { return list[a].Share > list[b].Share*(1+1e-6) })
	return list
}

// solveInto adds to u the displacements that the joint forces b (by unknown) call up.
func (s *System) solveInto(b []float64, u [][6]float64) error {
	if len(s.z) == 0 {
		s.fac.solve(b)
		s.scatter(b, u, 1)
		return nil
	}
	rhs := make([]float64, len(s.z))
	for a, z := range s.z {
		for n := range z {
			for d, x := range z[n] {
				if q := s.eq[n][d]; q >= 0 {
					rhs[a] += x * b[q]
				}
			}
		}
	}
	c, ok := solveDense(s.zz, rhs)
	if !ok {
		return faultf("frame", "its stiffness is lost in rounding")
	}
	s.fac.solve(b)
	s.scatter(b, u, 1)
	for a, z := range s.z {
		for n := range z {
			for d, x := range z[n] {
				u[n][d] += c[a] * x
			}
		}
	}
	return nil
}
