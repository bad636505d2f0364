package weld

import (
	"fmt"
	"strings"
	"time"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/view"
	"bench.example/soapstone/fab/weld"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// sketch keeps the frame as it was projected last: turning it costs, looking at it does not.
type sketch struct {
	of   *plan.Plan
	turn float64
	pic  view.Picture
}

func (s *sketch) picture(p *plan.Plan, turn float64) view.Picture {
	if s.of != p || s.turn != turn {
		s.of, s.turn, s.pic = p, turn, view.Draw(p.Frame, view.Isometric(turn))
	}
	return s.pic
}

// View draws the station.
func (s *Weld) View(d *station.Desk, w, h int) []string {
	l := d.Look
	switch {
	case d.Plan == nil:
		return []string{"", l.Dim.Render("  The plan is being made ...")}
	case d.Plan.Failed():
		return []string{"", l.Bad.Render(" " + l.Signs.Bad + " This job cannot be built as it is written; the first station says why.")}
	case d.Plan.Weld == nil:
		return []string{"", l.Chalk.Render("  This job has no welder. Give it one at the sketch: process, amps, and the"), l.Chalk.Render("  duty from the machine's rating plate, such as 30% at 130A.")}
	}
	s.booth.follow(d)
	s.drawn = drawing{}
	b := &s.booth
	i := b.task(d)
	if i < 0 {
		return s.finish(d, w)
	}
	t := d.Plan.Weld.Docket.Tasks[i]
	_, open := b.open(d)
	wait := time.Duration(0)
	if t.Kind.Burns() && !open {
		wait = b.wait(d, t.Take)
	}
	lines := []string{s.headline(d, i, wait, w)}
	lines = append(lines, s.clockface(d, i, wait, w, h)...)
	lines = append(lines, s.gauge(d, w))
	lines = append(lines, s.words(d, i, wait, w, h)...)
	if d.Bare {
		return lines
	}
	if wait > 0 || !t.Kind.Burns() && h > 20 {
		lines = append(lines, s.meanwhile(d, min(4, h-len(lines)-1))...)
	}
	if room := h - len(lines); room >= 7 {
		s.drawn = drawing{len(lines), w - 2, room}
		lines = append(lines, s.frame(d, i, w-2, room)...)
	}
	return lines
}

// state words what the booth is at, with its sign.
func (s *Weld) headline(d *station.Desk, i int, wait time.Duration, w int) string {
	l := d.Look
	t := d.Plan.Weld.Docket.Tasks[i]
	_, open := s.booth.open(d)
	var left string
	style := l.Strong
	switch {
	case open:
		left, style = " "+l.Signs.Arc+" ARC ON", l.Hot
	case wait > 0:
		left, style = " "+l.Signs.Rest+" REST", l.Cool
	default:
		left = " " + l.Signs.Next + " " + strings.ToUpper(string(t.Kind))
	}
	if t.Joint != "" {
		left += "  " + t.Joint
	}
	if t.Seam != "" {
		left += "  seam " + t.Seam
	}
	done, all := 0, 0
	for k, x := range d.Plan.Weld.Docket.Tasks {
		if x.Kind.Burns() {
			all++
			if s.booth.done[k] {
				done++
			}
		}
	}
	right := fmt.Sprintf("%d of %d arcs ", done, all)
	return style.Render(left) + strings.Repeat(" ", max(1, w-len([]rune(left))-len(right))) + l.Dim.Render(right)
}

// clockface is what is read from the mask's distance: how long the arc has burnt or may burn, or how long to wait.
func (s *Weld) clockface(d *station.Desk, i int, wait time.Duration, w, h int) []string {
	l := d.Look
	t := d.Plan.Weld.Docket.Tasks[i]
	now := s.booth.at(d)
	label, digits, style := "", "", l.Strong
	second, more := "", ""
	a, open := s.booth.open(d)
	switch {
	case open:
		label, digits, style = "this arc has burnt", clock(time.Duration(d.Now.UnixNano()-a.From)), l.Hot
		second, more = "the window still holds", clock(now.Left)
	case wait > 0:
		label, digits, style = "ready for this seam in", clock(wait), l.Cool
		second, more = "whole budget back in", clock(now.Cold)
	case t.Kind.Burns():
		label, digits = "this arc takes", clock(t.Take)
		second, more = "it may burn for", clock(now.Straight)
	default:
		label, digits = "planned", clock(t.Take)
	}
	// The letter of seconds has a block form; the clock's colon too.
	rows := func(text string) []string {
		switch {
		case d.Bare && h >= 20 && 2*draw.DigitsWidth(text)+6 <= w:
			return styled(draw.Twice(draw.Digits(text, []rune(l.Signs.Full)[0])), style.Render)
		case h < 12:
			return []string{style.Render(text)}
		case h < 18 && l.Unicode:
			return styled(draw.SmallDigits(text), style.Render)
		}
		return styled(draw.Digits(text, []rune(l.Signs.Full)[0]), style.Render)
	}
	left := append([]string{l.Dim.Render(label)}, rows(digits)...)
	wide := max(len(label), draw.DigitsWidth(digits))
	var out []string
	if d.Bare && h >= 20 {
		wide *= 2
	}
	if more != "" && (wide+draw.DigitsWidth(more)+10 <= w && !d.Bare || wide+2*draw.DigitsWidth(more)+10 <= w) {
		for _, x := range draw.Columns(left, append([]string{l.Dim.Render(second)}, rows(more)...), wide, 4) {
			out = append(out, "  "+x)
		}
		return out
	}
	for _, x := range left {
		out = append(out, "  "+x)
	}
	if more != "" {
		out = append(out, "  "+l.Dim.Render(second+" ")+l.Chalk.Render(more))
	}
	return out
}

func styled(rows []string, style func(...string) string) []string {
	out := make([]string, len(rows))
	for i, r := range rows {
		out[i] = style(r)
	}
	return out
}

// gauge is the window of the rating plate: how much arc it holds and how much of that has burnt.
func (s *Weld) gauge(d *station.Desk, w int) string {
	l := d.Look
	r := s.booth.budget(d)
	if r.Arc >= r.Window {
		return l.Dim.Render("  the plate allows this current without a rest")
	}
	now := s.booth.at(d)
	share := float64(now.Used) / float64(max(1, r.Arc))
	style := l.Heat[min(4, int(share*4.999))]
	label := fmt.Sprintf(" %s of %s arc in %s", clock(now.Used), clock(r.Arc), clock(r.Window))
	cells := min(40, w-len(label)-4)
	if cells < 6 {
		return "  " + style.Render(strings.TrimSpace(label))
	}
	return "  " + style.Render(draw.Gauge(share, cells, []rune(l.Signs.Full)[0], []rune(l.Signs.Light)[0])) + l.Chalk.Render(label)
}

// words say what is to be done, and the cautions of this moment.
func (s *Weld) words(d *station.Desk, i int, wait time.Duration, w, h int) []string {
	l := d.Look
	p := d.Plan
	t := p.Weld.Docket.Tasks[i]
	var out []string
	say := func(style func(...string) string, x string) {
		for _, line := range draw.Wrap(text.Clean(x), w-3) {
			out = append(out, style("  "+line))
		}
	}
	what, leftOut := t.What, ""
	if t.Joint != "" {
		for k := range p.Weld.Layout.Joints {
			if p.Weld.Layout.Joints[k].ID == t.Joint {
				what += "; " + strings.ReplaceAll(p.Weld.Key(k), "+", " with ")
				leftOut = p.Weld.Layout.Joints[k].NotWelded()
			}
		}
	}
	say(l.Chalk.Render, what)
	if leftOut != "" && !d.Bare {
		say(l.Dim.Render, t.Joint+" "+leftOut)
	}
	if x, ok := s.seam(d, i); ok {
		line := ""
		if x.LegMM > 0 {
			line = fmt.Sprintf("%s of weld, leg %s", p.Job.Tape.Print(mm(x.WeldMM)), p.Job.Tape.Print(mm(x.LegMM)))
		}
		if x.Tight != "" {
			line += "; tight: " + x.Tight
		}
		if line != "" {
			say(l.Chalk.Render, line)
		}
	}
	if stages := p.Weld.Layout.Stages; t.Stage < len(stages) && !d.Bare {
		say(l.Dim.Render, "stage: "+stages[t.Stage].Name)
	}
	if d.Bare {
		return out
	}
	if c := caution(t.Kind, s.finishOf(d, i)); c != "" {
		say(l.Warn.Render, l.Signs.Warn+" "+c)
	}
	if h > 18 {
		say(l.Dim.Render, s.timing(d))
	}
	return out
}

// timing words how the work goes beside the plan, and what is left of it as it goes now.
func (s *Weld) timing(d *station.Desk) string {
	b := &s.booth
	w := d.Plan.Weld
	var out []string
	if b.plan > 0 {
		x := fmt.Sprintf("arc so far %s, planned %s for the same seams", clock(b.real), clock(b.plan))
		if b.last >= 0 {
			t := w.Docket.Tasks[b.last]
			name := t.Seam
			if name == "" {
				name = t.Joint
			}
			x += fmt.Sprintf(" (%s: %s, planned %s)", name, clock(time.Duration(d.Work.Joint(b.keys[b.last]).ArcNS)), clock(t.Take))
		}
		out = append(out, x)
	}
	if b.amiss != nil {
		return strings.Join(append(out, b.amiss.Error()), "; ")
	}
	x := fmt.Sprintf("left about %s, %s of it rest with nothing to do, done about %s", clock(b.rest.Elapsed), clock(b.rest.Rest), d.Now.Add(b.rest.Elapsed).Format("15:04"))
	if b.plan <= 0 {
		x += fmt.Sprintf("; whole plan %s", clock(w.Schedule.Elapsed))
	}
	out = append(out, x)
	if n := len(d.Work.Trips()); n > 0 && b.rest.Duty.Value < w.PlateDuty.Value*w.Welder.Derate*0.9999 {
		out = append(out, fmt.Sprintf("duty down to %.0f%% after %d trips: arc without another gives it back", 100*b.rest.Duty.Value, n))
	}
	return strings.Join(out, "; ")
}

// caution is what is to be said at this moment, and only then.
func caution(k weld.Kind, finish string) string {
	switch k {
	case weld.Tack, weld.Arc:
		switch finish {
		case "galvanised":
			return "zinc fume: grind it back, air moving away from your face, a respirator for welding fume; no one downwind"
		case "primed":
			return "primer fumes: grind it off around the seam, air moving away from your face"
		}
		return "mask and gloves on, others behind a screen, air moving away from your face"
	case weld.Clean:
		if finish == "oiled" {
			return "no chlorinated cleaner near an arc: its vapour turns to poison gas; rags away from the sparks"
		}
		return "eyes covered, sparks and chips away from what burns"
	case weld.Grind:
		return "eyes and ears covered, sparks away from what burns"
	case weld.Turn:
		return "a turn is a lift: enough hands, feet clear, nobody under it"
	}
	return ""
}

func (s *Weld) seam(d *station.Desk, i int) (seam.Seam, bool) {
	t := d.Plan.Weld.Docket.Tasks[i]
	for _, x := range d.Plan.Weld.Layout.Seams {
		if t.Seam != "" && x.ID == t.Seam {
			return x, true
		}
	}
	return seam.Seam{}, false
}

func (s *Weld) finishOf(d *station.Desk, i int) string {
	t := d.Plan.Weld.Docket.Tasks[i]
	for _, x := range d.Plan.Weld.Layout.Seams {
		if x.ID == t.Seam || t.Seam == "" && d.Plan.Weld.Layout.Joints[x.Joint].ID == t.Joint {
			return string(x.Finish)
		}
	}
	return ""
}

// chores gives what can be done with the arc off, in the order in which it is offered: the first is what w ticks off. What
// is still to be sawn belongs to the saw and stands last.
func (s *Weld) chores(d *station.Desk, free time.Duration) []int {
	var here, saw []int
	for _, k := range d.Plan.Weld.Docket.Meanwhile(s.booth.done, free) {
		switch t := d.Plan.Weld.Docket.Tasks[k]; {
		case t.Kind == weld.Gate || t.Kind.Burns() || k == s.booth.next:
		case t.Kind == weld.Saw:
			saw = append(saw, k)
		default:
			here = append(here, k)
		}
	}
	return append(here, saw...)
}

// meanwhile lists what can be done with the arc off.
func (s *Weld) meanwhile(d *station.Desk, room int) []string {
	l := d.Look
	list := s.chores(d, time.Hour)
	if room < 2 || len(list) == 0 {
		return nil
	}
	out := []string{l.Strong.Render("  meanwhile")}
	for n, k := range list {
		if n >= room-1 {
			break
		}
		lead := "  " + l.Signs.Bullet + " "
		if n == 0 && d.Plan.Weld.Docket.Tasks[k].Kind != weld.Saw {
			lead = "  w "
		}
		out = append(out, l.Chalk.Render(lead+text.Clean(s.line(d, k))))
	}
	return out
}

// Layers of the drawing.
const (
	layerFar uint8 = iota
	layerNear
	layerPart
	layerDone
	layerSeam
)

// frame draws the frame with the members of the joint lit and the seam's place marked.
func (s *Weld) frame(d *station.Desk, i, w, h int) []string {
	l := d.Look
	p := d.Plan
	t := p.Weld.Docket.Tasks[i]
	lit := map[int]bool{}
	for _, j := range p.Weld.Layout.Joints {
		if t.Joint != "" && j.ID == t.Joint {
			for _, m := range j.Members {
				if k := p.Frame.Index(m); k >= 0 {
					lit[k] = true
				}
			}
		}
	}
	pic := s.frames.picture(p, s.turn)
	c := draw.NewCanvas(w, h, l.Unicode)
	place := draw.Place(c, pic.MinX, pic.MinY, pic.MaxX, pic.MaxY)
	for _, k := range pic.Strokes {
		layer := layerFar
		if k.Near > 0.5 {
			layer = layerNear
		}
		if lit[k.Member] {
			layer = layerPart
		}
		x0, y0 := place(k.X0, k.Y0)
		x1, y1 := place(k.X1, k.Y1)
		c.Line(x0, y0, x1, y1, layer)
	}
	for k, x := range p.Weld.Docket.Tasks {
		if x.Kind == weld.Arc && s.booth.done[k] {
			s.dot(c, place, pic.View, x.Place, l.Signs.Done, layerDone)
		}
	}
	if t.Joint != "" {
		s.dot(c, place, pic.View, t.Place, l.Signs.Arc, layerSeam)
	}
	var out []string
	for _, r := range c.Rows(func(layer uint8, run string) string {
		switch layer {
		case layerSeam:
			return l.Hot.Render(run)
		case layerPart:
			return l.Strong.Render(run)
		case layerDone:
			return l.Cool.Render(run)
		case layerNear:
			return l.Dim.Render(run)
		}
		return l.Rule.Render(run)
	}) {
		out = append(out, " "+r)
	}
	return out
}

func (s *Weld) dot(c *draw.Canvas, place func(x, y float64) (float64, float64), v view.View, at [3]float64, sign string, layer uint8) {
	x, y, _ := v.Project(vec(at))
	px, py := place(x, y)
	c.Text(int(px)/2, int(py)/4, sign, layer)
}

// finish is the screen when all is welded.
func (s *Weld) finish(d *station.Desk, w int) []string {
	l := d.Look
	lines := []string{"", l.Cool.Render(" " + l.Signs.Done + " Everything is welded."), ""}
	last := int64(0)
	for _, a := range d.Work.Arcs(0) {
		last = max(last, a.To)
	}
	if watch := d.Plan.Weld.Rates.FireWatch; last > 0 && watch > 0 {
		left := watch - time.Duration(d.Now.UnixNano()-last)
		if left > 0 {
			lines = append(lines, l.Warn.Render(fmt.Sprintf(" %s FIRE WATCH: stay and look for %s more; look under and behind the bench", l.Signs.Warn, clock(left))))
		} else {
			lines = append(lines, l.Chalk.Render("   the fire watch is over; look once more before you lock up"))
		}
	}
	return append(lines, "", l.Chalk.Render(fmt.Sprintf("   arc %s, planned %s", clock(s.booth.real), clock(s.booth.plan))))
}
