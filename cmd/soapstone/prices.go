package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/shop"
	"bench.example/soapstone/stock/table"
)

// today is the day of the call; SOAPSTONE_TODAY=2026-11-25 sets another, so that an output can be made again later.
func today(sh shell) book.Day {
	if d, err := book.ParseDay(sh.env("SOAPSTONE_TODAY")); err == nil {
		return d
	}
	return book.DayOf(time.Now())
}

// pricesFile gives the price book: of --prices, or prices.toml in the configuration folder.
func pricesFile(cmd *cobra.Command, sh shell) (path string, given bool) {
	if name, err := cmd.Flags().GetString("prices"); err == nil && name != "" {
		return name, true
	}
	return configFile(sh, "prices.toml"), false
}

// priceBook reads the price book for a plan; nil where there is no place for one. What is wrong in it is told and makes the
// plan fail: a price that is not understood must not go missing unseen.
func priceBook(cmd *cobra.Command, sh shell) (*book.Book, []text.Problem, error) {
	path, given := pricesFile(cmd, sh)
	if path == "" {
		return nil, nil, nil
	}
	if _, err := os.Stat(path); err != nil && given {
		return nil, nil, fail(exitFiles, err)
	}
	p, problems, err := shop.LoadPrices(file.OS, path, table.Steel())
	if err != nil {
		return nil, nil, fail(exitFiles, err)
	}
	return p.Book, problems, nil
}

// withPrices reads the price book anew before each plan of the workbench, so that a price put in while it stands open
// counts; a book that cannot be read just now leaves the last one. The day is that of the plan.
func withPrices(cmd *cobra.Command, sh shell, build func(context.Context, plan.Input) *plan.Plan) func(context.Context, plan.Input) *plan.Plan {
	return func(ctx context.Context, in plan.Input) *plan.Plan {
		if b, wrong, err := priceBook(cmd, sh); err == nil && !failed(wrong) {
			in.Book = b
		}
		in.Today = today(sh)
		return build(ctx, in)
	}
}

func loadPrices(cmd *cobra.Command, sh shell) (*shop.Prices, error) {
	path, _ := pricesFile(cmd, sh)
	if path == "" {
		return nil, failf(exitFiles, "neither HOME nor XDG_CONFIG_HOME is set: there is no place for the price book; name one with --prices FILE")
	}
	p, problems, err := shop.LoadPrices(file.OS, path, table.Steel())
	if err != nil {
		return nil, fail(exitFiles, err)
	}
	printProblems(sh.err, problems)
	if text.HasErrors(problems) {
		return nil, failf(exitJob, "%s cannot be read as it is", text.Clean(path))
	}
	return p, nil
}

// priceWords are the flags that every price has.
type priceWords struct {
	supplier, date, note, units, grade, kind, holds string
	least, pack                                     int
}

func (w *priceWords) flags(c *cobra.Command) {
	c.Flags().StringVar(&w.supplier, "supplier", "", "whose price it is")
	c.Flags().StringVar(&w.date, "date", "", "the `DAY` of the price, as 2026-11-02; today where left out")
	c.Flags().StringVar(&w.note, "note", "", "what else to know")
	c.Flags().IntVar(&w.least, "least", 1, "the price holds from so many up")
}

func (w *priceWords) day(sh shell) (book.Day, error) {
	if w.date == "" {
		return today(sh), nil
	}
	d, err := book.ParseDay(w.date)
	return d, fail(exitUse, err)
}

func pricesCommand(sh shell) *cobra.Command {
	var asJSON, old bool
	c := &cobra.Command{
		Use: "prices", Short: "The shop's price book: what steel and goods cost, from whom, since when", Args: cobra.NoArgs,
		Long: "The shop's price book, prices.toml in the configuration folder. A section without prices in its job takes the book's newest;\nwhat is older than old_after days (90 where the book says nothing) is marked old wherever it is shown.",
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := loadPrices(cmd, sh)
			if err != nil {
				return err
			}
			return printPrices(sh, p.Book, asJSON, old)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON document on standard output")
	c.Flags().BoolVar(&old, "old", false, "only the old ones: what to ask about at the yard")
	c.AddCommand(steelPrice(sh), goodsPrice(sh),
		&cobra.Command{
			Use: "renew LINE PRICE [DAY]", Short: "Give a price its new amount, as of today or of the day", Args: cobra.RangeArgs(2, 3),
			RunE: func(cmd *cobra.Command, args []string) error {
				n, err := lineOf(args[0])
				if err != nil {
					return err
				}
				m, err := measure.ParseMoney(args[1])
				if err != nil {
					return fail(exitUse, err)
				}
				day := today(sh)
				if len(args) == 3 {
					if day, err = book.ParseDay(args[2]); err != nil {
						return fail(exitUse, err)
					}
				}
				p, err := loadPrices(cmd, sh)
				if err != nil {
					return err
				}
				return writeDrops(p.Renew(n, m, day))
			},
		},
		&cobra.Command{
			Use: "remove LINE", Short: "Take a price out of the book", Args: cobra.ExactArgs(1),
			RunE: func(cmd *cobra.Command, args []string) error {
				n, err := lineOf(args[0])
				if err != nil {
					return err
				}
				p, err := loadPrices(cmd, sh)
				if err != nil {
					return err
				}
				return writeDrops(p.Remove(n))
			},
		})
	return c
}

func lineOf(word string) (int, error) {
	n, err := strconv.Atoi(word)
	if err != nil {
		return 0, failf(exitUse, "%q is not the number of a price; soapstone prices shows them", text.Clean(word))
	}
	return n, nil
}

func steelPrice(sh shell) *cobra.Command {
	w := priceWords{}
	c := &cobra.Command{
		Use: "steel SHAPE SIZE LENGTH PRICE", Short: "Put a price of steel into the book, or a new one in place of the old", Args: cobra.ExactArgs(4),
		Long: "LENGTH is that of the stick, or any where the price holds for every length. PRICE is for the stick; 1.70/ft, 2.10/kg and 85/cwt are for a\nfoot, a kilogram and a hundredweight. The same article of the same supplier takes the place of its old price.",
		Example: `  soapstone prices steel rect-tube "2 x 1 x 14ga" 20ft 33.00 --supplier "Harbour Steel"
  soapstone prices steel angle "2 x 2 x 1/4" any 85/cwt --supplier "River Yard" --least 5`,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := w.steel(sh, args)
			if err != nil {
				return err
			}
			return putPrice(cmd, sh, func(p *shop.Prices) (bool, error) { return p.PutSteel(s) })
		},
	}
	w.flags(c)
	c.Flags().StringVar(&w.grade, "grade", "", "the grade that the price is for; any where left out")
	c.Flags().StringVar(&w.units, "units", "in", "unit of bare numbers: in, ft, mm, cm, m")
	return c
}

func (w *priceWords) steel(sh shell, args []string) (s book.Steel, err error) {
	unit, err := measure.ParseUnit(w.units)
	if err != nil {
		return s, fail(exitUse, err)
	}
	shape, err := steel.ParseShape(args[0])
	if err != nil {
		return s, fail(exitUse, err)
	}
	sec, err := steel.New(steel.Spec{Shape: shape, Size: args[1], Grade: w.grade, Unit: unit}, table.Steel())
	if err != nil {
		return s, fail(exitUse, err)
	}
	s = book.Steel{Shape: shape.String(), Size: args[1], Grade: w.grade, Section: sec, Supplier: strings.Join(strings.Fields(w.supplier), " "), Least: w.least, Note: w.note}
	if unit != measure.In {
		s.Size = job.ExplicitSize(args[1], unit) // the book's bare numbers are inches
	}
	if args[2] != "any" {
		if s.Length, err = measure.ParseLength(args[2], unit); err != nil {
			return s, fail(exitUse, err)
		}
	}
	word, per, _ := strings.Cut(args[3], "/")
	switch per {
	case "":
	case "ft":
		s.Per = book.PerFoot
	case "kg":
		s.Per = book.PerKilogram
	case "cwt":
		s.Per = book.PerHundredweight
	default:
		return s, failf(exitUse, "a price is for the stick, or /ft, /kg or /cwt; %q is neither", text.Short(text.Clean(per), 20))
	}
	if s.Price, err = measure.ParseMoney(word); err != nil {
		return s, fail(exitUse, err)
	}
	if s.Per == book.PerStick && s.Length == 0 {
		return s, failf(exitUse, "a price of the stick needs the stick's length in place of any")
	}
	s.Date, err = w.day(sh)
	return s, err
}

func goodsPrice(sh shell) *cobra.Command {
	w := priceWords{}
	c := &cobra.Command{
		Use: "goods NAME PRICE", Short: "Put a price of wheels, bolts, paint, wire, gas into the book", Args: cobra.ExactArgs(2),
		Long:    "NAME is what the job's [[item]] or the plan's list calls it. PRICE is that of a pack.",
		Example: `  soapstone prices goods caster 14.00 --kind part --pack 2 --supplier "Chandler & Daughters"`,
		RunE: func(cmd *cobra.Command, args []string) error {
			m, err := measure.ParseMoney(args[1])
			if err != nil {
				return fail(exitUse, err)
			}
			day, err := w.day(sh)
			if err != nil {
				return err
			}
			g := book.Goods{Name: strings.Join(strings.Fields(args[0]), " "), Kind: w.kind, Price: m, Pack: w.pack, Holds: strings.TrimSpace(w.holds), Supplier: strings.Join(strings.Fields(w.supplier), " "), Date: day, Least: w.least, Note: w.note}
			return putPrice(cmd, sh, func(p *shop.Prices) (bool, error) { return p.PutGoods(g) })
		},
	}
	w.flags(c)
	c.Flags().StringVar(&w.kind, "kind", "part", "one of "+strings.Join(book.Kinds(), ", "))
	c.Flags().IntVar(&w.pack, "pack", 1, "pieces in a pack")
	c.Flags().StringVar(&w.holds, "holds", "", "what a spool, can or bottle holds: 11lb, 1qt, 80cuft")
	return c
}

func putPrice(cmd *cobra.Command, sh shell, put func(*shop.Prices) (bool, error)) error {
	path, _ := pricesFile(cmd, sh)
	if path != "" {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return fail(exitFiles, err)
		}
	}
	p, err := loadPrices(cmd, sh)
	if err != nil {
		return err
	}
	replaced, err := put(p)
	if err != nil {
		return writeDrops(err)
	}
	what := "added to the book"
	if replaced {
		what = "in place of the old price"
	}
	_, err = fmt.Fprintln(sh.out, what)
	return fail(exitFiles, err)
}

// priceJSON is one price of the book.
type priceJSON struct {
	Line     int     `json:"line"`
	What     string  `json:"what"` // steel, or the kind of goods
	Name     string  `json:"name"`
	Grade    string  `json:"grade"`
	StickMM  float64 `json:"stick_mm"` // 0: any length
	Price    float64 `json:"price"`
	Per      string  `json:"per"`
	Pack     int     `json:"pack"`
	Holds    string  `json:"holds"`
	Supplier string  `json:"supplier"`
	Date     string  `json:"date"`
	Least    int     `json:"least"`
	Note     string  `json:"note"`
	AgeDays  int     `json:"age_days"`
	Old      bool    `json:"old"`
}

func printPrices(sh shell, b *book.Book, asJSON, onlyOld bool) error {
	now := today(sh)
	rows := []priceJSON{}
	amounts := map[int]measure.Money{}
	add := func(r priceJSON, m measure.Money, d book.Day) {
		r.Price, r.Date, r.AgeDays, r.Old = m.Float(), d.String(), int(now-d), b.Old(d, now)
		if r.Old || !onlyOld {
			rows, amounts[r.Line] = append(rows, r), m
		}
	}
	for i, s := range b.Steel {
		add(priceJSON{Line: i + 1, What: "steel", Name: s.Shape + " " + s.Size, Grade: s.Grade, StickMM: s.Length.MM(), Per: s.Per.String(), Pack: 1, Supplier: s.Supplier, Least: s.Least, Note: s.Note}, s.Price, s.Date)
	}
	for i, g := range b.Goods {
		add(priceJSON{Line: len(b.Steel) + i + 1, What: g.Kind, Name: g.Name, Per: "a pack", Pack: g.Pack, Holds: g.Holds, Supplier: g.Supplier, Least: g.Least, Note: g.Note}, g.Price, g.Date)
	}
	if asJSON {
		return writeJSON(sh.out, map[string]any{"currency": b.Currency, "old_after": b.Days(), "today": now.String(), "prices": rows})
	}
	if len(rows) == 0 {
		word := "the book is empty; soapstone prices steel and soapstone prices goods fill it"
		if onlyOld {
			word = "no price is old"
		}
		_, err := fmt.Fprintln(sh.out, word)
		return fail(exitFiles, err)
	}
	var out strings.Builder
	for _, r := range rows {
		name := r.Name
		if r.StickMM > 0 {
			name += "  " + measure.Sixteenths.PrintLong(measure.Length(r.StickMM*float64(measure.Millimetre)))
		}
		if r.Pack > 1 {
			name += fmt.Sprintf("  pack of %d", r.Pack)
		}
		if r.Holds != "" {
			name += "  " + r.Holds
		}
		per := ""
		if r.What == "steel" {
			per = " " + r.Per
		}
		fmt.Fprintf(&out, "%3d  %-8s %-38s %10s%-8s %-22s %s", r.Line, r.What, name, amounts[r.Line], per, r.Supplier, r.Date)
		if r.Least > 1 {
			fmt.Fprintf(&out, "  from %d up", r.Least)
		}
		if r.Old {
			fmt.Fprintf(&out, "  OLD: %d days", r.AgeDays)
		}
		if r.Note != "" {
			out.WriteString("  " + r.Note)
		}
		out.WriteString("\n")
	}
	_, err := fmt.Fprint(sh.out, out.String())
	return fail(exitFiles, err)
}
