package frame

import (
	"math"

	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/steel"
)

// roundSides is the number of sides of the polygon that stands for a circle in the search for contacts.
const roundSides = 48

// NewSection makes the geometry of a section. seam is the job's tube_seam.
func NewSection(name, seam string, s steel.Section) *Section {
	x := &Section{
		Section: s, Name: name, Seam: seam,
		DepthMM: s.Depth.MM(), WidthMM: s.Width.MM(), WallMM: s.Wall.MM(), FlangeMM: s.Flange.MM(), RadiusMM: s.OutsideRadius.MM(),
		Round: s.Shape.Round(), Hollow: s.Shape.Hollow(),
	}
	p := s.Properties(steel.Nominal)
	x.OutsideMM, x.InsideMM = p.OutsideMM, p.InsideMM
	x.MassKGM, x.AreaMM2, x.CentroidYMM, x.CentroidZMM = p.MassKGM, p.AreaMM2, p.CentroidYMM, p.CentroidZMM
	x.IyyMM4, x.IzzMM4, x.IyzMM4 = p.IxMM4, p.IyMM4, p.IyzMM4
	h, b, t, f := x.DepthMM/2, x.WidthMM/2, x.WallMM, x.FlangeMM
	box := func(y0, z0, y1, z1 float64) []space.Vec2 {
		return []space.Vec2{{Y: y0, Z: z0}, {Y: y1, Z: z0}, {Y: y1, Z: z1}, {Y: y0, Z: z1}}
	}
	switch {
	case x.Round:
		x.RadiusMM = h
		circle := make([]space.Vec2, roundSides)
		for i := range circle {
			sin, cos := space.SinCosDeg(360 * float64(i) / roundSides)
			circle[i] = space.Vec2{Y: h * cos, Z: h * sin}
		}
		x.Parts = [][]space.Vec2{circle}
	case s.Shape == steel.Angle:
		x.Parts = [][]space.Vec2{box(-h, -b, h, -b+t), box(-h, -b+t, -h+t, b)}
	case s.Shape == steel.Channel:
		x.Parts = [][]space.Vec2{box(-h, -b, h, -b+t), box(-h, -b+t, -h+f, b), box(h-f, -b+t, h, b)}
	default:
		x.Parts = [][]space.Vec2{box(-h, -b, h, b)}
	}
	return x
}

// internal tells whether side i of a part is where it grows out of another part of the section, and no face.
func (s *Section) internal(part, side int) bool { return part > 0 && side == 0 }

// Open tells whether the section is an angle or channel, which has a heel.
func (s *Section) Open() bool { return s.Shape == steel.Angle || s.Shape == steel.Channel }

// corners gives the sharp corners between which a plane cut has its tips; of a round section none (see reach).
func (s *Section) corners() []space.Vec2 {
	if s.Round {
		return nil
	}
	if len(s.Parts) == 1 {
		return s.Parts[0]
	}
	var all []space.Vec2
	for _, p := range s.Parts {
		all = append(all, p...)
	}
	return all
}

// reach gives how far a plane with the slopes sy, sz (x = sy*y + sz*z) reaches before and beyond the centre line within
// the section.
func (s *Section) reach(sy, sz float64) (least, most float64) {
	if s.Round {
		r := s.RadiusMM * math.Hypot(sy, sz)
		return -r, r
	}
	least, most = math.Inf(1), math.Inf(-1)
	for _, c := range s.corners() {
		x := sy*c.Y + sz*c.Z
		least, most = min(least, x), max(most, x)
	}
	return least, most
}
