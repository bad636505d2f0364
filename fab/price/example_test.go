package price_test

import (
	"fmt"

	"bench.example/soapstone/fab/price"
)

// A third on the cost is a quarter of the price: markup and margin are two shares of two things.
func ExampleByMargin() {
	byMargin, err := price.ByMargin(300, 0.25)
	fmt.Println(byMargin.Value, err)
	fmt.Printf("%.4f\n", price.MarkupOf(0.25).Value)
	// Output:
	// 400 <nil>
	// 0.3333
}
