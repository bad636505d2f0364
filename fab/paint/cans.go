package paint

import (
	"math"
	"sort"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
)

// mostML bounds the table of the search for cans: half a cubic metre of paint by the millilitre.
const mostML = 500_000

// Cans gives the cheapest set of whole cans that holds so many litres; of equal ones the one with the least left over, then
// with the fewest cans. Without prices litres count as money. The second result tells that no other set costs less: it is
// false only where more than 500 l are bought, of which the bulk comes in the can that is cheapest by the litre.
func Cans(litres float64, sizes []job.Can) ([]Buy, bool) {
	if len(sizes) == 0 || !(litres > 0) {
		return nil, true
	}
	need := int(math.Ceil(litres*1000 - 1e-6))
	priced := true
	for _, c := range sizes {
		priced = priced && c.Priced
	}
	ml := make([]int, len(sizes))
	price := make([]int64, len(sizes))
	best := 0
	for i, c := range sizes {
		ml[i] = max(1, int(math.Round(c.Litres*1000)))
		price[i] = int64(c.Price)
		if !priced {
			price[i] = int64(ml[i])
		}
		if float64(price[i])/float64(ml[i]) < float64(price[best])/float64(ml[best]) {
			best = i
		}
	}
	count := make([]int, len(sizes))
	exact := need <= mostML
	if !exact {
		count[best] = (need - mostML + ml[best] - 1) / ml[best]
		need -= count[best] * ml[best]
	}
	type cell struct {
		cost  int64
		held  int // ml bought
		cans  int
		first int // size taken last
	}
	better := func(a, b cell) bool {
		if a.cost != b.cost {
			return a.cost < b.cost
		}
		if a.held != b.held {
			return a.held < b.held
		}
		return a.cans < b.cans
	}
	table := make([]cell, max(need, 0)+1) // table[v]: the best set that holds at least v
	for v := 1; v < len(table); v++ {
		table[v] = cell{cost: math.MaxInt64}
		for i := range sizes {
			rest := table[max(0, v-ml[i])]
			c := cell{rest.cost + price[i], rest.held + ml[i], rest.cans + 1, i}
			if better(c, table[v]) {
				table[v] = c
			}
		}
	}
	for v := len(table) - 1; v > 0; {
		i := table[v].first
		count[i]++
		v = max(0, v-ml[i])
	}
	var out []Buy
	for i, n := range count {
		if n > 0 {
			out = append(out, Buy{Size: sizes[i].Size, Litres: sizes[i].Litres, Qty: n, Price: sizes[i].Price, Cost: sizes[i].Price * measure.Money(n)})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Litres > out[j].Litres })
	return out, exact
}
