package bench

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench.example/soapstone/tui/station"
)

// keys answers a message from the keyboard. Letters that were typed fast arrive as one message; they are taken one by one.
func (m *Model) keys(msg tea.KeyMsg) tea.Cmd {
	if msg.Alt && !msg.Paste {
		return m.escaped(msg)
	}
	if m.small() { // what cannot be seen is not pressed either
		if k := msg.String(); k == "q" || k == "ctrl+c" || k == "ctrl+z" {
			return m.key(k)
		}
		return nil
	}
	if m.stuck != nil {
		k := msg.String()
		if k == " " {
			k = "space"
		}
		if k == "ctrl+c" || k == "ctrl+z" {
			return m.key(k)
		}
		return m.stuckKey(k)
	}
	if m.ask != nil {
		return m.asked(msg)
	}
	if m.form != nil {
		return m.formKey(msg)
	}
	if msg.Type == tea.KeyRunes && !msg.Alt && !msg.Paste && len(msg.Runes) > 1 {
		if mouseTrash(string(msg.Runes)) {
			return nil
		}
		var cmds []tea.Cmd
		for _, r := range msg.Runes {
			cmds = append(cmds, m.key(string(r)))
			if m.ask != nil || m.form != nil {
				break // what was meant for the station must not land in a field
			}
		}
		return tea.Batch(cmds...)
	}
	if msg.Paste {
		return nil
	}
	k := msg.String()
	if k == " " {
		k = "space"
	}
	return m.key(k)
}

// escaped takes a key that the terminal reports with the alt modifier. The workbench has no chords: where esc and the next
// key arrive in one read, the screen library takes them for one, so they are told apart again here. A bracket or an O is
// what is left of a sequence that was cut in two.
func (m *Model) escaped(msg tea.KeyMsg) tea.Cmd {
	if msg.Type == tea.KeyRunes && len(msg.Runes) == 1 && strings.ContainsRune("[O]", msg.Runes[0]) {
		return nil
	}
	msg.Alt = false
	first := m.keys(tea.KeyMsg{Type: tea.KeyEsc})
	return tea.Batch(first, m.keys(msg))
}

// mouseTrash tells whether runes are the rest of a report (of the mouse, of a colour) that the library's reader cut in two.
func mouseTrash(s string) bool {
	if strings.Contains(s, "rgb:") || strings.HasPrefix(s, "11;") {
		return true
	}
	return strings.HasPrefix(s, "<") || strings.HasPrefix(s, "[<") || strings.Trim(s, "0123456789;Mm<[") == "" && strings.ContainsAny(s, ";Mm") && len(s) > 3
}

func (m *Model) key(k string) tea.Cmd {
	if m.tour > 0 && m.tourKey(k) {
		return nil
	}
	switch k {
	case "ctrl+c", "q":
		return m.quit()
	case "ctrl+z":
		return tea.Suspend
	case "?":
		m.help, m.helpTop, m.helpOf = !m.help, 0, helped{} // what is chosen at the station may be another thing now
		return nil
	}
	if m.help {
		switch k {
		case "down", "j", "pgdown", "space":
			m.helpTop++
		case "up", "k", "pgup":
			m.helpTop = max(0, m.helpTop-1)
		case "esc", "enter":
			m.help = false
		}
		return nil
	}
	switch k {
	case "tab":
		m.at = (m.at + 1) % len(m.cfg.Stations)
		return nil
	case "shift+tab":
		m.at = (m.at + len(m.cfg.Stations) - 1) % len(m.cfg.Stations)
		return nil
	case "b":
		m.desk.Bare = !m.desk.Bare
		return nil
	}
	if len(k) == 1 && k[0] >= '0' && k[0] <= '9' {
		if n := (int(k[0]-'0') + 9) % 10; n < len(m.cfg.Stations) { // 0 is the tenth
			m.at = n
			return nil
		}
	}
	for _, b := range m.front().Keys(&m.desk) {
		if slices.Contains(b.Keys, k) {
			if b.Off != "" {
				m.say(k+" not now: "+b.Off, true)
				return nil
			}
			m.notice = "" // it spoke of what was before this key
			return m.carryOut(m.front().Press(&m.desk, k))
		}
	}
	if k == "g" {
		return m.settingsForm()
	}
	switch k { // a station with edits of its own takes those back itself
	case "u":
		return m.undo()
	case "r":
		return m.redo()
	}
	return nil
}

// quit ends the program; while an arc is open or events are on their way it waits or asks once.
func (m *Model) quit() tea.Cmd {
	if m.desk.Saving > 0 {
		m.quitting = true
		m.say("writing the last entry, then leaving", false)
		return nil
	}
	if len(m.folded.state.OpenArcs()) > 0 && m.quits != "arc" {
		m.quits = "arc"
		m.say("an arc is still open: stop it at the weld station, or press again to leave (you will be asked about it)", true)
		return nil
	}
	m.cancelPlan()
	return tea.Quit
}

func (m *Model) open(a station.Ask) tea.Cmd {
	f := newField(a.Initial)
	f.Width = max(8, min(40, m.w-len(a.Prompt)-4))
	m.ask = &asking{Ask: a, field: f}
	return nil
}

func (m *Model) asked(msg tea.KeyMsg) tea.Cmd {
	switch msg.String() {
	case "esc", "ctrl+c":
		m.ask = nil
		return nil
	case "enter":
		intents, err := m.ask.Done(strings.TrimSpace(m.ask.field.Value()))
		if err != nil {
			m.ask.err = err.Error()
			return nil
		}
		m.ask = nil
		return m.carryOut(intents)
	}
	if msg.Type == tea.KeyRunes && mouseTrash(string(msg.Runes)) && len(msg.Runes) > 3 {
		return nil
	}
	if yn := m.ask.Initial; (yn == yes || yn == no) && msg.Type == tea.KeyRunes && m.ask.field.Value() == yn {
		m.ask.field.SetValue("") // a letter answers anew: the word that stands there is an offer
	}
	var cmd tea.Cmd
	m.ask.field, cmd = m.ask.field.Update(msg)
	m.ask.err = ""
	return cmd
}

// mouse answers a click: on a station's name it goes there, in the body it belongs to the station.
func (m *Model) mouse(msg tea.MouseMsg) tea.Cmd {
	if msg.Action != tea.MouseActionPress || m.small() || m.stuck != nil || m.ask != nil {
		return nil
	}
	switch {
	case m.form != nil:
		return m.formMouse(msg)
	case m.tour > 0 && msg.Button == tea.MouseButtonLeft:
		return m.key("space")
	}
	switch msg.Button {
	case tea.MouseButtonWheelDown:
		return m.key("down")
	case tea.MouseButtonWheelUp:
		return m.key("up")
	case tea.MouseButtonLeft:
	default:
		return nil
	}
	if msg.Y == tabRow {
		for _, t := range m.tabs() {
			if msg.X >= t.from && msg.X < t.to {
				m.at = t.at
				return nil
			}
		}
		return nil
	}
	top, height := m.body()
	if c, ok := m.front().(station.Clicker); ok && !m.help && msg.Y >= top && msg.Y < top+height {
		return m.carryOut(c.Click(&m.desk, msg.X, msg.Y-top, m.w, height))
	}
	return nil
}

// Usage of a key in the foot: "space done".
func foot(k station.Key) string {
	if k.Shown == "" {
		return fmt.Sprintf("%s %s", k.Keys[0], k.Does)
	}
	return fmt.Sprintf("%s %s", k.Shown, k.Does)
}
