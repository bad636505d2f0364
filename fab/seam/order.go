package seam

import (
	"fmt"
	"slices"
	"strings"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/text"
)

// name gives each stage the name by which [sequence] calls it; a name that another part of the frame has already gets a
// number.
func (l *Layout) name() {
	taken := map[string]int{}
	for i := range l.Stages {
		st := &l.Stages[i]
		switch {
		case st.Kind == Bench && st.Turn:
			st.Key = st.Group + " over"
		case st.Kind == Bench:
			st.Key = st.Group
		case st.Kind == Joined:
			st.Key = "joined"
		default:
			st.Key, _, _ = strings.Cut(st.Name, " again")
		}
		if taken[st.Key]++; taken[st.Key] > 1 {
			st.Key = fmt.Sprintf("%s %d", st.Key, taken[st.Key])
		}
	}
}

// leads tells whether stage a must be over before stage b begins.
func (l *Layout) leads(a, b int) bool {
	for _, k := range l.Stages[b].After {
		if k == a || l.leads(a, k) {
			return true
		}
	}
	return false
}

// reorder puts the stages into the worker's order as far as the job gives one. Stages that it does not name keep their
// place. What cannot be is an error at the name.
func (s *finder) reorder() {
	l := &s.out
	l.name()
	var named []int
	for _, n := range s.j.Sequence.Stages {
		at := slices.IndexFunc(l.Stages, func(st Stage) bool { return strings.EqualFold(st.Key, n.Text) })
		if at < 0 {
			var keys []string
			for _, st := range l.Stages {
				keys = append(keys, text.Quote(st.Key))
			}
			s.problem(n.Where, text.Error, text.CodeName, "there is no stage %s; the stages are, in the planned order: %s", text.Short(text.Quote(n.Text), 60), strings.Join(keys, ", "))
			return
		}
		for _, k := range named {
			if l.leads(at, k) {
				s.problem(n.Where, text.Error, text.CodeValue, "%q cannot come after %q: %s", text.Clean(l.Stages[at].Key), text.Clean(l.Stages[k].Key), l.because(at, k))
				return
			}
		}
		named = append(named, at)
	}
	if len(named) == 0 {
		return
	}
	wait := make([][]int, len(l.Stages))
	for i, st := range l.Stages {
		wait[i] = append([]int(nil), st.After...)
	}
	for k := 1; k < len(named); k++ {
		wait[named[k]] = append(wait[named[k]], named[k-1])
	}
	place := make([]int, len(l.Stages)) // of each old stage among the new
	done := make([]bool, len(l.Stages))
	var out []Stage
	last := ""
	for len(out) < len(l.Stages) {
		pick := -1
		for i, st := range l.Stages {
			ready := !done[i] && !slices.ContainsFunc(wait[i], func(k int) bool { return !done[k] })
			// a sub-frame that is on the bench is turned over on it before another comes
			if ready && (pick < 0 || st.Kind == Bench && st.Turn && st.Group == last) {
				pick = i
			}
		}
		if pick < 0 { // After has no circles and the named order was checked against it
			panic("seam: the stages wait for each other")
		}
		done[pick], place[pick] = true, len(out)
		last = l.Stages[pick].Group
		out = append(out, l.Stages[pick])
	}
	for i := range out {
		after := make([]int, 0, len(out[i].After))
		for _, k := range out[i].After {
			after = append(after, place[k])
		}
		slices.Sort(after)
		out[i].After = after
	}
	l.Stages, l.Reordered = out, true
}

// because says why stage a comes before stage b.
func (l *Layout) because(a, b int) string {
	switch x, y := l.Stages[a], l.Stages[b]; {
	case y.Turn && y.Kind == Bench:
		return "it is turned over when its first side is welded"
	case x.Kind == Bench:
		return "the sub-frame is welded before it is joined to others"
	case y.Turn:
		return "the frame is joined before it is turned"
	}
	return "the one is welded before the other"
}

// Place is one place in the worker's order of joints: what a name of [sequence] joints stands for.
type Place struct {
	Name   job.Name
	Joints []int // whole joints, fitted, tacked and welded
	Seams  []int // or single seams
}

// Sequence finds what the names of [sequence] joints stand for: a joint's number (J7), a seam's (J7.2), two members or
// marks with + between them, or one for all its joints; several joints come in their natural order. Errors name what is not there, or would come twice.
func (l *Layout) Sequence(names []job.Name) (out []Place, problems []text.Problem) {
	ofJoint, ofSeam := map[int]string{}, map[int]string{}
	for _, n := range names {
		t := Place{Name: n}
		fault := func(code, format string, args ...any) {
			problems = append(problems, n.Where.Problem(text.Error, code, fmt.Sprintf(format, args...)))
		}
		for k, x := range l.Seams {
			if x.ID == n.Text {
				t.Seams = append(t.Seams, k)
			}
		}
		var sets [][]string
		for _, m := range strings.Split(n.Text, "+") {
			sets = append(sets, l.called(strings.TrimSpace(m)))
		}
		for k, j := range l.Joints {
			if (j.ID == n.Text || between(j.Members, sets)) && len(j.Seams) > 0 {
				t.Joints = append(t.Joints, k)
			}
		}
		if len(t.Joints)+len(t.Seams) == 0 {
			fault(text.CodeName, "%s is no joint, seam, member or mark that is welded here; write a joint (J1), a seam (J1.2), or members or marks such as %s", text.Short(text.Quote(n.Text), 60), l.likeJoint())
			continue
		}
		twice := ""
		for _, k := range t.Joints {
			if was, ok := ofJoint[k]; ok {
				twice = was
			}
			ofJoint[k] = n.Text
			for _, x := range l.Joints[k].Seams {
				if was, ok := ofSeam[x]; ok && was != n.Text {
					twice = was
				}
				ofSeam[x] = n.Text
			}
		}
		for _, k := range t.Seams {
			if was, ok := ofSeam[k]; ok {
				twice = was
			}
			ofSeam[k] = n.Text
		}
		if twice != "" {
			fault(text.CodeDuplicate, "%s comes twice: %s stands before it in the order", text.Short(text.Quote(n.Text), 60), text.Short(text.Quote(twice), 60))
			continue
		}
		out = append(out, t)
	}
	return out, problems
}

// called gives the members that a name stands for: a member itself, or all of a mark.
func (l *Layout) called(name string) []string {
	for _, j := range l.Joints {
		if slices.Contains(j.Members, name) {
			return []string{name}
		}
	}
	if of := l.Marks[name]; len(of) > 0 {
		return of
	}
	return []string{name}
}

// between tells whether a joint holds a member of each set, a different one for each.
func between(members []string, sets [][]string) bool {
	if len(sets) == 0 {
		return true
	}
	for i, m := range members {
		if slices.Contains(sets[0], m) && between(slices.Delete(slices.Clone(members), i, i+1), sets[1:]) {
			return true
		}
	}
	return false
}

func (l *Layout) likeJoint() string {
	for _, j := range l.Joints {
		if len(j.Seams) > 0 && len(j.Members) > 1 {
			return text.Quote(j.Members[0] + " + " + j.Members[1])
		}
	}
	return `"lower.x1 + lower.bar3"`
}
