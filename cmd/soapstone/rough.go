package main

import (
	"bufio"
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/rough"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/table"
)

// roughCommand gives a price from a few answers.
func roughCommand(sh shell) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use: "rough [KEY=VALUE]...", Short: "A rough price in five minutes from a few answers, with its spread",
		Long: "Without answers asks for them one by one; an empty line leaves one out. The answers are made into a small job that is planned and\n" +
			"priced as any other, with the shop's own rates and price book. The spread says how far the price moves with what is not known.\n\n" +
			"  section  rect-tube 2 x 1 x 14ga         size    96 x 48 or 96 x 48 x 36     bars      across each frame\n" +
			"  feet     of steel, without sizes        joints  without sizes               finish    paint, galvanise, none\n" +
			"  price_ft of the steel                   rate    of an hour                  markup    25%\n" +
			"  like     JOB, a job that it is like     times   so much larger than that    units     in, ft, mm, cm, m",
		Example: `  soapstone rough section="rect-tube 2 x 1 x 14ga" size="118 x 44 x 32" bars=5 finish=paint
  soapstone rough feet=85ft joints=24 section="square-tube 1-1/2 x 11ga" price_ft=1.90 rate=60
  soapstone rough like=kayak-rack.toml times=1.25`,
		RunE: func(cmd *cobra.Command, args []string) error { return runRough(cmd, sh, args, asJSON) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON document on standard output")
	return c
}

func runRough(cmd *cobra.Command, sh shell, args []string, asJSON bool) error {
	a, like, err := roughAnswers(sh, args)
	if err != nil {
		return err
	}
	shop, err := shopFiles(cmd, sh)
	if err != nil {
		return err
	}
	prices, wrong, err := priceBook(cmd, sh)
	if err != nil {
		return err
	}
	if printProblems(sh.err, wrong); failed(wrong) {
		return failf(exitJob, "the price book cannot be read as it is")
	}
	in := rough.Input{Plan: plan.Input{Steel: table.Steel(), Book: prices, Today: today(sh)}, Shop: shop}
	if like != "" {
		if a.Times == 0 {
			a.Times = 1
		}
		if in.Like, err = makePlan(cmd, sh, like, checkLimit, plan.Input{Effort: -1}); err != nil {
			return err
		}
		if in.Like.Failed() {
			printProblems(sh.err, in.Like.Problems)
			return failf(exitJob, "%s cannot be built as written", like)
		}
	} else if a.Times > 0 {
		return failf(exitUse, "times says how much larger it is than another job: name that one with like=JOB")
	}
	if err := a.Check(); err != nil {
		return fail(exitUse, err)
	}
	ctx, cancel := context.WithTimeout(cmd.Context(), planLimit)
	defer cancel()
	r, err := rough.Reckon(ctx, a, in)
	if err != nil {
		return fail(exitJob, err)
	}
	if asJSON {
		return writeJSON(sh.out, roughJSON(r))
	}
	return printRough(sh, r)
}

// roughAnswers takes the answers from the line, or asks for them.
func roughAnswers(sh shell, args []string) (a rough.Answers, like string, err error) {
	a = rough.Fresh()
	set := func(key, value string) error {
		if key == "like" {
			like = value
			return nil
		}
		return a.Set(key, value)
	}
	for _, pass := range []bool{true, false} { // units first: they say what bare numbers are
		for _, w := range args {
			key, value, ok := strings.Cut(w, "=")
			if !ok {
				return a, "", failf(exitUse, "%q is no answer: write key=value, as soapstone rough --help shows", text.Clean(w))
			}
			if (key == "units") == pass {
				if err := set(key, value); err != nil {
					return a, "", fail(exitUse, err)
				}
			}
		}
	}
	if len(args) > 0 {
		return a, like, nil
	}
	lines := bufio.NewScanner(sh.in)
	for _, q := range rough.Questions() {
		sizes := a.Sizes[0] > 0
		if sizes && (q.Key == "feet" || q.Key == "joints") || !sizes && q.Key == "bars" {
			continue
		}
		for {
			fmt.Fprintf(sh.err, "%s\n  such as %s: ", q.Ask, q.Like)
			if !lines.Scan() {
				return a, "", failf(exitUse, "the answers end before the questions do")
			}
			word := strings.TrimSpace(lines.Text())
			if word == "" && !q.Needed {
				break
			}
			if err := a.Set(q.Key, word); err != nil {
				fmt.Fprintln(sh.err, "  "+err.Error())
				continue
			}
			break
		}
	}
	fmt.Fprintln(sh.err)
	return a, "", nil
}

func printRough(sh shell, r *rough.Price) error {
	cur := text.Clean(r.Plan.Job.Currency)
	var b strings.Builder
	fmt.Fprintf(&b, "about %s, between %s and %s, before tax\n", rough.Round(r.Likely).With(cur), rough.Round(r.Low).With(cur), rough.Round(r.High).With(cur))
	fmt.Fprintf(&b, "  stands on %s of steel, %d joints, %s of work; materials %s, labour %s, overhead %s, profit %s\n", r.Plan.Job.Tape.Feet(measure.FromMM(r.SteelMM)), r.Joints, sheet.Span(float64(r.Quote.PaidS)),
		r.Quote.Material, r.Quote.Labour, r.Quote.Overhead, r.Quote.Profit)
	b.WriteString("what moves it:\n")
	for _, s := range r.Swings {
		fmt.Fprintf(&b, "  %-12s %10s to %-10s %s\n", s.What, min(s.Low, s.High), max(s.Low, s.High), s.Why)
	}
	if len(r.Plan.Costs) > 0 {
		if m := r.Plan.Costs[0].Unpriced; len(m) > 0 {
			fmt.Fprintf(&b, "without a price, so not in it: %s\n", text.Clean(strings.Join(m, ", ")))
		}
	}
	for _, n := range r.Notes {
		fmt.Fprintf(&b, "note: %s\n", text.Clean(n))
	}
	_, err := fmt.Fprint(sh.out, b.String())
	return fail(exitFiles, err)
}

func roughJSON(r *rough.Price) map[string]any {
	swings := []map[string]any{}
	for _, s := range r.Swings {
		swings = append(swings, map[string]any{"what": s.What, "low": s.Low.Float(), "high": s.High.Float(), "why": s.Why})
	}
	unpriced := []string{}
	if len(r.Plan.Costs) > 0 {
		unpriced = append(unpriced, r.Plan.Costs[0].Unpriced...)
	}
	return map[string]any{"likely": r.Likely.Float(), "low": r.Low.Float(), "high": r.High.Float(), "steel_mm": r.SteelMM, "joints": r.Joints, "price": r.Quote.JSON(),
		"swings": swings, "unpriced": unpriced, "notes": append([]string{}, r.Notes...)}
}
