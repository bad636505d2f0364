package nest

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bench.example/soapstone/fab/measure"
)

// model is the problem as tables of integers: planes with their joints, classes of pieces that lie alike, items to
// cover, and sticks with what their ends take. It is never written to after newModel, but for the memos in orders.
type model struct {
	p       *Problem
	planes  []Plane
	corner  [][4]int64
	lo, hi  []int64 // least and greatest of a plane's corners
	kerf    []int64 // of a cut in this plane along the stick
	halfL   []int64 // half of a joint's least cost, as a left and as a right plane, see setHalves
	halfR   []int64
	joint   [][]int64 // [right plane][left plane]: from the tip of a piece to that of its right neighbour
	classes [][]lay   // ways of lying, as plane indexes; kinds with the same ways are one class
	words   []key     // of the classes, see key
	kinds   []kindOf  // of the problem's kinds, by their index
	items   []item    // one row of the covering problem each
	all     []item    // items, and after them the single kinds of which groups are made: a parted stick holds them one by one
	stocks  []stock
	starts  []*orders // one for each different first end
	priced  bool
	square  bool  // every end, of pieces and sticks, is square
	grip    int64 // the vise's hold where some piece is shorter, else 0
	plain   bool  // square, and the vise holds every piece: the sum of effs says exactly what an unparted stick holds
	unsure  bool  // some search for a way to lay a load was given up: what seems not to fit may fit
	pieces  int
}

type lay struct{ left, right int }

type kindOf struct {
	class int
	lays  []lay // parallel to Kind.Lays
}

// item is what a row of the covering problem asks for: one kind (or several equal ones), or a group of kinds that must
// come from one stick.
type item struct {
	qty     int
	size    int64    // sum of the lengths
	eff     int64    // least room it takes in a stick of capacity stock.cap: size and the halves of its joints
	parts   []member // what one of it is made of, by class
	long    int64    // its longest piece
	kinds   []int    // the equal kinds of a plain item, in the order in which their units are handed out
	group   bool
	singles int // of a group: index into model.all of its first kind
}

type member struct {
	kind, class, n int
}

// stock is a sort of stick that can still be used.
type stock struct {
	stick   int
	cost    int64
	limit   int // never more than the pieces of the job
	opts    []option
	cap     int64 // the most that the effs of its pieces can add to, over all its options
	base    int64 // material counted with a kept drop is no less than base and the effs
	long    int64
	parts   int       // parts that the yard must make of it at least; 1: not parted
	yardCut int64     // for each part beyond those
	roles   [3]option // of parts: first, inner, last
}

// option is one way to load a stick.
type option struct {
	ends   Lay
	start  int     // index into model.starts
	offset int64   // added to what the orders give, which count from the least start
	end    []int64 // by the last piece's right plane: where its tip may be at most
	cap    int64
}

const infinite = math.MaxInt64 / 4

func newModel(p *Problem) (*model, error) {
	m := &model{p: p}
	r := &p.Rules
	m.plane(Square)
	group := map[string]int{}
	classOf := map[string]int{}
	merged := map[[2]int64]int{}
	for i, k := range p.Kinds {
		lays := k.Lays
		if len(lays) == 0 {
			lays = []Lay{{}}
		}
		ko := kindOf{}
		for _, l := range lays {
			ko.lays = append(ko.lays, lay{m.plane(l.Left), m.plane(l.Right)})
		}
		set := slices.Clone(ko.lays)
		slices.SortFunc(set, func(a, b lay) int { return cmp.Or(cmp.Compare(a.left, b.left), cmp.Compare(a.right, b.right)) })
		set = slices.Compact(set)
		key := fmt.Sprint(set)
		c, ok := classOf[key]
		if !ok {
			c = len(m.classes)
			classOf[key] = c
			m.classes = append(m.classes, set)
		}
		ko.class = c
		m.kinds = append(m.kinds, ko)
		if k.Qty == 0 {
			continue
		}
		m.pieces += k.Qty
		length := int64(k.Length)
		if k.Same != "" {
			g, ok := group[k.Same]
			if !ok {
				g = len(m.items)
				group[k.Same] = g
				m.items = append(m.items, item{qty: 1, group: true})
			}
			it := &m.items[g]
			it.size += length * int64(k.Qty)
			it.long = max(it.long, length)
			it.parts = append(it.parts, member{i, c, k.Qty})
			it.kinds = append(it.kinds, i)
			continue
		}
		id := [2]int64{length, int64(c)}
		if j, ok := merged[id]; ok {
			m.items[j].qty += k.Qty
			m.items[j].kinds = append(m.items[j].kinds, i)
			continue
		}
		merged[id] = len(m.items)
		m.items = append(m.items, item{qty: k.Qty, size: length, long: length, parts: []member{{i, c, 1}}, kinds: []int{i}})
	}
	for i := range p.Sticks {
		for _, l := range p.Sticks[i].Ends {
			m.plane(l.Left)
			m.plane(l.Right)
		}
		if !p.Sticks[i].OnHand && p.Sticks[i].Price > 0 {
			m.priced = true
		}
	}
	m.square = len(m.planes) == 1
	m.plain = m.square
	for _, k := range p.Kinds {
		if k.Qty > 0 && k.Length < r.Grip {
			m.plain = false
			m.grip = int64(r.Grip)
		}
	}
	m.setJoints(r)
	for c := range m.classes {
		m.words = append(m.words, word(c))
	}
	for i := range m.items {
		it := &m.items[i]
		for _, part := range it.parts {
			it.eff += m.effOf(int64(p.Kinds[part.kind].Length), part.class) * int64(part.n)
		}
	}
	// Longest first: searches meet the pieces that decide first. The order of equal ones is that of the job.
	slices.SortStableFunc(m.items, func(a, b item) int { return cmp.Compare(b.eff, a.eff) })
	m.all = m.items
	for i := range m.items {
		if it := &m.items[i]; it.group {
			it.singles = len(m.all)
			for _, part := range it.parts {
				length := int64(p.Kinds[part.kind].Length)
				m.all = append(m.all, item{qty: part.n, size: length, eff: m.effOf(length, part.class), long: length,
					parts: []member{{part.kind, part.class, 1}}, kinds: []int{part.kind}})
			}
		}
	}
	m.items = m.all[:len(m.items)]
	m.setStocks()
	return m, m.fitsAlone()
}

// effOf is the least room that a piece takes: its length and the halves of its joints. It is not negative, as the cuts of a
// piece do not cross.
func (m *model) effOf(length int64, class int) int64 {
	least := int64(infinite)
	for _, l := range m.classes[class] {
		least = min(least, m.halfL[l.left]+m.halfR[l.right])
	}
	return max(0, length+least)
}

// plane gives the index of a plane; planes nearer to one another than what a float of the frame's geometry can wobble
// (2e-8, 3 nm on 150 mm) are one.
func (m *model) plane(p Plane) int {
	const wobble = 20
	for i, q := range m.planes {
		if abs(p.SY-q.SY) <= wobble && abs(p.SZ-q.SZ) <= wobble {
			return i
		}
	}
	m.planes = append(m.planes, p)
	return len(m.planes) - 1
}

func abs(v int64) int64 {
	if v < 0 {
		return -v
	}
	return v
}

// setStocks lists the sticks that can be used, with what their ends take.
func (m *model) setStocks() {
	r := &m.p.Rules
	first := map[string]int{}
	for si := range m.p.Sticks {
		s := &m.p.Sticks[si]
		st := stock{stick: si, cost: int64(s.Price), limit: s.Limit, long: int64(s.Length), parts: 1, cap: -infinite, base: infinite}
		if st.limit == 0 || st.limit > m.pieces {
			st.limit = m.pieces
		}
		yardCut := int64(r.YardCut)
		if !m.priced {
			st.cost, yardCut = 0, 0 // money is length, of what is bought
			if !s.OnHand {
				st.cost = int64(s.Length)
			}
		}
		if r.Haul > 0 && !s.OnHand && s.Length > r.Haul {
			st.parts = int((s.Length + r.Haul - 1) / r.Haul)
		}
		trim := int64(r.Trim)
		if s.Trimmed {
			trim = 0
		}
		ends := s.Ends
		if len(ends) == 0 {
			ends = []Lay{{}}
		}
		for _, e := range ends {
			o := m.newOption(e, int64(s.Length), trim, int64(r.TrimEnd), first)
			if o.cap < 0 || slices.ContainsFunc(st.opts, func(q option) bool {
				return q.start == o.start && q.offset == o.offset && slices.Equal(q.end, o.end)
			}) {
				continue
			}
			st.base = min(st.base, m.baseOf(&o))
			st.opts = append(st.opts, o)
			st.cap = max(st.cap, o.cap)
		}
		if st.parts > 1 && len(st.opts) > 0 {
			haul, yard := int64(r.Haul), int64(r.YardTrim)
			st.roles[0] = m.newOption(Lay{Left: ends[0].Left}, haul, trim, yard, first)
			st.roles[1] = m.newOption(Lay{}, haul, yard, yard, first)
			st.roles[2] = m.newOption(Lay{Right: ends[0].Right}, haul, yard, int64(r.TrimEnd), first)
			st.cap = st.partsCap(st.parts, haul)
			if inner := st.roles[1].cap - haul; inner > 0 {
				st.cap += inner * int64(m.pieces)
			}
			st.yardCut = yardCut
			st.cost += int64(st.parts-1) * yardCut
			st.base = st.long - st.cap - int64(r.TrimEnd)
		}
		if len(st.opts) > 0 {
			m.stocks = append(m.stocks, st)
		}
	}
}

// baseOf bounds what a stick loaded so gives up besides the effs of its pieces, where its drop is kept: what is in front
// of the first piece, less the halves that no joint uses, and the last kerf.
func (m *model) baseOf(o *option) int64 {
	base := int64(infinite)
	for _, a := range m.classes {
		for _, la := range a {
			for _, b := range m.classes {
				for _, lb := range b {
					last := m.kerf[lb.right]
					if m.p.Rules.Keep == 0 {
						last = int64(m.p.Rules.Kerf) // as material counts
					}
					base = min(base, o.offset+m.starts[o.start].start[la.left]-m.halfL[la.left]-m.halfR[lb.right]+last)
				}
			}
		}
	}
	return base
}

// newOption tabulates the ends of a stick (or of a part of one) that lies with the ends e.
func (m *model) newOption(e Lay, length, trim, trimEnd int64, first map[string]int) option {
	left, right := m.plane(e.Left), m.plane(e.Right)
	o := option{ends: e}
	start := make([]int64, len(m.planes))
	least := int64(infinite)
	for q := range m.planes {
		// The tip of a piece stands at lo; its plane must not leave the stick at any corner.
		at := int64(-infinite)
		back := int64(infinite)
		for c := range 4 {
			at = max(at, m.corner[left][c]-m.lo[left]+trim-m.corner[q][c])
			back = min(back, length-trimEnd+m.corner[right][c]-m.hi[right]-m.corner[q][c])
		}
		start[q] = at + m.lo[q]
		o.end = append(o.end, back+m.hi[q])
		least = min(least, start[q])
	}
	o.offset = least
	for q := range start {
		start[q] -= least
	}
	key := fmt.Sprint(start)
	s, ok := first[key]
	if !ok {
		s = len(m.starts)
		first[key] = s
		m.starts = append(m.starts, newOrders(m, start))
	}
	o.start = s
	o.cap = -infinite
	for _, a := range m.classes {
		for _, la := range a {
			for _, b := range m.classes {
				for _, lb := range b {
					o.cap = max(o.cap, o.end[lb.right]-o.offset-start[la.left]+m.halfL[la.left]+m.halfR[lb.right])
				}
			}
		}
	}
	return o
}

// fitsAlone says which piece or group no stick holds even alone.
func (m *model) fitsAlone() error {
	for i := range m.items {
		it := &m.items[i]
		x := make([]int, len(m.items))
		x[i] = 1
		ok := false
		for s := range m.stocks {
			if m.holds(s, x) {
				ok = true
				break
			}
		}
		if ok {
			continue
		}
		k := it.kinds[0]
		kd := &m.p.Kinds[k]
		e := &Error{Kind: k, Stick: -1, Name: kd.Name, Length: kd.Length}
		most := int64(0)
		for s := range m.stocks {
			for _, o := range m.stocks[s].opts {
				for _, l := range m.classes[it.parts[0].class] {
					most = max(most, o.end[l.right]-o.offset-m.starts[o.start].start[l.left])
				}
			}
			if m.stocks[s].parts > 1 {
				most = min(most, int64(m.p.Rules.Haul)-min(int64(m.p.Rules.Trim), int64(m.p.Rules.YardTrim))-int64(m.p.Rules.YardTrim))
			}
		}
		e.Most = measure.Length(most)
		switch {
		case len(m.p.Sticks) == 0:
			e.format = "there is no stick to cut it from"
		case it.group && (len(it.kinds) > 1 || kd.Qty > 1):
			e.format, e.args = "the pieces that must come from one stick (%q) are %s together with their cuts; no stick holds them", []any{kd.Same, measure.Length(it.size)}
		case int64(kd.Length) > most:
			e.format, e.args = "%s long, but the sticks hold no more than %s", []any{kd.Length, measure.Length(most)}
		default:
			e.format, e.args = "%s long: no stick leaves it and its drop the %s that the vise must hold", []any{kd.Length, m.p.Rules.Grip}
		}
		return e
	}
	return nil
}
