package work

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"bench.example/soapstone/fab/measure"
	"pgregory.net/rapid"
)

// log feeds a state as a record would: texts under running IDs.
type log struct {
	t *testing.T
	s *State
	n uint64
}

func (l *log) do(w What) ID { return l.at(int64(l.n+1)*1_000_000_000, w) }

func (l *log) at(at int64, w What) ID {
	l.t.Helper()
	text, err := Encode(w)
	if err != nil {
		l.t.Fatal(err)
	}
	l.n++
	id := ID{7, l.n}
	l.s.Apply(id, at, text)
	return id
}

func newLog(t *testing.T) *log { return &log{t: t, s: New()} }

func eq(t *testing.T, what string, got, want any) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func TestADayAtTheSaw(t *testing.T) {
	l := newLog(t)
	s := l.s
	l.do(Loaded{"rail 1", "rail", "buy", 240 * inch, 0})
	a1 := l.do(Cut{"A", 1, "rail 1", inch / 2, 96 * inch, ""})
	l.do(Cut{"A", 2, "rail 1", 96 * inch, 191 * inch, ""})
	eq(t, "cut", s.CutUnits("A"), []int{1, 2})
	spoil := l.do(Spoiled{Mark: "A", Unit: 2, Why: "wrong way round"})
	eq(t, "cut after spoiling", s.CutUnits("A"), []int{1})
	eq(t, "spoiled", s.Spoiled("A"), 1)
	sticks := s.Sticks()
	if len(sticks) != 1 || len(sticks[0].Pieces) != 2 || !sticks[0].Pieces[1].Spoiled || sticks[0].Length != 240*inch {
		t.Errorf("the spoiled piece's steel stays taken: %+v", sticks)
	}
	l.do(Cut{"A", 2, "rail 2", 0, 95 * inch, ""})
	eq(t, "its replacement", s.CutUnits("A"), []int{1, 2})
	eq(t, "twice", len(s.Twice()), 0)
	l.do(Undone{spoil})
	eq(t, "spoiled after undo", s.Spoiled("A"), 0)
	eq(t, "twice after undo", len(s.Twice()), 2)
	l.do(Undone{a1})
	l.do(Undone{a1})
	eq(t, "cut after undo", s.CutUnits("A"), []int{2})
	l.do(Cut{"A", 1, "rail 1", inch / 2, 96 * inch, ""})
	eq(t, "cut again", s.IsCut("A", 1), true)
	eq(t, "problems", s.Problems(), []string(nil))
	last, ok := s.LastUndoable(0)
	eq(t, "last undoable", last.What, What(Cut{"A", 1, "rail 1", inch / 2, 96 * inch, ""}))
	eq(t, "there is one", ok, true)
	recent := s.Recent(3)
	eq(t, "an undo among the recent", recent[1].What, What(Undone{a1}))
	eq(t, "the first cut shows as undone", s.Recent(100)[7].Undone, true)
}

// Spoiled in the cutting: there never was a good piece.
func TestSpoiledInTheCutting(t *testing.T) {
	l := newLog(t)
	id := l.do(Spoiled{"B", 1, "rail 1", 10 * inch, 55 * inch, "", "the blade wandered"})
	eq(t, "cut", l.s.IsCut("B", 1), false)
	eq(t, "spoiled", l.s.Spoiled("B"), 1)
	eq(t, "steel taken", l.s.Sticks()[0].Pieces[0].To, measure.Length(55*inch))
	l.do(Undone{id})
	eq(t, "spoiled after undo", l.s.Spoiled("B"), 0)
	eq(t, "sticks after undo", len(l.s.Sticks()), 0)
	eq(t, "pieces after undo", len(l.s.Pieces()), 0)
}

// Two windows say the same cut; each may take it back, and it is gone once.
func TestTwoWindowsSayTheSame(t *testing.T) {
	for _, which := range []int{0, 1} {
		l := newLog(t)
		var ids []ID
		for range 3 {
			ids = append(ids, l.do(Cut{"A", 1, "rail 1", 0, 96 * inch, ""}))
		}
		eq(t, "pieces", len(l.s.Pieces()), 1)
		l.do(Undone{ids[2*which]})
		eq(t, "after undo", len(l.s.Pieces()), 0)
		l.do(Undone{ids[2-2*which]})
		eq(t, "nothing is left to undo", len(l.s.Pieces()), 0)
		_, ok := l.s.LastUndoable(0)
		eq(t, "undoable", ok, false)
	}
}

func TestJointsAndArcs(t *testing.T) {
	const s = int64(1_000_000_000)
	l := newLog(t)
	l.at(0, Tacked{"J1"})
	on := l.at(10*s, ArcOn{"J1", 110})
	off := l.at(40*s, ArcOff{on, 0})
	l.at(41*s, ArcOff{on, 0}) // another window says it too
	weld := l.at(42*s, Welded{"J1", 0})
	j := l.s.Joint("J1")
	eq(t, "joint", []any{j.Tacked, j.Welded, j.ArcNS}, []any{true, true, 30 * s})
	eq(t, "arc in a window that begins in it", l.s.ArcIn(20*s, 620*s), 20*s)
	eq(t, "open arcs", len(l.s.OpenArcs()), 0)
	l.at(50*s, Undone{off})
	if open := l.s.OpenArcs(); len(open) != 1 || open[0].From != 10*s {
		t.Errorf("open arcs %v", open)
	}
	eq(t, "an open arc counts up to now", l.s.ArcIn(0, 100*s), 90*s)
	on2 := l.at(60*s, ArcOn{"J2", 110})
	eq(t, "but not past the next one", l.s.ArcIn(0, 100*s), 90*s)
	l.at(200*s, ArcOff{on2, 70 * s}) // said late
	eq(t, "stopped when somebody says", l.s.ArcIn(0, 100*s), 60*s)
	l.at(201*s, ArcOff{on, 30 * s})
	eq(t, "both ended", l.s.ArcIn(0, 100*s), 30*s)
	l.at(202*s, Undone{weld})
	eq(t, "weld undone", l.s.Joint("J1").Welded, false)
	l.at(203*s, Undone{on})
	eq(t, "arc undone", l.s.ArcIn(0, 100*s), 10*s)
	eq(t, "joints", len(l.s.Joints()), 2)
	eq(t, "problems", len(l.s.Problems()), 0)
}

func TestTheRest(t *testing.T) {
	l := newLog(t)
	l.do(Fitted{"B", 1, 45 * inch})
	fit := l.do(Fitted{"B", 1, 45*inch + inch/16})
	got, _ := l.s.Fit("B", 1)
	eq(t, "fit", got, measure.Length(45*inch+inch/16))
	l.do(Undone{fit})
	_, ok := l.s.Fit("B", 1)
	eq(t, "fit after undo", ok, false)
	l.do(Shelved{"rail 1", "rail", 31 * inch, [2]float64{45, 0}})
	l.do(Tripped{110})
	note := l.do(Noted{"square", "A 1"})
	l.do(Rested{60_000_000_000})
	l.do(Set{"amps", "110"})
	l.do(Set{"amps", "105"})
	eq(t, "drops, trips, notes", []int{len(l.s.Drops()), len(l.s.Trips()), len(l.s.Notes())}, []int{1, 1, 1})
	amps, _ := l.s.Setting("amps")
	eq(t, "setting", amps, "105")
	eq(t, "rest", l.s.RestedNS(), int64(60_000_000_000))
	l.do(Undone{note})
	eq(t, "notes", len(l.s.Notes()), 0)
	l.s.Apply(ID{9, 1}, 1, []byte(`{"v":1,"do":"hoist","kg":40}`))
	l.s.Apply(ID{9, 2}, 1, []byte(`{"v":1,"do":"cut"}`))
	l.do(Undone{ID{8, 8}})
	eq(t, "problems", l.s.Problems(), []string{
		`event 0000000000000009-2: this "cut" cannot be recorded: it needs a mark`,
		`event 0000000000000007-11 undoes 0000000000000008-8, which the record does not hold`,
		`1 of a kind that a later soapstone writes ("hoist"); they are kept in the record`,
	})
}

func TestLimitsOfTheFold(t *testing.T) {
	l := newLog(t)
	for i := range 3 * keptSame {
		l.do(Cut{"A", 1, "s", measure.Length(i), measure.Length(i + 1), ""})
		l.do(Loaded{"s", "rail", "buy", measure.Length(i + 1), 0})
		l.do(Tacked{"J"})
	}
	eq(t, "pieces of one unit", len(l.s.Pieces()), keptSame)
	if p := l.s.Problems(); len(p) != toldProblems+1 || !strings.Contains(p[0], "came off a stick more than 64 times") {
		t.Errorf("told %q", p)
	}
	if p := l.s.Problems(); !strings.Contains(p[toldProblems], "and 118 more events that do not fit the others") {
		t.Errorf("told %q", p)
	}
	for i := range keptSets + 1 {
		l.do(Set{fmt.Sprint("n", i), "v"})
	}
	_, ok := l.s.Setting(fmt.Sprint("n", keptSets))
	eq(t, "a setting too many", ok, false)
	for range 3 * keptArcs {
		on := l.do(ArcOn{"J", 1})
		l.do(ArcOff{on, 0})
	}
	eq(t, "no arc time is lost with the old arcs", l.s.Joint("J").ArcNS, int64(3*keptArcs)*1_000_000_000)
	if len(l.s.arcs) >= 2*keptArcs {
		t.Errorf("%d arcs are kept", len(l.s.arcs))
	}
	for range 3 * keptNotes {
		l.do(Noted{"n", ""})
	}
	if n := len(l.s.Notes()); n < keptNotes || n >= 2*keptNotes {
		t.Errorf("%d notes are kept", n)
	}
	eq(t, "recent", len(l.s.Recent(1000)), keptRecent)
}

// What may come without end and is kept one by one is refused from a limit on, and told; what was taken stays.
func TestTooManyOfAKind(t *testing.T) {
	for _, c := range []struct {
		what string
		most int
		make func(i int) What
		kept func(s *State) int
		say  string
	}{
		{"settings", keptSets, func(i int) What { return Set{fmt.Sprint("n", i), "v"} }, func(s *State) int { return len(s.settings) },
			"there are 1000 settings already, no more are taken"},
		{"receipts", keptReceipts, func(int) What { return Received{Section: "rail", Nominal: inch, Qty: 1} }, func(s *State) int { return len(s.Receipts()) },
			"there are 500 receipts already, no more are taken"},
		{"drops", keptDrops, func(int) What { return Shelved{Stick: "s", Section: "rail", Length: inch} }, func(s *State) int { return len(s.Drops()) },
			"there are 1000 drops of this job on the shelf already, no more are taken"},
		{"units cut", keptUnits, func(i int) What { return Cut{"A", i + 1, "s", 0, 1, ""} }, func(s *State) int { return len(s.Pieces()) },
			"there are pieces of 200000 units already, no more are taken"},
		{"units spoiled", keptUnits, func(i int) What { return Spoiled{"A", i + 1, "s", 0, 1, "", ""} }, func(s *State) int { return len(s.Pieces()) },
			"there are pieces of 200000 units already, no more are taken"},
		{"units fitted", keptUnits, func(i int) What { return Fitted{"A", i + 1, inch} }, func(s *State) int { return len(s.fits) },
			"200000 pieces were measured in their place already, no more are taken"},
		{"names", keptNames, func(i int) What { return Tacked{fmt.Sprint("J", i)} }, func(s *State) int { return len(s.joints) },
			"there are 200000 names of marks, sticks and joints already, no more are taken"},
	} {
		s := New()
		do := func(i int) bool {
			text, err := Encode(c.make(i))
			if err != nil {
				t.Fatal(err)
			}
			return s.Apply(ID{1, uint64(i + 1)}, 1, text)
		}
		for i := range c.most {
			if !do(i) {
				t.Fatalf("%s: number %d of %d is refused: %q", c.what, i+1, c.most, s.Problems())
			}
		}
		if p := s.Problems(); len(p) > 0 {
			t.Fatalf("%s: %d are told: %q", c.what, c.most, p)
		}
		if p := s.Problems(); do(c.most) || c.kept(s) != c.most || len(s.Problems()) != 1 || !strings.Contains(s.Problems()[0], c.say) {
			t.Errorf("%s: one more than %d: %d are kept, told %q, want %q", c.what, c.most, c.kept(s), p, c.say)
		}
		text, _ := Encode(Undone{ID{1, 1}})
		if s.Apply(ID{2, 1}, 2, text) == (c.what == "settings") { // a setting is not taken back
			t.Errorf("%s: one that was taken cannot be undone", c.what)
		}
	}
}

// model says the same with lists only, as plainly as can be.
type model struct {
	seen    map[ID]bool
	pieces  []modelPiece
	loads   []modelLoad
	welds   map[ID]string
	arcs    []modelArc
	fits    []modelFit
	counted int
}

type modelPiece struct {
	id, also, spoiled ID
	mark              string
	unit              int
	stick             string
	from, to          measure.Length
}
type modelLoad struct {
	id     ID
	stick  string
	length measure.Length
}
type modelArc struct {
	id, end  ID
	from, to int64
}
type modelFit struct {
	id     ID
	mark   string
	unit   int
	length measure.Length
}

func (m *model) apply(id ID, at int64, w What) {
	if m.seen[id] {
		return
	}
	m.seen[id] = true
	m.counted++
	switch e := w.(type) {
	case Cut:
		for i := range m.pieces {
			p := &m.pieces[i]
			if p.spoiled.Zero() && p.mark == e.Mark && p.unit == e.Unit && p.stick == e.Stick && p.from == e.From && p.to == e.To {
				p.also = id
				return
			}
		}
		m.pieces = append(m.pieces, modelPiece{id: id, mark: e.Mark, unit: e.Unit, stick: e.Stick, from: e.From, to: e.To})
	case Spoiled:
		for i := len(m.pieces) - 1; i >= 0; i-- {
			p := &m.pieces[i]
			if p.spoiled.Zero() && p.mark == e.Mark && p.unit == e.Unit {
				p.spoiled = id
				return
			}
		}
		m.pieces = append(m.pieces, modelPiece{id: id, spoiled: id, mark: e.Mark, unit: e.Unit, stick: e.Stick, from: e.From, to: e.To})
	case Loaded:
		m.loads = append(m.loads, modelLoad{id, e.Stick, e.Length})
	case Welded:
		m.welds[id] = e.Joint
	case ArcOn:
		m.arcs = append(m.arcs, modelArc{id: id, from: at})
	case ArcOff:
		for i := range m.arcs {
			if a := &m.arcs[i]; a.id == e.Of && a.end.Zero() {
				a.end, a.to = id, at
			}
		}
	case Fitted:
		m.fits = slices.DeleteFunc(m.fits, func(f modelFit) bool { return f.mark == e.Mark && f.unit == e.Unit })
		m.fits = append(m.fits, modelFit{id, e.Mark, e.Unit, e.Length})
	case Undone:
		for i, p := range m.pieces {
			switch {
			case p.id == e.Of || p.also == e.Of:
				m.pieces = slices.Delete(m.pieces, i, i+1)
				return
			case p.spoiled == e.Of:
				m.pieces[i].spoiled = ID{}
				return
			}
		}
		m.loads = slices.DeleteFunc(m.loads, func(l modelLoad) bool { return l.id == e.Of })
		m.fits = slices.DeleteFunc(m.fits, func(f modelFit) bool { return f.id == e.Of })
		delete(m.welds, e.Of)
		m.arcs = slices.DeleteFunc(m.arcs, func(a modelArc) bool { return a.id == e.Of })
		for i := range m.arcs {
			if m.arcs[i].end == e.Of {
				m.arcs[i].end, m.arcs[i].to = ID{}, 0
			}
		}
	}
}

// Random work at two windows, with undos of anything and texts that come twice: the fold says
// what the plain model says, and so does a copy that was made on the way.
func TestFoldAgainstModel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, m := New(), &model{seen: map[ID]bool{}, welds: map[ID]string{}}
		copyAt := rapid.IntRange(0, 60).Draw(t, "copy at")
		var numbers [2]uint64
		var ids []ID
		var texts [][]byte
		steps := rapid.IntRange(0, 120).Draw(t, "steps")
		for at := int64(1); at <= int64(steps); at++ {
			if int(at) == copyAt {
				c := s.Clone()
				s.Apply(ID{99, 1}, at, []byte(`{"v":1,"do":"cut","mark":"Z","unit":1,"stick":"z"}`)) // must not reach the copy
				s = c
			}
			if len(ids) > 0 && rapid.IntRange(0, 9).Draw(t, "again") == 0 {
				i := rapid.IntRange(0, len(ids)-1).Draw(t, "which")
				if s.Apply(ids[i], at, texts[i]) {
					t.Fatalf("%v counted twice", ids[i])
				}
				continue
			}
			var w What
			unit := rapid.IntRange(1, 2).Draw(t, "unit")
			mark := rapid.SampledFrom([]string{"A", "B"}).Draw(t, "mark")
			stick := rapid.SampledFrom([]string{"s", "r"}).Draw(t, "stick")
			from := measure.Length(rapid.IntRange(0, 1).Draw(t, "from"))
			of := ID{1, 1}
			if len(ids) > 0 {
				of = ids[rapid.IntRange(0, len(ids)-1).Draw(t, "of")]
			}
			switch rapid.IntRange(0, 8).Draw(t, "kind") {
			case 0, 1:
				w = Cut{mark, unit, stick, from, from + 5, ""}
			case 2:
				w = Spoiled{Mark: mark, Unit: unit, Stick: stick}
			case 3, 4:
				w = Undone{of}
			case 5:
				w = Loaded{stick, "rail", "buy", 9 + from, 0}
			case 6:
				w = Welded{Joint: mark}
			case 7:
				w = ArcOn{mark, 100}
				if from == 0 {
					w = ArcOff{Of: of}
				}
			case 8:
				w = Fitted{mark, unit, 7 + from}
			}
			window := rapid.IntRange(0, 1).Draw(t, "window")
			numbers[window]++
			id := ID{uint64(window + 1), numbers[window]}
			text, err := Encode(w)
			if err != nil {
				t.Fatal(err)
			}
			ids, texts = append(ids, id), append(texts, text)
			s.Apply(id, at, text)
			m.apply(id, at, w)
			compare(t, s, m, at)
		}
	})
}

func compare(t *rapid.T, s *State, m *model, now int64) {
	t.Helper()
	if s.Events() != m.counted {
		t.Fatalf("%d events, want %d", s.Events(), m.counted)
	}
	for _, mark := range []string{"A", "B"} {
		var units []int
		spoiled, welded := 0, false
		for unit := 1; unit <= 2; unit++ {
			good := false
			for _, p := range m.pieces {
				if p.mark == mark && p.unit == unit {
					good = good || p.spoiled.Zero()
					if !p.spoiled.Zero() {
						spoiled++
					}
				}
			}
			if good {
				units = append(units, unit)
			}
			var want measure.Length
			for _, f := range m.fits {
				if f.mark == mark && f.unit == unit {
					want = f.length
				}
			}
			if got, _ := s.Fit(mark, unit); got != want {
				t.Fatalf("fit of %s %d: %v, want %v", mark, unit, got, want)
			}
		}
		for _, j := range m.welds {
			welded = welded || j == mark
		}
		if got := s.CutUnits(mark); !slices.Equal(got, units) {
			t.Fatalf("cut of %s: %v, want %v", mark, got, units)
		}
		if got := s.Spoiled(mark); got != spoiled {
			t.Fatalf("spoiled of %s: %d, want %d", mark, got, spoiled)
		}
		if got := s.Joint(mark).Welded; got != welded {
			t.Fatalf("%s welded: %v, want %v", mark, got, welded)
		}
	}
	taken := map[string]int{}
	for _, p := range m.pieces {
		taken[p.stick]++
	}
	loads := map[string]measure.Length{}
	for _, l := range m.loads {
		loads[l.stick] = l.length
	}
	for _, st := range s.Sticks() {
		if len(st.Pieces) != taken[st.Name] || st.Loaded != (loads[st.Name] > 0) || st.Length != loads[st.Name] {
			t.Fatalf("stick %+v, want %d pieces, length %v", st, taken[st.Name], loads[st.Name])
		}
		delete(taken, st.Name)
		delete(loads, st.Name)
	}
	if len(taken)+len(loads) > 0 {
		t.Fatalf("sticks %v %v are missing", taken, loads)
	}
	var arcNS int64
	open := 0
	for i, a := range m.arcs {
		end := a.to
		if a.end.Zero() {
			open++
			end = now
			if i+1 < len(m.arcs) {
				end = m.arcs[i+1].from
			}
		}
		for tick := int64(0); tick < now; tick++ { // count each instant once
			if tick >= a.from && tick < end && !slices.ContainsFunc(m.arcs[:i], func(b modelArc) bool {
				e := b.to
				if b.end.Zero() {
					e = 0
				}
				return tick >= b.from && tick < e
			}) {
				arcNS++
			}
		}
	}
	if got := s.ArcIn(0, now); got != arcNS {
		t.Fatalf("arc time %d, want %d: %v", got, arcNS, m.arcs)
	}
	if got := len(s.OpenArcs()); got != open {
		t.Fatalf("%d open arcs, want %d", got, open)
	}
}

func Example() {
	// Two windows at one job; what each says, the other reads from the record.
	s := New()
	say := func(id ID, w What) {
		text, err := Encode(w)
		if err != nil {
			fmt.Println(err)
			return
		}
		s.Apply(id, 0, text)
	}
	say(ID{1, 1}, Loaded{Stick: "rail 1", Section: "rail", Source: "buy", Length: 20 * measure.Foot})
	say(ID{1, 2}, Cut{Mark: "A", Unit: 1, Stick: "rail 1", From: 0, To: 8 * measure.Foot})
	say(ID{1, 3}, Cut{Mark: "A", Unit: 2, Stick: "rail 1", From: 8 * measure.Foot, To: 16 * measure.Foot})
	say(ID{2, 1}, Spoiled{Mark: "A", Unit: 2, Why: "cut to the wrong side of the line"})
	fmt.Println(s.CutUnits("A"), s.Spoiled("A"))
	say(ID{2, 2}, Undone{Of: ID{2, 1}})
	fmt.Println(s.CutUnits("A"), s.Spoiled("A"))
	// Output:
	// [1] 1
	// [1 2] 0
}
