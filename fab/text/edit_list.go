package text

import (
	"bytes"
	"fmt"
)

// spans gives the bytes of each value of a list.
func (v *Value) spans() (out [][2]int) {
	for _, i := range v.Items {
		out = append(out, [2]int{i.start, i.end})
	}
	return out
}

// spans gives the bytes of each key = value of an inline table, in the order
// of the text (dotted keys stand in deeper tables).
func (t *Table) spans() (out [][2]int) {
	var gather func(t *Table)
	gather = func(t *Table) {
		for _, e := range t.Entries {
			if e.itemEnd > 0 {
				out = append(out, [2]int{e.itemStart, e.itemEnd})
			} else if e.Value.Kind == TableKind {
				gather(e.Value.Table)
			}
		}
	}
	gather(t)
	// Dotted keys of one table may stand apart; the text's order counts.
	for i := 1; i < len(out); i++ {
		for j := i; j > 0 && out[j][0] < out[j-1][0]; j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}

// ownLine tells whether nothing but blanks stands before an offset on its
// line, and gives where the line begins.
func (d *Doc) ownLine(at int) (start int, own bool) {
	start = max(bytes.LastIndexByte(d.src[:at], '\n')+1, d.bom)
	return start, len(bytes.TrimSpace(d.src[start:at])) == 0
}

// comma finds the comma that follows a span inside a list, skipping blanks
// and comments; -1 where there is none.
func (d *Doc) comma(from, to int) int {
	for i := from; i < to; i++ {
		switch d.src[i] {
		case ',':
			return i
		case '#':
			k := bytes.IndexByte(d.src[i:to], '\n')
			if k < 0 {
				return -1
			}
			i += k
		case ' ', '\t', '\r', '\n':
		default:
			return -1
		}
	}
	return -1
}

// appendTo adds an element behind the last one of a list or inline table that
// stands from open to end (its closing bracket included).
func (d *Doc) appendTo(elems [][2]int, open, end int, text string) []patch {
	if len(elems) == 0 {
		return []patch{{open + 1, open + 1, text}}
	}
	last := elems[len(elems)-1]
	comma := d.comma(last[1], end-1)
	start, own := d.ownLine(last[0])
	lineEnd := bytes.IndexByte(d.src[last[1]:end], '\n')
	if !own || lineEnd < 0 {
		return []patch{{last[1], last[1], ", " + text}}
	}
	// One element a line: a new line, its comment staying with the old one.
	indent := string(d.src[start:last[0]])
	at := last[1] + lineEnd + 1
	if comma >= at { // the comma leads the next line
		return []patch{{last[1], last[1], ", " + text}}
	}
	if comma >= 0 {
		return []patch{{at, at, indent + text + "," + d.newline()}}
	}
	return []patch{{last[1], last[1], ","}, {at, at, indent + text + d.newline()}}
}

// deleteFrom takes the i-th element (from 0) out of a list or inline table.
func (d *Doc) deleteFrom(elems [][2]int, i, end int) []patch {
	e := elems[i]
	comma := d.comma(e[1], end-1)
	start, own := d.ownLine(e[0])
	if own {
		// Alone on its line: the line goes, with its comment.
		stop := e[1]
		if comma >= 0 {
			stop = comma + 1
		}
		if k := bytes.IndexByte(d.src[stop:end], '\n'); k >= 0 {
			rest := bytes.TrimLeft(d.src[stop:stop+k], " \t\r")
			if len(rest) == 0 || rest[0] == '#' {
				ps := []patch{{start, stop + k + 1, ""}}
				if comma < 0 && i > 0 { // an inline table of TOML 1.0 ends without a comma
					if c := d.comma(elems[i-1][1], e[0]); c >= 0 {
						ps = append(ps, patch{c, c + 1, ""})
					}
				}
				return ps
			}
		}
	}
	switch {
	case i+1 < len(elems):
		return []patch{{e[0], elems[i+1][0], ""}}
	case i > 0:
		if c := d.comma(elems[i-1][1], e[0]); c >= 0 && bytes.IndexByte(d.src[c:e[0]], '#') >= 0 {
			return []patch{{c, c + 1, ""}, {e[0], e[1], ""}, trailingComma(comma)}
		}
		return []patch{{elems[i-1][1], e[1], ""}}
	}
	return []patch{{e[0], e[1], ""}, trailingComma(comma)}
}

func trailingComma(at int) patch {
	if at < 0 {
		return patch{}
	}
	return patch{at, at + 1, ""}
}

// Delete gives the bytes without what stands at a path: a key with its line,
// a table with its keys, sub-tables and the comments directly above it, one of
// several tables, all of them (a path without a number), or a value of a list.
func (d *Doc) Delete(p Path) ([]byte, error) {
	v := d.Find(p)
	if v == nil || len(p) == 0 {
		return nil, fmt.Errorf("there is no %s", Short(p.String(), 80))
	}
	last := p[len(p)-1]
	if last.N > 0 { // one of several
		list := d.Find(p.whole())
		if !list.Headed {
			return d.apply(d.deleteFrom(list.spans(), last.N-1, list.end)...)
		}
		return d.apply(d.cut(d.group(p))...)
	}
	// Inside an inline table?
	for n := len(p) - 1; n >= 0; n-- {
		if o := d.Find(p[:n]); n > 0 && o != nil && o.Kind == TableKind && o.Table.form == formInline {
			return d.deleteInline(o, v)
		}
	}
	var ps []patch
	if v.Headed || v.Kind == TableKind && v.Table.form != formInline {
		ps = d.cut(d.group(p))
	}
	inGroup := func(at int) bool {
		for _, c := range ps {
			if at >= c.from && at < c.to {
				return true
			}
		}
		return false
	}
	for _, st := range d.stmts {
		if st.kind == stmtKey && st.path.hasPrefix(p) && !inGroup(st.start) {
			ps = append(ps, patch{st.start, st.end, ""})
		}
	}
	return d.apply(ps...)
}

// deleteInline takes a value, or a dotted table, out of the inline table o.
func (d *Doc) deleteInline(o, v *Value) ([]byte, error) {
	for {
		dotted := v.Kind == TableKind && v.Table.form == formDotted
		spans, at := o.Table.spans(), -1
		for i, s := range spans {
			if dotted && v.Table.spans()[0][0] == s[0] || !dotted && v.start >= s[0] && v.end <= s[1] {
				at = i
			}
		}
		out, err := d.apply(d.deleteFrom(spans, at, o.end)...)
		if err != nil || !dotted || len(v.Table.spans()) == 1 {
			return out, err
		}
		// A dotted table goes key by key; each round reads the text anew.
		path := d.pathTo(o)
		keys := d.pathTo(v)
		d, _ = Parse(d.Name, out)
		o, v = d.Find(path), d.Find(keys)
	}
}

// pathTo finds the path of a value by searching for it.
func (d *Doc) pathTo(want *Value) (found Path) {
	var search func(p Path, v *Value) bool
	search = func(p Path, v *Value) bool {
		if v == want {
			found = p
			return true
		}
		for i, item := range v.Items {
			if search(p.Nth(i+1), item) {
				return true
			}
		}
		if v.Kind == TableKind {
			for _, e := range v.Table.Entries {
				if search(p.Child(e.Key), e.Value) {
					return true
				}
			}
		}
		return false
	}
	search(nil, &Value{Kind: TableKind, Table: d.Root})
	return found
}

// whole is the path of the list that a numbered path points into.
func (p Path) whole() Path {
	last := p[len(p)-1]
	if last.inner {
		return p[:len(p)-1]
	}
	return append(append(Path(nil), p[:len(p)-1]...), Step{Key: last.Key})
}

// Copy gives the bytes with the n-th table (or list value) of a path doubled,
// right behind the original, comments included, and with the changes made in
// the copy: a new name, most often.
func (d *Doc) Copy(p Path, changes ...Field) ([]byte, error) {
	if err := checkFields(changes); err != nil {
		return nil, err
	}
	v := d.Find(p)
	if v == nil || len(p) == 0 || p[len(p)-1].N == 0 {
		return nil, fmt.Errorf("there is no %s", Short(p.String(), 80))
	}
	list := d.Find(p.whole())
	var out []byte
	var err error
	if list.Headed {
		g := d.group(p)
		at := g[len(g)-1][1]
		out, err = d.apply(patch{at, at, d.startLine(at) + d.newline() + d.groupText(g)})
	} else {
		out, err = d.apply(patch{v.end, v.end, ", " + v.Raw()})
	}
	if err != nil {
		return nil, err
	}
	to := append(Path(nil), p...)
	to[len(to)-1].N++
	for _, f := range changes {
		e, _ := Parse(d.Name, out)
		if out, err = e.Set(to.Child(f.Key), f.Value); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// Move gives the bytes with the n-th table (or list value) of a path moved so
// that it becomes the to-th (from 1) of its kind.
func (d *Doc) Move(p Path, to int) ([]byte, error) {
	v := d.Find(p)
	if v == nil || len(p) == 0 || p[len(p)-1].N == 0 {
		return nil, fmt.Errorf("there is no %s", Short(p.String(), 80))
	}
	list, n := d.Find(p.whole()), p[len(p)-1].N
	if to < 1 || to > len(list.Items) {
		return nil, fmt.Errorf("there are %d of them; %d is no place among them", len(list.Items), to)
	}
	if to == n {
		return d.Bytes(), nil
	}
	if !list.Headed {
		order := append([]*Value(nil), list.Items...)
		copy(order[n-1:], order[n:])
		order = append(order[:to-1], append([]*Value{v}, order[to-1:len(order)-1]...)...)
		var ps []patch
		for i, item := range list.Items {
			ps = append(ps, patch{item.start, item.end, order[i].Raw()})
		}
		return d.apply(ps...)
	}
	target := append(Path(nil), p...)
	target[len(target)-1].N = to
	g, tg := d.group(p), d.group(target)
	text := d.groupText(g)
	ps := d.cut(g)
	if to < n {
		at := tg[0][0]
		ps = append(ps, patch{at, at, text + d.newline()})
	} else {
		at := tg[len(tg)-1][1]
		ps = append(ps, patch{at, at, d.startLine(at) + d.newline() + text})
	}
	return d.apply(ps...)
}
