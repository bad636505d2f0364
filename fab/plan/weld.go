package plan

import (
	"time"

	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/weld"
)

// weld finds the seams and plans the work at the booth.
func (p *Plan) weld(in Input) {
	w := p.Job.Welder
	if w == nil {
		return
	}
	layout, problems := seam.Find(p.Frame, p.Job, w)
	p.add(problems...)
	var trips weld.Trips
	if in.Work != nil {
		if t := in.Work.Trips(); len(t) > 0 {
			trips = weld.Trips{Count: len(t), Since: time.Duration(in.Work.ArcIn(t[len(t)-1].At, in.Work.LastAt()))}
		}
	}
	made, err := weld.Make(weld.Input{Layout: layout, Welder: w, Trips: trips})
	if err != nil {
		p.add(w.Where.Problem(text.Error, text.CodeValue, err.Error()))
		return
	}
	p.Weld = made
	p.Notes = append(p.Notes, made.Notes...)
}
