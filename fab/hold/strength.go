package hold

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/steel"
)

// Lengths are the lengths over which a member may buckle, in mm.
type Lengths struct {
	KLxMM float64 // effective length for buckling about the axis across the depth
	KLyMM float64 // about the axis across the width
	LbMM  float64 // between points that hold the member from rolling over sideways
}

// Wall is the slenderness of one wall of a section.
type Wall struct {
	Name              string  // "flange", "web", "round wall", "leg"
	Ratio             float64 // b/t, h/t, D/t
	Compact, Slender  float64 // limits in bending: compact up to the first, slender beyond the second
	InPress           float64 // limit of a wall that is not slender in compression
	Class, PressClass string
}

// Strength is what a section may carry by allowable strength design: each figure already divided by its safety factor.
type Strength struct {
	Section     steel.Section
	Pt, Pc      figure.Figure // tension, compression, N
	Mx, My      figure.Figure // bending about the axis across the depth, and across the width, N·mm
	Vd, Vw      figure.Figure // shear along depth and width, N
	T           figure.Figure // torsion, N·mm
	Walls       []Wall
	Slenderness float64 // greater KL/r
	Notes       []string
	closed      bool
}

const aisc = "ANSI/AISC 360-22, "

func clause(text string) figure.Source {
	return figure.Source{Kind: figure.Standard, Text: aisc + text}
}

// maker gathers what the formulas of one section share.
type maker struct {
	s        steel.Section
	p        steel.Properties
	prefix   string
	e, fy    float64
	E, Fy, A figure.Input
	b, h     float64 // flat widths across width and depth
	t        float64
	st       *Strength
}

// Allowable gives the strength of a member by ANSI/AISC 360 allowable strength design, with the design wall. Bending of
// open sections counts lateral-torsional buckling; shear lag and warping normal stresses do not count.
func Allowable(s steel.Section, l Lengths, prefix string) (Strength, error) {
	if !(l.KLxMM > 0) || !(l.KLyMM > 0) || !(l.LbMM > 0) {
		return Strength{}, fmt.Errorf("a member's effective lengths must be more than nothing")
	}
	return allowable(s, s.Properties(steel.Design), l, prefix)
}

func allowable(s steel.Section, p steel.Properties, l Lengths, prefix string) (Strength, error) {
	st := Strength{Section: s}
	m := &maker{s: s, p: p, prefix: prefix, e: s.Material.EMPa, fy: s.Grade.FyMPa, st: &st}
	if !(m.e > 0) || !(m.fy > 0) {
		return Strength{}, fmt.Errorf("%s %s: no modulus or yield strength known for grade %s", s.Shape, s.Size, s.Grade.Name)
	}
	m.E = figure.In("E", "modulus of elasticity", m.e, "MPa", s.Material.Name)
	m.Fy = figure.In("Fy", "yield strength", m.fy, "MPa", s.Grade.Name)
	m.A = figure.In("A", "area, design wall", m.p.AreaMM2, "mm2", "section")
	m.t = m.p.WallMM
	m.walls()
	st.Pt = m.fig("tension", "allowable tension", "N", "Fy*A/1.67", clause("D2(a): yielding of the gross section, omega 1.67"), m.Fy, m.A).Without("holes and shear lag at the ends (D2(b), D3)")
	m.compression(l)
	m.bending(l)
	m.shear()
	m.torsion()
	if s.Material.Name != "carbon-steel" && s.Material.Name != "" {
		st.Notes = append(st.Notes, fmt.Sprintf("%s is not covered by AISC 360: its own code applies (stainless: AISC 370; aluminium: the Aluminum Design Manual)", s.Material.Name))
	}
	if s.Grade.Note != "" {
		st.Notes = append(st.Notes, s.Grade.Name+": "+s.Grade.Note)
	}
	return st, nil
}

func (m *maker) fig(id, name, unit, formula string, src figure.Source, in ...figure.Input) figure.Figure {
	return figure.New(m.prefix+id, name, unit, formula, src, in...)
}

func in(symbol, name string, v float64, unit string) figure.Input {
	return figure.In(symbol, name, v, unit, "section")
}

// walls sorts the walls by Table B4.1a and B4.1b.
func (m *maker) walls() {
	r := math.Sqrt(m.e / m.fy)
	add := func(name string, ratio, compact, slender, press float64) {
		w := Wall{Name: name, Ratio: ratio, Compact: compact, Slender: slender, InPress: press, Class: "compact", PressClass: "not slender"}
		if ratio > compact {
			w.Class = "non-compact"
		}
		if ratio > slender {
			w.Class = "slender"
		}
		if ratio > press {
			w.PressClass = "slender"
		}
		m.st.Walls = append(m.st.Walls, w)
	}
	d, b, t := m.s.Depth.MM(), m.s.Width.MM(), m.t
	switch m.s.Shape {
	case steel.RectTube, steel.SquareTube:
		m.b, m.h, m.st.closed = b-3*t, d-3*t, true
		add("wall across the width", m.b/t, 1.12*r, 1.40*r, 1.40*r)
		add("wall along the depth", m.h/t, 2.42*r, 5.70*r, 1.40*r)
	case steel.RoundTube, steel.Pipe:
		m.st.closed = true
		add("round wall", d/t, 0.07*m.e/m.fy, 0.31*m.e/m.fy, 0.11*m.e/m.fy)
	case steel.Angle:
		add("longer leg", math.Max(d, b)/t, 0.54*r, 0.91*r, 0.45*r)
	case steel.Channel:
		f := m.s.Flange.MM()
		add("flange", b/f, 0.38*r, 1.0*r, 0.56*r)
		add("web", (d-2*f)/t, 3.76*r, 5.70*r, 1.49*r)
	}
}

// compression: E3, with the effective area of E7 where a wall is slender.
func (m *maker) compression(l Lengths) {
	rx, ry := m.p.RxMM, m.p.RyMM
	sx, sy := l.KLxMM/rx, l.KLyMM/ry
	slender := math.Max(sx, sy)
	if m.s.Shape == steel.Angle {
		slender = math.Max(l.KLxMM, l.KLyMM) / m.p.RMinorMM
		m.st.Notes = append(m.st.Notes, "an angle joined by one leg bends under an axial load; that bending is in the frame's moments only as far as its joints stand off its centroid")
	}
	m.st.Slenderness = slender
	sl := in("s", "KL/r, the greater", slender, "")
	fe := m.fig("fe", "elastic buckling stress", "MPa", "pi^2*E/s^2", clause("E3-4"), m.E, sl)
	fcr := m.fig("fcr", "critical stress", "MPa", "if(Fy/Fe, 2.25, 0.658^(Fy/Fe)*Fy, 0.877*Fe)", clause("E3-2, E3-3"), m.Fy, fe.As("Fe"))
	ae := m.p.AreaMM2
	for i, w := range m.st.Walls {
		if w.Ratio <= w.InPress*math.Sqrt(m.fy/fcr.Value) {
			continue
		}
		c1, c2 := 0.20, 1.38 // walls of square and rectangular HSS, Table E7.1
		width, count := w.Ratio*m.t, 2.0
		switch m.s.Shape {
		case steel.RoundTube, steel.Pipe:
			ae = math.Min(ae, m.p.AreaMM2*(0.038*m.e/(m.fy*w.Ratio)+2.0/3))
			continue
		case steel.Angle:
			c1, c2 = 0.22, 1.49
		case steel.Channel:
			c1, c2 = 0.22, 1.49
			if i == 1 {
				c1, c2, count = 0.18, 1.31, 1
			} else {
				width = m.s.Width.MM()
			}
		}
		fel := math.Pow(c2*w.InPress/w.Ratio, 2) * m.fy
		q := math.Sqrt(fel / fcr.Value)
		be := width * (1 - c1*q) * q
		if be < width {
			t := m.t
			if m.s.Shape == steel.Channel && i == 0 {
				t = m.s.Flange.MM()
			}
			ae -= count * (width - be) * t
		}
	}
	if slender > 200 {
		m.st.Notes = append(m.st.Notes, fmt.Sprintf("KL/r is %.0f; over 200 a member in compression is not advised (E2)", slender))
	}
	m.st.Pc = m.fig("compression", "allowable compression", "N", "Fcr*Ae/1.67", clause("E3-1, effective area by E7, omega 1.67"), fcr.As("Fcr"), in("Ae", "effective area", ae, "mm2"))
}

func (m *maker) bending(l Lengths) {
	p := m.p
	const om = "omega 1.67"
	Mp := func(z float64) figure.Input { return in("Z", "plastic modulus", z, "mm3") }
	S := func(s float64) figure.Input { return in("S", "elastic modulus", s, "mm3") }
	switch m.s.Shape {
	case steel.RectTube, steel.SquareTube:
		m.st.Mx = m.boxBending("mx", "about the axis across the depth", p.ZxMM3, p.SxMM3, p.IxMM4, m.b, m.h, m.s.Depth.MM(), l.LbMM, p.RyMM, m.s.Depth > m.s.Width)
		m.st.My = m.boxBending("my", "about the axis across the width", p.ZyMM3, p.SyMM3, p.IyMM4, m.h, m.b, m.s.Width.MM(), l.LbMM, p.RxMM, m.s.Width > m.s.Depth)
	case steel.RoundTube, steel.Pipe:
		w := m.st.Walls[0]
		lam := in("D", "D/t", w.Ratio, "")
		mk := func(id string) figure.Figure {
			switch w.Class {
			case "compact":
				return m.fig(id, "allowable moment", "N*mm", "Fy*Z/1.67", clause("F8-1, "+om), m.Fy, Mp(p.ZxMM3))
			case "non-compact":
				return m.fig(id, "allowable moment", "N*mm", "min(Fy*Z, (0.021*E/D + Fy)*S)/1.67", clause("F8-2, "+om), m.Fy, m.E, lam, S(p.SxMM3), Mp(p.ZxMM3))
			}
			return m.fig(id, "allowable moment", "N*mm", "0.33*E/D*S/1.67", clause("F8-3, "+om), m.E, lam, S(p.SxMM3))
		}
		m.st.Mx, m.st.My = mk("mx"), mk("my")
	case steel.Angle:
		m.angleBending(l)
	case steel.Channel:
		m.channelBending(l)
	case steel.RoundBar:
		f := func(id string) figure.Figure {
			return m.fig(id, "allowable moment", "N*mm", "min(Fy*Z, 1.6*Fy*S)/1.67", clause("F11-1, "+om), m.Fy, Mp(p.ZxMM3), S(p.SxMM3))
		}
		m.st.Mx, m.st.My = f("mx"), f("my")
	default: // flat, square bar
		f := func(id string, z, s, d, t float64) figure.Figure {
			lb := in("u", "Lb d/t^2", l.LbMM*d/(t*t), "")
			if d <= t {
				lb.Value = 0
			}
			switch {
			case lb.Value <= 0.08*m.e/m.fy:
				return m.fig(id, "allowable moment", "N*mm", "min(Fy*Z, 1.6*Fy*S)/1.67", clause("F11-1, "+om), m.Fy, Mp(z), S(s))
			case lb.Value <= 1.9*m.e/m.fy:
				return m.fig(id, "allowable moment", "N*mm", "min(Fy*Z, (1.52 - 0.274*u*Fy/E)*Fy*S)/1.67", clause("F11-3 (Cb 1), "+om), m.Fy, m.E, Mp(z), S(s), lb)
			}
			return m.fig(id, "allowable moment", "N*mm", "min(Fy*Z, 1.9*E/u*S)/1.67", clause("F11-4 (Cb 1), "+om), m.Fy, m.E, Mp(z), S(s), lb)
		}
		m.st.Mx = f("mx", p.ZxMM3, p.SxMM3, m.s.Depth.MM(), m.s.Width.MM())
		m.st.My = f("my", p.ZyMM3, p.SyMM3, m.s.Width.MM(), m.s.Depth.MM())
	}
}

// boxBending is F7: flange is the flat width of the walls in compression, web that of the walls in bending.
func (m *maker) boxBending(id, about string, z, s, i, flange, web, depth, lb, rMinor float64, major bool) figure.Figure {
	r := math.Sqrt(m.e / m.fy)
	lf, lw := flange/m.t, web/m.t
	name := "allowable moment " + about
	Z, S := in("Z", "plastic modulus", z, "mm3"), in("S", "elastic modulus", s, "mm3")
	best := m.fig(id, name, "N*mm", "Fy*Z/1.67", clause("F7-1, omega 1.67"), m.Fy, Z)
	less := func(f figure.Figure) {
		if f.Value < best.Value {
			best = f
		}
	}
	switch {
	case lf > 1.40*r:
		// F7-3 and F7-4: effective width of the wall in compression, on both such walls (on the safe side).
		be := math.Min(flange, 1.92*m.t*r*(1-0.38/lf*r))
		lost := (flange - be) * m.t
		arm := depth/2 - m.t/2
		se := (i - 2*lost*arm*arm) / (depth / 2)
		less(m.fig(id, name, "N*mm", "Fy*Se/1.67", clause("F7-3, F7-4, omega 1.67"), m.Fy, in("Se", "effective modulus", se, "mm3")))
	case lf > 1.12*r:
		less(m.fig(id, name, "N*mm", "(Fy*Z - (Fy*Z - Fy*S)*(3.57*f*sqrt(Fy/E) - 4))/1.67", clause("F7-2, omega 1.67"), m.Fy, m.E, Z, S, in("f", "b/t of the wall in compression", lf, "")))
	}
	if lw > 2.42*r {
		less(m.fig(id, name, "N*mm", "(Fy*Z - (Fy*Z - Fy*S)*min(1, 0.305*w*sqrt(Fy/E) - 0.738))/1.67", clause("F7-6, omega 1.67"), m.Fy, m.E, Z, S, in("w", "h/t of the walls in bending", lw, "")))
	}
	if major {
		mp := m.fy * z
		root := math.Sqrt(m.p.JMM4 * m.p.AreaMM2)
		lp, lr := 0.13*m.e*rMinor*root/mp, 2*m.e*rMinor*root/(0.7*m.fy*s)
		J, Ry := in("J", "torsion constant", m.p.JMM4, "mm4"), in("ry", "radius of gyration, weak axis", rMinor, "mm")
		Lb, LP, LR := in("Lb", "length without side support", lb, "mm"), in("Lp", "limit F7-12", lp, "mm"), in("Lr", "limit F7-13", lr, "mm")
		switch {
		case lb > lr:
			less(m.fig(id, name, "N*mm", "2*E*sqrt(J*A)/(Lb/ry)/1.67", clause("F7-11 (Cb 1), omega 1.67"), m.E, J, m.A, Lb, Ry))
		case lb > lp:
			less(m.fig(id, name, "N*mm", "(Fy*Z - (Fy*Z - 0.7*Fy*S)*(Lb - Lp)/(Lr - Lp))/1.67", clause("F7-10 (Cb 1), omega 1.67"), m.Fy, Z, S, Lb, LP, LR))
		}
	}
	return best
}

// angleBending: by H2 an angle is checked at its edges about its principal axes; allowed is My, less for rolling over.
func (m *maker) angleBending(l Lengths) {
	sMaj, sMin := m.angleModuli()
	t := m.t
	// F10-4, equal legs about the major axis, Cb 1; the shorter leg stands in for unequal ones, which is on the safe side.
	mcr := in("Mcr", "elastic buckling moment", 9*m.e*m.p.AreaMM2*m.p.RMinorMM*t/(8*l.LbMM), "N*mm")
	S := in("S", "elastic modulus at the farthest edge", sMaj, "mm3")
	if mcr.Value >= m.fy*sMaj {
		m.st.Mx = m.fig("mx", "allowable moment about the major principal axis", "N*mm", "min(1.92 - 1.17*sqrt(Fy*S/Mcr), 1)*Fy*S/1.67", clause("F10-2, taken at My at most; F10-4, omega 1.67"), m.Fy, S, mcr)
	} else {
		m.st.Mx = m.fig("mx", "allowable moment about the major principal axis", "N*mm", "(0.92 - 0.17*Mcr/(Fy*S))*Mcr/1.67", clause("F10-3, F10-4, omega 1.67"), m.Fy, S, mcr)
	}
	if w := m.st.Walls[0]; w.Class != "compact" { // F10-6, F10-7
		lam := w.Ratio
		f := 2.43 - 1.72*lam*math.Sqrt(m.fy/m.e)
		if w.Class == "slender" {
			f = 0.71 * m.e / (lam * lam) / m.fy
		}
		f = math.Min(1, f)
		leg := in("q", "share left by leg buckling, F10-6 and F10-7", f, "")
		m.st.Mx = m.fig("mx", m.st.Mx.Name, "N*mm", "min(M, q*Fy*S/1.67)", clause("F10-6, F10-7, omega 1.67"), in("M", "without leg buckling", m.st.Mx.Value, "N*mm"), leg, m.Fy, S)
	}
	m.st.My = m.fig("my", "allowable moment about the minor principal axis", "N*mm", "Fy*S/1.67", clause("F10-1, taken at My, omega 1.67"), m.Fy, in("S", "elastic modulus at the farthest edge", sMin, "mm3"))
	m.st.Notes = append(m.st.Notes, "an angle bends about its principal axes, not along its legs; checked edge by edge (H2)")
}

// angleModuli gives the least moduli about the major and minor principal axes, from the outline's farthest points.
func (m *maker) angleModuli() (major, minor float64) {
	a := m.p.MinorAxisDeg * math.Pi / 180
	farMaj, farMin := 0.0, 0.0
	for _, p := range m.s.Outline(2).Outer {
		y, z := p.Y-m.p.CentroidYMM, p.Z-m.p.CentroidZMM
		alongMinor := z*math.Cos(a) + y*math.Sin(a) // distance from the major axis
		alongMajor := y*math.Cos(a) - z*math.Sin(a)
		farMaj, farMin = math.Max(farMaj, math.Abs(alongMinor)), math.Max(farMin, math.Abs(alongMajor))
	}
	return m.p.IMajorMM4 / farMaj, m.p.IMinorMM4 / farMin
}

// channelBending is F2 about the strong axis (with Cw of plates) and F6 about the weak one.
func (m *maker) channelBending(l Lengths) {
	p, d, b, tw, tf := m.p, m.s.Depth.MM(), m.s.Width.MM(), m.t, m.s.Flange.MM()
	ho, bc := d-tf, b-tw/2
	cw := tf * bc * bc * bc * ho * ho / 12 * (3*bc*tf + 2*ho*tw) / (6*bc*tf + ho*tw)
	rts := math.Sqrt(math.Sqrt(p.IyMM4*cw) / p.SxMM3)
	c := ho / 2 * math.Sqrt(p.IyMM4/cw)
	lp := 1.76 * p.RyMM * math.Sqrt(m.e/m.fy)
	jc := p.JMM4 * c / (p.SxMM3 * ho)
	lr := 1.95 * rts * m.e / (0.7 * m.fy) * math.Sqrt(jc+math.Sqrt(jc*jc+6.76*math.Pow(0.7*m.fy/m.e, 2)))
	Z, S := in("Z", "plastic modulus", p.ZxMM3, "mm3"), in("S", "elastic modulus", p.SxMM3, "mm3")
	switch {
	case l.LbMM <= lp:
		m.st.Mx = m.fig("mx", "allowable moment", "N*mm", "Fy*Z/1.67", clause("F2-1, omega 1.67"), m.Fy, Z)
	case l.LbMM <= lr:
		m.st.Mx = m.fig("mx", "allowable moment", "N*mm", "(Fy*Z - (Fy*Z - 0.7*Fy*S)*(Lb - Lp)/(Lr - Lp))/1.67", clause("F2-2 (Cb 1), omega 1.67"), m.Fy, Z, S,
			in("Lb", "length without side support", l.LbMM, "mm"), in("Lp", "limit F2-5", lp, "mm"), in("Lr", "limit F2-6", lr, "mm"))
	default:
		u := l.LbMM / rts
		fcr := math.Pi * math.Pi * m.e / (u * u) * math.Sqrt(1+0.078*jc*u*u)
		m.st.Mx = m.fig("mx", "allowable moment", "N*mm", "min(Fy*Z, Fcr*S)/1.67", clause("F2-3, F2-4 (Cb 1), omega 1.67"), m.Fy, Z, S, in("Fcr", "critical stress F2-4", fcr, "MPa"))
	}
	m.st.My = m.fig("my", "allowable moment", "N*mm", "min(Fy*Z, 1.6*Fy*S)/1.67", clause("F6-1, omega 1.67"), m.Fy, in("Z", "plastic modulus", p.ZyMM3, "mm3"), in("S", "elastic modulus", p.SyMM3, "mm3"))
	m.st.Notes = append(m.st.Notes, "a channel loaded off its shear centre twists; that twist is not in the model")
}

func (m *maker) shear() {
	mk := func(id, name string, area, slender float64) figure.Figure {
		cv := 1.0
		r := math.Sqrt(5 * m.e / m.fy) // kv = 5
		switch {
		case slender > 1.37*r:
			cv = 1.51 * 5 * m.e / (slender * slender * m.fy)
		case slender > 1.10*r:
			cv = 1.10 * r / slender
		}
		return m.fig(id, name, "N", "0.6*Fy*Aw*Cv/1.67", clause("G4-1 and G2 (omega 1.67)"), m.Fy, in("Aw", "area in shear", area, "mm2"), in("Cv", "buckling of the wall", cv, ""))
	}
	sd, sw := 0.0, 0.0
	ad, aw := m.p.ShearDepthMM2, m.p.ShearWidthMM2
	switch m.s.Shape {
	case steel.RectTube, steel.SquareTube:
		sd, sw = m.h/m.t, m.b/m.t
		ad, aw = 2*m.h*m.t, 2*m.b*m.t
	case steel.RoundTube, steel.Pipe:
		ad, aw = m.p.AreaMM2/2, m.p.AreaMM2/2 // G5
	}
	m.st.Vd = mk("vd", "allowable shear along the depth", ad, sd)
	m.st.Vw = mk("vw", "allowable shear along the width", aw, sw)
}

func (m *maker) torsion() {
	fcr := 0.6 * m.fy
	text := "H3-1: Fcr = 0.6 Fy (H3-3), omega 1.67"
	switch m.s.Shape {
	case steel.RectTube, steel.SquareTube:
		r := math.Sqrt(m.e / m.fy)
		switch h := math.Max(m.h, m.b) / m.t; {
		case h > 3.07*r:
			fcr, text = 0.458*math.Pi*math.Pi*m.e/(h*h), "H3-1, H3-5, omega 1.67"
		case h > 2.45*r:
			fcr, text = 0.6*m.fy*2.45*r/h, "H3-1, H3-4, omega 1.67"
		}
	case steel.RoundTube, steel.Pipe:
		fcr, text = math.Min(fcr, 0.60*m.e/math.Pow(m.st.Walls[0].Ratio, 1.5)), "H3-1, H3-2b, omega 1.67"
	default:
		text = "H3.3: shear stress by twist up to 0.6 Fy, omega 1.67"
	}
	m.st.T = m.fig("torsion", "allowable twist", "N*mm", "Fcr*C/1.67", clause(text), in("Fcr", "shear stress", fcr, "MPa"), in("C", "torsional constant", m.p.CMM3, "mm3")).Without("warping of open sections")
}

// Demand is what a section carries at one place: N tension positive, shears, twist and moments in newtons and N·mm. Of an
// angle Mx and My are about its major and minor principal axes.
type Demand struct{ N, Vd, Vw, T, Mx, My float64 }

// Use is how much of the allowable a demand takes: 1 is all of it.
type Use struct {
	Value  float64
	Clause string
}

// Use gives the worst of the interaction formulas for a demand.
func (st *Strength) Use(d Demand) Use {
	pr, pc := d.N, st.Pt.Value
	if d.N < 0 {
		pr, pc = -d.N, st.Pc.Value
	}
	p := pr / pc
	bend := math.Abs(d.Mx)/st.Mx.Value + math.Abs(d.My)/st.My.Value
	vd, vw, t := math.Abs(d.Vd)/st.Vd.Value, math.Abs(d.Vw)/st.Vw.Value, math.Abs(d.T)/st.T.Value
	v := math.Max(vd, vw)
	best := Use{}
	take := func(value float64, name string) {
		if value > best.Value {
			best = Use{value, name}
		}
	}
	if st.Section.Shape == steel.Angle {
		take(p+bend, "H2-1")
	} else if p >= 0.2 {
		take(p+8.0/9*bend, "H1-1a")
	} else {
		take(p/2+bend, "H1-1b")
	}
	if st.closed {
		if t > 0.2 {
			take(p+bend+math.Pow(v+t, 2), "H3-6")
		}
		take(v, "G4")
		take(t, "H3-1")
	} else {
		take(v+t, "G, H3.3")
	}
	return best
}

// UseFigure writes the worst formula of a demand down.
func (st *Strength) UseFigure(d Demand, id, name string) figure.Figure {
	u := st.Use(d)
	pr, pc := d.N, st.Pt
	if d.N < 0 {
		pr, pc = -d.N, st.Pc
	}
	P := []figure.Input{figure.In("Pr", "axial force", pr, "N", "frame analysis"), pc.As("Pc")}
	M := []figure.Input{figure.In("Mrx", "moment about x", math.Abs(d.Mx), "N*mm", "frame analysis"), st.Mx.As("Mcx"), figure.In("Mry", "moment about y", math.Abs(d.My), "N*mm", "frame analysis"), st.My.As("Mcy")}
	V := []figure.Input{figure.In("Vd", "shear along the depth", math.Abs(d.Vd), "N", "frame analysis"), st.Vd.As("Vcd"), figure.In("Vw", "shear along the width", math.Abs(d.Vw), "N", "frame analysis"), st.Vw.As("Vcw")}
	T := []figure.Input{figure.In("Tr", "twist", math.Abs(d.T), "N*mm", "frame analysis"), st.T.As("Tc")}
	join := func(parts ...[]figure.Input) (all []figure.Input) {
		for _, p := range parts {
			all = append(all, p...)
		}
		return all
	}
	const bend, v = "Mrx/Mcx + Mry/Mcy", "max(Vd/Vcd, Vw/Vcw)"
	formula, inputs := "0", []figure.Input(nil)
	switch u.Clause {
	case "H1-1a":
		formula, inputs = "Pr/Pc + 8/9*("+bend+")", join(P, M)
	case "H1-1b":
		formula, inputs = "Pr/(2*Pc) + "+bend, join(P, M)
	case "H2-1":
		formula, inputs = "Pr/Pc + "+bend, join(P, M)
	case "H3-6":
		formula, inputs = "Pr/Pc + "+bend+" + ("+v+" + Tr/Tc)^2", join(P, M, V, T)
	case "G4":
		formula, inputs = v, V
	case "H3-1":
		formula, inputs = "Tr/Tc", T
	case "G, H3.3":
		formula, inputs = v+" + Tr/Tc", join(V, T)
	}
	f := figure.New(id, name, "", formula, clause(u.Clause), inputs...)
	return f.Without("moments added by the frame's own sway under load (second order), fatigue, impact beyond the factors of the loads")
}
