package sheet

import (
	"fmt"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/paint"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/text"
)

// PaintArea prints an area in the units of the tape: square feet with an inch tape, square metres with a metric one.
func PaintArea(m2 float64, tape measure.Tape) string {
	if tape.Metric() {
		return fmt.Sprintf("%.2f m2", m2)
	}
	return fmt.Sprintf("%.1f sq ft", m2/(0.3048*0.3048))
}

// PaintVolume prints litres in the units of the tape: US gallons or quarts with an inch tape.
func PaintVolume(l float64, tape measure.Tape) string {
	switch {
	case tape.Metric():
		return fmt.Sprintf("%.2f l", l)
	case l < measure.GallonL:
		return fmt.Sprintf("%.2f qt", l/(measure.GallonL/4))
	}
	return fmt.Sprintf("%.2f gal", l/measure.GallonL)
}

// PaintFilm prints a film in the units of the tape: mils or micrometres.
func PaintFilm(mm float64, tape measure.Tape) string {
	if tape.Metric() {
		return fmt.Sprintf("%.0f um", mm*1000)
	}
	return fmt.Sprintf("%.1f mil", mm/measure.InchMM*1000)
}

// PaintWhen says when a step of the paint calendar begins: day 2, 1 h 30 min in.
func PaintWhen(s paint.Step) string {
	if s.AtH*60 < 0.5 {
		return fmt.Sprintf("day %d, first thing", s.Day)
	}
	return fmt.Sprintf("day %d, %s in", s.Day, Span(s.AtH*3600))
}

// money writes paint, hours and price.
func (w *writer) money(p *plan.Plan) {
	w.paint(p.Paint)
	w.hours(p)
	w.price(p)
}

func (w *writer) paint(s *paint.Sheet) {
	if s == nil {
		return
	}
	w.head("Paint")
	w.line("%s to be covered, contact faces and closed ends left out", PaintArea(s.AreaM2, w.tape))
	for _, a := range s.Areas {
		w.line("  %-14s %-12s %s", text.Clean(a.Name), PaintArea(a.M2, w.tape), a.Finish)
	}
	for _, x := range s.Prep {
		w.line("%s (%s): %s", x.Grade, finishWord(x.Finish), x.Do)
	}
	for _, c := range s.Coats {
		w.line("%s, %d x %s dry (lay on %s wet) by %s: %s with %.0f %% lost", text.Clean(c.Name), c.Coats, PaintFilm(c.Spec.FilmMM, w.tape), PaintFilm(c.WetMM, w.tape), c.Method,
			PaintVolume(c.Litres, w.tape), 100*c.Loss)
		for _, b := range c.Cans {
			cost := ""
			if b.Price > 0 {
				cost = b.Cost.With(w.currency)
			}
			w.line("  %3d x %-12s %s", b.Qty, text.Clean(b.Size), cost)
		}
	}
	if s.Thinner > 0 {
		w.line("thinner %s", PaintVolume(s.Thinner, w.tape))
	}
	if z := s.Zinc; z != nil {
		w.line("hot-dip galvanised after welding: %s inside and out, about %s of zinc on %s of steel", PaintArea(z.AreaM2, w.tape), w.tape.Mass(z.KG), w.tape.Mass(z.SteelKG))
	}
	if s.Caps > 0 {
		w.line("%d plugs or caps for open tube ends", s.Caps)
	}
	if s.Strips > 0 {
		w.line("%d tube ends stand out over what they butt on: a strip of steel welded over the gap", s.Strips)
	}
	w.sealed(s)
	for _, t := range s.Traps {
		w.line("! %s", text.Clean(t))
	}
	for _, x := range s.Steps {
		w.line("  %-26s %-44s %s", PaintWhen(x), text.Clean(x.What), Span((x.EndH-x.StartH)*3600))
	}
	if s.MassKG > 0 {
		w.line("dry it weighs %s; that is in the weight as hoisted", w.tape.Mass(s.MassKG))
	}
	for _, c := range s.Cautions {
		w.line("! %s", text.Clean(c))
	}
}

func finishWord(f job.Finish) string {
	if f == "" {
		return "as bought"
	}
	return string(f)
}

// sealed tells of closed tubes: good under paint, deadly in zinc.
func (w *writer) sealed(s *paint.Sheet) {
	if len(s.Sealed) == 0 {
		return
	}
	if s.Zinc == nil {
		w.line("%d tubes are closed all round: they do not rust inside as long as no hole is left open (CIDECT 10B-78/3)", len(s.Sealed))
		return
	}
	for _, x := range s.Sealed {
		if x.Vent.Each == 0 {
			w.line("  %-16s is larger than the table of vent holes: ask the galvaniser", text.Clean(x.Member))
			continue
		}
		w.line("  %-16s %d x %s holes at each end (%s)", text.Clean(x.Member), x.Vent.Each, w.mm(x.Vent.MM), x.Vent.Source)
	}
}

func (w *writer) hours(p *plan.Plan) {
	h := p.Hours
	if h == nil {
		return
	}
	w.head("Hours")
	w.line("%-18s %12s  %s", "", "planned", "beside it")
	for _, e := range h.Entries {
		w.line("%-18s %12s  %s", e.Activity, Span(float64(e.PlanS)), Beside(e))
	}
	w.line("%-18s %12s", "in all", Span(float64(h.PlanS)))
	if h.PaidS != h.PlanS {
		w.line("%-18s %12s", "charged", Span(float64(h.PaidS)))
	}
}

// Beside says what is known of an activity besides the plan: what of it was done and took, what the last jobs took.
func Beside(e price.Entry) string {
	s := ""
	if e.TookS > 0 {
		s = fmt.Sprintf("so far %s, planned %s", Span(float64(e.TookS)), Span(float64(e.DoneS)))
	}
	if e.PastOf > 0 {
		if s != "" {
			s += "; "
		}
		s += fmt.Sprintf("by the last %d jobs %s (x %.2f)", e.PastOf, Span(float64(e.PlanS)*e.PastX), e.PastX)
	}
	if e.PaidS == 0 && e.Activity == price.Rest {
		s += "not charged"
	}
	return s
}

func (w *writer) price(p *plan.Plan) {
	if len(p.Quotes) == 0 {
		return
	}
	w.head("Price")
	q := p.Quotes[0]
	for _, l := range q.Lines {
		if l.Kind == price.Labour {
			continue
		}
		w.line("%-36s %-18s %12s", text.Clean(l.Name), text.Clean(l.Qty), l.Cost)
	}
	w.line("%-36s %-18s %12s", "labour", fmt.Sprintf("%s at %s", Span(float64(q.PaidS)), q.Settings.Rate), q.Labour)
	w.line("%-55s %12s", "cost: at this price nothing is earned beyond the hours", q.Cost)
	how := "markup " + q.Settings.Markup.Percent()
	if q.Settings.ByMargin {
		how = "margin " + q.Settings.Margin.Percent()
	}
	if q.AtLeast {
		how += ", raised to the minimum charge"
	}
	w.line("%-55s %12s", fmt.Sprintf("price (%s; %s on the cost, %s of the price)", how, q.Markup.Percent(), q.Margin.Percent()), q.Price)
	if q.Tax > 0 {
		w.line("%-55s %12s", fmt.Sprintf("tax %s on %s (%s)", q.Settings.Tax.Percent(), q.Taxed, q.Settings.TaxOn), q.Tax)
	}
	w.line("%-55s %12s", "in all", q.Total.With(w.currency))
	if q.Deposit > 0 {
		w.line("deposit %s with the order, %s on delivery; the quote holds %d days", q.Deposit.With(w.currency), q.Balance.With(w.currency), p.Job.Quote.ValidDays)
	} else {
		w.line("the quote holds %d days", p.Job.Quote.ValidDays)
	}
	w.line("an hour pays %s at this price; below %s the shop pays for the job", q.EarnsHour.With(w.currency), q.OutOfHand.With(w.currency))
	if o := p.Offer; o != nil {
		w.line("offered %s: an hour would pay %s, %s would be left over the cost", o.Price.With(w.currency), o.EarnsHour.With(w.currency), o.Profit.With(w.currency))
	}
	if len(p.Quotes) > 1 {
		m := p.Quotes[1]
		w.line("%d at one go: %s, %s each; %s of work each against %s for one alone", m.Frames, m.Price.With(w.currency), m.Each.With(w.currency), Span(float64(m.WorkS)/float64(m.Frames)), Span(float64(q.WorkS)))
	}
	for _, u := range p.Costs[0].Unpriced {
		w.line("! not in the price: %s", text.Clean(u))
	}
}
