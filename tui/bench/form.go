package bench

import (
	"errors"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// filling is a form while it is filled in. The row behind the last field takes it.
type filling struct {
	station.Form
	values []string
	at     int
	field  textinput.Model
	amiss  int // the field that something is wrong at, -1 for none or for the whole
	why    string

	changed func(values []string) // told of each change; may be nil
	left    func()                // told when the form is left without being taken; may be nil
}

func newField(value string) textinput.Model {
	f := textinput.New()
	f.Prompt = ""
	f.SetValue(value)
	f.CharLimit = 400
	f.Width = 34
	f.CursorEnd()
	f.Focus()
	f.Cursor.SetMode(2) // no blinking: nothing moves that need not
	return f
}

func (m *Model) openForm(f station.Form) {
	if len(f.Fields) == 0 || f.Done == nil {
		return
	}
	x := &filling{Form: f, amiss: -1}
	for _, e := range f.Fields {
		x.values = append(x.values, e.Value)
	}
	x.field = newField(x.values[0])
	m.form = x
}

func (f *filling) move(by int) {
	n := len(f.Fields) + 1
	f.at = (f.at + by + n) % n
	if f.at < len(f.Fields) {
		f.field = newField(f.values[f.at])
	}
}

// formKey answers a key while a form is open.
func (m *Model) formKey(msg tea.KeyMsg) tea.Cmd {
	f := m.form
	k := msg.String()
	onField := f.at < len(f.Fields)
	switch k {
	case "esc", "ctrl+c":
		m.form = nil
		return nil
	case "up", "shift+tab":
		f.move(-1)
		return nil
	case "down", "tab":
		f.move(1)
		return nil
	case "pgdown":
		f.at = len(f.Fields)
		return nil
	case "pgup":
		f.at = 0
		f.move(0)
		return nil
	case "enter":
		if onField && len(f.Fields) > 1 {
			f.move(1)
			return nil
		}
		return m.formDone()
	}
	if !onField {
		if k == " " {
			return m.formDone()
		}
		return nil
	}
	if c := f.Fields[f.at].Choices; len(c) > 0 {
		by := 0
		switch k {
		case "right", " ":
			by = 1
		case "left":
			by = -1
		default:
			// A letter goes to the next choice that begins with it.
			for i := 1; i <= len(c) && msg.Type == tea.KeyRunes && len(msg.Runes) > 0; i++ {
				n := (max(0, slices.Index(c, f.values[f.at])) + i) % len(c)
				if strings.HasPrefix(c[n], string(msg.Runes[0])) {
					by = n - slices.Index(c, f.values[f.at])
					break
				}
			}
		}
		if by != 0 {
			n := (slices.Index(c, f.values[f.at]) + by + 2*len(c)) % len(c)
			f.values[f.at] = c[n]
			f.amiss, f.why = -1, ""
		}
		return nil
	}
	if msg.Type == tea.KeyRunes && mouseTrash(string(msg.Runes)) && len(msg.Runes) > 3 {
		return nil
	}
	var cmd tea.Cmd
	f.field, cmd = f.field.Update(msg)
	f.values[f.at] = f.field.Value()
	f.amiss, f.why = -1, ""
	return cmd
}

func (m *Model) formDone() tea.Cmd {
	f := m.form
	values := make([]string, len(f.values))
	for i, v := range f.values {
		values[i] = strings.TrimSpace(v)
	}
	intents, err := f.Done(&m.desk, values)
	if err != nil {
		f.why, f.amiss = err.Error(), -1
		var a *station.Amiss
		if errors.As(err, &a) && a.Field >= 0 && a.Field < len(f.Fields) {
			f.amiss = a.Field
			f.at = a.Field
			f.field = newField(f.values[f.at])
		}
		return nil
	}
	m.form = nil
	return m.carryOut(intents)
}

// formLines draws the form: the fields, what is wrong at the field where it is wrong, the selected field's help below.
func (m *Model) formLines(h int) []string {
	l, f := m.desk.Look, m.form
	lines := []string{l.Strong.Render(" " + text.Clean(f.Title))}
	label := 6
	for _, x := range f.Fields {
		label = min(max(label, ansi.StringWidth(x.Label)), 24, m.w/2-4)
	}
	width := m.w - 1
	beside := f.Live != nil && m.w >= 90
	if beside {
		width = max(46, m.w/2-4)
	}
	var rows []string
	cursor := 0
	for i, x := range f.Fields {
		sign, style := " ", l.Chalk
		value := text.Clean(f.values[i])
		if i == f.at {
			cursor = len(rows)
			sign, style = l.Signs.Next, l.Strong
			if len(x.Choices) > 0 {
				value = "< " + value + " >"
			} else {
				f.field.Width = max(4, width-label-6)
				value = f.field.View()
			}
		}
		row := " " + l.Strong.Render(sign) + " " + l.Dim.Render(draw.FitLine(text.Clean(x.Label), label)) + "  "
		if i == f.at {
			row += value
		} else {
			row += style.Render(value)
		}
		rows = append(rows, draw.FitLine(row, width))
		if i == f.amiss {
			for _, s := range draw.Wrap(f.why, width-6) {
				rows = append(rows, l.Bad.Render("   "+l.Signs.Bad+" "+s))
			}
		}
	}
	take := "   take it"
	if f.at == len(f.Fields) {
		cursor = len(rows)
		take = " " + l.Signs.Next + " take it"
		rows = append(rows, l.Mark.Render(draw.FitLine(take, 12)))
	} else {
		rows = append(rows, l.Key.Render(take))
	}
	if f.amiss < 0 && f.why != "" {
		for _, s := range draw.Wrap(f.why, width-6) {
			rows = append(rows, l.Bad.Render("   "+l.Signs.Bad+" "+s))
		}
		cursor = len(rows) - 1
	}
	var help []string
	if f.at < len(f.Fields) && f.Fields[f.at].Help != "" {
		for _, s := range draw.Wrap(f.Fields[f.at].Help, width-4) {
			help = append(help, l.Dim.Render("  "+s))
		}
		help = help[:min(len(help), max(1, h/4))]
	}
	room := max(1, h-1-len(help))
	top := 0
	if len(rows) > room {
		top = min(max(0, cursor-room/2), len(rows)-room)
	}
	lines = append(lines, rows[top:min(len(rows), top+room)]...)
	for len(lines) < h-len(help) && len(help) > 0 && len(lines) < len(rows)+2 {
		lines = append(lines, "")
	}
	lines = append(lines, help...)
	if f.Live != nil {
		if beside {
			right := f.Live(&m.desk, f.values, m.w-width-3, h)
			return draw.Columns(lines, right, width, 3)
		}
		if room := h - len(lines) - 1; room >= 6 {
			lines = append(lines, "")
			lines = append(lines, f.Live(&m.desk, f.values, m.w-2, room)...)
		}
	}
	return lines
}
