// Command pictures draws the screens of the README as SVG: each station on the built-in example, as the bench itself gives
// them. Glyphs that fonts disagree about (braille, blocks, rules) are drawn as shapes, so that every viewer shows the same.
//
//	go run ./.ci/pictures        writes testdata/pictures/*.svg
package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	_ "bench.example/soapstone/tui/early"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sum"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/example"
	"bench.example/soapstone/stock/record"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/bench"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
	"bench.example/soapstone/tui/way"
)

const (
	columns, rows = 100, 32
	cellW, cellH  = 8.4, 17.0
)

func main() {
	dir := filepath.Join("testdata", "pictures")
	if len(os.Args) > 1 {
		dir = os.Args[1]
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(3)
	}
	s := newStage(look.Dark)
	shot := func(name string) {
		path := filepath.Join(dir, name+".svg")
		if err := os.WriteFile(path, svg(s.m.View(), s.theme), 0o644); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(3)
		}
		fmt.Println(path)
	}
	shot("job")
	s.press("2", "down", "down", "down", "down", "down", "down")
	shot("sketch")
	for !strings.Contains(chosen(s.m.View()), "rectangle") {
		s.press("up")
	}
	s.press("enter", "down", "down") // the length, and what the plan says to another one
	for range 5 {
		s.press("backspace")
	}
	s.press("1", "3", "0", "i", "n")
	shot("form")
	s.press("esc", "3", "down", "down")
	shot("stock")
	s.press("4")
	for range 9 {
		s.press(" ")
	}
	shot("saw")
	s.press("b")
	shot("bare")
	s.press("b", "5")
	shot("square")
	s.press("6")
	// Weld on until the machine has to rest.
	for range 4000 {
		if strings.Contains(s.m.View(), "REST") {
			break
		}
		s.press(" ")
		s.wait(9 * time.Second)
		if strings.Contains(s.m.View(), "is it finished?") {
			s.press("backspace", "backspace", "y", "enter")
		}
	}
	shot("rest")
	for strings.Contains(s.m.View(), "REST") {
		s.wait(10 * time.Second)
	}
	s.press(" ")
	s.wait(6 * time.Second)
	shot("arc")
	s.press("7")
	shot("loads")
	s.press("8")
	shot("price")
	s.press("9")
	shot("record")
	s.press("0")
	shot("slate")
	s = newStage(look.Light)
	s.press("4")
	for range 9 {
		s.press(" ")
	}
	shot("saw-light")
}

// chosen gives the line of the row in hand.
func chosen(view string) string {
	for _, l := range strings.Split(view, "\n")[3:] {
		if strings.Contains(l, "▸") {
			return l
		}
	}
	return "rectangle" // nothing is chosen: do not look for ever
}

// stage is a bench without a terminal: what it asks for is done at once.
type stage struct {
	m     *bench.Model
	now   time.Time
	theme look.Theme
	kept  []record.Entry
	given int
	count uint64
}

func newStage(theme look.Theme) *stage {
	s := &stage{now: time.Date(2026, 5, 4, 9, 30, 0, 0, time.UTC), theme: theme}
	cat := table.Steel()
	s.m = bench.New(bench.Config{
		Source: s, Journal: s, Writer: 1, Plan: plan.Build, Tables: plan.Input{Steel: cat}, Clock: func() time.Time { return s.now },
		Look: look.New(termenv.TrueColor, theme, true), Asked: job.Reader{Catalogue: &cat}.Reference(job.File{Name: example.Name, Data: example.Job}),
		Stations: way.Stations(sum.Tables{Steel: cat}, func(d *station.Desk, w work.What) string { return bench.Tell(w, d.Plan.Job) }, time.UTC),
	})
	s.take(tea.WindowSizeMsg{Width: columns, Height: rows})
	s.run(s.m.Init())
	return s
}

func (s *stage) Name() string               { return example.Name }
func (s *stage) Changed(string) bool        { return false }
func (s *stage) Text() ([]byte, error)      { return example.Job, nil }
func (s *stage) Write([]byte, string) error { return nil }
func (s *stage) Read() (*job.Job, []text.Problem, string) {
	j, p := s.Check(example.Job)
	return j, p, "1"
}
func (s *stage) Check(b []byte) (*job.Job, []text.Problem) {
	cat := table.Steel()
	j, p := job.Reader{Catalogue: &cat}.Read(job.File{Name: example.Name, Data: b})
	return &j, p
}
func (s *stage) Next() record.ID { s.count++; return record.ID{Writer: 1, Number: s.count} }
func (s *stage) AppendIf(_ func([]record.Entry) bool, d ...record.Draft) (record.News, error) {
	for _, x := range d {
		s.kept = append(s.kept, record.Entry{Seq: uint64(len(s.kept) + 1), At: x.At, ID: x.ID, Payload: x.Payload})
	}
	return s.Poll()
}
func (s *stage) Poll() (record.News, error) {
	n := record.News{Entries: s.kept[s.given:]}
	s.given = len(s.kept)
	return n, nil
}

func (s *stage) take(msg tea.Msg) {
	switch msg := msg.(type) {
	case nil, tea.QuitMsg:
		return
	case tea.BatchMsg:
		for _, c := range msg {
			s.run(c)
		}
		return
	}
	_, cmd := s.m.Update(msg)
	s.run(cmd)
}

// run does a command, unless it only waits for the time to pass.
func (s *stage) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	done := make(chan tea.Msg, 1)
	go func() { done <- cmd() }()
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	select {
	case m := <-done:
		if bench.IsTick(m) {
			return
		}
		s.take(m)
	case <-ctx.Done():
		fmt.Fprintln(os.Stderr, "a command never came back")
		os.Exit(1)
	}
}

func (s *stage) wait(by time.Duration) {
	s.now = s.now.Add(by)
	s.m.Look(s.now)
}

func (s *stage) press(keys ...string) {
	types := map[string]tea.KeyType{"down": tea.KeyDown, "up": tea.KeyUp, "enter": tea.KeyEnter, "esc": tea.KeyEsc, "backspace": tea.KeyBackspace, " ": tea.KeySpace}
	for _, k := range keys {
		if t, ok := types[k]; ok {
			s.take(tea.KeyMsg{Type: t, Runes: []rune(strings.TrimLeft(k, "abcdefghijklmnopqrstuvwxyz"))})
			continue
		}
		s.take(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)})
	}
}

// cell is one character with its colours; "" is the ground's.
type cell struct {
	r      rune
	fg, bg string
	bold   bool
}

// svg turns a screen with its escape sequences into a picture.
func svg(view string, theme look.Theme) []byte {
	ground, ink := "#101418", "#EDE8DC"
	if theme == look.Light {
		ground, ink = "#F4F1EA", "#1D2428"
	}
	w, h := columns*cellW+24, rows*cellH+24
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.1f %.1f" width="%.0f" font-family="ui-monospace,'DejaVu Sans Mono',Menlo,Consolas,monospace" font-size="14">`+"\n", w, h, w)
	fmt.Fprintf(&b, `<rect width="%.1f" height="%.1f" rx="6" fill="%s"/>`+"\n", w, h, ground)
	for y, line := range strings.Split(view, "\n") {
		cells := parse(line, ink)
		for x := 0; x < len(cells); {
			c := cells[x]
			n := 1
			for x+n < len(cells) && cells[x+n].fg == c.fg && cells[x+n].bg == c.bg && cells[x+n].bold == c.bold && shape(cells[x+n].r) == shape(c.r) {
				n++
			}
			run(&b, cells[x:x+n], 12+float64(x)*cellW, 12+float64(y)*cellH)
			x += n
		}
	}
	b.WriteString("</svg>\n")
	return []byte(b.String())
}

// shape tells whether a glyph is drawn rather than written.
func shape(r rune) bool {
	return r >= 0x2800 && r < 0x2900 || strings.ContainsRune("█▀▄░▒▓─│╱╲", r)
}

func run(b *strings.Builder, cells []cell, x, y float64) {
	c := cells[0]
	width := float64(len(cells)) * cellW
	if c.bg != "" {
		fmt.Fprintf(b, `<rect x="%.1f" y="%.1f" width="%.1f" height="%.1f" fill="%s"/>`, x, y, width, cellH, c.bg)
	}
	if shape(c.r) {
		path := ""
		for i, d := range cells {
			path += glyph(d.r, x+float64(i)*cellW, y, c.fg, b)
		}
		if path != "" {
			fmt.Fprintf(b, `<path d="%s" fill="%s"/>`+"\n", path, c.fg)
		}
		return
	}
	var s strings.Builder
	for _, d := range cells {
		s.WriteRune(d.r)
	}
	t := s.String()
	if strings.TrimSpace(t) == "" {
		return
	}
	lead := len(t) - len(strings.TrimLeft(t, " "))
	t = strings.TrimSpace(t)
	weight := ""
	if c.bold {
		weight = ` font-weight="bold"`
	}
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" fill="%s"%s textLength="%.1f" xml:space="preserve">%s</text>`+"\n", x+float64(lead)*cellW, y+13, c.fg, weight, float64(len([]rune(t)))*cellW,
		strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(t))
}

// glyph gives the outline of a drawn glyph as path commands; shades are written as rectangles of their own.
func glyph(r rune, x, y float64, fg string, b *strings.Builder) string {
	box := func(x, y, w, h float64) string { return fmt.Sprintf("M%.2f %.2fh%.2fv%.2fh%.2fz", x, y, w, h, -w) }
	switch r {
	case '█':
		return box(x, y, cellW+.05, cellH+.05)
	case '▀':
		return box(x, y, cellW+.05, cellH/2)
	case '▄':
		return box(x, y+cellH/2, cellW+.05, cellH/2+.05)
	case '─':
		return box(x, y+cellH/2-.5, cellW, 1)
	case '│':
		return box(x+cellW/2-.5, y, 1, cellH)
	case '╱':
		return fmt.Sprintf("M%.2f %.2fl%.2f %.2fh1l%.2f %.2fz", x, y+cellH, cellW-1, -cellH, -cellW+1, cellH)
	case '╲':
		return fmt.Sprintf("M%.2f %.2fl%.2f %.2fh1l%.2f %.2fz", x, y, cellW-1, cellH, -cellW+1, -cellH)
	case '░', '▒', '▓':
		share := map[rune]float64{'░': .28, '▒': .5, '▓': .75}[r]
		fmt.Fprintf(b, `<rect x="%.1f" y="%.1f" width="%.2f" height="%.1f" fill="%s" opacity="%.2f"/>`, x, y+1, cellW+.05, cellH-2, fg, share)
		return ""
	}
	bits := [8][2]float64{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {0, 3}, {1, 3}}
	path := ""
	for i, at := range bits {
		if (r-0x2800)>>i&1 == 1 {
			path += box(x+cellW*(.25+.5*at[0])-.85, y+cellH*(.125+.25*at[1])-.85, 1.7, 1.7)
		}
	}
	return path
}

// parse reads a line with select-graphic-rendition sequences into cells.
func parse(line, ink string) []cell {
	var out []cell
	now := cell{fg: ink}
	for i := 0; i < len(line); {
		if strings.HasPrefix(line[i:], "\x1b[") {
			end := strings.IndexByte(line[i:], 'm')
			if end < 0 {
				break
			}
			p := strings.Split(line[i+2:i+end], ";")
			for k := 0; k < len(p); k++ {
				switch p[k] {
				case "", "0":
					now = cell{fg: ink}
				case "1":
					now.bold = true
				case "7":
					now.fg, now.bg = "#101418", ink
				case "38", "48":
					if k+4 < len(p) && p[k+1] == "2" {
						var v [3]int
						for n := range v {
							v[n], _ = strconv.Atoi(p[k+2+n])
						}
						colour := fmt.Sprintf("#%02X%02X%02X", v[0], v[1], v[2])
						if p[k] == "38" {
							now.fg = colour
						} else {
							now.bg = colour
						}
						k += 4
					}
				}
			}
			i += end + 1
			continue
		}
		r, n := rune(line[i]), 1
		for _, r = range line[i:] {
			n = len(string(r))
			break
		}
		c := now
		c.r = r
		out = append(out, c)
		i += n
	}
	return out
}
