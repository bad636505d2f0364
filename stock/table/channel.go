package table

import (
	"math"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

// channels are hot-rolled channels as the AISC table prints them: depth, width and web in thousandths of an inch, the rest
// in powers of inches and lb/ft.
func channels() []steel.ChannelSize {
	rows := []struct {
		name                                    string
		depth, width, web                       int64
		weight, area, ix, sx, zx, iy, sy, zy, j float64
	}{
		{"C3X3.5", 3000, 1370, 132, 3.5, 1.09, 1.57, 1.04, 1.24, 0.169, 0.182, 0.364, 0.0226},
		{"C3X4.1", 3000, 1410, 170, 4.1, 1.2, 1.65, 1.1, 1.32, 0.191, 0.196, 0.399, 0.0269},
		{"C3X5", 3000, 1500, 258, 5, 1.47, 1.85, 1.23, 1.52, 0.241, 0.228, 0.464, 0.0425},
		{"C4X4.5", 4000, 1520, 125, 4.5, 1.34, 3.53, 1.77, 2.05, 0.265, 0.253, 0.495, 0.0306},
		{"C4X5.4", 4000, 1580, 184, 5.4, 1.58, 3.85, 1.92, 2.29, 0.312, 0.277, 0.565, 0.0399},
		{"C4X6.25", 4000, 1650, 247, 6.25, 1.84, 4.19, 2.1, 2.55, 0.374, 0.312, 0.623, 0.0549},
		{"C5X9", 5000, 1890, 325, 9, 2.64, 8.89, 3.56, 4.39, 0.624, 0.444, 0.913, 0.109},
		{"C6X10.5", 6000, 2030, 314, 10.5, 3.07, 15.1, 5.04, 6.18, 0.86, 0.561, 1.14, 0.128},
		{"C6X13", 6000, 2160, 437, 13, 3.82, 17.3, 5.78, 7.29, 1.05, 0.638, 1.35, 0.237},
		{"MC3X7.1", 3000, 1940, 312, 7.1, 2.11, 2.72, 1.81, 2.24, 0.666, 0.518, 0.998, 0.0928},
		{"MC6X6.5", 6000, 1850, 155, 6.5, 1.95, 11, 3.66, 4.28, 0.565, 0.422, 0.836, 0.0412},
		{"MC6X12", 6000, 2500, 310, 12, 3.53, 18.7, 6.24, 7.47, 1.85, 1.03, 1.97, 0.155},
		{"MC6X15.1", 6000, 2940, 316, 15.1, 4.44, 24.9, 8.3, 9.83, 3.46, 1.73, 3.3, 0.285},
		{"MC6X15.3", 6000, 3500, 340, 15.3, 4.49, 25.3, 8.44, 9.91, 4.91, 2.01, 3.85, 0.223},
		{"MC6X18", 6000, 3500, 379, 18, 5.29, 29.7, 9.89, 11.7, 5.88, 2.47, 4.68, 0.379},
	}
	sizes := make([]steel.ChannelSize, len(rows))
	for i, r := range rows {
		sizes[i] = steel.ChannelSize{Name: r.name, Depth: measure.Length(r.depth) * measure.Mil, Width: measure.Length(r.width) * measure.Mil,
			Web: measure.Length(r.web) * measure.Mil, MassKGM: r.weight * measure.PoundKG / 0.3048, AreaMM2: inch(r.area, 2),
			IxMM4: inch(r.ix, 4), SxMM3: inch(r.sx, 3), ZxMM3: inch(r.zx, 3), IyMM4: inch(r.iy, 4), SyMM3: inch(r.sy, 3), ZyMM3: inch(r.zy, 3),
			JMM4: inch(r.j, 4), Source: aisc}
	}
	return sizes
}

// inch gives a power of inches in the same power of millimetres.
func inch(v float64, power float64) float64 { return v * math.Pow(measure.InchMM, power) }
