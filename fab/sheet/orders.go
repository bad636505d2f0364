package sheet

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
)

// orders writes the buy list by supplier, with the day of each price; it gives false where neither is known of anything, and
// writes nothing.
func (w *writer) orders(p *plan.Plan) bool {
	known := len(p.Received) > 0
	orders := p.Orders()
	for _, o := range orders {
		known = known || o.Supplier != ""
		for _, b := range o.Sticks {
			known = known || b.Date.Known()
		}
	}
	if !known {
		return false
	}
	for _, b := range p.Received {
		w.line("came already: %d x %-12s %-20s %s", b.Qty, text.Clean(b.Section), w.tape.PrintLong(b.Length), paid(b, w.currency))
	}
	var total measure.Money
	for _, o := range orders {
		who := o.Supplier
		if who == "" {
			who = "wherever it is had"
		}
		w.line("%s", text.Clean(who))
		for _, b := range o.Sticks {
			w.line("  %3d x %-12s %-20s %s", b.Qty, text.Clean(b.Section), w.tape.PrintLong(b.Length), paid(b, w.currency))
			for i, at := range b.Parts {
				w.line("        part stick %d at %s from its first end", i+1, tapes(at, w.tape))
			}
		}
		for _, g := range o.Goods {
			cost := "without a price"
			if g.Priced {
				cost = g.Cost.With(w.currency) + dated(g.Date.String(), g.Old)
			}
			w.line("  %3d x %-33s %s", g.Qty, text.Clean(g.Name), cost)
		}
		if o.PartCost > 0 {
			w.line("  %3d cuts by the yard %29s", o.Partings, o.PartCost.With(w.currency))
		}
		if o.Cost > 0 {
			w.line("  in all %s", o.Cost.With(w.currency))
		}
		total += o.Cost
	}
	switch {
	case len(orders) == 0:
		w.line("nothing more: what is on hand and what came is enough")
	case total > 0 && len(orders) > 1:
		w.line("in all %s", total.With(w.currency))
	}
	return true
}

func paid(b plan.Purchase, currency string) string {
	if !b.Priced {
		return "without a price"
	}
	return fmt.Sprintf("at %s  %s", b.Price, b.Cost.With(currency)) + dated(b.Date.String(), b.Old)
}

func dated(day string, old bool) string {
	switch {
	case day == "":
		return ""
	case old:
		return "  (OLD: price of " + day + ")"
	}
	return "  (price of " + day + ")"
}

func tapes(at []measure.Length, tape measure.Tape) string {
	var out []string
	for _, x := range at {
		out = append(out, tape.PrintLong(x))
	}
	return strings.Join(out, " and ")
}
