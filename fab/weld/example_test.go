package weld_test

import (
	"fmt"
	"time"

	"bench.example/soapstone/fab/weld"
)

// Four seams of 100 s on a machine that allows 180 s in ten minutes, with cleaning to fill the rests.
func ExampleDocket_Best() {
	budget, _ := weld.NewBudget(10*time.Minute, 0.3)
	d := weld.Docket{Budget: budget}
	for k := range 4 {
		seam := len(d.Tasks)
		d.Tasks = append(d.Tasks,
			weld.Task{ID: fmt.Sprint("seam ", k+1), Kind: weld.Arc, Joint: fmt.Sprint("J", k+1), Take: 100 * time.Second},
			weld.Task{ID: fmt.Sprint("clean ", k+1), Kind: weld.Clean, Take: 60 * time.Second, After: []int{seam}})
	}
	s, err := d.Best(weld.DefaultEffort)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Elapsed, "of it rest", s.RestSum, "proven", s.Proven)
	fmt.Println("waiting through the rests:", s.Unfilled)
	// Output:
	// 28m40s of it rest 18m0s proven true
	// waiting through the rests: 31m40s
}

func ExamplePlate_DutyAt() {
	points, _ := weld.ParsePlate("20% at 90A, 35% at 70A")
	plate := weld.Plate{Points: points, Window: weld.PlateWindow}
	for _, amps := range []float64{90, 80, 70, 50, 100} {
		duty, err := plate.DutyAt(amps)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%g A: %.1f %%\n", amps, 100*duty.Value)
	}
	// Output:
	// 90 A: 20.0 %
	// 80 A: 26.0 %
	// 70 A: 35.0 %
	// 50 A: 68.6 %
	// 100 A is more than the plate's highest current of 90 A: no duty is given there, and none may be reckoned
}
