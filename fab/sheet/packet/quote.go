package packet

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/view"
)

// ErrNoQuote says that the job has no price.
var ErrNoQuote = errors.New("there is no price to quote: the job needs a [quote] table (soapstone help job tells its keys)")

// Quote makes the paper for the customer: what is made and what it costs, how long the price holds. No cost, no hour and no
// margin of the shop stands on it, nor the pieces it is made of.
func Quote(p *plan.Plan, o Options) (*page.Document, error) {
	if len(p.Quotes) == 0 {
		return nil, ErrNoQuote
	}
	m := newMaker(p)
	d := m.document("quote", o)
	d.Lay([]page.Part{m.quote(o)})
	return d, nil
}

func (m *maker) quote(o Options) page.Part {
	p, q := m.p, &m.p.Quotes[0]
	spec := &p.Job.Quote
	blocks := []page.Block{m.slate("Quote", o), &page.Space{MM: 1}}
	who := &page.Table{Columns: []page.Column{{Width: 52, Bold: true}, {}}}
	line := func(name, value string) {
		if value != "" {
			who.Rows = append(who.Rows, page.Row{Cells: cells(name, value)})
		}
	}
	line("for", text.Short(spec.Customer, 200))
	line("number", text.Short(spec.QuoteNumber, 60))
	if !o.Made.IsZero() {
		line("date", o.Made.Format("2 January 2006"))
		if spec.ValidDays > 0 {
			line("the price holds until", o.Made.AddDate(0, 0, spec.ValidDays).Format("2 January 2006"))
		}
	} else if spec.ValidDays > 0 {
		line("the price holds", fmt.Sprintf("%d days", spec.ValidDays))
	}
	if spec.LeadDays > 0 {
		line("ready", fmt.Sprintf("%d working days from the order and the deposit", spec.LeadDays))
	}
	blocks = append(blocks, who, head(2, "What it is"))
	if len(p.Frame.Members) > 0 {
		pic := &page.Drawing{W: page.Width, H: 32, Says: "the frame"}
		fitted(pic, view.Draw(p.Frame, view.Isometric(0)), 4, 1, pic.W-8, pic.H-2).strokes(nil)
		blocks = append(blocks, pic)
		if p.Mass != nil {
			size := p.Mass.Whole.Bounds.Hi.Sub(p.Mass.Whole.Bounds.Lo)
			blocks = append(blocks, &page.Facts{Facts: []page.Fact{{Name: "long", Value: m.mm(size.X)}, {Name: "wide", Value: m.mm(size.Y)}, {Name: "high", Value: m.mm(size.Z)}, {Name: "weighs about", Value: m.mass(p.Mass.Whole.KG)}}})
		}
	}
	if in := m.included(); len(in) > 0 {
		blocks = append(blocks, say(upper(strings.Join(in, "; "))+"."))
	}
	money := &page.Table{Columns: []page.Column{{Size: 14}, {Width: 60, Size: 14, Right: true}}}
	add := func(name string, v measure.Money, bold bool) {
		money.Rows = append(money.Rows, page.Row{Cells: []page.Cell{{Text: name, Bold: bold}, {Text: v.With(m.currency), Bold: bold}}})
	}
	if q.Tax != 0 {
		add("price", q.Price, false)
		add("tax, "+q.Settings.Tax.Percent(), q.Tax, false)
	}
	add("in all", q.Total, true)
	if q.Deposit > 0 {
		add("deposit, with the order", q.Deposit, false)
		add("on delivery", q.Balance, false)
	}
	blocks = append(blocks, &page.Group{Blocks: []page.Block{head(2, "What it costs"), money}})
	for i := 1; i < len(p.Quotes); i++ {
		x := &p.Quotes[i]
		s := fmt.Sprintf("%d of them made at one go: %s, that is %s for each", x.Frames, x.Price.With(m.currency), x.Each.With(m.currency))
		if x.Tax != 0 {
			s += ", before tax"
		}
		blocks = append(blocks, say(s+"."))
	}
	sign := &page.Table{Least: 13, Columns: []page.Column{{Head: "ordered: name"}, {Head: "signed", Width: 70}, {Head: "date", Width: 40}}}
	sign.Rows = []page.Row{{Cells: cells("", "", "")}}
	blocks = append(blocks, &page.Space{MM: 1}, &page.Group{Blocks: []page.Block{
		say("What the frame may carry, and how it is fixed, is for the local code and a licensed engineer to say. What is not named here is not in the price."), sign}})
	return page.Part{Name: "Quote", Blocks: blocks}
}

// included says what the price covers, without amounts of work or material.
func (m *maker) included() []string {
	var out []string
	if len(m.p.Frame.Members) > 0 {
		made := "steel, cut and fitted"
		if m.p.Weld != nil {
			made = "steel, welded"
		}
		out = append(out, made)
	}
	if s := m.p.Paint; s != nil {
		for i := range s.Coats {
			if c := &s.Coats[i]; c.Coats > 0 {
				name := clean(c.Name)
				if c.Coats > 1 {
					name += fmt.Sprintf(", %d coats", c.Coats)
				}
				out = append(out, "painted: "+name)
			}
		}
		if s.Zinc != nil {
			out = append(out, "hot-dip galvanised after welding")
		}
	}
	for i := range m.p.Job.Items {
		x := &m.p.Job.Items[i]
		out = append(out, fmt.Sprintf("%d x %s", x.Qty, clean(x.Name)))
	}
	for i := range m.p.Bolts {
		b := &m.p.Bolts[i]
		out = append(out, fmt.Sprintf("%d bolts %s", b.Qty, clean(b.Size.Name)))
	}
	if m.p.Job.Quote.Delivery > 0 {
		out = append(out, "brought to its place")
	}
	return out
}

// Day strips a time of everything but its day, so that the papers of one day have the same bytes.
func Day(t time.Time) time.Time {
	y, mon, d := t.Date()
	return time.Date(y, mon, d, 0, 0, 0, 0, time.UTC)
}
