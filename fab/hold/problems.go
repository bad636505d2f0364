package hold

import (
	"fmt"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// Codes of the problems that an analysis finds.
const (
	CodeOver  = "overloaded" // a member or weld beyond its allowable strength
	CodeSag   = "sag"        // more sag than the job allows
	CodeSway  = "buckling"   // the frame is near buckling as a whole
	CodeUp    = "uplift"     // a support that must hold the frame down
	CodeReck  = "reckoning"  // the caution that goes with every analysis
	CodeFault = "loads"      // the analysis cannot be made
)

// Problems says what an analysis found wrong, worst first, and the caution that goes with it. f may be nil; tape prints the lengths and forces.
func (a *Answer) Problems(m *Model, f *frame.Frame, welds []WeldAnswer, tape measure.Tape) []text.Problem {
	var out []text.Problem
	where := func(member string) job.Where {
		if f != nil {
			if i := f.Index(member); i >= 0 {
				return f.Members[i].Where
			}
		}
		return job.Where{}
	}
	for i := range a.Members {
		ma := &a.Members[i]
		if ma.Use.Value > 1+1e-9 {
			out = append(out, where(ma.Name).Problem(text.Warning, CodeOver, fmt.Sprintf("%s is worked to %.0f %% of its allowable strength in %s (AISC 360 %s): a stiffer section, a shorter span or less load", ma.Name, 100*ma.Use.Value, a.Cases[ma.Case].Name, ma.Use.Clause)))
		}
		if !ma.SagOK {
			out = append(out, where(ma.Name).Problem(text.Warning, CodeSag, fmt.Sprintf("%s sags %s, its span over %.0f, in %s; the job allows its span over %.0f", ma.Name, tape.Fine(ma.SagMM), ma.SpanOver, a.Cases[ma.SagCase].Name, m.sagOver())))
		}
	}
	for _, w := range welds {
		if w.Use.Value > 1+1e-9 {
			out = append(out, where(w.Member).Problem(text.Warning, CodeOver, fmt.Sprintf("the weld of %s in %s is worked to %.0f %% of its allowable stress in %s: longer or larger seams", w.Member, w.Joint, 100*w.Use.Value, w.Case)))
		}
	}
	for _, c := range a.Cases {
		for _, r := range c.Reactions {
			if r.Force[2] < -1 {
				out = append(out, job.Where{}.Problem(text.Caution, CodeUp, fmt.Sprintf("in %s %s is pulled upwards with %s: it must be held down", c.Name, r.Name, tape.Force(-r.Force[2]))))
			}
		}
		switch {
		case c.Buckling == 0:
		case c.Buckling <= 1.67:
			out = append(out, job.Where{}.Problem(text.Warning, CodeSway, fmt.Sprintf("in %s the frame buckles at %.2f times its load: brace it", c.Name, c.Buckling)))
		case c.Buckling < 5:
			out = append(out, job.Where{}.Problem(text.Warning, CodeSway, fmt.Sprintf("in %s the frame buckles at %.1f times its load; sway adds some %.0f %% to the moments shown (AISC 360 appendix 8, 1/(1 - 1.6/factor))", c.Name, c.Buckling, 100*(1/(1-1.6/c.Buckling)-1))))
		}
	}
	return append(out, job.Where{}.Problem(text.Caution, CodeReck, "the loads are a reckoning, not an approval: where people can be on, under or in the way of the frame, on a road or in public, a licensed engineer checks it"))
}

func (m *Model) sagOver() float64 {
	if m.SpanOver > 0 {
		return m.SpanOver
	}
	return 240
}
