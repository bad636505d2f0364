package frame

import (
	"math"

	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// fit says what does not fit together: ends that touch nothing, faces that do not match.
func (b *builder) fit() {
	touched := make([][2]bool, len(b.f.Members))
	for k := range b.f.Joints {
		for _, c := range b.f.Joints[k].Contacts {
			for s, i := range c.Members {
				if e := c.Ends[s]; e >= 0 {
					touched[i][e] = true
					continue
				}
				// A side touched near an end holds that end too.
				m := &b.f.Members[i]
				from, to := m.Tips()
				near := max(m.Section.DepthMM, m.Section.WidthMM)
				for _, v := range c.Outline {
					x := v.Sub(m.A).Dot(m.Axis)
					touched[i][0] = touched[i][0] || x < from+near
					touched[i][1] = touched[i][1] || x > to-near
				}
			}
		}
	}
	for i := range b.f.Members {
		m := &b.f.Members[i]
		for e := range m.Ends {
			if touched[i][e] || b.trouble[i] || !b.mustTouch(m, e) {
				continue
			}
			at, _ := m.out(e)
			key, way := m.placed(), ": stand it on a side"
			if m.Role == Single {
				key, way = m.Where.In([2]string{"from", "to"}[e]), "; let it end on a member, or say that this is meant with ends = [\"free\", ...]"
			}
			b.problem(key, text.Warning, CodeNothing, "the %s end of %s (x %s, y %s, z %s) touches nothing%s", [2]string{"first", "second"}[e], m.Name,
				b.tape(at.X), b.tape(at.Y), b.tape(at.Z), way)
		}
		if m.Role == Single && m.CutFit == "" && touched[i][0] && touched[i][1] && m.Ends[0].Kind != Mitre && m.Ends[1].Kind != Mitre {
			m.CutFit = "it goes between members that the welding may have moved"
		}
	}
	b.faces()
}

// mustTouch tells whether an end is made to meet something.
func (b *builder) mustTouch(m *Member, e int) bool {
	switch m.Ends[e].Kind {
	case Free, Level, Plumb, OnFoot:
		return false
	}
	switch m.Role {
	case Side:
		return false
	case Post, Leg:
		return m.Ends[e].Kind == Butt
	}
	return true
}

// faces warns of mitres whose two cut faces differ.
func (b *builder) faces() {
	for k := range b.f.Joints {
		j := &b.f.Joints[k]
		for _, c := range j.Contacts {
			if c.Ends[0] < 0 || c.Ends[1] < 0 {
				continue
			}
			p, q := &b.f.Members[c.Members[0]], &b.f.Members[c.Members[1]]
			if p.Ends[c.Ends[0]].Kind != Mitre || q.Ends[c.Ends[1]].Kind != Mitre {
				continue // one stands on the other
			}
			if len(p.Section.Parts) > 1 || len(q.Section.Parts) > 1 || len(p.Ends[c.Ends[0]].Planes) != 1 || len(q.Ends[c.Ends[1]].Planes) != 1 {
				continue
			}
			a0, a1 := b.cutArea(c.Members[0], c.Ends[0]), b.cutArea(c.Members[1], c.Ends[1])
			if most := max(a0, a1); c.AreaMM2 < most*0.98 {
				b.problem(q.Where.In("section", "ends"), text.Warning, CodeFaces, "%s and %s meet in a mitre whose faces do not match (they cover %.0f %% of the larger): sections of different size, or rolled differently; let one butt on the other, or fill the step",
					p.Name, q.Name, 100*c.AreaMM2/most)
			}
		}
	}
}

// cutArea gives the area of an end's cut face.
func (b *builder) cutArea(i, e int) float64 {
	var a float64
	for _, s := range b.solids[i].parts {
		for _, f := range s.Facets {
			if endOf(f.Tag) == e {
				a += space.Area(f.Poly)
			}
		}
	}
	return a
}

// exceptions hands the job's [[joint]]s to the joints between their members, and opens the root gaps that they ask for.
// It tells whether an end was changed, so that the joints must be found anew.
func (b *builder) exceptions() bool {
	changed := false
	for k := range b.job.Joints {
		j := &b.job.Joints[k]
		if len(j.Between) != 2 {
			continue
		}
		x, y := b.f.Index(j.Between[0]), b.f.Index(j.Between[1])
		if x < 0 || y < 0 {
			continue // a mark of loose pieces: there is no joint in the model
		}
		found := false
		for n := range b.f.Joints {
			f := &b.f.Joints[n]
			if f.Members[0] == x && f.Members[1] == y || f.Members[0] == y && f.Members[1] == x {
				found = true
				f.Spec = j
				if j.Kind != "" {
					f.Kind = JointKind(j.Kind)
				}
				if j.GapGiven && j.Gap > 0 && !b.opened[k] {
					b.opened[k] = true
					changed = b.open(f, j.Gap.MM()) || changed
				}
			}
		}
		if !found {
			b.problem(j.Where.In("between"), text.Warning, CodeNothing, "%s and %s do not touch: this joint is nowhere in the frame; name two members that do", j.Between[0], j.Between[1])
		}
	}
	return changed
}

// open shortens the pieces of a joint for its root gap: the one that is cut to the other by all of it, two mitred ends by
// half each. A saddle, and the notch of a cope, keep off what they fit by as much all round.
func (b *builder) open(j *Joint, gap float64) bool {
	changed := map[[2]int]float64{}
	for _, c := range j.Contacts {
		share := gap
		if c.Ends[0] >= 0 && c.Ends[1] >= 0 {
			share = gap / 2
		}
		for s, i := range c.Members {
			e := c.Ends[s]
			if e < 0 {
				continue
			}
			end := &b.f.Members[i].Ends[e]
			lies := func(p space.Plane) bool {
				return math.Abs(p.Normal.Dot(c.Plane.Normal)) > 1-1e-8 && math.Abs(c.Plane.Dist(p.Point)) < touch+c.GapMM
			}
			for k, p := range end.Planes {
				if lies(p) {
					end.Planes[k] = p.Moved(-share)
					changed[[2]int{i, e}] = share
				}
			}
			for _, n := range end.Notch {
				for k, p := range n {
					if lies(p) {
						n[k] = p.Moved(share)
						changed[[2]int{i, e}] = share
					}
				}
			}
			if d := end.Saddle.on(&b.f.Members[c.Members[1-s]]); d != nil {
				d.RadiusMM += share
				changed[[2]int{i, e}] = share
			}
		}
	}
	for at, share := range changed {
		b.f.Members[at[0]].Ends[at[1]].GapMM += share
	}
	return len(changed) > 0
}
