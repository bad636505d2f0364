package cut_test

import (
	"context"
	"fmt"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

// Two sides of a mitred frame: the saw is swung once, the stick is rolled half a turn instead of swinging it back.
func ExampleBuild() {
	rules := nest.Rules{Kerf: measure.Inch / 16, Depth: 2 * measure.Inch, Width: measure.Inch}
	p := nest.Problem{
		Kinds:  []nest.Kind{{Length: 96 * measure.Inch, Qty: 2, Lays: nest.LaysOf(45, 45, nest.Depth, nest.Rectangular)}},
		Sticks: []nest.Stick{{Length: 240 * measure.Inch}},
		Rules:  rules,
	}
	n, err := nest.Solve(context.Background(), p, nest.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	q := cut.Build([]cut.Bundle{{
		Section: "rail", Problem: p, Nest: n, Marks: []string{"A"}, Ends: [][2]float64{{45, 45}}, Faces: []nest.Face{nest.Depth},
		Flips: true, Depth: rules.Depth, Width: rules.Width, AreaMM2: 200,
	}}, cut.Saw{Kerf: rules.Kerf}, cut.UsualRates())
	fmt.Println("swings:", q.Swings, "stops:", q.Stops)
	for _, s := range q.Steps {
		if s.Op == cut.Cut {
			fmt.Println(s.Mark, s.Unit, "swing", s.SwingDeg, "stop", s.Stop.MM(), "mm", "roll first:", s.Flip)
		}
	}
	// Output:
	// swings: 1 stops: 1
	// A 1 swing -45 stop 2438.4 mm roll first: true
	// A 2 swing -45 stop 2438.4 mm roll first: true
}
