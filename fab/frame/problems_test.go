package frame_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/text"
)

// Tables of jobs that are wrong in one thing.
const (
	barsOn   = "[[crossbars]]\non = \"f\"\nsection = \"rail\"\n"
	memberM  = "[[member]]\nname = \"m\"\nsection = \"rail\"\n"
	across   = memberM + "from = \"f.x1@20in\"\nto = \"f.x2@20in\"\n"
	rectG    = "[[rectangle]]\nname = \"g\"\nsection = \"rail\"\n"
	above    = rectG + "length = \"60in\"\nwidth = \"30in\"\nabove = \"f\"\nclear = \"20in\"\n"
	standing = rectG + "length = 30\nwidth = 20\nplane = \"xz\"\nat = [0, 0, 40]\n"
	postsFG  = "[[posts]]\nfrom = \"f\"\nto = \"g\"\nsection = \"rail\"\n"
	legsF    = "[[legs]]\nunder = \"f\"\nsection = \"rail\"\n"
	roundG   = "[section.pipe]\nshape = \"round-tube\"\nsize = \"2 x 11ga\"\n[[rectangle]]\nname = \"g\"\nsection = \"pipe\"\nlength = 60\nwidth = 30\nat = [0, 0, 40]\n"
	plateP   = "[[plate]]\nname = \"p\"\nsize = \"4 x 4 x 1/4\"\n"
)

// wrong is every fault that the geometry tells: what is told, how gravely, and the key that it names.
var wrong = []struct {
	name, toml, code string
	severity         text.Severity
	key, says        string
}{
	{"too many bars", barsOn + "count = 40", frame.CodeNoRoom, text.Error, "crossbars.count", "give fewer"},
	{"too narrow a gap", barsOn + "gap = \"1/64in\"", frame.CodeNoRoom, text.Error, "crossbars.gap", "do not fit"},
	{"bars overlap by spacing", barsOn + "spacing = \"1in\"", frame.CodeNoRoom, text.Error, "crossbars.spacing", "overlap"},
	{"bar outside", barsOn + "at = [\"59-1/2in\"]", frame.CodeNoRoom, text.Error, "crossbars.at", "give centres from"},
	{"bars in one another", barsOn + "at = [\"20in\", \"21in\"]", frame.CodeClash, text.Error, "crossbars.at", "f.bar2 runs through f.bar1"},
	{"bar in a side", barsOn + "at = [\"1in\"]", frame.CodeClash, text.Error, "crossbars.at", "f.bar1 runs through"},
	{"bars beside the frame", barsOn + "count = 2\noffset = \"3in\"", frame.CodeNoRoom, text.Error, "crossbars.offset", "beside"},
	{"bars cross", barsOn + "count = 2\n" + barsOn + "count = 1\nrun = \"length\"", frame.CodeClash, text.Error, "crossbars[2].count", "f.bar3 runs through f.bar1 and f.bar2"},
	{"all taken off", barsOn + "count = 1\nfit = \"40in\"", frame.CodeNoRoom, text.Error, "crossbars.fit", "take less"},
	{"no bar needed", barsOn + "spacing = \"100in\"", frame.CodeNoBars, text.Warning, "crossbars.spacing", "give less"},
	{"loose end", memberM + "from = \"f.x1@20in\"\nto = [20, 20, 40]", frame.CodeNothing, text.Warning, "member.to", "second end of m"},
	{"post over nothing", above + postsFG + "at = [[\"30in\", \"15in\"]]", frame.CodeNothing, text.Warning, "posts.at", "first end of f.post1"},
	{"clash", memberM + "from = [30, -10, 1]\nto = [30, 40, 1]\nends = [\"free\", \"free\"]", frame.CodeClash, text.Error, "member.from", "m runs through f.x1 and f.x2"},
	{"hole off the end", across + "holes = [ {at = \"28in\", size = \"1/2\"} ]", frame.CodeHole, text.Error, "member.holes", "give its centre from"},
	{"hole under a neighbour", across + "holes = [ {at = \"5in\", size = \"1/2\"} ]\n[[member]]\nname = \"n\"\nsection = \"rail\"\nfrom = \"m@5in\"\nto = \"f.y2\"", frame.CodeHole, text.Warning, "member[1].holes",
		"lies under n"},
	{"hole too wide", across + "holes = [ {at = \"5in\", face = \"width\", size = \"1-1/4\"} ]", frame.CodeHole, text.Warning, "member.holes", "wider than the flat"},
	{"hole that comes out under a neighbour", across + "holes = [ {at = \"5in\", size = \"1/2\", through = true} ]\n[[member]]\nname = \"n\"\nsection = \"rail\"\nfrom = \"m@5in\"\nto = \"f.y1\"", frame.CodeHole, text.Warning, "member[1].holes", "on its far side, lies under"},
	{"hole in the cut", memberM + "from = [0, 0, 50]\nto = [30, 0, 80]\nends = [\"level\", \"free\"]\nholes = [ {at = \"1/2\", size = \"1/2\"} ]", frame.CodeHole, text.Warning, "member.holes", "opens into nothing"},
	{"level along", across + "ends = [\"level\", \"auto\"]", frame.CodeCut, text.Error, "member.ends", "use plumb"},
	{"plumb along", memberM + "from = [20, 20, 2.5]\nto = [20, 20, 40]\nends = [\"auto\", \"plumb\"]", frame.CodeCut, text.Error, "member.ends", "use level"},
	{"no mitre", across + "ends = [\"mitre\", \"auto\"]", frame.CodeCut, text.Error, "member.ends", "no other member's end"},
	{"no point", memberM + "from = [20, 20, 20]\nto = [20, 20, 40]\nends = [\"point\", \"free\"]", frame.CodeCut, text.Error, "member.ends", "a point needs two"},
	{"no cope", across + "ends = [\"cope\", \"auto\"]", frame.CodeCut, text.Error, "member.ends", "a cope fits into"},
	{"no plane between", memberM + "from = [0, 0, 50]\nto = [30, 0, 50]\nends = [\"free\", \"mitre\"]\n[[member]]\nname = \"n\"\nsection = \"rail\"\nfrom = [10, 0, 50]\nto = [30, 0, 50]\nends = [\"free\", \"mitre\"]",
		frame.CodeCut, text.Error, "member[1].to", "run the same way"},
	{"faces differ", "[section.thin]\nshape = \"rect-tube\"\nsize = \"1 x 1 x 14ga\"\n[[member]]\nname = \"m\"\nsection = \"thin\"\nfrom = [0, 0, 50]\nto = [30, 0, 50]\nends = [\"free\", \"mitre\"]\n" +
		"[[member]]\nname = \"n\"\nsection = \"rail\"\nfrom = [30, 0, 50]\nto = [30, 40, 50]\nends = [\"mitre\", \"free\"]", frame.CodeFaces, text.Warning, "member[2].section", "faces do not match"},
	{"nothing left", "[section.strip]\nshape = \"flat\"\nsize = \"1 x 1/8\"\n[[member]]\nname = \"m\"\nsection = \"strip\"\nfrom = [0, 0, 50]\nto = [0.05, 0, 50]\nends = [\"free\", \"free\"]", frame.CodeNoRoom, text.Error, "member.ends",
		"nothing is left of m"},
	{"joint nowhere", "[[joint]]\nbetween = [\"f.x1\", \"f.x2\"]\ngap = \"1/8\"", frame.CodeNothing, text.Warning, "joint.between", "do not touch"},
	{"a circle of places", memberM + "from = \"n\"\nto = [0, 0, 9]\n[[member]]\nname = \"n\"\nsection = \"rail\"\nfrom = \"m\"\nto = [0, 9, 9]", text.CodeConflict, text.Error, "member[1].from", "m hangs on"},
	{"no length", memberM + "from = [1, 1, 9]\nto = [1, 1, 9.01]", text.CodeValue, text.Error, "member.to", "begins and ends at one place"},
	{"nobody there", memberM + "from = [1, 1, 9]\nto = \"f.bar7\"", text.CodeName, text.Error, "member.to", "there is no member \"f.bar7\""},
	{"beyond the first end", memberM + "from = \"f.x1@999in\"\nto = [1, 1, 9]", frame.CodeNoRoom, text.Error, "member.from", "beyond its end"},
	{"beyond the second end", memberM + "from = [1, 1, 9]\nto = \"f.x1@999in\"", frame.CodeNoRoom, text.Error, "member.to", "beyond its end"},
	{"a plate on nobody", plateP + "at = [\"f.bar7\"]", text.CodeName, text.Error, "plate.at", "there is no member \"f.bar7\""},
	{"a plate nowhere", plateP + "at = [\"f.x1@soon\"]", text.CodeValue, text.Error, "plate.at", "f.x1@soon"},
	{"a plate beyond", plateP + "at = [\"f.x1@999in\"]", frame.CodeNoRoom, text.Error, "plate.at", "give a place on it"},
	{"cope of tube", rectG + "length = 30\nwidth = 20\nat = [0, 0, 40]\ncorner = \"cope\"", frame.CodeShape, text.Error, "rectangle[2].corner", "cope"},
	{"narrow rectangle", rectG + "length = 30\nwidth = 3\nat = [0, 0, 40]", frame.CodeNoRoom, text.Error, "rectangle[2].width", "nothing is left"},
	{"short rectangle", rectG + "length = 3\nwidth = 30\nat = [0, 0, 40]", frame.CodeNoRoom, text.Error, "rectangle[2].length", "nothing is left"},
	{"no posts", rectG + "length = 30\nwidth = 20\nat = [0, 0, 40]\ncorner = \"posts\"", text.CodeMissing, text.Error, "rectangle[2].corner", "[[posts]]"},
	{"posts on a standing frame", standing + postsFG, frame.CodeShape, text.Error, "posts.to", "stand on rectangles that lie flat"},
	{"legs under a standing frame", standing + "[[legs]]\nunder = \"g\"\nsection = \"rail\"\nlength = \"20in\"", frame.CodeShape, text.Error, "legs.under", "stand on rectangles that lie flat"},
	{"posts without height", rectG + "length = 60\nwidth = 30\nat = [0, 0, 2]\n" + postsFG, frame.CodeNoRoom, text.Error, "posts.to", "no height is left"},
	{"posts too thick", "[section.big]\nshape = \"square-tube\"\nsize = \"16 x 11ga\"\n" + above + "[[posts]]\nfrom = \"f\"\nto = \"g\"\nsection = \"big\"", frame.CodeNoRoom, text.Error, "posts.section", "overlap at the corners"},
	{"two posts at one place", above + postsFG + "at = [[4, 4], [4, 4]]", text.CodeDuplicate, text.Error, "posts.at", "two uprights stand at the same place"},
	{"posts over the radius", above + postsFG, frame.CodeRadius, text.Warning, "posts.inset", "over the corner radius"},
	{"posts through the sides", above + postsFG + "per_side = 3\nthrough = true", frame.CodeClash, text.Error, "posts.per_side", "give at = \"corners\" here"},
	{"post beside a round side", roundG + "[[posts]]\nfrom = \"f\"\nto = \"g\"\nsection = \"rail\"\nat = [[4, 4]]", frame.CodeShape, text.Error, "posts.at", "does not stand over the middle"},
	{"points on one place", legsF + "surface = \"s\"\n[surface.s]\npoints = [[0, 10, -20], [10, 10, -20], [20, 10, -20]]", frame.CodeSurface, text.Error, "surface.s.points", "do not fix"},
	{"a slip of the tape", legsF + "surface = \"s\"\n[surface.s]\npoints = [[0, -20], [5, -20.1], [10, -20], [15, -18], [20, -20.1], [25, -20], [30, -20]]", frame.CodeSurface, text.Warning, "surface.s.points", "measure it again"},
	{"no clearance", legsF + "surface = \"s\"\nclear = \"8in\"\n[surface.s]\nlevel = \"-4in\"", frame.CodeSurface, text.Error, "legs.clear", "not the 8\" asked for"},
	{"a leg beyond the points", legsF + "surface = \"s\"\n[surface.s]\npoints = [[5, -20], [10, -19.9], [15, -19.8], [20, -19.9]]", frame.CodeSurface, text.Warning, "legs.surface", "beyond what surface"},
	{"a leg without length", legsF + "surface = \"s\"\n[surface.s]\nlevel = \"1in\"", frame.CodeNoRoom, text.Error, "legs.surface", "has no length"},
}

// TestProblems: each fault is told once, names the line on which the key at fault stands (its table's, where the key is to
// be added), and the key itself. The text of every fault that the package can tell occurs.
func TestProblems(t *testing.T) {
	formats := formatsOf(t)
	for _, c := range wrong {
		_, problems := build(t, base60+c.toml)
		n := 0
		for _, p := range problems {
			for f := range formats {
				if formats[f].MatchString(p.Message) {
					delete(formats, f)
				}
			}
			if p.Code == c.code && p.Severity == c.severity && strings.Contains(p.Message, c.says) {
				if n++; n > 1 {
					continue
				}
				if want := lineOf(base60+c.toml, c.key); p.File != "test.toml" || p.Line != want || p.Key != strings.Replace(c.key, "[1]", "", 1) && p.Key != c.key {
					t.Errorf("%s: told at %s, not at line %d, %s", c.name, p, want, c.key)
				}
			}
		}
		if n == 0 {
			t.Errorf("%s: not told: %v", c.name, problems)
		}
	}
	// The reader lets these through in no job; one that is made by other means may still be so.
	delete(formats, "per_side counts the corners too: at least 2")
	for _, c := range []struct {
		toml, key, says string
		spoil           func(*job.Job)
	}{
		{memberM + "from = [0, 0, 50]\nto = [9, 0, 50]\n[[member]]\nname = \"n\"\nsection = \"rail\"\nfrom = [0, 0, 70]\nto = [9, 0, 70]\n", "member[2].name", "two members are called \"m\", which the [[member]] in line 11 made",
			func(j *job.Job) { j.Members[1].Name = "m" }},
		{above, "rectangle[2].above", "\"g\" stands above itself", func(j *job.Job) { j.Rectangles[1].Above = "g" }},
	} {
		j := frametest.Read(t, base60+c.toml)
		c.spoil(j)
		_, problems := frame.Build(j, frametest.Sections(t, j))
		told := false
		for _, p := range problems {
			hit := strings.Contains(p.Message, c.says)
			told = told || hit
			if hit && (p.Key != c.key || p.Line != lineOf(base60+c.toml, c.key)) {
				t.Errorf("%s, not at %s", p, c.key)
			}
			for f := range formats {
				if formats[f].MatchString(p.Message) {
					delete(formats, f)
				}
			}
		}
		if !told {
			t.Errorf("%s: not told: %v", c.says, problems)
		}
	}
	for f := range formats {
		t.Errorf("no case tells %q", f)
	}
}

// lineOf finds the line on which a key of a table stands, "rectangle[2].width"; that of the table's head where it is not
// given.
func lineOf(toml, key string) int {
	i := strings.LastIndexByte(key, '.')
	table, name := key[:i], key[i+1:]
	nth := 1
	if base, rest, ok := strings.Cut(table, "["); ok {
		table = base
		nth, _ = strconv.Atoi(strings.TrimSuffix(rest, "]"))
	}
	head, seen, in := 0, 0, false
	for n, l := range strings.Split(toml, "\n") {
		if strings.HasPrefix(l, "[") {
			in = strings.Trim(l, "[]") == table
			if in {
				seen++
				in = seen == nth
			}
			if in {
				head = n + 1
			}
		}
		if in && strings.HasPrefix(l, name+" =") {
			return n + 1
		}
	}
	return head
}

// formatsOf gives the texts of the problems that the package's code can tell, as patterns.
func formatsOf(t *testing.T) map[string]*regexp.Regexp {
	out := map[string]*regexp.Regexp{}
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	verb := regexp.MustCompile(`%[^a-z%]*[a-z]|%%`)
	for _, file := range files {
		if !strings.HasSuffix(file.Name(), ".go") || strings.HasSuffix(file.Name(), "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), file.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			name := fmt.Sprint(call.Fun)
			if s, ok := call.Fun.(*ast.SelectorExpr); ok {
				name = s.Sel.Name
			}
			at := map[string]int{"problem": 3, "fail": 0}
			k, ok := at[name]
			if !ok || k >= len(call.Args) {
				return true
			}
			lit, ok := call.Args[k].(*ast.BasicLit)
			if !ok {
				return true
			}
			f, _ := strconv.Unquote(lit.Value)
			if strings.HasPrefix(f, "%s, %s end: ") {
				return true // what `fail` puts round the others
			}
			parts := verb.Split(f, -1)
			for i := range parts {
				parts[i] = regexp.QuoteMeta(parts[i])
			}
			out[f] = regexp.MustCompile("(?s)" + strings.Join(parts, ".*"))
			return true
		})
	}
	if len(out) < 40 {
		t.Errorf("only %d texts found", len(out))
	}
	return out
}
