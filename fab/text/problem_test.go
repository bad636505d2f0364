package text

import (
	"fmt"
	"strings"
	"testing"
)

// syntax cases: the whole long form, quote and caret included.
func TestSyntaxMessages(t *testing.T) {
	for _, c := range []struct{ src, want string }{
		{"a = 1\nwidth = 3-1/2\n", "job.toml:2: 3-1/2 is no number and no text; a text needs quotation marks: width = \"3-1/2\"\n" +
			"  2 | width = 3-1/2\n    |         ^^^^^"},
		{"pitch = 4:12 # roof", "job.toml:1: 4:12 is no number and no text; a text needs quotation marks: pitch = \"4:12\"\n" +
			"  1 | pitch = 4:12 # roof\n    |         ^^^^"},
		{"len = 8' 3\"\n", "job.toml:1: 8' 3\" is no number and no text; a text needs quotation marks: len = \"8' 3\\\"\"\n" +
			"  1 | len = 8' 3\"\n    |       ^^^^^"},
		{"size = \"8\" x 4\"", "job.toml:1: the text ends at the quotation mark before this; inches inside a text need the other quotation marks: '8\"'\n" +
			"  1 | size = \"8\" x 4\"\n    |            ^"},
		{"corner = mitre\n", "job.toml:1: mitre is no number and no text; a text needs quotation marks: corner = \"mitre\"\n" +
			"  1 | corner = mitre\n    |          ^^^^^"},
		{"kerf = .0625", "job.toml:1: .0625 is no number and no text; a text needs quotation marks: kerf = \".0625\"\n" +
			"  1 | kerf = .0625\n    |        ^^^^^"},
		{"just words\n", "job.toml:1: a line is key = value, a [table] or a # comment; this is none of them\n" +
			"  1 | just words\n    | ^^^^^^^^^^"},
		{"[saw\nkerf = 1", "job.toml:1: the table's name is not closed by \"]\"; names other than letters, digits, - and _ need quotation marks\n" +
			"  1 | [saw\n    |  ^^^"},
		{"[[saw]\n", "job.toml:1: a table that may repeat ends with two brackets: [[saw]]\n  1 | [[saw]\n    | ^^^^^^"},
		{"a = [1, 2\nb = 3", "job.toml:2: a comma is missing between two values of the list, or quotation marks around one\n  2 | b = 3\n    | ^"},
		{"a = [1, 2", "job.toml:1: the list that begins here is not closed by \"]\"\n  1 | a = [1, 2\n    |     ^"},
		{"a = {b = 1", "job.toml:1: the table that begins here is not closed by \"}\"\n  1 | a = {b = 1\n    |     ^"},
		{"[saw]\nx = 1\n\n[saw]\n", "job.toml:4: saw is already given on line 1; a table stands once, unless each is written [[saw]]\n  4 | [saw]\n    | ^^^^^"},
		{"a = \"C:\\shop\"", "job.toml:1: unknown escape; a backslash itself is written \\\\, or put the text between ' '\n  1 | a = \"C:\\shop\"\n    |        ^^"},
		{"größe = 1", "job.toml:1: a name with letters such as \u00f6 needs quotation marks\n  1 | größe = 1\n    |   ^"},
		{"a = 007", "job.toml:1: a number has no zeros in front: 007\n  1 | a = 007\n    |     ^^^"},
		{"a = 1\x1b[2J", "job.toml:1: a control character (\\x1b); take it out, or write it \\u001b inside quotation marks\n  1 | a = 1\\x1b[2J\n    |      ^^^^"},
		{"a = \"\xff\"", "job.toml:1: the byte \\xff is not UTF-8; save the file as UTF-8\n  1 | a = \"\\xff\"\n    |      ^^^^"},
		{"\xff\xfea\x00", "job.toml:1: the file is in UTF-16; save it as UTF-8\n  1 | \\xff\\xfea\\x00\n    | ^^^^"},
	} {
		_, ps := Parse("job.toml", []byte(c.src))
		if len(ps) != 1 {
			t.Errorf("%q: %d problems", c.src, len(ps))
			continue
		}
		if got := ps[0].Long(); got != c.want {
			t.Errorf("%q:\n%s\nwant\n%s", c.src, got, c.want)
		}
	}
}

func TestProblemForms(t *testing.T) {
	p := Problem{Severity: Error, File: "job\x1b.toml", Line: 12, Key: "rectangle.width", Message: "no width"}
	if got := p.String(); got != `job\x1b.toml:12: rectangle.width: no width` {
		t.Error(got)
	}
	p.Severity, p.File = Warning, ""
	if got := p.String(); got != `line 12: rectangle.width: warning: no width` {
		t.Error(got)
	}
	if got := (Problem{Severity: Error, Message: "nothing"}).String(); got != "nothing" {
		t.Error(got)
	}
	ps := []Problem{{File: "b", Line: 1}, {File: "a", Line: 9, Column: 2}, {File: "a", Line: 9, Column: 1}, {File: "z", Line: 3}, {File: "a", Line: 2}}
	SortProblems(ps, "z", "a")
	var order []string
	for _, p := range ps {
		order = append(order, fmt.Sprint(p.File, p.Line, p.Column))
	}
	if got := strings.Join(order, " "); got != "z3 0 a2 0 a9 1 a9 2 b1 0" {
		t.Error(got)
	}
}

// TestQuoteOfLongAndWideLines: the caret stands under its place, and no quote is wider than a screen of 80.
func TestQuoteOfLongAndWideLines(t *testing.T) {
	for _, src := range []string{
		"a = [" + strings.Repeat("1, ", 2000) + "x]",
		"a = [\"" + strings.Repeat("漢字", 60) + "\", x]",
		strings.Repeat(" ", 300) + "a = x",
		"a = [\"e" + strings.Repeat("\u0301", 300) + "\", x]",
		"\t\ta = x",
		"a = " + strings.Repeat("x", 100_000),
	} {
		_, ps := Parse("j", []byte(src))
		if len(ps) != 1 {
			t.Fatalf("%.30q: %v", src, ps)
		}
		l := strings.Split(ps[0].Quote, "\n")
		if len(l) != 2 {
			t.Fatalf("%q", ps[0].Quote)
		}
		// cells before the caret hold what stands before the place
		i := strings.IndexByte(l[1], '^')
		before := 0
		for _, r := range l[0] {
			if before == i {
				if r != 'x' {
					t.Errorf("%.30q: the caret stands under %q:\n%s", src, r, ps[0].Quote)
				}
				break
			}
			switch {
			case r == '\u0301':
			case r > 0x2e80:
				before += 2
			default:
				before++
			}
		}
		if i > 90 || len(l[1]) > 100 {
			t.Errorf("%.30q: the quote is too wide: %d", src, len(l[1]))
		}
	}
}
