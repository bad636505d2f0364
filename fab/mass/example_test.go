package mass_test

import (
	"fmt"

	"bench.example/soapstone/fab/mass"
	"bench.example/soapstone/fab/space"
)

// A frame of 100 kg on four legs, its centre of mass a quarter of the length from one end.
func ExampleShares() {
	shares, ok := mass.Shares(100, space.Vec{X: 500, Y: 300}, []space.Vec{{}, {X: 2000}, {Y: 600}, {X: 2000, Y: 600}})
	fmt.Println(ok)
	for _, s := range shares {
		fmt.Printf("%.1f N\n", s.N)
	}
	// Output:
	// true
	// 367.7 N
	// 122.6 N
	// 367.7 N
	// 122.6 N
}
