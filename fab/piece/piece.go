package piece

import (
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
)

// Slope is the plane of an end cut as the piece lies: x = x0 + SY*y + SZ*z, x along the piece, y over the depth from its
// bottom edge up, z over the width, y and z right-handed with x.
type Slope struct{ SY, SZ float64 }

// End is one end of a piece in the numbers of the contract's 'Ends'.
type End struct {
	MiterDeg float64 // from square, seen on the face Across; positive where the tip is at its bottom edge
	Across   string  // depth | width
	BevelDeg float64 // lean of the blade against that face; 0 where the cut leans across one pair of faces only
	Slope    Slope
	Kind     frame.EndKind
	Then     []End    // what is cut after the saw has cut the piece off the stick: the cuts of a point, one by one
	OneTip   bool     // of a point: its cuts all lean across one face and begin at one tip on it ...
	TipMM    float64  // ... so high over that face's bottom edge
	SwingDeg float64  // for a saw that only swings: the one swing that makes the cut ...
	RollDeg  float64  // ... with the piece rolled by so much about its axis from lying on its across face
	Template bool     // it is cut, or finished, to a printed template: a saddle, a cope, a cut that the saw cannot make
	Notes    []string // cope, saddle: what is to be done after the saw's cut
}

// Lay is a way in which the piece may lie on a stick and be the same piece: rolled, or turned end for end.
type Lay struct {
	Left, Right Slope
	RollDeg     int  // 0 90 180 270, after the turn
	Turned      bool // end for end, the across face's bottom edge staying at the bottom
}

// Mark is one mark to be laid out on a piece: the two edges of what lands there, or a hole's centre (AtMM = ToMM). All run
// from the tip of the first end, tape hooked once, with the piece lying as its end numbers say: its across face towards
// you.
type Mark struct {
	AtMM, ToMM float64
	Face       string // depth | width: the face that it is on
	Side       string // front (towards you), back, top, bottom
	What       string
	Member     string   // whose place it is; "" for holes
	For        []string // members of the mark that are laid out so, where not all are
	Hangs      Tip      // the tip from which the job gives its place
	Vent       bool
}

// Tip is one of a piece's two tips, as it is shown.
type Tip string

// Tips. A place that hangs on none follows from where the neighbour stands.
const (
	NoTip     Tip = ""
	FirstTip  Tip = "first"
	SecondTip Tip = "second"
)

// other gives the other tip.
func (t Tip) other() Tip {
	switch t {
	case FirstTip:
		return SecondTip
	case SecondTip:
		return FirstTip
	}
	return NoTip
}

// AsMeasured gives the piece as one of it is cut that was measured in its place. Holes, and neighbours whose place the job
// gives on this piece (at = "NAME@24in"), keep their distance from the tip that it is given from. Where else a neighbour
// lands, its own other end decides, and what the welding has done to that; such a place stays as drawn and says so. So do
// the places of this piece on its neighbours: they stand when it is measured, and it goes where it was measured.
func (p *Piece) AsMeasured(length measure.Length) Piece {
	out := *p
	more := (length - p.Length).MM()
	out.Length, out.MarksOut = length, append([]Mark(nil), p.MarksOut...)
	if more == 0 {
		return out
	}
	for i := range out.MarksOut {
		m := &out.MarksOut[i]
		switch {
		case m.Hangs == SecondTip:
			m.AtMM, m.ToMM = clear(m.AtMM+more), clear(m.ToMM+more)
		case m.Hangs == NoTip && !m.Vent:
			m.What = "as drawn, mark it where it lands: " + m.What
		}
	}
	sortMarks(out.MarksOut)
	return out
}

// Piece is one line of the cut list.
type Piece struct {
	Mark     string
	Hand     string // "", left, right
	Mirror   string // mark of the other hand, where the job has it
	Section  string
	Qty      int
	Length   measure.Length // tip to tip
	Ends     [2]End
	Across   string // face on which the ends are seen, as far as one serves for both
	Members  []string
	Indices  []int // the same in the frame; empty for loose pieces
	MarksOut []Mark
	Holes    []frame.Hole
	MassKG   float64        // of one
	Lays     []Lay          // every way to lie, the plain one first
	Way      frame.Motion   // how the first of Indices lies as the piece is shown; where it is turned, the first end is that member's second
	Over     measure.Length // cut to fit: reserved beyond Length
	CutFit   string         // why it is better cut to fit
	Same     string         // pieces of one word come from one stick
	Where    job.Where
}
