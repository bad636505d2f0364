package job

import (
	"sort"
	"strings"

	"bench.example/soapstone/fab/text"
)

// Reference gives every table and key of a job file that the reader understands, by asking the reader itself: it reads
// a probe with one of each table, and the jobs given as examples, and notes what it was asked for. So the reference
// cannot lag behind the code.
func (r Reader) Reference(examples ...File) []text.Asked {
	rd := &reader{cat: r.Catalogue, Reading: text.NewReading()}
	rd.Ask()
	rd.ask(File{Name: "probe"})
	var probe strings.Builder
	var heads []string
	for _, a := range rd.Asked() {
		if a.Table != "" {
			continue
		}
		switch {
		case a.Key == "section" || a.Key == "surface":
			heads = append(heads, "["+a.Key+".NAME]\n")
		case strings.HasPrefix(a.Kind, "tables"):
			heads = append(heads, "[["+a.Key+"]]\n")
		case strings.HasPrefix(a.Kind, "table"):
			heads = append(heads, "["+a.Key+"]\n")
		}
	}
	sort.Strings(heads)
	for _, h := range heads {
		probe.WriteString(h)
	}
	rd.ask(File{Name: "probe", Data: []byte(probe.String())})
	for _, e := range examples {
		rd.ask(e)
	}
	byKey := map[string]text.Asked{}
	for _, a := range rd.Asked() {
		a.Table = oneName(a.Table)
		if (a.Table == "section" || a.Table == "surface") && !strings.Contains(a.Table, ".") {
			continue // names, not keys
		}
		id := a.Table + "." + a.Key
		if old, ok := byKey[id]; ok && len(old.Kind) >= len(a.Kind) {
			continue
		}
		byKey[id] = a
	}
	var out []text.Asked
	for _, a := range byKey {
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

// ask reads a file for what is asked, whatever it says.
func (rd *reader) ask(f File) {
	if doc := rd.parse(f); doc != nil {
		rd.job, rd.refs, rd.pads, rd.frames, rd.bodies = Job{}, nil, nil, nil, nil
		rd.readAll(doc, nil)
	}
}

// oneName puts NAME in the place of a section's or surface's own name.
func oneName(table string) string {
	for _, kind := range []string{"section", "surface", "welder"} {
		if rest, ok := strings.CutPrefix(table, kind+"."); ok {
			_, sub, more := strings.Cut(rest, ".")
			if more {
				return kind + ".NAME." + sub
			}
			return kind + ".NAME"
		}
	}
	return table
}
