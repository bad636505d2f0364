package main

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/plan"
)

// TestEveryFigureRecomputes evaluates the shown formula of every figure of the example and of the jobs in testdata over
// its shown inputs, and refuses a figure without a source, or with one that the register of sources does not list.
func TestEveryFigureRecomputes(t *testing.T) {
	jobs, err := filepath.Glob("../../testdata/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range append(jobs, "../../stock/example/kayak-rack.toml") {
		cmd := &cobra.Command{}
		cmd.Flags().String("shop", "", "")
		cmd.SetContext(t.Context())
		p, err := makePlan(cmd, shell{env: func(string) string { return "" }}, name, planLimit, plan.Input{})
		if err != nil || p.Failed() {
			t.Errorf("%s: %v", name, err)
			continue
		}
		fs := p.Figures()
		if len(fs) < 40 {
			t.Errorf("%s: only %d figures", name, len(fs))
		}
		listed := map[string]bool{}
		for _, c := range citations() {
			listed[c.Source] = true
		}
		known := map[string]figure.Figure{}
		for _, f := range fs {
			if err := f.Check(); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if _, twice := known[f.ID]; twice {
				t.Errorf("%s: figure %s stands twice", name, f.ID)
			}
			known[f.ID] = f
			if s := strings.Join(strings.Fields(f.Source.String()), " "); !listed[s] {
				t.Errorf("%s: figure %s cites %q, which the register does not list; run go run ./.ci/register -cited", name, f.ID, s)
			}
			for _, in := range f.Inputs {
				if of, ok := known[in.From]; ok && math.Abs(of.Value-in.Value) > 1e-9*math.Abs(of.Value) { // a sum in another order differs in the last digits
					t.Errorf("%s: %s takes %s as %g, which is %g", name, f.ID, in.From, in.Value, of.Value)
				}
			}
		}
	}
}
