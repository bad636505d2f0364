package main

import (
	"fmt"
	"io"
	"strings"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/example"
	"bench.example/soapstone/stock/table"
)

// jobReference prints every table and key of a job file, as the reader itself tells them.
func jobReference(w io.Writer) error {
	cat := table.Steel()
	asked := job.Reader{Catalogue: &cat}.Reference(job.File{Name: example.Name, Data: example.Job})
	var b strings.Builder
	b.WriteString("The job file, as this version reads it. Keys with * are needed. Bare numbers are in the job's units.\n")
	last := "-"
	for _, a := range asked {
		if a.Kind == "tables" || a.Kind == "table" {
			continue
		}
		if a.Table != last {
			last = a.Table
			head := "at the top of the file"
			if a.Table != "" {
				head = "[" + a.Table + "]"
			}
			fmt.Fprintf(&b, "\n%s\n", head)
		}
		b.WriteString(askedLine(a))
	}
	_, err := io.WriteString(w, b.String())
	return fail(exitFiles, err)
}

func askedLine(a text.Asked) string {
	star := " "
	if a.Needed {
		star = "*"
	}
	kind := a.Kind
	if kind == "" {
		kind = "see the example"
	}
	if a.Example != "" {
		kind += ": " + a.Example
	}
	return fmt.Sprintf("  %s %-12s %s\n", star, a.Key, kind)
}
