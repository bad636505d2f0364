package main

import (
	_ "embed"
	"fmt"
	"io"
	"sort"
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
	lines := strings.Split(strings.TrimSpace(sourcesTSV), "\n")
	for _, l := range lines[1:] {
		f := strings.Split(l, "\t")
		for len(f) < 8 {
			f = append(f, "")
		}
		out = append(out, check{f[0], f[1], f[2], f[3], f[4], f[5], f[6], f[7]})
	}
	return out
}

func printSources(sh shell, asJSON bool) error {
	checks := register()
	if asJSON {
		return writeJSON(sh.out, map[string]any{"checks": checks})
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
