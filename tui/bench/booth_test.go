package bench

import (
	"strings"
	"testing"
	"time"

	"github.com/muesli/termenv"
)

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

func TestTripIsLogged(t *testing.T) {
	d := newSmall(t)
	d.press("6", "t")
	if len(d.m.Work().Trips()) != 1 {
		t.Fatal("the trip is not on the record")
	}
}

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
