// Package look is the one place where colours, weights and signs of the screens are decided. Styles are made once from an
// explicit renderer, so that a test, a pipe or a setting chooses the colour profile; nothing is a package variable.
//
// The design takes after the material: slate for what lies still, chalk for what is written on it, and the colours of hot
// steel (straw, orange, cherry) for what is hot, due, or wrong; temper blue for what is cool, done or at rest. No meaning
// is carried by colour alone: each has a sign too (Signs).
package look

import (
	"io"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// Theme is the ground that the screen stands on.
type Theme int

// The themes.
const (
	Dark Theme = iota
	Light
)

// Look is all styles and signs of a screen.
type Look struct {
	profile termenv.Profile
	Theme   Theme
	Colour  bool // false: no colour at all
	Unicode bool // false: ASCII only

	Chalk  lipgloss.Style // what is to be read
	Dim    lipgloss.Style // what stands back
	Strong lipgloss.Style // the one thing to see first
	Title  lipgloss.Style
	Key    lipgloss.Style    // a key that may be pressed
	Rule   lipgloss.Style    // lines between parts
	Hot    lipgloss.Style    // due now, arc on
	Warn   lipgloss.Style    // a warning or caution
	Bad    lipgloss.Style    // an error, a spoiled piece
	Cool   lipgloss.Style    // done, rest
	Mark   lipgloss.Style    // the selected row
	Heat   [5]lipgloss.Style // from cold to hot: utilisation, weld heat

	Signs Signs
}

// Signs are the characters that carry meaning beside the colours.
type Signs struct {
	Done, Next, Open, Spoiled, Warn, Bad, Point, Bullet, Rest, Arc string
	Horizontal, Vertical, Cross, Slash, Back, Full, Shade, Light   string
	Times, Degree, HalfUp                                          string
	Ramp                                                           []string // utilisation from low to high
}

// palette is one theme's colours: true colour, 256, 16.
type palette struct{ chalk, dim, rule, key, hot, warn, bad, cool, markFG, markBG lipgloss.CompleteColor }

// Contrast ratios against a ground of #101418 (dark) and #F4F1EA (light) are listed in DEVELOPERS.md and tested.
var palettes = [...]palette{
	Dark: {
		chalk:  lipgloss.CompleteColor{TrueColor: "#EDE8DC", ANSI256: "255", ANSI: "15"},
		dim:    lipgloss.CompleteColor{TrueColor: "#98A0A3", ANSI256: "247", ANSI: "7"},
		rule:   lipgloss.CompleteColor{TrueColor: "#5C676C", ANSI256: "241", ANSI: "8"},
		key:    lipgloss.CompleteColor{TrueColor: "#E9C46A", ANSI256: "179", ANSI: "11"},
		hot:    lipgloss.CompleteColor{TrueColor: "#F08A3C", ANSI256: "208", ANSI: "11"},
		warn:   lipgloss.CompleteColor{TrueColor: "#E9C46A", ANSI256: "179", ANSI: "3"},
		bad:    lipgloss.CompleteColor{TrueColor: "#F2664B", ANSI256: "203", ANSI: "9"},
		cool:   lipgloss.CompleteColor{TrueColor: "#7FB3D0", ANSI256: "110", ANSI: "14"},
		markFG: lipgloss.CompleteColor{TrueColor: "#101418", ANSI256: "233", ANSI: "0"},
		markBG: lipgloss.CompleteColor{TrueColor: "#EDE8DC", ANSI256: "255", ANSI: "15"},
	},
	Light: {
		chalk:  lipgloss.CompleteColor{TrueColor: "#1D2428", ANSI256: "234", ANSI: "0"},
		dim:    lipgloss.CompleteColor{TrueColor: "#565F63", ANSI256: "240", ANSI: "8"},
		rule:   lipgloss.CompleteColor{TrueColor: "#7F878B", ANSI256: "244", ANSI: "7"},
		key:    lipgloss.CompleteColor{TrueColor: "#7A5200", ANSI256: "94", ANSI: "4"},
		hot:    lipgloss.CompleteColor{TrueColor: "#A8480A", ANSI256: "130", ANSI: "1"},
		warn:   lipgloss.CompleteColor{TrueColor: "#7A5200", ANSI256: "94", ANSI: "5"},
		bad:    lipgloss.CompleteColor{TrueColor: "#A3240F", ANSI256: "124", ANSI: "1"},
		cool:   lipgloss.CompleteColor{TrueColor: "#1F5F82", ANSI256: "24", ANSI: "4"},
		markFG: lipgloss.CompleteColor{TrueColor: "#F4F1EA", ANSI256: "255", ANSI: "15"},
		markBG: lipgloss.CompleteColor{TrueColor: "#1D2428", ANSI256: "234", ANSI: "0"},
	},
}

// heat is the ramp of steel as it warms: temper blue, grey, straw, orange, cherry.
var heat = [...][5]lipgloss.CompleteColor{
	Dark: {
		{TrueColor: "#7FB3D0", ANSI256: "110", ANSI: "12"}, {TrueColor: "#A9B5B2", ANSI256: "249", ANSI: "7"},
		{TrueColor: "#E9C46A", ANSI256: "179", ANSI: "11"}, {TrueColor: "#F08A3C", ANSI256: "208", ANSI: "3"},
		{TrueColor: "#F2664B", ANSI256: "203", ANSI: "9"}},
	Light: {
		{TrueColor: "#1F5F82", ANSI256: "24", ANSI: "4"}, {TrueColor: "#5F6B68", ANSI256: "241", ANSI: "8"},
		{TrueColor: "#7A5200", ANSI256: "94", ANSI: "3"}, {TrueColor: "#A8480A", ANSI256: "130", ANSI: "1"},
		{TrueColor: "#A3240F", ANSI256: "124", ANSI: "9"}},
}

// New makes the look for a profile. profile Ascii means no colour and no attributes at all.
func New(profile termenv.Profile, theme Theme, unicode bool) *Look {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(profile)
	r.SetHasDarkBackground(theme == Dark)
	p := palettes[theme]
	s := func(c lipgloss.CompleteColor) lipgloss.Style { return r.NewStyle().Foreground(c) }
	l := &Look{
		profile: profile, Theme: theme, Colour: profile != termenv.Ascii, Unicode: unicode,
		Chalk: s(p.chalk), Dim: s(p.dim), Strong: s(p.chalk).Bold(true), Title: s(p.chalk).Bold(true), Key: s(p.key).Bold(true),
		Rule: s(p.rule), Hot: s(p.hot).Bold(true), Warn: s(p.warn), Bad: s(p.bad).Bold(true), Cool: s(p.cool),
		Mark: r.NewStyle().Foreground(p.markFG).Background(p.markBG).Bold(true),
	}
	for i := range l.Heat {
		l.Heat[i] = s(heat[theme][i])
	}
	if unicode {
		l.Signs = Signs{Done: "✓", Next: "▸", Open: "·", Spoiled: "×", Warn: "!", Bad: "‼", Point: "◂", Bullet: "•", Rest: "≈", Arc: "*",
			Horizontal: "─", Vertical: "│", Cross: "┼", Slash: "╱", Back: "╲", Full: "█", Shade: "▒", Light: "░", Times: "×", Degree: "°",
			HalfUp: "▀", Ramp: []string{"·", "░", "▒", "▓", "█"}}
	} else {
		l.Signs = Signs{Done: "x", Next: ">", Open: ".", Spoiled: "X", Warn: "!", Bad: "!!", Point: "<", Bullet: "*", Rest: "~", Arc: "*",
			Horizontal: "-", Vertical: "|", Cross: "+", Slash: "/", Back: "\\", Full: "#", Shade: "%", Light: ":", Times: "x", Degree: " deg",
			HalfUp: "\"", Ramp: []string{".", ":", "+", "%", "#"}}
	}
	return l
}

// Same tells whether two looks are alike.
func (l *Look) Same(m *Look) bool {
	return l.profile == m.profile && l.Theme == m.Theme && l.Unicode == m.Unicode
}
