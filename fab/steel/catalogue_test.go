package steel_test

import (
	"testing"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

var trade = figure.Source{Kind: figure.Common, Text: "test catalogue"}

// small is a catalogue with one or two rows of each table, enough for the tests of this package; the whole catalogue is
// tested beside its data in stock/table.
func small() steel.Catalogue {
	all := []steel.Shape{steel.RectTube, steel.SquareTube, steel.RoundTube, steel.Pipe, steel.Angle, steel.Channel, steel.Flat, steel.RoundBar, steel.SquareBar}
	mil10 := measure.Mil / 10
	return steel.Catalogue{
		TubeGauge:      steel.GaugeTable{Thickness: measure.Gauges{"11": 1200 * mil10, "16": 650 * mil10}, Source: trade},
		SheetGauge:     steel.GaugeTable{Thickness: measure.Gauges{"11": 1196 * mil10}, Source: trade},
		StainlessGauge: steel.GaugeTable{Thickness: measure.Gauges{"11": 1250 * mil10}, Source: trade},
		AluminiumGauge: steel.GaugeTable{Thickness: measure.Gauges{"11": 907 * mil10}, Source: trade},
		Pipes: []steel.PipeSize{
			{Nominal: "1/2", DN: "15", Outside: 840 * measure.Mil, Schedules: map[string]measure.Length{"sch40": 109 * measure.Mil, "sch80": 147 * measure.Mil}, Source: trade},
			{Nominal: "1-1/4", DN: "32", Outside: 1660 * measure.Mil, Schedules: map[string]measure.Length{"sch40": 140 * measure.Mil, "sch80": 191 * measure.Mil, "xxs": 382 * measure.Mil}, Source: trade},
		},
		Channels: []steel.ChannelSize{{Name: "C3X4.1", Depth: 3 * measure.Inch, Width: 1410 * measure.Mil, Web: 170 * measure.Mil, MassKGM: 6.1, AreaMM2: 774.2,
			IxMM4: 686784, SxMM3: 18026, ZxMM3: 21631, IyMM4: 79500, SyMM3: 3212, ZyMM3: 6538, JMM4: 11197, Source: trade}},
		DesignWalls: []steel.DesignWall{{Nominal: measure.Inch / 8, Design: 116 * measure.Mil, Source: trade}},
		Materials: []steel.Material{
			{Name: "carbon-steel", DensityKGM3: 7850, EMPa: 200000, GMPa: 77000, Source: trade, ModulusFrom: trade},
			{Name: "stainless", DensityKGM3: 8000, EMPa: 193000, GMPa: 75000, Source: trade, ModulusFrom: trade},
			{Name: "aluminium", DensityKGM3: 2700, EMPa: 69000, GMPa: 26000, Source: trade, ModulusFrom: trade},
		},
		Grades: []steel.Grade{
			{Name: "A36", Material: "carbon-steel", FyMPa: 250, FuMPa: 400, Shapes: all[4:], Source: trade},
			{Name: "A500-B", Aliases: []string{"A500"}, Material: "carbon-steel", FyMPa: 317, FuMPa: 400, Shapes: all[:4], Wall: steel.Wall93, Corner: steel.CornerRule{Factor: 2, Source: trade}, Source: trade},
			{Name: "A513", Material: "carbon-steel", FyMPa: 220, FuMPa: 310, Shapes: all[:3], Wall: steel.Wall93, Source: trade,
				Corner: steel.CornerRule{Ranges: []steel.CornerRange{{Wall: 60 * measure.Mil, Least: measure.Inch / 16, Most: measure.Inch * 7 / 64},
					{Wall: 120 * measure.Mil, Least: measure.Inch / 8, Most: measure.Inch * 7 / 32}}, Source: trade}},
			{Name: "A53-B", Material: "carbon-steel", FyMPa: 240, FuMPa: 410, Shapes: all[2:4], Wall: steel.Wall93, Source: trade},
			{Name: "304", Material: "stainless", FyMPa: 205, FuMPa: 515, Shapes: all, Corner: steel.CornerRule{Factor: 2, Source: trade}, Source: trade},
			{Name: "6061-T6", Material: "aluminium", FyMPa: 138, FuMPa: 165, Shapes: all, Corner: steel.CornerRule{Source: trade}, Source: trade},
		},
	}
}

func section(t testing.TB, shape steel.Shape, size, grade string) steel.Section {
	t.Helper()
	s, err := steel.New(steel.Spec{Shape: shape, Size: size, Grade: grade}, small())
	if err != nil {
		t.Fatal(err)
	}
	return s
}
