package cutstock

import (
	"cmp"
	"context"
	"maps"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"

	"bench.example/soapstone/fab/nest/lp"
)

// master is the restricted master of an inst: rows for the kinds, then rows for the stocks with a limit that may bind
// (count <= hi) or a lower bound (count >= lo); columns are patterns.
type master struct {
	in     *inst
	lp     *lp.LP
	unit   float64 // cost of one LP cost unit
	dear   float64 // LP cost of an artificial
	rowHi  []int   // stock -> row, -1 where there is none
	rowLo  []int
	rowCut int   // first of the rows of the cuts
	art    []int // kind -> its artificial column
	cols   []column
	index  map[string]int
	left   []int32 // what of the demand is not yet fixed by a dive
	pr     pricer
	sc     scaled

	center  []float64 // the duals of the best bound, for smoothing
	bound   int64     // proven bound on the cost of in (nothing fixed)
	fine    *big.Int
	rounds  int
	most    int // of rounds; 0: no limit
	key     []byte
	last    []int64 // the integer duals of the last pricing
	lastTop []int64 // and the bounds of the pattern values that it gave
}

type column struct {
	pattern
	h    int // handle in the LP
	cost float64
}

func newMaster(in *inst) *master {
	m := &master{in: in, lp: new(lp.LP), index: map[string]int{}, left: slices.Clone(in.dem), fine: new(big.Int)}
	for _, s := range in.stocks {
		if s.hi > 0 {
			m.unit = max(m.unit, float64(s.cost))
		}
	}
	if m.unit == 0 {
		m.unit = 1
	}
	m.dear = 8
	// Small shifts of the demands break the ties of the simplex method. Seeded: every run is the same.
	rnd := rand.New(rand.NewPCG(7, 11))
	for k, d := range in.dem {
		m.lp.AddRow(lp.GE, float64(d))
		m.lp.Nudge(k, 1e-6*(0.5+rnd.Float64()))
	}
	for range in.stocks {
		m.rowHi = append(m.rowHi, -1)
		m.rowLo = append(m.rowLo, -1)
	}
	for k, s := range in.stocks {
		if s.hi > 0 && (!s.free || s.hi < int(sumDem(in))) {
			m.rowHi[k] = m.lp.AddRow(lp.LE, float64(s.hi))
		}
		if s.lo > 0 {
			m.rowLo[k] = m.lp.AddRow(lp.GE, float64(s.lo))
		}
	}
	m.addCutRows()
	for k := range in.dem {
		h, _ := m.lp.AddCol(m.dear, []int32{int32(k)}, []float64{1})
		m.art = append(m.art, h)
	}
	for _, r := range m.rowLo {
		if r >= 0 {
			m.lp.AddCol(m.dear, []int32{int32(r)}, []float64{1})
		}
	}
	m.sc = newScale(in, m.unit, m.dear)
	return m
}

func sumDem(in *inst) (n int64) {
	for _, d := range in.dem {
		n += int64(d)
	}
	return n
}

func (m *master) keyOf(p pattern) string {
	b := append(m.key[:0], byte(p.stock), byte(p.stock>>8))
	for _, t := range p.takes {
		b = append(b, byte(t.k), byte(t.k>>8), byte(t.n), byte(t.n>>8), byte(t.n>>16))
	}
	m.key = b
	return string(b)
}

// add puts a pattern into the master and tells whether it is new.
func (m *master) add(p pattern) bool {
	k := m.keyOf(p)
	if i, ok := m.index[k]; ok {
		if h := m.cols[i].h; m.lp.Barred(h) {
			m.lp.Unbar(h)
			return true
		}
		return false
	}
	idx := make([]int32, 0, len(p.takes)+2)
	val := make([]float64, 0, len(p.takes)+2)
	for _, t := range p.takes {
		idx = append(idx, t.k)
		val = append(val, float64(t.n))
	}
	if r := m.rowHi[p.stock]; r >= 0 {
		idx = append(idx, int32(r))
		val = append(val, 1)
	}
	if r := m.rowLo[p.stock]; r >= 0 {
		idx = append(idx, int32(r))
		val = append(val, 1)
	}
	for i, t := range m.in.cuts {
		if n := t.in(p.takes); n > 0 {
			idx = append(idx, int32(m.rowCut+i))
			val = append(val, float64(n))
		}
	}
	c := float64(m.in.stocks[p.stock].cost) / m.unit
	h, _ := m.lp.AddCol(c, idx, val)
	m.index[k] = len(m.cols)
	m.cols = append(m.cols, column{p, h, c})
	return true
}

// clone copies the master for a dive; the pricer's scratch and the bounds are not shared.
func (m *master) clone() *master {
	c := *m
	c.lp = m.lp.Clone()
	c.cols = slices.Clone(m.cols)
	c.index = maps.Clone(m.index)
	c.left = slices.Clone(m.left)
	c.art = slices.Clone(m.art)
	c.pr = pricer{cuts: newCutting(m.in), tab: m.pr.tab, lax: m.pr.lax}
	c.fine = new(big.Int).Set(m.fine)
	c.center = slices.Clone(m.center)
	c.key, c.last, c.lastTop = nil, nil, nil
	return &c
}

func (m *master) addPlan(p *plan) {
	for _, u := range p.uses {
		m.add(u.pattern)
	}
}

// outcome of a column generation.
type outcome int8

const (
	converged outcome = iota
	pruned            // no plan below the cutoff
	stopped           // the context ended, or the numbers gave up: bound stands as far as it came
)

// deepSteps is how many times the usual length a search for patterns may be where the usual one found none.
const deepSteps = 200

// generate prices until no pattern improves the master, the proven bound reaches cutoff, or ctx ends. fixed is the
// cost of what a dive has fixed already; while left differs from the demand the bounds are not recorded.
func (m *master) generate(ctx context.Context, cutoff int64) outcome {
	whole := slices.Equal(m.left, m.in.dem)
	defer func() { m.pr.deep = 0 }()
	smooth := 0.6
	miss := 0
	n := len(m.in.dem)
	pi := make([]int64, n)
	floor := make([]int64, len(m.in.stocks))
	sep := make([]float64, n)
	maxRounds := 4000
	for round := 0; round < maxRounds; round++ {
		if st := m.lp.Solve(ctx); st != lp.Optimal {
			return stopped
		}
		if ctx.Err() != nil || m.most > 0 && m.rounds >= m.most {
			return stopped
		}
		m.rounds++
		a := 0.0
		if whole && m.center != nil && miss < 4 && len(m.in.cuts) == 0 {
			a = max(0, 1-float64(miss+1)*(1-smooth))
		}
		for k := 0; k < n; k++ {
			d := max(m.lp.Dual(k), 0)
			if a > 0 {
				d = a*m.center[k] + (1-a)*d
			}
			sep[k] = d
			pi[k] = int64(d * m.sc.ref)
		}
		for k := range m.in.stocks {
			mu := 0.0
			if r := m.rowHi[k]; r >= 0 {
				mu -= min(m.lp.Dual(r), 0)
			}
			if r := m.rowLo[k]; r >= 0 {
				mu -= max(m.lp.Dual(r), 0)
			}
			floor[k] = max(0, m.sc.cost[k]+int64(mu*m.sc.ref))
		}
		m.pr.ctx = ctx
		m.pr.load(m.in, pi, m.left, false)
		taken := m.cutDuals()
		best, found, exact := m.pr.price(floor, 40)
		m.last, m.lastTop = append(m.last[:0], pi...), best
		if whole {
			var worth int64
			for k, v := range pi {
				worth += v * int64(m.in.dem[k])
			}
			worth -= taken
			b := lagrange(m.in, m.sc, worth, best)
			if b.Cmp(m.fine) > 0 || m.center == nil {
				if b.Cmp(m.fine) > 0 {
					m.fine.Set(b)
				}
				m.center = append(m.center[:0], sep...)
				m.raise(worth, best, cutoff)
				if m.bound >= cutoff {
					return pruned
				}
			}
		}
		added := 0
		for _, f := range found {
			// The pattern must improve at the master's own duals.
			v := m.in.stocks[f.stock].cost
			red := float64(v) / m.unit
			for _, t := range f.takes {
				red -= float64(t.n) * max(m.lp.Dual(int(t.k)), 0)
			}
			if r := m.rowHi[f.stock]; r >= 0 {
				red -= m.lp.Dual(r)
			}
			if r := m.rowLo[f.stock]; r >= 0 {
				red -= m.lp.Dual(r)
			}
			for i, t := range m.in.cuts {
				red -= float64(t.in(f.takes)) * m.lp.Dual(m.rowCut+i)
			}
			if red < -1e-7 && m.add(pattern{f.stock, f.takes}) {
				added++
			}
		}
		if added > 0 {
			miss = 0
			m.pr.deep = 0
			if len(m.cols) > 6*m.lp.Rows()+2000 && whole {
				m.thin()
			}
			continue
		}
		if a > 0 {
			miss++
			continue
		}
		if !exact && whole {
			last := m.pr.deep > 0 && m.artificial() <= 1e-5
			steps := deepSteps
			if last {
				steps *= 20
			}
			if m.lift(pi, cutoff, steps) && m.bound >= cutoff {
				return pruned
			}
			if m.pr.deep == 0 {
				m.pr.deep = deepSteps
				continue
			}
		}
		if m.artificial() > 1e-5 && m.dear < 1e5 {
			m.setDear(m.dear * 8)
			continue
		}
		return converged
	}
	return stopped
}

// lift asks the pricer, whose search was cut off, a lighter question: not whether any pattern passes the cost of a stick,
// but whether one passes it by so much that the bound stays below the next whole cost. Patterns that are worth the cost
// of a stick but for a rounding are many; those that pass it by a millionth are few. It tells whether the bound rose.
func (m *master) lift(pi []int64, cutoff int64, steps int) bool {
	if len(m.in.stocks) != 1 || !m.in.stocks[0].free || m.bound <= 0 || m.sc.down > 0 {
		return false
	}
	var worth int64
	for k, v := range pi {
		worth += v * int64(m.in.dem[k])
	}
	// The bound passes m.bound where worth * cost / best does; lagrange counts it again, exactly.
	most := float64(worth) * float64(m.sc.cost[0]) / (float64(m.bound) * float64(m.sc.up))
	mark := int64(most*(1-1e-12)) - 1
	if mark <= m.sc.cost[0] {
		return false
	}
	was := m.pr.deep
	m.pr.deep = steps
	best, _, exact := m.pr.price([]int64{mark}, 1)
	m.pr.deep = was
	if !exact {
		return false
	}
	before := m.bound
	if b := lagrange(m.in, m.sc, worth, best); b.Cmp(m.fine) > 0 {
		m.fine.Set(b)
		m.raise(worth, best, cutoff)
	}
	return m.bound > before
}

// raise records a better bound: up to whole cost units, then up to the next cost that a mix of sticks can have.
func (m *master) raise(worth int64, best []int64, cutoff int64) {
	b := m.sc.back(m.fine)
	if b <= m.bound {
		return
	}
	if len(m.in.stocks) == 1 {
		if c := m.in.stocks[0].cost; c > 0 {
			b = (b + c - 1) / c * c
		}
	} else if cutoff < maxTotal {
		cv := []cover{{slices.Clone(best), worth}, m.metal()}
		if v, ok := leastMix(m.in, cv, b, cutoff); ok {
			b = max(b, v)
		}
	}
	m.bound = max(m.bound, b)
}

// metal is the cover by length.
func (m *master) metal() cover {
	cv := cover{need: m.in.volume()}
	for _, s := range m.in.stocks {
		cv.have = append(cv.have, s.cap)
	}
	return cv
}

func (m *master) artificial() float64 {
	var s float64
	for _, h := range m.art {
		s += m.lp.X(h)
	}
	return s
}

func (m *master) setDear(d float64) {
	m.dear = d
	for _, h := range m.art {
		m.lp.SetCost(h, d)
	}
	m.sc = newScale(m.in, m.unit, d)
	m.fine = new(big.Int)
	m.center = nil
}

// thin bars columns that are far from entering.
func (m *master) thin() {
	type rc struct {
		h int
		d float64
	}
	var out []rc
	for _, c := range m.cols {
		if !m.lp.Basic(c.h) {
			if d := m.lp.Reduced(c.h); d > 0.1 {
				out = append(out, rc{c.h, d})
			}
		}
	}
	slices.SortFunc(out, func(a, b rc) int { return cmp.Compare(b.d, a.d) })
	for _, o := range out[:len(out)/2] {
		m.lp.Bar(o.h)
	}
}

// share is a column with its value in the LP.
type share struct {
	col int
	x   float64
}

// support returns the columns in use, largest value first.
func (m *master) support() []share {
	var out []share
	for i, c := range m.cols {
		if x := m.lp.X(c.h); x > 1e-5 {
			out = append(out, share{i, x})
		}
	}
	slices.SortStableFunc(out, func(a, b share) int { return cmp.Compare(b.x, a.x) })
	return out
}

func (m *master) value() float64 {
	v := 0.0
	for r := 0; r < m.lp.Rows(); r++ {
		d := m.lp.Dual(r)
		switch {
		case r < len(m.left):
			v += d * float64(m.left[r])
		}
	}
	for k := range m.in.stocks {
		if r := m.rowHi[k]; r >= 0 {
			v += m.lp.Dual(r) * m.rhs(r)
		}
		if r := m.rowLo[k]; r >= 0 {
			v += m.lp.Dual(r) * m.rhs(r)
		}
	}
	for i := range m.in.cuts {
		v += m.lp.Dual(m.rowCut+i) * m.rhs(m.rowCut+i)
	}
	return v * m.unit
}

func (m *master) rhs(r int) float64 { return math.Round(m.lp.RHS(r)) }
