package saw

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// fitting is a piece that is cut to fit and not cut yet.
type fitting struct {
	name  string // D-1
	piece *piece.Piece
	unit  int
}

// cutToFit tells whether the job has anything that is cut to fit.
func cutToFit(d *station.Desk) bool {
	if d.Plan == nil || d.Plan.Failed() {
		return false
	}
	for i := range d.Plan.Pieces {
		if d.Plan.Pieces[i].Over > 0 {
			return true
		}
	}
	return false
}

// toFit gives the pieces that are cut to fit and not cut yet, and which of them is asked for first: one that is not
// measured yet, else the first.
func (s *Saw) toFit(d *station.Desk) (list []fitting, first int) {
	first = -1
	for i := range d.Plan.Pieces {
		x := &d.Plan.Pieces[i]
		for u := 1; u <= x.Qty && x.Over > 0; u++ {
			if d.Work.IsCut(x.Mark, u) {
				continue
			}
			if _, known := d.Work.Fit(x.Mark, u); !known && first < 0 {
				first = len(list)
			}
			list = append(list, fitting{fmt.Sprintf("%s-%d", x.Mark, u), x, u})
		}
	}
	return list, max(first, 0)
}

// fit asks for the measured length of a piece that is cut to fit. Another one than the one asked for is named before its
// length: D-2 20-3/8.
func (s *Saw) fit(d *station.Desk, st *cut.Step) []station.Intent {
	list, first := s.toFit(d)
	if len(list) == 0 {
		return []station.Intent{station.Say{Text: "every piece that is cut to fit is cut"}}
	}
	for i, f := range list {
		if st.Op == cut.Cut && f.piece.Mark == st.Mark && f.unit == st.Unit {
			first = i
		}
	}
	at, tape := list[first], d.Plan.Job.Tape
	help := fmt.Sprintf("tip to tip, measured where it goes: drawn %s, at most %s", tape.PrintLong(at.piece.Length), tape.PrintLong(plan.Reserved(at.piece)))
	if len(list) > 1 {
		other := list[(first+1)%len(list)]
		help += fmt.Sprintf("; for another one name it first: %s %s", other.name, tape.Print(other.piece.Length))
	}
	return []station.Intent{station.Ask{
		Prompt: "measured length of " + at.name + ":", Help: help,
		Done: func(word string) ([]station.Intent, error) {
			at, word := at, strings.TrimSpace(word)
			for _, f := range list {
				if rest, ok := strings.CutPrefix(word, f.name+" "); ok {
					at, word = f, strings.TrimSpace(rest)
				}
			}
			l, err := measure.ParseLength(word, d.Plan.Job.Units)
			if err == nil {
				err = plan.CheckFit(at.piece, l, tape)
			}
			if err != nil {
				return nil, err
			}
			return write(work.Fitted{Mark: at.piece.Mark, Unit: at.unit, Length: l}), nil
		}}}
}

// waiting are the lines for a piece that waits for its measured length.
func (s *Saw) waiting(d *station.Desk, st *cut.Step, w int) []string {
	l, tape := d.Look, d.Plan.Job.Tape
	say := []string{
		"cut to fit: it waits for " + text.Clean(st.WaitsFor),
		"then measure it where it goes, tip to tip, and press m to enter the length; the sticks are planned anew with it",
		fmt.Sprintf("%s lies reserved for it; until then everything else is cut", tape.PrintLong(st.Stop)),
	}
	if d.Bare {
		say = say[:2]
	}
	var out []string
	for _, x := range say {
		for _, line := range draw.Wrap(x, w-3) {
			out = append(out, l.Chalk.Render("  "+line))
		}
	}
	return out
}
