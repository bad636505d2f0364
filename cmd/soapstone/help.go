package main

import (
	_ "embed"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/example"
	"bench.example/soapstone/stock/table"
)

// guideText leads a worker from a sketch to a frame that stands, on the built-in example.
//
//go:embed guide.txt
var guideText string

// topics are texts that `soapstone help TOPIC` shows; they run nothing.
func topics() []*cobra.Command {
	topic := func(name, short string, write func(w io.Writer) error) *cobra.Command {
		c := &cobra.Command{Use: name, Short: short}
		c.SetHelpFunc(func(c *cobra.Command, _ []string) { _ = write(c.OutOrStdout()) })
		return c
	}
	return []*cobra.Command{
		topic("guide", "From a sketch to a frame that stands, on the built-in example", func(w io.Writer) error {
			_, err := io.WriteString(w, guideText)
			return err
		}),
		topic("job", "The job file, table by table and key by key", jobReference),
		topic("example", "The built-in job file itself", func(w io.Writer) error {
			_, err := w.Write(example.Job)
			return err
		}),
	}
}

// jobReference prints every table and key of a job file, as the reader itself tells them.
func jobReference(w io.Writer) error {
	cat := table.Steel()
	asked := job.Reader{Catalogue: &cat}.Reference(job.File{Name: example.Name, Data: example.Job})
	var b strings.Builder
	b.WriteString("The job file, as this version reads it. A key marked * is needed. Bare numbers are in the job's units.\n")
	last := "-"
	for _, a := range asked {
		if strings.HasPrefix(a.Kind, "table") {
			continue
		}
		if a.Table != last {
			last = a.Table
			head := "At the top of the file"
			if a.Table != "" {
				head = "[" + a.Table + "]"
			}
			fmt.Fprintf(&b, "\n%s\n", head)
		}
		b.WriteString(askedLine(a))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func askedLine(a text.Asked) string {
	star := " "
	if a.Needed {
		star = "*"
	}
	line := fmt.Sprintf("  %s %-12s %s\n", star, a.Key, job.Meaning(a.Table, a.Key))
	kind := a.Kind
	switch {
	case kind == "" || kind == "text" || kind == "true or false":
		return line
	case a.Example != "":
		kind += ": " + a.Example
	}
	return line + strings.Repeat(" ", 17) + kind + "\n"
}
