package weld

import (
	"fmt"
	"slices"
	"time"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// docket makes the tasks. equal: a seam over the budget is split into equal runs, else into full bursts and what is left.
// split tells that there was one.
func (p *Plan) docket(in Input, equal bool) (Docket, bool, error) {
	b := &docketMaker{p: p, equal: equal, d: Docket{Budget: p.Budget, Spread: true}, last: map[int]int{}, fits: map[int]int{}, tacks: map[int]int{}, ahead: map[int]int{}}
	p.TestBead = seconds(p.Rates.TestBeadMM / p.travelOf())
	p.ScrapMM = p.Rates.TestBeadMM
	if p.TestBead > p.Budget.Arc {
		p.TestBead = p.Budget.Arc
	}
	if len(p.Layout.Seams) > 0 && p.TestBead > 0 {
		b.d.Before = []Span{{-p.TestBead, 0}}
	}
	for i := range p.Layout.Stages {
		b.stage(i)
	}
	prev := -1
	for _, c := range in.Chores {
		var after []int
		if prev >= 0 {
			after = []int{prev}
		}
		prev = b.add(Task{ID: c.ID, Kind: Saw, What: c.What, Take: c.Take, After: after})
	}
	if len(in.Order) > 0 {
		if err := b.chain(in.Order); err != nil {
			return b.d, false, err
		}
	}
	return b.d, b.split, nil
}

func (p *Plan) travelOf() float64 {
	if p.Welder.TravelMMs > 0 {
		return p.Welder.TravelMMs
	}
	return p.Rates.TravelMMs
}

type docketMaker struct {
	p     *Plan
	d     Docket
	equal bool
	split bool
	over  []int       // gate at the end of each stage
	fits  map[int]int // of each joint
	tacks map[int]int // last tack of each joint
	last  map[int]int // last run of each seam
	ahead map[int]int // first run of each seam
}

func (b *docketMaker) add(t Task) int {
	b.d.Tasks = append(b.d.Tasks, t)
	return len(b.d.Tasks) - 1
}

func place(v space.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// stage adds the tasks of one stage: turn, then for each joint cleaning, fitting and tacking, squaring, then the passes
// with their cleaning.
func (b *docketMaker) stage(i int) {
	st := b.p.Layout.Stages[i]
	r := b.p.Rates
	var after []int
	for _, s := range st.After {
		after = append(after, b.over[s])
	}
	if st.Kind == seam.Bench { // one bench: the sub-frame before must be off it
		for k := i - 1; k >= 0; k-- {
			if b.p.Layout.Stages[k].Kind == seam.Bench {
				after = append(after, b.over[k])
				break
			}
		}
	}
	begin := b.add(Task{ID: fmt.Sprintf("stage %d", i+1), Stage: i, After: after})
	if st.Turn {
		turn := b.add(Task{ID: fmt.Sprintf("turn %d", i+1), Kind: Turn, What: "turn the frame over", Stage: i, Take: r.Turn, After: []int{begin}})
		begin = b.add(Task{ID: fmt.Sprintf("turned %d", i+1), Stage: i, After: []int{turn}})
	}
	var tacked, later []int // last tacks; fits of what is cut to fit
	for _, k := range st.Joints {
		j := b.p.Layout.Joints[k]
		if len(j.Seams) == 0 {
			continue
		}
		prep := b.add(Task{ID: j.ID + " prepare", Kind: Clean, Joint: j.ID, What: b.prep(j), Stage: i, Take: r.Prep[b.finish(j)]})
		set := r.Fit + time.Duration(max(0, len(j.Members)-2))*r.FitMember
		if j.Again { // its member is being set at this place already
			set = r.FitMember
		}
		what := "set and clamp"
		if len(j.ToFit) > 0 {
			what += ", cut to fit: " + text.Clean(text.List(j.ToFit))
		}
		fit := b.add(Task{ID: j.ID + " fit", Kind: Fit, Joint: j.ID, What: what, Stage: i, Place: place(j.At), Take: set, After: []int{prep, begin}})
		b.fits[k] = fit
		one := b.p.tackTake()
		burst := max(1, int(b.d.Budget.Arc/max(1, one)))
		prev := fit
		for n := j.Tacks; n > 0; n -= burst {
			prev = b.add(Task{ID: j.ID + " tack", Kind: Tack, Joint: j.ID, What: fmt.Sprintf("%d tacks", min(n, burst)), Stage: i, Place: place(j.At),
				Take: min(time.Duration(min(n, burst))*one, b.d.Budget.Arc), After: []int{prev}})
		}
		b.tacks[k] = prev
		if len(j.ToFit) > 0 {
			later = append(later, k)
		}
		tacked = append(tacked, prev)
	}
	var early []int
	for _, k := range st.Seams { // seams on which a member comes to stand are welded and dressed before it is fitted
		x := b.p.Layout.Seams[k]
		if len(x.Before) == 0 {
			continue
		}
		after := begin
		if b.p.Layout.Joints[x.Joint].Stage == i { // else it was tacked in a stage before, and the frame must be turned first
			after = b.tacks[x.Joint]
		}
		ends := b.seam(k, i, after)
		early = append(early, ends...)
		for _, j := range x.Before {
			if f, ok := b.fits[j]; ok {
				b.d.Tasks[f].After = append(b.d.Tasks[f].After, ends...)
			}
		}
	}
	ready := begin
	if len(tacked) > 0 {
		before := b.waitFor(st.Joints, later)
		squares := r.Square > 0 && st.Kind != seam.Over
		ready = b.add(Task{ID: fmt.Sprintf("tacked %d", i+1), Stage: i, After: append([]int{begin}, tacked...)})
		if squares {
			after, all := []int{ready}, []int(nil)
			if len(before) > 0 { // the frame is square before anything is measured in it
				after, all = before, after
			}
			square := b.add(Task{ID: fmt.Sprintf("square %d", i+1), Kind: Fit, What: "measure both diagonals and square the frame before any pass", Stage: i, Take: r.Square, After: after})
			ready = b.add(Task{ID: fmt.Sprintf("squared %d", i+1), Stage: i, After: append(all, square)})
			if len(before) > 0 {
				before = []int{square}
			}
		}
		for _, k := range later {
			b.d.Tasks[b.fits[k]].After = append(b.d.Tasks[b.fits[k]].After, before...)
		}
	}
	ends := append([]int{ready}, early...)
	for _, k := range st.Seams {
		if len(b.p.Layout.Seams[k].Before) == 0 {
			ends = append(ends, b.seam(k, i, ready)...)
		}
	}
	b.over = append(b.over, b.add(Task{ID: fmt.Sprintf("stage %d done", i+1), Stage: i, After: ends}))
}

// waitFor gives the last tacks of the stage's joints that those of what is cut to fit wait for: all others, but for such as
// wait themselves for a seam of one that is cut to fit, because no torch reaches it once they are in.
func (b *docketMaker) waitFor(joints, later []int) []int {
	var out []int
	for _, k := range joints {
		last, ok := b.tacks[k]
		if !ok || slices.Contains(later, k) {
			continue
		}
		if !slices.ContainsFunc(later, func(l int) bool { return b.needs(last, b.fits[l]) }) {
			out = append(out, last)
		}
	}
	return out
}

func (b *docketMaker) finish(j seam.Joint) job.Finish { return b.p.Layout.Seams[j.Seams[0]].Finish }

func (b *docketMaker) prep(j seam.Joint) string {
	switch b.finish(j) {
	case job.Galvanised:
		return "grind the zinc back on both sides of the seams"
	case job.Primed:
		return "grind the primer off around the joint"
	case job.Oiled:
		return "wipe the oil off with a solvent that is safe near an arc"
	case job.Scale:
		return "grind mill scale off the seams and the clamp's place"
	}
	return "wipe clean"
}

// seam adds the runs of one seam with their cleaning, and gives the tasks that must be done before the stage is over.
func (b *docketMaker) seam(k, stage, ready int) []int {
	s := b.p.Layout.Seams[k]
	x := &b.p.Seams[k]
	if x.Arc <= 0 {
		return nil
	}
	r := b.p.Rates
	j := b.p.Layout.Joints[s.Joint].ID
	after := []int{ready}
	x.Runs = 0
	var ends []int
	for pass := range s.Passes {
		// whole nanoseconds, so that the passes add up to the seam
		take := x.Arc*time.Duration(pass+1)/time.Duration(s.Passes) - x.Arc*time.Duration(pass)/time.Duration(s.Passes)
		runs := runsOf(take, b.d.Budget, b.equal)
		b.split = b.split || len(runs) > 1
		length := s.WeldMM
		for n, t := range runs {
			what := fmt.Sprintf("seam %s, %s, %s", s.ID, s.Type, s.Position)
			if s.Passes > 1 {
				what += fmt.Sprintf(", pass %d of %d", pass+1, s.Passes)
			}
			if x.BackStep && len(runs) == 1 {
				what += ", in back steps"
			}
			if s.Early != "" {
				what += ", " + s.Early
			}
			if len(runs) > 1 {
				what += fmt.Sprintf(", run %d of %d, laid back towards the one before", n+1, len(runs))
			}
			a := b.add(Task{ID: s.ID, Kind: Arc, Joint: j, Seam: s.ID, What: what, Stage: stage, Take: t, After: after, Place: place(s.Middle()),
				Bend: b.p.sway[k].times(float64(t) / float64(x.Arc))})
			if x.Runs == 0 {
				b.ahead[k] = a
			}
			x.Runs++
			b.last[k] = a
			part := length * float64(t) / float64(take)
			clean := r.Brush
			if b.p.Process.Slag {
				clean = r.PassClean + time.Duration(part*float64(r.CleanMM))
			}
			c := b.add(Task{ID: s.ID + " clean", Kind: Clean, Joint: j, Seam: s.ID, What: cleaning(b.p.Process), Stage: stage, Take: clean, After: []int{a}})
			after = []int{c}
			ends = append(ends, c)
		}
	}
	if s.Dress {
		ends = append(ends, b.add(Task{ID: s.ID + " dress", Kind: Grind, Joint: j, Seam: s.ID, What: "grind the seam flush", Stage: stage,
			Take: time.Duration(s.WeldMM * float64(r.DressMM)), After: after}))
	}
	return ends
}

func cleaning(p Process) string {
	if p.Slag {
		return "chip the slag and brush"
	}
	return "brush"
}

// runsOf splits an arc that is longer than the budget into as few runs as hold it.
func runsOf(take time.Duration, b Budget, equal bool) []time.Duration {
	if take <= b.Arc || b.Arc >= b.Window {
		return []time.Duration{take}
	}
	n := (take + b.Arc - 1) / b.Arc
	runs := make([]time.Duration, n)
	for i := range runs {
		if equal {
			k := time.Duration(i)
			runs[i] = take*(k+1)/n - take*k/n
		} else {
			runs[i] = min(b.Arc, take-time.Duration(i)*b.Arc)
		}
	}
	return runs
}
