package weld

import (
	"fmt"
	"math"
	"slices"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/space"
)

// How seams bow what they are laid on.
//
// A seam that cools is a small bolt drawn tight: it shortens the steel by a volume V (mm3) at its place. Off the neutral
// axis by d it kinks the member, or the sub-frame whose members lie side by side, by V d / I; a kink at x of a length L
// lifts the middle by the kink times half the way to the nearer end. Along the seam V = 0.04 A L, which over a whole member
// is the published bow 0.005 A d L^2 / I (a curvature of 0.04 A d / I); across it V is the transverse shrinkage of a butt,
// 0.2 A / t, times the wall times the seam's length, of which a fillet gives half to either part.
//
// What the seams of a stage leave in the end is the same in every order. But what is laid while the frame is held by tacks
// alone pulls freely, and passes on both sides of the neutral axis undo each other's bow: so the order is chosen to keep the
// bow all the way near the share of its end that is due, rather than far to one side and back.
const (
	alongShare  = 0.04
	acrossShare = 0.2
)

// Axes of the frame, and for each the two directions in which what lies along it bows.
var (
	axes   = [3]space.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	across = [6][2]int{{0, 1}, {0, 2}, {1, 0}, {1, 2}, {2, 0}, {2, 1}} // along, towards
)

// Bend is what a pass adds to the bow at mid-length, mm, for each of across: positive towards the axis.
type Bend [6]float64

func (b Bend) plus(c Bend) Bend {
	for i := range b {
		b[i] += c[i]
	}
	return b
}

func (b Bend) times(k float64) Bend {
	for i := range b {
		b[i] *= k
	}
	return b
}

// size is the length of the bow, all directions together, mm.
func (b Bend) size() float64 {
	var s float64
	for _, v := range b {
		s += v * v
	}
	return math.Sqrt(s)
}

// girder is the members of a stage that lie along one axis, taken together as one beam.
type girder struct {
	area   float64
	centre space.Vec
	i      [3]float64 // second moment for a bow towards each axis
	lo, hi float64    // ends along its axis
}

// alongside is the least cosine of the angle to an axis at which a member is counted as lying along it.
const alongside = 0.7

// girders gives the three girders of a stage; area 0 where nothing lies along the axis.
func girders(l *seam.Layout, stage int) (out [3]girder) {
	for a, e := range axes {
		g := &out[a]
		g.lo, g.hi = math.Inf(1), math.Inf(-1)
		var in []int
		for m, b := range l.Bars {
			if b.AreaMM2 > 0 && b.In(l, stage) && math.Abs(b.Axis.Dot(e)) > alongside {
				in = append(in, m)
				g.area += b.AreaMM2
				g.centre = g.centre.Along(b.Centre, b.AreaMM2)
				half := b.LengthMM / 2 * math.Abs(b.Axis.Dot(e))
				g.lo, g.hi = math.Min(g.lo, b.Centre.Dot(e)-half), math.Max(g.hi, b.Centre.Dot(e)+half)
			}
		}
		if g.area == 0 {
			continue
		}
		g.centre = g.centre.Mul(1 / g.area)
		for _, m := range in {
			b := l.Bars[m]
			for t, d := range axes {
				depth, width := b.Depth.Dot(d), b.Width.Dot(d)
				off := b.Centre.Sub(g.centre).Dot(d)
				g.i[t] += b.IDepthMM4*depth*depth + b.IWidthMM4*width*width + b.AreaMM2*off*off
			}
		}
	}
	return out
}

// bends works out what each seam adds to the bow of its stage's frame; sway is the same less the seam's share, by its arc, of
// the bow that the stage ends with.
func (p *Plan) bends() (out, sway []Bend) {
	l := &p.Layout
	out, sway = make([]Bend, len(l.Seams)), make([]Bend, len(l.Seams))
	for i := range l.Stages {
		g := girders(l, i)
		var end Bend
		var arc float64
		for _, k := range l.Stages[i].Seams {
			if p.Seams[k].Arc > 0 {
				out[k] = p.bendOf(k, g)
				end, arc = end.plus(out[k]), arc+p.Seams[k].Arc.Seconds()
			}
		}
		for _, k := range l.Stages[i].Seams {
			if x := p.Seams[k].Arc.Seconds(); x > 0 {
				sway[k] = out[k].plus(end.times(-x / arc))
			}
		}
	}
	return out, sway
}

func (p *Plan) bendOf(k int, girders [3]girder) (out Bend) {
	s := &p.Layout.Seams[k]
	u := s.To.Sub(s.From).Unit()
	along := alongShare * p.Seams[k].AreaMM2 * s.WeldMM
	crosswise := acrossShare * p.Seams[k].AreaMM2 * s.WeldMM
	if s.Type != seam.SquareGroove && s.Type != seam.Bevel {
		crosswise /= 2
	}
	for n, c := range across {
		e, to := axes[c[0]], axes[c[1]]
		g := girders[c[0]]
		if g.area == 0 || g.i[c[1]] <= 0 || g.hi <= g.lo {
			continue
		}
		var v float64
		for _, m := range s.Members {
			b := p.Layout.Bars[m]
			if math.Abs(b.Axis.Dot(e)) <= alongside {
				continue
			}
			cos := u.Dot(b.Axis)
			v = math.Max(v, along*cos*cos+crosswise*(1-cos*cos))
		}
		d := s.Middle().Sub(g.centre).Dot(to)
		half := math.Abs(s.To.Sub(s.From).Dot(e)) / 2
		x := s.Middle().Dot(e) - g.lo
		out[n] = -v * d / g.i[c[1]] * lever(x-half, x+half, g.hi-g.lo)
	}
	return out
}

// lever gives how far the middle of a length l rises for a kink of 1 spread evenly from a to b: half the way from the kink
// to the nearer end.
func lever(a, b, l float64) float64 {
	area := func(x float64) float64 { // integral of min(x, l-x)/2 from 0
		x = math.Min(math.Max(x, 0), l)
		if x <= l/2 {
			return x * x / 4
		}
		return l*l/8 - (l-x)*(l-x)/4
	}
	if b-a < 1e-6*l {
		x := math.Min(math.Max(a, 0), l)
		return math.Min(x, l-x) / 2
	}
	return (area(b) - area(a)) / (b - a)
}

// StageBow is the bow that the seams of one stage are expected to leave, and how far it strays from that on the way, mm at
// mid-length. With
// clamps, tacks and the frame's own stiffness real ones differ by half or more either way.
type StageBow struct {
	Stage  int
	End    Bend    // when all its seams are laid, in whatever order
	EndMM  float64 // its greatest part,
	Along  string  // of what lies along x, y or z,
	Way    string  // towards +x, -x ...
	Sway   float64 // how far it strays from the share of that which is due, at most, in the planned order
	Plain  float64 // and if joint after joint were finished
	PreSet string  // "" where none is worth while
}

// worthSetting is the bow (mm) from which a pre-set is proposed: what a straightedge shows.
const worthSetting = 0.8

// bows gives the bow of every stage with seams.
func (p *Plan) bows() []StageBow {
	var out []StageBow
	for i := range p.Layout.Stages {
		x := StageBow{Stage: i}
		for _, k := range p.Layout.Stages[i].Seams {
			x.End = x.End.plus(p.bend[k])
		}
		var state Bend
		for _, e := range p.Schedule.Entries {
			if e.Kind == Arc && p.Docket.Tasks[e.Task].Stage == i {
				state = state.plus(p.Docket.Tasks[e.Task].Bend)
				x.Sway = math.Max(x.Sway, state.size())
			}
		}
		var plain Bend
		for _, j := range p.Layout.Joints {
			for _, k := range j.Seams {
				if s := p.Layout.Seams[k]; s.Stage == i && s.Skipped == "" && p.Seams[k].Arc > 0 {
					plain = plain.plus(p.sway[k])
					x.Plain = math.Max(x.Plain, plain.size())
				}
			}
		}
		n := 0
		for k, v := range x.End {
			if math.Abs(v) > math.Abs(x.End[n]) {
				n = k
			}
		}
		x.EndMM = math.Abs(x.End[n])
		x.Along = string("xyz"[across[n][0]])
		sign := "+"
		if x.End[n] < 0 {
			sign = "-"
		}
		x.Way = sign + string("xyz"[across[n][1]])
		if x.EndMM >= worthSetting {
			opposite := map[string]string{"+": "-", "-": "+"}[sign] + x.Way[1:]
			x.PreSet = fmt.Sprintf("%s: lying free, what lies along %s would bow by up to about %s towards %s at the middle; clamped flat until it is cold expect half of that or less. Measure the first with a string; a pre-set of %s towards %s, packed under the clamps, is a start (rule of thumb)",
				p.Layout.Stages[i].Name, x.Along, p.near(x.EndMM), x.Way, p.near(x.EndMM/2), opposite)
		}
		out = append(out, x)
	}
	return out
}

// BowFigures gives the figures of the greatest bow of each stage: its end is the sum over the seams, told by the seam that
// adds most.
func (p *Plan) BowFigures() []figure.Figure {
	var out []figure.Figure
	src := figure.Source{Kind: figure.Handbook, Text: "shrinkage volume off the neutral axis: across the seam 0.2 A L (Procedure Handbook of Arc Welding: S = 0.2 A/t), along it 0.04 A L, as the bow 0.005 A d L^2 / I of Blodgett, Design of Welded Structures 7.7 (from memory)"}
	for _, b := range p.Pull.Bows {
		n := slices.IndexFunc(across[:], func(c [2]int) bool { return string("xyz"[c[0]]) == b.Along && string("xyz"[c[1]]) == b.Way[1:] })
		var up, down float64
		for _, k := range p.Layout.Stages[b.Stage].Seams {
			if v := p.bend[k][n]; v > 0 {
				up += v
			} else {
				down -= v
			}
		}
		key := "weld.bow." + fmt.Sprint(b.Stage+1)
		out = append(out,
			figure.New(key, "bow left when the stage is welded", "mm", "abs(u - d)", src,
				figure.In("u", "seams on the one side of the neutral axis", up, "mm", "sum of V d / I times the lever"),
				figure.In("d", "seams on the other side", down, "mm", "the same")).Without("clamps, tacks, stiffness of joints: half of it either way"),
			figure.New(key+".order", "how much nearer to an even pull it stays than if joint after joint were finished", "mm", "p - w", src,
				figure.In("p", "greatest stray on the way, joint after joint", b.Plain, "mm", "joints in their order"),
				figure.In("w", "greatest stray on the way in the planned order", b.Sway, "mm", "schedule")))
	}
	return out
}
