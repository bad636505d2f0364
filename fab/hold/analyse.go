package hold

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/hold/stiffness"
	"bench.example/soapstone/fab/steel"
)

// Answer is what the analysis says.
type Answer struct {
	Cases    []CaseAnswer
	Members  []MemberAnswer // in the order of the model
	Strength []Strength     // of each member
	Worst    int            // the member worked hardest, -1 without loads
	Notes    []string
}

// CaseAnswer is one combination.
type CaseAnswer struct {
	Name         string
	Utilisation  float64 // of the member worked hardest
	Worst        string  // its name
	Clause       string
	DeflectionMM float64 // greatest movement of any member
	DeflectionAt string  // its member
	Reactions    []Reaction
	Source       string
	Imbalance    float64
	Buckling     float64 // factor on this case's loads at which the frame buckles; 0: not reckoned or none
	WeightN      float64 // of all that acts downwards
	Members      []MemberCase
	Links        [][]Wrench // what each link does to each of its members, in the order of Model.Links and their Ends
}

// Wrench is a force and a moment about the link's place, global axes, N and N·mm.
type Wrench struct{ Force, Moment Vec }

// Reaction is what a support gives, global axes: N and N·mm.
type Reaction struct {
	Name   string
	At     Vec
	Force  Vec
	Moment Vec
}

// MemberCase is a member in one combination.
type MemberCase struct {
	Use     Use
	AtMM    float64 // where
	Demand  Demand
	Line    []Bent  // how it bends, for a drawing
	SagMM   float64 // from the chord between its joints
	SagAtMM float64
	SpanMM  float64 // the span that SagMM belongs to; twice its length for a free end
}

// Bent is a place on a member's centre line and how far it moves.
type Bent struct{ At, U Vec }

// MemberAnswer is the worst of all combinations.
type MemberAnswer struct {
	Name      string
	Case      int // combination that governs its strength
	Use       Use
	Figure    figure.Figure
	SagCase   int
	SagMM     float64
	SagFigure figure.Figure // span over sag
	SpanOver  float64       // span over sag; 0 where it does not sag
	SagOK     bool          // within SpanOver of the model
	Slender   float64       // KL/r
}

// Analyse solves every combination of the model. A *FaultError says what is wrong with the model; a
// *stiffness.MechanismError what of the frame can move.
func Analyse(m *Model) (*Answer, error) {
	return m.analyse(func(i int) *steel.Section { return m.Members[i].Section })
}

func (m *Model) analyse(section func(i int) *steel.Section) (*Answer, error) {
	b, err := m.build(section)
	if err != nil {
		return nil, err
	}
	sys, err := stiffness.NewSystem(b.sm)
	if err != nil {
		return nil, m.explain(err)
	}
	a := &Answer{Worst: -1}
	spanOver := m.sagOver()
	for i := range m.Members {
		st, err := allowable(*section(i), b.props[i], b.lengths(i), "hold."+m.Members[i].Name+".")
		if err != nil {
			return nil, &FaultError{Where: m.Members[i].Name, What: err.Error()}
		}
		a.Strength = append(a.Strength, st)
		a.Members = append(a.Members, MemberAnswer{Name: m.Members[i].Name, Case: -1, SagCase: -1, SpanOver: math.Inf(1), SagOK: true, Slender: st.Slenderness})
	}
	var buckler *stiffness.Buckler
	if len(b.sm.Bars) <= mostBuckling {
		if buckler, err = sys.NewBuckler(2); err != nil {
			return nil, m.explain(err)
		}
	}
	for ci, c := range m.Combinations {
		load, err := b.load(c)
		if err != nil {
			return nil, err
		}
		r, err := sys.Solve(load)
		if err != nil {
			return nil, m.explain(err)
		}
		ca := CaseAnswer{Name: c.Name, Source: c.Source, Imbalance: r.Imbalance, Members: make([]MemberCase, len(m.Members))}
		for _, q := range r.Reactions {
			ca.Reactions = append(ca.Reactions, Reaction{b.sm.Nodes[q.Node].ID, b.sm.Nodes[q.Node].At, Vec(q.F[:3]), Vec(q.F[3:])})
			ca.WeightN += q.F[2]
		}
		for i := range m.Members {
			mc, moved := b.memberCase(i, section(i), &a.Strength[i], r)
			ca.Members[i] = mc
			if mc.Use.Value > ca.Utilisation {
				ca.Utilisation, ca.Worst, ca.Clause = mc.Use.Value, m.Members[i].Name, mc.Use.Clause
			}
			if moved > ca.DeflectionMM {
				ca.DeflectionMM, ca.DeflectionAt = moved, m.Members[i].Name
			}
			ma := &a.Members[i]
			if mc.Use.Value > ma.Use.Value || ma.Case < 0 {
				ma.Use, ma.Case = mc.Use, ci
			}
			if n := mc.SpanMM / mc.SagMM; mc.SagMM > 1e-9 && n < ma.SpanOver {
				ma.SpanOver, ma.SagMM, ma.SagCase = n, mc.SagMM, ci
			}
		}
		ca.Links = b.links(r)
		if buckler != nil {
			if f, ok, err := buckler.Factor(r); err == nil && ok {
				ca.Buckling = f
			}
		}
		a.Cases = append(a.Cases, ca)
	}
	for i := range a.Members {
		ma := &a.Members[i]
		if math.IsInf(ma.SpanOver, 0) {
			ma.SpanOver = 0
		}
		if ma.Case < 0 {
			continue
		}
		mc := a.Cases[ma.Case].Members[i]
		ma.Figure = a.Strength[i].UseFigure(mc.Demand, "hold."+ma.Name+".use", ma.Name+" utilisation, "+a.Cases[ma.Case].Name)
		if ma.SagCase >= 0 {
			mc := a.Cases[ma.SagCase].Members[i]
			ma.SagOK = ma.SpanOver >= spanOver
			ma.SagFigure = figure.New("hold."+ma.Name+".sag", ma.Name+" span over sag, "+a.Cases[ma.SagCase].Name, "", "L/d",
				figure.Source{Kind: figure.Standard, Text: fmt.Sprintf("IBC Table 1604.3: a limit of L/%g is asked for; twice the length for a free end", spanOver)},
				figure.In("L", "span", mc.SpanMM, "mm", ""), figure.In("d", "sag from the chord", mc.SagMM, "mm", "frame analysis"))
		}
		if a.Worst < 0 || ma.Use.Value > a.Members[a.Worst].Use.Value {
			a.Worst = i
		}
	}
	a.Notes = notes(m, a)
	return a, nil
}

func notes(m *Model, a *Answer) []string {
	out := []string{
		"linear analysis by the direct stiffness method, shear deformation counted, joints as rigid as the steel between centre lines; strength by ANSI/AISC 360-22, allowable strength design",
		"K = 1 between joints and 2 for posts and legs that may sway, unless the job says otherwise; no second-order moments",
		"this is a reckoning, not an approval: where people can be on, under or in the way of the frame, on a road or in public, a licensed engineer checks it",
	}
	seen := map[string]bool{}
	for i := range a.Strength {
		for _, n := range a.Strength[i].Notes {
			if !seen[n] {
				seen[n] = true
				out = append(out, n)
			}
		}
		for _, w := range a.Strength[i].Walls {
			if n := fmt.Sprintf("%s: %s %s in bending (%.1f, limit %.1f)", m.Members[i].Section.Size, w.Name, w.Class, w.Ratio, w.Compact); w.Class != "compact" && !seen[n] {
				seen[n] = true
				out = append(out, n)
			}
		}
	}
	return out
}

// explain puts an error of the stiffness method into the shop's words.
func (m *Model) explain(err error) error {
	var me *stiffness.MechanismError
	if errors.As(err, &me) {
		return &FaultError{Where: "frame", What: strings.TrimPrefix(me.Error(), "the frame "), Err: me}
	}
	return err
}

// lengths gives the effective lengths of member i: K times the longest stretch between joints.
func (b *build) lengths(i int) Lengths {
	most := 0.0
	for _, bar := range b.bars[i] {
		most = math.Max(most, b.sm.Length(bar))
	}
	k := b.m.Members[i].K
	if k == 0 {
		k = 1
	}
	return Lengths{KLxMM: k * most, KLyMM: k * most, LbMM: most}
}

// mostBuckling is the number of bars up to which the whole frame's buckling is looked into; beyond it the members' own
// check stands alone.
const mostBuckling = 600

const stations = 8 // along each bar, besides peaks and load edges

func (b *build) memberCase(i int, s *steel.Section, st *Strength, r *stiffness.Result) (mc MemberCase, moved float64) {
	type place struct {
		x float64
		u Vec
	}
	var line []place
	joint := map[int]bool{} // indices in line of joints
	bars := b.bars[i]
	for k, bar := range bars {
		for j, p := range r.Along(bar, stations) {
			// y' is -width, z' is depth; of an angle y' is the major axis and z' the minor one.
			d := Demand{N: p.N, Vd: p.Vz, Vw: p.Vy, T: p.T, Mx: p.My, My: p.Mz}
			u := st.Use(d)
			if u.Value > mc.Use.Value || (k == 0 && j == 0) {
				mc.Use, mc.AtMM, mc.Demand = u, b.from[i][k]+p.X, d
			}
			if j == 0 {
				joint[len(line)] = true
			}
			line = append(line, place{b.from[i][k] + p.X, p.U})
			mc.Line = append(mc.Line, Bent{b.m.Members[i].At(b.from[i][k] + p.X), p.U})
			moved = math.Max(moved, norm(p.U))
		}
	}
	joint[len(line)-1] = true
	// Joints that hold the member, not its free ends.
	free := func(idx int) bool {
		n := b.sm.Bars[bars[0]].From
		if idx != 0 {
			n = b.sm.Bars[bars[len(bars)-1]].To
		}
		return strings.HasPrefix(b.sm.Nodes[n].ID, "end of ")
	}
	lo, hi := 0, len(line)-1
	next := func(idx, step int) int {
		for idx += step; idx > 0 && idx < len(line)-1 && !joint[idx]; idx += step {
		}
		return idx
	}
	if free(0) {
		lo = next(0, 1)
	}
	if free(len(line) - 1) {
		hi = next(len(line)-1, -1)
	}
	sag := func(idx int, chord Vec, span float64, x float64) {
		d := norm(Vec{line[idx].u[0] - chord[0], line[idx].u[1] - chord[1], line[idx].u[2] - chord[2]})
		if mc.SagMM == 0 || d/span > mc.SagMM/mc.SpanMM {
			mc.SagMM, mc.SagAtMM, mc.SpanMM = d, x, span
		}
	}
	if hi > lo && line[hi].x > line[lo].x {
		a, z := line[lo], line[hi]
		for k := lo + 1; k < hi; k++ {
			t := (line[k].x - a.x) / (z.x - a.x)
			var c Vec
			for d := range c {
				c[d] = a.u[d] + (z.u[d]-a.u[d])*t
			}
			sag(k, c, z.x-a.x, line[k].x)
		}
	}
	if lo > 0 && line[lo].x > line[0].x {
		sag(0, line[lo].u, 2*(line[lo].x-line[0].x), line[0].x)
	}
	if last := len(line) - 1; hi < last && line[last].x > line[hi].x {
		sag(last, line[hi].u, 2*(line[last].x-line[hi].x), line[last].x)
	}
	return mc, moved
}

func norm(v Vec) float64 { return math.Sqrt(sq(v[0]) + sq(v[1]) + sq(v[2])) }

// links gathers what each link does to the bars of its members.
func (b *build) links(r *stiffness.Result) [][]Wrench {
	out := make([][]Wrench, len(b.m.Links))
	for li, n := range b.linkNode {
		k := &b.m.Links[li]
		out[li] = make([]Wrench, len(k.Ends))
		if n < 0 {
			continue
		}
		seen := map[int]bool{}
		for e, end := range k.Ends {
			if seen[end.Member] {
				continue // one member gripped twice by one link: the first stands for both
			}
			seen[end.Member] = true
			for _, bar := range b.bars[end.Member] {
				q := &b.sm.Bars[bar]
				for side, node := range [2]int{q.From, q.To} {
					if node != n {
						continue
					}
					f, mo := r.AtJoint(bar, side)
					for d := range f {
						out[li][e].Force[d] += f[d]
						out[li][e].Moment[d] += mo[d]
					}
				}
			}
		}
	}
	return out
}
