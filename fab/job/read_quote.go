package job

import (
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// quote reads [quote], the shop's under the job's.
func (rd *reader) quote() {
	rd.top.Skip("quote")
	f, given := rd.shared.Table("quote")
	q := Quote{Where: where(f), Given: given, TaxOn: "price", RoundUp: true, Many: 5, ValidDays: 30}
	f.Text("customer", &q.Customer, 0)
	f.Text("number", &q.QuoteNumber, 0)
	steel := "bought"
	f.Choice("steel", &steel, 0, "bought", "used")
	q.SteelUsed = steel == "used"
	f.Share("drop_value", &q.DropValue, 0)
	f.Share("on_hand", &q.OnHand, 0)
	rd.consumables(f, &q)
	f.Money("sundries", &q.Sundries, 0)
	f.Money("delivery", &q.Delivery, 0)
	rd.overhead(f, &q)
	rd.profit(f, &q)
	f.Money("minimum", &q.Minimum, 0)
	f.Money("round", &q.Step, 0)
	way := "up"
	f.Choice("round_to", &way, 0, "up", "nearest")
	q.RoundUp = way == "up"
	f.Share("tax", &q.Tax, 0)
	f.Choice("tax_on", &q.TaxOn, 0, "price", "materials", "none")
	by := "total"
	f.Choice("tax_round", &by, 0, "total", "line")
	q.TaxPerLine = by == "line"
	f.Money("offered", &q.Offered, 0)
	f.Count("many", &q.Many, 1, 100, 0)
	f.Count("valid_days", &q.ValidDays, 1, 3650, 0)
	f.Count("lead_days", &q.LeadDays, 1, 3650, 0)
	f.Share("deposit", &q.Deposit, 0)
	f.Done()
	rd.job.Quote = q
}

// consumables reads what is used up: each needs its price and how far it goes, or neither.
func (rd *reader) consumables(f *text.Fields, q *Quote) {
	text.Quantity(f, "spool", &q.Spool, text.Positive, measure.ParseMass)
	together(f, "spool", "spool_price", f.Money("spool_price", &q.SpoolPrice, 0), "the mass of a spool of wire (or a box of rods), and what it costs")
	text.Quantity(f, "gas_flow", &q.GasLMin, text.Positive, measure.ParseFlow)
	text.Quantity(f, "bottle", &q.BottleL, text.Positive, measure.ParseVolume)
	together(f, "bottle", "bottle_price", f.Money("bottle_price", &q.BottleCost, 0), "the gas in a full bottle, and what a filling costs")
	if f.Has("bottle") && !f.Has("gas_flow") {
		f.Fault(text.CodeConflict, "bottle", "bottle needs gas_flow beside it, such as 20cfh")
	}
	text.Quantity(f, "blade_area", &q.BladeMM2, text.Positive, measure.ParseArea)
	together(f, "blade_area", "blade_price", f.Money("blade_price", &q.BladeCost, 0), "the metal that a blade saws before it is dull (3000sqin), and what it costs")
	text.Quantity(f, "disc_time", &q.Disc, text.Positive, measure.ParseTime)
	together(f, "disc_time", "disc_price", f.Money("disc_price", &q.DiscCost, 0), "how long a disc grinds, and what it costs")
}

// together reports a key that stands without the one that it needs.
func together(f *text.Fields, life, price string, priced bool, what string) {
	if f.Has(life) != (priced || f.Has(price)) {
		f.Fault(text.CodeConflict, life, "%s and %s go together: %s", life, price, what)
	}
}

func (rd *reader) overhead(f *text.Fields, q *Quote) {
	if text.Quantity(f, "overhead", &q.Overhead, text.NotNegative, measure.ParseShare) && q.Overhead > 10 {
		f.Fault(text.CodeValue, "overhead", "more than ten times what it is a share of")
	}
	on := "labour"
	f.Choice("overhead_on", &on, 0, "labour", "cost")
	q.OverheadOnCost = on == "cost"
	if f.Money("overhead_hour", &q.OverheadHour, 0); f.Has("overhead") && f.Has("overhead_hour") {
		f.Fault(text.CodeConflict, "overhead_hour", "overhead is given as a share too; give one of the two")
	}
}

// profit reads markup or margin. A job's own word stands before the shop's other one.
func (rd *reader) profit(f *text.Fields, q *Quote) {
	markup := text.Quantity(f, "markup", &q.Markup, text.NotNegative, measure.ParseShare)
	if markup && q.Markup > 100 {
		f.Fault(text.CodeValue, "markup", "more than a hundred times the cost")
	}
	margin := text.Quantity(f, "margin", &q.Margin, text.NotNegative, measure.ParseShare)
	if margin && q.Margin >= 1 {
		f.Fault(text.CodeValue, "margin", "a margin must be less than 100%%: it is a share of the price; a share of the cost is a markup")
		q.Margin = 0
	}
	q.ProfitGiven, q.ByMargin = markup || margin, margin
	if markup && margin {
		switch a, b := f.Own("markup"), f.Own("margin"); {
		case a == b:
			f.Fault(text.CodeConflict, "margin", "markup is given too: a markup is a share of the cost, a margin a share of the price; give one of them")
		default:
			q.ByMargin = b
		}
	}
}
