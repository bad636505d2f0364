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
	m.shareSpare()
}

// shareSpare raises the halves where a plane's like is offered by no piece (a section with hands), so that the two never
// meet: what all joints that can be have to spare over the halves is shared out between their planes. Still no joint takes
// less than its two together. Of three ways to share, the one that gives the job's pieces the most room is taken.
func (m *model) shareSpare() {
	left, right := make([]bool, len(m.planes)), make([]bool, len(m.planes))
	for _, lays := range m.classes {
		for _, l := range lays {
			left[l.left], right[l.right] = true, true
		}
	}
	var halfL, halfR []int64
	most := int64(-infinite)
	for _, parts := range []int64{1, 2, 0} { // of the spare the left planes take first: all, half, nothing
		l, r := append([]int64(nil), m.halfL...), append([]int64(nil), m.halfR...)
		least := func(a0, a1, b0, b1 int) int64 {
			v := int64(infinite)
			for a := a0; a < a1; a++ {
				for b := b0; b < b1; b++ {
					if right[a] && left[b] {
						v = min(v, m.joint[a][b]-r[a]-l[b])
					}
				}
			}
			if v == infinite {
				return 0
			}
			return v
		}
		lefts := func(part int64) {
			for b := range m.planes {
				l[b] += least(0, len(m.planes), b, b+1) / part
			}
		}
		if parts > 0 {
			lefts(parts)
		}
		for a := range m.planes {
			r[a] += least(a, a+1, 0, len(m.planes))
		}
		lefts(1)
		sum := int64(0)
		for i, k := range m.p.Kinds {
			room := int64(infinite)
			for _, w := range m.classes[m.kinds[i].class] {
				room = min(room, l[w.left]+r[w.right])
			}
			sum += room * int64(k.Qty)
		}
		if sum > most {
			most, halfL, halfR = sum, l, r
		}
	}
	m.halfL, m.halfR = halfL, halfR
}
