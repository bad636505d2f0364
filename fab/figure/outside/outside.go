// Package outside registers the checks of the program against the outside world: each names its field, its source and the
// tolerance reached. Tests call Check, which also leaves every check that ran as an attribute of its test ("outside", one
// JSON line); `go test -json` shows them, and the sources register that the program prints is made from those lines.
package outside

import (
	"encoding/json"
	"math"
	"testing"
)

// Case is one comparison with a published value.
type Case struct {
	Field  string  // sections, geometry, nest, weld, loads, hardware, lift, paint, price
	Source string  // standard and clause, handbook and page, paper and table
	What   string  // what is compared: "HSS4X2X1/8 Ix"
	Got    float64 // ours
	Want   float64 // published
	Abs    float64 // absolute tolerance, in the value's unit
	Rel    float64 // relative tolerance
	Why    string  // why this tolerance (digits printed, rounding of the source); needed where a tolerance is not 0
}

// Line is one check as the register keeps it.
type Line struct {
	Field, Source, What, Test string
	Got, Want, Abs, Rel       float64
	Why                       string
	Held                      bool
}

// Check fails the test where the value is off by more than the tolerance, and where the case names no source.
func Check(t testing.TB, c Case) bool {
	t.Helper()
	if c.Field == "" || c.Source == "" || c.What == "" {
		t.Errorf("an outside check needs a field, a source and what it compares: %+v", c)
		return false
	}
	if (c.Abs != 0 || c.Rel != 0) && c.Why == "" {
		t.Errorf("%s: a tolerance needs a reason", c.What)
	}
	held := math.Abs(c.Got-c.Want) <= c.Abs+c.Rel*math.Abs(c.Want)+1e-12*math.Abs(c.Want)
	if !held {
		t.Errorf("%s: %s: %.10g, published %.10g (tolerance %g + %g%%)", c.Source, c.What, c.Got, c.Want, c.Abs, 100*c.Rel)
	}
	register(t, Line{c.Field, c.Source, c.What, t.Name(), c.Got, c.Want, c.Abs, c.Rel, c.Why, held})
	return held
}

func register(t testing.TB, l Line) {
	t.Helper()
	b, err := json.Marshal(l)
	if err != nil {
		t.Errorf("register: %v", err)
		return
	}
	t.Attr("outside", string(b))
}
