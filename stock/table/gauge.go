package table

import (
	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

// mil10 is a ten-thousandth of an inch, in which gauge tables are printed.
const mil10 = measure.Mil / 10

// gauges makes a table from thicknesses in ten-thousandths of an inch.
func gauges(source figure.Source, thickness map[string]int64) steel.GaugeTable {
	t := make(measure.Gauges, len(thickness))
	for n, v := range thickness {
		t[n] = measure.Length(v) * mil10
	}
	return steel.GaugeTable{Thickness: t, Source: source}
}

// The same number is another thickness in each series: 11 ga is .120 in as the wall of a tube, .1196 as carbon-steel
// sheet, .125 as stainless sheet, .0907 as aluminium sheet.

func tubeGauge() steel.GaugeTable {
	return gauges(figure.Source{Kind: figure.Catalogue, Text: "Birmingham Wire Gauge (BWG, Stubs), as tube walls of ASTM A513 and A500 are ordered"},
		map[string]int64{"4": 2380, "7": 1800, "8": 1650, "9": 1480, "10": 1340, "11": 1200, "12": 1090, "13": 950, "14": 830, "15": 720, "16": 650,
			"17": 580, "18": 490, "19": 420, "20": 350})
}

// sheetGauge: the Manufacturers' Standard Gauge is the weights of 15 U.S.C. 206 over 41.82 lb/ft2 an inch.
func sheetGauge() steel.GaugeTable {
	return gauges(figure.Source{Kind: figure.Catalogue, Text: "Manufacturers' Standard Gauge for steel sheet (weights of 15 U.S.C. 206 over 41.82 lb/ft2 per inch)"},
		map[string]int64{"7": 1793, "8": 1644, "9": 1495, "10": 1345, "11": 1196, "12": 1046, "13": 897, "14": 747, "15": 673, "16": 598,
			"17": 538, "18": 478, "19": 418, "20": 359})
}

func stainlessGauge() steel.GaugeTable {
	return gauges(figure.Source{Kind: figure.Catalogue, Text: "stainless sheet gauge: the approximate thicknesses of 15 U.S.C. 206 to four places"},
		map[string]int64{"7": 1875, "8": 1719, "9": 1563, "10": 1406, "11": 1250, "12": 1094, "13": 938, "14": 781, "15": 703, "16": 625,
			"17": 563, "18": 500, "19": 438, "20": 375})
}

func aluminiumGauge() steel.GaugeTable {
	return gauges(figure.Source{Kind: figure.Catalogue, Text: "American Wire Gauge (Brown & Sharpe), as aluminium sheet is ordered"},
		map[string]int64{"10": 1019, "11": 907, "12": 808, "14": 641, "16": 508, "18": 403, "20": 320})
}
