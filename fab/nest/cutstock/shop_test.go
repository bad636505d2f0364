package cutstock

import (
	"context"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"
)

// shopJob is a random job of the size a small shop has: 20 to 120 pieces of 5 to 25 kinds, three stick lengths with
// prices, a few drops on hand that cost nothing; lengths in 1/16 in with a kerf of 1/16 in.
func shopJob(seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 99))
	const kerf = 1
	per := 0.9 + 0.4*r.Float64()
	p := Problem{Stocks: []Stock{
		{20*192 + kerf, int64(2000 * per * (0.95 + 0.1*r.Float64())), -1},
		{24*192 + kerf, int64(2400 * per * (0.95 + 0.1*r.Float64())), -1},
		{40*192 + kerf, int64(4000 * per * (0.90 + 0.1*r.Float64())), -1},
	}}
	for n := r.IntN(5); n > 0; n-- {
		p.Stocks = append(p.Stocks, Stock{int64(400+16*r.IntN(120)) + kerf, 0, 1 + r.IntN(2)})
	}
	pieces := 20 + r.IntN(101)
	for kinds := 5 + r.IntN(21); kinds > 0; kinds-- {
		d := max(1, pieces/(kinds+r.IntN(kinds)))
		if kinds == 1 {
			d = max(1, pieces)
		}
		if pieces -= d; pieces < 0 {
			break
		}
		p.Items = append(p.Items, Item{int64(12*16+8*r.IntN(200)) + kerf, d})
	}
	return p
}

func TestShopJobs(t *testing.T) {
	count := 40
	if os.Getenv("SOAK") != "" {
		count = 400
	}
	var took []time.Duration
	for seed := 0; seed < count; seed++ {
		p := shopJob(uint64(seed))
		ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
		t0 := time.Now()
		a, err := Solve(ctx, p, Options{})
		d := time.Since(t0)
		cancel()
		if err != nil {
			t.Fatalf("job %d: %v", seed, err)
		}
		if !a.Proven {
			t.Errorf("job %d: %d not proved, bound %d", seed, a.Cost, a.Bound)
		}
		if d > 200*time.Millisecond {
			t.Logf("job %d: %v, nodes %d rounds %d", seed, d, a.Nodes, a.Rounds)
		}
		took = append(took, d)
	}
	slices.Sort(took)
	t.Logf("median %v, 95 %% %v, most %v", took[len(took)/2], took[len(took)*95/100], took[len(took)-1])
}
