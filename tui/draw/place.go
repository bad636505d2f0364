package draw

import "math"

// Place gives the way from the millimetres of a picture (y up) to the dots of a canvas (y down): as large as it fits, its
// shape kept, centred. A canvas cell is taken as twice as high as wide, its dots as square.
func Place(c *Canvas, minX, minY, maxX, maxY float64) func(x, y float64) (float64, float64) {
	w, h := c.Size()
	wide, high := math.Max(maxX-minX, 1e-9), math.Max(maxY-minY, 1e-9)
	scale := math.Min(float64(w-3)/wide, float64(h-3)/high)
	if !(scale > 0) || math.IsInf(scale, 0) {
		scale = 0
	}
	left := (float64(w-1) - scale*wide) / 2
	top := (float64(h-1) - scale*high) / 2
	return func(x, y float64) (float64, float64) {
		return left + scale*(x-minX), top + scale*(maxY-y)
	}
}
