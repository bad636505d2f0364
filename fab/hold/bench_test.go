package hold

import (
	"fmt"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
)

// tiers is a job of so many racks beside each other, each with two tiers of bars on posts and legs.
func tiers(racks int) string {
	var b strings.Builder
	b.WriteString("units = \"in\"\n[section.rail]\nshape = \"rect-tube\"\nsize = \"2-1/2 x 1-1/2 x .120\"\n[section.post]\nshape = \"square-tube\"\nsize = \"2 x 2 x .120\"\n")
	for i := range racks {
		fmt.Fprintf(&b, "[[rectangle]]\nname = \"low%d\"\nsection = \"rail\"\nlength = 240\nwidth = 48\nat = [0, %d, 24]\n", i, i*60)
		fmt.Fprintf(&b, "[[rectangle]]\nname = \"top%d\"\nsection = \"rail\"\nlength = 240\nwidth = 48\nabove = \"low%d\"\nclear = 30\n", i, i)
		for _, n := range []string{"low", "top"} {
			fmt.Fprintf(&b, "[[crossbars]]\non = \"%s%d\"\nsection = \"rail\"\ncount = 20\nstand = \"flat\"\n", n, i)
		}
		fmt.Fprintf(&b, "[[posts]]\nfrom = \"low%d\"\nto = \"top%d\"\nsection = \"post\"\nper_side = 6\n", i, i)
		fmt.Fprintf(&b, "[[legs]]\nunder = \"low%d\"\nsection = \"post\"\nlength = 24\nper_side = 4\n", i)
		fmt.Fprintf(&b, "[[load]]\non = \"top%d\"\nload = \"20psf\"\n", i)
	}
	return b.String()
}

// BenchmarkJob analyses whole jobs from the built frame on: model, cases, strength, sag, and up to 600 bars the buckling.
func BenchmarkJob(b *testing.B) {
	for _, racks := range []int{1, 3, 30, 140} {
		j := frametest.Read(b, tiers(racks))
		f, _ := frame.Build(j, frametest.Sections(b, j))
		b.Run(fmt.Sprintf("%d members", len(f.Members)), func(b *testing.B) {
			for b.Loop() {
				m, _ := FromFrame(f, j, nil)
				if _, err := Analyse(m); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
