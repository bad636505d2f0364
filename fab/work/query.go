package work

import (
	"cmp"
	"fmt"
	"slices"

	"bench.example/soapstone/fab/measure"
)

// Piece is a piece that came off a stick.
type Piece struct {
	ID       ID // the event
	At       int64
	Mark     string
	Unit     int
	Stick    string
	From, To measure.Length
	Key      string
	Spoiled  bool
	Why      string
}

// Stick is a stick that was loaded, or of which something was cut.
type Stick struct {
	Name    string
	Loaded  bool // somebody said so; else only its pieces are known
	ID      ID   // of the load
	At      int64
	Section string
	Source  string
	Length  measure.Length
	Nominal measure.Length // the plan's length, which is Length where it was not measured
	Pieces  []Piece        // spoiled ones too, along the stick
}

// Joint is what was done on a joint.
type Joint struct {
	Name   string
	Tacked bool
	Welded bool  // as a whole
	Passes []int // single passes, in the order in which they were welded
	TackID ID    // the events that say so, to be undone
	WeldID ID
	At     int64 // of the latest of them, arcs included
	ArcNS  int64 // arc time so far
}

// Arc is an arc on the machine.
type Arc struct {
	ID       ID
	Joint    string
	Amps     float64
	From, To int64 // nanoseconds since 1970-01-01 UTC; of an open arc To is 0
	Open     bool
}

// Drop is a drop that went back on the shelf.
type Drop struct {
	ID      ID
	At      int64
	Stick   string
	Section string
	Length  measure.Length
	Ends    [2]float64
}

// Note is something that was written down.
type Note struct {
	ID    ID
	At    int64
	Text  string
	About string
}

// Trip is one time that the machine's thermal switch cut out.
type Trip struct {
	ID   ID
	At   int64
	Amps float64
}

// Done is one of the recent events.
type Done struct {
	ID     ID
	At     int64
	What   What
	Undone bool
}

// Events is how many events the record holds, each once.
func (s *State) Events() int { return s.events }

// LastAt is the latest time of any event, 0 where there is none.
func (s *State) LastAt() int64 { return s.lastAt }

// IsCut tells whether the unit of a mark has a good piece.
func (s *State) IsCut(mark string, n int) bool {
	k, ok := s.key(mark, n)
	if !ok {
		return false
	}
	i, ok := s.unitAt[k]
	return ok && s.units[i].good() >= 0
}

// key gives the unit's key without making its mark known.
func (s *State) key(mark string, n int) (unitKey, bool) {
	no, ok := s.numbers[mark]
	return unitKey{no, int32(n)}, ok && n > 0 && n <= MaxUnit
}

// CutUnits gives the units of a mark that have a good piece, in order.
func (s *State) CutUnits(mark string) (units []int) {
	no, ok := s.numbers[mark]
	if !ok {
		return nil
	}
	for i := range s.units {
		if u := &s.units[i]; u.key.mark == no && u.good() >= 0 {
			units = append(units, int(u.key.unit))
		}
	}
	slices.Sort(units)
	return units
}

// Spoiled is how many pieces of a mark were spoiled.
func (s *State) Spoiled(mark string) int { return s.spoilt[s.numbers[mark]] }

// Pieces gives every piece that came off a stick, spoiled ones too, by mark, unit and time.
func (s *State) Pieces() (list []Piece) {
	for _, u := range s.units {
		for _, f := range u.facts {
			list = append(list, s.piece(u.key, f))
		}
	}
	slices.SortFunc(list, func(a, b Piece) int {
		return cmp.Or(cmp.Compare(a.Mark, b.Mark), cmp.Compare(a.Unit, b.Unit), cmp.Compare(a.At, b.At), compareIDs(a.ID, b.ID))
	})
	return list
}

func (s *State) piece(k unitKey, f fact) Piece {
	return Piece{f.id, f.at, s.texts[k.mark], int(k.unit), s.texts[f.stick], f.from, f.to, f.key, !f.spoiled.Zero(), f.why}
}

// Sticks gives the sticks in the order in which they first came up.
func (s *State) Sticks() []Stick {
	list := make([]Stick, 0, len(s.order))
	where := map[string]int{}
	for i, n := range s.order {
		v := Stick{Name: s.texts[n]}
		where[v.Name] = i
		if loads := s.sticks[n].loads; len(loads) > 0 {
			l := loads[len(loads)-1]
			v.Loaded, v.ID, v.At = true, l.id, l.at
			v.Section, v.Source, v.Length, v.Nominal = l.section, l.source, l.length, l.nominal
			if v.Nominal == 0 {
				v.Nominal = v.Length
			}
		}
		list = append(list, v)
	}
	for _, p := range s.Pieces() {
		if i, ok := where[p.Stick]; ok {
			list[i].Pieces = append(list[i].Pieces, p)
		}
	}
	for _, v := range list {
		slices.SortStableFunc(v.Pieces, func(a, b Piece) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.At, b.At)) })
	}
	return list
}

func compareIDs(a, b ID) int {
	return cmp.Or(cmp.Compare(a.Writer, b.Writer), cmp.Compare(a.Number, b.Number))
}

// Joint gives what was done on a joint.
func (s *State) Joint(name string) Joint {
	v := Joint{Name: name}
	no := s.numbers[name]
	j := s.joints[no]
	if j == nil {
		return v
	}
	for _, t := range j.tacks {
		v.Tacked, v.TackID, v.At = true, t.id, max(v.At, t.at)
	}
	for _, w := range j.welds {
		v.WeldID, v.At = w.id, max(v.At, w.at)
		if w.pass == 0 {
			v.Welded = true
		} else {
			v.Passes = append(v.Passes, w.pass)
		}
	}
	v.ArcNS = j.arcNS
	for _, a := range s.arcs {
		if a.joint == no {
			v.ArcNS += max(0, a.to-a.from)
			v.At = max(v.At, a.from, a.to)
		}
	}
	return v
}

// Joints gives every joint on which anything stands, by name.
func (s *State) Joints() (list []Joint) {
	for no := range s.joints {
		if j := s.Joint(s.texts[no]); j.Tacked || j.At != 0 || j.ArcNS != 0 {
			list = append(list, j)
		}
	}
	slices.SortFunc(list, func(a, b Joint) int { return cmp.Compare(a.Name, b.Name) })
	return list
}

// Finished gives the names under which a joint, a seam or a part of one is tacked, and those under which it is welded as a
// whole, in alphabetical order.
func (s *State) Finished() (tacked, welded []string) {
	for no, j := range s.joints {
		if len(j.tacks) > 0 {
			tacked = append(tacked, s.texts[no])
		}
		if slices.ContainsFunc(j.welds, func(w step) bool { return w.pass == 0 }) {
			welded = append(welded, s.texts[no])
		}
	}
	slices.Sort(tacked)
	slices.Sort(welded)
	return tacked, welded
}

// OpenArcs gives the arcs that were started and never stopped, oldest first. The last one may
// burn right now; an earlier one was forgotten, or its window died.
func (s *State) OpenArcs() (list []Arc) {
	for _, a := range s.arcs {
		if !a.ended {
			list = append(list, s.arc(a))
		}
	}
	return list
}

func (s *State) arc(a arc) Arc {
	return Arc{a.id, s.texts[a.joint], a.amps, a.from, a.to, !a.ended}
}

// Arcs gives the arcs of which any part lies behind since, oldest first. The latest 4096 are
// kept, more than any plate's window holds.
func (s *State) Arcs(since int64) (list []Arc) {
	for _, a := range s.arcs {
		if !a.ended || a.to > since {
			list = append(list, s.arc(a))
		}
	}
	return list
}

// ArcIn gives the arc time between two instants, in nanoseconds. An arc without an end counts
// up to the start of the next arc, since one machine burns one arc, or else up to the second
// instant: rather too much than too little. Arcs that overlap count once.
func (s *State) ArcIn(from, to int64) (ns int64) {
	covered := from
	for i, a := range s.arcs {
		end := a.to
		if !a.ended {
			end = to
			if i+1 < len(s.arcs) {
				end = min(end, s.arcs[i+1].from)
			}
		}
		begin := max(a.from, covered)
		if end = min(end, to); end > begin {
			ns += end - begin
			covered = end
		}
	}
	return ns
}

// RestedNS is the sum of the rests that were recorded, in nanoseconds.
func (s *State) RestedNS() int64 { return s.rested }

// Fit gives the measured length of a piece that is cut to fit.
func (s *State) Fit(mark string, unit int) (measure.Length, bool) {
	k, ok := s.key(mark, unit)
	if !ok {
		return 0, false
	}
	f, ok := s.fits[k]
	return f.length, ok
}

// Drops gives the drops that went back on the shelf, in that order.
func (s *State) Drops() []Drop { return slices.Clone(s.drops) }

// Notes gives the latest notes, at least a thousand where there are so many, oldest first.
func (s *State) Notes() []Note { return slices.Clone(s.notes) }

// Trips gives the latest trips of the machine, oldest first.
func (s *State) Trips() []Trip { return slices.Clone(s.trips) }

// Setting gives the value that a setting has now.
func (s *State) Setting(name string) (string, bool) {
	v, ok := s.settings[name]
	return v, ok
}

// Recent gives up to n of the latest 256 events, newest first.
func (s *State) Recent(n int) (list []Done) {
	for i := range min(n, len(s.recent.kept)) {
		if d, ok := s.recent.done(i); ok {
			list = append(list, d)
		}
	}
	return list
}

func (r *ring) done(i int) (Done, bool) {
	k := r.newest(i)
	w, err := Decode(k.text)
	return Done{k.id, k.at, w, r.tookBack(k.id)}, err == nil
}

// LastUndoable gives the latest of the recent events that an Undone would take back; writer 0
// asks for anybody's.
func (s *State) LastUndoable(writer uint64) (Done, bool) {
	for i := range len(s.recent.kept) {
		k := s.recent.newest(i)
		if _, live := s.index.at(k.id); live && (writer == 0 || k.id.Writer == writer) {
			return s.recent.done(i)
		}
	}
	return Done{}, false
}

// Twice gives the units that have more than one good piece: two windows cut the same, or one
// of them is to be undone.
func (s *State) Twice() (list []Piece) {
	for _, p := range s.Pieces() {
		if !p.Spoiled && s.units[s.unitAt[unitKey{s.numbers[p.Mark], int32(p.Unit)}]].count() > 1 {
			list = append(list, p)
		}
	}
	return list
}

func (u *unit) count() (n int) {
	for _, f := range u.facts {
		if f.spoiled.Zero() {
			n++
		}
	}
	return n
}

// Problems tells, in lines for the user, what in the record could not be taken as it stands.
func (s *State) Problems() (list []string) {
	for k, what := range [pKinds]string{"cannot be read", "do not fit the others"} {
		list = append(list, s.problems.first[k]...)
		if more := s.problems.n[k] - len(s.problems.first[k]); more > 0 {
			list = append(list, fmt.Sprintf("and %d more events that %s", more, what))
		}
	}
	for _, do := range byName(s.problems.kinds) {
		list = append(list, fmt.Sprintf("%d of a kind that a later soapstone writes (%q); they are kept in the record", s.problems.kinds[do], do))
	}
	return list
}
