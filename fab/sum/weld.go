package sum

import (
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/weld"
)

func weldSums() []Sum {
	return []Sum{
		{
			Name: "duty", Purpose: "duty at a current, or the current for a duty, from the machine's rating plate",
			Takes: []Arg{
				{Name: "plate", Takes: "points of the rating plate, commas between", Example: "20% at 90A, 35% at 70A"},
				{Name: "amps", Takes: "working current", Example: "70", Optional: true},
				{Name: "duty", Takes: "duty wanted, instead of amps", Example: "50%", Optional: true},
				{Name: "window", Takes: "the plate's period; 10m", Example: "10m", Optional: true},
			},
			Run: dutySum,
		},
	}
}

func dutySum(a *Args) (Result, error) {
	var r Result
	window := weld.PlateWindow
	if a.Has("window") {
		w, err := measure.ParseTime(a.String("window"))
		if err != nil {
			return r, Use("window: %v", err)
		}
		if w <= 0 {
			a.Fail("window", "must be longer than nothing")
		}
		window = w
	}
	points, err := weld.ParsePlate(a.String("plate"))
	if err != nil {
		if points == nil {
			return r, Use("plate: %v", err)
		}
		return r, err
	}
	plate := weld.Plate{Points: points, Window: window}
	switch {
	case a.Has("amps") == a.Has("duty"):
		return r, Use("give amps or duty, one of them")
	case a.Has("amps"):
		amps := a.Positive("amps", measure.ParseCurrent)
		if a.Err() != nil {
			return r, a.Err()
		}
		f, err := plate.DutyAt(amps)
		if err != nil {
			return r, err
		}
		r.AddFigure("duty", f)
		burst := f.Value * window.Seconds()
		r.Add("burst_s", burst)
		r.Add("rest_s", window.Seconds()-burst)
		r.Notes = append(r.Notes, "a plate speaks of 40 C air and one input voltage; dust, a hot shop and a long extension cord cost more")
	default:
		duty := a.Positive("duty", measure.ParseShare)
		if a.Err() != nil {
			return r, a.Err()
		}
		f, capped, err := plate.AmpsAt(duty)
		if err != nil {
			return r, err
		}
		r.AddFigure("amps", f)
		if capped {
			r.Notes = append(r.Notes, "the plate's highest current: it allows more duty than asked for, but no more current")
		}
	}
	return r, nil
}
