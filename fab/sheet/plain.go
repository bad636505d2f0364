package sheet

import (
	"fmt"
	"math"
	"strings"
	"time"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
)

// SawCaution stands wherever the saw is used (common practice).
const SawCaution = "At the saw: eyes and ears covered, no gloves near the moving blade, the piece clamped before the blade turns, long ends held up."

// Plain writes the whole plan as text, in the order of the work.
func Plain(p *plan.Plan) string {
	w := &writer{tape: p.Job.Tape, currency: text.Clean(p.Job.Currency)}
	title := text.Clean(p.Job.Title)
	if title == "" {
		title = "Untitled job"
	}
	w.line("%s", title)
	w.line("%s", strings.Repeat("=", len([]rune(title))))
	w.pieces(p)
	w.buy(p)
	w.sticks(p)
	w.queue(p)
	w.markOut(p)
	w.fit(p)
	w.weld(p.Weld)
	w.machines(p)
	w.stand(p)
	w.money(p)
	w.notes(p)
	return w.b.String()
}

type writer struct {
	b        strings.Builder
	tape     measure.Tape
	currency string
}

func (w *writer) line(format string, args ...any) { fmt.Fprintf(&w.b, format+"\n", args...) }

func (w *writer) head(title string) {
	w.line("")
	w.line("%s", title)
	w.line("%s", strings.Repeat("-", len([]rune(title))))
}

func (w *writer) pieces(p *plan.Plan) {
	w.head("Pieces")
	w.line("%-5s %-4s %-12s %-22s %-26s %s", "mark", "qty", "section", "length, tip to tip", "ends from square", "members")
	for _, x := range p.Pieces {
		length := w.tape.PrintLong(x.Length)
		if x.Over > 0 {
			length += " +" + w.tape.Print(x.Over)
		}
		mark := x.Mark
		if x.Hand != "" {
			mark += " " + x.Hand[:1]
		}
		w.line("%-5s %-4d %-12s %-22s %-26s %s", mark, x.Qty, text.Clean(x.Section), length, PieceEnds(&x), members(x.Members))
		for _, l := range EndLines(&x, w.tape) {
			w.line("%-10s %s", "", l)
		}
	}
	w.line("steel in all: %s", p.Job.Tape.Mass(p.MassKG))
	w.line("+ behind a figure: a little more than the tape's mark; -: a little less (a quarter to a half of %s)", w.tape.Print(p.Job.Tape.Division()))
}

// Ends says how the two ends of a piece are cut.
func Ends(left, right float64, across string) string {
	if left == 0 && right == 0 {
		return "square"
	}
	return fmt.Sprintf("%s / %s across %s", Degrees(left), Degrees(right), across)
}

// Degrees prints an angle to the hundredth of a degree, without zeros that say nothing.
func Degrees(v float64) string {
	s := fmt.Sprintf("%.2f", math.Round(v*100)/100+0)
	s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		s = "0"
	}
	return s
}

func members(names []string) string {
	shown := names
	if len(shown) > 4 {
		shown = shown[:4]
	}
	s := text.Clean(strings.Join(shown, " "))
	if len(names) > len(shown) {
		s += fmt.Sprintf(" and %d more", len(names)-len(shown))
	}
	return s
}

func (w *writer) buy(p *plan.Plan) {
	w.head("Buy")
	if w.orders(p) {
		return
	}
	var total measure.Money
	for _, b := range p.Buy {
		price := ""
		if b.Priced {
			price = fmt.Sprintf("at %s  %s", b.Price, b.Cost.With(w.currency))
		}
		w.line("%3d x %-12s %-20s %s", b.Qty, text.Clean(b.Section), w.tape.PrintLong(b.Length), price)
		total += b.Cost
	}
	switch {
	case len(p.Buy) == 0:
		w.line("nothing: what is on hand is enough")
	case p.Buy[0].Priced:
		w.line("in all %s", total.With(w.currency))
	}
}

func (w *writer) sticks(p *plan.Plan) {
	w.head("Sticks")
	n := 0
	for _, sn := range p.Nests {
		w.line("%s: %s", text.Clean(sn.Section), Proof(sn, w.currency))
		for _, u := range sn.Nest.Used {
			n++
			st := sn.Problem.Sticks[u.Stick]
			source := "bought"
			if st.OnHand {
				source = "on hand"
			}
			var b strings.Builder
			for _, c := range u.Cuts {
				x := p.Pieces[sn.Pieces[c.Kind]]
				l, r := c.Lay.Numbers(x.Ends[0].MiterDeg, x.Ends[1].MiterDeg)
				b.WriteString(Shape(x.Mark, l, r))
			}
			w.line("  %s %-8s %s drop %s, slack %s", w.tape.Print(st.Length), source, b.String(), w.tape.Print(u.Drop), w.tape.Print(u.Slack))
			for _, at := range u.Partings() {
				w.line("      the yard parts it %s from the first end", w.tape.Print(at))
			}
		}
	}
}

// Shape draws a piece on its stick: the slants of its ends as they lie around the mark.
func Shape(mark string, left, right float64) string {
	sign := func(v float64, up, down string) string {
		switch {
		case v > 0:
			return up
		case v < 0:
			return down
		}
		return "|"
	}
	return sign(left, "/", "\\") + mark + sign(right, "\\", "/")
}

// Proof says how good a nest is known to be.
func Proof(sn plan.SectionNest, currency string) string {
	n := sn.Nest
	what, cost, bound := "stick", fmt.Sprintf("%d", n.Bars), fmt.Sprintf("%d", n.BoundBars)
	if n.Priced {
		what, cost, bound = "money", n.Cost.With(currency), n.BoundCost.With(currency)
	}
	if n.Proven {
		if n.Priced {
			return fmt.Sprintf("%s, %s; proven, no nest costs less", text.Count(n.Bars, "stick"), cost)
		}
		return fmt.Sprintf("%s; proven, no nest takes less %s", text.Count(n.Bars, "stick"), what)
	}
	return fmt.Sprintf("%s, %s; not proven, the least it can be is %s", text.Count(n.Bars, "stick"), cost, bound)
}

func (w *writer) queue(p *plan.Plan) {
	w.head("At the saw")
	q := p.Queue
	w.line("%s", SawCaution)
	w.line("The blade runs beyond the line, on the drop's side. The swing is set %d times (no order needs fewer than %d), the stop %d times (%d). About %s.",
		q.Swings, q.LeastSwing, q.Stops, q.LeastStops, Span(q.EstS))
	for i, s := range q.Steps {
		if s.Waits && (i == 0 || !q.Steps[i-1].Waits) {
			w.line("      Cut to fit, when all the rest is cut and its place stands:")
		}
		w.line("%4d  %s", s.Number, StepText(s, p.Job.Saw.ReadsBlade, w.tape))
	}
}

// StepText says in a line what is done in a step.
func StepText(s cut.Step, readsBlade bool, tape measure.Tape) string {
	switch s.Op {
	case cut.Part:
		return fmt.Sprintf("stick %d  part   the yard's cut, %s from the first end", s.Stick, tape.PrintLong(s.Near))
	case cut.Load:
		if s.Again {
			return fmt.Sprintf("stick %d  load   what is left of it, %s of %s", s.Stick, tape.PrintLong(s.Length), text.Clean(s.Section))
		}
		return fmt.Sprintf("stick %d  load   %s of %s; measure it", s.Stick, tape.PrintLong(s.Length), text.Clean(s.Section))
	case cut.Prove:
		b := fmt.Sprintf("         prove  swing %s: cut scrap, flip it, halve the gap", Swing(s.SwingDeg, readsBlade))
		if s.Offset != 0 {
			b += fmt.Sprintf("; the line leans %s across the face", tape.Print(s.Offset.Abs()))
		}
		return b
	case cut.Trim:
		return fmt.Sprintf("stick %d  trim   swing %s, near edge %s, far edge %s from the fresh end", s.Stick, Swing(s.SwingDeg, readsBlade), tape.Print(s.Near), tape.Print(s.Far)) + flip(s) + compound(s)
	}
	if s.Waits {
		return fmt.Sprintf("stick %d  cut    %s-%d  waits for %s; measure it there tip to tip, enter that, cut it; at most %s, swing %s", s.Stick, s.Mark, s.Unit, s.WaitsFor,
			tape.Print(s.Stop), Swing(s.SwingDeg, readsBlade)) + flip(s) + compound(s)
	}
	b := fmt.Sprintf("stick %d  cut    %s-%d  stop %s, swing %s, %s on the %s edge: %s", s.Stick, s.Mark, s.Unit, tape.Print(s.Stop), Swing(s.SwingDeg, readsBlade), s.Measure, s.Edge, tape.Print(edge(s)))
	b += flip(s) + compound(s)
	if s.Pattern {
		b += "  (the pattern: measure it before the rest)"
	}
	return b
}

// flip says that the stick is rolled before the step.
func flip(s cut.Step) string {
	if s.Flip {
		return "; first roll the stick half a turn"
	}
	return ""
}

// compound says how a cut that leans both ways is made.
func compound(s cut.Step) string {
	switch {
	case s.TiltDeg != 0:
		return "; tilt the blade " + Degrees(math.Abs(s.TiltDeg))
	case s.WedgeDeg != 0:
		return "; roll the stick " + Degrees(math.Abs(s.WedgeDeg)) + " on wedges"
	}
	return ""
}

func edge(s cut.Step) measure.Length {
	if s.Edge == "far" {
		return s.Far
	}
	return s.Near
}

// Swing gives the saw's setting as its scale reads: degrees from square, or from the blade, and to which side the far
// edge leans.
func Swing(deg float64, readsBlade bool) string {
	v := math.Abs(deg)
	if readsBlade {
		v = 90 - v
	}
	side := ""
	switch {
	case deg > 0:
		side = " left"
	case deg < 0:
		side = " right"
	}
	return Degrees(v) + side
}

// Span prints a time in hours and minutes.
func Span(seconds float64) string {
	if seconds < 59.5 {
		return fmt.Sprintf("%.0f s", seconds)
	}
	d := time.Duration(seconds * float64(time.Second)).Round(time.Minute)
	h, m := int(d.Hours()), int(d.Minutes())%60
	if h == 0 {
		return fmt.Sprintf("%d min", m)
	}
	return fmt.Sprintf("%d h %02d min", h, m)
}

func (w *writer) notes(p *plan.Plan) {
	if len(p.Notes)+len(p.Problems) == 0 {
		return
	}
	w.head("To know")
	for _, n := range p.Notes {
		w.line("- %s", text.Clean(n))
	}
	for _, x := range p.Problems {
		w.line("- %s", x.String())
	}
}

// FaceName names the face that lies up at the saw.
func FaceName(f nest.Face) string {
	if f == nest.Width {
		return "width"
	}
	return "depth"
}

func (w *writer) mm(v float64) string { return w.tape.Print(measure.FromMM(v)) }
