package plan

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/figure/outside"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
)

const priceList = `
[[steel]]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
length = "20ft"
price = 36.00
supplier = "Harbour Steel"
date = 2026-11-02
[[steel]]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
length = "20ft"
price = 33.00
supplier = "River Yard"
date = 2026-06-01
[[steel]]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
length = "24ft"
price = 47.00
supplier = "River Yard"
date = 2026-06-01
[[goods]]
name = "caster"
kind = "part"
price = 28
pack = 2
supplier = "Chandler & Daughters"
date = 2026-11-01
`

const unpriced = `
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
[saw]
kerf = "1/16"
trim = "1/4"
[[item]]
name = "caster"
qty = 3
[[rectangle]]
name = "base"
section = "rail"
length = "61in"
width = "33in"
[[crossbars]]
on = "base"
section = "rail"
count = 3
`

func day(t testing.TB, s string) book.Day {
	t.Helper()
	d, err := book.ParseDay(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func priceBook(t testing.TB, src string) *book.Book {
	t.Helper()
	b, problems := book.Read("prices.toml", []byte(src), frametest.Catalogue())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return b
}

func buildWith(t testing.TB, toml string, in Input) *Plan {
	t.Helper()
	in.Job, in.Steel, in.Effort = frametest.Read(t, toml), frametest.Catalogue(), -1
	p := Build(context.Background(), in)
	if p.Failed() {
		t.Fatalf("%v", p.Problems)
	}
	return p
}

func says(p *Plan, code string) string {
	for _, x := range p.Problems {
		if x.Code == code {
			return x.Message
		}
	}
	return ""
}

func TestBookPricesWhatTheJobLeavesOpen(t *testing.T) {
	in := Input{Book: priceBook(t, priceList), Today: day(t, "2026-11-25")}
	p := buildWith(t, unpriced, in)
	// 61 + 61 + 33 + 33 + 3 x 30 in = 278 in of pieces, less what mitres share: one stick of 24 ft at its only price, or two
	// of 20 ft at the newest of theirs, of which the older one is lower.
	var got []string
	for _, b := range p.Buy {
		got = append(got, fmt.Sprintf("%d x %g ft at %s of %s from %s, old %v, book %v", b.Qty, b.Length.Feet(), b.Price, b.Date, b.Supplier, b.Old, b.Book))
	}
	switch strings.Join(got, "; ") {
	case "1 x 24 ft at 47.00 of 2026-06-01 from River Yard, old true, book true", "2 x 20 ft at 36.00 of 2026-11-02 from Harbour Steel, old false, book true":
	default:
		t.Errorf("bought %q", got)
	}
	if m := says(p, "old-price"); !strings.Contains(m, "River Yard") || !strings.Contains(m, "177 days") {
		t.Errorf("the price of 1 June is not called old on 25 November, 177 days later: %q", m)
	}
	var goods Goods
	for _, o := range p.Orders() {
		if o.Supplier == "Chandler & Daughters" {
			goods = o.Goods[0]
		}
	}
	if goods.Qty != 3 || goods.Cost != 56*measure.Whole || !goods.Priced { // two packs of two
		t.Errorf("casters %+v", goods)
	}
	// The same plan without today calls nothing old; without the book nothing is priced.
	in.Today = 0
	if p = buildWith(t, unpriced, in); says(p, "old-price") != "" {
		t.Error("a price is called old though today is not known")
	}
	if p = buildWith(t, unpriced, Input{}); p.Buy[0].Priced {
		t.Error("a price out of nowhere")
	}
}

func TestJobsOwnPricesStandBeforeTheBook(t *testing.T) {
	own := strings.Replace(unpriced, "[saw]", "sticks = [ {length = \"20ft\", price = 31, supplier = \"River Yard\", date = 2026-03-01} ]\n[saw]", 1)
	p := buildWith(t, own, Input{Book: priceBook(t, priceList), Today: day(t, "2026-11-25")})
	if b := p.Buy[0]; b.Price != 31*measure.Whole || b.Book || b.Supplier != "River Yard" || !b.Old {
		t.Errorf("%+v", b)
	}
	// A supplier without a price asks the book for his.
	own = strings.Replace(unpriced, "[saw]", "sticks = [ {length = \"20ft\", supplier = \"River Yard\"} ]\n[saw]", 1)
	p = buildWith(t, own, Input{Book: priceBook(t, priceList), Today: day(t, "2026-11-25")})
	if b := p.Buy[0]; b.Price != 33*measure.Whole || !b.Book || !b.Old {
		t.Errorf("%+v", b)
	}
	// A length that neither prices leaves the section as it is: a stick without a price would count as free.
	own = strings.Replace(unpriced, "[saw]", "sticks = [ \"20ft\", \"12ft\" ]\n[saw]", 1)
	p = buildWith(t, own, Input{Book: priceBook(t, priceList), Today: day(t, "2026-11-25")})
	if p.Nests[0].Nest.Priced || !strings.Contains(strings.Join(p.Notes, "\n"), "would count as free") {
		t.Errorf("priced %v: %v", p.Nests[0].Nest.Priced, p.Notes)
	}
	if p = buildWith(t, unpriced, Input{Book: priceBook(t, "currency = \"EUR\"\n"+priceList)}); p.Buy[0].Priced {
		t.Error("prices of another currency were taken")
	}
}

func TestHalfPricedSticksAreTold(t *testing.T) {
	for _, c := range []struct {
		sticks string
		want   string
	}{
		{`[ {length = "20ft", price = 31}, {length = "24ft"} ]`, "(288\") count as free"},
		{`[ {length = "20ft", price = 31}, {length = "24ft", price = 0} ]`, ""},
		{`[ "20ft", "24ft" ]`, ""},
	} {
		p := buildWith(t, strings.Replace(unpriced, "[saw]", "sticks = "+c.sticks+"\n[saw]", 1), Input{})
		if got := says(p, "half-priced"); got == "" != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s: %q", c.sticks, got)
		}
	}
}

func TestLeastQuantityIsTold(t *testing.T) {
	p := buildWith(t, unpriced, Input{Book: priceBook(t, `
[[steel]]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
price_ft = 1.50
least = 10
supplier = "River Yard"
date = 2026-11-20
`), Today: day(t, "2026-11-25")})
	if b := p.Buy[0]; b.Price != 30*measure.Whole || b.Least != 10 {
		t.Errorf("%+v", b)
	}
	if m := says(p, "least"); !strings.Contains(m, "from 10 sticks up") {
		t.Errorf("problems %v", p.Problems)
	}
}

// haulJob has pieces of which three fill a 20-foot stick: 1/4 + 3 x 79-3/4 + 2/16 = 239-5/8 in. Two partings lose another
// inch, so a parted stick holds two. The six need two sticks whole, three parted in the middle: one stick (31.20) and three
// cuts (7.50) more, 38.70.
const haulJob = `
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
sticks = [ {length = "20ft", price = 31.20, supplier = "Harbour Steel"} ]
[saw]
kerf = "1/16"
trim = "1/4"
yard_trim = "1/4"
yard_cut = 2.50
keep = "12in"
%s
[[piece]]
mark = "L"
section = "rail"
length = "79-3/4in"
qty = 6
`

// TestHaulCost is the haul check: what the limit costs, and that the yard can part every stick as told.
func TestHaulCost(t *testing.T) {
	free := build(t, fmt.Sprintf(haulJob, ""), nil)
	p := build(t, fmt.Sprintf(haulJob, `haul = "10ft"`), nil)
	if len(free.Haul) != 0 || free.YardCuts != 0 {
		t.Errorf("without a limit something is told of it: %+v", free.Haul)
	}
	if len(p.Haul) != 1 {
		t.Fatalf("the haul limit's cost is told %d times", len(p.Haul))
	}
	h := p.Haul[0]
	cost := func(p *Plan) (n int, m measure.Money) {
		for _, b := range p.Buy {
			n, m = n+b.Qty, m+b.Cost
		}
		return n, m + p.Job.Saw.YardCut*measure.Money(p.YardCuts)
	}
	nf, mf := cost(free)
	nw, mw := cost(p)
	if h.Sticks != nw-nf || h.Cost != mw-mf || h.Cost != 3870*measure.Cent || h.Sticks != 1 {
		t.Errorf("told %d sticks and %s; two plans differ by %d and %s", h.Sticks, h.Cost, nw-nf, mw-mf)
	}
	words := p.HaulWords(h)
	if !strings.Contains(strings.Join(p.Notes, "\n"), words) || !strings.Contains(words, h.Cost.With("USD")) {
		t.Errorf("the plan does not tell it: %v", p.Notes)
	}
	for _, f := range p.haulFigures() {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
	canBeParted(t, p)
	d := p.JSON()
	if len(d.Haul) != 1 || d.Haul[0].Cost != h.Cost.Float() || d.Orders[0].Supplier != "Harbour Steel" || d.Orders[0].YardCuts.Qty != p.YardCuts || len(d.Orders[0].Sticks[0].PartsMM) == 0 {
		t.Errorf("JSON: %+v %+v", d.Haul, d.Orders)
	}
}

// canBeParted walks along every stick that the yard parts, as the yard would: it loses yard_trim on each side of its cut, no
// piece may reach into what is lost, and no part may be longer than the haul.
func canBeParted(t *testing.T, p *Plan) {
	t.Helper()
	w := p.Job.Saw
	cuts := 0
	for _, sn := range p.Nests {
		for i, u := range sn.Nest.Used {
			st := sn.Problem.Sticks[u.Stick]
			at := u.Partings()
			if st.OnHand {
				continue
			}
			cuts += len(at)
			last := measure.Length(0)
			for k, x := range append(append([]measure.Length{}, at...), st.Length) {
				if part := x - last; part > w.Haul {
					t.Errorf("%s stick %d: part %d is %s long, the vehicle carries %s", sn.Section, i+1, k+1, p.Job.Tape.Print(part), p.Job.Tape.Print(w.Haul))
				}
				last = x
			}
			for _, x := range at {
				for _, c := range u.Cuts {
					if c.From < x+w.YardTrim && c.To > x-w.YardTrim {
						t.Errorf("%s stick %d: parted at %d, which with %d lost on each side cuts into a piece from %d to %d", sn.Section, i+1, x, w.YardTrim, c.From, c.To)
					}
				}
			}
		}
	}
	if cuts != p.YardCuts {
		t.Errorf("%d partings lie on the sticks, %d are charged", cuts, p.YardCuts)
	}
}

// TestAnyHaulCanBeParted draws jobs with a haul limit and walks along every stick as the yard would.
func TestAnyHaulCanBeParted(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var b strings.Builder
		fmt.Fprintf(&b, "[section.rail]\nshape = \"rect-tube\"\nsize = \"2-1/2 x 1-1/2 x .120\"\nsticks = [ {length = \"20ft\", price = 31.20}, {length = \"24ft\", price = 39} ]\n")
		fmt.Fprintf(&b, "[saw]\nkerf = \"1/16\"\ntrim = \"1/4\"\nyard_trim = \"%d/16\"\nyard_cut = %d\nhaul = \"%din\"\n", rapid.IntRange(0, 8).Draw(rt, "yard trim"), rapid.IntRange(0, 4).Draw(rt, "yard cut"), rapid.IntRange(84, 200).Draw(rt, "haul"))
		for i := range rapid.IntRange(1, 4).Draw(rt, "kinds") {
			fmt.Fprintf(&b, "[[piece]]\nmark = \"%c\"\nsection = \"rail\"\nlength = \"%d/4in\"\nqty = %d\nends = [%d, %d]\n", 'L'+i, rapid.IntRange(40, 320).Draw(rt, "quarters"), rapid.IntRange(1, 5).Draw(rt, "qty"),
				rapid.SampledFrom([]int{0, 45, -30}).Draw(rt, "left"), rapid.SampledFrom([]int{0, 45, 30}).Draw(rt, "right"))
		}
		p := Build(context.Background(), Input{Job: frametest.Read(t, b.String()), Steel: frametest.Catalogue(), Effort: -1})
		if p.Failed() {
			return
		}
		canBeParted(t, p)
		if t.Failed() {
			rt.Fatal(b.String())
		}
		for _, h := range p.Haul {
			if h.Cost < 0 && h.With.Proven && h.Free.Proven {
				rt.Fatalf("a limit saves money: %s\n%s", p.HaulWords(h), b.String())
			}
		}
	})
}

func TestReceiptsArePaidAndUsedFirst(t *testing.T) {
	w := &worker{state: work.New()}
	p := build(t, small, nil)
	planned := p.Buy[0].Qty
	if planned < 2 {
		t.Fatalf("%d sticks are planned; the test wants two", planned)
	}
	ft20 := 20 * measure.Foot
	// One of two came, dearer than planned.
	w.do(work.Received{Section: "rail", Nominal: ft20, Qty: 1, Price: 35 * measure.Whole, Supplier: "Harbour Steel"})
	p = build(t, small, w.state)
	if len(p.Buy) != 1 || p.Buy[0].Qty != planned-1 || p.Buy[0].Price != 35*measure.Whole {
		t.Errorf("still to buy %+v", p.Buy)
	}
	if len(p.Received) != 1 || p.Received[0].Cost != 35*measure.Whole || !p.Received[0].Priced {
		t.Errorf("received %+v", p.Received)
	}
	// The yard has no more of that length: what is there does not hold the job.
	short := w.state.Clone()
	(&worker{state: short, n: 100}).do(work.Received{Section: "rail", Nominal: ft20, NoMore: true})
	q := Build(context.Background(), Input{Job: frametest.Read(t, small), Steel: frametest.Catalogue(), Work: short, Effort: -1})
	if !q.Failed() {
		t.Error("a job is planned on sticks that nobody has")
	}
	// Another length is at hand: the rest is nested on it.
	two := strings.Replace(small, "price = 31.20} ]", "price = 31.20}, {length = \"24ft\", price = 45} ]", 1)
	p = build(t, two, short)
	for _, b := range p.Buy {
		if b.Length == ft20 {
			t.Errorf("a stick that the yard does not have is on the list: %+v", b)
		}
	}
	// All came; the saw takes them one by one, and none is counted twice.
	w.do(work.Received{Section: "rail", Nominal: ft20, Qty: planned - 1, Price: 35 * measure.Whole})
	p = build(t, small, w.state)
	if len(p.Buy) != 0 {
		t.Errorf("all came, yet %+v is to be bought", p.Buy)
	}
	for i := range p.Queue.Steps {
		w.step(p, &p.Queue.Steps[i])
	}
	if p = build(t, small, w.state); len(p.Buy) != 0 || len(p.Queue.Steps) != 0 {
		t.Errorf("after the last cut: buy %+v, %d steps", p.Buy, len(p.Queue.Steps))
	}
	// One piece is spoiled: its steel is gone and so are the sticks, so one must be bought.
	w.do(work.Spoiled{Mark: p.Pieces[0].Mark, Unit: 1})
	if p = build(t, small, w.state); len(p.Buy) > 1 || len(p.Buy) == 1 && p.Buy[0].Price != 35*measure.Whole {
		t.Errorf("for a spoiled piece %+v is bought", p.Buy)
	}
}

// A stick that was loaded as bought before anybody entered the receipt is one of those that came.
func TestReceiptAfterTheFirstCut(t *testing.T) {
	w := &worker{state: work.New()}
	p := build(t, small, nil)
	planned := p.Buy[0].Qty
	for i := range p.Queue.Steps {
		w.step(p, &p.Queue.Steps[i])
		if len(w.state.Pieces()) == 1 {
			break
		}
	}
	w.do(work.Received{Section: "rail", Nominal: 20 * measure.Foot, Qty: planned})
	p = build(t, small, w.state)
	lying := 0
	for _, st := range p.Nests[0].Problem.Sticks[len(p.Nests[0].Rests):] {
		if st.OnHand {
			lying += st.Limit
		}
	}
	if lying != planned-1 || len(p.Buy) != 0 {
		t.Errorf("%d came, one is in the saw, %d lie there; to buy %+v", planned, lying, p.Buy)
	}
}

// Sticks that the yard parted come in parts: the plan keeps them as they were told to be parted.
func TestReceiptOfPartedSticks(t *testing.T) {
	toml := fmt.Sprintf(haulJob, `haul = "10ft"`)
	p := build(t, toml, nil)
	told := p.Nests[0].Nest.Used
	w := &worker{state: work.New()}
	w.do(work.Received{Section: "rail", Nominal: 20 * measure.Foot, Qty: p.Buy[0].Qty})
	q := build(t, toml, w.state)
	if len(q.Buy) != 0 {
		t.Errorf("all came, yet %+v is to be bought", q.Buy)
	}
	if fmt.Sprint(q.Nests[0].Nest.Used) != fmt.Sprint(told) {
		t.Error("sticks that the yard has parted already are planned anew")
	}
	canBeParted(t, q)
}

func TestMeasuredSticks(t *testing.T) {
	w := &worker{state: work.New()}
	w.do(work.Received{Section: "rail", Nominal: 20 * measure.Foot, Qty: 2, Wall: measure.Inch * 100 / 1000, Bow: measure.Inch * 3 / 4, Twist: measure.Inch})
	p := build(t, small, w.state)
	if m := says(p, "thin-wall"); !strings.Contains(m, "0.100 in") || !strings.Contains(m, "17 %") || !strings.Contains(m, "more than the 10 %") {
		t.Errorf("wall: %q", m)
	}
	if m := says(p, "bow"); !strings.Contains(m, "1/2") || !strings.Contains(m, "A by") {
		t.Errorf("bow: %q", m)
	}
	// A500: 0.062 in each 3 ft for sides over 1-1/2 to 2-1/2 in: 0.41 in over 20 ft.
	if m := says(p, "twist"); !strings.Contains(m, "7/16\"-") {
		t.Errorf("twist: %q", m)
	}
	w = &worker{state: work.New()}
	w.do(work.Received{Section: "rail", Nominal: 20 * measure.Foot, Qty: 2, Wall: measure.Inch * 115 / 1000, Bow: measure.Inch / 64, Twist: measure.Inch / 8})
	p = build(t, small, w.state)
	if says(p, "bow") != "" || says(p, "twist") != "" {
		t.Errorf("a straight stick is called bowed: %v", p.Problems)
	}
	for _, x := range p.Problems {
		if x.Code == "thin-wall" && x.Severity != text.Warning {
			t.Errorf("a wall within the tolerance: %+v", x)
		}
	}
}

// A wall as measured weighs what a section made with that wall weighs.
func TestWithWall(t *testing.T) {
	cat := frametest.Catalogue()
	full, err := steel.New(steel.Spec{Shape: steel.RectTube, Size: "2-1/2 x 1-1/2 x .120", Grade: "A500-B", Unit: measure.In}, cat)
	if err != nil {
		t.Fatal(err)
	}
	thin := WithWall(full, measure.Inch/10)
	// Area of the flats and corners by hand: perimeter of the wall's middle line, corners by their mean radius.
	h, b, tk, ro := full.Depth.MM(), full.Width.MM(), 2.54, full.OutsideRadius.MM()
	want := tk*(2*(h-2*ro)+2*(b-2*ro)) + math.Pi*(ro*ro-(ro-tk)*(ro-tk))
	if got := thin.Properties(steel.Nominal).AreaMM2; math.Abs(got-want) > 1e-6*want {
		t.Errorf("area %g mm2, by hand %g", got, want)
	}
}

func TestStraightnessOutside(t *testing.T) {
	cat := frametest.Catalogue()
	tube, err := steel.New(steel.Spec{Shape: steel.SquareTube, Size: "2 x 11ga", Unit: measure.In}, cat)
	if err != nil {
		t.Fatal(err)
	}
	flat, err := steel.New(steel.Spec{Shape: steel.Flat, Size: "2 x 1/4", Unit: measure.In}, cat)
	if err != nil {
		t.Fatal(err)
	}
	twist, _ := Twist(tube, 3*measure.Foot)
	outside.Check(t, outside.Case{Field: "sections", What: "bow of a 20 ft tube, in", Got: Bow(tube, 20*measure.Foot).Value, Want: 0.5, Abs: 1e-12, Why: "exact fractions",
		Source: "A500A vs A513 comparison sheet (ASTM A500-07, A513-08a), straightness: (length in ft / 5) x 1/8 in, 20 ft at most 0.50 in"})
	outside.Check(t, outside.Case{Field: "sections", What: "bow of a hot-wrought bar in 1500 mm", Got: Bow(flat, 1500*measure.Millimetre).Value * 25.4, Want: 6, Abs: 0.3,
		Source: "ASTM A29-04 Table A2.10: 6 mm in any 1500 mm", Why: "ours is the inch table's 1/4 in. in 5 ft, 6.25 mm here; the metric table rounds to the millimetre"})
	outside.Check(t, outside.Case{Field: "sections", What: "twist of a 2 in tube in 3 ft", Got: twist.Value, Want: 0.062, Abs: 1e-12, Why: "exact decimals",
		Source: "A500A vs A513 comparison sheet (ASTM A500-07, A513-08a), twist: over 1-1/2 to 2-1/2 in. incl., 0.062 in. in 3 ft"})
}
