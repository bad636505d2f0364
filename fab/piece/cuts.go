package piece

import (
	"math"

	"bench.example/soapstone/fab/frame"
)

// Faces on which an angle is seen.
const (
	depth = "depth"
	width = "width"
)

const deg = 180 / math.Pi

// face gives the face on which an end leans: depth or width where it leans across one pair of faces only, "" for a square
// cut, "both" for a compound one.
func (s Slope) face() string {
	switch {
	case s.SY == 0 && s.SZ == 0:
		return ""
	case s.SZ == 0:
		return depth
	case s.SY == 0:
		return width
	}
	return "both"
}

// across chooses the faces on which the two ends of a piece are seen. An end that leans across one pair of faces is seen
// there; the other, square or compound, on the same; two square ones on the depth, two compound ones on the wider face,
// on which the piece lies well.
func across(left, right Slope, s *frame.Section) (l, r, piece string) {
	l, r = left.face(), right.face()
	wide := depth
	if s.WidthMM > s.DepthMM {
		wide = width
	}
	plain := func(f string) bool { return f == depth || f == width }
	switch {
	case plain(l) && plain(r):
		return l, r, l
	case plain(l):
		return l, l, l
	case plain(r):
		return r, r, r
	case l == "both" || r == "both":
		return wide, wide, wide
	}
	return depth, depth, depth
}

// numbers gives an end as the contract writes it: its angle from square on the face, positive where its tip is at the
// bottom edge, and the lean of the blade against that face, positive where the tip is on the far side of the piece.
func numbers(s Slope, right bool, face string) (miter, bevel float64) {
	along, far := s.SY, s.SZ // x = .. + along*(up the face) + far*(towards the eye)
	if face == width {
		along, far = s.SZ, -s.SY
	}
	if right {
		along, far = -along, -far
	}
	miter = math.Atan(along) * deg
	bevel = math.Atan(far/math.Hypot(1, along)) * deg
	return round(miter), round(bevel)
}

// round takes the noise off an angle: a billionth of a degree is less than an atom over a saw's blade.
func round(v float64) float64 {
	r := math.Round(v*1e9) / 1e9
	if r == 0 {
		return 0
	}
	return r
}

// swing gives a cut for a saw that only swings: how far it stands from square, and how far the piece is rolled about its
// own axis (right-handed, seen from its first end along it) from lying with the face up.
func swing(s Slope, face string) (swingDeg, rollDeg float64) {
	swingDeg = round(math.Atan(math.Hypot(s.SY, s.SZ)) * deg)
	if swingDeg == 0 {
		return 0, 0
	}
	lean := math.Atan2(s.SZ, s.SY) * deg // direction in the section in which the cut leans
	if face == width {
		lean -= 90
	}
	roll := -lean
	for roll > 90 {
		roll -= 180
	}
	for roll <= -90 {
		roll += 180
	}
	return swingDeg, round(roll)
}

// ends gives both ends of a shape in numbers.
func (s *shape) numbersOf() (ends [2]End, face string) {
	left, right := s.slope(0), s.slope(1)
	l, r, face := across(left, right, s.section)
	for e, x := range []struct {
		slope Slope
		face  string
	}{{left, l}, {right, r}} {
		ends[e] = End{Across: x.face, Slope: x.slope, Kind: s.ends[e].kind}
		ends[e].MiterDeg, ends[e].BevelDeg = numbers(x.slope, e == 1, x.face)
		ends[e].SwingDeg, ends[e].RollDeg = swing(x.slope, x.face)
		s.finish(e, &ends[e], face)
	}
	return ends, face
}

// lays gives the ways in which the shape may lie and be the same piece, as turns and rolls seen from the piece's face; of
// two that cut the same planes the one with less handling.
func (s *shape) lays(face string) []Lay {
	left, right := s.slope(0), s.slope(1)
	flip := frame.FlipWidth // end for end about the axis that stands upright in the depth face
	if face == width {
		flip = frame.FlipDepth
	}
	allowed := s.section.Motions()
	var out []Lay
	for _, turned := range []bool{false, true} {
		m := frame.Stay
		if turned {
			m = flip
		}
		for _, roll := range []int{0, 180, 90, 270} {
			n := m
			for range roll / 90 {
				n = n.Then(frame.Quarter)
			}
			if !contains(allowed, n) {
				continue
			}
			l := Lay{left.moved(n), right.moved(n), roll, turned}
			if turned {
				l.Left, l.Right = l.Right, l.Left
			}
			if !covered(out, l) {
				out = append(out, l)
			}
		}
	}
	return out
}

func contains(ms []frame.Motion, m frame.Motion) bool {
	for _, x := range ms {
		if x == m {
			return true
		}
	}
	return false
}

func covered(ls []Lay, l Lay) bool {
	for _, x := range ls {
		if x.Left == l.Left && x.Right == l.Right {
			return true
		}
	}
	return false
}

func (s Slope) moved(m frame.Motion) Slope {
	sign := 1.0
	if m.Turned {
		sign = -1
	}
	return Slope{tidy(sign * (m.YY*s.SY + m.YZ*s.SZ)), tidy(sign * (m.ZY*s.SY + m.ZZ*s.SZ))}
}

// finish adds what is done to an end after the saw's cut off the stick.
func (s *shape) finish(e int, end *End, face string) {
	x := &s.ends[e]
	switch {
	case len(x.drums) > 0:
		end.Notes = append(end.Notes, "saddle: cut off square at the long point, then cope to the printed template")
	case len(x.notch) > 0:
		end.Notes = append(end.Notes, "cope: then notch it to fit the profile it meets")
	}
	if len(x.planes) < 2 {
		return
	}
	end.Notes = append(end.Notes, "point: cut off square at the tip, then these cuts through it")
	for _, f := range x.planes {
		slope := Slope{tidy(-f.ny / f.nx), tidy(-f.nz / f.nx)}
		c := End{Across: slope.face(), Slope: slope, Kind: x.kind}
		if c.Across == "" || c.Across == "both" {
			c.Across = face
		}
		c.MiterDeg, c.BevelDeg = numbers(slope, e == 1, c.Across)
		c.SwingDeg, c.RollDeg = swing(slope, c.Across)
		end.Then = append(end.Then, c)
	}
	end.TipMM, end.OneTip = s.tip(e, end.Then)
	end.Template = !end.OneTip
}

// tip gives the height of a point's tip over the bottom edge of the face that its cuts lean across. plain is false where
// they lean across several faces, or do not all begin at one tip on it: then angles alone do not tell where to cut.
func (s *shape) tip(e int, cuts []End) (overMM float64, plain bool) {
	at := 0.0
	if e == 1 {
		at = s.length
	}
	face, found := "", false
	for k, f := range s.ends[e].planes {
		c := &cuts[k]
		lean, extent := f.ny, s.section.DepthMM
		switch c.Slope.face() {
		case "":
			continue // square, through the tip wherever that lies
		case width:
			lean, extent = f.nz, s.section.WidthMM
		case "both":
			return 0, false
		}
		over := (f.d-f.nx*at)/lean + extent/2
		if found && (c.Across != face || math.Abs(over-overMM) > tipMM) || over < -tipMM || over > extent+tipMM {
			return 0, false
		}
		face, overMM, found = c.Across, over, true
	}
	return max(0, clear(overMM)), found
}

// tipMM is how near the lines of a point's cuts must come together to begin at one tip: finer than any scriber's line.
const tipMM = 0.05
