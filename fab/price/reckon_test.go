package price

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/figure/outside"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
)

// jobOf draws costs and settings of every sort.
func jobOf(t *rapid.T) (Costs, Settings) {
	c := Costs{Frames: rapid.IntRange(1, 9).Draw(t, "frames")}
	kinds := []Kind{Steel, Plate, Item, Hardware, Consumable, PaintKind, Sundries, Credit, Delivery}
	for i := range rapid.IntRange(0, 12).Draw(t, "lines") {
		k := rapid.SampledFrom(kinds).Draw(t, "kind")
		cost := measure.Money(rapid.Int64Range(0, 50_000_00).Draw(t, "cost")) * measure.Cent
		if k == Credit {
			cost = -cost / 100 / measure.Cent * measure.Cent
		}
		c.Lines = append(c.Lines, Line{Kind: k, Name: fmt.Sprint("line ", i), Cost: cost})
	}
	var es []Entry
	for _, a := range []Activity{Saw, FitUp, Arc, Rest, Coats} {
		if e, ok := Gather(a, false, rapid.SampledFrom([]float64{0, .1}).Draw(t, "allow"), Term{Name: string(a), Amount: 1, EachS: rapid.Float64Range(0, 40000).Draw(t, "s")}); ok {
			es = append(es, e)
		}
	}
	c.Hours = Of(c.Frames, es, nil, false, rapid.Bool().Draw(t, "unpaid"))
	cents := func(name string, most int64) measure.Money {
		return measure.Money(rapid.Int64Range(0, most).Draw(t, name)) * measure.Cent
	}
	share := func(name string, most float64) Share { return ShareOf(rapid.Float64Range(0, most).Draw(t, name)) }
	s := Settings{Rate: cents("rate", 20000), Overhead: share("overhead", 2), OnCost: rapid.Bool().Draw(t, "oncost"), ByMargin: rapid.Bool().Draw(t, "bymargin"), Markup: share("markup", 4),
		Margin: share("margin", .95), Minimum: cents("minimum", 100000), Step: cents("step", 10000), RoundUp: rapid.Bool().Draw(t, "up"), Tax: share("tax", .3),
		TaxOn: rapid.SampledFrom([]string{"price", "materials", "none"}).Draw(t, "taxon"), TaxPerLine: rapid.Bool().Draw(t, "perline"), Deposit: share("deposit", 1)}
	if rapid.Bool().Draw(t, "hourly") {
		s.OverheadHour = cents("overheadhour", 5000)
	}
	return c, s
}

// TestQuoteAddsUp: whatever is quoted, everything is in whole cents, lines add up to their totals, what the customer sees
// adds up to the price, and the price keeps what was asked of it.
func TestQuoteAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s := jobOf(t)
		q := Reckon(c, s)
		whole := func(what string, m measure.Money) {
			if m%measure.Cent != 0 {
				t.Fatalf("%s is %d hundredths of a cent", what, m)
			}
		}
		var material, labour, overhead measure.Money
		for _, l := range q.Lines {
			whole(l.Name, l.Cost)
			switch l.Kind {
			case Labour:
				labour += l.Cost
			case Overhead:
				overhead += l.Cost
			default:
				material += l.Cost
			}
		}
		if material != q.Material || labour != q.Labour || overhead != q.Overhead || material+labour+overhead != q.Cost {
			t.Fatalf("lines %s %s %s, totals %s %s %s, cost %s", material, labour, overhead, q.Material, q.Labour, q.Overhead, q.Cost)
		}
		for _, m := range []measure.Money{q.Price, q.Tax, q.Taxed, q.Total, q.Deposit, q.Balance, q.Profit, q.Before, q.Each} {
			whole("a total", m)
		}
		if q.Cost+q.Profit != q.Price || q.Price+q.Tax != q.Total || q.Deposit+q.Balance != q.Total {
			t.Fatalf("%+v does not add up", q)
		}
		if q.Cost > 0 {
			var sold measure.Money
			for i, m := range q.Sold() {
				whole("sold", m)
				sold += m
				if d := m.Float() - q.Lines[i].Cost.Float()*q.Price.Float()/q.Cost.Float(); math.Abs(d) > .010001 {
					t.Fatalf("line %d is sold %g away from its share", i, d)
				}
			}
			if sold != q.Price {
				t.Fatalf("lines are sold for %s of %s", sold, q.Price)
			}
		}
		if q.Price < s.Minimum || q.Cost > 0 && s.RoundUp && q.Price < q.Before {
			t.Fatalf("price %s, minimum %s, before %s", q.Price, s.Minimum, q.Before)
		}
		if s.Step > 0 && q.Price > 0 && q.Price%s.Step != 0 {
			t.Fatalf("price %s is no multiple of %s", q.Price, s.Step)
		}
		for _, f := range append(q.Figures("price.", "USD"), c.Hours.Figures...) {
			if err := f.Check(); err != nil {
				t.Fatal(err)
			}
		}
		// What an hour earns at a price is the price that pays it; seconds of work can earn more by the hour than money is counted to.
		if q.PaidS > 0 && q.EarnsHour < measure.MaxMoney {
			if back := ForHour(c, s, q.EarnsHour); math.Abs(back.Float()-q.Price.Float()) > .0051*(1+float64(q.PaidS)/3600) {
				t.Fatalf("an hour earns %s at %s; that hour asks for %s", q.EarnsHour, q.Price, back)
			}
		}
		if at := At(c, s, q.Price); q.Price > 0 && (at.Price != q.Price || at.Total != q.Total || at.Profit != q.Profit) {
			t.Fatalf("quoted at its own price it becomes %+v", at)
		}
		if even := At(c, s, q.BreakEven); q.BreakEven > 0 && even.Profit != 0 {
			t.Fatalf("at break-even %s is left", even.Profit)
		}
	})
}

// TestMarkupMarginRoundTrip: a price by markup, quoted by the margin it came to, is the same price to the cent.
func TestMarkupMarginRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cost := measure.Money(rapid.Int64Range(100, 9_000_000).Draw(t, "cents")) * measure.Cent
		c := Costs{Lines: []Line{{Kind: Steel, Cost: cost}}}
		q := Reckon(c, Settings{Markup: ShareOf(rapid.Float64Range(0, 3).Draw(t, "markup"))})
		// A margin is kept to a billionth: of prices up to 360,000.00 that is less than a fifth of a cent.
		back := Reckon(c, Settings{ByMargin: true, Margin: q.Margin})
		if d := back.Price - q.Price; d > measure.Cent || d < -measure.Cent {
			t.Fatalf("%s by a markup of %v, %s by the margin of %v that it is", q.Price, q.Markup.Float(), back.Price, q.Margin.Float())
		}
		if again := Reckon(c, Settings{Markup: q.Markup}); again.Price != q.Price {
			t.Fatalf("%s, again %s", q.Price, again.Price)
		}
	})
}

// TestProductAgainstRationals: the rounding is that of exact fractions, halves away from zero.
func TestProductAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := measure.Money(rapid.Int64Range(-1e9, 1e9).Draw(t, "m"))
		num, den := rapid.Int64Range(-1e10, 1e10).Draw(t, "num"), rapid.Int64Range(1, 1e10).Draw(t, "den")
		got := Product(m, num, den)
		x := new(big.Rat).SetFrac(new(big.Int).Mul(big.NewInt(int64(m)), big.NewInt(num)), new(big.Int).Mul(big.NewInt(den), big.NewInt(100)))
		d := new(big.Rat).Sub(new(big.Rat).SetInt64(int64(got/measure.Cent)), x)
		h := big.NewRat(1, 2)
		if got != measure.MaxMoney && got != -measure.MaxMoney && (new(big.Rat).Abs(d).Cmp(h) > 0 || new(big.Rat).Abs(d).Cmp(h) == 0 && new(big.Rat).Abs(new(big.Rat).SetInt64(int64(got/measure.Cent))).Cmp(new(big.Rat).Abs(x)) < 0) {
			t.Fatalf("%d * %d / %d gives %d", m, num, den, got)
		}
	})
	if got := Product(5*measure.Cent, 1, 2); got != 3*measure.Cent {
		t.Errorf("half of 0.05 is %s; halves go away from zero", got)
	}
}

// TestQuoteByHand is a job small enough to do on paper.
func TestQuoteByHand(t *testing.T) {
	e, _ := Gather(Saw, false, 0, Term{Name: "cuts", Amount: 10, EachS: 360})
	r, _ := Gather(Rest, false, 0, Term{Name: "rest", Amount: 1, EachS: 1800})
	c := Costs{Frames: 1, Lines: []Line{{Kind: Steel, Name: "sticks", Cost: 166_00 * measure.Cent}, {Kind: Sundries, Name: "sundries", Cost: 10_00 * measure.Cent}}, Hours: Of(1, []Entry{e, r}, nil, false, true)}
	s := Settings{Rate: 40 * measure.Whole, Overhead: ShareOf(.5), Markup: ShareOf(.2), Step: 5 * measure.Whole, RoundUp: true, Tax: ShareOf(.0725), TaxOn: "materials", Deposit: ShareOf(.4)}
	q := Reckon(c, s)
	// 176 + 40 + 20 = 236; 283.20; 285. Materials sell for 285*166/236 = 200.47; tax 14.53; 299.53; deposit 119.81.
	got := fmt.Sprint(q.Cost, q.Before, q.Price, q.Taxed, q.Tax, q.Total, q.Deposit, q.EarnsHour, q.EarnsAll, q.OutOfHand)
	if want := "236.00 283.20 285.00 200.47 14.53 299.53 119.81 89.00 59.33 196.00"; got != want {
		t.Errorf("%s, on paper %s", got, want)
	}
	// The definitions of the margin and markup chart, in exact cents.
	const chart = "margin and markup chart, trade Q&A pages"
	for _, x := range []struct{ markup, margin float64 }{{.25, .20}, {.50, .333333}, {1, .50}, {2, .666667}, {3, .75}} {
		q := Reckon(Costs{Lines: []Line{{Kind: Steel, Cost: 24000 * measure.Cent}}}, Settings{Markup: ShareOf(x.markup)})
		outside.Check(t, outside.Case{Field: "price", Source: chart, What: fmt.Sprintf("margin of a quote marked up by %g %%", 100*x.markup), Got: 100 * q.Margin.Float(), Want: 100 * x.margin, Abs: .001, Why: "printed to four digits"})
	}
}

// TestPastJobs: the median of the last three, told beside, and charged only where it is asked for.
func TestPastJobs(t *testing.T) {
	e, _ := Gather(Saw, false, 0, Term{Name: "cuts", Amount: 1, EachS: 1000})
	one := func(at, took int64) Past { return Past{AtNS: at, Ratios: []Ratio{{Saw, 100, took}}} }
	past := []Past{one(1, 900), one(4, 150), one(2, 130), one(3, 110), {AtNS: 9, Ratios: []Ratio{{Arc, 10, 20}, {Saw, 0, 5}}}}
	h := Of(1, []Entry{e}, past, false, false)
	if x := h.Entries[0]; x.PastX != 1.3 || x.PastOf != 3 || h.PaidS != 1000 {
		t.Errorf("%+v", x)
	}
	if h := Of(1, []Entry{e}, past, true, false); h.PaidS != 1300 || h.PlanS != 1000 {
		t.Errorf("learnt: %d s of %d", h.PaidS, h.PlanS)
	}
	h.Took([]Ratio{{Saw, 400, 700}})
	if x := h.Entries[0]; x.DoneS != 400 || x.TookS != 700 {
		t.Errorf("%+v", x)
	}
}

func BenchmarkReckon(b *testing.B) {
	c := Costs{Frames: 1}
	for range 30 {
		c.Lines = append(c.Lines, Line{Kind: Steel, Cost: 1234 * measure.Cent})
	}
	e, _ := Gather(Saw, false, 0, Term{Name: "cuts", Amount: 10, EachS: 360})
	c.Hours = Of(1, []Entry{e}, nil, false, false)
	s := Settings{Rate: 40 * measure.Whole, Markup: ShareOf(.2), Tax: ShareOf(.07), TaxPerLine: true}
	for b.Loop() {
		Reckon(c, s)
	}
}

func ExampleReckon() {
	c := Costs{Frames: 1, Lines: []Line{{Kind: Steel, Name: "sticks", Cost: 240 * measure.Whole}}}
	byMarkup := Reckon(c, Settings{Markup: ShareOf(.30)})
	byMargin := Reckon(c, Settings{ByMargin: true, Margin: ShareOf(.30)})
	fmt.Println("30 % on the cost: ", byMarkup.Price, "of which", byMarkup.Margin.Percent(), "is left")
	fmt.Println("30 % of the price:", byMargin.Price, "which adds", byMargin.Markup.Percent())
	// Output:
	// 30 % on the cost:  312.00 of which 23.08 % is left
	// 30 % of the price: 342.86 which adds 42.86 %
}

// TestStatedDefaults: defaults that name a source are the source's.
func TestStatedDefaults(t *testing.T) {
	const nz = "New Zealand production-rate reference, structural steel, workshop fabrication"
	for _, c := range []struct {
		pace job.Pace
		what string
		min  float64
	}{{job.PaceCope, "extra time of a mitred or notched end, section up to 150 mm, min", 6}, {job.PacePlate, "plate to 300 x 16 mm sheared and punched, min", 4.5}} {
		outside.Check(t, outside.Case{Field: "hours", Source: nz, What: c.what, Got: c.pace.Info().Usual.Minutes(), Want: c.min, Abs: 1e-9, Why: "a default that is taken from it"})
	}
	for p := range job.Pace(job.PaceCount) {
		if i := p.Info(); i.Key == "" || i.Per == "" || i.Source == "" {
			t.Errorf("pace %d says nothing of itself: %+v", p, i)
		}
	}
}
