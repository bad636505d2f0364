package measure_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/figure/outside"
	"bench.example/soapstone/fab/measure"
	"pgregory.net/rapid"
)

const (
	in = measure.Inch
	mm = measure.Millimetre
)

// Every spelling of the quantity table, and how else a worker writes it.
func TestLengthSpellings(t *testing.T) {
	for _, c := range []struct {
		text string
		bare measure.Unit
		want measure.Length
	}{
		{"96", measure.In, 96 * in}, {"96in", measure.MM, 96 * in}, {`96"`, measure.MM, 96 * in}, {"96 in", measure.MM, 96 * in}, {"96 inches", measure.MM, 96 * in}, {"96''", measure.MM, 96 * in},
		{"8'", measure.In, 96 * in}, {"8ft", measure.In, 96 * in}, {"8 ft", measure.MM, 96 * in}, {"8 feet", measure.In, 96 * in},
		{`8' 3-1/2"`, measure.In, 99*in + in/2}, {"8' 3 1/2", measure.In, 99*in + in/2}, {"8' 3 1/2", measure.MM, 99*in + in/2},
		{`8'3-1/2"`, measure.In, 99*in + in/2}, {`8'-3 1/2"`, measure.In, 99*in + in/2}, {`8' - 3 1/2"`, measure.In, 99*in + in/2}, {"8ft3in", measure.In, 99 * in},
		{"8 ft 3 in", measure.In, 99 * in}, {`8' .5"`, measure.In, 96*in + in/2}, {`8' 1/2"`, measure.In, 96*in + in/2}, {`0' 3"`, measure.In, 3 * in}, {`8.5'`, measure.In, 102 * in},
		{"8\u2032 3\u20111\u20442\u2033", measure.In, 99*in + in/2}, {"8\u2019 3\u00a01/2\u201d", measure.In, 99*in + in/2},
		{"3\u00bd", measure.In, 3*in + in/2}, {"3 \u215c\u2033", measure.MM, 3*in + 3*in/8}, {"\u00bein", measure.In, 3 * in / 4}, {"8\u2019 3-\u00bd\u201d", measure.In, 99*in + in/2}, {"8' \u2154", measure.In, 96*in + 2*in/3},
		{"3-1/2", measure.In, 3*in + in/2}, {"3 1/2in", measure.MM, 3*in + in/2}, {"3-1/2", measure.Ft, 42 * in}, {"1/2", measure.In, in / 2}, {"3/8", measure.In, 3 * in / 8},
		{"1/64", measure.In, 396_875}, {"63/64", measure.In, 63 * 396_875}, {"5/4", measure.In, 5 * in / 4},
		{".065", measure.In, 1_651_000}, {"0.065", measure.In, 1_651_000}, {"5.", measure.In, 5 * in}, {"+5", measure.In, 5 * in}, {"-5", measure.In, -5 * in}, {"\u22125", measure.In, -5 * in},
		{`-8' 3"`, measure.In, -99 * in}, {"- 5", measure.In, -5 * in},
		{"2440mm", measure.In, 2440 * mm}, {"2440", measure.MM, 2440 * mm}, {"244cm", measure.In, 2440 * mm}, {"2.44m", measure.In, 2440 * mm}, {"2.44", measure.M, 2440 * mm}, {"244", measure.CM, 2440 * mm},
		{"2440 MM", measure.In, 2440 * mm}, {"1/2mm", measure.In, mm / 2}, {"5mil", measure.In, 127_000}, {"5 mils", measure.In, 127_000}, {"80um", measure.In, 80_000}, {"80\u00b5m", measure.In, 80_000},
		{"1e2", measure.In, 100 * in}, {"2.5e-1in", measure.In, in / 4}, {"0", measure.In, 0}, {"  96  ", measure.In, 96 * in}, {"\t96", measure.In, 96 * in},
		{"1/3", measure.In, 8_466_667}, {"0.0000004mm", measure.In, 0}, {"0.0000005mm", measure.In, 1}, {"20.784609691", measure.In, 527_929_086},
		{"10000m", measure.In, measure.MaxLength},
	} {
		got, err := measure.ParseLength(c.text, c.bare)
		if err != nil || got != c.want {
			t.Errorf("%q (bare %s): %d nm, %v; want %d", c.text, c.bare, got, err, c.want)
		}
	}
}

func TestExactUnits(t *testing.T) {
	const src = "international yard and pound agreement, 1959: 1 in = 25.4 mm exactly"
	outside.Check(t, outside.Case{Field: "geometry", Source: src, What: "1/64 in, nm", Got: float64(measure.Sixtyfourth), Want: 396875})
	outside.Check(t, outside.Case{Field: "geometry", Source: src, What: "1 ft, mm", Got: measure.Foot.MM(), Want: 304.8})
	outside.Check(t, outside.Case{Field: "geometry", Source: src, What: "1 lb, kg", Got: measure.PoundKG, Want: 0.45359237})
	outside.Check(t, outside.Case{Field: "geometry", Source: "NIST SP 811, Appendix B.8", What: "1 lbf, N", Got: measure.PoundN, Want: 4.448222, Rel: 1e-6, Why: "printed with 7 digits"})
	outside.Check(t, outside.Case{Field: "geometry", Source: "NIST SP 811, Appendix B.8", What: "1 ksi, MPa", Got: measure.KsiMPa, Want: 6.894757, Rel: 1e-6, Why: "printed with 7 digits"})
	outside.Check(t, outside.Case{Field: "geometry", Source: "NIST SP 811, Appendix B.8", What: "1 lbf ft, N m", Got: measure.PoundFtNM, Want: 1.355818, Rel: 1e-6, Why: "printed with 7 digits"})
	outside.Check(t, outside.Case{Field: "geometry", Source: "NIST SP 811, Appendix B.8", What: "1 psf, Pa", Got: measure.PsfMPa * 1e6, Want: 47.88026, Rel: 1e-6, Why: "printed with 7 digits"})
	outside.Check(t, outside.Case{Field: "geometry", Source: "NIST SP 811, Appendix B.8", What: "1 plf, N/m", Got: measure.PlfNPerMM * 1e3, Want: 14.59390, Rel: 1e-6, Why: "printed with 7 digits"})
}

// A bad length says the text, the place in it, why, and what is accepted.
func TestLengthErrors(t *testing.T) {
	for _, c := range []struct {
		text string
		at   int
		says string
	}{
		{"", 0, "nothing is written"}, {"   ", 0, "nothing is written"}, {"fish", 0, "a number is missing"}, {"96fet", 2, `"fet" is not a unit of length`}, {"96 yd", 3, `"yd" is not`},
		{"96in x", 5, `"x" is left over`}, {"8' 3ft", 4, "inches are expected"}, {"8' fish", 3, "inches are expected"}, {"8' 12", 5, "less than 12"}, {"8' 13", 5, "less than 12"},
		{"3-5/4", 0, "less than one"}, {"3/0", 0, "divides by zero"}, {"3//4", 1, "left over"}, {"3-", 1, "left over"}, {"3 4", 2, "left over"}, {"3-1/2-", 5, "left over"},
		{"NaN", 0, "a number is missing"}, {"inf", 0, "a number is missing"}, {"1e99", 0, "exponent"}, {"1e9", 0, "longer than 10 km"}, {"10001m", 0, "longer than 10 km"},
		{"--5", 1, "a number is missing"}, {"96,5", 2, "is not"}, {"0x10", 1, "is not"}, {"1_000", 1, "is not"}, {"\u0663in", 0, "a number is missing"}, {"5\x00", 1, "is not"}, {".", 0, "a number is missing"},
		{strings.Repeat("9", 41), 0, "more digits"}, {"1/" + strings.Repeat("9", 41), 0, "more digits"}, {"3-1/2'' 4", 8, "left over"},
	} {
		_, err := measure.ParseLength(c.text, measure.In)
		var e *measure.Error
		if !errors.As(err, &e) {
			t.Errorf("%q: %v, want an error", c.text, err)
			continue
		}
		if e.At != c.at || !strings.Contains(e.Reason, c.says) || e.Text != c.text || e.Kind != "length" || !strings.Contains(err.Error(), `8' 3-1/2"`) {
			t.Errorf("%q: at %d: %v; want at %d, %q", c.text, e.At, err, c.at, c.says)
		}
	}
	_, err := measure.ParseLength("96fet", measure.In)
	if want := "length \"96fet\" at character 3: \"fet\" is not a unit of length; write 96in, 3-1/2\", 8' 3-1/2\" or 2440mm"; err.Error() != want {
		t.Errorf("got  %s\nwant %s", err, want)
	}
}

func TestWalls(t *testing.T) {
	g := measure.Gauges{"11": 3_048_000, "16": 1_651_000}
	for text, want := range map[string]measure.Length{"11ga": 3_048_000, "11 ga": 3_048_000, "11GA": 3_048_000, "11ga.": 3_048_000, "11 gauge": 3_048_000, ".120": 3_048_000, "1/8": 3_175_000, "3mm": 3_000_000} {
		if got, err := measure.ParseWall(text, measure.In, g); err != nil || got != want {
			t.Errorf("%q: %d, %v; want %d", text, got, err, want)
		}
	}
	for _, text := range []string{"12ga", "ga", "11.5ga", "-11ga", "thin", ""} {
		if _, err := measure.ParseWall(text, measure.In, g); err == nil || !strings.Contains(err.Error(), "wall") || !strings.Contains(err.Error(), "11ga") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func TestPrinting(t *testing.T) {
	s64 := measure.Sixtyfourth
	for _, c := range []struct {
		tape       measure.Tape
		l          measure.Length
		want, feet string
	}{
		{measure.Sixteenths, 55*in + 3*in/8, `55-3/8"`, ""},
		{measure.Sixteenths, 55*in + 3*in/8 + s64, `55-3/8"`, ""}, // a quarter of the division: not more
		{measure.Sixteenths, 55*in + 3*in/8 + s64 + 1, `55-3/8"+`, ""},
		{measure.Sixteenths, 55*in + 3*in/8 - s64, `55-3/8"`, ""},
		{measure.Sixteenths, 55*in + 3*in/8 - s64 - 1, `55-3/8"-`, ""},
		{measure.Sixteenths, 55*in + 3*in/8 + 2*s64, `55-7/16"-`, ""}, // halfway goes up
		{measure.Sixteenths, 127*in + 3*in/8, `127-3/8"`, `10' 7-3/8"`},
		{measure.Sixteenths, 120 * in, `120"`, `10'`},
		{measure.Sixteenths, 120*in - 1, `120"`, `10'`}, // printed as 10 ft: it is, on this tape
		{measure.Sixteenths, 119*in + 15*in/16, `119-15/16"`, ""},
		{measure.Sixteenths, 144*in + in/2, `144-1/2"`, `12' 1/2"`},
		{measure.Sixteenths, 0, `0"`, ""}, {measure.Sixteenths, in / 16, `1/16"`, ""}, {measure.Sixteenths, s64, `0"`, ""}, {measure.Sixteenths, s64 + 1, `0"+`, ""},
		{measure.Sixteenths, -(3*in + in/2), `-3-1/2"`, ""}, {measure.Sixteenths, -(127*in + 3*in/8), `-127-3/8"`, `-10' 7-3/8"`},
		{measure.Eighths, 3*in + in/16, `3-1/8"-`, ""}, {measure.Eighths, 3*in + 3*in/4, `3-3/4"`, ""}, {measure.Thirtyseconds, 3*in + in/32, `3-1/32"`, ""}, {measure.Sixtyfourths, s64, `1/64"`, ""},
		{measure.Sixtyfourths, s64 + s64/4 + 1, `1/64"+`, ""},
		{measure.Millimetres, 850 * mm, "850mm", ""}, {measure.Millimetres, 850*mm + 300_000, "850mm+", ""}, {measure.Millimetres, 849*mm + 700_000, "850mm-", ""}, {measure.Millimetres, 850*mm + 250_000, "850mm", ""},
		{measure.HalfMM, 12*mm + mm/2, "12.5mm", ""}, {measure.HalfMM, 12*mm + 700_000, "12.5mm+", ""}, {measure.HalfMM, 5000 * mm, "5000mm", ""}, {measure.HalfMM, -mm / 2, "-0.5mm", ""},
	} {
		long := c.want
		if c.feet != "" {
			long += " (" + c.feet + ")"
		}
		if got := c.tape.Print(c.l); got != c.want {
			t.Errorf("%s: Print(%d) = %s, want %s", c.tape, c.l, got, c.want)
		}
		if got := c.tape.Feet(c.l); got != c.feet {
			t.Errorf("%s: Feet(%d) = %s, want %s", c.tape, c.l, got, c.feet)
		}
		if got := c.tape.PrintLong(c.l); got != long {
			t.Errorf("%s: PrintLong(%d) = %s, want %s", c.tape, c.l, got, long)
		}
	}
}

func TestTapeNames(t *testing.T) {
	for _, name := range measure.TapeNames() {
		tape, err := measure.ParseTape(name)
		if err != nil || tape.String() != name {
			t.Errorf("%s: %s, %v", name, tape, err)
		}
		if l, err := measure.ParseLength(name, measure.In); err != nil || l != tape.Division() {
			t.Errorf("%s is %d nm, its division %d", name, l, tape.Division())
		}
	}
	for _, text := range []string{"", "1/12", "1/16in", "2mm"} {
		if _, err := measure.ParseTape(text); err == nil || !strings.Contains(err.Error(), "1/8, 1/16") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func anyTape(t *rapid.T) measure.Tape {
	tape, err := measure.ParseTape(rapid.SampledFrom(measure.TapeNames()).Draw(t, "tape"))
	if err != nil {
		t.Fatal(err)
	}
	return tape
}

// What a tape prints of a length on its grid reads back as the very same length, in inches and in feet.
func TestRoundTripOnTheGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tape := anyTape(t)
		most := int64(measure.MaxLength / tape.Division())
		l := measure.Length(rapid.Int64Range(-most, most).Draw(t, "marks")) * tape.Division()
		for _, text := range []string{tape.Print(l), tape.Feet(l)} {
			if text == "" {
				continue
			}
			for _, bare := range []measure.Unit{measure.In, measure.MM} {
				if got, err := measure.ParseLength(text, bare); err != nil || got != l {
					t.Fatalf("%s tape: %d nm is printed %s, which reads %d, %v", tape, l, text, got, err)
				}
			}
		}
	})
}

// Off the grid the mark is the nearest one, and the sign says on which side the true length lies.
func TestHeavyAndLight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tape := anyTape(t)
		l := measure.Length(rapid.Int64Range(0, int64(100*measure.Metre)).Draw(t, "nm"))
		text := tape.Print(l)
		bare := strings.TrimRight(text, "+-")
		mark, err := measure.ParseLength(bare, measure.In)
		if err != nil {
			t.Fatal(err)
		}
		off, d := l-mark, tape.Division()
		if 2*off.Abs() > d {
			t.Errorf("%d nm is printed %s, %d nm off: more than half a division", l, text, off)
		}
		want := ""
		if 4*off > d {
			want = "+"
		} else if -4*off > d {
			want = "-"
		}
		if text != bare+want {
			t.Errorf("%d nm is printed %s, %d off the mark, want the sign %q", l, text, off, want)
		}
	})
}

// A decimal in any unit is exact to the nanometre: the parser agrees with whole arithmetic.
func TestDecimalsAreExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nm := rapid.Int64Range(0, int64(measure.MaxLength)).Draw(t, "nm")
		text := fmt.Sprintf("%d.%06dmm", nm/1_000_000, nm%1_000_000)
		if got, err := measure.ParseLength(text, measure.In); err != nil || int64(got) != nm {
			t.Fatalf("%s: %d, %v", text, got, err)
		}
		if l := measure.Length(nm); measure.FromMM(l.MM()) != l {
			t.Fatalf("%d nm does not survive a float of millimetres", nm)
		}
	})
}

func TestFromMM(t *testing.T) {
	for mm, want := range map[float64]measure.Length{1: 1_000_000, -0.5: -500_000, 0.0000004: 0, 1e300: measure.MaxLength, -1e300: -measure.MaxLength, math.Inf(1): measure.MaxLength, math.Inf(-1): -measure.MaxLength} {
		if got := measure.FromMM(mm); got != want {
			t.Errorf("%g mm: %d, want %d", mm, got, want)
		}
	}
	if got := measure.FromMM(math.NaN()); got != 0 {
		t.Errorf("NaN: %d", got)
	}
}

func TestUnits(t *testing.T) {
	for _, name := range measure.UnitNames() {
		u, err := measure.ParseUnit(name)
		if err != nil || u.String() != name || u.Metric() != strings.HasSuffix(name, "m") {
			t.Errorf("%s: %s, %v, metric %v", name, u, err, u.Metric())
		}
	}
	for _, text := range []string{"", "mil", "inch", "IN", "yard"} {
		if _, err := measure.ParseUnit(text); err == nil || !strings.Contains(err.Error(), "in, ft, mm, cm or m") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// Whatever is written: no panic, and what is accepted reads the same in its printed form.
func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"96", "96in", `8' 3-1/2"`, "8' 3 1/2", ".065", "2.44m", "1e9", "1/0", "NaN", "3-5/4", "8'\u20113\u20441", "\xff", "1e-30", "8'3", "- 5", "1" + strings.Repeat("0", 50)} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, text string, metric bool) {
		bare := measure.In
		if metric {
			bare = measure.MM
		}
		l, err := measure.ParseLength(text, bare)
		if err != nil {
			if e := new(measure.Error); !errors.As(err, &e) || e.At < 0 || e.At > len(text) || e.Reason == "" || e.Accepts == "" || len(err.Error()) > 1200 {
				t.Errorf("%q: a poor error: %v", text, err)
			}
			return
		}
		if l.Abs() > measure.MaxLength {
			t.Errorf("%q: %d nm", text, l)
		}
		// exact in millimetres, so printing and reading again changes nothing
		again, err := measure.ParseLength(fmt.Sprintf("%d", l)+"e-6mm", measure.In)
		if err != nil || again != l {
			t.Errorf("%q: %d, read again %d, %v", text, l, again, err)
		}
		on := measure.Sixtyfourths.Nearest(l)
		if again, err := measure.ParseLength(measure.Sixtyfourths.Print(on), bare); on.Abs() <= measure.MaxLength && (err != nil || again != on) {
			t.Errorf("%d on the tape reads %d, %v", on, again, err)
		}
	})
}

func BenchmarkParseLength(b *testing.B) {
	for b.Loop() {
		if _, err := measure.ParseLength(`8' 3-1/2"`, measure.In); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleParseLength() {
	l, _ := measure.ParseLength(`8' 3-1/2"`, measure.In)
	fmt.Println(int64(l), l.MM(), measure.Sixteenths.Print(l))
	_, err := measure.ParseLength("8 fet", measure.In)
	fmt.Println(err)
	// Output:
	// 2527300000 2527.3 99-1/2"
	// length "8 fet" at character 3: "fet" is not a unit of length; write 96in, 3-1/2", 8' 3-1/2" or 2440mm
}

func ExampleTape_PrintLong() {
	l, _ := measure.ParseLength("127.39", measure.In)
	fmt.Println(measure.Sixteenths.PrintLong(l))
	fmt.Println(measure.Millimetres.PrintLong(l))
	// Output:
	// 127-3/8" (10' 7-3/8")
	// 3236mm-
}
