package plan

import (
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
)

// TestJointByMark: a joint between two marks is one between all their members that meet: the bars get shorter by the gap
// at both ends, and the seams follow.
func TestJointByMark(t *testing.T) {
	const welder = `
[welder]
process = "GMAW"
amps = 96
volts = 17.5
duty = "20% at 148A"
travel = "13ipm"
fillet = "1/8"
`
	plain := build(t, small+welder, nil)
	bar, side := "", ""
	for _, x := range plain.Pieces {
		switch x.Members[0] {
		case "base.bar1":
			bar = x.Mark
		case "base.x1":
			side = x.Mark
		}
	}
	joint := "[[joint]]\nbetween = [\"" + bar + "\", \"" + side + "\"]\n"
	p := build(t, small+welder+joint+"gap = \"1/16\"\nfillet = \"3/16\"\nsides = 2\n", nil)
	short := plain.Frame.LengthMM(plain.Frame.Index("base.bar2")) - p.Frame.LengthMM(p.Frame.Index("base.bar2"))
	if math.Abs(short-2*1.5875) > 1e-6 { // nanometres: all in whole ones
		t.Errorf("the bars are %v mm shorter, want 1/8 in", short)
	}
	bars, legs := 0, 0
	for _, j := range p.Weld.Layout.Joints {
		if !strings.HasPrefix(j.Members[1], "base.bar") && !strings.HasPrefix(j.Members[0], "base.bar") {
			continue
		}
		bars++
		if len(j.Seams) != 2 {
			t.Errorf("joint %v has %d seams, want 2", j.Members, len(j.Seams))
		}
		for _, k := range j.Seams {
			if math.Abs(p.Weld.Layout.Seams[k].LegMM-3*25.4/16) < 1e-9 {
				legs++
			}
		}
	}
	if bars != 6 || legs == 0 {
		t.Errorf("%d joints of bars, %d seams with the leg asked for", bars, legs)
	}
	for _, x := range p.Problems {
		t.Error(x)
	}
	for _, c := range []struct{ between, code string }{{`"` + bar + `", "QQ"`, "name"}, {`"` + bar + `", "` + bar + `"`, frame.CodeNothing}} {
		j := frametest.Read(t, small+welder+"[[joint]]\nbetween = ["+c.between+"]\n")
		p := Build(t.Context(), Input{Job: j, Steel: frametest.Catalogue(), Effort: -1})
		found := false
		for _, x := range p.Problems {
			found = found || strings.Contains(x.Code, c.code)
		}
		if !found {
			t.Errorf("%s: %v", c.between, p.Problems)
		}
	}
}
