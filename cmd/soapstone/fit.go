package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/record"
)

// fitCommand asks for, and records, the measured lengths of pieces that are cut to fit.
func fitCommand(sh shell) *cobra.Command {
	return &cobra.Command{
		Use:   "fit JOB [MARK-UNIT=LENGTH]...",
		Short: "What is cut to fit: what it waits for; record its measured length",
		Long: "Without a length: lists the pieces that are cut to fit (`over` in the job) and are not cut yet, what each waits for, and between\n" +
			"which lengths it may come out. With MARK-UNIT=LENGTH (D-1=20-3/8): records the length measured where the piece goes, tip to\n" +
			"tip. The sticks are planned anew with it.",
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return runFit(cmd, sh, args[0], args[1:]) },
	}
}

func runFit(cmd *cobra.Command, sh shell, name string, entries []string) error {
	state, err := doneSoFar(sh, name)
	if err != nil {
		return err
	}
	p, err := makePlan(cmd, sh, name, checkLimit, plan.Input{Work: state, Effort: -1})
	if err != nil {
		return err
	}
	if p.Failed() {
		printProblems(sh.err, p.Problems)
		return failf(exitJob, "%s cannot be built as written", name)
	}
	list := p.ToFit(state)
	if len(list) == 0 {
		_, err := fmt.Fprintf(sh.out, "nothing is left to be fitted in %s\n", name)
		return fail(exitFiles, err)
	}
	if len(entries) == 0 {
		return listFits(sh, p, list)
	}
	var drafts []record.Draft
	for _, word := range entries {
		e, err := p.FitEntry(word, list, nil)
		if err != nil {
			return fail(exitJob, err)
		}
		payload, err := work.Encode(e)
		if err != nil {
			return fail(exitJob, err)
		}
		drafts = append(drafts, record.Draft{At: time.Now().UnixNano(), Payload: payload})
	}
	r, _, err := openState(sh, name, false)
	if err != nil {
		return err
	}
	defer r.Close()
	if _, err := r.Append(drafts...); err != nil {
		return fail(exitFiles, err)
	}
	_, err = fmt.Fprintf(sh.out, "recorded; soapstone %s goes on with it at the saw\n", name)
	return fail(exitFiles, err)
}

func listFits(sh shell, p *plan.Plan, list []plan.ToFit) error {
	tape := p.Job.Tape
	for _, f := range list {
		what := fmt.Sprintf("measure it tip to tip, between %s and %s", tape.PrintLong(max(0, f.Piece.Length-f.Piece.Over)), tape.PrintLong(plan.Reserved(f.Piece)))
		if f.Measured > 0 {
			what = "measured " + tape.PrintLong(f.Measured) + "; it can be cut"
		}
		if _, err := fmt.Fprintf(sh.out, "%-8s %s; drawn %s; waits for %s\n", text.Clean(f.Name), what, tape.PrintLong(f.Piece.Length), f.WaitsFor); err != nil {
			return fail(exitFiles, err)
		}
	}
	return nil
}
