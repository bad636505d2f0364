package table_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/figure/outside"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/stock/table"
)

const aiscSource = "AISC Shapes Database v16.0 (2023), Steel Construction Manual, 16th ed., Part 1"

// row is one line of a published table by its column names.
type row map[string]string

func (r row) value(t testing.TB, col string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[col], 64)
	if err != nil {
		t.Fatalf("%s: %v", col, err)
	}
	return v
}

func rows(t testing.TB, name string) []row {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	r.LazyQuotes = true
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := make([]row, 0, len(all))
	for _, line := range all[1:] {
		m := row{}
		for i, v := range line {
			m[all[0][i]] = v
		}
		out = append(out, m)
	}
	return out
}

// published makes the section that a row of the AISC table describes.
func published(t testing.TB, r row) (steel.Section, string) {
	t.Helper()
	label, spec := r["label"], steel.Spec{Grade: "A500-C"}
	sides := r["depth_in"] + " x " + r["width_in"] + " x " + r["wall_nominal_in"]
	family := ""
	switch {
	case strings.HasPrefix(label, "Pipe"):
		family, spec.Shape = "pipe", steel.Pipe
		for _, k := range [][2]string{{"XXS", "xxs"}, {"XS", "sch80"}, {"STD", "sch40"}} {
			if n, ok := strings.CutSuffix(label[4:], k[0]); ok {
				spec.Size = n + " " + k[1]
				break
			}
		}
	case strings.HasPrefix(label, "HSS") && strings.Count(label, "X") == 1:
		family, spec.Shape, spec.Size = "round tube", steel.RoundTube, r["depth_in"]+" x "+r["wall_nominal_in"]
	case strings.HasPrefix(label, "HSS"):
		family, spec.Shape, spec.Size = "square and rectangular tube", steel.RectTube, sides
	case strings.HasPrefix(label, "L"):
		family, spec.Shape, spec.Size, spec.Grade = "angle", steel.Angle, sides, "A36"
	default:
		family, spec.Shape, spec.Size, spec.Grade = "channel", steel.Channel, label, "A36"
	}
	s, err := steel.New(spec, table.Steel())
	if err != nil {
		t.Fatalf("%s: %v", label, err)
	}
	return s, family
}

// columns of the table with the power of the inch and our number.
var columns = []struct {
	name, col string
	power     float64
	ours      func(steel.Properties) float64
}{
	{"weight", "weight_lb_ft", 0, func(p steel.Properties) float64 { return p.MassKGM * 0.3048 / measure.PoundKG }},
	{"area", "area_in2", 2, func(p steel.Properties) float64 { return p.AreaMM2 }},
	{"Ix", "Ix_in4", 4, func(p steel.Properties) float64 { return p.IxMM4 }},
	{"Sx", "Sx_in3", 3, func(p steel.Properties) float64 { return p.SxMM3 }},
	{"Zx", "Zx_in3", 3, func(p steel.Properties) float64 { return p.ZxMM3 }},
	{"rx", "rx_in", 1, func(p steel.Properties) float64 { return p.RxMM }},
	{"Iy", "Iy_in4", 4, func(p steel.Properties) float64 { return p.IyMM4 }},
	{"Sy", "Sy_in3", 3, func(p steel.Properties) float64 { return p.SyMM3 }},
	{"Zy", "Zy_in3", 3, func(p steel.Properties) float64 { return p.ZyMM3 }},
	{"ry", "ry_in", 1, func(p steel.Properties) float64 { return p.RyMM }},
	{"J", "J_in4", 4, func(p steel.Properties) float64 { return p.JMM4 }},
}

// reached is the tolerance reached, per family and property, and why it is not less. The table prints 3 figures, whose
// rounding alone is up to 0.5 %.
func reached(family, property string) (rel float64, why string) {
	digits := "the table prints 3 figures (rounding up to 0.5 %)"
	switch family {
	case "square and rectangular tube":
		switch property {
		case "Ix", "Iy":
			return 0.0095, digits + "; thick small tube reads low: the table takes a corner's own second moment larger than it is, by 0.754 t^4 in all (TestWhyThickTubeReadsLow)"
		case "Sx", "Sy", "rx", "ry":
			return 0.0080, digits + "; and as Ix, from which they come"
		}
		return 0.0050, digits
	case "round tube":
		return 0.0050, digits
	case "pipe":
		switch property {
		case "area":
			return 0.0170, "the table's pipe areas keep neither wall exactly: 0.93 t nominal rounded, areas rounded again (worst Pipe2STD)"
		case "Ix", "Iy", "J":
			return 0.0195, "the table prints small pipe with 2 figures (worst Pipe1/2STD, .016)"
		}
		return 0.0050, digits
	case "angle":
		switch property {
		case "weight":
			return 0.0160, digits + "; root fillet and rounded toes are left out, and weights are printed to a tenth"
		case "area":
			return 0.0115, digits + "; root fillet and rounded toes are left out"
		case "J":
			return 0.0960, "the root fillet is left out: J reads low, on the safe side"
		case "Zx", "Zy":
			return 0.0350, "root fillet and rounded toes are left out: modulus reads high on thin wide angles (worst L4X4X1/4)"
		}
		rel := map[string]float64{"Ix": 0.0170, "Iy": 0.0190, "Sx": 0.0215, "Sy": 0.0235, "rx": 0.0090, "ry": 0.0105}[property]
		return rel, "root fillet and rounded toes are left out: rounded toes take away where the arm is longest (worst L3X3X3/16 and L4X3X1/4)"
	case "channel":
		if property == "rx" || property == "ry" {
			return 0.0065, digits + ", of A and I both"
		}
		return 1e-4, "published value taken over; what is left is the nanometre of the flange"
	}
	return 0, ""
}

// Every row and property is compared; the register gets the worst row of each family and property.
func TestPublishedSections(t *testing.T) {
	type worst struct {
		off, got, want float64
		label          string
		rows           int
	}
	found := map[string]*worst{}
	var order [][2]string
	for _, r := range rows(t, "aisc.csv") {
		s, family := published(t, r)
		p := s.Properties(steel.Design)
		for _, c := range columns {
			if r[c.col] == "" {
				continue
			}
			got, want := c.ours(p), r.value(t, c.col)*math.Pow(measure.InchMM, c.power)
			k := family + " " + c.name
			if found[k] == nil {
				found[k] = &worst{off: -1}
				order = append(order, [2]string{family, c.name})
			}
			w := found[k]
			w.rows++
			rel, _ := reached(family, c.name)
			off := math.Abs(got/want - 1)
			if off > rel {
				t.Errorf("%s %s: %.6g, published %.6g (%+.2f %%)", r["label"], c.name, got, want, 100*(got/want-1))
			}
			if off > w.off {
				w.off, w.got, w.want, w.label = off, got, want, r["label"]
			}
		}
	}
	for _, k := range order {
		w := found[k[0]+" "+k[1]]
		rel, why := reached(k[0], k[1])
		outside.Check(t, outside.Case{Field: "sections", Source: aiscSource, What: fmt.Sprintf("%s %s, worst of %d rows: %s", k[0], k[1], w.rows, w.label),
			Got: w.got, Want: w.want, Rel: rel, Why: why})
		// a tolerance far above what is reached would hide a fault
		if rel > 0.01 && w.off < 0.8*rel {
			t.Errorf("%s %s: tolerance %g, reached is %g", k[0], k[1], rel, w.off)
		}
	}
}

// digits3 rounds to 3 significant figures.
func digits3(v float64) string { return strconv.FormatFloat(v, 'e', 2, 64) }

// One convention explains every row of square and rectangular tube to the last printed figure: outside radius 2 t, inside
// t, and second moments 0.75451 t^4 more than that outline has, which is what taking each corner's own second moment as
// (pi/16 - 4/(9 pi))(Ro^4 - Ri^4) gives. It is inferred from the fit, not seen written down. We keep the exact geometry,
// which is up to 0.93 % lower and so on the safe side.
func TestWhyThickTubeReadsLow(t *testing.T) {
	n, exact, explained := 0, 0, 0
	for _, r := range rows(t, "aisc.csv") {
		s, family := published(t, r)
		if family != "square and rectangular tube" {
			continue
		}
		p := s.Properties(steel.Design)
		d := s.DesignWallMM / measure.InchMM
		for _, c := range columns {
			if c.power == 0 {
				continue
			}
			ours := c.ours(p) / math.Pow(measure.InchMM, c.power)
			printed := digits3(r.value(t, c.col))
			n++
			if digits3(ours) == printed {
				exact++
			}
			ix, iy := p.IxMM4/math.Pow(measure.InchMM, 4)+0.75451*math.Pow(d, 4), p.IyMM4/math.Pow(measure.InchMM, 4)+0.75451*math.Pow(d, 4)
			switch area := p.AreaMM2 / math.Pow(measure.InchMM, 2); c.name {
			case "Ix":
				ours = ix
			case "Iy":
				ours = iy
			case "Sx":
				ours = 2 * ix / s.Depth.Inches()
			case "Sy":
				ours = 2 * iy / s.Width.Inches()
			case "rx":
				ours = math.Sqrt(ix / area)
			case "ry":
				ours = math.Sqrt(iy / area)
			}
			if digits3(ours) == printed || r[c.col] == "10" && math.Round(ours) == 10 { // HSS4X4X3/16's J stands there with 2 figures
				explained++
			} else {
				t.Logf("%s %s: %.6g, printed %s", r["label"], c.name, ours, printed)
			}
		}
	}
	t.Logf("%d values: exact geometry prints the same 3 figures in %d, with the convention %d", n, exact, explained)
	if explained != n {
		t.Errorf("the convention explains %d of %d printed values", explained, n)
	}
}

// A mill's weight is a band: makers reckon with sharp corners or rounded ones, with 3.4 or 0.284, and walls may be 10 %
// off anyway. Ours lies up to 9.1 % below (sharp corners; worst on small thick tube) and up to 3.2 % above (Century rounds
// light tube by 2 t, where mechanical tube is tighter). Printed digits come on top.
func TestMillWeights(t *testing.T) {
	type key struct{ source, shape string }
	type worst struct {
		off, got, want float64
		half           float64
		size           string
		n              int
	}
	found := map[key]*worst{}
	var order []key
	for _, r := range rows(t, "mill.csv") {
		sh, err := steel.ParseShape(strings.Replace(strings.Replace(r["shape"], "flat-bar", "flat", 1), "angle-", "angle", 1))
		if err != nil {
			t.Fatal(err)
		}
		s, err := steel.New(steel.Spec{Shape: sh, Size: r["size"]}, table.Steel())
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		got, want := s.MassKGM()*0.3048/measure.PoundKG, r.value(t, "lb_ft")
		k := key{r["source"], r["shape"]}
		if found[k] == nil {
			found[k] = &worst{off: -1}
			order = append(order, k)
		}
		w := found[k]
		w.n++
		if off := math.Abs(got/want - 1); off > w.off {
			w.off, w.got, w.want, w.size, w.half = off, got, want, r["size"], halfDigit(r["lb_ft"])
		}
		low, high := -0.016, 0.016
		if s.Shape.Hollow() {
			low, high = -0.091, 0.032
		}
		half := halfDigit(r["lb_ft"])
		if off := got/want - 1; got < want*(1+low)-half || got > want*(1+high)+half {
			t.Errorf("%s %s (%s): %.4f lb/ft, printed %.4f (%+.1f %%)", r["shape"], r["size"], r["source"], got, want, 100*off)
		}
	}
	for _, k := range order {
		w := found[k]
		rel, why := 0.016, "density 0.2833, 0.284 or 490 lb/ft3, and printed digits; angles without fillet"
		if strings.Contains(k.shape, "tube") {
			rel, why = 0.091, "makers reckon with sharp corners or rounded ones: a band, not a point"
		}
		outside.Check(t, outside.Case{Field: "sections", Source: "mill weights, " + millSource[k.source],
			What: fmt.Sprintf("%s lb/ft, worst of %d rows: %s", k.shape, w.n, w.size), Got: w.got, Want: w.want, Rel: rel, Abs: w.half, Why: why})
	}
}

// halfDigit is half a unit of the last printed decimal.
func halfDigit(printed string) float64 {
	_, decimals, _ := strings.Cut(printed, ".")
	return 0.5 * math.Pow(10, -float64(len(decimals)))
}

var millSource = map[string]string{
	"EWCO":    "EWCO, Specifications for Mechanical and Structural Tubing, rectangular",
	"Century": "Acier Century, Commercial quality tubes",
	"rebar":   "Concrete Construction, Rebar size and weights",
	"Silver":  "Silver Steels, Round bar weight calculation",
	"D&M":     "D&M Steel, Hot-Roll Flat Bar",
	"Mott":    "R. Mott, Machine Elements in Mechanical Design, 4th ed., Table A16-1",
	"t402":    "tquigley.com t402, Unequal leg angle",
	"toolbox": "Engineering ToolBox d_1323, Steel Angles - Unequal Legs",
}

// With the maker's own convention (sharp corners, 3.4 lb/ft an in2) the band closes: the difference above is the corner.
func TestMakersConventionClosesTheBand(t *testing.T) {
	cat := table.Steel()
	for i := range cat.Grades {
		cat.Grades[i].Corner = steel.CornerRule{}
	}
	for i := range cat.Materials {
		cat.Materials[i].DensityKGM3 = 3.4 * 144 * measure.PoundKG / math.Pow(0.3048, 3)
	}
	for _, r := range rows(t, "mill.csv") {
		if r["source"] != "EWCO" {
			continue
		}
		s, err := steel.New(steel.Spec{Shape: steel.RectTube, Size: r["size"]}, cat)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := s.MassKGM()*0.3048/measure.PoundKG, r.value(t, "lb_ft"); math.Abs(got-want) > 6e-5 { // 4 decimals are printed
			t.Errorf("%s: %.5f, printed %.4f", r["size"], got, want)
		}
	}
}

func TestGauges(t *testing.T) {
	cat := table.Steel()
	for _, g := range []struct {
		name, source string
		table        steel.GaugeTable
		want         map[string]float64
	}{
		{"tube", "Birmingham Wire Gauge: McNeilus Steel spec book p. 15; Engineering ToolBox d_508", cat.TubeGauge,
			map[string]float64{"7": .180, "8": .165, "9": .148, "10": .134, "11": .120, "12": .109, "13": .095, "14": .083, "15": .072, "16": .065, "17": .058, "18": .049, "19": .042, "20": .035}},
		{"stainless", "CableOrganizer, Standard sheet metal gauges, stainless column", cat.StainlessGauge,
			map[string]float64{"10": .1406, "11": .1250, "12": .1094, "14": .0781, "16": .0625, "18": .0500, "20": .0375}},
		{"aluminium", "CableOrganizer, Standard sheet metal gauges, aluminium column", cat.AluminiumGauge,
			map[string]float64{"10": .1019, "11": .0907, "12": .0808, "14": .0641, "16": .0508, "18": .0403, "20": .0320}},
	} {
		for n, want := range g.want {
			outside.Check(t, outside.Case{Field: "sections", Source: g.source, What: g.name + " gauge " + n + ", in", Got: g.table.Thickness[n].Inches(), Want: want})
		}
	}
	// sheet: the law's weight over 41.82 lb/ft2 an inch
	for n, weight := range map[string]float64{"7": 7.5, "8": 6.875, "9": 6.25, "10": 5.625, "11": 5, "12": 4.375, "13": 3.75, "14": 3.125, "15": 2.8125, "16": 2.5, "17": 2.25, "18": 2, "19": 1.75, "20": 1.5} {
		outside.Check(t, outside.Case{Field: "sections", Source: "15 U.S.C. 206, weights, over 41.82 lb/ft2 per inch", What: "sheet gauge " + n + ", in",
			Got: cat.SheetGauge.Thickness[n].Inches(), Want: weight / 41.82, Abs: 0.00006, Why: "printed to four places"})
	}
}

// The same number is a different thickness on tube and on flat, and the plan must not mix them.
func TestElevenGauge(t *testing.T) {
	cat := table.Steel()
	for _, c := range []struct {
		shape       steel.Shape
		size, grade string
		want        measure.Length
	}{
		{steel.RectTube, "2-1/2 x 1-1/2 x 11ga", "", 1200}, {steel.Flat, "3 x 11ga", "", 1196}, {steel.Angle, "2 x 2 x 11ga", "", 1196},
		{steel.Flat, "3 x 11ga", "304", 1250}, {steel.Flat, "3 x 11ga", "6061-T6", 907},
	} {
		s, err := steel.New(steel.Spec{Shape: c.shape, Size: c.size, Grade: c.grade}, cat)
		if err != nil || s.Wall != c.want*measure.Mil/10 {
			t.Errorf("%s %s %s: %v in, %v", c.shape, c.size, c.grade, s.Wall.Inches(), err)
		}
	}
}

func TestDesignWallsNear093(t *testing.T) {
	for _, w := range table.Steel().DesignWalls {
		if off := w.Design.Inches() - 0.93*w.Nominal.Inches(); math.Abs(off) > 0.0013 {
			t.Errorf("%g: design wall %g is %g off 0.93 t", w.Nominal.Inches(), w.Design.Inches(), off)
		}
	}
	for _, r := range rows(t, "aisc.csv") {
		if r["wall_design_in"] == "" {
			continue
		}
		s, _ := published(t, r)
		outsideWall := r.value(t, "wall_design_in") * measure.InchMM
		if math.Abs(s.DesignWallMM-outsideWall) > 1e-9 {
			t.Errorf("%s: design wall %g in, printed %s", r["label"], s.DesignWallMM/measure.InchMM, r["wall_design_in"])
		}
	}
}

func TestMaterials(t *testing.T) {
	cat := table.Steel()
	for _, c := range []struct {
		grade, source string
		fy, fu        float64
	}{
		{"A36", "AISC Manual, Table 2-4", 36, 58}, {"A500-B", "ANSI/AISC 360-22 Commentary Table C-A3.2", 46, 58},
		{"A500-C", "ANSI/AISC 360-22 Commentary Table C-A3.2", 50, 62}, {"A53-B", "ANSI/AISC 360-22 Commentary Table C-A3.2", 35, 60},
		{"A513", "ASTM A513 type 1, 1010 (Boyer Steel, A513 T1 HR ERW)", 32, 45}, {"304", "ASTM A240 summary", 30, 75}, {"304L", "ASTM A240 summary", 25, 70},
		{"6061-T6", "MMPDS-01 note, as welded, all forms", 20, 24},
	} {
		g, err := cat.Grade(c.grade)
		if err != nil {
			t.Fatal(err)
		}
		outside.Check(t, outside.Case{Field: "sections", Source: c.source, What: c.grade + " Fy, ksi", Got: g.FyMPa / measure.KsiMPa, Want: c.fy})
		outside.Check(t, outside.Case{Field: "sections", Source: c.source, What: c.grade + " Fu, ksi", Got: g.FuMPa / measure.KsiMPa, Want: c.fu})
	}
	m, err := cat.Material("carbon-steel")
	if err != nil {
		t.Fatal(err)
	}
	outside.Check(t, outside.Case{Field: "sections", Source: "A36 Steel Technical Data Sheet: 7.85 g/cc", What: "density of steel, kg/m3", Got: m.DensityKGM3, Want: 7850,
		Rel: 0.0002, Why: "490 lb/ft3, by which AISC's weights are reckoned, is 7849.0"})
	outside.Check(t, outside.Case{Field: "sections", Source: "ANSI/AISC 360-22, symbols", What: "E, ksi", Got: m.EMPa / measure.KsiMPa, Want: 29000})
	outside.Check(t, outside.Case{Field: "sections", Source: "ANSI/AISC 360-22, symbols", What: "G, ksi", Got: m.GMPa / measure.KsiMPa, Want: 11200})
}

// Every grade makes a section of every shape that it is said to be sold in, with a material and sources, and every shape's
// usual grade is in the catalogue.
func TestCatalogueIsWhole(t *testing.T) {
	cat := table.Steel()
	for _, g := range cat.Grades {
		if g.Source.Kind == "" || !(g.FyMPa > 0) || !(g.FuMPa > g.FyMPa) {
			t.Errorf("%s: %+v", g.Name, g)
		}
		for _, shape := range g.Shapes {
			s, err := steel.New(steel.Spec{Shape: shape, Size: shape.SizeExample(), Grade: g.Name}, cat)
			if err != nil {
				t.Errorf("%s %s: %v", g.Name, shape, err)
				continue
			}
			for _, f := range s.Figures("", steel.Design) {
				if err := f.Check(); err != nil {
					t.Error(err)
				}
			}
		}
	}
	for _, name := range steel.ShapeNames() {
		shape, err := steel.ParseShape(name)
		if err != nil {
			t.Fatal(err)
		}
		if s, err := steel.New(steel.Spec{Shape: shape, Size: shape.SizeExample()}, cat); err != nil || !s.UsualGrade {
			t.Errorf("%s %s: %v", shape, shape.SizeExample(), err)
		}
	}
	for _, p := range cat.Pipes {
		for name, wall := range p.Schedules {
			if 2*wall >= p.Outside || p.Source.Kind == "" {
				t.Errorf("pipe %s %s: wall %g of %g", p.Nominal, name, wall.Inches(), p.Outside.Inches())
			}
			if _, err := steel.New(steel.Spec{Shape: steel.Pipe, Size: p.Nominal + " " + name}, cat); err != nil {
				t.Error(err)
			}
		}
	}
	for _, g := range []steel.GaugeTable{cat.TubeGauge, cat.SheetGauge, cat.StainlessGauge, cat.AluminiumGauge} {
		if g.Source.Kind != figure.Catalogue || g.Source.Text == "" {
			t.Errorf("a gauge table without a source: %+v", g.Source)
		}
	}
}
