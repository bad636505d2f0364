package bench

import (
	"fmt"
	"slices"
	"strings"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
)

// tally is what two plans are compared by.
type tally struct {
	sticks   int // of the whole job: those that were taken, and those still to take
	cost     measure.Money
	priced   bool
	massKG   float64
	proven   bool
	steel    measure.Length // of all pieces, tip to tip
	currency string
	tape     measure.Tape
}

func tallyOf(p *plan.Plan) tally {
	t := tally{sticks: len(p.Done.Taken), massKG: p.MassKG, proven: true, priced: true, currency: text.Clean(p.Job.Currency), tape: p.Job.Tape}
	for _, sn := range p.Nests {
		t.proven = t.proven && sn.Nest.Proven
		for _, u := range sn.Nest.Used {
			if u.Stick >= len(sn.Rests) {
				t.sticks++
			}
		}
	}
	for _, b := range p.Buy {
		t.cost += b.Cost
		t.priced = t.priced && b.Priced
	}
	// A stick that was bought for the job and is in work still counts.
	for _, x := range p.Done.Taken {
		if x.Source != "buy" {
			continue
		}
		price, found := measure.Money(0), false
		for _, sn := range p.Nests {
			for _, s := range sn.Problem.Sticks {
				if sn.Section == x.Section && !s.OnHand && s.Length == x.Nominal && sn.Nest.Priced {
					price, found = s.Price, true
				}
			}
		}
		t.cost += price
		t.priced = t.priced && found
	}
	t.priced = t.priced && len(p.Buy)+len(p.Done.Taken) > 0
	for i := range p.Pieces {
		t.steel += p.Pieces[i].Length * measure.Length(p.Pieces[i].Qty)
	}
	return t
}

// alone tells a plan by its numbers.
func (t tally) alone() []string {
	out := []string{text.Count(t.sticks, "stick")}
	if t.priced {
		out = append(out, t.cost.With(t.currency))
	}
	return append(out, t.tape.Mass(t.massKG))
}

// against tells what is different from the plan before, number by number; what stays is told short.
func (t tally) against(was tally) []string {
	var out []string
	if t.sticks != was.sticks {
		out = append(out, fmt.Sprintf("%s -> %d", text.Count(was.sticks, "stick"), t.sticks))
	} else {
		out = append(out, "still "+text.Count(t.sticks, "stick"))
	}
	if t.priced && was.priced && t.cost != was.cost {
		out = append(out, fmt.Sprintf("%s -> %s", was.cost.With(t.currency), t.cost))
	}
	if a, b := t.tape.Mass(was.massKG), t.tape.Mass(t.massKG); a != b {
		out = append(out, a+" -> "+b)
	}
	return out
}

// pieceChanges tells which pieces a new plan has that the old one had not, and the other way round: the reason behind
// another number of sticks. Pieces are paired by their marks.
func pieceChanges(was, now *plan.Plan) []string {
	old := map[string]*piece.Piece{}
	for i := range was.Pieces {
		old[was.Pieces[i].Mark] = &was.Pieces[i]
	}
	tape := now.Job.Tape
	var out []string
	for i := range now.Pieces {
		x := &now.Pieces[i]
		o := old[x.Mark]
		delete(old, x.Mark)
		mark := text.Clean(x.Mark)
		switch {
		case o == nil:
			out = append(out, fmt.Sprintf("%d %s of %s come in", x.Qty, mark, tape.Print(x.Length)))
		case o.Section != x.Section:
			out = append(out, fmt.Sprintf("%s of %s, was %s", mark, text.Clean(x.Section), text.Clean(o.Section)))
		case o.Length != x.Length:
			s := fmt.Sprintf("%d %s %s -> %s", x.Qty, mark, tape.Print(o.Length), tape.Print(x.Length))
			if o.Qty != x.Qty {
				s += fmt.Sprintf(", were %d", o.Qty)
			}
			out = append(out, s)
		case o.Qty != x.Qty:
			out = append(out, fmt.Sprintf("%s %d -> %d pcs", mark, o.Qty, x.Qty))
		}
	}
	for i := range was.Pieces {
		if x := &was.Pieces[i]; old[x.Mark] == x {
			out = append(out, fmt.Sprintf("%d %s fall away", x.Qty, text.Clean(x.Mark)))
		}
	}
	if len(out) > 3 {
		out = append(out[:2:2], fmt.Sprintf("%d more kinds", len(out)-2))
	}
	return out
}

// compare tells what a new plan changed, and because of what.
func (m *Model) compare(p *plan.Plan) {
	if p.Failed() {
		m.before = nil
		m.causes = nil
		return
	}
	was := m.before
	m.before = p
	causes := m.causes
	m.causes = nil
	if was == nil || len(causes) == 0 {
		return
	}
	now, then := tallyOf(p), tallyOf(was)
	say := strings.Join(now.against(then), ", ") + ": " + strings.Join(causes, "; ")
	if changes := pieceChanges(was, p); len(changes) > 0 {
		say += " (" + strings.Join(changes, ", ") + ")"
	} else if rest := restChange(p); rest != "" {
		say += " (" + rest + ")"
	}
	m.desk.Changed = say
	m.say(say, now.sticks > then.sticks)
}

// restChange tells where the pieces are to come from when none of them changed: the reason behind a stick more after a
// spoiled piece or a short stick.
func restChange(now *plan.Plan) string {
	n, left := 0, 0
	for _, sn := range now.Nests {
		for _, u := range sn.Units {
			left += len(u)
		}
		for _, u := range sn.Nest.Used {
			if u.Stick >= len(sn.Rests) {
				n++
			}
		}
	}
	switch {
	case left == 0:
		return ""
	case n == 0:
		return fmt.Sprintf("the %d pieces to cut fit on what is in work", left)
	}
	return fmt.Sprintf("%d pieces to cut, %s still to take", left, text.Count(n, "stick"))
}

// cause words an event that calls for a new plan; "" for one that does not.
func cause(w work.What, j *job.Job, undone bool) string {
	switch x := w.(type) {
	case work.Spoiled:
		if undone {
			return fmt.Sprintf("%s-%d is good after all", text.Clean(x.Mark), x.Unit)
		}
		return fmt.Sprintf("%s-%d was spoiled", text.Clean(x.Mark), x.Unit)
	case work.Loaded:
		tape := measure.Sixteenths
		if j != nil {
			tape = j.Tape
		}
		return fmt.Sprintf("%s measured %s", text.Clean(x.Stick), tape.Print(x.Length))
	}
	s := Tell(w, j)
	if undone {
		s = "taken back: " + s
	}
	return s
}

// addCause keeps why the next plan is made.
func (m *Model) addCause(s string) {
	if s != "" && !slices.Contains(m.causes, s) {
		m.causes = append(m.causes, s)
	}
	if len(m.causes) > 3 {
		m.causes = m.causes[len(m.causes)-3:]
	}
}
