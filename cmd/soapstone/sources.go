package main

import (
	_ "embed"
	"fmt"
	"io"
	"sort"
	"strconv"
	"strings"
)

// sourcesTSV is the register of checks against the outside world; go run ./.ci/register makes it from the tests that ran.
//
//go:embed sources.tsv
var sourcesTSV string

// check is one line of the register.
type check struct {
	Field     string `json:"field"`
	Source    string `json:"source"`
	What      string `json:"what"`
	Test      string `json:"test"`
	Published string `json:"published"`
	Tolerance string `json:"tolerance"`
	Relative  string `json:"relative"`
	Why       string `json:"why"`
}

func register() []check {
	var out []check
	for _, f := range rows(sourcesTSV, 8) {
		out = append(out, check{f[0], f[1], f[2], f[3], f[4], f[5], f[6], f[7]})
	}
	return out
}

// citedTSV lists the sources that the figures of the example and of the jobs in testdata name; it is made with the register.
//
//go:embed cited.tsv
var citedTSV string

// cited is one source that figures stand on.
type cited struct {
	Source    string `json:"source"`
	Figures   int    `json:"figures"`    // of the example and the jobs in testdata
	Kinds     string `json:"kinds"`      // first and last word of their ids
	CheckedBy string `json:"checked_by"` // tests of the register with a value from the same work; "" for none
}

func citations() []cited {
	var out []cited
	for _, f := range rows(citedTSV, 4) {
		n, _ := strconv.Atoi(f[1])
		out = append(out, cited{f[0], n, f[2], f[3]})
	}
	return out
}

// rows gives the lines of a table under its head, each with so many cells.
func rows(tsv string, cells int) [][]string {
	var out [][]string
	for _, l := range strings.Split(strings.TrimSpace(tsv), "\n")[1:] {
		f := strings.Split(l, "\t")
		for len(f) < cells {
			f = append(f, "")
		}
		out = append(out, f)
	}
	return out
}

func printSources(sh shell, asJSON bool) error {
	checks := register()
	if asJSON {
		return writeJSON(sh.out, map[string]any{"checks": checks, "cited": citations()})
	}
	var b strings.Builder
	byField := map[string]int{}
	field, source := "", ""
	for _, c := range checks {
		byField[c.Field]++
		if c.Field != field {
			field, source = c.Field, ""
			fmt.Fprintf(&b, "\n%s\n", strings.ToUpper(field))
		}
		if c.Source != source {
			source = c.Source
			fmt.Fprintf(&b, "  %s\n", source)
		}
		tolerance := "exact"
		switch {
		case c.Tolerance != "0" && c.Relative != "0":
			tolerance = c.Tolerance + " and " + c.Relative + " of it"
		case c.Tolerance != "0":
			tolerance = c.Tolerance
		case c.Relative != "0":
			tolerance = c.Relative + " of it"
		}
		fmt.Fprintf(&b, "    %-56s %12s  within %s  [%s]\n", c.What, c.Published, tolerance, c.Test)
	}
	b.WriteString("\nWHAT FIGURES STAND ON\n  every source that the figures of the example and the test jobs cite, and the tests that hold a value published in the same work\n")
	for _, c := range citations() {
		fmt.Fprintf(&b, "  %s\n    %d figures: %s\n", c.Source, c.Figures, c.Kinds)
		if c.CheckedBy != "" {
			fmt.Fprintf(&b, "    checked by %s\n", c.CheckedBy)
		}
	}
	fields := make([]string, 0, len(byField))
	for f := range byField {
		fields = append(fields, f)
	}
	sort.Strings(fields)
	var head strings.Builder
	fmt.Fprintf(&head, "%d checks against the outside world:", len(checks))
	for _, f := range fields {
		fmt.Fprintf(&head, " %s %d,", f, byField[f])
	}
	_, err := io.WriteString(sh.out, strings.TrimSuffix(head.String(), ",")+"\n"+b.String())
	return fail(exitFiles, err)
}
