package saw

import (
	"fmt"
	"slices"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

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

// fit asks for the measured length of a piece that is cut to fit: of the one in hand, else the first that is not measured
// yet. Another one is named before its length: D-2 20-3/8.
func (s *Saw) fit(d *station.Desk, st *cut.Step) []station.Intent {
	list := d.Plan.ToFit(d.Work)
	if len(list) == 0 {
		return []station.Intent{station.Say{Text: "every piece that is cut to fit is cut"}}
	}
	first := max(0, slices.IndexFunc(list, func(f plan.ToFit) bool { return f.Measured == 0 }))
	for i, f := range list {
		if st.Op == cut.Cut && f.Piece.Mark == st.Mark && f.Unit == st.Unit {
			first = i
		}
	}
	at, tape := &list[first], d.Plan.Job.Tape
	help := fmt.Sprintf("tip to tip, measured where it goes: drawn %s, at most %s", tape.PrintLong(at.Piece.Length), tape.PrintLong(plan.Reserved(at.Piece)))
	if len(list) > 1 {
		other := list[(first+1)%len(list)]
		help += fmt.Sprintf("; for another one name it first: %s %s", other.Name, tape.Print(other.Piece.Length))
	}
	return []station.Intent{station.Ask{
		Prompt: "measured length of " + at.Name + ":", Help: help,
		Done: func(word string) ([]station.Intent, error) {
			e, err := d.Plan.FitEntry(word, list, at)
			if err != nil {
				return nil, err
			}
			return write(e), nil
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
