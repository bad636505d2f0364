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
