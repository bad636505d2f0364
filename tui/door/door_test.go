package door

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"bench.example/soapstone/tui/look"
)

func press(m *Model, keys ...tea.KeyMsg) (quit bool) {
	for _, k := range keys {
		if _, cmd := m.Update(k); cmd != nil {
			if _, ok := cmd().(tea.QuitMsg); ok {
				quit = true
			}
		}
	}
	return quit
}

func runes(s string) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)} }

func TestDoor(t *testing.T) {
	l := look.New(termenv.Ascii, look.Dark, true)
	enter, down, esc := tea.KeyMsg{Type: tea.KeyEnter}, tea.KeyMsg{Type: tea.KeyDown}, tea.KeyMsg{Type: tea.KeyEsc}

	empty := &Model{Look: l, Folder: "/jobs"}
	empty.Update(tea.WindowSizeMsg{Width: 60, Height: 16})
	if v := empty.View(); !strings.Contains(v, "No job lies in this folder") || !strings.Contains(v, "n begins one") {
		t.Fatalf("an empty folder shows\n%s", v)
	}
	if press(empty, enter) || empty.Chosen != "" {
		t.Fatal("enter opens something in an empty folder")
	}
	press(empty, runes("n"), enter)
	if empty.Chosen != "frame.toml" {
		t.Fatalf("chosen %q", empty.Chosen)
	}

	m := &Model{Look: l, Folder: "/jobs", Jobs: []Job{{Name: "a.toml", Title: "Anchor stand"}, {Name: "b.toml", Title: "Boat cradle", Work: true}, {Name: "c.toml", Amiss: "line 3"}}}
	m.Update(tea.WindowSizeMsg{Width: 60, Height: 16})
	if v := m.View(); !strings.Contains(v, "✓ b.toml") || !strings.Contains(v, "cannot be read: line 3") {
		t.Fatalf("the list shows\n%s", v)
	}
	press(m, runes("n"))
	for range 10 {
		press(m, tea.KeyMsg{Type: tea.KeyBackspace})
	}
	press(m, runes("a"), enter)
	if m.Chosen != "" || !strings.Contains(m.View(), "there already") {
		t.Fatalf("a name that is taken was taken: %q", m.Chosen)
	}
	if press(m, esc, down); m.at != 1 {
		t.Fatal("down does not choose the next")
	}
	if !press(m, enter) || m.Chosen != "b.toml" {
		t.Fatalf("chosen %q", m.Chosen)
	}
	if press(m, runes("o")); !m.Example {
		t.Fatal("o does not choose the example")
	}
	for w := 1; w < 70; w += 4 {
		for h := 1; h < 20; h++ {
			m.Update(tea.WindowSizeMsg{Width: w, Height: h})
			lines := strings.Split(m.View(), "\n")
			if len(lines) != h {
				t.Fatalf("%dx%d: %d lines", w, h, len(lines))
			}
			for _, x := range lines {
				if ansi.StringWidth(x) != w {
					t.Fatalf("%dx%d: %q", w, h, x)
				}
			}
		}
	}
}
