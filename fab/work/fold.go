package work

import "fmt"

// Apply takes one event of the record into the state: its ID, when it happened (nanoseconds
// since 1970-01-01 UTC) and its text, which is not kept. It reports whether the state
// changed. It never fails: a text that cannot be read is counted and told by Problems.
func (s *State) Apply(id ID, at int64, text []byte) bool {
	var f fields
	return s.take(id, at, text, &f)
}

// take does it and leaves the event's fields in f.
func (s *State) take(id ID, at int64, text []byte, f *fields) bool {
	if !s.seen.Add(id) {
		return false
	}
	s.events++
	s.lastAt = max(s.lastAt, at)
	names, full := s.name, false
	if len(s.texts) > keptNames { // the first is no name
		names = func(b []byte) string {
			_, known := s.numbers[string(b)]
			full = full || !known
			return string(b)
		}
	}
	if err := f.decode(text, names); err != nil {
		s.problems.add(pUnreadable, fmt.Sprintf("event %v: %v", id, err))
		return false
	}
	if full {
		s.problems.add(pOther, fmt.Sprintf("event %v: there are %d names of marks, sticks and joints already, no more are taken", id, keptNames))
		return false
	}
	changed := s.apply(id, at, f)
	var of ID
	if f.kind == kUndone && changed {
		of = f.of
	}
	s.recent.add(id, at, text, of)
	return changed
}

// name keeps each name once.
func (s *State) name(b []byte) string {
	at := &s.just[shelf(b)]
	if t := s.texts[*at]; t == string(b) { // no copy
		return t
	}
	n, ok := s.numbers[string(b)]
	if !ok {
		n = s.number(string(b))
	}
	*at = n // number is about to be asked for it
	return s.texts[n]
}

// shelf is where in State.just a name belongs: names that are used in one hour mostly differ in their last letters.
func shelf[T string | []byte](name T) uint8 {
	h := uint8(len(name))
	for _, c := range []byte(name[max(0, len(name)-3):]) {
		h = h*31 + c
	}
	return h
}

func (s *State) apply(id ID, at int64, f *fields) bool {
	switch f.kind {
	case kLoaded:
		n := s.number(f.stick)
		st := s.stick(n)
		st.loads = dropOldest(append(st.loads, load{id, at, f.section, f.source, f.length, f.nominal}), keptLoads, func(l load) { s.index.drop(l.id) })
		s.index.set(id, place{kind: kLoaded, name: n})
	case kCut:
		return s.cut(id, at, f)
	case kSpoiled:
		return s.spoil(id, at, f)
	case kUndone:
		return s.undo(id, f.of)
	case kTacked:
		n := s.number(f.joint)
		j := s.joint(n)
		j.tacks = dropOldest(append(j.tacks, step{id, at, 0}), keptSame, func(t step) { s.index.drop(t.id) })
		s.index.set(id, place{kind: kTacked, name: n})
	case kWelded:
		n := s.number(f.joint)
		j := s.joint(n)
		j.welds = dropOldest(append(j.welds, step{id, at, int(f.pass)}), keptSame, func(t step) { s.index.drop(t.id) })
		s.index.set(id, place{kind: kWelded, name: n})
	case kArcOn:
		s.arcOn(id, at, f)
	case kArcOff:
		return s.arcOff(id, at, f)
	case kTripped:
		s.trips = dropOldest(append(s.trips, Trip{id, at, f.amps}), keptTrips, func(t Trip) { s.index.drop(t.ID) })
		s.index.set(id, place{kind: kTripped})
	case kRested:
		s.rested += f.ns
	case kFitted:
		k := s.unitKey(f)
		old, ok := s.fits[k]
		switch {
		case ok:
			s.index.drop(old.id)
		case len(s.fits) >= keptUnits:
			s.problems.add(pOther, fmt.Sprintf("event %v: %d pieces were measured in their place already, no more are taken", id, keptUnits))
			return false
		}
		s.fits[k] = fit{id, f.length}
		s.index.set(id, place{kFitted, k.mark, k.unit})
	case kShelved:
		if len(s.drops) >= keptDrops {
			s.problems.add(pOther, fmt.Sprintf("event %v: there are %d drops of this job on the shelf already, no more are taken", id, keptDrops))
			return false
		}
		s.drops = append(s.drops, Drop{id, at, f.stick, f.section, f.length, [2]float64{f.left, f.right}})
		s.index.set(id, place{kind: kShelved})
	case kNoted:
		s.notes = dropOldest(append(s.notes, Note{id, at, f.text, f.about}), keptNotes, func(n Note) { s.index.drop(n.ID) })
		s.index.set(id, place{kind: kNoted})
	case kSet:
		if _, ok := s.settings[f.name]; !ok && len(s.settings) >= keptSets {
			s.problems.add(pOther, fmt.Sprintf("event %v: there are %d settings already, no more are taken", id, keptSets))
			return false
		}
		s.settings[f.name] = f.value
	case kReceived:
		return s.receive(id, at, f)
	case kUnknown:
		s.problems.newer(f.do)
		return false
	}
	return true
}

func (s *State) unitKey(f *fields) unitKey { return unitKey{s.number(f.mark), int32(f.unit)} }

// dropOldest keeps at most twice n, and cuts down to n at once so that a long run costs
// nothing much.
func dropOldest[T any](list []T, n int, gone func(T)) []T {
	if len(list) < 2*n {
		return list
	}
	for _, v := range list[:len(list)-n] {
		gone(v)
	}
	return append(list[:0], list[len(list)-n:]...)
}

func (s *State) stick(n name) *stick {
	st := s.sticks[n]
	if st == nil {
		st = &stick{}
		s.sticks[n] = st
		s.order = append(s.order, n)
	}
	return st
}

func (s *State) joint(n name) *joint {
	j := s.joints[n]
	if j == nil {
		j = &joint{}
		s.joints[n] = j
	}
	return j
}

// unit tells where the unit of an event stands in units; where there are too many it says so, and false.
func (s *State) unit(id ID, k unitKey) (int32, bool) {
	i, ok := s.unitAt[k]
	switch {
	case ok:
	case len(s.units) >= keptUnits:
		s.problems.add(pOther, fmt.Sprintf("event %v: there are pieces of %d units already, no more are taken", id, keptUnits))
		return 0, false
	default:
		i = int32(len(s.units))
		s.unitAt[k] = i
		s.units = append(s.units, unit{key: k})
	}
	return i, true
}

// cut: the unit has a good piece. Where another window has said the same of the same steel,
// nothing changes. Where the unit has a good piece of other steel, it is cut twice, and Twice
// tells while it is so.
func (s *State) cut(id ID, at int64, f *fields) bool {
	k, stick := s.unitKey(f), s.number(f.stick)
	in, ok := s.unit(id, k)
	if !ok {
		return false
	}
	u := &s.units[in]
	for i := range u.facts {
		if p := &u.facts[i]; p.spoiled.Zero() && p.stick == stick && p.from == f.from && p.to == f.to {
			s.forget(p.also)
			p.also = id
			s.index.set(id, place{kCut, k.mark, in})
			s.second[id] = p.id
			return false
		}
	}
	return s.addFact(in, fact{id: id, at: at, stick: stick, from: f.from, to: f.to, key: f.key}, kCut)
}

// forget makes an event one that cannot be undone any more.
func (s *State) forget(id ID) {
	if !id.Zero() {
		s.index.drop(id)
		delete(s.second, id)
	}
}

func (s *State) addFact(in int32, p fact, as kind) bool {
	u := &s.units[in]
	if len(u.facts) >= keptSame {
		s.problems.add(pOther, fmt.Sprintf("event %v: %s %d came off a stick more than %d times", p.id, s.texts[u.key.mark], u.key.unit, keptSame))
		return false
	}
	u.facts = append(u.facts, p)
	if p.stick != 0 {
		s.stick(p.stick).taken++
	}
	s.index.set(p.id, place{as, u.key.mark, in})
	return true
}

// spoil: the good piece of the unit is lost; where there is none, the steel named is.
func (s *State) spoil(id ID, at int64, f *fields) bool {
	k := s.unitKey(f)
	in, ok := s.unit(id, k)
	if !ok {
		return false
	}
	u := &s.units[in]
	if i := u.good(); i >= 0 {
		u.facts[i].spoiled, u.facts[i].why = id, f.text
		s.index.set(id, place{kSpoiled, k.mark, in})
	} else if !s.addFact(in, fact{id: id, at: at, stick: s.number(f.stick), from: f.from, to: f.to, key: f.key, spoiled: id, why: f.text}, kSpoiled) {
		return false
	}
	s.spoilt[k.mark]++
	return true
}

// undo takes the event back, if it counts.
func (s *State) undo(id, of ID) bool {
	p, ok := s.index.at(of)
	if !ok {
		if !s.seen.Has(of) {
			s.problems.add(pOther, fmt.Sprintf("event %v undoes %v, which the record does not hold", id, of))
		}
		return false // undone before, replaced since, or not kept any more
	}
	s.index.drop(of)
	if first, ok := s.second[of]; ok {
		delete(s.second, of)
		of = first
		s.index.drop(of)
	}
	switch p.kind {
	case kLoaded:
		s.stick(p.name).loads = without(s.stick(p.name).loads, func(l load) bool { return l.id == of })
		s.dropStick(p.name)
	case kCut, kSpoiled:
		s.undoPiece(p, of)
	case kTacked:
		j := s.joint(p.name)
		j.tacks = without(j.tacks, func(t step) bool { return t.id == of })
	case kWelded:
		j := s.joint(p.name)
		j.welds = without(j.welds, func(t step) bool { return t.id == of })
	case kArcOn:
		s.arcs = without(s.arcs, func(a arc) bool {
			if a.id == of && a.ended {
				s.index.drop(a.end)
			}
			return a.id == of
		})
	case kArcOff:
		for i := range s.arcs {
			if s.arcs[i].end == of {
				s.arcs[i].ended, s.arcs[i].to, s.arcs[i].end = false, 0, ID{}
			}
		}
	case kTripped:
		s.trips = without(s.trips, func(t Trip) bool { return t.ID == of })
	case kFitted:
		delete(s.fits, unitKey{p.name, p.unit})
	case kShelved:
		s.drops = without(s.drops, func(d Drop) bool { return d.ID == of })
	case kReceived:
		s.receipts = without(s.receipts, func(r Receipt) bool { return r.ID == of })
	case kNoted:
		s.notes = without(s.notes, func(n Note) bool { return n.ID == of })
	}
	return true
}

func (s *State) undoPiece(p place, of ID) {
	u := &s.units[p.unit]
	for i := range u.facts {
		f := &u.facts[i]
		switch {
		case f.id == of: // the piece itself, and with it its spoiling
			if !f.spoiled.Zero() {
				s.lessSpoiled(p.name)
				s.forget(f.spoiled)
			}
			s.forget(f.also)
			if f.stick != 0 {
				s.stick(f.stick).taken--
				s.dropStick(f.stick)
			}
			u.facts = append(u.facts[:i], u.facts[i+1:]...)
			return
		case f.spoiled == of: // the piece is good after all
			f.spoiled, f.why = ID{}, ""
			s.lessSpoiled(p.name)
			return
		}
	}
}

func (s *State) lessSpoiled(mark name) {
	if s.spoilt[mark]--; s.spoilt[mark] <= 0 {
		delete(s.spoilt, mark)
	}
}

// dropStick forgets a stick of which nothing is left to tell.
func (s *State) dropStick(n name) {
	if st := s.sticks[n]; st != nil && len(st.loads) == 0 && st.taken == 0 {
		delete(s.sticks, n)
		s.order = without(s.order, func(o name) bool { return o == n })
	}
}

// arcOn: an arc that has no end before the next one starts stays open.
func (s *State) arcOn(id ID, at int64, f *fields) {
	n := s.number(f.joint)
	s.joint(n)
	s.arcs = append(s.arcs, arc{id: id, joint: n, amps: f.amps, from: at})
	// Two windows' clocks may differ a little; the list stays in the order of its starts.
	for i := len(s.arcs) - 1; i > 0 && s.arcs[i-1].from > s.arcs[i].from; i-- {
		s.arcs[i-1], s.arcs[i] = s.arcs[i], s.arcs[i-1]
	}
	s.index.set(id, place{kind: kArcOn, name: n})
	s.arcs = dropOldest(s.arcs, keptArcs, func(a arc) {
		s.joint(a.joint).arcNS += max(0, a.to-a.from)
		s.index.drop(a.id)
		s.index.drop(a.end)
	})
}

func (s *State) arcOff(id ID, at int64, f *fields) bool {
	if f.at != 0 {
		at = f.at
	}
	for i := len(s.arcs) - 1; i >= 0; i-- {
		a := &s.arcs[i]
		if a.id != f.of {
			continue
		}
		if a.ended {
			return false // another window said so first
		}
		a.to, a.ended, a.end = max(at, a.from), true, id
		s.index.set(id, place{kind: kArcOff})
		return true
	}
	if !s.seen.Has(f.of) {
		s.problems.add(pOther, fmt.Sprintf("event %v ends the arc %v, which the record does not hold", id, f.of))
	}
	return false
}

// without takes out the elements for which gone is true, in place.
func without[T any](list []T, gone func(T) bool) []T {
	n := 0
	for _, v := range list {
		if !gone(v) {
			list[n] = v
			n++
		}
	}
	clear(list[n:])
	return list[:n]
}

// problems counts what has to be told, and keeps the first few of each in words.
type problems struct {
	n     [pKinds]int
	first [pKinds][]string
	kinds map[string]int // events of later versions
}

const (
	pUnreadable = iota
	pOther
	pKinds
)

const toldProblems = 10

func (p *problems) add(kind int, text string) {
	if p.n[kind]++; p.n[kind] <= toldProblems {
		p.first[kind] = append(p.first[kind], text)
	}
}

func (p *problems) newer(do string) {
	if p.kinds == nil {
		p.kinds = map[string]int{}
	}
	if _, ok := p.kinds[do]; !ok && len(p.kinds) >= 100 {
		do = "..."
	}
	p.kinds[do]++
}

func (p problems) clone() problems {
	for i := range p.first {
		p.first[i] = append([]string(nil), p.first[i]...)
	}
	kinds := make(map[string]int, len(p.kinds))
	for k, n := range p.kinds {
		kinds[k] = n
	}
	p.kinds = kinds
	return p
}
