package page

import "strings"

// PointMM is a point of type in mm (1/72 in).
const PointMM = 25.4 / 72

// leading is the distance of lines as a multiple of the type size.
const leading = 1.26

// LineMM gives the height of a line of type of a size in points.
func LineMM(size float64) float64 { return size * PointMM * leading }

// high are the characters that Windows-1252 has at 0x80 to 0x9f; 0 where it has none.
var high = [32]rune{'€', 0, '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', 0, 'Ž', 0, 0, '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', 0, 'ž', 'Ÿ'}

// Code gives the byte of a character in Windows-1252, which the core fonts of PDF hold; ok is false where it has none.
func Code(r rune) (code byte, ok bool) {
	switch {
	case r >= 0x20 && r < 0x7f, r >= 0xa0 && r <= 0xff:
		return byte(r), true
	case r < 0x80:
		return 0, false
	}
	for i, h := range high {
		if h == r {
			return byte(0x80 + i), true
		}
	}
	return 0, false
}

// WidthMM gives the width of a text in Helvetica of a size in points. Characters that the font lacks count as 0.7 em, those of
// the East Asian scripts as one em: about as wide as other fonts have them, or wider.
func WidthMM(s string, size float64, bold bool) float64 {
	table := &plainWidths
	if bold {
		table = &boldWidths
	}
	sum := 0
	for _, r := range s {
		if c, ok := Code(r); ok {
			sum += int(table[c])
		} else if r < 0x2e80 {
			sum += 700
		} else {
			sum += 1000
		}
	}
	return float64(sum) / 1000 * size * PointMM
}

// Wrap breaks a text into lines no wider than a width in mm: at each \n, between words, and within a word that is wider than
// the line. It always gives at least one line.
func Wrap(s string, size float64, bold bool, width float64) []string {
	var lines []string
	for part := range strings.SplitSeq(s, "\n") {
		lines = append(lines, wrap(part, size, bold, width)...)
	}
	return lines
}

func wrap(s string, size float64, bold bool, width float64) []string {
	var lines []string
	line, used := "", 0.0
	space := WidthMM(" ", size, bold)
	for _, word := range strings.Fields(s) {
		w := WidthMM(word, size, bold)
		if line != "" && used+space+w <= width {
			line, used = line+" "+word, used+space+w
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for w > width {
			n, taken := fitting(word, size, bold, width)
			if n == len(word) {
				break
			}
			lines = append(lines, word[:n])
			word, w = word[n:], w-taken
		}
		line, used = word, w
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// fitting gives how many bytes of a word fit a width, at least one character, and how wide they are.
func fitting(word string, size float64, bold bool, width float64) (int, float64) {
	used := 0.0
	for i, r := range word {
		w := WidthMM(string(r), size, bold)
		if used+w > width && i > 0 {
			return i, used
		}
		used += w
	}
	return len(word), used
}

// Cut shortens a text to a width, with ... where something was left out.
func Cut(s string, size float64, bold bool, width float64) string {
	if WidthMM(s, size, bold) <= width {
		return s
	}
	room := width - WidthMM("...", size, bold)
	used := 0.0
	for i, r := range s {
		w := WidthMM(string(r), size, bold)
		if used+w > room {
			return strings.TrimRight(s[:i], " ") + "..."
		}
		used += w
	}
	return s
}

// Fit gives the largest size in points, from most down to least, at which a text is no wider than a width.
func Fit(s string, most, least float64, bold bool, width float64) float64 {
	if w := WidthMM(s, most, bold); w > width {
		most = max(least, 0.999*most*width/w) // a hair less, so that rounding does not wrap it
	}
	return most
}
