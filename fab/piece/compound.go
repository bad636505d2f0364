package piece

import (
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/space"
)

// Compound gives the two angles of the cut at which neighbouring sides of a box with leaning sides meet (a hopper, a
// crown), for a side that lies flat: the mitre on its face and the lean of the blade, in degrees from square. corner is
// the inside corner in plan, tilt the sides' lean from the vertical, both in degrees. It is found by the code that cuts
// members: two level sides, rolled by the tilt, and the plane that halves their angle.
func Compound(corner, tilt float64) (miterDeg, bevelDeg float64) {
	axis := space.X
	up := space.Z.Rotate(axis, tilt)
	m := frame.Member{Axis: axis, Depth: up, Width: axis.Cross(up)}
	other := axis.Mul(-1).Rotate(space.Z, corner) // along the other side, away from the corner
	plane := space.Plane{Normal: axis.Add(other).Unit()}
	_, sy, sz, _ := m.Slopes(plane)
	miter, bevel := numbers(Slope{sy, sz}, true, depth)
	if miter < 0 {
		miter, bevel = -miter, -bevel
	}
	if bevel < 0 {
		bevel = -bevel
	}
	return miter, bevel
}
