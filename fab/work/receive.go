package work

import (
	"fmt"
	"slices"
	"strings"

	"bench.example/soapstone/fab/measure"
)

// Received: sticks came from the yard, and were counted and measured.
type Received struct {
	Section  string
	Nominal  measure.Length // of a stick, as the job names it and as it was paid for
	Qty      int            // how many came
	Length   measure.Length // the shortest as measured; 0: nobody measured
	Price    measure.Money  // for one, as paid; 0: as planned
	Wall     measure.Length // the thinnest measured; 0: nobody measured
	Bow      measure.Length // the worst rise of a stick off a string from end to end; 0: straight, or nobody looked
	Twist    measure.Length // the worst rise of one corner at the far end; 0 as Bow
	Supplier string
	NoMore   bool // the yard has no more of this length
}

// Receipt is sticks that came, as the record holds them.
type Receipt struct {
	ID ID
	At int64
	Received
}

// keptReceipts is how many receipts a job may have: far more than trips to the yard.
const keptReceipts = 500

// MaxSticks is the most that one receipt may count.
const MaxSticks = 100_000

// receipt is what only a receipt has; other events carry a nil one, so that reading half a million of them pays nothing.
type receipt struct {
	qty, price, noMore int64
	wall, bow, twist   measure.Length
	supplier           string
}

func (e Received) fields() fields {
	r := receipt{qty: int64(e.Qty), price: int64(e.Price), wall: e.Wall, bow: e.Bow, twist: e.Twist, supplier: e.Supplier}
	if e.NoMore {
		r.noMore = 1
	}
	return fields{kind: kReceived, section: e.Section, nominal: e.Nominal, length: e.Length, receipt: &r}
}

func (f *fields) received() Received {
	r := f.bill()
	return Received{f.section, f.nominal, int(r.qty), f.length, measure.Money(r.price), r.wall, r.bow, r.twist, r.supplier, r.noMore != 0}
}

// bill gives the receipt's own fields, made where they are asked for first.
func (f *fields) bill() *receipt {
	if f.receipt == nil {
		f.receipt = &receipt{}
	}
	return f.receipt
}

// number tells where a number of the text of a receipt goes; nil where the key is none of its.
func (f *fields) number(key string) *int64 {
	switch key {
	case "qty":
		return &f.bill().qty
	case "price_e4":
		return &f.bill().price
	case "no_more":
		return &f.bill().noMore
	case "wall_nm":
		return (*int64)(&f.bill().wall)
	case "bow_nm":
		return (*int64)(&f.bill().bow)
	case "twist_nm":
		return (*int64)(&f.bill().twist)
	}
	return nil
}

func (f *fields) checkReceipt(bad func(string, ...any) error) error {
	r := f.bill()
	switch {
	case f.section == "":
		return bad("it needs a section")
	case f.nominal <= 0:
		return bad("it needs the length of the sticks as bought")
	case f.length < 0 || f.length > f.nominal*2:
		return bad("a stick of %g m cannot measure %g m", float64(f.nominal)/float64(measure.Metre), float64(f.length)/float64(measure.Metre))
	case r.qty < 0 || r.qty > MaxSticks || r.qty == 0 && r.noMore == 0:
		return bad("%d sticks cannot have come; 1 to %d, or none where the yard has no more", r.qty, MaxSticks)
	case r.price < 0 || r.price > int64(measure.MaxMoney):
		return bad("%s is no price", measure.Money(r.price))
	case r.wall < 0 || r.bow < 0 || r.twist < 0 || r.wall > measure.Metre || r.bow > f.nominal || r.twist > f.nominal:
		return bad("wall, bow and twist are lengths from 0 up, and smaller than the stick")
	case len(r.supplier) > MaxName:
		return bad("supplier has %d bytes, the limit is %d", len(r.supplier), MaxName)
	}
	return nil
}

func (s *State) receive(id ID, at int64, f *fields) bool {
	if len(s.receipts) >= keptReceipts {
		s.problems.add(pOther, fmt.Sprintf("event %v: there are %d receipts already, no more are taken", id, keptReceipts))
		return false
	}
	s.receipts = append(s.receipts, Receipt{id, at, f.received()})
	s.index.set(id, place{kind: kReceived})
	return true
}

// Receipts gives what came from the yard, in that order.
func (s *State) Receipts() []Receipt { return slices.Clone(s.receipts) }

// words says a receipt in a line.
func (e Received) words(tape func(measure.Length) string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d sticks of %s, %s, came", e.Qty, e.Section, tape(e.Nominal))
	if e.Supplier != "" {
		b.WriteString(" from " + e.Supplier)
	}
	if e.Price > 0 {
		fmt.Fprintf(&b, " at %s", e.Price)
	}
	for _, x := range []struct {
		what string
		v    measure.Length
	}{{"measured ", e.Length}, {"bow ", e.Bow}, {"twist ", e.Twist}} {
		if x.v > 0 {
			b.WriteString(", " + x.what + tape(x.v))
		}
	}
	if e.Wall > 0 {
		fmt.Fprintf(&b, ", wall %.3f in (%.2f mm)", e.Wall.Inches(), e.Wall.MM())
	}
	if e.NoMore {
		b.WriteString("; the yard has no more")
	}
	return b.String()
}
