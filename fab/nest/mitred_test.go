package nest

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"
)

// mitredJob makes a job of frames as a shop builds them: mitred and butted pieces over a few angles, faces and symmetries,
// two stick lengths, the saw's rules.
func mitredJob(rng *rand.Rand, pieces int) *Problem {
	p := &Problem{Rules: Rules{Kerf: inches(0.0625), Depth: inches(2.5), Width: inches(1.5), Trim: inches(0.5), Keep: inches(12), Grip: inches(3)}}
	if rng.IntN(2) == 0 {
		p.Rules.Keep, p.Rules.Trim = 0, 0
	}
	sym := []Symmetry{Rectangular, Rectangular, Channel, Handed, Quarter}[rng.IntN(5)]
	if sym == Quarter {
		p.Rules.Width = p.Rules.Depth
	}
	p.Sticks = []Stick{{Length: inches(240), Price: 34_5000}}
	if rng.IntN(2) == 0 {
		p.Sticks = append(p.Sticks, Stick{Length: inches(288), Price: 41_0000, Limit: rng.IntN(3)})
	}
	if rng.IntN(3) == 0 {
		p.Sticks = append(p.Sticks, Stick{Length: inches(61.25), OnHand: true, Limit: 2, Ends: LaysOf(45, 0, Depth, sym)})
	}
	angles := []float64{45, 45, 0, 22.5, 30, -45}
	for left := pieces; left > 0; {
		k := Kind{Qty: min(left, 1+rng.IntN(6)), Length: inches(8 + float64(rng.IntN(1400))/16)}
		face := Depth
		if rng.IntN(4) == 0 {
			face = Width
		}
		k.Lays = LaysOf(angles[rng.IntN(6)], angles[rng.IntN(6)], face, sym)
		if rng.IntN(10) == 0 {
			k.Lays = LaysOfPlanes(PlaneOf(0.4, 0.2), PlaneOf(-0.4, 0.2), face, sym)
		}
		left -= k.Qty
		p.Kinds = append(p.Kinds, k)
	}
	return p
}

// TestRandomMitredJobs draws the nest of every job and looks for overlap, pieces off the stick, missing pieces.
func TestRandomMitredJobs(t *testing.T) {
	proven, material, longest := 0, 0, 0
	jobs := soak(300, 10000)
	var most time.Duration
	for seed := range jobs {
		rng := rand.New(rand.NewPCG(uint64(seed), 3))
		p := mitredJob(rng, 3+rng.IntN(14))
		start := time.Now()
		n, err := Solve(context.Background(), *p, Options{})
		most = max(most, time.Since(start))
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for _, f := range faults(p, &n) {
			t.Errorf("seed %d: %s", seed, f)
		}
		if n.Proven {
			proven++
		}
		if n.Material.Proven {
			material++
		}
		if n.Longest.Proven {
			longest++
		}
	}
	t.Logf("%d jobs: cost proven %d, material %d, longest drop %d; the slowest took %v", jobs, proven, material, longest, most)
}

func BenchmarkMitreCases(b *testing.B) {
	cases := mitreCases(b)
	for b.Loop() {
		for _, c := range cases {
			if _, err := Solve(context.Background(), c.p, Options{}); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(cases)), "µs/case")
}

func BenchmarkShopCases(b *testing.B) {
	for _, c := range shopCases(b) {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if n, err := Solve(context.Background(), c.p, Options{}); err != nil || !n.Proven {
					b.Fatal(err, n.Proven)
				}
			}
		})
	}
}

// BenchmarkMitred60 nests 60 mitred pieces.
func BenchmarkMitred60(b *testing.B) {
	for b.Loop() {
		proven := 0
		for seed := range 10 {
			n, err := Solve(context.Background(), *mitredJob(rand.New(rand.NewPCG(uint64(seed), 60)), 60), Options{})
			if err != nil {
				b.Fatal(err)
			}
			if n.Proven {
				proven++
			}
		}
		b.ReportMetric(float64(proven), "proven/10")
	}
}
