package rough_test

import (
	"fmt"
	"math"
	"testing"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/rough"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/table"
)

const shop = `
[saw]
kerf = "1/16"
trim = "1/4"
keep = "12in"
[labour]
rate = 45
[quote]
markup = "20%"
overhead = "15%"
`

func input(t testing.TB) rough.Input {
	t.Helper()
	b, problems := book.Read("prices.toml", []byte("[[steel]]\nshape = \"rect-tube\"\nsize = \"2 x 1 x 14ga\"\nlength = \"20ft\"\nprice = 33\ndate = 2026-11-20\n"), table.Steel())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	day, err := book.ParseDay("2026-11-25")
	if err != nil {
		t.Fatal(err)
	}
	return rough.Input{Plan: plan.Input{Steel: table.Steel(), Book: b, Today: day}, Shop: []job.File{{Name: "shop.toml", Data: []byte(shop)}}}
}

func answers(t testing.TB, words ...string) rough.Answers {
	t.Helper()
	a := rough.Fresh()
	for i := 0; i+1 < len(words); i += 2 {
		if err := a.Set(words[i], words[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	return a
}

func reckon(t testing.TB, a rough.Answers, in rough.Input) *rough.Price {
	t.Helper()
	r, err := rough.Reckon(t.Context(), a, in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func planned(t testing.TB, src string, in rough.Input) *plan.Plan {
	t.Helper()
	j, problems := job.Reader{Catalogue: &in.Plan.Steel}.Read(job.File{Name: "rack.toml", Data: []byte(src)}, in.Shop...)
	if text.HasErrors(problems) {
		t.Fatal(problems)
	}
	pi := in.Plan
	pi.Job, pi.Effort = &j, -1
	p := plan.Build(t.Context(), pi)
	if p.Failed() {
		t.Fatal(p.Problems)
	}
	return p
}

// TestSameCodeAsThePrice: a frame that is told in full costs what the same frame costs as a job of its own.
func TestSameCodeAsThePrice(t *testing.T) {
	in := input(t)
	r := reckon(t, answers(t, "section", "rect-tube 2 x 1 x 14ga", "size", "96 x 48", "bars", "4"), in)
	p := planned(t, `
[section.tube]
shape = "rect-tube"
size = "2 x 1 x 14ga"
[[rectangle]]
name = "lower"
section = "tube"
length = "96in"
width = "48in"
[[crossbars]]
on = "lower"
section = "tube"
count = 4
[paint]
coating = "paint"
[labour]
[quote]
[welder]
process = "GMAW"
amps = 100
volts = 18
duty = "30% at 130A"
window = "10m"
wire = "0.030in"
travel = "12ipm"
fillet = "1/8in"
`, in)
	if r.Likely != p.Quotes[0].Price {
		t.Errorf("roughly %s; the same job costs %s", r.Likely, p.Quotes[0].Price)
	}
	if r.Joints != len(p.Frame.Joints) {
		t.Errorf("%d joints, the frame has %d", r.Joints, len(p.Frame.Joints))
	}
}

// TestSpread: the ends lie round the likely price, and are the root of the sum of the squares of the swings shown.
func TestSpread(t *testing.T) {
	r := reckon(t, answers(t, "section", "rect-tube 2 x 1 x 14ga", "size", "118 x 44 x 32", "bars", "5"), input(t))
	if !(r.Low < r.Likely && r.Likely < r.High) {
		t.Fatalf("%s, %s, %s", r.Low, r.Likely, r.High)
	}
	var down, up float64
	for i, s := range r.Swings {
		lo, hi := min(s.Low, s.High), max(s.Low, s.High)
		down += math.Pow(max(0, (r.Likely-lo).Float()), 2)
		up += math.Pow(max(0, (hi-r.Likely).Float()), 2)
		if i > 0 && hi-lo > max(r.Swings[i-1].Low, r.Swings[i-1].High)-min(r.Swings[i-1].Low, r.Swings[i-1].High) {
			t.Errorf("%s swings more than %s before it", s.What, r.Swings[i-1].What)
		}
		if s.Why == "" {
			t.Errorf("%s says no reason", s.What)
		}
	}
	// A cent: money is rounded to it.
	if d := r.Likely.Float() - math.Sqrt(down) - r.Low.Float(); math.Abs(d) > 0.01 {
		t.Errorf("the low end is %s, by the swings %.2f", r.Low, r.Likely.Float()-math.Sqrt(down))
	}
	if d := r.Likely.Float() + math.Sqrt(up) - r.High.Float(); math.Abs(d) > 0.01 {
		t.Errorf("the high end is %s, by the swings %.2f", r.High, r.Likely.Float()+math.Sqrt(up))
	}
	for _, f := range r.Figures {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
	if len(r.Figures) != 2 {
		t.Errorf("%d figures", len(r.Figures))
	}
}

// TestFeetAndJoints: a frame made of feet and joints has that much steel, on its centre lines within the width of the tube at
// each joint, and that many joints.
func TestFeetAndJoints(t *testing.T) {
	in := input(t)
	for _, feet := range []int{30, 85, 300} {
		for _, joints := range []int{4, 10, 28} {
			r := reckon(t, answers(t, "section", "rect-tube 2 x 1 x 14ga", "feet", fmt.Sprintf("%dft", feet), "joints", fmt.Sprint(joints)), in)
			if r.Joints != joints {
				t.Errorf("%d joints asked, %d made", joints, r.Joints)
			}
			if got := r.SteelMM / 304.8; math.Abs(got-float64(feet)) > float64(joints)*2/12 {
				t.Errorf("%d ft asked, %.1f ft made", feet, got)
			}
			if !(r.Low <= r.Likely && r.Likely <= r.High) {
				t.Errorf("%s, %s, %s", r.Low, r.Likely, r.High)
			}
		}
	}
}

// TestLikeAnother: as large as another job it costs what that job costs; larger it costs more, but shared work does not grow.
func TestLikeAnother(t *testing.T) {
	in := input(t)
	p := planned(t, string(answersJob(t)), in)
	in.Like = p
	same := reckon(t, answers(t, "times", "1"), in)
	if same.Likely != p.Quotes[0].Price {
		t.Errorf("like another job %s, that job %s", same.Likely, p.Quotes[0].Price)
	}
	twice := reckon(t, answers(t, "times", "2"), in)
	if twice.Likely <= same.Likely || twice.Likely >= 2*same.Likely {
		t.Errorf("twice as large: %s beside %s", twice.Likely, same.Likely)
	}
}

func answersJob(t *testing.T) []byte {
	a := answers(t, "section", "rect-tube 2 x 1 x 14ga", "size", "60 x 40", "bars", "2")
	return a.Job(1, 1)
}

func TestOldPriceWidensTheSpread(t *testing.T) {
	in := input(t)
	a := answers(t, "section", "rect-tube 2 x 1 x 14ga", "size", "118 x 44", "bars", "5")
	fresh := reckon(t, a, in)
	in.Plan.Today += 400
	old := reckon(t, a, in)
	if old.Likely != fresh.Likely || old.High-old.Low <= fresh.High-fresh.Low {
		t.Errorf("fresh %s to %s, old %s to %s", fresh.Low, fresh.High, old.Low, old.High)
	}
}

func TestWrongAnswers(t *testing.T) {
	for _, w := range [][2]string{{"section", "tube"}, {"size", "96"}, {"size", "96 x -4"}, {"size", "a x b"}, {"bars", "many"}, {"bars", "101"}, {"feet", "-3"}, {"finish", "chrome"}, {"rate", "dear"},
		{"markup", "x"}, {"times", "0"}, {"times", "NaN"}, {"colour", "red"}, {"units", "rods"}} {
		a := rough.Fresh()
		if err := a.Set(w[0], w[1]); err == nil {
			t.Errorf("%s=%s is taken", w[0], w[1])
		}
	}
	for _, words := range [][]string{{}, {"section", "rect-tube 2 x 1 x 14ga"}, {"section", "rect-tube 2 x 1 x 14ga", "feet", "50ft"}, {"size", "96 x 48"}} {
		if _, err := rough.Reckon(t.Context(), answers(t, words...), input(t)); err == nil {
			t.Errorf("%v is enough for a price", words)
		}
	}
	if _, err := rough.Reckon(t.Context(), answers(t, "section", "rect-tube 2 x 1 x 99ga", "size", "96 x 48"), input(t)); err == nil {
		t.Error("a tube that does not exist has a price")
	}
}

func TestRound(t *testing.T) {
	for _, c := range []struct{ m, want measure.Money }{{118 * measure.Whole, 120 * measure.Whole}, {1234_5600, 1250_0000}, {867_4900, 870_0000}, {1224_0000, 1200_0000}} {
		if got := rough.Round(c.m); got != c.want {
			t.Errorf("%s is roughly %s, want %s", c.m, got, c.want)
		}
	}
}

func BenchmarkRough(b *testing.B) {
	in := input(b)
	a := answers(b, "section", "rect-tube 2 x 1 x 14ga", "size", "118 x 44 x 32", "bars", "5")
	for b.Loop() {
		reckon(b, a, in)
	}
}

func ExampleRound() {
	fmt.Println(rough.Round(1234*measure.Whole), rough.Round(867*measure.Whole), rough.Round(118*measure.Whole))
	// Output: 1250.00 870.00 120.00
}
