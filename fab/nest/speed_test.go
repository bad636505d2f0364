package nest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"syscall"
	"testing"
	"time"

	"bench.example/soapstone/fab/measure"
)

// spent is the processor time of this process: the wall clock of a shared machine tells of its neighbours.
func spent() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// shopJob is a square job of a small shop: 20 to 120 pieces of 5 to 25 kinds on the 1/16 in, three priced lengths, one of
// them perhaps limited, up to four sorts of drops on hand; half of the jobs keep drops and trim their sticks.
func shopJob(seed uint64) Problem {
	const sixteenth = measure.Inch / 16
	r := rand.New(rand.NewPCG(seed, 99))
	per := 1.4 + 0.6*r.Float64()
	price := func(feet, off float64) measure.Money {
		return measure.Money(feet*per*off*100) * measure.Cent
	}
	p := Problem{Rules: Rules{Kerf: sixteenth}, Sticks: []Stick{
		{Length: 20 * measure.Foot, Price: price(20, 0.95+0.1*r.Float64())},
		{Length: 24 * measure.Foot, Price: price(24, 0.95+0.1*r.Float64())},
		{Length: 40 * measure.Foot, Price: price(40, 0.90+0.1*r.Float64())},
	}}
	if r.IntN(3) == 0 {
		p.Sticks[r.IntN(3)].Limit = 1 + r.IntN(3)
	}
	for n := r.IntN(5); n > 0; n-- {
		p.Sticks = append(p.Sticks, Stick{Length: measure.Length(400+16*r.IntN(120)) * sixteenth, OnHand: true, Limit: 1 + r.IntN(2)})
	}
	if r.IntN(2) == 0 {
		p.Rules.Keep = 12 * measure.Inch
		p.Rules.Trim, p.Rules.TrimEnd = measure.Inch/2, measure.Inch/2
	}
	pieces := 20 + r.IntN(101)
	for kinds := 5 + r.IntN(21); kinds > 0 && pieces > 0; kinds-- {
		d := max(1, pieces/(kinds+r.IntN(kinds)))
		if kinds == 1 {
			d = pieces
		}
		pieces -= d
		p.Kinds = append(p.Kinds, Kind{Length: measure.Length(12*16+8*r.IntN(200)) * sixteenth, Qty: d})
	}
	return p
}

type run struct {
	seed      uint64
	cpu, wall time.Duration
	first     time.Duration // until there was a nest
	proof     time.Duration // until its cost was proven (processor time)
	n         Nest
}

func spread(t testing.TB, runs []run) {
	t.Helper()
	proven, material, longest := 0, 0, 0
	for _, r := range runs {
		if r.n.Proven {
			proven++
		}
		if r.n.Material.Proven {
			material++
		}
		if r.n.Longest.Proven {
			longest++
		}
	}
	slices.SortFunc(runs, func(a, b run) int { return int(a.cpu - b.cpu) })
	at := func(share int) run { return runs[min(len(runs)-1, len(runs)*share/100)] }
	for _, x := range []struct {
		what string
		of   func(run) time.Duration
	}{{"first nest", func(r run) time.Duration { return r.first }}, {"cost proven", func(r run) time.Duration { return r.proof }}} {
		var ds []time.Duration
		for _, r := range runs {
			ds = append(ds, x.of(r))
		}
		slices.Sort(ds)
		t.Logf("%s after: median %v, 95 %% %v, most %v", x.what, ds[len(ds)/2], ds[len(ds)*95/100], ds[len(ds)-1])
	}
	t.Logf("%d jobs: cost proven %d, material %d, longest drop %d; processor time median %v, 95 %% %v, most %v (seed %d); wall median %v",
		len(runs), proven, material, longest, at(50).cpu, at(95).cpu, at(100).cpu, at(100).seed, at(50).wall)
	for i := len(runs) - 1; i >= max(0, len(runs)-8); i-- {
		t.Logf("  seed %d: %v cpu, %v wall; cost %v material %v drop %v", runs[i].seed, runs[i].cpu, runs[i].wall, runs[i].n.Proven, runs[i].n.Material.Proven, runs[i].n.Longest.Proven)
	}
}

func timed(t testing.TB, seed uint64, p Problem) run {
	r := run{seed: seed}
	c, w := spent(), time.Now()
	n, err := Solve(context.Background(), p, Options{Progress: func(n Nest) {
		if r.first == 0 {
			r.first = max(1, spent()-c)
		}
		if n.Proven && r.proof == 0 {
			r.proof = spent() - c
		}
	}})
	r.cpu, r.wall, r.n = spent()-c, time.Since(w), n
	if err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	for _, f := range faults(&p, &n) {
		t.Errorf("seed %d: %s", seed, f)
	}
	if r.proof == 0 {
		r.proof = r.cpu
	}
	if r.cpu > 200*time.Millisecond && os.Getenv("SOAK") != "" {
		fmt.Printf("seed %d: %v cpu, %v wall; cost %v material %v drop %v\n", seed, r.cpu, r.wall, n.Proven, n.Material.Proven, n.Longest.Proven)
	}
	return r
}

// TestShopSpeed and TestMitred60 measure; the figures are in cutstock/RESULTS.md.
func TestShopSpeed(t *testing.T) {
	if os.Getenv("SOAK") == "" {
		t.Skip("SOAK is not set")
	}
	var runs []run
	for seed := range uint64(400) {
		runs = append(runs, timed(t, seed, shopJob(seed)))
	}
	spread(t, runs)
}

func TestMitred60(t *testing.T) {
	if os.Getenv("SOAK") == "" {
		t.Skip("SOAK is not set")
	}
	for _, set := range []uint64{60, 61} {
		var runs []run
		for seed := range uint64(100) {
			runs = append(runs, timed(t, seed, *mitredJob(rand.New(rand.NewPCG(seed, set)), 60)))
		}
		t.Logf("set %d", set)
		spread(t, runs)
	}
}
