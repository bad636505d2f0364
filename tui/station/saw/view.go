package saw

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// View draws the station.
func (s *Saw) View(d *station.Desk, w, h int) []string {
	if x := station.Waiting(d, w); x != nil {
		return x
	}
	i := s.current(d)
	if i < 0 {
		return s.allCut(d)
	}
	st := &d.Plan.Queue.Steps[i]
	s.shown = 0
	var lines []string
	lines = append(lines, s.headline(d, st, w))
	lines = append(lines, s.figures(d, st, w, h)...)
	lines = append(lines, s.words(d, st, w)...)
	if room := h - len(lines); room >= 5 && !d.Bare {
		lines = append(lines, "")
		s.shown = len(lines) + 1 // a line of words stands over the stick
		lines = append(lines, s.stick(d, st, w)...)
	}
	if room := h - len(lines); room >= 3 && !d.Bare {
		lines = append(lines, "")
		lines = append(lines, s.coming(d, i, room-1)...)
	}
	return lines
}

func (s *Saw) allCut(d *station.Desk) []string {
	l := d.Look
	lines := []string{"", l.Cool.Render(" " + l.Signs.Done + " Every piece is cut.")}
	var drops []string
	for _, sn := range d.Plan.Nests {
		for _, x := range sn.Nest.Drops {
			drops = append(drops, fmt.Sprintf("%s of %s", d.Plan.Job.Tape.Print(x), text.Clean(sn.Section)))
		}
	}
	if len(drops) > 0 {
		lines = append(lines, "", l.Chalk.Render("   Drops for the shelf: "+strings.Join(drops, ", ")))
	}
	return append(lines, "", l.Dim.Render("   Next: mark out and tack up square."))
}

// headline says which piece, of which stick, and how far the job is.
func (s *Saw) headline(d *station.Desk, st *cut.Step, w int) string {
	l := d.Look
	cuts, cutDone := s.before+s.cuts, s.before+s.cutDone
	what := strings.ToUpper(string(st.Op))
	if st.Op == cut.Cut {
		what = fmt.Sprintf("CUT %s-%d", st.Mark, st.Unit)
		if m, ok := d.Work.Fit(st.Mark, st.Unit); ok {
			what += "  measured in its place " + d.Plan.Job.Tape.Print(m)
		}
		if st.Waits {
			what = fmt.Sprintf("MEASURE %s-%d", st.Mark, st.Unit)
		} else if st.Pattern {
			what += "  pattern: measure it before the rest"
		}
	}
	left := fmt.Sprintf(" %s %s", l.Signs.Next, what)
	right := fmt.Sprintf("stick %d of %d  piece %d of %d ", st.Stick, s.sticks, min(cutDone+1, cuts), cuts)
	room := w - len([]rune(left)) - len(right)
	gauge := ""
	if room > 14 {
		share := 0.0
		if cuts > 0 {
			share = float64(cutDone) / float64(cuts)
		}
		gauge = draw.Gauge(share, 10, []rune(l.Signs.Full)[0], []rune(l.Signs.Light)[0]) + " "
		room -= 11
	}
	return l.Strong.Render(left) + strings.Repeat(" ", max(1, room)) + l.Cool.Render(gauge) + l.Dim.Render(right)
}

// figures are the two numbers that are set at the saw, large.
func (s *Saw) figures(d *station.Desk, st *cut.Step, w, h int) []string {
	l := d.Look
	tape := d.Plan.Job.Tape
	type big struct{ label, text string }
	var bigs []big
	switch st.Op {
	case cut.Cut:
		if st.Waits {
			bigs = append(bigs, big{"AT MOST, tip to tip", tape.Print(st.Stop)})
			break
		}
		bigs = append(bigs, big{"STOP, tip to tip", tape.Print(st.Stop)}, big{swingLabel(d, w), swingDigits(d, st.SwingDeg)})
	case cut.Trim:
		bigs = append(bigs, big{"LINE, near edge", tape.Print(st.Near)}, big{swingLabel(d, w), swingDigits(d, st.SwingDeg)})
	case cut.Prove:
		bigs = append(bigs, big{swingLabel(d, w), swingDigits(d, st.SwingDeg)}, big{"LEAN across the face", tape.Print(st.Offset.Abs())})
	case cut.Load:
		bigs = append(bigs, big{"LOAD a stick of " + text.Clean(st.Section), tape.Print(st.Length)})
	case cut.Part:
		bigs = append(bigs, big{"THE YARD parts it at", tape.Print(st.Near)})
	}
	on := []rune(l.Signs.Full)[0]
	small := h < 14 && l.Unicode
	total := 4
	for _, b := range bigs {
		total += max(draw.DigitsWidth(b.text), len(b.label)) + 4
	}
	var blocks [][]string
	var widths []int
	across := 8
	for _, b := range bigs {
		across += 2*draw.DigitsWidth(b.text) + 4
	}
	huge := d.Bare && h >= 20 && across <= w
	for _, b := range bigs {
		var rows []string
		switch {
		case h < 10 || total > w+4 && draw.DigitsWidth(b.text) > w/2-4 && len(bigs) > 1 && w < 60:
			rows = []string{l.Strong.Render(b.text)}
		case huge:
			rows = stylize(draw.Twice(draw.Digits(b.text, on)), l.Strong.Render)
		case small:
			rows = stylize(draw.SmallDigits(b.text), l.Strong.Render)
		default:
			rows = stylize(draw.Digits(b.text, on), l.Strong.Render)
		}
		rows = append([]string{l.Dim.Render(b.label)}, rows...)
		blocks = append(blocks, rows)
		wide := draw.DigitsWidth(b.text)
		if huge {
			wide *= 2
		}
		widths = append(widths, max(wide, len(b.label)))
	}
	out := []string{}
	if !small && h >= 16 {
		out = append(out, "")
	}
	if len(blocks) == 2 && widths[0]+widths[1]+8 <= w {
		for _, line := range draw.Columns(blocks[0], blocks[1], widths[0], 4) {
			out = append(out, "  "+line)
		}
		return out
	}
	for _, b := range blocks {
		for _, line := range b {
			out = append(out, "  "+line)
		}
	}
	return out
}

func stylize(rows []string, style func(...string) string) []string {
	out := make([]string, len(rows))
	for i, r := range rows {
		out[i] = style(r)
	}
	return out
}

func swingLabel(d *station.Desk, w int) string {
	if w < 64 && d.Plan.Job.Saw.ReadsBlade {
		return "SWING, 90 square"
	}
	if d.Plan.Job.Saw.ReadsBlade {
		return "SWING, scale reads 90 at square"
	}
	return "SWING, from square"
}

func swingDigits(d *station.Desk, deg float64) string {
	v := math.Abs(deg)
	if d.Plan.Job.Saw.ReadsBlade {
		v = 90 - v
	}
	return sheet.Degrees(v) + "°"
}

// words say the rest: where the line runs, how the piece lies.
func (s *Saw) words(d *station.Desk, st *cut.Step, w int) []string {
	if st.Waits {
		return s.waiting(d, st, w)
	}
	l := d.Look
	tape := d.Plan.Job.Tape
	var say []string
	lean := ""
	switch {
	case st.SwingDeg > 0:
		lean = fmt.Sprintf("far edge leans LEFT, %s across the face", tape.Print(st.Offset.Abs()))
	case st.SwingDeg < 0:
		lean = fmt.Sprintf("far edge leans RIGHT, %s across the face", tape.Print(st.Offset.Abs()))
	}
	lie := "lies with its " + sheet.FaceName(st.Face) + " across the table"
	if st.Flip {
		say = append(say, "FIRST roll the stick half a turn about its length")
	}
	switch st.Op {
	case cut.Cut:
		where := st.Near
		if st.Edge == "far" {
			where = st.Far
		}
		if st.Near == st.Far {
			say = append(say, fmt.Sprintf("mark %s from the fresh end, square across", tape.PrintLong(st.Near)))
		} else {
			say = append(say, fmt.Sprintf("mark on the %s edge, %s: %s", st.Edge, strings.ReplaceAll(st.Measure, "-", " to "), tape.PrintLong(where)),
				fmt.Sprintf("near edge %s   far edge %s   %s", tape.Print(st.Near), tape.Print(st.Far), lean))
		}
		say = append(say, "blade beyond the line, on the drop's side; the stick "+lie)
		say = append(say, fmt.Sprintf("slack of this stick %s", tape.Print(st.Slack)))
	case cut.Trim:
		if st.Near == st.Far {
			say = append(say, fmt.Sprintf("make the end fresh: square, %s off", tape.Print(st.Near)))
		} else {
			say = append(say, fmt.Sprintf("make the end fresh for %s: near edge %s, far edge %s", st.Mark, tape.Print(st.Near), tape.Print(st.Far)), lean)
		}
		say = append(say, "blade on the end's side of the line; the stick "+lie)
	case cut.Prove:
		say = append(say, "cut scrap at this setting, flip one half over, hold both to a straight edge,", "and halve the gap at the scale; a cheap saw's scale is not to be trusted")
		if lean != "" {
			say = append(say, lean)
		}
	case cut.Load:
		if st.Again {
			say = append(say, fmt.Sprintf("what is left of stick %d, from before", st.Stick))
			break
		}
		say = append(say, "measure it; press l to enter another length than this", fmt.Sprintf("slack of this stick %s", tape.Print(st.Slack)))
	case cut.Part:
		say = append(say, "the yard cuts here so that the parts fit the vehicle")
	}
	if d.Bare && len(say) > 2 {
		say = say[:2]
	}
	var out []string
	for _, x := range say {
		if x == "" {
			continue
		}
		for _, line := range draw.Wrap(x, w-3) {
			out = append(out, l.Chalk.Render("  "+line))
		}
	}
	return out
}

// Layers of the stick's drawing.
const (
	layerWaste uint8 = iota
	layerOpen
	layerDone
	layerNow
	layerDrop
)

// stick draws the stick in hand to scale.
func (s *Saw) stick(d *station.Desk, st *cut.Step, w int) []string {
	if s.drawn != nil && s.drawnW == w && s.drawnL == d.Look {
		return s.drawn
	}
	l := d.Look
	sn := &d.Plan.Nests[st.Bundle]
	u := sn.Nest.Used[st.Used]
	length := sn.Problem.Sticks[u.Stick].Length
	sec := d.Plan.Sections[sn.Section]
	var parts []draw.Part
	end := 0.0
	for _, k := range s.onStick[[2]int{st.Bundle, st.Used}] {
		x := &d.Plan.Queue.Steps[k]
		p := draw.Part{From: x.From.MM(), To: x.To.MM(), LeftSlant: slant(x.Left, sec.Depth, sec.Width), RightSlant: slant(x.Right, sec.Depth, sec.Width),
			Label: fmt.Sprintf("%s-%d", x.Mark, x.Unit), Layer: layerOpen}
		switch {
		case s.isDone[k]:
			p.Layer, p.Fill = layerDone, []rune(l.Signs.Light)[0]
		case x.Number == st.Number:
			p.Layer, p.Fill = layerNow, []rune(l.Signs.Shade)[0]
		}
		parts = append(parts, p)
		end = math.Max(end, p.To)
	}
	if u.Drop > 0 {
		slant := 0.0
		if n := len(parts); n > 0 {
			slant = parts[n-1].RightSlant
		}
		parts = append(parts, draw.Part{From: (length - u.Drop).MM(), To: length.MM(), LeftSlant: slant, Label: "drop " + d.Plan.Job.Tape.Print(u.Drop), Layer: layerDrop})
	}
	s.parts = parts
	rows := draw.Stick(length.MM(), parts, w-4, 3, l.Unicode, func(layer uint8, run string) string {
		switch layer {
		case layerDone:
			return l.Cool.Render(run)
		case layerNow:
			return l.Hot.Render(run)
		case layerDrop:
			return l.Dim.Render(run)
		}
		return l.Chalk.Render(run)
	})
	out := []string{l.Dim.Render(fmt.Sprintf("  %s, %s to scale", text.Clean(d.Plan.StickName(st.Bundle, st.Used)), d.Plan.Job.Tape.Print(length)))}
	for _, r := range rows {
		out = append(out, "  "+r)
	}
	s.drawn, s.drawnW, s.drawnL = out, w, d.Look
	return out
}

// slant gives how far the far edge of a plane lies right of its near edge, in mm, seen on the face that it leans across.
func slant(p nest.Plane, depth, width measure.Length) float64 {
	if p.SY != 0 {
		return float64(p.SY) / 1e9 * depth.MM()
	}
	return float64(p.SZ) / 1e9 * width.MM()
}

// coming lists the next steps.
func (s *Saw) coming(d *station.Desk, i, room int) []string {
	l := d.Look
	var out []string
	steps := d.Plan.Queue.Steps
	for k := i + 1; k < len(steps) && len(out) < room; k++ {
		if s.isDone[k] {
			continue
		}
		out = append(out, l.Dim.Render("  then  "+sheet.StepText(steps[k], d.Plan.Job.Saw.ReadsBlade, d.Plan.Job.Tape)))
	}
	return out
}
