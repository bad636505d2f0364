package frame_test

import (
	"testing"

	"bench.example/soapstone/fab/frame"
)

const base60 = rail + `
[[rectangle]]
name = "f"
section = "rail"
length = "60in"
width = "30in"
`

// TestGap: a root gap shortens the piece that is cut last, and mitred sides by half each.
func TestGap(t *testing.T) {
	f := sound(t, base60+`
[[crossbars]]
on = "f"
section = "rail"
count = 1
fit = "1/16"
[[joint]]
between = ["f.bar1", "f.x1"]
gap = "1/8"
`)
	if got := f.Length(f.Index("f.bar1")); got != inches(27-1.0/16-1.0/8) {
		t.Errorf("%v", got)
	}
	for _, j := range f.Joints {
		if j.Spec != nil && (j.Kind != frame.Tee || j.GapMM < 25.4*(1.0/8+1.0/32)-1e-9) {
			t.Error(j.Kind, j.GapMM)
		}
	}
	if len(f.Joints) != 6 {
		t.Errorf("%d joints", len(f.Joints))
	}
	f = sound(t, base60+"[[joint]]\nbetween = [\"f.x1\", \"f.y1\"]\ngap = \"1/16\"")
	if got := f.LengthMM(f.Index("f.x1")) / 25.4; got > 60-0.04 || got < 60-0.05 { // sqrt(2)/32
		t.Error(got)
	}
	if len(f.Joints) != 4 {
		t.Errorf("%d joints", len(f.Joints))
	}
}
