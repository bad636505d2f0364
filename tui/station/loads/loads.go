// Package loads is the station that asks whether the frame holds and how it gets to its place: how hard each member works,
// drawn on the frame, what each foot carries, and the lift.
package loads

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"
	"strings"

	"bench.example/soapstone/fab/hold"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/view"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// Loads is the station.
type Loads struct {
	lift    bool // the lift is shown in place of the loads
	inCase  int  // 0: the worst of all, else that combination
	at, top int
	turn    float64

	of    *plan.Plan
	from  int
	order []int // members, the one worked hardest first

	drawn *plan.Plan
	seen  float64
	pic   view.Picture
}

// New makes the station.
func New() *Loads { return &Loads{} }

// Name is the station's name.
func (s *Loads) Name() string { return "Loads" }

// Purpose says what one does here.
func (s *Loads) Purpose() string {
	return "How hard each member works, worst first, how far it sags, what stands on each foot; and the lift: weight as hoisted, balance, hands, slings. These are estimates for somebody who knows what is being carried. Where people can be hurt, and wherever the law asks for it, a licensed engineer has the last word."
}

func (s *Loads) follow(d *station.Desk) {
	if d.Plan == nil || d.Plan.Loads == nil {
		s.of, s.order = d.Plan, nil
		return
	}
	if s.inCase > len(d.Plan.Loads.Cases) {
		s.inCase = 0
	}
	if s.of == d.Plan && s.from == s.inCase {
		return
	}
	s.of, s.from, s.order = d.Plan, s.inCase, nil
	for i := range d.Plan.Loads.Members {
		s.order = append(s.order, i)
	}
	sort.SliceStable(s.order, func(a, b int) bool { return s.use(d, s.order[a]) > s.use(d, s.order[b]) })
	s.at = max(0, min(s.at, len(s.order)-1))
}

// use gives how much of its strength a member needs in the case shown.
func (s *Loads) use(d *station.Desk, i int) float64 {
	a := d.Plan.Loads
	if s.inCase > 0 && s.inCase <= len(a.Cases) && i < len(a.Cases[s.inCase-1].Members) {
		return a.Cases[s.inCase-1].Members[i].Use.Value
	}
	if i < len(a.Members) {
		return a.Members[i].Use.Value
	}
	return 0
}

// Keys gives the bindings.
func (s *Loads) Keys(d *station.Desk) []station.Key {
	off := station.Unplanned(d)
	loads, lift := off, off
	if off == "" && d.Plan.Loads == nil {
		loads = "the job says of no load; add one at the sketch"
	}
	if off == "" && d.Plan.Lift == nil {
		lift = "there is nothing to lift"
	}
	does := "the lift"
	if s.lift {
		does = "the loads"
		lift = off
	}
	return []station.Key{
		{Keys: []string{"space", "enter", "v"}, Shown: "space", Does: does, Off: lift},
		{Keys: []string{"s"}, Does: "next case", Off: loads},
		{Keys: []string{"down", "j", "up", "k", "pgdown", "pgup"}, Shown: "down up", Does: "choose a member", Off: off},
		{Keys: []string{"left", "right"}, Shown: "left right", Does: "turn the frame", Quiet: true, Off: off},
		{Keys: []string{"c"}, Does: "copy the line", Quiet: true, Off: loads},
	}
}

// Press answers a key.
func (s *Loads) Press(d *station.Desk, key string) []station.Intent {
	s.follow(d)
	by := 0
	switch key {
	case "c":
		if d.Plan != nil && d.Plan.Loads != nil && s.at < len(s.order) {
			m := d.Plan.Loads.Members[s.order[s.at]]
			return []station.Intent{station.Copy{Text: fmt.Sprintf("%s  %.0f %%, governed by %s", text.Clean(m.Name), 100*s.use(d, s.order[s.at]), m.Use.Clause)}}
		}
	case "space", "enter", "v":
		s.lift, s.top = !s.lift, 0
	case "s":
		if d.Plan != nil && d.Plan.Loads != nil {
			s.inCase = (s.inCase + 1) % (len(d.Plan.Loads.Cases) + 1)
		}
	case "down", "j":
		by = 1
	case "up", "k":
		by = -1
	case "pgdown":
		by = 8
	case "pgup":
		by = -8
	case "left":
		s.turn -= 15
	case "right":
		s.turn += 15
	}
	if s.lift || len(s.order) == 0 {
		s.top = max(0, s.top+by)
	} else {
		s.at = max(0, min(s.at+by, len(s.order)-1))
	}
	return nil
}

// View draws the station.
func (s *Loads) View(d *station.Desk, w, h int) []string {
	if x := station.Waiting(d, w); x != nil {
		return x
	}
	s.follow(d)
	l := d.Look
	if s.lift || d.Plan.Loads == nil {
		lines := s.weights(d, w)
		if d.Plan.Loads == nil && !s.lift {
			lines = append([]string{l.Dim.Render("  The job says of no load; add one at the sketch, such as 350lb on the bars.")}, lines...)
		}
		if top := max(0, len(lines)-h); s.top > top {
			s.top = top
		}
		return lines[min(s.top, len(lines)):]
	}
	head := s.head(d, w)
	if w >= 96 {
		lw := min(56, w/2)
		body := draw.Columns(s.members(d, lw, h-len(head)), s.frame(d, w-lw-2, h-len(head)), lw, 2)
		return append(head, body...)
	}
	list := h - len(head)
	if list >= 13 {
		list = max(5, list/2)
	}
	lines := append(head, draw.Fit(s.members(d, w, list), w, list)...)
	if room := h - len(lines); room >= 6 {
		lines = append(lines, s.frame(d, w, room)...)
	}
	return lines
}

// head says which case is shown and how the whole does in it.
func (s *Loads) head(d *station.Desk, w int) []string {
	l, a := d.Look, d.Plan.Loads
	name, worst, note := "the worst of all cases", 0.0, ""
	if len(s.order) > 0 {
		worst = s.use(d, s.order[0])
	}
	if s.inCase > 0 {
		c := a.Cases[s.inCase-1]
		name = "case " + text.Clean(c.Name)
		if c.Buckling > 0 {
			note = fmt.Sprintf("; it buckles at %.1f times these loads", c.Buckling)
		}
		if c.DeflectionMM > 0 {
			note += fmt.Sprintf("; moves %s at most", d.Plan.Job.Tape.Print(measure.FromMM(c.DeflectionMM)))
		}
	}
	style := l.Heat[heat(worst)]
	out := []string{l.Strong.Render(" "+name) + l.Dim.Render(note)}
	cells := min(30, w-30)
	if cells >= 6 {
		out = append(out, " "+style.Render(draw.Gauge(worst, cells, []rune(l.Signs.Full)[0], []rune(l.Signs.Light)[0]))+l.Chalk.Render(fmt.Sprintf(" %.0f %% of what is allowed", worst*100)))
	}
	return out
}

// heat is the step of the ramp for a utilisation: the last one is reserved for more than is allowed.
func heat(use float64) int {
	switch {
	case math.IsNaN(use) || use > 1:
		return 4
	case use > 0.85:
		return 3
	case use > 0.6:
		return 2
	case use > 0.3:
		return 1
	}
	return 0
}

func (s *Loads) members(d *station.Desk, w, h int) []string {
	l, a := d.Look, d.Plan.Loads
	detail := 3
	if h < 9 {
		detail = 0
	}
	room := max(1, h-detail)
	s.top = station.Scroll(s.top, s.at, len(s.order), room)
	var out []string
	for i := s.top; i < len(s.order) && len(out) < room; i++ {
		m := a.Members[s.order[i]]
		u := s.use(d, s.order[i])
		sign := l.Signs.Ramp[heat(u)]
		sag := ""
		if m.SagMM > 0 {
			sag = "sags " + d.Plan.Job.Tape.Print(measure.FromMM(m.SagMM))
			if m.SpanOver > 0 {
				sag += fmt.Sprintf(" (span/%.0f)", m.SpanOver)
			}
			if !m.SagOK {
				sag += " " + l.Signs.Warn
			}
		}
		line := fmt.Sprintf("%s %4.0f %%  %-16s %s", sign, u*100, text.Short(m.Name, 16), sag)
		if i == s.at {
			out = append(out, l.Mark.Render(draw.FitLine(l.Signs.Next+line, w)))
		} else {
			out = append(out, " "+l.Heat[heat(u)].Render(line))
		}
	}
	if detail > 0 && len(s.order) > 0 {
		m := a.Members[s.order[s.at]]
		words := "governed by " + m.Use.Clause
		if s.inCase == 0 && m.Case < len(a.Cases) {
			words += " in case " + a.Cases[m.Case].Name
		}
		if m.Slender > 0 {
			words += fmt.Sprintf("; slenderness %.0f", m.Slender)
		}
		out = append(out, "")
		for i, x := range draw.Wrap(text.Clean(words), w-2) {
			if i < detail-1 {
				out = append(out, l.Dim.Render(" "+x))
			}
		}
	}
	return out
}

// frame draws the frame, every member in the shade of how hard it works; the selected one carries a sign too.
func (s *Loads) frame(d *station.Desk, w, h int) []string {
	l, p := d.Look, d.Plan
	if p.Frame == nil || h < 4 || w < 10 {
		return nil
	}
	if s.drawn != p || s.seen != s.turn {
		s.drawn, s.seen, s.pic = p, s.turn, view.Draw(p.Frame, view.Isometric(s.turn))
	}
	layers := make([]uint8, len(p.Frame.Members))
	marked := -1
	for i := range p.Loads.Members {
		k := p.Frame.Index(p.Loads.Members[i].Name)
		if k < 0 || k >= len(layers) {
			continue
		}
		layers[k] = max(layers[k], uint8(1+heat(s.use(d, i))))
		if len(s.order) > 0 && s.order[s.at] == i {
			marked = k
		}
	}
	c := draw.NewCanvas(w, h, l.Unicode)
	place := draw.Place(c, s.pic.MinX, s.pic.MinY, s.pic.MaxX, s.pic.MaxY)
	for _, k := range s.pic.Strokes {
		layer := uint8(0)
		if k.Member >= 0 && k.Member < len(layers) {
			layer = layers[k.Member]
		}
		x0, y0 := place(k.X0, k.Y0)
		x1, y1 := place(k.X1, k.Y1)
		c.Line(x0, y0, x1, y1, layer)
	}
	if marked >= 0 {
		m := &p.Frame.Members[marked]
		x, y, _ := s.pic.View.Project(mid(m.A, m.B))
		px, py := place(x, y)
		c.Text(int(px)/2, int(py)/4, l.Signs.Point+text.Short(m.Name, 14), 7)
	}
	return c.Rows(func(layer uint8, run string) string {
		switch {
		case layer == 7:
			return l.Strong.Render(run)
		case layer >= 1 && layer <= 5:
			return l.Heat[layer-1].Render(run)
		}
		return l.Rule.Render(run)
	})
}

// weights is the lift: weight and balance, feet, hands, slings, jacks, turns, the way to its place, bolts.
func (s *Loads) weights(d *station.Desk, w int) []string {
	l, p := d.Look, d.Plan
	tape := p.Job.Tape
	var lines []string
	row := func(label, what string) {
		for i, x := range draw.Wrap(text.Clean(what), max(10, w-16)) {
			if i > 0 {
				label = ""
			}
			lines = append(lines, "  "+l.Dim.Render(draw.FitLine(label, 12))+l.Chalk.Render(x))
		}
	}
	at := func(mm float64) string { return tape.Print(measure.FromMM(mm)) }
	lines = append(lines, l.Strong.Render(" Weight and balance"))
	if p.Mass != nil {
		row("steel", tape.Mass(p.Mass.Steel.KG+p.Mass.Loose))
		for _, k := range p.Mass.ByKind {
			row("", fmt.Sprintf("%s %s", k.Name, tape.Mass(k.KG)))
		}
	}
	if a := p.Lift; a != nil {
		row("as hoisted", tape.Mass(a.MassKG))
		row("centre", fmt.Sprintf("x %s, y %s, z %s", at(a.Centre.X), at(a.Centre.Y), at(a.Centre.Z)))
		row("box", fmt.Sprintf("%s x %s x %s", at(a.Size.X), at(a.Size.Y), at(a.Size.Z)))
		for i, x := range a.Stands {
			label := ""
			if i == 0 {
				label = "on its legs"
			}
			row(label, fmt.Sprintf("%s %s", x.Name, tape.Mass(x.N/measure.Gravity)))
		}
		if b := a.Hand; b != nil {
			lines = append(lines, "", l.Strong.Render(" By hand"))
			row("people", fmt.Sprintf("%d, %s each while it is level; no fewer than %d", b.People, tape.Mass(b.EachKG), b.Fewest))
			for _, e := range b.Ends {
				row("", fmt.Sprintf("one end up %.0f degrees: low end %s, high end %s", e.TiltDeg, tape.Mass(e.LowKG), tape.Mass(e.HighKG)))
			}
		}
		if b := a.Sling; b != nil {
			lines = append(lines, "", l.Strong.Render(" By sling"))
			for _, k := range b.Picks {
				row(text.Short(k.Name, 12), fmt.Sprintf("leg %s, %.0f degrees from level, pulls %s", tape.PrintLong(measure.FromMM(k.LegMM)), k.AngleDeg, tape.Force(k.TensionN)))
			}
			if !b.Hangs {
				lines = append(lines, l.Warn.Render("  "+l.Signs.Warn+" its centre of mass lies above a pick: it can turn over"))
			}
		}
		if b := a.Jack; b != nil {
			lines = append(lines, "", l.Strong.Render(" By jack"))
			row("raise", fmt.Sprintf("%s, tilts %.1f degrees; %s under the jack", at(b.RaiseMM), b.TiltDeg, tape.Force(b.JackN)))
			row("tips at", fmt.Sprintf("%.0f degrees, sideways %.0f; slides at %.0f", b.TipDeg, b.SideTipDeg, b.SlideDeg))
		}
		if len(a.Turns) > 0 {
			lines = append(lines, "", l.Strong.Render(" Turns at the bench"))
			for _, t := range a.Turns {
				words := fmt.Sprintf("%s, %d hands; %s at the far edge as it starts; balance %s", tape.Mass(t.MassKG), t.Hands, tape.Mass(t.AboutN/measure.Gravity), t.Balance(tape))
				if t.Gear {
					words += "; use a hoist or a turning stand"
				}
				row(text.Short(t.Name, 12), words)
			}
		}
		if b := a.Access; b != nil {
			lines = append(lines, "", l.Strong.Render(" Getting it there"))
			for _, x := range b.Why {
				row("", x)
			}
			for _, x := range b.Splits {
				row("split", fmt.Sprintf("bolted, across %s at %s", x.Axis, at(x.AtMM)))
			}
		}
		for _, c := range a.Cautions {
			for i, x := range draw.Wrap(text.Clean(c), max(10, w-6)) {
				sign := "  "
				if i == 0 {
					sign = l.Signs.Warn + " "
				}
				lines = append(lines, l.Warn.Render("  "+sign+x))
			}
		}
	}
	if p.Loads != nil {
		lines = append(lines, "", l.Strong.Render(" What stands on the supports"))
		for i, c := range p.Loads.Cases {
			if s.inCase > 0 && s.inCase-1 != i {
				continue
			}
			var words []string
			for _, r := range c.Reactions {
				words = append(words, fmt.Sprintf("%s %.2f", text.Clean(r.Name), r.Force[2]/1000))
			}
			row(text.Short(c.Name, 12), strings.Join(words, "  ")+"  kN")
		}
	}
	if n := len(p.LoadWelds); n > 0 {
		lines = append(lines, "", l.Strong.Render(" Welds, hardest first"))
		worst := slices.Clone(p.LoadWelds)
		slices.SortStableFunc(worst, func(a, b hold.WeldAnswer) int { return cmp.Compare(b.Use.Value, a.Use.Value) })
		for _, x := range worst[:min(n, 5)] {
			lines = append(lines, "  "+l.Heat[heat(x.Use.Value)].Render(fmt.Sprintf("%s %4.0f %%  %s, %s", l.Signs.Ramp[heat(x.Use.Value)], x.Use.Value*100, text.Short(x.Joint, 12), text.Short(x.Member, 24))))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(p.Tried)) {
		lines = append(lines, "", l.Strong.Render(" Other sizes of "+text.Clean(name)))
		for _, x := range p.Tried[name] {
			if x.Err != nil {
				row(text.Short(x.Size, 12), x.Err.Error())
				continue
			}
			words := fmt.Sprintf("%s: %.0f %% (%s), %s", x.Size, x.Utilisation*100, x.Worst, tape.Mass(x.MassKG))
			if x.SpanOver > 0 {
				words += fmt.Sprintf(", sags span/%.0f", x.SpanOver)
			}
			row("", words)
		}
	}
	if len(p.Bolts) > 0 {
		lines = append(lines, "", l.Strong.Render(" Bolts"))
		for i := range p.Bolts {
			b := &p.Bolts[i]
			row(b.Size.Name, fmt.Sprintf("%d of them; torque %.0f N m (%.0f lb ft) as its working says", b.Qty, b.Tight.Torque.Value, b.Tight.Torque.Value/1.3558179483))
			for _, c := range b.Cautions {
				row(l.Signs.Warn, c)
			}
		}
	}
	return lines
}

// Figures gives the working behind what is shown.
func (s *Loads) Figures(d *station.Desk) []string {
	s.follow(d)
	var out []string
	if !s.lift && d.Plan.Loads != nil && s.at < len(s.order) {
		m := d.Plan.Loads.Members[s.order[s.at]]
		out = append(out, m.Figure.Working())
		if m.SagFigure.ID != "" {
			out = append(out, m.SagFigure.Working())
		}
		return out
	}
	if d.Plan.Lift != nil {
		for _, f := range d.Plan.Lift.Figures {
			out = append(out, f.Working())
		}
	}
	return out
}

// Click selects a member.
func (s *Loads) Click(d *station.Desk, x, y, w, h int) []station.Intent {
	if station.Unplanned(d) != "" || s.lift || d.Plan.Loads == nil {
		return nil
	}
	s.follow(d)
	if i := s.top + y - len(s.head(d, w)); y >= len(s.head(d, w)) && i >= 0 && i < len(s.order) && (w < 96 || x < min(56, w/2)) {
		s.at = i
	}
	return nil
}

func mid(a, b space.Vec) space.Vec { return a.Lerp(b, 0.5) }
