package plan

import (
	"slices"
	"strings"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/text"
)

// byMark takes the [[joint]]s that name marks for what they mean: every pair of members of those marks that meet. The
// marks are those of the frame as it is without them; where the gap of such a joint splits a mark, that is told. It gives
// the job with the joints spelled out, and whether there were any.
func (p *Plan) byMark(j *job.Job) (*job.Job, bool) {
	any := false
	marks := map[string][]int{}
	for i := range p.Pieces {
		marks[p.Pieces[i].Mark] = p.Pieces[i].Indices
	}
	members := func(name string) ([]int, bool) {
		if i := p.Frame.Index(name); i >= 0 {
			return []int{i}, true
		}
		list, ok := marks[name]
		return list, ok
	}
	var out []job.Joint
	for _, x := range j.Joints {
		if len(x.Between) != 2 || p.Frame.Index(x.Between[0]) >= 0 && p.Frame.Index(x.Between[1]) >= 0 {
			out = append(out, x)
			continue
		}
		any = true
		a, okA := members(x.Between[0])
		b, okB := members(x.Between[1])
		if !okA || !okB {
			name := x.Between[0]
			if okA {
				name = x.Between[1]
			}
			p.add(x.Where.In("between").Problem(text.Error, text.CodeName, "a joint is between members or marks, and there is no "+text.Clean(name)+"; the marks are "+p.markNames()))
			continue
		}
		found := false
		for k := range p.Frame.Joints {
			m, n := p.Frame.Joints[k].Members[0], p.Frame.Joints[k].Members[1]
			if slices.Contains(a, m) && slices.Contains(b, n) || slices.Contains(a, n) && slices.Contains(b, m) {
				found = true
				y := x
				y.Between = []string{p.Frame.Members[m].Name, p.Frame.Members[n].Name}
				out = append(out, y)
			}
		}
		if !found {
			p.add(x.Where.In("between").Problem(text.Warning, frame.CodeNothing, text.Clean(x.Between[0])+" and "+text.Clean(x.Between[1])+" do not touch anywhere: this joint is nowhere in the frame; name two members that do"))
		}
	}
	if !any {
		return j, false
	}
	k := *j
	k.Joints = out
	return &k, true
}

func (p *Plan) markNames() string {
	var names []string
	for i := range p.Pieces {
		names = append(names, text.Clean(p.Pieces[i].Mark))
	}
	return text.List(names)
}

// marksHeld tells of marks named in a [[joint]] that hold other members since the gaps are open.
func (p *Plan) marksHeld(before []piece.Piece) {
	was := map[string]string{}
	for i := range before {
		was[before[i].Mark] = strings.Join(before[i].Members, " ")
	}
	now := map[string]string{}
	for i := range p.Pieces {
		now[p.Pieces[i].Mark] = strings.Join(p.Pieces[i].Members, " ")
	}
	for _, x := range p.askedJoints {
		for _, name := range x.Between {
			if w, ok := was[name]; ok && p.Frame.Index(name) < 0 && now[name] != w {
				p.add(x.Where.In("gap").Problem(text.Warning, text.CodeName, "the gap of this joint changes what "+text.Clean(name)+" is: it was taken for "+text.Clean(w)+"; name the members instead"))
			}
		}
	}
}
