package plan

import (
	"fmt"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/seam"
)

// Bead is the scrap that is put aside for the test beads: a piece of the same wall as most of the weld runs on.
type Bead struct {
	Section string
	Stick   string         // of which it is left; "": none of the job's sticks leaves as much
	Left    measure.Length // what is left of that stick
	Take    measure.Length // what the beads take, one for each day's start
	Kept    bool           // it would have gone back on the shelf, and is so much shorter now
}

// words it for the worker.
func (b Bead) words(tape measure.Tape) string {
	take := tape.Print(b.Take)
	switch {
	case b.Stick == "":
		return fmt.Sprintf("test bead: none of the sticks leaves %s of %s; have scrap of the same wall ready before the first arc", take, b.Section)
	case b.Kept:
		return fmt.Sprintf("test bead: %s is put aside from the drop of %s (%s), which goes back on the shelf so much shorter", take, b.Stick, tape.Print(b.Left))
	}
	return fmt.Sprintf("test bead: %s is put aside from the scrap of %s (%s)", take, b.Stick, tape.Print(b.Left))
}

// reserve finds the scrap for the test beads: the shortest that is long enough, scrap before a drop that is worth keeping.
func (p *Plan) reserve() {
	w := p.Weld
	if w == nil || w.ScrapMM <= 0 || len(w.Layout.Seams) == 0 {
		return
	}
	length := map[string]float64{}
	for _, s := range w.Layout.Seams {
		if s.Skipped == "" && !s.TackOnly {
			length[p.thinner(s)] += s.WeldMM
		}
	}
	b := &Bead{Take: measure.FromMM(w.ScrapMM) * measure.Length(max(1, len(w.Days)))}
	for _, s := range p.Job.Sections { // in their order, so that the same job gives the same answer
		if b.Section == "" && length[s.Name] > 0 || length[s.Name] > length[b.Section] {
			b.Section = s.Name
		}
	}
	for si, sn := range p.Nests {
		if sn.Section != b.Section {
			continue
		}
		for ui, u := range sn.Nest.Used {
			kept := p.Job.Saw.KeepGiven && u.Drop >= p.Job.Saw.Keep
			if u.Drop < b.Take+p.Job.Saw.Kerf || b.Stick != "" && (kept && !b.Kept || kept == b.Kept && u.Drop >= b.Left) {
				continue
			}
			b.Stick, b.Left, b.Kept = p.StickName(si, ui), u.Drop, kept
		}
	}
	p.Bead = b
	p.note("%s", b.words(p.Job.Tape))
}

// thinner names the section of the thinner of a seam's two walls.
func (p *Plan) thinner(s seam.Seam) string {
	k := 0
	if s.WallMM[1] < s.WallMM[0] {
		k = 1
	}
	return p.Frame.Members[s.Members[k]].Section.Name
}
