package frame

import (
	"math"
)

// pointTip gives the tip of a round member's end that several planes cut: of the circle's points the one at which the
// nearest of the planes lies farthest out. That is where one plane alone reaches farthest, or where the line in which two
// planes meet leaves the circle, or where three meet; each of those is tried. The polygon that stands for the circle in
// the search for contacts would give a tip that changes with the roll.
func (m *Member) pointTip(e int) (float64, bool) {
	type plane struct{ x, y, z float64 }
	var ps []plane
	for _, p := range m.Ends[e].Planes {
		x, y, z, ok := m.Slopes(p)
		if !ok {
			return 0, false
		}
		if e == 0 {
			x, y, z = -x, -y, -z // outwards
		}
		ps = append(ps, plane{x, y, z})
	}
	r := m.Section.RadiusMM
	tip := math.Inf(-1)
	try := func(y, z float64) {
		if math.Hypot(y, z) > r*(1+1e-9) {
			return
		}
		least := math.Inf(1)
		for _, p := range ps {
			least = min(least, p.x+p.y*y+p.z*z)
		}
		tip = max(tip, least)
	}
	for i, p := range ps {
		if s := math.Hypot(p.y, p.z); s > 0 {
			try(r*p.y/s, r*p.z/s)
		} else {
			try(0, 0)
		}
		for j, q := range ps[:i] {
			// Where the two meet: a*y + b*z = c.
			a, b, c := p.y-q.y, p.z-q.z, q.x-p.x
			n := math.Hypot(a, b)
			if n < 1e-12 {
				continue
			}
			a, b, c = a/n, b/n, c/n
			if half := r*r - c*c; half >= 0 {
				half = math.Sqrt(half)
				try(a*c-b*half, b*c+a*half)
				try(a*c+b*half, b*c-a*half)
			}
			for _, o := range ps[:j] {
				d, f, g := p.y-o.y, p.z-o.z, o.x-p.x
				if det := a*f - b*d; math.Abs(det) > 1e-12 {
					try((c*f-b*g)/det, (a*g-c*d)/det)
				}
			}
		}
	}
	if math.IsInf(tip, 0) {
		return 0, false
	}
	if e == 0 {
		tip = -tip
	}
	return tip, true
}
