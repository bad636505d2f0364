package look

import "github.com/muesli/termenv"

// Auto is the choice that leaves a matter to the terminal or the locale.
const Auto = "auto"

// Grounds gives what may be chosen of the ground, the usual first.
func Grounds() []string { return []string{Auto, "dark", "light"} }

// Colours gives what may be chosen of the colours.
func Colours() []string { return []string{Auto, "none", "16", "256", "true"} }

// SignSets gives what may be chosen of the signs.
func SignSets() []string { return []string{Auto, "unicode", "ascii"} }

// Choice is what the user wants of the look; the zero value leaves all to the terminal.
type Choice struct{ Ground, Colour, Signs string }

// Found is what is known of the terminal and the locale.
type Found struct {
	Profile termenv.Profile
	Ground  Theme // as the terminal answered, or a guess
	Unicode bool
}

// Made gives the look of a choice on this terminal.
func (c Choice) Made(f Found) *Look {
	switch c.Ground {
	case "dark":
		f.Ground = Dark
	case "light":
		f.Ground = Light
	}
	switch c.Colour {
	case "none":
		f.Profile = termenv.Ascii
	case "16":
		f.Profile = termenv.ANSI
	case "256":
		f.Profile = termenv.ANSI256
	case "true":
		f.Profile = termenv.TrueColor
	}
	switch c.Signs {
	case "unicode":
		f.Unicode = true
	case "ascii":
		f.Unicode = false
	}
	return New(f.Profile, f.Ground, f.Unicode)
}

// GroundOf tells the theme that goes with a background colour, its parts from 0 to 1: dark where white writing on it has
// the greater contrast (WCAG 2.2, "contrast ratio").
func GroundOf(r, g, b float64) Theme {
	y := Luminance(r, g, b)
	if (1.05)/(y+0.05) >= (y+0.05)/0.05 {
		return Dark
	}
	return Light
}
