package bench

import (
	"strings"
	"testing"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
)

// find gives the cell in which words begin on the screen.
func (d *driver) find(words string) (x, y int) {
	d.t.Helper()
	for y, line := range strings.Split(d.screen(), "\n") {
		if i := strings.Index(line, words); i >= 0 {
			return utf8.RuneCountInString(line[:i]), y
		}
	}
	d.t.Fatalf("the screen does not show %q:\n%s", words, d.screen())
	return 0, 0
}

func wheel(b tea.MouseButton) tea.MouseMsg {
	return tea.MouseMsg{X: 5, Y: 8, Action: tea.MouseActionPress, Button: b}
}

// TestClicks clicks a piece, a stick, a piece on a stick, a joint.
func TestClicks(t *testing.T) {
	d := newSmall(t)
	d.press("1")
	x, y := d.find("B     0 of")
	d.take(click(x, y))
	if d.m.front().Name() != "Square" {
		t.Fatalf("a click on a piece leads to %s", d.m.front().Name())
	}
	if _, row := d.find("▸· B"); row < headRows {
		t.Fatal("its marks are not chosen")
	}

	d.press("3")
	x, y = d.find("rail 2  ")
	d.take(click(x, y))
	d.see("▸rail 2")
	x, y = d.find("A   ")
	d.take(click(x, y))
	d.see("A  61", "base.x1, base.x2")

	d.press("4")
	x, y = d.find("A-1")
	d.take(click(x, y))
	d.see("A-1  61", "cut")
	for range 4 {
		d.press("space")
	}
	d.take(click(x, y))
	d.see("A-1  61", ", cut")

	d.press("6")
	d.screen()
	w := d.m.desk.Plan.Weld
	seen := map[string]bool{}
	for y := headRows; y < d.m.h-footRows; y++ {
		for x := range d.m.w {
			d.take(click(x, y))
			if d.m.ask != nil {
				seen[d.m.ask.field.Value()] = true
				d.press("esc")
			}
		}
	}
	if len(seen) < len(w.Layout.Joints)/2 {
		t.Fatalf("only %d of %d joints can be clicked: %v", len(seen), len(w.Layout.Joints), seen)
	}
	for joint := range seen { // one of them is called up
		for y := headRows; y < d.m.h-footRows && d.m.ask == nil; y++ {
			for x := 0; x < d.m.w && d.m.ask == nil; x++ {
				if d.take(click(x, y)); d.m.ask != nil && d.m.ask.field.Value() != joint {
					d.press("esc")
				}
			}
		}
		n := d.m.Work().Events()
		d.press("enter")
		d.see(joint)
		if d.m.Work().Events() == n {
			t.Fatal("calling a joint up left no entry")
		}
		break
	}
}

// TestMouseInForm: a click goes to a field and takes the form, the wheel goes through it.
func TestMouseInForm(t *testing.T) {
	d := newSmall(t)
	d.press("2", "down", "down", "enter")
	x, y := d.find("width")
	d.take(click(x, y))
	if f := d.m.form; f.Fields[f.at].Label != "width" {
		t.Fatalf("the click went to %s", f.Fields[f.at].Label)
	}
	d.take(wheel(tea.MouseButtonWheelUp))
	if f := d.m.form; f.Fields[f.at].Label != "length" {
		t.Fatalf("the wheel went to %s", f.Fields[f.at].Label)
	}
	d.typeInto("length", "66in")
	x, y = d.find("take it")
	d.take(click(x, y))
	if d.m.form != nil || !strings.Contains(string(d.file.data), `"66in"`) {
		t.Fatalf("the form was not taken:\n%s", d.screen())
	}
}
