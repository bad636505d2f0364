package paint

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/figure/outside"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/text"
)

func sheetOf(t testing.TB, toml string) *Sheet {
	t.Helper()
	j := frametest.Read(t, toml)
	sections := frametest.Sections(t, j)
	f, ps := frame.Build(j, sections)
	pieces, qs := piece.Gather(f, j)
	for _, p := range append(ps, qs...) {
		if p.Severity == text.Error {
			t.Fatal(p.Long())
		}
	}
	return Make(Input{Job: j, Frame: f, Pieces: pieces, Sections: sections})
}

const steelTube = `
units = "in"
[section.a]
shape = "square-tube"
size = "2 x 11ga"
finish = "oiled"
`

// TestAreaByHand: a mitred ring of tube has no open end and no covered side; its area is its perimeter along the centre
// line. A tee covers its foot on the run.
func TestAreaByHand(t *testing.T) {
	ring := sheetOf(t, steelTube+"[[rectangle]]\nname = \"r\"\nsection = \"a\"\nlength = \"60in\"\nwidth = \"40in\"\n[paint]\n")
	skin := ring.Areas[0]
	perimeter := skin.SkinM2 * 1e6 / ((58 + 38) * 2 * 25.4) // mm of outside perimeter that this comes to
	// 2 in square with the usual outside corner radius: 8 in less (8 - 2 pi) R; R is at most 3 walls of 0.120 in.
	if perimeter > 8*25.4 || perimeter < (8-(8-2*math.Pi)*0.36)*25.4-0.01 {
		t.Errorf("outside perimeter %g mm", perimeter)
	}
	if len(ring.Ends) != 0 || len(ring.Sealed) != 4 || math.Abs(skin.ClosedM2) > 1e-9 || ring.Caps != 0 {
		t.Errorf("a ring has ends %v, sealed %v, covered %g", ring.Ends, ring.Sealed, skin.ClosedM2)
	}
	tee := sheetOf(t, steelTube+`
[[member]]
name = "run"
section = "a"
from = [0,0,0]
to = [40,0,0]
ends = ["square","square"]
[[member]]
name = "stem"
section = "a"
from = [20,0,0]
to = [20,0,31]
ends = ["butt","square"]
[paint]
ends = "open"
`)
	a := tee.Areas[0]
	if want := perimeter * (40 + 30) * 25.4 / 1e6; math.Abs(a.SkinM2-want) > 1e-6 {
		t.Errorf("skin %g m2, worked out %g", a.SkinM2, want)
	}
	if want := 4 * 25.4 * 25.4 / 1e6; math.Abs(a.ClosedM2-want) > 1e-9 {
		t.Errorf("covered %g m2, worked out %g", a.ClosedM2, want)
	}
	if len(tee.Ends) != 3 || tee.Caps != 0 {
		t.Errorf("open ends %+v", tee.Ends)
	}
	if len(tee.Traps) == 0 {
		t.Error("rain stands in the stem and nobody says so")
	}
}

// TestFiguresAndSums: every figure confirms itself; areas, coats and money add up; twice the frames is twice the paint.
func TestFiguresAndSums(t *testing.T) {
	const toml = steelTube + `
[[rectangle]]
name = "r"
section = "a"
length = "60in"
width = "40in"
[[piece]]
section = "a"
length = "20in"
qty = 3
[[plate]]
name = "tab"
size = "4 x 4 x 1/4"
at = ["r.x1"]
[paint]
extra = "10%"
cap_price = 0.50
[paint.primer]
cans = [ {size = "1qt", price = 17}, {size = "1gal", price = 45} ]
[paint.top]
method = "spray"
thin = "10%"
cans = [ {size = "1qt", price = 17}, {size = "1gal", price = 45} ]
`
	s := sheetOf(t, toml)
	for _, f := range s.Figures {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
	if s.Caps != 6 || s.CapCost != 3*measure.Whole {
		t.Errorf("%d caps for %s: three loose tubes have six ends", s.Caps, s.CapCost)
	}
	kg := 0.0
	for _, c := range s.Coats {
		kg += c.DryKG
		if c.BoughtL < c.Litres {
			t.Errorf("%s: %.3f l bought, %.3f needed", c.Name, c.BoughtL, c.Litres)
		}
	}
	if math.Abs(kg-s.MassKG) > 1e-12 { // one sum in another order
		t.Errorf("films weigh %g, the sheet says %g", kg, s.MassKG)
	}
	if s.Coats[1].Loss != 0.70 {
		t.Errorf("sprayed with a loss of %g", s.Coats[1].Loss)
	}
}

// TestCalendar: hands work within the day, paint dries round the clock, and nothing overlaps.
func TestCalendar(t *testing.T) {
	s := sheetOf(t, steelTube+"[[rectangle]]\nname = \"r\"\nsection = \"a\"\nlength = \"60in\"\nwidth = \"40in\"\n[paint]\n[paint.primer]\nrecoat = \"16h\"\n[paint.top]\nrecoat = \"24h\"\ncure = \"2d\"\n")
	if len(s.Steps) != 7 {
		t.Fatalf("steps %+v", s.Steps)
	}
	for i, x := range s.Steps {
		if x.EndH < x.StartH || i > 0 && x.StartH < s.Steps[i-1].EndH-1e-9 {
			t.Errorf("step %d: %+v after %+v", i, x, s.Steps[max(0, i-1)])
		}
		if x.Work && (x.AtH >= 8 || math.Abs(24*float64(x.Day-1)+x.AtH-x.StartH) > 1e-9) {
			t.Errorf("hands at work at %+v", x)
		}
	}
	// Primer on day 1 dries 16 h into day 2; each finish coat takes a day more, the last cures two.
	if d := s.Steps[3].Day; d != 2 {
		t.Errorf("the first finish coat is laid on day %d", d)
	}
	if got := s.Steps[5].StartH - s.Steps[3].EndH; got < 24 {
		t.Errorf("the second coat follows after %g h", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		c := &clock{day: rapid.Float64Range(1, 14).Draw(t, "day")}
		var worked float64
		for range rapid.IntRange(1, 12).Draw(t, "n") {
			h := rapid.Float64Range(0, 30).Draw(t, "h")
			if rapid.Bool().Draw(t, "work") {
				x := c.work("", h)
				worked += h
				if x.EndH-x.StartH < h-1e-9 {
					t.Fatalf("%g h of work between %g and %g", h, x.StartH, x.EndH)
				}
			} else if x := c.wait("", h); math.Abs(x.EndH-x.StartH-h) > 1e-9 {
				t.Fatalf("waited %+v for %g", x, h)
			}
		}
		if most := (math.Floor(c.now/24) + 1) * c.day; worked > most+1e-6 {
			t.Fatalf("%g h of hands' work in %g h", worked, c.now)
		}
	})
}

// TestCansAgainstAllSets: the search finds what trying every set finds.
func TestCansAgainstAllSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var sizes []job.Can
		for range rapid.IntRange(1, 3).Draw(t, "sizes") {
			sizes = append(sizes, job.Can{Litres: float64(rapid.IntRange(1, 30).Draw(t, "dl")) / 10, Price: measure.Money(rapid.IntRange(0, 90).Draw(t, "price")) * measure.Whole, Priced: true})
		}
		need := float64(rapid.IntRange(1, 60).Draw(t, "need")) / 10
		got, exact := Cans(need, sizes)
		var cost measure.Money
		held := 0.0
		for _, b := range got {
			cost += b.Cost
			held += float64(b.Qty) * b.Litres
		}
		if !exact || held < need-1e-9 {
			t.Fatalf("%g l held for %g", held, need)
		}
		least := measure.Money(math.MaxInt64)
		var all func(k int, l float64, c measure.Money)
		all = func(k int, l float64, c measure.Money) {
			if l >= need-1e-9 {
				least = min(least, c)
				return
			}
			if k == len(sizes) {
				return
			}
			for n := 0; float64(n-1)*sizes[k].Litres < need; n++ {
				all(k+1, l+float64(n)*sizes[k].Litres, c+sizes[k].Price*measure.Money(n))
			}
		}
		all(0, 0, 0)
		if cost != least {
			t.Fatalf("%v for %s, trying all finds %s", got, cost, least)
		}
	})
	if got, _ := Cans(3.5, []job.Can{{Litres: measure.GallonL / 4, Size: "1qt", Price: 17 * measure.Whole, Priced: true}, {Litres: measure.GallonL, Size: "1gal", Price: 46 * measure.Whole, Priced: true}}); fmt.Sprint(got[0].Size, got[0].Qty) != "1gal1" {
		t.Errorf("3.5 l in %v: a gallon costs less than four quarts", got)
	}
	start := time.Now()
	if _, exact := Cans(5000, []job.Can{{Litres: 1, Price: 1, Priced: true}}); exact || time.Since(start) > 5*time.Second {
		t.Error("a lake of paint")
	}
}

func TestVentHoles(t *testing.T) {
	const src = "galvaniser's hole table in the layout of EN ISO 14713-2, members up to 2.8 m"
	for _, c := range []struct{ size, want, each float64 }{{30, 10, 2}, {40, 12, 2}, {50, 12, 2}, {60, 12, 2}, {80, 16, 2}, {120, 30, 2}, {160, 40, 2}, {15, 8, 1}, {20, 10, 1}} {
		h, ok := VentHole(c.size, c.size, 2800, 0)
		if !ok || float64(h.Each) != c.each {
			t.Errorf("%g mm: %d holes at each end, the table has %g", c.size, h.Each, c.each)
		}
		outside.Check(t, outside.Case{Field: "paint", Source: src, What: fmt.Sprintf("vent holes of a %g mm square tube, mm", c.size), Got: h.MM, Want: c.want, Abs: 1e-9, Why: "a table's whole number"})
	}
	if h, _ := VentHole(50, 50, 3000, 2000); math.Abs(float64(h.Each)*math.Pi/4*h.MM*h.MM-600) > 60 || float64(h.Each)*math.Pi/4*h.MM*h.MM < 600 {
		t.Errorf("a long member: %+v is not 30 %% of 2000 mm2", h)
	}
	if _, ok := VentHole(400, 400, 1000, 1); ok {
		t.Error("no table goes to 400 mm")
	}
}

// TestDipped: a frame to be galvanised is told to be vented, weighs more by its zinc, and gets no caps.
func TestDipped(t *testing.T) {
	s := sheetOf(t, steelTube+"[[rectangle]]\nname = \"r\"\nsection = \"a\"\nlength = \"60in\"\nwidth = \"40in\"\n[paint]\ncoating = \"galvanise\"\ngalvanise_kg = 1.50\n")
	if s.Zinc == nil || len(s.Coats) != 0 || s.Caps != 0 || len(s.Sealed) != 4 || s.Sealed[0].Vent.MM != 12 || s.Sealed[0].Vent.Each != 2 {
		t.Fatalf("%+v", s)
	}
	if s.Zinc.KG < 0.03*s.Zinc.SteelKG || s.Zinc.KG > 0.2*s.Zinc.SteelKG {
		t.Errorf("zinc %g kg on %g kg of thin tube", s.Zinc.KG, s.Zinc.SteelKG)
	}
	for _, f := range s.Figures {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
}
