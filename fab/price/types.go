package price

import (
	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
)

// Activity is a kind of work, as the record of work and past jobs tell it apart.
type Activity string

// Activities, in the order in which steel goes through a shop.
const (
	Office  Activity = "office"
	Errand  Activity = "fetching"
	SetUp   Activity = "set-up"
	Saw     Activity = "saw"
	Deburr  Activity = "deburr"
	MarkOut Activity = "mark out"
	Shape   Activity = "cope and drill"
	Plates  Activity = "plates"
	FitUp   Activity = "fit up"
	Tack    Activity = "tack"
	Arc     Activity = "arc"
	Clean   Activity = "clean and grind"
	Turn    Activity = "turn"
	Rest    Activity = "rest"
	Surface Activity = "surface"
	Coats   Activity = "paint"
	Bolts   Activity = "bolts"
	Out     Activity = "load out"
)

// Entry is the time of one activity.
type Entry struct {
	Activity Activity
	PlanS    int64   // planned from the plan's own counts and the paces of [labour], in whole seconds
	PaidS    int64   // what is charged: PlanS, or what the last jobs say (learn), nothing for an unpaid rest
	Shared   bool    // does not grow with the number of frames
	DoneS    int64   // planned for the part that the record says is done; 0 where the record says nothing
	TookS    int64   // what that part really took, by the record
	PastX    float64 // what the last jobs took against their plans: the median of at most three; 0: none known
	PastOf   int     // jobs behind PastX
	Working  figure.Figure
}

// Hours is the time of a job, activity by activity.
type Hours struct {
	Frames  int
	Entries []Entry
	PlanS   int64
	PaidS   int64
	Figures []figure.Figure // totals; each entry has its own working
	Notes   []string
}

// Past is what one earlier job really took.
type Past struct {
	Job    string
	AtNS   int64 // its last event, for the order
	Ratios []Ratio
}

// Ratio is an activity's time by the record beside its planned time, both of the part that was done.
type Ratio struct {
	Activity     Activity
	PlanS, TookS int64
}

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
