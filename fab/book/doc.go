// Package book is the shop's price book as values: what steel and bought goods cost, at whose yard, and since when.
//
// The book is a TOML file, prices.toml, that a person keeps and mends:
//
//	currency  = "USD"        # of all its prices
//	units     = "in"         # of bare numbers
//	old_after = 90           # days after which a price is marked old
//
//	[[steel]]
//	shape    = "rect-tube"
//	size     = "2 x 1 x 14ga"
//	grade    = "A513"        # left out: whatever grade the yard sells in this size
//	length   = "20ft"        # of the stick; left out with price_ft, price_kg, price_cwt: any length
//	price    = 30.50         # of the stick; or price_ft, price_kg, price_cwt
//	supplier = "Harbour Steel"
//	date     = 2026-11-02    # when this was the price
//	least    = 5             # the yard sells at this price from so many sticks up; left out: from one
//
//	[[goods]]
//	name     = "caster"      # as the job's [[item]] names it, or as the plan names a bolt, a can, a spool
//	kind     = "part"        # part, hardware, paint, wire, gas, other
//	price    = 14.00         # of one pack
//	pack     = 2             # pieces in a pack; 1 where left out
//	holds    = "11lb"        # of wire: the spool's mass; of paint the can's, of gas the bottle's volume
//	supplier = "Chandler & Daughters"
//	date     = 2026-09-15
//
// Of several prices of one thing the newest counts; of several of one day the lowest. A price with a least quantity counts
// only where there is none without. A job finds wire by its process ("FCAW-S", or "FCAW-S 0.030in" for that wire alone),
// paint by the name of its coat, gas by its kind. Old prices are used like others, but everything that shows them says how old they are.
package book

import (
	"time"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// Limits of a book.
const (
	MaxEntries = 20_000
	MaxLeast   = 10_000
	MaxPack    = 1_000_000
)

// UsualOldAfter is the age in days beyond which a price is marked old where the shop says nothing: a quarter of a year,
// this program's own choice; steel prices move by the month.
const UsualOldAfter = 90

// Day is a calendar day, counted from 1970-01-01 (which is 0, and stands for no day at all: nobody keeps prices of then).
type Day int32

// DayOf gives the calendar day of a time, in its own zone.
func DayOf(t time.Time) Day {
	y, m, d := t.Date()
	return Day(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// Known tells whether there is a day at all.
func (d Day) Known() bool { return d != 0 }

// String prints the day as 2026-11-02 (ISO 8601), "" for no day.
func (d Day) String() string {
	if d == 0 {
		return ""
	}
	return time.Unix(int64(d)*86400, 0).UTC().Format(time.DateOnly)
}

// ParseDay reads a day of the years 1971 to 2199, as 2026-11-02.
func ParseDay(s string) (Day, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil || t.Year() <= 1970 || t.Year() >= 2200 {
		return 0, &measure.Error{Kind: "date", Text: s, Reason: "it does not read as year-month-day", Accepts: "a day such as 2026-11-02"}
	}
	return DayOf(t), nil
}

// Per says what a price of steel is for.
type Per uint8

// What a price may be for.
const (
	PerStick Per = iota
	PerFoot
	PerKilogram
	PerHundredweight // 100 lb
)

// key is the key of the file.
func (p Per) key() string { return [...]string{"price", "price_ft", "price_kg", "price_cwt"}[p] }

// String gives the words behind the price.
func (p Per) String() string { return [...]string{"a stick", "a foot", "a kg", "a cwt"}[p] }

// Steel is one price of steel.
type Steel struct {
	Shape, Size, Grade string // as written; Grade "": any
	Section            steel.Section
	Length             measure.Length // of the stick; 0: any
	Price              measure.Money
	Per                Per
	Supplier           string
	Date               Day
	Least              int // sticks from which on the price holds; 1: no least
	Note               string
	Line               int // in the file
}

// Kinds of goods.
var kinds = []string{"part", "hardware", "paint", "wire", "gas", "other"}

// Kinds gives the words for what goods are.
func Kinds() []string { return append([]string(nil), kinds...) }

// Goods is one price of something that is bought by the piece or the pack.
type Goods struct {
	Name     string
	Kind     string
	Price    measure.Money // of a pack
	Pack     int           // pieces in it
	Holds    string        // of wire, paint and gas: what a pack holds, as written; "" not told
	Amount   float64       // the same: kg of wire, litres of paint or gas
	Supplier string
	Date     Day
	Least    int // packs
	Note     string
	Line     int
}

// Book is the price book as read. The zero Book is empty and of use.
type Book struct {
	Currency string // "": whatever the job counts in
	OldAfter int    // days; 0: UsualOldAfter
	Steel    []Steel
	Goods    []Goods
	doc      *text.Doc
}

// Doc is the text that the book was read from, for edits; nil for a book that was made.
func (b *Book) Doc() *text.Doc { return b.doc }

// oldAfter is the age beyond which a price is old, in days.
func (b *Book) oldAfter() int {
	if b == nil || b.OldAfter == 0 {
		return UsualOldAfter
	}
	return b.OldAfter
}

// Days is the age beyond which a price is marked old. A nil book has the usual one.
func (b *Book) Days() int { return b.oldAfter() }

// Old tells whether a price of a day is old on another day. A price without a day is never called old, nor is any price
// where today is not known.
func (b *Book) Old(date, today Day) bool {
	return date.Known() && today.Known() && int(today-date) > b.oldAfter()
}
