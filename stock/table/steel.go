package table

import "bench.example/soapstone/fab/steel"

// Steel gives the catalogue of sections and grades.
func Steel() steel.Catalogue {
	return steel.Catalogue{
		TubeGauge: tubeGauge(), SheetGauge: sheetGauge(), StainlessGauge: stainlessGauge(), AluminiumGauge: aluminiumGauge(),
		Pipes: pipes(), Channels: channels(), DesignWalls: designWalls(), Materials: materials(), Grades: grades(),
	}
}
