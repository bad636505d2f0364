package bench

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

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
