package seam

import (
	"math"

	"bench.example/soapstone/fab/figure"
)

// Convexity is the share by which the metal of a fillet exceeds the flat triangle (the plan's allowance, common practice).
const Convexity = 0.10

// cap height of a groove or an outside corner: 1/16 in (common practice; AWS D1.1 allows 1/8 in).
const capMM = inch / 16

var handbook = figure.Source{Kind: figure.Handbook, Text: "ESAB Filler Metal Handbook, weight of weld metal, p. 8-9: triangle, rectangle and 2/3 w h for the cap"}

// FilletArea gives the cross-section of a flat fillet with equal legs, mm2.
func FilletArea(legMM float64) float64 { return legMM * legMM / 2 }

// CapArea gives the cross-section of a cap of that width and height: 2/3 w h, mm2.
func CapArea(widthMM, heightMM float64) float64 { return 2.0 / 3 * widthMM * heightMM }

// TriangleArea gives the cross-section of a bevel of that depth and angle, mm2.
func TriangleArea(depthMM, deg float64) float64 {
	return depthMM * depthMM * math.Tan(deg*math.Pi/180) / 2
}

// FlareArea gives the metal that fills a flare bevel flush between a corner of that outside radius and a flat, mm2; the
// torch does not reach its root, so it is an upper bound.
func FlareArea(radiusMM float64) float64 { return radiusMM * radiusMM * (1 - math.Pi/4) }

// Area gives the cross-section of the seam's weld metal (mm2), allowances included, as a figure.
func (s Seam) Area() figure.Figure {
	leg := figure.In("z", "leg or depth", s.LegMM, "mm", "")
	gap := figure.In("g", "root gap", s.GapMM, "mm", "")
	h := figure.In("h", "height of the cap", capMM, "mm", "common practice")
	switch s.Type {
	case SquareGroove:
		return figure.New("seam.area", "cross-section of the weld", "mm2", "z * g + 2/3 * (2 * z + g) * h", handbook, leg, gap, h).
			Without("metal that melts off the parts")
	case OutsideCorner:
		return figure.New("seam.area", "cross-section of the weld", "mm2", "z^2 / 2 + z * g", handbook, leg, gap)
	case FlareBevel:
		return figure.New("seam.area", "cross-section of the weld", "mm2", "r^2 * (1 - pi/4) + z * g + 2/3 * r * h", handbook, leg, gap, h,
			figure.In("r", "outside corner radius", s.RadiusMM, "mm", ""))
	case Bevel:
		return figure.New("seam.area", "cross-section of the weld", "mm2", "z^2 * tan(a) / 2 + z * g + 2/3 * (z + g) * h", handbook, leg, gap, h,
			figure.In("a", "bevel angle", math.Min(60, math.Max(0, 180-s.DihedralDeg)), "deg", ""))
	}
	return figure.New("seam.area", "cross-section of the weld", "mm2", "(z + g)^2 / 2 * (1 + c) * tan(d / 2)", handbook, leg,
		figure.In("g", "gap that the leg grows by", fillGap(s.GapMM), "mm", ""),
		figure.In("c", "convexity allowance", Convexity, "", "common practice"), figure.In("d", "angle between the faces", math.Min(135, math.Max(60, s.DihedralDeg)), "deg", "geometry"))
}

func fillGap(gap float64) float64 {
	if gap > inch/16 {
		return gap
	}
	return 0
}
