package work

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bench.example/soapstone/fab/measure"
)

// deep compares two states whole, but for what is kept only to be quick.
func deep(a, b *State) string {
	quick := cmp.FilterPath(func(p cmp.Path) bool {
		f, ok := p.Last().(cmp.StructField)
		if !ok {
			return false
		}
		switch p.Index(-2).Type() {
		case reflect.TypeFor[State]():
			return f.Name() == "just"
		case reflect.TypeFor[IDs]():
			return f.Name() == "last" || f.Name() == "who"
		case reflect.TypeFor[index]():
			return f.Name() != "writers"
		}
		return false
	}, cmp.Ignore())
	empty := cmp.FilterValues(func(x, y any) bool {
		v, w := reflect.ValueOf(x), reflect.ValueOf(y)
		return v.IsValid() && w.IsValid() && (v.Kind() == reflect.Slice || v.Kind() == reflect.Map) && v.Kind() == w.Kind() && v.Len() == 0 && w.Len() == 0
	}, cmp.Ignore())
	return cmp.Diff(a, b, quick, empty, cmp.Exporter(func(reflect.Type) bool { return true }))
}

// day makes n events of every kind at two windows, many of them taken back, some nonsense.
func day(n int, seed uint64, each func(id ID, at int64, text []byte)) {
	rng := rand.New(rand.NewPCG(seed, 9))
	var ids []ID
	emit := func(text []byte) {
		id := ID{Writer: 0xa0 + rng.Uint64N(3), Number: uint64(len(ids) + 1)}
		ids = append(ids, id)
		each(id, int64(len(ids))*1e9, text)
	}
	some := func() ID {
		if len(ids) == 0 {
			return ID{1, 1}
		}
		back := min(len(ids), 1+rng.IntN(1+rng.IntN(60)))
		return ids[len(ids)-back]
	}
	for i := range n {
		mark, unit := string(rune('A'+rng.IntN(4))), 1+rng.IntN(6)
		stick, joint := fmt.Sprintf("rail %d", 1+rng.IntN(9)), fmt.Sprintf("J%d", 1+rng.IntN(9))
		at := measure.Length(rng.IntN(9)) * measure.Foot
		var w What
		switch rng.IntN(19) {
		case 0:
			w = Loaded{Stick: stick, Section: "rail", Source: "buy", Length: 20 * measure.Foot}
		case 1:
			w = Loaded{Stick: stick, Section: "rail", Source: "shelf", Length: 19 * measure.Foot, Nominal: 20 * measure.Foot}
		case 2, 3, 4, 5:
			w = Cut{Mark: mark, Unit: unit, Stick: stick, From: at, To: at + measure.Foot, Key: "k"}
		case 6:
			w = Spoiled{Mark: mark, Unit: unit, Stick: stick, From: at, To: at + measure.Foot, Why: "slipped"}
		case 7, 8:
			w = Undone{some()}
		case 9:
			w = Tacked{joint}
		case 10:
			w = Welded{joint, rng.IntN(3)}
		case 11:
			w = ArcOn{joint, 110}
		case 12:
			w = ArcOff{Of: some()}
		case 13:
			w = Fitted{mark, unit, at + 1}
		case 14:
			w = Shelved{Stick: stick, Section: "rail", Length: at + 1, Ends: [2]float64{45, 0}}
		case 15:
			w = Noted{Text: fmt.Sprintf("note %d", i), About: mark}
		case 16:
			w = Set{Name: []string{JobSetting, "amps"}[rng.IntN(2)], Value: fmt.Sprint(rng.IntN(3))}
		case 17:
			w = []What{Tripped{120}, Rested{1e9}, Received{Section: "rail", Nominal: 20 * measure.Foot, Qty: 3, Supplier: "Harbour Steel", Price: 33 * measure.Whole}}[rng.IntN(3)]
		default:
			emit([][]byte{[]byte(`{"v":9,"do":"polish"}`), []byte("nonsense"), []byte(`{"v":1,"do":"cut"}`)}[rng.IntN(3)])
			continue
		}
		text, err := Encode(w)
		if err != nil {
			panic(err)
		}
		emit(text)
	}
}

// plainBase is what a base is by its definition: a copy at each event that calls for a new plan.
type plainBase struct {
	state, base *State
	since       map[ID]bool
	p           Progress
}

func (b *plainBase) apply(id ID, at int64, text []byte) {
	var f fields
	if !b.state.take(id, at, text, &f) {
		return
	}
	b.since[id] = true
	again := f.kind == kUndone && !b.since[f.of]
	if again || f.kind != kUndone && b.p.replans(&f) {
		b.base, b.since = b.state.Clone(), map[ID]bool{}
	}
}

// The base is the copy that its definition asks for, at every moment, however rarely it is asked for, and also after a
// restart from an archive.
func TestBase(t *testing.T) {
	for seed := range uint64(6) {
		rng := rand.New(rand.NewPCG(seed, 1))
		want := plainBase{state: New(), base: New(), since: map[ID]bool{}}
		p := NewProgress()
		often := 40 + rng.IntN(200)
		n := 0
		day(400, seed, func(id ID, at int64, text []byte) {
			want.apply(id, at, text)
			p.Apply(id, at, text)
			if n++; rng.IntN(often) == 0 {
				if d := deep(want.base, p.Base()); d != "" {
					t.Fatalf("seed %d, event %d: the base is another one: %s", seed, n, d)
				}
			}
			if rng.IntN(200) == 0 {
				q, err := Restore(p.Archive())
				if err != nil {
					t.Fatal(err)
				}
				p = q
			}
		})
		if d := deep(want.base, p.Base()) + deep(want.state, p.State()); d != "" {
			t.Fatalf("seed %d: %s", seed, d)
		}
	}
}

// A base that was given is not changed by what comes after.
func TestBaseStays(t *testing.T) {
	p := NewProgress()
	var given, copies []*State
	day(120, 5, func(id ID, at int64, text []byte) {
		p.Apply(id, at, text)
		if b := p.Base(); len(given) == 0 || given[len(given)-1] != b {
			given, copies = append(given, b), append(copies, b.Clone())
		}
	})
	for i := range given {
		if d := deep(copies[i], given[i]); d != "" {
			t.Fatalf("base %d changed: %s", i, d)
		}
	}
}

// An archive holds everything that a state holds: every field of a rich state is filled, and comes back.
func TestArchiveHoldsAll(t *testing.T) {
	p := NewProgress()
	day(3000, 1, func(id ID, at int64, text []byte) { p.Apply(id, at, text) })
	p.state.second[ID{1, 2}] = ID{1, 1}
	v := reflect.ValueOf(p.state).Elem()
	for i := range v.NumField() {
		if v.Field(i).IsZero() {
			t.Errorf("the day of this test leaves State.%s empty: nobody would see that the archive forgets it", v.Type().Field(i).Name)
		}
	}
	b := p.Archive()
	q, err := Restore(b)
	if err != nil {
		t.Fatal(err)
	}
	if d := deep(p.state, q.state) + deep(p.Base(), q.Base()); d != "" {
		t.Errorf("an archive comes back as another state: %s", d)
	}
	if !bytes.Equal(q.Archive(), b) {
		t.Error("an archive of what was restored is another one")
	}
	if q.job != p.job {
		t.Error("the job's text was forgotten")
	}
	for _, w := range []uint64{0xa0, 0xa1, 0xa2} {
		for n := range uint64(3001) {
			if p.since.Has(ID{w, n}) != q.since.Has(ID{w, n}) {
				t.Fatal("what came since the base is another set")
			}
		}
	}
}

// What is no archive is refused, and never taken with a name or an event that does not exist.
func TestArchiveRefused(t *testing.T) {
	p := NewProgress()
	day(300, 2, func(id ID, at int64, text []byte) { p.Apply(id, at, text) })
	good := p.Archive()
	for n := 0; n < len(good); n += 101 {
		if q, err := Restore(good[:n]); !errors.Is(err, ErrArchive) {
			t.Fatalf("an archive cut to %d of %d bytes gave %v, %v", n, len(good), q, err)
		}
	}
	rng := rand.New(rand.NewPCG(1, 1))
	for range 800 {
		b := bytes.Clone(good)
		for range 1 + rng.IntN(3) {
			b[rng.IntN(len(b))] = byte(rng.Uint32())
		}
		if q, err := Restore(b); err == nil { // it may still be one; then it can be worked with
			q.State().Pieces()
			q.State().Recent(256)
			q.State().Sticks()
			q.State().Problems()
			day(5, 3, func(id ID, at int64, text []byte) { q.Apply(id, at, text) })
		}
	}
}

// The archive of a known day looks like this. If it looks otherwise, the fold or the layout has changed: then raise
// archiveVersion, so that no older archive is taken for one of today, and write the new figure here.
func TestArchiveIsPinned(t *testing.T) {
	p := NewProgress()
	day(3000, 1, func(id ID, at int64, text []byte) { p.Apply(id, at, text) })
	sum := sha256.Sum256(p.Archive())
	if got, want := fmt.Sprintf("version %d: %s", archiveVersion, hex.EncodeToString(sum[:8])), "version 2: 4ec1a9f96e26d1fb"; got != want {
		t.Errorf("the archive is %s, pinned is %s", got, want)
	}
}
