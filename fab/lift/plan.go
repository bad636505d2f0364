package lift

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/mass"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/spot"
	"bench.example/soapstone/fab/text"
)

// Answer is how a frame gets to its place.
type Answer struct {
	MassKG   float64 // as hoisted
	Centre   space.Vec
	Size     space.Vec // of the box around it
	Stands   []Stand   // how the weight falls on the legs' feet as it stands; none where it has no two legs
	Hand     *ByHand
	Sling    *BySling
	Jack     *ByJack
	Turns    []Turn
	Access   *Passage
	Figures  []figure.Figure
	Cautions []string
}

// Input is what a lift is reckoned from.
type Input struct {
	Frame  *frame.Frame
	Job    *job.Job
	Names  *spot.Names
	Mass   *mass.Sheet
	Layout *seam.Layout // weld stages; nil without
}

// Plan reckons the lifts that the job asks for, and every turn of its weld stages. Problems are names that mean nothing and
// lifts that cannot be made as asked.
func Plan(in Input) (*Answer, []text.Problem) {
	l := &in.Job.Lift
	b := in.Mass.Whole
	a := &Answer{MassKG: b.KG + l.WithKG, Centre: b.Centre, Size: b.Bounds.Hi.Sub(b.Bounds.Lo)}
	var problems []text.Problem
	if a.MassKG <= 0 || len(in.Frame.Members) == 0 {
		return a, nil
	}
	a.stands(in)
	for _, by := range l.By {
		switch by {
		case "hand":
			p := a.byHand(in)
			problems = append(problems, p...)
		case "sling":
			problems = append(problems, a.bySling(in)...)
		case "jack":
			problems = append(problems, a.byJack(in)...)
		}
	}
	a.turns(in)
	if in.Job.Access.Given {
		a.access(in)
	}
	return a, problems
}

// ByHand is a lift by people.
type ByHand struct {
	People  int     // as the job says, or the fewest
	Fewest  int     // by the limit for each
	LimitKG float64 // for each
	EachKG  float64 // level, all alike
	Ends    []EndShare
	Single  *HandLift // one person lifting it alone
}

// EndShare is what each end carries while the other is higher: hands at the two ends of the longest side, at its bottom.
type EndShare struct {
	TiltDeg       float64
	LowKG, HighKG float64
}

func (a *Answer) byHand(in Input) []text.Problem {
	l := &in.Job.Lift
	h := &ByHand{LimitKG: l.LimitKG, People: l.People}
	fewest := figure.New("lift.people", "fewest people", "", "ceil(m/limit)", figure.Source{Kind: figure.Common, Text: "no one carries more than the lifting equation's constant under the best of conditions; the limit is the shop's"},
		figure.In("m", "mass as lifted", a.MassKG, "kg", "mass.whole"), figure.In("limit", "for each", l.LimitKG, "kg", "[lift] limit"))
	h.Fewest = int(fewest.Value)
	a.Figures = append(a.Figures, fewest)
	if h.People == 0 {
		h.People = max(h.Fewest, 1)
	}
	h.EachKG = a.MassKG / float64(h.People)
	long, lo := a.longAxis(in)
	span := long(in.Mass.Whole.Bounds.Hi) - lo
	off := long(a.Centre) - lo
	height := a.Centre.Z - in.Mass.Whole.Bounds.Lo.Z
	for _, tilt := range []float64{0, 15, 30, 45} {
		low := figure.New(fmt.Sprintf("lift.low%g", tilt), fmt.Sprintf("lower end's share at %g degrees", tilt), "kg", "m*(1 - x/L + h/L*tan(t))",
			figure.Source{Kind: figure.Geometry, Text: "moments about the upper hands"}, figure.In("m", "mass as lifted", a.MassKG, "kg", "mass.whole"), figure.In("x", "centre of mass from the lower hands", off, "mm", ""),
			figure.In("L", "between the hands", span, "mm", ""), figure.In("h", "centre of mass over the hands", height, "mm", ""), figure.In("t", "tilt", tilt, "deg", ""))
		v := math.Min(low.Value, a.MassKG)
		h.Ends = append(h.Ends, EndShare{tilt, v, a.MassKG - v})
		if tilt == 0 || tilt == 30 {
			a.Figures = append(a.Figures, low)
		}
	}
	h.Single = a.single(in)
	a.Hand = h
	a.Cautions = append(a.Cautions, "by hand: gloves, boots, one person calls the moves, a clear way walked first; the lower end carries more as soon as the other end goes up",
		"the lifting equation is for one person and never divided among helpers: people who lift together each count for less, not more")
	if mass := in.Job.Tape.Mass; h.People < h.Fewest {
		return []text.Problem{l.Problem(text.Warning, "lift-hands", fmt.Sprintf("%s for %d people is %s each, more than %s; take %d, or lift it with gear", mass(a.MassKG), h.People, mass(h.EachKG), mass(l.LimitKG), h.Fewest))}
	}
	return nil
}

// longAxis gives the level axis along which the frame is longest, and where it begins.
func (a *Answer) longAxis(in Input) (func(space.Vec) float64, float64) {
	if a.Size.Y > a.Size.X {
		return func(v space.Vec) float64 { return v.Y }, in.Mass.Whole.Bounds.Lo.Y
	}
	return func(v space.Vec) float64 { return v.X }, in.Mass.Whole.Bounds.Lo.X
}

// single is the lifting equation for one person alone. What the job leaves out: hands 8 in plus half the load's narrow
// side out, at 30 in, through 10 in of travel.
func (a *Answer) single(in Input) *HandLift {
	l := &in.Job.Lift
	narrow := math.Min(a.Size.X, a.Size.Y) / measure.InchMM
	h := Hand{H: 8 + narrow/2, V: 30, D: 10, ADeg: l.ADeg, PerMin: l.PerMin, Hours: l.Hours, LoadKG: a.MassKG}
	if l.H > 0 {
		h.H = l.H.Inches()
	}
	if l.V > 0 {
		h.V = l.V.Inches()
	}
	if l.D > 0 {
		h.D = l.D.Inches()
	}
	h.Coupling = map[string]Coupling{"good": Good, "fair": Fair, "poor": Poor}[l.Coupling]
	r, err := h.Solve("lift.one.")
	if err != nil {
		return nil
	}
	a.Figures = append(a.Figures, r.HM, r.VM, r.DM, r.AM, r.FM, r.CM, r.RWL)
	if r.Possible {
		a.Figures = append(a.Figures, r.Index)
	}
	return &r
}

// BySling is a lift by slings from one hook.
type BySling struct {
	Picks    []Pick
	HookMM   float64 // over the picks
	Proposed bool    // the picks are ours
	LeastDeg float64
	Hangs    bool // the centre of mass lies below every pick: it does not tip over
	Under    bool // the picks reach round the centre of mass
}

// Pick is one place where a sling holds.
type Pick struct {
	Name     string
	At       space.Vec
	ShareN   float64 // of the weight, by all picks alike
	AngleDeg float64 // of its leg from the horizontal
	LegMM    float64 // length of the leg so that the frame hangs level
	TensionN float64 // to choose the sling by: two legs alone carry a rigid frame
}

func (a *Answer) bySling(in Input) []text.Problem {
	l := &in.Job.Lift
	s := &BySling{}
	var problems []text.Problem
	for _, n := range l.Picks {
		got, p := in.Names.Find(n)
		if p != nil {
			problems = append(problems, *p)
			continue
		}
		for _, q := range got {
			if !q.Given {
				q.AtMM = in.Frame.LengthMM(q.Member) / 2
			}
			s.Picks = append(s.Picks, Pick{Name: in.Frame.Members[q.Member].Name + "@" + in.Job.Tape.Print(measure.FromMM(q.AtMM)), At: in.Names.Point(q)})
		}
	}
	if len(l.Picks) == 0 {
		s.Picks, s.Proposed = a.propose(in), true
	}
	if len(problems) > 0 {
		return problems
	}
	if len(s.Picks) == 0 {
		return append(problems, l.Problem(text.Error, text.CodeMissing, "no picks can be proposed for this frame; say where the slings hold: picks = [\"NAME@24in\", ...]"))
	}
	top, far := math.Inf(-1), 0.0
	for _, p := range s.Picks {
		top = math.Max(top, p.At.Z)
		far = math.Max(far, math.Hypot(p.At.X-a.Centre.X, p.At.Y-a.Centre.Y))
	}
	s.HookMM = l.Hook.MM()
	if s.HookMM == 0 {
		hook := figure.New("lift.hook", "hook over the picks", "mm", "r*tan(a)", figure.Source{Kind: figure.Geometry, Text: "the farthest pick's leg at this angle"},
			figure.In("r", "farthest pick from under the hook", far, "mm", ""), figure.In("a", "angle from the horizontal", math.Min(l.AngleDeg, 89), "deg", "[lift] angle"))
		s.HookMM = hook.Value
		a.Figures = append(a.Figures, hook)
	}
	if far < 1 {
		s.HookMM = math.Max(s.HookMM, 1000)
	}
	hook := space.Vec{X: a.Centre.X, Y: a.Centre.Y, Z: top + s.HookMM}
	var pts []space.Vec
	for _, p := range s.Picks {
		pts = append(pts, p.At)
	}
	shares, under := mass.Shares(a.MassKG, a.Centre, pts)
	s.Under, s.Hangs, s.LeastDeg = under, true, 90
	weight := a.MassKG * measure.Gravity
	for i := range s.Picks {
		p := &s.Picks[i]
		p.ShareN = shares[i].N
		s.Under = s.Under && p.ShareN > 0
		d := hook.Sub(p.At)
		p.LegMM = d.Len()
		p.AngleDeg = math.Atan2(d.Z, math.Hypot(d.X, d.Y)) * 180 / math.Pi
		s.LeastDeg = math.Min(s.LeastDeg, p.AngleDeg)
		s.Hangs = s.Hangs && a.Centre.Z < p.At.Z
		if p.AngleDeg < LeastAngleDeg {
			problems = append(problems, l.Problem(text.Error, "lift-flat", fmt.Sprintf("the leg to %s would run at %.0f degrees from the horizontal; none may run under 30: raise the hook, or bring the picks in", p.Name, p.AngleDeg)))
			continue
		}
		share := figure.In("S", "share of the weight", p.ShareN, "N", "all legs alike")
		f := figure.New(fmt.Sprintf("lift.leg%d", i+1), "tension in the leg to "+p.Name, "N", "max(S, W*h)/sin(a)",
			figure.Source{Kind: figure.Standard, Text: "ASME B30.9: T = W / (N sin a); of more than two legs on a rigid frame two are counted on"},
			share, figure.In("W", "weight as lifted", weight, "N", "mass.whole"), figure.In("h", "share of one of two legs, where there are more than two", halfOf(len(s.Picks)), "", ""), figure.In("a", "angle from the horizontal", p.AngleDeg, "deg", ""))
		p.TensionN = f.Value
		a.Figures = append(a.Figures, f)
	}
	if !s.Hangs {
		problems = append(problems, l.Problem(text.Warning, "lift-tips", "the centre of mass lies above a pick: the frame can turn over in the slings; pick it up from higher, or choke and tie it"))
	}
	if !s.Under {
		problems = append(problems, l.Problem(text.Warning, "lift-tips", "the picks do not reach round the centre of mass: the frame swings until it hangs under the hook; move them outwards"))
	}
	a.Sling = s
	a.Cautions = append(a.Cautions, SlingCautions()...)
	return problems
}

func halfOf(legs int) float64 {
	if legs > 2 {
		return 0.5
	}
	return 0
}

// propose gives four picks on the two long sides of the highest level rectangle, as far out on either side of the centre of
// mass as they go within the middle 60 % of the side.
func (a *Answer) propose(in Input) []Pick {
	best := -1
	for i, r := range in.Frame.Rects {
		if math.Abs(r.N.Z) > 0.99 && (best < 0 || r.Corner.Z > in.Frame.Rects[best].Corner.Z) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	r := in.Frame.Rects[best]
	sides := r.Sides[:2]
	if r.WidthMM > r.LengthMM {
		sides = r.Sides[2:]
	}
	var out []Pick
	for _, i := range sides {
		m := &in.Frame.Members[i]
		from, to := m.Tips()
		c, _, _ := m.Local(a.Centre)
		c -= from
		l := to - from
		out1, out2 := c-0.3*l, c+0.3*l
		out1, out2 = math.Max(out1, 0.05*l), math.Min(out2, 0.95*l)
		for _, at := range []float64{out1, out2} {
			s := spot.Spot{Member: i, AtMM: at, Given: true}
			out = append(out, Pick{Name: m.Name + "@" + in.Job.Tape.Print(measure.FromMM(at)), At: in.Names.Point(s)})
		}
	}
	return out
}

// ByJack is a lift of one end while the other stands.
type ByJack struct {
	RaiseMM     float64
	TiltDeg     float64
	JackN       float64 // under the end that goes up, all its jacks together
	StandsN     float64 // on the feet that stay
	TipDeg      float64 // tilt at which the centre of mass passes over the standing feet
	SideTipDeg  float64 // the same sideways
	SlideDeg    float64 // tilt at which the standing feet slide
	Tips, Slips bool
}

func (a *Answer) byJack(in Input) []text.Problem {
	l := &in.Job.Lift
	var problems []text.Problem
	feet := a.feet(in)
	long, _ := a.longAxis(in)
	side := func(v space.Vec) float64 { return v.X + v.Y - long(v) }
	var lifted []space.Vec
	for _, n := range l.Jack {
		got, p := in.Names.Find(n)
		if p != nil {
			problems = append(problems, *p)
			continue
		}
		for _, q := range got {
			if !q.Given {
				q.AtMM, _ = in.Names.LowEnd(q.Member)
			}
			lifted = append(lifted, in.Names.Point(q))
		}
	}
	if len(problems) > 0 {
		return problems
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	sLo, sHi := math.Inf(1), math.Inf(-1)
	for _, p := range feet {
		lo, hi = math.Min(lo, long(p)), math.Max(hi, long(p))
		sLo, sHi = math.Min(sLo, side(p)), math.Max(sHi, side(p))
	}
	jack := hi
	if len(lifted) > 0 {
		jack = 0
		for _, p := range lifted {
			jack += long(p) / float64(len(lifted))
		}
	}
	stands := lo
	if math.Abs(jack-lo) < math.Abs(jack-hi) {
		stands = hi
	}
	base := math.Abs(jack - stands)
	if base < 1 {
		return append(problems, l.Problem(text.Error, text.CodeValue, "the jack stands where the frame stands; name members at one end: jack = [\"lower.leg1\", \"lower.leg2\"]"))
	}
	x := math.Abs(long(a.Centre) - stands)
	h := a.Centre.Z - in.Mass.Whole.Bounds.Lo.Z
	j := &ByJack{RaiseMM: l.Raise.MM()}
	j.TiltDeg = math.Asin(math.Min(1, j.RaiseMM/base)) * 180 / math.Pi
	geometry := figure.Source{Kind: figure.Geometry, Text: "moments about the feet that stand"}
	w := figure.In("W", "weight as lifted", a.MassKG*measure.Gravity, "N", "mass.whole")
	X, H, L := figure.In("x", "centre of mass from the standing feet", x, "mm", ""), figure.In("h", "centre of mass over the ground", h, "mm", ""), figure.In("L", "standing feet to jack", base, "mm", "")
	first := figure.New("lift.jack", "on the jack as it leaves the ground", "N", "W*x/L", geometry, w, X, L)
	tip := figure.New("lift.tip", "tilt at which it would topple over its standing feet", "deg", "atan2(x, h)", geometry, X, H)
	slide := figure.New("lift.slide", "tilt at which its standing feet may slide", "deg", "atan(u)", figure.Source{Kind: figure.Handbook, Text: "friction: a foot slides where the slope passes the coefficient"}, figure.In("u", "friction", l.Grip, "", "[lift] grip"))
	edge := math.Min(math.Abs(side(a.Centre)-sLo), math.Abs(sHi-side(a.Centre)))
	sideTip := figure.New("lift.sideways", "lean sideways at which it topples", "deg", "atan2(s, h)", geometry, figure.In("s", "centre of mass from the nearer row of feet", edge, "mm", ""), H)
	j.JackN, j.StandsN = first.Value, w.Value-first.Value
	j.TipDeg, j.SlideDeg, j.SideTipDeg = tip.Value, slide.Value, sideTip.Value
	// Half of either limit is kept in hand.
	j.Tips, j.Slips = j.TiltDeg > j.TipDeg/2, j.TiltDeg > j.SlideDeg/2
	a.Figures = append(a.Figures, first, tip, slide, sideTip)
	if j.Tips {
		problems = append(problems, l.Problem(text.Warning, "lift-tips", fmt.Sprintf("raised by %s one end tilts the frame %.0f degrees; at %.0f it topples: raise it less, in steps on cribbing, or lift it whole", in.Job.Tape.Print(l.Raise), j.TiltDeg, j.TipDeg)))
	}
	if j.Slips {
		problems = append(problems, l.Problem(text.Warning, "lift-slides", fmt.Sprintf("raised by %s one end tilts the frame %.0f degrees; its feet may slide at %.0f: chock them", in.Job.Tape.Print(l.Raise), j.TiltDeg, j.SlideDeg)))
	}
	a.Jack = j
	a.Cautions = append(a.Cautions, "one end at a time: chock the standing feet, a safety strap from the frame to something that holds, cribbing under the raised end at every step; nobody under it, ever on the jack alone")
	return problems
}

// Stand is what one leg carries of the weight as the frame stands on level feet.
type Stand struct {
	Name string
	At   space.Vec
	N    float64 // negative: it would tip off that leg
}

func (a *Answer) stands(in Input) {
	var pts []space.Vec
	var names []string
	for i := range in.Frame.Members {
		if in.Frame.Members[i].Role == frame.Leg {
			at, _ := in.Names.LowEnd(i)
			pts = append(pts, in.Names.Point(spot.Spot{Member: i, AtMM: at}))
			names = append(names, in.Frame.Members[i].Name)
		}
	}
	if len(pts) < 2 {
		return
	}
	shares, ok := mass.Shares(a.MassKG, a.Centre, pts)
	if !ok {
		return
	}
	for i, s := range shares {
		a.Stands = append(a.Stands, Stand{names[i], s.At, s.N})
	}
}

// feet gives the points that the frame stands on: its legs' feet, or the corners of its box.
func (a *Answer) feet(in Input) (out []space.Vec) {
	for i := range in.Frame.Members {
		if in.Frame.Members[i].Role == frame.Leg {
			at, _ := in.Names.LowEnd(i)
			out = append(out, in.Names.Point(spot.Spot{Member: i, AtMM: at}))
		}
	}
	if len(out) < 2 {
		b := in.Mass.Whole.Bounds
		for _, x := range []float64{b.Lo.X, b.Hi.X} {
			for _, y := range []float64{b.Lo.Y, b.Hi.Y} {
				out = append(out, space.Vec{X: x, Y: y, Z: b.Lo.Z})
			}
		}
	}
	return out
}
