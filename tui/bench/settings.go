package bench

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
)

// Settings are what a user chooses of the bench itself, for every job.
type Settings struct {
	look.Choice
	Quiet    bool   // no bell
	NoMouse  bool   // the mouse is left to the terminal, which then selects text as everywhere
	Overrule string // a setting of the environment that stands above the file, for the eye
}

// GroundMsg says what the terminal answered when it was asked for its background.
type GroundMsg look.Theme

// heard takes the terminal's answer.
func (m *Model) heard(ground look.Theme) {
	m.cfg.Found.Ground = ground
	m.dress()
}

// dress makes the look that the settings and the terminal ask for; nothing is made anew where it stays the same.
func (m *Model) dress() {
	if l := m.settings.Made(m.cfg.Found); m.desk.Look == nil || !l.Same(m.desk.Look) {
		m.desk.Look = l
	}
}

// yes and no of the settings' form.
const yes, no = "yes", "no"

func yesNo(b bool) string {
	if b {
		return yes
	}
	return no
}

// settingsForm opens the form of the settings; what is chosen shows at once, and esc takes it back.
func (m *Model) settingsForm() tea.Cmd {
	was := m.settings
	pick := func(label, value string, choices []string, help string) station.Field {
		value = orAuto(value)
		if !slices.Contains(choices, value) {
			value = choices[0]
		}
		return station.Field{Label: label, Value: value, Choices: choices, Help: help}
	}
	terminal := map[look.Theme]string{look.Dark: "dark", look.Light: "light"}[m.cfg.Found.Ground]
	f := station.Form{
		Title: "how the bench looks and sounds, for every job",
		Fields: []station.Field{
			pick("ground", was.Ground, look.Grounds(), "auto: as the terminal says, "+terminal+" here; dark and light choose for terminals that say nothing"),
			pick("colours", was.Colour, look.Colours(), "auto: as the terminal says; none writes plain text, and nothing is lost by it"),
			pick("signs", was.Signs, look.SignSets(), "auto: as the locale says; ascii where lines and digits come out as rubbish"),
			pick("bell", yesNo(!was.Quiet), []string{yes, no}, "rings when the machine is ready, and when an arc has used its window up"),
			pick("mouse", yesNo(!was.NoMouse), []string{yes, no}, "yes: clicks choose sticks, pieces, joints; no: the terminal keeps the mouse and selects text"),
		},
	}
	f.Live = func(d *station.Desk, _ []string, w, h int) []string { return swatch(d.Look, w, h) }
	take := func(v []string) Settings {
		s := was
		s.Choice = look.Choice{Ground: v[0], Colour: v[1], Signs: v[2]}
		s.Quiet, s.NoMouse = v[3] == no, v[4] == no
		return s
	}
	f.Done = func(_ *station.Desk, v []string) ([]station.Intent, error) {
		s := take(v)
		m.settings = s
		m.dress()
		if s.Overrule != "" {
			m.say(s.Overrule, true)
		}
		if m.cfg.Keep == nil {
			return []station.Intent{station.Say{Text: "taken for this time; there is no folder to keep it in"}}, nil
		}
		if err := m.cfg.Keep(s); err != nil {
			return []station.Intent{station.Say{Text: "taken for this time, but NOT kept: " + err.Error(), Bad: true}}, nil
		}
		return []station.Intent{station.Say{Text: "kept for every job"}}, nil
	}
	cmd := m.openForm(f)
	m.form.changed = func(v []string) {
		m.settings = take(v)
		m.dress()
	}
	m.form.left = func() {
		m.settings = was
		m.dress()
	}
	return cmd
}

func orAuto(s string) string {
	if s == "" {
		return look.Auto
	}
	return s
}

// mouseNow brings the terminal's mouse to what the settings say.
func (m *Model) mouseNow() tea.Cmd {
	if m.settings.NoMouse == m.mouseOff {
		return nil
	}
	if m.mouseOff = m.settings.NoMouse; m.mouseOff {
		return tea.DisableMouse
	}
	return tea.EnableMouseCellMotion
}

// swatch shows every style and sign, so that a look is chosen by eye.
func swatch(l *look.Look, w, h int) []string {
	lines := []string{
		l.Strong.Render("read this first") + "  " + l.Chalk.Render("what is to be read"),
		l.Dim.Render("what stands back") + "  " + l.Key.Render("space") + l.Dim.Render(" a key"),
		l.Mark.Render(l.Signs.Next + " the row in hand     "),
		l.Hot.Render(l.Signs.Arc+" due, hot") + "  " + l.Warn.Render(l.Signs.Warn+" look out") + "  " + l.Bad.Render(l.Signs.Bad+" wrong") + "  " + l.Cool.Render(l.Signs.Done+" done"),
		"",
	}
	heat := ""
	for i, s := range l.Heat {
		heat += s.Render(fmt.Sprintf("%s %3d %% ", l.Signs.Ramp[i], 25*i))
	}
	lines = append(lines, heat, "")
	for _, r := range draw.Digits(`8' 3-1/2"`, []rune(l.Signs.Full)[0]) {
		lines = append(lines, l.Strong.Render(r))
	}
	c := draw.NewCanvas(min(30, w), 5, l.Unicode)
	x, y := c.Size()
	c.Line(0, float64(y-1), float64(x)/2, 0, 1)
	c.Line(float64(x)/2, 0, float64(x-1), float64(y-1), 1)
	c.Line(0, float64(y-1), float64(x-1), float64(y-1), 2)
	lines = append(lines, "")
	lines = append(lines, c.Rows(func(layer uint8, run string) string {
		if layer == 2 {
			return l.Hot.Render(run)
		}
		return l.Chalk.Render(run)
	})...)
	return lines[:min(len(lines), max(0, h))]
}
