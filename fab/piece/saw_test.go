package piece_test

import (
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/piece"
)

func TestSawProblems(t *testing.T) {
	base := rail + `
[saw]
swing = [0, 45]
capacity = "4 x 6"
grip = "3in"
`
	for _, c := range []struct{ toml, code, says string }{
		{"[[piece]]\nsection = \"rail\"\nlength = \"20in\"\nends = [60, 0]", piece.CodeSwing, "swing to 30.0"},
		{"[[piece]]\nsection = \"rail\"\nlength = \"20in\"\nends = [46, 0]", piece.CodeSwing, "swing to 44.0"},
		{"[[piece]]\nsection = \"rail\"\nlength = \"2in\"", piece.CodeGrip, "2\" long"},
		{"[section.big]\nshape = \"rect-tube\"\nsize = \"5 x 3 x 11ga\"\n[[piece]]\nsection = \"big\"\nlength = \"20in\"\nends = [45, 0]", piece.CodeCapacity, "4-1/4\" wide"},
		{"[[piece]]\nsection = \"rail\"\nlength = \"3in\"\nends = [45, 45]", frame.CodeNoRoom, "at least 5\""},
		{"[[piece]]\nsection = \"rail\"\nlength = \"20in\"\nends = [45, -45]", "", ""},
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
			found = found || p.Code == c.code && strings.Contains(p.Message, c.says)
			if p.Line == 0 {
				t.Errorf("%s: no line: %v", c.toml, p)
			}
		}
		if !found {
			t.Errorf("%s: no %s saying %q: %v", c.toml, c.code, c.says, problems)
		}
	}
}
