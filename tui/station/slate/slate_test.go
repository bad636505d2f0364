package slate_test

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
	"bench.example/soapstone/tui/station/slate"
)

func desk() *station.Desk {
	return &station.Desk{Look: look.New(termenv.Ascii, look.Dark, true)}
}

// formOf goes to a sum by its name and opens it.
func formOf(t *testing.T, s *slate.Slate, d *station.Desk, name string) station.Form {
	t.Helper()
	for range 60 {
		out := s.Press(d, "enter")
		f, ok := out[0].(station.Form)
		if !ok {
			t.Fatalf("enter gives %T", out[0])
		}
		if strings.HasPrefix(f.Title, name+":") {
			return f
		}
		s.Press(d, "down")
	}
	t.Fatalf("the slate has no sum %s", name)
	return station.Form{}
}

func TestASumIsWorkedOutWhereTheFieldsStand(t *testing.T) {
	s, d := slate.New(table.Sums()), desk()
	f := formOf(t, s, d, "diagonal")
	values := make([]string, len(f.Fields))
	values[0], values[1] = "96", "48"
	if live := strings.Join(f.Live(d, values, 60, 40), "\n"); !strings.Contains(live, `107-5/16"`) {
		t.Errorf("beside the fields stands\n%s", live)
	}
	if out, err := f.Done(d, values); err != nil || len(out) != 0 {
		t.Fatal(out, err)
	}
	view := strings.Join(s.View(d, 80, 20), "\n")
	for _, want := range []string{"diagonal_mm", `107-5/16"`, "sqrt(l^2 + w^2)", "Pythagoras"} {
		if !strings.Contains(view, want) {
			t.Errorf("the slate does not show %q:\n%s", want, view)
		}
	}
}

func TestWhatIsWrongIsSaidAtItsField(t *testing.T) {
	s, d := slate.New(table.Sums()), desk()
	f := formOf(t, s, d, "diagonal")
	values := make([]string, len(f.Fields))
	values[0] = "96"
	_, err := f.Done(d, values)
	a, ok := err.(*station.Amiss)
	if !ok || a.Field != 1 {
		t.Errorf("a width left out: %v", err)
	}
	values[1] = "wide"
	if _, err = f.Done(d, values); err == nil {
		t.Error("a width of letters was taken")
	} else if a, ok := err.(*station.Amiss); !ok || a.Field != 1 {
		t.Errorf("a width of letters: %v (%T)", err, err)
	}
}

// Every sum takes its own examples, and every window holds what is drawn.
func TestEverySumWorksOnItsExamples(t *testing.T) {
	s, d := slate.New(table.Sums()), desk()
	seen := map[string]bool{}
	for range 60 {
		f := s.Press(d, "enter")[0].(station.Form)
		if seen[f.Title] {
			break
		}
		seen[f.Title] = true
		for _, size := range [][2]int{{50, 11}, {80, 20}, {120, 36}} {
			for _, l := range s.View(d, size[0], size[1]) {
				if w := ansi.StringWidth(l); w > size[0] {
					t.Errorf("%s: a line of %d cells in %d: %q", f.Title, w, size[0], l)
				}
			}
			if n := len(s.View(d, size[0], size[1])); n > size[1] {
				t.Errorf("%s: %d lines in %d", f.Title, n, size[1])
			}
		}
		s.Press(d, "down")
	}
	if len(seen) < 20 {
		t.Errorf("only %d sums", len(seen))
	}
}
