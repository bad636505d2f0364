package sketch

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/station"
)

// nameKey is the pseudo-key of the name in the header of [section.NAME].
const nameKey = "(name)"

// keysOf lists the keys that a form of a kind asks, and what the reader says of each.
func keysOf(d *station.Desk, k kind) ([]string, map[string]text.Asked) {
	table := k.key
	if k.named {
		table += ".NAME"
	}
	asked := map[string]text.Asked{}
	var rest []string
	for _, a := range d.Asked {
		if a.Table != table || a.Key == "" || k.key == "" && (strings.HasPrefix(a.Kind, "table") || !slices.Contains(k.fields, a.Key)) {
			continue
		}
		asked[a.Key] = a
		if !slices.Contains(k.fields, a.Key) {
			rest = append(rest, a.Key)
		}
	}
	var keys []string
	if k.named {
		keys = append(keys, nameKey)
	}
	for _, key := range k.fields {
		if _, ok := asked[key]; ok || len(asked) == 0 {
			keys = append(keys, key)
		}
	}
	return append(keys, rest...), asked
}

// choices gives what a key may be, where that is a short list; nil else.
func choices(d *station.Desk, k kind, key string, a text.Asked, now string) []string {
	var c []string
	switch {
	case strings.HasPrefix(a.Kind, "one of "):
		c = strings.Split(strings.TrimPrefix(a.Kind, "one of "), ", ")
	case strings.HasPrefix(a.Kind, "true"):
		c = []string{"true", "false"}
	case key == "section":
		c = names(d.Doc, "section")
	case key == "surface" && k.key == "legs":
		c = names(d.Doc, "surface")
	case key == "on" && k.key == "crossbars", key == "from" && k.key == "posts", key == "to" && k.key == "posts", key == "under" && k.key == "legs", key == "above":
		c = names(d.Doc, "rectangle")
	case key == "pad":
		c = names(d.Doc, "plate")
	}
	if len(c) == 0 {
		return nil
	}
	if !a.Needed {
		c = append([]string{""}, c...)
	}
	if !slices.Contains(c, now) {
		c = append([]string{now}, c...)
	}
	return c
}

// names lists the names of the tables of a kind.
func names(d *text.Doc, key string) []string {
	if d == nil {
		return nil
	}
	v := d.Find(text.At(key))
	if v == nil {
		return nil
	}
	var out []string
	if v.Table != nil {
		for _, e := range v.Table.Entries {
			if e.Value.Table != nil {
				out = append(out, e.Key)
			}
		}
	}
	for _, x := range v.Items {
		if e := x.Table.Get("name"); e != nil && e.Value.Kind == text.String {
			out = append(out, e.Value.Text)
		}
	}
	return out
}

// spelling gives the TOML of what was typed. Lists, tables, true, false and numbers stay as they are where the key takes
// more than text; everything else is text.
func spelling(typed string, a text.Asked, old *text.Value) string {
	if old != nil && old.Kind != text.String || old == nil && a.Kind != "text" {
		switch {
		case strings.HasPrefix(typed, "["), strings.HasPrefix(typed, "{"), typed == "true", typed == "false":
			return typed
		}
		if _, err := strconv.ParseFloat(typed, 64); err == nil && !strings.HasPrefix(a.Kind, "one of") && !strings.ContainsAny(typed, "xXnNiI") {
			if strings.HasPrefix(typed, ".") {
				typed = "0" + typed
			}
			return strings.TrimPrefix(typed, "+")
		}
	}
	return text.Quote(typed)
}

// edit opens the form of a table that is there.
func edit(d *station.Desk, r row) []station.Intent {
	t := r.table(d.Doc)
	if t == nil {
		return nil
	}
	k := kinds[r.kind]
	keys, asked := keysOf(d, k)
	f := station.Form{Title: "change " + k.title + " " + r.name}
	olds := make([]*text.Value, len(keys))
	for i, key := range keys {
		now := ""
		if key == nameKey {
			now = r.name
		} else if e := t.Get(key); e != nil {
			now, olds[i] = shown(e.Value), e.Value
		}
		f.Fields = append(f.Fields, field(d, k, key, asked[key], now))
	}
	change := func(d *station.Desk, values []string) ([]byte, string, error) {
		doc := d.Doc
		if doc == nil {
			return nil, "", errors.New("the job file cannot be read just now")
		}
		data := doc.Bytes()
		at := r.path // a new name in the header moves the table
		var told []string
		for i, key := range keys {
			was := f.Fields[i].Value
			if values[i] == was {
				continue
			}
			var err error
			cur, _ := text.Parse(doc.Name, data)
			if cur == nil {
				return nil, "", errors.New("that would leave a file that cannot be read")
			}
			switch {
			case key == nameKey || key == "name" && (k.key == "rectangle" || k.key == "member" || k.key == "plate") && was != "" && values[i] != "":
				data, err = job.Rename(job.File{Name: doc.Name, Data: data}, k.key, was, values[i])
				if key == nameKey && err == nil {
					at = text.At(k.key, values[i])
				}
			case values[i] == "":
				data, err = cur.Delete(at.Child(key))
			default:
				data, err = cur.Set(at.Child(key), spelling(values[i], asked[key], olds[i]))
			}
			if err != nil {
				return nil, "", &station.Amiss{Field: i, Why: err.Error()}
			}
			told = append(told, fmt.Sprintf("%s %s", f.Fields[i].Label, orNothing(values[i])))
		}
		return data, strings.TrimSpace(k.title+" "+r.name) + ": " + strings.Join(told, ", "), nil
	}
	f.Would = func(d *station.Desk, values []string) []byte {
		data, _, err := change(d, values)
		if err != nil {
			return nil
		}
		return data
	}
	f.Done = func(d *station.Desk, values []string) ([]station.Intent, error) {
		data, what, err := change(d, values)
		if err != nil {
			return nil, err
		}
		if string(data) == string(d.Doc.Bytes()) {
			return nil, nil
		}
		return judged(d, data, what, keys, r.path)
	}
	return []station.Intent{f}
}

func orNothing(s string) string {
	if s == "" {
		return "left out"
	}
	return text.Short(s, 40)
}

func field(d *station.Desk, k kind, key string, a text.Asked, now string) station.Field {
	label := strings.ReplaceAll(key, "_", " ")
	if key == nameKey {
		return station.Field{Label: "name", Value: now, Help: "what it is called in the job; renamed wherever it is used"}
	}
	table := k.key
	if k.named {
		table += ".NAME"
	}
	help := job.Meaning(table, key)
	if a.Example != "" {
		if help != "" {
			help += "; "
		}
		if !strings.Contains(a.Example, "such as ") {
			help += "such as "
		}
		help += a.Example
	}
	if a.Needed {
		help += " (needed)"
	}
	return station.Field{Label: label, Value: now, Help: help, Choices: choices(d, k, key, a, now)}
}

// judged lets the reader look at a new text first. What it finds wrong with this table is shown at its field; a fault that
// was there before does not stand in the way of mending another one.
func judged(d *station.Desk, data []byte, what string, keys []string, p text.Path) ([]station.Intent, error) {
	if d.Check == nil {
		return nil, errors.New("the job file cannot be written here")
	}
	before := map[string]bool{}
	for _, x := range d.Check(d.Doc.Bytes()) {
		before[x.Key+"\x00"+x.Message] = true
	}
	doc, _ := text.Parse(d.Doc.Name, data)
	prefix := ""
	if doc != nil && p != nil {
		prefix = doc.Key(p)
	}
	var first error
	for _, x := range d.Check(data) {
		if x.Severity != text.Error || before[x.Key+"\x00"+x.Message] {
			continue
		}
		at := -1
		key := x.Key
		if prefix != "" {
			key = strings.TrimPrefix(strings.TrimPrefix(x.Key, prefix), ".")
		}
		key, _, _ = strings.Cut(key, "[")
		if strings.HasPrefix(x.Key, prefix) {
			at = slices.Index(keys, key)
		}
		why := &station.Amiss{Field: at, Why: x.Message}
		if at >= 0 {
			return nil, why
		}
		if first == nil {
			why.Why = strings.TrimSpace(x.Key + ": " + x.Message)
			first = why
		}
	}
	if first != nil {
		return nil, first
	}
	return []station.Intent{station.Rewrite{Text: data, What: text.Short(what, 120)}}, nil
}

// add asks which kind of table, then for its keys.
func add(d *station.Desk) []station.Intent {
	var titles []string
	for _, k := range kinds {
		if k.key == "" || !k.named && !k.many && d.Doc.Find(text.At(k.key)) != nil {
			continue
		}
		titles = append(titles, k.title)
	}
	at := max(0, slices.Index(titles, "rectangle"))
	return []station.Intent{station.Form{
		Title:  "add to the job",
		Fields: []station.Field{{Label: "what", Value: titles[at], Choices: titles, Help: "left and right choose, or its first letter: " + strings.Join(titles, ", ")}},
		Done: func(d *station.Desk, v []string) ([]station.Intent, error) {
			for i, k := range kinds {
				if k.title == v[0] {
					return fresh(d, i), nil
				}
			}
			return nil, errors.New("there is no such table")
		},
	}}
}

// fresh opens an empty form for a new table.
func fresh(d *station.Desk, i int) []station.Intent {
	k := kinds[i]
	keys, asked := keysOf(d, k)
	f := station.Form{Title: "new " + k.title}
	for _, key := range keys {
		now := ""
		if asked[key].Needed && strings.HasPrefix(asked[key].Kind, "one of ") {
			now, _, _ = strings.Cut(strings.TrimPrefix(asked[key].Kind, "one of "), ", ")
		}
		if key == "section" {
			if n := names(d.Doc, "section"); len(n) > 0 {
				now = n[0]
			}
		}
		if n := names(d.Doc, "rectangle"); len(n) > 0 && (key == "on" && k.key == "crossbars" || key == "from" && k.key == "posts" || key == "under" && k.key == "legs") {
			now = n[0]
		}
		f.Fields = append(f.Fields, field(d, k, key, asked[key], now))
	}
	// build gives the new text, where the table stands in it, and its name.
	build := func(d *station.Desk, values []string) ([]byte, text.Path, string, error) {
		if d.Doc == nil {
			return nil, nil, "", errors.New("the job file cannot be read just now")
		}
		var fields []text.Field
		name := ""
		for i, key := range keys {
			if key == nameKey {
				if name = values[i]; name == "" {
					return nil, nil, "", &station.Amiss{Field: i, Why: "it needs a name"}
				}
				continue
			}
			if values[i] != "" {
				fields = append(fields, text.Field{Key: key, Value: spelling(values[i], asked[key], nil)})
			}
		}
		p := text.At(k.key)
		if k.named {
			p = text.At(k.key, name)
			if d.Doc.Find(p) != nil {
				return nil, nil, "", &station.Amiss{Field: 0, Why: "there is one of that name already"}
			}
		}
		data, err := d.Doc.AddTable(p, k.many, fields...)
		if k.many {
			p = p.Nth(d.Doc.Count(p) + 1)
		}
		return data, p, name, err
	}
	f.Would = func(d *station.Desk, values []string) []byte {
		data, _, _, err := build(d, values)
		if err != nil {
			return nil
		}
		return data
	}
	f.Done = func(d *station.Desk, values []string) ([]station.Intent, error) {
		data, p, name, err := build(d, values)
		if err != nil {
			return nil, err
		}
		return judged(d, data, "new "+k.title+" "+name, keys, p)
	}
	return []station.Intent{f}
}

// double copies a table under another name.
func double(d *station.Desk, r row) []station.Intent {
	k := kinds[r.kind]
	t := r.table(d.Doc)
	if !k.many || t == nil {
		return []station.Intent{station.Say{Text: "a " + k.title + " stands only once; add a new one instead", Bad: true}}
	}
	nameIs := "name"
	if k.key == "piece" {
		nameIs = "mark"
	}
	make := func(d *station.Desk, name string) ([]station.Intent, error) {
		var changes []text.Field
		if name != "" {
			changes = []text.Field{{Key: nameIs, Value: text.Quote(name)}}
		}
		data, err := d.Doc.Copy(r.path, changes...)
		if err != nil {
			return nil, err
		}
		return judged(d, data, "copy of "+k.title+" "+name, nil, nil)
	}
	e := t.Get(nameIs)
	if e == nil || e.Value.Kind != text.String {
		out, err := make(d, "")
		if err != nil {
			return []station.Intent{station.Say{Text: err.Error(), Bad: true}}
		}
		return out
	}
	return []station.Intent{station.Ask{Prompt: "name of the copy:", Initial: e.Value.Text + " 2", Help: "everything else as in " + e.Value.Text + "; change it afterwards", Done: func(name string) ([]station.Intent, error) {
		if name == "" {
			return nil, errors.New("it needs a name")
		}
		return make(d, name)
	}}}
}

// remove deletes a table after a question; what hangs on it is told.
func remove(d *station.Desk, r row) []station.Intent {
	k := kinds[r.kind]
	if r.path == nil {
		return []station.Intent{station.Say{Text: "the job itself stays; leave a key empty to take it out", Bad: true}}
	}
	data, err := d.Doc.Delete(r.path)
	if err != nil {
		return []station.Intent{station.Say{Text: err.Error(), Bad: true}}
	}
	help := "yes or no; u brings it back"
	broken := 0
	if d.Check != nil {
		for _, x := range d.Check(data) {
			if x.Severity == text.Error {
				broken++
			}
		}
	}
	if broken > 0 {
		help = fmt.Sprintf("yes or no; %d other places then want mending; u brings it back", broken)
	}
	what := strings.TrimSpace(k.title + " " + r.label)
	return []station.Intent{station.Ask{Prompt: "take " + text.Short(what, 30) + " out?", Initial: "yes", Help: help, Done: func(word string) ([]station.Intent, error) {
		switch {
		case word != "" && strings.HasPrefix("yes", word):
			return []station.Intent{station.Rewrite{Text: data, What: text.Short("without "+what, 120)}}, nil
		case strings.HasPrefix("no", word):
			return nil, nil
		}
		return nil, errors.New("write yes or no")
	}}}
}
