package nest

import (
	"cmp"
	"slices"

	"bench.example/soapstone/fab/measure"
)

// step is one piece of an order: its class and how it lies.
type step struct {
	class int
	lay   lay
}

// order traces the fit back to an order of the load's pieces.
func (l *load) order(o *option, f *fit) []step {
	m := l.m
	ord := m.starts[o.start]
	n := slices.Clone(l.n)
	k, total := l.key, l.total
	room, right, class := f.to-o.offset-l.size, f.right, f.class
	out := make([]step, total)
	for total > 0 {
		found := false
		for i := range n {
			// The class of the piece before it first: pieces alike stay together.
			c := i
			if class >= 0 {
				c = (class + i) % len(n)
			}
			if n[c] == 0 || f.class >= 0 && total == l.total && c != f.class {
				continue
			}
			arrive := ord.arrive(n, k, total, c)
			for _, w := range m.classes[c] {
				if w.right != right || arrive[w.left] != room {
					continue
				}
				found = true
				out[total-1] = step{c, w}
				if total > 1 {
					n[c]--
					k = k.plus(m.words[c], -1)
					for p, at := range ord.last(n, k, total-1) {
						if at < infinite && at+m.joint[p][w.left] == room {
							room, right = at, p
							break
						}
					}
				}
				class = c
				break
			}
			if found {
				break
			}
		}
		if !found {
			panic("nest: an order cannot be traced back") // the memo and its trace disagree: a fault of this package
		}
		total--
	}
	return out
}

// builder turns a plan into a Nest, handing out the units of each kind.
type builder struct {
	m    *model
	unit []int // last unit handed out, by kind
	next []int // by item: which of its equal kinds is being handed out
}

func (m *model) build(p *plan) Nest {
	b := &builder{m: m, unit: make([]int, len(m.p.Kinds)), next: make([]int, len(m.all))}
	n := Nest{Priced: m.priced, Cost: measure.Money(p.cost), Bars: p.bars}
	patterns := slices.Clone(p.patterns)
	slices.SortStableFunc(patterns, func(a, b pattern) int { return cmp.Compare(a.stock, b.stock) })
	for _, q := range patterns {
		l := m.newLoad()
		for _, t := range q.takes {
			l.add(t.item, t.n)
		}
		at, ok := l.place(q.stock)
		if !ok {
			panic("nest: a pattern of the plan does not hold") // every pattern was placed before
		}
		n.Patterns++
		n.Material.Value += m.material(q.stock, &at) * int64(q.times)
		for range q.times {
			u := b.used(q.stock, l, &at)
			n.Used = append(n.Used, u)
			n.Drops = append(n.Drops, u.Drops...)
			last := measure.Length(0)
			for _, c := range u.Cuts {
				last = max(last, c.To)
			}
			n.UsedLength += last
			n.Waste += m.p.Sticks[u.Stick].Length
		}
	}
	slices.SortFunc(n.Drops, func(a, b measure.Length) int { return cmp.Compare(b, a) })
	for _, d := range n.Drops {
		n.Waste -= d
	}
	if len(n.Drops) > 0 {
		n.Longest.Value = int64(n.Drops[0])
	}
	for i, k := range m.p.Kinds {
		if k.Qty > 0 {
			n.Waste -= measure.Length(m.mean(i) * int64(k.Qty))
		}
	}
	return n
}

// mean is the length of a piece along the middle of its section.
func (m *model) mean(kind int) int64 {
	w := m.kinds[kind].lays[0]
	sum := int64(0)
	for c := range 4 {
		sum += m.corner[w.right][c] - m.hi[w.right] - m.corner[w.left][c] + m.lo[w.left]
	}
	return int64(m.p.Kinds[kind].Length) + sum/4
}

// used lays out one stick.
func (b *builder) used(s int, l *load, at *placed) Used {
	m := b.m
	st := &m.stocks[s]
	u := Used{Stick: st.stick}
	keep := int64(m.p.Rules.Keep)
	if st.parts == 1 {
		o := &st.opts[at.option]
		f := &at.fits[0]
		u.Ends = o.ends
		u.Cuts = b.cuts(l, o, f, 0)
		u.Drop = measure.Length(f.drop)
		u.Slack = measure.Length(o.end[f.right] - f.to)
		if f.drop > 0 && f.drop >= keep {
			u.Drops = []measure.Length{u.Drop}
		}
		return u
	}
	lengths, drops := m.spread(st, at)
	from := int64(0)
	first := true
	for i := range lengths {
		part := m.newLoad()
		for _, t := range at.shares[i] {
			part.add(t.item, t.n)
		}
		role := &st.roles[1]
		switch i {
		case 0:
			role = &st.roles[0]
		case len(lengths) - 1:
			role = &st.roles[2]
		}
		f := &at.fits[i]
		if part.total > 0 {
			u.Cuts = append(u.Cuts, b.cuts(part, role, f, from)...)
			slack := measure.Length(role.end[f.right] - int64(m.p.Rules.Haul) + lengths[i] - f.to)
			if first || slack < u.Slack {
				u.Slack = slack
			}
			first = false
		}
		if drops[i] > 0 && drops[i] >= keep {
			u.Drops = append(u.Drops, measure.Length(drops[i]))
		}
		u.Drop = measure.Length(drops[i])
		u.Parts = append(u.Parts, measure.Length(lengths[i]))
		from += lengths[i]
	}
	return u
}

// cuts lays out the pieces of one stick or part, which begins at from.
func (b *builder) cuts(l *load, o *option, f *fit, from int64) []Cut {
	m := b.m
	steps := l.order(o, f)
	// Of each class the longest pieces come last, where the vise holds them best.
	type piece struct{ item, kind int }
	byClass := make([][]piece, len(m.classes))
	for i, n := range l.x {
		for _, p := range m.all[i].parts {
			for range n * p.n {
				byClass[p.class] = append(byClass[p.class], piece{i, p.kind})
			}
		}
	}
	for c := range byClass {
		slices.SortStableFunc(byClass[c], func(a, b piece) int {
			return cmp.Or(cmp.Compare(m.p.Kinds[a.kind].Length, m.p.Kinds[b.kind].Length), cmp.Compare(a.item, b.item), cmp.Compare(a.kind, b.kind))
		})
	}
	var out []Cut
	start := m.starts[o.start].start
	for i, st := range steps {
		p := byClass[st.class][0]
		byClass[st.class] = byClass[st.class][1:]
		if i == 0 {
			from += o.offset + start[st.lay.left]
		} else {
			from += m.joint[steps[i-1].lay.right][st.lay.left]
		}
		c := Cut{Kind: b.kind(p.item, p.kind)}
		b.unit[c.Kind]++
		c.Unit = b.unit[c.Kind]
		c.From = measure.Length(from)
		from += int64(m.p.Kinds[c.Kind].Length)
		c.To = measure.Length(from)
		c.Lay = m.layOf(c.Kind, st.lay)
		out = append(out, c)
	}
	return out
}

// kind hands out one of the equal kinds of an item.
func (b *builder) kind(item, kind int) int {
	it := &b.m.all[item]
	if it.group {
		return kind
	}
	k := it.kinds[b.next[item]]
	for b.unit[k] == b.m.p.Kinds[k].Qty && b.next[item]+1 < len(it.kinds) {
		b.next[item]++
		k = it.kinds[b.next[item]]
	}
	return k
}

func (m *model) layOf(kind int, w lay) Lay {
	lays := m.p.Kinds[kind].Lays
	for i, l := range m.kinds[kind].lays {
		if l == w && len(lays) > 0 {
			return lays[i]
		}
	}
	return Lay{}
}
