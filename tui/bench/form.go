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
	answer answer

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

// openForm opens a form; the plan's answer to it as it stands is asked for at once.
func (m *Model) openForm(f station.Form) tea.Cmd {
	if len(f.Fields) == 0 || f.Done == nil {
		return nil
	}
	x := &filling{Form: f, amiss: -1}
	for _, e := range f.Fields {
		x.values = append(x.values, e.Value)
	}
	x.field = newField(x.values[0])
	m.form = x
	return m.ponder(0)
}

func (f *filling) move(by int) {
	n := len(f.Fields) + 1
	f.goTo((f.at + by + n) % n)
}

func (f *filling) goTo(i int) {
	if f.at = i; f.at < len(f.Fields) {
		f.field = newField(f.values[f.at])
	}
}

func (f *filling) trimmed() []string {
	values := make([]string, len(f.values))
	for i, v := range f.values {
		values[i] = strings.TrimSpace(v)
	}
	return values
}

// closeForm leaves the form.
func (m *Model) closeForm() {
	m.form.answer.stop()
	m.form = nil
}

// formKey answers a key while a form is open.
func (m *Model) formKey(msg tea.KeyMsg) tea.Cmd {
	f := m.form
	k := msg.String()
	onField := f.at < len(f.Fields)
	switch k {
	case "esc", "ctrl+c":
		if f.left != nil {
			f.left()
		}
		m.closeForm()
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
		f.goTo(0)
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
	was := f.values[f.at]
	var cmd tea.Cmd
	if c := f.Fields[f.at].Choices; len(c) > 0 {
		f.choose(msg, c)
	} else if msg.Type != tea.KeyRunes || !mouseTrash(string(msg.Runes)) || len(msg.Runes) <= 3 {
		f.field, cmd = f.field.Update(msg)
		f.values[f.at] = f.field.Value()
	}
	if f.values[f.at] == was {
		return cmd
	}
	return tea.Batch(cmd, m.formChanged())
}

// choose answers a key at a field of choices.
func (f *filling) choose(msg tea.KeyMsg, c []string) {
	at := slices.Index(c, f.values[f.at])
	by := 0
	switch msg.String() {
	case "right", " ":
		by = 1
	case "left":
		by = -1
	default:
		// A letter goes to the next choice that begins with it.
		for i := 1; i <= len(c) && msg.Type == tea.KeyRunes && len(msg.Runes) > 0; i++ {
			n := (max(0, at) + i) % len(c)
			if strings.HasPrefix(c[n], string(msg.Runes[0])) {
				by = n - at
				break
			}
		}
	}
	if by != 0 {
		f.values[f.at] = c[(at+by+2*len(c))%len(c)]
	}
}

// formChanged follows a change of a field.
func (m *Model) formChanged() tea.Cmd {
	f := m.form
	f.amiss, f.why = -1, ""
	if f.changed != nil {
		f.changed(f.values)
	}
	return m.ponder(ponderAfter)
}

func (m *Model) formDone() tea.Cmd {
	f := m.form
	intents, err := f.Done(&m.desk, f.trimmed())
	if err != nil {
		f.why, f.amiss = err.Error(), -1
		var a *station.Amiss
		if errors.As(err, &a) && a.Field >= 0 && a.Field < len(f.Fields) {
			f.amiss = a.Field
			f.goTo(a.Field)
		}
		return nil
	}
	m.closeForm()
	return m.carryOut(intents)
}

// formMouse answers the mouse while a form is open: a click goes to a field, on a chosen one to its next choice, on the last
// row it takes the form; the wheel goes from field to field.
func (m *Model) formMouse(msg tea.MouseMsg) tea.Cmd {
	f := m.form
	switch msg.Button {
	case tea.MouseButtonWheelDown:
		f.move(1)
	case tea.MouseButtonWheelUp:
		f.move(-1)
	case tea.MouseButtonLeft:
		top, height := m.body()
		p := m.layForm(height)
		row := msg.Y - top - 1 + p.top // the title stands first
		if msg.Y-top < 1 || row >= len(p.owner) || msg.Y-top-1 >= p.room || msg.X > p.width {
			return nil
		}
		i := p.owner[row]
		switch {
		case i == len(f.Fields):
			f.at = i
			return m.formDone()
		case i == f.at && len(f.Fields[i].Choices) > 0:
			f.choose(tea.KeyMsg{Type: tea.KeyRight}, f.Fields[i].Choices)
			return m.formChanged()
		case i >= 0:
			f.goTo(i)
		}
	}
	return nil
}

// formLaid is how a form lies on the screen.
type formLaid struct {
	rows   []string
	owner  []int // of each row: its field, len(Fields) for the last row, -1 for words
	help   []string
	answer []string
	top    int // the first row that shows
	room   int // how many show
	width  int
	beside bool // the drawing stands beside
}

// layForm lays the form out: the fields, what is wrong at the field where it is wrong, the selected field's help and the
// plan's answer below.
func (m *Model) layForm(h int) formLaid {
	l, f := m.desk.Look, m.form
	p := formLaid{width: m.w - 1}
	p.beside = (f.Live != nil || f.Would != nil && f.answer.frame != nil) && (m.w >= 90 || m.w >= 76 && h < len(f.Fields)+14)
	if p.beside {
		p.width = max(46, m.w/2-4)
	}
	label := 6
	for _, x := range f.Fields {
		label = min(max(label, ansi.StringWidth(x.Label)), 24, m.w/2-4)
	}
	add := func(owner int, row string) {
		p.rows, p.owner = append(p.rows, row), append(p.owner, owner)
	}
	fault := func() {
		for _, s := range draw.Wrap(f.why, p.width-6) {
			add(-1, l.Bad.Render("   "+l.Signs.Bad+" "+s))
		}
	}
	cursor := 0
	for i, x := range f.Fields {
		sign, style := " ", l.Chalk
		value := text.Clean(f.values[i])
		if i == f.at {
			cursor = len(p.rows)
			sign, style = l.Signs.Next, l.Strong
			if len(x.Choices) > 0 {
				value = "< " + value + " >"
			} else {
				f.field.Width = max(4, p.width-label-6)
				value = f.field.View()
			}
		}
		row := " " + l.Strong.Render(sign) + " " + l.Dim.Render(draw.FitLine(text.Clean(x.Label), label)) + "  "
		if i == f.at {
			row += value
		} else {
			row += style.Render(value)
		}
		add(i, draw.FitLine(row, p.width))
		if i == f.amiss {
			fault()
		}
	}
	if f.at == len(f.Fields) {
		cursor = len(p.rows)
		add(len(f.Fields), l.Mark.Render(draw.FitLine(" "+l.Signs.Next+" take it", 12)))
	} else {
		add(len(f.Fields), l.Key.Render("   take it"))
	}
	if f.amiss < 0 && f.why != "" {
		fault()
		cursor = len(p.rows) - 1
	}
	if f.at < len(f.Fields) && f.Fields[f.at].Help != "" {
		for _, s := range draw.Wrap(f.Fields[f.at].Help, p.width-4) {
			p.help = append(p.help, l.Dim.Render("  "+s))
		}
		p.help = p.help[:min(len(p.help), max(1, h/4))]
	}
	p.answer = m.answerLines(p.width)
	p.room = max(1, h-1-len(p.help)-len(p.answer))
	if len(p.rows) > p.room {
		p.top = min(max(0, cursor-p.room/2), len(p.rows)-p.room)
	}
	return p
}

// formLines draws the form.
func (m *Model) formLines(h int) []string {
	l, f := m.desk.Look, m.form
	p := m.layForm(h)
	title := l.Strong.Render(" " + text.Clean(f.Title))
	h--
	lines := append([]string{}, p.rows[p.top:min(len(p.rows), p.top+p.room)]...)
	below := len(p.help) + len(p.answer)
	for len(lines) < h-below && below > 0 && len(lines) < len(p.rows)+1 {
		lines = append(lines, "")
	}
	lines = append(append(lines, p.help...), p.answer...)
	switch room := h - len(lines) - 1; {
	case f.Live == nil && f.Would == nil:
	case p.beside:
		lines = draw.Columns(lines, m.pictureLines(m.w-p.width-3, h), p.width, 3)
	case room >= 6:
		lines = append(lines, "")
		lines = append(lines, m.pictureLines(m.w-2, room)...)
	}
	return append([]string{title}, lines...)
}
