package cutstock

import (
	"context"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"
)

// Shop jobs in nanometres without a common divisor: no table is narrow enough, the knapsacks are searched.
func TestShopJobsFine(t *testing.T) {
	var took []time.Duration
	count := uint64(10)
	if os.Getenv("SOAK") != "" {
		count = 100
	}
	for seed := range count {
		p := shopJob(seed)
		r := rand.New(rand.NewPCG(seed, 5))
		for i := range p.Items {
			p.Items[i].Size = p.Items[i].Size*1_587_500 + r.Int64N(500_000)
		}
		for i := range p.Stocks {
			p.Stocks[i].Length *= 1_587_500
		}
		ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
		t0 := time.Now()
		a, err := Solve(ctx, p, Options{})
		took = append(took, time.Since(t0))
		cancel()
		if err != nil {
			t.Fatalf("job %d: %v", seed, err)
		}
		if took[len(took)-1] > 200*time.Millisecond {
			t.Logf("job %d: %v nodes %d rounds %d pieces %d", seed, took[len(took)-1], a.Nodes, a.Rounds, len(p.Items))
		}
		if !a.Proven {
			t.Errorf("job %d: %d not proved, bound %d", seed, a.Cost, a.Bound)
		}
	}
	slices.Sort(took)
	t.Logf("median %v, most %v", took[len(took)/2], took[len(took)-1])
}
