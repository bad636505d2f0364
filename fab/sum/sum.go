// Package sum is the slate of the bench: the small sums that a worker does beside the job, each by the same code that the
// plan uses. A sum has a name, the arguments that it takes, the values that it gives (the keys of its JSON), and figures
// that show the working. The sums of one trade stand together in one file (steel.go, weld.go, ...) and List gathers them.
package sum

import (
	"errors"
	"fmt"
	"sort"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
)

// Arg is one argument of a sum.
type Arg struct {
	Name     string
	Takes    string // what it is: "length", "angle", "rect-tube, angle, ..."
	Example  string
	Optional bool
}

// Value is one result under its JSON key: a float64, bool, string, []float64, or a map with string keys.
type Value struct {
	Key   string
	Value any
}

// Result is what a sum gives: the values in the order of the contract, the working, and notes (cautions among them).
type Result struct {
	Values  []Value
	Figures []figure.Figure
	Notes   []string
}

// Add appends a value.
func (r *Result) Add(key string, value any) { r.Values = append(r.Values, Value{key, value}) }

// AddFigure appends a figure and its value under the key.
func (r *Result) AddFigure(key string, f figure.Figure) {
	r.Figures = append(r.Figures, f)
	r.Add(key, f.Value)
}

// Sum is one of the sums.
type Sum struct {
	Name    string
	Purpose string
	Takes   []Arg
	File    bool // it takes a file (its text reaches Args.Text)
	Run     func(a *Args) (Result, error)
}

// Usage says in a few lines what the sum takes.
func (s Sum) Usage() string {
	var b strings.Builder
	fmt.Fprintf(&b, "soapstone sum %s", s.Name)
	if s.File {
		b.WriteString(" FILE")
	}
	for _, a := range s.Takes {
		word := a.Name + "=" + strings.ToUpper(a.Name)
		if a.Example != "" {
			word = a.Name + "=" + a.Example
		}
		if strings.ContainsAny(word, " '\"") {
			word = "'" + word + "'"
		}
		if a.Optional {
			word = "[" + word + "]"
		}
		b.WriteString(" " + word)
	}
	for _, a := range s.Takes {
		fmt.Fprintf(&b, "\n  %-10s %s", a.Name, a.Takes)
		if a.Optional {
			b.WriteString(" (may be left out)")
		}
	}
	return b.String()
}

// ErrUse marks an error of use (an argument missing, unknown or unreadable); any other error of a sum speaks of an
// impossible value.
var ErrUse = errors.New("wrong use")

type useError struct{ text string }

func (e useError) Error() string        { return e.text }
func (e useError) Is(target error) bool { return target == ErrUse }

// Use makes an error of use.
func Use(format string, args ...any) error { return useError{fmt.Sprintf(format, args...)} }

// Args are the arguments of a call. The getters remember the first error, so that a Run can read everything and ask for
// Err once.
type Args struct {
	Tables Tables
	Text   []byte // of the file, where the sum takes one
	Name   string // of that file
	unit   measure.Unit
	values map[string]string
	err    error
}

// Call reads the words key=value for s and runs it. Bare lengths are inches unless units=mm (or ft, cm, m) is among the
// words.
func (s Sum) Call(words []string, tables Tables, fileName string, file []byte) (Result, error) {
	a := &Args{Tables: tables, Text: file, Name: fileName, values: map[string]string{}}
	known := map[string]bool{"units": true}
	for _, t := range s.Takes {
		known[t.Name] = true
	}
	for _, w := range words {
		k, v, ok := strings.Cut(w, "=")
		switch {
		case !ok:
			return Result{}, Use("%q is not key=value\n%s", w, s.Usage())
		case !known[k]:
			return Result{}, Use("%s does not take %q\n%s", s.Name, k, s.Usage())
		}
		if _, twice := a.values[k]; twice {
			return Result{}, Use("%q is given twice\n%s", k, s.Usage())
		}
		a.values[k] = v
	}
	if u, ok := a.values["units"]; ok {
		unit, err := measure.ParseUnit(u)
		if err != nil {
			return Result{}, Use("%v\n%s", err, s.Usage())
		}
		a.unit = unit
	}
	for _, t := range s.Takes {
		if !t.Optional && !a.Has(t.Name) {
			return Result{}, Use("%s is missing\n%s", t.Name, s.Usage())
		}
	}
	if s.File && fileName == "" {
		return Result{}, Use("the file is missing\n%s", s.Usage())
	}
	r, err := s.Run(a)
	if a.err != nil {
		err = a.err
	}
	if err != nil && errors.Is(err, ErrUse) {
		err = Use("%v\n%s", err, s.Usage())
	}
	return r, err
}

// Has tells whether the argument was given.
func (a *Args) Has(name string) bool { return a.values[name] != "" }

// Unit is the unit of bare lengths.
func (a *Args) Unit() measure.Unit { return a.unit }

// Err gives the first error of the getters.
func (a *Args) Err() error { return a.err }

// Fail remembers an impossible value of the named argument.
func (a *Args) Fail(name, format string, args ...any) {
	if a.err == nil {
		a.err = fmt.Errorf("%s=%s: %s", name, a.values[name], fmt.Sprintf(format, args...))
	}
}

// String gives the text of an argument, "" where it was left out.
func (a *Args) String(name string) string { return a.values[name] }

// OneOf gives an argument that must be one of the words; the first is the default.
func (a *Args) OneOf(name string, words ...string) string {
	v := a.values[name]
	if v == "" {
		return words[0]
	}
	for _, w := range words {
		if strings.EqualFold(w, v) {
			return w
		}
	}
	a.unreadable(Use("%s=%s: must be one of %s", name, v, strings.Join(words, ", ")))
	return words[0]
}

func (a *Args) unreadable(err error) {
	if a.err == nil {
		a.err = err
	}
}

func read[T any](a *Args, name string, parse func(string) (T, error)) T {
	var zero T
	text := a.values[name]
	if text == "" {
		return zero
	}
	v, err := parse(text)
	if err != nil {
		a.unreadable(Use("%s: %v", name, err))
		return zero
	}
	return v
}

// Length reads a length; 0 where it was left out.
func (a *Args) Length(name string) measure.Length {
	return read(a, name, func(t string) (measure.Length, error) { return measure.ParseLength(t, a.unit) })
}

// MM reads a length in millimetres.
func (a *Args) MM(name string) float64 { return a.Length(name).MM() }

// PositiveMM reads a length that must be greater than zero where it is given.
func (a *Args) PositiveMM(name string) float64 {
	v := a.Length(name)
	if a.Has(name) && v <= 0 && a.err == nil {
		a.Fail(name, "must be greater than zero")
	}
	return v.MM()
}

// Positive reads a quantity by one of measure's Parse functions and wants it greater than zero where it is given.
func (a *Args) Positive(name string, parse func(string) (float64, error)) float64 {
	v := read(a, name, parse)
	if a.Has(name) && !(v > 0) && a.err == nil {
		a.Fail(name, "must be greater than zero")
	}
	return v
}

// Quantity reads a quantity by one of measure's Parse functions.
func (a *Args) Quantity(name string, parse func(string) (float64, error)) float64 {
	return read(a, name, parse)
}

// Count reads a whole number of at least least; def where it was left out.
func (a *Args) Count(name string, def, least int) int {
	if !a.Has(name) {
		return def
	}
	v := read(a, name, measure.ParseNumber)
	if a.err == nil && (v != float64(int(v)) || int(v) < least || v > 1e9) {
		a.Fail(name, "must be a whole number of at least %d", least)
		return def
	}
	return int(v)
}

// Find gives the sum of that name.
func Find(name string) (Sum, error) {
	for _, s := range List() {
		if s.Name == name {
			return s, nil
		}
	}
	names := make([]string, 0, 24)
	for _, s := range List() {
		names = append(names, s.Name)
	}
	return Sum{}, Use("there is no sum %q; there are: %s", name, strings.Join(names, " "))
}

// List gives all sums, by name.
func List() []Sum {
	var all []Sum
	for _, group := range [][]Sum{steelSums(), geometrySums(), weldSums(), boltSums(), liftSums(), holdSums(), priceSums()} {
		all = append(all, group...)
	}
	sort.Slice(all, func(i, j int) bool { return all[i].Name < all[j].Name })
	return all
}
