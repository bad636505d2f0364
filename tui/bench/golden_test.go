package bench

import (
	"fmt"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/stock/example"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/look"
)

func click(x, y int) tea.MouseMsg {
	return tea.MouseMsg{X: x, Y: y, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft}
}

var sizes = [][2]int{{50, 15}, {80, 24}, {120, 40}, {200, 60}}

// TestGoldenScreens holds every station on the built-in example at four sizes, without colour; read the difference before
// you write them anew with -update.
func TestGoldenScreens(t *testing.T) {
	d := newDriver(t, termenv.Ascii, true, stations()...)
	for i, s := range d.m.cfg.Stations {
		d.press(fmt.Sprint(i + 1))
		if s.Name() == "Saw" { // a cut shows more than a load
			for range 5 {
				d.press("space")
			}
		}
		if s.Name() == "Record" {
			continue // its events carry times
		}
		for _, z := range sizes {
			d.size(z[0], z[1])
			golden(t, fmt.Sprintf("%s-%dx%d", s.Name(), z[0], z[1]), d.screen()+"\n")
		}
	}
	d.press("4", "b")
	d.size(80, 24)
	golden(t, "Saw-bare-80x24", d.screen()+"\n")
	d.press("6")
	golden(t, "Weld-bare-80x24", d.screen()+"\n")
	d.press("b", "9")
	golden(t, "Record-80x24", d.screen()+"\n")
}

// TestGoldenColours holds the escape sequences of a few screens in each profile and on both grounds, and the plain signs
// where the locale has no Unicode.
func TestGoldenColours(t *testing.T) {
	p := plan.Build(t.Context(), inputOfExample(t))
	for _, c := range []struct {
		name    string
		profile termenv.Profile
		theme   look.Theme
		unicode bool
	}{
		{"true-dark", termenv.TrueColor, look.Dark, true}, {"true-light", termenv.TrueColor, look.Light, true},
		{"256-dark", termenv.ANSI256, look.Dark, true}, {"16-dark", termenv.ANSI, look.Dark, true}, {"16-light", termenv.ANSI, look.Light, true},
		{"none-ascii", termenv.Ascii, look.Dark, false},
	} {
		d := newDriver(t, c.profile, c.unicode, stations()...)
		d.m.cfg.Look = look.New(c.profile, c.theme, c.unicode)
		d.m.desk.Look = d.m.cfg.Look
		d.m.desk.Plan = p
		d.size(80, 24)
		for _, k := range []string{"4", "7"} {
			d.press(k)
			d.screen()
			golden(t, fmt.Sprintf("colour-%s-%s", c.name, d.m.front().Name()), d.m.View()+"\n")
		}
		if !c.unicode {
			for i := range d.m.cfg.Stations {
				d.press(fmt.Sprint(i + 1))
				for _, r := range d.screen() {
					if r > 126 {
						t.Errorf("%s shows %q where the locale has no Unicode:\n%s", d.m.front().Name(), r, d.screen())
						break
					}
				}
			}
		}
	}
}

func inputOfExample(t testing.TB) plan.Input {
	f := &file{data: example.Job}
	j, problems, _ := f.Read()
	if failed(problems) {
		t.Fatal(problems)
	}
	return plan.Input{Job: j, Steel: table.Steel()}
}

// TestSmallWindows shows the line that helps where nothing fits.
func TestSmallWindows(t *testing.T) {
	d := newSmall(t)
	for w := 1; w < 45; w += 3 {
		for h := 1; h < 14; h++ {
			d.size(w, h)
			for i := range d.m.cfg.Stations {
				d.press(fmt.Sprint(i + 1))
				d.screen()
			}
		}
	}
	d.size(24, 4)
	d.see("window 24x4")
	d.pass(time.Second)
}
