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
	"bench.example/soapstone/fab/steel"
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
				p.checkLoads(model, layout)
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
	extra = append(extra, p.paintWeight()...)
	sheet := mass.Weigh(p.Frame, p.Job, p.Pieces, extra)
	p.Mass = &sheet
	if p.Failed() {
		return
	}
	if len(p.Frame.Members) == 0 {
		return // loose pieces are not lifted as a frame
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

// checkLoads goes on where the frame was analysed: throat stress of the welds, what is worked too hard or sags too far, and
// the other sizes that the job asks to have tried.
func (p *Plan) checkLoads(model *hold.Model, layout *seam.Layout) {
	p.loadModel = model
	var groups []hold.WeldGroup
	if layout != nil {
		groups = hold.WeldGroups(layout, p.Frame)
	}
	p.LoadWelds = p.Loads.Welds(model, groups, p.Job.Check.ElectrodeKSI)
	p.add(p.Loads.Problems(model, p.Frame, p.LoadWelds, p.Job.Tape)...)
	p.Tried = map[string][]hold.Tried{}
	for _, s := range p.Job.Sections {
		var sizes []steel.Section
		for _, size := range s.Try {
			sec, err := steel.New(steel.Spec{Shape: p.Sections[s.Name].Shape, Size: size, Grade: s.Grade, Unit: p.Job.Units}, p.catalogue)
			if err != nil {
				where := s.Where
				where = where.In("try")
				p.add(where.Problem(text.Error, text.CodeValue, err.Error()))
				continue
			}
			sizes = append(sizes, sec)
		}
		if len(sizes) > 0 {
			p.Tried[s.Name] = model.Try(s.Name, sizes)
		}
	}
}

func (p *Plan) loadsJSON() *hold.JSON {
	if p.Loads == nil {
		return nil
	}
	order := make([]string, 0, len(p.Job.Sections))
	for _, s := range p.Job.Sections {
		order = append(order, s.Name)
	}
	return p.Loads.JSON(p.loadModel, p.LoadWelds, p.Tried, order)
}
