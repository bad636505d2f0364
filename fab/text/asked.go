package text

import (
	"regexp"
	"sort"
	"strings"
)

// Asked is one key that a reading asked for: what the reader understands, told by the reader itself.
type Asked struct {
	Table   string // without numbers: rectangle, section.*, posts
	Key     string
	Kind    string // length, angle, list, one of ...
	Example string // what is accepted
	Needed  bool
	Layers  int // 2 where a shop file may hold it too
}

// Ask makes the reading remember what it is asked for; see Asked.
func (r *Reading) Ask() { r.asked = map[string]Asked{} }

// Asked gives what was asked for since Ask, by table and key.
func (r *Reading) Asked() []Asked {
	out := make([]Asked, 0, len(r.asked))
	for _, a := range r.asked {
		out = append(out, a)
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].Table != out[j].Table {
			return out[i].Table < out[j].Table
		}
		return out[i].Key < out[j].Key
	})
	return out
}

var numbers = regexp.MustCompile(`\[\d+\]`)

// ask notes a key. The kind that says more wins: a key may be taken as a bare value first and read by kind later.
func (f *Fields) ask(key, kind, example string, rules Rule) {
	if f.r == nil || f.r.asked == nil || key == "" {
		return
	}
	table := numbers.ReplaceAllString(f.path, "")
	id := table + "\x00" + key
	a, ok := f.r.asked[id]
	if !ok {
		a = Asked{Table: table, Key: key}
	}
	if kind != "" {
		switch {
		case a.Kind == "" || a.Kind == "list":
			a.Kind, a.Example = kind, example
		case a.Kind != kind && !strings.Contains(a.Kind, kind):
			a.Kind += " or " + kind
			if a.Example == "" {
				a.Example = example
			}
		}
	}
	a.Needed = a.Needed || rules&Need != 0
	a.Layers = max(a.Layers, len(f.layers))
	f.r.asked[id] = a
}
