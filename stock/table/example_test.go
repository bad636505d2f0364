package table_test

import (
	"fmt"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/stock/table"
)

// The catalogue turns a size as the yard names it into a section.
func ExampleSteel() {
	s, err := steel.New(steel.Spec{Shape: steel.RectTube, Size: "2 x 1 x 14ga", Unit: measure.In}, table.Steel())
	fmt.Println(s.Grade.Name, err)
	// Output:
	// A513 <nil>
}
