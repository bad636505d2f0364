package seam

import (
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
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

func TestDump(t *testing.T) {
	j := frametest.Read(t, rack)
	f, problems := frame.Build(j, frametest.Sections(t, j))
	for _, p := range problems {
		t.Log(p.Message)
	}
	l, ps := Find(f, j, j.Welder)
	for _, p := range ps {
		t.Log(p.Message)
	}
	for _, x := range l.Joints {
		t.Logf("%s %v %s tacks %d", x.ID, x.Members, x.Kind, x.Tacks)
		for _, k := range x.Seams {
			s := l.Seams[k]
			t.Logf("   %s %s %.1f mm %s d=%.0f leg %.2f out %.2f,%.2f,%.2f stage %d tight %q", s.ID, s.Type, s.LengthMM, s.Position, s.DihedralDeg, s.LegMM, s.Out.X, s.Out.Y, s.Out.Z, s.Stage, s.Tight)
		}
	}
	for _, s := range l.Stages {
		t.Logf("%+v", s)
	}
}
