package piece_test

import (
	"fmt"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/steel"
)

func ExampleGather() {
	j, _ := job.Read("gate.toml", []byte(rail+`
[[rectangle]]
name = "gate"
section = "rail"
length = "60in"
width = "48in"
plane = "xz"
`))
	tube, _ := steel.New(steel.Spec{Shape: steel.RectTube, Size: "2-1/2 x 1-1/2 x 11ga"}, frametest.Catalogue())
	f, _ := frame.Build(&j, map[string]steel.Section{"rail": tube})
	pieces, _ := piece.Gather(f, &j)
	for i := range pieces {
		p := &pieces[i]
		fmt.Printf("%s: %d of %s, ends [%g, %g] seen across the %s\n", p.Mark, p.Qty, j.Tape.Print(p.Length), p.Ends[0].MiterDeg, p.Ends[1].MiterDeg, p.Across)
	}
	// Output:
	// A: 2 of 60", ends [45, 45] seen across the width
	// B: 2 of 48", ends [45, 45] seen across the width
}
