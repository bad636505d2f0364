package book

import (
	"strings"
	"unicode/utf8"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// maxWord is the longest name, supplier or note, in characters.
const maxWord = 120

// Read reads a book. Nothing in it is passed over: a key that is not known, a wrong type and an impossible value are
// problems with their place. The book holds what could be understood. Control characters in names are written visibly, so
// that no price list can drive a terminal.
func Read(name string, data []byte, cat steel.Catalogue) (*Book, []text.Problem) {
	b := &Book{}
	doc, problems := text.Parse(name, data)
	if doc == nil || text.HasErrors(problems) {
		return b, problems
	}
	b.doc = doc
	rd := text.NewReading(name)
	top := rd.Top(doc)
	unit := measure.In
	var word string
	if top.Choice("units", &word, 0, measure.UnitNames()...) {
		if u, err := measure.ParseUnit(word); err == nil {
			unit = u
		}
	}
	doc.Unit = unit
	if top.Name("currency", &b.Currency, "", 0) {
		if len(b.Currency) > 12 {
			top.Fault(text.CodeValue, "currency", "a currency is a short sign, such as USD")
		}
		b.Currency = text.Clean(b.Currency)
	}
	top.Count("old_after", &b.OldAfter, 1, 3650, 0)
	n := 0
	full := func(f *text.Fields) bool {
		if n++; n == MaxEntries+1 {
			f.Fault(text.CodeTooMuch, "", "more than %d prices; take the oldest out", MaxEntries)
		}
		return n > MaxEntries
	}
	for _, f := range top.Tables("steel") {
		if full(f) {
			break
		}
		b.steel(f, unit, cat)
	}
	for _, f := range top.Tables("goods") {
		if full(f) {
			break
		}
		b.goods(f)
	}
	top.Done()
	return b, append(problems, rd.Problems()...)
}

func (b *Book) steel(f *text.Fields, unit measure.Unit, cat steel.Catalogue) {
	s := Steel{Least: 1}
	_, s.Line, _ = f.Place()
	good := f.Choice("shape", &s.Shape, text.Need, steel.ShapeNames()...)
	good = words(f, "size", &s.Size, text.Need) && good
	words(f, "grade", &s.Grade, 0)
	if good {
		shape, err := steel.ParseShape(s.Shape)
		if err == nil {
			s.Section, err = steel.New(steel.Spec{Shape: shape, Size: s.Size, Grade: s.Grade, Unit: unit}, cat)
		}
		if err != nil {
			key := "size"
			if _, ok := err.(*steel.SizeError); !ok && s.Grade != "" {
				key = "grade"
			}
			f.Fault(text.CodeValue, key, "%v", err)
			good = false
		}
	}
	if f.Has("length") {
		good = f.Length("length", &s.Length, text.Positive) && good
	} else {
		f.Skip("length")
	}
	given := -1
	for per := PerStick; per <= PerHundredweight; per++ {
		var m measure.Money
		has := f.Has(per.key())
		ok := f.Money(per.key(), &m, text.Positive)
		switch {
		case !has:
		case given >= 0:
			f.Fault(text.CodeConflict, per.key(), "%s and %s exclude each other; keep one of them", Per(given).key(), per.key())
			good = false
		default:
			given = int(per)
			s.Price, s.Per, good = m, per, good && ok
		}
	}
	switch {
	case given < 0:
		f.Fault(text.CodeMissing, "", "a price is missing: price (of the stick), price_ft, price_kg or price_cwt")
		good = false
	case s.Per == PerStick && s.Length == 0 && !f.Has("length"):
		f.Fault(text.CodeMissing, "length", "a price of the stick needs the stick's length")
		good = false
	}
	good = common(f, &s.Supplier, &s.Date, &s.Least, &s.Note) && good
	f.Done()
	if good {
		b.Steel = append(b.Steel, s)
	}
}

func (b *Book) goods(f *text.Fields) {
	g := Goods{Kind: "other", Pack: 1, Least: 1}
	_, g.Line, _ = f.Place()
	good := words(f, "name", &g.Name, text.Need)
	if f.Has("kind") {
		good = f.Choice("kind", &g.Kind, 0, kinds...) && good
	} else {
		f.Skip("kind")
	}
	good = f.Money("price", &g.Price, text.Need|text.Positive) && good
	if f.Has("pack") {
		good = f.Count("pack", &g.Pack, 1, MaxPack, 0) && good
	} else {
		f.Skip("pack")
	}
	good = holds(f, &g) && good
	good = common(f, &g.Supplier, &g.Date, &g.Least, &g.Note) && good
	f.Done()
	if good {
		b.Goods = append(b.Goods, g)
	}
}

// holds reads what a pack of wire, paint or gas holds.
func holds(f *text.Fields, g *Goods) bool {
	if !f.Has("holds") {
		f.Skip("holds")
		return true
	}
	parse := measure.ParseVolume
	switch g.Kind {
	case "wire":
		parse = measure.ParseMass
	case "paint", "gas":
	default:
		f.Skip("holds")
		f.Fault(text.CodeConflict, "holds", "only wire, paint and gas hold something; take it out, or say kind = \"wire\", \"paint\" or \"gas\"")
		return false
	}
	v := f.Find("holds")
	if !text.Quantity(f, "holds", &g.Amount, text.Positive, parse) {
		return false
	}
	g.Holds = text.Clean(strings.TrimSpace(v.Text))
	if utf8.RuneCountInString(g.Holds) > maxWord {
		f.Fault(text.CodeTooMuch, "holds", "at most %d characters", maxWord)
		return false
	}
	return true
}

// common reads what every price has.
func common(f *text.Fields, supplier *string, date *Day, least *int, note *string) bool {
	words(f, "supplier", supplier, 0)
	words(f, "note", note, 0)
	good := true
	if f.Has("least") {
		good = f.Count("least", least, 1, MaxLeast, 0)
	} else {
		f.Skip("least")
	}
	return ReadDay(f, "date", date, text.Need) && good
}

// ReadDay takes a day, as TOML writes it (2026-11-02) or as a text.
func ReadDay(f *text.Fields, key string, to *Day, rules text.Rule) bool {
	v := f.Take(key)
	switch {
	case v == nil:
		if rules&text.Need != 0 {
			f.Fault(text.CodeMissing, key, "%s is missing: the day on which this was the price, such as 2026-11-02", key)
		}
		return false
	case v.Kind != text.Time && v.Kind != text.String:
		f.FaultAt(v, text.CodeType, key, "this is %s; write a day such as 2026-11-02", v.Kind)
		return false
	}
	word := v.Text
	if v.Kind == text.Time {
		word = v.Raw()
	}
	d, err := ParseDay(strings.TrimSpace(word))
	if err != nil {
		f.FaultAt(v, text.CodeValue, key, "%s is no day; write one such as 2026-11-02", text.Short(v.Raw(), 40))
		return false
	}
	*to = d
	return true
}

// words takes a text of at most maxWord characters and cleans it.
func words(f *text.Fields, key string, to *string, rules text.Rule) bool {
	var s string
	if !f.Text(key, &s, rules) {
		return false
	}
	s = strings.Join(strings.Fields(s), " ")
	switch {
	case utf8.RuneCountInString(s) > maxWord:
		f.Fault(text.CodeTooMuch, key, "at most %d characters", maxWord)
		return false
	case s == "" && rules&text.Need != 0:
		f.Fault(text.CodeValue, key, "%s is empty", key)
		return false
	}
	*to = text.Clean(s)
	return true
}
