package stock

import (
	"strconv"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/station"
)

// offered are the sticks that the job may have from the yard: what is to be bought first, then every other length.
func offered(d *station.Desk) (names []string, what []work.Received) {
	p := d.Plan
	add := func(section string, l measure.Length, qty int, supplier string, price measure.Money) {
		for _, w := range what {
			if w.Section == section && w.Nominal == l {
				return
			}
		}
		names = append(names, text.Clean(section)+" "+p.Job.Tape.PrintLong(l))
		what = append(what, work.Received{Section: section, Nominal: l, Qty: qty, Supplier: supplier, Price: price})
	}
	for _, b := range p.Buy {
		add(b.Section, b.Length, b.Qty, b.Supplier, b.Price)
	}
	for _, s := range p.Job.Sections {
		for _, st := range s.Sticks {
			add(s.Name, st.Length, 0, st.Supplier, st.Price)
		}
	}
	return names, what
}

// receive asks what came from the yard.
func receive(d *station.Desk) []station.Intent {
	names, what := offered(d)
	if len(names) == 0 {
		return nil
	}
	const (
		fWhich = iota
		fQty
		fPrice
		fLength
		fWall
		fBow
		fTwist
		fFrom
		fMore
	)
	first := what[0]
	price := ""
	if first.Price > 0 {
		price = first.Price.String()
	}
	fields := []station.Field{
		{Label: "sticks", Value: names[0], Choices: names, Help: "which came"},
		{Label: "how many", Value: strconv.Itoa(first.Qty), Help: "counted at the yard; 0 where none came"},
		{Label: "price", Value: price, Help: "for one, as paid; empty: as planned"},
		{Label: "length", Help: "the shortest, as measured; empty: as bought"},
		{Label: "wall", Help: "the thinnest, by calliper, away from the seam; empty: not measured"},
		{Label: "bow", Help: "the worst rise off a string from end to end"},
		{Label: "twist", Help: "the worst rise of one corner, the other end held flat"},
		{Label: "supplier", Value: first.Supplier, Help: "who brought them"},
		{Label: "more there", Value: "yes", Choices: []string{"yes", "no"}, Help: "no: the yard has no more of this length, and the plan does without"},
	}
	return []station.Intent{station.Form{Title: "came from the yard", Fields: fields, Done: func(d *station.Desk, v []string) ([]station.Intent, error) {
		at := func(i int) string { return strings.TrimSpace(v[i]) }
		e := work.Received{Supplier: text.Clean(at(fFrom)), NoMore: at(fMore) == "no"}
		for i, n := range names {
			if n == at(fWhich) {
				e.Section, e.Nominal = what[i].Section, what[i].Nominal
			}
		}
		if e.Section == "" {
			return nil, &station.Amiss{Field: fWhich, Why: "choose one of the sticks with left and right"}
		}
		n, err := strconv.Atoi(at(fQty))
		if err != nil {
			return nil, &station.Amiss{Field: fQty, Why: "a whole number of sticks"}
		}
		e.Qty = n
		if at(fPrice) != "" {
			if e.Price, err = measure.ParseMoney(at(fPrice)); err != nil {
				return nil, &station.Amiss{Field: fPrice, Why: err.Error()}
			}
		}
		for _, x := range []struct {
			i  int
			to *measure.Length
		}{{fLength, &e.Length}, {fWall, &e.Wall}, {fBow, &e.Bow}, {fTwist, &e.Twist}} {
			if at(x.i) == "" {
				continue
			}
			if *x.to, err = measure.ParseLength(at(x.i), d.Plan.Job.Units); err != nil {
				return nil, &station.Amiss{Field: x.i, Why: err.Error()}
			}
		}
		if _, err := work.Encode(e); err != nil {
			return nil, &station.Amiss{Field: fQty, Why: err.Error()}
		}
		return []station.Intent{station.Write{Events: []work.What{e}}, station.Say{Text: text.Clean(work.Words(e, d.Plan.Job.Tape.PrintLong))}}, nil
	}}}
}
