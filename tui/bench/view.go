package bench

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
)

// Rows of the frame around a station.
const (
	titleRow = 0
	tabRow   = 1
	headRows = 3 // title, stations, rule
	footRows = 2 // notice or field, keys
)

// Least size of a window that a station is drawn in.
const (
	leastW = 40
	leastH = 12
)

// body gives the first row of the station and its height.
func (m *Model) body() (top, height int) {
	if m.desk.Bare {
		return 1, max(0, m.h-3)
	}
	return headRows, max(0, m.h-headRows-footRows)
}

// View draws the screen: exactly h lines of w cells.
func (m *Model) View() string {
	if m.w <= 0 || m.h <= 0 {
		return ""
	}
	if m.small() {
		return strings.Join(draw.Fit(m.tooSmall(), m.w, m.h), "\n")
	}
	l := m.desk.Look
	var lines []string
	_, height := m.body()
	lines = append(lines, m.title())
	if !m.desk.Bare {
		lines = append(lines, m.tabLine(), l.Rule.Render(strings.Repeat(l.Signs.Horizontal, m.w)))
	}
	var body []string
	switch {
	case m.stuck != nil:
		body = m.stuckLines()
	case m.form != nil:
		body = m.formLines(height)
	case m.tour > 0:
		body = m.tourLines(height)
	case m.help:
		body = m.helpLines(height)
	case len(m.problems) > 0 && failed(m.problems) && !m.mends():
		body = m.problemLines()
	default:
		body = m.front().View(&m.desk, m.w, height)
	}
	lines = append(lines, draw.Fit(body, m.w, height)...)
	notice := m.noticeLines()
	lines = append(lines[:len(lines)-len(notice)+1], notice...) // a long notice covers the end of the station
	lines = append(lines, m.keyLine())
	return strings.Join(draw.Fit(lines, m.w, m.h), "\n")
}

func (m *Model) title() string {
	l := m.desk.Look
	name := m.desk.JobName
	if p := m.desk.Plan; p != nil && p.Job != nil && p.Job.Title != "" {
		name = p.Job.Title
	}
	right := ""
	switch {
	case m.desk.Saving > 0:
		right = "writing"
	case m.desk.Busy != "":
		right = m.desk.Busy
	case !m.desk.Keeps:
		right = "nothing is kept"
	}
	left := " soapstone  " + text.Clean(name)
	room := m.w - ansi.StringWidth(right) - 2
	if room < 10 {
		right, room = "", m.w
	}
	left = draw.FitLine(left, max(0, room))
	styled := l.Dim.Render(left)
	if strings.HasPrefix(left, " soapstone") {
		styled = l.Title.Render(left[:10]) + l.Chalk.Render(left[10:])
	}
	if right == "" {
		return styled
	}
	return styled + " " + l.Warn.Render(right) + " "
}

type tab struct {
	at, from, to int
	text         string
}

// tabs lays the stations' names out; where they do not fit, only the number of the others is shown.
func (m *Model) tabs() []tab {
	for short := 0; short < 4; short++ {
		var ts []tab
		x, gap := 1, 2
		if short == 1 { // the whole names, closer together
			gap = 1
		}
		for i, s := range m.cfg.Stations {
			t := fmt.Sprintf("%d %s", (i+1)%10, s.Name())
			if short == 2 && i != m.at {
				t = fmt.Sprintf("%d %.4s", (i+1)%10, s.Name())
			} else if short == 3 && i != m.at {
				t = fmt.Sprintf("%d", (i+1)%10)
			}
			ts = append(ts, tab{i, x, x + len(t), t})
			x += len(t) + gap
		}
		if x-gap <= m.w || short == 3 {
			return ts
		}
	}
	return nil
}

func (m *Model) tabLine() string {
	l := m.desk.Look
	var b strings.Builder
	x := 0
	for _, t := range m.tabs() {
		b.WriteString(strings.Repeat(" ", max(0, t.from-x-1)))
		if t.at == m.at {
			// The marker carries the place where there is no colour.
			b.WriteString(l.Strong.Render(l.Signs.Next + t.text))
		} else {
			b.WriteString(" " + l.Dim.Render(t.text))
		}
		x = t.to
	}
	return b.String()
}

// noticeLines gives the question that is asked, or the line to the worker, in up to three lines.
func (m *Model) noticeLines() []string {
	l := m.desk.Look
	switch {
	case m.stuck != nil:
		return []string{""}
	case m.ask != nil && m.ask.err != "":
		return m.wrapped(l.Bad, l.Signs.Bad, m.ask.err)
	case m.ask != nil:
		return []string{" " + m.ask.Prompt + " " + m.ask.field.View()}
	case m.notice == "":
		return []string{""}
	case m.bad:
		return m.wrapped(l.Bad, l.Signs.Warn, m.notice)
	}
	return m.wrapped(l.Cool, l.Signs.Bullet, m.notice)
}

// mostNotice is how many lines a notice may take.
const mostNotice = 3

func (m *Model) wrapped(style lipgloss.Style, sign, s string) []string {
	var out []string
	for i, x := range draw.Wrap(s, m.w-4) {
		lead := "   "
		if i == 0 {
			lead = " " + sign + " "
		}
		if i == mostNotice {
			out[i-1] = style.Render(draw.FitLine(ansi.Strip(out[i-1]), m.w-4) + " ...")
			break
		}
		out = append(out, style.Render(lead+x))
	}
	return out
}

func (m *Model) keyLine() string {
	l := m.desk.Look
	if m.stuck != nil {
		return " " + l.Key.Render("space") + l.Dim.Render(" try again   ") + l.Key.Render("esc") + l.Dim.Render(" give it up")
	}
	if m.ask != nil {
		return l.Dim.Render(" " + m.ask.Help + "   enter take   esc leave")
	}
	if m.form != nil {
		return l.Dim.Render(" enter on   pgdn to the end   left right choose   esc leave it as it was")
	}
	if m.tour > 0 {
		return l.Dim.Render(" space on   esc skip the tour")
	}
	var words []string
	if m.help {
		words = append(words, "up/down read on", "? back")
	} else {
		for _, k := range m.front().Keys(&m.desk) {
			if !k.Quiet && k.Off == "" {
				words = append(words, foot(k))
			}
		}
		if !slices.ContainsFunc(m.front().Keys(&m.desk), func(k station.Key) bool { return slices.Contains(k.Keys, "u") }) {
			words = append(words, "u take back")
		}
		words = append(words, "b bare", "? why", "q leave")
	}
	var b strings.Builder
	x := 1
	b.WriteByte(' ')
	all := 0
	for _, w := range words {
		all += ansi.StringWidth(w) + 3
	}
	if why := "? why"; !m.help && x+all-3 > m.w-1 { // where not all has room, the way to the rest of it stays
		room := m.w - 1 - len(why) - 3
		n := 0
		for at := x; n < len(words) && at+ansi.StringWidth(words[n]) <= room; n++ {
			at += ansi.StringWidth(words[n]) + 3
		}
		words = append(slices.DeleteFunc(words[:n:n], func(w string) bool { return w == why }), why)
	}
	for _, w := range words {
		if x+ansi.StringWidth(w) > m.w-1 {
			break
		}
		k, does, _ := strings.Cut(w, " ")
		b.WriteString(l.Key.Render(k) + " " + l.Dim.Render(does) + "   ")
		x += ansi.StringWidth(w) + 3
	}
	return b.String()
}

// helped is the help as it was made last, and from what: workings cost, reading on does not.
type helped struct {
	lines  []string
	at     int
	plan   *plan.Plan
	events int
	look   *look.Look
	w      int
}

func (m *Model) helpLines(h int) []string {
	k := helped{at: m.at, plan: m.desk.Plan, events: m.desk.Work.Events(), look: m.desk.Look, w: m.w}
	if o := m.helpOf; o.lines == nil || o.at != k.at || o.plan != k.plan || o.events != k.events || o.look != k.look || o.w != k.w {
		k.lines = m.makeHelp()
		m.helpOf = k
	}
	lines := m.helpOf.lines
	if top := max(0, len(lines)-h); m.helpTop > top {
		m.helpTop = top
	}
	return lines[min(m.helpTop, len(lines)):]
}

func (m *Model) makeHelp() []string {
	l := m.desk.Look
	s := m.front()
	lines := []string{"", l.Strong.Render(" " + s.Name())}
	for _, x := range draw.Wrap(s.Purpose(), m.w-4) {
		lines = append(lines, l.Chalk.Render("  "+x))
	}
	lines = append(lines, "")
	keys := append(append([]station.Key{}, s.Keys(&m.desk)...),
		station.Key{Keys: []string{"u"}, Does: "take the last step back"}, station.Key{Keys: []string{"r"}, Does: "do again what was taken back"}, station.Key{Keys: []string{"b"}, Does: "only the next action, large"},
		station.Key{Keys: []string{"g"}, Does: "the bench's look and sound: ground, colours, signs, bell, mouse"}, station.Key{Keys: []string{"tab"}, Shown: "tab 1-9", Does: "go to another station"}, station.Key{Keys: []string{"q"}, Does: "leave; everything is kept"})
	for _, k := range keys {
		shown := k.Shown
		if shown == "" {
			shown = k.Keys[0]
		}
		does := k.Does
		if k.Off != "" {
			does += " (not now: " + k.Off + ")"
		}
		lines = append(lines, "  "+l.Key.Render(draw.FitLine(shown, 12))+l.Chalk.Render(does))
	}
	if r, ok := s.(station.Reasoner); ok && m.desk.Plan != nil && !m.desk.Plan.Failed() {
		for _, id := range r.Figures(&m.desk) {
			lines = append(lines, "")
			for _, x := range strings.Split(strings.TrimRight(id, "\n"), "\n") {
				lines = append(lines, l.Chalk.Render("  "+text.Clean(x)))
			}
		}
	}
	return lines
}
