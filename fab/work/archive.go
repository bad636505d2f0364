package work

import (
	"cmp"
	"encoding/binary"
	"errors"
	"maps"
	"math"
	"slices"

	"bench.example/soapstone/fab/measure"
)

// archiveVersion changes whenever the fold gives another state of the same events, or the layout below changes; a test
// pins what an archive of a known day looks like. An archive of another version is refused, and the events are read.
const archiveVersion = 2

// ErrArchive says that bytes are no archive of this version.
var ErrArchive = errors.New("this is no state of the work that this version wrote")

// archive walks over a state and either writes each value or reads it, so that both are one code. Numbers are varints,
// texts have their length before them, maps go by their keys in order.
type archive struct {
	b       []byte
	i       int
	reading bool
	bad     bool
}

func (a *archive) u64(p *uint64) {
	if !a.reading {
		a.b = binary.AppendUvarint(a.b, *p)
		return
	}
	v, n := binary.Uvarint(a.b[a.i:])
	if n <= 0 {
		a.fail()
		return
	}
	*p, a.i = v, a.i+n
}

func (a *archive) fail() { a.bad, a.i = true, len(a.b) }

func (a *archive) i64(p *int64) {
	u := uint64(*p)<<1 ^ uint64(*p>>63)
	a.u64(&u)
	*p = int64(u>>1) ^ -int64(u&1)
}

func integer[T ~int | ~int32 | ~int64 | ~uint8](a *archive, p *T) {
	v := int64(*p)
	a.i64(&v)
	if *p = T(v); int64(*p) != v {
		a.fail()
	}
}

func (a *archive) f64(p *float64) {
	u := math.Float64bits(*p)
	a.u64(&u)
	*p = math.Float64frombits(u)
}

func (a *archive) bool(p *bool) {
	var u uint64
	if *p {
		u = 1
	}
	a.u64(&u)
	*p = u == 1
}

// size writes or reads how many things follow, each of which takes a byte at least.
func (a *archive) size(n int) int {
	u := uint64(n)
	a.u64(&u)
	if a.reading && u > uint64(len(a.b)-a.i) {
		a.fail()
		return 0
	}
	return int(u)
}

func (a *archive) bytes(p *[]byte) {
	n := a.size(len(*p))
	if !a.reading {
		a.b = append(a.b, *p...)
		return
	}
	*p = append((*p)[:0], a.b[a.i:a.i+n]...)
	a.i += n
}

func (a *archive) text(p *string) {
	n := a.size(len(*p))
	if !a.reading {
		a.b = append(a.b, *p...)
		return
	}
	*p = string(a.b[a.i : a.i+n])
	a.i += n
}

func (a *archive) id(p *ID) { a.u64(&p.Writer); a.u64(&p.Number) }

func list[T any](a *archive, p *[]T, each func(*T)) {
	n := a.size(len(*p))
	if a.reading {
		*p = make([]T, 0, min(n, 1<<16))
	}
	for i := range n {
		if a.reading {
			if a.bad {
				return
			}
			*p = append(*p, *new(T))
		}
		each(&(*p)[i])
	}
}

func table[K comparable, V any](a *archive, p *map[K]V, order func(K, K) int, key func(*K), value func(*V)) {
	n := a.size(len(*p))
	if !a.reading {
		for _, k := range slices.SortedFunc(maps.Keys(*p), order) {
			v := (*p)[k]
			key(&k)
			value(&v)
		}
		return
	}
	*p = make(map[K]V, min(n, 1<<16))
	for range n {
		var k K
		var v V
		key(&k)
		value(&v)
		if a.bad {
			return
		}
		(*p)[k] = v
	}
}

func byID(x, y ID) int {
	return cmp.Or(cmp.Compare(x.Writer, y.Writer), cmp.Compare(x.Number, y.Number))
}

func byUnit(x, y unitKey) int {
	return cmp.Or(cmp.Compare(x.mark, y.mark), cmp.Compare(x.unit, y.unit))
}

func (a *archive) name(p *name) { integer(a, p) }

func (a *archive) unitKey(p *unitKey) { a.name(&p.mark); integer(a, &p.unit) }

func (a *archive) length(p *measure.Length) { integer(a, p) }

func (a *archive) ids(s *IDs) {
	table(a, &s.runs, cmp.Compare[uint64], a.u64, func(p **runs) {
		if a.reading {
			*p = new(runs)
		}
		list(a, (*[]run)(*p), func(r *run) { a.u64(&r.from); a.u64(&r.to) })
	})
}

func (a *archive) live(x *index) {
	type entry struct {
		id ID
		at place
	}
	var all []entry
	if !a.reading {
		for w, pages := range x.writers {
			for n, p := range pages {
				for k, v := range p.places {
					if v.kind != kUnknown {
						all = append(all, entry{ID{w, n<<8 | uint64(k)}, v})
					}
				}
			}
		}
		slices.SortFunc(all, func(x, y entry) int { return byID(x.id, y.id) })
	}
	list(a, &all, func(e *entry) {
		a.id(&e.id)
		integer(a, &e.at.kind)
		a.name(&e.at.name)
		integer(a, &e.at.unit)
	})
	if a.reading {
		*x = index{}
		for _, e := range all {
			x.set(e.id, e.at)
		}
	}
}

func (a *archive) step(t *step) { a.id(&t.id); a.i64(&t.at); integer(a, &t.pass) }

// state walks over everything that a state holds but what it keeps only to be quick.
func (a *archive) state(s *State) {
	a.ids(&s.seen)
	list(a, &s.texts, a.text)
	if a.reading {
		s.numbers = make(map[string]name, len(s.texts))
		for n, t := range s.texts {
			s.numbers[t] = name(n)
		}
		if len(s.texts) == 0 || s.texts[0] != "" || len(s.numbers) != len(s.texts) {
			a.fail()
			return
		}
	}
	a.live(&s.index)
	table(a, &s.second, byID, a.id, a.id)
	list(a, &s.units, func(u *unit) {
		a.unitKey(&u.key)
		list(a, &u.facts, func(f *fact) {
			a.id(&f.id)
			a.id(&f.also)
			a.i64(&f.at)
			a.name(&f.stick)
			a.length(&f.from)
			a.length(&f.to)
			a.text(&f.key)
			a.id(&f.spoiled)
			a.text(&f.why)
		})
	})
	if a.reading {
		s.unitAt = make(map[unitKey]int32, len(s.units))
		for i := range s.units {
			s.unitAt[s.units[i].key] = int32(i)
		}
		if len(s.unitAt) != len(s.units) {
			a.fail()
			return
		}
	}
	table(a, &s.spoilt, cmp.Compare[name], a.name, func(n *int) { integer(a, n) })
	table(a, &s.sticks, cmp.Compare[name], a.name, func(p **stick) {
		if a.reading {
			*p = &stick{}
		}
		list(a, &(*p).loads, func(l *load) {
			a.id(&l.id)
			a.i64(&l.at)
			a.text(&l.section)
			a.text(&l.source)
			a.length(&l.length)
			a.length(&l.nominal)
		})
		integer(a, &(*p).taken)
	})
	list(a, &s.order, a.name)
	table(a, &s.joints, cmp.Compare[name], a.name, func(p **joint) {
		if a.reading {
			*p = &joint{}
		}
		list(a, &(*p).tacks, a.step)
		list(a, &(*p).welds, a.step)
		a.i64(&(*p).arcNS)
	})
	list(a, &s.arcs, func(c *arc) {
		a.id(&c.id)
		a.name(&c.joint)
		a.f64(&c.amps)
		a.i64(&c.from)
		a.i64(&c.to)
		a.bool(&c.ended)
		a.id(&c.end)
	})
	table(a, &s.fits, byUnit, a.unitKey, func(f *fit) { a.id(&f.id); a.length(&f.length) })
	list(a, &s.drops, func(d *Drop) {
		a.id(&d.ID)
		a.i64(&d.At)
		a.text(&d.Stick)
		a.text(&d.Section)
		a.length(&d.Length)
		a.f64(&d.Ends[0])
		a.f64(&d.Ends[1])
	})
	list(a, &s.receipts, a.receipt)
	table(a, &s.settings, cmp.Compare[string], a.text, a.text)
	list(a, &s.notes, func(n *Note) { a.id(&n.ID); a.i64(&n.At); a.text(&n.Text); a.text(&n.About) })
	list(a, &s.trips, func(t *Trip) { a.id(&t.ID); a.i64(&t.At); a.f64(&t.Amps) })
	a.i64(&s.rested)
	integer(a, &s.recent.at)
	list(a, &s.recent.kept, func(k *kept) { a.id(&k.id); a.i64(&k.at); a.bytes(&k.text); a.id(&k.of) })
	if s.recent.at < 0 || s.recent.at >= keptRecent || len(s.recent.kept) > keptRecent || len(s.recent.kept) < keptRecent && s.recent.at != len(s.recent.kept) {
		a.fail()
	}
	integer(a, &s.events)
	a.i64(&s.lastAt)
	for i := range s.problems.n {
		integer(a, &s.problems.n[i])
		list(a, &s.problems.first[i], a.text)
	}
	table(a, &s.problems.kinds, cmp.Compare[string], a.text, func(n *int) { integer(a, n) })
	a.knowsItsNames(s)
}

func (a *archive) receipt(r *Receipt) {
	a.id(&r.ID)
	a.i64(&r.At)
	a.text(&r.Section)
	a.length(&r.Nominal)
	integer(a, &r.Qty)
	a.length(&r.Length)
	integer(a, &r.Price)
	a.length(&r.Wall)
	a.length(&r.Bow)
	a.length(&r.Twist)
	a.text(&r.Supplier)
	a.bool(&r.NoMore)
}

// knowsItsNames refuses a state that speaks of a name that it does not hold.
func (a *archive) knowsItsNames(s *State) {
	if !a.reading {
		return
	}
	check := func(n name) {
		if n < 0 || int(n) >= len(s.texts) {
			a.fail()
		}
	}
	for i := range s.units {
		u := &s.units[i]
		check(u.key.mark)
		for i := range u.facts {
			check(u.facts[i].stick)
		}
	}
	for k := range s.fits {
		check(k.mark)
	}
	for k := range s.spoilt {
		check(k)
	}
	for k := range s.sticks {
		check(k)
	}
	for k := range s.joints {
		check(k)
	}
	for _, k := range s.order {
		if check(k); s.sticks[k] == nil {
			a.fail()
		}
	}
	for i := range s.arcs {
		if check(s.arcs[i].joint); s.joints[s.arcs[i].joint] == nil {
			a.fail()
		}
	}
	for _, pages := range s.index.writers {
		for _, p := range pages {
			for _, v := range p.places {
				check(v.name)
				if (v.kind == kCut || v.kind == kSpoiled) && (v.unit < 0 || int(v.unit) >= len(s.units)) {
					a.fail()
				}
			}
		}
	}
}

// Archive gives the set as bytes, from which RestoreIDs makes it again.
func (s *IDs) Archive() []byte {
	var a archive
	a.ids(s)
	return a.b
}

// RestoreIDs reads what IDs.Archive gave; all else is ErrArchive.
func RestoreIDs(b []byte) (IDs, error) {
	a := archive{b: b, reading: true}
	var s IDs
	if a.ids(&s); a.bad || a.i != len(b) {
		return IDs{}, ErrArchive
	}
	return s, nil
}
