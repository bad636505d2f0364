package weld

import (
	"fmt"
	"slices"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/text"
)

// OrderError is an order of the worker's that cannot be.
type OrderError struct {
	Where job.Where
	What  string
}

func (e *OrderError) Error() string { return e.What }

// chain lays joints and seams in the worker's order: of two that follow each other, the second is set only when the first
// is tacked, and its passes begin only when the last pass of the first has begun. The rule that spreads the heat gives way
// to the worker. An order that goes against what must come before what is an OrderError at its name.
func (b *docketMaker) chain(order []seam.Place) error {
	l := &b.p.Layout
	b.d.Spread = false
	type front struct{ tacks, runs []int } // of the place before, in each stage
	at := map[int]*front{}
	last, lastName := -1, ""
	for _, o := range order {
		fits, tacks, firsts, runs := map[int][]int{}, map[int][]int{}, map[int][]int{}, map[int][]int{}
		first := len(l.Stages)
		seams := slices.Clone(o.Seams)
		for _, k := range o.Joints {
			j := l.Joints[k]
			seams = append(seams, j.Seams...)
			first = min(first, j.Stage)
			if f, ok := b.fits[k]; ok {
				fits[j.Stage], tacks[j.Stage] = append(fits[j.Stage], f), append(tacks[j.Stage], b.tacks[k])
			}
		}
		for _, k := range seams {
			run, ok := b.ahead[k]
			if !ok {
				continue
			}
			if len(l.Seams[k].Before) > 0 && !slices.Contains(o.Seams, k) {
				continue // it must be welded before a neighbour is set: of a whole joint it comes as early as it has to
			}
			st := l.Seams[k].Stage
			if len(o.Joints) == 0 {
				first = min(first, st)
			}
			firsts[st], runs[st] = append(firsts[st], run), append(runs[st], b.last[k])
		}
		if first < last {
			return &OrderError{o.Name.Where, fmt.Sprintf("%q cannot come after %q: the one belongs to the stage %q, the other to %q, which comes later; [sequence] stages puts the stages in another order",
				o.Name.Text, lastName, l.Stages[first].Key, l.Stages[last].Key)}
		}
		if first < len(l.Stages) {
			last = max(last, first)
		}
		for st := range l.Stages {
			if len(fits[st])+len(firsts[st]) == 0 {
				continue
			}
			f := at[st]
			if f == nil {
				f = &front{}
				at[st] = f
			}
			if !b.wait(fits[st], f.tacks) || !b.wait(firsts[st], f.runs) {
				return &OrderError{o.Name.Where, fmt.Sprintf("%q cannot come after %q%s", o.Name.Text, lastName, b.because(seams, order))}
			}
			if len(fits[st]) > 0 {
				f.tacks = tacks[st]
			}
			if len(firsts[st]) > 0 {
				f.runs = runs[st]
			}
		}
		lastName = o.Name.Text
	}
	return nil
}

// wait has each of the tasks wait for all of those before; false where one of these waits for it already.
func (b *docketMaker) wait(tasks, before []int) bool {
	for _, t := range tasks {
		for _, p := range before {
			if t == p {
				continue
			}
			if b.needs(p, t) {
				return false
			}
			b.d.Tasks[t].After = append(slices.Clip(b.d.Tasks[t].After), p)
		}
	}
	return true
}

// needs tells whether task a waits for task t, directly or not.
func (b *docketMaker) needs(a, t int) bool {
	seen := make([]bool, len(b.d.Tasks))
	stack := []int{a}
	for len(stack) > 0 {
		k := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if k == t {
			return true
		}
		if !seen[k] {
			seen[k] = true
			stack = append(stack, b.d.Tasks[k].After...)
		}
	}
	return false
}

// because says why one place cannot wait for another: mostly a seam that no torch reaches once the other is in.
func (b *docketMaker) because(seams []int, order []seam.Place) string {
	for _, k := range seams {
		if s := b.p.Layout.Seams[k]; s.Early != "" {
			return fmt.Sprintf(": seam %s is welded %s", s.ID, s.Early)
		}
		for _, o := range order { // the others may have to wait for this one's members
			for _, j := range o.Joints {
				for _, x := range b.p.Layout.Joints[j].Seams {
					if s := b.p.Layout.Seams[x]; s.Early != "" && slices.Contains(s.Before, b.p.Layout.Seams[k].Joint) {
						return fmt.Sprintf(": seam %s is welded %s", s.ID, s.Early)
					}
				}
			}
		}
	}
	for _, o := range order {
		for _, j := range o.Joints {
			if l := b.p.Layout.Joints[j].ToFit; len(l) > 0 {
				return fmt.Sprintf(": %s is cut to fit, and set when the others of its stage are tacked", text.Clean(text.List(l)))
			}
		}
	}
	return ": it must be done before that"
}
