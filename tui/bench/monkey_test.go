package bench

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/stock/example"
)

// monkeyKeys are what a hand in a glove may hit.
var monkeyKeys = []string{"enter", "esc", "tab", "shift+tab", "up", "down", "left", "right", "backspace", "space", "pgdown", "pgup", "home", "end",
	"1", "2", "3", "4", "5", "6", "7", "8", "9", "0", "a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "l", "m", "n", "o", "p", "r", "s", "t", "u", "v", "w", "x", "y", "z",
	"?", "/", "-", "+", ".", "\"", "'", "[", "{", "=", "é", "鋼", "\u202e", "jjj", "[<64;101;37M", "ctrl+z"}

// monkeyJob writes a job at random: frames of one or two rectangles, with and without bars, posts, legs, loads, a welder.
func monkeyJob(r *rand.Rand) []byte {
	if r.IntN(6) == 0 {
		return example.Job
	}
	var b strings.Builder
	fmt.Fprintf(&b, "title = %q\nunits = %q\n", []string{"Stand", "\u202egnol\x1b[31m", ""}[r.IntN(3)], []string{"in", "mm"}[r.IntN(2)])
	fmt.Fprintf(&b, "[section.rail]\nshape = \"rect-tube\"\nsize = \"50mm x 25mm x 2mm\"\nsticks = [{length = \"6m\"")
	if r.IntN(2) == 0 {
		b.WriteString(", price = 21.5")
	}
	b.WriteString("}]\n")
	for i := range 1 + r.IntN(2) {
		fmt.Fprintf(&b, "[[rectangle]]\nname = \"r%d\"\nsection = \"rail\"\nlength = \"%dmm\"\nwidth = \"%dmm\"\ncorner = %q\n", i, 300+r.IntN(2000), 200+r.IntN(1500), []string{"mitre", "butt-long"}[r.IntN(2)])
		if i > 0 {
			b.WriteString("above = \"r0\"\nclear = \"400mm\"\n")
		}
	}
	if r.IntN(2) == 0 {
		fmt.Fprintf(&b, "[[crossbars]]\non = \"r0\"\nsection = \"rail\"\ncount = %d\n", 1+r.IntN(4))
	}
	for range r.IntN(3) {
		fmt.Fprintf(&b, "[[piece]]\nsection = \"rail\"\nlength = \"%dmm\"\nqty = %d\nends = [%d, %d]\n", 200+r.IntN(1500), 1+r.IntN(4), r.IntN(46), -r.IntN(46))
	}
	if r.IntN(2) == 0 {
		b.WriteString("[welder]\nprocess = \"FCAW-S\"\namps = 90\nvolts = 18\nduty = \"30% at 130A\"\ntravel = \"9ipm\"\n")
	}
	if r.IntN(3) == 0 {
		b.WriteString("[[load]]\non = [\"r0\"]\nload = \"900N\"\n[[support]]\nat = [\"r0 corners\"]\nfix = \"xyz\"\n")
	}
	if r.IntN(8) == 0 {
		b.WriteString("nonsense = 1\n")
	}
	return []byte(b.String())
}

// monkey sends n random keys, clicks, wheels, resizes, ticks and outside edits; the driver holds every view to its size.
func monkey(t *testing.T, seed uint64, n int) {
	r := rand.New(rand.NewPCG(seed, 7))
	var trail []string
	defer func() {
		if x := recover(); x != nil {
			t.Fatalf("seed %d: panic after %q: %v", seed, trail[max(0, len(trail)-25):], x)
		}
	}()
	d := &driver{t: t, journal: &memory{}, file: &file{data: monkeyJob(r)}, now: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC), build: quickly()}
	d.start(termenv.Ascii, r.IntN(4) > 0, stations()...)
	d.size(80, 24)
	for i := range n {
		var what string
		switch x := r.IntN(100); {
		case x < 84:
			what = monkeyKeys[r.IntN(len(monkeyKeys))]
			if r.IntN(8) == 0 {
				what = "space"
			}
			d.press(what)
		case x < 90:
			bs := []tea.MouseButton{tea.MouseButtonLeft, tea.MouseButtonWheelUp, tea.MouseButtonWheelDown, tea.MouseButtonRight}
			m := tea.MouseMsg{X: r.IntN(d.m.w + 1), Y: r.IntN(d.m.h + 1), Action: tea.MouseActionPress, Button: bs[r.IntN(4)]}
			what = m.String()
			d.take(m)
		case x < 94:
			w, h := r.IntN(210), r.IntN(64)
			what = fmt.Sprintf("size %dx%d", w, h)
			d.size(w, h)
		case x < 98:
			by := time.Duration(r.IntN(90)) * time.Second
			what = "wait " + by.String()
			d.settle()
			d.pass(by)
		case x < 99 && i%7 == 0:
			what = "outside edit"
			d.file.data = monkeyJob(r)
		default:
			what = "paste"
			d.take(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("38\"\nx"), Paste: true})
		}
		trail = append(trail, what)
		if d.m.h > 0 && d.m.w > 0 {
			d.screen()
		}
		if d.quit {
			d.quit = false
			d.start(termenv.Ascii, true, stations()...)
			d.size(80, 24)
		}
	}
	if len(d.m.Work().Twice()) > 0 {
		t.Errorf("seed %d: a piece was recorded twice", seed)
	}
}

// quickly keeps plans of texts that were planned before with nothing done, since the monkey undoes most of what it does.
func quickly() planner {
	return func(ctx ctxt, in plan.Input) *plan.Plan {
		in.Effort = -1
		return plan.Build(ctx, in)
	}
}

func TestMonkey(t *testing.T) {
	runs, n := 10, 2000
	if os.Getenv("SOAK") != "" {
		runs = 100
	} else if testing.Short() { // under the race detector
		runs = 2
	}
	for seed := range runs {
		monkey(t, uint64(seed), n)
	}
}
