package seam_test

import (
	"fmt"

	"bench.example/soapstone/fab/seam"
)

// The least fillet on a 3/8 in plate, with the table that says so.
func ExampleMinLeg() {
	f := seam.MinLeg(9.525, 0, true)
	fmt.Printf("%.2f %s (%s)\n", f.Value, f.Unit, f.Source)
	// Output:
	// 4.76 mm (AISC 360-22 Table J2.4; AWS D1.1:2020 Table 7.7)
}

// A 1/8 in fillet over a gap of 3 mm: the leg that it needs, and the weld metal in its cross-section.
func ExampleFilletGap() {
	leg, err := seam.FilletGap(3.175, 3)
	fmt.Printf("leg %.3f mm %v: %.2f mm2, closed up %.2f mm2\n", leg, err, seam.FilletArea(leg), seam.FilletArea(3.175))
	// Output:
	// leg 6.175 mm <nil>: 19.07 mm2, closed up 5.04 mm2
}
