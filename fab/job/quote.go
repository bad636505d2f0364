package job

import (
	"time"

	"bench.example/soapstone/fab/measure"
)

// Quote is the [quote]: how a cost becomes a price.
type Quote struct {
	Where
	Given    bool
	Customer string

	SteelUsed bool    // steel = "used": charged by the part used; else by the stick as bought
	DropValue float64 // bought: share of its price that a drop worth keeping is credited with
	OnHand    float64 // share of the new price that steel from the shop's own rack is charged with

	Spool      float64 // mass of a spool of wire or a box of rods, kg; 0: not charged
	SpoolPrice measure.Money
	GasLMin    float64 // flow, litres a minute
	BottleL    float64 // gas of a full bottle, litres; 0: not charged
	BottleCost measure.Money
	BladeMM2   float64 // metal that a blade saws, mm2; 0: not charged
	BladeCost  measure.Money
	Disc       time.Duration // grinding time of one disc; 0: not charged
	DiscCost   measure.Money
	Sundries   measure.Money // a plain amount for what nobody counts
	Delivery   measure.Money

	Overhead       float64       // share
	OverheadOnCost bool          // of all costs; else of the labour
	OverheadHour   measure.Money // or for each paid hour

	Markup      float64 // share of the cost
	Margin      float64 // share of the price
	ByMargin    bool    // Margin counts
	ProfitGiven bool    // markup or margin was given

	Minimum     measure.Money // no job is done for less, before tax
	Step        measure.Money // prices are rounded to such steps; 0: to the cent
	RoundUp     bool          // always up; else to the nearest, halves up
	Tax         float64
	TaxOn       string        // price | materials | none
	TaxPerLine  bool          // rounded line by line; else on the total
	Offered     measure.Money // a price that somebody offers, tax not included; 0: none
	Many        int           // frames made at one go, for the second column
	ValidDays   int
	Deposit     float64 // share of the total, tax included
	LeadDays    int     // working days from order to delivery; 0: not promised
	QuoteNumber string
}
