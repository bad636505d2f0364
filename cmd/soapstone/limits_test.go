package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// try runs a command as the shell would, with a home of its own.
func try(t *testing.T, home string, args ...string) (status int, out, told string) {
	t.Helper()
	var o, e bytes.Buffer
	status = run(t.Context(), args, shell{strings.NewReader(""), &o, &e, func(k string) string {
		if k == "HOME" {
			return home
		}
		return ""
	}})
	return status, o.String(), e.String()
}

const limitRail = "[section.rail]\nshape = \"rect-tube\"\nsize = \"2 x 1 x 14ga\"\nsticks = [{length = \"20ft\", price = 1}]\n"

// TestLimits crosses every limit that somebody may meet at the commands, and reads the message: where, what, and how much
// would be right. What lies deeper is crossed in its own package; DEVELOPERS.md has them all in a table.
func TestLimits(t *testing.T) {
	many := strings.Repeat
	each := func(n int, format string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format, i)
		}
		return b.String()
	}
	piece := func(rest string) string { return limitRail + "[[piece]]\nsection = \"rail\"\n" + rest }
	home := t.TempDir()
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for _, c := range []struct {
		why, text string
		status    int
		want      string
	}{
		{"file", many("#", 1<<20+1), 3, "it has 1048577 bytes, the limit is 1048576"},
		{"nesting of lists", "a = " + many("[", 13) + many("]", 13), 1, "lists and tables more than 12 deep"},
		{"nesting of tables", many("a.", 12) + "a = 1", 1, "tables more than 12 deep"},
		{"keys and values", "a = [" + many("1,", 100_001) + "]", 1, "more than 100000 keys and values; split the job"},
		{"length of a key", many("k", 81) + " = 1", 1, "a name longer than 80 characters"},
		{"length of a path", "[" + many(many("k", 60)+".", 4) + "k.k.k.k.k.k.k]", 1, "longer than 256 characters together"},
		{"length of a text", `title = "` + many("x", 2001) + `"`, 1, "title: the text is longer than 2000 characters"},
		{"problems told", each(60, "k%d = 1\n"), 1, "more like these"},
		{"tables of a kind", limitRail + many("[[piece]]\nsection = \"rail\"\nlength = \"1in\"\n", 2001), 1, "piece[2001]: more than 2000 of these tables; split the job"},
		{"sections", each(2001, "[section.s%d]\nshape = \"flat\"\nsize = \"1 x 1/4\"\n"), 1, "more than 2000 sections; split the job"},
		{"surfaces", limitRail + each(2001, "[surface.s%d]\nlevel = \"1in\"\n"), 1, "more than 2000 surfaces; split the job"},
		{"quantity", piece("length = \"1in\"\nqty = 10001"), 1, "piece.qty: 10001 cannot be; write a whole number from 1 to 10000"},
		{"pieces of a job", limitRail + many("[[piece]]\nsection = \"rail\"\nlength = \"1in\"\nqty = 9000\n", 3), 1, "the job makes 27000 pieces; more than 20000 are not planned at once: split the job"},
		{"crossbars", limitRail + "[[rectangle]]\nname = \"a\"\nsection = \"rail\"\nlength = \"96in\"\nwidth = \"48in\"\n[[crossbars]]\non = \"a\"\nsection = \"rail\"\ncount = 501", 1, "crossbars.count: 501 cannot be; write a whole number from 1 to 500"},
		{"points of a surface", limitRail + "[surface.s]\npoints = [" + each(2001, "[%d, 0],") + "]", 1, "the list holds 2001, and 3 to 2000 belong here"},
		{"holes of a member", limitRail + "[[member]]\nname = \"m\"\nsection = \"rail\"\nfrom = [0, 0, 0]\nto = [48, 0, 0]\nholes = [" + many(`{at = "3in", face = "depth", size = "1/4"},`, 2001) + "]", 1, "the list holds 2001, and 0 to 2000 belong here"},
		{"name of a member", limitRail + "[[rectangle]]\nname = \"" + many("x", 81) + "\"\nsection = \"rail\"\nlength = 9\nwidth = 9", 1, "at most 80 characters long"},
		{"a length", piece(`length = "1e9"`), 1, `"1e9" is no length: longer than 10 km`},
		{"digits", piece(`length = "` + many("1", 60) + `"`), 1, "more digits than any measure has"},
		{"exponent", piece("length = 1e308"), 1, "1e308 is no length: its exponent is out of range"},
		{"denormal", piece("length = 5e-324"), 1, "5e-324 is no length: its exponent is out of range"},
		{"not a number", piece("length = nan"), 1, "nan is no length"},
		{"infinite", piece("length = inf"), 1, "inf is no length"},
		{"infinite the other way", piece("length = -inf"), 1, "-inf is no length"},
		{"integer overflow", piece("length = \"1in\"\nqty = 99999999999999999999"), 1, "the number 99999999999999999999 is too large"},
		{"money", limitRail + "[[item]]\nname = \"x\"\nqty = 1\nprice = 1e12", 1, "price: 1e12 is no money: more than a job can cost"},
		{"side of a section", "[section.rail]\nshape = \"flat\"\nsize = \"100in x 1/4\"", 1, "100in is more than 2 m"},
		{"name of a supplier", "[section.rail]\nshape = \"flat\"\nsize = \"1 x 1/4\"\nsticks = [{length = \"20ft\", price = 1, supplier = \"" + many("x", 201) + "\"}]", 1, "supplier: a supplier's name is at most 200 bytes long"},
		{"sizes of can", limitRail + "[paint.primer]\nsolids = 50\ncans = [" + many("{size = \"1l\"},", 13) + "]", 1, "more than 12 sizes of can"},
		{"film of paint", limitRail + "[paint.primer]\nfilm = \"2.1mm\"", 1, "thicker than 2 mm; a dry film is a few mils"},
		{"loss of paint", limitRail + "[paint.primer]\nloss = \"96%\"", 1, "a loss of more than 95% lays nothing on"},
		{"thinner", limitRail + "[paint.primer]\nthin = \"101%\"", 1, "more thinner than paint"},
		{"coats", limitRail + "[paint.primer]\ncoats = 11", 1, "11 cannot be; write a whole number from 0 to 10"},
		{"amps of a welder", limitRail + "[welder]\nprocess = \"FCAW-S\"\namps = 2001\nduty = [[2500, 20]]", 1, "more than 2000 A; no shop's machine gives that"},
		{"allowance of work", limitRail + "[labour]\nrate = 1\nallow = \"501%\"", 1, "more than five times the work itself"},
		{"currency", "currency = \"" + many("$", 13) + "\"\n" + limitRail, 1, "a currency is a short sign, such as USD"},
	} {
		status, _, told := try(t, home, "check", write("job.toml", c.text))
		if status != c.status || !strings.Contains(told, c.want) {
			t.Errorf("%s: exit %d, want %d and %q:\n%.600s", c.why, status, c.status, c.want, told)
		}
	}
	for _, c := range []struct {
		why, text string
		args      []string
		status    int
		want      string
	}{
		{"a line", "1@" + many("1", 4100), nil, 1, "line 1: longer than 4096 characters"},
		{"lines", many("1@1in\n", 20_001), nil, 1, "line 20001: a list holds at most 20000 pieces of different kinds"},
		{"a quantity", "1000001@1in", nil, 1, "the quantity must be a whole number from 1 to 1000000"},
		{"all quantities", "600000@1in\n500000@2in\n", nil, 2, "more than 1000000 pieces"},
		{"file", many("#", 16<<20+1), nil, 3, "the limit is 16777216"},
		{"kinds of stick", "1@1in", strings.Fields(many("--stick 20ft ", 1001)), 2, "more than 1000 kinds of stick"},
		{"an end", "1@10in:89.5/0", nil, 1, "an end must be less than 89 degrees from square"},
		{"an end that no saw cuts", "1@100in:88/0", []string{"--depth", "2in"}, 1, "steeper than 87 degrees from square"},
	} {
		status, _, told := try(t, home, append([]string{"nest", "--stick", "20ft", "--list", write("list.txt", c.text)}, c.args...)...)
		if status != c.status || !strings.Contains(told, c.want) {
			t.Errorf("list, %s: exit %d, want %d and %q:\n%.600s", c.why, status, c.status, c.want, told)
		}
	}
	var o, e bytes.Buffer
	if status := run(t.Context(), []string{"nest", "--stick", "20ft", "--list", "-"}, shell{strings.NewReader(many("1@1in\n", (16<<20)/6+1)), &o, &e, os.Getenv}); status != 3 || !strings.Contains(e.String(), "the limit is 16777216") {
		t.Errorf("a list without end by the pipe: exit %d: %.600s", status, e.String())
	}
	for _, args := range [][]string{{"count=10001"}, {"most=0.001"}} {
		status, _, told := try(t, home, append([]string{"sum", "spacing", "length=93", "bar=0.0001"}, args...)...)
		if status != 1 || !strings.Contains(told, "more than 10000 bars") {
			t.Errorf("sum spacing %v: exit %d: %.600s", args, status, told)
		}
	}
	drops := func(text string) {
		path, err := dropsFile(shell{env: func(k string) string {
			if k == "HOME" {
				return home
			}
			return ""
		}})
		if err != nil {
			t.Fatal(err)
		}
		os.MkdirAll(filepath.Dir(path), 0o755)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	drop := "[[drop]]\nshape = \"flat\"\nsize = \"1 x 1/4\"\nlength = \"9in\"\n"
	for _, c := range []struct {
		why, text string
		args      []string
		status    int
		want      string
	}{
		{"drops read", many(drop, 5001), []string{"drops"}, 1, "more than 5000 drops"},
		{"drops added", many(drop, 5000), []string{"drops", "add", "flat", "1 x 1/4", "10in"}, 1, "the list holds 5000 drops, its limit"},
		{"more of one that is there", many(drop, 5000), []string{"drops", "add", "flat", "1 x 1/4", "9in"}, 0, ""},
		{"quantity", drop + "qty = 10001", []string{"drops"}, 1, "10001 cannot be; write a whole number from 1 to 10000"},
		{"note that fits", "", []string{"drops", "add", "flat", "1 x 1/4", "10in", "--note", many("½", 500)}, 0, ""},
		{"note", "", []string{"drops", "add", "flat", "1 x 1/4", "10in", "--note", many("x", 501)}, 1, "a note holds at most 500 characters"},
		{"file", many("#", 1<<20+1), []string{"drops"}, 3, "the limit is 1048576"},
	} {
		drops(c.text)
		status, _, told := try(t, home, c.args...)
		if status != c.status || !strings.Contains(told, c.want) {
			t.Errorf("drops, %s: exit %d, want %d and %q:\n%.600s", c.why, status, c.status, c.want, told)
		}
	}
	for _, c := range []struct {
		why, text string
		status    int
		want      string
	}{
		{"file", many("#", 1<<20+1), 3, "the limit is 1048576"},
		{"prices", many("[[goods]]\nname=\"n\"\nprice=1\ndate=2026-01-01\n", 20_001), 1, "more than 20000 prices; take the oldest out"},
		{"a word", "[[goods]]\nname = \"" + many("x", 121) + "\"\nkind = \"part\"\nprice = 1\ndate = \"2026-11-02\"", 1, "at most 120 characters"},
	} {
		status, _, told := try(t, home, "prices", "--prices", write("prices.toml", c.text))
		if status != c.status || !strings.Contains(told, c.want) {
			t.Errorf("prices, %s: exit %d, want %d and %q:\n%.600s", c.why, status, c.status, c.want, told)
		}
	}
}
