package cutstock

import (
	"math/rand/v2"
	"testing"
)

// The value table is held against a plain one that adds a piece at a time.
func TestTableAgainstPlain(t *testing.T) {
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 8))
		in := &inst{stocks: []bin{{cap: int64(60 + r.IntN(200)), hi: 5}, {cap: int64(30 + r.IntN(30)), hi: 5}}}
		var pi []int64
		size := int64(50)
		for range 1 + r.IntN(6) {
			if size -= int64(1 + r.IntN(8)); size <= 0 {
				break
			}
			in.size = append(in.size, size)
			in.dem = append(in.dem, int32(1+r.IntN(12)))
			pi = append(pi, int64(1+r.IntN(90)))
		}
		var p pricer
		p.load(in, pi, in.dem, false)
		if !p.tabular() {
			t.Fatalf("seed %d: no table", seed)
		}
		plain := make([]int64, in.stocks[0].cap+1)
		for k, s := range in.size {
			for range in.dem[k] {
				for x := len(plain) - 1; x >= int(s); x-- {
					plain[x] = max(plain[x], plain[x-int(s)]+pi[k])
				}
			}
		}
		for _, b := range in.stocks {
			if got := int64(p.tab[b.cap]); got != plain[b.cap] {
				t.Errorf("seed %d: %d within %d, plainly %d", seed, got, b.cap, plain[b.cap])
			}
			p.buf = p.buf[:0]
			p.trace(0, b.cap)
			var sum, worth int64
			for _, q := range p.buf {
				sum += int64(q.n) * in.size[q.k]
				worth += int64(q.n) * pi[q.k]
				if q.n > in.dem[q.k] {
					t.Errorf("seed %d: %d of %d pieces", seed, q.n, in.dem[q.k])
				}
			}
			if sum > b.cap || worth != plain[b.cap] {
				t.Errorf("seed %d: the filling is %d long of %d and worth %d of %d", seed, sum, b.cap, worth, plain[b.cap])
			}
		}
	}
}
