package text

import (
	"bytes"
	"fmt"
	"sort"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

const rack = `# The rack of the north boathouse
title = "Rack"   # on the wall
units = "in"

[saw]
kerf      = "1/16"  # new blade
trim_end  = "1/2"

# upper frame
[[rectangle]]
name = "upper"
at   = [0, 0, "24in"]

[[rectangle]]   # lower frame
name = "lower"
[rectangle.note]
by = "Jo"

# rails
[section.rail]
sticks = [
  {length = "20ft", price = 31.25}, # the yard's
  {length = "24ft"}
]
`

func edited(t *testing.T, src string, edit func(d *Doc) ([]byte, error)) string {
	t.Helper()
	d, ps := Parse("job.toml", []byte(src))
	if d == nil {
		t.Fatal(ps)
	}
	out, err := edit(d)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

func TestEditsKeepWhatTheUserWrote(t *testing.T) {
	cases := []struct {
		reason   string
		edit     func(d *Doc) ([]byte, error)
		old, new string // the one place that changes
	}{
		{"a value is replaced and its comment stays", func(d *Doc) ([]byte, error) { return d.Set(At("saw", "kerf"), `"3/32"`) },
			`"1/16"  #`, `"3/32"  #`},
		{"a new key takes the table's column", func(d *Doc) ([]byte, error) { return d.Set(At("saw", "keep"), `"12in"`) },
			"trim_end  = \"1/2\"\n", "trim_end  = \"1/2\"\nkeep      = \"12in\"\n"},
		{"a key of the second of several tables", func(d *Doc) ([]byte, error) { return d.Set(At("rectangle", 2, "width"), `"4ft"`) },
			"name = \"lower\"\n", "name = \"lower\"\nwidth = \"4ft\"\n"},
		{"a value inside a list", func(d *Doc) ([]byte, error) { return d.Set(At("rectangle", 1, "at", 3), "30") },
			`"24in"]`, `30]`},
		{"a key inside an inline table", func(d *Doc) ([]byte, error) {
			return d.Set(At("section", "rail", "sticks", 1, "limit"), "2")
		}, `price = 31.25}`, `price = 31.25, limit = 2}`},
		{"one more of a list over several lines", func(d *Doc) ([]byte, error) {
			return d.Set(At("section", "rail", "sticks", 3), `{length = "8m"}`)
		}, "\"24ft\"}\n", "\"24ft\"},\n  {length = \"8m\"}\n"},
		{"the first of a list over several lines goes with its comment", func(d *Doc) ([]byte, error) {
			return d.Delete(At("section", "rail", "sticks", 1))
		}, "  {length = \"20ft\", price = 31.25}, # the yard's\n", ""},
		{"a table goes with the comment above it", func(d *Doc) ([]byte, error) { return d.Delete(At("rectangle", 1)) },
			"# upper frame\n[[rectangle]]\nname = \"upper\"\nat   = [0, 0, \"24in\"]\n\n", ""},
		{"a sub-table goes with its table", func(d *Doc) ([]byte, error) { return d.Delete(At("rectangle", 2)) },
			"[[rectangle]]   # lower frame\nname = \"lower\"\n[rectangle.note]\nby = \"Jo\"\n\n", ""},
		{"a new table that repeats stands behind the last of its kind", func(d *Doc) ([]byte, error) {
			return d.AddTable(At("rectangle"), true, Field{"name", `"mid"`}, Field{"at", `"x"`})
		}, "by = \"Jo\"\n", "by = \"Jo\"\n\n[[rectangle]]\nname = \"mid\"\nat   = \"x\"\n"},
		{"a new kind of table stands at the end", func(d *Doc) ([]byte, error) {
			return d.Set(At("welder", "amps"), "95")
		}, "  {length = \"24ft\"}\n]\n", "  {length = \"24ft\"}\n]\n\n[welder]\namps = 95\n"},
		{"a key at the top", func(d *Doc) ([]byte, error) { return d.Set(At("tape"), `"1/16"`) },
			"units = \"in\"\n", "units = \"in\"\ntape = \"1/16\"\n"},
		{"a copy stands behind its original and has a new name", func(d *Doc) ([]byte, error) {
			return d.Copy(At("rectangle", 1), Field{"name", `"top"`})
		}, "24in\"]\n", "24in\"]\n\n# upper frame\n[[rectangle]]\nname = \"top\"\nat   = [0, 0, \"24in\"]\n"},
	}
	for _, c := range cases {
		for _, crlf := range []bool{false, true} {
			src, was, is := rack, c.old, c.new
			if crlf {
				nl := func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }
				src, was, is = nl(src), nl(was), nl(is)
			}
			if n := strings.Count(src, was); n != 1 {
				t.Fatalf("%s: the case's old text stands %d times", c.reason, n)
			}
			want := strings.Replace(src, was, is, 1)
			if got := edited(t, src, c.edit); got != want {
				t.Errorf("%s (CR LF %v):\n%s", c.reason, crlf, cmp.Diff(want, got))
			}
		}
	}
}

func TestMove(t *testing.T) {
	up := edited(t, rack, func(d *Doc) ([]byte, error) { return d.Move(At("rectangle", 2), 1) })
	d, _ := Parse("", []byte(up))
	if got := d.Find(At("rectangle", 1, "note", "by")); got == nil || got.Text != "Jo" {
		t.Fatalf("the second table did not become the first:\n%s", up)
	}
	back := edited(t, up, func(d *Doc) ([]byte, error) { return d.Move(At("rectangle", 1), 2) })
	if back != rack {
		t.Errorf("moving there and back changed the file:\n%s", cmp.Diff(rack, back))
	}
	list := edited(t, "a = [1, 2, # two\n 3]\n", func(d *Doc) ([]byte, error) { return d.Move(At("a", 3), 1) })
	if list != "a = [3, 1, # two\n 2]\n" {
		t.Errorf("list: %q", list)
	}
}

func TestEditsThatCannotBe(t *testing.T) {
	d, _ := Parse("job.toml", []byte(rack))
	for name, f := range map[string]func() ([]byte, error){
		"two values":       func() ([]byte, error) { return d.Set(At("title"), "1\nx = 2") },
		"a comment":        func() ([]byte, error) { return d.Set(At("title"), "1 # c") },
		"no TOML":          func() ([]byte, error) { return d.Set(At("title"), "48in") },
		"a table":          func() ([]byte, error) { return d.Set(At("saw"), "1") },
		"beyond the list":  func() ([]byte, error) { return d.Set(At("rectangle", 1, "at", 9), "1") },
		"below a value":    func() ([]byte, error) { return d.Set(At("title", "x"), "1") },
		"nothing there":    func() ([]byte, error) { return d.Delete(At("nope")) },
		"no such copy":     func() ([]byte, error) { return d.Copy(At("rectangle", 7)) },
		"no such place":    func() ([]byte, error) { return d.Move(At("rectangle", 1), 7) },
		"table there":      func() ([]byte, error) { return d.AddTable(At("saw"), false) },
		"too long a name":  func() ([]byte, error) { return d.Set(At(strings.Repeat("k", 200)), "1") },
		"one of a value's": func() ([]byte, error) { return d.Delete(At("title", 2)) },
	} {
		if out, err := f(); err == nil {
			t.Errorf("%s: no error, but\n%s", name, out)
		}
	}
}

// paths lists every path of a document.
func paths(d *Doc) (out []Path) {
	var walk func(p Path, v *Value)
	walk = func(p Path, v *Value) {
		if len(p) > 0 {
			out = append(out, p)
		}
		for i, item := range v.Items {
			walk(p.Nth(i+1), item)
		}
		if v.Kind == TableKind {
			for _, e := range v.Table.Entries {
				walk(p.Child(e.Key), e.Value)
			}
		}
	}
	walk(nil, &Value{Kind: TableKind, Table: d.Root})
	sort.SliceStable(out, func(i, j int) bool { return out[i].String() < out[j].String() })
	return out
}

// prune drops empty tables and lists of tables: taking the last key out of an
// implied table takes the table, too.
func prune(x any) any {
	switch x := x.(type) {
	case map[string]any:
		m := map[string]any{}
		for k, v := range x {
			v = prune(v)
			if e, ok := v.(map[string]any); ok && len(e) == 0 {
				continue
			}
			if e, ok := v.([]any); ok && len(e) == 0 {
				continue
			}
			m[k] = v
		}
		return m
	case []any:
		a := []any{}
		for _, v := range x {
			a = append(a, prune(v))
		}
		return a
	}
	return x
}

// change applies f to the list or map that holds the last step of a path.
func change(root any, p Path, f func(holder any, key string, n int) any) any {
	step := p[0]
	if step.inner {
		a := root.([]any)
		if len(p) == 1 {
			return f(a, "", step.N)
		}
		a[step.N-1] = change(a[step.N-1], p[1:], f)
		return a
	}
	m := root.(map[string]any)
	switch {
	case len(p) == 1 && step.N == 0:
		return f(m, step.Key, 0)
	case len(p) == 1:
		m[step.Key] = f(m[step.Key], "", step.N)
	case step.N == 0:
		m[step.Key] = change(m[step.Key], p[1:], f)
	default:
		a := m[step.Key].([]any)
		a[step.N-1] = change(a[step.N-1], p[1:], f)
	}
	return m
}

// lostLines counts the lines of old that are not there, in order, in new: all
// but the longest common subsequence.
func lostLines(old, new []byte) int {
	split := func(b []byte) []string { return strings.Split(strings.ReplaceAll(string(b), "\r", ""), "\n") }
	a, b := split(old), split(new)
	row := make([]int, len(b)+1)
	for _, x := range a {
		diagonal := 0
		for j, y := range b {
			was := row[j+1]
			if x == y {
				row[j+1] = diagonal + 1
			} else {
				row[j+1] = max(row[j+1], row[j])
			}
			diagonal = was
		}
	}
	return len(a) - row[len(b)]
}

func TestRandomEdits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := genDoc(t)
		for round := 0; round < 4; round++ {
			d, ps := Parse("job.toml", []byte(src))
			if d == nil {
				if ps[0].Code == CodeDuplicate {
					t.Skip("the generator made a double key")
				}
				t.Fatalf("%v\n%s", ps[0].Long(), src)
			}
			all := paths(d)
			if len(all) == 0 {
				return
			}
			p := rapid.SampledFrom(all).Draw(t, "path")
			v, last := d.Find(p), p[len(p)-1]
			table := v.Headed || v.Kind == TableKind && v.Table.form != formInline
			want := any(plainTable(d.Root))
			var out []byte
			var err error
			op := rapid.SampledFrom([]string{"set", "new", "delete", "copy", "move", "append", "add"}).Draw(t, "op")
			what := fmt.Sprintf("%s %v", op, p)
			most := 0 // lines that may be lost
			lines := 1 + strings.Count(v.Raw(), "\n")
			switch op {
			case "set":
				if table {
					continue
				}
				raw := genValue(t, 0)
				n, _ := Parse("", []byte("x = "+raw))
				if n == nil {
					continue
				}
				out, err = d.Set(p, raw)
				most = lines
				want = change(want, p, func(h any, k string, i int) any {
					nv := plainValue(n.Root.Get("x").Value)
					if k != "" || i == 0 {
						h.(map[string]any)[k] = nv
					} else {
						h.([]any)[i-1] = nv
					}
					return h
				})
			case "new":
				if v.Kind != TableKind || v.Table.Get("brandnew") != nil {
					continue
				}
				p = p.Child("brandnew")
				out, err = d.Set(p, "7")
				if v.Table.form == formInline || v.Table.form == formDotted {
					most = 1
				}
				want = change(want, p, func(h any, k string, _ int) any {
					h.(map[string]any)[k] = int64(7)
					return h
				})
			case "append":
				if v.Kind != Array || v.Headed {
					continue
				}
				out, err = d.Set(p.Nth(len(v.Items)+1), "8")
				most = 2
				want = change(want, p.Nth(len(v.Items)+1), func(h any, _ string, _ int) any { return append(h.([]any), int64(8)) })
			case "delete":
				out, err = d.Delete(p)
				most = 1 << 30
				want = change(want, p, func(h any, k string, i int) any {
					if m, ok := h.(map[string]any); ok {
						delete(m, k)
						return m
					}
					a := h.([]any)
					return append(append([]any{}, a[:i-1]...), a[i:]...)
				})
			case "copy":
				if last.N == 0 {
					continue
				}
				out, err = d.Copy(p)
				if !table {
					most = 1 // a last line without its end gets one; an inline value's last line changes
				}
				want = change(want, p, func(h any, _ string, i int) any {
					a := h.([]any)
					return append(append(append([]any{}, a[:i]...), a[i-1]), a[i:]...)
				})
			case "move":
				if last.N == 0 {
					continue
				}
				whole := d.Find(p.whole())
				to := rapid.IntRange(1, len(whole.Items)).Draw(t, "to")
				what += fmt.Sprintf(" to %d", to)
				out, err = d.Move(p, to)
				most = 1 << 30
				want = change(want, p, func(h any, _ string, i int) any {
					a := append([]any{}, h.([]any)...)
					x := a[i-1]
					a = append(a[:i-1], a[i:]...)
					return append(a[:to-1], append([]any{x}, a[to-1:]...)...)
				})
				if got, was := bytes.Count(out, []byte("#")), bytes.Count([]byte(src), []byte("#")); err == nil && got != was {
					t.Fatalf("%s: %d of %d comments left\n%s\n->\n%s", what, got, was, src, out)
				}
			case "add":
				out, err = d.AddTable(At("rect"), true, Field{"k", "9"})
				m := want.(map[string]any)
				if a, ok := m["rect"].([]any); ok || m["rect"] == nil {
					m["rect"] = append(a, map[string]any{"k": int64(9)})
				}
			}
			if err != nil {
				t.Fatalf("%s: %v\n%s", what, err, src)
			}
			n, ps := Parse("job.toml", out)
			if n == nil {
				t.Fatalf("%s: %v\n%s\n->\n%s", what, ps, src, out)
			}
			if diff := cmp.Diff(prune(want), prune(any(plainTable(n.Root)))); diff != "" {
				t.Fatalf("%s means something else (-want +got):\n%s\n%s\n->\n%s", what, diff, src, out)
			}
			if lost := lostLines([]byte(src), out); lost > most {
				t.Fatalf("%s lost %d lines\n%s\n->\n%s", what, lost, src, out)
			}
			if op != "set" && strings.Contains(src, "\r\n") && strings.Count(string(out), "\n") != strings.Count(string(out), "\r\n") {
				t.Fatalf("%s mixes line ends: %q", what, out)
			}
			if src = string(out); strings.Contains(src, "\r\n") {
				src = strings.ReplaceAll(strings.ReplaceAll(src, "\r\n", "\n"), "\n", "\r\n")
			}
		}
	})
}

// FuzzEdit makes one edit in any text that is TOML: no panic, and what comes
// out is TOML or an error. Setting a value changes that value only.
func FuzzEdit(f *testing.F) {
	for _, c := range corpus(f) {
		f.Add([]byte(c), uint8(3), uint8(1))
	}
	f.Add([]byte(rack), uint8(0), uint8(9))
	f.Fuzz(func(t *testing.T, src []byte, op, at uint8) {
		d, _ := Parse("job.toml", src)
		if d == nil || len(src) > 4000 {
			return
		}
		all := paths(d)
		if len(all) == 0 {
			return
		}
		p := all[int(at)%len(all)]
		v := d.Find(p)
		var out []byte
		var err error
		switch op % 6 {
		case 0:
			out, err = d.Set(p, `"new"`)
			if err == nil {
				prefix, suffix := d.src[:v.start], d.src[v.end:]
				if !bytes.HasPrefix(out, prefix) || !bytes.HasSuffix(out, suffix) || string(out[len(prefix):len(out)-len(suffix)]) != `"new"` {
					t.Fatalf("set %v changed more: %q -> %q", p, src, out)
				}
			}
		case 1:
			out, err = d.Set(p.Child("brand-new"), "1")
		case 2:
			out, err = d.Delete(p)
		case 3:
			out, err = d.Copy(p)
		case 4:
			out, err = d.Move(p, 1+int(at)%3)
		case 5:
			out, err = d.AddTable(p.whole(), true, Field{"k", "1"})
		}
		if err != nil {
			return
		}
		n, ps := Parse("job.toml", out)
		if n == nil {
			t.Fatalf("%d %v: %q -> %q: %v", op%6, p, src, out, ps)
		}
		if op%6 == 1 && n.Find(p.Child("brand-new")) == nil {
			t.Fatalf("no new key: %q -> %q", src, out)
		}
	})
}
