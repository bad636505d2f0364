package square

import (
	"fmt"
	"math"
)

// Rack is how far a frame of known sides leans, by its two diagonals.
type Rack struct {
	DiagonalMM float64 // of the frame when it is square
	SkewMM     float64 // how far one long side has slid along the other; positive where the first diagonal is the longer
	SkewDeg    float64 // how far the corners are off 90 degrees
	TargetMM   float64 // what both diagonals will measure when the frame is square: sqrt((d1^2+d2^2)/2), not their mean
	PullMM     float64 // by how much the longer diagonal must come shorter
	Longer     int     // 1 or 2: the diagonal whose corners are pulled together; 0 where they are equal
	SidesOffMM float64 // the target differs so much from the diagonal of the stated sides: they are not what they should be
}

// Diagonal gives the diagonal of a rectangle (Pythagoras).
func Diagonal(length, width float64) float64 { return math.Hypot(length, width) }

// RackOf works out a frame's rack from its sides and the two measured diagonals, all in mm. By the parallelogram law the
// squares of the diagonals differ by four times the long side times the slide.
func RackOf(length, width, d1, d2 float64) (Rack, error) {
	long, short := max(length, width), min(length, width)
	for i, d := range []float64{d1, d2} {
		if !(d > long-short) || !(d < long+short) {
			return Rack{}, fmt.Errorf("no frame of these sides has a diagonal d%d of %.5g mm: it lies between %.5g and %.5g mm", i+1, d, long-short, long+short)
		}
	}
	r := Rack{DiagonalMM: Diagonal(length, width)}
	r.SkewMM = (d1 - d2) * (d1 + d2) / (4 * long)
	if math.Abs(r.SkewMM) > short {
		return Rack{}, fmt.Errorf("these two diagonals do not belong to one frame of these sides: it would lean by more than its short side is long")
	}
	r.SkewDeg = math.Asin(r.SkewMM/short) * 180 / math.Pi
	r.TargetMM = math.Sqrt((d1*d1 + d2*d2) / 2)
	r.SidesOffMM = r.TargetMM - r.DiagonalMM
	r.PullMM = max(d1, d2) - r.TargetMM
	switch {
	case d1 > d2:
		r.Longer = 1
	case d2 > d1:
		r.Longer = 2
	default:
		r.PullMM = 0
	}
	return r, nil
}

// Twist gives how far a frame is in wind: how far any one corner stands off the plane through the other three, from the
// heights of its corners in order round (mm), and which corner (1 to 4) is the one to press down: the higher of the two on
// the high diagonal. A level or an evenly tilted frame has no wind and no high corner (0).
func Twist(h [4]float64) (windMM float64, high int) {
	w := h[0] - h[1] + h[2] - h[3]
	switch {
	case w == 0:
		return 0, 0
	case w > 0:
		high = 1
		if h[2] > h[0] {
			high = 3
		}
	default:
		high = 2
		if h[3] > h[1] {
			high = 4
		}
	}
	return math.Abs(w), high
}
