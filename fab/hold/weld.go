package hold

import (
	"math"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
)

// WeldLine is a seam as a line: its two ends and its effective throat.
type WeldLine struct {
	From, To Vec
	ThroatMM float64
	Share    float64 // of its length that is welded: 1, less with an intermittent pattern
}

// WeldGroup is the seams that hold one member in a joint.
type WeldGroup struct {
	Joint  string // name of the link
	Member int
	Lines  []WeldLine
}

// WeldAnswer is the throat stress of a group, the worst of all combinations.
type WeldAnswer struct {
	Joint, Member string
	StressMPa     float64
	AllowMPa      float64
	Case          string
	Use           figure.Figure
}

// Welds gives the stress on the throats of each group, by the elastic method: the force on the member spread over the
// throat area, the moment about its centroid as a rigid body turned on springs (Blodgett, Design of Welded Structures, 7.4;
// here in three dimensions at once, as the vector sum), against 0.30 of the electrode's strength, ANSI/AISC 360 J2.4 with
// omega 2.00. Groups without lines, or without a link of their name, are left out.
func (a *Answer) Welds(m *Model, groups []WeldGroup, electrodeKSI float64) []WeldAnswer {
	fexx := electrodeKSI * measure.KsiMPa
	link := map[string]int{}
	for i, k := range m.Links {
		link[k.Name] = i
		for _, j := range k.Joints {
			link[j] = i
		}
	}
	// All that holds one member in one link is one group.
	type key struct{ link, member int }
	lines := map[key][]WeldLine{}
	var order []key
	for _, g := range groups {
		if li, ok := link[g.Joint]; ok {
			k := key{li, g.Member}
			if _, there := lines[k]; !there {
				order = append(order, k)
			}
			lines[k] = append(lines[k], g.Lines...)
		}
	}
	var out []WeldAnswer
	for _, g := range order {
		li, member := g.link, g.member
		w, good := newWeldShape(lines[g])
		if !good {
			continue
		}
		best := WeldAnswer{Joint: m.Links[li].Name, Member: m.Members[member].Name, AllowMPa: 0.30 * fexx}
		found := false
		for ci := range a.Cases {
			c := &a.Cases[ci]
			for e, end := range m.Links[li].Ends {
				if end.Member != member || li >= len(c.Links) || e >= len(c.Links[li]) {
					continue
				}
				q := c.Links[li][e]
				if s := w.stress(q.Force, q.Moment, m.Links[li].At); s > best.StressMPa || !found {
					best.StressMPa, best.Case, found = s, c.Name, true
				}
			}
		}
		if !found {
			continue
		}
		best.Use = figure.New("hold.weld."+best.Joint+"."+best.Member, "weld of "+best.Member+" in "+best.Joint+", "+best.Case, "", "s/(0.60*Fexx/2)",
			figure.Source{Kind: figure.Standard, Text: aisc + "J2.4 and Table J2.5: 0.60 Fexx, omega 2.00; stress by the elastic method (Blodgett, Design of Welded Structures, 7.4)"},
			figure.In("s", "stress on the throat", best.StressMPa, "MPa", "frame analysis"), figure.In("Fexx", "electrode", fexx, "MPa", "[check] electrode")).
			Without("the base metal beside the weld, uneven stiffness of thin tube walls, fatigue")
		out = append(out, best)
	}
	return out
}

// weldShape is a group of lines with the moments of its throat area about its centroid.
type weldShape struct {
	lines  []WeldLine
	area   float64
	centre Vec
	j      [3][3]float64
}

func newWeldShape(lines []WeldLine) (w weldShape, ok bool) {
	for _, l := range lines {
		a := l.ThroatMM * dist(l.From, l.To) * l.Share
		if !(a > 0) {
			continue
		}
		w.lines = append(w.lines, l)
		w.area += a
		for d := range w.centre {
			w.centre[d] += a * (l.From[d] + l.To[d]) / 2
		}
	}
	if w.area == 0 {
		return w, false
	}
	for d := range w.centre {
		w.centre[d] /= w.area
	}
	for _, l := range w.lines {
		length := dist(l.From, l.To)
		a := l.ThroatMM * length * l.Share
		var u, r Vec
		for d := range u {
			u[d] = (l.To[d] - l.From[d]) / length
			r[d] = (l.From[d]+l.To[d])/2 - w.centre[d]
		}
		// Of a line: a (r r) for its middle, a length^2/12 (u u) along itself, a throat^2/12 as its own thickness.
		rr := r[0]*r[0] + r[1]*r[1] + r[2]*r[2] + length*length/12
		for i := range 3 {
			for k := range 3 {
				w.j[i][k] -= a * (r[i]*r[k] + length*length/12*u[i]*u[k])
			}
			w.j[i][i] += a * (rr + l.ThroatMM*l.ThroatMM/12)
		}
	}
	return w, true
}

// stress is the largest on the group for a force and a moment about the point at.
func (w *weldShape) stress(f, m, at Vec) float64 {
	var arm Vec
	for d := range arm {
		arm[d] = at[d] - w.centre[d]
	}
	c := cross(arm, f)
	for d := range c {
		c[d] += m[d]
	}
	turn, ok := solve3(w.j, c)
	if !ok {
		return math.Inf(1)
	}
	most := 0.0
	for _, l := range w.lines {
		for _, p := range [2]Vec{l.From, l.To} {
			var r Vec
			for d := range r {
				r[d] = p[d] - w.centre[d]
			}
			s := cross(turn, r)
			for d := range s {
				s[d] += f[d] / w.area
			}
			most = math.Max(most, norm(s))
		}
	}
	return most
}

func cross(a, b Vec) Vec {
	return Vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// solve3 solves a symmetric 3 x 3 system by Cramer's rule.
func solve3(a [3][3]float64, b Vec) (x Vec, ok bool) {
	det := func(m [3][3]float64) float64 {
		return m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) + m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
	}
	d := det(a)
	if d == 0 {
		return x, false
	}
	for i := range 3 {
		m := a
		for r := range 3 {
			m[r][i] = b[r]
		}
		x[i] = det(m) / d
	}
	return x, true
}
