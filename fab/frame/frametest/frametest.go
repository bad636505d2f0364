// Package frametest gives tests of the geometry a small catalogue and quick ways to make jobs.
package frametest

import (
	"testing"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// Catalogue is a catalogue with the gauges, pipes and grades that the tests use.
func Catalogue() steel.Catalogue {
	trade := figure.Source{Kind: figure.Common, Text: "test catalogue"}
	all := []steel.Shape{steel.RectTube, steel.SquareTube, steel.RoundTube, steel.Pipe, steel.Angle, steel.Channel, steel.Flat, steel.RoundBar, steel.SquareBar}
	return steel.Catalogue{
		TubeGauge:  steel.GaugeTable{Thickness: measure.Gauges{"11": 120 * measure.Mil, "14": 83 * measure.Mil, "16": 65 * measure.Mil}, Source: trade},
		SheetGauge: steel.GaugeTable{Thickness: measure.Gauges{"11": 1196 * measure.Mil / 10}, Source: trade},
		Pipes: []steel.PipeSize{{Nominal: "1-1/4", DN: "32", Outside: 1660 * measure.Mil,
			Schedules: map[string]measure.Length{"sch40": 140 * measure.Mil}, Source: trade}},
		Materials: []steel.Material{{Name: "carbon-steel", DensityKGM3: 7850, EMPa: 200000, GMPa: 77000, Source: trade, ModulusFrom: trade}},
		Grades: []steel.Grade{
			{Name: "A36", Material: "carbon-steel", FyMPa: 250, FuMPa: 400, Shapes: all[4:], Source: trade},
			{Name: "A500-B", Material: "carbon-steel", FyMPa: 317, FuMPa: 400, Shapes: all[:4], Wall: steel.Wall93, Corner: steel.CornerRule{Factor: 2, Source: trade}, Source: trade},
			{Name: "A513", Material: "carbon-steel", FyMPa: 220, FuMPa: 310, Shapes: all[:3], Wall: steel.Wall93, Corner: steel.CornerRule{Factor: 2, Source: trade}, Source: trade},
			{Name: "A53-B", Material: "carbon-steel", FyMPa: 240, FuMPa: 410, Shapes: all[2:4], Wall: steel.Wall93, Source: trade},
		},
	}
}

// Sections makes the steel of a job's sections.
func Sections(t testing.TB, j *job.Job) map[string]steel.Section {
	t.Helper()
	out := map[string]steel.Section{}
	for _, s := range j.Sections {
		shape, err := steel.ParseShape(s.Shape)
		if err != nil {
			t.Fatal(err)
		}
		x, err := steel.New(steel.Spec{Shape: shape, Size: s.Size, Grade: s.Grade, Unit: j.Units}, Catalogue())
		if err != nil {
			t.Fatal(err)
		}
		out[s.Name] = x
	}
	return out
}

// Read reads a job in TOML, which must be free of errors.
func Read(t testing.TB, toml string) *job.Job {
	t.Helper()
	j, problems := job.Read("test.toml", []byte(toml))
	for _, p := range problems {
		if p.Severity == text.Error {
			t.Fatal(p.Long())
		}
	}
	return &j
}
