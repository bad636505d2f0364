package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/nest/list"
	"bench.example/soapstone/stock/file"
)

// defaultLimit ends a search that was given no limit of its own.
const defaultLimit = time.Minute

func nestCommand(sh shell) *cobra.Command {
	var words struct {
		sticks, onHand                                             []string
		kerf, trim, trimEnd, grip, depth, units, keep, haul, ytrim string
		limit, listFile                                            string
		asJSON, few                                                bool
	}
	c := &cobra.Command{
		Use:   "nest [flags] QTY@LENGTH[:LEFT/RIGHT]...",
		Short: "Nest a plain list of pieces on the fewest, or cheapest, sticks",
		Example: "  soapstone nest --stick 20ft@34.50 --stick 24ft@41 --kerf 1/16 6@48 4@57-1/2\n" +
			"  soapstone nest --stick 20ft --depth 2-1/2 2@121-3/16:45/45",
		RunE: func(cmd *cobra.Command, args []string) error {
			unit, err := measure.ParseUnit(words.units)
			if err != nil {
				return fail(exitUse, err)
			}
			rules := nest.Rules{}
			for _, l := range []struct {
				flag, text string
				into       *measure.Length
			}{{"kerf", words.kerf, &rules.Kerf}, {"trim", words.trim, &rules.Trim}, {"trim-end", words.trimEnd, &rules.TrimEnd},
				{"grip", words.grip, &rules.Grip}, {"depth", words.depth, &rules.Depth}, {"keep", words.keep, &rules.Keep},
				{"haul", words.haul, &rules.Haul}, {"yard-trim", words.ytrim, &rules.YardTrim}} {
				if l.text == "" {
					continue
				}
				if *l.into, err = measure.ParseLength(l.text, unit); err != nil {
					return failf(exitUse, "--%s: %w", l.flag, err)
				}
				if *l.into < 0 {
					return failf(exitUse, "--%s %s: must not be negative", l.flag, l.text)
				}
			}
			limit, err := measure.ParseTime(words.limit)
			if err != nil {
				return failf(exitUse, "--limit: %w", err)
			}
			var sticks []nest.Stick
			for _, w := range words.onHand {
				s, err := list.ParseOnHand(w, unit)
				if err != nil {
					return failf(exitUse, "--on-hand: %w", err)
				}
				sticks = append(sticks, s)
			}
			priced := 0
			for _, w := range words.sticks {
				s, hasPrice, err := list.ParseStick(w, unit)
				if err != nil {
					return failf(exitUse, "--stick: %w", err)
				}
				if hasPrice {
					priced++
				}
				sticks = append(sticks, s)
			}
			if priced > 0 && priced < len(words.sticks) {
				return failf(exitUse, "--stick: give a price to every stick or to none")
			}
			pieces, err := readPieces(sh, args, words.listFile, unit)
			if err != nil {
				return err
			}
			problem, err := list.Problem(pieces, sticks, rules)
			if err != nil {
				return fail(exitUse, err)
			}
			tape := measure.Sixteenths
			if unit.Metric() {
				tape = measure.Millimetres
			}
			return runNest(cmd.Context(), sh, problem, pieces, tape, limit, words.few, words.asJSON)
		},
	}
	f := c.Flags()
	f.StringArrayVar(&words.sticks, "stick", nil, "a stick as the yard sells it: `LENGTH[@PRICE]`, as many as wanted; may be repeated")
	f.StringArrayVar(&words.onHand, "on-hand", nil, "a drop or stick in the shop: `LENGTH[xQTY]`; may be repeated")
	f.StringVar(&words.kerf, "kerf", "1/16in", "width of the saw's cut")
	f.StringVar(&words.trim, "trim", "", "taken off the first end of every stick, its kerf included")
	f.StringVar(&words.trimEnd, "trim-end", "", "left unused at the other end")
	f.StringVar(&words.grip, "grip", "", "the vise holds no less")
	f.StringVar(&words.depth, "depth", "", "depth of the section, across which slanted ends are seen")
	f.StringVar(&words.units, "units", "in", "unit of bare numbers: in, ft, mm, cm, m")
	f.StringVar(&words.keep, "keep", "", "shortest drop that goes back on the shelf")
	f.StringVar(&words.haul, "haul", "", "longest part that the vehicle carries")
	f.StringVar(&words.ytrim, "yard-trim", "", "lost on each side of the yard's rough cut")
	f.StringVar(&words.limit, "limit", "60s", "longest search")
	f.StringVar(&words.listFile, "list", "", "read pieces from `FILE`, one a line (- for standard input)")
	f.BoolVar(&words.few, "few-patterns", false, "among equal nests prefer fewer different sticks, for cutting in a bundle")
	f.BoolVar(&words.asJSON, "json", false, "one JSON document on standard output")
	return c
}

func readPieces(sh shell, args []string, listFile string, unit measure.Unit) ([]list.Piece, error) {
	var pieces []list.Piece
	if listFile != "" {
		var data []byte
		var err error
		if listFile == "-" {
			if data, err = io.ReadAll(io.LimitReader(sh.in, maxList+1)); err == nil && len(data) > maxList {
				err = &file.Fault{Path: "standard input", Doing: "reading", Err: fmt.Errorf("%w: the limit is %d bytes", file.ErrTooLong, maxList)}
			}
		} else {
			data, _, err = file.Read(file.OS, listFile, maxList)
		}
		if err != nil {
			return nil, fail(exitFiles, err)
		}
		words, where, err := list.Words(data)
		if err != nil {
			return nil, failf(exitJob, "%s: %w", listFile, err)
		}
		for i, w := range words {
			p, err := list.ParsePiece(w, unit)
			if err != nil {
				return nil, failf(exitJob, "%s:%d: %w", listFile, where[i], err)
			}
			pieces = append(pieces, p)
		}
	}
	for _, w := range args {
		p, err := list.ParsePiece(w, unit)
		if err != nil {
			return nil, fail(exitUse, err)
		}
		pieces = append(pieces, p)
	}
	return pieces, nil
}

func runNest(ctx context.Context, sh shell, p nest.Problem, pieces []list.Piece, tape measure.Tape, limit time.Duration, few, asJSON bool) error {
	if limit <= 0 {
		limit = defaultLimit
	}
	ctx, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	start := time.Now()
	opt := nest.Options{FewPatterns: few}
	if asTerminal(sh.err) && !asJSON {
		opt.Progress = progressLine(sh.err)
	}
	n, err := nest.Solve(ctx, p, opt)
	if opt.Progress != nil {
		fmt.Fprint(sh.err, "\r\x1b[K")
	}
	var e *nest.Error
	if errors.As(err, &e) {
		return failf(exitJob, "%s", e.Say(tape.PrintLong))
	}
	if err != nil {
		return fail(exitJob, err)
	}
	name := func(k int) any { return k + 1 }
	numbers := func(k int) (float64, float64) { return pieces[k].Left, pieces[k].Right }
	a := list.JSON(p, n, name, numbers)
	a.Seconds = time.Since(start).Seconds()
	if asJSON {
		return writeJSON(sh.out, a)
	}
	return fail(exitFiles, list.Print(sh.out, p, n, pieces, tape, a.Seconds))
}

func progressLine(w io.Writer) func(nest.Nest) {
	var last time.Time
	return func(n nest.Nest) {
		if time.Since(last) < 100*time.Millisecond {
			return
		}
		last = time.Now()
		fmt.Fprintf(w, "\r\x1b[K%d sticks, at least %d ...", n.Bars, n.BoundBars)
	}
}
