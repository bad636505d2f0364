package paint

import (
	"testing"

	"bench.example/soapstone/fab/figure/outside"
)

const (
	mil      = 0.0254     // mm
	sqftGal  = 40.7458333 // sq ft/US gal in one m2/l
	printed  = "the sheet prints whole tens of square feet"
	thinNote = "printed to two decimals"
)

func TestCoverage(t *testing.T) {
	for _, c := range []struct {
		source, what       string
		solids, mils, thin float64
		loss, want, abs    float64
		metric             bool
		why                string
	}{
		{"coating makers' theoretical spreading rate sheet", "100 % solids at 1 mil", 1, 1, 0, 0, 1604, 0.5, false, "printed as a whole number"},
		{"SSPC-Paint 25, section 2", "65 % at 2 mils", .65, 2, 0, 0, 520, 2, false, printed},
		{"SSPC phenolic zinc-dust paint specification, section 2", "60 % at 2 mils", .60, 2, 0, 0, 480, 2, false, printed},
		{"SSPC one-coat linseed primer specification", "87 % at 4 mils", .87, 4, 0, 0, 350, 2, false, printed},
		{"enamel maker's technical data 412402, p. 3", "43 % at 1 mil", .43, 1, 0, 0, 690, 1, false, printed},
		{"enamel maker's technical data 412402, p. 3", "42 % at 2.5 mils, 15 % loss", .42, 2.5, 0, .15, 230, 2, false, printed},
		{"enamel maker's technical data 412402, p. 3", "43 % at 1.5 mils, 15 % loss", .43, 1.5, 0, .15, 390, 3, false, "the sheet rounds 387.6 up to tens"},
		{"coatings note on practical coverage, thinning example", "50 % thinned by 10 % at 60 um", .50, 60.0 / 25.4, .10, 0, 7.57, .01, true, thinNote},
		{"coatings note on practical coverage, thinning example", "the same at 30 % loss", .50, 60.0 / 25.4, .10, .30, 5.299, .01, true, thinNote},
	} {
		got := Practical(Coverage(c.solids, c.mils*mil, c.thin), c.loss).Value
		if !c.metric {
			got *= sqftGal
		}
		outside.Check(t, outside.Case{Field: "paint", Source: c.source, What: c.what, Got: got, Want: c.want, Abs: c.abs, Why: c.why})
	}
	outside.Check(t, outside.Case{Field: "paint", Source: "enamel maker's technical data 412402, p. 3", What: "wet film for 1.5 mils dry at 42.5 % solids",
		Got: WetFilm(.425, 1.5*mil, 0).Value / mil, Want: 3.5, Abs: .05, Why: "printed to one decimal"})
}

func TestLitresAndFigures(t *testing.T) {
	l := Litres(10, .5, .05, .2, 2)
	// 10 m2 twice, 0.05 mm dry: 1 l of solids, 2 l of paint, 2.5 l with a fifth lost.
	if l.Value < 2.4999999 || l.Value > 2.5000001 {
		t.Errorf("litres %g, want 2.5", l.Value)
	}
	for _, f := range []interface{ Check() error }{l, Coverage(.5, .05, .1), WetFilm(.5, .05, .1)} {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
}
