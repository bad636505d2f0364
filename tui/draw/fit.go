package draw

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Fit gives exactly h lines of exactly w cells: longer lines are cut, shorter ones filled, missing ones added. A view that
// is taller than its window would lose its top lines.
func Fit(lines []string, w, h int) []string {
	out := make([]string, h)
	for i := range out {
		line := ""
		if i < len(lines) {
			line = lines[i]
		}
		out[i] = FitLine(line, w)
	}
	return out
}

// FitLine cuts or fills one line to w cells; escape sequences count as nothing.
func FitLine(line string, w int) string {
	n := ansi.StringWidth(line)
	if n > w {
		line = ansi.Truncate(line, w, "")
		n = ansi.StringWidth(line)
	}
	if n < w {
		line += strings.Repeat(" ", w-n)
	}
	return line
}

// Wrap breaks plain text into lines of at most w cells at blanks.
func Wrap(s string, w int) []string {
	if w < 1 {
		return nil
	}
	return strings.Split(ansi.Wrap(s, w, " "), "\n")
}

// Columns puts two blocks side by side with a gap, the left one filled to its width.
func Columns(left, right []string, leftWidth, gap int) []string {
	n := max(len(left), len(right))
	out := make([]string, n)
	for i := range out {
		var a, b string
		if i < len(left) {
			a = left[i]
		}
		if i < len(right) {
			b = right[i]
		}
		out[i] = FitLine(a, leftWidth) + strings.Repeat(" ", gap) + b
	}
	return out
}
