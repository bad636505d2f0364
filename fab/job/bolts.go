package job

import "bench.example/soapstone/fab/measure"

// Bolts is a [[bolts]]: what bolts the frame down.
//
//	at        legs and posts ("lower legs", "lower.leg1"), plates by name, or any member: at each so many bolts
//	each      bolts at each place; 2
//	size      "3/8-16", "M10"
//	grade     "5", "8.8"; 5 or 8.8 where left out
//	stack     thicknesses between head and nut: ["1/4", "1/4 rubber", 0.12]; words behind a figure are notes
//	flat      flat washers on each bolt; 2. washer: sae uss fender
//	lock      split lock washers on each; 0
//	nut       hex, lock, none
//	k         nut factor; 0.2. fraction: share of the proof load; 0.75
//	edge      from the hole's centre to the nearest edge
//	apart     between the bolts at one place, along the foot
//	into      steel, wood, concrete, masonry; steel
//	seal      true: sealed against water
//	price     of one bolt; box, box_price: how many a box holds and what it costs. nut_price, washer_price, lock_price
type Bolts struct {
	Where
	At        []Name
	Each      int
	Size      string
	Grade     string
	Stack     []Ply
	Flat      int
	Washer    string
	Lock      int
	Nut       string
	K         float64
	Fraction  float64
	Edge      measure.Length // 0: not given
	Apart     measure.Length
	Into      string
	Seal      bool
	Price     measure.Money
	Priced    bool
	Box       int
	BoxPrice  measure.Money
	NutPrice  measure.Money
	FlatPrice measure.Money
	LockPrice measure.Money
}

// Ply is one layer that a bolt goes through.
type Ply struct {
	Thick measure.Length
	What  string
}
