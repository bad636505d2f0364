package plan

import (
	"math"
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/weld"
	"bench.example/soapstone/fab/work"
)

const traded = `
units = "in"
[section.rail]
shape = "square-tube"
size = "2 x 11ga"
finish = "oiled"
sticks = [ {length = "20ft", price = 40.00} ]
[saw]
kerf = "1/16"
keep = "12in"
[[rectangle]]
name = "r"
section = "rail"
length = "60in"
width = "30in"
[[item]]
name = "caster"
qty = 4
price = 7.125
[[plate]]
name = "tab"
size = "3 x 3 x 1/4"
at = ["r.x1"]
[welder]
process = "GMAW"
amps = 96
volts = 17.5
duty = "20% at 148A"
travel = "13ipm"
fillet = "1/8"
[paint]
[paint.primer]
cans = [ {size = "1qt", price = 17.50} ]
[labour]
rate = 40
[quote]
markup = "25%"
many = 5
`

func trade(t *testing.T, toml string, s *work.State) *Plan {
	t.Helper()
	p := build(t, toml, s)
	for _, f := range p.tradeFigures() {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
	return p
}

func of(q price.Quote, k price.Kind) (m measure.Money) {
	for _, l := range q.Lines {
		if l.Kind == k {
			m += l.Cost
		}
	}
	return m
}

// TestQuoteOfOneAndFive: five frames share sticks, set-ups and cans; nothing costs more than five times one, and steel is what
// nesting them together really takes.
func TestQuoteOfOneAndFive(t *testing.T) {
	p := trade(t, traded, nil)
	if len(p.Quotes) != 2 || p.Quotes[1].Frames != 5 {
		t.Fatalf("%d quotes", len(p.Quotes))
	}
	one, five := p.Quotes[0], p.Quotes[1]
	// One frame takes 180 in of a 240 in stick; five take 900 in and some cuts: four sticks, not five.
	if a, b := of(one, price.Steel), of(five, price.Steel); a != 40*measure.Whole || b != 160*measure.Whole {
		t.Errorf("steel %s and %s", a, b)
	}
	if m := of(one, price.Item); m != 2850*measure.Cent {
		t.Errorf("4 casters at 7.125 cost %s", m)
	}
	if of(five, price.PaintKind) >= 5*of(one, price.PaintKind) || five.Cost >= 5*one.Cost || five.WorkS >= 5*one.WorkS || five.Each >= one.Price {
		t.Errorf("five share nothing: %s against %s, %d s against %d s", five.Cost, one.Cost, five.WorkS, one.WorkS)
	}
	if one.Price != price.Reckon(p.Costs[0], price.SettingsOf(p.Job)).Price {
		t.Error("a stepper at the job's own settings finds another price")
	}
	for _, want := range []string{"tab", "top coat", "gas"} {
		if found := strings.Contains(strings.Join(p.Costs[0].Unpriced, "; "), want); found == (want == "gas") {
			t.Errorf("unpriced: %q", p.Costs[0].Unpriced)
		}
	}
}

// TestSteelByThePartUsed: the drop that goes back on the rack is not charged; by the stick it may be credited.
func TestSteelByThePartUsed(t *testing.T) {
	bought := trade(t, strings.Replace(traded, "markup", "drop_value = \"50%\"\nmarkup", 1), nil).Quotes[0]
	used := trade(t, strings.Replace(traded, "markup", "steel = \"used\"\nmarkup", 1), nil)
	drop := used.Nests[0].Nest.Used[0].Drop
	if drop < 50*measure.Inch || drop > 70*measure.Inch {
		t.Fatalf("drop %g in", drop.Inches())
	}
	share := 40 * float64(drop) / float64(20*measure.Foot)
	if got := of(used.Quotes[0], price.Steel).Float(); math.Abs(got-(40-share)) > .005 {
		t.Errorf("used: %g, worked out %g", got, 40-share)
	}
	if got := of(bought, price.Credit).Float(); math.Abs(got+share/2) > .005 {
		t.Errorf("credited: %g, worked out %g", got, -share/2)
	}
}

// TestQuoteStaysWhileWorkGoesOn: what is cut is not bought again, but the quote is of the whole job; the record's times stand
// beside the plan's.
func TestQuoteStaysWhileWorkGoesOn(t *testing.T) {
	before := trade(t, traded, nil)
	s := work.New()
	w := &clerk{t: t, s: s}
	st := before.Nests[0].Nest.Used[0]
	w.at(0, work.Loaded{Stick: "rail 1", Section: "rail", Source: "buy", Length: 20 * measure.Foot, Nominal: 20 * measure.Foot})
	unit := map[string]int{}
	for i, c := range st.Cuts[:3] {
		x := before.Pieces[before.Nests[0].Pieces[c.Kind]]
		unit[x.Mark]++
		w.at(time.Duration(i+1)*4*time.Minute, work.Cut{Mark: x.Mark, Unit: unit[x.Mark], Stick: "rail 1", From: c.From, To: c.To, Key: Key(&x, c.Lay.Right)})
	}
	after := trade(t, traded, s)
	if after.untouched() {
		t.Fatal("the record says nothing")
	}
	if a, b := before.Quotes[0], after.Quotes[0]; a.Cost != b.Cost || a.Price != b.Price {
		t.Errorf("the quote moved from %s to %s while pieces were cut", a.Price, b.Price)
	}
	if len(after.Stated) == 0 || after.Stated[0].Activity != price.Saw || after.Stated[0].TookS != 480 {
		t.Errorf("three cuts in eight minutes: %+v", after.Stated)
	}
	for _, e := range after.Hours.Entries {
		if e.Activity == price.Saw && (e.TookS != 480 || e.DoneS <= 0 || e.DoneS >= e.PlanS) {
			t.Errorf("beside the plan: %+v", e)
		}
	}
}

// TestTimesOfTheBooth: what the booth records under its own names is found again: a joint every three minutes, the second
// after a break that does not count, arcs twice as long as planned.
func TestTimesOfTheBooth(t *testing.T) {
	before := trade(t, traded, nil)
	s := work.New()
	w := &clerk{t: t, s: s}
	keys, _ := before.Weld.Names()
	var tacks, arcs int
	var planned time.Duration
	at := time.Minute
	for i, x := range before.Weld.Docket.Tasks {
		if x.Kind == weld.Tack {
			if at += 3 * time.Minute; tacks == 1 {
				at += time.Hour
			}
			w.at(at, work.Tacked{Joint: keys[i]})
			tacks++
		}
	}
	for i, x := range before.Weld.Docket.Tasks {
		if x.Kind == weld.Arc {
			w.at(at, work.ArcOn{Joint: keys[i], Amps: 96})
			at += 2 * x.Take
			w.at(at, work.ArcOff{Of: work.ID{Writer: 1, Number: uint64(w.n)}})
			w.at(at, work.Welded{Joint: keys[i]})
			at += time.Minute
			planned += x.Take
			arcs++
		}
	}
	got := map[price.Activity]price.Ratio{}
	for _, x := range trade(t, traded, s).Stated {
		got[x.Activity] = x
	}
	if want := int64(180 * (tacks - 2)); tacks < 4 || got[price.FitUp].TookS != want {
		t.Errorf("%d joints tacked up: %+v, want %d s", tacks, got[price.FitUp], want)
	}
	// a second for the rounding of each figure to whole ones
	if x := got[price.Arc]; arcs == 0 || math.Abs(float64(x.TookS)-2*planned.Seconds()) > 1 || x.PlanS == 0 {
		t.Errorf("%d arcs, planned %v: %+v", arcs, planned, x)
	}
}

type clerk struct {
	t *testing.T
	s *work.State
	n byte
}

func (c *clerk) at(d time.Duration, w work.What) {
	c.t.Helper()
	payload, err := work.Encode(w)
	if err != nil {
		c.t.Fatal(err)
	}
	c.n++
	id := work.ID{Writer: 1, Number: uint64(c.n)}
	if !c.s.Apply(id, int64(time.Hour)+int64(d), payload) {
		c.t.Fatalf("%+v was not taken", w)
	}
}

// TestPaintIsHoisted: the dry film weighs on the hook.
func TestPaintIsHoisted(t *testing.T) {
	with := trade(t, traded, nil)
	without := trade(t, traded[:strings.Index(traded, "[paint]")]+traded[strings.Index(traded, "[labour]"):], nil)
	if d := with.Mass.Whole.KG - without.Mass.Whole.KG; math.Abs(d-with.Paint.MassKG) > 1e-9 || d <= 0 {
		t.Errorf("hoisted weight grew by %g kg, the paint weighs %g", d, with.Paint.MassKG)
	}
	if with.Mass.Steel.KG != without.Mass.Steel.KG {
		t.Error("paint counts as steel")
	}
}

// TestShopPaces: a shop's own pace is taken, and its figure says so.
func TestShopPaces(t *testing.T) {
	slow := trade(t, strings.Replace(traded, "rate = 40", "rate = 40\ndeburr = \"2m\"\nsaw_load = \"10m\"\nfit = \"5m\"\nallow = \"50%\"", 1), nil)
	base := trade(t, traded, nil)
	got := map[price.Activity]int64{}
	for _, e := range slow.Hours.Entries {
		got[e.Activity] = e.PlanS
		if e.Activity == price.Deburr && !strings.Contains(e.Working.Working(), "[labour] deburr") {
			t.Error(e.Working.Working())
		}
	}
	if got[price.Deburr] != 8*120*3/2 { // four pieces, eight ends
		t.Errorf("deburring takes %d s", got[price.Deburr])
	}
	if d := slow.Queue.EstS - base.Queue.EstS; d != 540 {
		t.Errorf("one stick loaded in ten minutes adds %g s", d)
	}
	if slow.Weld.Rates.Fit != 5*time.Minute {
		t.Errorf("a joint is fitted in %s", slow.Weld.Rates.Fit)
	}
}

// TestManyPiecesAreNotSharedOut: beyond what is nested together in a moment each frame keeps its own nest, and a note says so.
func TestManyPiecesAreNotSharedOut(t *testing.T) {
	p := trade(t, traded+"[[piece]]\nsection = \"rail\"\nlength = \"7-5/16in\"\nqty = 100\n", nil)
	if len(p.Quotes) != 2 || of(p.Quotes[1], price.Steel) != 5*of(p.Quotes[0], price.Steel) {
		t.Errorf("steel of one %s, of five %s", of(p.Quotes[0], price.Steel), of(p.Quotes[1], price.Steel))
	}
	if !strings.Contains(strings.Join(p.Notes, "\n"), "sticks not shared") {
		t.Errorf("notes: %q", p.Notes)
	}
}
