package book

import (
	"cmp"
	"slices"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

// Quote is a price as it applies to one thing.
type Quote struct {
	Each     measure.Money // for one stick, or one pack
	Pack     int           // pieces in a pack; 1 for sticks
	Supplier string
	Date     Day
	Least    int
	Line     int     // of the book
	Name     string  // of the goods
	Holds    string  // what a pack holds, as written
	Amount   float64 // kg of wire, litres of paint or gas
}

// fits tells whether a price is for this steel: the same dimensions, and the same grade where the price names one.
func (s *Steel) fits(sec steel.Section) bool {
	a, b := s.Section, sec
	return a.Shape == b.Shape && a.Depth == b.Depth && a.Width == b.Width && a.Wall == b.Wall && a.Flange == b.Flange &&
		(s.Grade == "" || a.Grade.Name == b.Grade.Name)
}

// Each gives what a stick of that length costs by this price, to the cent.
func (s *Steel) Each(length measure.Length) measure.Money {
	kg := s.Section.MassKGM() * length.MM() / 1000
	switch s.Per {
	case PerFoot:
		return s.Price.Times(int64(length), int64(measure.Foot)).Cents()
	case PerKilogram:
		return s.Price.Scale(kg)
	case PerHundredweight:
		return s.Price.Scale(kg / (100 * measure.PoundKG))
	}
	return s.Price
}

// Stick gives every price at which a stick of that steel and length is sold, the one to be used first: without a least
// quantity before with one, newest first, the lowest first of one day. Of one supplier, length and least quantity only the
// newest is given: it replaced the others. supplier "" asks for anybody's.
func (b *Book) Stick(sec steel.Section, length measure.Length, supplier string) []Quote {
	if b == nil {
		return nil
	}
	var out []Quote
	for i := range b.Steel {
		s := &b.Steel[i]
		if s.fits(sec) && (s.Length == 0 || s.Length == length) && (supplier == "" || s.Supplier == supplier) {
			out = append(out, Quote{Each: s.Each(length), Pack: 1, Supplier: s.Supplier, Date: s.Date, Least: s.Least, Line: s.Line})
		}
	}
	return newest(out)
}

// Lengths gives the lengths of stick of that steel that have a price of their own, shortest first.
func (b *Book) Lengths(sec steel.Section, supplier string) []measure.Length {
	if b == nil {
		return nil
	}
	var out []measure.Length
	for i := range b.Steel {
		if s := &b.Steel[i]; s.Length > 0 && s.fits(sec) && (supplier == "" || s.Supplier == supplier) {
			out = append(out, s.Length)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Find gives every price of goods of that name, the one to be used first as Stick does. Letters' case and repeated blanks
// do not matter.
func (b *Book) Find(name string) []Quote {
	if b == nil {
		return nil
	}
	return b.goodsWhere(func(g *Goods) bool { return sameName(g.Name, name) })
}

// Holding gives every price of wire, paint or gas that says what a pack holds and whose name fits, as Find does.
func (b *Book) Holding(kind string, fits func(name string) bool) []Quote {
	if b == nil {
		return nil
	}
	return b.goodsWhere(func(g *Goods) bool { return g.Kind == kind && g.Amount > 0 && fits(g.Name) })
}

func (b *Book) goodsWhere(is func(*Goods) bool) []Quote {
	var out []Quote
	for i := range b.Goods {
		if g := &b.Goods[i]; is(g) {
			out = append(out, Quote{g.Price, g.Pack, g.Supplier, g.Date, g.Least, g.Line, g.Name, g.Holds, g.Amount})
		}
	}
	return newest(out)
}

func sameName(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}

// newest keeps the newest of each supplier and least quantity, and sorts.
func newest(all []Quote) []Quote {
	slices.SortStableFunc(all, func(a, b Quote) int {
		return cmp.Or(cmp.Compare(b.Date, a.Date), cmp.Compare(a.Each, b.Each), cmp.Compare(a.Line, b.Line))
	})
	type who struct {
		supplier, holds, name string
		least, pack           int
	}
	seen := map[who]bool{}
	out := all[:0]
	for _, q := range all {
		if k := (who{q.Supplier, q.Holds, q.Name, q.Least, q.Pack}); !seen[k] {
			seen[k] = true
			out = append(out, q)
		}
	}
	slices.SortStableFunc(out, func(a, b Quote) int { return cmp.Compare(min(a.Least, 2), min(b.Least, 2)) })
	return out
}

// For gives what n pieces of goods cost by a price: whole packs.
func (q Quote) For(n int) (packs int, cost measure.Money) {
	pack := max(1, q.Pack)
	packs = (n + pack - 1) / pack
	return packs, q.Each * measure.Money(packs)
}
