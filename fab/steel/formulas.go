package steel

import "bench.example/soapstone/fab/figure"

// Second moment of a rectangle H x B with corners rounded by R about the axis across H: each corner's spandrel (the
// square corner less the quarter circle) is taken off with its own second moment and its centroid's distance.
const roundedI = "B*H^3/12 - 4*((1/3 - pi/16 - 1/(9*(4-pi)))*R^4 + (1-pi/4)*R^2*(H/2 - R*(10-3*pi)/(3*(4-pi)))^2)"

// First moment of the same about that axis, both halves: its plastic modulus.
const roundedZ = "B*H^2/4 - 4*(1-pi/4)*R^2*(H/2 - R*(10-3*pi)/(3*(4-pi)))"

func boxFigures(w *sheet, d dims) {
	hollowH := w.add("hollow_depth", "depth of the hollow", "mm", "H - 2*t", parallelAxes, d.h, d.t).As("H")
	hollowB := w.add("hollow_width", "width of the hollow", "mm", "B - 2*t", parallelAxes, d.b, d.t).As("B")
	for _, axis := range []string{"x", "y"} {
		h, b, hh, hb := d.h, d.b, hollowH, hollowB
		if axis == "y" { // across the width: depth and width change places in the formulas
			h, b, hh, hb = d.b, d.h, hollowB, hollowH
		}
		h.Symbol, b.Symbol, hh.Symbol, hb.Symbol = "H", "B", "H", "B"
		ro, ri := d.ro, d.ri
		ro.Symbol, ri.Symbol = "R", "R"
		io := w.add("i"+axis+"_outer", "second moment of the outer outline about "+axis, "mm4", roundedI, parallelAxes, h, b, ro)
		ii := w.add("i"+axis+"_hollow", "second moment of the hollow about "+axis, "mm4", roundedI, parallelAxes, hh, hb, ri)
		i := w.add("i"+axis, "second moment about "+axis, "mm4", "Io - Ii", parallelAxes, io.As("Io"), ii.As("Ii"))
		w.add("s"+axis, "elastic modulus about "+axis, "mm3", "2*I/H", definition, i.As("I"), h)
		zo := w.add("z"+axis+"_outer", "plastic modulus of the outer outline about "+axis, "mm3", roundedZ, plasticAxis, h, b, ro)
		zi := w.add("z"+axis+"_hollow", "plastic modulus of the hollow about "+axis, "mm3", roundedZ, plasticAxis, hh, hb, ri)
		w.add("z"+axis, "plastic modulus about "+axis, "mm3", "Zo - Zi", plasticAxis, zo.As("Zo"), zi.As("Zi"))
	}
	rc := w.add("corner_centre", "corner radius of the wall's centre line", "mm", "(Ro + Ri)/2", bredt, d.ro, d.ri).As("Rc")
	am := w.add("mid_area", "area within the wall's centre line", "mm2", "(H-t)*(B-t) - (4-pi)*Rc^2", bredt, d.h, d.b, d.t, rc).As("Am")
	p := w.add("mid_perimeter", "length of the wall's centre line", "mm", "2*(H-t + B-t) - 2*(4-pi)*Rc", bredt, d.h, d.b, d.t, rc).As("p")
	w.add("j", "torsion constant J", "mm4", "4*Am^2*t/p", bredt, am, d.t, p)
	w.add("c", "torsional constant C", "mm3", "2*Am*t", torsionC, am, d.t)
	w.add("shear_depth", "shear area along the depth", "mm2", "2*max(0, H - 3*t)*t", shearTube, d.h, d.t)
	w.add("shear_width", "shear area along the width", "mm2", "2*max(0, B - 3*t)*t", shearTube, d.b, d.t)
	w.add("shear_stiff_depth", "area for shear deflection along the depth", "mm2", "2*(H - t)*t", shearStiff, d.h, d.t)
	w.add("shear_stiff_width", "area for shear deflection along the width", "mm2", "2*(B - t)*t", shearStiff, d.b, d.t)
}

func ringFigures(w *sheet, d dims) {
	for _, axis := range []string{"x", "y"} {
		i := w.add("i"+axis, "second moment about "+axis, "mm4", "pi/64*(H^4 - (H-2*t)^4)", parallelAxes, d.h, d.t)
		w.add("s"+axis, "elastic modulus about "+axis, "mm3", "2*I/H", definition, i.As("I"), d.h)
		w.add("z"+axis, "plastic modulus about "+axis, "mm3", "(H^3 - (H-2*t)^3)/6", plasticAxis, d.h, d.t)
	}
	w.add("j", "torsion constant J", "mm4", "pi/32*(H^4 - (H-2*t)^4)", circular, d.h, d.t)
	w.add("c", "torsional constant C", "mm3", "pi*(H-t)^2*t/2", torsionC, d.h, d.t)
	A := w.ref("area", "A")
	for _, dir := range []string{"depth", "width"} {
		w.add("shear_"+dir, "shear area along the "+dir, "mm2", "A/2", shearRound, A)
		w.add("shear_stiff_"+dir, "area for shear deflection along the "+dir, "mm2", "A/2", shearStiff, A)
	}
}

func rodFigures(w *sheet, d dims) {
	for _, axis := range []string{"x", "y"} {
		i := w.add("i"+axis, "second moment about "+axis, "mm4", "pi/64*H^4", parallelAxes, d.h)
		w.add("s"+axis, "elastic modulus about "+axis, "mm3", "2*I/H", definition, i.As("I"), d.h)
		w.add("z"+axis, "plastic modulus about "+axis, "mm3", "H^3/6", plasticAxis, d.h)
	}
	w.add("j", "torsion constant J", "mm4", "pi/32*H^4", circular, d.h)
	w.add("c", "torsional constant C", "mm3", "pi*H^3/16", circular, d.h)
	A := w.ref("area", "A")
	for _, dir := range []string{"depth", "width"} {
		w.add("shear_"+dir, "shear area along the "+dir, "mm2", "3/4*A", shearSolid, A)
		w.add("shear_stiff_"+dir, "area for shear deflection along the "+dir, "mm2", "9/10*A", shearStiff, A)
	}
}

// plateFigures: flats and square bars.
func plateFigures(w *sheet, d dims) {
	for _, axis := range []string{"x", "y"} {
		h, b := d.h, d.b
		if axis == "y" {
			h, b = d.b, d.h
			h.Symbol, b.Symbol = "H", "B"
		}
		i := w.add("i"+axis, "second moment about "+axis, "mm4", "B*H^3/12", parallelAxes, h, b)
		w.add("s"+axis, "elastic modulus about "+axis, "mm3", "2*I/H", definition, i.As("I"), h)
		w.add("z"+axis, "plastic modulus about "+axis, "mm3", "B*H^2/4", plasticAxis, h, b)
	}
	long := w.add("long_side", "longer side", "mm", "max(H, B)", parallelAxes, d.h, d.b).As("a")
	short := w.add("short_side", "shorter side", "mm", "min(H, B)", parallelAxes, d.h, d.b).As("b")
	w.add("j", "torsion constant J", "mm4", "a*b^3*(1/3 - 0.21*b/a*(1 - (b/a)^4/12))", roarkBar, long, short)
	w.add("c", "torsional constant C", "mm3", "a*b^2/3/(1 + 0.6095*b/a + 0.8865*(b/a)^2 - 1.8023*(b/a)^3 + 0.91*(b/a)^4)", roarkBar, long, short)
	A := w.ref("area", "A")
	for _, dir := range []string{"depth", "width"} {
		w.add("shear_"+dir, "shear area along the "+dir, "mm2", "2/3*A", shearSolid, A)
		w.add("shear_stiff_"+dir, "area for shear deflection along the "+dir, "mm2", "5/6*A", shearStiff, A)
	}
}

func angleFigures(w *sheet, d dims) {
	A := w.ref("area", "A")
	y := w.add("heel_y", "centroid from the heel along the depth", "mm", "t*(H^2 + (B-t)*t)/(2*A)", parallelAxes, d.h, d.b, d.t, A)
	z := w.add("heel_z", "centroid from the heel along the width", "mm", "t*(B^2 + (H-t)*t)/(2*A)", parallelAxes, d.h, d.b, d.t, A)
	for _, axis := range []string{"x", "y"} {
		h, b, c := d.h, d.b, y.As("c")
		if axis == "y" {
			h, b, c = d.b, d.h, z.As("c")
			h.Symbol, b.Symbol = "H", "B"
		}
		i := w.add("i"+axis, "second moment about "+axis, "mm4", "t*H^3/3 + (B-t)*t^3/3 - A*c^2", parallelAxes, h, b, d.t, A, c)
		w.add("s"+axis, "elastic modulus about "+axis+" (farther fibre)", "mm3", "I/max(c, H-c)", definition, i.As("I"), h, c)
		p := w.add("plastic_"+axis, "plastic axis from the heel", "mm", "if(A/2, B*t, A/(2*B), t + (A/2 - B*t)/t)", plasticAxis, A, b, d.t)
		w.add("z"+axis, "plastic modulus about "+axis, "mm3",
			"if(p, t, B*p^2/2 + B*(t-p)^2/2 + t*((H-p)^2 - (t-p)^2)/2, t*(H-p)^2/2 + t*(p-t)^2/2 + B*t*(p - t/2))", plasticAxis, h, b, d.t, p.As("p"))
	}
	w.add("iyz", "product of inertia", "mm4", "t^2/4*(H^2 + B^2 - t^2) - A*y*z", parallelAxes, d.h, d.b, d.t, A, y.As("y"), z.As("z"))
	w.add("centroid_y", "centroid from the bounding centre along the depth", "mm", "y - H/2", parallelAxes, y.As("y"), d.h)
	w.add("centroid_z", "centroid from the bounding centre along the width", "mm", "z - B/2", parallelAxes, z.As("z"), d.b)
	j := w.add("j", "torsion constant J", "mm4", "(H + B - t)*t^3/3", thinOpen, d.h, d.b, d.t)
	w.add("c", "torsional constant C", "mm3", "J/t", thinOpen, j.As("J"), d.t)
	w.add("shear_depth", "shear area along the depth", "mm2", "H*t", shearLeg, d.h, d.t)
	w.add("shear_width", "shear area along the width", "mm2", "B*t", shearLeg, d.b, d.t)
	w.add("shear_stiff_depth", "area for shear deflection along the depth", "mm2", "5/6*H*t", shearStiff, d.h, d.t)
	w.add("shear_stiff_width", "area for shear deflection along the width", "mm2", "5/6*B*t", shearStiff, d.b, d.t)
}

func channelFigures(w *sheet, d dims) {
	A := w.ref("area", "A")
	z := w.add("back_z", "centroid from the back of the web", "mm", "(H*t^2/2 + tf*(B^2 - t^2))/A", parallelAxes, d.h, d.b, d.t, d.f, A)
	ix := w.add("ix", "second moment about x", "mm4", "(B*H^3 - (B-t)*(H-2*tf)^3)/12", parallelAxes, d.h, d.b, d.t, d.f)
	iy := w.add("iy", "second moment about y", "mm4", "H*t^3/3 + 2*tf*(B^3 - t^3)/3 - A*z^2", parallelAxes, d.h, d.b, d.t, d.f, A, z.As("z"))
	w.add("sx", "elastic modulus about x", "mm3", "2*I/H", definition, ix.As("I"), d.h)
	w.add("sy", "elastic modulus about y (farther fibre)", "mm3", "I/max(z, B-z)", definition, iy.As("I"), z.As("z"), d.b)
	w.add("zx", "plastic modulus about x", "mm3", "(B*H^2 - (B-t)*(H-2*tf)^2)/4", plasticAxis, d.h, d.b, d.t, d.f)
	p := w.add("plastic_y", "plastic axis from the back of the web", "mm", "if(A/2, H*t, A/(2*H), t + (A/2 - H*t)/(2*tf))", plasticAxis, A, d.h, d.t, d.f)
	w.add("zy", "plastic modulus about y", "mm3",
		"if(p, t, H*p^2/2 + H*(t-p)^2/2 + tf*((B-p)^2 - (t-p)^2), H*t*(p - t/2) + tf*((p-t)^2 + (B-p)^2))", plasticAxis, d.h, d.b, d.t, d.f, p.As("p"))
	w.add("centroid_z", "centroid from the bounding centre along the width", "mm", "z - B/2", parallelAxes, z.As("z"), d.b)
	j := w.add("j", "torsion constant J", "mm4", "(H*t^3 + 2*(B-t)*tf^3)/3", thinOpen, d.h, d.b, d.t, d.f)
	channelRest(w, d, j)
}

// publishedChannel takes the table's properties: a rolled channel's flanges taper, which its second moment about y feels
// by a fifth.
func publishedChannel(w *sheet, d dims, c ChannelSize) {
	published(w, "ix", "second moment about x", "mm4", "Ix", c.IxMM4, c)
	published(w, "sx", "elastic modulus about x", "mm3", "Sx", c.SxMM3, c)
	published(w, "zx", "plastic modulus about x", "mm3", "Zx", c.ZxMM3, c)
	iy := published(w, "iy", "second moment about y", "mm4", "Iy", c.IyMM4, c)
	sy := published(w, "sy", "elastic modulus about y (farther fibre)", "mm3", "Sy", c.SyMM3, c)
	published(w, "zy", "plastic modulus about y", "mm3", "Zy", c.ZyMM3, c)
	w.add("centroid_z", "centroid from the bounding centre along the width", "mm", "B/2 - Iy/Sy", definition, d.b, iy.As("Iy"), sy.As("Sy"))
	channelRest(w, d, published(w, "j", "torsion constant J", "mm4", "J", c.JMM4, c))
}

// channelRest adds what both kinds of channel share.
func channelRest(w *sheet, d dims, j figure.Figure) {
	w.add("c", "torsional constant C", "mm3", "J/max(t, tf)", thinOpen, j.As("J"), d.t, d.f)
	w.add("shear_depth", "shear area along the depth", "mm2", "H*t", shearLeg, d.h, d.t)
	w.add("shear_width", "shear area along the width", "mm2", "2*B*tf", shearLeg, d.b, d.f)
	w.add("shear_stiff_depth", "area for shear deflection along the depth", "mm2", "(H - tf)*t", shearStiff, d.h, d.t, d.f)
	w.add("shear_stiff_width", "area for shear deflection along the width", "mm2", "5/6*2*B*tf", shearStiff, d.b, d.f)
}
