package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/newjob"
)

// newCommand asks a few questions and writes a job.
func newCommand(sh shell) *cobra.Command {
	return &cobra.Command{
		Use: "new FILE", Short: "Ask a few questions and write a job", Args: one("FILE"),
		RunE: func(cmd *cobra.Command, args []string) error {
			name := args[0]
			if _, _, err := file.Read(file.OS, name, file.MaxText); err == nil {
				return failf(exitFiles, "%s is there already; soapstone %s opens it", name, name)
			}
			cat := table.Steel()
			read := func(data []byte) (*job.Job, []text.Problem) {
				j, problems := job.Reader{Catalogue: &cat}.Read(job.File{Name: name, Data: data})
				return &j, problems
			}
			check := func(data []byte) []text.Problem {
				_, problems := read(data)
				return problems
			}
			try := func(data []byte) *frame.Frame {
				j, problems := read(data)
				if text.HasErrors(problems) {
					return nil
				}
				p := plan.Build(cmd.Context(), plan.Input{Job: j, Steel: cat, Effort: -1})
				return p.Frame
			}
			data, err := newjob.Ask(sh.in, sh.out, unicodeLocale(sh), check, try)
			if errors.Is(err, newjob.ErrNoAnswer) {
				return fail(exitUse, err)
			}
			if err != nil {
				return fail(exitJob, err)
			}
			if err := file.Write(file.OS, name, data, file.Options{Fresh: true}); err != nil {
				return fail(exitFiles, err)
			}
			_, err = fmt.Fprintf(sh.out, "%s is written; soapstone %s opens it, soapstone plan %s prints the plan\n", name, name, name)
			return fail(exitFiles, err)
		},
	}
}
