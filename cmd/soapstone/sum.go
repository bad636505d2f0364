package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/sum"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/table"
)

func sumCommand(sh shell) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "sum NAME key=value...",
		Short: "The small sums of the bench, with their working",
		Long:  "The small sums of the bench, with their working:\n\n" + sumList(),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return failf(exitUse, "name a sum:\n%s", sumList())
			}
			s, err := sum.Find(args[0])
			if err != nil {
				return fail(exitUse, err)
			}
			return runSum(sh, s, args[1:], asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON document on standard output")
	return c
}

func sumList() string {
	var b strings.Builder
	for _, s := range sum.List() {
		fmt.Fprintf(&b, "  %-11s %s\n", s.Name, s.Purpose)
	}
	return b.String()
}

func runSum(sh shell, s sum.Sum, words []string, asJSON bool) error {
	var name string
	var data []byte
	if s.File {
		rest := words[:0:0]
		for _, w := range words {
			switch v, ok := strings.CutPrefix(w, "file="); {
			case ok:
				name = v
			case !strings.Contains(w, "=") && name == "":
				name = w
			default:
				rest = append(rest, w)
			}
		}
		words = rest
		if name != "" {
			var err error
			if data, _, err = file.Read(file.OS, name, file.MaxText); err != nil {
				return fail(exitFiles, err)
			}
		}
	}
	r, err := s.Call(words, table.Sums(), name, data)
	switch {
	case errors.Is(err, sum.ErrUse):
		return fail(exitUse, err)
	case err != nil:
		return failf(exitJob, "%s: %w", s.Name, err)
	}
	if asJSON {
		return writeJSON(sh.out, ordered(r.Values))
	}
	_, err = io.WriteString(sh.out, strings.Join(r.Lines(sumTape(words)), "\n")+"\n")
	return fail(exitFiles, err)
}

// ordered writes values as a JSON object in their own order.
type ordered []sum.Value

// MarshalJSON keeps the order of the contract.
func (o ordered) MarshalJSON() ([]byte, error) {
	var b strings.Builder
	b.WriteByte('{')
	for i, v := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		k, err := json.Marshal(v.Key)
		if err != nil {
			return nil, err
		}
		x, err := json.Marshal(v.Value)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", v.Key, err)
		}
		b.Write(k)
		b.WriteByte(':')
		b.Write(x)
	}
	b.WriteByte('}')
	return []byte(b.String()), nil
}

// sumTape reads lengths on a tape in sixteenths, but where the sum was asked in metric units.
func sumTape(words []string) *measure.Tape {
	for _, w := range words {
		if u, ok := strings.CutPrefix(w, "units="); ok && u != "in" && u != "ft" {
			return nil
		}
	}
	t := measure.Sixteenths
	return &t
}
