package book

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// ErrNoLine says that the book has no such line.
var ErrNoLine = errors.New("the book has no such line")

// PutSteel gives the text of the book with a price of steel in it. A price of the same article (steel, length, supplier,
// what it is for, least quantity) is overwritten in its place, with its day; comments stay. replaced tells so.
func (b *Book) PutSteel(s Steel) (out []byte, replaced bool, err error) {
	if b.doc == nil {
		return nil, false, errors.New("this book has no text to be changed")
	}
	s.Least = max(1, s.Least)
	for i, o := range b.Steel {
		same := o.Section.Same(s.Section) && (o.Grade == "") == (s.Grade == "") && o.Length == s.Length && o.Supplier == s.Supplier && o.Per == s.Per && o.Least == s.Least
		if same {
			out, err = b.renew("steel", i, o.Per.key(), s.Price, s.Date)
			return out, true, err
		}
	}
	fields := []text.Field{{Key: "shape", Value: text.Quote(s.Shape)}, {Key: "size", Value: text.Quote(s.Size)}}
	if s.Grade != "" {
		fields = append(fields, text.Field{Key: "grade", Value: text.Quote(s.Grade)})
	}
	if s.Length > 0 {
		fields = append(fields, text.Field{Key: "length", Value: text.Quote(spell(s.Length))})
	}
	fields = append(fields, text.Field{Key: s.Per.key(), Value: money(s.Price)})
	out, err = b.doc.AddTable(text.At("steel"), true, behind(fields, s.Supplier, s.Date, s.Least, s.Note)...)
	return out, false, err
}

// PutGoods gives the text of the book with a price of goods in it, as PutSteel does.
func (b *Book) PutGoods(g Goods) (out []byte, replaced bool, err error) {
	if b.doc == nil {
		return nil, false, errors.New("this book has no text to be changed")
	}
	g.Least, g.Pack = max(1, g.Least), max(1, g.Pack)
	for i, o := range b.Goods {
		if sameName(o.Name, g.Name) && o.Supplier == g.Supplier && o.Pack == g.Pack && o.Holds == g.Holds && o.Least == g.Least {
			out, err = b.renew("goods", i, "price", g.Price, g.Date)
			return out, true, err
		}
	}
	fields := []text.Field{{Key: "name", Value: text.Quote(g.Name)}, {Key: "kind", Value: text.Quote(g.Kind)}, {Key: "price", Value: money(g.Price)}}
	if g.Pack > 1 {
		fields = append(fields, text.Field{Key: "pack", Value: strconv.Itoa(g.Pack)})
	}
	if g.Holds != "" {
		fields = append(fields, text.Field{Key: "holds", Value: text.Quote(g.Holds)})
	}
	out, err = b.doc.AddTable(text.At("goods"), true, behind(fields, g.Supplier, g.Date, g.Least, g.Note)...)
	return out, false, err
}

// Renew gives the text of the book with another amount and day at the n-th price (from 1), steel first, then goods.
func (b *Book) Renew(n int, price measure.Money, date Day) ([]byte, error) {
	switch {
	case n >= 1 && n <= len(b.Steel):
		return b.renew("steel", n-1, b.Steel[n-1].Per.key(), price, date)
	case n > len(b.Steel) && n <= len(b.Steel)+len(b.Goods):
		return b.renew("goods", n-1-len(b.Steel), "price", price, date)
	}
	return nil, fmt.Errorf("%w %d; it has %d", ErrNoLine, n, len(b.Steel)+len(b.Goods))
}

// Delete gives the text of the book without the n-th price (from 1), steel first, then goods, as a listing shows them.
func (b *Book) Delete(n int) ([]byte, error) {
	p, ok := b.place(n)
	if !ok {
		return nil, fmt.Errorf("%w %d; it has %d", ErrNoLine, n, len(b.Steel)+len(b.Goods))
	}
	return b.doc.Delete(p)
}

// place finds the table of the n-th price.
func (b *Book) place(n int) (text.Path, bool) {
	switch {
	case b.doc == nil || n < 1 || n > len(b.Steel)+len(b.Goods):
		return nil, false
	case n <= len(b.Steel):
		return b.table("steel", n)
	}
	return b.table("goods", n-len(b.Steel))
}

// table is the i-th table of a kind; entries and tables count alike, because a book with an error is never edited.
func (b *Book) table(kind string, i int) (text.Path, bool) {
	p := text.At(kind, i)
	return p, b.doc.Find(p) != nil
}

// renew writes a new price and day into an entry.
func (b *Book) renew(kind string, i int, key string, price measure.Money, date Day) ([]byte, error) {
	p, ok := b.table(kind, i+1)
	if !ok {
		return nil, ErrNoLine
	}
	pv, dv := b.doc.Find(p.Child(key)), b.doc.Find(p.Child("date"))
	if pv == nil || dv == nil {
		return nil, ErrNoLine
	}
	return b.doc.Replace(text.Replacement{Value: pv, With: money(price)}, text.Replacement{Value: dv, With: date.String()})
}

func behind(fields []text.Field, supplier string, date Day, least int, note string) []text.Field {
	if supplier != "" {
		fields = append(fields, text.Field{Key: "supplier", Value: text.Quote(supplier)})
	}
	fields = append(fields, text.Field{Key: "date", Value: date.String()})
	if least > 1 {
		fields = append(fields, text.Field{Key: "least", Value: strconv.Itoa(least)})
	}
	if note != "" {
		fields = append(fields, text.Field{Key: "note", Value: text.Quote(note)})
	}
	return fields
}

// money writes an amount so that it reads back as the same.
func money(m measure.Money) string {
	if m%measure.Cent == 0 {
		return m.String()
	}
	s := fmt.Sprintf("%d.%04d", m/measure.Whole, m%measure.Whole)
	return strings.TrimRight(s, "0")
}

// spell writes a length so that it reads back as the same: in feet or inches where it is whole, else in 64ths, else in
// millimetres.
func spell(v measure.Length) string {
	switch {
	case v%measure.Foot == 0:
		return strconv.FormatInt(int64(v/measure.Foot), 10) + "ft"
	case v%measure.Metre == 0:
		return strconv.FormatInt(int64(v/measure.Metre), 10) + "m"
	case v%measure.Sixtyfourth == 0:
		return strings.TrimSuffix(measure.Sixtyfourths.Print(v), `"`) + "in"
	}
	mm := fmt.Sprintf("%d.%06d", v/measure.Millimetre, v%measure.Millimetre)
	return strings.TrimSuffix(strings.TrimRight(mm, "0"), ".") + "mm"
}
