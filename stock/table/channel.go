package table

import (
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

// channels are hot-rolled channels: depth, width and web in thousandths of an inch, area in in2, weight in lb/ft.
func channels() []steel.ChannelSize {
	rows := []struct {
		name              string
		depth, width, web int64
		area, weight      float64
	}{
		{"C3X3.5", 3000, 1370, 132, 1.09, 3.5},
		{"C3X4.1", 3000, 1410, 170, 1.20, 4.1},
		{"C3X5", 3000, 1500, 258, 1.47, 5},
		{"C4X4.5", 4000, 1520, 125, 1.34, 4.5},
		{"C4X5.4", 4000, 1580, 184, 1.58, 5.4},
		{"C4X6.25", 4000, 1650, 247, 1.84, 6.25},
		{"C5X9", 5000, 1890, 325, 2.64, 9},
		{"C6X10.5", 6000, 2030, 314, 3.07, 10.5},
		{"C6X13", 6000, 2160, 437, 3.82, 13},
		{"MC3X7.1", 3000, 1940, 312, 2.11, 7.1},
		{"MC6X6.5", 6000, 1850, 155, 1.95, 6.5},
		{"MC6X12", 6000, 2500, 310, 3.53, 12},
		{"MC6X15.1", 6000, 2940, 316, 4.44, 15.1},
		{"MC6X15.3", 6000, 3500, 340, 4.49, 15.3},
		{"MC6X18", 6000, 3500, 379, 5.29, 18},
	}
	sizes := make([]steel.ChannelSize, len(rows))
	for i, r := range rows {
		sizes[i] = steel.ChannelSize{Name: r.name, Depth: measure.Length(r.depth) * measure.Mil, Width: measure.Length(r.width) * measure.Mil,
			Web: measure.Length(r.web) * measure.Mil, AreaMM2: r.area * measure.InchMM * measure.InchMM,
			MassKGM: r.weight * measure.PoundKG / 0.3048, Source: aisc}
	}
	return sizes
}
