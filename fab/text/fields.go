package text

import (
	"fmt"
	"sort"
)

// Reading gathers the problems of one reading of one or more files.
type Reading struct {
	problems []Problem
	more     int
	files    []string
	asked    map[string]Asked // what the reading asked for; nil: not wanted
}

// NewReading starts a reading; files gives the order of files in the sorted
// problems.
func NewReading(files ...string) *Reading { return &Reading{files: files} }

// Add puts a problem on the list. Beyond MaxProblems they are only counted.
func (r *Reading) Add(p Problem) {
	if len(r.problems) >= MaxProblems {
		r.more++
		return
	}
	r.problems = append(r.problems, p)
}

// Full tells that the list is full: further problems are only counted, so the
// work of wording them can be spared.
func (r *Reading) Full() bool { return len(r.problems) >= MaxProblems }

// Count counts a problem that is not worded, because the list is full.
func (r *Reading) Count() { r.more++ }

// Problems gives what was found, sorted by place.
func (r *Reading) Problems() []Problem {
	ps := append([]Problem(nil), r.problems...)
	SortProblems(ps, r.files...)
	if r.more > 0 {
		ps = append(ps, Problem{Code: CodeTooMuch, Severity: Error,
			Message: fmt.Sprintf("and %d more like these", r.more)})
	}
	return ps
}

// Failed tells whether an error was found.
func (r *Reading) Failed() bool { return HasErrors(r.problems) }

// Fields takes the keys of one table, each once. Behind the table others may
// stand (a shop's [saw] behind the job's): a key is taken from the first that
// has it. Done reports the keys that nobody took.
type Fields struct {
	r      *Reading
	layers []*Table
	path   string
	taken  map[string]bool
	known  []string
	later  []string        // known, but not read by this version
	missed []string        // needed keys that are not there
	meant  map[string]bool // keys that a mistyped one probably meant
}

// Top gives the fields of the whole document, with other documents behind it;
// documents that are nil are left out.
func (r *Reading) Top(docs ...*Doc) *Fields {
	f := &Fields{r: r, taken: map[string]bool{}}
	for _, d := range docs {
		if d != nil {
			f.layers = append(f.layers, d.Root)
		}
	}
	return f
}

// Path is the dotted path of the table, as problems show it.
func (f *Fields) Path() string { return f.path }

// key is the dotted path of a key of this table.
func (f *Fields) key(key string) string {
	switch {
	case key == "":
		return f.path
	case f.path == "":
		return SpellKey(key)
	}
	return f.path + "." + SpellKey(key)
}

// Find gives the value of a key, or nil, without taking it.
func (f *Fields) Find(key string) *Value {
	for _, t := range f.layers {
		if e := t.Get(key); e != nil {
			return e.Value
		}
	}
	return nil
}

// Has tells whether a key is given, without taking it.
func (f *Fields) Has(key string) bool { return f.Find(key) != nil }

// Own tells whether a key is given in the first table itself, not only in one
// that stands behind it.
func (f *Fields) Own(key string) bool {
	return len(f.layers) > 0 && f.layers[0].Get(key) != nil
}

// Take gives the value of a key, or nil, and notes that it was taken.
func (f *Fields) Take(key string) *Value {
	f.ask(key, "", "", 0)
	if !f.taken[key] {
		f.taken[key] = true
		f.known = append(f.known, key)
	}
	return f.Find(key)
}

// Keys lists the keys that are given and not taken yet, the first table's
// first, each in the order of the text.
func (f *Fields) Keys() []string {
	var out []string
	seen := map[string]bool{}
	for _, t := range f.layers {
		for _, e := range t.Entries {
			if !f.taken[e.Key] && !seen[e.Key] {
				seen[e.Key] = true
				out = append(out, e.Key)
			}
		}
	}
	return out
}

// Fault reports an error about a key, at its value where it is given and at
// the table's head where it is not.
func (f *Fields) Fault(code, key, format string, args ...any) {
	if f.r.Full() {
		f.r.Count()
		return
	}
	message := fmt.Sprintf(format, args...)
	if v := f.Find(key); v != nil && key != "" {
		f.r.Add(v.Problem(code, f.key(key), message))
		return
	}
	f.r.Add(f.head(code, key, message))
}

// FaultAt reports an error about a value inside a key's value (a list's n-th,
// from 1).
func (f *Fields) FaultAt(v *Value, code, key, format string, args ...any) {
	if f.r.Full() {
		f.r.Count()
		return
	}
	f.r.Add(v.Problem(code, f.key(key), fmt.Sprintf(format, args...)))
}

// Warn reports a warning about a key.
func (f *Fields) Warn(code, key, format string, args ...any) {
	message := fmt.Sprintf(format, args...)
	p := f.head(code, key, message)
	if v := f.Find(key); v != nil && key != "" {
		p = v.Problem(code, f.key(key), message)
	}
	p.Severity = Warning
	f.r.Add(p)
}

func (f *Fields) head(code, key, message string) Problem {
	for _, t := range f.layers {
		if t.form != formImplicit && t.end > t.start {
			return t.doc.problem(code, f.key(key), t.start, t.end, message)
		}
	}
	p := Problem{Code: code, Severity: Error, Key: f.key(key), Message: Clean(message)}
	if len(f.layers) > 0 {
		p.File = f.layers[0].doc.Name
	} else if len(f.r.files) > 0 {
		p.File = f.r.files[0]
	}
	return p
}

// Place gives where the table begins.
func (f *Fields) Place() (file string, line, column int) {
	for _, t := range f.layers {
		if t.form != formImplicit {
			line, column = t.doc.Position(t.start)
			return t.doc.Name, line, column
		}
	}
	return "", 0, 0
}

// KeyPlace is where a key that is given stands.
type KeyPlace struct {
	Key, File    string
	Line, Column int
}

// Given tells where the keys that are given stand, at their values.
func (f *Fields) Given() []KeyPlace {
	var out []KeyPlace
	for n, t := range f.layers {
		for _, e := range t.Entries {
			if n > 0 && f.Find(e.Key) != e.Value {
				continue // one before stands for it
			}
			k := KeyPlace{Key: e.Key, File: e.Value.doc.Name}
			k.Line, k.Column = e.Value.doc.Position(e.Value.start)
			out = append(out, k)
		}
	}
	return out
}

// Table gives the fields of a table that stands at most once, in whatever
// form it is written; given tells whether it is there at all. The fields of a
// table that is not there are empty and may be read all the same.
func (f *Fields) Table(key string) (sub *Fields, given bool) {
	sub = &Fields{r: f.r, path: f.key(key), taken: map[string]bool{}}
	f.Take(key)
	f.ask(key, "table", "", 0)
	for _, t := range f.layers {
		e := t.Get(key)
		switch {
		case e == nil:
		case e.Value.Kind == TableKind:
			sub.layers = append(sub.layers, e.Value.Table)
		case e.Value.Headed:
			f.r.Add(e.Value.Problem(CodeType, sub.path,
				fmt.Sprintf("this table stands once: write [%s] with single brackets", sub.path)))
		default:
			f.r.Add(e.Value.Problem(CodeType, sub.path,
				fmt.Sprintf("this is %s; a table belongs here: write [%s] and its keys below", e.Value.Kind, sub.path)))
		}
	}
	return sub, len(sub.layers) > 0
}

// Tables gives the fields of each of a table that may repeat, [[key]] or a
// list of inline tables. Of several documents the first that has any counts.
func (f *Fields) Tables(key string) []*Fields {
	v := f.Take(key)
	f.ask(key, "tables", "", 0)
	if v == nil {
		return nil
	}
	path := f.key(key)
	if v.Kind == TableKind {
		hint := fmt.Sprintf("this table may repeat: write [[%s]] with double brackets", path)
		if v.Table.form == formInline {
			hint = fmt.Sprintf("a list of tables belongs here: %s = [ { ... } ]", SpellKey(key))
		}
		f.r.Add(v.Problem(CodeType, path, hint))
		return nil
	}
	if v.Kind != Array {
		f.r.Add(v.Problem(CodeType, path, fmt.Sprintf("this is %s; a list of tables belongs here: %s = [ { ... } ]", v.Kind, SpellKey(key))))
		return nil
	}
	var out []*Fields
	for i, item := range v.Items {
		at := path
		if len(v.Items) > 1 {
			at = fmt.Sprintf("%s[%d]", path, i+1)
		}
		if item.Kind != TableKind {
			f.r.Add(item.Problem(CodeType, at, fmt.Sprintf("this is %s; a table { ... } belongs here", item.Kind)))
			continue
		}
		out = append(out, &Fields{r: f.r, layers: []*Table{item.Table}, path: at, taken: map[string]bool{}})
	}
	return out
}

// Inside gives the fields of an inline table that is a value of a list.
func (f *Fields) Inside(v *Value, key string, n int) *Fields {
	return &Fields{r: f.r, layers: []*Table{v.Table}, path: fmt.Sprintf("%s[%d]", f.key(key), n), taken: map[string]bool{}}
}

// Later reports tables of the contract that this version does not read yet.
func (f *Fields) Later(keys ...string) {
	for _, k := range keys {
		if v := f.Take(k); v != nil {
			f.r.Add(v.Problem(CodeLater, f.key(k), "not understood yet by this version; take it out for now"))
		}
	}
	f.known = f.known[:len(f.known)-len(keys)]
	f.later = append(f.later, keys...)
}

// Skip takes keys without reading them: another room reads them.
func (f *Fields) Skip(keys ...string) {
	for _, k := range keys {
		f.Take(k)
	}
}

// Meant tells, after Done, whether a key that is not there was probably meant
// by a mistyped one, which Done has reported.
func (f *Fields) Meant(key string) bool { return f.meant[key] }

// Done ends the reading of a table. It reports every key that nobody took,
// with the nearest that there is, and every needed key that is not there,
// unless a mistyped one explains it.
func (f *Fields) Done() {
	defer func() {
		for _, key := range f.missed {
			if !f.meant[key] {
				f.r.Add(f.head(CodeMissing, key, SpellKey(key)+" is missing"))
			}
		}
	}()
	for _, t := range f.layers {
		for _, e := range t.Entries {
			if f.taken[e.Key] {
				continue
			}
			if f.r.Full() {
				f.r.Count()
				continue
			}
			what, known := "key", append([]string(nil), f.known...)
			if e.Value.Kind == TableKind && e.Value.Table.form != formInline || e.Value.Headed {
				what = "table"
			}
			hint := suggest(e.Key, append(append([]string(nil), known...), f.later...))
			if near := Nearest(e.Key, known); near != "" && !f.Has(near) {
				if f.meant == nil {
					f.meant = map[string]bool{}
				}
				f.meant[near] = true
			}
			if hint == "" && len(known) > 0 {
				sort.Strings(known)
				hint = "; here may stand " + List(known)
			}
			from, to := e.keyStart, e.keyEnd
			f.r.Add(t.doc.problem(CodeUnknown, f.key(e.Key), from, to, fmt.Sprintf("there is no %s %s%s", what, Short(SpellKey(e.Key), 40), hint)))
		}
	}
}
