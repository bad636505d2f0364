package plan

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
)

// ToFit is a piece that is cut to fit and not cut yet.
type ToFit struct {
	Name     string // D-1
	Piece    *piece.Piece
	Unit     int
	Measured measure.Length // as the record has it; 0 where it was not measured yet
	WaitsFor string         // what has to stand before it can be measured
}

// ToFit gives the pieces that are cut to fit and, as the record stands, not cut yet.
func (p *Plan) ToFit(state *work.State) []ToFit {
	var out []ToFit
	if p.Failed() {
		return nil
	}
	near := p.neighbours()
	for i := range p.Pieces {
		x := &p.Pieces[i]
		for u := 1; u <= x.Qty && x.Over > 0; u++ {
			if state != nil && state.IsCut(x.Mark, u) {
				continue
			}
			l, _ := measuredOf(state, x, u)
			out = append(out, ToFit{fmt.Sprintf("%s-%d", x.Mark, u), x, u, l, p.waitsFor(x, u, near)})
		}
	}
	return out
}

// FitEntry reads what a worker enters for a piece that is cut to fit: a length, or the piece's name and a length
// ("D-2 20-3/8", "D-2=20-3/8"). asked is the piece meant where none is named, nil for none.
func (p *Plan) FitEntry(entry string, list []ToFit, asked *ToFit) (work.Fitted, error) {
	entry = strings.TrimSpace(entry)
	name, length, named := strings.Cut(strings.Replace(entry, "=", " ", 1), " ")
	at := asked
	for i := range list {
		if named && list[i].Name == name {
			at, entry = &list[i], strings.TrimSpace(length)
		}
	}
	if at == nil {
		return work.Fitted{}, fmt.Errorf("%q names no piece that is still to be fitted; write one of %s and its length, such as %s=%s", text.Clean(entry), fitNames(list), list[0].Name,
			p.Job.Tape.Print(list[0].Piece.Length))
	}
	l, err := measure.ParseLength(entry, p.Job.Units)
	if err == nil {
		err = CheckFit(at.Piece, l, p.Job.Tape)
	}
	return work.Fitted{Mark: at.Piece.Mark, Unit: at.Unit, Length: l}, err
}

func fitNames(list []ToFit) string {
	var names []string
	for _, f := range list {
		names = append(names, f.Name)
	}
	return text.List(names)
}
