package shop

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/table"
)

func section(t *testing.T, size string) steel.Section {
	t.Helper()
	s, err := steel.New(steel.Spec{Shape: steel.RectTube, Size: size, Unit: measure.In}, table.Steel())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func load(t *testing.T, path string) *List {
	t.Helper()
	l, problems, err := Load(file.OS, path, table.Steel())
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return l
}

func TestAddTakeKeepsComments(t *testing.T) {
	path := filepath.Join(t.TempDir(), "drops.toml")
	if err := os.WriteFile(path, []byte("# by the door\n[[drop]]\nshape = \"rect-tube\"\nsize = \"2 x 1 x 14ga\"\nlength = \"61-1/4in\"  # bent at one end\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	l := load(t, path)
	if len(l.Drops) != 1 || l.Drops[0].Qty != 1 || l.Drops[0].Length != 61*measure.Inch+measure.Inch/4 {
		t.Fatalf("read %+v", l.Drops)
	}
	d := Drop{Shape: "rect-tube", Size: "2 x 1 x 14ga", Section: section(t, "2 x 1 x 14ga"), Length: 40*measure.Inch + measure.Sixtyfourth, Ends: [2]float64{45, 0}, Qty: 3, Note: "left of the gate"}
	if err := l.Add(d); err != nil {
		t.Fatal(err)
	}
	l = load(t, path)
	if len(l.Drops) != 2 || l.Drops[1].Length != d.Length || l.Drops[1].Ends != d.Ends || l.Drops[1].Qty != 3 || l.Drops[1].Note != d.Note {
		t.Fatalf("read back %+v", l.Drops)
	}
	// The same drop again counts up its line.
	if err := l.Add(d); err != nil {
		t.Fatal(err)
	}
	l = load(t, path)
	if len(l.Drops) != 2 || l.Drops[1].Qty != 6 {
		t.Fatalf("counted up: %+v", l.Drops)
	}
	if err := l.Take(1, 6); err != nil {
		t.Fatal(err)
	}
	if l = load(t, path); len(l.Drops) != 1 {
		t.Fatalf("taken off: %+v", l.Drops)
	}
	if err := l.Take(0, 2); err == nil {
		t.Error("two were taken where one lies")
	}
	if err := l.Take(5, 1); err == nil {
		t.Error("a line that is not there was taken")
	}
	data, err := os.ReadFile(path)
	if err != nil || !strings.Contains(string(data), "# bent at one end") || !strings.Contains(string(data), "# by the door") {
		t.Errorf("comments are gone: %s %v", data, err)
	}
}

func TestChangedMeanwhile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "drops.toml")
	l := load(t, path) // not there: empty
	if err := os.WriteFile(path, []byte("# somebody else\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	err := l.Add(Drop{Shape: "rect-tube", Size: "2 x 1 x 14ga", Section: section(t, "2 x 1 x 14ga"), Length: measure.Foot, Qty: 1})
	if !errors.Is(err, file.ErrChanged) {
		t.Errorf("writing over somebody else's change: %v", err)
	}
}

func TestFaults(t *testing.T) {
	for _, c := range []struct{ why, text, says string }{
		{"unknown key", "[[drop]]\nshape=\"flat\"\nsize=\"2 x 1/4\"\nlength=10\nlenght=3\n", "lenght"},
		{"no length", "[[drop]]\nshape=\"flat\"\nsize=\"2 x 1/4\"\n", "length"},
		{"negative length", "[[drop]]\nshape=\"flat\"\nsize=\"2 x 1/4\"\nlength=-3\n", "more than zero"},
		{"unknown shape", "[[drop]]\nshape=\"flatt\"\nsize=\"2 x 1/4\"\nlength=3\n", "flat"},
		{"bad angle", "[[drop]]\nshape=\"flat\"\nsize=\"2 x 1/4\"\nlength=3\nends=[\"x\", 0]\n", "angle"},
	} {
		path := filepath.Join(t.TempDir(), "drops.toml")
		if err := os.WriteFile(path, []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		_, problems, err := Load(file.OS, path, table.Steel())
		if err != nil || len(problems) == 0 || !strings.Contains(problems[0].String(), c.says) {
			t.Errorf("%s: %v %v", c.why, problems, err)
		}
	}
}

func TestExactLengths(t *testing.T) {
	for _, l := range []measure.Length{measure.Sixtyfourth, 61*measure.Inch + measure.Inch/4, 1, 123_456_789, 2440 * measure.Millimetre} {
		back, err := measure.ParseLength(exact(l), measure.In)
		if err != nil || back != l {
			t.Errorf("%d is written %s and read as %d, %v", l, exact(l), back, err)
		}
	}
}
