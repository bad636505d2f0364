package job

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/text"
)

// Rename gives the job's bytes with a rectangle, member, plate, surface or section called by another name, wherever the
// job uses the old one ("lower.x1@24in" and "lower corners" included); all else stays byte for byte. table is the name of
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
	return doc.Replace(edits...)
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
