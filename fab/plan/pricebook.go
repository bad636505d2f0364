package plan

import (
	"fmt"
	"slices"
	"strings"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// BookUse is a price that the plan took from the shop's book, or a dated one of the job.
type BookUse struct {
	What     string
	Each     measure.Money // a stick, or a pack
	Supplier string
	Date     book.Day
	AgeDays  int  // 0 where today is not known
	Old      bool // older than the book allows
	Line     int  // of the book; 0: the job's own
}

// takeBook gives the job the prices that it leaves open, as the shop's book has them. The job itself is not touched: the
// plan works with a copy.
func (p *Plan) takeBook(in Input) {
	p.Today, p.book = in.Today, in.Book
	if in.Book != nil && len(in.Book.Steel)+len(in.Book.Goods) > 0 {
		if c := in.Book.Currency; c != "" && c != p.Job.Currency {
			p.note("the price book counts in %s, this job in %s: none of its prices is taken", c, text.Clean(p.Job.Currency))
			p.book = &book.Book{OldAfter: in.Book.OldAfter}
		}
	}
	j := *p.Job
	j.Sections, j.Items = slices.Clone(j.Sections), slices.Clone(j.Items)
	for i := range j.Sections {
		if s := &j.Sections[i]; p.used(s.Name) {
			p.bookSteel(s)
		}
	}
	for i := range j.Items {
		x := &j.Items[i]
		if qs := p.book.Find(x.Name); !x.Priced && len(qs) > 0 && x.Qty > 0 {
			// A job counts in pieces; the pack that is bought is rounded up to whole packs and shared out.
			_, cost := qs[0].For(x.Qty)
			x.Price, x.Priced = cost.Times(1, int64(x.Qty)), true
			p.use(x.Name, qs[0])
		}
	}
	p.bookPaint(&j.Paint.Primer)
	p.bookPaint(&j.Paint.Top)
	p.bookWire(&j)
	p.Job = &j
}

// used tells whether any table of the job is made of the section; prices of others would only clutter the list.
func (p *Plan) used(section string) bool {
	j := p.Job
	has := func(name string) bool { return name == section }
	return slices.ContainsFunc(j.Rectangles, func(x job.Rectangle) bool { return has(x.Section) }) ||
		slices.ContainsFunc(j.Crossbars, func(x job.Crossbars) bool { return has(x.Section) }) ||
		slices.ContainsFunc(j.Posts, func(x job.Posts) bool { return has(x.Section) }) ||
		slices.ContainsFunc(j.Legs, func(x job.Legs) bool { return has(x.Section) }) ||
		slices.ContainsFunc(j.Members, func(x job.Member) bool { return has(x.Section) }) ||
		slices.ContainsFunc(j.Pieces, func(x job.Piece) bool { return has(x.Section) })
}

func (p *Plan) use(what string, q book.Quote) {
	u := BookUse{What: what, Each: q.Each, Supplier: q.Supplier, Date: q.Date, Old: p.book.Old(q.Date, p.Today), Line: q.Line}
	if p.Today.Known() && q.Date.Known() {
		u.AgeDays = int(p.Today - q.Date)
	}
	if !slices.Contains(p.Prices, u) {
		p.Prices = append(p.Prices, u)
	}
}

// bookSteel prices the sticks of a section: what the job prices stays; where it prices none, the newest of the book count;
// where it names no lengths, the book's lengths are what the yard sells. A section of which the book cannot price every
// length stays as the job has it, since a stick without a price would count as free.
func (p *Plan) bookSteel(s *job.Section) {
	sec := p.Sections[s.Name]
	priced := 0
	for _, st := range s.Sticks {
		if StickPrice(s, sec, st) > 0 || st.Priced {
			priced++
		}
	}
	if len(s.Sticks) > 0 && priced == len(s.Sticks) {
		p.jobDates(s, sec)
		return
	}
	sticks, named := slices.Clone(s.Sticks), len(s.Sticks) > 0
	if !named {
		for _, l := range p.book.Lengths(sec, "") {
			sticks = append(sticks, job.Stick{Length: l, Limit: -1})
		}
		if len(sticks) == 0 && s.PriceFt+s.PriceKG+s.PriceCwt > 0 {
			return
		}
		if len(sticks) == 0 {
			sticks = []job.Stick{{Length: usualStick(p.Job.Units), Limit: -1}}
		}
	}
	var taken []book.Quote
	for i := range sticks {
		st := &sticks[i]
		if st.Priced || StickPrice(s, sec, *st) > 0 {
			taken = append(taken, book.Quote{})
			continue
		}
		qs := p.book.Stick(sec, st.Length, st.Supplier)
		if len(qs) == 0 {
			if priced > 0 || len(taken) > 0 {
				p.note("section %s: neither the job nor the price book has a price for %s%s; the book's others are not taken, since that stick would count as free",
					s.Name, p.Job.Tape.PrintLong(st.Length), from(st.Supplier))
			}
			return
		}
		q := qs[0]
		st.Price, st.Priced, st.Supplier, st.Date, st.Book, st.Least = q.Each, true, q.Supplier, q.Date, q.Line, q.Least
		taken = append(taken, q)
		p.cheaperElsewhere(s.Name, st.Length, qs)
	}
	for i, q := range taken {
		if q.Line > 0 {
			p.use(fmt.Sprintf("%s %s", text.Clean(s.Name), p.Job.Tape.PrintLong(sticks[i].Length)), q)
		}
	}
	s.Sticks = sticks
	p.jobDates(s, sec)
	if !named {
		var ls []string
		for _, st := range sticks {
			ls = append(ls, p.Job.Tape.PrintLong(st.Length))
		}
		p.note("section %s: no sticks given; the price book's are taken: %s", s.Name, strings.Join(ls, ", "))
	}
}

func from(supplier string) string {
	if supplier == "" {
		return ""
	}
	return " from " + supplier
}

// jobDates lists the dated prices of the job itself.
func (p *Plan) jobDates(s *job.Section, sec steel.Section) {
	for _, st := range s.Sticks {
		if st.Book == 0 && st.Date.Known() {
			p.use(fmt.Sprintf("%s %s", text.Clean(s.Name), p.Job.Tape.PrintLong(st.Length)),
				book.Quote{Each: StickPrice(s, sec, st), Supplier: st.Supplier, Date: st.Date})
		}
	}
}

// cheaperElsewhere tells of a price that another supplier had, where it is lower and not old.
func (p *Plan) cheaperElsewhere(section string, l measure.Length, qs []book.Quote) {
	for _, q := range qs[1:] {
		if q.Each < qs[0].Each && !p.book.Old(q.Date, p.Today) {
			least := ""
			if q.Least > 1 {
				least = fmt.Sprintf(" from %d sticks up", q.Least)
			}
			p.note("section %s: %s cost %s%s%s on %s; the plan reckons with the newest, %s", section, p.Job.Tape.PrintLong(l), q.Each.With(p.Job.Currency), least, from(q.Supplier), q.Date, qs[0].Each.With(p.Job.Currency))
			return
		}
	}
}

// bookPaint gives a coat the cans of the book: those that its own have no price for, all where it names none.
func (p *Plan) bookPaint(c *job.Coat) {
	qs := p.book.Holding("paint", func(name string) bool { return strings.EqualFold(name, strings.TrimSpace(c.Name)) })
	if len(qs) == 0 || !p.Job.Paint.Given || c.Coats == 0 {
		return
	}
	if len(c.Cans) > 0 {
		cans := slices.Clone(c.Cans)
		for i := range cans {
			for _, q := range qs {
				if d := q.Amount - cans[i].Litres; !cans[i].Priced && d < 1e-6 && d > -1e-6 {
					cans[i].Price, cans[i].Priced = q.Each, true
					p.use(c.Name+", "+q.Holds, q)
				}
			}
		}
		c.Cans = cans
		return
	}
	seen := map[string]bool{}
	for _, q := range qs {
		if !seen[q.Holds] {
			seen[q.Holds] = true
			c.Cans = append(c.Cans, job.Can{Litres: q.Amount, Size: q.Holds, Price: q.Each, Priced: true})
			p.use(c.Name+", "+q.Holds, q)
		}
	}
}

// bookWire gives the quote the spool and the bottle of the book where it has none.
func (p *Plan) bookWire(j *job.Job) {
	if w := j.Welder; w != nil && j.Quote.Spool == 0 {
		qs := p.book.Holding("wire", func(name string) bool {
			process, size, sized := strings.Cut(name, " ")
			if !strings.EqualFold(process, w.Process) {
				return false
			}
			l, err := measure.ParseLength(strings.TrimSpace(size), measure.In)
			return !sized || err == nil && l == w.Wire
		})
		if len(qs) > 0 {
			j.Quote.Spool, j.Quote.SpoolPrice = qs[0].Amount, qs[0].Each
			p.use("wire "+qs[0].Name+", "+qs[0].Holds, qs[0])
		}
	}
	if j.Quote.GasLMin > 0 && j.Quote.BottleL == 0 {
		if qs := p.book.Holding("gas", func(string) bool { return true }); len(qs) > 0 {
			j.Quote.BottleL, j.Quote.BottleCost = qs[0].Amount, qs[0].Each
			p.use("gas "+qs[0].Name+", "+qs[0].Holds, qs[0])
		}
	}
}

// bookBolts prices bolts, nuts and washers that the job has no price for, by the names of the plan's own list.
func (p *Plan) bookBolts() {
	for i := range p.Bolts {
		for k := range p.Bolts[i].Buy {
			b := &p.Bolts[i].Buy[k]
			qs := p.book.Find(b.Name)
			if b.Priced || len(qs) == 0 {
				continue
			}
			packs, cost := qs[0].For(b.Qty)
			b.Price, b.Loose, b.Priced = cost, cost, true
			if qs[0].Pack > 1 {
				b.Boxes, b.Single = packs, 0
			}
			p.use(b.Name, qs[0])
		}
	}
}

// oldPrices warns of prices that are older than the book allows, and of those that hold only from more sticks up.
func (p *Plan) oldPrices() {
	for _, b := range p.Buy {
		if b.Least > b.Qty {
			who := b.Supplier
			if who == "" {
				who = "the yard"
			}
			p.add(text.Problem{Code: "least", Severity: text.Caution, Message: fmt.Sprintf("%s sells %s of %s at %s from %d sticks up; this job buys %d", who, p.Job.Tape.PrintLong(b.Length), text.Clean(b.Section),
				b.Price.With(text.Clean(p.Job.Currency)), b.Least, b.Qty)})
		}
	}
	for _, u := range p.Prices {
		switch {
		case u.Old:
			p.add(text.Problem{Code: "old-price", Severity: text.Caution, Message: fmt.Sprintf("the price of %s (%s%s) is of %s, %d days old: ask before you promise anything; it counts as old after %d days",
				u.What, u.Each.With(text.Clean(p.Job.Currency)), from(u.Supplier), u.Date, u.AgeDays, p.book.Days())})
		case u.AgeDays < 0:
			p.add(text.Problem{Code: "price-date", Severity: text.Caution, Message: fmt.Sprintf("the price of %s is dated %s, which is still to come: is the year right?", u.What, u.Date)})
		}
	}
}
