package piece_test

import (
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/piece"
)

// TestSawProblems: what the saw cannot do, and pieces that cannot be, are told at the key that asks for it.
func TestSawProblems(t *testing.T) {
	base := rail + `
[saw]
swing = [0, 45]
capacity = "4 x 6"
grip = "3in"
`
	const rack = "[[rectangle]]\nname = \"f\"\nsection = \"rail\"\nlength = \"60in\"\nwidth = \"30in\"\n"
	for _, c := range []struct{ toml, code, key, says string }{
		{"[[piece]]\nsection = \"rail\"\nlength = \"20in\"\nends = [60, 0]", piece.CodeSwing, "piece.ends", "swing to 30.0"},
		{"[[piece]]\nsection = \"rail\"\nlength = \"20in\"\nends = [46, 0]", piece.CodeSwing, "piece.ends", "swing to 44.0"},
		{"[[piece]]\nsection = \"rail\"\nlength = \"2in\"", piece.CodeGrip, "piece.length", "2\" long"},
		{"[section.big]\nshape = \"rect-tube\"\nsize = \"5 x 3 x 11ga\"\n[[piece]]\nsection = \"big\"\nlength = \"20in\"\nends = [45, 0]", piece.CodeCapacity, "piece.section", "4-1/4\" wide"},
		{"[[piece]]\nsection = \"rail\"\nlength = \"3in\"\nends = [45, 45]", frame.CodeNoRoom, "piece.length", "at least 5\""},
		{"[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = [0, 0, 0]\nto = [30, 0, 10]\nends = [\"level\", \"free\"]", piece.CodeSwing, "member.ends", "past the saw's 45"},
		{"[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = [0, 0, 0]\nto = [0, 0, 2]\nends = [\"free\", \"free\"]", piece.CodeGrip, "member.to", "2\" long"},
		{"[[member]]\nname = \"m\"\nsection = \"rail\"\nroll = 20\nfrom = [0, 0, 0]\nto = [30, 0, 60]\nends = [\"level\", \"free\"]", piece.CodeCompound, "member.ends", "leans both ways"},
		{"[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = [0, 0, 0]\nto = [5, 0, 0.5]\nends = [\"level\", \"free\"]", frame.CodeNoRoom, "member.ends", "its two end cuts cross"},
		{rack + "[[crossbars]]\non = \"f\"\nsection = \"rail\"\ncount = 1\nfit = \"25in\"", piece.CodeGrip, "crossbars.on", "2\" long"},
		{rack + "[[legs]]\nunder = \"f\"\nsection = \"rail\"\nlength = \"2in\"", piece.CodeGrip, "legs.length", "2\" long"},
		{rack + "[[legs]]\nunder = \"f\"\nsection = \"rail\"\nsurface = \"s\"\n[surface.s]\nchord = 60\nrise = 4\ncentre = 15\ntop = -20\nslope = \"1:9\"", piece.CodeCompound, "legs.surface", "leans both ways"},
		{"[[piece]]\nsection = \"rail\"\nlength = \"20in\"\nends = [45, -45]", "", "", ""},
	} {
		j := frametest.Read(t, base+c.toml)
		f, _ := frame.Build(j, frametest.Sections(t, j))
		_, problems := piece.Gather(f, j)
		if c.code == "" {
			if len(problems) > 0 {
				t.Errorf("%s: %v", c.toml, problems)
			}
			continue
		}
		found := false
		for _, p := range problems {
			if p.Code != c.code || !strings.Contains(p.Message, c.says) {
				continue
			}
			found = true
			line := strings.Split(base+c.toml, "\n")[max(0, p.Line-1)]
			if p.Key != c.key || p.File != "test.toml" || !strings.HasPrefix(line, c.key[strings.LastIndexByte(c.key, '.')+1:]+" =") {
				t.Errorf("%s: not at %s: line %d is %q", p, c.key, p.Line, line)
			}
		}
		if !found {
			t.Errorf("%s: no %s saying %q: %v", c.toml, c.code, c.says, problems)
		}
	}
}
