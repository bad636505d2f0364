// Package newjob asks for a new job in plain steps and writes its file: what it is called, how long, wide and high, of
// which tube, with which bars, uprights and feet. The workbench asks by a form and draws the frame while it grows; `soapstone
// new` asks the same questions one by one.
package newjob

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/view"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// The questions, in their order.
const (
	qTitle = iota
	qUnits
	qLength
	qWidth
	qHeight
	qTube
	qPost
	qLowBars
	qHighBars
	qUprights
	qLegs
	qStick
	qPrice
	qAmps
	qDuty
	questions
)

// Questions gives the fields of the form.
func Questions() []station.Field {
	f := make([]station.Field, questions)
	f[qTitle] = station.Field{Label: "what is it", Value: "Frame", Help: "a name for the job, as you would write it on the steel"}
	f[qUnits] = station.Field{Label: "plain numbers are", Value: "in", Choices: []string{"in", "mm"}, Help: "a length may always be written with its own unit: 8' 3-1/2\", 2440mm"}
	f[qLength] = station.Field{Label: "how long", Value: "48", Help: "over all, outside"}
	f[qWidth] = station.Field{Label: "how wide", Value: "24", Help: "over all, outside"}
	f[qHeight] = station.Field{Label: "how high", Value: "0", Help: "clear between the lower and the upper frame; 0 for one flat frame, like a gate or a table's top"}
	f[qTube] = station.Field{Label: "of which tube", Value: "2 x 1 x 14ga", Help: "depth x width x wall, as the yard calls it: 2 x 1 x 14ga, 50mm x 25mm x 2mm"}
	f[qPost] = station.Field{Label: "uprights and legs of", Value: "1-1/2 x 11ga", Help: "a square tube, side x wall; only where there are uprights or legs"}
	f[qLowBars] = station.Field{Label: "crossbars below", Value: "0", Help: "how many, with equal gaps"}
	f[qHighBars] = station.Field{Label: "crossbars above", Value: "0", Help: "how many, where there is an upper frame"}
	f[qUprights] = station.Field{Label: "uprights a side", Value: "2", Help: "along each long side, the corners included; where there is an upper frame"}
	f[qLegs] = station.Field{Label: "legs", Value: "0", Help: "how long they are, with square feet; 0 for none. Feet cut to a floor that is not level can be had at the sketch"}
	f[qStick] = station.Field{Label: "sticks are", Value: "20ft", Help: "as your yard sells them; more lengths can be added at the sketch"}
	f[qPrice] = station.Field{Label: "a stick costs", Value: "", Help: "a plain number; left out: the nest saves length"}
	f[qAmps] = station.Field{Label: "welder set to", Value: "", Help: "amps; left out: no welding is planned"}
	f[qDuty] = station.Field{Label: "its rating plate", Value: "30% at 130A", Help: "duty at a current, from the plate on the machine"}
	return f
}

// Text gives the job file that the answers make; a *station.Amiss says which answer cannot be.
func Text(v []string) ([]byte, error) {
	if len(v) != questions {
		return nil, errors.New("not all was asked")
	}
	unit, err := measure.ParseUnit(v[qUnits])
	if err != nil {
		return nil, &station.Amiss{Field: qUnits, Why: err.Error()}
	}
	length := func(q int, zero bool) (measure.Length, error) {
		l, err := measure.ParseLength(strings.TrimSpace(v[q]), unit)
		switch {
		case err != nil:
			return 0, &station.Amiss{Field: q, Why: err.Error()}
		case l < 0 || l == 0 && !zero:
			return 0, &station.Amiss{Field: q, Why: "it must be more than nothing"}
		case l > 100*measure.Metre:
			return 0, &station.Amiss{Field: q, Why: "that is longer than any frame; write the unit"}
		}
		return l, nil
	}
	count := func(q, most int) (int, error) {
		n, err := strconv.Atoi(strings.TrimSpace(v[q]))
		if err != nil || n < 0 || n > most {
			return 0, &station.Amiss{Field: q, Why: fmt.Sprintf("a whole number from 0 to %d", most)}
		}
		return n, nil
	}
	for _, q := range []int{qLength, qWidth, qStick} {
		if _, err := length(q, false); err != nil {
			return nil, err
		}
	}
	height, err := length(qHeight, true)
	if err != nil {
		return nil, err
	}
	legs, err := length(qLegs, true)
	if err != nil {
		return nil, err
	}
	low, err := count(qLowBars, 200)
	if err != nil {
		return nil, err
	}
	high, err := count(qHighBars, 200)
	if err != nil {
		return nil, err
	}
	ups, err := count(qUprights, 60)
	if err != nil {
		return nil, err
	}
	for q := range v {
		if len(v[q]) > 200 || strings.ContainsAny(v[q], "\n\r\x00") {
			return nil, &station.Amiss{Field: q, Why: "one short line, please"}
		}
	}
	if v[qPrice] != "" {
		if _, err := measure.ParseMoney(v[qPrice]); err != nil {
			return nil, &station.Amiss{Field: qPrice, Why: err.Error()}
		}
	}
	q := func(s string) string { return text.Quote(strings.TrimSpace(s)) }
	var b strings.Builder
	p := func(format string, a ...any) { fmt.Fprintf(&b, format, a...) }
	tape, saw, fit := "1/16", sawInch, `"1/32in"`
	if v[qUnits] == "mm" {
		tape, saw, fit = "1mm", sawMetric, `"0.8mm"`
	}
	p("title    = %s\nunits    = %s\ntape     = %s\n", q(v[qTitle]), q(v[qUnits]), q(tape))
	sticks := fmt.Sprintf("[ {length = %s", q(v[qStick]))
	if v[qPrice] != "" {
		sticks += ", price = " + strings.TrimSpace(v[qPrice])
	}
	sticks += "} ]"
	p("\n[section.rail]\nshape  = \"rect-tube\"\nsize   = %s\nfinish = \"oiled\"\nsticks = %s\n", q(v[qTube]), sticks)
	upright := "rail"
	if (height > 0 || legs > 0) && !alike(v, unit) {
		upright = "upright"
		p("\n[section.upright]\nshape  = \"square-tube\"\nsize   = %s\nfinish = \"oiled\"\nsticks = %s\n", q(v[qPost]), sticks)
	}
	p("\n%s", saw)
	p("\n[[rectangle]]\nname    = \"lower\"\nsection = \"rail\"\nlength  = %s\nwidth   = %s\n", q(v[qLength]), q(v[qWidth]))
	if height > 0 {
		p("\n[[rectangle]]\nname    = \"upper\"\nsection = \"rail\"\nlength  = %s\nwidth   = %s\nabove   = \"lower\"\nclear   = %s\n", q(v[qLength]), q(v[qWidth]), q(v[qHeight]))
	}
	bars := func(on string, n int) {
		if n > 0 {
			p("\n[[crossbars]]\non      = %s\nsection = \"rail\"\ncount   = %d\nstand   = \"flat\"\nset     = \"top\"\nfit     = %s        # off each bar, so that it slips in\n", q(on), n, fit)
		}
	}
	bars("lower", low)
	if height > 0 {
		bars("upper", high)
		if ups < 2 {
			return nil, &station.Amiss{Field: qUprights, Why: "an upper frame needs at least two along each side"}
		}
		p("\n[[posts]]\nfrom     = \"lower\"\nto       = \"upper\"\nsection  = %s\nper_side = %d\n", q(upright), ups)
		if in := inset(v, unit, tape); in != "" {
			p("inset    = %s          # off the rails' round corners\n", q(in))
		}
	}
	if legs > 0 {
		p("\n[[legs]]\nunder   = \"lower\"\nsection = %s\nlength  = %s\nat      = \"corners\"\n", q(upright), q(v[qLegs]))
		if in := inset(v, unit, tape); in != "" {
			p("inset   = %s\n", q(in))
		}
	}
	if strings.TrimSpace(v[qAmps]) != "" {
		p("\n[welder]\nprocess = \"GMAW\"         # SMAW GMAW FCAW-S FCAW-G GTAW\namps    = %s\nvolts   = 18\nduty    = %s\ntravel  = \"10ipm\"        # how fast you weld: time a seam\nfillet  = \"1/8in\"        # leg where a joint says nothing\n", amps(v[qAmps]), q(v[qDuty]))
	}
	return []byte(b.String()), nil
}

// What a small shop's saw is like, to be measured and put right (common practice).
const (
	sawInch = `[saw]
kerf     = "1/16in"          # width of the blade's cut: measure yours
trim     = "3/8in"           # off the first end of every stick
trim_end = "1/4in"           # left unused at the other end
grip     = "3in"             # the vise holds no less
keep     = "12in"            # a drop at least this long goes back on the shelf
`
	sawMetric = `[saw]
kerf     = "1.6mm"           # width of the blade's cut: measure yours
trim     = "10mm"            # off the first end of every stick
trim_end = "6mm"             # left unused at the other end
grip     = "75mm"            # the vise holds no less
keep     = "300mm"           # a drop at least this long goes back on the shelf
`
)

// inset gives how far uprights stand in, so that they stand on the flat of the rails and not over their round corners: the
// corner's radius up to the next mark of the tape; "" where the tube cannot be read, which the reader then says.
func inset(v []string, unit measure.Unit, tape string) string {
	sec, err := steel.New(steel.Spec{Shape: steel.RectTube, Size: strings.TrimSpace(v[qTube]), Unit: unit}, table.Steel())
	t, terr := measure.ParseTape(tape)
	if err != nil || terr != nil || sec.OutsideRadius <= 0 {
		return ""
	}
	d := t.Division()
	in := (sec.OutsideRadius + d - 1) / d * d
	if t.Metric() {
		return t.Print(in)
	}
	return strings.TrimSuffix(t.Print(in), "\"") + "in"
}

// alike tells whether uprights and rails are of one tube: it is then bought and nested as one.
func alike(v []string, unit measure.Unit) bool {
	a, err := steel.New(steel.Spec{Shape: steel.RectTube, Size: strings.TrimSpace(v[qTube]), Unit: unit}, table.Steel())
	b, berr := steel.New(steel.Spec{Shape: steel.SquareTube, Size: strings.TrimSpace(v[qPost]), Unit: unit}, table.Steel())
	return err == nil && berr == nil && a.Depth == b.Depth && a.Width == b.Width && a.Wall == b.Wall
}

func amps(s string) string {
	s = strings.TrimSpace(s)
	if _, err := strconv.ParseFloat(s, 64); err == nil {
		return s
	}
	return text.Quote(s)
}

// at gives the field that a problem of the reader belongs to, -1 where none does.
func at(p text.Problem) int {
	switch {
	case strings.Contains(p.Key, "section.rail.size"):
		return qTube
	case strings.Contains(p.Key, "section.upright.size"):
		return qPost
	case strings.HasSuffix(p.Key, ".length") && strings.HasPrefix(p.Key, "rectangle"):
		return qLength
	case strings.HasSuffix(p.Key, ".width") && strings.HasPrefix(p.Key, "rectangle"):
		return qWidth
	case strings.HasPrefix(p.Key, "welder.duty"):
		return qDuty
	case strings.HasPrefix(p.Key, "welder.amps"):
		return qAmps
	case strings.HasPrefix(p.Key, "legs"):
		return qLegs
	case strings.HasPrefix(p.Key, "title"):
		return qTitle
	}
	return -1
}

// Judge turns what the reader found wrong with a new job into the answer that is to be mended; nil where nothing is.
func Judge(problems []text.Problem) error {
	for _, p := range problems {
		if p.Severity == text.Error {
			return &station.Amiss{Field: at(p), Why: p.Message}
		}
	}
	return nil
}

// Form is the form of a new job; done is given its text once the reader takes it.
func Form(title string, done func(data []byte) []station.Intent) station.Form {
	return station.Form{
		Title: title, Fields: Questions(),
		Would: func(_ *station.Desk, v []string) []byte {
			data, err := Text(v)
			if err != nil {
				return nil
			}
			return data
		},
		Done: func(d *station.Desk, v []string) ([]station.Intent, error) {
			data, err := Text(v)
			if err != nil {
				return nil, err
			}
			if d.Check != nil {
				if err := Judge(d.Check(data)); err != nil {
					return nil, err
				}
			}
			return done(data), nil
		},
	}
}

// Picture draws a frame into w x h cells.
func Picture(f *frame.Frame, w, h int, unicode bool) []string {
	if f == nil || len(f.Members) == 0 || w < 8 || h < 3 {
		return nil
	}
	pic := view.Draw(f, view.Isometric(0))
	c := draw.NewCanvas(w, h, unicode)
	place := draw.Place(c, pic.MinX, pic.MinY, pic.MaxX, pic.MaxY)
	for _, s := range pic.Strokes {
		x0, y0 := place(s.X0, s.Y0)
		x1, y1 := place(s.X1, s.Y1)
		c.Line(x0, y0, x1, y1, 0)
	}
	return c.Rows(func(_ uint8, run string) string { return run })
}

// ErrNoAnswer says that the input ended before all was asked.
var ErrNoAnswer = errors.New("the answers ended before all was asked; nothing was written")

// asking says how the questions are answered, before the first and wherever a ? is the answer.
const asking = "Enter alone takes what stands in brackets; ctrl-c leaves and writes nothing."

// told writes a line for a terminal of 80 columns, broken between words.
func told(out io.Writer, indent, s string) {
	for _, l := range draw.Wrap(s, 79-len(indent)) {
		fmt.Fprintln(out, indent+l)
	}
}

// Ask asks the questions one by one on a plain terminal or a pipe and gives the job's text. check is the reader's judgement
// of a text; try gives its frame for the drawing and may be nil.
func Ask(in io.Reader, out io.Writer, unicode bool, check func([]byte) []text.Problem, try func([]byte) *frame.Frame) ([]byte, error) {
	fields := Questions()
	v := make([]string, len(fields))
	for i := range fields {
		v[i] = fields[i].Value
	}
	lines := bufio.NewScanner(in)
	ask := func(q int) error {
		f := fields[q]
		help := f.Help
		if len(f.Choices) > 0 {
			help = strings.Join(f.Choices, " or ") + "; " + help
		}
		told(out, "", fmt.Sprintf("%s (%s)", f.Label, help))
		fmt.Fprintf(out, "  [%s] ", v[q])
		if !lines.Scan() {
			fmt.Fprintln(out)
			if err := lines.Err(); err != nil {
				return err
			}
			return ErrNoAnswer
		}
		if s := strings.TrimSpace(lines.Text()); s != "" {
			v[q] = s
		}
		return nil
	}
	wanted := func(q int) bool {
		h := strings.Trim(v[qHeight], " 0") != ""
		switch q {
		case qPost: // the legs are asked later
			return true
		case qHighBars, qUprights:
			return h
		case qDuty:
			return v[qAmps] != ""
		}
		return true
	}
	told(out, "", asking)
	drawn := "" // the text that was drawn last
	for q := range fields {
		if !wanted(q) {
			continue
		}
		for {
			if err := ask(q); err != nil {
				return nil, err
			}
			if v[q] == "?" {
				told(out, "  ", asking)
				v[q] = fields[q].Value
				continue
			}
			data, err := Text(v)
			if err == nil && q >= qTube && check != nil {
				err = Judge(check(data))
			}
			var a *station.Amiss
			if errors.As(err, &a) && a.Field == q {
				told(out, "  ", "that cannot be: "+a.Why)
				v[q] = fields[q].Value
				continue
			}
			if err == nil && try != nil && q >= qTube && q <= qLegs && string(data) != drawn {
				drawn = string(data)
				for _, r := range Picture(try(data), 64, 14, unicode) {
					fmt.Fprintln(out, strings.TrimRight(r, " "))
				}
			}
			break
		}
	}
	data, err := Text(v)
	if err != nil {
		return nil, err
	}
	if check != nil {
		if err := Judge(check(data)); err != nil {
			return nil, err
		}
	}
	return data, nil
}
