package weld

import (
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
)

func mm(v float64) measure.Length { return measure.FromMM(v) }

func vec(p [3]float64) space.Vec { return space.Vec{X: p[0], Y: p[1], Z: p[2]} }
