package frame_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/text"
)

// TestWildJobs: whatever sizes and places a readable job has, the frame comes to an end without a panic, and what has no
// error has pieces of some length.
func TestWildJobs(t *testing.T) {
	sections := []string{"shape = \"rect-tube\"\nsize = \"60 x 40 x 3\"", "shape = \"round-tube\"\nsize = \"48 x 3\"", "shape = \"angle\"\nsize = \"50 x 40 x 5\"",
		"shape = \"channel\"\nsize = \"80 x 45 x 6\"", "shape = \"flat\"\nsize = \"200 x 1\"", "shape = \"square-bar\"\nsize = \"0.5\""}
	sound, read := 0, 0
	unread := map[string]int{}
	rapid.Check(t, func(r *rapid.T) {
		n := 0
		length := func() string {
			n++
			v := rapid.SampledFrom([]float64{0.001, 20, 40, 80, 100, 333.3, 500, 800, 1000, 2500, 100000, 5e6}).Draw(r, fmt.Sprint("v", n))
			return fmt.Sprint(v)
		}
		coordinate := func() string {
			if rapid.IntRange(0, 2).Draw(r, fmt.Sprint("sign", n)) == 0 {
				return "-" + length()
			}
			return rapid.SampledFrom([]string{"0", length()}).Draw(r, fmt.Sprint("c", n))
		}
		one := func(words ...string) string {
			n++
			return rapid.SampledFrom(words).Draw(r, fmt.Sprint("w", n))
		}
		toml := "units = \"mm\"\ntape = \"1mm\"\n"
		for _, s := range []string{"a", "b"} {
			toml += fmt.Sprintf("[section.%s]\n%s\n", s, one(sections...))
		}
		toml += fmt.Sprintf("[[rectangle]]\nname = \"p\"\nsection = \"a\"\nlength = %s\nwidth = %s\nplane = %q\ncorner = %q\nheel = %q\nsizes = %q\nat = [%s, %s, %s]\nstand = %q\n", length(), length(),
			one("xy", "xy", "xz", "yz"), one("mitre", "mitre", "butt-long", "butt-short", "cope", "posts"), one("out-bottom", "out-top", "in-bottom", "in-top"), one("outside", "inside"),
			coordinate(), coordinate(), coordinate(), one("edge", "flat"))
		maybe := func(s string) string { return one("", s) }
		toml += fmt.Sprintf("[[rectangle]]\nname = \"q\"\nsection = %q\nlength = %s\nwidth = %s\nabove = \"p\"\nclear = %s\n", one("a", "b"), length(), length(), length())
		toml += maybe(fmt.Sprintf("[[crossbars]]\non = %q\nsection = %q\n%s = %s\nrun = %q\nstand = %q\nset = %q\noffset = %s\nfit = %s\n", one("p", "q"), one("a", "b"), one("spacing", "gap"), length(),
			one("width", "length"), one("edge", "flat"), one("bottom", "centre", "top"), coordinate(), length()))
		toml += maybe(fmt.Sprintf("[[posts]]\nfrom = \"p\"\nto = \"q\"\nsection = \"b\"\nthrough = %s\n%s\ninset = %s\n", one("true", "false"), one("at = \"corners\"", "at = \"inside-corners\"", "per_side = 3", "at = [[30, 30]]"), length()))
		toml += maybe(fmt.Sprintf("[[legs]]\nunder = \"p\"\nsection = \"b\"\nsurface = \"g\"\n%s\n", one("", "clear = 100", "clear = 0.5")))
		toml += "[surface.g]\n" + one("chord = 1000\nrise = 400", "chord = 1000\nrise = 1\nslope = \"1:3\"", "level = -300", "points = [[0, 0], [1, 1], [1000, -500]]",
			"smooth = \"spline\"\npoints = [[0, 0], [1, 1], [2, -1], [1000, -500], [1100, 3]]", "points = [[0, 0, 0], [0, 100, 1], [0, 200, -1], [500, 0, 4]]") + "\n"
		for i := range rapid.IntRange(0, 3).Draw(r, "members") {
			from, to := fmt.Sprintf("[%s, %s, %s]", coordinate(), coordinate(), coordinate()), one("\"p.x1\"", "\"q.y2@100mm\"", "[0, 0, 0.5]", "\"p.post1\"", "\"p.bar1\"")
			toml += fmt.Sprintf("[[member]]\nname = \"m%d\"\nsection = %q\nfrom = %s\nto = %s\nroll = %d\nends = [%q, %q]\n", i, one("a", "b"), from, to, rapid.IntRange(-360, 360).Draw(r, fmt.Sprint("roll", i)),
				one("auto", "square", "mitre", "butt", "point", "cope", "level", "plumb", "free"), one("auto", "square", "butt", "point", "cope", "level", "plumb"))
		}
		j, problems := job.Read("wild.toml", []byte(toml))
		if text.HasErrors(problems) {
			unread[problems[0].Message]++
			return
		}
		read++
		f, problems := frame.Build(&j, frametest.Sections(t, &j))
		if text.HasErrors(problems) {
			return
		}
		sound++
		ps, _ := piece.Gather(f, &j)
		for _, p := range ps {
			if p.Length <= 0 || p.Qty <= 0 || len(p.Lays) == 0 || !(p.MassKG > 0) {
				r.Fatalf("%+v", p)
			}
		}
	})
	t.Logf("%d read, %d sound %v", read, sound, unread)
}
