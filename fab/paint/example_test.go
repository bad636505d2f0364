package paint_test

import (
	"fmt"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/paint"
)

// How far a litre goes, and the cheapest cans for what is needed.
func ExampleCans() {
	coverage := paint.Coverage(0.50, 0.0381, 0) // half solids, 1.5 mil dry
	fmt.Printf("%.1f %s\n", coverage.Value, coverage.Unit)
	buy, best := paint.Cans(5.1, []job.Can{{Size: "1qt", Litres: 0.946, Price: 1990 * measure.Cent, Priced: true}, {Size: "1gal", Litres: 3.785, Price: 5400 * measure.Cent, Priced: true}})
	var sum measure.Money
	for _, b := range buy {
		fmt.Println(b.Qty, "x", b.Size)
		sum += b.Cost
	}
	fmt.Println(sum, best)
	// Output:
	// 13.1 m2/l
	// 1 x 1gal
	// 2 x 1qt
	// 93.80 true
}
