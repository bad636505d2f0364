package sheet

import (
	"fmt"

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

// Wraps gives the templates of every end that no saw of the job cuts.
func Wraps(p *plan.Plan) []view.Named {
	var out []view.Named
	for i := range p.Pieces {
		x := &p.Pieces[i]
		for e := range x.Ends {
			if !x.Ends[e].Template {
				continue
			}
			steel := text.Clean(x.Section)
			if s, ok := p.Job.Section(x.Section); ok {
				steel += ": " + text.Clean(s.Size) + " " + text.Clean(string(s.Shape))
			}
			end := [2]string{"first end", "second end"}[e]
			out = append(out, view.Named{Title: fmt.Sprintf("%s, %s: %s, %d of it", text.Clean(x.Mark), end, steel, x.Qty), Wrap: view.WrapOf(p.Frame, x, e)})
		}
	}
	return out
}

// Templates draws all templates at full size as one SVG; nil where the job needs none.
func Templates(p *plan.Plan) []byte { return view.Templates(Wraps(p), p.Job.Tape) }
