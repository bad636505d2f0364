package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/record"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/bench"
)

// planLimit ends the search of a plan whose nest cannot be proved in reasonable time.
const planLimit = 20 * time.Second

// jobCommands are the commands that work on a job file.
func jobCommands(sh shell) []*cobra.Command {
	var asJSON, drops, rest bool
	var welder string
	planCmd := &cobra.Command{
		Use: "plan JOB", Short: "The whole plan of a job: pieces, buy list, sticks, queue at the saw, weld sessions", Args: one("JOB"),
		RunE: func(cmd *cobra.Command, args []string) error {
			in, err := whatFrom(sh, args[0], rest)
			if err != nil {
				return err
			}
			in.Welder = welder
			return runPlan(cmd, sh, args[0], asJSON, drops, in)
		},
	}
	restFlag(planCmd, &rest)
	planCmd.Flags().StringVar(&welder, "welder", "", "plan with the machine `NAME` of the shop file ([welder.NAME])")
	planCmd.Flags().BoolVar(&drops, "drops", false, "draw from the shop's own list of drops too")
	planCmd.Flags().BoolVar(&asJSON, "json", false, "one JSON document on standard output")
	check := &cobra.Command{
		Use: "check JOB", Short: "Read a job and say what is wrong with it", Args: one("JOB"),
		RunE: func(cmd *cobra.Command, args []string) error { return runCheck(cmd, sh, args[0]) },
	}
	log := &cobra.Command{
		Use: "log JOB", Short: "What has been done on a job", Args: one("JOB"),
		RunE: func(cmd *cobra.Command, args []string) error { return runLog(sh, args[0]) },
	}
	return []*cobra.Command{planCmd, check, log}
}

func one(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != 1 {
			return failf(exitUse, "%s wants one %s: soapstone %s", cmd.Name(), what, cmd.Use)
		}
		return nil
	}
}

// readJob reads a job file and the shop file under it. An error is one of a file; problems are in the text.
func readJob(cmd *cobra.Command, sh shell, name string) (*job.Job, []text.Problem, error) {
	data, _, err := file.Read(file.OS, name, file.MaxText)
	if err != nil {
		return nil, nil, fail(exitFiles, err)
	}
	shop, err := shopFiles(cmd, sh)
	if err != nil {
		return nil, nil, err
	}
	cat := table.Steel()
	j, problems := job.Reader{Catalogue: &cat}.Read(job.File{Name: name, Data: data}, shop...)
	return &j, problems, nil
}

// shopFiles gives the shop file: the one of --shop, or shop.toml in the configuration folder where there is one.
func shopFiles(cmd *cobra.Command, sh shell) ([]job.File, error) {
	name, err := cmd.Flags().GetString("shop")
	if err != nil {
		return nil, err
	}
	given := name != ""
	if !given {
		if name = configFile(sh, "shop.toml"); name == "" {
			return nil, nil
		}
	}
	data, _, err := file.Read(file.OS, name, file.MaxText)
	if err != nil {
		if !given && errors.Is(err, fs.ErrNotExist) {
			return nil, nil
		}
		return nil, fail(exitFiles, err)
	}
	return []job.File{{Name: name, Data: data}}, nil
}

// configFile gives a file of the user's configuration folder (XDG base directories), "" where there is none.
func configFile(sh shell, name string) string { return under(sh, "XDG_CONFIG_HOME", ".config", name) }

// stateFile gives a file of the user's state folder.
func stateFile(sh shell, name string) string {
	return under(sh, "XDG_STATE_HOME", ".local/state", name)
}

func under(sh shell, variable, usual, name string) string {
	dir := sh.env(variable)
	if !filepath.IsAbs(dir) { // the standard says that others are to be ignored
		home := sh.env("HOME")
		if home == "" {
			return ""
		}
		dir = filepath.Join(home, usual)
	}
	return filepath.Join(dir, "soapstone", name)
}

func failed(problems []text.Problem) bool {
	for _, p := range problems {
		if p.Severity == text.Error {
			return true
		}
	}
	return false
}

func printProblems(w io.Writer, problems []text.Problem) {
	for _, p := range problems {
		fmt.Fprintln(w, p.Long())
	}
}

// makePlan reads and plans a job.
func makePlan(cmd *cobra.Command, sh shell, name string, limit time.Duration, in plan.Input) (*plan.Plan, error) {
	j, problems, err := readJob(cmd, sh, name)
	if err != nil {
		return nil, err
	}
	if failed(problems) {
		return &plan.Plan{Job: j, Problems: problems}, nil
	}
	ctx, cancel := context.WithTimeout(cmd.Context(), limit)
	defer cancel()
	prices, wrong, err := priceBook(cmd, sh)
	if err != nil {
		return nil, err
	}
	if failed(wrong) {
		return &plan.Plan{Job: j, Problems: append(problems, wrong...)}, nil
	}
	in.Job, in.Steel, in.Book, in.Today = j, table.Steel(), prices, today(sh)
	if in.Past == nil && (j.Labour.Given || j.Quote.Given) {
		in.Past = pastJobs(ctx, cmd, sh, name)
	}
	p := plan.Build(ctx, in)
	p.Problems = append(problems, p.Problems...)
	return p, nil
}

func runPlan(cmd *cobra.Command, sh shell, name string, asJSON, drops bool, in plan.Input) error {
	if drops {
		l, err := loadDrops(sh)
		if err != nil {
			return err
		}
		in.Shelf = shelf(l)
	}
	p, err := makePlan(cmd, sh, name, planLimit, in)
	if err != nil {
		return err
	}
	printProblems(sh.err, p.Problems)
	if asJSON {
		if err := writeJSON(sh.out, p.JSON()); err != nil {
			return err
		}
	}
	if p.Failed() {
		return failf(exitJob, "%s cannot be built as written", name)
	}
	if asJSON {
		return nil
	}
	_, err = io.WriteString(sh.out, sheet.Plain(p))
	return fail(exitFiles, err)
}

// checkLimit ends the nest of a check: whether every piece fits a stick is known at once.
const checkLimit = 2 * time.Second

func runCheck(cmd *cobra.Command, sh shell, name string) error {
	p, err := makePlan(cmd, sh, name, checkLimit, plan.Input{Effort: -1})
	if err != nil {
		return err
	}
	printProblems(sh.err, p.Problems)
	if p.Failed() {
		return failf(exitJob, "%s cannot be built as written", name)
	}
	pieces := 0
	for _, x := range p.Pieces {
		pieces += x.Qty
	}
	_, err = fmt.Fprintf(sh.out, "%s reads well: %d pieces of %d kinds, %d members, %d joints\n", name, pieces, len(p.Pieces), len(p.Frame.Members), len(p.Frame.Joints))
	return fail(exitFiles, err)
}

func runLog(sh shell, name string) error {
	if _, err := os.Stat(name); err != nil {
		return fail(exitFiles, &file.Fault{Path: name, Doing: "reading", Err: err})
	}
	path, err := record.Beside(file.OS, name)
	if err != nil {
		return fail(exitFiles, err)
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		_, err := fmt.Fprintf(sh.out, "nothing has been recorded on %s yet\n", name)
		return fail(exitFiles, err)
	}
	state := work.New()
	var lines []string
	r, notes, err := record.Open(file.OS, path, record.Options{ReadOnly: true, Visit: func(e record.Entry) {
		state.Apply(work.ID(e.ID), e.At, e.Payload)
		what, err := work.Decode(e.Payload)
		if err != nil {
			return
		}
		lines = append(lines, fmt.Sprintf("%s  %s", time.Unix(0, e.At).Format("2006-01-02 15:04:05"), bench.Tell(what, nil)))
	}})
	if err != nil {
		return fail(exitFiles, err)
	}
	defer r.Close()
	for _, n := range notes {
		fmt.Fprintln(sh.err, n.Text)
	}
	for _, p := range state.Problems() {
		fmt.Fprintln(sh.err, text.Clean(p))
	}
	for _, l := range lines {
		if _, err := fmt.Fprintln(sh.out, l); err != nil {
			return fail(exitFiles, err)
		}
	}
	return nil
}
