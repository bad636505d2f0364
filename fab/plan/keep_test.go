package plan

import (
	"context"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/work"
)

const keepJob = `
title = "Oar stand"
[section.rail]
shape = "rect-tube"
size = "2 x 1 x 14ga"
sticks = [{length = "20ft", price = 31}]
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

// before puts another rectangle in front of the first, so that the order of the pieces is another one.
func before(length string) string {
	return strings.Replace(keepJob, "[[rectangle]]", "[[rectangle]]\nname = \"top\"\nsection = \"rail\"\nlength = \""+length+"\"\nwidth = \"20in\"\nat = [0, 0, \"30in\"]\n[[rectangle]]", 1)
}

func marksBySpec(p *Plan) map[string]string {
	out := map[string]string{}
	for i := range p.Pieces {
		out[Identity(&p.Pieces[i])] = p.Pieces[i].Mark
	}
	return out
}

// TestMarksStay: a piece keeps its mark when an edit puts others before it; by the record where it was cut, by what the last
// plan said where it was not, and what is cut is never taken for another piece.
func TestMarksStay(t *testing.T) {
	build := func(text string, s *work.State, marks map[string]string) *Plan {
		p := Build(context.Background(), Input{Job: frametest.Read(t, text), Steel: frametest.Catalogue(), Work: s, Marks: marks, Effort: -1})
		if p.Failed() {
			t.Fatal(p.Problems)
		}
		return p
	}
	first := build(keepJob, nil, nil)
	was := marksBySpec(first)

	// Nothing was cut: the session's marks hold.
	p := build(before("50in"), nil, first.MarksOf())
	for id, m := range marksBySpec(p) {
		if old, ok := was[id]; ok && old != m {
			t.Errorf("%s was %s and is %s now", id, old, m)
		}
	}
	if len(p.Pieces) <= len(first.Pieces) || !p.Renamed {
		t.Fatal("the edit does not change the order of the marks; the test tests nothing")
	}
	seen := map[string]bool{}
	for i := range p.Pieces {
		if m := p.Pieces[i].Mark; seen[m] {
			t.Fatalf("two pieces are called %s", m)
		}
		seen[p.Pieces[i].Mark] = true
	}
	for i := range p.Pieces { // the marks on the steel speak of the same letters
		for _, x := range p.Pieces[i].MarksOut {
			if l, _, ok := strings.Cut(x.What, ":"); ok && len(l) <= 3 && !seen[l] {
				t.Errorf("a mark speaks of %q, which no piece is called", l)
			}
		}
	}

	// A-1 was cut: without any memory of the session it stays A, and only that one counts as cut.
	s := work.New()
	a := &first.Pieces[0]
	payload, err := work.Encode(work.Cut{Mark: a.Mark, Unit: 1, Stick: "rail 1", From: 0, To: a.Length, Key: Key(a, first.Nests[0].Nest.Used[0].Cuts[0].Lay.Right)})
	if err != nil {
		t.Fatal(err)
	}
	s.Apply(work.ID{Writer: 1, Number: 1}, 1, payload)
	p = build(before("50in"), s, nil)
	if got := marksBySpec(p)[Identity(a)]; got != a.Mark {
		t.Fatalf("the piece that was cut as %s is %s now", a.Mark, got)
	}
	for i := range p.Pieces {
		if x := &p.Pieces[i]; x.Mark == a.Mark && x.Length != a.Length {
			t.Fatalf("%s is another piece now: what is cut would count as that", a.Mark)
		}
	}

	// The piece that was cut is not in the job any more: nothing new takes its mark, and the plan says so.
	p = build(strings.Replace(keepJob, "61in", "70in", 1), s, first.MarksOf())
	for i := range p.Pieces {
		if p.Pieces[i].Mark == a.Mark {
			t.Fatalf("%s of %v takes the mark of what was cut at %v", a.Mark, p.Pieces[i].Length, a.Length)
		}
	}
	if !strings.Contains(strings.Join(p.Notes, "\n"), a.Mark+" was cut before") {
		t.Errorf("the plan does not tell of the spare piece: %v", p.Notes)
	}
	open := 0
	for _, sn := range p.Nests {
		for _, u := range sn.Units {
			open += len(u)
		}
	}
	if open != 7 {
		t.Errorf("%d pieces are still to be cut, want 7", open)
	}
}

// TestFitKeepsItsMark: what is cut to fit keeps its mark though it came out shorter than planned.
func TestFitKeepsItsMark(t *testing.T) {
	x := &piece.Piece{Mark: "D", Section: "rail", Length: 40 * measure.Inch, Over: measure.Inch}
	y := *x
	y.Length -= measure.Inch / 2
	if !is(Identity(&y)+"|0,0", x) {
		t.Error("a fitted length is another piece")
	}
	y.Length -= 10 * measure.Inch
	if is(Identity(&y)+"|0,0", x) {
		t.Error("ten inches less is the same piece")
	}
	x.Over = 0
	y.Length = x.Length - measure.Inch/2
	if is(Identity(&y)+"|0,0", x) {
		t.Error("half an inch less is the same piece, though it is not cut to fit")
	}
}
