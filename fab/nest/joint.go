package nest

import (
	"math"

	"bench.example/soapstone/fab/measure"
)

// Joint gives how far the tip of a piece with the left plane lies behind the tip of its neighbour with the right plane:
// the kerf along the stick of the steeper of the two, everywhere over the section (below 0 where the tips pass each other).
func (r Rules) Joint(right, left Plane) measure.Length {
	a, b := right.corners(&r), left.corners(&r)
	closest := int64(math.MaxInt64)
	for c := range 4 {
		closest = min(closest, b[c]-a[c])
	}
	_, hi := bounds(a)
	lo, _ := bounds(b)
	return measure.Length(max(r.kerfAt(right), r.kerfAt(left)) - closest + lo - hi)
}

// kerfAt is what the kerf of a plane takes along the stick.
func (r Rules) kerfAt(p Plane) int64 { return int64(math.Ceil(float64(r.Kerf)*p.secant() - 1e-6)) }
