package main

import (
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/stock/file"
)

// sheetCommand writes the packet; the file's ending picks the kind.
func sheetCommand(sh shell) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use: "sheet JOB -o FILE", Short: "The shop packet to print or hand over: .html .txt .csv .svg", Args: one("JOB"),
		RunE: func(cmd *cobra.Command, args []string) error {
			kinds := map[string]func(*plan.Plan) ([]byte, error){
				".html": func(p *plan.Plan) ([]byte, error) { return sheet.HTML(p), nil },
				".txt":  func(p *plan.Plan) ([]byte, error) { return []byte(sheet.Plain(p)), nil },
				".csv":  sheet.CSV,
				".svg":  func(p *plan.Plan) ([]byte, error) { return sheet.SVG(p), nil },
			}
			if out == "" {
				return failf(exitUse, "say where the sheet goes: soapstone sheet JOB -o FILE.html (or .txt .csv .svg)")
			}
			make, ok := kinds[strings.ToLower(filepath.Ext(out))]
			if !ok {
				return failf(exitUse, "%s: the ending picks the kind of sheet: .html .txt .csv or .svg", out)
			}
			p, err := makePlan(cmd, sh, args[0], planLimit, plan.Input{})
			if err != nil {
				return err
			}
			printProblems(sh.err, p.Problems)
			if p.Failed() {
				return failf(exitJob, "%s cannot be built as written", args[0])
			}
			data, err := make(p)
			if err != nil {
				return fail(exitJob, err)
			}
			return fail(exitFiles, file.Write(file.OS, out, data, file.Options{}))
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", "the `FILE` to write")
	return c
}
