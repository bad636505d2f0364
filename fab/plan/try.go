package plan

import (
	"context"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

// TryCost is what a section costs in one of the sizes that the job asks to have tried: its own pieces, its own nest.
type TryCost struct {
	Size   string
	Sticks int
	Cost   measure.Money
	Priced bool
	Proven bool
	Scaled bool   // the price by the stick is that of the present size, in proportion to the mass
	Why    string // why it cannot be built in this size; "" where it can
}

// tryCosts plans the job again with each size of each section that has any to try, the present size first, and gives the
// sticks and the money of that section.
func (p *Plan) tryCosts(ctx context.Context, in Input) map[string][]TryCost {
	out := map[string][]TryCost{}
	for i := range p.Job.Sections {
		s := &p.Job.Sections[i]
		if len(s.Try) == 0 {
			continue
		}
		for _, size := range append([]string{s.Size}, s.Try...) {
			out[s.Name] = append(out[s.Name], p.tryCost(ctx, in, i, size))
		}
	}
	return out
}

func (p *Plan) tryCost(ctx context.Context, in Input, section int, size string) TryCost {
	c := TryCost{Size: size}
	j := *p.Job
	j.Sections = append([]job.Section(nil), p.Job.Sections...)
	for i := range j.Sections {
		j.Sections[i].Try = nil
	}
	s := &j.Sections[section]
	s.Size = size
	j.Paint, j.Quote, j.Labour.Given = job.Paint{}, job.Quote{}, false
	j.Loads, j.Supports, j.Combinations, j.Bolts, j.Welder, j.Welders = nil, nil, nil, nil, nil, nil
	if size != p.Job.Sections[section].Size {
		shape, err := steel.ParseShape(s.Shape)
		if err != nil {
			c.Why = err.Error()
			return c
		}
		sec, err := steel.New(steel.Spec{Shape: shape, Size: size, Grade: s.Grade, Unit: j.Units}, in.Steel)
		if err != nil {
			c.Why = err.Error()
			return c
		}
		s.Sticks = append([]job.Stick(nil), s.Sticks...)
		for k := range s.Sticks {
			if s.Sticks[k].Priced {
				c.Scaled = true
				s.Sticks[k].Price = s.Sticks[k].Price.Scale(sec.MassKGM() / p.Sections[s.Name].MassKGM())
			}
		}
		j.OnHand = nil // what lies on the shelf is of the present size
	}
	q := Build(ctx, Input{Job: &j, Steel: in.Steel, Effort: -1})
	if q.Failed() {
		c.Why = q.Problems[0].Message
		return c
	}
	for _, sn := range q.Nests {
		if sn.Section == s.Name {
			c.Sticks, c.Proven, c.Priced = sn.Nest.Bars, sn.Nest.Proven, sn.Nest.Priced
			if sn.Nest.Priced {
				c.Cost = sn.Nest.Cost
			}
		}
	}
	return c
}

// Try is one row of the table that answers which section: how hard it is worked, how far it moves, what it weighs and costs.
type Try struct {
	Section string
	TryCost
	MassKG       float64 // of the section's members in the frame; 0 without loads
	Utilisation  float64
	DeflectionMM float64
}

// Tries gives the rows, section by section in the order of the job, the present size first.
func (p *Plan) Tries() []Try {
	var out []Try
	for _, s := range p.Job.Sections {
		for _, c := range p.TryCosts[s.Name] {
			t := Try{Section: s.Name, TryCost: c}
			for _, h := range p.Tried[s.Name] {
				if h.Size == c.Size && h.Err == nil {
					t.MassKG, t.Utilisation, t.DeflectionMM = h.MassKG, h.Utilisation, h.DeflectionMM
				}
			}
			out = append(out, t)
		}
	}
	return out
}
