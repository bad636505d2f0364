package piece

import (
	"math"
	"slices"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
)

// sameMM is how far two pieces of one mark may differ from the first of it: in length from tip to tip, in the place of any
// hole, and of any point of a cut within the section, square to the cut. Two pieces of one mark are thus never farther
// apart than a hundredth of a millimetre, a fortieth of 1/64 in; those nearer than half of that to the first of a mark are
// of it. What a job means to be equal differs by far less (places are held to the nanometre, which a turned frame makes
// some ten of), so a frame has the same marks however it lies.
//
// Pieces are compared one by one with the first of each mark, never by rounded numbers, whose steps noise would cross
// somewhere, and never with each other in turn, by which a row of small steps would lead from one piece to another.
const sameMM = 0.005

// centre notes the middle between the points in which the centre line leaves the two cuts. Shapes are compared from there:
// the tips, which are searched for, are the worse known.
func (s *shape) centre() {
	s.mid = 0
	for e := range s.ends {
		x := &s.ends[e]
		sum, n := 0.0, 0
		for _, d := range x.drums {
			sum, n = sum+d.x, n+1
		}
		if n == 0 {
			for _, f := range x.planes {
				if math.Abs(f.nx) > 1e-6 {
					sum, n = sum+f.d/f.nx, n+1
				}
			}
		}
		if n == 0 {
			sum, n = s.length*float64(e), 1
		}
		s.mid += sum / float64(n) / 2
	}
}

// reach is the section's half diagonal: how far from the centre line a direction tells.
func (s *shape) reach() float64 { return math.Hypot(s.section.DepthMM, s.section.WidthMM) / 2 }

// same tells whether two shapes that lie alike are the same piece.
func (s *shape) same(t *shape) bool {
	if s.section.Name != t.section.Name || math.Abs(s.length-t.length) > sameMM || len(s.holes) != len(t.holes) {
		return false
	}
	c := comparison{s.mid, t.mid, s.reach()}
	for e := range s.ends {
		if !c.ends(&s.ends[e], &t.ends[e]) {
			return false
		}
	}
	return pairOff(s.holes, t.holes, func(a, b hole) bool {
		turn := a.out.Y*b.out.Y + a.out.Z*b.out.Z
		if a.through {
			turn = math.Abs(turn)
		}
		apart := math.Acos(min(1, turn)) * c.reach // along the section's skin
		return a.through == b.through && a.vent == b.vent && math.Abs(a.size-b.size) <= sameMM && math.Abs(a.x-b.x) <= sameMM && apart <= sameMM
	})
}

// comparison is of two shapes: the middle of each, and their section's reach.
type comparison struct{ mid, mid2, reach float64 }

func (c comparison) ends(a, b *endShape) bool {
	if len(a.planes) != len(b.planes) || len(a.notch) != len(b.notch) || len(a.drums) != len(b.drums) || a.through != b.through {
		return false
	}
	if !pairOff(a.planes, b.planes, c.flats) || !pairOff(a.notch, b.notch, func(p, q []flat) bool { return len(p) == len(q) && pairOff(p, q, c.flats) }) {
		return false
	}
	if len(a.drums) < 2 {
		return len(a.drums) == 0 || c.cylinders(a.drums[0], b.drums[0])
	}
	if c.cylinders(a.drums[0], b.drums[0]) && c.cylinders(a.drums[1], b.drums[1]) && c.flats(a.split, b.split) {
		return true
	}
	// Of two that are mitred neither is the first.
	back := flat{-b.split.nx, -b.split.ny, -b.split.nz, -b.split.d}
	return !a.through && c.cylinders(a.drums[0], b.drums[1]) && c.cylinders(a.drums[1], b.drums[0]) && c.flats(a.split, back)
}

// flats tells whether no point of one plane within the section is far from the other.
func (c comparison) flats(a, b flat) bool {
	turn := math.Hypot(a.nx-b.nx, math.Hypot(a.ny-b.ny, a.nz-b.nz))
	shift := (a.d - a.nx*c.mid) - (b.d - b.nx*c.mid2)
	// From the middle of the piece the direction tells over its length too: what counts is at the cut.
	if math.Abs(a.nx) > 1e-6 && math.Abs(b.nx) > 1e-6 {
		shift = (a.d/a.nx - c.mid - b.d/b.nx + c.mid2) * a.nx
	}
	return turn*c.reach+math.Abs(shift) <= sameMM
}

func (c comparison) cylinders(a, b drum) bool {
	near := func(sign float64) bool {
		turn := math.Hypot(a.dx-sign*b.dx, math.Hypot(a.dir.Y-sign*b.dir.Y, a.dir.Z-sign*b.dir.Z))
		return turn*c.reach+math.Abs(a.x-c.mid-b.x+c.mid2)+math.Hypot(a.at.Y-b.at.Y, a.at.Z-b.at.Z)+math.Abs(a.r-b.r) <= sameMM
	}
	return near(1) || near(-1) // an axis has no direction
}

// pairOff tells whether every one of a has one of b for itself that is alike. Those that are alike are much nearer to each
// other than to the rest, so that the first found will do.
func pairOff[T any](a, b []T, alike func(T, T) bool) bool {
	if len(a) != len(b) {
		return false
	}
	var few [16]bool
	taken := few[:]
	if len(b) > len(few) {
		taken = make([]bool, len(b))
	}
next:
	for i := range a {
		for n := range b {
			if k := (i + n) % len(b); !taken[k] && alike(a[i], b[k]) { // mostly they stand in the same order
				taken[k] = true
				continue next
			}
		}
		return false
	}
	return true
}

// onto gives the motions by which a hand lays s on t, so that the two are the same piece; of a section that is not round
// Stay is the first. most bounds their number.
func (s *shape) onto(t *shape, most int) []frame.Motion {
	var out []frame.Motion
	if s.section.Name != t.section.Name || math.Abs(s.length-t.length) > sameMM || len(s.holes) != len(t.holes) {
		return nil
	}
	try := func(m frame.Motion) bool {
		x := s.moved(m)
		if x.same(t) && !slices.Contains(out, m) {
			out = append(out, m)
		}
		return len(out) < most
	}
	if !s.section.Round {
		for _, m := range s.section.Motions() {
			if !try(m) {
				return out
			}
		}
		return out
	}
	if s.same(t) && !try(frame.Stay) {
		return out
	}
	to, told := t.strongest()
	for _, m := range []frame.Motion{frame.Stay, frame.FlipWidth} {
		if !told {
			if !try(m) {
				return out
			}
			continue
		}
		x := s.moved(m)
		for _, f := range x.features() {
			for _, roll := range rolls(f, to) {
				if !try(m.Then(roll)) {
					return out
				}
			}
		}
	}
	return out
}

// rolls gives the two rolls that lay the direction of from on that of to, or against it.
func rolls(from, to space.Vec2) [2]frame.Motion {
	n := math.Hypot(from.Y, from.Z) * math.Hypot(to.Y, to.Z)
	c, w := (from.Y*to.Y+from.Z*to.Z)/n, (from.Y*to.Z-from.Z*to.Y)/n
	return [2]frame.Motion{{YY: c, YZ: -w, ZY: w, ZZ: c}, {YY: -c, YZ: w, ZY: -w, ZZ: -c}}
}

// features gives the directions in the section that tell one roll of a round piece from another, each as long as it tells,
// in mm on its skin.
func (s *shape) features() []space.Vec2 {
	var out []space.Vec2
	r := s.reach()
	put := func(v space.Vec2, scale float64) {
		if v = (space.Vec2{Y: v.Y * scale, Z: v.Z * scale}); math.Hypot(v.Y, v.Z) > sameMM {
			out = append(out, v)
		}
	}
	for e := range s.ends {
		x := &s.ends[e]
		for _, f := range x.planes {
			put(space.Vec2{Y: f.ny, Z: f.nz}, r)
		}
		for _, d := range x.drums {
			put(d.dir, r)
			put(d.at, 1)
		}
	}
	for _, h := range s.holes {
		put(h.out, r)
	}
	return out
}

// strongest gives the feature that tells the roll of a round piece best.
func (s *shape) strongest() (best space.Vec2, told bool) {
	most := 0.0
	for _, f := range s.features() {
		if n := math.Hypot(f.Y, f.Z); n > most {
			best, most, told = f, n, true
		}
	}
	return best, told
}

// lean is a number that is the same however a piece lies: shapes whose leans differ need not be compared.
func (s *shape) lean() float64 {
	sum := 0.0
	for e := range s.ends {
		for _, f := range s.ends[e].planes {
			sum += math.Abs(f.nx)
		}
		for _, d := range s.ends[e].drums {
			sum += math.Abs(d.dx)
		}
	}
	return sum
}

// lists gives the shape as numbers in mm, in an order that does not hang on that of its parts. They serve to choose among
// shapes that are the same piece or its other hand, by order.
func (s *shape) list() []float64 {
	r := s.reach()
	var k []float64
	put := func(parts [][]float64) {
		slices.SortFunc(parts, order)
		k = append(k, slices.Concat(parts...)...)
	}
	plane := func(f flat) []float64 { return []float64{f.nx * r, f.ny * r, f.nz * r, f.d} }
	planes := func(fs []flat) [][]float64 {
		var parts [][]float64
		for _, f := range fs {
			parts = append(parts, plane(f))
		}
		return parts
	}
	for e := range s.ends {
		x := &s.ends[e]
		put(planes(x.planes))
		for _, n := range x.notch {
			put(planes(n))
		}
		var drums [][]float64
		for _, d := range x.drums {
			p := []float64{d.dir.Z * r, d.dir.Y * r, d.dx * r}
			if order(p, []float64{0, 0, 0}) < 0 {
				p = []float64{-p[0], -p[1], -p[2]}
			}
			drums = append(drums, append(p, d.x, d.at.Y, d.at.Z, d.r))
		}
		put(drums)
	}
	var holes [][]float64
	for _, h := range s.holes {
		y, z := h.out.Y*r, h.out.Z*r
		if h.through && order([]float64{y, z}, []float64{0, 0}) < 0 {
			y, z = -y, -z
		}
		holes = append(holes, []float64{h.x, -y, -z, h.size, truth(h.through), truth(h.vent)})
	}
	put(holes)
	return k
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// order compares lists of numbers in mm, or in degrees, by the first that differs by more than noise.
func order(a, b []float64) int {
	for i := range min(len(a), len(b)) {
		if d := a[i] - b[i]; d < -sameMM {
			return -1
		} else if d > sameMM {
			return 1
		}
	}
	return len(a) - len(b)
}

// least gives the list that comes first among those of all ways to lay the shape down.
func (s *shape) least() []float64 {
	var first []float64
	for _, m := range s.motions() {
		x := s.moved(m)
		if k := x.list(); first == nil || order(k, first) < 0 {
			first = k
		}
	}
	return first
}

// book finds the group of a shape. Its pages hold the groups whose lengths are nearly equal.
type book map[page][]int

type page struct {
	section string
	over    measure.Length
	step    int64
}

const pageMM = 0.5

func (b book) add(s *shape, over measure.Length, group int) {
	p := page{s.section.Name, over, int64(math.Floor(s.length / pageMM))}
	b[p] = append(b[p], group)
}

// find gives the first group whose shape is the same piece as s and which will do; -1 where there is none.
func (b book) find(s *shape, over measure.Length, groups []group, will func(*group) bool) int {
	lean, slack := s.lean(), 8*sameMM/s.reach()
	found := -1
	lo, hi := int64(math.Floor((s.length-sameMM)/pageMM)), int64(math.Floor((s.length+sameMM)/pageMM))
	for step := lo; step <= hi; step++ {
		for _, k := range b[page{s.section.Name, over, step}] {
			g := &groups[k]
			if found >= 0 && k > found || math.Abs(g.lean-lean) > slack || math.Abs(g.shape.length-s.length) > sameMM || !will(g) {
				continue
			}
			if len(s.onto(&g.shape, 1)) > 0 {
				found = k
			}
		}
	}
	return found
}
