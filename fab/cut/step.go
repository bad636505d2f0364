package cut

import (
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

// Op is what is done in a step.
type Op string

// The operations of the queue.
const (
	Load  Op = "load"  // put the stick in the saw; its measured length may be entered here
	Trim  Op = "trim"  // make a fresh end: the stick's first end, or the next piece's where its plane is another one
	Prove Op = "prove" // a new swing: cut scrap, flip it, halve the gap
	Part  Op = "part"  // the yard's rough cut, told where
	Cut   Op = "cut"   // a piece comes off
)

// Bundle is the sticks of one section with what the queue needs to know of its pieces.
type Bundle struct {
	Section string
	Problem nest.Problem
	Nest    nest.Nest
	Marks   []string       // of each kind
	Ends    [][2]float64   // the two numbers of each kind
	Faces   []nest.Face    // the face across which they are seen
	InWork  int            // so many of the problem's first sticks are in work: they are cut on first, the latest before the others
	Round   bool           // of round section: its tips lie on a circle
	Flips   bool           // the section is the same after half a roll: a cut to the other side needs no new swing
	Depth   measure.Length // of the section
	Width   measure.Length
	AreaMM2 float64 // of metal in a square cut
	Units   [][]int // of each kind: the numbers of its pieces, in the order in which they are to be cut; nil: 1, 2, 3 ...
	Waits   []bool  // of each kind: its length is still to be measured, so that it is cut last of all; nil: none
}

// Saw is what the queue needs to know of the saw.
type Saw struct {
	Kerf        measure.Length
	Limited     bool    // it swings within Least and Most only
	Least, Most float64 // degrees from square
	Tilts       bool
}

// Rates are the times of the work at the saw.
type Rates struct {
	FeedMM2S  float64 // metal sawn, mm2 a second
	LoadS     float64 // a stick into the saw
	SwingS    float64 // a new swing, without its proof
	ProveS    float64 // cut scrap, flip, halve the gap
	StopS     float64 // a new stop
	HandleS   float64 // each cut: advance, clamp, take off
	PatternS  float64 // measuring the first of a mark
	MarkoutS  float64 // marking a line by hand where no stop is used
	StopMaxMM float64 // 0: any length
}

// UsualRates are the rates of a small bandsaw (common practice: a 4 x 6 in horizontal saw takes about a square inch of
// mild steel a minute; the handling times are round figures that the shop replaces by its own).
func UsualRates() Rates {
	return Rates{FeedMM2S: 645.16 / 60, LoadS: 60, SwingS: 45, ProveS: 180, StopS: 30, HandleS: 30, PatternS: 45, MarkoutS: 30}
}

// Step is one line of the queue.
type Step struct {
	Number   int
	Section  string
	Stick    int // number of the stick in the queue, from 1
	Used     int // index into the bundle's Nest.Used
	Bundle   int // index of the bundle
	Cut      int // index into that stick's Cuts; -1 where none
	Op       Op
	Mark     string
	Unit     int
	SwingDeg float64
	TiltDeg  float64 // of the blade, for a compound cut on a saw that tilts
	WedgeDeg float64 // or the roll of the stick on wedges, for a compound cut on a saw that only swings
	RollDeg  int
	Turned   bool
	Stop     measure.Length // tip to tip of this piece
	Near     measure.Length // from the fresh end's tip to the line, on the near edge
	Far      measure.Length
	Measure  string         // tip-tip | tip-heel | heel-tip: from which point of the fresh end to which of the line
	Edge     string         // near | far: the edge on which Measure runs
	Offset   measure.Length // lean of the line across the face; the sign of the swing
	Face     nest.Face
	Pattern  bool
	Slack    measure.Length
	Length   measure.Length // of the stick as the plan takes it, at load and part
	EstS     float64
	Flipped  bool // the stick lies half a turn from how the nest has it
	Flip     bool // it is rolled half a turn before this step
	NewSwing bool
	NewStop  bool
	Waits    bool   // for a length that is still to be measured: it comes after all that can be cut now
	WaitsFor string // what has to stand before the length can be measured; filled in by who knows the frame
	Again    bool   // of a load: the stick was in the saw before, this is what is left of it
	// Of a cut: the piece's tips along the stick, and the planes of its two ends.
	From, To    measure.Length
	Left, Right nest.Plane
}

// Queue is the whole way through the saw.
type Queue struct {
	Steps      []Step
	Swings     int // times the swing is set
	Stops      int // times the stop is set
	LeastStops int // no order can do with fewer: the different lengths
	LeastSwing int // the different swings
	EstS       float64
}
