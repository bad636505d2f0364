package nest

import "bench.example/soapstone/fab/measure"

// Kind is a sort of piece and how many of it are wanted.
type Kind struct {
	Name   string         // what errors call it: a mark, a line of a list
	Length measure.Length // tip to tip (long point to long point)
	Qty    int
	Lays   []Lay  // the ways in which it may lie, see LaysOf; none: square ends
	Same   string // all pieces of all kinds with the same word come from one stick; empty: no such wish
}

// Stick is a sort of stick that may be used.
type Stick struct {
	Length  measure.Length // tip to tip
	Price   measure.Money  // for one; where no bought stick has a price, money is length
	Limit   int            // how many there are; 0: any number
	OnHand  bool           // a drop or stick in the shop: costs its Price, usually 0, and is not hauled
	Trimmed bool           // its first end is fresh from the saw: no trim is taken
	Ends    []Lay          // its own end planes, in every way it may be loaded; none: square ends
}

// Rules are what the saw, the shop and the yard take. Lengths in nanometres; the zero value of each means none.
type Rules struct {
	Kerf     measure.Length // width of the saw's cut, square to its plane
	Trim     measure.Length // off the first end of every stick, its kerf included
	TrimEnd  measure.Length // left unused at the other end
	Grip     measure.Length // the last piece of a stick and its drop are together no shorter
	Keep     measure.Length // a drop of at least this length goes back on the shelf
	Haul     measure.Length // the yard parts bought sticks so that no part is longer
	YardTrim measure.Length // lost on each side of each parting
	YardCut  measure.Money  // charged for each parting
	Depth    measure.Length // of the section: range of y of the planes
	Width    measure.Length // of the section: range of z of the planes
}

// Problem is a job for Solve.
type Problem struct {
	Kinds  []Kind
	Sticks []Stick
	Rules  Rules
}

// Cut is one piece on a stick.
type Cut struct {
	Kind     int // index into Problem.Kinds
	Unit     int // n-th of its kind, from 1
	From, To measure.Length
	Lay      Lay // how it lies
}

// Used is one stick with its pieces in the order in which they are cut.
type Used struct {
	Stick int // index into Problem.Sticks
	Ends  Lay // how the stick is loaded; zero for square ends
	Cuts  []Cut
	Drop  measure.Length // left after the last piece and its cut, never below 0; where the yard parts it: of the last part
	Slack measure.Length // how much longer the pieces could be before the stick (of its parts the tightest) no longer holds them
	Parts []measure.Length
	Drops []measure.Length // the drops of at least Keep: the drop, and those of parts
}

// Goal is a figure of the nest with its bound.
type Goal struct {
	Value, Bound int64
	Proven       bool
}

// Nest is an answer.
type Nest struct {
	Used []Used

	Priced          bool          // some bought stick has a price; else Cost and BoundCost are lengths in nanometres
	Cost, BoundCost measure.Money // of the sticks and the yard's cuts, and what no nest can go below
	Proven          bool          // no nest costs less

	Bars, BoundBars int // sticks used, and the fewest that any nest of this job needs

	Material Goal // consumed: opened sticks less their drops of at least Keep (nm; lower is better; see Consumed)
	Longest  Goal // longest single drop of at least Keep among the nests of this cost and material (nm; higher is better)

	UsedLength measure.Length   // sum over the sticks of the last tip
	Waste      measure.Length   // sticks less kept drops less the pieces' own mean lengths
	Drops      []measure.Length // that go back on the shelf, longest first
	Patterns   int              // different sticks
}

// Options of Solve.
type Options struct {
	FewPatterns bool       // among equal nests prefer one with fewer different patterns, so that sticks can be cut in a bundle (sought, not proven)
	Progress    func(Nest) // told each better nest or bound, from the first on; on Solve's own goroutine
	Effort      int        // work allowed for material and longest drop, in thousands of search steps; 0: the usual, below 0: none
}
