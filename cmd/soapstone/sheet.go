package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/sheet/packet"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/sheet/paper"
	"bench.example/soapstone/fab/sheet/site"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/file"
)

// sheetAsked is what the sheet command was asked for.
type sheetAsked struct {
	out, paper, part, date string
	quote, site, rest      bool
}

const sheetLong = `Writes what goes on paper, or to a machine; the ending of FILE picks the kind.

  .html .pdf   the shop's packet: cover, buy list, cut sheet, mark-out, labels, squaring, weld map, paint, lift and bolts,
               templates. With --quote the customer's quote instead, with --site the sheet to take along when measuring.
  .csv         --part pieces (also where nothing is said), cuts or buy: one table for a spreadsheet or a machine
  .svg         the drawing with its measures; with --part templates the templates at full size
  .txt         the whole plan as text`

// sheetCommand writes the packet; the file's ending picks the kind.
func sheetCommand(sh shell) *cobra.Command {
	var a sheetAsked
	c := &cobra.Command{
		Use: "sheet JOB -o FILE", Short: "The shop packet to print or hand over: .html .pdf .txt .csv .svg", Long: sheetLong, Args: one("JOB"),
		RunE: func(cmd *cobra.Command, args []string) error { return runSheet(cmd, sh, args[0], a) },
	}
	c.Flags().StringVarP(&a.out, "output", "o", "", "the `FILE` to write")
	c.Flags().StringVar(&a.paper, "paper", "", "letter or a4; where nothing is said letter for inch tapes, a4 for metric ones (every page fits both)")
	c.Flags().StringVar(&a.part, "part", "", "of .csv: pieces, cuts or buy; of .svg: templates")
	c.Flags().StringVar(&a.date, "date", "", "the `DAY` to print, like 2026-11-25; none for no date. Today where nothing is said")
	c.Flags().BoolVar(&a.quote, "quote", false, "the quote for the customer in place of the shop's packet")
	restFlag(c, &a.rest)
	c.Flags().BoolVar(&a.site, "site", false, "the sheet for measuring on site in place of the shop's packet")
	return c
}

func runSheet(cmd *cobra.Command, sh shell, name string, a sheetAsked) error {
	write, err := a.writer(sh)
	if err != nil {
		return err
	}
	o, err := a.options(time.Now())
	if err != nil {
		return err
	}
	in, err := whatFrom(sh, name, a.rest)
	if err != nil {
		return err
	}
	p, err := makePlan(cmd, sh, name, planLimit, in)
	if err != nil {
		return err
	}
	printProblems(sh.err, p.Problems)
	if p.Failed() {
		return failf(exitJob, "%s cannot be built as written", name)
	}
	texts, err := jobTexts(cmd, sh, name)
	if err != nil {
		return err
	}
	o.Revision = packet.Revision(p, texts...)
	data, err := write(p, o)
	if err != nil {
		return fail(exitJob, err)
	}
	if err := file.Write(file.OS, a.out, data, file.Options{}); err != nil {
		return fail(exitFiles, err)
	}
	_, err = fmt.Fprintf(sh.out, "%s is written\n", text.Clean(a.out))
	return fail(exitFiles, err)
}

// jobTexts gives the bytes of the job and of the shop file under it, for the revision.
func jobTexts(cmd *cobra.Command, sh shell, name string) ([][]byte, error) {
	data, _, err := file.Read(file.OS, name, file.MaxText)
	if err != nil {
		return nil, fail(exitFiles, err)
	}
	shop, err := shopFiles(cmd, sh)
	if err != nil {
		return nil, err
	}
	texts := [][]byte{data}
	for _, f := range shop {
		texts = append(texts, f.Data)
	}
	return texts, nil
}

// stations is how many readings the site sheet has room for across a surface that is not flat.
const stations = 9

type sheetWriter func(*plan.Plan, packet.Options) ([]byte, error)

// writer picks what is written, by the ending of the file and the options.
func (a sheetAsked) writer(sh shell) (sheetWriter, error) {
	if a.out == "" {
		return nil, failf(exitUse, "say where the sheet goes: soapstone sheet JOB -o FILE.html (or .pdf .txt .csv .svg)")
	}
	if a.quote && a.site {
		return nil, failf(exitUse, "--quote and --site are two papers: ask for one at a time")
	}
	ending := strings.ToLower(filepath.Ext(a.out))
	printed := ending == ".html" || ending == ".pdf"
	if (a.quote || a.site) && !printed {
		return nil, failf(exitUse, "%s: the quote and the site sheet are pages: .html or .pdf", a.out)
	}
	if templates := ending == ".svg" && a.part == "templates"; a.part != "" && ending != ".csv" && !templates {
		return nil, failf(exitUse, "%s: --part is for .csv (%s), and templates for .svg", a.out, strings.Join(sheet.Parts, ", "))
	}
	switch ending {
	case ".html":
		return a.document(func(d *page.Document) ([]byte, error) { return paper.HTML(d), nil }), nil
	case ".pdf":
		return a.document(paper.PDF), nil
	case ".txt":
		return func(p *plan.Plan, _ packet.Options) ([]byte, error) { return []byte(sheet.Plain(p)), nil }, nil
	case ".svg":
		if a.part != "" {
			return func(p *plan.Plan, _ packet.Options) ([]byte, error) {
				data := sheet.Templates(p)
				if data == nil {
					return nil, fmt.Errorf("this job needs no template: its saw makes every cut")
				}
				return data, nil
			}, nil
		}
		return func(p *plan.Plan, _ packet.Options) ([]byte, error) { return sheet.SVG(p), nil }, nil
	case ".csv":
		part, err := a.csvPart()
		if err != nil {
			return nil, err
		}
		if a.part == "" {
			fmt.Fprintf(sh.err, "%s holds the %s; --part %s for the others\n", a.out, part, strings.Join(others(sheet.Parts, part), " or --part "))
		}
		return func(p *plan.Plan, _ packet.Options) ([]byte, error) { return sheet.CSV(p, part) }, nil
	}
	return nil, failf(exitUse, "%s: the ending picks the kind of sheet: .html .pdf .txt .csv or .svg", a.out)
}

func (a sheetAsked) document(write func(*page.Document) ([]byte, error)) sheetWriter {
	return func(p *plan.Plan, o packet.Options) ([]byte, error) {
		switch {
		case a.quote:
			d, err := packet.Quote(p, o)
			if err != nil {
				return nil, err
			}
			return write(d)
		case a.site:
			return write(site.New(p.Job.Title, p.Job.Tape, stations).Pages(o.Paper, o.Made))
		}
		return write(packet.Shop(p, o))
	}
}

// csvPart is the table asked for: by the option, else by the end of the file's name (rack-cuts.csv), else the pieces.
func (a sheetAsked) csvPart() (string, error) {
	base := strings.TrimSuffix(strings.ToLower(filepath.Base(a.out)), ".csv")
	for _, part := range sheet.Parts {
		if a.part == part || a.part == "" && (base == part || strings.HasSuffix(base, "-"+part) || strings.HasSuffix(base, "_"+part)) {
			return part, nil
		}
	}
	if a.part != "" {
		return "", failf(exitUse, "--part %s: it is one of %s", a.part, strings.Join(sheet.Parts, ", "))
	}
	return sheet.Parts[0], nil
}

func others(all []string, one string) []string {
	var out []string
	for _, s := range all {
		if s != one {
			out = append(out, s)
		}
	}
	return out
}

func (a sheetAsked) options(now time.Time) (packet.Options, error) {
	o := packet.Options{}
	switch strings.ToLower(a.paper) {
	case "":
	case "letter":
		o.Paper = page.Letter
	case "a4":
		o.Paper = page.A4
	default:
		return o, failf(exitUse, "--paper %s: letter or a4", a.paper)
	}
	switch a.date {
	case "":
		o.Made = now
	case "none":
	default:
		day, err := time.Parse(time.DateOnly, a.date)
		if err != nil {
			return o, failf(exitUse, "--date %s: a day like 2026-11-25, or none", a.date)
		}
		o.Made = day
	}
	if !o.Made.IsZero() {
		o.Made = packet.Day(o.Made)
	}
	return o, nil
}
