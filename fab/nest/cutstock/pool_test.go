package cutstock

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
)

// every returns all fillings of stock 0 that every view admits.
func every(in *inst, views []view) (out [][]take) {
	var cur []take
	var from func(k int, room int64)
	from = func(k int, room int64) {
		if k == len(in.size) {
			if len(cur) == 0 || !in.fits(0, cur) {
				return
			}
			for _, w := range views {
				var v int64
				for _, t := range cur {
					v += w.val[t.k] * int64(t.n)
				}
				if v < w.least {
					return
				}
			}
			out = append(out, slices.Clone(cur))
			return
		}
		from(k+1, room)
		for n := int32(1); n <= in.dem[k] && int64(n)*in.size[k] <= room; n++ {
			cur = append(cur, take{int32(k), n})
			from(k+1, room-int64(n)*in.size[k])
			cur = cur[:len(cur)-1]
		}
	}
	from(0, in.stocks[0].cap)
	return out
}

// Lengths too wide for a table are listed under the bounds of a coarse one: no filling may be dropped, none be one too many.
func TestPoolWide(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 14))
	listed, conflicts := 0, 0
	for n := 0; n < 30; n++ {
		in := &inst{}
		wide := int64(50_000_000 + r.IntN(100_000_000))
		for k := 2 + r.IntN(7); k > 0; k-- {
			size := wide/12 + r.Int64N(wide/2)
			switch r.IntN(4) {
			case 0:
				size = 1 + r.Int64N(20_000) // about a step of the coarse table
			case 1:
				size = wide / int64(2+r.IntN(4)) // fills the stick to the last step
			}
			in.size = append(in.size, size)
		}
		slices.SortFunc(in.size, func(a, b int64) int { return int(b - a) })
		in.size = slices.Compact(in.size)
		for k := range in.size {
			in.dem = append(in.dem, int32(1+r.IntN(3)))
			in.parts = append(in.parts, []take{{int32(k), 1}})
		}
		in.stocks = []bin{{wide, 1, 0, 40, true}}
		if len(in.size) > 2 && n%3 == 0 {
			in.conf = in.apart(0, int32(len(in.size)-1)).in.conf
			conflicts++
		}
		// Sizes are values too: then the fullest stick is the best, and the bounds have least to spare.
		views := []view{{val: make([]int64, len(in.size))}, {val: slices.Clone(in.size)}}
		for k := range in.size {
			views[0].val[k] = in.size[k]/1000 + r.Int64N(1000)
			if n%2 == 0 {
				views[1].val[k] = views[0].val[k]
			}
		}
		all := every(in, nil)
		for i, w := range views {
			var worth []int64
			for _, takes := range all {
				var v int64
				for _, t := range takes {
					v += w.val[t.k] * int64(t.n)
				}
				worth = append(worth, v)
			}
			slices.Sort(worth)
			// The last view leads the search; it is the tight one.
			views[i].least = worth[max(0, len(worth)-1-r.IntN(20*(2-i)))]
		}
		m := newMaster(in)
		m.pr.load(in, views[1].val, in.dem, true)
		if m.pr.tabular() {
			t.Fatal("a table fits: the coarse one is not put to the test")
		}
		got, ok := m.pool(context.Background(), views, 100000)
		if !ok {
			t.Fatalf("case %d: not listed", n)
		}
		for _, g := range got {
			slices.SortFunc(g, func(a, b take) int { return int(a.k - b.k) })
		}
		order := func(a, b []take) int {
			return slices.CompareFunc(a, b, func(x, y take) int {
				if x.k != y.k {
					return int(x.k - y.k)
				}
				return int(x.n - y.n)
			})
		}
		want := every(in, views)
		slices.SortFunc(got, order)
		slices.SortFunc(want, order)
		if !slices.EqualFunc(got, want, func(a, b []take) bool { return order(a, b) == 0 }) {
			t.Fatalf("case %d: listed %v, there are %v\n%+v %+v", n, got, want, in, views)
		}
		listed += len(got)
	}
	if listed < 100 || conflicts < 5 {
		t.Fatalf("one-sided: %d listed, %d with conflicts", listed, conflicts)
	}
}
