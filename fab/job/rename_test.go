package job

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const named = `[section.rail]   # the rails
shape = "flat"
size = "2 x 1/4"
[section."rail"."sticks"]
[[rectangle]]
name = "low"   # lowest
section = "rail"
length = 50
width = 40
[[rectangle]]
name = "lower"
section = 'rail'
length = 50
width = 40
above = "low"
clear = 9
[[member]]
name = "low brace"
section = "rail"
from = "low.x1@24in"
to = "lower.x1 @ 24in"
[[posts]]
from = "low"
to = "lower"
section = "rail"
[[plate]]
name = "low"
size = "4 x 4 x 1/4"
at = ["low corners", "low.x2", "low brace"]
[[joint]]
between = ["low.x1", "low brace"]
`

func TestRename(t *testing.T) {
	src := strings.Replace(named, "[section.\"rail\".\"sticks\"]\n", "", 1)
	for _, c := range []struct {
		table, old, new string
		from            []string // what changes, old and new by turns
	}{
		{"rectangle", "low", "base", []string{`"low"   # l`, `"base"   # l`, `above = "low"`, `above = "base"`, `from = "low.x1@24in"`, `from = "base.x1@24in"`,
			`from = "low"`, `from = "base"`, `"low corners", "low.x2"`, `"base corners", "base.x2"`, `["low.x1",`, `["base.x1",`}},
		{"member", "low brace", "strut", []string{`name = "low brace"`, `name = "strut"`, `"low brace"]`, `"strut"]`, `, "low brace"]`, `, "strut"]`}},
		{"section", "rail", "side", []string{"[section.rail]", "[section.side]", `section = "rail"`, `section = "side"`, `section = 'rail'`, `section = "side"`}},
		{"plate", "low", "foot", []string{"[[plate]]\nname = \"low\"", "[[plate]]\nname = \"foot\""}},
	} {
		want := strings.NewReplacer(c.from...).Replace(src)
		got, err := Rename(File{"job.toml", []byte(src)}, c.table, c.old, c.new)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, string(got)); diff != "" {
			t.Errorf("%s %s:\n%s", c.table, c.old, diff)
		}
		if _, ps := Read("job.toml", got); len(ps) > 0 {
			t.Errorf("%s %s: %s", c.table, c.old, lines(ps))
		}
		back, err := Rename(File{"job.toml", got}, c.table, c.new, c.old)
		if err != nil {
			t.Fatal(err)
		}
		if strings.ReplaceAll(string(back), "'", `"`) != strings.ReplaceAll(src, "'", `"`) {
			t.Errorf("%s %s there and back:\n%s", c.table, c.old, cmp.Diff(src, string(back)))
		}
	}
	for _, c := range [][3]string{{"rectangle", "low", "lower"}, {"rectangle", "nope", "x"}, {"rectangle", "low", "a.b"}, {"rectangle", "low", " "},
		{"section", "rial", "x"}, {"title", "a", "b"}, {"member", "low", "x"}} {
		if out, err := Rename(File{"job.toml", []byte(src)}, c[0], c[1], c[2]); err == nil {
			t.Errorf("%v: %s", c, out)
		}
	}
}

// placed names members, groups and places where only the built frame can look them up; "low", "low legs" and "lower" stand
// beside each other so that a part of a name is not taken for the name, and a rectangle, a plate and a mark share one.
const placed = `units = "in"
[section.rail]
shape = "flat"
size = "2 x 1/4"
[[rectangle]]
name = "low"
section = "rail"
length = 50
width = 40
[[rectangle]]
name = "lower"
section = "rail"
length = 50
width = 40
above = "low"
clear = 9
[[member]]
name = "low legs"   # a member that is called like a group
section = "rail"
from = "low.x1@24in"
to = "lower.x1@24in"
[[legs]]
under = "lower"
section = "rail"
length = 9
at = ["6in"]
[[plate]]
name = "low"
size = "4 x 4 x 1/4"
at = ["lower corners"]
[[plate]]
name = "foot"
size = "4 x 4 x 1/4"
at = ["low corners", "low.x1@3in", "low legs"]
[[load]]
on = ["low", "lower bars", "low sides", 'low.x2']
load = "30plf"
[[load]]
on = "low legs"     # the member
load = "150lb"
at = "6in"
[[support]]
at = ["low corners", "lower legs", "low.y1@ 3in", "low legs@2in"]
[[bolts]]
at = ["low", "foot", "low members"]   # the first is the plate
size = "3/8-16"
stack = ["1/4"]
[lift]
by = ["sling", "jack"]
picks = ["low.x1@24in", "lower.x2@24in"]
jack = ["low.y2", "low legs"]
[sequence]
stages = ["lower over", "low"]
joints = ["lower.x1 + low.post1", "J7.2", "low.x1 + low legs"]
`

func TestRenameFollowsPlaces(t *testing.T) {
	for _, c := range []struct {
		table, old, new string
		from            []string
	}{
		{"rectangle", "low", "base", []string{"[[rectangle]]\nname = \"low\"", "[[rectangle]]\nname = \"base\"", `above = "low"`, `above = "base"`,
			`from = "low.x1@24in"`, `from = "base.x1@24in"`, `at = ["low corners", "low.x1@3in", "low legs"]`, `at = ["base corners", "base.x1@3in", "low legs"]`,
			`on = ["low", "lower bars", "low sides", 'low.x2']`, `on = ["base", "lower bars", "base sides", "base.x2"]`,
			`at = ["low corners", "lower legs", "low.y1@ 3in", "low legs@2in"]`, `at = ["base corners", "lower legs", "base.y1@ 3in", "low legs@2in"]`,
			`"foot", "low members"]`, `"foot", "base members"]`, `picks = ["low.x1@24in"`, `picks = ["base.x1@24in"`, `jack = ["low.y2"`, `jack = ["base.y2"`,
			`["lower over", "low"]`, `["lower over", "base"]`, `"lower.x1 + low.post1"`, `"lower.x1 + base.post1"`, `"low.x1 + low legs"`, `"base.x1 + low legs"`}},
		{"rectangle", "lower", "upper", []string{`name = "lower"`, `name = "upper"`, `to = "lower.x1@24in"`, `to = "upper.x1@24in"`, `under = "lower"`, `under = "upper"`,
			`at = ["lower corners"]`, `at = ["upper corners"]`, `"lower bars"`, `"upper bars"`, `"lower legs"`, `"upper legs"`, `"lower.x2@24in"`, `"upper.x2@24in"`,
			`["lower over"`, `["upper over"`, `"lower.x1 + low`, `"upper.x1 + low`}},
		{"member", "low legs", "strut", []string{`name = "low legs"`, `name = "strut"`, `"low legs"]`, `"strut"]`, `on = "low legs"`, `on = "strut"`,
			`"low legs@2in"`, `"strut@2in"`, `+ low legs"`, `+ strut"`}},
		{"plate", "low", "cap", []string{"[[plate]]\nname = \"low\"", "[[plate]]\nname = \"cap\"", `at = ["low", "foot"`, `at = ["cap", "foot"`}},
		{"plate", "foot", "shoe", []string{`name = "foot"`, `name = "shoe"`, `"low", "foot"`, `"low", "shoe"`}},
	} {
		want := strings.NewReplacer(c.from...).Replace(placed)
		got, err := Rename(File{"job.toml", []byte(placed)}, c.table, c.old, c.new)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, string(got)); diff != "" {
			t.Errorf("%s %s:\n%s", c.table, c.old, diff)
		}
		back, err := Rename(File{"job.toml", got}, c.table, c.new, c.old)
		if err != nil {
			t.Fatal(err)
		}
		if strings.ReplaceAll(string(back), "'", `"`) != strings.ReplaceAll(placed, "'", `"`) {
			t.Errorf("%s %s there and back:\n%s", c.table, c.old, cmp.Diff(placed, string(back)))
		}
	}
}
