package text

import (
	"bytes"
	"errors"
	"fmt"
	"sort"
	"strings"
)

// Field is a key and the TOML spelling of its value: Field{"width", Quote("48in")}.
type Field struct{ Key, Value string }

// patch replaces the bytes from..to.
type patch struct {
	from, to int
	text     string
}

func (d *Doc) newline() string {
	if d.crlf {
		return "\r\n"
	}
	return "\n"
}

// apply makes the new bytes and proves that they are TOML.
func (d *Doc) apply(patches ...patch) ([]byte, error) {
	sort.SliceStable(patches, func(i, j int) bool { return patches[i].from < patches[j].from })
	var b bytes.Buffer
	at := 0
	for _, p := range patches {
		if p.from < at {
			return nil, errors.New("this edit touches the same place twice; make it in steps")
		}
		b.Write(d.src[at:p.from])
		b.WriteString(p.text)
		at = p.to
	}
	b.Write(d.src[at:])
	if _, ps := Parse(d.Name, b.Bytes()); len(ps) > 0 {
		return nil, fmt.Errorf("this edit would break the file: %s", ps[0].Message)
	}
	return b.Bytes(), nil
}

// checkValue makes sure that a spelling is one TOML value and nothing more.
func checkValue(value string) error {
	d, ps := Parse("value", []byte("x = "+value))
	if len(ps) > 0 {
		return errors.New(ps[0].Message)
	}
	if len(d.stmts) != 1 || d.stmts[0].entry == nil || d.stmts[0].entry.Value.Raw() != value {
		return fmt.Errorf("%s is not one value", Short(value, 60))
	}
	return nil
}

// Replacement is a value of the document, or a key, and its new spelling.
type Replacement struct {
	Value *Value
	With  string

	key      bool
	from, to int
}

// Replace gives the bytes with several values spelled anew, each in TOML's
// spelling.
func (d *Doc) Replace(rs ...Replacement) ([]byte, error) {
	var ps []patch
	for _, r := range rs {
		if r.key {
			ps = append(ps, patch{r.from, r.to, SpellKey(r.With)})
			continue
		}
		if r.Value.doc != d {
			return nil, errors.New("the value stands in another file")
		}
		if err := checkValue(r.With); err != nil {
			return nil, err
		}
		ps = append(ps, patch{r.Value.start, r.Value.end, r.With})
	}
	return d.apply(ps...)
}

// KeyReplacements finds every place where the last key of a path is written,
// in headers, dotted keys and inline tables, for Replace to give it a new name.
func (d *Doc) KeyReplacements(p Path, key string) (rs []Replacement) {
	again := &Doc{src: d.src, bom: d.bom, lines: d.lines}
	again.Root = &Table{doc: again}
	s := &scanner{src: d.src, pos: d.bom, doc: again, marking: true}
	if err := s.document(); err != nil {
		return nil // not so: the document was read before
	}
	for _, m := range s.marks {
		if len(m.path) == len(p) && m.path.hasPrefix(p) {
			rs = append(rs, Replacement{With: key, key: true, from: m.from, to: m.to})
		}
	}
	return rs
}

func checkFields(fields []Field) error {
	for _, f := range fields {
		if err := checkValue(f.Value); err != nil {
			return fmt.Errorf("%s: %w", Short(f.Key, 60), err)
		}
	}
	return nil
}

func (p Path) hasPrefix(q Path) bool {
	if len(p) < len(q) {
		return false
	}
	for i, s := range q {
		if p[i].Key != s.Key || p[i].inner != s.inner || s.N != 0 && p[i].N != s.N {
			return false
		}
	}
	return true
}

// Set gives the bytes with the value at a path replaced, or added where there
// is none: in its table behind the last key, in a list at the end (the path's
// number is then one beyond the last). A table that is not there is made. The
// value is in TOML's spelling (Quote makes it from a text). A comment behind
// the old value stays.
func (d *Doc) Set(p Path, value string) ([]byte, error) {
	if len(p) == 0 {
		return nil, errors.New("no key is named")
	}
	if err := checkValue(value); err != nil {
		return nil, err
	}
	if v := d.Find(p); v != nil {
		if v.Headed || v.Kind == TableKind && v.Table.form != formInline {
			return nil, fmt.Errorf("%s is a table; set its keys", Short(p.String(), 80))
		}
		return d.apply(patch{v.start, v.end, value})
	}
	last := p[len(p)-1]
	if last.N > 0 {
		whole := append(append(Path(nil), p[:len(p)-1]...), Step{Key: last.Key, inner: last.inner})
		if last.inner {
			whole = p[:len(p)-1]
		}
		list := d.Find(whole)
		if list == nil || list.Kind != Array || list.Headed || last.N != len(list.Items)+1 {
			return nil, fmt.Errorf("there is no place for %s", Short(p.String(), 80))
		}
		return d.apply(d.appendTo(list.spans(), list.start, list.end, value)...)
	}
	return d.setNew(p, value)
}

// setNew adds a key that is not there yet.
func (d *Doc) setNew(p Path, value string) ([]byte, error) {
	parent, key := p[:len(p)-1], p[len(p)-1].Key
	// Inside an inline table? Then as a dotted key of the innermost one.
	spelled := SpellKey(key)
	for n := len(parent); n > 0; n-- {
		if o := d.Find(parent[:n]); o != nil && o.Kind == TableKind && o.Table.form == formInline {
			return d.apply(d.appendTo(o.Table.spans(), o.start, o.end, spelled+" = "+value)...)
		}
		if parent[n-1].N > 0 {
			break
		}
		spelled = SpellKey(parent[n-1].Key) + "." + spelled
	}
	v := d.Find(parent)
	switch {
	case v == nil:
		return d.AddTable(parent, false, Field{key, value})
	case v.Kind != TableKind:
		return nil, fmt.Errorf("%s is %s, not a table", Short(parent.String(), 80), v.Kind)
	}
	// Behind the table's last key, in the manner of that key's line; a line
	// of the table's own before one that only passes through it.
	for _, direct := range []bool{true, false} {
		for i := len(d.stmts) - 1; i >= 0; i-- {
			st := d.stmts[i]
			if st.kind != stmtKey || st.base > len(parent) || direct && len(st.path) != len(p) || !st.path.hasPrefix(parent) {
				continue
			}
			spelled := SpellKey(key)
			for j := len(p) - 2; j >= st.base; j-- {
				spelled = SpellKey(p[j].Key) + "." + spelled
			}
			return d.apply(patch{st.end, st.end, d.startLine(st.end) + d.lineLike(st, spelled, value)})
		}
	}
	for i := len(d.stmts) - 1; i >= 0; i-- {
		if st := d.stmts[i]; st.kind != stmtKey && st.table == v.Table {
			return d.apply(patch{st.end, st.end, d.startLine(st.end) + SpellKey(key) + " = " + value + d.newline()})
		}
	}
	if len(parent) > 0 {
		return d.AddTable(parent, false, Field{key, value})
	}
	at, blank := len(d.src), ""
	if len(d.stmts) > 0 {
		at, blank = d.leadStart(0), d.newline()
	}
	return d.apply(patch{at, at, d.startLine(at) + SpellKey(key) + " = " + value + d.newline() + blank})
}

// startLine gives a line end where text inserted at an offset would not begin
// a line of its own.
func (d *Doc) startLine(at int) string {
	if at > d.bom && d.src[at-1] != '\n' {
		return d.newline()
	}
	return ""
}

// lineLike writes key = value with the indent, and the place of the "=", of
// another line.
func (d *Doc) lineLike(st stmt, key, value string) string {
	indent := string(d.src[st.start:st.key])
	pad := " "
	spaces := st.eq - st.key
	if room := spaces - len(key); spaces >= 2 && d.src[st.eq-1] == ' ' && d.src[st.eq-2] == ' ' && room > 1 {
		pad = strings.Repeat(" ", room)
	} else if room > 1 && d.alignedWith(st) {
		pad = strings.Repeat(" ", room)
	}
	return indent + key + pad + "= " + value + d.newline()
}

// alignedWith tells whether another line of the same table has its "=" in the
// same column although its key is shorter.
func (d *Doc) alignedWith(st stmt) bool {
	for _, o := range d.stmts {
		if o.kind == stmtKey && o.table == st.table && o.eq-o.start == st.eq-st.start && o.key != st.key &&
			o.eq >= 2 && d.src[o.eq-1] == ' ' && d.src[o.eq-2] == ' ' {
			return true
		}
	}
	return false
}

// leadStart gives where the block of statement i begins: at the comment lines
// directly above it, but never with the comment at the very top of the file.
func (d *Doc) leadStart(i int) int {
	st := d.stmts[i]
	floor := d.bom
	if i > 0 {
		floor = d.stmts[i-1].end
	}
	at := st.start
	for at > floor {
		prev := bytes.LastIndexByte(d.src[:at-1], '\n') + 1
		prev = max(prev, floor)
		if line := bytes.TrimLeft(d.src[prev:at], " \t"); len(line) == 0 || line[0] != '#' {
			break
		}
		at = prev
	}
	if at == d.bom && i == 0 {
		return st.start
	}
	return at
}

// block gives the bytes of the header statement i and everything that belongs
// to it up to the next header, with its leading comments, without the blank
// lines that follow.
func (d *Doc) block(i int) (from, to int) {
	from = d.leadStart(i)
	j := i + 1
	for j < len(d.stmts) && d.stmts[j].kind == stmtKey {
		j++
	}
	to = d.stmts[j-1].end
	ceiling := len(d.src)
	if j < len(d.stmts) {
		ceiling = d.leadStart(j)
	}
	for to < ceiling {
		next := len(d.src)
		if k := bytes.IndexByte(d.src[to:], '\n'); k >= 0 {
			next = to + k + 1
		}
		if line := bytes.TrimLeft(d.src[to:next], " \t"); len(line) == 0 || line[0] != '#' || next > ceiling {
			break
		}
		to = next
	}
	return from, to
}

// group gives the blocks of all headers under a path, in order; adjacent ones
// are joined with the blank lines between them.
func (d *Doc) group(p Path) (spans [][2]int) {
	lastStmt := -1
	for i, st := range d.stmts {
		if st.kind == stmtKey || !st.path.hasPrefix(p) {
			continue
		}
		from, to := d.block(i)
		adjacent := lastStmt >= 0
		for k := lastStmt + 1; k < i; k++ {
			adjacent = adjacent && d.stmts[k].kind == stmtKey
		}
		if n := len(spans); n > 0 && adjacent {
			spans[n-1][1] = to
		} else {
			spans = append(spans, [2]int{from, to})
		}
		lastStmt = i
	}
	return spans
}

// groupText joins a group's blocks, each ending with a line end.
func (d *Doc) groupText(spans [][2]int) string {
	var b strings.Builder
	for i, s := range spans {
		if i > 0 {
			b.WriteString(d.newline())
		}
		b.Write(d.src[s[0]:s[1]])
		if s[1] > s[0] && d.src[s[1]-1] != '\n' {
			b.WriteString(d.newline())
		}
	}
	return b.String()
}

// cut makes the patches that take a group's blocks out, each with the blank
// lines behind it (at the end of the file: before it).
func (d *Doc) cut(spans [][2]int) (ps []patch) {
	for _, s := range spans {
		from, to := s[0], s[1]
		for to < len(d.src) {
			k := bytes.IndexByte(d.src[to:], '\n')
			next := to + k + 1
			if k < 0 {
				next = len(d.src)
			}
			if len(bytes.TrimSpace(d.src[to:next])) > 0 {
				break
			}
			to = next
		}
		if to == len(d.src) {
			for from > d.bom {
				prev := bytes.LastIndexByte(d.src[:from-1], '\n') + 1
				if prev >= from || prev < d.bom || len(bytes.TrimSpace(d.src[prev:from])) > 0 {
					break
				}
				from = prev
			}
		}
		ps = append(ps, patch{from, to, ""})
	}
	return ps
}

// AddTable gives the bytes with a table added: [[path]] behind the last of
// its kind where it may repeat, else [path]; at the end of its parent, or of
// the file, where there is none yet. Where the user wrote a list of inline
// tables, the table joins that list.
func (d *Doc) AddTable(p Path, repeat bool, fields ...Field) ([]byte, error) {
	if err := checkFields(fields); err != nil {
		return nil, err
	}
	if len(p) == 0 || p[len(p)-1].N != 0 {
		return nil, errors.New("a new table needs a name without a number")
	}
	had := d.Find(p)
	if had != nil && (!repeat || had.Kind != Array) && !(had.Kind == TableKind && had.Table.form == formImplicit && !repeat) {
		return nil, fmt.Errorf("%s is there already", Short(p.String(), 80))
	}
	if had != nil && repeat && !had.Headed {
		var parts []string
		for _, f := range fields {
			parts = append(parts, SpellKey(f.Key)+" = "+f.Value)
		}
		return d.apply(d.appendTo(had.spans(), had.start, had.end, "{"+strings.Join(parts, ", ")+"}")...)
	}
	name, width := "", 0
	for i, s := range p {
		if i > 0 {
			name += "."
		}
		name += SpellKey(s.Key)
	}
	var b strings.Builder
	if name = "[" + name + "]"; repeat {
		name = "[" + name + "]"
	}
	b.WriteString(name + d.newline())
	for _, f := range fields {
		width = max(width, len(SpellKey(f.Key)))
	}
	for _, f := range fields {
		fmt.Fprintf(&b, "%-*s = %s%s", width, SpellKey(f.Key), f.Value, d.newline())
	}
	at := d.placeFor(p)
	before := d.startLine(at)
	if at > d.bom {
		before += d.newline()
	}
	after := ""
	if at < len(d.src) && d.src[at] != '\n' && d.src[at] != '\r' {
		after = d.newline()
	}
	out, err := d.apply(patch{at, at, before + b.String() + after})
	if err != nil {
		return nil, err
	}
	e, _ := Parse(d.Name, out)
	if repeat && e.Count(p) != d.Count(p)+1 || !repeat && e.Find(p) == nil {
		return nil, fmt.Errorf("there is no place for %s", Short(p.String(), 80))
	}
	return out, nil
}

// placeFor finds where a new table goes: behind the last block under its own
// path, else under its nearest ancestor that has a number, else at the end.
func (d *Doc) placeFor(p Path) int {
	for n := len(p); n > 0; n-- {
		if n < len(p) && p[n-1].N == 0 {
			continue
		}
		if g := d.group(p[:n]); len(g) > 0 {
			return g[len(g)-1][1]
		}
	}
	return len(d.src)
}
