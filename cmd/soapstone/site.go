package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/sheet/paper"
	"bench.example/soapstone/fab/sheet/site"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/file"
)

// siteCommand writes the sheet that is taken along when a new job is measured.
func siteCommand(sh shell) *cobra.Command {
	var out, title, units, size string
	var stations int
	c := &cobra.Command{
		Use: "site -o FILE", Short: "The sheet to take along when a new job is measured: .html .pdf .txt", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			u, err := measure.ParseUnit(units)
			if err != nil {
				return fail(exitUse, err)
			}
			tape, on := measure.Sixteenths, page.Letter
			if u.Metric() {
				tape, on = measure.Millimetres, page.A4
			}
			switch size {
			case "":
			case "letter":
				on = page.Letter
			case "a4":
				on = page.A4
			default:
				return failf(exitUse, "--paper is letter or a4")
			}
			s := site.New(title, tape, stations)
			var data []byte
			switch strings.ToLower(filepath.Ext(out)) {
			case ".txt":
				data = []byte(s.Plain())
			case ".html":
				data = paper.HTML(s.Pages(on, time.Now()))
			case ".pdf":
				if data, err = paper.PDF(s.Pages(on, time.Now())); err != nil {
					return fail(exitJob, err)
				}
			default:
				return failf(exitUse, "say where the sheet goes: soapstone site -o FILE.pdf (or .html .txt)")
			}
			if err := file.Write(file.OS, out, data, file.Options{}); err != nil {
				return fail(exitFiles, err)
			}
			_, err = fmt.Fprintf(sh.out, "%s is written\n", text.Clean(out))
			return fail(exitFiles, err)
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", "the `FILE` to write")
	c.Flags().StringVar(&title, "title", "", "what the job is called")
	c.Flags().StringVar(&units, "units", "in", "what is measured in: in or mm")
	c.Flags().StringVar(&size, "paper", "", "letter or a4")
	c.Flags().IntVar(&stations, "stations", 9, "readings across the ground")
	return c
}
