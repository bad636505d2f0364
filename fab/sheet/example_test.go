package sheet_test

import (
	"fmt"

	"bench.example/soapstone/fab/sheet"
)

// A name that a spreadsheet would take for a formula goes into a cell as the text that it is.
func ExampleCell() {
	fmt.Println(sheet.Cell("north rail"))
	fmt.Println(sheet.Cell("=1+2"))
	// Output:
	// north rail
	// '=1+2
}
