package work

import (
	"maps"
	"slices"

	"bench.example/soapstone/fab/measure"
)

// State is the state of a job's work: the fold of its events. The zero value is not ready;
// use New. A State may be used by one goroutine at a time; Clone gives another its own.
type State struct {
	seen     IDs
	numbers  map[string]name   // of names, each of which is kept once
	texts    []string          // the names again, by number
	just     [256]name         // names that were read lately, each on its shelf
	index    index             // where the live events stand
	second   map[ID]ID         // a second word for a piece, and the first
	units    []unit            // none is ever taken out
	unitAt   map[unitKey]int32 // where in units
	spoilt   map[name]int      // pieces that were spoiled, by mark
	sticks   map[name]*stick
	order    []name // sticks as they came
	joints   map[name]*joint
	arcs     []arc // by start, the latest at the end
	fits     map[unitKey]fit
	drops    []Drop
	receipts []Receipt
	settings map[string]string
	notes    []Note
	trips    []Trip
	rested   int64
	recent   ring
	events   int
	lastAt   int64
	problems problems
}

// name is the number of a name: small, quick to look up, and the same for the same text.
type name int32

// What is kept of things that may come without end.
const (
	keptArcs   = 4096
	keptNotes  = 1000
	keptTrips  = 1000
	keptRecent = 256
	keptSets   = 1000
	keptLoads  = 4  // of one stick
	keptSame   = 64 // steps on one joint, pieces of one unit
	keptDrops  = 1000
	keptUnits  = 200_000 // ten times the pieces of the largest job, as edits rename marks
	keptNames  = 200_000 // of marks, sticks, joints, settings, suppliers, together
)

type unitKey struct {
	mark name
	unit int32
}

// fact is one piece that came off a stick.
type fact struct {
	id       ID
	spoiled  ID // the event that spoiled it; zero while it is good
	also     ID // another window's word for the same piece
	stick    name
	at       int64
	from, to measure.Length
	key      string
	why      string
}

type unit struct {
	key   unitKey
	facts []fact
}

// good gives the latest good piece, or -1.
func (u *unit) good() int {
	for i := len(u.facts) - 1; i >= 0; i-- {
		if u.facts[i].spoiled.Zero() {
			return i
		}
	}
	return -1
}

type stick struct {
	loads []load // the latest counts
	taken int    // pieces that came off it
}

type load struct {
	id              ID
	at              int64
	section, source string
	length, nominal measure.Length
}

type joint struct {
	tacks, welds []step
	arcNS        int64 // of arcs that are no longer kept one by one
}

type step struct {
	id   ID
	at   int64
	pass int
}

type arc struct {
	id       ID
	joint    name
	amps     float64
	from, to int64
	ended    bool
	end      ID // the event that ended it
}

type fit struct {
	id     ID
	length measure.Length
}

// place says in which of the tables the live event stands.
type place struct {
	kind kind
	name name  // mark, stick or joint
	unit int32 // of a fit its unit; of a piece where its unit stands in State.units
}

// New gives the state of a job on which nothing was done.
func New() *State {
	s := &State{
		numbers: map[string]name{}, second: map[ID]ID{}, unitAt: map[unitKey]int32{}, spoilt: map[name]int{},
		sticks: map[name]*stick{}, joints: map[name]*joint{}, fits: map[unitKey]fit{}, settings: map[string]string{},
	}
	s.numbers[""], s.texts = 0, []string{""} // 0 is no name
	return s
}

// number gives a name its number.
func (s *State) number(text string) name {
	if n := s.just[shelf(text)]; s.texts[n] == text {
		return n
	}
	n, ok := s.numbers[text]
	if !ok {
		n = name(len(s.texts))
		s.numbers[text] = n
		s.texts = append(s.texts, text)
	}
	return n
}

// Clone gives an independent copy.
func (s *State) Clone() *State {
	c := *s
	c.seen = s.seen.clone()
	c.numbers, c.index, c.second = maps.Clone(s.numbers), s.index.clone(), maps.Clone(s.second)
	c.texts = slices.Clone(s.texts)
	c.spoilt, c.fits, c.settings = maps.Clone(s.spoilt), maps.Clone(s.fits), maps.Clone(s.settings)
	c.unitAt, c.units = maps.Clone(s.unitAt), slices.Clone(s.units)
	for i := range c.units {
		c.units[i].facts = slices.Clone(c.units[i].facts)
	}
	c.sticks = make(map[name]*stick, len(s.sticks))
	for k, v := range s.sticks {
		c.sticks[k] = &stick{slices.Clone(v.loads), v.taken}
	}
	c.joints = make(map[name]*joint, len(s.joints))
	for k, v := range s.joints {
		c.joints[k] = &joint{slices.Clone(v.tacks), slices.Clone(v.welds), v.arcNS}
	}
	c.order, c.arcs, c.drops = slices.Clone(s.order), slices.Clone(s.arcs), slices.Clone(s.drops)
	c.receipts = slices.Clone(s.receipts)
	c.notes, c.trips = slices.Clone(s.notes), slices.Clone(s.trips)
	c.recent = s.recent.clone()
	c.problems = s.problems.clone()
	return &c
}

// ring keeps the texts of the latest events.
type ring struct {
	at   int // where the next one goes
	kept []kept
}

type kept struct {
	id   ID
	at   int64
	text []byte
	of   ID // the event that this one took back
}

// add keeps a copy of the text in the place of the oldest one.
func (r *ring) add(id ID, at int64, text []byte, of ID) {
	if len(r.kept) < keptRecent {
		r.kept = append(r.kept, kept{})
	}
	k := &r.kept[r.at]
	k.id, k.at, k.text, k.of = id, at, append(k.text[:0], text...), of
	r.at = (r.at + 1) % keptRecent
}

// newest gives the i-th newest, from 0.
func (r *ring) newest(i int) *kept {
	return &r.kept[(r.at-1-i+2*keptRecent)%keptRecent]
}

// tookBack tells whether one of the recent events undid this one.
func (r *ring) tookBack(id ID) bool {
	for i := range r.kept {
		if r.kept[i].of == id {
			return true
		}
	}
	return false
}

func (r ring) clone() ring {
	r.kept = slices.Clone(r.kept)
	for i := range r.kept {
		r.kept[i].text = slices.Clone(r.kept[i].text)
	}
	return r
}

func byName[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
