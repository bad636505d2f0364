package paint

import (
	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
)

// Sheet is the paint of a job: what is covered, with what, how much is bought, in what order and when.
type Sheet struct {
	Spec     *job.Paint
	Frames   int     // so many frames are painted together; areas, litres and cans are of all of them
	Areas    []Area  // by section, then plates
	AreaM2   float64 // to be painted, the extra share included
	Prep     []Prep  // by finish of the steel
	Coats    []Coat  // in the order in which they are laid; empty where nothing is painted
	Zinc     *Zinc   // hot-dip galvanising after welding; nil for none
	Ends     []End   // tube ends that stay open in the geometry
	Sealed   []Sealed
	Traps    []string // where water would stand, in words
	Strips   int      // ends that stand out over what they butt on: closed with a welded strip
	Caps     int      // ends that get a plug or a cap
	CapCost  measure.Money
	Steps    []Step // the calendar, from the moment when the frame is ready for paint
	Hours    float64
	Work     []Work  // time of the hands, for the hours of the job
	PowerS   float64 // of the preparation: with powered tools
	MassKG   float64 // of the dry film, or of the zinc, of one frame
	PerMM2KG float64 // the same for a mm2 of covered skin
	Cover    []Cover // share of each member, for the weight as hoisted
	Thinner  float64 // litres
	Cost     measure.Money
	Unpriced []string // what has no price
	Cautions []string
	Figures  []figure.Figure
}

// Area is what one section's members (or the plates) show to the air.
type Area struct {
	Name     string  // of the section; "plates"
	SkinM2   float64 // outside skin between the cuts
	EndsM2   float64 // of ends that stay open, or are capped with steel
	ClosedM2 float64 // taken off: contact faces of side on end and side on side
	LooseM2  float64 // of loose pieces
	M2       float64
	Finish   job.Finish
}

// Prep is the preparation of the surface of steel of one finish.
type Prep struct {
	Finish   job.Finish
	Grade    string // SSPC-SP 3 (St 3)
	Sections []string
	M2       float64
	Do       string
	Own      bool // the job's own choice
}

// Coat is one paint in one go.
type Coat struct {
	Spec       *job.Coat
	Key        string // primer | top
	Name       string
	Coats      int
	Method     string
	Loss       float64
	AreaM2     float64
	CoverM2L   float64 // theoretical, as applied
	PracM2L    float64 // after loss
	Litres     float64 // of paint, thinner not counted
	ThinL      float64
	WetMM      float64
	DryKG      float64
	Cans       []Buy // whole cans, the cheapest cover; empty where no size is given
	BoughtL    float64
	Cost       measure.Money
	Priced     bool
	UsedCost   measure.Money // the share of the money that the litres used stand for
	CanOptimal bool          // no other set of cans costs less
}

// Buy is so many cans of a size.
type Buy struct {
	Size   string
	Litres float64
	Qty    int
	Price  measure.Money // of one
	Cost   measure.Money
}

// Zinc is hot-dip galvanising.
type Zinc struct {
	AreaM2  float64 // inside and outside
	Microns float64 // mean coating, the least over the sections
	KG      float64 // of zinc, one frame
	SteelKG float64
	Cost    measure.Money
	Priced  bool
}

// End is a tube end that no neighbour closes.
type End struct {
	Member string
	End    int // 0 at its start, 1 at its far end
	Up     bool
	OpenM2 float64
	Partly bool   // a neighbour covers some of it
	Gets   string // capped (a plug) | welded (a cap) | strip (of steel, welded over what is bare) | open
}

// Sealed is a tube that its neighbours or caps close all round: no air gets in.
type Sealed struct {
	Member  string
	VolumeL float64
	Vent    Hole // where it is galvanised: what each of its ends needs; zero else
	Has     int  // vent holes that the frame has in it already
}

// Hole is a vent and drain hole by the galvanising table.
type Hole struct {
	MM     float64 // diameter of each
	Each   int     // holes at each end
	Source string
}

// Step is one entry of the paint calendar. Times are hours from the start, day 1 being the first working day.
type Step struct {
	What   string
	Work   bool // hands are at it; else it dries
	StartH float64
	EndH   float64
	Day    int     // day on which it starts, from 1
	AtH    float64 // hours into that working day
}

// Work is time of the hands at the paint.
type Work struct {
	Kind    string // surface | set-up | coat | caps
	Name    string
	Seconds float64
	Shared  bool // does not grow with the number of frames
	Pace    job.Pace
	Amount  float64 // m2 or pieces
	EachS   float64
	From    string
}

// Cover is the skin of a member, for the weight of what covers it.
type Cover struct {
	Member string
	KG     float64
}
