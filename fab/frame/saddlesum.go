package frame

import (
	"math"

	"bench.example/soapstone/fab/space"
)

// RoundSaddle is a round branch on a round header, their axes crossing at an angle: the curve of the cut, measured along
// the branch from the header's axis, at a radius of the branch. At angles from the obtuse side: the wrap angle 0 lies
// where the two axes make their obtuse angle.
type RoundSaddle struct {
	HeaderMM float64 // radius of the header
	BranchMM float64 // radius of the branch on which the line lies: outside for a template, inside for what touches first
	AngleDeg float64 // between the axes; above 90 it is taken as its supplement
}

// member sets the branch up as a member along x whose axis meets the header's.
func (r RoundSaddle) member() (*Member, *Saddle, float64) {
	acute := r.AngleDeg
	if acute > 90 {
		acute = 180 - acute
	}
	// The branch's metal lies at +x from the header; seen from the branch, the header's axis leans so that its obtuse side
	// lies at +depth.
	sin, cos := space.SinCosDeg(acute)
	s := &Saddle{Dir: space.Vec{X: -cos, Y: sin}, RadiusMM: r.HeaderMM}
	m := &Member{Axis: space.X, Depth: space.Y, Width: space.Z}
	return m, s, acute
}

// AxialMM gives the distance along the branch from the header's axis to the cut at a wrap angle in degrees.
func (r RoundSaddle) AxialMM(wrapDeg float64) float64 {
	m, s, _ := r.member()
	sin, cos := space.SinCosDeg(wrapDeg)
	// The branch comes from +x: its metal ends where a line from there meets the header.
	t, _ := s.first(m.Place(0, r.BranchMM*cos, r.BranchMM*sin), space.X.Mul(-1))
	return -t
}

// DepthMM gives the full depth of the cut: from the shortest line along the branch to the longest. The longest lies at
// the wrap angle 180; the shortest at 0, or where the curve passes the header's flank, at sqrt(R^2 - r^2) from its axis.
func (r RoundSaddle) DepthMM() float64 {
	_, _, acute := r.member()
	most := r.AxialMM(180)
	q := math.Sqrt(r.HeaderMM*r.HeaderMM - r.BranchMM*r.BranchMM)
	sin, cos := space.SinCosDeg(acute)
	if q*cos <= r.BranchMM*sin {
		return most - q
	}
	return most - r.AxialMM(0)
}
