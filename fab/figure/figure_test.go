package figure_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/figure"
)

var pythagoras = figure.Source{Kind: figure.Geometry, Text: "Pythagoras"}

func diagonal() figure.Figure {
	return figure.New("frame.diagonal", "diagonal", "mm", "sqrt(L^2 + W^2)", pythagoras,
		figure.In("L", "length", 2438.4, "mm", "job line 12"), figure.In("W", "width", 1219.2, "mm", "job line 13"))
}

func TestNewComputesItsFormula(t *testing.T) {
	f := diagonal()
	if want := math.Hypot(2438.4, 1219.2); math.Abs(f.Value-want) > 1e-9 {
		t.Errorf("%g, want %g", f.Value, want)
	}
	if err := f.Check(); err != nil {
		t.Error(err)
	}
	if f.Found {
		t.Error("a computed figure is marked as found")
	}
}

func TestNewPanicsOnAFormulaThatDoesNotEvaluate(t *testing.T) {
	defer func() {
		r := recover()
		if r == nil || !strings.Contains(fmt.Sprint(r), "frame.x") {
			t.Errorf("recovered %v", r)
		}
	}()
	figure.New("frame.x", "x", "mm", "L + Q", pythagoras, figure.In("L", "length", 1, "mm", "job"))
}

// What cannot be right is refused: another value than the formula's, no source, a formula that lacks an input.
func TestCheckRefuses(t *testing.T) {
	for what, c := range map[string]struct {
		f    figure.Figure
		says string
	}{
		"another value":       {func() figure.Figure { f := diagonal(); f.Value *= 1 + 1e-6; return f }(), "shown is"},
		"not a number":        {func() figure.Figure { f := diagonal(); f.Value = math.NaN(); return f }(), "shown is"},
		"infinite":            {func() figure.Figure { f := diagonal(); f.Value = math.Inf(1); return f }(), "shown is"},
		"no source":           {func() figure.Figure { f := diagonal(); f.Source = figure.Source{}; return f }(), "no source"},
		"an input is missing": {func() figure.Figure { f := diagonal(); f.Inputs = f.Inputs[:1]; return f }(), `"W" has no value`},
		"an input changed":    {func() figure.Figure { f := diagonal(); f.Inputs[0].Value = 1; return f }(), "shown is"},
		"no formula":          {func() figure.Figure { f := diagonal(); f.Formula = ""; return f }(), "ends too early"},
		"found otherwise":     {figure.Found("nest.cost", "cost", 110, "USD", "n*p", figure.Source{Kind: figure.Computed, Text: "search"}, figure.In("n", "sticks", 3, "", "nest"), figure.In("p", "price", 34.5, "USD", "job")), "gives 103.5"},
	} {
		if err := c.f.Check(); err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), c.f.ID) {
			t.Errorf("%s: %v, want %q", what, err, c.says)
		}
	}
	found := figure.Found("nest.cost", "cost", 103.5, "USD", "n*p", figure.Source{Kind: figure.Computed, Text: "search"}, figure.In("n", "sticks", 3, "", "nest"), figure.In("p", "price", 34.5, "USD", "job"))
	if err := found.Check(); err != nil || !found.Found {
		t.Errorf("a found figure that holds: %v", err)
	}
}

func TestFiguresChain(t *testing.T) {
	d := diagonal()
	half := figure.New("frame.half", "half", "mm", "d/2", pythagoras, d.As("d"))
	if in := half.Inputs[0]; in.From != d.ID || in.Value != d.Value || in.Unit != "mm" || in.Name != "diagonal" {
		t.Errorf("the chain is broken: %+v", in)
	}
	g := d.Rounded("to 1/16 in").Without("the paint").Named("other")
	if g.Rounding != "to 1/16 in" || g.Omits != "the paint" || g.ID != "other" || d.ID != "frame.diagonal" || d.Rounding != "" {
		t.Errorf("%+v from %+v", g, d)
	}
}

func TestSourceInOneLine(t *testing.T) {
	for want, s := range map[string]figure.Source{
		"Pythagoras":            pythagoras,
		"common practice: rule": {Kind: figure.Common, Text: "rule"},
		"shop's own: rate":      {Kind: figure.Shop, Text: "rate"},
		"computed: search":      {Kind: figure.Computed, Text: "search"},
		"geometry":              {Kind: figure.Geometry},
		"":                      {},
	} {
		if got := s.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func ExampleNew() {
	f := figure.New("sling.factor", "load factor", "", "1/sin(a)", figure.Source{Kind: figure.Geometry, Text: "force triangle"},
		figure.In("a", "angle from horizontal", 30, "deg", "angle"))
	fmt.Printf("%s = %s = %.3g (%s)\n", f.Name, f.Formula, f.Value, f.Source)
	// Output: load factor = 1/sin(a) = 2 (force triangle)
}
