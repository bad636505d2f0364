package frame

import "bench.example/soapstone/fab/space"

// Motion is a way to lay a piece down again so that its section covers itself: (y, z) goes to (YY*y + YZ*z, ZY*y + ZZ*z),
// and, where it is turned end for end, x to -x. The matrix is a turn where Turned is false and a mirroring where it is
// true, so that the motion as a whole is one that a hand can make.
type Motion struct {
	YY, YZ, ZY, ZZ float64
	Turned         bool
}

// Apply moves a point or direction of the section.
func (m Motion) Apply(p space.Vec2) space.Vec2 {
	return space.Vec2{Y: m.YY*p.Y + m.YZ*p.Z, Z: m.ZY*p.Y + m.ZZ*p.Z}
}

// Then gives the motion that does m first, then n.
func (m Motion) Then(n Motion) Motion {
	return Motion{n.YY*m.YY + n.YZ*m.ZY, n.YY*m.YZ + n.YZ*m.ZZ, n.ZY*m.YY + n.ZZ*m.ZY, n.ZY*m.YZ + n.ZZ*m.ZZ, m.Turned != n.Turned}
}

// The motions that a rectangular stick can have.
var (
	Stay      = Motion{1, 0, 0, 1, false}
	Quarter   = Motion{0, -1, 1, 0, false} // rolled by 90 degrees
	FlipWidth = Motion{1, 0, 0, -1, true}  // turned end for end about the depth axis
	FlipDepth = Motion{-1, 0, 0, 1, true}  // turned end for end about the width axis
)

// Motions gives those under which the section stays the same piece of steel, Stay first. A round section also allows any
// other roll; here it has the eight of a square. A tube whose own seam is kept to one face ("inside") is taken to carry it
// on the face at least width and keeps only the motions that leave it there.
func (s *Section) Motions() []Motion {
	sym := s.Symmetry()
	half := Quarter.Then(Quarter)
	out := []Motion{Stay}
	take := func(ok bool, m Motion) {
		if ok {
			out = append(out, m)
		}
	}
	if s.Seam == "inside" && s.Hollow {
		take(sym.FlipDepth, FlipDepth)
		return out
	}
	take(sym.HalfRoll, half)
	take(sym.FlipWidth, FlipWidth)
	take(sym.FlipDepth, FlipDepth)
	take(sym.QuarterRoll, Quarter)
	take(sym.QuarterRoll, half.Then(Quarter))
	take(sym.Swap, Motion{0, 1, 1, 0, true})
	take(sym.Swap && sym.HalfRoll, Motion{0, -1, -1, 0, true})
	return out
}
