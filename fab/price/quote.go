package price

import "bench.example/soapstone/fab/measure"

// Share is a share in billionths, so that what was written with up to nine decimals (seven of a percent) is exact.
type Share int64

// One is the whole.
const One Share = 1_000_000_000

// Settings are what makes a price of a cost: the [quote] of the job, or where the steppers of a screen stand.
type Settings struct {
	Rate         measure.Money // for an hour
	Overhead     Share
	OnCost       bool          // overhead is a share of all costs; else of the labour
	OverheadHour measure.Money // or for each paid hour
	ByMargin     bool
	Markup       Share // of the cost; where ByMargin is false
	Margin       Share // of the price; where ByMargin is true
	Minimum      measure.Money
	Step         measure.Money
	RoundUp      bool
	Tax          Share
	TaxOn        string // price | materials | none
	TaxPerLine   bool
	Deposit      Share
	Fixed        measure.Money // a price before tax that was agreed or offered; 0: none. Then profit follows from it
}

// Quote is a price with everything that leads to it. All amounts are whole cents; lines add up to their totals.
type Quote struct {
	Frames   int
	Settings Settings
	Lines    []Line        // costs: materials, labour by activity, overhead
	Material measure.Money // all lines that are not labour or overhead
	Labour   measure.Money
	Overhead measure.Money
	Cost     measure.Money
	Profit   measure.Money // Price - Cost
	Before   measure.Money // price before minimum and rounding
	Price    measure.Money // before tax
	Taxed    measure.Money // what the tax is on
	Tax      measure.Money
	Total    measure.Money
	Deposit  measure.Money
	Balance  measure.Money // Total - Deposit
	Each     measure.Money // Price for one of the frames, rounded to the cent
	Markup   Share         // that the rounded price comes to
	Margin   Share
	AtLeast  bool // the minimum charge decided
	PaidS    int64
	WorkS    int64 // all hours, unpaid rests too

	EarnsHour measure.Money // what a paid hour earns at this price: price less materials and overhead
	EarnsAll  measure.Money // the same for every hour, rests too
	BreakEven measure.Money // price at which nothing is earned beyond the hours: the cost
	OutOfHand measure.Money // price below which the shop pays for the job: materials and overhead, hours unpaid

	paid map[Activity]int64 // seconds behind the labour lines
}
