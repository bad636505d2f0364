package frame

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// spot is where an upright stands on a rectangle: the centre of its section from the rectangle's outer low corner.
type spot struct{ x, y float64 }

// spots gives the centres of uprights of a section on a rectangle lying flat, sorted by x, then y.
func (b *builder) spots(w job.Where, at job.Spots, q *Rect, s *Section, inset float64) ([]spot, bool) {
	dx, dy := s.DepthMM, s.WidthMM
	in := inset
	if at.InsideCorners {
		in += q.wall()
	}
	x0, y0, x1, y1 := in+dx/2, in+dy/2, q.LengthMM-in-dx/2, q.WidthMM-in-dy/2
	var out []spot
	switch {
	case len(at.Points) > 0:
		for _, p := range at.Points {
			out = append(out, spot{p[0].MM(), p[1].MM()})
		}
	case at.PerSide > 0:
		n := at.PerSide
		if n < 2 {
			b.problem(w.In("per_side"), text.Error, text.CodeValue, "per_side counts the corners too: at least 2")
			return nil, false
		}
		for i := range n {
			t := float64(i) / float64(n-1)
			if q.LengthMM >= q.WidthMM {
				x := x0 + (x1-x0)*t
				out = append(out, spot{x, y0}, spot{x, y1})
			} else {
				y := y0 + (y1-y0)*t
				out = append(out, spot{x0, y}, spot{x1, y})
			}
		}
	default:
		out = []spot{{x0, y0}, {x0, y1}, {x1, y0}, {x1, y1}}
	}
	if len(at.Points) == 0 && (x1-x0 < dx-space.Near || y1-y0 < dy-space.Near) {
		b.problem(w.In("inset", "section"), text.Error, CodeNoRoom, "uprights of section %q (%s x %s) overlap at the corners of %q, which is %s x %s outside: a smaller section, less inset, or centres with at = [[x, y], ...]", s.Name, b.tape(dx), b.tape(dy), q.Name,
			b.tape(q.LengthMM), b.tape(q.WidthMM))
		return nil, false
	}
	sort.SliceStable(out, func(i, j int) bool {
		if d := out[i].x - out[j].x; d < -space.Near || d > space.Near {
			return d < 0
		}
		return out[i].y < out[j].y-space.Near
	})
	for i := 1; i < len(out); i++ {
		if d := out[i].x - out[i-1].x; d < space.Near && d > -space.Near && out[i].y-out[i-1].y < space.Near {
			b.problem(w.In("at", "per_side"), text.Error, text.CodeDuplicate, "two uprights stand at the same place, %s, %s: give each place once", b.tape(out[i].x), b.tape(out[i].y))
			return nil, false
		}
	}
	return out, true
}

// wall gives how far the upright parts of the sides reach inwards: of tube all of them, of an angle or channel with its
// heel outside the thickness of the leg, web or flange that stands there.
func (q *Rect) wall() float64 {
	s := q.Section
	switch {
	case !s.Open() || !q.Out:
		return q.FaceMM
	case s.Shape == steel.Channel && q.Flat:
		return s.FlangeMM
	}
	return s.WallMM
}

// flat tells whether uprights can stand on a rectangle.
func (b *builder) flat(w job.Where, q *Rect, what string) bool {
	if q.N != space.Z {
		b.problem(w, text.Error, CodeShape, "%s stand on rectangles that lie flat (plane = \"xy\"); %q stands: make them with [[member]]", what, q.Name)
		return false
	}
	return true
}

// top and bottom of a rectangle that lies flat.
func (q *Rect) bottom() float64 { return q.Corner.Z }
func (q *Rect) top() float64    { return q.Corner.Z + q.ThickMM }

// footing gives the height on which an upright that stands up from the rectangle begins, headroom that at which one that
// comes up to it, or hangs down from it, ends.
func (q *Rect) footing(inside bool) float64 {
	switch {
	case !inside, q.Section.Open() && q.Out && !q.Bottom:
		return q.top()
	case q.Section.Open() && q.Out:
		return q.bottom() + q.seat(true)
	}
	return q.bottom()
}

func (q *Rect) headroom(inside bool) float64 {
	switch {
	case !inside, q.Section.Open() && q.Out && q.Bottom:
		return q.bottom()
	case q.Section.Open() && q.Out:
		return q.bottom() + q.seat(false)
	}
	return q.top()
}

// posts places the posts of every [[posts]].
func (b *builder) posts() {
	for i := range b.job.Posts {
		p := &b.job.Posts[i]
		from, ok := b.rects[p.From]
		to, ok2 := b.rects[p.To]
		s := b.section(p.Section)
		if !ok || !ok2 || s == nil || !b.flat(p.Where.In("from"), &b.f.Rects[from], "posts") || !b.flat(p.Where.In("to"), &b.f.Rects[to], "posts") {
			continue
		}
		q, r := &b.f.Rects[from], &b.f.Rects[to]
		spots, ok := b.spots(p.Where, p.At, q, s, p.Inset.MM())
		if !ok {
			continue
		}
		low, high := q, r
		if low.bottom() > high.bottom() {
			low, high = high, low
		}
		z0, z1 := low.footing(p.At.InsideCorners), high.headroom(p.At.InsideCorners)
		if p.Through {
			z0, z1 = low.bottom(), high.top()
		}
		if z1-z0 <= space.Near {
			b.problem(p.Where.In("to"), text.Error, CodeNoRoom, "no height is left for posts between %q (top at %s) and %q (underside at %s): set them farther apart", low.Name, b.tape(low.top()), high.Name,
				b.tape(high.bottom()))
			continue
		}
		if !p.Through {
			b.onRadius(p.Where, "post", p.At, p.Inset, q, s)
		} else if spots, ok = b.atCornersOnly(p, q, s, spots); !ok {
			continue
		}
		first := b.count[p.From+".post"]
		b.count[p.From+".post"] += len(spots)
		for k, at := range spots {
			base := q.Corner.Add(space.Vec{X: at.x, Y: at.y})
			base.Z = z0
			m := spread(fmt.Sprintf("%s.post%d", p.From, first+k+1), s, base, base.Add(space.Vec{Z: z1 - z0}), space.X)
			m.Role, m.Group, m.Table, m.Where = Post, p.From, "posts", p.Where
			if !p.Through {
				m.Ends[0].Kind, m.Ends[1].Kind = Butt, Butt
				b.onRound(p.Where, &m, 0, low)
				b.onRound(p.Where, &m, 1, high)
			}
			if j := b.add(m); j >= 0 && p.Through {
				b.meetPost(j)
			}
		}
	}
}

// atCornersOnly refuses through posts along the long sides of a rectangle that stand in those sides: a side is one piece
// from corner to corner, and only at its ends there are posts for it to end at. The corners' posts are given back.
func (b *builder) atCornersOnly(p *job.Posts, q *Rect, s *Section, spots []spot) ([]spot, bool) {
	if p.At.PerSide < 3 || p.Inset.MM() >= q.FaceMM-space.Near {
		return spots, true
	}
	b.problem(p.Where.In("per_side"), text.Error, CodeClash, "through posts between the corners would run through the long sides of %q, which are one piece each: give at = \"corners\" here and the posts between in a second [[posts]] without through, with at = [[x, y], ...]; or let all stand beside the sides with inset = \"%s\"",
		p.From, strings.TrimSuffix(b.job.Tape.Print(markUp(b.job.Tape, q.FaceMM)), `"`))
	at := p.At
	at.PerSide = 2
	return b.spots(p.Where, at, q, s, p.Inset.MM())
}

// meetPost tells the sides that end at a through post what they meet.
func (b *builder) meetPost(j int) {
	post := &b.f.Members[j]
	near := math.Hypot(post.Section.DepthMM, post.Section.WidthMM)
	for r := range b.f.Rects {
		q := &b.f.Rects[r]
		if !q.Through {
			continue
		}
		for _, k := range q.Sides {
			m := &b.f.Members[k]
			for e := range m.Ends {
				if at, _ := m.out(e); space.LineDist(at, post.A, post.Axis) < near {
					m.Ends[e].meets(j)
				}
			}
		}
	}
}

// onRadius warns of an upright whose outer faces stand over the corner radius of the tube under it.
func (b *builder) onRadius(w job.Where, what string, at job.Spots, inset measure.Length, q *Rect, s *Section) {
	r := q.Section.RadiusMM
	if q.Through || q.Section.Round || r == 0 || inset.MM() >= r-space.Near || at.InsideCorners || len(at.Points) > 0 {
		return
	}
	b.problem(w.In("inset"), text.Warning, CodeRadius, "each %s stands with its outer faces over the corner radius of %q's sides (%s): its outer seams are flare bevels, which take more weld; inset = \"%s\" sets it on the flat",
		what, q.Name, b.tape(r), strings.TrimSuffix(b.job.Tape.Print(markUp(b.job.Tape, r)), `"`))
}

// onRound saddles an upright's end onto the round side that its centre line stands over; where two sides meet under it,
// onto both.
func (b *builder) onRound(w job.Where, m *Member, e int, q *Rect) {
	if !q.Section.Round {
		return
	}
	var over []int
	for _, k := range q.Sides {
		h := &b.f.Members[k]
		p := m.A
		p.Z = h.A.Z
		if space.LineDist(p, h.A, h.Axis) < 0.5 {
			over = append(over, k)
		}
	}
	if len(over) == 0 {
		b.problem(w.In("at", "per_side"), text.Error, CodeShape, "%s does not stand over the middle of a side of %q, which is round: give its place with at = [[x, y], ...] on a side's centre line", m.Name, q.Name)
		return
	}
	b.saddle(m, e, over[0])
	if len(over) > 1 {
		b.saddleCorner(m, e, over[0], over[1])
	}
}

// saddleCorner saddles an upright's end onto the two round sides that meet under it. Mitred, each lies on its side of the
// mitre; else the one runs through, and the other begins at its flank.
func (b *builder) saddleCorner(m *Member, e, i, k int) {
	p := m.A
	p.Z = b.f.Members[i].A.Z
	for _, pair := range [][2]int{{i, k}, {k, i}} {
		o := &b.f.Members[pair[1]] // may end here, cut to the first
		for oe := range o.Ends {
			at, dir := o.out(oe)
			if other, _ := o.out(1 - oe); p.Dist(at) > p.Dist(other) {
				continue
			}
			end := &o.Ends[oe]
			mitred := end.Kind == Mitre && len(end.Planes) == 1
			if !mitred && end.Kind != Saddled {
				continue
			}
			b.saddle(m, e, pair[0])
			s := m.Ends[e].Saddle
			s.Also = &Saddle{At: o.A, Dir: o.Axis, RadiusMM: o.Section.RadiusMM}
			if mitred {
				s.Split = end.Planes[0].Flipped()
			} else {
				s.Through, s.Split = true, space.Plane{Point: p, Normal: dir.Mul(-1)}
			}
			m.Ends[e].meets(pair[1])
			return
		}
	}
}

// legs places the legs of every [[legs]].
func (b *builder) legs() {
	for i := range b.job.Legs {
		l := &b.job.Legs[i]
		k, ok := b.rects[l.Under]
		s := b.section(l.Section)
		if !ok || s == nil || !b.flat(l.Where.In("under"), &b.f.Rects[k], "legs") {
			continue
		}
		q := &b.f.Rects[k]
		spots, ok := b.spots(l.Where, l.At, q, s, l.Inset.MM())
		if !ok {
			continue
		}
		b.onRadius(l.Where, "leg", l.At, l.Inset, q, s)
		var under *Surface
		if l.Surface != "" {
			if under = b.surfaceUnder(l, q); under == nil {
				continue
			}
		}
		pad, padMM := b.pad(l.Pad), 0.0
		if pad != nil {
			padMM = pad.Size[2].MM()
		}
		first := b.count[l.Under+".leg"]
		b.count[l.Under+".leg"] += len(spots)
		for n, at := range spots {
			top := q.Corner.Add(space.Vec{X: at.x, Y: at.y})
			top.Z = q.headroom(l.At.InsideCorners)
			name := fmt.Sprintf("%s.leg%d", l.Under, first+n+1)
			end := End{Kind: OnFoot}
			var foot Foot
			bottom := top
			if under == nil {
				bottom.Z -= l.Length.MM()
				end.Planes = []space.Plane{{Point: bottom, Normal: space.Z.Mul(-1)}}
				foot = Foot{At: bottom.Along(space.Z, -padMM), Normal: space.Z, PadMM: padMM}
			} else {
				foot = under.foot(top, s, padMM)
				plane := space.Plane{Point: foot.At.Along(foot.Normal, padMM), Normal: foot.Normal.Mul(-1)}
				t, _ := plane.Line(top, space.Z.Mul(-1))
				bottom.Z -= t
				end.Planes = []space.Plane{plane}
				if !under.holds(foot.At) {
					b.problem(l.Where.In("surface"), text.Warning, CodeSurface, "%s stands at x %s, y %s, beyond what surface %q was given for: its foot is reckoned from the curve drawn on; measure out to there", name,
						b.tape(foot.At.X), b.tape(foot.At.Y), l.Surface)
				}
			}
			if top.Z-bottom.Z <= space.Near {
				b.problem(l.Where.In("surface", "length"), text.Error, CodeNoRoom, "%s has no length: surface %q is at z %s under it, the top of the leg at z %s: lower the surface's top, or raise the frame", name, l.Surface, b.tape(foot.At.Z), b.tape(top.Z))
				break
			}
			m := spread(name, s, top, bottom, space.X)
			m.Role, m.Group, m.Table, m.Where = Leg, l.Under, "legs", l.Where
			m.Ends[0].Kind, m.Ends[1] = Butt, end
			b.onRound(l.Where, &m, 0, q)
			if l.Over > 0 && n == len(spots)-1 {
				m.OverMM, m.CutFit = l.Over.MM(), "its foot is scribed to the ground when the others stand"
			} else if under != nil && !under.level() {
				m.CutFit = "its foot stands on a surface that was measured"
			}
			j := b.add(m)
			if j < 0 {
				continue
			}
			foot.Member, foot.Surface, foot.LengthMM = j, l.Surface, b.f.LengthMM(j)
			b.f.Feet = append(b.f.Feet, foot)
			if pad != nil {
				b.f.Plates = append(b.f.Plates, Plate{Name: pad.Name, SizeMM: [3]float64{pad.Size[0].MM(), pad.Size[1].MM(), padMM},
					At: foot.At.Along(foot.Normal, padMM), Normal: foot.Normal, Along: along(space.X, foot.Normal), On: j, Spec: pad, Qty: 1})
			}
		}
	}
}

// along gives the direction in the plane with that normal which lies nearest to dir.
func along(dir, normal space.Vec) space.Vec { return dir.Sub(normal.Mul(dir.Dot(normal))).Unit() }

func (b *builder) pad(name string) *job.Plate {
	for i := range b.job.Plates {
		if b.job.Plates[i].Name == name && name != "" {
			return &b.job.Plates[i]
		}
	}
	return nil
}

// markUp gives the tape's next mark at or over a length.
func markUp(t measure.Tape, mm float64) measure.Length {
	l := measure.FromMM(mm)
	return (l + t.Division() - 1) / t.Division() * t.Division()
}
