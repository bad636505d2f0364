package nest

// placeParts finds how a stick that the yard parts holds the load: the fewest parts, none longer than the haul, each
// with room for its share, together no longer than the stick. The parts stand in the order first, inner ones, last; each
// is a stick of the haul's length of which only what it needs is taken; one that holds nothing still has its ends.
func (l *load) placeParts(st *stock) (placed, bool) {
	m := l.m
	haul := int64(m.p.Rules.Haul)
	if l.eff > st.cap {
		return placed{}, false
	}
	// One part for each piece, and an empty one at each end, is as far as parting can help.
	for parts := st.parts; parts <= max(st.parts, l.total+2); parts++ {
		if l.eff > st.partsCap(parts, haul) {
			continue
		}
		d := &divide{m: m, st: st, parts: parts, haul: haul}
		for i, n := range l.x {
			if n > 0 && m.all[i].group {
				for k, part := range m.all[i].parts {
					d.left = append(d.left, take{m.all[i].singles + k, part.n})
				}
			} else if n > 0 {
				d.left = append(d.left, take{i, n})
			}
		}
		for part := range parts {
			d.loads = append(d.loads, m.newLoad())
			o, _ := d.role(part)
			d.fits = append(d.fits, fit{right: -1, need: o.offset + m.starts[o.start].start[0] + haul - o.end[0]})
		}
		if d.search(0, 0) {
			p := placed{fits: d.fits}
			for _, part := range d.loads {
				p.shares = append(p.shares, part.takes())
			}
			return p, true
		}
		if d.steps > maxDivide {
			m.unsure = true
			return placed{}, false
		}
	}
	return placed{}, false
}

// maxDivide bounds the search for one division into parts.
const maxDivide = 20_000

type divide struct {
	m     *model
	st    *stock
	parts int
	haul  int64
	left  []take
	loads []*load
	fits  []fit
	steps int
}

// role gives the option of a part: the first keeps the stick's own first end, the last its own other end.
func (d *divide) role(part int) (*option, int64) {
	yard := int64(d.m.p.Rules.YardTrim)
	switch part {
	case 0:
		return &d.st.roles[0], yard
	case d.parts - 1:
		return &d.st.roles[2], 0
	}
	return &d.st.roles[1], yard
}

// search shares out the takes from index at on, its units going to part from or later.
func (d *divide) search(at, from int) bool {
	if d.steps++; d.steps > maxDivide {
		return false
	}
	if at == len(d.left) {
		sum := int64(0)
		for _, f := range d.fits {
			sum += f.need
		}
		return sum <= d.st.long
	}
	t := &d.left[at]
	if t.n == 0 {
		return d.search(at+1, 0)
	}
	t.n--
	defer func() { t.n++ }()
	for part := from; part < d.parts; part++ {
		if part > 1 && part < d.parts-1 && d.loads[part].total == 0 && d.loads[part-1].total == 0 {
			continue // inner parts are alike
		}
		old := d.fits[part]
		d.loads[part].add(t.item, 1)
		o, tail := d.role(part)
		if f, ok := d.loads[part].stand(o, d.haul, tail, true); ok {
			d.fits[part] = f
			sum := int64(0)
			for _, g := range d.fits {
				sum += g.need
			}
			if sum <= d.st.long && d.search(at, part) {
				return true
			}
		}
		d.fits[part] = old
		d.loads[part].add(t.item, -1)
	}
	return false
}

// takes lists what is on the load.
func (l *load) takes() []take {
	var t []take
	for i, n := range l.x {
		if n > 0 {
			t = append(t, take{i, n})
		}
	}
	return t
}

// drops gives what is left of the stick, part by part.
func (m *model) drops(st *stock, p *placed) []int64 {
	if st.parts == 1 {
		return []int64{p.fits[0].drop}
	}
	_, drops := m.spread(st, p)
	return drops
}

// spread gives the parts' lengths and drops: what the parts do not need goes to one after the other, to the full haul,
// those that can grow most first, so that the drops are few and long.
func (m *model) spread(st *stock, p *placed) (lengths, drops []int64) {
	haul := int64(m.p.Rules.Haul)
	n := len(p.fits)
	lengths = make([]int64, n)
	rest := st.long
	for i, f := range p.fits {
		lengths[i] = f.need
		rest -= f.need
	}
	for rest > 0 {
		most := -1
		for i := range lengths {
			if lengths[i] < haul && (most < 0 || haul-lengths[i] > haul-lengths[most]) {
				most = i
			}
		}
		grow := min(rest, haul-lengths[most])
		lengths[most] += grow
		rest -= grow
	}
	for i, f := range p.fits {
		yard := int64(m.p.Rules.YardTrim)
		tail := yard
		if i == n-1 {
			tail = 0
		}
		if f.right < 0 {
			head := yard
			if i == 0 {
				head = 0
			}
			drops = append(drops, max(0, lengths[i]-head-tail))
			continue
		}
		drops = append(drops, max(0, lengths[i]-tail-f.to-m.kerf[f.right]))
	}
	return lengths, drops
}

// partsCap bounds the sum of the effs that the stick holds in so many parts.
func (st *stock) partsCap(parts int, haul int64) int64 {
	return st.roles[0].cap + st.roles[2].cap + int64(parts-2)*st.roles[1].cap - (int64(parts)*haul - st.long)
}
