package sketch

import (
	"strings"

	"bench.example/soapstone/fab/text"
)

// kind is one kind of table of a job.
type kind struct {
	key    string   // in the file; "" is the top of the file
	named  bool     // [key.NAME]
	many   bool     // [[key]]
	title  string   // for the eye
	fields []string // the keys in the order in which they are asked
	label  []string // the keys that a row shows
}

// kinds are the tables of a job, in the order in which one thinks of them. Keys that the reader knows and this list does
// not are asked behind the others, so that nothing is out of reach.
var kinds = []kind{
	{title: "job", fields: []string{"title", "units", "tape", "currency"}, label: []string{"title", "units", "tape"}},
	{key: "section", named: true, title: "section", fields: []string{"shape", "size", "grade", "finish", "sticks"}, label: []string{"shape", "size"}},
	{key: "rectangle", many: true, title: "rectangle", fields: []string{"name", "section", "length", "width", "plane", "at", "above", "clear", "corner", "stand", "sizes", "heel"}, label: []string{"name", "length", "width", "section"}},
	{key: "crossbars", many: true, title: "bars", fields: []string{"on", "section", "count", "spacing", "gap", "at", "run", "stand", "set", "offset", "fit"}, label: []string{"on", "count", "spacing", "gap", "section"}},
	{key: "posts", many: true, title: "posts", fields: []string{"from", "to", "section", "at", "per_side", "inset", "through"}, label: []string{"from", "to", "per_side", "section"}},
	{key: "legs", many: true, title: "legs", fields: []string{"under", "section", "surface", "length", "at", "per_side", "inset", "pad", "clear", "over"}, label: []string{"under", "surface", "length", "section"}},
	{key: "surface", named: true, title: "surface", fields: []string{"chord", "rise", "centre", "level", "points", "slope", "top"}, label: []string{"chord", "rise", "level", "slope"}},
	{key: "member", many: true, title: "member", fields: []string{"name", "section", "from", "to", "roll", "ends", "over", "lap", "holes"}, label: []string{"name", "from", "to", "section"}},
	{key: "piece", many: true, title: "loose piece", fields: []string{"mark", "section", "length", "qty", "ends", "across", "over", "same_stick", "holes"}, label: []string{"mark", "qty", "length", "section"}},
	{key: "plate", many: true, title: "plate", fields: []string{"name", "size", "at", "qty", "holes", "grade", "price"}, label: []string{"name", "size", "at", "qty"}},
	{key: "item", many: true, title: "bought part", fields: []string{"name", "qty", "mass", "price", "at"}, label: []string{"name", "qty", "mass"}},
	{key: "on_hand", many: true, title: "on hand", fields: []string{"section", "length", "qty", "ends", "price"}, label: []string{"section", "length", "qty"}},
	{key: "load", many: true, title: "load", fields: []string{"on", "load", "case", "total", "dir", "factor", "at", "from", "to", "width", "rides"}, label: []string{"on", "load", "case"}},
	{key: "support", many: true, title: "support", fields: []string{"at", "fix", "name", "spring"}, label: []string{"at", "fix"}},
	{key: "combination", many: true, title: "combination", fields: []string{"name", "cases", "weight", "g", "ride", "forward"}, label: []string{"name", "cases", "ride"}},
	{key: "joint", many: true, title: "joint", fields: []string{"between", "kind", "sides", "fillet", "passes", "pattern", "gap", "tack", "dress"}, label: []string{"between", "fillet", "sides"}},
	{key: "bolts", many: true, title: "bolts", fields: []string{"at", "each", "size", "grade", "stack", "into", "edge", "nut", "washer", "flat", "lock"}, label: []string{"at", "each", "size"}},
	{key: "saw", title: "saw", fields: []string{"kerf", "trim", "trim_end", "grip", "swing", "reads", "tilts", "capacity", "stop_max", "keep", "haul", "yard_trim", "yard_cut"}, label: []string{"kerf", "trim", "keep"}},
	{key: "welder", title: "welder", fields: []string{"process", "amps", "volts", "duty", "window", "derate", "wire", "wfs", "travel", "deposit", "fillet", "tack"}, label: []string{"process", "amps", "duty"}},
	{key: "lift", title: "lift", fields: []string{"by", "people", "limit", "picks", "hook", "angle", "jack", "raise"}, label: []string{"by", "people"}},
	{key: "access", title: "access", fields: []string{"door", "trailer", "lift"}, label: []string{"door", "trailer", "lift"}},
	{key: "check", title: "check", fields: []string{"sag", "k", "electrode"}, label: []string{"sag"}},
	{key: "paint", title: "paint", label: []string{"coating", "place", "prep"}},
	{key: "labour", title: "labour", label: []string{"rate"}},
	{key: "quote", title: "quote", label: []string{"margin", "markup"}},
}

// row is one table of the job as it stands.
type row struct {
	kind  int
	path  text.Path // nil: the top of the file
	name  string    // of a named table
	label string
	key   string // as places of the job name it: rectangle[2]
}

// rowsOf lists the tables of a document.
func rowsOf(d *text.Doc) []row {
	if d == nil {
		return nil
	}
	var out []row
	for i, k := range kinds {
		switch {
		case k.key == "":
			out = append(out, row{kind: i, label: labelOf(d, d.Root, k)})
		case k.named:
			v := d.Find(text.At(k.key))
			if v == nil || v.Table == nil {
				continue
			}
			for _, e := range v.Table.Entries {
				if e.Value.Table == nil {
					continue
				}
				p := text.At(k.key, e.Key)
				out = append(out, row{kind: i, path: p, name: e.Key, label: e.Key + "  " + labelOf(d, e.Value.Table, k), key: d.Key(p)})
			}
		case k.many:
			v := d.Find(text.At(k.key))
			if v == nil {
				continue
			}
			for n, x := range v.Items {
				if x.Table == nil {
					continue
				}
				p := text.At(k.key, n+1)
				out = append(out, row{kind: i, path: p, label: labelOf(d, x.Table, k), key: d.Key(p)})
			}
		default:
			v := d.Find(text.At(k.key))
			if v == nil || v.Table == nil {
				continue
			}
			p := text.At(k.key)
			out = append(out, row{kind: i, path: p, label: labelOf(d, v.Table, k), key: d.Key(p)})
		}
	}
	return out
}

// labelOf shows what a table says of itself in a line.
func labelOf(d *text.Doc, t *text.Table, k kind) string {
	var words []string
	for _, key := range k.label {
		e := t.Get(key)
		if e == nil {
			continue
		}
		s := told(e.Value)
		switch key {
		case "to":
			s = "to " + s
		case "count":
			s += " of them"
		case "spacing":
			s = "every " + s
		case "gap":
			s = "gaps " + s
		case "per_side":
			s += " a side"
		case "qty":
			s += " pcs"
		case "width":
			s = "x " + s
		}
		words = append(words, s)
	}
	if len(words) == 0 && len(t.Entries) > 0 {
		words = append(words, text.Count(len(t.Entries), "key"))
	}
	return text.Short(strings.Join(words, "  "), 120)
}

// told is a value as a row tells it: a list of names without its brackets and quotes.
func told(v *text.Value) string {
	var words []string
	for _, x := range v.Items {
		if x.Kind != text.String {
			return shown(v)
		}
		words = append(words, x.Text)
	}
	if len(words) == 0 {
		return shown(v)
	}
	return strings.Join(words, ", ")
}

// shown is a value as a field shows it: texts without their quotes, all else as it was written.
func shown(v *text.Value) string {
	if v.Kind == text.String {
		return v.Text
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(v.Raw(), "\n", " ")), " ")
}

// table gives the table of a row.
func (r row) table(d *text.Doc) *text.Table {
	if r.path == nil {
		return d.Root
	}
	if v := d.Find(r.path); v != nil {
		return v.Table
	}
	return nil
}
