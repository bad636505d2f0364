package steel

import (
	"bench.example/soapstone/fab/measure"
)

// Spec is a section as the job writes it.
type Spec struct {
	Shape Shape
	Size  string
	Grade string       // "" for the usual one of the shape
	Unit  measure.Unit // of bare numbers in Size
}

// Section is a cross-section with exact dimensions. It is a plain value; two sections are the same where they are equal
// by Same.
type Section struct {
	Shape  Shape
	Size   string // as written
	Depth  measure.Length
	Width  measure.Length
	Wall   measure.Length // nominal wall, thickness of an angle, flat, or a channel's web; 0 for solid bars
	Flange measure.Length // a channel's flange thickness

	OutsideRadius measure.Length // nominal outside corner radius of square and rectangular tube
	InsideRadius  measure.Length // the inside one

	Grade        Grade
	UsualGrade   bool // the grade was left out, and the usual one of the shape taken
	Material     Material
	DesignWallMM float64 // the design wall by B4.2, in mm; the nominal wall where the shape has no other
	designTable  bool    // the design wall stands in the published table

	WallFrom  string // where the wall came from: "as written", "BWG 11 ga", ...
	Published *ChannelSize
}

// Symmetry says which motions lay the section's outline on itself. Coordinates are y (depth) and z (width).
//
// A roll turns a piece about its own axis, so it needs the like turn of the outline. An end-for-end turn is half a turn
// about an axis that lies in the section; the outline is then mirrored: about the depth axis z changes sign (FlipWidth),
// about the width axis y changes sign (FlipDepth), about the diagonal through an equal angle's heel y and z change places
// (Swap).
type Symmetry struct {
	HalfRoll    bool // (y, z) -> (-y, -z): rolled by 180 degrees
	QuarterRoll bool // (y, z) -> (-z, y): rolled by 90 degrees
	AnyRoll     bool // round: rolled by any angle
	FlipWidth   bool // (y, z) -> (y, -z): turned end for end about the depth axis
	FlipDepth   bool // (y, z) -> (-y, z): turned end for end about the width axis
	Swap        bool // (y, z) -> (z, y): turned end for end about the diagonal
}

// Symmetry gives the motions that lay the section on itself.
func (s Section) Symmetry() Symmetry {
	equal := s.Depth == s.Width
	switch s.Shape {
	case Angle:
		return Symmetry{Swap: equal}
	case Channel:
		return Symmetry{FlipDepth: true}
	case RoundTube, Pipe, RoundBar:
		return Symmetry{true, true, true, true, true, true}
	}
	return Symmetry{HalfRoll: true, QuarterRoll: equal, FlipWidth: true, FlipDepth: true, Swap: equal}
}

// Same tells whether two sections are the same steel: shape, dimensions, corner and grade, whatever the size text.
func (s Section) Same(o Section) bool {
	return s.Shape == o.Shape && s.Depth == o.Depth && s.Width == o.Width && s.Wall == o.Wall && s.Flange == o.Flange &&
		s.OutsideRadius == o.OutsideRadius && s.Grade.Name == o.Grade.Name
}

// Face is one of the two pairs of faces of a section.
type Face int

// A DepthFace spans the depth (the sides of a rail on edge), a WidthFace the width.
const (
	DepthFace Face = iota
	WidthFace
)

// Flat gives the flat width of a face between its corner radii: where a fillet weld sits square and a hole can be drilled.
// Of an angle or channel it is the outside of the leg, web or flange; round shapes have none.
func (s Section) Flat(f Face) measure.Length {
	if s.Shape.Round() {
		return 0
	}
	d := s.Depth
	if f == WidthFace {
		d = s.Width
	}
	return d - 2*s.OutsideRadius
}

// Span gives the extent of the section seen across a face: the depth across a DepthFace.
func (s Section) Span(f Face) measure.Length {
	if f == WidthFace {
		return s.Width
	}
	return s.Depth
}
