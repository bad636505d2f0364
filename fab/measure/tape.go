package measure

import (
	"fmt"
	"strconv"
	"strings"
)

// Tape is the division of the tape that lengths are printed for.
type Tape struct {
	name     string
	division Length
	parts    int64 // divisions in an inch; 0: metric
}

var tapes = []Tape{
	{"1/8", Inch / 8, 8}, {"1/16", Inch / 16, 16}, {"1/32", Inch / 32, 32}, {"1/64", Inch / 64, 64},
	{"1mm", Millimetre, 0}, {"0.5mm", Millimetre / 2, 0},
}

// Tapes that a job may name.
var (
	Eighths       = tapes[0]
	Sixteenths    = tapes[1]
	Thirtyseconds = tapes[2]
	Sixtyfourths  = tapes[3]
	Millimetres   = tapes[4]
	HalfMM        = tapes[5]
)

// TapeNames lists what ParseTape accepts.
func TapeNames() []string {
	names := make([]string, len(tapes))
	for i, t := range tapes {
		names[i] = t.name
	}
	return names
}

// ParseTape reads the name of a tape's division: 1/8, 1/16, 1/32, 1/64, 1mm or 0.5mm.
func ParseTape(text string) (Tape, error) {
	for _, t := range tapes {
		if t.name == strings.TrimSpace(text) {
			return t, nil
		}
	}
	return Sixteenths, &Error{Kind: "tape", Text: text, Reason: "not a division that tapes have", Accepts: strings.Join(TapeNames(), ", ")}
}

// String gives the tape's name as the job file writes it.
func (t Tape) String() string { return t.name }

// Division is the distance between two marks of the tape.
func (t Tape) Division() Length { return t.division }

// Metric tells whether the tape is a metric one.
func (t Tape) Metric() bool { return t.parts == 0 }

// Nearest gives the mark nearest to l (halves away from zero).
func (t Tape) Nearest(l Length) Length {
	if l < 0 {
		return -t.Nearest(-l)
	}
	return (l + t.division/2) / t.division * t.division
}

// Print gives the length as the tape shows it: `55-3/8"`, `850mm`, `12.5mm`. Where the true length lies off the mark by
// more than a quarter of the division a sign follows: `55-3/8"+` is heavy, `55-3/8"-` light.
func (t Tape) Print(l Length) string { return t.number(t.Nearest(l)) + t.heavy(l) }

// PrintLong is Print with feet and inches behind it from 10 ft up: `127-3/8" (10' 7-3/8")`.
func (t Tape) PrintLong(l Length) string {
	s := t.Print(l)
	if f := t.Feet(l); f != "" {
		s += " (" + f + ")"
	}
	return s
}

// Feet gives a length from 10 ft up as `10' 7-3/8"`; shorter ones, and all on a metric tape, give "".
func (t Tape) Feet(l Length) string {
	m := t.Nearest(l)
	if t.Metric() || m.Abs() < 10*Foot {
		return ""
	}
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	feet, rest := m/Foot, m%Foot
	s := fmt.Sprintf("%s%d'", sign, feet)
	if rest != 0 {
		s += " " + t.number(rest)
	}
	return s + t.heavy(l)
}

func (t Tape) heavy(l Length) string {
	switch off := l - t.Nearest(l); {
	case off*4 > t.division:
		return "+"
	case -off*4 > t.division:
		return "-"
	}
	return ""
}

func (t Tape) number(m Length) string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	if t.Metric() {
		if m%Millimetre == 0 {
			return fmt.Sprintf("%s%dmm", sign, m/Millimetre)
		}
		return sign + strconv.FormatFloat(m.MM(), 'f', 1, 64) + "mm"
	}
	whole, num, den := int64(m/Inch), int64(m%Inch/t.division), t.parts
	for num != 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return fmt.Sprintf(`%s%d"`, sign, whole)
	case whole == 0:
		return fmt.Sprintf(`%s%d/%d"`, sign, num, den)
	}
	return fmt.Sprintf(`%s%d-%d/%d"`, sign, whole, num, den)
}
