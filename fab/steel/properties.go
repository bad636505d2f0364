package steel

// Basis says which wall the properties are reckoned with.
type Basis int

// The two walls of a tube.
const (
	Nominal Basis = iota
	Design        // ANSI/AISC 360-22 B4.2
)

// String gives the word that a worker writes.
func (b Basis) String() string {
	if b == Design {
		return "design"
	}
	return "nominal"
}

// Properties are the section's properties as numbers, in millimetres. Warping is left out: it is nil for tube and round
// bar, and small for the other shapes at the lengths of a shop's frames, but open sections in torsion are then underrated
// in stiffness.
type Properties struct {
	MassKGM float64 // mass of a metre in kg, always by the nominal wall

	AreaMM2 float64
	WallMM  float64 // the wall they are reckoned with; 0 for solid bars

	IxMM4, SxMM3, ZxMM3, RxMM float64 // bending about the axis across the depth
	IyMM4, SyMM3, ZyMM3, RyMM float64 // bending about the axis across the width
	JMM4                      float64 // Saint-Venant torsion
	CMM3                      float64 // torsional constant: greatest shear stress = torque / C

	// Areas for shear along depth and width: for strength (greatest shear stress = force / area, or the area that the
	// standard takes), and for stiffness (shear deflection).
	ShearDepthMM2, ShearWidthMM2           float64
	ShearStiffDepthMM2, ShearStiffWidthMM2 float64

	CentroidYMM, CentroidZMM float64 // from the bounding centre
	IyzMM4                   float64 // product of inertia about the centroid
	IMajorMM4, IMinorMM4     float64 // principal second moments
	RMajorMM, RMinorMM       float64 // RMinorMM is an angle's rz
	MinorAxisDeg             float64 // from the +z axis (width) towards +y to the axis of IMinor, -90 < a <= 90

	OutsideMM float64 // outside perimeter: skin in mm2 a mm
	InsideMM  float64 // inside perimeter of a tube
}

// Properties gives the numbers of Figures.
func (s Section) Properties(basis Basis) Properties {
	v := map[string]float64{}
	for _, f := range s.Figures("", basis) {
		v[f.ID] = f.Value
	}
	wall := s.Wall.MM()
	if basis == Design {
		wall = s.DesignWallMM
	}
	return Properties{
		MassKGM: v["mass"], AreaMM2: v["area"], WallMM: wall,
		IxMM4: v["ix"], SxMM3: v["sx"], ZxMM3: v["zx"], RxMM: v["rx"],
		IyMM4: v["iy"], SyMM3: v["sy"], ZyMM3: v["zy"], RyMM: v["ry"],
		JMM4: v["j"], CMM3: v["c"],
		ShearDepthMM2: v["shear_depth"], ShearWidthMM2: v["shear_width"],
		ShearStiffDepthMM2: v["shear_stiff_depth"], ShearStiffWidthMM2: v["shear_stiff_width"],
		CentroidYMM: v["centroid_y"], CentroidZMM: v["centroid_z"], IyzMM4: v["iyz"],
		IMajorMM4: v["i_major"], IMinorMM4: v["i_minor"], RMajorMM: v["r_major"], RMinorMM: v["r_minor"],
		MinorAxisDeg: v["minor_axis"], OutsideMM: v["outside"], InsideMM: v["inside"],
	}
}

// MassKGM gives the mass of a metre in kg.
func (s Section) MassKGM() float64 { return s.Properties(Nominal).MassKGM }
