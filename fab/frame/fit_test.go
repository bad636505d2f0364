package frame_test

import (
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/text"
)

const base60 = rail + `
[[rectangle]]
name = "f"
section = "rail"
length = "60in"
width = "30in"
`

// TestDoesItFit checks what is found out before steel is bought: each case must be told once, at its table's line.
func TestDoesItFit(t *testing.T) {
	for _, c := range []struct {
		name, toml, code string
		severity         text.Severity
		line             int
		says             string
	}{
		{"narrow frame", "[[crossbars]]\non = \"f\"\nsection = \"rail\"\ncount = 40", frame.CodeNoRoom, text.Error, 11, "do not fit"},
		{"bars overlap by spacing", "[[crossbars]]\non = \"f\"\nsection = \"rail\"\nspacing = \"1in\"", frame.CodeNoRoom, text.Error, 11, "overlap"},
		{"bar outside", "[[crossbars]]\non = \"f\"\nsection = \"rail\"\nat = [\"59-1/2in\"]", frame.CodeNoRoom, text.Error, 11, "outside"},
		{"bars in one another", "[[crossbars]]\non = \"f\"\nsection = \"rail\"\nat = [\"20in\", \"21in\"]", frame.CodeClash, text.Error, 11, "f.bar2 runs through f.bar1"},
		{"bar in a side", "[[crossbars]]\non = \"f\"\nsection = \"rail\"\nat = [\"1in\"]", frame.CodeClash, text.Error, 11, "f.bar1 runs through"},
		{"bars beside the frame", "[[crossbars]]\non = \"f\"\nsection = \"rail\"\ncount = 2\noffset = \"3in\"", frame.CodeNoRoom, text.Error, 11, "beside"},
		{"bars cross", "[[crossbars]]\non = \"f\"\nsection = \"rail\"\ncount = 2\n[[crossbars]]\non = \"f\"\nsection = \"rail\"\ncount = 1\nrun = \"length\"", frame.CodeClash, text.Error, 15,
			"f.bar3 runs through f.bar1 and f.bar2"},
		{"loose end", "[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = \"f.x1@20in\"\nto = [20, 20, 40]", frame.CodeNothing, text.Warning, 11, "second end of m"},
		{"clash", "[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = [30, -10, 1]\nto = [30, 40, 1]\nends = [\"free\", \"free\"]", frame.CodeClash, text.Error, 11, "m runs through f.x1 and f.x2"},
		{"hole off the end", "[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = \"f.x1@20in\"\nto = \"f.x2@20in\"\nholes = [ {at = \"28in\", size = \"1/2\"} ]", frame.CodeHole, text.Error, 11, "runs out"},
		{"hole under a neighbour", "[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = \"f.x1@20in\"\nto = \"f.x2@20in\"\nholes = [ {at = \"5in\", size = \"1/2\"} ]\n" +
			"[[member]]\nname = \"n\"\nsection = \"rail\"\nfrom = \"m@5in\"\nto = \"f.y2\"", frame.CodeHole, text.Warning, 11, "lies under n"},
		{"hole too wide", "[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = \"f.x1@20in\"\nto = \"f.x2@20in\"\nholes = [ {at = \"5in\", face = \"width\", size = \"1-1/4\"} ]", frame.CodeHole,
			text.Warning, 11, "wider than the flat"},
		{"level along", "[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = \"f.x1@20in\"\nto = \"f.x2@20in\"\nends = [\"level\", \"auto\"]", frame.CodeCut, text.Error, 11, "use plumb"},
		{"plumb along", "[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = [20, 20, 2.5]\nto = [20, 20, 40]\nends = [\"auto\", \"plumb\"]", frame.CodeCut, text.Error, 11, "use level"},
		{"no mitre", "[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = \"f.x1@20in\"\nto = \"f.x2@20in\"\nends = [\"mitre\", \"auto\"]", frame.CodeCut, text.Error, 11, "no other member's end"},
		{"joint nowhere", "[[joint]]\nbetween = [\"f.x1\", \"f.x2\"]\ngap = \"1/8\"", frame.CodeNothing, text.Warning, 11, "do not touch"},
		{"cope of tube", "[[rectangle]]\nname = \"g\"\nsection = \"rail\"\nlength = 30\nwidth = 20\nat = [0, 0, 40]\ncorner = \"cope\"", frame.CodeShape, text.Error, 11, "cope"},
		{"narrow rectangle", "[[rectangle]]\nname = \"g\"\nsection = \"rail\"\nlength = 30\nwidth = 3\nat = [0, 0, 40]", frame.CodeNoRoom, text.Error, 11, "nothing is left"},
		{"no posts", "[[rectangle]]\nname = \"g\"\nsection = \"rail\"\nlength = 30\nwidth = 20\nat = [0, 0, 40]\ncorner = \"posts\"", text.CodeMissing, text.Error, 11, "[[posts]]"},
	} {
		_, problems := build(t, base60+c.toml)
		n := 0
		for _, p := range problems {
			if p.Code == c.code && p.Severity == c.severity && strings.Contains(p.Message, c.says) {
				n++
				if p.Line != c.line {
					t.Errorf("%s: line %d, not %d: %s", c.name, p.Line, c.line, p)
				}
			}
		}
		if n != 1 {
			t.Errorf("%s: told %d times: %v", c.name, n, problems)
		}
	}
}

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

// What the geometry refuses names the key that asks for it, on its table's line.
func TestProblemsNameTheKey(t *testing.T) {
	const bars = "[[crossbars]]\non = \"f\"\nsection = \"rail\"\n"
	for want, toml := range map[string]string{
		"crossbars.count":     bars + "count = 40",
		"crossbars.gap":       bars + "gap = \"1/64in\"",
		"crossbars.spacing":   bars + "spacing = \"1in\"",
		"crossbars.at":        bars + "at = [\"59-1/2in\"]",
		"rectangle[2].width":  "[[rectangle]]\nname = \"g\"\nsection = \"rail\"\nlength = 30\nwidth = 3\nat = [0, 0, 40]",
		"rectangle[2].length": "[[rectangle]]\nname = \"g\"\nsection = \"rail\"\nlength = 3\nwidth = 30\nat = [0, 0, 40]",
		"member.from":         "[[member]]\nname = \"b\"\nsection = \"rail\"\nfrom = \"f.x1@999in\"\nto = [1, 1, 9]",
		"member.to":           "[[member]]\nname = \"b\"\nsection = \"rail\"\nfrom = [1, 1, 9]\nto = \"f.x1@999in\"",
	} {
		found := false
		_, problems := build(t, base60+toml)
		for _, p := range problems {
			found = found || p.Key == want && p.Line == 11 && p.Severity == text.Error
		}
		if !found {
			t.Errorf("%s: %v", want, problems)
		}
	}
}
