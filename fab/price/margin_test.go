package price

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/figure/outside"
)

func TestMarkupAgainstMargin(t *testing.T) {
	const chart = "margin and markup chart, trade Q&A pages"
	for _, c := range []struct{ markup, margin float64 }{{25, 20}, {50, 33.3333}, {100, 50}, {200, 66.6667}, {300, 75}} {
		outside.Check(t, outside.Case{Field: "price", Source: chart, What: "margin of a markup", Got: 100 * MarginOf(c.markup/100).Value, Want: c.margin, Abs: .001, Why: "printed to three or four decimals"})
		outside.Check(t, outside.Case{Field: "price", Source: chart, What: "markup of a margin", Got: 100 * MarkupOf(c.margin/100).Value, Want: c.markup, Abs: .02, Why: "the margin is printed rounded"})
	}
	for _, c := range []struct{ markup, margin float64 }{{10, 9.091}, {15, 13.043}, {30, 23.077}, {35, 25.926}} { // m = M/(1+M), worked to three decimals
		if got := 100 * MarginOf(c.markup/100).Value; math.Abs(got-c.margin) > .001 {
			t.Errorf("margin of a markup of %g %%: %g, worked out %g", c.markup, got, c.margin)
		}
		if got := 100 * MarkupOf(c.margin/100).Value; math.Abs(got-c.markup) > .02 {
			t.Errorf("markup of a margin of %g %%: %g, worked out %g", c.margin, got, c.markup)
		}
	}
}

func TestPrice(t *testing.T) {
	f, err := ByMarkup(240, .30)
	// 1e-9: one multiplication of exact decimals in binary.
	if err != nil || math.Abs(f.Value-312) > 1e-9 {
		t.Errorf("240 marked up by 30%%: %v %v", f.Value, err)
	}
	f, err = ByMargin(240, .30)
	if err != nil || math.Abs(f.Value-342.857142857) > 1e-6 {
		t.Errorf("240 with a margin of 30%%: %v %v", f.Value, err)
	}
	if _, err := ByMargin(240, 1); err == nil {
		t.Error("a margin of 100% has no price")
	}
	if _, err := ByMarkup(240, -1); err == nil {
		t.Error("a markup of -100% gives the work away")
	}
}

func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.Float64Range(-.9, 20).Draw(t, "markup")
		if back := MarkupOf(MarginOf(u).Value).Value; math.Abs(back-u) > 1e-9*(1+math.Abs(u))*(1+math.Abs(u)) {
			t.Fatalf("%g comes back as %g", u, back)
		}
	})
}
