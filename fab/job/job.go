package job

import (
	"strings"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// Where is the place of a table or a key in the job file.
type Where struct {
	File   string
	Line   int
	Column int
	Key    string           // dotted path: rectangle[2].width
	given  *[]text.KeyPlace // where the table's keys stand; nil where it was not read
}

// In is the place of a key of this table, of the first of them that is given. Where none is it is the table's, under the
// name of the first.
func (w Where) In(keys ...string) Where {
	for _, key := range keys {
		if p := w.find(key); p != nil {
			return Where{File: p.File, Line: p.Line, Column: p.Column, Key: w.Key + "." + key}
		}
	}
	if len(keys) > 0 {
		w.Key += "." + keys[0]
	}
	return w
}

// Cut is the key of this table from which the end cuts of what it makes come.
func (w Where) Cut() Where {
	switch table, _, _ := strings.Cut(w.Key, "["); table {
	case "rectangle":
		return w.In("corner")
	case "crossbars":
		return w.In("set", "on")
	case "posts":
		return w.In("to")
	case "legs":
		return w.In("surface", "length")
	}
	return w.In("ends")
}

// Size is the key of this table from which the length of what it makes comes.
func (w Where) Size() Where {
	switch table, _, _ := strings.Cut(w.Key, "["); table {
	case "rectangle", "piece":
		return w.In("length")
	case "crossbars":
		return w.In("on")
	case "legs":
		return w.In("length", "surface")
	}
	return w.In("to")
}

// Has tells whether a key of this table is given.
func (w Where) Has(key string) bool { return w.find(key) != nil }

func (w Where) find(key string) *text.KeyPlace {
	if w.given == nil {
		return nil
	}
	base, _, _ := strings.Cut(key, "[") // sizes[2] stands in sizes
	for i := range *w.given {
		if p := &(*w.given)[i]; p.Key == base {
			return p
		}
	}
	return nil
}

// Problem makes a problem at this place.
func (w Where) Problem(severity text.Severity, code, message string) text.Problem {
	return text.Problem{Code: code, Severity: severity, File: w.File, Line: w.Line, Column: w.Column, Key: w.Key, Message: message}
}

// Job is one job file, with the shop file's tables under it.
type Job struct {
	Title    string
	Units    measure.Unit
	Tape     measure.Tape
	Currency string

	Sections     []Section // in the order of the file
	OnHand       []OnHand
	Saw          Saw
	Rectangles   []Rectangle
	Crossbars    []Crossbars
	Posts        []Posts
	Legs         []Legs
	Surfaces     []Surface
	Members      []Member
	Pieces       []Piece
	Plates       []Plate
	Items        []Item
	Welder       *Welder  // nil: the job has no [welder]
	Welders      []Welder // further machines of the shop file, by name
	Joints       []Joint
	Sequence     Sequence
	Loads        []Load
	Supports     []Support
	Combinations []Combination
	Check        Check
	Bolts        []Bolts
	Lift         Lift
	Paint        Paint
	Labour       Labour
	Quote        Quote
	Access       Access
}

// Section finds the section of that name.
func (j *Job) Section(name string) (*Section, bool) {
	for i := range j.Sections {
		if j.Sections[i].Name == name {
			return &j.Sections[i], true
		}
	}
	return nil, false
}

// Finish is the state of the steel's skin as bought.
type Finish string

// Finishes.
const (
	Scale      Finish = "scale"
	Oiled      Finish = "oiled"
	Primed     Finish = "primed"
	Galvanised Finish = "galvanised"
	Bright     Finish = "bright"
)

// Section is a [section.NAME]: what pieces are made of.
type Section struct {
	Where
	Name     string
	Shape    string // rect-tube square-tube round-tube pipe angle channel flat round-bar square-bar
	Size     string // as written
	Grade    string // "": the usual one of the shape
	Finish   Finish
	TubeSeam string // any | inside
	Sticks   []Stick
	PriceFt  measure.Money // for a foot; 0: none
	PriceKG  measure.Money
	PriceCwt measure.Money // for a hundredweight of 100 lb
	Try      []string      // other sizes to compare
}

// Stick is one length as the yard sells it.
type Stick struct {
	Length measure.Length
	Price  measure.Money
	Priced bool
	Limit  int // <0: as many as wanted

	Supplier string   // who sells it; "": nobody is named
	Date     book.Day // of the price; 0: not told
	Book     int      // line of the price book that the price was taken from; 0: the job's own
	Least    int      // sticks from which on that price holds; 0 or 1: no least
}

// OnHand is an [[on_hand]]: drops and sticks already in the shop.
type OnHand struct {
	Where
	Section string
	Length  measure.Length // tip to tip
	Ends    [2]float64     // numbers of the contract's 'Ends'; 0 for square
	Qty     int
	Price   measure.Money
	Priced  bool
}

// Saw is the [saw].
type Saw struct {
	Where
	Kerf       measure.Length
	KerfGiven  bool // false: the plain default, and the plan says so
	Trim       measure.Length
	TrimEnd    measure.Length
	Grip       measure.Length
	Swing      [2]float64 // least and greatest, degrees from square; meaningful where SwingGiven
	SwingGiven bool
	ReadsBlade bool // the scale shows 90 at a square cut
	Tilts      bool
	CapacityH  measure.Length // height at square; 0: no limit
	CapacityW  measure.Length // width at square
	StopMax    measure.Length // 0: no limit
	Keep       measure.Length
	KeepGiven  bool
	Haul       measure.Length // 0: no limit
	YardTrim   measure.Length
	YardCut    measure.Money
	GangCut    int // sticks cut in one bundle; 0 or 1: one at a time
}

// Plane is the plane in which a rectangle lies.
type Plane string

// Planes.
const (
	XY Plane = "xy"
	XZ Plane = "xz"
	YZ Plane = "yz"
)

// Rectangle is a [[rectangle]]: a closed frame.
type Rectangle struct {
	Where
	Name    string
	Section string
	Length  measure.Length // along the first axis of its plane
	Width   measure.Length // along the second
	Plane   Plane
	At      [3]measure.Length // outer low corner
	Above   string            // a rectangle that this one stands over; "" where At counts
	Clear   measure.Length    // clear height over it
	Corner  string            // mitre | butt-long | butt-short | posts | cope
	Flat    bool              // stand = "flat"
	Heel    string            // out-bottom out-top in-bottom in-top
	Inside  bool              // sizes = "inside"
}

// Crossbars is a [[crossbars]]: bars between two opposite sides of a rectangle. Exactly one of Count, Spacing, Gap, At
// is set.
type Crossbars struct {
	Where
	On      string
	Section string
	Count   int
	Spacing measure.Length
	Gap     measure.Length
	At      []measure.Length
	Run     string // width | length
	Flat    bool
	Set     string // bottom | centre | top
	Offset  measure.Length
	Fit     measure.Length
}

// Spots says where uprights stand on a rectangle. Exactly one way is used.
type Spots struct {
	Corners       bool
	InsideCorners bool
	Points        [][2]measure.Length // centres, from the rectangle's own low corner
	PerSide       int
}

// Posts is a [[posts]]: uprights between two rectangles, or through several.
type Posts struct {
	Where
	From    string
	To      string
	Section string
	Through bool
	At      Spots
	Inset   measure.Length
}

// Legs is a [[legs]]: uprights from a rectangle down to a surface, or of one length.
type Legs struct {
	Where
	Under      string
	Section    string
	Surface    string         // "" where Length counts
	Length     measure.Length // square feet
	At         Spots
	Inset      measure.Length
	Pad        string // name of a plate under each
	Clear      measure.Length
	ClearGiven bool
	Over       measure.Length // one foot left long for scribing: cut to fit
}

// Surface is a [surface.NAME]: what legs stand on. Exactly one of arc, points or level.
type Surface struct {
	Where
	Name     string
	Chord    measure.Length
	Rise     measure.Length
	Centre   measure.Length
	Top      measure.Length
	TopGiven bool
	Points   [][]measure.Length // [y z] or [x y z]
	Smooth   string             // circle | cylinder | spline; "" chosen by what is measured
	Level    measure.Length
	IsLevel  bool
	Slope    float64 // degrees, rising along x
}

// Place is a point in space: given outright, or a place on a named member ("lower.x1@24in").
type Place struct {
	Point      [3]measure.Length
	On         string // member's name; "" where Point counts
	Along      measure.Length
	AlongGiven bool // false: nearest end or middle, as the geometry says
}

// Member is a [[member]]: a centre line in space.
type Member struct {
	Where
	Name    string
	Section string
	From    Place
	To      Place
	Roll    float64        // degrees about its own axis from 'depth upright', right-handed from From to To
	Ends    [2]string      // auto square mitre butt point cope level plumb free
	Over    measure.Length // cut to fit: reserve
	Lap     bool           // may run through others without a joint
	Holes   []Hole
}

// Hole is a hole in a member or plate.
type Hole struct {
	At      [2]measure.Length // along the member; in a plate x, y
	Face    string            // depth | width (the face it is drilled into); "" for a plate
	Size    measure.Length
	Through bool
}

// Piece is a [[piece]]: a loose piece, outside the model.
type Piece struct {
	Where
	Mark      string
	Section   string
	Length    measure.Length // tip to tip
	Qty       int
	Ends      [2]float64
	Across    string // depth | width
	Over      measure.Length
	Holes     []Hole
	SameStick string // pieces of one name must come from one stick
}

// Plate is a [[plate]]: pads, gussets, tabs, caps.
type Plate struct {
	Where
	Name  string
	Size  [3]measure.Length // length x width x thickness
	At    []string          // places or members that it belongs to
	Qty   int               // where it belongs to none
	Holes []Hole
	Grade string
	Price measure.Money
}

// Item is an [[item]]: a bought part.
type Item struct {
	Where
	Name   string
	Qty    int
	MassKG float64
	Price  measure.Money
	Priced bool
	At     []string // members it sits on; "" none
}

// Joint is a [[joint]]: an exception to what the geometry and the welder say.
type Joint struct {
	Where
	Between  []string // two members by name or mark
	Sides    int      // so many, the easiest first; 0: all
	Facing   []Name   // or those that face so (Facings); nil: all
	Fillet   measure.Length
	Passes   int
	Pattern  string // "2-6": intermittent, length-pitch
	Gap      measure.Length
	GapGiven bool
	Dress    bool
	Kind     string // "": found; lap | ...: how the members meet
	Tack     bool   // tacks only
}
