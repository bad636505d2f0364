package bench

import (
	"fmt"
	"sort"
	"testing"
	"time"

	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/record"
)

// large is a job of 10,000 pieces on some 500 sticks, half of them cut.
func large(t testing.TB) *driver {
	text := "title = \"Large\"\n[section.rail]\nshape = \"rect-tube\"\nsize = \"2 x 1 x 14ga\"\nsticks = [{length = \"20ft\", price = 27.8}]\n[saw]\nkerf = \"1/16\"\n"
	for i := range 10 {
		text += fmt.Sprintf("[[piece]]\nsection = \"rail\"\nlength = \"%dmm\"\nqty = 1000\n", 270+3*i)
	}
	text += "[[rectangle]]\nname = \"lower\"\nsection = \"rail\"\nlength = \"96in\"\nwidth = \"44in\"\n[[crossbars]]\non = \"lower\"\nsection = \"rail\"\ncount = 40\n"
	text += "[welder]\nprocess = \"GMAW\"\namps = 96\nvolts = 17.5\nduty = \"20% at 148A\"\ntravel = \"13ipm\"\nfillet = \"1/8\"\n"
	d := &driver{t: t, journal: &memory{}, file: &file{data: []byte(text)}, now: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC), build: quickly()}
	d.start(termenv.TrueColor, true, stations()...)
	d.size(120, 40)
	p := d.m.desk.Plan
	if p == nil || p.Failed() {
		t.Fatalf("no plan: %v", d.m.problems)
	}
	n := 0
	for i := range p.Queue.Steps {
		s := &p.Queue.Steps[i]
		if s.Mark == "" || n >= 5000 {
			continue
		}
		n++
		payload, err := work.Encode(work.Cut{Mark: s.Mark, Unit: s.Unit, Stick: p.StickName(s.Bundle, s.Used), From: s.From, To: s.To})
		if err != nil {
			t.Fatal(err)
		}
		d.journal.entries = append(d.journal.entries, record.Entry{Seq: uint64(n), At: int64(n), ID: record.ID{Writer: 9, Number: uint64(n)}, Payload: payload})
	}
	d.journal.given = 0
	news, _ := d.journal.Poll()
	d.m.take(news)
	return d
}

// BenchmarkKeyToScreen measures a key to its painted screen in each station: Update, and View as the library asks for it.
func BenchmarkKeyToScreen(b *testing.B) {
	d := large(b)
	for i, s := range d.m.cfg.Stations {
		b.Run(s.Name(), func(b *testing.B) {
			d.press(fmt.Sprint(i + 1))
			var took []time.Duration
			for b.Loop() {
				start := time.Now()
				d.m.Update(keyMsg([]string{"down", "up"}[len(took)%2]))
				d.m.View()
				took = append(took, time.Since(start))
			}
			p99(b, took)
		})
	}
	b.Run("cut", func(b *testing.B) { // an entry goes to the record and comes back
		d.press("4")
		var took []time.Duration
		for b.Loop() {
			start := time.Now()
			d.press("space")
			d.m.View()
			took = append(took, time.Since(start))
		}
		p99(b, took)
	})
}

func p99(b *testing.B, took []time.Duration) {
	sort.Slice(took, func(i, j int) bool { return took[i] < took[j] })
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds())/1000, "ms-p99")
}

// TestLargeJobKeepsUp is the same with a wide margin, so that a view that walks everything is noticed at once.
func TestLargeJobKeepsUp(t *testing.T) {
	d := large(t)
	if n := len(d.m.desk.Plan.Queue.Steps); n < 10000 {
		t.Fatalf("only %d steps", n)
	}
	for i, s := range d.m.cfg.Stations {
		d.press(fmt.Sprint(i + 1))
		best := time.Hour
		for range 5 {
			start := time.Now()
			d.m.Update(keyMsg("down"))
			d.m.View()
			best = min(best, time.Since(start))
		}
		if best > 50*time.Millisecond {
			t.Errorf("%s takes %v from a key to its screen", s.Name(), best)
		}
	}
}
