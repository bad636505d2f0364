package bench

import (
	"context"
	"errors"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/plan"
)

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
