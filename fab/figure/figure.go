// Package figure holds a value together with the working that led to it: the formula in plain notation, the inputs with
// their values and where they came from, the rounding, the source, and what it does not consider.
//
// The formula is not a description: New computes the value by evaluating it, so that what is shown and what is computed
// cannot drift apart. Where a value comes out of a search or a sum over many parts (a nest, a frame analysis), Found
// takes the value and a formula that checks it from the shown inputs; Check compares the two, and a test does so for
// every figure that the program prints.
package figure

import (
	"fmt"
	"math"
	"strings"
)

// Kind says what sort of authority stands behind a formula or a value.
type Kind string

// Kinds of source.
const (
	Standard  Kind = "standard"        // a published standard, with clause
	Handbook  Kind = "handbook"        // a handbook, textbook or paper, with page or section
	Geometry  Kind = "geometry"        // a theorem; named
	Common    Kind = "common practice" // a fact of the trade
	Shop      Kind = "shop's own"      // the user's setting
	Computed  Kind = "computed"        // found by soapstone's own search, with what proves it
	Catalogue Kind = "catalogue"       // a table of the catalogue, with its source
)

// Source says where a formula or a value comes from.
type Source struct {
	Kind Kind
	Text string // standard and clause, handbook and page; what is common practice
}

// String gives the source in one line.
func (s Source) String() string {
	switch {
	case s.Text == "":
		return string(s.Kind)
	case s.Kind == Common || s.Kind == Shop || s.Kind == Computed:
		return string(s.Kind) + ": " + s.Text
	}
	return s.Text
}

// Input is one value that a formula takes.
type Input struct {
	Symbol string // as it stands in the formula
	Name   string
	Value  float64
	Unit   string
	From   string // job line, shop default, catalogue, or the ID of another figure
}

// Figure is one value with its working.
type Figure struct {
	ID       string // stable name by which it is asked for: weld.duty, piece.A.length
	Name     string
	Value    float64
	Unit     string
	Formula  string // right-hand side in plain notation, see Eval
	Inputs   []Input
	Rounding string // how the value is rounded where it is printed; "" for not at all
	Source   Source
	Omits    string  // what it does not consider
	Found    bool    // the value was found by a search or a sum; the formula checks it
	Within   float64 // how far the value may lie from the formula's because it was rounded: half of what Rounding says
}

// In makes an input.
func In(symbol, name string, value float64, unit, from string) Input {
	return Input{symbol, name, value, unit, from}
}

// New makes a figure whose value is its formula evaluated over its inputs. A formula that does not evaluate is a fault
// of the calling code and panics; a result that is not finite is left to the caller to look at.
func New(id, name, unit, formula string, source Source, inputs ...Input) Figure {
	f := Figure{ID: id, Name: name, Unit: unit, Formula: formula, Source: source, Inputs: inputs}
	v, err := f.Recompute()
	if err != nil {
		panic(fmt.Sprintf("figure %s: %v", id, err))
	}
	f.Value = v
	return f
}

// Found makes a figure whose value was computed elsewhere (a search, a sum over parts) and whose formula confirms it
// from the shown inputs.
func Found(id, name string, value float64, unit, formula string, source Source, inputs ...Input) Figure {
	return Figure{ID: id, Name: name, Value: value, Unit: unit, Formula: formula, Source: source, Inputs: inputs, Found: true}
}

// Rounded gives the figure with a note on how it is rounded in print.
func (f Figure) Rounded(how string) Figure { f.Rounding = how; return f }

// RoundedTo gives the figure with a note on rounding to whole steps, by which its value may differ from the formula's.
func (f Figure) RoundedTo(step float64, how string) Figure {
	f.Rounding, f.Within = how, step
	return f
}

// Without gives the figure with a note on what it does not consider.
func (f Figure) Without(what string) Figure { f.Omits = what; return f }

// Named gives the figure under another ID.
func (f Figure) Named(id string) Figure { f.ID = id; return f }

// As gives the figure as an input of another one.
func (f Figure) As(symbol string) Input {
	return Input{Symbol: symbol, Name: f.Name, Value: f.Value, Unit: f.Unit, From: f.ID}
}

// Recompute evaluates the formula over the inputs.
func (f Figure) Recompute() (float64, error) {
	vars := make(map[string]float64, len(f.Inputs))
	for _, in := range f.Inputs {
		vars[in.Symbol] = in.Value
	}
	return Eval(f.Formula, vars)
}

// checkTolerance is the relative difference that Check allows: a formula evaluated in another order differs in the last
// digits only.
const checkTolerance = 1e-9

// Check recomputes the figure from its shown formula and inputs and compares; it also refuses a figure without a source
// and a value that is not finite.
func (f Figure) Check() error {
	if f.Source.Kind == "" {
		return fmt.Errorf("figure %s has no source", f.ID)
	}
	v, err := f.Recompute()
	if err != nil {
		return fmt.Errorf("figure %s: %w", f.ID, err)
	}
	if math.IsInf(f.Value, 0) || !(math.Abs(v-f.Value) <= f.Within+checkTolerance*math.Max(1, math.Abs(f.Value))) {
		return fmt.Errorf("figure %s: %s gives %.12g, shown is %.12g", f.ID, f.Formula, v, f.Value)
	}
	return nil
}

// Working shows the figure as a worker would write it down: name, value, formula, inputs with where they came from,
// rounding, source, and what it does not consider.
func (f Figure) Working() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s = %s\n", f.Name, quantity(f.Value, f.Unit))
	if f.Found {
		fmt.Fprintf(&b, "  checked by  %s\n", f.Formula)
	} else {
		fmt.Fprintf(&b, "  formula     %s\n", f.Formula)
	}
	for _, in := range f.Inputs {
		fmt.Fprintf(&b, "  %-11s %s  %s", in.Symbol, quantity(in.Value, in.Unit), in.Name)
		if in.From != "" {
			fmt.Fprintf(&b, "  [%s]", in.From)
		}
		b.WriteByte('\n')
	}
	if f.Rounding != "" {
		fmt.Fprintf(&b, "  rounding    %s\n", f.Rounding)
	}
	fmt.Fprintf(&b, "  source      %s\n", f.Source)
	if f.Omits != "" {
		fmt.Fprintf(&b, "  leaves out  %s\n", f.Omits)
	}
	return b.String()
}

func quantity(v float64, unit string) string {
	s := fmt.Sprintf("%.6g", v)
	if unit != "" {
		s += " " + unit
	}
	return s
}
