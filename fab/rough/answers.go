// Package rough gives a price in five minutes from a few answers, with its spread, before anything is drawn.
//
// The answers are made into a small job: a frame of the outer sizes told, or one that has as many feet of steel and as many
// joints as was said. That job is planned and priced by the same code as any other, with the shop's own rates, prices and
// price book; so a rough price and the later one differ by what was not known yet, and by nothing else. A job that is like
// an earlier one takes that one's costs instead, made larger or smaller.
//
// The spread comes from what is not known: each answer is moved to the least and the most that it may turn out to be, and
// the price is reckoned again. The swings of answers that have nothing to do with one another add up as the root of the sum
// of their squares (JCGM 100:2008, 5.1.2), downwards and upwards by themselves. The list of swings says which answer is worth
// another question.
package rough

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// Answers are what is known.
type Answers struct {
	Units   measure.Unit
	Shape   string // of the tube, as a job's section has it
	Size    string
	Sizes   [3]measure.Length // outer length, width, height; height 0: one flat frame
	Bars    int               // across each flat frame
	Feet    measure.Length    // of steel in all, where no sizes are known
	Joints  int               // in all; 0 with sizes: as the frame has them
	Finish  string            // paint | galvanise | none
	PriceFt measure.Money     // of a foot; 0: the price book's, or the shop file's
	Rate    measure.Money     // of an hour; 0: the shop's own
	Markup  float64           // <0: the shop's own
	Times   float64           // size beside the job that it is like; 0: no such job
	depthMM float64           // of the section, once it is known
}

// Question is one step of the asking.
type Question struct {
	Key, Ask, Like string
	Needed         bool
}

// Questions are asked in this order; those that are not needed may stay empty.
func Questions() []Question {
	return []Question{
		{"section", "What steel, shape and size?", "rect-tube 2 x 1 x 14ga", true},
		{"size", "Outer sizes, length x width or length x width x height? Empty where only the feet of steel are known", "96 x 48 x 36", false},
		{"bars", "How many bars across each frame?", "5", false},
		{"feet", "How much steel in all, where no sizes are known?", "85ft", false},
		{"joints", "How many joints, where no sizes are known?", "24", false},
		{"finish", "Finish: paint, galvanise or none?", "paint", false},
		{"price_ft", "What a foot of the steel costs? Empty: as the price book has it", "1.65", false},
		{"rate", "What an hour costs? Empty: the shop's own rate", "60", false},
		{"markup", "Markup? Empty: the shop's own", "25%", false},
	}
}

// Set takes one answer.
func (a *Answers) Set(key, value string) error {
	value = strings.TrimSpace(value)
	var err error
	count := func(to *int, most int) error {
		n, err := strconv.Atoi(value)
		if err != nil || n < 0 || n > most {
			return fmt.Errorf("%s: a whole number from 0 to %d is wanted, not %s", key, most, text.Short(text.Clean(value), 30))
		}
		*to = n
		return nil
	}
	switch key {
	case "units":
		a.Units, err = measure.ParseUnit(value)
	case "section":
		shape, size, ok := strings.Cut(value, " ")
		if !ok {
			return fmt.Errorf("section: shape and size are wanted, such as rect-tube 2 x 1 x 14ga")
		}
		a.Shape, a.Size = shape, strings.TrimSpace(size)
	case "size":
		parts := strings.FieldsFunc(value, func(r rune) bool { return r == 'x' || r == 'X' || r == '\u00d7' })
		if len(parts) < 2 || len(parts) > 3 {
			return fmt.Errorf("size: length x width, or length x width x height, such as 96 x 48 x 36")
		}
		for i, p := range parts {
			l, err := measure.ParseLength(strings.TrimSpace(p), a.Units)
			if err != nil {
				return fmt.Errorf("size: %w", err)
			}
			if l <= 0 || l > 30*measure.Metre {
				return fmt.Errorf("size: %s is no size of a frame", text.Short(text.Clean(p), 20))
			}
			a.Sizes[i] = l
		}
	case "feet":
		unit := measure.Ft
		if a.Units.Metric() {
			unit = measure.M
		}
		a.Feet, err = measure.ParseLength(value, unit)
		if err == nil && (a.Feet <= 0 || a.Feet > 2000*measure.Foot) {
			err = fmt.Errorf("feet: between nothing and 2000 ft of steel")
		}
	case "bars":
		return count(&a.Bars, 100)
	case "joints":
		return count(&a.Joints, 400)
	case "finish":
		if value != "paint" && value != "galvanise" && value != "none" {
			return fmt.Errorf("finish: paint, galvanise or none")
		}
		a.Finish = value
	case "price_ft":
		a.PriceFt, err = measure.ParseMoney(value)
	case "rate":
		a.Rate, err = measure.ParseMoney(value)
	case "markup":
		a.Markup, err = measure.ParseShare(value)
	case "times":
		a.Times, err = measure.ParseNumber(value)
		if err == nil && !(a.Times > 0.05 && a.Times < 20) {
			err = fmt.Errorf("times: between 0.05 and 20 times the size of the job that it is like")
		}
	default:
		var keys []string
		for _, q := range Questions() {
			keys = append(keys, q.Key)
		}
		return fmt.Errorf("there is no answer %s; there are %s, units, like, times", text.Short(text.Clean(key), 30), text.List(keys))
	}
	if err != nil && !strings.HasPrefix(err.Error(), key) {
		err = fmt.Errorf("%s: %w", key, err)
	}
	return err
}

// Fresh are answers with nothing told yet.
func Fresh() Answers { return Answers{Units: measure.In, Finish: "paint", Markup: -1} }

// Check says what is still missing.
func (a *Answers) Check() error {
	switch {
	case a.Times > 0:
		return nil
	case a.Shape == "":
		return fmt.Errorf("section is missing: what steel, such as section=%q", "rect-tube 2 x 1 x 14ga")
	case a.Sizes[0] == 0 && a.Feet == 0:
		return fmt.Errorf("either the outer sizes (size=%q) or the feet of steel (feet=85ft) are wanted", "96 x 48 x 36")
	case a.Sizes[0] == 0 && a.Joints == 0:
		return fmt.Errorf("with feet the joints are wanted too: joints=24")
	}
	return nil
}

// Job writes the small job that the answers come to. scale moves the sizes (or the feet), joints the number of joints.
func (a *Answers) Job(scale, joints float64) []byte {
	var b strings.Builder
	mm := func(l float64) string { return fmt.Sprintf("\"%.1fmm\"", l) }
	fmt.Fprintf(&b, "title = \"Rough price\"\nunits = %q\n[section.tube]\nshape = %s\nsize = %s\n", a.Units.String(), text.Quote(a.Shape), text.Quote(a.Size))
	if a.PriceFt > 0 {
		fmt.Fprintf(&b, "price_ft = %s\n", exactly(a.PriceFt))
		l := "20ft"
		if a.Units.Metric() {
			l = "6m"
		}
		fmt.Fprintf(&b, "sticks = [ %q ]\n", l)
	}
	frame := func(name string, l, w float64, z string, bars int) {
		fmt.Fprintf(&b, "[[rectangle]]\nname = %q\nsection = \"tube\"\nlength = %s\nwidth = %s\n%s", name, mm(l), mm(w), z)
		if bars > 0 {
			fmt.Fprintf(&b, "[[crossbars]]\non = %q\nsection = \"tube\"\ncount = %d\n", name, bars)
		}
	}
	if l := a.Sizes[0].MM() * scale; l > 0 {
		w, h := a.Sizes[1].MM()*scale, a.Sizes[2].MM()*scale
		bars := int(math.Round(float64(a.Bars) * joints))
		frame("lower", l, w, "", bars)
		if h > 0 {
			frame("upper", l, w, fmt.Sprintf("above = \"lower\"\nclear = %s\n", mm(max(h/2, h-2*a.depthMM))), bars)
			b.WriteString("[[posts]]\nfrom = \"lower\"\nto = \"upper\"\nsection = \"tube\"\nat = \"corners\"\n")
		}
	} else {
		// A ladder with as many joints, twice as long as wide, of as much steel: 2 l + (2 + n) w = feet.
		n := max(0, int(math.Round((float64(a.Joints)*joints-4)/2)))
		// Its sides are no longer than a piece that one handles; what is left of the steel lies beside it, cut but not joined.
		feet := a.Feet.MM() * scale
		l := min(longest, feet/(3+float64(n)/2))
		frame("lower", l, l/2, "", n)
		if rest := feet - l*(3+float64(n)/2); rest > 50 {
			k := math.Ceil(rest / longest)
			fmt.Fprintf(&b, "[[piece]]\nsection = \"tube\"\nlength = %s\nqty = %d\n", mm(rest/k), int(k))
		}
	}
	switch a.Finish {
	case "none":
		b.WriteString("[paint]\ncoating = \"none\"\n")
	case "galvanise":
		b.WriteString("[paint]\ncoating = \"galvanise\"\n")
	default:
		b.WriteString("[paint]\ncoating = \"paint\"\n")
	}
	b.WriteString("[labour]\n")
	if a.Rate > 0 {
		fmt.Fprintf(&b, "rate = %s\n", exactly(a.Rate))
	}
	b.WriteString("[quote]\nmany = 1\n")
	if a.Markup >= 0 {
		fmt.Fprintf(&b, "markup = %s\n", strconv.FormatFloat(a.Markup, 'f', 6, 64))
	}
	return []byte(b.String())
}

// longest is the longest piece of a frame that nobody has drawn yet: ten feet.
const longest = 3048.0

func exactly(m measure.Money) string { return fmt.Sprintf("%d.%04d", m/measure.Whole, m%measure.Whole) }

// plainWelder is what is welded with where the shop file names no machine: a small wire welder (common practice).
const plainWelder = `[welder]
process = "GMAW"
amps = 100
volts = 18
duty = "30% at 130A"
window = "10m"
wire = "0.030in"
travel = "12ipm"
fillet = "1/8in"
`
