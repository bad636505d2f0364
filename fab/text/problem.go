package text

import (
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/rivo/uniseg"
)

// Severity tells how much a problem matters.
type Severity string

const (
	Error   Severity = "error"   // the job cannot be built as written
	Warning Severity = "warning" // it can, but something looks wrong
	Caution Severity = "caution" // a hazard, or a limit of the computation
)

// Codes of the problems that this package finds. Other rooms add their own.
const (
	CodeSyntax    = "syntax"        // not TOML
	CodeTooMuch   = "too-much"      // a limit of size, depth, length or number
	CodeUnknown   = "unknown-key"   // a key or table that means nothing
	CodeMissing   = "missing-key"   // a key that is needed
	CodeType      = "wrong-type"    // text where a list belongs, and the like
	CodeValue     = "bad-value"     // a value that cannot be
	CodeName      = "unknown-name"  // a name that nothing has
	CodeDuplicate = "duplicate"     // a name given twice
	CodeConflict  = "conflict"      // keys that exclude each other
	CodeLater     = "not-yet"       // a table of the contract that this version does not read
	CodeOurs      = "our-own-fault" // the scanner and the TOML library disagree
)

// Problem is one thing that is wrong, or looks wrong, and where.
type Problem struct {
	Code     string
	Severity Severity
	File     string // the file's name as the user gave it; "" where there is none
	Line     int    // from 1; 0 where it concerns no line
	Column   int    // in characters from 1
	Key      string // dotted path, such as rectangle[2].width
	Message  string // what is wrong and what would be right
	Quote    string // the source line and a caret under the place, without colour
}

// Where is the place in one line: "job.toml:12: rectangle.width".
func (p Problem) Where() string {
	var parts []string
	file := Clean(p.File)
	switch {
	case file != "" && p.Line > 0:
		parts = append(parts, fmt.Sprintf("%s:%d", file, p.Line))
	case file != "":
		parts = append(parts, file)
	case p.Line > 0:
		parts = append(parts, fmt.Sprintf("line %d", p.Line))
	}
	if p.Key != "" {
		parts = append(parts, Clean(p.Key))
	}
	return strings.Join(parts, ": ")
}

// String is the short form: "job.toml:12: rectangle.width: what is wrong".
func (p Problem) String() string {
	s := Clean(p.Message)
	if p.Severity == Warning || p.Severity == Caution {
		s = string(p.Severity) + ": " + s
	}
	if w := p.Where(); w != "" {
		return w + ": " + s
	}
	return s
}

// Long is the short form with the source line and a caret below it.
func (p Problem) Long() string {
	if p.Quote == "" {
		return p.String()
	}
	return p.String() + "\n" + p.Quote
}

// SortProblems orders problems by file (in the order given), line, column;
// equal places keep the order in which they were found.
func SortProblems(ps []Problem, files ...string) {
	rank := func(f string) int {
		for i, n := range files {
			if n == f {
				return i
			}
		}
		return len(files)
	}
	sort.SliceStable(ps, func(i, j int) bool {
		a, b := ps[i], ps[j]
		if x, y := rank(a.File), rank(b.File); x != y {
			return x < y
		}
		if a.File != b.File {
			return a.File < b.File
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Column < b.Column
	})
}

// HasErrors tells whether any of the problems is an error.
func HasErrors(ps []Problem) bool {
	for _, p := range ps {
		if p.Severity == Error {
			return true
		}
	}
	return false
}

// quoteWidth is how much of a source line a quote shows, in cells.
const quoteWidth = 72

// quote shows a line of the document with a caret under the span from..to
// (byte offsets). Long lines are cut to a window around the place.
func (d *Doc) quote(from, to int) string {
	line, _ := d.Position(from)
	a, b := d.lineBounds(line)
	from = min(max(from, a), b)
	to = min(max(to, from), b)
	// Work on a window of bytes, so that a line of a megabyte costs nothing.
	lo, hi := max(a, from-200), min(b, to+200)
	for lo > a && lo < from && !utf8.RuneStart(d.src[lo]) {
		lo++
	}
	for hi < b && hi > to && !utf8.RuneStart(d.src[hi]) {
		hi--
	}
	show := func(p []byte) string { return Clean(strings.ReplaceAll(string(p), "\t", " ")) }
	before, at, after := show(d.src[lo:from]), show(d.src[from:to]), show(d.src[to:hi])
	cutLeft := lo > a
	for uniseg.StringWidth(before) > quoteWidth*2/3 {
		_, n := utf8.DecodeRuneInString(before)
		before, cutLeft = before[n:], true
	}
	if cutLeft {
		before = "..." + before
	} else {
		before = strings.TrimLeft(before, " ")
	}
	num := fmt.Sprintf("%d", line)
	text := trimCells(before+at+after, quoteWidth)
	width := max(1, min(uniseg.StringWidth(at), quoteWidth-uniseg.StringWidth(before)))
	return fmt.Sprintf("  %s | %s\n  %s | %s%s", num, text,
		strings.Repeat(" ", len(num)),
		strings.Repeat(" ", uniseg.StringWidth(before)), strings.Repeat("^", width))
}

func trimCells(s string, cells int) string {
	s = strings.TrimRight(s, " ")
	if uniseg.StringWidth(s) <= cells {
		return s
	}
	var b strings.Builder
	state, w := -1, 0
	for len(s) > 0 {
		var c string
		var n int
		c, s, n, state = uniseg.FirstGraphemeClusterInString(s, state)
		if w+n > cells-3 {
			break
		}
		b.WriteString(c)
		w += n
	}
	return b.String() + "..."
}
