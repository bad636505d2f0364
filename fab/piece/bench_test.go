package piece_test

import (
	"fmt"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/piece"
)

func BenchmarkGather(b *testing.B) {
	for _, n := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var s strings.Builder
			s.WriteString(rail)
			for i := range n / 20 {
				fmt.Fprintf(&s, "[[rectangle]]\nname = \"a%d\"\nsection = \"rail\"\nlength = %d\nwidth = 48\nat = [%d, %d, 0]\n[[crossbars]]\non = \"a%d\"\nsection = \"rail\"\ncount = 16\n", i, 60+i%37, i%20*120,
					i/20*60, i)
			}
			j := frametest.Read(b, s.String())
			f, _ := frame.Build(j, frametest.Sections(b, j))
			b.ResetTimer()
			for range b.N {
				piece.Gather(f, j)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(f.Members))/1000, "us/member")
		})
	}
}
