package text

import (
	"fmt"
	"unicode"
	"unicode/utf8"
)

// scanner finds where the keys and values of a TOML text stand. It reads all
// of TOML 1.0 and what TOML 1.1 adds (line ends and a last comma in inline
// tables, \e and \x escapes, times without seconds). It is lenient where only
// the order of definitions is wrong: that is for the judge to say.
type scanner struct {
	src     []byte
	pos     int
	doc     *Doc
	depth   int
	entries int
	clashes []scanError // keys defined twice, in order
	marks   []keyMark   // where each part of each key is written
	marking bool        // whether marks are wanted
}

// keyMark is one part of a key as it is written somewhere.
type keyMark struct {
	path     Path
	from, to int
}

func (s *scanner) mark(p Path, span [2]int) {
	if s.marking {
		s.marks = append(s.marks, keyMark{append(Path(nil), p...), span[0], span[1]})
	}
}

// scanError is a fault of the text between two offsets.
type scanError struct {
	from, to int
	message  string
	code     string
}

func (e *scanError) Error() string { return e.message }

func (s *scanner) fail(from, to int, format string, args ...any) *scanError {
	return &scanError{from: from, to: to, code: CodeSyntax, message: fmt.Sprintf(format, args...)}
}

func (s *scanner) limit(from, to int, format string, args ...any) *scanError {
	return &scanError{from: from, to: to, code: CodeTooMuch, message: fmt.Sprintf(format, args...)}
}

func (s *scanner) peek() byte {
	if s.pos < len(s.src) {
		return s.src[s.pos]
	}
	return 0
}

func (s *scanner) blanks() {
	for s.pos < len(s.src) && (s.src[s.pos] == ' ' || s.src[s.pos] == '\t') {
		s.pos++
	}
}

// blankLines skips blanks, line ends and comments.
func (s *scanner) blankLines() {
	for s.pos < len(s.src) {
		switch s.src[s.pos] {
		case ' ', '\t', '\n', '\r':
			s.pos++
		case '#':
			s.comment()
		default:
			return
		}
	}
}

func (s *scanner) comment() {
	for s.pos < len(s.src) && s.src[s.pos] != '\n' {
		s.pos++
	}
}

// lineEnd skips blanks and a comment, and needs a line end or the file's end.
func (s *scanner) lineEnd() bool {
	s.blanks()
	if s.peek() == '#' {
		s.comment()
	}
	if s.pos == len(s.src) {
		return true
	}
	if s.src[s.pos] == '\r' && s.pos+1 < len(s.src) {
		s.pos++
	}
	if s.src[s.pos] == '\n' {
		s.pos++
		return true
	}
	return false
}

// document reads the whole text into s.doc.
func (s *scanner) document() *scanError {
	d := s.doc
	table, prefix := d.Root, Path(nil)
	for {
		s.blanks()
		if s.pos == len(s.src) {
			return nil
		}
		switch c := s.src[s.pos]; {
		case c == '\n' || c == '\r' || c == '#':
			if !s.lineEnd() {
				return s.fail(s.pos, s.pos+1, "a lone carriage return; line ends are LF or CR LF")
			}
		case c == '[':
			st, err := s.header()
			if err != nil {
				return err
			}
			table, prefix = st.table, st.path
			d.stmts = append(d.stmts, st)
		default:
			st := stmt{kind: stmtKey, table: table, key: s.pos, base: len(prefix)}
			st.start = d.lineStart(s.pos)
			e, path, err := s.keyValue(table, prefix, &st.eq)
			if err != nil {
				return err
			}
			st.entry, st.path, st.textEnd = e, path, s.pos
			if !s.lineEnd() {
				return s.trailing(e)
			}
			st.end = s.pos
			d.stmts = append(d.stmts, st)
		}
	}
}

func (d *Doc) lineStart(offset int) int {
	line, _ := d.Position(offset)
	if line == 1 {
		return d.bom
	}
	return d.lines[line-1]
}

// trailing words what is wrong after a value: most often quotes are missing.
func (s *scanner) trailing(e *Entry) *scanError {
	v := e.Value
	from := s.pos
	rest := s.restOfLine(v.start)
	if v.Kind == Integer || v.Kind == Float || v.Kind == Time || v.Kind == Bool {
		return s.fail(v.start, v.start+len(rest), "%s needs quotation marks: %s = %s",
			Short(rest, 40), Short(SpellKey(e.Key), 40), Short(Quote(rest), 42))
	}
	if v.Kind == String && s.src[v.start] == '"' {
		return s.fail(from, from+1, "the text ends at the quotation mark before this; "+
			`inches inside a text need the other quotation marks: '8"'`)
	}
	return s.fail(from, from+len(s.restOfLine(from)), "only a comment (#) may follow on the same line")
}

// restOfLine is what stands from an offset up to a comment or the line's end.
func (s *scanner) restOfLine(from int) string {
	to := from
	for to < len(s.src) && to-from < 400 && s.src[to] != '\n' && s.src[to] != '\r' && s.src[to] != '#' {
		to++
	}
	for to > from && (s.src[to-1] == ' ' || s.src[to-1] == '\t') {
		to--
	}
	return string(s.src[from:to])
}

// header reads [a.b] or [[a.b]] and opens its table.
func (s *scanner) header() (stmt, *scanError) {
	st := stmt{kind: stmtTable, start: s.doc.lineStart(s.pos), key: s.pos}
	from := s.pos
	s.pos++
	if s.peek() == '[' {
		s.pos++
		st.kind = stmtArrayTable
	}
	keys, spans, err := s.keys(']')
	if err != nil {
		return st, err
	}
	s.pos++ // the "]" that keys stopped at
	if st.kind == stmtArrayTable {
		if s.peek() != ']' {
			return st, s.fail(from, s.pos, "a table that may repeat ends with two brackets: [[%s]]", Short(keys[0], 40))
		}
		s.pos++
	}
	st.textEnd = s.pos
	if err := s.count(from); err != nil {
		return st, err
	}
	table, path, err := s.walk(s.doc.Root, nil, keys[:len(keys)-1], spans, formImplicit)
	if err != nil {
		return st, err
	}
	key := keys[len(keys)-1]
	path = path.Child(key)
	s.mark(path, spans[len(keys)-1])
	if err := s.pathLimit(path, from); err != nil {
		return st, err
	}
	e := table.Get(key)
	opened := &Table{doc: s.doc, form: formHeader, start: from, end: s.pos}
	value := &Value{Kind: TableKind, Table: opened, start: from, end: s.pos, doc: s.doc}
	switch {
	case st.kind == stmtArrayTable && e != nil && e.Value.Kind == Array && e.Value.Headed:
		e.Value.Items = append(e.Value.Items, value)
		path = path.Nth(len(e.Value.Items))
	case st.kind == stmtArrayTable:
		if e != nil {
			s.clash(from, s.pos, path, e)
		}
		table.add(&Entry{Key: key, keyStart: spans[len(keys)-1][0], keyEnd: spans[len(keys)-1][1], defined: true, stmt: len(s.doc.stmts),
			Value: &Value{Kind: Array, Headed: true, Items: []*Value{value}, start: from, end: s.pos, doc: s.doc}})
		path = path.Nth(1)
	case e != nil && e.Value.Kind == TableKind:
		if e.defined || e.Value.Table.form == formDotted || e.Value.Table.form == formInline {
			s.clash(from, s.pos, path, e)
		}
		opened = e.Value.Table
		if opened.form == formImplicit {
			opened.form, opened.start, opened.end = formHeader, from, s.pos
			e.Value.start, e.Value.end = from, s.pos
		}
		e.defined, e.stmt = true, len(s.doc.stmts)
	default:
		if e != nil {
			s.clash(from, s.pos, path, e)
		}
		table.add(&Entry{Key: key, keyStart: spans[len(keys)-1][0], keyEnd: spans[len(keys)-1][1],
			defined: true, stmt: len(s.doc.stmts), Value: value})
	}
	st.table, st.path = opened, path
	if !s.lineEnd() {
		return st, s.fail(s.pos, s.pos+len(s.restOfLine(s.pos)), "only a comment (#) may follow a table's name; its keys go on lines of their own")
	}
	st.end = s.pos
	return st, nil
}

// clash notes a key that is defined twice.
func (s *scanner) clash(from, to int, path Path, first *Entry) {
	line, _ := s.doc.Position(first.keyStart)
	once := "each key stands once"
	if s.src[from] == '[' {
		once = fmt.Sprintf("a table stands once, unless each is written [[%s]]", Short(SpellKey(path[len(path)-1].Key), 40))
	}
	s.clashes = append(s.clashes, scanError{from: from, to: to, code: CodeDuplicate,
		message: fmt.Sprintf("%s is already given on line %d; %s", Short(path.String(), 80), line, once)})
}

func (s *scanner) count(from int) *scanError {
	if s.entries++; s.entries > MaxEntries {
		return s.limit(from, from+1, "more than %d keys and values; split the job", MaxEntries)
	}
	return nil
}

func (s *scanner) pathLimit(p Path, from int) *scanError {
	n := 0
	for _, k := range p {
		n += len(k.Key) + 1
	}
	if len(p) > MaxDepth {
		return s.limit(from, from+1, "tables more than %d deep; a job needs three", MaxDepth)
	}
	if n > MaxPathLength {
		return s.limit(from, from+1, "the names of this table and its keys are longer than %d characters together", MaxPathLength)
	}
	return nil
}

// walk goes down from a table along keys, making tables that are not there.
func (s *scanner) walk(t *Table, prefix Path, keys []string, spans [][2]int, f form) (*Table, Path, *scanError) {
	path := append(make(Path, 0, len(prefix)+len(keys)+1), prefix...)
	for i, k := range keys {
		path = append(path, Step{Key: k})
		s.mark(path, spans[i])
		e := t.Get(k)
		switch {
		case e != nil && e.Value.Kind == TableKind:
			if sub := e.Value.Table; sub.form == formInline ||
				f == formDotted && sub.form == formHeader {
				s.clash(spans[i][0], spans[i][1], path, e)
			}
			t = e.Value.Table
			continue
		case e != nil && e.Value.Kind == Array && e.Value.Headed:
			n := len(e.Value.Items)
			path[len(path)-1].N = n
			t = e.Value.Items[n-1].Table
			continue
		case e != nil:
			s.clash(spans[i][0], spans[i][1], path, e)
		}
		if err := s.count(spans[i][0]); err != nil {
			return nil, nil, err
		}
		nt := &Table{doc: s.doc, form: f, start: spans[i][0], end: spans[i][1]}
		t.add(&Entry{Key: k, keyStart: spans[i][0], keyEnd: spans[i][1], stmt: -1,
			Value: &Value{Kind: TableKind, Table: nt, start: spans[i][0], end: spans[i][1], doc: s.doc}})
		t = nt
	}
	return t, path, nil
}

// keyValue reads key = value into a table.
func (s *scanner) keyValue(t *Table, prefix Path, eq *int) (*Entry, Path, *scanError) {
	from := s.pos
	keys, spans, err := s.keys('=')
	if err != nil {
		return nil, nil, err
	}
	if eq != nil {
		*eq = s.pos
	}
	s.pos++ // the "="
	if err := s.count(from); err != nil {
		return nil, nil, err
	}
	t, path, err := s.walk(t, prefix, keys[:len(keys)-1], spans, formDotted)
	if err != nil {
		return nil, nil, err
	}
	last := len(keys) - 1
	path = append(path, Step{Key: keys[last]})
	s.mark(path, spans[last])
	if err := s.pathLimit(path, from); err != nil {
		return nil, nil, err
	}
	if old := t.Get(keys[last]); old != nil {
		s.clash(spans[last][0], spans[last][1], path, old)
	}
	e := &Entry{Key: keys[last], keyStart: spans[0][0], keyEnd: spans[last][1], defined: true,
		stmt: len(s.doc.stmts), itemStart: from}
	if e.Value, err = s.value(path, keys[last]); err != nil {
		return nil, nil, err
	}
	e.itemEnd = s.pos
	t.add(e)
	return e, path, nil
}

// keys reads a dotted key and stops at the byte that must follow it.
func (s *scanner) keys(stop byte) (keys []string, spans [][2]int, err *scanError) {
	first := s.pos
	for {
		s.blanks()
		from := s.pos
		key, err := s.keyPart()
		if err != nil {
			return nil, nil, err
		}
		if utf8.RuneCountInString(key) > MaxKeyLength {
			return nil, nil, s.limit(from, s.pos, "a name longer than %d characters", MaxKeyLength)
		}
		keys, spans = append(keys, key), append(spans, [2]int{from, s.pos})
		if len(keys) > MaxDepth {
			return nil, nil, s.limit(from, s.pos, "tables more than %d deep; a job needs three", MaxDepth)
		}
		if r, n := utf8.DecodeRune(s.src[s.pos:]); n > 1 && unicode.IsLetter(r) {
			return nil, nil, s.fail(s.pos, s.pos+n, "a name with letters such as %c needs quotation marks", r)
		}
		s.blanks()
		switch {
		case s.peek() == '.' && s.pos < len(s.src):
			s.pos++
		case s.peek() == stop && s.pos < len(s.src):
			return keys, spans, nil
		case stop == '=':
			rest := s.restOfLine(first)
			return nil, nil, s.fail(first, first+max(1, len(rest)),
				"a line is key = value, a [table] or a # comment; this is none of them")
		default:
			return nil, nil, s.fail(first, s.pos, `the table's name is not closed by "]"; names other than letters, digits, - and _ need quotation marks`)
		}
	}
}

// keyPart reads one bare or quoted key.
func (s *scanner) keyPart() (string, *scanError) {
	from := s.pos
	switch s.peek() {
	case '"':
		return s.basic()
	case '\'':
		return s.literal()
	}
	for s.pos < len(s.src) && bareByte(s.src[s.pos]) {
		s.pos++
	}
	if s.pos > from {
		return string(s.src[from:s.pos]), nil
	}
	r, n := utf8.DecodeRune(s.src[s.pos:])
	switch {
	case n == 0 || r == '\n' || r == '\r':
		return "", s.fail(from, from+1, "a name is missing here")
	case unicode.IsLetter(r):
		return "", s.fail(from, from+n, "a name with letters such as %c needs quotation marks", r)
	}
	return "", s.fail(from, from+n, "a name cannot begin with %s", Clean(string(s.src[from:from+n])))
}
