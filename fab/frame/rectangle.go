package frame

import (
	"math"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// Sides of a rectangle, in the order of Rect.Sides.
const (
	x1 = iota // along the first axis, least second coordinate
	x2
	y1
	y2
)

var sideNames = [4]string{"x1", "x2", "y1", "y2"}

// axesOf gives the directions of a rectangle's length, width and thickness.
func axesOf(p job.Plane) (u, v, n space.Vec) {
	switch p {
	case job.XZ:
		return space.X, space.Z, space.Y
	case job.YZ:
		return space.Y, space.Z, space.X
	}
	return space.X, space.Y, space.Z
}

// rectangles places the rectangles; one that stands above another waits for it.
func (b *builder) rectangles() {
	placing := map[string]bool{}
	var place func(i int) bool
	place = func(i int) bool {
		r := &b.job.Rectangles[i]
		if _, done := b.rects[r.Name]; done {
			return true
		}
		if placing[r.Name] {
			b.problem(r.Where.In("above"), text.Error, text.CodeConflict, "%q stands above itself in the end; one of these rectangles needs `at`", r.Name)
			return false
		}
		placing[r.Name] = true
		defer delete(placing, r.Name)
		corner := point(r.At)
		if r.Above != "" {
			low := -1
			for k := range b.job.Rectangles {
				if b.job.Rectangles[k].Name == r.Above {
					low = k
				}
			}
			if low < 0 || !place(low) {
				return false
			}
			at, ok := b.rects[r.Above]
			if !ok {
				return false
			}
			under := &b.f.Rects[at]
			// The same corner in plan, over the lower one's highest point by the clear height.
			corner = under.Corner
			corner.Z = under.highest() + r.Clear.MM()
		}
		return b.rectangle(r, corner)
	}
	for i := range b.job.Rectangles {
		place(i)
	}
}

func (b *builder) rectangle(r *job.Rectangle, corner space.Vec) bool {
	s := b.section(r.Section)
	if s == nil {
		return false
	}
	u, v, n := axesOf(r.Plane)
	q := Rect{Name: r.Name, Corner: corner, U: u, V: v, N: n, LengthMM: r.Length.MM(), WidthMM: r.Width.MM(), Where: r.Where, Flat: r.Flat, Section: s, Through: r.Corner == "posts"}
	q.FaceMM, q.ThickMM = s.WidthMM, s.DepthMM
	if r.Flat {
		q.FaceMM, q.ThickMM = s.DepthMM, s.WidthMM
	}
	q.Out, q.Bottom = r.Heel == "" || r.Heel == "out-bottom" || r.Heel == "out-top", r.Heel != "out-top" && r.Heel != "in-top"
	if r.Inside {
		// What fits inside: of angle and channel with the heel outside, what goes in between the upright legs.
		in := q.FaceMM
		if s.Open() && q.Out {
			in = s.WallMM
			if s.Shape == steel.Channel && r.Flat {
				in = s.FlangeMM
			}
		}
		q.LengthMM += 2 * in
		q.WidthMM += 2 * in
	}
	if q.LengthMM-2*q.FaceMM <= space.Near || q.WidthMM-2*q.FaceMM <= space.Near {
		key := "length"
		if q.LengthMM-2*q.FaceMM > space.Near {
			key = "width"
		}
		b.problem(r.Where.In(key), text.Error, CodeNoRoom, "%s: nothing is left between its sides: outside %s x %s, and each side of section %q is %s wide as it stands; make it larger, or the section narrower",
			r.Name, b.tape(q.LengthMM), b.tape(q.WidthMM), r.Section, b.tape(q.FaceMM))
		return false
	}
	if r.Corner == "cope" && !s.Open() {
		b.problem(r.Where.In("corner"), text.Error, CodeShape, "%s: corner = \"cope\" is for angle and channel; section %q is %s: use mitre, butt-long, butt-short or posts", r.Name, r.Section, s.Shape)
		return false
	}
	var ms [4]Member
	for k := range ms {
		ms[k] = b.sideMember(&q, k)
		ms[k].Where = r.Where
	}
	if !b.cornerCuts(r, &q, &ms) {
		return false
	}
	for k := range ms {
		q.Sides[k] = b.add(ms[k])
		if q.Sides[k] < 0 {
			return false
		}
	}
	for k := range ms { // which sides the ends meet
		m := &b.f.Members[q.Sides[k]]
		for e := range m.Ends {
			if kind := m.Ends[e].Kind; r.Corner != "posts" && (kind == Mitre || kind == Butt || kind == Cope || kind == Saddled) {
				m.Ends[e].meets(q.Sides[q.neighbour(k, m, e)])
			}
		}
	}
	b.rects[r.Name] = len(b.f.Rects)
	b.f.Rects = append(b.f.Rects, q)
	return true
}

// sideMember makes side k with its heel where the rectangle wants it.
func (b *builder) sideMember(q *Rect, k int) Member {
	along, across, length := q.U, q.V, q.LengthMM
	at := q.FaceMM / 2
	if k == y1 || k == y2 {
		along, across, length = q.V, q.U, q.WidthMM
	}
	in := across // towards the inside
	if k == x2 || k == y2 {
		in = across.Mul(-1)
		at = q.across(k) - at
	}
	from := q.Corner.Along(across, at).Along(q.N, q.ThickMM/2)
	to := from.Along(along, length)
	depth := q.N
	if q.Flat {
		depth = q.N.Cross(along) // Width = N
	}
	if q.Section.Hollow && q.Section.Seam == "inside" && !q.Flat && !q.Section.Round {
		// The tube's own seam is taken at its least width, which looks inwards here.
		if depth.Cross(in.Mul(-1)).Dot(along) < 0 {
			from, to = to, from
		}
	}
	if q.Section.Open() {
		// The heel is at the least depth and width of the section, so these directions point away from it; the axis follows.
		up, inward := q.N, in
		if !q.Bottom {
			up = up.Mul(-1)
		}
		if !q.Out {
			inward = inward.Mul(-1)
		}
		width := inward
		depth = up
		if q.Flat {
			depth, width = inward, up
		}
		if depth.Cross(width).Dot(along) < 0 {
			from, to = to, from
		}
	}
	m := spread(q.Name+"."+sideNames[k], q.Section, from, to, depth)
	m.Role, m.Group, m.Table = Side, q.Name, "rectangle"
	return m
}

// highest gives the z of the rectangle's upper face, or upper side where it stands.
func (q *Rect) highest() float64 {
	if q.N == space.Z {
		return q.top()
	}
	return q.Corner.Z + q.WidthMM
}

// across gives the outside size of the rectangle square to side k.
func (q *Rect) across(k int) float64 {
	if k == x1 || k == x2 {
		return q.WidthMM
	}
	return q.LengthMM
}

// low tells whether end e of side k is the one at the lesser coordinate.
func (q *Rect) low(k int, m *Member, e int) bool {
	along := q.U
	if k == y1 || k == y2 {
		along = q.V
	}
	return (m.Axis.Dot(along) > 0) == (e == 0)
}

// neighbour gives the side that end e of side k meets at its corner.
func (q *Rect) neighbour(k int, m *Member, e int) int {
	if k == x1 || k == x2 {
		if q.low(k, m, e) {
			return y1
		}
		return y2
	}
	if q.low(k, m, e) {
		return x1
	}
	return x2
}

// cornerCuts sets the ends of the four sides.
func (b *builder) cornerCuts(r *job.Rectangle, q *Rect, ms *[4]Member) bool {
	longX := q.LengthMM >= q.WidthMM
	var post *Section
	var inset float64
	if r.Corner == "posts" {
		if post, inset = b.cornerPost(r); post == nil {
			return false
		}
	}
	for k := range ms {
		m := &ms[k]
		along, across := q.U, q.V
		if k == y1 || k == y2 {
			along, across = q.V, q.U
		}
		out := across.Mul(-1) // to the outside of the frame
		if k == x2 || k == y2 {
			out = across
		}
		isX := k == x1 || k == x2
		for e := range m.Ends {
			dir := along // out of the end
			length := q.LengthMM
			if !isX {
				length = q.WidthMM
			}
			corner := q.Corner.Along(along, length)
			low := q.low(k, m, e)
			if low {
				dir = along.Mul(-1)
				corner = q.Corner
			}
			end := &m.Ends[e]
			switch r.Corner {
			case "butt-long", "butt-short", "cope":
				through := isX == longX
				if r.Corner == "butt-short" {
					through = !through
				}
				if through {
					*end = End{Kind: Square, Planes: []space.Plane{{Point: corner, Normal: dir}}}
					continue
				}
				if r.Corner == "cope" {
					*end = q.cope(corner, dir)
					continue
				}
				if q.Section.Round { // onto the flank of the one that runs through
					*end = End{Kind: Saddled, Saddle: &Saddle{At: corner.Along(dir, -q.FaceMM/2).Along(q.N, q.ThickMM/2), Dir: across, RadiusMM: q.Section.RadiusMM}}
					continue
				}
				*end = End{Kind: Butt, Planes: []space.Plane{{Point: corner.Along(dir, -q.FaceMM), Normal: dir}}}
			case "posts":
				// The post stands with its depth along x.
				size := post.DepthMM
				if along != space.X {
					size = post.WidthMM
				}
				if along == space.Z {
					size = 0
				}
				if post.Round && along != space.Z {
					outer := corner
					if k == x2 || k == y2 {
						outer = outer.Along(across, q.across(k))
					}
					*end = End{Kind: Saddled, Saddle: &Saddle{At: outer.Along(dir, -post.RadiusMM-inset).Along(out, -post.RadiusMM-inset), Dir: q.N, RadiusMM: post.RadiusMM}}
					continue
				}
				*end = End{Kind: Butt, Planes: []space.Plane{{Point: corner.Along(dir, -size-inset), Normal: dir}}}
			default: // mitre
				outer := corner
				if k == x2 || k == y2 {
					outer = outer.Along(across, q.across(k))
				}
				*end = End{Kind: Mitre, Planes: []space.Plane{{Point: outer, Normal: dir.Sub(out).Unit()}}}
			}
		}
	}
	return true
}

// cope gives the end of a side that fits into the angle or channel which runs through at the corner; dir points out of
// the end. Where the through side has only its heel's leg, the end stops at that; where it has a leg lying in the frame's
// plane, the other's leg of that plane stops at its toe.
func (q *Rect) cope(corner, dir space.Vec) End {
	legs := q.profile()
	// What all of the end must clear, and what only a part of its height must.
	first := math.Inf(1)
	for _, l := range legs {
		first = min(first, l.in)
	}
	end := End{Kind: Cope, Planes: []space.Plane{{Point: corner.Along(dir, -first), Normal: dir}}}
	for _, l := range legs {
		if l.in <= first+space.Near {
			continue
		}
		// Behind all of these: beyond the toe, and within the leg's height.
		notch := Notch{{Point: corner.Along(dir, -l.in), Normal: dir.Mul(-1)}}
		if l.from > space.Near {
			notch = append(notch, space.Plane{Point: q.Corner.Along(q.N, l.from), Normal: q.N.Mul(-1)})
		}
		if l.to < q.ThickMM-space.Near {
			notch = append(notch, space.Plane{Point: q.Corner.Along(q.N, l.to), Normal: q.N})
		}
		end.Notch = append(end.Notch, notch)
	}
	return end
}

// leg is a part of a side's profile: between two heights over the rectangle's low face it reaches so far in from outside.
type leg struct{ from, to, in float64 }

// profile gives the side's section as seen along it: which part of the height reaches how far inwards.
func (q *Rect) profile() []leg {
	s := q.Section
	if !s.Open() {
		return []leg{{0, q.ThickMM, q.FaceMM}}
	}
	// Heights: of the section's y (edge) or z (flat), from the heel up or down; breadths the other.
	var legs []leg
	for _, part := range s.Parts {
		lo, hi := part[0], part[2]
		up0, up1, in1, in0 := lo.Y+s.DepthMM/2, hi.Y+s.DepthMM/2, hi.Z+s.WidthMM/2, lo.Z+s.WidthMM/2
		if q.Flat {
			up0, up1, in1, in0 = lo.Z+s.WidthMM/2, hi.Z+s.WidthMM/2, hi.Y+s.DepthMM/2, lo.Y+s.DepthMM/2
		}
		if !q.Bottom {
			up0, up1 = q.ThickMM-up1, q.ThickMM-up0
		}
		if !q.Out {
			in1 = q.FaceMM - in0
		}
		legs = append(legs, leg{up0, up1, in1})
	}
	return legs
}

// inner gives how far the sides reach inwards from outside between two heights over the rectangle's low face; 0 where
// they have nothing there.
func (q *Rect) inner(from, to float64) float64 {
	var in float64
	for _, l := range q.profile() {
		if l.to > from+space.Near && l.from < to-space.Near {
			in = max(in, l.in)
		}
	}
	return in
}

// seat gives the height on which a bar set to the bottom or top of the sides rests: of angle and channel with a leg lying
// there its inner side.
func (q *Rect) seat(bottom bool) float64 {
	s := q.Section
	at := 0.0
	if !bottom {
		at = q.ThickMM
	}
	if !s.Open() {
		return at
	}
	t := s.WallMM
	if s.Shape == steel.Channel && !q.Flat {
		t = s.FlangeMM // flanges at both heights
	} else if bottom != q.Bottom {
		return at
	}
	if bottom {
		return t
	}
	return q.ThickMM - t
}

// cornerPost finds the posts that run through a rectangle with corner = "posts".
func (b *builder) cornerPost(r *job.Rectangle) (*Section, float64) {
	for i := range b.job.Posts {
		p := &b.job.Posts[i]
		if !p.Through || !p.At.Corners && p.At.PerSide == 0 {
			continue
		}
		if p.From == r.Name || p.To == r.Name || b.between(p, r.Name) {
			s := b.section(p.Section)
			return s, p.Inset.MM()
		}
	}
	b.problem(r.Where.In("corner"), text.Error, text.CodeMissing, "%s: corner = \"posts\" needs a [[posts]] with through = true and at = \"corners\" that runs through it", r.Name)
	return nil, 0
}

func (b *builder) between(p *job.Posts, name string) bool {
	for at, seen := p.To, 0; at != "" && seen <= len(b.job.Rectangles); seen++ {
		if at == name {
			return true
		}
		next := ""
		for i := range b.job.Rectangles {
			if b.job.Rectangles[i].Name == at {
				next = b.job.Rectangles[i].Above
			}
		}
		at = next
	}
	return false
}
