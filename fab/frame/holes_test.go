package frame_test

import (
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
)

// TestHolesInWalls: a hole is told where a wall that it goes through is missing or stands under a neighbour, on the near
// side, the far one, or inside an angle's leg; and not where it is sound.
func TestHolesInWalls(t *testing.T) {
	const sections = `
units = "mm"
[section.s]
shape = "square-tube"
size = "40 x 3"
[section.r]
shape = "round-tube"
size = "38 x 3"
[section.a]
shape = "angle"
size = "50 x 30 x 4"
[section.f]
shape = "flat"
size = "40 x 6"
`
	member := func(name, section, from, to, more string) string {
		return "[[member]]\nname = \"" + name + "\"\nsection = \"" + section + "\"\nfrom = " + from + "\nto = " + to + "\n" + more + "\n"
	}
	alone := func(section, hole string) string {
		return member("m", section, "[0, 0, 0]", "[1000, 0, 0]", "ends = [\"free\", \"free\"]\nholes = [ {"+hole+"} ]")
	}
	// m runs along x, its width towards -y. Corners at its ends turn to +y, so that the tips lie at -y.
	cornered := func(hole string) string {
		return member("m", "s", "[0, 0, 0]", "[1000, 0, 0]", "holes = [ {"+hole+"} ]") + member("n", "s", "[1000, 0, 0]", "[1000, 500, 0]", "ends = [\"auto\", \"free\"]") + member("o", "s", "[0, 0, 0]", "[0, 500, 0]", "ends = [\"auto\", \"free\"]")
	}
	bar := func(section, to string) string {
		return member("n", section, "[500, 0, 0]", to, `ends = ["auto", "free"]`)
	}
	for _, c := range []struct{ name, toml, want string }{
		{"sound", alone("s", "at = 500, size = 10, through = true"), ""},
		{"sound in a round tube", alone("r", "at = 12, size = 10, through = true"), ""},
		{"over the end of an angle's width leg", alone("a", `at = 500, size = 32, face = "width"`), "wider than the flat of its face (30"},
		{"in an angle's depth leg", alone("a", "at = 500, size = 32"), ""},
		{"near the tip, in the long wall", cornered("at = 20, size = 8"), ""},
		{"near the tip, through both walls", cornered("at = 20, size = 8, through = true"), "on its far side, opens into nothing"},
		{"behind the cut, through both walls", cornered("at = 50, size = 8, through = true"), ""},
		{"a neighbour behind", alone("s", "at = 500, size = 8") + bar("s", "[500, 300, 0]"), ""},
		{"a neighbour behind, through both walls", alone("s", "at = 500, size = 8, through = true") + bar("s", "[500, 300, 0]"), "on its far side, lies under n"},
		{"a neighbour before", alone("s", "at = 500, size = 8") + bar("s", "[500, -300, 0]"), "lies under n"},
		{"a neighbour behind a flat", alone("f", "at = 500, size = 8") + bar("s", "[500, 300, 0]"), "on its far side, lies under n"},
		{"a neighbour inside an angle", alone("a", "at = 500, size = 8") + member("n", "f", "[500, 11, 5]", "[500, -300, 5]", `ends = ["square", "free"]`), "on the inside, lies under n"},
	} {
		j := frametest.Read(t, sections+c.toml)
		_, problems := frame.Build(j, frametest.Sections(t, j))
		var got []string
		for _, p := range problems {
			if p.Code == frame.CodeHole {
				got = append(got, p.Message)
			}
		}
		if all := strings.Join(got, "\n"); c.want == "" && all != "" || !strings.Contains(all, c.want) {
			t.Errorf("%s: %q, want %q", c.name, all, c.want)
		}
	}
}
