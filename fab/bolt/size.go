package bolt

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/measure"
)

// Size is a thread.
type Size struct {
	Name    string  // "3/8-16", "M10"
	DiaMM   float64 // nominal
	PitchMM float64
	TPI     float64 // threads an inch; 0 for metric
	Metric  bool
	Series  string // UNC, UNF, coarse, fine, or "" for another pitch
	row     int    // in inchRows or metricRows; -1 where the tables do not list it
}

// inchRow is what the tables list for one inch diameter (inches).
type inchRow struct {
	name               string
	dia                float64
	unc, unf           float64
	tapUNC, tapUNF     float64 // tap drill
	close, normal, lax float64 // clearance drills, ASME B18.2.8
	nutMax, nutFlats   float64 // ASME B18.2.2
	headFlats          float64 // ASME B18.2.1
	saeOD, saeMax      float64 // ASME B18.21.1 SAE flat washer
	ussOD, ussMax      float64 // ASME B18.21.1 type A wide
	fenderOD, lock     float64 // fender washer, from memory; split lock thickness
}

var inchRows = [...]inchRow{
	{"#8", .164, 32, 36, .136, .136, .180, .196, .213, .130, .344, .344, .375, .064, .438, .080, .750, .040},
	{"#10", .190, 24, 32, .1495, .159, .2055, .221, .238, .130, .375, .375, .438, .064, .500, .080, 1.0, .047},
	{"1/4", .25, 20, 28, .201, .213, 17. / 64, 9. / 32, 19. / 64, .226, .4375, .4375, .625, .080, .734, .080, 1.25, .062},
	{"5/16", .3125, 18, 24, .257, .272, 21. / 64, 11. / 32, 23. / 64, .273, .5, .5, .6875, .080, .875, .104, 1.25, .078},
	{"3/8", .375, 16, 24, .3125, .332, 25. / 64, 13. / 32, 27. / 64, .337, .5625, .5625, .8125, .080, 1, .104, 1.5, .094},
	{"7/16", .4375, 14, 20, .368, 25. / 64, 29. / 64, 15. / 32, 31. / 64, .385, .6875, .625, .921875, .080, 1.25, .104, 1.5, .109},
	{"1/2", .5, 13, 20, 27. / 64, 29. / 64, 17. / 32, 9. / 16, 39. / 64, .448, .75, .75, 1.0625, .121, 1.375, .132, 2, .125},
	{"9/16", .5625, 12, 18, 31. / 64, 33. / 64, 19. / 32, 5. / 8, 43. / 64, .496, .875, .8125, 1.1875, .121, 1.46875, .132, 0, .141},
	{"5/8", .625, 11, 18, 17. / 32, 37. / 64, 21. / 32, 11. / 16, 47. / 64, .559, .9375, .9375, 1.3125, .121, 1.75, .160, 2.25, .156},
	{"3/4", .75, 10, 16, 21. / 32, 11. / 16, 25. / 32, 13. / 16, 29. / 32, .665, 1.125, 1.125, 1.5, .160, 2, .177, 2.5, .188},
	{"7/8", .875, 9, 14, 49. / 64, 13. / 16, 29. / 32, 15. / 16, 33. / 32, .776, 1.3125, 1.3125, 1.75, .160, 2.25, .192, 0, .219},
	{"1", 1, 8, 12, 7. / 8, 59. / 64, 33. / 32, 35. / 32, 37. / 32, .887, 1.5, 1.5, 2, .160, 2.5, .192, 0, .250},
	{"1-1/8", 1.125, 7, 12, 63. / 64, 67. / 64, 37. / 32, 39. / 32, 21. / 16, .999, 1.6875, 1.6875, 2.25, .160, 2.75, .192, 0, .281},
	{"1-1/4", 1.25, 7, 12, 71. / 64, 75. / 64, 41. / 32, 43. / 32, 23. / 16, 1.094, 1.875, 1.875, 2.5, .192, 3, .192, 0, .312},
	{"1-3/8", 1.375, 6, 12, 39. / 32, 83. / 64, 23. / 16, 3. / 2, 103. / 64, 1.206, 2.0625, 2.0625, 2.75, .192, 3.25, .213, 0, .344},
	{"1-1/2", 1.5, 6, 12, 43. / 32, 91. / 64, 25. / 16, 13. / 8, 111. / 64, 1.317, 2.25, 2.25, 3, .213, 3.5, .213, 0, .375},
}

// metricRow is what the tables list for one metric diameter (mm).
type metricRow struct {
	dia               float64
	coarse            float64
	fine, medium, lax float64 // clearance holes, ISO 273
	tap               float64
	nutMax, nutFlats  float64 // ISO 4032
	washerOD, washer  float64 // ISO 7089, nominal thickness
	washerMax         float64 // the thickest that it allows
	lock              float64 // DIN 127 B
	bigOD             float64 // ISO 7093 (3 d)
}

var metricRows = [...]metricRow{
	{5, 0.8, 5.3, 5.5, 5.8, 4.2, 4.7, 8, 10, 1.0, 1.1, 1.2, 15},
	{6, 1.0, 6.4, 6.6, 7, 5.0, 5.2, 10, 12, 1.6, 1.8, 1.6, 18},
	{8, 1.25, 8.4, 9, 10, 6.8, 6.8, 13, 16, 1.6, 1.8, 2.0, 24},
	{10, 1.5, 10.5, 11, 12, 8.5, 8.4, 16, 20, 2.0, 2.2, 2.2, 30},
	{12, 1.75, 13, 13.5, 14.5, 10.2, 10.8, 18, 24, 2.5, 2.7, 2.5, 37},
	{14, 2.0, 15, 15.5, 16.5, 12.0, 12.8, 21, 28, 2.5, 2.7, 3.0, 44},
	{16, 2.0, 17, 17.5, 18.5, 14.0, 14.8, 24, 30, 3.0, 3.3, 3.5, 50},
	{18, 2.5, 19, 20, 21, 15.5, 15.8, 27, 34, 3.0, 3.3, 3.5, 56},
	{20, 2.5, 21, 22, 24, 17.5, 18.0, 30, 37, 3.0, 3.3, 4.0, 60},
	{22, 2.5, 23, 24, 26, 19.5, 19.4, 34, 39, 3.0, 3.3, 4.0, 66},
	{24, 3.0, 25, 26, 28, 21.0, 21.5, 36, 44, 4.0, 4.3, 5.0, 72},
	{27, 3.0, 28, 30, 32, 24.0, 23.8, 41, 50, 4.0, 4.3, 5.0, 81},
	{30, 3.5, 31, 33, 35, 26.5, 25.6, 46, 56, 4.0, 4.3, 6.0, 92},
}

// finePitches are the metric fine pitches in trade.
var finePitches = [...]struct{ dia, pitch, tap float64 }{
	{8, 1, 7}, {10, 1.25, 8.8}, {10, 1, 9}, {12, 1.25, 10.8}, {12, 1.5, 10.5}, {14, 1.5, 12.5}, {16, 1.5, 14.5}, {18, 1.5, 16.5},
	{20, 1.5, 18.5}, {20, 2, 18}, {22, 1.5, 20.5}, {24, 2, 22}, {27, 2, 25}, {30, 2, 28},
}

// SizeError says what is wrong with a thread's spelling.
type SizeError struct{ Text, Reason string }

func (e *SizeError) Error() string {
	return fmt.Sprintf("bolt size %q: %s; write it as 3/8-16, 1-8, 1/2-20, #10-24, M10 or M10x1.25", e.Text, e.Reason)
}

// ParseSize reads a thread: `3/8-16`, `3/8` (coarse), `1-8`, `1-1/8-7`, `1/2-13 UNC`, `#10-24`, `10-32`, `M10`, `M10x1.25`.
func ParseSize(text string) (Size, error) {
	t := strings.TrimSpace(strings.NewReplacer("\u00d7", "x", "\u2013", "-", "\u2212", "-", "\u2044", "/", "\"", "", "\u2033", "").Replace(text))
	if t == "" {
		return Size{}, &SizeError{text, "nothing is written here"}
	}
	if strings.ContainsAny(t[:1], "mM") {
		return parseMetric(text, t)
	}
	return parseInch(text, t)
}

func parseMetric(text, t string) (Size, error) {
	t = strings.ReplaceAll(strings.ToLower(t[1:]), " ", "")
	dia, pitch, has := strings.Cut(t, "x")
	if !has {
		dia, pitch, has = strings.Cut(t, "-")
	}
	d, err := strconv.ParseFloat(dia, 64)
	if err != nil || !(d > 0) || d > 1000 {
		return Size{}, &SizeError{text, fmt.Sprintf("%q is not a diameter in mm", dia)}
	}
	s := Size{DiaMM: d, Metric: true, row: -1}
	var all []string
	for i, r := range metricRows {
		all = append(all, fmt.Sprintf("M%g", r.dia))
		if r.dia == d {
			s.row = i
		}
	}
	if s.row < 0 {
		return Size{}, &SizeError{text, "there is no such bolt in the series " + strings.Join(all, " ")}
	}
	r := metricRows[s.row]
	s.PitchMM, s.Series, s.Name = r.coarse, "coarse", fmt.Sprintf("M%g", d)
	if has {
		p, err := strconv.ParseFloat(pitch, 64)
		if err != nil || !(p > 0) || p > 0.3*d {
			return Size{}, &SizeError{text, fmt.Sprintf("%q is not a pitch in mm for M%g, whose coarse pitch is %g", pitch, d, r.coarse)}
		}
		if p != r.coarse {
			s.PitchMM, s.Series, s.Name = p, "fine", fmt.Sprintf("M%gx%g", d, p)
		}
	}
	return s, nil
}

func parseInch(text, t string) (Size, error) {
	t = strings.ToUpper(t)
	series := ""
	for _, w := range []string{"UNC", "UNF", "UNS", "UN"} {
		if b, ok := strings.CutSuffix(t, w); ok {
			series, t = w, strings.TrimRight(b, " -")
			break
		}
	}
	t = strings.TrimSuffix(strings.TrimSpace(t), "IN")
	number := strings.HasPrefix(t, "#") || strings.HasPrefix(t, "NO.")
	t = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(t, "#"), "NO."))
	// The last part behind a dash is the threads an inch, unless it is a fraction (1-1/8).
	dia, tpi := t, 0.0
	if i := strings.LastIndexByte(t, '-'); i > 0 && !strings.Contains(t[i:], "/") {
		v, err := strconv.ParseFloat(strings.TrimSpace(t[i+1:]), 64)
		if err != nil || !(v > 0) || v > 100 {
			return Size{}, &SizeError{text, fmt.Sprintf("%q is not a number of threads an inch", t[i+1:])}
		}
		dia, tpi = strings.TrimSpace(t[:i]), v
	}
	s := Size{row: -1}
	// 10-24 and 8-32 are screw numbers: no bolt of 8 or 10 inches has such a thread.
	if n := strings.TrimSpace(dia); number || n == "8" && tpi >= 32 || n == "10" && tpi >= 24 {
		for i, r := range inchRows {
			if r.name == "#"+n {
				s.row = i
			}
		}
		if s.row < 0 {
			return Size{}, &SizeError{text, fmt.Sprintf("screw number %s is not listed; #8 and #10 are", n)}
		}
	} else {
		l, err := measure.ParseLength(dia, measure.In)
		if err != nil || l <= 0 {
			return Size{}, &SizeError{text, fmt.Sprintf("%q is not a diameter in inches", dia)}
		}
		for i, r := range inchRows {
			if math.Abs(r.dia-l.Inches()) < 0.0006 { // .312 is 5/16, .438 is 7/16
				s.row = i
			}
		}
		if s.row < 0 {
			return Size{}, &SizeError{text, "there is no such bolt; inch bolts run 1/4 5/16 3/8 7/16 1/2 9/16 5/8 3/4 7/8 1 1-1/8 1-1/4 1-3/8 1-1/2"}
		}
	}
	r := inchRows[s.row]
	switch {
	case tpi == 0 && series == "UNF":
		tpi = r.unf
	case tpi == 0:
		tpi = r.unc
	case series == "UNC" && tpi != r.unc || series == "UNF" && tpi != r.unf:
		return Size{}, &SizeError{text, fmt.Sprintf("%s has %g threads an inch coarse (UNC) and %g fine (UNF), not %g", r.name, r.unc, r.unf, tpi)}
	}
	s.DiaMM, s.TPI, s.PitchMM = r.dia*measure.InchMM, tpi, measure.InchMM/tpi
	s.Name = fmt.Sprintf("%s-%g", r.name, tpi)
	switch tpi {
	case r.unc:
		s.Series = "UNC"
	case r.unf:
		s.Series = "UNF"
	}
	if tpi < r.unc/1.5 || tpi > r.unf*2 {
		return Size{}, &SizeError{text, fmt.Sprintf("%s has %g threads an inch coarse and %g fine, not %g", r.name, r.unc, r.unf, tpi)}
	}
	return s, nil
}

// DiaIn gives the diameter in inches.
func (s Size) DiaIn() float64 { return s.DiaMM / measure.InchMM }
