package space

import "math"

// Near is the distance under which two points count as one, in mm: a tenth of a micrometre, far above the noise of
// float64 and far below anything a saw does.
const Near = 1e-4

// Clip gives the part of a flat convex polygon that lies behind the plane (within Near of it counts as behind), nil where
// nothing with an area is left.
func Clip(poly []Vec, p Plane) []Vec {
	out := poly[:0:0]
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		da, db := p.Dist(a), p.Dist(b)
		if da <= Near {
			out = append(out, a)
		}
		if da < -Near && db > Near || da > Near && db < -Near {
			out = append(out, a.Lerp(b, da/(da-db)))
		}
	}
	out = dedupe(out)
	if len(out) < 3 {
		return nil
	}
	return out
}

// Overlap gives the area that two convex polygons of one plane have in common; normal is that of b's plane, and b runs
// counter-clockwise round it. nil where there is none.
func Overlap(a, b []Vec, normal Vec) []Vec {
	for i, p := range b {
		q := b[(i+1)%len(b)]
		out := q.Sub(p).Cross(normal).Unit()
		if a = Clip(a, Plane{p, out}); a == nil {
			return nil
		}
	}
	return a
}

// Area gives the area of a flat polygon in mm2.
func Area(poly []Vec) float64 { return areaVec(poly).Len() / 2 }

// Normal gives the unit normal of a flat polygon, round which it runs counter-clockwise.
func Normal(poly []Vec) Vec { return areaVec(poly).Unit() }

func areaVec(poly []Vec) Vec {
	var s Vec
	for i := 1; i+1 < len(poly); i++ {
		s = s.Add(poly[i].Sub(poly[0]).Cross(poly[i+1].Sub(poly[0])))
	}
	return s
}

// Centroid gives the middle of a flat polygon's area; of one without area, of its corners.
func Centroid(poly []Vec) Vec {
	var sum, mean Vec
	var total float64
	n := areaVec(poly)
	for i := 1; i+1 < len(poly); i++ {
		a := poly[i].Sub(poly[0]).Cross(poly[i+1].Sub(poly[0])).Dot(n)
		sum = sum.Add(poly[0].Add(poly[i]).Add(poly[i+1]).Mul(a / 3))
		total += a
	}
	for _, p := range poly {
		mean = mean.Add(p.Mul(1 / float64(len(poly))))
	}
	if total == 0 {
		return mean
	}
	return sum.Mul(1 / total)
}

// Reversed gives the polygon run the other way round.
func Reversed(poly []Vec) []Vec {
	out := make([]Vec, len(poly))
	for i, p := range poly {
		out[len(poly)-1-i] = p
	}
	return out
}

func dedupe(poly []Vec) []Vec {
	out := poly[:0]
	for _, p := range poly {
		if len(out) == 0 || p.Dist(out[len(out)-1]) > Near {
			out = append(out, p)
		}
	}
	for len(out) > 1 && out[0].Dist(out[len(out)-1]) <= Near {
		out = out[:len(out)-1]
	}
	return out
}

// LineDist gives the distance of p from the line through a along the unit vector dir.
func LineDist(p, a, dir Vec) float64 {
	d := p.Sub(a)
	return math.Sqrt(max(0, d.Dot(d)-d.Dot(dir)*d.Dot(dir)))
}
