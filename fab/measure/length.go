package measure

import "math"

// Length is a length in nanometres.
type Length int64

// Lengths that everything else is counted in.
const (
	Nanometre   Length = 1
	Micrometre  Length = 1000
	Millimetre  Length = 1_000_000
	Centimetre  Length = 10_000_000
	Metre       Length = 1_000_000_000
	Mil         Length = 25_400
	Inch        Length = 25_400_000
	Foot        Length = 12 * Inch
	Sixtyfourth Length = Inch / 64
)

// MaxLength is the longest length that is read: 10 km, so that the sum of 100 000 of them fits an int64 with room left.
const MaxLength = 10_000 * Metre

// MM gives the length in millimetres.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// Inches gives the length in inches.
func (l Length) Inches() float64 { return float64(l) / float64(Inch) }

// Feet gives the length in feet.
func (l Length) Feet() float64 { return float64(l) / float64(Foot) }

// FromMM rounds a number of millimetres to the nearest nanometre; beyond MaxLength (and for NaN) it saturates (NaN: 0).
func FromMM(mm float64) Length {
	nm := math.Round(mm * float64(Millimetre))
	switch {
	case math.IsNaN(nm):
		return 0
	case nm > float64(MaxLength):
		return MaxLength
	case nm < -float64(MaxLength):
		return -MaxLength
	}
	return Length(nm)
}

// Abs gives the length without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// Unit is the unit of a bare number.
type Unit int

// The units that a job may name for its bare numbers.
const (
	In Unit = iota
	Ft
	MM
	CM
	M
	mil
)

var units = [...]struct {
	name string
	size Length
}{In: {"in", Inch}, Ft: {"ft", Foot}, MM: {"mm", Millimetre}, CM: {"cm", Centimetre}, M: {"m", Metre}, mil: {"mil", Mil}}

// UnitNames lists the units that a job may name, in the order in which messages show them.
func UnitNames() []string { return []string{"in", "ft", "mm", "cm", "m"} }

// ParseUnit reads the name of a unit for bare numbers.
func ParseUnit(text string) (Unit, error) {
	for _, name := range UnitNames() {
		if name == text {
			for u, d := range units {
				if d.name == name {
					return Unit(u), nil
				}
			}
		}
	}
	return In, &Error{Kind: "unit", Text: text, Reason: "not a unit of length", Accepts: "in, ft, mm, cm or m"}
}

// String gives the unit's name.
func (u Unit) String() string { return units[u].name }

// Size gives the length of one unit.
func (u Unit) Size() Length { return units[u].size }

// Metric tells whether the unit belongs to the metric system.
func (u Unit) Metric() bool { return u == MM || u == CM || u == M }
