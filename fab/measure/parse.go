package measure

import (
	"fmt"
	"math/big"
	"strings"
)

const acceptsLength = `96in, 3-1/2", 8' 3-1/2" or 2440mm`

// ParseLength reads a length: `96`, `96in`, `96"`, `8'`, `8ft`, `8' 3-1/2"`, `8' 3 1/2`, `3-1/2`, `.065`, `2440mm`,
// `244cm`, `2.44m`, `5mil`. A bare number is in bare's unit. Finer input than a nanometre rounds to the nearest.
// A leading minus is accepted; who needs a positive length says so. Beyond MaxLength it is an error.
func ParseLength(text string, bare Unit) (Length, error) {
	s := &scanner{text: text}
	fail := func(at int, reason string) (Length, error) {
		return 0, &Error{Kind: "length", Text: text, At: at, Reason: reason, Accepts: acceptsLength}
	}
	s.spaces()
	if s.end() {
		return fail(0, "nothing is written here")
	}
	negative := s.sign()
	at := s.pos
	v, reason := s.mixed()
	if reason != "" {
		return fail(at, reason)
	}
	s.spaces()
	at = s.pos
	word := s.mark()
	size, feet, ok := lengthUnit(word, bare)
	if !ok {
		if word == "" {
			return fail(at, fmt.Sprintf("%q is not part of a length", s.text[at:]))
		}
		return fail(at, fmt.Sprintf("%q is not a unit of length", word))
	}
	total := new(big.Rat).Mul(v, new(big.Rat).SetInt64(int64(size)))
	s.spaces()
	if feet && !s.end() {
		if s.take('-') { // 8'-3 1/2"
			s.spaces()
		}
		at = s.pos
		in, reason := s.mixed()
		if reason != "" {
			return fail(at, "inches are expected after the feet")
		}
		s.spaces()
		at = s.pos
		word := s.mark()
		if sz, _, ok := lengthUnit(word, In); !ok || sz != Inch {
			return fail(at, "inches are expected after the feet")
		}
		if in.Cmp(big.NewRat(12, 1)) >= 0 {
			return fail(at, "the inches after feet must be less than 12")
		}
		total.Add(total, in.Mul(in, new(big.Rat).SetInt64(int64(Inch))))
		s.spaces()
	}
	if !s.end() {
		return fail(s.pos, fmt.Sprintf("%q is left over", s.text[s.pos:]))
	}
	l, ok := roundRat(total)
	if !ok || Length(l) > MaxLength {
		return fail(0, "longer than 10 km")
	}
	if negative {
		l = -l
	}
	return Length(l), nil
}

func lengthUnit(word string, bare Unit) (size Length, feet, ok bool) {
	switch strings.ToLower(word) {
	case "":
		return bare.Size(), false, true
	case "in", "inch", "inches", `"`:
		return Inch, false, true
	case "ft", "foot", "feet", "'":
		return Foot, true, true
	case "mm":
		return Millimetre, false, true
	case "cm":
		return Centimetre, false, true
	case "m":
		return Metre, false, true
	case "mil", "mils":
		return Mil, false, true
	case "um", "\u00b5m", "\u03bcm":
		return Micrometre, false, true
	}
	return 0, false, false
}

// roundRat rounds to the nearest integer, halves away from zero; ok tells that it fits an int64.
func roundRat(v *big.Rat) (int64, bool) {
	num := new(big.Int).Abs(v.Num())
	den := v.Denom()
	num.Mul(num, big.NewInt(2)).Add(num, den)
	num.Quo(num, new(big.Int).Mul(den, big.NewInt(2)))
	if v.Sign() < 0 {
		num.Neg(num)
	}
	return num.Int64(), num.IsInt64()
}

// Gauges gives the thickness of a gauge number in one gauge system.
type Gauges map[string]Length

// ParseWall reads a wall: a length, or a gauge such as `11ga` looked up in the given system (tube walls: BWG; sheet and
// plate: the sheet-steel series).
func ParseWall(text string, bare Unit, gauges Gauges) (Length, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	for _, suffix := range []string{"gauge", "ga.", "ga"} {
		if n, found := strings.CutSuffix(t, suffix); found {
			n = strings.TrimSpace(n)
			if l, ok := gauges[n]; ok {
				return l, nil
			}
			return 0, &Error{Kind: "wall", Text: text, Reason: fmt.Sprintf("there is no gauge %q in this series", n), Accepts: `11ga, 14ga, .120 or 3mm`}
		}
	}
	l, err := ParseLength(text, bare)
	if e, ok := err.(*Error); ok {
		e.Kind, e.Accepts = "wall", `11ga, .120, 1/8 or 3mm`
	}
	return l, err
}
