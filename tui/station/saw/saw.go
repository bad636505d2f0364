// Package saw is the station at the saw: the next cut in figures that are read from two steps away, where to set the
// swing and the stop, the stick to scale, and one key that says it is done.
package saw

import (
	"fmt"
	"slices"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
)

// Saw is the station.
type Saw struct {
	passed map[int]bool // steps without an entry of their own that were answered, by number
	steps  []step       // the same, in the order in which they were answered
	of     *plan.Plan   // the plan that passed and all that follows belongs to

	leads        []int            // of each step: the cut that it leads to, -1 where there is none
	onStick      map[[2]int][]int // the cuts of each stick
	cuts, sticks int

	state    *work.State // what the rest was found from
	events   int
	answered int
	isDone   []bool
	cutDone  int
	before   int // pieces that were done before this plan
	at       int

	drawn  []string // the stick in hand as it was drawn last
	drawnW int
	drawnL *look.Look
	parts  []draw.Part // of that stick, for clicks on it
	shown  int         // its first row in the station, 0 where it is not drawn
}

// New makes the station.
func New() *Saw { return &Saw{passed: map[int]bool{}} }

// Name is the station's name.
func (s *Saw) Name() string { return "Saw" }

// Purpose says what one does here.
func (s *Saw) Purpose() string {
	return "Cut the sticks, one step after the other. Set the saw as the large figures say, mark the line from the fresh end, keep the blade on the drop's side of it, and press space when the piece is off. " +
		sheet.SawCaution
}

// current gives the index of the first open step, -1 where all is cut. Steps that prepare a cut which is done count as
// done with it.
func (s *Saw) current(d *station.Desk) int {
	if d.Plan == nil {
		return -1
	}
	s.follow(d)
	return s.at
}

// follow brings the index of the queue up to date: once for a plan, and again when the record grew or a step without an
// entry of its own was answered. In between every key and every view finds its answer here.
func (s *Saw) follow(d *station.Desk) {
	steps := d.Plan.Queue.Steps
	if s.of != d.Plan {
		s.of, s.passed, s.steps, s.state = d.Plan, map[int]bool{}, nil, nil
		s.onStick = map[[2]int][]int{}
		s.leads = make([]int, len(steps))
		s.cuts, s.sticks, s.before = 0, 0, 0
		for i := range d.Plan.Pieces {
			s.before += d.Plan.Pieces[i].Qty
		}
		next := -1
		for i := len(steps) - 1; i >= 0; i-- {
			if s.leads[i] = next; steps[i].Op == cut.Cut {
				next = i
			}
		}
		for i := range steps {
			if steps[i].Op == cut.Cut {
				s.cuts++
				s.before--
				key := [2]int{steps[i].Bundle, steps[i].Used}
				s.onStick[key] = append(s.onStick[key], i)
			}
		}
		for _, sn := range d.Plan.Nests {
			s.sticks += len(sn.Nest.Used)
		}
	}
	if s.state == d.Work && s.events == d.Work.Events() && s.answered == len(s.passed) {
		return
	}
	s.state, s.events, s.answered = d.Work, d.Work.Events(), len(s.passed)
	loaded := map[string]bool{}
	for _, x := range d.Work.Sticks() {
		loaded[x.Name] = x.Loaded
	}
	s.isDone = make([]bool, len(steps))
	s.cutDone = 0
	last := -1 // the last cut that is done
	for i := range steps {
		if steps[i].Op != cut.Cut {
			s.isDone[i] = s.passed[steps[i].Number]
		} else if d.Work.IsCut(steps[i].Mark, steps[i].Unit) {
			s.isDone[i], last = true, i
			s.cutDone++
		}
	}
	s.at = -1
	for i := range steps {
		st := &steps[i]
		if s.isDone[i] || st.Op != cut.Cut && i < last && s.leads[i] >= 0 && s.isDone[s.leads[i]] {
			continue
		}
		if st.Op == cut.Load && !st.Again && loaded[d.Plan.StickName(st.Bundle, st.Used)] {
			continue
		}
		s.at = i
		if st.Waits && s.leads[i] >= 0 {
			s.at = s.leads[i] // first its length is measured; the plan made with it says how the stick lies
		}
		break
	}
	s.drawn = nil
}

// Keys gives the bindings.
func (s *Saw) Keys(d *station.Desk) []station.Key {
	off := ""
	i := s.current(d)
	switch {
	case d.Plan == nil:
		off = "the plan is still being made"
	case d.Plan.Failed():
		off = "the job cannot be built as it is written"
	case i < 0:
		off = "everything is cut"
	case d.Saving > 0:
		off = "the last entry is being written"
	}
	does := "done"
	space, spoil, length := off, off, off
	if off == "" {
		st := d.Plan.Queue.Steps[i]
		switch st.Op {
		case cut.Load:
			does = "loaded"
		case cut.Prove:
			does = "proved"
		case cut.Trim:
			does = "trimmed"
		case cut.Part:
			does = "seen"
		}
		if s.lastCut(d) == nil && st.Op != cut.Cut {
			spoil = "no piece is in hand"
		}
		if st.Waits {
			space = fmt.Sprintf("%s-%d is cut to fit: press m and enter its measured length first", st.Mark, st.Unit)
		}
		if st.Op != cut.Load {
			length = "a stick's length is entered when it is loaded"
		}
	}
	copyOff := ""
	if i < 0 {
		copyOff = "nothing is next"
	}
	keys := []station.Key{
		{Keys: []string{"space", "enter"}, Shown: "space", Does: does, Off: space},
		{Keys: []string{"x"}, Does: "spoiled", Off: spoil},
		{Keys: []string{"l"}, Does: "stick's length", Off: length},
		{Keys: []string{"c"}, Does: "copy the line", Off: copyOff, Quiet: true},
	}
	if cutToFit(d) {
		fit := station.Key{Keys: []string{"m"}, Does: "its measured length", Off: off}
		if i >= 0 && len(d.Plan.ToFit(d.Work)) == 0 {
			fit.Off = "every piece that is cut to fit is cut"
		}
		if i >= 0 && !d.Plan.Queue.Steps[i].Waits {
			fit.Does = "a measured length"
		}
		keys = slices.Insert(keys, 1, fit)
	}
	return keys
}

// Press answers a key.
func (s *Saw) Press(d *station.Desk, key string) []station.Intent {
	i := s.current(d)
	if i < 0 {
		return nil
	}
	st := &d.Plan.Queue.Steps[i]
	switch key {
	case "space", "enter":
		return s.doneWith(d, st)
	case "x":
		return s.spoil(d, st)
	case "m":
		return s.fit(d, st)
	case "l":
		return s.measured(d, st)
	case "c":
		return []station.Intent{station.Copy{Text: sheet.StepText(*st, d.Plan.Job.Saw.ReadsBlade, d.Plan.Job.Tape)}}
	}
	return nil
}

func (s *Saw) doneWith(d *station.Desk, st *cut.Step) []station.Intent {
	if st.Waits {
		return s.fit(d, st)
	}
	switch st.Op {
	case cut.Cut:
		return []station.Intent{station.Write{Events: []work.What{s.event(d, st)}}}
	case cut.Load:
		if st.Again {
			break // it is in the record already
		}
		return []station.Intent{station.Write{Events: []work.What{s.load(d, st, st.Length)}}}
	}
	s.passed[st.Number] = true
	s.steps = append(s.steps, step{st.Number, d.Work.Events(), string(st.Op)})
	return nil
}

// event is the entry of a piece that came off.
func (s *Saw) event(d *station.Desk, st *cut.Step) work.Cut {
	c, key := s.cutOf(d, st)
	from := d.Plan.StickFrom(st.Bundle, st.Used)
	return work.Cut{Mark: st.Mark, Unit: st.Unit, Stick: d.Plan.StickName(st.Bundle, st.Used), From: from + c[0], To: from + c[1], Key: key}
}

func (s *Saw) cutOf(d *station.Desk, st *cut.Step) ([2]measure.Length, string) {
	sn := &d.Plan.Nests[st.Bundle]
	for k := range sn.Pieces {
		x := &d.Plan.Pieces[sn.Pieces[k]]
		if x.Mark == st.Mark {
			return [2]measure.Length{st.From, st.To}, plan.Key(x, st.Right)
		}
	}
	return [2]measure.Length{st.From, st.To}, ""
}

func (s *Saw) load(d *station.Desk, st *cut.Step, length measure.Length) work.Loaded {
	sn := &d.Plan.Nests[st.Bundle]
	source := "buy"
	if sn.Problem.Sticks[sn.Nest.Used[st.Used].Stick].OnHand {
		source = "shelf"
	}
	return work.Loaded{Stick: d.Plan.StickName(st.Bundle, st.Used), Section: st.Section, Source: source, Length: length, Nominal: st.Length}
}

// lastCut gives the last piece that came off, for a spoil that is noticed after the cut.
func (s *Saw) lastCut(d *station.Desk) *work.Piece {
	for _, r := range d.Work.Recent(16) {
		if c, ok := r.What.(work.Cut); ok && !r.Undone && d.Work.IsCut(c.Mark, c.Unit) {
			return &work.Piece{Mark: c.Mark, Unit: c.Unit, Stick: c.Stick, From: c.From, To: c.To, Key: c.Key}
		}
	}
	return nil
}

// spoil asks which piece is lost: the one being cut, or the last one cut.
func (s *Saw) spoil(d *station.Desk, st *cut.Step) []station.Intent {
	initial := ""
	if p := s.lastCut(d); p != nil {
		initial = fmt.Sprintf("%s-%d", p.Mark, p.Unit)
	}
	if st.Op == cut.Cut && initial == "" {
		initial = fmt.Sprintf("%s-%d", st.Mark, st.Unit)
	}
	return []station.Intent{station.Ask{
		Prompt: "spoiled piece:", Initial: initial, Help: "the one that is lost; its replacement is nested into what is left",
		Done: func(word string) ([]station.Intent, error) {
			for i := range d.Plan.Queue.Steps {
				x := &d.Plan.Queue.Steps[i]
				if x.Op == cut.Cut && fmt.Sprintf("%s-%d", x.Mark, x.Unit) == word {
					e := s.event(d, x)
					if d.Work.IsCut(x.Mark, x.Unit) {
						return write(work.Spoiled{Mark: e.Mark, Unit: e.Unit, Key: e.Key}), nil
					}
					if x.Number != st.Number {
						return nil, fmt.Errorf("%s has not been cut yet", text.Clean(word))
					}
					return write(work.Spoiled{Mark: e.Mark, Unit: e.Unit, Stick: e.Stick, From: e.From, To: e.To, Key: e.Key}), nil
				}
			}
			for _, p := range d.Work.Pieces() {
				if !p.Spoiled && fmt.Sprintf("%s-%d", p.Mark, p.Unit) == word {
					return write(work.Spoiled{Mark: p.Mark, Unit: p.Unit, Key: p.Key}), nil
				}
			}
			return nil, fmt.Errorf("there is no piece %q; write a mark and its number, such as A-2", text.Clean(word))
		}}}
}

func write(e work.What) []station.Intent {
	return []station.Intent{station.Write{Events: []work.What{e}}}
}

// measured asks for the stick's true length.
func (s *Saw) measured(d *station.Desk, st *cut.Step) []station.Intent {
	return []station.Intent{station.Ask{
		Prompt: "measured length of this stick:", Initial: station.Typed(d.Plan.Job.Tape, st.Length), Help: `tip to tip, such as 20' 0-3/8"; the rest is nested anew`,
		Done: func(word string) ([]station.Intent, error) {
			l, err := measure.ParseLength(word, d.Plan.Job.Units)
			if err != nil {
				return nil, err
			}
			if l <= 0 || l > 2*st.Length {
				return nil, fmt.Errorf("%s is no length for a stick of %s", d.Plan.Job.Tape.Print(l), d.Plan.Job.Tape.Print(st.Length))
			}
			return write(s.load(d, st, l)), nil
		}}}
}

// step is an answered step without an entry of its own, and how many entries the record held then.
type step struct {
	number, events int
	op             string
}

// StepBack takes back a trim or a proof that was answered after the last entry.
func (s *Saw) StepBack(d *station.Desk) string {
	s.current(d)
	n := len(s.steps)
	if n == 0 || s.steps[n-1].events != d.Work.Events() {
		return ""
	}
	last := s.steps[n-1]
	s.steps = s.steps[:n-1]
	delete(s.passed, last.number)
	return last.op
}

// Click on a piece of the stick says what it is.
func (s *Saw) Click(d *station.Desk, x, y, w, _ int) []station.Intent {
	i := s.current(d)
	if i < 0 || s.shown == 0 || y < s.shown || y >= s.shown+3 {
		return nil
	}
	st := &d.Plan.Queue.Steps[i]
	sn := &d.Plan.Nests[st.Bundle]
	length := sn.Problem.Sticks[sn.Nest.Used[st.Used].Stick].Length
	k := draw.PartAt(length.MM(), s.parts, w-4, x-2)
	on := s.onStick[[2]int{st.Bundle, st.Used}]
	switch {
	case k < 0:
		return nil
	case k >= len(on):
		return []station.Intent{station.Say{Text: s.parts[k].Label}}
	}
	c := &d.Plan.Queue.Steps[on[k]]
	say := fmt.Sprintf("%s-%d  %s", text.Clean(c.Mark), c.Unit, d.Plan.Job.Tape.PrintLong(c.To-c.From))
	if s.isDone[on[k]] {
		say += ", cut"
	} else {
		say += ": " + sheet.StepText(*c, d.Plan.Job.Saw.ReadsBlade, d.Plan.Job.Tape)
	}
	return []station.Intent{station.Say{Text: say}}
}
