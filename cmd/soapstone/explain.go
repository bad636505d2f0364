package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
)

func explainCommand(sh shell) *cobra.Command {
	var sources, asJSON, rest bool
	c := &cobra.Command{
		Use: "explain JOB [FIGURE]", Short: "How a figure came about: formula, inputs, source",
		RunE: func(cmd *cobra.Command, args []string) error {
			if sources {
				if len(args) > 0 {
					return failf(exitUse, "explain --sources takes no job")
				}
				return printSources(sh, asJSON)
			}
			if len(args) < 1 || len(args) > 2 {
				return failf(exitUse, "explain wants a JOB and perhaps a FIGURE: soapstone explain JOB lists them")
			}
			in, err := whatFrom(sh, args[0], rest)
			if err != nil {
				return err
			}
			p, err := makePlan(cmd, sh, args[0], planLimit, in)
			if err != nil {
				return err
			}
			if p.Failed() {
				printProblems(sh.err, p.Problems)
				return failf(exitJob, "%s cannot be built as written", args[0])
			}
			fs := p.Figures()
			if len(args) == 2 {
				f, near, ok := plan.FindFigure(fs, args[1])
				if !ok {
					return failf(exitUse, "there is no figure %q; %s", text.Clean(args[1]), nearby(near))
				}
				fs = []figure.Figure{f}
			}
			return printFigures(sh, fs, len(args) == 2, asJSON)
		},
	}
	c.Flags().BoolVar(&sources, "sources", false, "the register of sources: what was checked against what")
	restFlag(c, &rest)
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON document on standard output")
	return c
}

func nearby(near []string) string {
	if len(near) == 0 {
		return "soapstone explain JOB lists them"
	}
	if len(near) > 12 {
		near = append(near[:12:12], "...")
	}
	return "near it: " + strings.Join(near, " ")
}

// figureJSON is a figure for scripts.
type figureJSON struct {
	ID       string      `json:"id"`
	Name     string      `json:"name"`
	Value    float64     `json:"value"`
	Unit     string      `json:"unit"`
	Formula  string      `json:"formula"`
	Inputs   []inputJSON `json:"inputs"`
	Rounding string      `json:"rounding"`
	Within   float64     `json:"within"`
	Source   string      `json:"source"`
	Omits    string      `json:"omits"`
}

type inputJSON struct {
	Symbol string  `json:"symbol"`
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	From   string  `json:"from"`
}

func printFigures(sh shell, fs []figure.Figure, working, asJSON bool) error {
	if asJSON {
		out := []figureJSON{}
		for _, f := range fs {
			j := figureJSON{f.ID, text.Clean(f.Name), f.Value, f.Unit, f.Formula, []inputJSON{}, f.Rounding, f.Within, f.Source.String(), f.Omits}
			for _, in := range f.Inputs {
				j.Inputs = append(j.Inputs, inputJSON{in.Symbol, text.Clean(in.Name), in.Value, in.Unit, text.Clean(in.From)})
			}
			out = append(out, j)
		}
		return writeJSON(sh.out, map[string]any{"figures": out})
	}
	for _, f := range fs {
		line := fmt.Sprintf("%-34s %14.6g %-8s %s\n", text.Clean(f.ID), f.Value, f.Unit, text.Clean(f.Name))
		if working {
			line = f.Working()
		}
		if _, err := io.WriteString(sh.out, line); err != nil {
			return fail(exitFiles, err)
		}
	}
	return nil
}
