package look

import (
	"strconv"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// luminance is the relative luminance of a colour written as #RRGGBB.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil || len(hex) != 7 {
		t.Fatalf("%q is no colour", hex)
	}
	return Luminance(float64(v>>16&255)/255, float64(v>>8&255)/255, float64(v&255)/255)
}

// ratio is the contrast ratio of two colours.
func ratio(t *testing.T, a, b string) float64 { return Contrast(luminance(t, a), luminance(t, b)) }

// TestContrast holds text to 4.5:1 against both grounds (WCAG 2.2, criterion 1.4.3), what is read first to 7:1 (1.4.6), and
// lines to 3:1 (1.4.11, graphical objects).
func TestContrast(t *testing.T) {
	grounds := [...]string{Dark: "#101418", Light: "#F4F1EA"}
	for theme, p := range palettes {
		for _, c := range []struct {
			name   string
			colour lipgloss.CompleteColor
			least  float64
		}{
			{"chalk", p.chalk, 7}, {"dim", p.dim, 4.5}, {"key", p.key, 4.5}, {"hot", p.hot, 4.5}, {"warn", p.warn, 4.5}, {"bad", p.bad, 4.5},
			{"cool", p.cool, 4.5}, {"rule", p.rule, 3},
			{"heat 1", heat[theme][0], 4.5}, {"heat 2", heat[theme][1], 4.5}, {"heat 3", heat[theme][2], 4.5}, {"heat 4", heat[theme][3], 4.5}, {"heat 5", heat[theme][4], 4.5},
		} {
			got := ratio(t, c.colour.TrueColor, grounds[theme])
			t.Logf("theme %d %-7s %s %.1f:1", theme, c.name, c.colour.TrueColor, got)
			if got < c.least {
				t.Errorf("theme %d: %s has %.2f:1, at least %.1f:1 is wanted", theme, c.name, got, c.least)
			}
		}
		if got := ratio(t, p.markFG.TrueColor, p.markBG.TrueColor); got < 7 {
			t.Errorf("theme %d: the selected row has %.2f:1", theme, got)
		}
	}
}

// TestNoColour holds that without colour nothing but plain text leaves the styles, and that each meaning has its own sign.
func TestNoColour(t *testing.T) {
	for _, unicode := range []bool{true, false} {
		l := New(termenv.Ascii, Dark, unicode)
		for i, s := range []lipgloss.Style{l.Chalk, l.Dim, l.Strong, l.Hot, l.Warn, l.Bad, l.Cool, l.Mark, l.Heat[4]} {
			if got := s.Render("x"); got != "x" {
				t.Errorf("style %d writes %q without colour", i, got)
			}
		}
		seen := map[string]string{}
		for name, sign := range map[string]string{"done": l.Signs.Done, "open": l.Signs.Open, "spoiled": l.Signs.Spoiled, "warn": l.Signs.Warn, "bad": l.Signs.Bad, "next": l.Signs.Next, "rest": l.Signs.Rest} {
			if seen[sign] != "" {
				t.Errorf("%s and %s share the sign %q", name, seen[sign], sign)
			}
			seen[sign] = name
		}
	}
}
