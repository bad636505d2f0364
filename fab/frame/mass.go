package frame

import "bench.example/soapstone/fab/space"

// MassKG gives a member's mass. Between two plane cuts a prism weighs what its line of centroids is long, whatever their
// angles; ends with more to them are reckoned by the volume of the outline, and a saddle by the mean of its curve. Holes
// are not taken off.
func (m *Member) MassKG() float64 {
	return m.Section.MassKGM * m.meanMM() / 1000
}

// Centre gives the centre of a member's mass; of slanted ends the middle of the line of centroids.
func (m *Member) Centre() space.Vec {
	from, to := m.centroids()
	return m.Place((from+to)/2, m.Section.CentroidYMM, m.Section.CentroidZMM)
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
