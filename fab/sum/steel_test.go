package sum_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/sum"
)

// steelTables has what the tests of section and weight look up; the whole catalogue is tested in stock/table.
func steelTables() sum.Tables {
	src := figure.Source{Kind: figure.Common, Text: "test"}
	shapes := []steel.Shape{steel.RectTube, steel.SquareTube, steel.RoundTube, steel.Pipe, steel.Angle, steel.Flat}
	return sum.Tables{Steel: steel.Catalogue{
		TubeGauge:   steel.GaugeTable{Thickness: measure.Gauges{"11": 120 * measure.Mil}, Source: src},
		DesignWalls: []steel.DesignWall{{Nominal: measure.Inch / 4, Design: 233 * measure.Mil, Source: src}},
		Materials: []steel.Material{
			{Name: "carbon-steel", DensityKGM3: 7850, EMPa: 2e5, GMPa: 77e3, Source: src, ModulusFrom: src},
			{Name: "aluminium", DensityKGM3: 2700, EMPa: 69e3, GMPa: 26e3, Source: src, ModulusFrom: src},
		},
		Grades: []steel.Grade{
			{Name: "A36", Material: "carbon-steel", FyMPa: 250, FuMPa: 400, Shapes: shapes[4:], Source: src},
			{Name: "A500-B", Material: "carbon-steel", FyMPa: 317, FuMPa: 400, Shapes: shapes[:4], Wall: steel.Wall93, Corner: steel.CornerRule{Factor: 2, Source: src}, Source: src},
			{Name: "A513", Material: "carbon-steel", FyMPa: 220, FuMPa: 310, Shapes: shapes[:3], Wall: steel.Wall93, Corner: steel.CornerRule{Factor: 1.4, Source: src}, Source: src},
			{Name: "6061-T6", Material: "aluminium", FyMPa: 138, FuMPa: 165, Shapes: shapes, Corner: steel.CornerRule{Source: src}, Source: src},
		},
	}}
}

func call(t *testing.T, words ...string) (map[string]any, sum.Result, error) {
	t.Helper()
	s, err := sum.Find(words[0])
	if err != nil {
		t.Fatal(err)
	}
	r, err := s.Call(words[1:], steelTables(), "", nil)
	m := map[string]any{}
	for _, v := range r.Values {
		if _, twice := m[v.Key]; twice {
			t.Errorf("%s stands twice", v.Key)
		}
		m[v.Key] = v.Value
	}
	return m, r, err
}

func near(t *testing.T, m map[string]any, key string, want, rel float64) {
	t.Helper()
	got, ok := m[key].(float64)
	if !ok || math.Abs(got-want) > rel*math.Abs(want) {
		t.Errorf("%s = %v, want %g", key, m[key], want)
	}
}

func TestSection(t *testing.T) {
	m, r, err := call(t, "section", "shape=angle", "size=50 x 50 x 5", "units=mm")
	if err != nil {
		t.Fatal(err)
	}
	near(t, m, "area_mm2", 475, 1e-12)
	near(t, m, "mass_kg_m", 475*7850e-6, 1e-12)
	near(t, m, "skin_m2_m", 0.2, 1e-12)
	near(t, m, "rx_mm", math.Sqrt(m["ix_mm4"].(float64)/475), 1e-12)
	for _, key := range strings.Fields("mass_kg_m area_mm2 ix_mm4 sx_mm3 zx_mm3 rx_mm iy_mm4 sy_mm3 zy_mm3 ry_mm j_mm4 skin_m2_m") {
		if v, ok := m[key].(float64); !ok || !(v > 0) {
			t.Errorf("the contract's key %s: %v", key, m[key])
		}
	}
	if m["grade"] != "A36" || !strings.Contains(strings.Join(r.Notes, "; "), "the usual one") {
		t.Errorf("grade %v, notes %q", m["grade"], r.Notes)
	}
	for _, f := range r.Figures {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
}

func TestSectionDesignWall(t *testing.T) {
	words := []string{"section", "shape=square-tube", "size=2x2x1/4", "grade=A500-B"}
	nominal, _, err := call(t, words...)
	if err != nil {
		t.Fatal(err)
	}
	design, _, err := call(t, append(words, "wall=design")...)
	if err != nil {
		t.Fatal(err)
	}
	near(t, design, "mass_kg_m", nominal["mass_kg_m"].(float64), 0)
	near(t, design, "skin_m2_m", nominal["skin_m2_m"].(float64), 0)
	near(t, design, "wall_mm", 0.233*25.4, 1e-12)
	if !(design["area_mm2"].(float64) < nominal["area_mm2"].(float64)) {
		t.Error("the design wall gives no smaller area")
	}
}

func TestWeight(t *testing.T) {
	m, r, err := call(t, "weight", "shape=flat", "size=100 x 10", "length=2m", "qty=3", "units=mm")
	if err != nil {
		t.Fatal(err)
	}
	near(t, m, "mass_kg", 3*2*7.85, 1e-12)
	for _, f := range r.Figures {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
	m, _, err = call(t, "weight", "shape=flat", "size=100mm x 10mm", "length=1m", "material=aluminium")
	if err != nil {
		t.Fatal(err)
	}
	near(t, m, "mass_kg", 2.7, 1e-12)
}

func TestSteelSumsFaults(t *testing.T) {
	for _, c := range []struct {
		words string
		use   bool // an error of use, else an impossible value
		says  string
	}{
		{"section|shape=angle", true, "size is missing"},
		{"section|size=2", true, "shape is missing"},
		{"section|shape=tube|size=2", true, "rect-tube"},
		{"section|shape=angle|size=2 x 2 x 1/4|colour=red", true, "does not take"},
		{"section|shape=angle|size=2 x 2 x 1/4|wall=thin", true, "nominal, design"},
		{"section|shape=angle|size=2 x 2 x 1/4|units=yard", true, "in, ft, mm"},
		{"section|shape=angle|size=2 x 2 x 1/4|size=3", true, "twice"},
		{"section|angle", true, "not key=value"},
		{"section|shape=rect-tube|size=2 x 1 x .6", false, "leave no hollow"},
		{"section|shape=angle|size=2 x 2 x 1/4|grade=A9", false, "not in the catalogue"},
		{"weight|shape=angle|size=2 x 2 x 1/4", true, "length is missing"},
		{"weight|shape=angle|size=2 x 2 x 1/4|length=ten", true, "a number is missing"},
		{"weight|shape=angle|size=2 x 2 x 1/4|length=-3", false, "greater than zero"},
		{"weight|shape=angle|size=2 x 2 x 1/4|length=3|qty=0", false, "at least 1"},
		{"weight|shape=angle|size=2 x 2 x 1/4|length=3|qty=1.5", false, "whole number"},
		{"weight|shape=angle|size=2 x 2 x 1/4|length=3|material=oak", false, "not in the catalogue"},
	} {
		_, _, err := call(t, strings.Split(c.words, "|")...)
		if err == nil || errors.Is(err, sum.ErrUse) != c.use || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want use=%v and %q", c.words, err, c.use, c.says)
		} else if c.use && !strings.Contains(err.Error(), "soapstone sum "+strings.SplitN(c.words, "|", 2)[0]) {
			t.Errorf("%s: the error does not list what the sum takes: %v", c.words, err)
		}
	}
}
