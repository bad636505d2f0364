package text

import (
	"bytes"
	"errors"
	"fmt"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// Parse reads a TOML file. name is what the user called it, for messages.
// The document is nil where the text is not TOML or is beyond a limit; the
// problems then say where and what would be right. Time and memory are
// linear in the size of the file.
func Parse(name string, data []byte) (*Doc, []Problem) {
	d := &Doc{Name: name, src: data}
	d.Root = &Table{doc: d}
	if len(data) > MaxBytes {
		d.src = nil
		return nil, []Problem{d.problem(CodeTooMuch, "", 0, 0,
			fmt.Sprintf("the file is larger than 1 MB (%d bytes); a job is a few kilobytes", len(data)))}
	}
	d.src = bytes.Clone(data)
	if bytes.HasPrefix(d.src, []byte("\xef\xbb\xbf")) {
		d.bom = 3
	}
	d.lines = append(d.lines, 0)
	for i, c := range d.src {
		if c == '\n' {
			if len(d.lines) == 1 {
				d.crlf = i > 0 && d.src[i-1] == '\r'
			}
			d.lines = append(d.lines, i+1)
		}
	}
	if err := d.checkBytes(); err != nil {
		return nil, []Problem{d.problem(err.code, "", err.from, err.to, err.message)}
	}
	s := &scanner{src: d.src, pos: d.bom, doc: d}
	ours := s.document()
	if ours != nil && ours.code == CodeTooMuch {
		return nil, []Problem{d.problem(ours.code, "", ours.from, ours.to, ours.message)}
	}
	// Where the scanner stopped, the rest of the text is beyond its limits on
	// depth, so the judge gets only a little more than the scanner saw.
	text := d.src
	if ours != nil {
		text = text[:min(len(text), max(ours.to, s.pos)+4096)]
		for len(text) > 0 && !utf8.Valid(text[max(0, len(text)-4):]) && len(text) > max(ours.to, s.pos) {
			text = text[:len(text)-1]
		}
	}
	_, theirs := judge(text)
	switch {
	case ours == nil && len(s.clashes) > 0:
		// The library lets some of these pass and keeps only one of the two
		// values, or lets an inline table be extended, which TOML forbids.
		var ps []Problem
		for _, c := range s.clashes[:min(len(s.clashes), MaxProblems)] {
			ps = append(ps, d.problem(c.code, "", c.from, c.to, c.message))
		}
		return nil, ps
	case theirs == nil && ours == nil:
		return d, nil
	case theirs == nil:
		return nil, []Problem{d.problem(CodeOurs, "", ours.from, ours.to,
			"this is valid TOML, but this program's own reader stumbles over it; please write it more simply ("+ours.message+")")}
	case ours != nil:
		return nil, []Problem{d.problem(ours.code, "", ours.from, ours.to, ours.message)}
	}
	return nil, []Problem{d.verdict(theirs)}
}

// checkBytes refuses what no TOML text may hold anywhere.
func (d *Doc) checkBytes() *scanError {
	src := d.src
	bad := func(at, n int, format string, args ...any) *scanError {
		return &scanError{from: at, to: at + n, code: CodeSyntax, message: fmt.Sprintf(format, args...)}
	}
	if bytes.HasPrefix(src, []byte("\xff\xfe")) || bytes.HasPrefix(src, []byte("\xfe\xff")) {
		return bad(0, 1, "the file is in UTF-16; save it as UTF-8")
	}
	for i := d.bom; i < len(src); {
		c := src[i]
		switch {
		case c == '\r' && (i+1 == len(src) || src[i+1] != '\n'):
			return bad(i, 1, "a lone carriage return; line ends are LF or CR LF")
		case c == 0:
			return bad(i, 1, "a zero byte; this is no text file, or one in UTF-16: save it as UTF-8")
		case c < 0x20 && c != '\t' && c != '\n' && c != '\r' || c == 0x7f:
			return bad(i, 1, `a control character (\x%02x); take it out, or write it \u%04x inside quotation marks`, c, c)
		case c >= 0x80:
			r, n := utf8.DecodeRune(src[i:])
			if r == utf8.RuneError && n == 1 {
				return bad(i, 1, `the byte \x%02x is not UTF-8; save the file as UTF-8`, c)
			}
			i += n
			continue
		}
		i++
	}
	return nil
}

// judge asks the TOML library whether the text is TOML. The library's own
// panics ("BUG: ...") become errors: a bad file must not end the program.
func judge(src []byte) (m map[string]any, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%v", r)
		}
	}()
	_, err = toml.Decode(string(src), &m)
	return m, err
}

// verdict passes on the judge's refusal where the scanner saw no fault.
func (d *Doc) verdict(err error) Problem {
	var pe toml.ParseError
	if !errors.As(err, &pe) {
		return d.problem(CodeSyntax, "", d.bom, d.bom, "this is not TOML: "+Short(err.Error(), 200))
	}
	// The library counts from behind the byte order mark.
	from := min(max(pe.Position.Start+d.bom, d.bom), len(d.src))
	to := min(from+max(1, pe.Position.Len), len(d.src))
	return d.problem(CodeSyntax, "", from, to, Short(pe.Message, 200))
}
