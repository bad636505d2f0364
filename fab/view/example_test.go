package view_test

import (
	"fmt"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/view"
)

// A frame seen from the front has the outline of its outside size.
func ExampleDraw() {
	j, _ := job.Read("gate.toml", []byte(`
units = "mm"
[section.rail]
shape = "square-tube"
size  = "40 x 3"
[[rectangle]]
name    = "gate"
section = "rail"
length  = 1200
width   = 900
plane   = "xz"
`))
	rail, _ := steel.New(steel.Spec{Shape: steel.SquareTube, Size: "40 x 3", Unit: measure.MM}, frametest.Catalogue())
	f, _ := frame.Build(&j, map[string]steel.Section{"rail": rail})
	p := view.Draw(f, view.Front)
	fmt.Printf("%.0f x %.0f mm, %t\n", p.MaxX-p.MinX, p.MaxY-p.MinY, len(p.Strokes) > 0)
	// Output:
	// 1200 x 900 mm, true
}
