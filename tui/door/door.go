// Package door is the screen in front of the workbench when it is called on a folder: the jobs that lie there, or what to do
// where none does.
package door

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
)

// Job is one job file of a folder.
type Job struct {
	Name  string
	Title string // as it says itself; "" where it cannot be read
	Amiss string // why it cannot be read
	Work  bool   // a record of work lies beside it
}

// Model is the screen; it is a tea.Model.
type Model struct {
	Look    *look.Look
	Folder  string
	Jobs    []Job
	Chosen  string // the name that was chosen; a new one does not exist yet
	Example bool   // the built-in example was chosen

	w, h, at, top int
	naming        bool
	field         textinput.Model
	why           string
}

// Init starts nothing.
func (m *Model) Init() tea.Cmd { return tea.SetWindowTitle("soapstone: " + text.Short(m.Folder, 60)) }

// Update takes one message.
func (m *Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.w, m.h = msg.Width, msg.Height
	case tea.MouseMsg:
		if i := m.top + msg.Y - headRows; !m.naming && msg.Action == tea.MouseActionPress && msg.Button == tea.MouseButtonLeft && i >= 0 && i < len(m.Jobs) {
			if i == m.at {
				return m, m.key("enter")
			}
			m.at = i
		}
	case tea.KeyMsg:
		if m.naming {
			return m, m.named(msg)
		}
		if msg.Alt {
			return m, tea.Quit // esc and the next key in one
		}
		for _, k := range keysOf(msg) {
			if cmd := m.key(k); cmd != nil || m.naming {
				return m, cmd
			}
		}
	}
	return m, nil
}

// keysOf tells letters apart that came in one read.
func keysOf(msg tea.KeyMsg) []string {
	if msg.Type != tea.KeyRunes || len(msg.Runes) < 2 {
		return []string{msg.String()}
	}
	var out []string
	for _, r := range msg.Runes {
		out = append(out, string(r))
	}
	return out
}

func (m *Model) key(k string) tea.Cmd {
	switch k {
	case "q", "esc", "ctrl+c":
		return tea.Quit
	case "ctrl+z":
		return tea.Suspend
	case "down", "j":
		m.at++
	case "up", "k":
		m.at--
	case "home":
		m.at = 0
	case "end":
		m.at = len(m.Jobs) - 1
	case "pgdown":
		m.at += 10
	case "pgup":
		m.at -= 10
	case "enter", " ":
		if m.at < len(m.Jobs) {
			m.Chosen = m.Jobs[m.at].Name
			return tea.Quit
		}
	case "o":
		m.Example = true
		return tea.Quit
	case "n":
		m.naming, m.why = true, ""
		m.field = textinput.New()
		m.field.Prompt, m.field.CharLimit = "", 100
		m.field.SetValue("frame.toml")
		m.field.CursorEnd()
		m.field.Focus()
		m.field.Cursor.SetMode(2)
	}
	m.at = max(0, min(m.at, len(m.Jobs)-1))
	return nil
}

// named answers a key while a new job is named.
func (m *Model) named(msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "esc", "ctrl+c":
		m.naming = false
		return nil
	case "enter":
		name := strings.TrimSpace(m.field.Value())
		if name != "" && !strings.HasSuffix(name, ".toml") {
			name += ".toml"
		}
		switch {
		case name == "" || strings.ContainsAny(name, "/\\\x00") || strings.HasPrefix(name, "."):
			m.why = "a plain name, such as mooring.toml"
		case m.has(name):
			m.why = "that is there already; esc, and choose it"
		default:
			m.Chosen = name
			return tea.Quit
		}
		return nil
	}
	var cmd tea.Cmd
	m.field, cmd = m.field.Update(msg)
	m.why = ""
	return cmd
}

func (m *Model) has(name string) bool {
	for _, j := range m.Jobs {
		if j.Name == name {
			return true
		}
	}
	return false
}

const headRows = 4

// View draws the screen.
func (m *Model) View() string {
	if m.w <= 0 || m.h <= 0 {
		return ""
	}
	l := m.Look
	lines := []string{l.Title.Render(" soapstone") + l.Chalk.Render("  "+text.Short(m.Folder, max(1, m.w-14))), l.Rule.Render(strings.Repeat(l.Signs.Horizontal, m.w)), ""}
	wrap := func(s string) {
		for _, x := range draw.Wrap(s, m.w-4) {
			lines = append(lines, l.Chalk.Render("  "+x))
		}
	}
	if len(m.Jobs) == 0 {
		lines = append(lines, l.Strong.Render(" No job lies in this folder yet."), "")
		wrap("n begins one: it asks what it is, how long, wide and high, and of which tube, and draws the frame meanwhile.")
		wrap("o opens the built-in example, a rack for kayaks: try everything on it, it is kept apart from your own work.")
		wrap("A job is a plain text file that ends in .toml; copy one here and it shows in this list.")
	} else {
		lines = append(lines, l.Strong.Render(" Which job?"))
		room := max(1, m.h-headRows-2)
		m.top = station.Scroll(m.top, m.at, len(m.Jobs), room)
		for i := m.top; i < len(m.Jobs) && i < m.top+room; i++ {
			j := m.Jobs[i]
			sign := l.Signs.Open
			if j.Work {
				sign = l.Signs.Done
			}
			what := text.Clean(j.Title)
			if j.Amiss != "" {
				sign, what = l.Signs.Warn, "cannot be read: "+text.Clean(j.Amiss)
			}
			row := fmt.Sprintf("%s %-24s %s", sign, text.Short(j.Name, 40), what)
			switch {
			case i == m.at:
				lines = append(lines, l.Mark.Render(draw.FitLine(" "+l.Signs.Next+row, m.w)))
			case j.Amiss != "":
				lines = append(lines, l.Warn.Render("  "+row))
			default:
				lines = append(lines, l.Chalk.Render("  "+row))
			}
		}
	}
	lines = draw.Fit(lines, m.w, max(1, m.h-2))
	note, foot := "", l.Key.Render(" n")+l.Dim.Render(" new job   ")+l.Key.Render("o")+l.Dim.Render(" example   ")+l.Key.Render("q")+l.Dim.Render(" leave")
	if len(m.Jobs) > 0 {
		note = l.Dim.Render("  " + l.Signs.Done + " work was recorded on it")
		foot = l.Key.Render(" enter") + l.Dim.Render(" open  ") + foot
	}
	if m.naming {
		note = l.Chalk.Render(" file name: ") + m.field.View()
		foot = l.Dim.Render(" enter take   esc leave")
		if m.why != "" {
			foot = l.Bad.Render(" " + l.Signs.Bad + " " + m.why)
		}
	}
	return strings.Join(draw.Fit(append(lines, note, foot), m.w, m.h), "\n")
}
