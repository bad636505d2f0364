package main

import (
	"bytes"
	"compress/zlib"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/record"
)

// nasty are texts that somebody may have put into a job to get at the terminal, the printer or the spreadsheet of whoever
// opens it: each a thing that must not come out as it went in. They are written as TOML escapes.
var nasty = []struct{ why, toml string }{
	{"escape sequence", `\u001b[2J\u001b]0;owned\u0007red`},
	{"C1 control", `a\u009b31mb\u0085c`},
	{"bidi marks", `A\u202eB\u2066C\u2069\u200f`},
	{"combining letters", `e` + strings.Repeat(`\u0301`, 300)},
	{"wide letters", `舟庫舟庫舟庫`},
	{"line ends", `one\ntwo\r\nthree\u2028four`},
	{"markup", `<script>alert(1)</script>&\"'`},
	{"formula", `=1+1`},
	{"formula behind a blank", ` @SUM(A1)`},
	{"backspaces", `good\b\b\b\bevil`},
	{"zero width", `a\u200bb\ufeffc\u2060d`},
	{"private and unassigned", `\ue000\U000e0041\ufffe`},
	{"a way out of the folder", `../../../outside`},
}

func nastyJob(text string) string {
	return fmt.Sprintf(`title = "%[1]s"
currency = "USD"
[section."%[2]s"]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
sticks = [ {length = "20ft", price = 31.20, supplier = "%[1]s"} ]
[[rectangle]]
name = "base"
section = "%[2]s"
length = "61in"
width = "33in"
[[piece]]
mark = "T"
section = "%[2]s"
length = "20in"
[[plate]]
name = "foot"
size = "4 x 4 x 1/4"
qty = 2
[[item]]
name = "%[1]s"
qty = 2
mass = "3lb"
price = 14.00
[welder]
process = "GMAW"
amps = 96
volts = 17.5
duty = "20%% at 148A"
travel = "13ipm"
fillet = "1/8"
`, text, text)
}

// unsafe gives the first letter that must not reach a terminal or a page.
func unsafe(s string) string {
	if !utf8.ValidString(s) {
		return "bytes that are no letters"
	}
	marks := 0
	for i, r := range s {
		switch {
		case r == '\n' || r == '\t':
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), r == '\u2028', r == '\u2029', unicode.Is(unicode.Co, r):
			return fmt.Sprintf("%U at %d: %.60q", r, i, s[max(0, i-20):])
		}
		if unicode.Is(unicode.Mn, r) {
			if marks++; marks > 8 {
				return fmt.Sprintf("a heap of combining marks at %d", i)
			}
		} else {
			marks = 0
		}
	}
	return ""
}

// TestOutputsAreCleaned runs names that are meant to do harm through every command that prints them.
func TestOutputsAreCleaned(t *testing.T) {
	for _, c := range nasty {
		t.Run(c.why, func(t *testing.T) {
			home, dir := t.TempDir(), filepath.Join(t.TempDir(), "in")
			os.Mkdir(dir, 0o755)
			name := filepath.Join(dir, "job.toml")
			job := nastyJob(c.toml)
			os.WriteFile(name, []byte(job), 0o644)
			if s, _, told := try(t, home, "check", name); s != 0 {
				if bad := unsafe(told); bad != "" {
					t.Errorf("what check says: %s", bad)
				}
				// Such a name is refused; the title may still be so.
				title, rest, _ := strings.Cut(job, "\n")
				job = title + "\n" + strings.ReplaceAll(rest, `"`+c.toml+`"`, `"rail"`)
				os.WriteFile(name, []byte(job), 0o644)
				if s, _, told := try(t, home, "check", name); s != 0 {
					t.Fatalf("check: exit %d\n%s", s, told)
				}
			}
			writeNastyRecord(t, filepath.Join(dir, "job.record"))
			for _, args := range [][]string{{"plan", name}, {"log", name}, {"explain", name}, {"check", name}, {"explain", name, "no " + unquote(c.toml)},
				{"nest", "--stick", "20ft", "1@" + unquote(c.toml)}, {"drops", "add", unquote(c.toml), "1 x 1/4", "9in"},
				{"drops", "add", "flat", "1 x 1/4", "9in", "--note", unquote(c.toml)}, {"drops"}, {"sum", unquote(c.toml)}, {unquote(c.toml)},
				{"prices", "put", "flat", "1 x 1/4", "20ft", "30", "--supplier", unquote(c.toml)}, {"prices"}} {
				_, out, told := try(t, home, args...)
				if bad := unsafe(out); bad != "" {
					t.Errorf("%.40q prints %s", args, bad)
				}
				if bad := unsafe(told); bad != "" {
					t.Errorf("%.40q says %s", args, bad)
				}
			}
			_, out, _ := try(t, home, "plan", "--json", name)
			var doc any
			if err := json.Unmarshal([]byte(out), &doc); err != nil {
				t.Errorf("the JSON does not read: %v", err)
			}
			if i := strings.IndexFunc(out, func(r rune) bool { return r < ' ' && r != '\n' }); i >= 0 {
				t.Errorf("the JSON holds a control character at %d", i)
			}
			for _, kind := range []string{"txt", "csv", "html", "svg", "pdf"} {
				path := filepath.Join(dir, "out."+kind)
				if s, _, told := try(t, home, "sheet", name, "-o", path); s == 2 && kind == "pdf" {
					os.WriteFile(path, nil, 0o644) // this build writes none
				} else if s != 0 {
					t.Errorf("sheet %s: exit %d\n%s", kind, s, told)
					continue
				}
				data, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				lookAtSheet(t, kind, data)
			}
			// Nothing was written anywhere but where it was asked for.
			var names []string
			for _, d := range []string{filepath.Dir(dir), dir} {
				list, _ := os.ReadDir(d)
				for _, e := range list {
					names = append(names, e.Name())
				}
			}
			slices.Sort(names)
			if got := strings.Join(names, " "); got != "in job.record job.toml out.csv out.html out.pdf out.svg out.txt" {
				t.Errorf("files: %s", got)
			}
		})
	}
}

// unquote gives the text that the TOML escapes mean, as an argument of a command.
func unquote(s string) string {
	s = regexp.MustCompile(`\\u([0-9a-f]{4})|\\U([0-9a-f]{8})`).ReplaceAllStringFunc(s, func(e string) string {
		var r rune
		fmt.Sscanf(e[2:], "%x", &r)
		return string(r)
	})
	return strings.NewReplacer(`\n`, "\n", `\r`, "\r", `\b`, "\b", `\"`, `"`).Replace(s)
}

// writeNastyRecord writes a record whose texts are all of the nasty ones.
func writeNastyRecord(t *testing.T, path string) {
	t.Helper()
	r, _, err := record.Open(file.OS, path, record.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	for _, c := range nasty {
		s := unquote(c.toml)
		for _, w := range []work.What{work.Noted{Text: s, About: s[:min(len(s), 20)]}, work.Tacked{Joint: s[:min(len(s), 200)]}, work.Set{Name: "amps", Value: s}, work.Cut{Mark: s[:min(len(s), 200)], Unit: 1, Stick: "rail", To: 1}} {
			text, err := work.Encode(w)
			if err != nil {
				continue // refused at the door
			}
			if _, err := r.Append(record.Draft{At: 1, Payload: text}); err != nil {
				t.Fatal(err)
			}
		}
	}
	// An event of a later version, straight from a stranger.
	_, _ = r.Append(record.Draft{At: 2, Payload: []byte("{\"v\":9,\"do\":\"\x1b[2Jpolish\"}")})
}

func lookAtSheet(t *testing.T, kind string, data []byte) {
	t.Helper()
	text := strings.ReplaceAll(strings.TrimPrefix(string(data), "\ufeff"), "\r\n", "\n")
	if kind != "pdf" {
		if bad := unsafe(text); bad != "" {
			t.Errorf("%s holds %s", kind, bad)
		}
	}
	switch kind {
	case "csv":
		r := csv.NewReader(strings.NewReader(text))
		r.FieldsPerRecord = -1 // several tables, one behind the other
		rows, err := r.ReadAll()
		if err != nil {
			t.Errorf("the CSV does not read: %v", err)
		}
		for _, row := range rows {
			for _, cell := range row {
				if c := strings.TrimSpace(cell); c != "" && strings.ContainsAny(c[:1], "=@") {
					t.Errorf("a spreadsheet would take %q for a formula", cell)
				}
			}
		}
	case "svg":
		d := xml.NewDecoder(bytes.NewReader(data))
		for {
			tok, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Errorf("the SVG does not read: %v", err)
				break
			}
			if e, ok := tok.(xml.StartElement); ok && (e.Name.Local == "script" || e.Name.Local == "foreignObject") {
				t.Errorf("the SVG holds a %s", e.Name.Local)
			}
		}
	case "html":
		if strings.Contains(strings.ToLower(text), "<script") || regexp.MustCompile(`(?i)(src|href)\s*=\s*["']?(https?:|//|javascript:)`).MatchString(text) {
			t.Error("the page holds a script, or something to fetch")
		}
	case "pdf":
		for _, m := range regexp.MustCompile(`(?s)stream\r?\n(.*?)endstream`).FindAllSubmatch(data, -1) {
			z, err := zlib.NewReader(bytes.NewReader(m[1]))
			if err != nil {
				continue
			}
			b, _ := io.ReadAll(io.LimitReader(z, 16<<20))
			if bytes.Contains(b, []byte("BT")) && bytes.ContainsAny(b, "\x1b\x9b") && !bytes.Contains(b, []byte("Tj")) {
				t.Error("the PDF's text holds an escape")
			}
		}
		if bytes.Contains(data, []byte("/JavaScript")) || bytes.Contains(data, []byte("/Launch")) || bytes.Contains(data, []byte("/URI")) {
			t.Error("the PDF does more than show")
		}
	}
}

// TestHostileJobs reads texts of up to 1 MB that are made to cost as much as they can, by the real command: each is read
// or refused, and what it holds of memory is bounded. Time is bounded by the test's own end.
func TestHostileJobs(t *testing.T) {
	const mb = 1 << 20
	fill := func(head, s string) string { return head + strings.Repeat(s, (mb-len(head))/len(s)) }
	rail := limitRail
	numbered := func(head, format string) string {
		var b strings.Builder
		b.WriteString(head)
		for i := 0; b.Len() < mb-200; i++ {
			fmt.Fprintf(&b, format, i)
		}
		return b.String()
	}
	many := func(n int, format string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format, i+1)
		}
		return b.String()
	}
	var names []string
	texts := map[string]string{
		"a megabyte of keys":        numbered("", "k%d = 1\n"),
		"the same key":              fill("", "title = 1\n"),
		"deep lists":                fill("a = ", "["),
		"deep tables":               fill("a = ", "{a = "),
		"long text":                 fill(`title = "`, "x"),
		"long number":               fill("[saw]\nkerf = ", "9"),
		"pieces":                    fill(rail, "[[piece]]\nsection = \"rail\"\nlength = \"1in\"\n"),
		"huge counts":               fill(rail, "[[piece]]\nsection = \"rail\"\nlength = \"9in\"\nqty = 10000\n"),
		"rectangles":                numbered(rail, "[[rectangle]]\nname = \"r%[1]d\"\nsection = \"rail\"\nlength = \"9in\"\nwidth = \"9in\"\nat = [0, 0, %[1]d]\n"),
		"bars of bars":              rail + "[[rectangle]]\nname = \"a\"\nsection = \"rail\"\nlength = \"9000in\"\nwidth = \"48in\"\n" + strings.Repeat("[[crossbars]]\non = \"a\"\nsection = \"rail\"\ncount = 500\n", 60),
		"sections":                  numbered("", "[section.s%d]\nshape = \"flat\"\nsize = \"1 x 1/4\"\n"),
		"members in one place":      numbered(rail, "[[member]]\nname = \"m%d\"\nsection = \"rail\"\nfrom = [0, 0, 0]\nto = [48, 30, 0]\n"),
		"members without length":    numbered(rail, "[[member]]\nname = \"m%d\"\nsection = \"rail\"\nfrom = [0, 0, 0]\nto = [0, 0, 0]\n"),
		"members far away":          numbered(rail, "[[member]]\nname = \"m%d\"\nsection = \"rail\"\nfrom = [9e4, 9e4, 9e4]\nto = [-9e4, 1e-9, 0]\n"),
		"points":                    rail + "[surface.s]\npoints = [" + strings.Repeat("[1e-9, 1e5],", 1999) + "]\n[[rectangle]]\nname = \"a\"\nsection = \"rail\"\nlength = 9\nwidth = 9\n[[legs]]\nunder = \"a\"\nsection = \"rail\"\nsurface = \"s\"\nat = \"corners\"\n",
		"sticks":                    fill("[section.rail]\nshape = \"flat\"\nsize = \"1 x 1/4\"\nsticks = [", `{length = "20ft"},`) + "]",
		"on hand":                   fill(rail, "[[on_hand]]\nsection = \"rail\"\nlength = \"61in\"\nqty = 10000\n"),
		"loads":                     fill(rail, "[[load]]\nname = \"x\"\non = \"a\"\nload = \"1e308lb\"\n"),
		"unknown tables":            fill("", "[[a]]\n"),
		"nothing but blanks":        fill("", " "),
		"zero bytes":                fill("", "\x00"),
		"bytes that are no letters": fill("", "\xff"),
		"combining marks":           fill(`title = "e`, "\u0301"),
		// Within every limit, and as much as they allow.
		"crossing members":            rail + many(1999, "[[member]]\nname = \"m%[1]d\"\nsection = \"rail\"\nfrom = [0, \"%[1]dmm\", 0]\nto = [200, \"-%[1]dmm\", 0]\nends = [\"square\", \"square\"]\n"),
		"twenty thousand bars":        rail + "[section.thin]\nshape = \"flat\"\nsize = \"1/8 x 1/8\"\nsticks = [{length = \"20ft\"}]\n" + many(39, "[[rectangle]]\nname = \"r%[1]d\"\nsection = \"rail\"\nlength = \"230in\"\nwidth = \"48in\"\nat = [0, 0, \"%[1]d0in\"]\n[[crossbars]]\non = \"r%[1]d\"\nsection = \"thin\"\ncount = 500\n"),
		"two thousand kinds of piece": rail + many(1999, "[[piece]]\nsection = \"rail\"\nlength = \"2.%04[1]dm\"\nqty = 9\nends = [45, 30]\n"),
		"numbers that are none":       rail + strings.Repeat("[[piece]]\nsection = \"rail\"\nlength = nan\nqty = inf\nends = [-inf, 1e308]\n", 200),
		"the least numbers":           rail + "[saw]\nkerf = 5e-324\n[[piece]]\nsection = \"rail\"\nlength = 1e-300\nends = [4.9e-324, -4.9e-324]\n",
	}
	for name := range texts {
		names = append(names, name)
	}
	slices.Sort(names)
	home, dir := t.TempDir(), t.TempDir()
	for _, name := range names {
		text := texts[name]
		if len(text) > mb {
			text = text[:mb]
		}
		path := filepath.Join(dir, "job.toml")
		os.WriteFile(path, []byte(text), 0o644)
		status, told, began := 0, "", time.Now()
		peak := watched(func() { status, _, told = try(t, home, "check", path) })
		told, _, _ = strings.Cut(strings.ReplaceAll(told, path, "job.toml"), "\n")
		t.Logf("%-28s exit %d, %.1f s, at most %4d MB more than before: %.70s", name, status, time.Since(began).Seconds(), peak>>20, told)
		if status != 0 && status != 1 {
			t.Errorf("%s: exit %d", name, status)
		}
		if peak > 1<<30 {
			t.Errorf("%s took %d MB", name, peak>>20)
		}
	}
}

// watched runs f and gives how many bytes the heap held at most more than before, as far as a look every few
// milliseconds shows.
func watched(f func()) uint64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	before, peak := m.HeapAlloc, m.HeapAlloc
	done, ended := make(chan bool), make(chan bool)
	go func() {
		defer close(ended)
		var m runtime.MemStats
		for {
			runtime.ReadMemStats(&m)
			peak = max(peak, m.HeapAlloc)
			select {
			case <-done:
				return
			case <-time.After(3 * time.Millisecond):
			}
		}
	}()
	f()
	close(done)
	<-ended
	return peak - before
}
