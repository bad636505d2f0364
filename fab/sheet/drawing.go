package sheet

import (
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/view"
)

// SVG draws the frame with its dimensions, each member with its mark.
func SVG(p *plan.Plan) []byte {
	marks := map[int]string{}
	for _, x := range p.Pieces {
		for _, i := range x.Indices {
			marks[i] = x.Mark
		}
	}
	return view.SVG(p.Frame, view.Options{Title: text.Clean(p.Job.Title), Tape: p.Job.Tape, Lit: -1, Label: func(i int) string { return marks[i] }})
}
