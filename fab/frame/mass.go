package frame

import "bench.example/soapstone/fab/space"

// MassKG gives a member's mass. Between two plane cuts a prism weighs what its line of centroids is long, whatever their
// angles; ends with more to them are reckoned by the volume of the outline, and a saddle by the mean of its curve. Holes
// are not taken off.
func (m *Member) MassKG() float64 {
	return m.Section.MassKGM * m.meanMM() / 1000
}

// Centre gives the centre of a member's mass. Between two plane cuts it is exact: slanted ends put more steel on the long
// side, so that it leaves the line of centroids by the section's second moments over its area and length.
func (m *Member) Centre() space.Vec {
	from, to := m.centroids()
	s := m.Section
	x, y, z := (from+to)/2, s.CentroidYMM, s.CentroidZMM
	var slope [2]space.Vec2
	for e := range m.Ends {
		if len(m.Ends[e].Planes) != 1 || len(m.Ends[e].Notch) > 0 || m.Ends[e].Saddle != nil {
			return m.Place(x, y, z)
		}
		if _, sy, sz, ok := m.Slopes(m.Ends[e].Planes[0]); ok {
			slope[e] = space.Vec2{Y: sy, Z: sz}
		}
	}
	al := s.AreaMM2 * (to - from)
	if al <= 0 {
		return m.Place(x, y, z)
	}
	moment := func(v space.Vec2) space.Vec2 {
		return space.Vec2{Y: s.IyyMM4*v.Y + s.IyzMM4*v.Z, Z: s.IyzMM4*v.Y + s.IzzMM4*v.Z}
	}
	d := moment(space.Vec2{Y: slope[1].Y - slope[0].Y, Z: slope[1].Z - slope[0].Z})
	square := func(v space.Vec2) float64 { w := moment(v); return v.Y*w.Y + v.Z*w.Z }
	x += (square(slope[1]) - square(slope[0])) / (2 * al)
	return m.Place(x, y+d.Y/al, z+d.Z/al)
}

// centroids gives where the line of centroids is cut.
func (m *Member) centroids() (from, to float64) {
	start := m.Place(0, m.Section.CentroidYMM, m.Section.CentroidZMM)
	x := [2]float64{0, m.A.Dist(m.B)}
	for e := range m.Ends {
		end := &m.Ends[e]
		if end.Saddle != nil {
			var sum float64
			curve := m.SaddleCurve(e, 360)
			for _, p := range curve {
				sum += p.Sub(m.A).Dot(m.Axis)
			}
			x[e] = sum / float64(len(curve))
			continue
		}
		for k, p := range end.Planes {
			t, ok := p.Line(start, m.Axis)
			if !ok {
				continue
			}
			if k == 0 || e == 0 && t > x[e] || e == 1 && t < x[e] {
				x[e] = t
			}
		}
	}
	return x[0], x[1]
}

func (m *Member) meanMM() float64 {
	simple := true
	for e := range m.Ends {
		simple = simple && (len(m.Ends[e].Planes) == 1 && len(m.Ends[e].Notch) == 0 || m.Ends[e].Saddle != nil)
	}
	if simple {
		from, to := m.centroids()
		return to - from
	}
	var volume, area float64
	for _, s := range m.Solids() {
		volume += s.Volume()
	}
	for _, p := range m.Section.Parts {
		poly := make([]space.Vec, len(p))
		for i, c := range p {
			poly[i] = space.Vec{X: c.Y, Y: c.Z}
		}
		area += space.Area(poly)
	}
	return volume / area
}
