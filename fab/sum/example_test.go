package sum_test

import (
	"fmt"

	"bench.example/soapstone/fab/sum"
)

// The diagonal of a 96 x 48 frame, with its working.
func ExampleSum_Call() {
	s, err := sum.Find("diagonal")
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := s.Call([]string{"length=96", "width=48"}, sum.Tables{}, "", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range r.Figures {
		fmt.Println(f.Working())
	}
	// Output:
	// diagonal when square = 2726.21 mm
	//   formula     sqrt(l^2 + w^2)
	//   l           2438.4 mm  length  [as asked]
	//   w           1219.2 mm  width  [as asked]
	//   source      Pythagoras
}
