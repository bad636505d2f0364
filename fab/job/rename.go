package job

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/text"
)

// Rename gives the job's bytes with a rectangle, member, plate, surface or section called by another name, wherever the
// job uses the old one ("lower.x1@24in", "lower corners" and what loads, supports, bolts and the lift name included); all else stays byte for byte. table is the name of
// the table: rectangle, member, plate, section, surface. A section or surface is renamed in its header; one that only the
// shop file has cannot be renamed here.
func Rename(file File, table, old, new string) ([]byte, error) {
	rd := &reader{Reading: text.NewReading(file.Name)}
	kinds := map[string][]kind{"rectangle": {aRectangle, aMember, aSpot}, "member": {aMember, aSpot}, "plate": {aPlate},
		"section": {aSection}, "surface": {aSurface}}[table]
	switch {
	case kinds == nil:
		return nil, fmt.Errorf("a %s has no name to change", text.Short(table, 40))
	case trimmed(new) == "" || trimmed(new) != new || (table == "rectangle" || table == "member") && strings.ContainsAny(new, banned):
		return nil, fmt.Errorf("%q cannot be a name", text.Short(new, 60))
	case old == new:
		return file.Data, nil
	}
	doc := rd.parse(file)
	if doc == nil {
		return nil, fmt.Errorf("%s", rd.Problems()[0])
	}
	rd.readAll(doc, nil)
	edits, err := rd.renamed(doc, table, old, new)
	if err != nil {
		return nil, err
	}
	for _, r := range rd.refs {
		if r.v == nil || r.v.Kind != text.String {
			continue
		}
		for _, k := range kinds {
			if r.kind != k {
				continue
			}
			if to, hit := renameIn(r.v.Text, old, new, table, k); hit {
				edits = append(edits, text.Replacement{Value: r.v, With: text.Quote(to)})
			}
		}
	}
	edits = append(edits, rd.renamedPlaces(doc, table, old, new)...)
	return doc.Replace(edits...)
}

// placeKeys are the keys that name members, groups and places which only the built frame can look up.
var placeKeys = []struct{ table, key string }{{"load", "on"}, {"support", "at"}, {"bolts", "at"}, {"lift", "picks"}, {"lift", "jack"},
	{"sequence", "stages"}, {"sequence", "joints"}}

// renamedPlaces finds the uses under placeKeys. Bolts take a name for a plate's before anything else, as where they are
// planned; else a name is a member's before it is a rectangle's.
func (rd *reader) renamedPlaces(doc *text.Doc, table, old, new string) (edits []text.Replacement) {
	members, plates := map[string]bool{}, map[string]bool{}
	for _, m := range rd.job.Members {
		members[m.Name] = true
	}
	for _, p := range rd.job.Plates {
		plates[p.Name] = true
	}
	for _, k := range placeKeys {
		for n := 1; n <= doc.Count(text.At(k.table)); n++ {
			at := text.At(k.table, n, k.key)
			if k.table == "lift" || k.table == "sequence" {
				at = text.At(k.table, k.key)
			}
			v := doc.Find(at)
			if v == nil {
				continue
			}
			items := []*text.Value{v}
			if v.Kind == text.Array {
				items = v.Items
			}
			for _, it := range items {
				if it.Kind != text.String {
					continue
				}
				plate := k.table == "bolts" && plates[trimmed(it.Text)]
				if plate != (table == "plate") {
					continue
				}
				if to, hit := renameParts(it.Text, old, new, table, members); hit {
					edits = append(edits, text.Replacement{Value: it, With: text.Quote(to)})
				}
			}
		}
	}
	return edits
}

// renameParts changes the name in each of the parts that a + joins: a joint is named by its members.
func renameParts(s, old, new, table string, members map[string]bool) (string, bool) {
	parts := strings.Split(s, "+")
	any := false
	for i, p := range parts {
		if to, hit := renamePlace(p, old, new, table, members); hit {
			parts[i], any = to, true
		} else {
			parts[i] = trimmed(p)
		}
	}
	return strings.Join(parts, " + "), any
}

// groupWords are what may follow a rectangle's name: the lower legs.
var groupWords = map[string]bool{"corners": true, "sides": true, "bars": true, "posts": true, "legs": true, "members": true, "over": true}

// renamePlace changes the name inside a text under placeKeys; members are the names of single members.
func renamePlace(s, old, new, table string, members map[string]bool) (string, bool) {
	s = trimmed(s)
	rest, found := strings.CutPrefix(s, old)
	if !found {
		return "", false
	}
	base, _, _ := strings.Cut(s, "@")
	single := members[trimmed(base)]
	switch table {
	case "plate":
		return new, rest == ""
	case "member":
		return new + rest, single && trimmed(base) == old
	case "rectangle":
		word := trimmed(rest)
		return new + rest, !single && (rest == "" || strings.HasPrefix(rest, ".") || word != rest && groupWords[word])
	}
	return "", false
}

// renamed finds where the thing itself is named.
func (rd *reader) renamed(doc *text.Doc, table, old, new string) (edits []text.Replacement, err error) {
	if table == "section" || table == "surface" {
		if doc.Find(text.At(table, old)) == nil {
			return nil, fmt.Errorf("there is no %s %q in this file", table, text.Short(old, 40))
		}
		if doc.Find(text.At(table, new)) != nil {
			return nil, fmt.Errorf("there is a %s %q already", table, text.Short(new, 40))
		}
		return doc.KeyReplacements(text.At(table, old), new), nil
	}
	for n := 1; n <= doc.Count(text.At(table)); n++ {
		v := doc.Find(text.At(table, n, "name"))
		switch {
		case v != nil && v.Kind == text.String && v.Text == new:
			return nil, fmt.Errorf("there is a %s %q already", table, text.Short(new, 40))
		case v != nil && v.Kind == text.String && v.Text == old:
			edits = append(edits, text.Replacement{Value: v, With: text.Quote(new)})
		}
	}
	if len(edits) != 1 {
		return nil, fmt.Errorf("there are %d of %s %q; one can be renamed", len(edits), table, text.Short(old, 40))
	}
	return edits, nil
}

// renameIn changes the name inside a text that uses it.
func renameIn(s, old, new, table string, k kind) (string, bool) {
	rest, found := strings.CutPrefix(s, old)
	if !found {
		return "", false
	}
	switch {
	case k != aMember && k != aSpot:
		return new, rest == ""
	case table == "rectangle":
		return new + rest, strings.HasPrefix(rest, ".") || k == aSpot && rest == " corners"
	}
	return new + rest, rest == "" || strings.HasPrefix(trimmed(rest), "@")
}
