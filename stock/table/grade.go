package table

import (
	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

func ksi(v float64) float64 { return v * measure.KsiMPa }

// lb/ft3 and lb/in3 in kg/m3.
const (
	lbFt3 = measure.PoundKG / (0.3048 * 0.3048 * 0.3048)
	lbIn3 = lbFt3 * 1728
)

func materials() []steel.Material {
	spec := figure.Source{Kind: figure.Standard, Text: "ANSI/AISC 360-22, symbols: E = 29,000 ksi, G = 11,200 ksi"}
	return []steel.Material{
		{Name: "carbon-steel", DensityKGM3: 490 * lbFt3, EMPa: ksi(29000), GMPa: ksi(11200),
			Source:      figure.Source{Kind: figure.Catalogue, Text: "490 lb/ft3, by which AISC's table weights are reckoned (7849 kg/m3; EN 1991-1-1 rounds to 7850)"},
			ModulusFrom: spec},
		{Name: "stainless", DensityKGM3: 0.289 * lbIn3, EMPa: ksi(28000), GMPa: ksi(28000) / 2.6,
			Source:      figure.Source{Kind: figure.Catalogue, Text: "304 stainless, 0.289 lb/in3 (8000 kg/m3); published values run from 0.285 to 0.29"},
			ModulusFrom: figure.Source{Kind: figure.Catalogue, Text: "304 stainless, typical 28,000 ksi (193 GPa); G by Poisson's ratio 0.3"}},
		{Name: "aluminium", DensityKGM3: 0.0975 * lbIn3, EMPa: ksi(10000), GMPa: ksi(10000) / 2.66,
			Source:      figure.Source{Kind: figure.Catalogue, Text: "6061-T6, 0.0975 lb/in3 (2.70 g/cm3), Aluminum Association typical value"},
			ModulusFrom: figure.Source{Kind: figure.Catalogue, Text: "6061-T6, 10,000 ksi, Aluminum Association typical value; G by Poisson's ratio 0.33"}},
	}
}

// What a grade is sold in.
func barShapes() []steel.Shape {
	return []steel.Shape{steel.Angle, steel.Channel, steel.Flat, steel.RoundBar, steel.SquareBar}
}

func tubeShapes() []steel.Shape {
	return []steel.Shape{steel.RectTube, steel.SquareTube, steel.RoundTube, steel.Pipe}
}

func allShapes() []steel.Shape { return append(tubeShapes(), barShapes()...) }

func thousandths(v int64) measure.Length { return measure.Length(v) * measure.Mil }

// corners of structural tube: twice the wall outside, once inside.
var structuralCorner = steel.CornerRule{Factor: 2, Source: figure.Source{Kind: figure.Standard,
	Text: "2 t outside, t inside: ANSI/AISC 360-22 Commentary H3 and AISC's tables (ASTM A500 allows 3 t)"}}

// corners of mechanical tube: the middle of the range that the standard allows at each wall.
var mechanicalCorner = steel.CornerRule{
	Ranges: []steel.CornerRange{
		{Wall: thousandths(60), Least: measure.Inch / 16, Most: measure.Inch * 7 / 64},
		{Wall: thousandths(83), Least: measure.Inch * 5 / 64, Most: measure.Inch / 8},
		{Wall: thousandths(95), Least: measure.Inch * 3 / 32, Most: measure.Inch * 5 / 32},
		{Wall: thousandths(120), Least: measure.Inch / 8, Most: measure.Inch * 7 / 32},
	},
	Source: figure.Source{Kind: figure.Standard, Text: "ASTM A513-08a: middle of the range of outside radii at this wall"},
}

var sharpCorner = steel.CornerRule{Source: figure.Source{Kind: figure.Common, Text: "extruded tube has square corners"}}

func grades() []steel.Grade {
	c32 := func(what string) figure.Source {
		return figure.Source{Kind: figure.Standard, Text: what + "; ANSI/AISC 360-22 Commentary Table C-A3.2"}
	}
	manual := func(what string) figure.Source {
		return figure.Source{Kind: figure.Handbook, Text: what + "; AISC Manual, Table 2-4"}
	}
	return []steel.Grade{
		{Name: "A36", Material: "carbon-steel", FyMPa: ksi(36), FuMPa: ksi(58), Shapes: barShapes(), Source: manual("ASTM A36"),
			Note: "tensile strength 58 to 80 ksi; the least is used"},
		{Name: "A500-B", Aliases: []string{"A500"}, Material: "carbon-steel", FyMPa: ksi(46), FuMPa: ksi(58), Shapes: tubeShapes(), Wall: steel.Wall93,
			Corner: structuralCorner, Source: c32("ASTM A500-21 grade B"), Note: "round tube to editions of A500 before 2021 has 42 ksi yield"},
		{Name: "A500-C", Material: "carbon-steel", FyMPa: ksi(50), FuMPa: ksi(62), Shapes: tubeShapes(), Wall: steel.Wall93,
			Corner: structuralCorner, Source: c32("ASTM A500-21 grade C"), Note: "round tube to editions of A500 before 2021 has 46 ksi yield"},
		{Name: "A1085", Material: "carbon-steel", FyMPa: ksi(50), FuMPa: ksi(65), Shapes: []steel.Shape{steel.RectTube, steel.SquareTube, steel.RoundTube},
			Wall: steel.WallNominal, Corner: structuralCorner, Source: figure.Source{Kind: figure.Standard, Text: "ASTM A1085 (strengths from memory); design wall = nominal wall, ANSI/AISC 360-22 B4.2"}},
		{Name: "A513", Aliases: []string{"A513-1010", "A513 T1", "mechanical"}, Material: "carbon-steel", FyMPa: ksi(32), FuMPa: ksi(45),
			Shapes: []steel.Shape{steel.RectTube, steel.SquareTube, steel.RoundTube}, Wall: steel.Wall93, Corner: mechanicalCorner,
			Source: figure.Source{Kind: figure.Standard, Text: "ASTM A513 type 1 as welded, 1010 (round tube)"},
			Note:   "mechanical tube: strengths hold only if ordered with a tensile test, and A513 is not a structural material of ANSI/AISC 360-22 Table A3.1"},
		{Name: "A53-B", Aliases: []string{"A53"}, Material: "carbon-steel", FyMPa: ksi(35), FuMPa: ksi(60), Shapes: []steel.Shape{steel.Pipe, steel.RoundTube},
			Wall: steel.Wall93, Source: c32("ASTM A53 grade B")},
		{Name: "304", Aliases: []string{"304 stainless", "S304", "A554-304"}, Material: "stainless", FyMPa: ksi(30), FuMPa: ksi(75), Shapes: allShapes(), Wall: steel.Wall93,
			Corner: structuralCorner, Source: figure.Source{Kind: figure.Standard, Text: "ASTM A240 type 304, least values annealed"},
			Note: "design wall as for carbon-steel tube, on the safe side"},
		{Name: "304L", Aliases: []string{"304L stainless"}, Material: "stainless", FyMPa: ksi(25), FuMPa: ksi(70), Shapes: allShapes(), Wall: steel.Wall93,
			Corner: structuralCorner, Source: figure.Source{Kind: figure.Standard, Text: "ASTM A240 type 304L, least values annealed"},
			Note: "design wall as for carbon-steel tube, on the safe side"},
		{Name: "6061-T6", Aliases: []string{"6061"}, Material: "aluminium", FyMPa: ksi(20), FuMPa: ksi(24), Shapes: allShapes(), Wall: steel.WallNominal,
			Corner: sharpCorner, Source: figure.Source{Kind: figure.Handbook, Text: "6061-T6 as welded, all forms: MMPDS-01 note"},
			Note: "as welded: away from any weld typical values are 40 and 45 ksi"},
	}
}
