package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bench.example/soapstone/fab/hold"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/square"
	"bench.example/soapstone/fab/text"
)

// fit writes feet, squaring up and what is better cut to fit.
func (w *writer) fit(p *plan.Plan) {
	if len(p.Frame.Members) == 0 {
		return
	}
	if len(p.Frame.Feet) > 0 {
		w.head("Feet")
		square := 0
		for _, f := range p.Frame.Feet {
			if f.AngleDeg == 0 && f.GapMM == 0 {
				square++
				continue
			}
			w.line("%-14s %-12s foot %s from square (rise over run %.4f); under a square foot the gap would be %s", text.Clean(p.Frame.Members[f.Member].Name), w.mm(f.LengthMM),
				Degrees(f.AngleDeg), f.RiseRun, w.mm(f.GapMM))
		}
		switch {
		case square > 0 && square == len(p.Frame.Feet):
			w.line("all %d legs are cut square: the floor is level under them", square)
		case square > 0:
			w.line("the other %d are cut square", square)
		}
	}
	w.head("Squaring up")
	for i, s := range square.StepsWithin(p.Frame, square.ToleranceOf(p.Job.Check), w.tape) {
		w.line("%2d  %s: %s", i+1, s.Title, s.Do)
	}
	for _, g := range p.BetterFit() {
		w.line("better cut to fit, measured in place (over = \"...\" reserves for it): %s; %s", members(g.Members), text.Clean(g.Why))
	}
}

// markOut writes where each piece's neighbours land, running from one hook of the tape.
func (w *writer) markOut(p *plan.Plan) {
	first := true
	for _, x := range p.Pieces {
		if len(x.MarksOut) == 0 {
			continue
		}
		if first {
			w.head("Mark-out, from the first tip, the tape hooked once")
			w.line("The piece lies with its across face, the front, towards you, its first tip on the left; top, bottom and back are seen from there.")
			first = false
		}
		w.line("%s", x.Mark)
		w.marks(x.MarksOut)
		for _, m := range p.Measured[x.Mark] {
			if m.Length != x.Length {
				w.line("%s-%d, measured in its place %s", x.Mark, m.Unit, w.tape.PrintLong(m.Length))
				w.marks(x.AsMeasured(m.Length).MarksOut)
			}
		}
	}
}

func (w *writer) marks(ms []piece.Mark) {
	for _, m := range ms {
		place := w.mm(m.AtMM)
		if m.ToMM != m.AtMM {
			place += " to " + w.mm(m.ToMM)
		}
		w.line("    %-26s %-7s %s", place, m.Side, text.Clean(m.What))
	}
}

// stand writes weight, loads, what bolts it down and how it is lifted.
func (w *writer) stand(p *plan.Plan) {
	if p.Mass == nil || len(p.Frame.Members) == 0 {
		return
	}
	w.head("Weight and balance")
	b := p.Mass.Whole
	w.line("as hoisted %s (steel of the frame %s); centre of mass x %s, y %s, z %s", w.tape.Mass(b.KG), w.tape.Mass(p.Mass.Steel.KG), w.mm(b.Centre.X), w.mm(b.Centre.Y), w.mm(b.Centre.Z))
	w.line("it fills a box of %s x %s x %s", w.mm(b.Bounds.Hi.X-b.Bounds.Lo.X), w.mm(b.Bounds.Hi.Y-b.Bounds.Lo.Y), w.mm(b.Bounds.Hi.Z-b.Bounds.Lo.Z))
	for _, l := range p.Mass.BySection {
		w.line("  %-14s %s", text.Clean(l.Name), w.tape.Mass(l.KG))
	}
	w.loads(p)
	w.tries(p)
	w.bolts(p)
	w.lift(p)
}

func (w *writer) loads(p *plan.Plan) {
	a := p.Loads
	if a == nil {
		return
	}
	w.head("Loads")
	w.line("A reckoning by ANSI/AISC 360-22 allowable strength, not an approval: local codes and a licensed engineer decide what a frame may carry.")
	for _, c := range a.Cases {
		w.line("%-16s worst %s at %.0f %% of what is allowed (%s); moves %s at %s", text.Clean(c.Name), text.Clean(c.Worst), 100*c.Utilisation, c.Clause, w.mm(c.DeflectionMM), text.Clean(c.DeflectionAt))
		for _, r := range c.Reactions {
			w.line("    %-14s up %s, along x %s, along y %s", text.Clean(r.Name), w.tape.Force(r.Force[2]), w.tape.Force(r.Force[0]), w.tape.Force(r.Force[1]))
		}
	}
	members := slices.Clone(a.Members)
	slices.SortStableFunc(members, func(x, y hold.MemberAnswer) int { return cmp.Compare(y.Use.Value, x.Use.Value) })
	for _, m := range members[:min(len(members), mostWorst)] {
		span := ""
		if m.SpanOver > 0 {
			span = fmt.Sprintf(" (span/%.0f)", m.SpanOver)
		}
		w.line("  %-16s %3.0f %%  sags %s%s", text.Clean(m.Name), 100*m.Use.Value, w.mm(math.Abs(m.SagMM)), span)
	}
	if rest := len(members) - mostWorst; rest > 0 {
		w.line("  and %d more, none over %.0f %%", rest, 100*members[mostWorst].Use.Value)
	}
	welds := slices.Clone(p.LoadWelds)
	share := func(x hold.WeldAnswer) float64 { return x.StressMPa / x.AllowMPa }
	slices.SortStableFunc(welds, func(x, y hold.WeldAnswer) int { return cmp.Compare(share(y), share(x)) })
	for _, x := range welds[:min(len(welds), mostWorst)] {
		w.line("  welds %-10s %s: %s of %s allowed, %s", text.Clean(x.Joint), text.Clean(x.Member), w.tape.Stress(x.StressMPa), w.tape.Stress(x.AllowMPa), text.Clean(x.Case))
	}
	if rest := len(welds) - mostWorst; rest > 0 {
		w.line("  and welds at %d more joints, none over %.0f %% of what is allowed", rest, 100*share(welds[mostWorst]))
	}
}

// mostWorst is how many members and joints are listed under load, the worst first; explain and the JSON hold them all.
const mostWorst = 12

// tries answers which section: the sizes tried side by side.
func (w *writer) tries(p *plan.Plan) {
	rows := p.Tries()
	if len(rows) == 0 {
		return
	}
	w.head("Which section")
	scaled := false
	for _, t := range rows {
		if t.Why != "" {
			w.line("%-10s %-24s cannot be: %s", text.Clean(t.Section), text.Clean(t.Size), text.Clean(t.Why))
			continue
		}
		price := ""
		if t.Priced {
			price = t.Cost.With(w.currency)
		}
		scaled = scaled || t.Scaled
		w.line("%-10s %-24s worked to %3.0f %%, moves %-10s %-10s %2d sticks %s", text.Clean(t.Section), text.Clean(t.Size), 100*t.Utilisation, w.mm(t.DeflectionMM), w.tape.Mass(t.MassKG), t.Sticks, price)
	}
	if scaled {
		w.line("prices of the other sizes are the present one's in proportion to the mass: ask the yard")
	}
}

func (w *writer) bolts(p *plan.Plan) {
	for i := range p.Bolts {
		s := &p.Bolts[i]
		if i == 0 {
			w.head("Bolts")
		}
		w.line("%s %s, %s long, hole %s, torque %.0f lb ft (%.0f N m), clamp %s; worked to %.0f %%", s.Size.Name, s.Grade.Name, w.mm(s.Bolt.StockMM), w.mm(s.Hole.Value),
			s.Tight.Torque.Value/measure.PoundFtNM, s.Tight.Torque.Value, w.tape.Force(s.Tight.Clamp.Value), 100*s.Strength.Use.Value)
		for _, b := range s.Buy {
			price := ""
			if b.Priced {
				price = b.Price.With(w.currency)
				if b.Loose != b.Price {
					price += ", loose " + b.Loose.With(w.currency)
				}
			}
			w.line("  %3d x %-40s %s", b.Qty, text.Clean(b.Name), price)
		}
		if s.Spec.Into != "steel" { // whoever chooses the anchor needs these
			for k := range s.Places {
				w.line("  %s", text.Clean(s.Places[k].Words(w.tape)))
			}
		}
		for _, c := range s.Cautions {
			w.line("  ! %s", text.Clean(c))
		}
	}
}

func (w *writer) lift(p *plan.Plan) {
	a := p.Lift
	if a == nil || a.Hand == nil && a.Sling == nil && a.Jack == nil && len(a.Turns) == 0 && a.Access == nil {
		return
	}
	w.head("Lifting and turning")
	for _, c := range a.Cautions {
		w.line("! %s", text.Clean(c))
	}
	if h := a.Hand; h != nil {
		w.line("by hand: %d people, %s each when it is level (no fewer than %d at %s each)", h.People, w.tape.Mass(h.EachKG), h.Fewest, w.tape.Mass(h.LimitKG))
		for _, e := range h.Ends {
			w.line("  tilted %s: the low end holds %s, the high end %s", Degrees(e.TiltDeg), w.tape.Mass(e.LowKG), w.tape.Mass(e.HighKG))
		}
	}
	for _, x := range a.Stands {
		w.line("  as it stands %s carries %s", text.Clean(x.Name), w.tape.Mass(x.N/measure.Gravity))
	}
	if h := a.Hand; h != nil && h.Single != nil {
		w.line("  one person alone: %s", h.Single.Words(w.tape))
	}
	if s := a.Sling; s != nil {
		for _, k := range s.Picks {
			w.line("  sling at %s: %s in the leg, %s from the horizontal, %s long", text.Clean(k.Name), w.tape.Force(k.TensionN), Degrees(k.AngleDeg), w.mm(k.LegMM))
		}
		if !s.Hangs {
			w.line("! the centre of mass lies above the picks: it may turn over")
		}
	}
	if k := a.Jack; k != nil {
		w.line("by jack: %s under the end that goes up by %s; a strap on the feet that stay, cribbing under the end at every step", w.tape.Force(k.JackN), w.mm(k.RaiseMM))
		w.line("  so raised it leans %s; it topples at %s, sideways at %s, and its feet may slide at %s", Degrees(k.TiltDeg), Degrees(k.TipDeg), Degrees(k.SideTipDeg), Degrees(k.SlideDeg))
	}
	for _, t := range a.Turns {
		gear := ""
		if t.Gear {
			gear = "; a hoist or a turning stand"
		}
		w.line("  turned in the shop, %s: %s, %d pairs of hands%s; %s at the far edge as it starts, balance %s", text.Clean(t.Name), w.tape.Mass(t.MassKG), t.Hands, gear, w.tape.Mass(t.AboutN/measure.Gravity), t.Balance(w.tape))
	}
	if x := a.Access; x != nil {
		for _, why := range x.Why {
			w.line("  %s", text.Clean(why))
		}
		for _, s := range x.Splits {
			w.line("  a bolted split would fall at %s %s", s.Axis, w.mm(s.AtMM))
		}
	}
}

// machines writes every welder beside the other.
func (w *writer) machines(p *plan.Plan) {
	if len(p.Machines) < 2 {
		return
	}
	w.head("Machines side by side")
	for _, m := range p.Machines {
		if m.Why != "" {
			w.line("%-16s cannot: %s", text.Clean(m.Name), text.Clean(m.Why))
			continue
		}
		w.line("%-16s %s, %d days, %s", text.Clean(m.Name), Clock(m.Elapsed), m.Days, m.Cost.With(w.currency))
	}
}
