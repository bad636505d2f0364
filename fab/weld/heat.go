package weld

import "bench.example/soapstone/fab/figure"

// ArcEnergy gives the arc's energy a length, kJ/mm, as a figure: the American "heat input", without thermal efficiency.
func ArcEnergy(volts, amps, travelMMs float64) figure.Figure {
	return figure.New("heat.energy", "arc energy", "kJ/mm", "U * I / (1000 * v)", figure.Source{Kind: figure.Standard, Text: "EN ISO 15614-1:2017 8.4.7 (arc energy); AWS codes call it heat input"},
		figure.In("U", "arc voltage", volts, "V", ""), figure.In("I", "current", amps, "A", ""), figure.In("v", "travel", travelMMs, "mm/s", "")).
		Without("voltage lost in the leads: at the arc there are 2-4 V less than the machine shows on long leads")
}

// HeatInput gives the heat that enters the joint, kJ/mm, as a figure.
func HeatInput(energy figure.Figure, k float64) figure.Figure {
	return figure.New("heat.input", "heat input", "kJ/mm", "k * E", figure.Source{Kind: figure.Standard, Text: "EN 1011-1:2009 8.7 and table 1: k 0.8 for covered, solid and cored electrodes, 0.6 TIG, 1.0 submerged arc"},
		energy.As("E"), figure.In("k", "thermal efficiency", k, "", "EN 1011-1 table 1"))
}

// PlateVolts gives the conventional load voltage at a current, which the volts on a plate follow: 20 + 0.04 I for covered
// electrodes, 10 + 0.04 I for TIG, 14 + 0.05 I for wire (IEC 60974-1 clause 11; ten published plate points agree within
// their rounding).
func PlateVolts(process string, amps float64) float64 {
	switch process {
	case "SMAW":
		return 20 + 0.04*amps
	case "GTAW":
		return 10 + 0.04*amps
	}
	return 14 + 0.05*amps
}

// burnThroughKJ is the heat a length and thickness beyond which a fillet on thin steel is likely to burn through, kJ/mm2:
// 120 A and 20 V at 10 ipm on 1/8 in tube give 0.18, which a careful hand still manages (common practice).
const burnThroughKJ = 0.16

// BurnThrough tells whether the arc's energy is much for a wall.
func BurnThrough(energyKJMM, wallMM float64) bool {
	return wallMM > 0 && energyKJMM/wallMM > burnThroughKJ
}
