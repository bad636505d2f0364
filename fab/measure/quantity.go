package measure

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"time"
)

// Conversion factors, exact by definition: the international yard and pound agreement of 1959 (25.4 mm, 0.45359237 kg)
// and standard gravity of 9.80665 m/s2 (CGPM 1901, resolution 2).
const (
	PoundKG   = 0.45359237
	Gravity   = 9.80665 // m/s2
	PoundN    = PoundKG * Gravity
	InchMM    = 25.4
	KsiMPa    = 1000 * PoundN / (InchMM * InchMM)
	PsfMPa    = PoundN / (144 * InchMM * InchMM)
	PlfNPerMM = PoundN / (12 * InchMM)
	PoundFtNM = PoundN * 0.3048
)

type scale struct {
	names  string // blank between
	factor float64
}

// quantity reads a signed number (decimal, fraction or mixed) and one unit out of the table.
func quantity(kind, text, accepts string, bare float64, table []scale) (float64, error) {
	s := &scanner{text: text}
	fail := func(at int, reason string) (float64, error) {
		return 0, &Error{Kind: kind, Text: text, At: at, Reason: reason, Accepts: accepts}
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
	word := s.word()
	s.spaces()
	if !s.end() {
		return fail(s.pos, fmt.Sprintf("%q is left over", s.text[s.pos:]))
	}
	factor := bare
	if word == "" {
		if bare == 0 {
			return fail(at, "the unit is missing")
		}
	} else {
		factor = 0
		for _, t := range table {
			for name := range strings.FieldsSeq(t.names) {
				if strings.EqualFold(name, word) && (factor == 0 || name == word) {
					factor = t.factor
				}
			}
		}
		if factor == 0 {
			return fail(at, fmt.Sprintf("%q is not a unit of this kind", word))
		}
	}
	f, _ := v.Float64()
	f *= factor
	if negative {
		f = -f
	}
	return f, nil
}

// ParseMass reads a mass in kg: `150lb`, `68kg`, `3oz`, `500g`. A bare number is not accepted.
func ParseMass(text string) (float64, error) {
	return quantity("mass", text, "150lb or 68kg", 0, []scale{
		{"lb lbs lbm", PoundKG}, {"oz", PoundKG / 16}, {"kg", 1}, {"g", 0.001}, {"t", 1000}, {"ton tons", 2000 * PoundKG}, {"kip kips", 1000 * PoundKG},
		{"N", 1 / Gravity}, {"kN", 1000 / Gravity}})
}

// ParseForce reads a force in newtons: `150lb`, `1.2kip`, `5kN`, `500N`, `68kg` (its weight).
func ParseForce(text string) (float64, error) {
	return quantity("force", text, "150lb, 1.2kip, 500N or 5kN", 0, []scale{
		{"lb lbs lbf", PoundN}, {"kip kips", 1000 * PoundN}, {"oz", PoundN / 16}, {"N", 1}, {"kN", 1000}, {"MN", 1e6},
		{"kg kgf", Gravity}, {"t", 1000 * Gravity}, {"ton tons", 2000 * PoundN}})
}

// ParseMoment reads a moment in N·m: `50lb*ft`, `600in*lb`, `70Nm`.
func ParseMoment(text string) (float64, error) {
	return quantity("moment", text, "50lbft, 600lbin or 70Nm", 0, []scale{
		{"lbft lb*ft ft*lb ftlb lbf*ft", PoundFtNM}, {"lbin lb*in in*lb inlb", PoundFtNM / 12}, {"kipft kip*ft", 1000 * PoundFtNM},
		{"Nm N*m", 1}, {"kNm kN*m", 1000}, {"Nmm N*mm", 0.001}})
}

// ParseArea reads an area in mm2: `100sqft`, `9.3m2`, `2in2`.
func ParseArea(text string) (float64, error) {
	return quantity("area", text, "100sqft, 2in2 or 9.3m2", 0, []scale{
		{"sqft ft2 sf", 304.8 * 304.8}, {"sqin in2", InchMM * InchMM}, {"m2 sqm", 1e6}, {"cm2", 100}, {"mm2", 1}})
}

// ParseInertia reads a second moment of area in mm4: `0.55in4`, `23cm4`.
func ParseInertia(text string) (float64, error) {
	return quantity("inertia", text, "0.55in4 or 23cm4", 0, []scale{{"in4", InchMM * InchMM * InchMM * InchMM}, {"cm4", 1e4}, {"mm4", 1}, {"m4", 1e12}})
}

// ParseModulus reads a section modulus in mm3: `1.2in3`, `20cm3`.
func ParseModulus(text string) (float64, error) {
	return quantity("section modulus", text, "1.2in3 or 20cm3", 0, []scale{{"in3", InchMM * InchMM * InchMM}, {"cm3", 1e3}, {"mm3", 1}})
}

// ParseStress reads a stress in MPa: `29000ksi`, `200GPa`, `345MPa`, `36000psi`.
func ParseStress(text string) (float64, error) {
	return quantity("stress", text, "36ksi, 345MPa or 200GPa", 0, []scale{
		{"ksi", KsiMPa}, {"psi", KsiMPa / 1000}, {"MPa N/mm2", 1}, {"GPa", 1000}, {"kPa", 1e-3}, {"Pa", 1e-6}})
}

// ParseShare reads a share as a fraction: `30%`, `0.3`. It is not limited to 0..1; who needs that says so.
func ParseShare(text string) (float64, error) {
	return quantity("share", text, "30% or 0.3", 1, []scale{{"%", 0.01}})
}

// LoadKind says over what a load is spread.
type LoadKind int

// The kinds of load.
const (
	PointLoad LoadKind = iota // newtons
	LineLoad                  // newtons a millimetre
	AreaLoad                  // newtons a square millimetre
)

// Load is a load as written: its kind and its size in N, N/mm or N/mm2.
type Load struct {
	Kind  LoadKind
	Value float64
}

// ParseLoad reads an area, line or point load: `20psf`, `1kPa`, `30plf`, `0.4kN/m`, `150lb`, `2kN`.
func ParseLoad(text string) (Load, error) {
	const accepts = "20psf, 1kPa, 30plf, 0.4kN/m, 150lb or 2kN"
	for _, k := range []struct {
		kind  LoadKind
		table []scale
	}{
		{AreaLoad, []scale{{"psf lb/ft2 lb/sqft", PsfMPa}, {"ksf", 1000 * PsfMPa}, {"psi", KsiMPa / 1000}, {"kPa kN/m2", 1e-3}, {"Pa N/m2", 1e-6}, {"MPa N/mm2", 1},
			{"kg/m2", Gravity * 1e-6}}},
		{LineLoad, []scale{{"plf lb/ft", PlfNPerMM}, {"lb/in pli", PlfNPerMM * 12}, {"klf kip/ft", 1000 * PlfNPerMM}, {"kN/m N/mm", 1}, {"N/m", 1e-3},
			{"kg/m", Gravity * 1e-3}}},
	} {
		if v, err := quantity("load", text, accepts, 0, k.table); err == nil {
			return Load{k.kind, v}, nil
		}
	}
	v, err := ParseForce(text)
	if e, ok := err.(*Error); ok {
		e.Kind, e.Accepts = "load", accepts
	}
	return Load{PointLoad, v}, err
}

// ParseSpeed reads a speed in mm/s: `8ipm`, `200mm/min`, `3mm/s`.
func ParseSpeed(text string) (float64, error) {
	return quantity("speed", text, "8ipm or 200mm/min", 0, []scale{
		{"ipm in/min", InchMM / 60}, {"mm/min", 1.0 / 60}, {"mm/s", 1}, {"cm/min", 10.0 / 60}, {"m/min", 1000.0 / 60}, {"in/s ips", InchMM}, {"fpm ft/min", 304.8 / 60}})
}

// ParseRate reads a mass rate in kg/s: `1.1lb/h`, `0.5kg/h`.
func ParseRate(text string) (float64, error) {
	return quantity("rate", text, "1.1lb/h or 0.5kg/h", 0, []scale{{"lb/h lb/hr lbs/h", PoundKG / 3600}, {"kg/h kg/hr", 1.0 / 3600}, {"g/min", 0.001 / 60}, {"kg/min", 1.0 / 60}})
}

// ParseCurrent reads an electric current in amperes; the unit may be left out.
func ParseCurrent(text string) (float64, error) {
	return quantity("current", text, "110 or 110A", 1, []scale{{"A amp amps", 1}})
}

// ParseVoltage reads a voltage in volts; the unit may be left out.
func ParseVoltage(text string) (float64, error) {
	return quantity("voltage", text, "19 or 19V", 1, []scale{{"V volt volts", 1}})
}

// ParseNumber reads a plain number (decimal or fraction).
func ParseNumber(text string) (float64, error) {
	return quantity("number", text, "a plain number such as 12 or 0.5", 1, nil)
}

// ParseAngle reads an angle in degrees: `22.5`, `22.5deg`, `22d30m`, `22d30m15s`, `4:12` (rise:run). Angles beyond one
// turn are refused.
func ParseAngle(text string) (float64, error) {
	const accepts = "22.5, 22.5deg, 22d30m or 4:12 (rise:run)"
	s := &scanner{text: text}
	fail := func(at int, reason string) (float64, error) {
		return 0, &Error{Kind: "angle", Text: text, At: at, Reason: reason, Accepts: accepts}
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
	deg, _ := v.Float64()
	s.spaces()
	at = s.pos
	if s.take(':') {
		s.spaces()
		run, reason := s.mixed()
		if reason != "" {
			return fail(s.pos, "the run is missing after the rise")
		}
		if run.Sign() == 0 && v.Sign() == 0 {
			return fail(at, "rise and run are both zero")
		}
		r, _ := run.Float64()
		deg = math.Atan2(deg, r) * 180 / math.Pi
	} else if word := s.word(); word != "" {
		switch lower := strings.ToLower(word); {
		case lower == "deg" || lower == "degrees" || lower == "degree" || lower == "d":
			if s.spaces(); !s.end() && len(s.text)-s.pos <= maxDigits { // 22d 30m
				if m, ok := minutes(strings.ToLower(strings.ReplaceAll(s.text[s.pos:], " ", ""))); ok {
					deg += m
					s.pos = len(s.text)
				}
			}
		case strings.HasPrefix(lower, "d") && len(word) > 1 && digit(rune(word[1])):
			m, ok := minutes(lower[1:])
			if !ok {
				return fail(at, fmt.Sprintf("%q is not minutes of an angle", word))
			}
			deg += m
		case lower == "rad":
			deg *= 180 / math.Pi
		default:
			return fail(at, fmt.Sprintf("%q is not a unit of angle", word))
		}
	}
	s.spaces()
	if !s.end() {
		return fail(s.pos, fmt.Sprintf("%q is left over", s.text[s.pos:]))
	}
	if deg > 360 {
		return fail(0, "more than a full turn")
	}
	if negative {
		deg = -deg
	}
	return deg, nil
}

// minutes reads `30m`, `30m15s` or `30` behind the degrees, as degrees.
func minutes(t string) (float64, bool) {
	s := &scanner{text: t}
	m, _, reason := s.decimal()
	if reason != "" || m.Cmp(big.NewRat(60, 1)) >= 0 {
		return 0, false
	}
	f, _ := m.Float64()
	deg := f / 60
	if !s.take('m') && !s.take('\'') {
		return deg, s.end()
	}
	if s.end() {
		return deg, true
	}
	sec, _, reason := s.decimal()
	if reason != "" || sec.Cmp(big.NewRat(60, 1)) >= 0 || !(s.take('s') || s.take('"')) {
		return 0, false
	}
	f, _ = sec.Float64()
	return deg + f/3600, s.end()
}

// ParseTime reads a span of time: `90s`, `2m`, `1h30m`, `2d`. It is never negative and at most a year.
func ParseTime(text string) (time.Duration, error) {
	const accepts = "90s, 2m or 1h30m"
	s := &scanner{text: text}
	fail := func(at int, reason string) (time.Duration, error) {
		return 0, &Error{Kind: "time", Text: text, At: at, Reason: reason, Accepts: accepts}
	}
	s.spaces()
	if s.end() {
		return fail(0, "nothing is written here")
	}
	var total float64
	for last := math.Inf(1); !s.end(); s.spaces() {
		at := s.pos
		v, _, reason := s.decimal()
		if reason != "" {
			return fail(at, reason)
		}
		s.spaces()
		at = s.pos
		start := s.pos
		for !s.end() && (s.text[s.pos] >= 'a' && s.text[s.pos] <= 'z' || s.text[s.pos] >= 'A' && s.text[s.pos] <= 'Z') {
			s.pos++
		}
		var unit float64
		switch strings.ToLower(s.text[start:s.pos]) {
		case "d", "day", "days":
			unit = 86400
		case "h", "hr", "hours", "hour":
			unit = 3600
		case "m", "min", "minutes", "minute":
			unit = 60
		case "s", "sec", "seconds", "second":
			unit = 1
		case "ms":
			unit = 0.001
		case "":
			return fail(at, "the unit is missing")
		default:
			return fail(at, fmt.Sprintf("%q is not a unit of time", s.text[start:s.pos]))
		}
		if unit >= last {
			return fail(at, "the units must go from the longest to the shortest")
		}
		last = unit
		f, _ := v.Float64()
		total += f * unit
	}
	if total > 366*86400 {
		return fail(0, "longer than a year")
	}
	return time.Duration(math.Round(total * 1e9)), nil
}
