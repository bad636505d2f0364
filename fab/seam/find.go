package seam

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// Limits of the angle between two faces, through the air, degrees: AWS D1.1 counts a weld as a fillet between 60 and 135;
// near 180 the faces are flush.
const (
	filletFrom   = 60
	filletTo     = 135
	flushWithin  = 12
	outsideAbove = 180 + flushWithin
)

// shortest is the length of an edge (mm) that is worth a seam; shorter ones are run over by their neighbours.
const shortest = 3.0

// TypeOf gives the type of weld for an edge.
func TypeOf(e frame.Edge) Type {
	switch d := e.DihedralDeg; {
	case e.Flare:
		return FlareBevel
	case e.Flush || math.Abs(d-180) <= flushWithin:
		return SquareGroove
	case d > outsideAbove:
		return OutsideCorner
	case d <= filletTo:
		return Fillet
	}
	return Bevel
}

// PositionOf gives the position of a seam that runs along dir and is welded from the side of out, while the frame's
// direction up points up. The limits follow AWS D1.1 figures 4.1 and 4.2 (from memory): more than 15 degrees from level is
// vertical; within 30 degrees of straight up is flat. Seams that the torch reaches from above or from the side count as
// horizontal, those from below as overhead: for fillets D1.1 draws that line higher, which matters to a welder's test and
// not to the plan.
func PositionOf(dir, out, up space.Vec) Position {
	incline := math.Abs(90 - dir.AngleDeg(up)) // of the seam's axis from level
	face := out.AngleDeg(up)                   // of the torch's side from straight up
	const flat, level = 30.0, 100.0
	switch {
	case incline > 80:
		return Vertical
	case face > level:
		return Overhead
	case incline > 15:
		return Vertical
	case face <= flat:
		return Flat
	}
	return Horizontal
}

// finder collects the layout.
type finder struct {
	f        *frame.Frame
	j        *job.Job
	w        *job.Welder
	out      Layout
	problems []text.Problem
	solids   [][]space.Solid
	boxes    []space.Box
	reaches  [][]reach // of each seam; nil: nothing is in the way
	asked    []*asked  // the words for sides of each [[joint]]
}

// Find turns the joints of a frame into seams and stages. w says process and leg size where a joint says nothing; nil: the
// process is taken as one with wire, and the least leg of the standard is used. Problems are cautions (a fillet under the
// standard's minimum, a seam that no torch reaches) and errors of [[joint]] tables.
func Find(f *frame.Frame, j *job.Job, w *job.Welder) (Layout, []text.Problem) {
	s := &finder{f: f, j: j, w: w}
	for i := range f.Members {
		solids := f.Members[i].Solids()
		box := space.EmptyBox()
		for _, p := range solids {
			box = box.Join(p.Box())
		}
		s.solids = append(s.solids, solids)
		s.boxes = append(s.boxes, box)
	}
	for i := range f.Joints {
		s.joint(&f.Joints[i])
	}
	s.unmet()
	s.access()
	s.stages()
	s.tacks()
	s.bars()
	return s.out, s.problems
}

func (s *finder) problem(w job.Where, sev text.Severity, code, format string, args ...any) {
	s.add(w.Problem(sev, code, fmt.Sprintf(format, args...)))
}

func (s *finder) add(p text.Problem) {
	if !slices.Contains(s.problems, p) { // each seam of a joint says the same
		s.problems = append(s.problems, p)
	}
}

// finishes from the cleanest to the one that needs most care.
var finishes = []job.Finish{job.Bright, "", job.Scale, job.Oiled, job.Primed, job.Galvanised}

func dirtier(a, b job.Finish) job.Finish {
	for i := len(finishes) - 1; i >= 0; i-- {
		if finishes[i] == a || finishes[i] == b {
			return finishes[i]
		}
	}
	return a
}

func (s *finder) finish(member int) job.Finish {
	if sec := s.f.Members[member].Section; sec != nil {
		if x, ok := s.j.Section(sec.Name); ok {
			return x.Finish
		}
	}
	return job.Scale
}

// wall gives the thickness that a member offers to a weld.
func (s *finder) wall(member int) float64 {
	x := s.f.Members[member].Section
	if x.WallMM > 0 {
		return x.WallMM
	}
	return math.Min(x.DepthMM, x.WidthMM)
}

func (s *finder) joint(fj *frame.Joint) {
	n := len(s.out.Joints)
	jt := Joint{ID: fj.ID, Kind: string(fj.Kind), At: fj.At, Index: append([]int(nil), fj.Members...)}
	for _, m := range fj.Members {
		jt.Members = append(jt.Members, s.f.Members[m].Name)
		if s.f.Members[m].OverMM > 0 {
			jt.ToFit = append(jt.ToFit, s.f.Members[m].Name)
		}
	}
	spec := fj.Spec
	if spec == nil {
		spec = s.spec(jt.Members)
	}
	if spec != nil && spec.Kind != "" {
		jt.Kind = spec.Kind
	}
	jt.Lap = jt.Kind == string(frame.Lap)
	if jt.Kind == string(frame.Loose) {
		s.out.Joints = append(s.out.Joints, jt)
		return
	}
	var seams []draft
	var straight []stretch
	for ci := range fj.Contacts {
		c := &fj.Contacts[ci]
		for _, e := range c.Edges {
			if !e.Hidden && !s.curved(c, e) {
				straight = append(straight, stretch{c, e})
			}
		}
	}
	for _, x := range merged(straight) {
		if x.e.LengthMM() >= shortest {
			seams = append(seams, s.draft(fj, x.c, &jt, n, spec, x.e, x.e.LengthMM()))
		}
	}
	for ci := range fj.Contacts {
		seams = append(seams, s.curves(fj, &fj.Contacts[ci], &jt, n, spec)...)
	}
	s.choose(spec, &jt, seams)
	for k := range seams {
		x := &seams[k]
		x.ID = fmt.Sprintf("%s.%d", fj.ID, k+1) // a side keeps its number, whatever others are welded
		if x.Skipped != "" {
			jt.LeftOut = append(jt.LeftOut, x.Seam)
			continue
		}
		for _, p := range x.problems {
			s.add(p)
		}
		jt.Seams = append(jt.Seams, len(s.out.Seams))
		s.out.Seams = append(s.out.Seams, x.Seam)
	}
	if len(seams) == 0 {
		jt.Kind = string(frame.Loose)
	}
	s.out.Joints = append(s.out.Joints, jt)
}

// spec finds the job's exception for two members by name.
func (s *finder) spec(members []string) *job.Joint {
	has := func(name string) bool {
		for _, m := range members {
			if m == name {
				return true
			}
		}
		return false
	}
	for i := range s.j.Joints {
		x := &s.j.Joints[i]
		if len(x.Between) == 2 && has(x.Between[0]) && has(x.Between[1]) {
			return x
		}
	}
	return nil
}

// easiest tells which n seams lie open and are longest.
func easiest(seams []draft, n int) []bool {
	order := make([]int, len(seams))
	for i := range order {
		order[i] = i
	}
	up := space.Vec{Z: 1}
	sort.SliceStable(order, func(a, b int) bool {
		x, y := seams[order[a]], seams[order[b]]
		if d := x.Out.Dot(up) - y.Out.Dot(up); math.Abs(d) > 0.3 {
			return d > 0
		}
		return x.LengthMM > y.LengthMM+0.5
	})
	keep := make([]bool, len(seams))
	for _, i := range order[:n] {
		keep[i] = true
	}
	return keep
}

// stretch is an edge with its contact.
type stretch struct {
	c *frame.Contact
	e frame.Edge
}

// touching is how near two ends must lie to be one, mm.
const touching = 0.01

// merged joins edges that go on in a straight line with the same faces: the legs of an angle touch in two areas, but the
// seam along them is one.
func merged(in []stretch) []stretch {
	out := append([]stretch(nil), in...)
	for i := 0; i < len(out); i++ {
		for k := i + 1; k < len(out); k++ {
			a, b := out[i].e, out[k].e
			if a.Flare != b.Flare || a.Flush != b.Flush || a.Covered != b.Covered || math.Abs(a.DihedralDeg-b.DihedralDeg) > 0.5 ||
				a.Out().Dot(b.Out()) < 0.9999 || math.Abs(a.To.Sub(a.From).Unit().Dot(b.To.Sub(b.From).Unit())) < 0.9999 {
				continue
			}
			// the ends that do not meet are the ends of the whole
			var from, to space.Vec
			switch {
			case a.To.Dist(b.From) < touching:
				from, to = a.From, b.To
			case a.To.Dist(b.To) < touching:
				from, to = a.From, b.From
			case a.From.Dist(b.From) < touching:
				from, to = b.To, a.To
			case a.From.Dist(b.To) < touching:
				from, to = b.From, a.To
			default:
				continue
			}
			if from.Dist(to) < math.Max(a.LengthMM(), b.LengthMM()) { // they lie on each other
				continue
			}
			out[i].e.From, out[i].e.To = from, to
			out = append(out[:k], out[k+1:]...)
			i-- // the longer one may meet a further one
			break
		}
	}
	return out
}

// curves gathers the chords of a contact's curve into quarters.
func (s *finder) curves(fj *frame.Joint, c *frame.Contact, jt *Joint, joint int, spec *job.Joint) []draft {
	var out []draft
	var curve []frame.Edge
	for _, e := range c.Edges {
		if !e.Hidden && s.curved(c, e) {
			curve = append(curve, e)
		}
	}
	const quarters = 4
	for q := range quarters {
		part := curve[q*len(curve)/quarters : (q+1)*len(curve)/quarters]
		if len(part) == 0 {
			continue
		}
		e := part[len(part)/2]
		length := 0.0
		for _, x := range part {
			length += x.LengthMM()
		}
		e.From, e.To, e.Round = part[0].From, part[len(part)-1].To, true
		out = append(out, s.draft(fj, c, jt, joint, spec, e, length))
	}
	return out
}

// curved tells whether an edge is one of the chords in which a round section's rim is given.
func (s *finder) curved(c *frame.Contact, e frame.Edge) bool {
	if e.Round {
		return true
	}
	for _, m := range c.Members {
		x := &s.f.Members[m]
		if x.Section.Round && e.LengthMM() < x.Section.RadiusMM/2 && math.Abs(e.To.Sub(e.From).Unit().Dot(x.Axis)) < 0.99 {
			return true
		}
	}
	return false
}

// draft works out one seam, whether it will be welded or not.
func (s *finder) draft(fj *frame.Joint, c *frame.Contact, jt *Joint, joint int, spec *job.Joint, e frame.Edge, length float64) (d draft) {
	x := Seam{Joint: joint, Members: c.Members, From: e.From, To: e.To, Out: e.Out(), LengthMM: length, WeldMM: length, Beads: 1, Type: TypeOf(e),
		DihedralDeg: e.DihedralDeg, RadiusMM: e.FlareMM, GapMM: math.Max(c.GapMM, fj.GapMM), WallMM: [2]float64{s.wall(c.Members[0]), s.wall(c.Members[1])},
		Passes: 1, Finish: dirtier(s.finish(c.Members[0]), s.finish(c.Members[1])), Blocker: -1, Round: e.Round}
	if !x.Out.Finite() || x.Out.Len() < 0.5 { // two faces that look away from each other: an edge like a knife's
		x.Out = e.Faces[0]
	}
	thin := math.Min(x.WallMM[0], x.WallMM[1])
	process := ""
	var leg float64
	if s.w != nil {
		process = s.w.Process
		leg = s.w.Fillet.MM()
	}
	low, fine := process != "SMAW", s.j.Tape.Fine
	least := MinLeg(x.WallMM[0], x.WallMM[1], low).Value
	if leg <= 0 {
		leg = least
	}
	where := s.where(fj)
	at := func(key string) job.Where { // the key of the [[joint]], where it is given there
		if spec != nil && where.Has(key) {
			return where.In(key)
		}
		return where
	}
	if spec != nil {
		where = spec.Where
		if spec.Fillet > 0 {
			leg = spec.Fillet.MM()
		}
		if spec.GapGiven {
			x.GapMM = spec.Gap.MM()
		}
		x.Dress = spec.Dress
		x.TackOnly = spec.Tack
	}
	switch x.Type {
	case Fillet:
		x.LegMM = leg
		x.ThroatMM = 0.707 * leg * math.Min(1, math.Cos(x.DihedralDeg/2*math.Pi/180)/math.Cos(math.Pi/4))
		if leg < least-1e-3 {
			d.problem(at("fillet"), text.Caution, "fillet-small", "%s: a fillet of %s is under the least of %s for a part of %s (AISC 360-22 Table J2.4, AWS D1.1 Table 7.7)", fj.ID, fine(leg), fine(least), fine(thin))
		}
		if edge := s.edge(fj, c); edge > 0 && leg > MaxLeg(edge).Value+1e-3 {
			d.problem(at("fillet"), text.Caution, "fillet-large", "%s: a fillet of %s is over the greatest of %s along the edge of a bar of %s (AISC 360-22 J2.2b): the edge melts off", fj.ID, fine(leg), fine(MaxLeg(edge).Value), fine(edge))
		}
		if _, err := FilletGap(leg, x.GapMM); err != nil {
			d.problem(at("gap"), text.Caution, "gap-wide", "%s: %v", fj.ID, err)
		}
	case FlareBevel:
		x.LegMM = math.Min(x.RadiusMM, thin)
		x.ThroatMM = FlareThroat(process, x.RadiusMM)
	case OutsideCorner:
		x.LegMM = thin
		x.ThroatMM = 0.707 * thin
	default:
		x.LegMM = thin
		x.ThroatMM = thin / 2 // square groove without a full root gap: half is melted through (planning value)
	}
	x.Passes = Passes(x.LegMM)
	if e.Covered {
		if x.CoveredBy = s.standingOn(x); len(x.CoveredBy) > 0 {
			x.Dress = true
		}
	}
	if spec != nil && spec.Passes > 0 {
		x.Passes = spec.Passes
	}
	if spec != nil && spec.Pattern != "" {
		p, err := ParsePattern(spec.Pattern, s.j.Units)
		if err != nil {
			d.problem(at("pattern"), text.Error, text.CodeValue, "%v", err)
		} else {
			x.Pattern = p
			x.Beads, x.WeldMM = p.On(length)
			if least := MinLength(x.LegMM, true); p.LengthMM < least-1e-6 && x.Type == Fillet {
				d.problem(at("pattern"), text.Caution, "bead-short", "%s: beads of %s are shorter than the %s that an intermittent fillet needs (AISC 360-22 J2.2b: four legs, 1-1/2 in)", fj.ID, fine(p.LengthMM), fine(least))
			}
		}
	}
	x.Faces = FacingOf(x.Out, c.Plane.Normal, s.into(fj, jt.Kind, c.Members))
	d.Seam = x
	return d
}

// edge gives the thickness of a flat bar that lies on another member, along whose edge a fillet runs; 0 where there is none:
// the corners of tubes and angles are no edges.
func (s *finder) edge(fj *frame.Joint, c *frame.Contact) float64 {
	if fj.Kind != frame.Lap {
		return 0
	}
	least := 0.0
	for k, m := range c.Members {
		x := s.f.Members[m].Section
		if x.Shape == steel.Flat && c.Ends[k] < 0 && (least == 0 || s.wall(m) < least) {
			least = s.wall(m)
		}
	}
	return least
}

// ParsePattern reads an intermittent weld: "2-6" are beads of 2 with 6 from centre to centre, in the job's unit unless one
// is written ("50mm-150mm").
func ParsePattern(pattern string, unit measure.Unit) (Pattern, error) {
	fail := func() (Pattern, error) {
		return Pattern{}, fmt.Errorf("pattern %q: write the length of a bead and the distance from centre to centre, such as \"2-6\"", pattern)
	}
	// a length may hold a dash itself (1-1/2): try every dash
	for i, r := range pattern {
		if r != '-' && r != '@' {
			continue
		}
		a, errA := measure.ParseLength(pattern[:i], unit)
		b, errB := measure.ParseLength(pattern[i+1:], unit)
		if errA == nil && errB == nil && a > 0 && b > a {
			if _, err := strconv.Atoi(strings.TrimSpace(pattern[:i])); err != nil && strings.Contains(pattern[i+1:], "-") && !strings.ContainsAny(pattern[:i], "m\"'") {
				continue
			}
			return Pattern{a.MM(), b.MM()}, nil
		}
	}
	return fail()
}

// On gives the number of beads on an edge of that length and the length of weld: one bead at each end, the others between
// with no more than the pitch from centre to centre. An edge no longer than a bead is welded whole.
func (p Pattern) On(lengthMM float64) (beads int, weldMM float64) {
	if p.LengthMM <= 0 || lengthMM <= p.LengthMM {
		return 1, lengthMM
	}
	beads = 1 + int(math.Ceil((lengthMM-p.LengthMM)/p.PitchMM-1e-9))
	weldMM = math.Min(lengthMM, float64(beads)*p.LengthMM)
	return beads, weldMM
}

// where gives the table that a joint's last member comes from.
func (s *finder) where(fj *frame.Joint) job.Where {
	return s.f.Members[fj.Members[len(fj.Members)-1]].Where
}
