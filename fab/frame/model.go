package frame

import (
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/steel"
)

// Section is what a member is made of: the steel and the outline that the geometry reckons with.
type Section struct {
	steel.Section
	Name     string         // of the job's table
	Seam     string         // "inside": the tube's own seam is kept to one face; "any" or "" else
	Parts    [][]space.Vec2 // the sharp-cornered outline as convex polygons, counter-clockwise (Y right, Z up), without the hollow
	DepthMM  float64
	WidthMM  float64
	WallMM   float64 // of tube, angle, channel's web, flat's thickness; 0 of a solid bar
	FlangeMM float64 // of a channel
	RadiusMM float64 // outside corner radius of square and rectangular tube; of round shapes half the diameter
	Round    bool
	Hollow   bool

	MassKGM                  float64 // of a metre
	AreaMM2                  float64
	OutsideMM, InsideMM      float64 // perimeters
	CentroidYMM, CentroidZMM float64 // of the area, from the centre line
	IyyMM4, IzzMM4, IyzMM4   float64 // integrals of y^2, z^2 and y*z about the centroid
}

// Role is what a member does in the frame.
type Role string

// Roles.
const (
	Side   Role = "side" // of a rectangle
	Bar    Role = "bar"  // a crossbar
	Post   Role = "post"
	Leg    Role = "leg"
	Single Role = "member" // a [[member]]
)

// Member is a straight piece of section in space.
type Member struct {
	Name    string
	Section *Section
	A, B    space.Vec // ends of the centre line as drawn; the cuts may lie before or beyond
	Axis    space.Vec // unit, from A to B
	Depth   space.Vec // unit, along the section's depth
	Width   space.Vec // unit; Axis x Depth = Width
	Ends    [2]End    // at A and at B
	Role    Role
	Group   string  // name of the rectangle it belongs to; "" for a [[member]]
	Table   string  // the table that made it: rectangle, crossbars, posts, legs, member
	OverMM  float64 // cut to fit: so much more is reserved
	CutFit  string  // why it is better cut to fit after the frame stands; "" where it is not
	Lap     bool    // may run through others
	Holes   []Hole
	Where   job.Where
}

// EndKind is the kind of an end cut.
type EndKind string

// End cuts.
const (
	Square  EndKind = "square"
	Mitre   EndKind = "mitre"
	Butt    EndKind = "butt"
	Point   EndKind = "point"
	Cope    EndKind = "cope"
	Saddled EndKind = "saddle"
	Level   EndKind = "level"
	Plumb   EndKind = "plumb"
	Free    EndKind = "free"
	OnFoot  EndKind = "foot" // a leg's, cut to its surface
)

// End is the cut of one end of a member.
type End struct {
	Kind   EndKind
	Planes []space.Plane // the material lies behind each; two or more for a point
	Notch  []Notch       // taken out of what the planes leave
	Saddle *Saddle       // or the round member that it fits
	Meets  []int         // members that the cut was made for (indices into Frame.Members)
	GapMM  float64       // left open between the cut and what it meets (fit, root gap)
}

// Notch is a convex region taken out of an end (a cope): what lies behind all its planes.
type Notch []space.Plane

// Saddle is the cylinder onto which an end fits, or two where it stands over the corner of two round members.
type Saddle struct {
	At, Dir  space.Vec   // a point of the axis; unit
	RadiusMM float64     // outside
	Also     *Saddle     // the other one of a corner; nil where there is none
	Split    space.Plane // beyond it Also is there: alone at a mitre, beside the first where that runs through
	Through  bool        // the first runs through: Also begins at its side
}

// Hole is a hole in a member.
type Hole struct {
	AtMM    float64 // from A's tip along the axis
	Face    string  // depth | width: the face it is drilled into
	SizeMM  float64
	Through bool
	Vent    bool // to let gas out of a sealed tube
}

// JointKind is how the members of a joint meet.
type JointKind string

// Joints.
const (
	Corner JointKind = "corner" // two ends
	Tee    JointKind = "tee"    // an end on a side
	Lap    JointKind = "lap"    // side on side
	Loose  JointKind = "loose"  // touching without a seam
)

// Joint is where two or more members meet.
type Joint struct {
	ID       string // J1, J2, ... in the order of assembly
	Members  []int  // the one cut to fit last stands last
	Kind     JointKind
	At       space.Vec // the middle of the contact
	Contacts []Contact
	Spec     *job.Joint // the exception that the job makes of it; nil
	GapMM    float64    // root gap asked for
}

// Contact is one flat area in which a face of one member lies on a face of another.
type Contact struct {
	Members [2]int      // the member whose face is covered, or cut, last stands second
	Ends    [2]int      // the end (0, 1) whose cut face it is, -1 for a side face
	Plane   space.Plane // its normal points from the first member into the second
	Outline []space.Vec // convex, in order
	AreaMM2 float64     // of the outline, hollows not taken off
	Edges   []Edge      // of the outline, in order; edges inside one and the same member are left out
	more    []Edge      // parts of edges, while they are being cut
	GapMM   float64     // between the faces (a bar's fit, a root gap)
}

// Edge is a stretch of a contact's rim, along which a seam can run. Both members stand on the air side of it with one
// face each; the angle between the two faces, measured through the air, says what seam fits: below about 180 degrees an
// inside corner (fillet), 180 flush faces (square groove), above it an outside corner.
type Edge struct {
	From, To    space.Vec
	DihedralDeg float64      // between the two exposed faces, through the air: 90 fillet, 180 flush, 270 outside corner
	Faces       [2]space.Vec // unit outward normals of the exposed faces, in the order of the contact's members
	Flush       bool         // faces in one plane: square groove (or flare, see below)
	Flare       bool         // one side falls away with a tube's corner radius: a flare bevel
	FlareMM     float64      // that radius
	Hidden      bool         // a member that stands there before covers it: no torch reaches it
	Covered     bool         // a member that comes later stands on it: weld and dress it flush before
	Round       bool         // part of a curve, cut into chords
}

// LengthMM is the edge's length.
func (e Edge) LengthMM() float64 { return e.From.Dist(e.To) }

// Out is the direction in which the torch looks away from the joint: halfway between the two faces.
func (e Edge) Out() space.Vec { return e.Faces[0].Add(e.Faces[1]).Unit() }

// Plate is a plate placed in the frame.
type Plate struct {
	Name   string
	SizeMM [3]float64
	At     space.Vec // middle of its upper face
	Normal space.Vec // out of its upper face
	Along  space.Vec // direction of its first size
	On     int       // member it belongs to; -1 where to none
	Spec   *job.Plate
	Qty    int // >1 only where it belongs to no member
}

// Foot is the lower end of a leg on its surface.
type Foot struct {
	Member    int
	Surface   string
	At        space.Vec // on the surface, under the leg's centre line
	Normal    space.Vec // of the surface there, upwards
	AcrossDeg float64   // fall along y: positive where the surface rises with y
	AlongDeg  float64   // the same along x
	AngleDeg  float64   // of the cut from square
	RiseRun   float64   // tangent of AngleDeg
	LengthMM  float64   // of the leg, tip to tip
	PadMM     float64   // thickness of the plate under it
	GapMM     float64   // the largest gap under the foot if it were cut square
}

// Frame is the whole: members, how they meet, what they stand on.
type Frame struct {
	Members  []Member
	Joints   []Joint
	Plates   []Plate
	Surfaces []Surface
	Feet     []Foot
	Rects    []Rect
	Sections []*Section // in the order of the job
	byName   map[string]int
}

// Rect is a rectangle of the job placed in space.
type Rect struct {
	Name                       string
	Corner                     space.Vec // outer low corner
	U, V, N                    space.Vec // unit: along its length, its width, and through its thickness; all point to greater coordinates
	LengthMM, WidthMM, ThickMM float64   // outside
	FaceMM                     float64   // breadth of its sides, seen square to the plane
	Sides                      [4]int    // x1 x2 y1 y2: members
	Section                    *Section
	Flat                       bool // the section's depth lies in the plane
	Out, Bottom                bool // where the heel of an angle or channel is
	Through                    bool // posts run through its corners
	Where                      job.Where
}

// Index gives the member of that name, -1 where there is none.
func (f *Frame) Index(name string) int {
	if i, ok := f.byName[name]; ok {
		return i
	}
	return -1
}

// LengthMM gives a member's length from tip to tip along its axis.
func (f *Frame) LengthMM(i int) float64 { from, to := f.Members[i].Tips(); return to - from }

// Length is LengthMM rounded to whole nanometres.
func (f *Frame) Length(i int) measure.Length { return measure.FromMM(f.LengthMM(i)) }
