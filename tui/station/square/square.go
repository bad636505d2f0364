// Package square is the station between the saw and the booth: what is marked out on each piece, and the diagonals that
// say whether a frame is square, with which corners to pull together.
package square

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sheet"
	sq "bench.example/soapstone/fab/square"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// Square is the station.
type Square struct {
	at, top int
	of      *plan.Plan
	pieces  []int // that have something to be marked out
	targets []sq.Target
	bodies  []sq.Body
}

// New makes the station.
func New() *Square { return &Square{} }

// Name is the station's name.
func (s *Square) Name() string { return "Square" }

// Purpose says what one does here.
func (s *Square) Purpose() string {
	return "Mark out the pieces, then tack up square. Hook the tape once at the first tip and mark every line from there; running dimensions do not add up their errors. Of a tacked frame measure both diagonals: equal diagonals of equal sides are a square frame, and both must then measure the target."
}

func (s *Square) follow(d *station.Desk) {
	if s.of != d.Plan {
		s.of, s.pieces, s.targets, s.bodies = d.Plan, nil, nil, nil
		if d.Plan != nil && !d.Plan.Failed() && d.Plan.Frame != nil {
			s.targets = sq.Targets(d.Plan.Frame)
			s.bodies = sq.Bodies(d.Plan.Frame)
			for i := range d.Plan.Pieces {
				if len(d.Plan.Pieces[i].MarksOut) > 0 {
					s.pieces = append(s.pieces, i)
				}
			}
		}
	}
	s.at = max(0, min(s.at, s.rows()-1))
}

func (s *Square) rows() int { return len(s.pieces) + len(s.targets) }

// target gives the frame that is selected.
func (s *Square) target() (sq.Target, bool) {
	if i := s.at - len(s.pieces); i >= 0 && i < len(s.targets) {
		return s.targets[i], true
	}
	return sq.Target{}, false
}

// Keys gives the bindings.
func (s *Square) Keys(d *station.Desk) []station.Key {
	s.follow(d)
	off := station.Unplanned(d)
	if off == "" && s.rows() == 0 {
		off = "there is nothing to mark out or square"
	}
	enter, copies := off, off
	does := "marked out"
	if off == "" {
		if _, ok := s.target(); ok {
			does = "enter diagonals"
		}
		if d.Saving > 0 {
			enter = "the last entry is being written"
		}
	}
	return []station.Key{
		{Keys: []string{"down", "j", "up", "k", "pgdown", "pgup", "home", "end"}, Shown: "down up", Does: "choose", Off: off},
		{Keys: []string{"enter", "space"}, Shown: "space", Does: does, Off: enter},
		{Keys: []string{"c"}, Does: "copy the line", Off: copies, Quiet: true},
	}
}

const markedSetting = "marked out: "

// Press answers a key.
func (s *Square) Press(d *station.Desk, key string) []station.Intent {
	s.follow(d)
	switch key {
	case "down", "j":
		s.at++
	case "up", "k":
		s.at--
	case "pgdown":
		s.at += 8
	case "pgup":
		s.at -= 8
	case "home":
		s.at = 0
	case "end":
		s.at = s.rows() - 1
	case "c":
		if station.Unplanned(d) == "" && s.rows() > 0 {
			return []station.Intent{station.Copy{Text: s.line(d)}}
		}
	case "enter", "space":
		if station.Unplanned(d) != "" || s.rows() == 0 {
			return nil
		}
		if t, ok := s.target(); ok {
			return s.measured(d, t)
		}
		x := &d.Plan.Pieces[s.pieces[s.at]]
		value := "yes"
		if v, _ := d.Work.Setting(markedSetting + x.Mark); v == "yes" {
			value = "no"
		} else if s.at+1 < s.rows() {
			s.at++
		}
		return []station.Intent{station.Write{Events: []work.What{work.Set{Name: markedSetting + x.Mark, Value: value}}}}
	}
	s.at = max(0, min(s.at, s.rows()-1))
	return nil
}

// diagonals is the setting that keeps what was measured of a frame, in nanometres.
const diagonals = "diagonals: "

func (s *Square) measured(d *station.Desk, t sq.Target) []station.Intent {
	target := d.Plan.Job.Tape.PrintLong(measure.FromMM(t.DiagonalMM))
	p := func(mm float64) string {
		if mm == 0 {
			return ""
		}
		return station.Typed(d.Plan.Job.Tape, measure.FromMM(mm))
	}
	m, ok := read(d, t.Name)
	one, two := p(t.DiagonalMM), p(t.DiagonalMM)
	if ok {
		one, two = p(m.D1), p(m.D2)
	}
	const sides = "if you measured it: equal diagonals mean nothing where opposite sides differ; empty else"
	return []station.Intent{station.Form{
		Title: "diagonals of " + t.Name + ", target " + target,
		Fields: []station.Field{
			{Label: "low-left to far-right", Value: one, Help: "over the outside corners, as the tape says"},
			{Label: "far-left to low-right", Value: two, Help: "over the other two outside corners"},
			{Label: "low side", Value: p(m.Sides[0]), Help: sides},
			{Label: "far side", Value: p(m.Sides[1]), Help: sides},
			{Label: "left side", Value: p(m.Sides[2]), Help: sides},
			{Label: "right side", Value: p(m.Sides[3]), Help: sides},
		},
		Done: func(d *station.Desk, v []string) ([]station.Intent, error) {
			var nm [6]int64
			for i := range nm {
				if i >= 2 && strings.TrimSpace(v[i]) == "" {
					continue
				}
				l, err := measure.ParseLength(v[i], d.Plan.Job.Units)
				if err != nil {
					return nil, &station.Amiss{Field: i, Why: err.Error()}
				}
				if l <= 0 {
					return nil, &station.Amiss{Field: i, Why: "a length above 0"}
				}
				nm[i] = int64(l)
			}
			if _, err := t.Check(measuredOf(nm), sq.ToleranceOf(d.Plan.Job.Check), d.Plan.Job.Tape); err != nil {
				return nil, err
			}
			return []station.Intent{station.Write{Events: []work.What{work.Set{Name: diagonals + t.Name, Value: settingOf(nm)}}}}, nil
		},
	}}
}

// settingOf writes what was measured: the two diagonals, and the four sides where any was.
func settingOf(nm [6]int64) string {
	s := fmt.Sprintf("%d %d", nm[0], nm[1])
	if nm[2] != 0 || nm[3] != 0 || nm[4] != 0 || nm[5] != 0 {
		s += fmt.Sprintf(" %d %d %d %d", nm[2], nm[3], nm[4], nm[5])
	}
	return s
}

func measuredOf(nm [6]int64) sq.Measured {
	mm := func(i int) float64 { return measure.Length(nm[i]).MM() }
	return sq.Measured{D1: mm(0), D2: mm(1), Sides: [4]float64{mm(2), mm(3), mm(4), mm(5)}}
}

// read gives what was measured of a frame.
func read(d *station.Desk, name string) (sq.Measured, bool) {
	v, _ := d.Work.Setting(diagonals + name)
	var nm [6]int64
	n, _ := fmt.Sscanf(v, "%d %d %d %d %d %d", &nm[0], &nm[1], &nm[2], &nm[3], &nm[4], &nm[5])
	if n < 2 {
		return sq.Measured{}, false
	}
	return measuredOf(nm), true
}

func (s *Square) line(d *station.Desk) string {
	tape := d.Plan.Job.Tape
	if t, ok := s.target(); ok {
		return fmt.Sprintf("%s: both diagonals %s", text.Clean(t.Name), tape.PrintLong(measure.FromMM(t.DiagonalMM)))
	}
	x := &d.Plan.Pieces[s.pieces[s.at]]
	var words []string
	for _, m := range x.MarksOut {
		words = append(words, at(d, m.AtMM, m.ToMM)+" "+m.What)
	}
	return x.Mark + ": " + text.Clean(strings.Join(words, "; "))
}

func at(d *station.Desk, from, to float64) string {
	tape := d.Plan.Job.Tape
	a := tape.Print(measure.FromMM(from))
	if math.Abs(to-from) < 1e-6 {
		return a
	}
	return a + " to " + tape.Print(measure.FromMM(to))
}

func listWidth(w int) int {
	if w < 64 {
		return 0
	}
	return min(34, w*2/5)
}

// View draws the station.
func (s *Square) View(d *station.Desk, w, h int) []string {
	if x := station.Waiting(d, w); x != nil {
		return x
	}
	s.follow(d)
	l := d.Look
	if s.rows() == 0 {
		return []string{"", l.Chalk.Render("  Nothing is to be marked out, and there is no frame to square.")}
	}
	if d.Bare {
		return s.detail(d, w, h)
	}
	if lw := listWidth(w); lw > 0 {
		return draw.Columns(s.list(d, lw, h), s.detail(d, w-lw-2, h), lw, 2)
	}
	top := max(3, min(s.rows(), h/3))
	return append(draw.Fit(s.list(d, w, top), w, top), s.detail(d, w, h-top)...)
}

func (s *Square) list(d *station.Desk, w, h int) []string {
	l := d.Look
	s.top = station.Scroll(s.top, s.at, s.rows(), h)
	var out []string
	for i := s.top; i < s.rows() && len(out) < h; i++ {
		sign, label, style := l.Signs.Open, "", l.Chalk
		if i < len(s.pieces) {
			x := &d.Plan.Pieces[s.pieces[i]]
			label = fmt.Sprintf("%-4s %d pcs  %s", x.Mark, x.Qty, marks(len(x.MarksOut)))
			if v, _ := d.Work.Setting(markedSetting + x.Mark); v == "yes" {
				sign, style = l.Signs.Done, l.Cool
			}
		} else {
			t := s.targets[i-len(s.pieces)]
			label = "diagonals  " + text.Short(t.Name, 20)
			if m, ok := read(d, t.Name); ok {
				if v, err := t.Check(m, sq.ToleranceOf(d.Plan.Job.Check), d.Plan.Job.Tape); err == nil && v.Within && v.SidesEqual {
					sign, style = l.Signs.Done, l.Cool
				} else {
					sign, style = l.Signs.Warn, l.Warn
				}
			}
		}
		if i == s.at {
			out = append(out, l.Mark.Render(draw.FitLine(l.Signs.Next+sign+" "+label, w)))
			continue
		}
		out = append(out, style.Render(" "+sign+" "+label))
	}
	return out
}

func marks(n int) string {
	if n == 1 {
		return "1 mark"
	}
	return fmt.Sprintf("%d marks", n)
}

// detail shows the selected piece's marks, or the selected frame's diagonals.
func (s *Square) detail(d *station.Desk, w, h int) []string {
	if t, ok := s.target(); ok {
		return s.diagonal(d, t, w, h)
	}
	l, tape := d.Look, d.Plan.Job.Tape
	x := &d.Plan.Pieces[s.pieces[s.at]]
	lines := []string{l.Strong.Render(fmt.Sprintf("%s  %s of %s", x.Mark, tape.PrintLong(x.Length), text.Clean(x.Section))) + l.Dim.Render("  "+sheet.PieceEnds(x))}
	if w >= 24 && h >= 8 {
		lines = append(lines, s.piece(d, w-1)...)
	}
	lines = append(lines, l.Dim.Render("from the first tip, tape hooked once:"))
	lines = marked(d, lines, x.MarksOut, h)
	for _, u := range d.Plan.Measured[x.Mark] {
		if u.Length != x.Length && len(lines) < h-1 {
			lines = append(lines, l.Strong.Render(fmt.Sprintf("%s-%d  measured in its place %s", x.Mark, u.Unit, tape.PrintLong(u.Length))))
			lines = marked(d, lines, x.AsMeasured(u.Length).MarksOut, h)
		}
	}
	return lines
}

// marked lists marks behind the lines that stand already, as far as the height allows.
func marked(d *station.Desk, lines []string, ms []piece.Mark, h int) []string {
	l := d.Look
	last := ""
	for k, m := range ms {
		if len(lines) >= h-1 && k < len(ms)-1 {
			return append(lines, l.Dim.Render(fmt.Sprintf("and %d more", len(ms)-k)))
		}
		if of := text.Clean(strings.Join(m.For, ", ")); of != last {
			if last = of; of != "" {
				lines = append(lines, l.Key.Render("on "+of))
			}
		}
		side := m.Side
		if side == "" {
			side = m.Face
		}
		// Which members are laid out so stands above already.
		what, _, _ := strings.Cut(text.Clean(m.What), " on ")
		lines = append(lines, l.Strong.Render(draw.FitLine(at(d, m.AtMM, m.ToMM), 22))+" "+l.Chalk.Render(draw.FitLine(side, 6))+" "+l.Dim.Render(what))
	}
	return lines
}

// piece draws the piece to scale with its marks.
func (s *Square) piece(d *station.Desk, w int) []string {
	l := d.Look
	x := &d.Plan.Pieces[s.pieces[s.at]]
	length := x.Length.MM()
	sec := d.Plan.Sections[x.Section]
	lean := func(e int) float64 {
		sl := x.Ends[e].Slope
		if sl.SY != 0 {
			return sl.SY * sec.Depth.MM()
		}
		return sl.SZ * sec.Width.MM()
	}
	parts := []draw.Part{{From: 0, To: length, LeftSlant: lean(0), RightSlant: lean(1)}}
	for _, m := range x.MarksOut {
		if math.Abs(m.ToMM-m.AtMM) > 1e-6 {
			parts = append(parts, draw.Part{From: m.AtMM, To: m.ToMM, Layer: 1, Fill: []rune(l.Signs.Light)[0]})
		} else {
			parts = append(parts, draw.Part{From: m.AtMM, To: m.AtMM, Layer: 2})
		}
	}
	return draw.Stick(length, parts, w, 3, l.Unicode, func(layer uint8, run string) string {
		switch layer {
		case 1:
			return l.Hot.Render(run)
		case 2:
			return l.Cool.Render(run)
		}
		return l.Chalk.Render(run)
	})
}

func (s *Square) diagonal(d *station.Desk, t sq.Target, w, h int) []string {
	l, tape := d.Look, d.Plan.Job.Tape
	p := func(mm float64) string { return tape.PrintLong(measure.FromMM(mm)) }
	lines := []string{l.Strong.Render(text.Clean(t.Name)) + l.Dim.Render(fmt.Sprintf("  %s x %s", p(t.LengthMM), p(t.WidthMM))), l.Dim.Render("both diagonals, outside corners")}
	digits := tape.Print(measure.FromMM(t.DiagonalMM))
	if draw.DigitsWidth(digits) <= w && h >= 14 {
		for _, r := range draw.Digits(digits, []rune(l.Signs.Full)[0]) {
			lines = append(lines, l.Strong.Render(r))
		}
	} else {
		lines = append(lines, l.Strong.Render(digits))
	}
	say := func(style func(...string) string, x string) {
		for _, y := range draw.Wrap(text.Clean(x), max(8, w-1)) {
			lines = append(lines, style(y))
		}
	}
	if diff, from, err := t.Allowed(sq.ToleranceOf(d.Plan.Job.Check)); err == nil {
		say(l.Dim.Render, fmt.Sprintf("they may differ by %s: %s", tape.Print(measure.FromMM(diff)), from))
	}
	if m, ok := read(d, t.Name); ok {
		say(l.Chalk.Render, fmt.Sprintf("measured %s and %s", p(m.D1), p(m.D2)))
		v, err := t.Check(m, sq.ToleranceOf(d.Plan.Job.Check), tape)
		switch {
		case err != nil:
			say(l.Bad.Render, l.Signs.Bad+" "+err.Error())
		case v.Within && v.Longer == 0 && v.SidesEqual:
			say(l.Cool.Render, l.Signs.Done+" square")
		default:
			style, sign := l.Warn.Render, l.Signs.Warn
			if v.Within {
				style, sign = l.Cool.Render, l.Signs.Done
			}
			if v.Longer > 0 {
				corners := [3]string{"", "low-left and far-right", "far-left and low-right"}[v.Longer]
				say(style, fmt.Sprintf("%s pull the %s corners together until both measure %s: the longer diagonal comes %s shorter", sign, corners, p(v.TargetMM), tape.Print(measure.FromMM(v.PullMM))))
			}
			word := "outside"
			if v.Within {
				word = "within"
			}
			say(l.Dim.Render, fmt.Sprintf("out by %.2f degrees, %s %s", v.SkewDeg, word, v.Limit))
			for _, n := range v.Notes {
				say(l.Warn.Render, n)
			}
		}
	}
	for _, b := range s.bodies {
		if b.Lower == t.Name && len(lines) < h-1 {
			say(l.Dim.Render, fmt.Sprintf("with %s on its posts, corner to opposite corner: %s, all four alike", b.Upper, p(b.DiagonalMM[0])))
		}
	}
	if room := h - len(lines); room > 4 {
		lines = append(lines, l.Dim.Render("in this order:"))
		for i, x := range sq.StepsWithin(d.Plan.Frame, sq.ToleranceOf(d.Plan.Job.Check), tape) {
			say(l.Chalk.Render, fmt.Sprintf("%d %s: %s", i+1, x.Title, x.Do))
		}
	}
	return lines
}

// Focus goes to the marks of a piece.
func (s *Square) Focus(d *station.Desk, mark string) {
	s.follow(d)
	for i, k := range s.pieces {
		if d.Plan.Pieces[k].Mark == mark {
			s.at = i
		}
	}
}

// Click selects a row.
func (s *Square) Click(d *station.Desk, x, y, w, h int) []station.Intent {
	if station.Unplanned(d) != "" {
		return nil
	}
	s.follow(d)
	lw := listWidth(w)
	if lw > 0 && x >= lw || lw == 0 && y >= max(3, min(s.rows(), h/3)) {
		return nil
	}
	if i := s.top + y; i < s.rows() {
		s.at = i
	}
	return nil
}

// Figures gives the working of the selected piece's figures.
func (s *Square) Figures(d *station.Desk) []string {
	s.follow(d)
	if s.at >= len(s.pieces) {
		return nil
	}
	var out []string
	for _, f := range d.Plan.PieceFigures(d.Plan.Pieces[s.pieces[s.at]].Mark) {
		out = append(out, f.Working())
	}
	return out
}
