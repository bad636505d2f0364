package frame_test

import (
	"fmt"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
)

// yard makes a job of about n members: racks of two frames with bars, posts, legs and braces, side by side.
func yard(n int) string {
	var b strings.Builder
	b.WriteString(`
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
[section.post]
shape = "square-tube"
size = "1-1/2 x 1-1/2 x 11ga"
[surface.slip]
chord = "300ft"
rise = "3ft"
centre = 0
top = "-30in"
slope = "1:400"
`)
	// 8 sides, 10 bars, 4 posts, 4 legs, 4 braces.
	for i := range (n + 29) / 30 {
		x, y := i%10*120, i/10*80-1500
		fmt.Fprintf(&b, `
[[rectangle]]
name = "a%[1]d"
section = "rail"
length = 96
width = 48
at = [%[2]d, %[3]d, 0]
[[rectangle]]
name = "b%[1]d"
section = "rail"
length = 96
width = 48
above = "a%[1]d"
clear = 24
[[crossbars]]
on = "a%[1]d"
section = "rail"
count = 5
[[crossbars]]
on = "b%[1]d"
section = "rail"
count = 5
[[posts]]
from = "a%[1]d"
to = "b%[1]d"
section = "post"
inset = "1/4"
[[legs]]
under = "a%[1]d"
section = "post"
surface = "slip"
inset = "1/4"
`, i, x, y)
		for k, c := range [][6]float64{{0, 1, 2.5, 20, 1, 26.5}, {96, 1, 2.5, 76, 1, 26.5}, {0, 47, 2.5, 20, 47, 26.5}, {96, 47, 2.5, 76, 47, 26.5}} {
			fmt.Fprintf(&b, "[[member]]\nname = \"k%d-%d\"\nsection = \"post\"\nfrom = [%g, %g, %g]\nto = [%g, %g, %g]\nlap = true\n", i, k,
				c[0]+float64(x), c[1]+float64(y), c[2], c[3]+float64(x), c[4]+float64(y), c[5])
		}
	}
	return b.String()
}

func BenchmarkBuild(b *testing.B) {
	for _, n := range []int{100, 1000, 2000, 10000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			j := frametest.Read(b, yard(n))
			s := frametest.Sections(b, j)
			b.ResetTimer()
			var f *frame.Frame
			for range b.N {
				f, _ = frame.Build(j, s)
			}
			b.ReportMetric(float64(len(f.Members)), "members")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(f.Members))/1000, "us/member")
		})
	}
}

// BenchmarkRound builds a thousand members of round tube, of which four in five end in saddles as wide as their headers.
func BenchmarkRound(b *testing.B) {
	var s strings.Builder
	s.WriteString("[section.pipe]\nshape = \"round-tube\"\nsize = \"2 x 11ga\"\n")
	for i := range 50 {
		fmt.Fprintf(&s, "[[rectangle]]\nname = \"a%[1]d\"\nsection = \"pipe\"\nlength = 80\nwidth = 48\nat = [%[2]d, %[3]d, 0]\n[[crossbars]]\non = \"a%[1]d\"\nsection = \"pipe\"\ncount = 16\nset = \"centre\"\n",
			i, i%20*120, i/20*60)
	}
	j := frametest.Read(b, s.String())
	sections := frametest.Sections(b, j)
	b.ResetTimer()
	for range b.N {
		frame.Build(j, sections)
	}
}
