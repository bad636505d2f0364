package plan

import (
	"errors"
	"fmt"

	"bench.example/soapstone/fab/bolt"
	"bench.example/soapstone/fab/hold"
	"bench.example/soapstone/fab/hold/stiffness"
	"bench.example/soapstone/fab/lift"
	"bench.example/soapstone/fab/mass"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/spot"
	"bench.example/soapstone/fab/text"
)

// stand leads the frame through weight, loads, bolts and lift. The steel's own weight loads the frame; what is hoisted
// weighs more (weld metal, bolts): two figures, so that no circle arises.
func (p *Plan) stand() {
	var layout *seam.Layout
	var extra []mass.Extra
	if p.Weld != nil {
		layout = &p.Weld.Layout
		extra = mass.WeldMetal(layout)
	}
	if hold.Wanted(p.Job) {
		model, problems := hold.FromFrame(p.Frame, p.Job, p.Pieces)
		p.add(problems...)
		if !p.Failed() {
			answer, err := hold.Analyse(model)
			if err != nil {
				p.add(p.loadProblem(err))
			} else {
				p.Loads = answer
			}
		}
	}
	names := spot.NewNames(p.Frame, p.Pieces, p.Job.Units)
	if !p.Failed() && len(p.Job.Bolts) > 0 {
		sets, problems := bolt.Plan(bolt.Input{Frame: p.Frame, Job: p.Job, Names: names, Loads: p.Loads})
		p.add(problems...)
		p.Bolts = sets
		for i := range sets {
			extra = append(extra, mass.Extra{Kind: mass.Hardware, Name: sets[i].Size.Name, Qty: sets[i].Qty, KG: sets[i].MassKG})
		}
	}
	sheet := mass.Weigh(p.Frame, p.Job, p.Pieces, extra)
	p.Mass = &sheet
	if p.Failed() {
		return
	}
	answer, problems := lift.Plan(lift.Input{Frame: p.Frame, Job: p.Job, Names: names, Mass: p.Mass, Layout: layout})
	p.add(problems...)
	p.Lift = answer
}

// loadProblem words what is wrong with the loads at the table that it concerns.
func (p *Plan) loadProblem(err error) text.Problem {
	out := text.Problem{Code: "loads", Severity: text.Error, Key: "load", Message: err.Error()}
	if len(p.Job.Supports) > 0 {
		out = p.Job.Supports[0].Where.Problem(text.Error, "loads", err.Error())
	} else if len(p.Job.Loads) > 0 {
		out = p.Job.Loads[0].Where.Problem(text.Error, "loads", err.Error())
	}
	var m *stiffness.MechanismError
	if errors.As(err, &m) {
		out.Code = "mechanism"
	}
	var f *hold.FaultError
	if errors.As(err, &f) && f.Where != "" {
		out.Message = fmt.Sprintf("%s: %s", text.Clean(f.Where), f.What)
	}
	return out
}

// LoadsJSON is the loads object of the document.
type LoadsJSON struct {
	Cases   []CaseJSON       `json:"cases"`
	Members []MemberLoadJSON `json:"members"`
	Notes   []string         `json:"notes"`
}

// CaseJSON is one combination.
type CaseJSON struct {
	Name         string         `json:"name"`
	Utilisation  float64        `json:"utilisation"`
	Worst        string         `json:"worst"`
	Clause       string         `json:"clause"`
	DeflectionMM float64        `json:"deflection_mm"`
	DeflectionAt string         `json:"deflection_at"`
	Buckling     float64        `json:"buckling_factor"`
	WeightN      float64        `json:"weight_n"`
	Reactions    []ReactionJSON `json:"reactions"`
}

// ReactionJSON is what a support gives.
type ReactionJSON struct {
	Name     string     `json:"name"`
	AtMM     [3]float64 `json:"at_mm"`
	ForceN   [3]float64 `json:"force_n"`
	MomentNM [3]float64 `json:"moment_nm"`
}

// MemberLoadJSON is the worst of all combinations for one member.
type MemberLoadJSON struct {
	Name        string  `json:"name"`
	Utilisation float64 `json:"utilisation"`
	Case        string  `json:"case"`
	SagMM       float64 `json:"sag_mm"`
	SpanOver    float64 `json:"span_over"`
	SagOK       bool    `json:"sag_ok"`
}

func (p *Plan) loadsJSON() *LoadsJSON {
	a := p.Loads
	if a == nil {
		return nil
	}
	out := &LoadsJSON{Cases: []CaseJSON{}, Members: []MemberLoadJSON{}, Notes: append([]string{}, a.Notes...)}
	for _, c := range a.Cases {
		x := CaseJSON{Name: c.Name, Utilisation: c.Utilisation, Worst: c.Worst, Clause: c.Clause, DeflectionMM: c.DeflectionMM, DeflectionAt: c.DeflectionAt,
			Buckling: c.Buckling, WeightN: c.WeightN, Reactions: []ReactionJSON{}}
		for _, r := range c.Reactions {
			x.Reactions = append(x.Reactions, ReactionJSON{r.Name, r.At, r.Force, [3]float64{r.Moment[0] / 1000, r.Moment[1] / 1000, r.Moment[2] / 1000}})
		}
		out.Cases = append(out.Cases, x)
	}
	for _, m := range a.Members {
		name := ""
		if m.Case >= 0 && m.Case < len(a.Cases) {
			name = a.Cases[m.Case].Name
		}
		out.Members = append(out.Members, MemberLoadJSON{m.Name, m.Use.Value, name, m.SagMM, m.SpanOver, m.SagOK})
	}
	return out
}
