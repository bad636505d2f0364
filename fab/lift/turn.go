package lift

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/space"
)

// Turn is a turning over of the frame, or of a part of it, between two weld stages: a lift, too.
type Turn struct {
	Stage  int
	Name   string
	MassKG float64   // of what is in by then, weld metal left out
	Hands  int       // by the limit for each
	Centre space.Vec // of what is turned
	AboutN float64   // at the far edge as it starts to lift, turned about the long edge that is nearer to the centre of mass
	OffMM  float64   // how far the centre of mass lies off the middle along that edge, towards its greater end
	LongMM float64   // length of that edge
	Gear   bool      // more than four would have to hold it: a hoist, or a turning stand
}

// present tells whether a member is in when the turn that a stage begins with is made.
func present(in Input, si, member int) bool {
	st := in.Layout.Stages[si]
	m := &in.Frame.Members[member]
	if st.Group != "" && (m.Group != st.Group || m.Role != frame.Side && m.Role != frame.Bar) {
		return false
	}
	if member >= len(in.Layout.Bars) { // a layout that says nothing of members
		return true
	}
	b := in.Layout.Bars[member]
	return b.Body == st.Body && b.Stage < si
}

func (a *Answer) turns(in Input) {
	if in.Layout == nil {
		return
	}
	limit := in.Job.Lift.LimitKG
	if limit <= 0 {
		limit = 51 * measure.PoundKG
	}
	for si, st := range in.Layout.Stages {
		if !st.Turn {
			continue
		}
		t := Turn{Stage: si, Name: st.Name}
		box := space.EmptyBox()
		for i := range in.Frame.Members {
			if !present(in, si, i) {
				continue
			}
			m := &in.Frame.Members[i]
			kg := m.MassKG()
			t.MassKG += kg
			t.Centre = t.Centre.Along(m.Centre(), kg)
			for _, solid := range m.Solids() {
				box = box.Join(solid.Box())
			}
		}
		if t.MassKG == 0 {
			continue
		}
		t.Centre = t.Centre.Mul(1 / t.MassKG)
		// The plane that lies on the floor stands across the stage's up; the edge turned about runs along its longer side.
		long, wide := flatAxes(st, box)
		span := func(d space.Vec) (lo, hi float64) {
			lo, hi = box.Lo.Dot(d), box.Hi.Dot(d)
			return math.Min(lo, hi), math.Max(lo, hi)
		}
		lo, hi := span(wide)
		off := math.Min(t.Centre.Dot(wide)-lo, hi-t.Centre.Dot(wide))
		edge := figure.New(fmt.Sprintf("lift.edge%d", si+1), "held at the far edge as it starts to lift: "+st.Name, "kg", "m*d/b",
			figure.Source{Kind: figure.Geometry, Text: "moments about the long edge nearer to the centre of mass"},
			figure.In("m", "mass turned", t.MassKG, "kg", "mass of the members that are in"), figure.In("d", "centre of mass from that edge", off, "mm", "geometry"),
			figure.In("b", "between the two edges", hi-lo, "mm", "geometry"))
		hands := figure.New(fmt.Sprintf("lift.turn%d", si+1), "hands to turn: "+st.Name, "", "max(2, ceil(e/limit))",
			figure.Source{Kind: figure.Common, Text: "no one holds more than the limit; two people at least, one at each end"},
			edge.As("e"), figure.In("limit", "for each", limit, "kg", "[lift] limit"))
		t.Hands = int(hands.Value)
		t.AboutN = edge.Value * measure.Gravity
		lo, hi = span(long)
		t.LongMM, t.OffMM = hi-lo, t.Centre.Dot(long)-(lo+hi)/2
		t.Gear = t.Hands > 4
		a.Figures = append(a.Figures, edge, hands)
		a.Turns = append(a.Turns, t)
	}
	if len(a.Turns) > 0 {
		a.Cautions = append(a.Cautions, "every turn in the shop is a lift: let it cool, clear the floor, hands off edges just cut or welded, nobody under it nor on the side that it comes down on",
			"cribbing under every end that is jacked or set up, before a hand goes under; where slings turn it, pad every edge that they bear on; a rope from the far edge, so that it comes down slowly")
	}
}

// flatAxes gives the directions along and across the longer side of a part that lies flat in a stage.
func flatAxes(st seam.Stage, box space.Box) (long, wide space.Vec) {
	size := box.Hi.Sub(box.Lo)
	axes := []space.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	var level []space.Vec
	for _, e := range axes {
		if math.Abs(e.Dot(st.Up)) < 0.7 {
			level = append(level, e)
		}
	}
	if len(level) < 2 { // a stage that does not say which way is up
		level = axes[:2]
	}
	long, wide = level[0], level[1]
	if math.Abs(size.Dot(wide)) > math.Abs(size.Dot(long)) {
		long, wide = wide, long
	}
	return long, wide
}

// Balance words where the centre of mass lies along the edge.
func (t Turn) Balance(tape measure.Tape) string {
	end := "greater"
	if t.OffMM < 0 {
		end = "lesser"
	}
	if math.Abs(t.OffMM) < t.LongMM/200 {
		return "in the middle"
	}
	return tape.Print(measure.FromMM(math.Abs(t.OffMM))) + " off the middle towards the " + end + " coordinates"
}
