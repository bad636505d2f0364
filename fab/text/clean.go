package text

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxMarks is how many combining marks may follow one another: no script
// needs more, and towers of them overwrite neighbouring lines of a screen.
const maxMarks = 6

// Clean makes text from a file fit to be shown on a terminal: letters,
// combining marks, digits, punctuation, symbols and spaces stay; everything
// that moves the cursor, hides or turns text (control characters, escape
// sequences, bidirectional and invisible marks, line separators, bytes that
// are not UTF-8) is replaced by a visible spelling such as \x1b or \u202e.
// The result is valid UTF-8 on one line, and cleaning it again changes
// nothing. Character classes: Unicode general categories (UAX #44).
func Clean(s string) string {
	if plain(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s) + 16)
	marks := 0
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			fmt.Fprintf(&b, `\x%02x`, s[i])
			marks = 0
		case unicode.Is(unicode.M, r) && !hidden(r):
			// A mark with no letter before it would sit on our own text.
			if b.Len() > 0 && marks < maxMarks {
				b.WriteString(s[i : i+n])
				marks++
			} else {
				escape(&b, r)
				marks = 0
			}
		case !unicode.IsGraphic(r) || hidden(r):
			escape(&b, r)
			marks = 0
		default:
			b.WriteString(s[i : i+n])
			marks = 0
		}
		i += n
	}
	return b.String()
}

func plain(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < 0x20 || s[i] > 0x7e {
			return false
		}
	}
	return true
}

// hidden tells characters that count as graphic but show nothing, or that
// change how wide the character before them is shown.
func hidden(r rune) bool {
	switch {
	case r == 0x034f, r == 0x115f, r == 0x1160, r == 0x17b4, r == 0x17b5,
		r == 0x2800, r == 0x3164, r == 0xffa0:
		return true
	case r >= 0x180b && r <= 0x180f, r >= 0xfe00 && r <= 0xfe0f, r >= 0xe0000 && r <= 0xe0fff:
		return true
	case r == 0xfffd:
		return false
	}
	return unicode.Is(unicode.Zs, r) && r != ' ' && r != 0x3000
}

func escape(b *strings.Builder, r rune) {
	switch {
	case r == '\n':
		b.WriteString(`\n`)
	case r == '\t':
		b.WriteString(`\t`)
	case r == '\r':
		b.WriteString(`\r`)
	case r < 0x80:
		fmt.Fprintf(b, `\x%02x`, r)
	case r < 0x10000:
		fmt.Fprintf(b, `\u%04x`, r)
	default:
		fmt.Fprintf(b, `\U%08x`, r)
	}
}

// Short is Clean cut to at most n characters, with "..." where something was
// left out.
func Short(s string, n int) string {
	if len(s) > 8*n {
		s = s[:8*n] + "   "
	}
	s = Clean(s)
	if utf8.RuneCountInString(s) <= n {
		return s
	}
	r := []rune(s)
	return string(r[:max(0, n-3)]) + "..."
}
