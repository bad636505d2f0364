// Package draw turns numbers, strokes and sticks into rows of characters: block digits that are read from two steps away,
// braille lines for the frame, sticks to scale. It knows no state and no keys; colours come in as styles.
package draw

import "strings"

// glyphs are five rows high; a blank is off, anything else on.
var glyphs = map[rune][5]string{
	'0':  {"####", "#  #", "#  #", "#  #", "####"},
	'1':  {" ## ", "  # ", "  # ", "  # ", " ###"},
	'2':  {"####", "   #", "####", "#   ", "####"},
	'3':  {"####", "   #", " ###", "   #", "####"},
	'4':  {"#  #", "#  #", "####", "   #", "   #"},
	'5':  {"####", "#   ", "####", "   #", "####"},
	'6':  {"####", "#   ", "####", "#  #", "####"},
	'7':  {"####", "   #", "  # ", " #  ", " #  "},
	'8':  {"####", "#  #", "####", "#  #", "####"},
	'9':  {"####", "#  #", "####", "   #", "####"},
	'/':  {"    #", "   # ", "  #  ", " #   ", "#    "},
	'-':  {"   ", "   ", "###", "   ", "   "},
	'+':  {"     ", "  #  ", "#####", "  #  ", "     "},
	'.':  {"  ", "  ", "  ", "  ", "##"},
	':':  {"  ", "##", "  ", "##", "  "},
	'"':  {"# #", "# #", "   ", "   ", "   "},
	'\'': {"#", "#", " ", " ", " "},
	'°':  {"###", "# #", "###", "   ", "   "},
	' ':  {"  ", "  ", "  ", "  ", "  "},
	'm':  {"     ", "     ", "#####", "# # #", "# # #"},
	's':  {"    ", "    ", "####", "##  ", " ###"},
	'%':  {"#   #", "   # ", "  #  ", " #   ", "#   #"},
}

// Digits gives text in block digits, five rows; on is the character of a lit cell. Characters that have no block form are
// written small on the middle row.
func Digits(text string, on rune) []string {
	rows := make([]strings.Builder, 5)
	for i, r := range []rune(text) {
		if i > 0 {
			for k := range rows {
				rows[k].WriteByte(' ')
			}
		}
		g, ok := glyphs[r]
		if !ok {
			g = [5]string{" ", " ", string(r), " ", " "}
			for k := range rows {
				rows[k].WriteString(g[k])
			}
			continue
		}
		for k := range rows {
			for _, c := range g[k] {
				if c == ' ' {
					rows[k].WriteByte(' ')
				} else {
					rows[k].WriteRune(on)
				}
			}
		}
	}
	out := make([]string, 5)
	for k := range rows {
		out[k] = rows[k].String()
	}
	return out
}

// DigitsWidth is the width of Digits(text) in cells.
func DigitsWidth(text string) int {
	w := 0
	for i, r := range []rune(text) {
		if i > 0 {
			w++
		}
		if g, ok := glyphs[r]; ok {
			w += len([]rune(g[0]))
		} else {
			w++
		}
	}
	return w
}

// SmallDigits gives text three rows high out of half blocks: for narrow windows. Only where the terminal has Unicode.
func SmallDigits(text string) []string {
	big := Digits(text, '#')
	rows := make([]string, 3)
	for k := range rows {
		top := []rune(big[2*k])
		var low []rune
		if 2*k+1 < len(big) {
			low = []rune(big[2*k+1])
		}
		var b strings.Builder
		for i := range top {
			up, down := top[i] != ' ', i < len(low) && low[i] != ' '
			switch {
			case up && down:
				b.WriteRune('█')
			case up:
				b.WriteRune('▀')
			case down:
				b.WriteRune('▄')
			default:
				b.WriteByte(' ')
			}
		}
		rows[k] = b.String()
	}
	return rows
}

// Twice doubles rows of block digits in both directions, for a bare screen that is read from across the shop.
func Twice(rows []string) []string {
	out := make([]string, 0, 2*len(rows))
	for _, r := range rows {
		var b strings.Builder
		for _, c := range r {
			b.WriteRune(c)
			b.WriteRune(c)
		}
		out = append(out, b.String(), b.String())
	}
	return out
}
