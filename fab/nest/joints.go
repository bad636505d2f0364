package nest

// setJoints tabulates what each joint of two neighbours takes from tip to tip. For a right plane R and a left plane S
// the gap S-R is linear over the section's rectangle, so its least value is at a corner.
func (m *model) setJoints(r *Rules) {
	for _, p := range m.planes {
		c := p.corners(r)
		lo, hi := bounds(c)
		m.corner = append(m.corner, c)
		m.lo = append(m.lo, lo)
		m.hi = append(m.hi, hi)
		m.kerf = append(m.kerf, r.kerfAt(p))
	}
	m.joint = make([][]int64, len(m.planes))
	for a := range m.planes {
		m.joint[a] = make([]int64, len(m.planes))
		for b := range m.planes {
			m.joint[a][b] = int64(r.Joint(m.planes[a], m.planes[b]))
		}
	}
	m.setHalves()
}

// setHalves gives each plane half of what a joint with its like takes: kerf less the overlap of the tips. No joint takes
// less than the halves of its two planes: with c and d the corners where S is least and R greatest,
// max(R-S) >= ((R-S)(c) + (R-S)(d))/2, and the greater kerf is no less than the mean of the two. So the sum of a stick's
// lengths and halves bounds what its pieces take in any order. Odd nanometres go to the left end's half, which keeps the
// inequality and makes it exact for square cuts.
func (m *model) setHalves() {
	for a := range m.planes {
		whole := m.kerf[a] - (m.hi[a] - m.lo[a])
		m.halfR = append(m.halfR, whole>>1)
		m.halfL = append(m.halfL, whole-whole>>1)
	}
}
