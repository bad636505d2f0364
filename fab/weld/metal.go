package weld

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
)

// SteelKGPerMM3 is the density that weld metal is reckoned with: 7.84 g/cm3 (0.2832 lb/in3), the value of the metric weld
// metal tables; the tables in pounds say .283 and agree with it within their three digits.
const SteelKGPerMM3 = 7.84e-6

// Process is a welding process as the shop plans with it.
type Process struct {
	Name       string
	Efficiency float64 // weld metal over wire (or rods) bought, stubs and spatter taken off
	Thermal    float64 // k of EN 1011-1: heat into the joint over the arc's energy
	Slag       bool    // a pass must be chipped before the next
	Gas        bool
	Rods       bool // bought in packs of rods
	WireShare  float64
}

var efficiencySource = figure.Source{Kind: figure.Handbook,
	Text: "welding supplier's technical page 1a, electrode tables: 0.55 covered electrodes (2 in stub and spatter in it), 0.80 tubular wire, 0.90 solid wire"}

// Processes of a job's [welder], by name. WireShare is the mass of a wire over that of a solid one of its size (a
// metal-cored .045 in: 0.93 by its maker's data sheet; self-shielded about 0.88, common practice).
var processes = []Process{
	{Name: "SMAW", Efficiency: 0.55, Thermal: 0.8, Slag: true, Rods: true, WireShare: 1},
	{Name: "GMAW", Efficiency: 0.90, Thermal: 0.8, Gas: true, WireShare: 1},
	{Name: "FCAW-S", Efficiency: 0.80, Thermal: 0.8, Slag: true, WireShare: 0.88},
	{Name: "FCAW-G", Efficiency: 0.80, Thermal: 0.8, Slag: true, Gas: true, WireShare: 0.93},
	{Name: "GTAW", Efficiency: 0.98, Thermal: 0.6, Gas: true, Rods: true, WireShare: 1},
}

// ProcessNames lists the processes, as messages show them.
func ProcessNames() []string {
	names := make([]string, len(processes))
	for i, p := range processes {
		names[i] = p.Name
	}
	return names
}

// FindProcess gives the process of that name; FCAW alone is the self-shielded one, SAW and PAW are known to the heat sum
// only.
func FindProcess(name string) (Process, error) {
	n := strings.ToUpper(strings.TrimSpace(name))
	switch n {
	case "FCAW":
		n = "FCAW-S"
	case "MIG", "MAG":
		n = "GMAW"
	case "STICK", "MMA":
		n = "SMAW"
	case "TIG":
		n = "GTAW"
	}
	for _, p := range processes {
		if p.Name == n {
			return p, nil
		}
	}
	return Process{}, fmt.Errorf("there is no process %q; there are: %s", name, strings.Join(ProcessNames(), ", "))
}

// Metal gives the mass of weld metal (kg) of a cross-section over a length, as a figure.
func Metal(areaMM2, lengthMM float64) figure.Figure {
	return figure.New("weld.metal", "weld metal", "kg", "A * L * q", figure.Source{Kind: figure.Handbook, Text: "ESAB Filler Metal Handbook pp. 8-9 and 8-10 (steel at 7.84 g/cm3)"},
		figure.In("A", "cross-section", areaMM2, "mm2", ""), figure.In("L", "length", lengthMM, "mm", ""), figure.In("q", "density", SteelKGPerMM3, "kg/mm3", "7.84 g/cm3"))
}

// Consumable gives the mass of wire or rods (kg) for a mass of weld metal, as a figure.
func Consumable(metalKG float64, p Process) figure.Figure {
	return figure.New("weld.consumable", "wire or rods", "kg", "m / e", efficiencySource,
		figure.In("m", "weld metal", metalKG, "kg", ""), figure.In("e", "deposition efficiency, "+p.Name, p.Efficiency, "", "table")).
		Without("ends of wire, rods bent and thrown away; AWS efficiency counts the whole rod with its coating, ISO 2401 the core wire")
}

// StubEfficiency gives the efficiency of a covered electrode with its stub taken off: e (L - stub) / L (ESAB, The Basics of
// Arc Welding, lesson IX, figure 5).
func StubEfficiency(e, rodMM, stubMM float64) float64 { return e * (rodMM - stubMM) / rodMM }

// WireRate gives the mass of wire that runs through the gun (kg/s) at a feed, as a figure.
func WireRate(diameterMM, feedMMs float64, p Process) figure.Figure {
	return figure.New("weld.melt", "wire melted", "kg/s", "pi / 4 * d^2 * v * q * s",
		figure.Source{Kind: figure.Geometry, Text: "volume of the wire that runs; printed constants (13.1 d^2 WFS lb/h) imply 0.278 lb/in3, 2 % less"},
		figure.In("d", "wire diameter", diameterMM, "mm", ""), figure.In("v", "wire feed", feedMMs, "mm/s", ""),
		figure.In("q", "density", SteelKGPerMM3, "kg/mm3", "7.84 g/cm3"), figure.In("s", "mass over that of a solid wire, "+p.Name, p.WireShare, "", "table"))
}

// feedPerAmp is the short-arc rule that many small machines' manuals print for solid wire: inches a minute for each ampere.
var feedPerAmp = []struct{ wireIn, ipm float64 }{{0.0235, 3.5}, {0.030, 2}, {0.035, 1.6}, {0.045, 1}}

// selfShielded is the E71T-11 .035 in data sheet: wire feed (ipm) by current (A).
var selfShielded = []struct{ amps, ipm float64 }{{30, 50}, {65, 70}, {90, 90}, {120, 110}}

// Feed estimates the wire feed (mm/s) at a current: for solid and gas-shielded wire the short-arc rule of small machines'
// manuals (interpolated over the wire size), for self-shielded wire its .035 in data sheet, scaled to the same mass for
// other sizes. The chart on the machine's door comes first.
func Feed(p Process, wireMM, amps float64) (mmS float64, source string) {
	in := wireMM / measure.InchMM
	if p.Name == "FCAW-S" {
		s := selfShielded
		k := 1
		for k < len(s)-1 && amps > s[k].amps {
			k++
		}
		ipm := s[k-1].ipm + (s[k].ipm-s[k-1].ipm)*(amps-s[k-1].amps)/(s[k].amps-s[k-1].amps)
		ipm = math.Max(ipm, 20) * (0.035 / in) * (0.035 / in)
		return ipm * measure.InchMM / 60, "data sheet of E71T-11, .035 in: feed by current"
	}
	s := feedPerAmp
	k := 1
	for k < len(s)-1 && in > s[k].wireIn {
		k++
	}
	// between sizes the melt-off goes with the square of the diameter
	t := math.Log(in/s[k-1].wireIn) / math.Log(s[k].wireIn/s[k-1].wireIn)
	ipm := s[k-1].ipm * math.Pow(s[k].ipm/s[k-1].ipm, t)
	return ipm * amps * measure.InchMM / 60, "short-arc rule of small machines' manuals: ipm for each ampere by wire size"
}

// rodRates are deposition rates of covered electrodes in lb/h by current, from memory of a maker's lesson: planning values.
const rodPerAmp = 0.0175 // lb/h for each ampere; E6013 and E7018 lie within 15 % of it

// Deposit estimates the metal deposited (kg/s) at a current: melt-off of the wire times its efficiency; rods by current.
func Deposit(p Process, wireMM, feedMMs, amps float64) (kgS float64, source string) {
	if p.Name == "SMAW" {
		return rodPerAmp * amps * measure.PoundKG / 3600, "0.0175 lb/h for each ampere of a covered electrode (planning value)"
	}
	if p.Name == "GTAW" {
		return 0.006 * amps * measure.PoundKG / 3600, "0.006 lb/h for each ampere by hand with rod (planning value)"
	}
	source = "wire feed as given"
	if feedMMs <= 0 {
		feedMMs, source = Feed(p, wireMM, amps)
	}
	return WireRate(wireMM, feedMMs, p).Value * p.Efficiency, source
}

// Packs gives how many whole packs hold a mass.
func Packs(kg, packKG float64) int { return int(math.Ceil(kg/packKG - 1e-9)) }

// FilletSection gives the cross-section of a flat fillet, mm2, as a figure.
func FilletSection(legMM float64) figure.Figure {
	return figure.New("weld.section", "cross-section of the fillet", "mm2", "z^2 / 2",
		figure.Source{Kind: figure.Handbook, Text: "ESAB Filler Metal Handbook p. 8-9, triangle at 45 degrees"}, figure.In("z", "leg", legMM, "mm", ""))
}

// CappedSection adds a cap of that width and height to a flat fillet, mm2, as a figure.
func CappedSection(legMM, widthMM, heightMM float64) figure.Figure {
	return figure.New("weld.section", "cross-section of the fillet with its cap", "mm2", "z^2 / 2 + 2/3 * w * h",
		figure.Source{Kind: figure.Handbook, Text: "ESAB Filler Metal Handbook p. 8-9, triangle at 45 degrees and reinforcement C"},
		figure.In("z", "leg", legMM, "mm", ""), figure.In("w", "width of the cap", widthMM, "mm", ""), figure.In("h", "height of the cap", heightMM, "mm", ""))
}

// ArcTime gives the time (s) that the arc burns for a mass of weld metal, as a figure.
func ArcTime(metalKG float64, p Process, wireMM, feedMMs, amps float64) figure.Figure {
	rate, source := Deposit(p, wireMM, feedMMs, amps)
	return figure.New("weld.arc", "arc time", "s", "m / r", figure.Source{Kind: figure.Common, Text: "weld metal over deposition rate; " + source},
		figure.In("m", "weld metal", metalKG, "kg", ""), figure.In("r", "deposited", rate, "kg/s", source)).
		Without("starts, stops, tacks and what the hand does between")
}

var (
	electrodeCored = regexp.MustCompile(`^E(\d)\dT`)
	electrodeRod   = regexp.MustCompile(`^(?:E(\d{2,3})\d{2}|ER?(\d{2,3})[SC]|E?(\d{2,3})$)`)
)

// Electrode gives the tensile strength (ksi) that an electrode's class promises: E7018 and ER70S-6 are 70, E71T-11 is 70,
// E6013 is 60. A plain number is ksi; a stress with its unit is taken as it is.
func Electrode(class string) (ksi float64, err error) {
	c := strings.ToUpper(strings.TrimSpace(class))
	if m := electrodeCored.FindStringSubmatch(c); m != nil {
		return float64(m[1][0]-'0') * 10, nil
	}
	if m := electrodeRod.FindStringSubmatch(c); m != nil {
		if v, err := strconv.ParseFloat(m[1]+m[2]+m[3], 64); err == nil && v >= 50 && v <= 140 {
			return v, nil
		}
	}
	if mpa, err := measure.ParseStress(class); err == nil && mpa > 0 {
		return mpa / measure.KsiMPa, nil
	}
	return 0, fmt.Errorf("%q is no class of electrode; write 70, E7018, E71T-11, ER70S-6 or 490MPa", class)
}
