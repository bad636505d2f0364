package cut

import (
	"math"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

// swingOf gives the swing that cuts a plane, in degrees: positive where the far edge leans towards the first end. A plane
// that leans both ways gives the swing of the steeper face.
func swingOf(p nest.Plane) float64 {
	s := p.SY
	if abs(p.SZ) > abs(p.SY) {
		s = p.SZ
	}
	if s == 0 {
		return 0
	}
	// A billionth of slope is finer than any saw: degrees to a ten-millionth give back the number that was asked for.
	return degrees(-math.Atan(float64(s) / 1e9))
}

// degrees gives an angle in radians as degrees, to a ten-millionth.
func degrees(rad float64) float64 { return math.Round(rad*180/math.Pi*1e7) / 1e7 }

func abs(v int64) int64 {
	if v < 0 {
		return -v
	}
	return v
}

// faceOf gives the face across which the plane is seen; a square one keeps was.
func faceOf(p nest.Plane, was nest.Face) nest.Face {
	switch {
	case p.SY == 0 && p.SZ == 0:
		return was
	case abs(p.SZ) > abs(p.SY):
		return nest.Width
	}
	return nest.Depth
}

// Build makes the queue of all bundles, one section after the other. Pieces that wait for their measured length come last
// of all, behind every piece of every section that can be cut now.
func Build(bundles []Bundle, saw Saw, rates Rates) Queue {
	w := &writer{saw: saw, rates: rates, units: map[kindKey]int{}, sticks: map[stickKey]int{}}
	arranged := make([][]arrangement, len(bundles))
	for i := range bundles {
		arranged[i] = arrange(&bundles[i])
		w.bundle(i, &bundles[i], arranged[i], false)
	}
	for i := range bundles {
		w.bundle(i, &bundles[i], arranged[i], true)
	}
	return w.finish()
}

type (
	kindKey  struct{ bundle, kind int }
	stickKey struct{ bundle, used int }
)

// waits tells whether the pieces of a kind wait for their measured length.
func (b *Bundle) waits(kind int) bool { return kind < len(b.Waits) && b.Waits[kind] }

// now gives how many of a stick's pieces can be cut at once: those before the first that waits.
func (b *Bundle) now(cuts []nest.Cut) int {
	for i, c := range cuts {
		if b.waits(c.Kind) {
			return i
		}
	}
	return len(cuts)
}

type writer struct {
	q       Queue
	saw     Saw
	rates   Rates
	stick   int
	swing   float64
	stop    measure.Length
	set     bool // the saw has been set to swing
	flipped bool // the stick in hand lies half a turn from how the nest has it
	stopOn  bool
	units   map[kindKey]int
	sticks  map[stickKey]int // numbers of the sticks that were in the saw
	swings  map[float64]bool
	stops   map[measure.Length]bool
}

func (w *writer) add(s Step) {
	s.Number = len(w.q.Steps) + 1
	s.Stick = w.stick
	w.q.Steps = append(w.q.Steps, s)
	w.q.EstS += s.EstS
}

// bundle writes the steps of a section: all that can be cut now, or, later, what waits for a measured length.
func (w *writer) bundle(index int, b *Bundle, arranged []arrangement, later bool) {
	for _, a := range arranged {
		from, to := 0, b.now(a.cuts)
		if later {
			from, to = to, len(a.cuts)
		}
		if from == to {
			continue
		}
		key := stickKey{index, a.used}
		again := w.sticks[key] > 0
		if !again {
			w.sticks[key] = len(w.sticks) + 1
		}
		w.stick = w.sticks[key]
		w.flipped = false
		u := b.Nest.Used[a.used]
		stick := b.Problem.Sticks[u.Stick]
		base := Step{Section: b.Section, Bundle: index, Used: a.used, Cut: -1, Slack: u.Slack, Waits: later}
		if !again {
			for _, at := range u.Partings() {
				s := base
				s.Op, s.Near, s.Far, s.Length = Part, at, at, stick.Length
				w.add(s)
			}
		}
		face := nest.Depth
		if len(a.cuts) > 0 && len(b.Faces) > a.cuts[0].Kind {
			face = b.Faces[a.cuts[0].Kind]
		}
		for i := from; i < to; i++ {
			c := a.cuts[i]
			face = faceOf(c.Lay.Right, faceOf(c.Lay.Left, face))
			newPart := i == 0 || partOf(u, u.Cuts[i]) != partOf(u, u.Cuts[i-1])
			if !newPart && i == from {
				s := base
				s.Op, s.Again, s.EstS = Load, true, w.rates.LoadS
				s.Length = partEnd(u, stick.Length, i) - w.left(b, a, i)
				w.add(s)
			}
			if newPart {
				s := base
				s.Op, s.Length, s.EstS = Load, stick.Length, w.rates.LoadS
				if n := partOf(u, u.Cuts[i]); len(u.Parts) > 1 {
					s.Length = u.Parts[n]
				}
				w.add(s)
			}
			w.fresh(b, base, a, u, stick, i, newPart, face)
			w.piece(b, base, a, i, face)
		}
	}
}

// fresh writes the cut that makes the left end of piece i, where one is needed.
func (w *writer) fresh(b *Bundle, base Step, a arrangement, u nest.Used, stick nest.Stick, i int, newPart bool, face nest.Face) {
	c := a.cuts[i]
	face = faceOf(c.Lay.Left, face) // the piece's two ends may lean across different faces
	s := base
	s.Op, s.Mark, s.Face, s.RollDeg, s.Turned = Trim, b.Marks[c.Kind], face, c.Lay.Roll, c.Lay.Turned
	origin := measure.Length(0)
	if newPart {
		if n := partOf(u, u.Cuts[i]); n > 0 {
			origin = u.Partings()[n-1]
		}
		// A first piece that starts at the stick's own square end needs no cut.
		if c.From == origin && c.Lay.Left == u.Ends.Left {
			return
		}
	} else {
		if a.cuts[i-1].Lay.Right == c.Lay.Left {
			return // shared with the piece before
		}
		origin = w.left(b, a, i)
	}
	near, far := b.line(c.From, c.Lay.Left, face, true)
	s.Near, s.Far = near-origin, far-origin
	w.swingTo(&s, b, c.Lay.Left, face)
	w.add(s)
}

// left gives where the rest of the stick begins before piece i: the tip of the fresh end that the cut before it left.
func (w *writer) left(b *Bundle, a arrangement, i int) measure.Length {
	before := a.cuts[i-1]
	return before.To - b.lean(before.Lay.Right) + measure.Length(math.Round(float64(w.saw.Kerf)*secant(before.Lay.Right)))
}

// partEnd gives where the part of the stick ends in which piece i lies.
func partEnd(u nest.Used, length measure.Length, i int) measure.Length {
	n := partOf(u, u.Cuts[i])
	if at := u.Partings(); n < len(at) {
		return at[n]
	}
	return length
}

// piece writes the cut that takes piece i off.
func (w *writer) piece(b *Bundle, base Step, a arrangement, i int, face nest.Face) {
	c := a.cuts[i]
	s := base
	mark := b.Marks[c.Kind]
	w.units[kindKey{s.Bundle, c.Kind}]++
	unit := w.units[kindKey{s.Bundle, c.Kind}]
	if c.Kind < len(b.Units) && unit <= len(b.Units[c.Kind]) {
		unit = b.Units[c.Kind][unit-1]
	}
	s.Op, s.Cut, s.Mark, s.Unit, s.Face, s.RollDeg, s.Turned = Cut, i, mark, unit, face, c.Lay.Roll, c.Lay.Turned
	s.From, s.To, s.Left, s.Right = c.From, c.To, c.Lay.Left, c.Lay.Right
	s.Stop = c.To - c.From
	s.Pattern = unit == 1 && !s.Waits
	near, far := b.line(c.To, c.Lay.Right, face, false)
	s.Near, s.Far = near-c.From, far-c.From
	leftNear, leftFar := b.line(c.From, c.Lay.Left, face, true)
	w.swingTo(&s, b, c.Lay.Right, face)
	if s.Flipped {
		leftNear, leftFar = b.turned(leftNear, leftFar, c.Lay.Left, face)
	}
	s.Edge, s.Measure = points(leftNear, leftFar, s.Near, s.Far, s.Stop)
	if w.stops == nil {
		w.stops = map[measure.Length]bool{}
	}
	w.stops[s.Stop] = true
	if !w.stopOn || w.stop != s.Stop {
		w.stopOn, w.stop, s.NewStop = true, s.Stop, true
		w.q.Stops++
		if w.rates.StopMaxMM > 0 && s.Stop.MM() > w.rates.StopMaxMM {
			s.EstS += w.rates.MarkoutS
		} else {
			s.EstS += w.rates.StopS
		}
	}
	if s.Pattern {
		s.EstS += w.rates.PatternS
	}
	w.add(s)
}

// points names the edge to measure on and its two points. The fresh end's tip lies where its offset is 0. The edge is the
// one with the tip of the fresh end; where the fresh end is square, the one with the tip of the line.
func points(leftNear, leftFar, near, far, length measure.Length) (edge, what string) {
	name := func(tip bool) string {
		if tip {
			return "tip"
		}
		return "heel"
	}
	edge = "near"
	at := near
	switch {
	case leftNear == leftFar && far > near, leftFar < leftNear:
		edge, at = "far", far
	}
	return edge, "tip-" + name(at == length)
}

// line gives where a plane crosses the two edges of the face that is towards you, given its tip: the least of all for a left
// end, the greatest for a right end. A plane that leans both ways has its tip at the back or at the front; at the back the
// line on the front stands off from it by what the plane leans through the piece.
func (b *Bundle) line(tip measure.Length, p nest.Plane, face nest.Face, left bool) (near, far measure.Length) {
	slope := p.SY
	if face == nest.Width {
		slope = p.SZ
	}
	rise := over(slope, b.extent(face))
	near, far = tip, tip+rise
	if left != (rise >= 0) {
		near, far = tip-rise, tip
	}
	through := b.through(p, face)
	off := max(0, through)
	if !left {
		off = -max(0, -through)
	}
	if b.Round && p.SY != 0 && p.SZ != 0 {
		// Of a circle the tip lies between the two lines on top and at the front.
		if off = (b.lean(p) - max(rise, -rise)) / 2; !left {
			off = -off
		}
	}
	return near + off, far + off
}

// turned gives where the plane crosses the two edges once the stick is rolled half a turn: the back is towards you then.
func (b *Bundle) turned(near, far measure.Length, p nest.Plane, face nest.Face) (measure.Length, measure.Length) {
	off := measure.Length(0)
	if !b.Round {
		off = b.through(p, face)
	}
	return far - off, near - off
}

// over gives how far a plane of that slope leans over an extent.
func over(slope int64, extent measure.Length) measure.Length {
	return measure.Length(math.Round(float64(slope) * float64(extent) / 1e9))
}

// through gives how much farther along the stick a plane lies on the face towards you than at the back.
func (b *Bundle) through(p nest.Plane, face nest.Face) measure.Length {
	if face == nest.Width {
		return -over(p.SY, b.Depth)
	}
	return over(p.SZ, b.Width)
}

// lean gives how far a plane reaches along the stick, from its first tip to its last.
func (b *Bundle) lean(p nest.Plane) measure.Length {
	if b.Round {
		return measure.Length(math.Round(math.Hypot(float64(p.SY), float64(p.SZ)) * float64(b.Depth) / 1e9))
	}
	return over(abs(p.SY), b.Depth) + over(abs(p.SZ), b.Width)
}

func secant(p nest.Plane) float64 {
	y, z := float64(p.SY)/1e9, float64(p.SZ)/1e9
	return math.Sqrt(1 + y*y + z*z)
}

func (b *Bundle) extent(face nest.Face) measure.Length {
	if face == nest.Width {
		return b.Width
	}
	return b.Depth
}

// swingTo fills in the swing of a step, rolls the stick half a turn where that saves a setting, and writes the proof of a
// new swing before it.
func (w *writer) swingTo(s *Step, b *Bundle, p nest.Plane, face nest.Face) {
	swing := swingOf(p)
	if p.SY != 0 && p.SZ != 0 {
		main, other := float64(p.SY)/1e9, float64(p.SZ)/1e9
		if face == nest.Width {
			main, other = other, main
		}
		if w.saw.Tilts {
			s.TiltDeg = degrees(math.Atan(other / math.Hypot(1, main)))
		} else {
			// A saw that only swings makes it in one cut of the steeper angle, the stick rolled onto wedges.
			swing = math.Copysign(degrees(math.Atan(math.Hypot(main, other))), swing)
			s.WedgeDeg = degrees(math.Atan(other / main))
		}
	}
	// The stick is rolled half a turn where that keeps the swing as it is, or where the saw swings to the other side only.
	flip := b.Flips && w.within(-swing) && (!w.within(swing) || w.set && swing != 0 && -swing == w.swing)
	if flip {
		swing = -swing
		s.RollDeg = (s.RollDeg + 180) % 360
		s.Near, s.Far = b.turned(s.Near, s.Far, p, face)
	}
	if swing == 0 {
		flip = w.flipped
		if flip {
			s.RollDeg = (s.RollDeg + 180) % 360
		}
	}
	s.Flipped, s.Flip = flip, flip != w.flipped
	w.flipped = flip
	s.SwingDeg = swing
	s.Offset = s.Near - s.Far
	if w.swings == nil {
		w.swings = map[float64]bool{}
	}
	if b.Flips {
		w.swings[math.Abs(swing)] = true
	} else {
		w.swings[swing] = true
	}
	if !w.set || w.swing != swing {
		w.set, w.swing = true, swing
		w.q.Swings++
		prove := Step{Section: s.Section, Waits: s.Waits, Bundle: s.Bundle, Used: s.Used, Cut: -1, Slack: s.Slack, Op: Prove, SwingDeg: swing,
			RollDeg: s.RollDeg, Face: face, Offset: s.Offset, NewSwing: true, EstS: w.rates.SwingS + w.rates.ProveS}
		w.add(prove)
	}
	s.EstS += w.rates.HandleS
	if w.rates.FeedMM2S > 0 {
		s.EstS += b.AreaMM2 * secant(p) / w.rates.FeedMM2S
	}
}

func (w *writer) within(swing float64) bool {
	return !w.saw.Limited || swing >= w.saw.Least && swing <= w.saw.Most
}

func (w *writer) finish() Queue {
	w.q.LeastStops, w.q.LeastSwing = len(w.stops), len(w.swings)
	return w.q
}
