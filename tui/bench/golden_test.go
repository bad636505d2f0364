package bench

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
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

// grounds are the looks of the golden screens.
var grounds = []struct {
	name    string
	profile termenv.Profile
	theme   look.Theme
	unicode bool
}{
	{"none", termenv.Ascii, look.Dark, true},
	{"dark", termenv.TrueColor, look.Dark, true},
	{"light", termenv.TrueColor, look.Light, true},
}

// TestGoldenScreens holds every station on the built-in example at four sizes, dark, light and without colour, whole and
// bare. A station's screens stand in one file, testdata/NAME.screens: the text as it is without colour, and which style each
// stretch of it has; that the text is the same in all looks is what keeps colour from carrying a meaning alone.
//
//	go test ./tui/bench -run TestGoldenScreens/Saw -update    writes a station's file anew; read the difference
func TestGoldenScreens(t *testing.T) {
	d := newDriver(t, termenv.Ascii, true, stations()...)
	d.press("4")
	for range 5 { // a cut shows more than a load
		d.press("space")
	}
	for i, s := range d.m.cfg.Stations {
		t.Run(s.Name(), func(t *testing.T) {
			d.t = t
			d.press(fmt.Sprint((i + 1) % 10))
			var b strings.Builder
			names := newStyles()
			for _, bare := range []bool{false, true} {
				if bare {
					d.press("b")
					defer d.press("b")
				}
				for _, z := range sizes {
					d.size(z[0], z[1])
					head := fmt.Sprintf("%dx%d", z[0], z[1])
					if bare {
						head += " bare"
					}
					b.WriteString(d.shown(t, head, names))
				}
			}
			golden(t, s.Name()+".screens", names.legend()+b.String())
		})
	}
}

// TestGoldenForms holds what stands over the stations: a form, a question, the help, the tour, the screens of trouble.
func TestGoldenForms(t *testing.T) {
	names := newStyles()
	var b strings.Builder
	show := func(d *driver, name string) {
		for _, z := range sizes[:3] {
			d.size(z[0], z[1])
			b.WriteString(d.shown(t, fmt.Sprintf("%s %dx%d", name, z[0], z[1]), names))
		}
	}
	d := newSmall(t)
	d.m.desk.Look = nil
	d.m.dress()
	d.press("2", "down", "down", "enter")
	d.typeInto("length", "200in")
	d.settle()
	show(d, "form")
	d.press("esc", "g")
	show(d, "settings")
	d.press("esc", "4", "l")
	show(d, "question")
	d.press("esc", "?")
	show(d, "help")
	d.press("?")
	d.file.data = []byte("title = \"x\nlength = 3\n")
	d.pass(time.Second)
	d.press("1")
	show(d, "broken")
	d.file.data = []byte(strings.Replace(small, `width = "33in"`, `width = "33 miles"`, 1))
	d.pass(time.Second)
	show(d, "wrong")
	golden(t, "over.screens", names.legend()+b.String())
}

// shown gives one screen as a golden file holds it, after it was compared in all looks.
func (d *driver) shown(t *testing.T, head string, names *styles) string {
	t.Helper()
	was := d.m.desk.Look
	defer func() { d.m.desk.Look = was }()
	var plainText string
	var runs [][]string // of each ground
	for _, g := range grounds {
		d.m.desk.Look = look.New(g.profile, g.theme, g.unicode)
		text := d.screen()
		if g.profile == termenv.Ascii {
			plainText = text
			if v := d.m.View(); strings.Contains(v, "\x1b") {
				t.Errorf("%s: escape sequences without colour", head)
			}
			continue
		}
		if text != plainText {
			t.Errorf("%s: the text on %s is another one than without colour:\n%s", head, g.name, text)
		}
		runs = append(runs, styleRuns(d.m.View()))
	}
	if !slices.Equal(names.joined(runs[0]), names.joined(runs[1])) {
		t.Errorf("%s: dark and light style other stretches", head)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "== %s\n", head)
	lines := strings.Split(plainText, "\n")
	for _, line := range lines {
		b.WriteString(strings.TrimRight(line, " "))
		b.WriteByte('\n')
	}
	b.WriteString("-- styles\n")
	last := ""
	for i, r := range names.joined(runs[0]) {
		if r == last || r == "" {
			continue // as the line before
		}
		fmt.Fprintf(&b, "%d %s\n", i+1, r)
		last = r
	}
	return b.String()
}

// styles names the styles that the screens of a file use: a letter stands for a role of tui/look.
type styles struct {
	role map[string]string // of each sequence
	used map[string]bool
}

func newStyles() *styles { return &styles{roleOf(), map[string]bool{}} }

// styleRuns gives each line's stretches as "sequence\x00width" parts.
func styleRuns(view string) []string {
	var out []string
	for _, line := range strings.Split(view, "\n") {
		var parts []string
		seq := ""
		for line != "" {
			if strings.HasPrefix(line, "\x1b[") {
				end := strings.IndexByte(line, 'm')
				if s := line[2:end]; s == "0" || s == "" {
					seq = ""
				} else {
					seq = s
				}
				line = line[end+1:]
				continue
			}
			n := strings.IndexByte(line, '\x1b')
			if n < 0 {
				n = len(line)
			}
			parts = append(parts, fmt.Sprintf("%s\x00%d", seq, ansi.StringWidth(line[:n])))
			line = line[n:]
		}
		out = append(out, strings.Join(parts, "\x01"))
	}
	return out
}

// joined writes the stretches with their letters: a3 b12; a stretch without a style is only counted.
func (s *styles) joined(lines []string) []string {
	out := make([]string, len(lines))
	for i, line := range lines {
		var words []string
		plain := true
		if line == "" {
			continue
		}
		for _, part := range strings.Split(line, "\x01") {
			seq, n, _ := strings.Cut(part, "\x00")
			if seq == "" {
				words = append(words, n)
				continue
			}
			plain = false
			words = append(words, s.name(seq)+n)
		}
		if !plain {
			out[i] = strings.Join(words, " ")
		}
	}
	return out
}

// name gives the letter of a sequence; the same role has another sequence on the other ground, so roles are found by the
// palettes of the looks.
func (s *styles) name(seq string) string {
	if r, ok := s.role[seq]; ok {
		s.used[r] = true
		return r
	}
	return "?" + seq + "?"
}

func (s *styles) legend() string {
	names := slices.Sorted(maps.Keys(s.used))
	var b strings.Builder
	b.WriteString("styles, as tui/look has them:")
	for _, n := range names {
		b.WriteString(" " + n + "=" + roleWords[n])
	}
	return b.String() + "\n"
}

// roleWords says what the letters of styles stand for.
var roleWords = map[string]string{"c": "chalk", "d": "dim", "S": "strong", "K": "key", "r": "rule", "H": "hot", "w": "warn", "B": "bad", "o": "cool", "M": "mark",
	"0": "heat0", "1": "heat1", "2": "heat2", "3": "heat3", "4": "heat4"}

// roleOf gives the letter of each sequence of both grounds.
func roleOf() map[string]string {
	out := map[string]string{}
	for _, theme := range []look.Theme{look.Dark, look.Light} {
		l := look.New(termenv.TrueColor, theme, true) // some degrees of heat are the colours of cool and warn themselves
		for i, h := range l.Heat {
			out[sequence(h.Render("x"))] = fmt.Sprint(i)
		}
		for r, s := range map[string]string{"c": l.Chalk.Render("x"), "d": l.Dim.Render("x"), "S": l.Strong.Render("x"), "K": l.Key.Render("x"), "r": l.Rule.Render("x"),
			"H": l.Hot.Render("x"), "w": l.Warn.Render("x"), "B": l.Bad.Render("x"), "o": l.Cool.Render("x"), "M": l.Mark.Render("x")} {
			out[sequence(s)] = r
		}
	}
	return out
}

func sequence(s string) string {
	if !strings.HasPrefix(s, "\x1b[") {
		return ""
	}
	return s[2:strings.IndexByte(s, 'm')]
}

// golden compares with the stored file.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; run go test -update and read the screen", err)
	}
	if string(want) == got {
		return
	}
	a, b := strings.Split(string(want), "\n"), strings.Split(got, "\n")
	said, head := 0, ""
	for i := 0; i < max(len(a), len(b)) && said < 12; i++ {
		x, y := "", ""
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		if strings.HasPrefix(y, "== ") {
			head = y
		}
		if x != y {
			said++
			t.Errorf("%s %s, line %d:\n got %s\nwant %s", name, head, i+1, y, x)
		}
	}
	t.Errorf("%s differs; where it is meant, write it anew with -update", name)
}

// TestColourProfiles holds the sequences of each profile: nothing of a richer one reaches a poorer terminal, and the text
// stays the same.
func TestColourProfiles(t *testing.T) {
	p := plan.Build(t.Context(), inputOfExample(t))
	d := newDriver(t, termenv.Ascii, true, stations()...)
	d.m.desk.Plan = p
	d.size(80, 24)
	for _, c := range []struct {
		name    string
		profile termenv.Profile
		unicode bool
		has     string
		lacks   []string
	}{
		{"true", termenv.TrueColor, true, "38;2;", []string{"38;5;", "\x1b[9"}},
		{"256", termenv.ANSI256, true, "38;5;", []string{"38;2;", "\x1b[9"}},
		{"16", termenv.ANSI, true, "\x1b[", []string{"38;2;", "38;5;"}},
		{"none", termenv.Ascii, true, "", []string{"\x1b"}},
		{"none, ascii", termenv.Ascii, false, "", []string{"\x1b"}},
	} {
		for _, theme := range []look.Theme{look.Dark, look.Light} {
			d.m.desk.Look = look.New(c.profile, theme, c.unicode)
			for i, s := range d.m.cfg.Stations {
				for range 2 {
					d.press(fmt.Sprint((i+1)%10), "b")
					text, v := d.screen(), d.m.View()
					if !strings.Contains(v, c.has) {
						t.Errorf("%s, %s: no %q", c.name, s.Name(), c.has)
					}
					for _, x := range c.lacks {
						if strings.Contains(v, x) {
							t.Errorf("%s, %s: %q", c.name, s.Name(), x)
						}
					}
					for _, r := range text {
						if !c.unicode && r > 126 {
							t.Errorf("%s shows %q where the locale has no Unicode:\n%s", s.Name(), r, text)
							break
						}
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

// TestSmallWindows shows the line that helps where nothing fits; no key counts there.
func TestSmallWindows(t *testing.T) {
	d := newSmall(t)
	for w := 1; w < 45; w += 3 {
		for h := 1; h < 14; h++ {
			d.size(w, h)
			for i := range d.m.cfg.Stations {
				d.press(fmt.Sprint((i + 1) % 10))
				d.screen()
			}
		}
	}
	d.size(80, 24)
	d.press("4")
	d.size(30, 9)
	d.see("window 30x9 is too small", "needs 40x12")
	n := d.m.Work().Events()
	d.press("space", "enter", "x", "l", "2")
	if d.m.Work().Events() != n || d.m.ask != nil || d.m.front().Name() != "Saw" {
		t.Fatal("a key counted that nobody could see the meaning of")
	}
	d.size(80, 24)
	d.see("LOAD")
	d.pass(time.Second)
}
