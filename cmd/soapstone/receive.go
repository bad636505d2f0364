package main

import (
	"fmt"
	"os"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/record"
)

// receiveWords are the flags of a receipt.
type receiveWords struct {
	price, measured, wall, bow, twist, supplier string
	noMore                                      bool
}

// receiveCommand records what came from the yard, and shows how the plan follows.
func receiveCommand(sh shell) *cobra.Command {
	w := receiveWords{}
	c := &cobra.Command{
		Use: "receive JOB SECTION LENGTH QTY", Short: "What came from the yard: count, true price, measured length, wall, bow, twist", Args: cobra.ExactArgs(4),
		Long: "Records sticks that came: LENGTH is that of a stick as bought, QTY how many came (0 with --no-more where none did). The plan takes them\n" +
			"first and buys what is missing; true prices count in the quote; a thin wall, a bow, a twist are compared with what the\n" +
			"standards allow, with what they mean for the pieces.",
		Example: `  soapstone receive rack.toml rail 20ft 4 --price 35.25 --supplier "Harbour Steel" --wall 0.079in --bow 1/4in
  soapstone receive rack.toml rail 24ft 0 --no-more`,
		RunE: func(cmd *cobra.Command, args []string) error { return w.run(cmd, sh, args) },
	}
	f := c.Flags()
	f.StringVar(&w.price, "price", "", "what one stick really cost")
	f.StringVar(&w.measured, "measured", "", "the shortest of them as measured")
	f.StringVar(&w.wall, "wall", "", "the thinnest wall as measured, by calliper away from the seam")
	f.StringVar(&w.bow, "bow", "", "the worst rise of a stick off a string from end to end")
	f.StringVar(&w.twist, "twist", "", "the worst rise of one corner at the far end, the near end held flat")
	f.StringVar(&w.supplier, "supplier", "", "who brought them")
	f.BoolVar(&w.noMore, "no-more", false, "the yard has no more of this length")
	return c
}

func (w *receiveWords) event(j *job.Job, args []string) (e work.Received, err error) {
	s, ok := j.Section(args[0])
	if !ok {
		var names []string
		for _, x := range j.Sections {
			names = append(names, x.Name)
		}
		return e, fmt.Errorf("this job has no section %s; it has %s", text.Short(text.Clean(args[0]), 40), text.Clean(text.List(names)))
	}
	e = work.Received{Section: s.Name, NoMore: w.noMore, Supplier: text.Clean(w.supplier)}
	if e.Nominal, err = measure.ParseLength(args[1], j.Units); err != nil {
		return e, err
	}
	if e.Qty, err = strconv.Atoi(args[2]); err != nil {
		return e, fmt.Errorf("%q is no count of sticks", text.Clean(args[2]))
	}
	for _, x := range []struct {
		word string
		to   *measure.Length
	}{{w.measured, &e.Length}, {w.wall, &e.Wall}, {w.bow, &e.Bow}, {w.twist, &e.Twist}} {
		if x.word == "" {
			continue
		}
		if *x.to, err = measure.ParseLength(x.word, j.Units); err != nil {
			return e, err
		}
	}
	if w.price != "" {
		if e.Price, err = measure.ParseMoney(w.price); err != nil {
			return e, err
		}
	}
	return e, nil
}

func (w *receiveWords) run(cmd *cobra.Command, sh shell, args []string) error {
	name := args[0]
	if _, err := os.Stat(name); err != nil {
		return fail(exitFiles, err)
	}
	j, problems, err := readJob(cmd, sh, name)
	if err != nil {
		return err
	}
	if failed(problems) {
		printProblems(sh.err, problems)
		return failf(exitJob, "%s cannot be built as written", name)
	}
	e, err := w.event(j, args[1:])
	if err != nil {
		return fail(exitUse, err)
	}
	payload, err := work.Encode(e)
	if err != nil {
		return fail(exitUse, err)
	}
	r, state, err := openState(sh, name, false)
	if err != nil {
		return err
	}
	defer r.Close()
	before, err := makePlan(cmd, sh, name, checkLimit, plan.Input{Work: state.Clone(), Effort: -1})
	if err != nil {
		return err
	}
	news, err := r.Append(record.Draft{At: time.Now().UnixNano(), Payload: payload})
	if err != nil {
		return fail(exitFiles, err)
	}
	for _, x := range news.Entries {
		state.Apply(x.ID, x.At, x.Payload)
	}
	after, err := makePlan(cmd, sh, name, checkLimit, plan.Input{Work: state, Effort: -1})
	if err != nil {
		return err
	}
	return w.tell(sh, before, after, e)
}

// tell says what the receipt changed.
func (w *receiveWords) tell(sh shell, before, after *plan.Plan, e work.Received) error {
	tape := after.Job.Tape
	fmt.Fprintln(sh.out, "recorded: "+text.Clean(work.Words(e, tape.PrintLong)))
	for _, p := range after.Problems {
		switch p.Code {
		case "bow", "twist", "thin-wall", "receipt":
			fmt.Fprintln(sh.out, p.String())
		}
	}
	if after.Failed() {
		printProblems(sh.err, after.Problems)
		return failf(exitJob, "with what came the job cannot be built; the receipt is recorded, and counts once more steel is there")
	}
	for _, s := range after.Job.Sections {
		was, is := toBuy(before, s.Name), toBuy(after, s.Name)
		if was != is {
			fmt.Fprintf(sh.out, "%s still to buy: %s (before: %s)\n", text.Clean(s.Name), is, was)
		}
	}
	cur := text.Clean(after.Job.Currency)
	if len(before.Quotes) > 0 && len(after.Quotes) > 0 && before.Quotes[0].Cost != after.Quotes[0].Cost {
		fmt.Fprintf(sh.out, "cost of the job: %s (before: %s)\n", after.Quotes[0].Cost.With(cur), before.Quotes[0].Cost.With(cur))
	}
	return nil
}

// toBuy says in a line what of a section is still to be bought.
func toBuy(p *plan.Plan, section string) string {
	if p.Failed() {
		return "not known"
	}
	out := ""
	for _, b := range p.Buy {
		if b.Section == section {
			if out != "" {
				out += ", "
			}
			out += fmt.Sprintf("%d x %s", b.Qty, p.Job.Tape.PrintLong(b.Length))
			if b.Priced {
				out += " at " + b.Price.String()
			}
		}
	}
	if out == "" {
		return "nothing"
	}
	return out
}
