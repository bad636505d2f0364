package bench

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/plan"
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

func TestUndoAtTheSaw(t *testing.T) {
	d := newSmall(t)
	d.press("4")
	d.cutOne()
	d.cutOne()
	if d.press("u"); d.cuts() != 1 {
		t.Fatalf("after undo %d pieces are cut, want 1", d.cuts())
	}
	d.see("taken back")
	d.cutOne()
	if d.cuts() != 2 {
		t.Fatal("a cut after an undo did not count")
	}
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

func TestJobFileCannotBeWritten(t *testing.T) {
	d := newSmall(t)
	d.press("2", "down", "enter")
	if d.m.form == nil {
		t.Fatal("no form opened")
	}
	d.file.fail = nil
	d.typeInto("size", "2 x 1 x 14ga")
	d.file.fail = errors.New("read-only file system")
	d.accept()
	d.see("NOT recorded", "read-only file system")
	d.press("esc")
	d.see("given up")
	d.file.fail = nil
	if string(d.file.data) != small {
		t.Fatal("the file changed although writing failed")
	}
}

// typeInto goes to the field of that label and replaces what stands there.
func (d *driver) typeInto(label, value string) {
	d.t.Helper()
	for range 60 {
		f := d.m.form
		if f == nil {
			d.t.Fatal("no form is open")
		}
		if f.at < len(f.Fields) && f.Fields[f.at].Label == label {
			if c := f.Fields[f.at].Choices; len(c) > 0 {
				for range c {
					if f.values[f.at] == value {
						return
					}
					d.press("right")
				}
				d.t.Fatalf("%s cannot be %q: %v", label, value, c)
			}
			for range len(f.values[f.at]) {
				d.press("backspace")
			}
			for _, r := range value {
				if r == ' ' {
					d.press("space")
				} else {
					d.press(string(r))
				}
			}
			return
		}
		d.press("down")
	}
	d.t.Fatalf("the form has no field %q", label)
}

func (d *driver) accept() {
	for d.m.form != nil && d.m.form.at < len(d.m.form.Fields) {
		d.press("down")
	}
	d.press("enter")
}

func TestEditKeepsComments(t *testing.T) {
	d := newSmall(t)
	d.press("2", "down", "down", "enter")
	d.typeInto("length", "70in")
	d.accept()
	if d.m.form != nil {
		t.Fatalf("refused: %s", d.m.form.why)
	}
	got := string(d.file.data)
	if !strings.Contains(got, `length = "70in"`) || !strings.Contains(got, "# our own words stay") || !strings.Contains(got, "# the low one") {
		t.Fatalf("the file now reads:\n%s", got)
	}
	if want := strings.Replace(small, `length = "61in"`, `length = "70in"`, 1); got != want {
		t.Fatalf("more than the length changed:\n%s", got)
	}
	if d.m.desk.Plan.Job.Rectangles[0].Length.MM() != 70*25.4 {
		t.Fatal("the plan did not follow")
	}
	d.see("sticks")
	d.press("u")
	if string(d.file.data) != small {
		t.Fatalf("undo left\n%s", d.file.data)
	}
	d.press("r")
	if string(d.file.data) != got {
		t.Fatal("redo did not bring the edit back")
	}
}

func TestEditRefusesAtTheField(t *testing.T) {
	d := newSmall(t)
	d.press("2", "down", "down", "enter")
	d.typeInto("width", "minus two")
	d.accept()
	if d.m.form == nil || d.m.form.amiss < 0 || d.m.form.Fields[d.m.form.amiss].Label != "width" {
		t.Fatalf("the fault is not shown at the field: %+v", d.m.form)
	}
	if string(d.file.data) != small {
		t.Fatal("a faulty edit was written")
	}
	d.press("esc")
}

func TestAddDoubleAndTakeOut(t *testing.T) {
	d := newSmall(t)
	d.press("2", "a")
	d.typeInto("what", "loose piece")
	d.accept()
	d.typeInto("mark", "T")
	d.typeInto("length", "20in")
	d.typeInto("qty", "2")
	d.accept()
	if d.m.form != nil {
		t.Fatalf("refused: %q at %d", d.m.form.why, d.m.form.amiss)
	}
	if n := len(d.m.desk.Plan.Job.Pieces); n != 1 || d.m.desk.Plan.Job.Pieces[0].Qty != 2 {
		t.Fatalf("%d loose pieces: %s", n, d.file.data)
	}
	for i := 0; i < 30 && !regexp.MustCompile(`▸ *loose piece`).MatchString(d.screen()); i++ {
		d.press("down")
	}
	d.press("d")
	d.see("name of the copy")
	d.press("enter")
	if n := len(d.m.desk.Plan.Job.Pieces); n != 2 {
		t.Fatalf("%d loose pieces after the copy:\n%s", n, d.file.data)
	}
	d.press("x", "enter")
	if n := len(d.m.desk.Plan.Job.Pieces); n != 1 {
		t.Fatalf("%d loose pieces after taking one out", n)
	}
}

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

func TestArcLeftOpenIsAskedAbout(t *testing.T) {
	d := newSmall(t)
	d.press("6")
	for i := 0; !strings.Contains(d.screen(), "START the arc"); i++ {
		if i > 40 {
			t.Fatal("no arc comes")
		}
		d.press("space")
	}
	d.press("space")
	d.see("ARC ON")
	// The laptop dies; an hour later it starts again.
	d.now = d.now.Add(time.Hour)
	d.start(termenv.Ascii, true, stations()...)
	d.size(100, 30)
	d.press("6")
	d.pass(time.Second)
	d.see("the arc has no end")
	d.press("enter")
	if len(d.m.Work().OpenArcs()) != 0 {
		t.Fatal("the arc is still open after it was answered")
	}
	if a := d.m.Work().Arcs(0); len(a) != 1 || a[0].To-a[0].From > int64(5*time.Minute) {
		t.Fatalf("the arc is recorded as %v", a)
	}
}

func TestUndoOfAWeld(t *testing.T) {
	d := newSmall(t)
	d.press("6")
	d.press("space")
	before := d.screen()
	n := d.m.Work().Events()
	d.press("space")
	if d.m.Work().Events() != n+1 {
		t.Fatal("space wrote nothing")
	}
	d.press("u")
	d.press("esc")
	after := d.screen()
	cut := func(s string) string { return strings.Join(strings.Split(s, "\n")[3:26], "\n") }
	if cut(before) != cut(after) {
		t.Fatalf("undo does not lead back:\n%s\n%s", before, after)
	}
}

func TestTripIsLogged(t *testing.T) {
	d := newSmall(t)
	d.press("6", "t")
	if len(d.m.Work().Trips()) != 1 {
		t.Fatal("the trip is not on the record")
	}
}

func TestDiagonals(t *testing.T) {
	d := newSmall(t)
	d.press("5", "end", "space")
	if d.m.form == nil {
		t.Fatalf("no form:\n%s", d.screen())
	}
	d.typeInto("low-left to far-right", `69-1/2"`)
	d.typeInto("far-left to low-right", `69-1/4"`)
	d.accept()
	d.see("pull the low-left and far-right corners together")
	d.press("space")
	d.typeInto("far-left to low-right", `69-1/2"`)
	d.accept()
	d.see("square")
	// Both measurings are taken back, one after the other, and done again.
	d.press("u")
	d.see("taken back: diagonals of base", "pull the low-left and far-right corners together")
	d.press("u")
	if s := d.screen(); strings.Contains(s, "pull the") || strings.Contains(s, "measured 69") {
		t.Fatalf("the first diagonals still stand:\n%s", s)
	}
	d.press("r", "r")
	d.see("done again", "measured 69-1/2")
	d.press("r")
	d.see("nothing was taken back")
}

// TestUndoRedoThroughout takes back everything that was done in a session, over all stations, and does it all again: the work
// must then stand as it stood.
func TestUndoRedoThroughout(t *testing.T) {
	d := newSmall(t)
	d.press("4")
	for range 3 {
		d.cutOne()
	}
	d.press("x", "enter")
	d.cutOne()
	d.press("5", "space", "space", "end", "space")
	d.accept()
	d.press("6", "space", "space")
	for i := 0; !strings.Contains(d.screen(), "START the arc"); i++ {
		if i > 40 {
			t.Fatalf("no arc comes:\n%s", d.screen())
		}
		d.press("space")
	}
	d.press("space")
	d.pass(8 * time.Second)
	d.press("space")
	if d.m.ask != nil {
		d.press("esc")
	}
	d.press("m")
	if d.m.ask != nil {
		d.press("enter")
	}
	d.press("9", "n")
	for _, r := range "tide at noon" {
		d.press(string(r))
	}
	d.press("enter")
	state := func() string {
		w := d.m.Work()
		var b strings.Builder
		for _, p := range w.Pieces() {
			fmt.Fprintf(&b, "%s-%d %s %d %d %v\n", p.Mark, p.Unit, p.Stick, p.From, p.To, p.Spoiled)
		}
		for _, a := range w.Arcs(0) {
			fmt.Fprintf(&b, "arc %s %d %d %v\n", a.Joint, a.From, a.To, a.Open)
		}
		for _, j := range w.Joints() {
			fmt.Fprintf(&b, "joint %s %v %v %d\n", j.Name, j.Tacked, j.Welded, j.ArcNS)
		}
		for _, n := range w.Notes() {
			fmt.Fprintf(&b, "note %s\n", n.Text)
		}
		for _, x := range d.m.desk.Plan.Pieces {
			v, _ := w.Setting("marked out: " + x.Mark)
			fmt.Fprintf(&b, "marked %s %s\n", x.Mark, v)
		}
		v, _ := w.Setting("diagonals: base")
		return b.String() + v
	}
	full := state()
	deeds := len(d.m.deeds)
	if deeds < 10 {
		t.Fatalf("only %d deeds", deeds)
	}
	d.press("1")
	for range deeds {
		d.press("u")
	}
	if n := d.cuts(); n != 0 || len(d.m.Work().Arcs(0)) != 0 || len(d.m.Work().Notes()) != 0 {
		t.Fatalf("after taking all back:\n%s", state())
	}
	for range deeds {
		d.press("r")
	}
	if again := state(); again != full {
		t.Fatalf("after doing all again:\n%s\nwant\n%s", again, full)
	}
}

// TestUndoOfATrim: a step without an entry is what u takes back, not the cut before it.
func TestUndoOfATrim(t *testing.T) {
	d := newSmall(t)
	d.press("4", "space")
	for i := 0; !strings.Contains(d.screen(), "TRIM"); i++ {
		if i > 8 {
			t.Fatalf("no trim comes:\n%s", d.screen())
		}
		d.press("space")
	}
	n := d.m.Work().Events()
	d.press("space")
	if strings.Contains(d.screen(), "TRIM") {
		t.Fatal("the trim is not answered")
	}
	d.press("u")
	d.see("taken back: trim", "TRIM")
	if d.m.Work().Events() != n {
		t.Fatal("an entry was written")
	}
}

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

func TestBrokenJob(t *testing.T) {
	d := newSmall(t)
	d.file.data = []byte("title = \"x\nlength = 3\n")
	d.pass(time.Second)
	d.see("cannot be planned", "kayak-rack.toml:1")
	d.press("2")
	d.see("cannot be read")
	d.file.data = []byte(small)
	d.pass(time.Second)
	d.press("1")
	d.see("7 pieces")
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
func TestRestIsHeld(t *testing.T) {
	d := newSmall(t)
	d.press("6")
	for i := 0; !strings.Contains(d.screen(), "REST"); i++ {
		if i > 3000 {
			t.Fatalf("the machine never rests:\n%s", d.screen())
		}
		d.press("space")
		if len(d.m.Work().OpenArcs()) > 0 {
			d.pass(20 * time.Second)
		}
		if d.m.ask != nil {
			d.press("enter")
		}
	}
	d.see("ready for this seam in", "meanwhile")
	n := len(d.m.Work().Arcs(0))
	d.press("space")
	if len(d.m.Work().Arcs(0)) != n {
		t.Fatal("the arc started inside the rest at the first press")
	}
	d.see("more rest")
	d.press("w")
	d.see("done: ")
	d.press("space")
	if len(d.m.Work().OpenArcs()) != 1 {
		t.Fatalf("it does not start at the second press either:\n%s", d.screen())
	}
}

// TestArcEnteredByHand counts an arc that was welded without the screen into the plate's window.
func TestArcEnteredByHand(t *testing.T) {
	d := newSmall(t)
	d.press("6")
	for i := 0; !strings.Contains(d.screen(), "START the arc"); i++ {
		if i > 40 {
			t.Fatal("no arc comes")
		}
		d.press("space")
	}
	d.press("m")
	d.see("arc time of")
	for range 12 {
		d.press("backspace")
	}
	d.press("9", "0", "s", "enter")
	a := d.m.Work().Arcs(0)
	if len(a) != 1 || a[0].Open || a[0].To-a[0].From != int64(90*time.Second) {
		t.Fatalf("recorded as %v", a)
	}
	d.see("1:30 of")
}

// TestPlanAnswersWhileTyping: a form tells what the plan would be before it is taken, and a key calls the search off.
func TestPlanAnswersWhileTyping(t *testing.T) {
	d := newSmall(t)
	d.press("2", "down", "down", "enter")
	d.typeInto("length", "200in")
	d.see("working it out")
	d.settle()
	d.see("2 sticks -> 3", "62.40 -> 93.60", "A 61\"")
	if string(d.file.data) != small {
		t.Fatal("the file was written before the form was taken")
	}
	d.typeInto("length", "140 bananas")
	d.settle()
	d.see("140 bananas", "!")
	d.typeInto("length", "61in")
	d.settle()
	if s := d.screen(); strings.Contains(s, "->") || strings.Contains(s, "working") {
		t.Fatalf("back at the beginning something still changes:\n%s", s)
	}
	// A search that runs is called off by the next key.
	started, ended := make(chan bool, 1), make(chan bool, 1)
	d.m.cfg.Plan = func(ctx ctxt, in plan.Input) *plan.Plan {
		if ctx.Err() == nil {
			started <- true
			<-ctx.Done()
			ended <- true
		}
		over, cancel := context.WithCancel(ctx)
		cancel()
		p := plan.Build(over, in)
		for i := range p.Nests {
			p.Nests[i].Nest.Proven = false
		}
		return p
	}
	d.typeInto("length", "150in")
	timer := d.timers[len(d.timers)-1]
	d.timers = nil
	_, cmd := d.m.Update(timer())
	_, cmd = d.m.Update(cmd()) // the first answer starts the search
	go cmd()
	<-started
	d.see("searching, at most: ")
	d.press("backspace")
	select {
	case <-ended:
	case <-time.After(5 * time.Second):
		t.Fatal("the search was not called off")
	}
	d.press("esc")
}

// TestNewJobAnswers: the plan of a job that is not there yet stands under its form.
func TestNewJobAnswers(t *testing.T) {
	d := &driver{t: t, journal: &memory{}, file: &file{}, now: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	d.start(termenv.Ascii, true, stations()...)
	d.size(120, 40)
	d.see("There is no job in", "1 stick,", "lb")
	d.typeInto("how long", "19ft")
	d.settle()
	d.see("3 sticks,")
	if !strings.ContainsAny(d.screen(), "⣀⣤⠤⢀⡀⠉") {
		t.Fatalf("no frame is drawn:\n%s", d.screen())
	}
}
