package lp_test

import (
	"context"
	"fmt"

	"bench.example/soapstone/fab/nest/lp"
)

// Six pieces of one length, two or three on a stick: the least number of sticks as a linear program, and what one more
// piece would cost.
func ExampleLP_Solve() {
	var p lp.LP
	row := p.AddRow(lp.GE, 6)
	for _, pieces := range []float64{2, 3} {
		if _, err := p.AddCol(1, []int32{int32(row)}, []float64{pieces}); err != nil {
			fmt.Println(err)
			return
		}
	}
	fmt.Println(p.Solve(context.Background()) == lp.Optimal, p.Value())
	fmt.Printf("dual %.4f\n", p.Dual(row))
	// Output:
	// true 2
	// dual 0.3333
}
