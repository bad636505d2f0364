package sum_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/sum"
)

// probe is a sum that gives back what its getters read.
func probe() sum.Sum {
	return sum.Sum{
		Name: "probe", Purpose: "reads arguments",
		Takes: []sum.Arg{
			{Name: "len", Takes: "a length", Example: "3ft 2in"},
			{Name: "pos", Takes: "a length", Example: "3", Optional: true},
			{Name: "mass", Takes: "a mass", Optional: true},
			{Name: "n", Takes: "a count", Optional: true},
			{Name: "kind", Takes: "one of two", Optional: true},
			{Name: "share", Takes: "a share", Optional: true},
		},
		Run: func(a *sum.Args) (sum.Result, error) {
			var r sum.Result
			r.Add("len_mm", a.MM("len"))
			r.Add("pos_mm", a.PositiveMM("pos"))
			r.Add("mass_kg", a.Positive("mass", measure.ParseMass))
			r.Add("n", a.Count("n", 7, 2))
			r.Add("kind", a.OneOf("kind", "fillet", "groove"))
			r.Add("share", a.Quantity("share", measure.ParseShare))
			r.Add("has", a.Has("pos"))
			r.AddFigure("double_mm", figure.New("probe.double", "double", "mm", "2*L", figure.Source{Kind: figure.Geometry, Text: "two of them"}, figure.In("L", "length", a.MM("len"), "mm", "len")))
			return r, a.Err()
		},
	}
}

func run(words ...string) (map[string]any, error) {
	r, err := probe().Call(words, sum.Tables{}, "", nil)
	m := map[string]any{}
	for _, v := range r.Values {
		m[v.Key] = v.Value
	}
	return m, err
}

func TestArguments(t *testing.T) {
	for _, c := range []struct {
		words string
		want  map[string]any
	}{
		{"len=2", map[string]any{"len_mm": 50.8, "pos_mm": 0.0, "mass_kg": 0.0, "n": 7, "kind": "fillet", "share": 0.0, "has": false, "double_mm": 101.6}},
		{"len=2|units=mm", map[string]any{"len_mm": 2.0}}, {"units=mm|len=2in", map[string]any{"len_mm": 50.8}}, {"len=2|units=ft", map[string]any{"len_mm": 609.6}},
		{`len=8' 3-1/2"`, map[string]any{"len_mm": 2527.3}}, {"len=-1|pos=3mm|has", nil}, {"len=0|pos=1/2", map[string]any{"pos_mm": 12.7, "has": true}},
		{"len=1|mass=68kg|n=2|kind=GROOVE|share=30%", map[string]any{"mass_kg": 68.0, "n": 2, "kind": "groove", "share": 0.3}},
		{"len=1|pos=", map[string]any{"has": false, "pos_mm": 0.0}}, // nothing behind the = is as if left out
		{"len=-4", map[string]any{"len_mm": -101.6}},
	} {
		m, err := run(strings.Split(c.words, "|")...)
		if c.want == nil {
			if err == nil {
				t.Errorf("%s was accepted", c.words)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.words, err)
		}
		for k, v := range c.want {
			if m[k] != v {
				t.Errorf("%s: %s = %v, want %v", c.words, k, m[k], v)
			}
		}
	}
}

func TestArgumentFaults(t *testing.T) {
	for _, c := range []struct {
		words string
		use   bool
		says  string
	}{
		{"", true, `"" is not key=value`}, {"pos=1", true, "len is missing"}, {"len=", true, "len is missing"}, {"len", true, "not key=value"}, {"len=1|len=2", true, "twice"}, {"len=1|color=red", true, `does not take "color"`},
		{"len=1|units=yard", true, "in, ft, mm, cm or m"}, {"len=one", true, "a number is missing"}, {"len=1|mass=5", true, "unit is missing"}, {"len=1|kind=spot", true, "fillet, groove"}, {"len=1|n=two", true, "a number is missing"},
		{"len=1|pos=0", false, "greater than zero"}, {"len=1|pos=-3", false, "pos=-3"}, {"len=1|mass=0kg", false, "greater than zero"}, {"len=1|mass=-5kg", false, "mass=-5kg"}, {"len=1|n=1", false, "at least 2"}, {"len=1|n=2.5", false, "whole number"},
		{"len=1|n=1e10", false, "whole number"}, {"len=1|n=-5", false, "at least 2"}, {"len=one|n=1", true, "a number is missing"}, // the first fault is told
	} {
		_, err := run(strings.Split(c.words, "|")...)
		switch {
		case err == nil || errors.Is(err, sum.ErrUse) != c.use || !strings.Contains(err.Error(), c.says):
			t.Errorf("%q: %v; want use %v, %q", c.words, err, c.use, c.says)
		case c.use && !strings.Contains(err.Error(), "soapstone sum probe"):
			t.Errorf("%q: an error of use without the usage: %v", c.words, err)
		case c.use && strings.Count(err.Error(), "soapstone sum probe") != 1:
			t.Errorf("%q: the usage stands more than once", c.words)
		}
	}
}

func TestUsage(t *testing.T) {
	want := `soapstone sum probe 'len=3ft 2in' [pos=3] [mass=MASS] [n=N] [kind=KIND] [share=SHARE]`
	if got := strings.SplitN(probe().Usage(), "\n", 2)[0]; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	for _, a := range probe().Takes {
		if !strings.Contains(probe().Usage(), "\n  "+a.Name) {
			t.Errorf("%s is not explained", a.Name)
		}
	}
	file := sum.Sum{Name: "f", File: true, Run: func(a *sum.Args) (sum.Result, error) {
		var r sum.Result
		r.Add("text", string(a.Text)+"@"+a.Name)
		return r, nil
	}}
	if _, err := file.Call(nil, sum.Tables{}, "", nil); !errors.Is(err, sum.ErrUse) || !strings.Contains(err.Error(), "FILE") {
		t.Errorf("no file: %v", err)
	}
	if r, err := file.Call(nil, sum.Tables{}, "x.csv", []byte("1,2")); err != nil || r.Values[0].Value != "1,2@x.csv" {
		t.Errorf("%v %v", r, err)
	}
}

func TestListAndFind(t *testing.T) {
	var names []string
	for _, s := range sum.List() {
		names = append(names, s.Name)
		if s.Purpose == "" || s.Run == nil {
			t.Errorf("%s has no purpose or nothing to run", s.Name)
		}
		seen := map[string]bool{"units": true}
		for _, a := range s.Takes {
			if a.Takes == "" || seen[a.Name] {
				t.Errorf("%s: %s is not explained, or stands twice", s.Name, a.Name)
			}
			seen[a.Name] = true
		}
		if found, err := sum.Find(s.Name); err != nil || found.Name != s.Name {
			t.Errorf("%s is listed but not found: %v", s.Name, err)
		}
	}
	if !slices.IsSorted(names) || len(slices.Compact(slices.Clone(names))) != len(names) {
		t.Errorf("not in order, or a name twice: %q", names)
	}
	if _, err := sum.Find("weigh"); !errors.Is(err, sum.ErrUse) || !strings.Contains(err.Error(), "weight") {
		t.Errorf("an unknown sum: %v", err)
	}
}

// Whatever words come: an answer or an error, no panic.
func FuzzSteelSums(f *testing.F) {
	f.Add("section", "rect-tube", "2 x 1 x .120", "20ft", "3", "A513", "mm")
	f.Add("weight", "flat", "3 x 1/4", "-1", "0", "carbon-steel", "in")
	tables := steelTables()
	f.Fuzz(func(t *testing.T, name, shape, size, length, qty, grade, units string) {
		s, err := sum.Find(name)
		if err != nil || name != "section" && name != "weight" {
			return
		}
		words := []string{"shape=" + shape, "size=" + size, "units=" + units}
		if name == "section" {
			words = append(words, "grade="+grade, "wall="+qty)
		} else {
			words = append(words, "length="+length, "qty="+qty, "material="+grade)
		}
		r, err := s.Call(words, tables, "", nil)
		if err != nil {
			return
		}
		for _, fig := range r.Figures {
			if err := fig.Check(); err != nil {
				t.Errorf("%q: %v", words, err)
			}
		}
	})
}
