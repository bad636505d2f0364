package price

import (
	"fmt"
	"math"
	"math/big"
	"sort"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
)

// ShareOf gives a share that was read as a float64: to the nearest billionth, which is what was written.
func ShareOf(v float64) Share {
	switch {
	case math.IsNaN(v):
		return 0
	case v > 1000:
		return 1000 * One
	case v < -1000:
		return -1000 * One
	}
	return Share(math.Round(v * float64(One)))
}

// Float gives the share as a fraction.
func (s Share) Float() float64 { return float64(s) / float64(One) }

// Percent prints it: 23.08 %.
func (s Share) Percent() string { return fmt.Sprintf("%.4g %%", 100*s.Float()) }

// Product gives m * num / den in whole cents, rounded once, halves away from zero; beyond measure.MaxMoney it saturates.
// den must be positive.
func Product(m measure.Money, num, den int64) measure.Money {
	d := new(big.Int).Mul(big.NewInt(den), big.NewInt(int64(measure.Cent)))
	return measure.Money(quotient(new(big.Int).Mul(big.NewInt(int64(m)), big.NewInt(num)), d, int64(measure.MaxMoney/measure.Cent))) * measure.Cent
}

// quotient gives n / d rounded, halves away from zero, and no farther from zero than most. d must be positive.
func quotient(n, d *big.Int, most int64) int64 {
	negative := n.Sign() < 0
	n = new(big.Int).Abs(n)
	n.Mul(n, big.NewInt(2)).Add(n, d).Quo(n, new(big.Int).Mul(d, big.NewInt(2)))
	v := most
	if n.IsInt64() {
		v = min(v, n.Int64())
	}
	if negative {
		return -v
	}
	return v
}

// mostShare is the largest share that is told: a million times.
const mostShare = 1_000_000 * One

// ratio gives a / b in billionths, rounded, halves away from zero; 0 where b is 0.
func ratio(a, b measure.Money) Share {
	if b == 0 {
		return 0
	}
	if b < 0 {
		a, b = -a, -b
	}
	return Share(quotient(new(big.Int).Mul(big.NewInt(int64(a)), big.NewInt(int64(One))), big.NewInt(int64(b)), int64(mostShare)))
}

// SettingsOf gives the settings of a job's [quote] and [labour].
func SettingsOf(j *job.Job) Settings {
	q := &j.Quote
	return Settings{Rate: j.Labour.Rate, Overhead: ShareOf(q.Overhead), OnCost: q.OverheadOnCost, OverheadHour: q.OverheadHour, ByMargin: q.ByMargin, Markup: ShareOf(q.Markup),
		Margin: ShareOf(q.Margin), Minimum: q.Minimum, Step: q.Step.Cents(), RoundUp: q.RoundUp, Tax: ShareOf(q.Tax), TaxOn: q.TaxOn, TaxPerLine: q.TaxPerLine, Deposit: ShareOf(q.Deposit)}
}

// Reckon makes a quote of costs and settings. It looks at nothing else and takes microseconds, so that a stepper may call it
// at every key.
//
// Money is in whole cents throughout. Each line is one product, rounded once to the cent, halves away from zero; every total
// is the sum of its lines. The order: costs, overhead, profit by markup or margin, minimum charge, rounding to a step, tax,
// deposit. A margin of one or more, which no price has, counts as none; the reader refuses it.
func Reckon(c Costs, s Settings) Quote {
	q := Quote{Frames: max(1, c.Frames), Settings: s, PaidS: c.Hours.PaidS, WorkS: c.Hours.PlanS, paid: map[Activity]int64{}}
	for _, l := range c.Lines {
		q.Lines = append(q.Lines, l)
		q.Material += l.Cost
	}
	for _, e := range c.Hours.Entries {
		if pay := Product(s.Rate, e.PaidS, 3600); pay != 0 {
			q.Lines = append(q.Lines, Line{Kind: Labour, Name: string(e.Activity), Qty: clock(e.PaidS), Cost: pay})
			q.Labour += pay
			q.paid[e.Activity] = e.PaidS
		}
	}
	q.Overhead = s.overhead(q.Material, q.Labour, q.PaidS)
	if q.Overhead != 0 {
		q.Lines = append(q.Lines, Line{Kind: Overhead, Name: "shop overhead", Qty: s.overheadOn(), Cost: q.Overhead})
	}
	q.Cost = q.Material + q.Labour + q.Overhead
	q.Before = s.sell(q.Cost)
	q.Price = q.Before
	switch {
	case s.Fixed > 0:
		q.Price = s.Fixed.Cents()
	default:
		q.Price = step(q.Price, s.Step, s.RoundUp)
		if q.Price < s.Minimum { // rounding to the nearest step must not go below it either
			q.Price, q.AtLeast = step(s.Minimum.Cents(), s.Step, true), true
		}
	}
	q.Profit = q.Price - q.Cost
	q.Markup, q.Margin = ratio(q.Profit, q.Cost), ratio(q.Profit, q.Price)
	q.tax()
	q.Total = q.Price + q.Tax
	q.Deposit = Product(q.Total, int64(s.Deposit), int64(One))
	q.Balance = q.Total - q.Deposit
	q.Each = Product(q.Price, 1, int64(q.Frames))
	left := q.Price - q.Material - q.Overhead
	if q.PaidS > 0 {
		q.EarnsHour = Product(left, 3600, q.PaidS)
	}
	if q.WorkS > 0 {
		q.EarnsAll = Product(left, 3600, q.WorkS)
	}
	q.BreakEven, q.OutOfHand = q.Cost, q.Material+q.Overhead
	return q
}

// At gives the quote at a price before tax that somebody offers.
func At(c Costs, s Settings, offered measure.Money) Quote {
	s.Fixed = offered
	return Reckon(c, s)
}

// ForHour gives the price before tax at which a paid hour earns so much.
func ForHour(c Costs, s Settings, hour measure.Money) measure.Money {
	q := Reckon(c, s)
	return q.OutOfHand + Product(hour, q.PaidS, 3600)
}

func (s Settings) overhead(material, labour measure.Money, paid int64) measure.Money {
	switch {
	case s.OverheadHour > 0:
		return Product(s.OverheadHour, paid, 3600)
	case s.OnCost:
		return Product(material+labour, int64(s.Overhead), int64(One))
	}
	return Product(labour, int64(s.Overhead), int64(One))
}

func (s Settings) overheadOn() string {
	switch {
	case s.OverheadHour > 0:
		return s.OverheadHour.String() + " an hour"
	case s.OnCost:
		return s.Overhead.Percent() + " of the costs"
	}
	return s.Overhead.Percent() + " of the labour"
}

// sell gives the price before minimum and rounding.
func (s Settings) sell(cost measure.Money) measure.Money {
	if s.ByMargin {
		if s.Margin >= One {
			return cost
		}
		return Product(cost, int64(One), int64(One-s.Margin))
	}
	return Product(cost, int64(One+s.Markup), int64(One))
}

// step rounds a price to whole steps: up, or to the nearest with halves up.
func step(m, to measure.Money, up bool) measure.Money {
	if to <= 0 || m <= 0 {
		return m
	}
	n := m / to
	if rest := m % to; rest > 0 && (up || 2*rest >= to) {
		n++
	}
	return n * to
}

// Sold shares the price over the lines of the quote in proportion to their costs, in whole cents that add up to the price:
// largest remainders get the odd cents. It is what a customer sees of them, and what a tax by the line is on.
func (q *Quote) Sold() []measure.Money {
	out := make([]measure.Money, len(q.Lines))
	if q.Cost <= 0 {
		return out
	}
	type rest struct {
		line int
		part *big.Int
	}
	var rests []rest
	var given measure.Money
	den := new(big.Int).Mul(big.NewInt(int64(q.Cost)), big.NewInt(int64(measure.Cent)))
	for i, l := range q.Lines {
		n := new(big.Int).Mul(big.NewInt(int64(l.Cost)), big.NewInt(int64(q.Price)))
		whole, part := new(big.Int).DivMod(n, den, new(big.Int))
		out[i] = measure.Money(whole.Int64()) * measure.Cent
		given += out[i]
		rests = append(rests, rest{i, part})
	}
	sort.SliceStable(rests, func(a, b int) bool { return rests[a].part.Cmp(rests[b].part) > 0 })
	for k := 0; given < q.Price && len(rests) > 0; k = (k + 1) % len(rests) {
		out[rests[k].line] += measure.Cent
		given += measure.Cent
	}
	return out
}

// tax reckons what is taxed and the tax.
func (q *Quote) tax() {
	s := q.Settings
	if s.TaxOn == "none" || s.Tax == 0 {
		return
	}
	if s.TaxOn != "materials" && (!s.TaxPerLine || q.Cost <= 0) {
		q.Taxed, q.Tax = q.Price, Product(q.Price, int64(s.Tax), int64(One))
		return
	}
	for i, sold := range q.Sold() {
		if s.TaxOn == "materials" && !q.Lines[i].Kind.Material() {
			continue
		}
		q.Taxed += sold
		if s.TaxPerLine {
			q.Tax += Product(sold, int64(s.Tax), int64(One))
		}
	}
	if !s.TaxPerLine {
		q.Tax = Product(q.Taxed, int64(s.Tax), int64(One))
	}
}

// clock prints seconds as hours and minutes: 4 h 10 min.
func clock(s int64) string {
	m := (s + 30) / 60
	if m < 60 {
		return fmt.Sprintf("%d min", m)
	}
	return fmt.Sprintf("%d h %02d min", m/60, m%60)
}

// centSource says how money is reckoned.
var centSource = figure.Source{Kind: figure.Common, Text: "whole cents; each line one product rounded once, halves away from zero; totals are sums of their lines"}

const half = 0.005

// Figures gives the working of every line and total of the quote. The prefix tells one column from another: "price.".
func (q *Quote) Figures(prefix, currency string) []figure.Figure {
	s, hours := q.Settings, hoursID(q.Frames)
	money := func(id, name string, v measure.Money, formula string, in ...figure.Input) figure.Figure {
		return figure.Found(prefix+id, name, v.Float(), currency, formula, centSource, in...).RoundedTo(half+1e-9, "to the cent, halves away from zero")
	}
	var fs []figure.Figure
	var sums = map[Kind][]figure.Input{}
	for i, l := range q.Lines {
		f := l.Working
		id := fmt.Sprintf("line%d", i+1)
		switch {
		case f.ID != "":
			f.ID = prefix + id
		case l.Kind == Labour:
			f = money(id, l.Name, l.Cost, "r * t / 3600", figure.In("r", "for an hour", s.Rate.Float(), currency, "[labour] rate"), figure.In("t", "paid time", q.seconds(l.Name), "s", hours+l.Name))
		case l.Kind == Overhead:
			continue
		default:
			f = money(id, l.Name, l.Cost, "c", figure.In("c", l.Qty, l.Cost.Float(), currency, string(l.Kind)))
		}
		fs = append(fs, f)
		k := l.Kind
		if k != Labour {
			k = Steel
		}
		sums[k] = append(sums[k], figure.In(fmt.Sprintf("c%d", i+1), l.Name, l.Cost.Float(), currency, prefix+id))
	}
	add := func(id, name string, v measure.Money, in []figure.Input) {
		formula := "0"
		for _, x := range in {
			formula += " + " + x.Symbol
		}
		fs = append(fs, money(id, name, v, formula, in...))
	}
	add("materials", "materials and the like", q.Material, sums[Steel])
	add("labour", "labour", q.Labour, sums[Labour])
	m, l := figure.In("m", "materials and the like", q.Material.Float(), currency, prefix+"materials"), figure.In("l", "labour", q.Labour.Float(), currency, prefix+"labour")
	o := figure.In("o", "overhead", q.Overhead.Float(), currency, prefix+"overhead")
	switch {
	case s.OverheadHour > 0:
		fs = append(fs, money("overhead", "overhead", q.Overhead, "r * t / 3600", figure.In("r", "for a paid hour", s.OverheadHour.Float(), currency, "[quote] overhead_hour"), figure.In("t", "paid time", float64(q.PaidS), "s", hours+"paid")))
	case s.OnCost:
		fs = append(fs, money("overhead", "overhead", q.Overhead, "(m + l) * u", m, l, figure.In("u", "share of all costs", s.Overhead.Float(), "", "[quote] overhead")))
	default:
		fs = append(fs, money("overhead", "overhead", q.Overhead, "l * u", l, figure.In("u", "share of the labour", s.Overhead.Float(), "", "[quote] overhead")))
	}
	fs = append(fs, money("cost", "cost, break-even price", q.Cost, "m + l + o", m, l, o))
	c := figure.In("c", "cost", q.Cost.Float(), currency, prefix+"cost")
	if s.ByMargin {
		fs = append(fs, money("before", "price before rounding", q.Before, "c / (1 - m)", c, figure.In("m", "margin, share of the price", min(s.Margin, One-1).Float(), "", "[quote] margin")))
	} else {
		fs = append(fs, money("before", "price before rounding", q.Before, "c * (1 + u)", c, figure.In("u", "markup, share of the cost", s.Markup.Float(), "", "[quote] markup")))
	}
	b := figure.In("b", "price before rounding", q.Before.Float(), currency, prefix+"before")
	switch {
	case s.Fixed > 0:
		fs = append(fs, money("price", "price before tax", q.Price, "x", figure.In("x", "agreed or offered", s.Fixed.Float(), currency, "")))
	default:
		n := figure.In("n", "minimum charge", s.Minimum.Float(), currency, "[quote] minimum")
		f := money("price", "price before tax", q.Price, "max(b, n)", b, n)
		if s.Step > 0 {
			// 0.0000001 keeps the noise of decimals in binary from making a step of nothing.
			formula, how := "max(ceil(b / s - 0.0000001), ceil(n / s - 0.0000001)) * s", ", up"
			if !s.RoundUp {
				formula, how = "max(floor(b / s + 0.5000001), ceil(n / s - 0.0000001)) * s", ", to the nearest"
			}
			f = money("price", "price before tax", q.Price, formula, b, n, figure.In("s", "step", s.Step.Float(), currency, "[quote] round"))
			f.Rounding = "to steps of " + s.Step.String() + how + " ([quote] round)"
		}
		fs = append(fs, f)
	}
	p := figure.In("p", "price before tax", q.Price.Float(), currency, prefix+"price")
	t := figure.In("t", "what the tax is on", q.Taxed.Float(), currency, "[quote] tax_on = "+s.TaxOn)
	tax := money("tax", "tax", q.Tax, "t * r", t, figure.In("r", "tax", s.Tax.Float(), "", "[quote] tax"))
	if s.TaxPerLine {
		tax.Within = half * float64(len(q.Lines)+1)
		tax.Rounding = "to the cent line by line ([quote] tax_round)"
	}
	if q.Taxed == 0 {
		tax.Within = half
	}
	total := figure.In("a", "total", q.Total.Float(), currency, prefix+"total")
	fs = append(fs, tax, money("total", "total with tax", q.Total, "p + x", p, figure.In("x", "tax", q.Tax.Float(), currency, prefix+"tax")),
		money("deposit", "deposit", q.Deposit, "a * d", total, figure.In("d", "share with the order", s.Deposit.Float(), "", "[quote] deposit")),
		money("profit", "profit over the cost", q.Profit, "p - c", p, c),
		money("floor", "price below which the shop pays for the job", q.OutOfHand, "m + o", m, o).Without("every hour of the work"))
	if q.PaidS > 0 && q.EarnsHour > -measure.MaxMoney && q.EarnsHour < measure.MaxMoney {
		fs = append(fs, money("hour", "what a paid hour earns", q.EarnsHour, "(p - m - o) * 3600 / t", p, m, o, figure.In("t", "paid time", float64(q.PaidS), "s", hours+"paid")))
	}
	if q.Cost > 0 && q.Price > 0 && q.Markup < mostShare {
		fs = append(fs, figure.Found(prefix+"markup", "markup that this comes to", q.Markup.Float(), "", "(p - c) / c", markupSource, p, c).RoundedTo(1e-9, "to a billionth"),
			figure.Found(prefix+"margin", "margin that this comes to", q.Margin.Float(), "", "(p - c) / p", marginSource, p, c).RoundedTo(1e-9, "to a billionth"))
	}
	return fs
}

func (q *Quote) seconds(activity string) float64 { return float64(q.paid[Activity(activity)]) }
