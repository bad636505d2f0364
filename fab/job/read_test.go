package job

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

func lines(ps []text.Problem) string {
	var b strings.Builder
	for _, p := range ps {
		b.WriteString(p.Long() + "\n")
	}
	return b.String()
}

func TestExampleJobsRead(t *testing.T) {
	files, err := filepath.Glob("../../testdata/*.toml")
	example, _ := filepath.Glob("../../stock/example/*.toml")
	if files = append(files, example...); err != nil || len(files) < 3 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if _, ps := Read(filepath.Base(file), data); len(ps) > 0 {
			t.Errorf("%s", lines(ps))
		}
	}
}

// TestBrokenJobs reads each job of testdata/broken and compares every message, quote and caret with the file beside it.
func TestBrokenJobs(t *testing.T) {
	files, err := filepath.Glob("testdata/broken/*.toml")
	if err != nil || len(files) < 10 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		_, ps := Read(filepath.Base(file), data)
		if !text.HasErrors(ps) {
			t.Errorf("%s: no error", file)
		}
		got, golden := lines(ps), strings.TrimSuffix(file, ".toml")+".want"
		if *update {
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), got); diff != "" {
			t.Errorf("%s:\n%s", file, diff)
		}
	}
}

const small = `
[section.rail]
shape = "rect-tube"
size = "2 x 1 x 0.083"
[[rectangle]]
name = "a"
section = "rail"
length = 20.784609691
width = 1_0
`

func TestNumbersReachMeasureAsWritten(t *testing.T) {
	j, ps := Read("job.toml", []byte(small))
	if len(ps) > 0 {
		t.Fatal(lines(ps))
	}
	// 20.784609691 in = 527 929 086.1514 nm; through a float with six decimals it would be 527 929 094.
	if got := j.Rectangles[0].Length; got != 527_929_086 {
		t.Errorf("length %d nm", got)
	}
	if got := j.Rectangles[0].Width; got != 10*measure.Inch {
		t.Errorf("width %d nm", got)
	}
	if w := j.Rectangles[0].Where; w.Line != 5 || w.Column != 1 || w.Key != "rectangle" {
		t.Errorf("where %+v", w)
	}
}

func TestDefaults(t *testing.T) {
	j, ps := Read("job.toml", []byte(small+"[[rectangle]]\nsection = \"rail\"\nlength = 5\nwidth = 5\n"))
	if len(ps) > 0 {
		t.Fatal(lines(ps))
	}
	r := j.Rectangles[1]
	got := []any{j.Units, j.Tape, j.Currency, j.Saw.Kerf, j.Saw.KerfGiven, j.Saw.Trim, j.Saw.Keep, j.Welder == nil,
		r.Name, r.Plane, r.Corner, r.Flat, r.Heel, r.Inside, r.At, j.Sections[0].Finish, j.Sections[0].TubeSeam}
	want := []any{measure.In, measure.Sixteenths, "USD", measure.Inch / 16, false, measure.Length(0), measure.Length(0), true,
		"rectangle2", XY, "mitre", false, "out-bottom", false, [3]measure.Length{}, Oiled, "any"}
	if diff := cmp.Diff(want, got, cmp.Comparer(func(a, b measure.Tape) bool { return a == b })); diff != "" {
		t.Error(diff)
	}
}

func TestShopStandsUnderTheJobKeyByKey(t *testing.T) {
	shop := File{"shop.toml", []byte(`
units = "mm"
[saw]
kerf = 2
trim = 10
keep = "12in"
[section.rail]
sticks = [ {length = 6000, price = 20} ]
[section.bar]
shape = "flat"
size = "40 x 5"
[welder]
process = "GMAW"
amps = 90
volts = 17
duty = "30% at 130A"
travel = "9ipm"
fillet = 3
`)}
	j, ps := Read("job.toml", []byte(small+"[saw]\ntrim = \"1/2\"\n[welder]\namps = 100\n"), shop)
	if len(ps) > 0 {
		t.Fatal(lines(ps))
	}
	if s := j.Saw; s.Kerf != 2*measure.Millimetre || s.Trim != measure.Inch/2 || s.Keep != 12*measure.Inch || s.Where.File != "job.toml" {
		t.Errorf("saw %+v", s)
	}
	if len(j.Sections) != 2 || j.Sections[0].Sticks[0].Length != 6*measure.Metre || j.Sections[0].Size != "2 x 1 x 0.083" || j.Sections[1].Size != "40mm x 5mm" {
		t.Errorf("sections %+v", j.Sections)
	}
	if w := j.Welder; w == nil || w.Amps != 100 || w.Volts != 17 || w.Fillet != 3*measure.Millimetre {
		t.Errorf("welder %+v", w)
	}
	// A fault of the shop file is reported in the shop file.
	shop.Data = []byte("[saw]\nkerf = -1\nkreft = 2\n[rectangle]\n")
	_, ps = Read("job.toml", []byte(small), shop)
	var got []string
	for _, p := range ps {
		got = append(got, p.String())
	}
	want := []string{"shop.toml:2: saw.kerf: -1 cannot be: it must be zero or more",
		"shop.toml:3: saw.kreft: there is no key kreft; did you mean kerf?",
		"shop.toml:4: rectangle: there is no table rectangle; here may stand labour, paint, quote, saw, section, units or welder"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// A current above the plate's highest is refused at its own line.
func TestAmpsBeyondThePlate(t *testing.T) {
	_, ps := Read("job.toml", []byte("[welder]\nprocess = \"GMAW\"\nvolts = 18\nduty = [\"20% at 148A\", \"60% at 86A\"]\namps = 150\n"), File{})
	for _, p := range ps {
		if p.Key == "welder.amps" && p.Line == 5 && strings.Contains(p.Message, "148 A") {
			return
		}
	}
	t.Error(ps)
}
