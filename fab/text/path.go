package text

import (
	"fmt"
	"strconv"
	"strings"
)

// Step is one part of a Path: a key, and where it names one of several
// tables or values, which (from 1; 0: the key's value as a whole).
type Step struct {
	Key   string
	N     int
	inner bool // no key of its own: a list inside a list
}

// Path leads from the top of the document to a key, a table, or one of an
// array's tables or values: rectangle[2].width.
type Path []Step

// At makes a path from keys and numbers: At("rectangle", 2, "width"). It
// panics on other types and on a number without a key before it: a fault of
// the caller's code.
func At(parts ...any) Path {
	var p Path
	for _, x := range parts {
		switch x := x.(type) {
		case string:
			p = append(p, Step{Key: x})
		case int:
			if len(p) == 0 {
				panic("text.At: number without a key before it")
			}
			p[len(p)-1].N = x
		default:
			panic(fmt.Sprintf("text.At: %T", x))
		}
	}
	return p
}

// Child is the path of a key below p.
func (p Path) Child(key string) Path {
	return append(append(make(Path, 0, len(p)+1), p...), Step{Key: key})
}

// Nth is the path of the n-th table or value (from 1) of p.
func (p Path) Nth(n int) Path {
	q := append(Path(nil), p...)
	last := &q[len(q)-1]
	if last.N != 0 { // an array in an array: the step without a key
		return append(q, Step{N: n, inner: true})
	}
	last.N = n
	return q
}

// String spells the path: rectangle[2].width; keys that are not bare are
// quoted as TOML quotes them.
func (p Path) String() string {
	var b strings.Builder
	for i, s := range p {
		if !s.inner {
			if i > 0 {
				b.WriteByte('.')
			}
			b.WriteString(SpellKey(s.Key))
		}
		if s.N > 0 {
			fmt.Fprintf(&b, "[%d]", s.N)
		}
	}
	return b.String()
}

// ParsePath reads what String spells.
func ParsePath(s string) (Path, error) {
	var p Path
	bad := func() (Path, error) {
		return nil, fmt.Errorf("%q is not a path; write it like rectangle[2].width", Short(s, 60))
	}
	sc := scanner{src: []byte(s)}
	for {
		key, err := sc.keyPart()
		if err != nil {
			return bad()
		}
		p = append(p, Step{Key: key})
		for sc.pos < len(s) && s[sc.pos] == '[' {
			end := strings.IndexByte(s[sc.pos:], ']')
			if end < 0 {
				return bad()
			}
			n, err := strconv.Atoi(s[sc.pos+1 : sc.pos+end])
			if err != nil || n < 1 {
				return bad()
			}
			if p[len(p)-1].N == 0 {
				p[len(p)-1].N = n
			} else {
				p = append(p, Step{N: n, inner: true})
			}
			sc.pos += end + 1
		}
		if sc.pos == len(s) {
			return p, nil
		}
		if s[sc.pos] != '.' {
			return bad()
		}
		sc.pos++
	}
}

// SpellKey writes a key as TOML needs it: bare where it can be.
func SpellKey(key string) string {
	if key != "" {
		bare := true
		for i := 0; i < len(key) && bare; i++ {
			bare = bareByte(key[i])
		}
		if bare {
			return key
		}
	}
	return Quote(key)
}

func bareByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_' || c == '-'
}

// Quote writes text as a TOML string. A text with inch or quotation marks and
// nothing that needs escaping becomes a literal string ('8"'), as people
// write it.
func Quote(s string) string {
	s = strings.ToValidUTF8(s, "\ufffd")
	literal := strings.ContainsAny(s, `"\`)
	for _, r := range s {
		if r == '\'' || r < 0x20 || r == 0x7f {
			literal = false
		}
	}
	if literal {
		return "'" + s + "'"
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"':
			b.WriteString(`\"`)
		case r == '\\':
			b.WriteString(`\\`)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r == '\r':
			b.WriteString(`\r`)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
