package frame

import (
	"math"

	"bench.example/soapstone/fab/space"
)

// Skin is what a member shows before its neighbours cover any of it, in mm2. A saddled end is taken square at its tips.
type Skin struct {
	SideMM2 float64    // outside skin between the cuts
	EndMM2  [2]float64 // faces of the end cuts, the hollow of a tube not taken off
}

// Skin measures a member's faces. The sides are those of the sharp-cornered outline, brought down to the section's true
// perimeter (round corners and fillets), which is exact between parallel cuts and within the corner's roundness else.
func (m *Member) Skin() Skin {
	var s Skin
	for _, solid := range m.Solids() {
		for _, f := range solid.Facets {
			a := space.Area(f.Poly)
			switch e := endOf(f.Tag); {
			case e >= 0:
				s.EndMM2[e] += a
			case f.Tag >= tagInternal:
				s.SideMM2 -= a // the part that it grows out of has this strip covered
			default:
				s.SideMM2 += a
			}
		}
	}
	if p := m.Section.perimeter(); p > 0 {
		s.SideMM2 *= m.Section.OutsideMM / p
	}
	return s
}

// perimeter of the sharp-cornered outline in mm.
func (s *Section) perimeter() float64 {
	total := 0.0
	for k, part := range s.Parts {
		for i, c := range part {
			d := part[(i+1)%len(part)]
			l := math.Hypot(d.Y-c.Y, d.Z-c.Z)
			if s.internal(k, i) {
				l = -l
			}
			total += l
		}
	}
	return total
}

// OutlineMM2 is the area inside the section's outline, the hollow of a tube included: round corners taken off.
func (s *Section) OutlineMM2() float64 {
	if s.Round {
		return math.Pi * s.RadiusMM * s.RadiusMM
	}
	if !s.Hollow {
		return s.AreaMM2
	}
	return s.DepthMM*s.WidthMM - (4-math.Pi)*s.RadiusMM*s.RadiusMM
}

// Covers gives how much of each member's sides, and of each of its two end faces, its neighbours cover, in mm2.
func (f *Frame) Covers() []Skin {
	out := make([]Skin, len(f.Members))
	for i := range f.Joints {
		for _, c := range f.Joints[i].Contacts {
			for k, m := range c.Members {
				if e := c.Ends[k]; e >= 0 {
					out[m].EndMM2[e] += c.AreaMM2
				} else {
					out[m].SideMM2 += c.AreaMM2
				}
			}
		}
	}
	return out
}
