package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"bench.example/soapstone/fab/plan"
)

// call runs the program and gives its exit status and outputs.
func call(t *testing.T, args ...string) (status int, out, err string) {
	t.Helper()
	var o, e bytes.Buffer
	status = run(t.Context(), args, shell{strings.NewReader(""), &o, &e, func(string) string { return "" }})
	return status, o.String(), e.String()
}

func planOf(t *testing.T, job string) plan.Document {
	t.Helper()
	status, out, errs := call(t, "plan", "--json", writeJob(t, job))
	if status != 0 {
		t.Fatalf("exit %d: %s", status, errs)
	}
	var d plan.Document
	if err := json.Unmarshal([]byte(out), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

func frameJob(rectangle, rest string) string {
	return `
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
sticks = [ {length = "20ft", price = 34.50}, {length = "24ft", price = 41.00} ]
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
` + rectangle + `
[[crossbars]]
on = "lower"
section = "rail"
count = 5
` + rest
}

// TestRectangleWithCrossbars holds the pieces of one rectangle to a hand calculation: 2-1/2 x 1-1/2 tube, 96 x 48 outside.
func TestRectangleWithCrossbars(t *testing.T) {
	for _, c := range []struct {
		why, rectangle string
		want           []string
	}{
		{"on edge, mitred: the mitre is seen across the width, bars fit between sides 1-1/2 wide", `stand = "edge"`,
			[]string{"2 x 48 [45 45] width", "2 x 96 [45 45] width", "5 x 45 [0 0]"}},
		{"flat: the sides are 2-1/2 wide in the plane, the mitre is seen across the depth", `stand = "flat"`,
			[]string{"2 x 48 [45 45] depth", "2 x 96 [45 45] depth", "5 x 43 [0 0]"}},
		{"butt-long on edge: the short sides stand between the long ones and are as long as the bars: one mark", `corner = "butt-long"`,
			[]string{"2 x 96 [0 0]", "7 x 45 [0 0]"}},
	} {
		d := planOf(t, frameJob(c.rectangle, ""))
		var got []string
		for _, p := range d.Pieces {
			s := fmt.Sprintf("%d x %.10g [%g %g]", p.Qty, p.LengthMM/25.4, p.Ends[0].MiterDeg, p.Ends[1].MiterDeg)
			if p.Ends[0].MiterDeg != 0 {
				s += " " + p.Ends[0].Across
			}
			got = append(got, s)
		}
		sort.Strings(got)
		if strings.Join(got, "; ") != strings.Join(c.want, "; ") {
			t.Errorf("%s:\n got %v\nwant %v", c.why, got, c.want)
		}
	}
}

func TestCheaperMixAndShelfFirst(t *testing.T) {
	// 4 pieces of 110in: two 20-foot sticks (69.00) hold them, as would two of 24 feet (82.00).
	job := `
[section.rail]
shape = "rect-tube"
size = "2 x 1 x 14ga"
sticks = [ {length = "20ft", price = 34.50}, {length = "24ft", price = 41.00} ]
[[piece]]
section = "rail"
length = "110in"
qty = 4
`
	d := planOf(t, job)
	if d.Nests[0].Cost != 69 || !d.Nests[0].Proven {
		t.Errorf("cost %v proven %v, want 69 proven", d.Nests[0].Cost, d.Nests[0].Proven)
	}
	d = planOf(t, job+`
[[on_hand]]
section = "rail"
length = "10ft"
qty = 2
`)
	if d.Nests[0].Cost != 34.5 {
		t.Errorf("two drops on hand leave one stick to buy, cost %v", d.Nests[0].Cost)
	}
	// 6 x 48 + 12: one 24-foot stick holds six of 48 exactly but no kerf; the mix decides.
	status, out, errs := call(t, "nest", "--stick", "20ft@34.50", "--stick", "24ft@41.00", "--kerf", "0", "--json", "6@48", "1@12")
	if status != 0 || !strings.Contains(out, `"cost": 69`) {
		t.Errorf("nest: %d %s %s", status, out, errs)
	}
}

// TestNoWindowHoldsMoreArc looks at every window that begins or ends at an event of the schedule.
func TestNoWindowHoldsMoreArc(t *testing.T) {
	welder := `
[welder]
process = "FCAW-S"
amps = %g
volts = 19
duty = "30%% at 130A"
window = "10m"
travel = "9ipm"
fillet = "1/8"
`
	d := planOf(t, frameJob("", fmt.Sprintf(welder, 130.0)))
	w := d.Weld
	var events []float64
	type span struct{ a, b float64 }
	var arcs []span
	for _, e := range w.Schedule {
		events = append(events, e.StartS, e.EndS, e.StartS-w.WindowS, e.EndS-w.WindowS)
		if e.Kind == "arc" || e.Kind == "tack" {
			arcs = append(arcs, span{e.StartS, e.EndS})
		}
	}
	total := 0.0
	for _, a := range arcs {
		total += a.b - a.a
	}
	if math.Abs(total-w.ArcS) > 1e-6 {
		t.Errorf("arc_s %g, its entries hold %g", w.ArcS, total)
	}
	for _, from := range events {
		arc := 0.0
		for _, a := range arcs {
			arc += math.Max(0, math.Min(a.b, from+w.WindowS)-math.Max(a.a, from))
		}
		if arc > 180+1e-6 { // a microsecond: seconds are written in decimal
			t.Fatalf("the window from %g s holds %g s of arc, more than 180", from, arc)
		}
	}
	if w.BoundS > w.ElapsedS {
		t.Errorf("bound %g over elapsed %g", w.BoundS, w.ElapsedS)
	}
	// The square law: 0.30 x (130/91)^2.
	if got, want := planOf(t, frameJob("", fmt.Sprintf(welder, 91.0))).Weld.DutyEffective, 0.612; math.Abs(got-want) > 0.0005 {
		t.Errorf("duty at 91 A is %g, want %g", got, want)
	}
}

// TestBrokenJobs holds what the program says of ten broken jobs to whole messages.
func TestBrokenJobs(t *testing.T) {
	const section = "[section.rail]\nshape = \"rect-tube\"\nsize = \"2 x 1 x 14ga\"\nsticks = [ {length = \"20ft\"} ]\n"
	const rect = "[[rectangle]]\nname = \"base\"\nsection = \"rail\"\nlength = \"60in\"\nwidth = \"30in\"\n"
	for _, c := range []struct {
		why, job string
		status   int
		says     []string
	}{
		{"wrong key", section + strings.Replace(rect, "width", "widht", 1), 1, []string{":9: rectangle.widht", "width"}},
		{"wrong unit", section + strings.Replace(rect, "60in", "60 yards", 1), 1, []string{":8: rectangle.length", "yards", "write"}},
		{"negative length", section + strings.Replace(rect, "60in", "-60in", 1), 1, []string{":8: rectangle.length", "must be more than zero"}},
		{"wall over half the tube", strings.Replace(section, "14ga", "0.6in", 1) + rect, 1, []string{":3: section.rail.size", "wall"}},
		{"piece longer than every stick", section + strings.Replace(rect, "60in", "250in", 1), 1, []string{"piece A", "250", "20'"}},
		{"not a number", section + "[saw]\nkerf = nan\n" + rect, 1, []string{":6: saw.kerf", "nan is no length"}},
		{"duplicate name", section + rect + rect, 1, []string{"rectangle[2].name", "base"}},
		{"unknown section", section + strings.Replace(rect, "\"rail\"", "\"rial\"", 1), 1, []string{":7: rectangle.section", "rail"}},
		{"crossbars on a frame that is too narrow", section + strings.Replace(rect, "30in", "2in", 1) + "[[crossbars]]\non = \"base\"\nsection = \"rail\"\ncount = 3\n", 1, []string{":9: rectangle.width", "nothing is left between its sides"}},
	} {
		path := writeJob(t, c.job)
		status, out, errs := call(t, "check", path)
		if status != c.status || out != "" {
			t.Errorf("%s: exit %d, standard output %q", c.why, status, out)
		}
		for _, w := range c.says {
			if !strings.Contains(errs, w) {
				t.Errorf("%s: the message does not say %q:\n%s", c.why, w, errs)
			}
		}
	}
	status, _, errs := call(t, "check", t.TempDir())
	if status != 3 || !strings.Contains(errs, "file") {
		t.Errorf("a folder in place of a file: exit %d, %s", status, errs)
	}
}

// TestExamplesPlan: the built-in example and the jobs in testdata can be planned, proven.
func TestExamplesPlan(t *testing.T) {
	jobs, err := filepath.Glob("../../testdata/*.toml")
	if err != nil || len(jobs) == 0 {
		t.Fatalf("no jobs: %v", err)
	}
	for _, name := range append(jobs, "../../stock/example/kayak-rack.toml") {
		if _, err := os.Stat(name); err != nil {
			t.Fatal(err)
		}
		status, out, errs := call(t, "plan", "--json", name)
		if status != 0 {
			t.Errorf("%s: exit %d: %s", name, status, errs)
			continue
		}
		var d plan.Document
		if err := json.Unmarshal([]byte(out), &d); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, n := range d.Nests {
			if !n.Proven {
				t.Errorf("%s: the nest of %s is not proven", name, n.Section)
			}
		}
		if status, out, _ := call(t, "plan", name); status != 0 || !strings.Contains(out, "At the saw") {
			t.Errorf("%s: the plan as text: exit %d", name, status)
		}
	}
}

// TestHaul: with and without the limit of the vehicle; each stick can be parted as told: between two pieces, each part
// within the limit, the yard's rough cut lost on each side.
func TestHaul(t *testing.T) {
	job := func(saw string) string {
		return `
[section.rail]
shape = "rect-tube"
size = "2 x 1 x 14ga"
sticks = [ {length = "20ft", price = 27.80} ]
[saw]
kerf = "1/16"
` + saw + `
[[piece]]
section = "rail"
length = "57in"
qty = 8
[[piece]]
section = "rail"
length = "79in"
qty = 3
`
	}
	free := planOf(t, job(""))
	held := planOf(t, job("haul = \"10ft\"\nyard_trim = \"1/4\"\nyard_cut = 2.50\n"))
	if free.Nests[0].Cost >= held.Nests[0].Cost || !held.Nests[0].Proven {
		t.Errorf("free %g, hauled %g, proven %v: the haul limit must cost something here, and be proven", free.Nests[0].Cost, held.Nests[0].Cost, held.Nests[0].Proven)
	}
	const foot10, trim = 3048.0, 6.35
	cuts := 0
	for i, s := range held.Nests[0].Sticks {
		edges := append(append([]float64{0}, s.PartsMM...), s.StickMM)
		cuts += len(s.PartsMM)
		for k := 1; k < len(edges); k++ {
			if edges[k]-edges[k-1] > foot10+1e-6 {
				t.Errorf("stick %d: a part of %g mm does not fit the vehicle", i+1, edges[k]-edges[k-1])
			}
		}
		for _, c := range s.Cuts {
			for k := 1; k < len(edges); k++ {
				lo, hi := edges[k-1], edges[k]
				if k > 1 {
					lo += trim
				}
				if k < len(edges)-1 {
					hi -= trim
				}
				if c.FromMM < hi && c.ToMM > lo && (c.FromMM < lo-1e-6 || c.ToMM > hi+1e-6) {
					t.Errorf("stick %d: %v from %g to %g lies across the yard's cut at %v", i+1, c.Piece, c.FromMM, c.ToMM, s.PartsMM)
				}
			}
		}
	}
	if cuts != held.YardCuts.Qty || math.Abs(held.YardCuts.Cost-2.5*float64(cuts)) > 1e-9 {
		t.Errorf("%d partings, told %d for %g", cuts, held.YardCuts.Qty, held.YardCuts.Cost)
	}
}

// A job that is not there: status 3, nothing on standard output, the same words by every command.
func TestNoSuchJob(t *testing.T) {
	name := filepath.Join(t.TempDir(), "none.toml")
	for _, command := range []string{"plan", "check", "log", "fit", "explain"} {
		status, out, said := call(t, command, name)
		if status != exitFiles || out != "" || !strings.Contains(said, "none.toml: reading failed: it is not there") {
			t.Errorf("%s: status %d, out %q, err %q", command, status, out, said)
		}
	}
}
