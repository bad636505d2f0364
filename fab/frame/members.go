package frame

import (
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// members places the [[member]]s; one whose end is a place on another waits for it. Their ends are cut afterwards.
func (b *builder) members() {
	waiting := make([]int, 0, len(b.job.Members))
	for i := range b.job.Members {
		waiting = append(waiting, i)
	}
	for len(waiting) > 0 {
		var still []int
		for _, i := range waiting {
			m := &b.job.Members[i]
			if b.waits(m.From) || b.waits(m.To) {
				still = append(still, i)
				continue
			}
			b.single(m)
		}
		if len(still) == len(waiting) {
			for _, i := range still {
				m := &b.job.Members[i]
				key := "to"
				if b.waits(m.From) {
					key = "from"
				}
				b.problem(m.Where.In(key), text.Error, text.CodeConflict, "%s hangs on members that hang on it; give one of them a point [x, y, z]", m.Name)
			}
			return
		}
		waiting = still
	}
}

// waits tells whether a place lies on a [[member]] that is not placed yet.
func (b *builder) waits(p job.Place) bool {
	if p.On == "" || b.f.Index(p.On) >= 0 {
		return false
	}
	for i := range b.job.Members {
		if b.job.Members[i].Name == p.On {
			return true
		}
	}
	return false
}

// single places one member.
func (b *builder) single(j *job.Member) {
	s := b.section(j.Section)
	if s == nil {
		return
	}
	from, ok := b.place(j, "from", j.From, j.To)
	to, ok2 := b.place(j, "to", j.To, j.From)
	if !ok || !ok2 {
		return
	}
	if from.Dist(to) < 1 {
		b.problem(j.Where.In("to"), text.Error, text.CodeValue, "%s begins and ends at one place (x %s, y %s, z %s); give one of from and to another", j.Name, b.tape(from.X), b.tape(from.Y), b.tape(from.Z))
		return
	}
	axis := to.Sub(from).Unit()
	m := spread(j.Name, s, from, to, upright(axis).Rotate(axis, j.Roll))
	m.Role, m.Table, m.Where, m.Lap, m.OverMM = Single, "member", j.Where, j.Lap, j.Over.MM()
	if j.Over > 0 {
		m.CutFit = "it is to be cut to fit"
	}
	for _, h := range j.Holes {
		m.Holes = append(m.Holes, Hole{AtMM: h.At[0].MM(), Face: h.Face, SizeMM: h.Size.MM(), Through: h.Through})
	}
	if i := b.add(m); i >= 0 {
		b.named[i] = j
	}
}

// place gives a place of the job, the one under key, as a point: on a member it lies on the centre line, so far along from the tip at which
// the member begins (a rectangle's side: its lesser coordinate); without a distance, where the centre line passes the
// other end most closely.
func (b *builder) place(j *job.Member, key string, p, other job.Place) (space.Vec, bool) {
	if p.On == "" {
		return point(p.Point), true
	}
	i := b.f.Index(p.On)
	if i < 0 {
		b.problem(j.Where.In(key), text.Error, text.CodeName, "%s: there is no member %q in the frame; members made by a table are called NAME.x1, NAME.y2, NAME.bar3, NAME.post1, NAME.leg4", j.Name, p.On)
		return space.Vec{}, false
	}
	m := &b.f.Members[i]
	from, to := m.Tips()
	if p.AlongGiven {
		if p.Along.MM() > to-from+space.Near {
			b.problem(j.Where.In(key), text.Error, CodeNoRoom, "%s: %s is only %s long; %s lies beyond its end: give a place on it", j.Name, p.On, b.tape(to-from), b.tape(p.Along.MM()))
			return space.Vec{}, false
		}
		if m.Role == Side && m.Axis.X+m.Axis.Y+m.Axis.Z < 0 { // an angle's side may run towards lesser coordinates
			return m.Place(to-p.Along.MM(), 0, 0), true
		}
		return m.Place(from+p.Along.MM(), 0, 0), true
	}
	var q space.Vec
	switch k := b.f.Index(other.On); {
	case other.On == "":
		q = point(other.Point)
	case k < 0:
		return space.Vec{}, false
	default:
		o := &b.f.Members[k]
		a, c := o.Tips()
		q = o.Place((a+c)/2, 0, 0)
		if other.AlongGiven {
			q, _ = b.place(j, key, other, job.Place{})
		} else if t, ok := nearest(m, o); ok {
			return m.Place(max(from, min(to, t)), 0, 0), true
		}
	}
	x, _, _ := m.Local(q)
	return m.Place(max(from, min(to, x)), 0, 0), true
}

// nearest gives where along m its centre line passes that of o; ok is false where they are parallel.
func nearest(m, o *Member) (float64, bool) {
	n := m.Axis.Cross(o.Axis)
	if d := n.Dot(n); d > 1e-9 {
		return o.A.Sub(m.A).Cross(o.Axis).Dot(n) / d, true
	}
	return 0, false
}
