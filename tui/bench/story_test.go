package bench

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/stock/record"
)

// small is a job whose whole story fits a test.

const small = `# our own words stay
title = "Paddle stand"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
sticks = [ {length = "20ft", price = 31.20} ]
[[rectangle]]
name = "base" # the low one
section = "rail"
length = "61in"
width = "33in"
[[crossbars]]
on = "base"
section = "rail"
count = 3
[welder]
process = "GMAW"
amps = 96
volts = 17.5
duty = "20% at 148A"
travel = "13ipm"
fillet = "1/8"
`

func newSmall(t testing.TB) *driver {
	d := &driver{t: t, journal: &memory{}, file: &file{data: []byte(small)}, now: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	d.start(termenv.Ascii, true, stations()...)
	d.size(100, 30)
	if d.m.desk.Plan == nil || d.m.desk.Plan.Failed() {
		t.Fatalf("no plan: %v", d.m.problems)
	}
	return d
}

func (d *driver) cuts() int {
	n := 0
	for _, p := range d.m.Work().Pieces() {
		if !p.Spoiled {
			n++
		}
	}
	return n
}

// cutOne presses space until one more piece is cut.

func (d *driver) cutOne() {
	d.t.Helper()
	for n, k := d.cuts(), 0; d.cuts() == n; k++ {
		if k > 8 {
			d.t.Fatalf("space does not lead to a cut:\n%s", d.screen())
		}
		d.press("space")
	}
}

func TestCutAll(t *testing.T) {
	d := newSmall(t)
	d.press("4")
	for n := 1; n <= 7; n++ {
		d.cutOne()
	}
	d.see("Every piece is cut")
	d.press("1")
	d.see("7 of 7 pieces")
	// The next start shows the same.
	d.start(termenv.Ascii, true, stations()...)
	d.size(100, 30)
	d.see("7 of 7 pieces")
}

func TestSpoiledPiece(t *testing.T) {
	d := newSmall(t)
	d.press("4")
	d.cutOne()
	d.cutOne()
	d.press("x")
	d.see("spoiled piece:")
	d.press("enter")
	if d.cuts() != 1 {
		t.Fatalf("%d good pieces, want 1", d.cuts())
	}
	d.see("was spoiled")
	for d.cuts() < 7 {
		d.cutOne()
	}
	d.see("Every piece is cut")
}

func TestMeasuredLength(t *testing.T) {
	d := newSmall(t)
	d.press("4")
	d.see("LOAD")
	d.press("l")
	d.see("measured length")
	for range 20 {
		d.press("backspace")
	}
	d.press("n", "o", "enter")
	if d.m.ask == nil || d.m.ask.err == "" {
		t.Fatal("nonsense was taken for a length")
	}
	for range 4 {
		d.press("backspace")
	}
	d.press("1", "9", "f", "t", "enter")
	if d.m.ask != nil {
		t.Fatalf("19ft was not taken: %s", d.m.ask.err)
	}
	d.see("measured")
	for d.cuts() < 7 {
		d.cutOne()
	}
}

// TestDiskFails holds the promise that nothing is shown as done before it is on the disk.

func TestDiskFails(t *testing.T) {
	d := newSmall(t)
	d.press("4")
	for d.m.front().Keys(&d.m.desk)[0].Does != "done" {
		d.press("space")
	}
	d.journal.fail = errors.New("no space left on the disk")
	d.press("space")
	if d.cuts() != 0 {
		t.Fatal("a cut counts that is not on the disk")
	}
	d.see("NOT recorded", "no space left", "A-1 cut", "try again")
	d.press("space") // still full
	d.see("tried 2 times")
	for _, k := range []string{"1", "4", "x", "u", "tab", "?", "q"} { // nothing else counts before that is settled
		d.press(k)
	}
	d.see("NOT recorded")
	d.journal.fail = nil
	d.press("space")
	d.see("recorded after all", "piece 2 of 7")
	if d.cuts() != 1 {
		t.Fatal("after the disk was freed the cut does not count")
	}
}

// typeInto goes to the field of that label and replaces what stands there.

// TestWholeStory is the whole story of a small frame.

func TestWholeStory(t *testing.T) {
	d := newSmall(t)
	d.press("4")
	for range 7 {
		d.cutOne()
	}
	d.press("5", "space", "space")
	d.press("6")
	w := d.m.desk.Plan.Weld
	for k := 0; ; k++ {
		if k > 20*len(w.Docket.Tasks) {
			t.Fatalf("the welding never ends:\n%s", d.screen())
		}
		s := d.screen()
		if strings.Contains(s, "Everything is welded") {
			break
		}
		switch {
		case strings.Contains(s, "REST"):
			d.pass(30 * time.Second)
		case strings.Contains(s, "START the arc"):
			d.press("space")
			if len(d.m.Work().OpenArcs()) != 1 {
				t.Fatal("the arc is not on the record")
			}
			d.see("ARC ON")
			d.see("STOP the arc")
			d.pass(4 * time.Second)
			d.press("space")
			if d.m.ask != nil { // much shorter than planned: it says that it is finished all the same
				for range 4 {
					d.press("backspace")
				}
				d.press("y", "enter")
			}
			if len(d.m.Work().OpenArcs()) != 0 {
				t.Fatal("the arc is still open")
			}
		default:
			d.press("space")
		}
	}
	d.see("FIRE WATCH")
	// No window of the record may hold more arc than the plate allows: by brute force over the ends of all arcs.
	arcs := d.m.Work().Arcs(0)
	if len(arcs) == 0 {
		t.Fatal("no arc was recorded")
	}
	for _, a := range arcs {
		for _, from := range []int64{a.From, a.To - int64(w.Budget.Window)} {
			if got := d.m.Work().ArcIn(from, from+int64(w.Budget.Window)); got > int64(w.Budget.Arc) {
				t.Fatalf("a window holds %v of arc, the plate allows %v", time.Duration(got), w.Budget.Arc)
			}
		}
	}
	d.press("9")
	d.see("welded")
	if d.bells == 0 && len(arcs) > 200 {
		t.Error("no bell ever rang")
	}
}

// TestUndoRedoThroughout takes back everything that was done in a session, over all stations, and does it all again: the work

// must then stand as it stood.

// TestUndoOfATrim: a step without an entry is what u takes back, not the cut before it.

func TestTour(t *testing.T) {
	d := newSmall(t)
	d.tour = true
	d.start(termenv.Ascii, true, stations()...)
	d.size(80, 24)
	d.see("A short tour, 1 of")
	for range tour {
		d.press("space")
	}
	if d.m.tour != 0 || d.toured != 1 {
		t.Fatalf("tour %d, told %d times", d.m.tour, d.toured)
	}
	d.see("pieces")
}

func TestTwoWindows(t *testing.T) {
	a := newSmall(t)
	b := &driver{t: t, journal: &memory{}, file: a.file, now: a.now}
	shared := &twin{of: a.journal}
	b.start(termenv.Ascii, true, stations()...)
	b.m.cfg.Journal = shared
	b.size(100, 30)
	a.press("4")
	a.cutOne()
	b.pass(time.Second)
	b.see("1 of 7 pieces")
	// What the other window cut cannot be cut again here.
	b.press("4")
	for i := range b.m.desk.Plan.Queue.Steps {
		s := &b.m.desk.Plan.Queue.Steps[i]
		if s.Op == cut.Cut && b.m.Work().IsCut(s.Mark, s.Unit) && strings.Contains(b.screen(), fmt.Sprintf("CUT %s-%d ", s.Mark, s.Unit)) {
			t.Fatal("the piece is offered again")
		}
	}
	if len(b.m.Work().Twice()) > 0 {
		t.Fatal("recorded twice")
	}
}

// twin reads the record of another window.

type twin struct {
	of    *memory
	given int
	memory
}

func (w *twin) Poll() (n record.News, err error) {
	n.Entries = w.of.entries[w.given:]
	w.given = len(w.of.entries)
	return n, nil
}

func TestMouse(t *testing.T) {
	d := newSmall(t)
	for _, x := range d.m.tabs() {
		d.take(click(x.from+1, tabRow))
		if d.m.at != x.at {
			t.Fatalf("a click on %s leads to station %d", x.text, d.m.at)
		}
	}
	d.press("2")
	d.take(click(4, headRows+3))
	if !strings.Contains(strings.Split(d.screen(), "\n")[headRows+3], "▸") {
		t.Fatalf("the clicked row is not selected:\n%s", d.screen())
	}
}

func TestCopy(t *testing.T) {
	d := newSmall(t)
	d.press("3", "c")
	if !strings.Contains(d.copied, "rail") {
		t.Fatalf("copied %q", d.copied)
	}
	// Every station has a line to copy.
	d.press("5", "space")
	for _, c := range []struct{ station, key, words string }{{"1", "c", "7 pieces"}, {"2", "c", "job"}, {"3", "y", "rail 1"}, {"4", "c", "load"}, {"5", "c", "B:"}, {"6", "c", "clean"}, {"8", "c", "USD"}, {"9", "c", "marked out"}} {
		d.copied = ""
		d.press(c.station, c.key)
		if !strings.Contains(strings.ToLower(d.copied), strings.ToLower(c.words)) {
			t.Errorf("station %s copies %q, without %q\n%s", c.station, d.copied, c.words, d.screen())
		}
	}
}

func TestHelpShowsWorking(t *testing.T) {
	d := newSmall(t)
	d.size(120, 60)
	d.press("6", "?")
	d.see("duty")
	for i := range d.m.cfg.Stations {
		d.press("?")
		d.press(fmt.Sprint(i + 1))
		d.press("?")
		d.screen()
	}
}

// TestRestIsHeld: the arc does not start inside the plate's rest at the first press, and starts at the second.

// TestArcEnteredByHand counts an arc that was welded without the screen into the plate's window.

// TestPlanAnswersWhileTyping: a form tells what the plan would be before it is taken, and a key calls the search off.

// TestNewJobAnswers: the plan of a job that is not there yet stands under its form.
