package job

import "bench.example/soapstone/fab/measure"

// Name is a name that a table uses, with its place.
type Name struct {
	Where
	Text string
}

// Load is a [[load]]: something that presses on members.
//
//	on       names of members or rectangles, marks of pieces, "NAME bars", "NAME posts", "NAME legs", "NAME sides"
//	load     "20psf" (area), "30plf" (line), "150lb" (point)
//	case     name of the case it belongs to; "live"
//	factor   on all of it; 1
//	at       place of a point load from the member's start ("24in"); its middle where left out
//	from, to stretch of a line or area load along the member; all of it where left out
//	width    of the strip that an area load comes from; where left out half way to the neighbours on either side, and to
//	         the rectangle's outer face at its edge: an area load on a rectangle, or on all its bars, is the load times its
//	         outside area
//	total    true: the point load is shared by all members named, spread along them
//	dir      down up +x -x +y -y +z -z, or [x, y, z]; down
//	rides    true: it is the weight of something that rides along and is accelerated with the frame; so for loads that
//	         point down where left out
type Load struct {
	Where
	On       []Name
	Load     measure.Load
	Case     string
	Factor   float64
	At       measure.Length
	AtGiven  bool
	From, To measure.Length // To 0: to the end
	Width    measure.Length // 0: tributary
	Total    bool
	Dir      [3]float64 // unit
	Rides    bool
}

// Support is a [[support]]: what holds the frame.
//
//	at      members ("lower.leg1", held at its lower end; "lower.x1@24in", held there; "lower.x1", a level member, held
//	        along its whole length at its ends), "NAME legs", "NAME posts", "NAME corners" (the ends of its sides)
//	fix     any of xyzXYZ: along and about the axes; "all"; "xyz" where left out
//	spring  {z = "200N/mm"}: an elastic support along the axes named
//	name    for the list of reactions
type Support struct {
	Where
	At     []Name
	Fix    [6]bool
	Spring [3]float64 // N/mm
	Name   string
}

// Combination is a [[combination]] of cases that act together; without any, each case acts with the weight, and all of
// them together.
//
//	name    of the combination
//	cases   {snow = 1, wind = 0.5}
//	weight  factor on the frame's own weight; 1
//	g       [0.5, 0, 0]: acceleration in g on the frame and on what rides along
//	ride    "49 CFR 393.102(a)(1)" or "(a)(2)": the standard's forward, rearward, sideways and upward factors, each a
//	        combination; forward names the direction that it drives in
//	forward +x -x +y -y; +x
type Combination struct {
	Where
	Name    string
	Cases   []CaseFactor // in the order of the file
	Weight  float64
	G       [3]float64
	Ride    string
	Forward [3]float64
}

// CaseFactor is a case and its factor.
type CaseFactor struct {
	Case   string
	Factor float64
}

// Check is the [check]: what the frame is held to.
//
//	sag        "L/240" or 240: span over the sag allowed; 240
//	k          effective length factor of every member; 1, and 2 for posts and legs, where left out
//	square     "B": class of ISO 13920, A to D, that a squared frame is held to; or a length: how much the two diagonals may differ
//	electrode  70 (ksi): strength of the weld metal; 70
type Check struct {
	Where
	SagOver      float64
	K            float64 // 0: by what the member is
	ElectrodeKSI float64
	SquareClass  string         // A to D; "" where SquareDiff says it
	SquareDiff   measure.Length // the diagonals may differ by so much
}
