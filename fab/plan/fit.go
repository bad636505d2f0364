package plan

import (
	"fmt"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/square"
)

// SquareJSON is the target of one flat frame.
type SquareJSON struct {
	Name       string  `json:"name"`
	LengthMM   float64 `json:"length_mm"`
	WidthMM    float64 `json:"width_mm"`
	DiagonalMM float64 `json:"diagonal_mm"`
	DifferMM   float64 `json:"differ_mm"` // by so much the two diagonals may differ
	Limit      string  `json:"limit"`     // where that comes from
}

// BodyJSON is the measure between two levels.
type BodyJSON struct {
	Lower      string     `json:"lower"`
	Upper      string     `json:"upper"`
	DiagonalMM [4]float64 `json:"diagonal_mm"`
}

// FootJSON is the lower end of a leg on its surface.
type FootJSON struct {
	Member    string  `json:"member"`
	Surface   string  `json:"surface"`
	LengthMM  float64 `json:"length_mm"`
	AngleDeg  float64 `json:"angle_deg"`
	RiseRun   float64 `json:"rise_run"`
	AcrossDeg float64 `json:"across_deg"`
	AlongDeg  float64 `json:"along_deg"`
	GapMM     float64 `json:"gap_mm"` // under the foot if it were cut square
}

// FitJSON is a member that is better cut to fit, and why.
type FitJSON struct {
	Member string `json:"member"`
	Why    string `json:"why"`
}

// fitJSON fills in what the worker squares up and fits by.
func (p *Plan) fitJSON(d *Document) {
	for _, t := range square.Targets(p.Frame) {
		diff, from, _ := t.Allowed(square.ToleranceOf(p.Job.Check))
		d.Square = append(d.Square, SquareJSON{t.Name, t.LengthMM, t.WidthMM, t.DiagonalMM, diff, from})
	}
	for _, b := range square.Bodies(p.Frame) {
		d.Bodies = append(d.Bodies, BodyJSON{b.Lower, b.Upper, b.DiagonalMM})
	}
	for _, f := range p.Frame.Feet {
		d.Feet = append(d.Feet, FootJSON{p.Frame.Members[f.Member].Name, f.Surface, f.LengthMM, f.AngleDeg, f.RiseRun, f.AcrossDeg, f.AlongDeg, f.GapMM})
	}
	for i := range p.Frame.Members {
		if m := &p.Frame.Members[i]; m.CutFit != "" {
			d.CutToFit = append(d.CutToFit, FitJSON{m.Name, m.CutFit})
		}
	}
}

// FitGroup is members that are better cut to fit for one and the same reason.
type FitGroup struct {
	Members []string
	Why     string
}

// BetterFit gives the members for which the job reserves nothing over (`over`) though they are better cut to fit, by
// reason, in the order of the frame.
func (p *Plan) BetterFit() []FitGroup {
	var out []FitGroup
	at := map[string]int{}
	for i := range p.Frame.Members {
		m := &p.Frame.Members[i]
		if m.CutFit == "" || m.OverMM > 0 {
			continue
		}
		k, known := at[m.CutFit]
		if !known {
			k = len(out)
			at[m.CutFit] = k
			out = append(out, FitGroup{Why: m.CutFit})
		}
		out[k].Members = append(out[k].Members, m.Name)
	}
	return out
}

// reserveFigures gives what is reserved for pieces that are cut to fit, and what was measured.
func (p *Plan) reserveFigures() []figure.Figure {
	var fs []figure.Figure
	for i := range p.Pieces {
		x := &p.Pieces[i]
		if x.Over <= 0 {
			continue
		}
		id := "piece." + x.Mark + "."
		fs = append(fs, figure.New(id+"reserved", "reserved in the nest for each "+x.Mark+", cut to fit", "mm", "l + v", figure.Source{Kind: figure.Shop, Text: "`over` of the job file"},
			figure.In("l", "length as drawn", x.Length.MM(), "mm", id+"length"), figure.In("v", "allowed over it", x.Over.MM(), "mm", "`over` in the job")))
		for _, m := range p.Measured[x.Mark] {
			fs = append(fs, figure.New(fmt.Sprintf("piece.%s-%d.measured", x.Mark, m.Unit), fmt.Sprintf("%s-%d as measured in its place", x.Mark, m.Unit), "mm", "m",
				figure.Source{Kind: figure.Shop, Text: "measured at the frame and entered in the record of work"}, figure.In("m", "length measured, tip to tip", m.Length.MM(), "mm", "the record of work")))
		}
	}
	return fs
}

// fitFigures gives the targets and feet with their working.
func (p *Plan) fitFigures() []figure.Figure {
	fs := p.reserveFigures()
	pythagoras := figure.Source{Kind: figure.Geometry, Text: "Pythagoras: diagonal of a rectangle"}
	for _, t := range square.Targets(p.Frame) {
		fs = append(fs, figure.Found("square."+t.Name+".diagonal", "target diagonal of "+t.Name, t.DiagonalMM, "mm", "sqrt(l^2 + w^2)", pythagoras,
			figure.In("l", "outside length", t.LengthMM, "mm", "[[rectangle]] "+t.Name), figure.In("w", "outside width", t.WidthMM, "mm", "[[rectangle]] "+t.Name)))
	}
	plane := figure.Source{Kind: figure.Geometry, Text: "angle between the surface's tangent plane at the foot and a square cut of a plumb leg"}
	for _, f := range p.Frame.Feet {
		name := p.Frame.Members[f.Member].Name
		fs = append(fs, figure.Found("foot."+name+".angle", "foot of "+name+" from square", f.AngleDeg, "deg", "atan(sqrt(tan(u)^2 + tan(v)^2))", plane,
			figure.In("u", "fall of the surface across", f.AcrossDeg, "deg", "[surface."+f.Surface+"]"), figure.In("v", "fall along", f.AlongDeg, "deg", "[surface."+f.Surface+"]")),
			figure.New("foot."+name+".rise_run", fmt.Sprintf("the same as rise over run, %s", name), "", "tan(a)", plane, figure.In("a", "foot from square", f.AngleDeg, "deg", "foot."+name+".angle")))
	}
	return fs
}
