package text

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func TestClean(t *testing.T) {
	for _, c := range []struct{ reason, in, want string }{
		{"plain text stays", `rail 2-1/2" x 1`, `rail 2-1/2" x 1`},
		{"letters of all scripts stay", "Brücke 梁 балка", "Brücke 梁 балка"},
		{"combining marks stay on their letter", "e\u0301", "e\u0301"},
		{"an escape sequence shows", "a\x1b[31mb", `a\x1b[31mb`},
		{"so does the one-byte form of it", "a\u009b31m", `a\u009b31m`},
		{"line ends and tabs", "a\r\n\tb", `a\r\n\tb`},
		{"bidirectional override", "rail\u202egnp.exe", `rail\u202egnp.exe`},
		{"bidirectional isolate", "\u2066x\u2069", `\u2066x\u2069`},
		{"zero width space", "a\u200bb", `a\u200bb`},
		{"line separator", "a\u2028b", `a\u2028b`},
		{"no-break space", "a\u00a0b", `a\u00a0b`},
		{"a tag character", "a\U000e0041", `a\U000e0041`},
		{"a variation selector", "a\ufe0f", `a\ufe0f`},
		{"a filler that is a letter in name only", "a\u3164", `a\u3164`},
		{"private use", "\ue000", `\ue000`},
		{"bytes that are no UTF-8", "a\xff\xc3", `a\xff\xc3`},
		{"a mark without a letter", "\u0301a", `\u0301a`},
		{"delete", "a\x7f", `a\x7f`},
		{"a tower of marks ends", "e" + strings.Repeat("\u0301", 8), "e" + strings.Repeat("\u0301", 6) + `\u0301` + "\u0301"},
	} {
		if got := Clean(c.in); got != c.want {
			t.Errorf("%s: %q, want %q", c.reason, got, c.want)
		}
	}
}

func checkClean(t *testing.T, in string) {
	t.Helper()
	out := Clean(in)
	if !utf8.ValidString(out) {
		t.Fatalf("%q gives %q: not UTF-8", in, out)
	}
	for _, r := range out {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Bidi_Control, r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) {
			t.Fatalf("%q gives %q with %U in it", in, out, r)
		}
	}
	if again := Clean(out); again != out {
		t.Fatalf("%q gives %q, and that gives %q", in, out, again)
	}
	if short := Short(in, 20); utf8.RuneCountInString(short) > 20 {
		t.Fatalf("Short(%q) gives %q", in, short)
	}
}

func FuzzClean(f *testing.F) {
	for _, s := range []string{"rail", "\x1b]0;x\x07", "\u202e\u0301\u0301", "\xff\xfe", "e\u0301\u0301\u0301\u0301\u0301\u0301\u0301\u0301", "\U0001F468\u200d\U0001F469"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { checkClean(t, s) })
}

func TestNearest(t *testing.T) {
	keys := []string{"width", "length", "section", "stand", "set", "at", "corner", "count", "gap"}
	for _, c := range []struct{ word, want string }{
		{"widht", "width"}, {"lenght", "length"}, {"Section", "section"}, {"secti", "section"}, {"inch", ""}, {"standing", "stand"}, {"sectoin", "section"},
		{"corners", "corner"}, {"colour", ""}, {"x", ""}, {"", ""}, {"width", ""}, {strings.Repeat("w", 500), ""},
	} {
		if got := Nearest(c.word, keys); got != c.want {
			t.Errorf("%q: %q, want %q", c.word, got, c.want)
		}
	}
	if got := List([]string{"a", "b", "c"}); got != "a, b or c" {
		t.Error(got)
	}
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"ab", "ba", 1}, {"", "abc", 3}, {"same", "same", 0}, {"ca", "abc", 3}} {
		if got := distance([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("%s to %s: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}
