package bolt

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/figure/outside"
)

func TestParseSize(t *testing.T) {
	for _, c := range []struct {
		text, name string
		dia, pitch float64
	}{
		{"3/8-16", "3/8-16", 9.525, 25.4 / 16}, {"3/8", "3/8-16", 9.525, 25.4 / 16}, {"1-8", "1-8", 25.4, 25.4 / 8}, {"1-1/8-7", "1-1/8-7", 28.575, 25.4 / 7},
		{"1 1/8-7", "1-1/8-7", 28.575, 25.4 / 7}, {"1-1/8", "1-1/8-7", 28.575, 25.4 / 7}, {"1/2-20", "1/2-20", 12.7, 1.27}, {"1/2-13 UNC", "1/2-13", 12.7, 25.4 / 13},
		{"1/2 UNF", "1/2-20", 12.7, 1.27}, {"1/2\"-13", "1/2-13", 12.7, 25.4 / 13}, {".375-16", "3/8-16", 9.525, 25.4 / 16}, {"#10-24", "#10-24", 4.826, 25.4 / 24},
		{"10-32", "#10-32", 4.826, 25.4 / 32}, {"1", "1-8", 25.4, 25.4 / 8}, {"1-14", "1-14", 25.4, 25.4 / 14}, {".312-18", "5/16-18", 7.9375, 25.4 / 18},
		{"M10", "M10", 10, 1.5}, {"m10", "M10", 10, 1.5}, {"M10x1.25", "M10x1.25", 10, 1.25}, {"M10 x 1.5", "M10", 10, 1.5}, {"M8-1.25", "M8", 8, 1.25}, {"M10\u00d71.25", "M10x1.25", 10, 1.25},
	} {
		s, err := ParseSize(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if s.Name != c.name || math.Abs(s.DiaMM-c.dia) > 1e-9 || math.Abs(s.PitchMM-c.pitch) > 1e-9 {
			t.Errorf("%s: %+v", c.text, s)
		}
		again, err := ParseSize(s.Name)
		if err != nil || again != s {
			t.Errorf("%s: name %q reads back as %+v, %v", c.text, s.Name, again, err)
		}
	}
	for _, bad := range []string{"", "M", "M11", "M10x9", "3/7-16", "3/8-3", "3/8-x", "1/2-13 UNF", "#3-48", "bolt", "-16", "M10x", "3/8-200", "M1e9", "M-5"} {
		if s, err := ParseSize(bad); err == nil {
			t.Errorf("%q was read as %+v", bad, s)
		} else if !strings.Contains(err.Error(), "write it as") {
			t.Errorf("%q: %v does not say what is right", bad, err)
		}
	}
}

func FuzzParseSize(f *testing.F) {
	for _, s := range []string{"3/8-16", "M10x1.25", "#10-24", "1-1/8-7 UNC", "\u2044-"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseSize(text)
		if err != nil {
			return
		}
		if !(s.DiaMM > 0) || !(s.PitchMM > 0) || s.row < 0 {
			t.Errorf("%q: %+v", text, s)
		}
		if again, err := ParseSize(s.Name); err != nil || again.Name != s.Name {
			t.Errorf("%q: name %q does not read back: %v", text, s.Name, err)
		}
	})
}

func mustSize(t *testing.T, text string) Size {
	t.Helper()
	s, err := ParseSize(text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func tight(t *testing.T, size, grade string, k float64) Tight {
	t.Helper()
	s := mustSize(t, size)
	g, err := ParseGrade(grade, s)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Tighten(s, g, k, 0.75, "t.")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []figure.Figure{r.Area, r.Proof, r.Rupture, r.Clamp, r.Torque, s.Clearance(Normal, "t."), s.TapDrill("t.")} {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
	return r
}

const lbf = 4.4482216152605

func TestStressAreas(t *testing.T) {
	for size, want := range map[string]float64{"5/16-18": .0524, "7/16-14": .1063, "1/2-13": .1419, "9/16-12": .1820, "5/8-11": .2260, "7/8-9": .462, "1-8": .606,
		"1/4-28": .0364, "5/16-24": .0580, "3/8-24": .0878, "5/8-18": .2560, "3/4-16": .3730, "7/8-14": .509} {
		outside.Check(t, outside.Case{Field: "hardware", Source: "ASME B1.1 tensile stress areas, as tabled by thread makers", What: size + " stress area, in2", Got: tight(t, size, "5", .2).Area.Value / 645.16, Want: want, Abs: .0006, Why: "tables round to three or four digits"})
	}
	for size, want := range map[string]float64{"M10": 58.0, "M12": 84.3, "M16": 157} {
		outside.Check(t, outside.Case{Field: "hardware", Source: "ISO 898-1, nominal stress areas", What: size + " stress area, mm2", Got: tight(t, size, "8.8", .2).Area.Value, Want: want, Rel: .003, Why: "printed to three digits"})
	}
}

func TestProofLoads(t *testing.T) {
	const src = "ISO 898-1, proof loads of coarse threads"
	for _, c := range []struct {
		size, class string
		want        float64
	}{{"M6", "8.8", 11600}, {"M6", "12.9", 19500}, {"M8", "8.8", 21200}, {"M8", "10.9", 30400}, {"M10", "10.9", 48100}, {"M12", "8.8", 48900}, {"M14", "12.9", 112000}, {"M16", "8.8", 91000}, {"M20", "8.8", 147000}, {"M20", "12.9", 238000}} {
		outside.Check(t, outside.Case{Field: "hardware", Source: src, What: c.size + " class " + c.class + " proof load, N", Got: tight(t, c.size, c.class, .2).Proof.Value, Want: c.want, Rel: .007, Why: "the standard rounds area and load to three digits"})
	}
	for _, c := range []struct {
		size, class string
		want        float64
	}{{"M6", "8.8", 16100}, {"M10", "8.8", 46400}, {"M12", "12.9", 103000}, {"M16", "10.9", 163000}, {"M20", "8.8", 203000}} {
		outside.Check(t, outside.Case{Field: "hardware", Source: "ISO 898-1, minimum ultimate tensile loads", What: c.size + " class " + c.class + " tensile load, N", Got: tight(t, c.size, c.class, .2).Rupture.Value, Want: c.want, Rel: .007, Why: "the standard rounds area and load to three digits"})
	}
}

func TestTorqueTable(t *testing.T) {
	const src = "valve-actuator O&M manual E2K-405-0218 rev. 2 (2018), App. A.7, common bolt tightening torques: K 0.20, 75 % of proof"
	for _, c := range []struct {
		size, grade   string
		clamp, torque float64
	}{
		{"1/4-20", "2", 1312, 5.47}, {"3/8-16", "2", 3197, 20.0}, {"1/2-13", "2", 5853, 48.8}, {"5/8-11", "2", 9323, 97.1}, {"7/8-9", "2", 11435, 167}, {"1-8", "2", 14999, 250},
		{"1/4-20", "5", 2027, 8.45}, {"3/8-16", "5", 4941, 30.9}, {"1/2-13", "5", 9046, 75.4}, {"3/4-10", "5", 21293, 266}, {"7/8-9", "5", 29453, 430},
		{"5/16-18", "8", 4716, 24.6}, {"3/8-16", "8", 6975, 43.6}, {"1/2-13", "8", 12771, 106}, {"3/4-10", "8", 30060, 376}, {"1-8", "8", 54540, 909},
	} {
		r := tight(t, c.size, c.grade, .20)
		outside.Check(t, outside.Case{Field: "hardware", Source: src, What: c.size + " grade " + c.grade + " clamp, lb", Got: r.Clamp.Value / lbf, Want: c.clamp, Rel: .002, Why: "the table rounds the stress area"})
		outside.Check(t, outside.Case{Field: "hardware", Source: src, What: c.size + " grade " + c.grade + " torque, lb ft", Got: r.Torque.Value / (lbf * .3048), Want: c.torque, Rel: .006, Why: "three digits printed"})
	}
	// Two rows of that table are wrong by the standard itself: it takes 33 ksi for 3/4 grade 2 (J429: 55 up to 3/4), 74 ksi
	// for 1-8 grade 5 (J429: 85 up to 1 in). Ours follows J429.
	if got := tight(t, "3/4-10", "2", .2).Clamp.Value / lbf; math.Abs(got-.75*55000*.3345) > 20 {
		t.Errorf("3/4 grade 2 clamps %.0f lb", got)
	}
	if got := tight(t, "1-8", "5", .2).Clamp.Value / lbf; math.Abs(got-.75*85000*.6057) > 40 {
		t.Errorf("1-8 grade 5 clamps %.0f lb", got)
	}
}

func TestGrades(t *testing.T) {
	for _, c := range []struct {
		size, text, name string
		proof            float64
	}{{"3/8-16", "5", "SAE J429 grade 5", 85}, {"3/8-16", "Grade 8", "SAE J429 grade 8", 120}, {"3/8-16", "gr.2", "SAE J429 grade 2", 55}, {"1-1/8-7", "5", "SAE J429 grade 5", 74}, {"1", "SAE 5", "SAE J429 grade 5", 85}, {"7/8", "2", "SAE J429 grade 2", 33}} {
		g, err := ParseGrade(c.text, mustSize(t, c.size))
		if err != nil || g.Name != c.name || math.Abs(g.ProofMPa-c.proof*6.894757293168) > 1e-6 {
			t.Errorf("%s %s: %+v, %v", c.size, c.text, g, err)
		}
	}
	for _, c := range []struct {
		size, text string
		proof      float64
	}{{"M16", "8.8", 580}, {"M18", "8.8", 600}, {"M20", "class 10.9", 830}, {"M10", "12.9", 970}, {"M16", "9.8", 650}} {
		if g, err := ParseGrade(c.text, mustSize(t, c.size)); err != nil || g.ProofMPa != c.proof {
			t.Errorf("%s %s: %+v, %v", c.size, c.text, g, err)
		}
	}
	for _, c := range [][2]string{{"3/8-16", "8.8"}, {"M10", "5"}, {"M20", "9.8"}, {"3/8", "6"}, {"3/8", ""}, {"M10", "strong"}} {
		if _, err := ParseGrade(c[1], mustSize(t, c[0])); err == nil {
			t.Errorf("%s of grade %q was taken", c[0], c[1])
		}
	}
}

func TestLengths(t *testing.T) {
	// By hand, from the IFI technical bulletin of January 2007 with the greatest thicknesses of ASME B18.2.2 and B18.21.1.
	for _, c := range []struct {
		size        string
		grip        float64
		st          Stack
		need, stock float64
	}{
		{"3/8-16", 2.25, Stack{Flats: 2}, 2.872, 3}, {"1/2-13", .5, Stack{Flats: 2, Locks: 1}, 1.4688, 1.5}, {"1/2-13", 4.25, Stack{Flats: 2, Washer: USS}, 5.1158, 5.25},
		{"5/8-11", 1, Stack{Flats: 2}, 1.9828, 2}, {"1/4-20", 1.125, Stack{Flats: 1, Locks: 1}, 1.593, 1.75},
	} {
		c.st.GripMM = c.grip * inch
		b, err := c.st.Length(mustSize(t, c.size), "t.")
		if err != nil {
			t.Fatal(err)
		}
		if got, want := b.Need.Value/inch, c.need; math.Abs(got-want) > .0002 { // four digits
			t.Errorf("%s: %.10g, worked out %.10g", fmt.Sprintf("%s through %g in: length needed, in", c.size, c.grip), got, want)
		}
		if got, want := b.StockMM/inch, c.stock; math.Abs(got-want) > 1e-9 { // rounding
			t.Errorf("%s: %.10g, worked out %.10g", fmt.Sprintf("%s through %g in: length bought, in", c.size, c.grip), got, want)
		}
		if b.OutMM < 2*mustSize(t, c.size).PitchMM-1e-9 {
			t.Errorf("%s stands out %.2f mm only", b.Name, b.OutMM)
		}
	}
	for _, c := range []struct {
		size         string
		length, want float64
	}{{"3/8", 3, 1}, {"7/8", 5, 2}, {"1", 6, 2.25}, {"1/4", 6.5, 1}, {"7/16", 8, 1.375}, {"3/4", 7, 2}, {"1", 7, 2.5}} {
		outside.Check(t, outside.Case{Field: "hardware", Source: "ASME B18.2.1, thread lengths of hex cap screws", What: fmt.Sprintf("%s x %g thread, in", c.size, c.length), Got: mustSize(t, c.size).Thread(c.length*inch, "t.").Value / inch, Want: c.want, Abs: 1e-9, Why: "rounding"})
	}
	for _, c := range [][3]float64{{8, 100, 22}, {10, 100, 26}, {12, 150, 36}, {12, 250, 49}, {20, 100, 46}} {
		outside.Check(t, outside.Case{Field: "hardware", Source: "ISO 888, thread lengths", What: fmt.Sprintf("M%g x %g thread, mm", c[0], c[1]), Got: mustSize(t, fmt.Sprintf("M%g", c[0])).Thread(c[1], "t.").Value, Want: c[2], Abs: 1e-9, Why: "rounding"})
	}
	for _, bad := range []Stack{{}, {GripMM: -1}, {GripMM: 5, Flats: -1}, {GripMM: 2000}} {
		if b, err := bad.Length(mustSize(t, "3/8"), "t."); err == nil {
			t.Errorf("%+v gave %s", bad, b.Name)
		}
	}
}

func TestHoles(t *testing.T) {
	for size, want := range map[string]float64{"1/4": .28125, "5/16": .34375, "3/8": .40625, "7/16": .46875} {
		outside.Check(t, outside.Case{Field: "hardware", Source: "Machinery's Handbook, 31st ed., p. 1741 (ASME B18.2.8), normal fit", What: size + " clearance drill, in", Got: mustSize(t, size).Clearance(Normal, "").Value / inch, Want: want, Abs: 1e-9, Why: "rounding"})
	}
	for size, want := range map[string]float64{"7/16": .484, "1/2": .609, "5/8": .734, "3/4": .906, "7/8": 1.031, "1": 1.156} {
		outside.Check(t, outside.Case{Field: "hardware", Source: "Machinery's Handbook, 31st ed., p. 1741 (ASME B18.2.8), loose fit", What: size + " loose hole, in", Got: mustSize(t, size).Clearance(Loose, "").Value / inch, Want: want, Abs: .001, Why: "three digits printed"})
	}
	for size, want := range map[string][3]float64{"M6": {6.4, 6.6, 7}, "M12": {13, 13.5, 14.5}, "M16": {17, 17.5, 18.5}} {
		for i, fit := range []Fit{Close, Normal, Loose} {
			outside.Check(t, outside.Case{Field: "hardware", Source: "ISO 273", What: fmt.Sprintf("%s hole %d, mm", size, i), Got: mustSize(t, size).Clearance(fit, "").Value, Want: want[i]})
		}
	}
	for size, want := range map[string]float64{"3/8-16": .3125, "7/16-14": .368, "1/2-13": .421875, "9/16-12": .484375} {
		outside.Check(t, outside.Case{Field: "hardware", Source: "UNC tap drill tables", What: size + " tap drill, in", Got: mustSize(t, size).TapDrill("").Value / inch, Want: want, Abs: .0005, Why: "three digits printed"})
	}
	for size, want := range map[string]float64{"M8": 6.8, "M10": 8.5, "M12": 10.2, "M20": 17.5} {
		outside.Check(t, outside.Case{Field: "hardware", Source: "metric coarse tap drill tables", What: size + " tap drill, mm", Got: mustSize(t, size).TapDrill("").Value, Want: want})
	}
}

// TestTablesGrow: whatever the tables list grows with the diameter, and holes are wider than bolts.
func TestTablesGrow(t *testing.T) {
	for i, r := range inchRows {
		if !(r.close > r.dia && r.normal > r.close && r.lax > r.normal && r.tapUNC < r.dia && r.tapUNF >= r.tapUNC && r.nutFlats > r.dia && r.saeOD > r.normal && r.ussOD > r.saeOD-1e-9) {
			t.Errorf("row %s is out of order: %+v", r.name, r)
		}
		if i > 0 {
			if p := inchRows[i-1]; !(r.dia > p.dia && r.normal > p.normal && r.nutMax >= p.nutMax && r.nutFlats >= p.nutFlats && r.saeOD > p.saeOD && r.lock >= p.lock) {
				t.Errorf("row %s does not grow over %s", r.name, p.name)
			}
		}
	}
	for i, r := range metricRows {
		if !(r.fine > r.dia && r.medium > r.fine && r.lax > r.medium && r.tap < r.dia && r.washerOD > r.medium && r.washerMax > r.washer) {
			t.Errorf("M%g is out of order: %+v", r.dia, r)
		}
		if i > 0 {
			if p := metricRows[i-1]; !(r.dia > p.dia && r.medium > p.medium && r.nutMax > p.nutMax && r.nutFlats > p.nutFlats && r.washerOD > p.washerOD) {
				t.Errorf("M%g does not grow", r.dia)
			}
		}
	}
}

func ExampleTighten() {
	s, _ := ParseSize("3/8-16")
	g, _ := ParseGrade("5", s)
	t, err := Tighten(s, g, DryK, UsualFraction, "foot.")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s %s: clamp %.0f N, torque %.1f N*m\n", s.Name, g.Name, t.Clamp.Value, t.Torque.Value)
	// Output: 3/8-16 SAE J429 grade 5: clamp 21974 N, torque 41.9 N*m
}
