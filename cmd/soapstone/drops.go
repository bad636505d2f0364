package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest/list"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/shop"
	"bench.example/soapstone/stock/table"
)

// dropsFile gives the shop's list of drops in the user's data folder.
func dropsFile(sh shell) (string, error) {
	path := under(sh, "XDG_DATA_HOME", ".local/share", "drops.toml")
	if path == "" {
		return "", failf(exitFiles, "neither HOME nor XDG_DATA_HOME is set: there is no place for the shop's list of drops")
	}
	return path, nil
}

func loadDrops(sh shell) (*shop.List, error) {
	path, err := dropsFile(sh)
	if err != nil {
		return nil, err
	}
	l, problems, err := shop.Load(file.OS, path, table.Steel())
	if err != nil {
		return nil, fail(exitFiles, err)
	}
	printProblems(sh.err, problems)
	if text.HasErrors(problems) {
		return nil, failf(exitJob, "%s cannot be read as it is", path)
	}
	return l, nil
}

// shelf gives the shop's list as a plan takes it.
func shelf(l *shop.List) []plan.Drop {
	var out []plan.Drop
	for _, d := range l.Drops {
		out = append(out, plan.Drop{Section: d.Section, Length: d.Length, Ends: d.Ends, Qty: d.Qty})
	}
	return out
}

func dropsCommand(sh shell) *cobra.Command {
	var asJSON bool
	var note, units string
	c := &cobra.Command{
		Use: "drops", Short: "Sticks and drops on hand: the shop's own list", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			l, err := loadDrops(sh)
			if err != nil {
				return err
			}
			return printDrops(sh, l, asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON document on standard output")
	add := &cobra.Command{
		Use: "add SHAPE SIZE LENGTH[xQTY]", Short: "Put a drop on the list", Args: cobra.ExactArgs(3),
		Example: `  soapstone drops add rect-tube "2 x 1 x 14ga" 61-1/4x2`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return addDrop(sh, args, units, note)
		},
	}
	add.Flags().StringVar(&note, "note", "", "where it lies, what is wrong with it")
	add.Flags().StringVar(&units, "units", "in", "unit of bare numbers: in, ft, mm, cm, m")
	take := &cobra.Command{
		Use: "take LINE [QTY]", Short: "Take a drop off the list", Args: cobra.RangeArgs(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			n, err := strconv.Atoi(args[0])
			if err != nil {
				return failf(exitUse, "%q is not the number of a line; soapstone drops shows them", args[0])
			}
			qty := 1
			if len(args) == 2 {
				if qty, err = strconv.Atoi(args[1]); err != nil {
					return failf(exitUse, "%q is not a quantity", args[1])
				}
			}
			l, err := loadDrops(sh)
			if err != nil {
				return err
			}
			return writeDrops(l.Take(n-1, qty))
		},
	}
	c.AddCommand(add, take)
	return c
}

func writeDrops(err error) error {
	var f *file.Fault
	if asFault(err, &f) {
		return fail(exitFiles, err)
	}
	return fail(exitJob, err)
}

func addDrop(sh shell, args []string, units, note string) error {
	unit, err := measure.ParseUnit(units)
	if err != nil {
		return fail(exitUse, err)
	}
	shape, err := steel.ParseShape(args[0])
	if err != nil {
		return fail(exitUse, err)
	}
	sec, err := steel.New(steel.Spec{Shape: shape, Size: args[1], Unit: unit}, table.Steel())
	if err != nil {
		return fail(exitUse, err)
	}
	s, err := list.ParseOnHand(args[2], unit)
	if err != nil {
		return fail(exitUse, err)
	}
	path, err := dropsFile(sh)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fail(exitFiles, err)
	}
	l, err := loadDrops(sh)
	if err != nil {
		return err
	}
	size := args[1]
	if unit != measure.In {
		size = job.ExplicitSize(args[1], unit) // the list's bare numbers are inches
	}
	return writeDrops(l.Add(shop.Drop{Shape: shape.String(), Size: size, Section: sec, Length: s.Length, Qty: s.Limit, Note: note}))
}

func printDrops(sh shell, l *shop.List, asJSON bool) error {
	type row struct {
		Line     int        `json:"line"`
		Shape    string     `json:"shape"`
		Size     string     `json:"size"`
		LengthMM float64    `json:"length_mm"`
		Qty      int        `json:"qty"`
		Ends     [2]float64 `json:"ends"`
		Note     string     `json:"note"`
	}
	if asJSON {
		rows := []row{}
		for i, d := range l.Drops {
			rows = append(rows, row{i + 1, d.Shape, text.Clean(d.Size), d.Length.MM(), d.Qty, d.Ends, text.Clean(d.Note)})
		}
		b, err := json.Marshal(rows)
		if err != nil {
			return fail(exitJob, err)
		}
		return writeJSON(sh.out, map[string]any{"drops": json.RawMessage(b)})
	}
	if len(l.Drops) == 0 {
		_, err := fmt.Fprintln(sh.out, "the list is empty; soapstone drops add puts a drop on it")
		return fail(exitFiles, err)
	}
	for i, d := range l.Drops {
		if _, err := fmt.Fprintf(sh.out, "%3d  %3d x %-12s %-20s %-14s %s\n", i+1, d.Qty, d.Shape, text.Clean(d.Size), measure.Sixteenths.Print(d.Length), text.Clean(d.Note)); err != nil {
			return fail(exitFiles, err)
		}
	}
	return nil
}
