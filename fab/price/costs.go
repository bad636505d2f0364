package price

import (
	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
)

// Kind says what a cost is for.
type Kind string

// Kinds of cost.
const (
	Steel       Kind = "steel"
	Plate       Kind = "plates"
	Item        Kind = "items"
	Hardware    Kind = "hardware"
	Consumable  Kind = "consumables"
	PaintKind   Kind = "paint"
	Galvanising Kind = "galvanising"
	Sundries    Kind = "sundries"
	Delivery    Kind = "delivery"
	Credit      Kind = "drops kept" // negative
	Labour      Kind = "labour"
	Overhead    Kind = "overhead"
)

// Material tells whether the kind is goods that go to the customer.
func (k Kind) Material() bool {
	switch k {
	case Steel, Plate, Item, Hardware, PaintKind, Credit:
		return true
	}
	return false
}

// Line is one cost, in whole cents.
type Line struct {
	Kind    Kind
	Name    string
	Qty     string // as it is said: 3 x 20 ft, 2.1 kg, 4 h 10 min
	Cost    measure.Money
	Working figure.Figure
}

// Costs is what a number of frames costs the shop before overhead and profit: everything that a quote is made from, without
// a price in it. It is worked out once with the plan; Reckon turns it into a quote as often as a stepper asks.
type Costs struct {
	Frames   int
	Lines    []Line // materials and the like; labour is in Hours
	Hours    Hours
	Unpriced []string // what has no price: the quote is short by it
}
