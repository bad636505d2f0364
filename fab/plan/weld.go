package plan

import (
	"errors"
	"fmt"
	"time"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/weld"
	"bench.example/soapstone/fab/work"
)

// Machine is one welder's column where several are compared.
type Machine struct {
	Name    string
	Elapsed time.Duration
	Days    int
	Cost    measure.Money // rent or cost of the machine for those days
	Why     string        // why it cannot do the job; "" where it can
}

// weld finds the seams and plans the work at the booth, with the machine asked for, and with every other one beside it.
func (p *Plan) weld(in Input) {
	machines := p.machines()
	w := p.Job.Welder
	if in.Welder != "" {
		w = nil
		for _, m := range machines {
			if m.Name == in.Welder {
				w = m
			}
		}
		if w == nil {
			p.add(text.Problem{Code: text.CodeName, Severity: text.Error, Key: "welder", Message: fmt.Sprintf("there is no welder %q; %s", text.Clean(in.Welder), names(machines))})
			return
		}
	}
	if w == nil {
		if p.Job.Sequence.Given {
			p.add(p.Job.Sequence.Where.Problem(text.Warning, text.CodeMissing, "there is no [welder], so there is no work at the booth to put in order"))
		}
		return
	}
	layout, problems := seam.Find(p.Frame, p.Job, w)
	p.add(problems...)
	layout.Marks = p.membersOf()
	order, problems := layout.Sequence(p.Job.Sequence.Joints)
	p.add(problems...)
	if p.Failed() {
		return
	}
	made, err := weld.Make(weld.Input{Layout: layout, Welder: w, Rates: p.weldRates(), Trips: tripsOf(in), Chores: p.chores(), Order: order, Tape: p.Job.Tape})
	if err != nil {
		where := w.Where
		var own *weld.OrderError
		if errors.As(err, &own) {
			where = own.Where
		}
		p.add(where.Problem(text.Error, text.CodeValue, err.Error()))
		return
	}
	p.Weld = made
	p.Notes = append(p.Notes, made.Notes...)
	p.reserve()
	if len(machines) > 1 {
		p.compare(machines, in)
	}
}

// membersOf gives the members of each mark.
func (p *Plan) membersOf() map[string][]string {
	of := map[string][]string{}
	for i := range p.Pieces {
		of[p.Pieces[i].Mark] = append(of[p.Pieces[i].Mark], p.Pieces[i].Members...)
	}
	return of
}

// machines gives the job's own welder and those of the shop.
func (p *Plan) machines() []*job.Welder {
	var out []*job.Welder
	if p.Job.Welder != nil {
		out = append(out, p.Job.Welder)
	}
	for i := range p.Job.Welders {
		out = append(out, &p.Job.Welders[i])
	}
	return out
}

func names(machines []*job.Welder) string {
	var list []string
	for _, m := range machines {
		if m.Name != "" {
			list = append(list, m.Name)
		}
	}
	if len(list) == 0 {
		return "the job and the shop file name none"
	}
	return "there are " + text.List(list)
}

func (p *Plan) compare(machines []*job.Welder, in Input) {
	var inputs []weld.Input
	for _, m := range machines {
		layout, _ := seam.Find(p.Frame, p.Job, m)
		layout.Marks = p.membersOf()
		order, _ := layout.Sequence(p.Job.Sequence.Joints) // the same problems as with the machine planned with
		inputs = append(inputs, weld.Input{Layout: layout, Welder: m, Rates: p.weldRates(), Trips: tripsOf(in), Chores: p.chores(), Order: order, Tape: p.Job.Tape})
	}
	for _, s := range weld.Compare(inputs) {
		m := Machine{Name: s.Name, Elapsed: s.Elapsed, Days: s.Days, Cost: s.Cost}
		if s.Err != nil {
			m.Why = s.Err.Error()
		}
		p.Machines = append(p.Machines, m)
	}
}

func tripsOf(in Input) weld.Trips {
	if in.Work == nil {
		return weld.Trips{}
	}
	return TripsOf(in.Work)
}

// TripsOf gives what the record says about the machine's cut-out.
func TripsOf(s *work.State) weld.Trips {
	t := s.Trips()
	if len(t) == 0 {
		return weld.Trips{}
	}
	return weld.Trips{Count: len(t), Since: time.Duration(s.ArcIn(t[len(t)-1].At, s.LastAt()))}
}

// chores are what the saw still has to do that no joint waits for: the loose pieces. They fill the machine's rests.
func (p *Plan) chores() []weld.Chore {
	loose := map[string]bool{}
	for i := range p.Pieces {
		if len(p.Pieces[i].Indices) == 0 {
			loose[p.Pieces[i].Mark] = true
		}
	}
	var out []weld.Chore
	for _, s := range p.Queue.Steps {
		if s.Op == cut.Cut && !s.Waits && loose[s.Mark] {
			id := fmt.Sprintf("%s-%d", s.Mark, s.Unit)
			out = append(out, weld.Chore{ID: id, What: "saw " + id, Take: time.Duration(s.EstS * float64(time.Second)).Round(time.Second)})
		}
	}
	return out
}
