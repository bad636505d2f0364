package weld

import (
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/seam"
)

const rack = `
title = "Kayak rack"
units = "in"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
finish = "oiled"
sticks = [ {length = "20ft", price = 34.50} ]
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
corner = "mitre"
stand = "edge"
[[crossbars]]
on = "lower"
section = "rail"
count = 5
stand = "flat"
set = "bottom"
[welder]
process = "FCAW-S"
amps = 110
volts = 19
duty = "30% at 130A"
window = "10m"
wire = "0.030in"
travel = "9ipm"
fillet = "1/8"
`

func planOf(t testing.TB, toml string, chores ...Chore) *Plan {
	t.Helper()
	j := frametest.Read(t, toml)
	f, _ := frame.Build(j, frametest.Sections(t, j))
	l, _ := seam.Find(f, j, j.Welder)
	p, err := Make(Input{Layout: l, Welder: j.Welder, Chores: chores})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestRack(t *testing.T) {
	p := planOf(t, rack)
	if err := verify(&p.Docket, p.Schedule); err != nil {
		t.Fatal(err)
	}
	s := p.Schedule
	t.Logf("duty %.4f budget %v arc %v rest %v work %v elapsed %v bound %v unfilled %v proven %v (%s)", p.Duty.Value, p.Budget.Arc, s.ArcTime, s.RestSum, s.WorkSum, s.Elapsed, s.Bound, s.Unfilled, s.Proven, s.Why)
	t.Logf("wire %.3f kg metal %.3f buy %+v days %d", p.WireKG, p.MetalKG, p.Buy, len(p.Days))
	for _, e := range s.Entries {
		if e.Task >= 0 {
			t.Logf("%7.1f %7.1f %-5s %-4s %s %s", e.Start.Seconds(), e.End.Seconds(), e.Kind, e.Joint, p.Docket.Tasks[e.Task].ID, p.Docket.Tasks[e.Task].What)
		} else {
			t.Logf("%7.1f %7.1f %-5s", e.Start.Seconds(), e.End.Seconds(), e.Kind)
		}
	}
	for _, c := range p.Cautions {
		t.Log(c)
	}
}

func BenchmarkRack(b *testing.B) {
	p := planOf(b, rack)
	for b.Loop() {
		if _, err := p.Docket.Best(DefaultEffort); err != nil {
			b.Fatal(err)
		}
	}
}
