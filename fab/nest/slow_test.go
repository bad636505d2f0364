package nest

import (
	"context"
	"fmt"
	"testing"
	"time"
)

func TestSlow(t *testing.T) {
	for range 3 {
		for _, c := range shopCases(t) {
			t0 := time.Now()
			n, _ := Solve(context.Background(), c.p, Options{Effort: -1})
			t1 := time.Now()
			n, _ = Solve(context.Background(), c.p, Options{})
			fmt.Println(c.name, t1.Sub(t0), time.Since(t1), n.Proven, n.Material.Proven, n.Longest.Proven, measureIn(n.Longest.Value), measureIn(n.Longest.Bound))
		}
	}
}
func measureIn(v int64) float64 { return float64(v) / 25.4e6 }
