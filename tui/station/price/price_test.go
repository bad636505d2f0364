package price_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/plan"
	core "bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/example"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
	"bench.example/soapstone/tui/station/price"
)

var update = flag.Bool("update", false, "write the golden pages anew; read the difference")

// planned plans a job's text.
func planned(t testing.TB, data []byte, in plan.Input) *plan.Plan {
	t.Helper()
	cat := table.Steel()
	j, problems := job.Reader{Catalogue: &cat}.Read(job.File{Name: "kayak-rack.toml", Data: data})
	if text.HasErrors(problems) {
		t.Fatal(problems)
	}
	in.Job, in.Steel, in.Effort = &j, cat, -1
	p := plan.Build(t.Context(), in)
	if p.Failed() {
		t.Fatal(p.Problems)
	}
	return p
}

var once sync.Once
var thePlan *plan.Plan

// exampleDesk has the built-in example on it.
func exampleDesk(t testing.TB, l *look.Look) *station.Desk {
	once.Do(func() {
		day, err := book.ParseDay("2026-11-25")
		if err != nil {
			t.Fatal(err)
		}
		thePlan = planned(t, example.Job, plan.Input{Today: day})
	})
	doc, _ := text.Parse("kayak-rack.toml", example.Job)
	return &station.Desk{Look: l, Plan: thePlan, Work: work.New(), Doc: doc, Now: time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)}
}

func plain() *look.Look { return look.New(termenv.Ascii, look.Dark, true) }

func view(s *price.Price, d *station.Desk, w, h int) string {
	return strings.Join(s.View(d, w, h), "\n") + "\n"
}

// TestGoldenPages holds the three pages at the sizes of the other stations, in plain, and that colour and ground change no
// letter of them; one size is held with its colours.
func TestGoldenPages(t *testing.T) {
	for i, page := range []string{"price", "hours", "paint"} {
		for _, z := range [][2]int{{50, 11}, {80, 20}, {120, 36}, {200, 56}} {
			draw := func(l *look.Look) string {
				s, d := price.New(), exampleDesk(t, l)
				for range i {
					s.Press(d, "space")
				}
				lines := s.View(d, z[0], z[1])
				if len(lines) > z[1] {
					t.Errorf("%s gives %d lines where %d fit", page, len(lines), z[1])
				}
				for _, x := range lines {
					if n := ansi.StringWidth(x); n > z[0] {
						t.Errorf("%s at %d wide has a line of %d: %q", page, z[0], n, ansi.Strip(x))
					}
				}
				return strings.Join(lines, "\n") + "\n"
			}
			want := draw(plain())
			golden(t, fmt.Sprintf("%s-%dx%d.txt", page, z[0], z[1]), want)
			for name, theme := range map[string]look.Theme{"dark": look.Dark, "light": look.Light} {
				got := draw(look.New(termenv.TrueColor, theme, true))
				if ansi.Strip(got) != want {
					t.Errorf("%s at %d on %s ground has other letters", page, z[0], name)
				}
				if z[0] == 80 {
					golden(t, fmt.Sprintf("%s-80x20-%s.txt", page, name), strings.ReplaceAll(got, "\x1b", "^"))
				}
			}
			for _, r := range draw(look.New(termenv.Ascii, look.Dark, false)) {
				if r > 126 {
					t.Errorf("%s shows %q where the locale has no Unicode", page, r)
					break
				}
			}
		}
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; run go test -update and read the page", err)
	}
	if string(want) != got {
		t.Errorf("%s is now\n%s", name, got)
	}
}

// At every step the page shows what the core reckons from the plan's costs, and no plan is asked for.
func TestSteppersAnswerAtOnce(t *testing.T) {
	s, d := price.New(), exampleDesk(t, plain())
	set := core.SettingsOf(thePlan.Job)
	shown := func(want ...string) {
		t.Helper()
		v := view(s, d, 120, 60)
		for _, x := range want {
			if !strings.Contains(v, x) {
				t.Errorf("the page does not show %q:\n%s", x, v)
			}
		}
	}
	q := core.Reckon(thePlan.Costs[0], set)
	shown(q.Price.String(), q.Margin.Percent(), q.EarnsHour.String(), q.BreakEven.String(), core.Reckon(thePlan.Costs[1], set).Each.String())
	// Two half percents more of whatever the job goes by.
	if out := s.Press(d, "right"); out != nil {
		t.Errorf("a step asks for %v", out)
	}
	s.Press(d, "right")
	if set.ByMargin {
		set.Margin = (set.Margin/(core.One/200) + 2) * (core.One / 200)
	} else {
		set.Markup = (set.Markup/(core.One/200) + 2) * (core.One / 200)
	}
	q = core.Reckon(thePlan.Costs[0], set)
	shown(q.Price.String(), q.EarnsHour.String())
	// The rate.
	s.Press(d, "down")
	s.Press(d, "left")
	set.Rate -= 10000
	q = core.Reckon(thePlan.Costs[0], set)
	shown(q.Price.String(), set.Rate.String()+" an hour")
	// What an hour shall pay fixes the price.
	s.Press(d, "up")
	s.Press(d, "up")
	s.Press(d, "right")
	hour := (q.EarnsHour/10000 + 1) * 10000
	fixed := core.ForHour(thePlan.Costs[0], set, hour)
	q = core.At(thePlan.Costs[0], set, fixed)
	if diff := q.EarnsHour - hour; diff > 100 || diff < -100 { // a cent of the price, shared over hours, rounds to a cent
		t.Errorf("at %s an hour pays %s, asked for %s", fixed, q.EarnsHour, hour)
	}
	shown(q.Price.String(), "as typed or stepped")
	// Back to what the job says.
	s.Press(d, "x")
	q = core.Reckon(thePlan.Costs[0], core.SettingsOf(thePlan.Job))
	shown(q.Price.String())
	if strings.Contains(view(s, d, 120, 60), "as typed") {
		t.Error("the fixed price stays")
	}
}

// Margin and markup of one price: changing the way changes no price, there and back.
func TestTheOtherWayKeepsThePrice(t *testing.T) {
	s, d := price.New(), exampleDesk(t, plain())
	big := func() string { return strings.TrimSpace(strings.Join(s.View(d, 50, 11)[1:2], "")) }
	was := big()
	for range 4 {
		s.Press(d, "m")
		if now := big(); now != was {
			t.Fatalf("the price was %s and is %s", was, now)
		}
	}
}

func ask(t *testing.T, out []station.Intent) station.Ask {
	t.Helper()
	if len(out) == 1 {
		if a, ok := out[0].(station.Ask); ok {
			return a
		}
	}
	t.Fatalf("no question but %v", out)
	return station.Ask{}
}

func TestATypedPrice(t *testing.T) {
	s, d := price.New(), exampleDesk(t, plain())
	a := ask(t, s.Press(d, "p"))
	for _, bad := range []string{"", "much", "-3", "1e9"} {
		if _, err := a.Done(bad); err == nil {
			t.Errorf("%q is taken as a price", bad)
		}
	}
	out, err := a.Done("100")
	if err != nil || len(out) != 1 || !out[0].(station.Say).Bad || !strings.Contains(out[0].(station.Say).Text, "the shop pays") {
		t.Errorf("at a price below the materials: %v %v", out, err)
	}
	if v := view(s, d, 80, 20); !strings.Contains(v, "100.00") || !strings.Contains(v, "the shop pays") {
		t.Error(v)
	}
	if f := s.Figures(d); len(f) == 0 || !strings.Contains(strings.Join(f, "\n"), "100") {
		t.Error("the working knows nothing of the typed price")
	}
	if _, err := ask(t, s.Press(d, "p")).Done("0"); err != nil {
		t.Error(err)
	}
}

// What was stepped goes into the job file with its comments, and reads back as the same settings.
func TestIntoTheJob(t *testing.T) {
	s, d := price.New(), exampleDesk(t, plain())
	for _, k := range s.Keys(d) {
		if k.Keys[0] == "w" && k.Off == "" {
			t.Error("nothing was stepped, and yet it may be written")
		}
	}
	if out := s.Press(d, "m"); out != nil {
		t.Fatal(out)
	}
	s.Press(d, "right")
	s.Press(d, "down")
	s.Press(d, "right")
	out := s.Press(d, "w")
	r, ok := out[0].(station.Rewrite)
	if !ok {
		t.Fatalf("%v", out)
	}
	for _, line := range []string{"# --- paint, hours, price", "# seen from the dock"} {
		if !strings.Contains(string(r.Text), line) {
			t.Errorf("the comment %q is gone", line)
		}
	}
	before, after := core.SettingsOf(thePlan.Job), core.SettingsOf(planned(t, r.Text, plan.Input{}).Job)
	if after.ByMargin == before.ByMargin || after.Rate != (before.Rate/10000+1)*10000 {
		t.Errorf("%+v became %+v", before, after)
	}
}

func TestWithoutAQuote(t *testing.T) {
	src := string(example.Job)
	src = src[:strings.Index(src, "# --- paint, hours, price")]
	p := planned(t, []byte(src), plan.Input{})
	d := exampleDesk(t, plain())
	d.Plan = p
	s := price.New()
	if v := view(s, d, 80, 40); !strings.Contains(v, "for what is bought") || !strings.Contains(v, "no [quote]") {
		t.Error(v)
	}
	for range 3 {
		for _, k := range []string{"left", "right", "down", "m", "x", "pgdown", "pgup", "up"} {
			s.Press(d, k)
			view(s, d, 80, 20)
		}
		s.Press(d, "space")
	}
}

func TestOldPricesAreMarked(t *testing.T) {
	src := strings.Replace(string(example.Job), `{length = "20ft", price = 27.80}`, `{length = "20ft", price = 27.80, date = 2026-05-01}`, 1)
	day, _ := book.ParseDay("2026-11-25")
	d := exampleDesk(t, plain())
	d.Plan = planned(t, []byte(src), plan.Input{Today: day})
	if v := view(price.New(), d, 120, 80); !strings.Contains(v, "OLD price: rail") || !strings.Contains(v, "208 days") {
		t.Error(v)
	}
}

func BenchmarkStepAndView(b *testing.B) {
	s, d := price.New(), exampleDesk(b, plain())
	for b.Loop() {
		s.Press(d, "right")
		s.Press(d, "left")
		s.View(d, 120, 36)
	}
}
