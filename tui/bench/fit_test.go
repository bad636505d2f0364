package bench

import (
	"strings"
	"testing"
	"time"

	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/work"
)

// propped is a panel with a brace that is cut to fit, and a loose piece from the same steel.
const propped = `
title = "Panel for the paddle store"
tape = "1/16"
[section.rail]
shape = "square-tube"
size = "1-1/4 x 14ga"
sticks = [ {length = "20ft", price = 24.10} ]
[saw]
kerf = "1/16"
[[rectangle]]
name = "panel"
section = "rail"
length = "44in"
width = "28in"
[[member]]
name = "brace"
section = "rail"
from = ["1-1/4", "1-1/4", "5/8"]
to = ["42-3/4", "26-3/4", "5/8"]
ends = ["point", "point"]
over = "3/8"
holes = [ {at = "9in", size = "3/8"} ]
[[piece]]
mark = "T"
section = "rail"
length = "9in"
qty = 2
`

// TestCutToFitAtTheSaw cuts all else, is asked for the measured length, is refused a wrong one, cuts the piece to the right
// one, takes it back and begins again from the record.
func TestCutToFitAtTheSaw(t *testing.T) {
	d := &driver{t: t, journal: &memory{}, file: &file{data: []byte(propped)}, now: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	begin := func() {
		d.start(termenv.Ascii, true, stations()...)
		d.size(110, 32)
		if d.m.desk.Plan == nil || d.m.desk.Plan.Failed() {
			t.Fatalf("no plan: %v", d.m.problems)
		}
		d.press("4")
	}
	begin()
	var mark string
	var drawn measure.Length
	for i := range d.m.desk.Plan.Pieces {
		if x := &d.m.desk.Plan.Pieces[i]; x.Over > 0 {
			mark, drawn = x.Mark, x.Length
		}
	}
	for range 6 { // four sides, two loose pieces
		d.cutOne()
	}
	d.see("MEASURE "+mark+"-1", "waits for panel.", "press m", "lies reserved")
	d.press("space")
	if d.cuts() != 6 {
		t.Fatal("a piece counts as cut whose length nobody has measured")
	}
	d.see("enter its measured length first")
	enter := func(what string) {
		d.press("m")
		if d.m.ask == nil {
			t.Fatalf("m asks for nothing:\n%s", d.screen())
		}
		for _, r := range what {
			if r == ' ' {
				d.press("space")
			} else {
				d.press(string(r))
			}
		}
		d.press("enter")
	}
	enter("5ft")
	if d.m.ask == nil || !strings.Contains(d.m.ask.err, "cannot be right") {
		t.Fatal("five feet were taken for a piece of four")
	}
	d.press("esc")
	right := drawn + measure.Inch/8
	enter(tapeMark(right))
	typed, err := measure.ParseLength(tapeMark(right), measure.In)
	if err != nil {
		t.Fatal(err)
	}
	if l, ok := d.m.Work().Fit(mark, 1); !ok || l != typed {
		t.Fatalf("entered %v, the record has %v %v\n%s", typed, l, ok, d.screen())
	}
	d.see("measured in its place")
	d.press("u")
	if _, ok := d.m.Work().Fit(mark, 1); ok {
		t.Fatal("undo left the measured length")
	}
	d.see("MEASURE " + mark + "-1")
	enter(mark + "-1 " + tapeMark(right))
	begin() // the power fails; the record alone is left
	d.see(mark + "-1  stop " + tapeMark(right))
	d.press("5") // its hole is laid out on it as it is cut
	for range 4 {
		if strings.Contains(d.screen(), mark+"-1  measured in its place ") {
			break
		}
		d.press("down")
	}
	d.see(mark+"-1  measured in its place "+tapeMark(right), "hole 3/8")
	d.press("4")
	d.press("space")
	d.see("CUT "+mark+"-1", "measured in its place "+tapeMark(right))
	d.cutOne()
	d.see("Every piece is cut")
	var got work.Piece
	for _, p := range d.m.Work().Pieces() {
		if p.Mark == mark {
			got = p
		}
	}
	if got.To-got.From != typed {
		t.Errorf("the piece was cut to %v, measured %v", got.To-got.From, typed)
	}
	begin()
	d.see("Every piece is cut")
}

// tapeMark is how a worker writes a length: the mark of the tape that lies nearest.
func tapeMark(l measure.Length) string { return strings.TrimRight(measure.Sixteenths.Print(l), "+-") }
