package seam

import (
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/space"
)

// Type is the type of a weld, in the terms of AWS A3.0 (ISO 2553 in brackets).
type Type string

// Types.
const (
	Fillet        Type = "fillet"         // inside corner (fillet weld)
	SquareGroove  Type = "square groove"  // flush faces (square butt weld)
	OutsideCorner Type = "outside corner" // two faces that lean away (corner joint, fillet weld on the edge)
	FlareBevel    Type = "flare bevel"    // a tube's round corner against a face
	Bevel         Type = "bevel"          // a wide inside corner, near flush (single-bevel butt weld)
)

// Position is how a seam lies, in the terms of AWS A3.0.
type Position string

// Positions.
const (
	Flat       Position = "flat"
	Horizontal Position = "horizontal"
	Vertical   Position = "vertical"
	Overhead   Position = "overhead"
)

// Pattern is an intermittent weld: beads of Length, Pitch from centre to centre; the zero value is a continuous one.
type Pattern struct {
	LengthMM, PitchMM float64
}

// Seam is one seam.
type Seam struct {
	ID          string // J3.2
	Joint       int    // index into Layout.Joints
	Members     [2]int
	From, To    space.Vec
	Out         space.Vec // where the torch looks from
	LengthMM    float64   // of the edge
	WeldMM      float64   // of weld metal laid: less than LengthMM with a pattern
	Beads       int       // separate beads of the pattern; 1 for a continuous seam
	Pattern     Pattern
	Type        Type
	DihedralDeg float64
	LegMM       float64    // fillet: leg; groove types: the depth (of the thinner wall, or the flare's fill)
	ThroatMM    float64    // effective throat that may be counted on
	GapMM       float64    // root gap
	WallMM      [2]float64 // thickness of the two members there
	RadiusMM    float64    // flare: outside corner radius
	Passes      int
	Dress       bool // ground flush afterwards
	TackOnly    bool
	Finish      job.Finish // the dirtier of the two members' finishes
	Stage       int        // index into Layout.Stages
	Position    Position   // at that stage
	Tight       string     // what stands in the torch's way, in words; "" nothing
	Blocker     int        // the member that stands straight before it when all is in; -1 none
	blockedAt   float64    // how far out, mm
	Early       string     // "before upper.bar3 is set": no torch reaches it afterwards; "" it waits for no such thing
	Round       bool
	CoveredBy   []int    // members that come to stand on it: it is welded and dressed flush before they are fitted
	Before      []int    // joints of the same stage that are fitted only after it
	Faces       []string // the words for the side of the joint that it lies on, as [[joint]] sides has them
	Skipped     string   // why it is not welded at all; "" where it is
}

// Middle of the seam.
func (s Seam) Middle() space.Vec { return s.From.Lerp(s.To, 0.5) }

// Joint is one joint with its seams.
type Joint struct {
	ID      string
	Members []string
	Index   []int // of the members in the frame
	Kind    string
	At      space.Vec
	Seams   []int
	Stage   int // in which it is fitted and tacked
	Tacks   int // how many
	TackAt  []space.Vec
	Lap     bool
	LeftOut []Seam   // not welded, because the job says which sides are; Skipped says so
	ToFit   []string // members of it that are cut to fit: set when the others of its stage are tacked, since they are measured between them
	Again   bool     // a member that is already being set at this place meets a further one: quick to fit
}

// StageKind says what a stage is.
type StageKind string

// Stages.
const (
	Bench  StageKind = "bench"  // a sub-frame flat on the bench
	Joined StageKind = "joined" // put together, standing as drawn
	Over   StageKind = "over"   // turned over
)

// Stage is one way in which (a part of) the frame lies while it is welded.
type Stage struct {
	Kind   StageKind
	Name   string    // for the worker: "lower, flat on the bench"
	Key    string    // short, for [sequence]: "lower", "joined", "turned over"
	Group  string    // the sub-frame; "" the whole
	Up     space.Vec // the frame's direction that points up in this stage
	Turn   bool      // it begins with turning the frame over
	Joints []int     // fitted and tacked in it
	Seams  []int     // welded in it
	Body   int       // connected part of the frame that it belongs to
	After  []int     // stages that must be over before it begins
}

// Layout is the weld work of a frame.
type Layout struct {
	Joints    []Joint
	Seams     []Seam
	Stages    []Stage
	Turns     int                 // stages that begin with a turn
	Reordered bool                // the stages stand in the worker's order
	Marks     map[string][]string // members of each mark, where [sequence] may name marks
	Bars      []Bar               // every member of the frame, by its index
}
