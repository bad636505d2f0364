package steel

import (
	"bench.example/soapstone/fab/figure"
)

// Sources that several shapes share.
var (
	parallelAxes = figure.Source{Kind: figure.Geometry, Text: "areas and second moments of rectangles, circles and corner spandrels; parallel axis theorem"}
	plasticAxis  = figure.Source{Kind: figure.Geometry, Text: "first moment of the halves about the axis that halves the area (plastic section modulus)"}
	definition   = figure.Source{Kind: figure.Geometry, Text: "definition: elastic modulus = second moment / farthest fibre; radius of gyration = sqrt(second moment / area)"}
	principal    = figure.Source{Kind: figure.Geometry, Text: "principal axes of inertia (Mohr's circle)"}
	perimeter    = figure.Source{Kind: figure.Geometry, Text: "perimeter of the outline"}
	bredt        = figure.Source{Kind: figure.Handbook, Text: "Bredt's formula for thin-walled closed sections, J = 4 Am^2 t / p, wall centre line"}
	torsionC     = figure.Source{Kind: figure.Standard, Text: "ANSI/AISC 360-22 H3.1 (torsional constant C, user note)"}
	thinOpen     = figure.Source{Kind: figure.Handbook, Text: "thin open section: J = sum of b t^3 / 3 (Timoshenko, Strength of Materials)"}
	roarkBar     = figure.Source{Kind: figure.Handbook, Text: "Roark's Formulas for Stress and Strain, torsion of a solid rectangle"}
	circular     = figure.Source{Kind: figure.Geometry, Text: "polar second moment of a circle"}
	shearTube    = figure.Source{Kind: figure.Standard, Text: "ANSI/AISC 360-22 G4: Aw = 2 h t, h = flat height taken as the depth less 3 t"}
	shearRound   = figure.Source{Kind: figure.Standard, Text: "ANSI/AISC 360-22 G5: Ag / 2"}
	shearLeg     = figure.Source{Kind: figure.Standard, Text: "ANSI/AISC 360-22 G2.1 and G3: web or leg times its thickness"}
	shearSolid   = figure.Source{Kind: figure.Geometry, Text: "parabolic shear stress: greatest is 3/2 of the mean in a rectangle, 4/3 in a circle"}
	shearStiff   = figure.Source{Kind: figure.Handbook, Text: "Timoshenko's shear coefficients: 5/6 rectangle, 9/10 circle, 1/2 thin round tube, webs of a thin box"}
)

// sheet gathers the figures of one section. Dimensions are in mm.
type sheet struct {
	prefix string
	figs   []figure.Figure
	byKey  map[string]figure.Figure
}

func (w *sheet) add(key, name, unit, formula string, source figure.Source, in ...figure.Input) figure.Figure {
	f := figure.New(w.prefix+key, name, unit, formula, source, in...)
	w.figs = append(w.figs, f)
	w.byKey[key] = f
	return f
}

// ref gives an earlier figure as an input.
func (w *sheet) ref(key, symbol string) figure.Input { return w.byKey[key].As(symbol) }

// dims are the dimensions that the formulas take.
type dims struct{ h, b, t, f, ro, ri figure.Input }

func (s Section) dims(basis Basis) dims {
	t, from := s.Wall.MM(), s.WallFrom
	ro, ri := s.OutsideRadius.MM(), s.InsideRadius.MM()
	cornerFrom := s.Grade.Corner.Source.String()
	if basis == Design && s.DesignWallMM != t {
		from = "ANSI/AISC 360-22 B4.2: design wall, 0.93 of the nominal"
		if s.designTable {
			from += ", as AISC Shapes Database v16.0 rounds it"
		}
		if s.OutsideRadius > 0 && len(s.Grade.Corner.Ranges) == 0 {
			// The corner follows the wall: the tables' properties take 2 t outside and t inside, t the design wall.
			ro = min(s.Grade.Corner.Factor*s.DesignWallMM, min(s.Depth, s.Width).MM()/2)
		}
		ri = max(0, ro-s.DesignWallMM)
		t = s.DesignWallMM
	}
	size := "size " + s.Size
	return dims{
		h:  figure.In("H", "depth", s.Depth.MM(), "mm", size),
		b:  figure.In("B", "width", s.Width.MM(), "mm", size),
		t:  figure.In("t", "wall", t, "mm", from),
		f:  figure.In("tf", "flange", s.Flange.MM(), "mm", size),
		ro: figure.In("Ro", "outside corner radius", ro, "mm", cornerFrom),
		ri: figure.In("Ri", "inside corner radius", ri, "mm", cornerFrom),
	}
}

// Figures gives the section's properties with formula, inputs and source, in millimetres (mass in kg/m), helpers
// before what they lead to. The IDs are prefix and one of: mass area ix sx zx rx iy sy zy ry j c shear_depth shear_width
// shear_stiff_depth shear_stiff_width centroid_y centroid_z iyz i_major i_minor r_major r_minor minor_axis outside inside,
// and of helpers with names of their own.
func (s Section) Figures(prefix string, basis Basis) []figure.Figure {
	w := &sheet{prefix: prefix, byKey: map[string]figure.Figure{}}
	nominal, d := s.dims(Nominal), s.dims(basis)
	massArea := "area"
	if basis == Design && s.DesignWallMM != s.Wall.MM() {
		massArea = "area_nominal"
		s.area(w, massArea, "area by the nominal wall", nominal)
	}
	s.area(w, "area", "area", d)
	s.mass(w, massArea)
	switch s.Shape {
	case RectTube, SquareTube:
		boxFigures(w, d)
	case RoundTube, Pipe:
		ringFigures(w, d)
	case Angle:
		angleFigures(w, d)
	case Channel:
		if s.Published != nil {
			publishedChannel(w, d, *s.Published)
		} else {
			channelFigures(w, d)
		}
	case RoundBar:
		rodFigures(w, d)
	default:
		plateFigures(w, d)
	}
	A := w.ref("area", "A")
	w.add("rx", "radius of gyration about x", "mm", "sqrt(Ix/A)", definition, w.ref("ix", "Ix"), A)
	w.add("ry", "radius of gyration about y", "mm", "sqrt(Iy/A)", definition, w.ref("iy", "Iy"), A)
	s.principalFigures(w, A)
	s.perimeters(w, nominal)
	return w.figs
}

// mass adds the mass of a metre: a rolled channel's is published, for its steel.
func (s Section) mass(w *sheet, area string) {
	m := s.Material
	if s.Published != nil && m.Name == "carbon-steel" {
		published(w, "mass", "mass of a metre", "kg/m", "m", s.Published.MassKGM, *s.Published)
		return
	}
	w.add("mass", "mass of a metre", "kg/m", "rho*A/10^6", figure.Source{Kind: figure.Geometry, Text: "density times area, by the nominal wall"},
		figure.In("rho", "density of "+m.Name, m.DensityKGM3, "kg/m3", m.Source.String()), w.ref(area, "A"))
}

// published adds a figure that is a value of the catalogue.
func published(w *sheet, key, name, unit, symbol string, value float64, c ChannelSize) figure.Figure {
	return w.add(key, name, unit, symbol, c.Source, figure.In(symbol, name+" of "+c.Name, value, unit, c.Source.String()))
}

// area adds the area under the key.
func (s Section) area(w *sheet, key, name string, d dims) {
	switch s.Shape {
	case RectTube, SquareTube:
		w.add(key, name, "mm2", "H*B - (4-pi)*Ro^2 - ((H-2*t)*(B-2*t) - (4-pi)*Ri^2)", parallelAxes, d.h, d.b, d.t, d.ro, d.ri)
	case RoundTube, Pipe:
		w.add(key, name, "mm2", "pi/4*(H^2 - (H-2*t)^2)", parallelAxes, d.h, d.t)
	case Angle:
		w.add(key, name, "mm2", "t*(H + B - t)", parallelAxes, d.h, d.b, d.t)
	case Channel:
		w.add(key, name, "mm2", "H*t + 2*(B-t)*tf", parallelAxes, d.h, d.b, d.t, d.f)
	case RoundBar:
		w.add(key, name, "mm2", "pi/4*H^2", parallelAxes, d.h)
	default:
		w.add(key, name, "mm2", "H*B", parallelAxes, d.h, d.b)
	}
}

// perimeters adds outside and inside perimeter.
func (s Section) perimeters(w *sheet, d dims) {
	switch s.Shape {
	case RoundTube, Pipe:
		w.add("outside", "outside perimeter", "mm", "pi*H", perimeter, d.h)
		w.add("inside", "inside perimeter", "mm", "pi*(H - 2*t)", perimeter, d.h, d.t)
	case RoundBar:
		w.add("outside", "outside perimeter", "mm", "pi*H", perimeter, d.h)
	case Angle, Flat, SquareBar:
		w.add("outside", "outside perimeter", "mm", "2*(H + B)", perimeter, d.h, d.b)
	case Channel:
		w.add("outside", "outside perimeter", "mm", "2*(H + B) + 2*(B - t)", perimeter, d.h, d.b, d.t)
	default:
		w.add("outside", "outside perimeter", "mm", "2*(H + B) - (8 - 2*pi)*Ro", perimeter, d.h, d.b, d.ro)
		w.add("inside", "inside perimeter", "mm", "2*(H + B - 4*t) - (8 - 2*pi)*Ri", perimeter, d.h, d.b, d.t, d.ri)
	}
}

// principalFigures adds the principal axes: of an unequal angle they lean, elsewhere they are x and y (an equal angle's at
// 45 degrees).
func (s Section) principalFigures(w *sheet, A figure.Input) {
	ix, iy := w.ref("ix", "Ix"), w.ref("iy", "Iy")
	product := figure.In("Iyz", "product of inertia", 0, "mm4", "a symmetric section has none")
	if _, ok := w.byKey["iyz"]; ok {
		product = w.ref("iyz", "Iyz")
	}
	w.add("i_major", "greatest second moment", "mm4", "(Ix + Iy)/2 + sqrt(((Ix - Iy)/2)^2 + Iyz^2)", principal, ix, iy, product)
	w.add("i_minor", "least second moment", "mm4", "(Ix + Iy)/2 - sqrt(((Ix - Iy)/2)^2 + Iyz^2)", principal, ix, iy, product)
	w.add("r_major", "greatest radius of gyration", "mm", "sqrt(I/A)", definition, w.ref("i_major", "I"), A)
	w.add("r_minor", "least radius of gyration", "mm", "sqrt(I/A)", definition, w.ref("i_minor", "I"), A)
	w.add("minor_axis", "lean of the axis of least second moment, from the width towards the depth", "deg",
		"atan2(Iyz, (Iy - Ix)/2)/2", principal, ix, iy, product)
}
