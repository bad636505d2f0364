package sum

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/seam"
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
		{
			Name: "heat", Purpose: "arc energy and heat input of a pass",
			Takes: []Arg{
				{Name: "volts", Takes: "arc voltage", Example: "19"},
				{Name: "amps", Takes: "current", Example: "110"},
				{Name: "travel", Takes: "travel speed; a bare number is in/min (mm/min with metric units)", Example: "9ipm"},
				{Name: "k", Takes: "thermal efficiency; 0.8 (TIG 0.6, submerged arc 1.0)", Example: "0.8", Optional: true},
			},
			Run: heatSum,
		},
		{
			Name: "seam", Purpose: "weld metal, wire or rods, and arc time of a fillet",
			Takes: []Arg{
				{Name: "leg", Takes: "leg of the fillet, flat face", Example: "3/16"},
				{Name: "length", Takes: "length of weld", Example: "12in"},
				{Name: "process", Takes: "SMAW GMAW FCAW-S FCAW-G GTAW; FCAW-S", Example: "FCAW-S", Optional: true},
				{Name: "wire", Takes: "wire diameter; .035in", Example: "0.035in", Optional: true},
				{Name: "amps", Takes: "current; 110", Example: "110", Optional: true},
				{Name: "wfs", Takes: "wire feed, instead of amps", Example: "110ipm", Optional: true},
				{Name: "cap", Takes: "width x height of the cap on top of the flat face", Example: "1/4 x 1/16", Optional: true},
			},
			Run: seamSum,
		},
		{
			Name: "fillet", Purpose: "least and greatest leg of a fillet, and what a length of it carries",
			Takes: []Arg{
				{Name: "thickness", Takes: "thickness of one part", Example: "1/4"},
				{Name: "other", Takes: "thickness of the other part; the same", Example: "1/8", Optional: true},
				{Name: "process", Takes: "SMAW GMAW FCAW-S FCAW-G GTAW", Example: "SMAW", Optional: true},
				{Name: "low_hydrogen", Takes: "yes or no; yes, but no for SMAW", Example: "yes", Optional: true},
				{Name: "leg", Takes: "leg for the strength; the least one", Example: "3/16", Optional: true},
				{Name: "exx", Takes: "electrode: 70, E7018, E71T-11, ER70S-6, or its strength; 70", Example: "70", Optional: true},
			},
			Run: filletSum,
		},
	}
}

// speed reads a travel or wire feed; a bare number is inches a minute, or mm a minute with metric units.
func speed(a *Args, name string) float64 {
	return a.Positive(name, func(text string) (float64, error) {
		v, err := measure.ParseSpeed(text)
		if err == nil {
			return v, nil
		}
		n, bare := measure.ParseNumber(text)
		if bare != nil {
			return 0, err
		}
		if a.Unit().Metric() {
			return n / 60, nil
		}
		return n * measure.InchMM / 60, nil
	})
}

func heatSum(a *Args) (Result, error) {
	var r Result
	volts, amps, travel := a.Positive("volts", measure.ParseVoltage), a.Positive("amps", measure.ParseCurrent), speed(a, "travel")
	k := 0.8
	if a.Has("k") {
		if k = a.Positive("k", measure.ParseShare); k > 1 {
			a.Fail("k", "no more than all of the arc's energy enters the joint: at most 1")
		}
	}
	if a.Err() != nil {
		return r, a.Err()
	}
	energy := weld.ArcEnergy(volts, amps, travel)
	r.AddFigure("energy_kj_mm", energy)
	r.AddFigure("heat_kj_mm", weld.HeatInput(energy, k))
	r.Notes = append(r.Notes, fmt.Sprintf("arc energy %.4g kJ/in: many American codes call this the heat input, without k", energy.Value*measure.InchMM))
	return r, nil
}

func seamSum(a *Args) (Result, error) {
	var r Result
	leg, length := a.MM("leg"), a.PositiveMM("length")
	if leg < 0 || leg == 0 && !a.Has("cap") {
		a.Fail("leg", "must be greater than zero")
	}
	name := a.String("process")
	if name == "" {
		name = "FCAW-S"
		r.Notes = append(r.Notes, "process not given: FCAW-S")
	}
	p, err := weld.FindProcess(name)
	if err != nil {
		return r, Use("process: %v", err)
	}
	wire, amps, wfs := a.PositiveMM("wire"), a.Positive("amps", measure.ParseCurrent), speed(a, "wfs")
	if a.Has("amps") && a.Has("wfs") {
		r.Notes = append(r.Notes, "amps and wfs are both given: the wire feed counts")
	}
	if wfs > 0 && p.Rods {
		a.Fail("wfs", "%s has no wire feed; give amps", p.Name)
	}
	if wire == 0 && !p.Rods {
		wire = 0.035 * measure.InchMM
		r.Notes = append(r.Notes, "wire not given: .035 in")
	}
	if amps == 0 && wfs == 0 {
		amps = 110
		r.Notes = append(r.Notes, "neither amps nor wfs given: 110 A")
	}
	area := weld.FilletSection(leg)
	if a.Has("cap") {
		w, h, ok := strings.Cut(strings.ToLower(strings.ReplaceAll(a.String("cap"), "\u00d7", "x")), "x")
		width, errW := measure.ParseLength(w, a.Unit())
		height, errH := measure.ParseLength(h, a.Unit())
		switch {
		case !ok || errW != nil || errH != nil:
			return r, Use("cap=%s: write width x height, such as 1/4 x 1/16", a.String("cap"))
		case width <= 0 || height <= 0:
			a.Fail("cap", "both must be greater than zero")
		}
		area = weld.CappedSection(leg, width.MM(), height.MM())
	}
	if a.Err() != nil {
		return r, a.Err()
	}
	metal := weld.Metal(area.Value, length)
	metal.Inputs[0] = area.As("A")
	r.Figures = append(r.Figures, area)
	r.AddFigure("metal_kg", metal)
	r.AddFigure("consumable_kg", weld.Consumable(metal.Value, p))
	r.AddFigure("arc_s", weld.ArcTime(metal.Value, p, wire, wfs, amps))
	r.Notes = append(r.Notes, "a flat triangle: the plan adds 10 % for a convex face; a fillet one size too big costs up to 78 % more metal",
		"the chart on your machine's door comes first")
	return r, nil
}

func filletSum(a *Args) (Result, error) {
	var r Result
	wall := func(name string) float64 {
		if !a.Has(name) {
			return 0
		}
		l, err := measure.ParseWall(a.String(name), a.Unit(), a.Tables.Steel.TubeGauge.Thickness)
		if err != nil {
			a.unreadable(Use("%s: %v", name, err))
			return 0
		}
		if l <= 0 {
			a.Fail(name, "must be greater than zero")
		}
		return l.MM()
	}
	thickness, other, leg := wall("thickness"), wall("other"), a.PositiveMM("leg")
	low := true
	if a.Has("process") {
		p, err := weld.FindProcess(a.String("process"))
		if err != nil {
			return r, Use("process: %v", err)
		}
		low = p.Name != "SMAW"
	}
	if a.Has("low_hydrogen") {
		switch a.OneOf("low_hydrogen", "yes", "true", "1", "no", "false", "0") {
		case "yes", "true", "1":
			low = true
		default:
			low = false
		}
	}
	exx := 70.0
	if a.Has("exx") {
		v, err := weld.Electrode(a.String("exx"))
		if err != nil {
			return r, Use("exx: %v", err)
		}
		exx = v
	}
	if a.Err() != nil {
		return r, a.Err()
	}
	least := seam.MinLeg(thickness, other, low)
	most := seam.MaxLeg(thickness)
	if other > 0 && other < thickness {
		most = seam.MaxLeg(other)
	}
	if leg == 0 {
		leg = least.Value
	} else if leg < least.Value-1e-6 {
		r.Notes = append(r.Notes, "the leg is under the least of the standard: a larger one is asked for, so that the seam does not cool too fast")
	}
	r.AddFigure("min_leg_mm", least)
	r.AddFigure("max_leg_mm", most)
	r.AddFigure("allow_n_mm", seam.Allowable(leg, exx))
	r.Notes = append(r.Notes, "allowable stress design on the throat; the base metal beside the weld must carry it too; no design: a licensed engineer has the last word")
	return r, nil
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
