package weld

import (
	"fmt"
	"strings"
	"time"

	"bench.example/soapstone/fab/seam"
)

// Run is a stretch of the schedule that is done in one go: joints fitted and tacked, seams welded, a turn, a squaring.
type Run struct {
	What  string   // fit and tack | weld | turn | square up
	Items []string // joints, seams, or what is done, in their order
	Stage int
	Start time.Duration
	Arc   time.Duration
	Rest  time.Duration // that the machine rests after it
}

// Runs condenses the schedule to what a worker reads: at most so many joints or seams in a run, a new one wherever the
// machine rests or the stage changes. Cleaning between passes and what the saw does meanwhile are left out.
func (p *Plan) Runs(most int) []Run {
	var runs []Run
	for _, e := range p.Schedule.Entries {
		last := len(runs) - 1
		if e.Task < 0 {
			if last >= 0 {
				runs[last].Rest += e.End - e.Start
			}
			continue
		}
		t := &p.Docket.Tasks[e.Task]
		what, item := "", ""
		switch {
		case e.Kind == Tack:
			what, item = "fit and tack", t.Joint
		case e.Kind.Burns():
			what, item = "weld", t.Seam
		case e.Kind == Turn:
			what, item = "turn", t.What
		case e.Kind == Fit && t.Joint == "":
			what, item = "square up", "measure both diagonals and square the frame before any pass"
		default:
			continue
		}
		if last < 0 || runs[last].What != what || runs[last].Rest > 0 || runs[last].Stage != t.Stage || len(runs[last].Items) >= most {
			runs = append(runs, Run{What: what, Stage: t.Stage, Start: e.Start})
			last++
		}
		r := &runs[last]
		if len(r.Items) == 0 || r.Items[len(r.Items)-1] != item {
			r.Items = append(r.Items, item)
		}
		if e.Kind.Burns() {
			r.Arc += e.End - e.Start
		}
	}
	return runs
}

// Kinds tells the seams of a joint, those of one kind on one line, each seam by its number within the joint and its
// length; with it the arc time of the joint. length prints millimetres.
func (p *Plan) Kinds(j *seam.Joint, length func(mm float64) string) (lines []string, arc time.Duration) {
	var kinds []string
	by := map[string][]string{}
	for _, i := range j.Seams {
		s := &p.Layout.Seams[i]
		short := strings.TrimPrefix(s.ID, j.ID)
		if s.Skipped != "" {
			kinds = append(kinds, short+" not welded: "+s.Skipped)
			continue
		}
		arc += p.Seams[i].Arc
		kind := fmt.Sprintf("%s %s, %s", s.Type, length(s.LegMM), s.Position)
		if s.TackOnly {
			kind = "tacks only"
		}
		if s.Passes > 1 {
			kind += fmt.Sprintf(", %d passes", s.Passes)
		}
		if s.Dress {
			kind += ", ground flush"
		}
		if s.Stage != j.Stage {
			kind += fmt.Sprintf(", in stage %d", s.Stage+1)
		}
		for _, why := range []string{s.Tight, s.Early} {
			if why != "" {
				kind += " (" + why + ")"
			}
		}
		if by[kind] == nil {
			kinds = append(kinds, kind)
		}
		one := short + " " + length(s.WeldMM)
		if s.Beads > 1 {
			one += fmt.Sprintf(" in %d beads", s.Beads)
		}
		by[kind] = append(by[kind], one)
	}
	for _, kind := range kinds {
		if by[kind] != nil {
			kind += ": " + strings.Join(by[kind], ", ")
		}
		lines = append(lines, kind)
	}
	if out := j.NotWelded(); out != "" {
		lines = append(lines, out)
	}
	return lines, arc
}
