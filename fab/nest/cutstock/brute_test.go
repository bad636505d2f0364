package cutstock

import (
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"testing"
	"time"
)

// brute returns the least cost by trying every way to fill stick after stick; ok is false where there is none.
func brute(p Problem) (int64, bool) {
	var sizes []int64
	for _, it := range p.Items {
		for n := 0; n < it.Demand; n++ {
			sizes = append(sizes, it.Size)
		}
	}
	n := len(sizes)
	sum := make([]int64, 1<<n)
	for m := 1; m < 1<<n; m++ {
		for i := 0; i < n; i++ {
			if m>>i&1 != 0 {
				sum[m] = sum[m&^(1<<i)] + sizes[i]
				break
			}
		}
	}
	type key struct {
		mask int
		used [4]int8
	}
	const none = int64(1) << 62
	memo := map[key]int64{}
	var rec func(k key) int64
	rec = func(k key) int64 {
		if k.mask == 1<<n-1 {
			return 0
		}
		if v, ok := memo[k]; ok {
			return v
		}
		best := none
		i := 0
		for k.mask>>i&1 != 0 {
			i++
		}
		rest := (1<<n - 1) &^ k.mask &^ (1 << i)
		for s, st := range p.Stocks {
			if st.Limit >= 0 && int(k.used[s]) >= st.Limit {
				continue
			}
			for sub := rest; ; sub = (sub - 1) & rest {
				if sum[sub|1<<i] <= st.Length {
					nk := key{k.mask | sub | 1<<i, k.used}
					if st.Limit >= 0 {
						nk.used[s]++
					}
					if v := rec(nk); v < none {
						best = min(best, v+st.Cost)
					}
				}
				if sub == 0 {
					break
				}
			}
		}
		memo[k] = best
		return best
	}
	v := rec(key{})
	return v, v < none
}

// small is a random problem that brute can solve, with all features mixed.
func small(r *rand.Rand) Problem {
	var p Problem
	most := int64(6 + r.IntN(60))
	if r.IntN(4) == 0 {
		most *= 1_000_003
	}
	ns := 1 + r.IntN(3)
	for k := 0; k < ns; k++ {
		s := Stock{Length: most/3 + r.Int64N(most), Cost: int64(r.IntN(12)), Limit: -1}
		if r.IntN(3) == 0 {
			s.Cost = s.Length
		}
		if r.IntN(3) == 0 {
			s.Limit = r.IntN(4)
		}
		p.Stocks = append(p.Stocks, s)
	}
	n := 1 + r.IntN(8)
	unit := 1 + r.Int64N(max(1, most/8))
	for n > 0 {
		d := 1 + r.IntN(min(n, 3))
		size := 1 + r.Int64N(most)
		switch r.IntN(3) {
		case 0:
			size = 1 + r.Int64N(max(1, most/3))
		case 1:
			size = max(1, size/unit) * unit
		}
		p.Items = append(p.Items, Item{size, d})
		n -= d
	}
	return p
}

// bins is a random single-stock problem with little waste, where rounding up the LP bound is most often put to the test.
func bins(r *rand.Rand) Problem {
	w := int64(20 + r.IntN(80))
	p := Problem{Stocks: []Stock{{w, 1, -1}}}
	for n := 3 + r.IntN(6); n > 0; n-- {
		p.Items = append(p.Items, Item{w/6 + r.Int64N(w/2), 1})
	}
	return p
}

func TestAgainstBruteForce(t *testing.T) {
	count := 3000
	if os.Getenv("SOAK") != "" {
		count = 20000
	}
	r := rand.New(rand.NewPCG(20, 26))
	seen := map[string]int{}
	for n := 0; n < count; n++ {
		if os.Getenv("TRACE") != "" {
			println(n)
		}
		p := small(r)
		if n%5 == 4 {
			p = bins(r)
		}
		want, ok := brute(p)
		ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
		last := Answer{Bound: -1}
		a, err := Solve(ctx, p, Options{Progress: func(a Answer) {
			if err := Verify(p, a); err != nil {
				t.Fatalf("case %d: progress: %v", n, err)
			}
			if ok && (a.Bound > want || a.Cost < want) {
				t.Fatalf("case %d: progress says %d <= optimum <= %d, it is %d\n%+v", n, a.Bound, a.Cost, want, p)
			}
			if a.Bound < last.Bound || last.Bound >= 0 && a.Cost > last.Cost {
				t.Fatalf("case %d: progress went backwards", n)
			}
			last = a
		}})
		cancel()
		var ie *ItemError
		switch {
		case errors.As(err, &ie):
			if ok {
				t.Fatalf("case %d: %v, but there is a plan of %d\n%+v", n, err, want, p)
			}
			seen["too long"]++
		case errors.Is(err, ErrInfeasible):
			if ok {
				t.Fatalf("case %d: called infeasible, but there is a plan of %d\n%+v", n, want, p)
			}
			seen["infeasible"]++
		case err != nil && os.Getenv("LOOSE") != "":
			seen["open"]++
		case err != nil:
			t.Fatalf("case %d: %v (optimum %d, %v)\n%+v", n, err, want, ok, p)
		case !ok:
			t.Fatalf("case %d: a plan where there is none\n%+v", n, p)
		case a.Bound > want || a.Cost < want:
			t.Fatalf("case %d: %d <= optimum <= %d, it is %d\n%+v", n, a.Bound, a.Cost, want, p)
		case !a.Proven && os.Getenv("LOOSE") != "":
			seen["open"]++
		case !a.Proven:
			t.Fatalf("case %d: %d not proved, bound %d, optimum %d\n%+v", n, a.Cost, a.Bound, want, p)
		default:
			seen["proved"]++
			if a.Nodes > 0 {
				seen["by the tree"]++
			}
			if a.Rounds > 0 {
				seen["by columns"]++
			}
			atMost(t, n, p, want)
		}
	}
	t.Log(seen)
	if seen["proved"] < count/2 || seen["infeasible"] < count/50 {
		t.Fatalf("the cases are one-sided: %v", seen)
	}
}

// atMost asks for a plan of the optimum, and for one below it.
func atMost(t *testing.T, n int, p Problem, want int64) {
	t.Helper()
	if want > 0 {
		// Where the numbers are great the answer may stay open, but it is never wrong.
		if a, err := Solve(context.Background(), p, Options{Most: want}); err != nil && !errors.Is(err, ErrNotFound) || err == nil && a.Cost != want {
			t.Fatalf("case %d: no plan of %d: %d, %v\n%+v", n, want, a.Cost, err, p)
		}
	}
	if want > 1 {
		if a, err := Solve(context.Background(), p, Options{Most: want - 1}); !errors.Is(err, ErrDear) && !(errors.Is(err, ErrNotFound) && want > 1<<20) {
			t.Fatalf("case %d: a plan of less than %d: %d, %v\n%+v", n, want, a.Cost, err, p)
		}
	}
}
