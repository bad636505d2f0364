package frame_test

import (
	"math"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

func built(t *testing.T, toml string) *frame.Frame {
	t.Helper()
	j := frametest.Read(t, toml)
	f, ps := frame.Build(j, frametest.Sections(t, j))
	for _, p := range ps {
		if p.Severity == text.Error {
			t.Fatal(p.Long())
		}
	}
	return f
}

// TestSkinOfACutBar: the skin of a prism between two planes is its perimeter times its length along the centre line.
func TestSkinOfACutBar(t *testing.T) {
	for _, section := range []string{"shape = \"square-tube\"\nsize = \"2 x 11ga\"", "shape = \"rect-tube\"\nsize = \"3 x 2 x 11ga\"", "shape = \"flat\"\nsize = \"2 x 1/4\"",
		"shape = \"angle\"\nsize = \"2 x 2 x 1/4\"", "shape = \"round-tube\"\nsize = \"1-1/2 x .120\""} {
		f := built(t, "units = \"in\"\n[section.a]\n"+section+"\n[[member]]\nname = \"m\"\nsection = \"a\"\nfrom = [0,0,0]\nto = [40,0,0]\nends = [\"square\",\"square\"]\n")
		m := &f.Members[0]
		want := m.Section.Properties(steel.Nominal).OutsideMM * 40 * 25.4
		got := m.Skin()
		if math.Abs(got.SideMM2-want) > 1e-6*want { // one product against a sum of facets
			t.Errorf("%s: skin %g, worked out %g", section, got.SideMM2, want)
		}
		// A round outline is cut into chords: a circle loses under 0.4 % of its area to 48 of them.
		if out := m.Section.OutlineMM2(); got.EndMM2[0] < out*(1-4e-3) || math.Abs(got.EndMM2[0]-got.EndMM2[1]) > 1e-6 {
			t.Errorf("%s: ends %v, outline %g", section, got.EndMM2, out)
		}
	}
}

// TestCoversOfATee: a tube standing on another covers its own outline on it, and has its end closed.
func TestCoversOfATee(t *testing.T) {
	f := built(t, `
units = "in"
[section.a]
shape = "square-tube"
size = "2 x 11ga"
[[member]]
name = "run"
section = "a"
from = [0,0,0]
to = [40,0,0]
ends = ["square","square"]
[[member]]
name = "stem"
section = "a"
from = [20,0,0]
to = [20,0,30]
ends = ["butt","square"]
`)
	c := f.Covers()
	want := 4 * 25.4 * 25.4
	if got := c[f.Index("run")].SideMM2; math.Abs(got-want) > 1e-6*want {
		t.Errorf("the run is covered by %g mm2, worked out %g", got, want)
	}
	if got := c[f.Index("stem")].EndMM2[0]; math.Abs(got-want) > 1e-6*want {
		t.Errorf("the stem's foot is covered by %g mm2, worked out %g", got, want)
	}
	if got := c[f.Index("stem")].EndMM2[1]; got != 0 {
		t.Errorf("the stem's head is covered by %g mm2", got)
	}
}
