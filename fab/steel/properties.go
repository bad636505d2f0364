package steel

// Basis says which wall the properties are reckoned with.
type Basis int

// The two walls of a tube.
const (
	Nominal Basis = iota
	Design        // ANSI/AISC 360-22 B4.2
)

// Properties are the section's properties as numbers, in millimetres. Warping is left out: it is nil for tube and round
// bar, and small for the other shapes at the lengths of a shop's frames, but open sections in torsion are then underrated
// in stiffness.
type Properties struct {
	MassKGM float64 // mass of a metre in kg, always by the nominal wall

	AreaMM2 float64
	WallMM  float64 // the wall they are reckoned with

	IxMM4, SxMM3, ZxMM3, RxMM float64 // bending about the axis across the depth
	IyMM4, SyMM3, ZyMM3, RyMM float64 // bending about the axis across the width
	JMM4                      float64 // Saint-Venant torsion
	CMM3                      float64 // torsional constant: greatest shear stress = torque / C

	ShearDepthMM2 float64 // area that carries shear along the depth (strength)
	ShearWidthMM2 float64

	CentroidYMM, CentroidZMM float64 // from the bounding centre
	IyzMM4                   float64 // product of inertia about the centroid
	IMajorMM4, IMinorMM4     float64 // principal second moments
	RMajorMM, RMinorMM       float64 // RMinorMM is an angle's rz
	MinorAxisDeg             float64 // from the +z axis (width) towards +y to the axis of IMinor, -90 < a <= 90

	OutsideMM float64 // outside perimeter: skin in mm2 a mm
	InsideMM  float64 // inside perimeter of a tube
}
