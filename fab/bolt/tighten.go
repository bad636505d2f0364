package bolt

import (
	"fmt"

	"bench.example/soapstone/fab/figure"
)

// The friction of threads as received, and the share of the proof load that is aimed at, where nothing else is said.
const (
	DryK          = 0.20
	UsualFraction = 0.75
)

// Friction is a nut factor K for a state of the threads.
type Friction struct {
	Name string
	K    float64
	Note string
}

// Frictions lists the usual states. Makers' tables differ from one another by a third and more.
func Frictions() []Friction {
	return []Friction{
		{"plain, dry", 0.20, "as received"},
		{"zinc plated, dry", 0.22, "one maker; another prints 0.17"},
		{"hot-dip galvanised, dry", 0.25, ""},
		{"oiled", 0.15, "machine oil"},
		{"waxed or anti-seize", 0.10, "a dry torque on such a thread doubles the preload"},
	}
}

// Tight is a bolt tightened by torque.
type Tight struct {
	Area    figure.Figure // tensile stress area, mm2
	Proof   figure.Figure // N
	Rupture figure.Figure // least tensile load, N
	Clamp   figure.Figure // N
	Torque  figure.Figure // N m
}

// StressArea gives the tensile stress area.
func (s Size) StressArea(prefix string) figure.Figure {
	d := figure.In("d", "nominal diameter", s.DiaMM, "mm", "size "+s.Name)
	p := figure.In("p", "pitch", s.PitchMM, "mm", "size "+s.Name)
	if s.Metric {
		return figure.New(prefix+"area", "tensile stress area", "mm2", "pi/4*(d - 0.9382*p)^2",
			figure.Source{Kind: figure.Standard, Text: "ISO 898-1:2013, 9.1.6.1, nominal stress area"}, d, p)
	}
	return figure.New(prefix+"area", "tensile stress area", "mm2", "pi/4*(d - 0.9743*p)^2",
		figure.Source{Kind: figure.Standard, Text: "ASME B1.1, appendix B, tensile stress area (p = 1/n)"}, d, p)
}

// Tighten gives the loads of a bolt and the torque T = K d F that aims at fraction of its proof load.
func Tighten(s Size, g Grade, k, fraction float64, prefix string) (Tight, error) {
	if !(k > 0) || k > 1 {
		return Tight{}, fmt.Errorf("k=%g: the nut factor lies between 0.08 (waxed) and 0.35 (rusty); dry steel is about 0.20", k)
	}
	if !(fraction > 0) || fraction > 1 {
		return Tight{}, fmt.Errorf("fraction=%g: the share of the proof load must be above 0 and at most 1; 0.75 is usual", fraction)
	}
	var t Tight
	t.Area = s.StressArea(prefix)
	t.Proof = figure.New(prefix+"proof", "proof load", "N", "A*Sp", g.Source, t.Area.As("A"), figure.In("Sp", "proof strength", g.ProofMPa, "MPa", g.Name))
	t.Rupture = figure.New(prefix+"tensile", "least tensile load", "N", "A*Rm", g.Source, t.Area.As("A"), figure.In("Rm", "tensile strength", g.RuptureMPa, "MPa", g.Name))
	t.Clamp = figure.New(prefix+"clamp", "clamp force", "N", "x*P",
		figure.Source{Kind: figure.Common, Text: "a bolt that is to come off again is tightened to three quarters of its proof load"},
		figure.In("x", "share of the proof load", fraction, "", ""), t.Proof.As("P")).Without("scatter: by torque the clamp force comes out some 25 to 30 % higher or lower")
	t.Torque = figure.New(prefix+"torque", "tightening torque", "N*m", "K*d*F/1000",
		figure.Source{Kind: figure.Handbook, Text: "Shigley, Mechanical Engineering Design, bolt torque T = K d F"},
		figure.In("K", "nut factor", k, "", "0.20 plain and dry, 0.15 oiled, 0.25 galvanised"), figure.In("d", "nominal diameter", s.DiaMM, "mm", "size "+s.Name), t.Clamp.As("F")).
		Without("the bolt's own friction, finish and reuse, which no table knows")
	return t, nil
}

// Fit is how closely a clearance hole holds its bolt.
type Fit int

// The fits, ASME B18.2.8 and ISO 273.
const (
	Normal Fit = iota // ISO 273 medium
	Close
	Loose
)

// Clearance gives the clearance hole.
func (s Size) Clearance(fit Fit, prefix string) figure.Figure {
	pick := func(close, normal, loose float64) float64 { return [...]float64{normal, close, loose}[fit] }
	word := [...]string{"normal", "close", "loose"}[fit]
	if s.Metric {
		r := metricRows[s.row]
		word = [...]string{"medium", "fine", "coarse"}[fit]
		return figure.New(prefix+"clear", "clearance hole, "+word, "mm", "h", figure.Source{Kind: figure.Standard, Text: "ISO 273, " + word + " series"},
			figure.In("h", "listed for "+s.Name, pick(r.fine, r.medium, r.lax), "mm", "table"))
	}
	r := inchRows[s.row]
	return figure.New(prefix+"clear", "clearance drill, "+word, "mm", "25.4*h", figure.Source{Kind: figure.Standard, Text: "ASME B18.2.8, " + word + " fit (Machinery's Handbook, 31st ed., pp. 1741-1743)"},
		figure.In("h", "listed for "+r.name, pick(r.close, r.normal, r.lax), "in", "table"))
}

// TapDrill gives the drill before the tap.
func (s Size) TapDrill(prefix string) figure.Figure {
	table := figure.Source{Kind: figure.Handbook, Text: "tap drills for about three quarters of a full thread, Machinery's Handbook, 31st ed., tapping"}
	name := "tap drill"
	if s.Metric {
		v := 0.0
		if r := metricRows[s.row]; s.PitchMM == r.coarse {
			v = r.tap
		}
		for _, f := range finePitches {
			if f.dia == s.DiaMM && f.pitch == s.PitchMM {
				v = f.tap
			}
		}
		if v > 0 {
			return figure.New(prefix+"tap", name, "mm", "t", table, figure.In("t", "listed for "+s.Name, v, "mm", "table"))
		}
	} else {
		r := inchRows[s.row]
		v := 0.0
		switch s.TPI {
		case r.unc:
			v = r.tapUNC
		case r.unf:
			v = r.tapUNF
		}
		if v > 0 {
			return figure.New(prefix+"tap", name, "mm", "25.4*t", table, figure.In("t", "listed for "+s.Name, v, "in", "table"))
		}
	}
	return figure.New(prefix+"tap", name, "mm", "d - p", figure.Source{Kind: figure.Common, Text: "diameter less pitch, to the next drill"},
		figure.In("d", "nominal diameter", s.DiaMM, "mm", "size "+s.Name), figure.In("p", "pitch", s.PitchMM, "mm", "size "+s.Name))
}
