package nest

// take is n of an item.
type take struct{ item, n int }

// load is what is put on one stick while a pattern is built: counts by item and the sums that the checks need, kept up
// to date piece by piece.
type load struct {
	m     *model
	x     []int // by index into model.all
	n     []int // pieces by class
	key   key
	total int
	size  int64
	eff   int64
}

func (m *model) newLoad() *load {
	return &load{m: m, x: make([]int, len(m.all)), n: make([]int, len(m.classes))}
}

// add puts n more of the item on the load; a negative n takes them off.
func (l *load) add(item, n int) {
	it := &l.m.all[item]
	l.x[item] += n
	l.size += it.size * int64(n)
	l.eff += it.eff * int64(n)
	for _, p := range it.parts {
		l.n[p.class] += p.n * n
		l.total += p.n * n
		l.key = l.key.plus(l.m.words[p.class], p.n*n)
	}
}

// longest gives the longest piece of the class on the load.
func (l *load) longest(class int) int64 {
	long := int64(0)
	for i, n := range l.x {
		if n == 0 || l.m.all[i].long <= long {
			continue
		}
		for _, p := range l.m.all[i].parts {
			if p.class == class {
				long = max(long, int64(l.m.p.Kinds[p.kind].Length))
			}
		}
	}
	return long
}

// fit is how a load stands on a stick, or on one part of it.
type fit struct {
	option int
	class  int   // of the last piece, -1: any
	right  int   // plane of the last cut, -1: nothing is cut
	to     int64 // last tip
	drop   int64
	need   int64 // least length of the stick or part that would do
}

// stand gives the best way for the load on one option of length long: least material (drops shorter than keep are lost),
// then the least last tip. tail is what the end of the stick keeps from the drop.
// tight asks for the way that needs the least length instead.
func (l *load) stand(o *option, long, tail int64, tight bool) (fit, bool) {
	m := l.m
	if l.total == 0 {
		return fit{right: -1}, true
	}
	best, found := fit{}, false
	ord := m.starts[o.start]
	grip := m.grip
	consider := func(class, right int, room int64) {
		f := fit{class: class, right: right, to: o.offset + room + l.size}
		over := f.to - o.end[right]
		if over > 0 {
			return
		}
		f.need = long + over
		f.drop = max(0, long-tail-f.to-m.kerf[right])
		if grip > 0 {
			last := l.longest(class)
			if last+f.drop < grip {
				return
			}
			if last < grip {
				f.need = max(f.need, f.to+m.kerf[right]+grip-last+tail)
			}
		}
		if !found || tight && f.need < best.need || !tight && f.better(&best, int64(m.p.Rules.Keep)) {
			best, found = f, true
		}
	}
	if grip == 0 {
		for right, room := range ord.last(l.n, l.key, l.total) {
			if room < infinite {
				consider(-1, right, room)
			}
		}
		return best, found
	}
	for c := range l.n {
		if l.n[c] == 0 {
			continue
		}
		arrive := ord.arrive(l.n, l.key, l.total, c)
		for _, w := range m.classes[c] {
			if arrive[w.left] < infinite {
				consider(c, w.right, arrive[w.left])
			}
		}
	}
	return best, found
}

// better prefers the longer kept drop, then the nearer last tip; where every drop is kept, the tip first (see material).
func (f *fit) better(g *fit, keep int64) bool {
	a, b := kept(f.drop, keep), kept(g.drop, keep)
	// Tips nearer to each other than the tolerance are one: joints are rounded.
	if a == b || keep == 0 && abs(f.to-g.to) > tolerance {
		return f.to < g.to
	}
	return a > b
}

func kept(drop, keep int64) int64 {
	if drop >= keep {
		return drop
	}
	return 0
}

// placed is a load on a stick: one fit, or one for each part that the yard makes of it.
type placed struct {
	fits   []fit
	shares [][]take // what each part holds, where there are several
	option int
}

// place finds how the load stands on the stick.
func (l *load) place(s int) (placed, bool) {
	st := &l.m.stocks[s]
	if st.parts > 1 {
		return l.placeParts(st)
	}
	best, found := fit{}, false
	for i := range st.opts {
		f, ok := l.stand(&st.opts[i], st.long, 0, false)
		if ok && (!found || f.better(&best, int64(l.m.p.Rules.Keep))) {
			f.option = i
			best, found = f, true
		}
	}
	return placed{fits: []fit{best}, option: best.option}, found
}

// plainMaterial is material of a load of a plain job: with one plane the joints add up the same in every order.
func (m *model) plainMaterial(st *stock, l *load) int64 {
	o := &st.opts[0]
	to := o.offset + m.starts[o.start].start[0] + l.eff - m.kerf[0]
	if m.p.Rules.Keep == 0 {
		return to + int64(m.p.Rules.Kerf)
	}
	return st.long - kept(max(0, st.long-to-m.kerf[0]), int64(m.p.Rules.Keep))
}

// holds tells whether the stick holds the load; cheaper than place.
func (l *load) holds(s int) bool {
	m := l.m
	st := &m.stocks[s]
	if l.eff > st.cap {
		return false
	}
	if m.plain && st.parts == 1 {
		return true // one plane: the sum of effs is exact
	}
	if st.parts > 1 {
		_, ok := l.placeParts(st)
		return ok
	}
	for i := range st.opts {
		o := &st.opts[i]
		if l.eff > o.cap {
			continue
		}
		if m.grip > 0 {
			if _, ok := l.stand(o, st.long, 0, false); ok {
				return true
			}
			continue
		}
		for right, room := range m.starts[o.start].last(l.n, l.key, l.total) {
			if o.offset+room+l.size <= o.end[right] {
				return true
			}
		}
	}
	return false
}

// holds tells whether the stick holds the counts.
func (m *model) holds(s int, x []int) bool {
	l := m.newLoad()
	for i, n := range x {
		if n > 0 {
			l.add(i, n)
		}
	}
	return l.holds(s)
}

// material is what the stick gives up for good: its length less its kept drops. Where every drop is kept (keep 0) it is
// counted to the last tip and a square kerf, so that it is the tips that are made least.
func (m *model) material(s int, p *placed) int64 {
	st := &m.stocks[s]
	keep := int64(m.p.Rules.Keep)
	if keep == 0 && st.parts == 1 {
		return p.fits[0].to + int64(m.p.Rules.Kerf)
	}
	used := st.long
	for _, d := range m.drops(st, p) {
		used -= kept(d, keep)
	}
	return used
}
