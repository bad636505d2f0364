package frame_test

import (
	"fmt"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/steel"
)

func ExampleBuild() {
	j, _ := job.Read("rack.toml", []byte(`
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
[[crossbars]]
on = "lower"
section = "rail"
count = 1
`))
	rail, _ := steel.New(steel.Spec{Shape: steel.RectTube, Size: "2-1/2 x 1-1/2 x 11ga"}, frametest.Catalogue())
	f, _ := frame.Build(&j, map[string]steel.Section{"rail": rail})
	for i := range f.Members {
		m := &f.Members[i]
		fmt.Printf("%-10s %6s  %s %s\n", m.Name, j.Tape.Print(f.Length(i)), m.Ends[0].Kind, m.Ends[1].Kind)
	}
	fmt.Println(len(f.Joints), "joints; the last is a", f.Joints[5].Kind)
	// Output:
	// lower.x1      96"  mitre mitre
	// lower.x2      96"  mitre mitre
	// lower.y1      48"  mitre mitre
	// lower.y2      48"  mitre mitre
	// lower.bar1    45"  butt butt
	// 6 joints; the last is a tee
}
