package frame_test

import (
	"math"

	"bench.example/soapstone/fab/measure"
)

func inches(v float64) measure.Length { return measure.Length(math.Round(v * float64(measure.Inch))) }
