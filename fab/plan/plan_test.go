package plan

import (
	"context"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/work"
)

const small = `
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
grade = "A500-B"
sticks = [ {length = "20ft", price = 31.20} ]
[saw]
kerf = "1/16"
trim = "1/4"
[[rectangle]]
name = "base"
section = "rail"
length = "61in"
width = "33in"
[[crossbars]]
on = "base"
section = "rail"
count = 3
`

func build(t testing.TB, toml string, w *work.State) *Plan {
	t.Helper()
	j := frametest.Read(t, toml)
	p := Build(context.Background(), Input{Job: j, Steel: frametest.Catalogue(), Work: w, Effort: -1})
	if p.Failed() {
		t.Fatalf("%v", p.Problems)
	}
	return p
}

// worker plays the saw: it goes through the queue and records what it does.
type worker struct {
	state *work.State
	n     uint64
}

func (w *worker) do(e work.What) work.ID {
	w.n++
	id := work.ID{Writer: 1, Number: w.n}
	text, err := work.Encode(e)
	if err != nil {
		panic(err)
	}
	w.state.Apply(id, int64(w.n)*1e9, text)
	return id
}

// step carries out one step of the queue.
func (w *worker) step(p *Plan, s *cut.Step) {
	name := p.StickName(s.Bundle, s.Used)
	from := p.StickFrom(s.Bundle, s.Used)
	sn := &p.Nests[s.Bundle]
	stick := sn.Problem.Sticks[sn.Nest.Used[s.Used].Stick]
	switch s.Op {
	case cut.Load:
		if sn.Nest.Used[s.Used].Stick >= len(sn.Rests) {
			source := "buy"
			if stick.OnHand {
				source = "shelf"
			}
			w.do(work.Loaded{Stick: name, Section: s.Section, Source: source, Length: stick.Length, Nominal: stick.Length})
		}
	case cut.Cut:
		for _, k := range sn.Pieces {
			if x := &p.Pieces[k]; x.Mark == s.Mark {
				w.do(work.Cut{Mark: s.Mark, Unit: s.Unit, Stick: name, From: from + s.From, To: from + s.To, Key: Key(x, s.Right)})
			}
		}
	}
}

// TestPlanningOn cuts some of the pieces, spoils some, plans anew from the record, and so on to the end: every piece is
// made, no two pieces ever lie on the same steel, and no stick is longer than it was.
func TestPlanningOn(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w := &worker{state: work.New()}
		p := build(t, small, nil)
		need := map[string]int{}
		for _, x := range p.Pieces {
			need[x.Mark] = x.Qty
		}
		for round := 0; ; round++ {
			if round > 60 {
				rt.Fatal("the job never ends")
			}
			if len(p.Queue.Steps) == 0 {
				break
			}
			n := rapid.IntRange(1, len(p.Queue.Steps)).Draw(rt, "steps")
			for i := range p.Queue.Steps[:n] {
				w.step(p, &p.Queue.Steps[i])
			}
			if rapid.IntRange(0, 3).Draw(rt, "spoil") == 0 && round < 20 {
				if all := w.state.Pieces(); len(all) > 0 {
					x := all[rapid.IntRange(0, len(all)-1).Draw(rt, "which")]
					if !x.Spoiled {
						w.do(work.Spoiled{Mark: x.Mark, Unit: x.Unit, Key: x.Key})
					}
				}
			}
			p = build(t, small, w.state.Clone())
			fresh := false
			for _, s := range p.Queue.Steps {
				inWork := p.Nests[s.Bundle].Nest.Used[s.Used].Stick < len(p.Nests[s.Bundle].Rests)
				if fresh && inWork {
					rt.Fatal("another stick is loaded before the one in the saw is cut on")
				}
				fresh = fresh || !inWork
			}
		}
		for mark, qty := range need {
			if got := len(w.state.CutUnits(mark)); got != qty {
				rt.Fatalf("%d of %s are made, %d wanted", got, mark, qty)
			}
		}
		for _, st := range w.state.Sticks() {
			for i, a := range st.Pieces {
				if a.To > st.Length || a.From < 0 {
					rt.Fatalf("%s-%d lies outside %s", a.Mark, a.Unit, st.Name)
				}
				if i > 0 {
					// Tips of mitred neighbours may pass each other by the lean of their cut, no more.
					if b := st.Pieces[i-1]; a.From < b.To-3*measure.Inch {
						rt.Fatalf("%s-%d and %s-%d lie on the same steel of %s", a.Mark, a.Unit, b.Mark, b.Unit, st.Name)
					}
				}
			}
		}
	})
}

func TestMeasuredStick(t *testing.T) {
	p := build(t, small, nil)
	w := &worker{state: work.New()}
	// The stick turns out 6 in short.
	w.do(work.Loaded{Stick: "rail 1", Section: "rail", Source: "buy", Length: 234 * measure.Inch, Nominal: 240 * measure.Inch})
	q := build(t, small, w.state)
	sn := q.Nests[0]
	if len(sn.Rests) != 1 || sn.Rests[0].Left != 234*measure.Inch || sn.Rests[0].Fresh {
		t.Fatalf("rests %+v", sn.Rests)
	}
	for _, u := range sn.Nest.Used {
		if u.Stick == 0 {
			if last := u.Cuts[len(u.Cuts)-1].To; last > 234*measure.Inch {
				t.Errorf("the nest runs to %v on a stick of 234in", last)
			}
		}
	}
	bought := 0
	for _, b := range q.Buy {
		bought += b.Qty
	}
	was := 0
	for _, b := range p.Buy {
		was += b.Qty
	}
	if bought+1 < was {
		t.Errorf("%d sticks are still to buy, %d before", bought, was)
	}
}

func TestShelvedDropIsGone(t *testing.T) {
	w := &worker{state: work.New()}
	p := build(t, small, nil)
	for i := range p.Queue.Steps {
		w.step(p, &p.Queue.Steps[i])
	}
	w.do(work.Spoiled{Mark: "A", Unit: 1})
	with := build(t, small, w.state.Clone())
	if len(with.Nests[0].Rests) == 0 {
		t.Fatal("nothing is left of any stick")
	}
	for _, r := range with.Nests[0].Rests {
		w.do(work.Shelved{Stick: r.Stick, Section: "rail", Length: r.Left})
	}
	if without := build(t, small, w.state); len(without.Nests[0].Rests) != 0 {
		t.Errorf("a drop that went back on the shelf is still in the saw: %+v", without.Nests[0].Rests)
	}
}

func TestStickPriceByFootAndMass(t *testing.T) {
	j := frametest.Read(t, `
[section.a]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
grade = "A500-B"
price_ft = 1.725
sticks = ["20ft"]
[[piece]]
section = "a"
length = "30in"
`)
	p := Build(context.Background(), Input{Job: j, Steel: frametest.Catalogue(), Effort: -1})
	if p.Failed() {
		t.Fatal(p.Problems)
	}
	if p.Buy[0].Cost != 3450*measure.Cent {
		t.Errorf("20 ft at 1.725 cost %s", p.Buy[0].Cost)
	}
}

func TestKeyGivesThePlaneBack(t *testing.T) {
	p := build(t, small, nil)
	for _, plane := range []nest.Plane{{}, {SY: -1e9}, {SY: 3, SZ: -577350269}} {
		if got := planeOf(Key(&p.Pieces[0], plane)); got != plane {
			t.Errorf("%v comes back as %v", plane, got)
		}
	}
	if planeOf("nonsense") != (nest.Plane{}) || planeOf("x|1") != (nest.Plane{}) {
		t.Error("a key without a plane is taken as square")
	}
}

func ExampleBuild() {
	var t testing.T
	j := frametest.Read(&t, small)
	p := Build(context.Background(), Input{Job: j, Steel: frametest.Catalogue(), Effort: -1})
	for _, x := range p.Pieces {
		fmt.Println(x.Qty, x.Mark, j.Tape.Print(x.Length))
	}
	fmt.Println(len(p.Nests[0].Nest.Used), "sticks, proven:", p.Nests[0].Nest.Proven)
	// Output:
	// 2 A 61"
	// 2 B 33"
	// 3 C 30"
	// 2 sticks, proven: true
}
