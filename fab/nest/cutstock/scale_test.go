package cutstock

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"testing"
	"time"
)

// scaled job: kinds of random length in 1/16 in, so many pieces in all, two priced stick lengths.
func job(kinds, pieces int, seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 1))
	p := Problem{Stocks: []Stock{{3841, 3450, -1}, {4609, 4100, -1}}}
	for i := 0; i < kinds; i++ {
		d := pieces / kinds
		if i < pieces%kinds {
			d++
		}
		p.Items = append(p.Items, Item{int64(96 + r.IntN(2400)), d})
	}
	return p
}

// TestScaling prints the table of RESULTS.md; SOAK=1 runs it.
func TestScaling(t *testing.T) {
	if os.Getenv("SOAK") == "" {
		t.Skip("SOAK=1 runs it")
	}
	for _, c := range [][2]int{{10, 100}, {30, 100}, {100, 1000}, {100, 10000}, {100, 100000}, {300, 3000}, {1000, 10000}, {1000, 100000}, {5000, 100000}} {
		p := job(c[0], c[1], 7)
		ctx, cancel := context.WithTimeout(context.Background(), 60*time.Second)
		var m0, m1 runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m0)
		t0 := time.Now()
		var first time.Duration
		a, err := Solve(ctx, p, Options{Progress: func(Answer) {
			if first == 0 {
				first = time.Since(t0)
			}
		}})
		d := time.Since(t0)
		runtime.ReadMemStats(&m1)
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		fmt.Printf("| %d | %d | %.3f | %.3f | %v | %.4f%% | %d |\n", c[1], c[0], first.Seconds(), d.Seconds(), a.Proven,
			100*float64(a.Cost-a.Bound)/float64(a.Cost), (m1.Sys-m0.Sys)>>20)
	}
}
