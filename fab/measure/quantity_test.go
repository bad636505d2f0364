package measure_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/fab/measure"
	"pgregory.net/rapid"
)

// parsers are all that read a float64.
var parsers = map[string]func(string) (float64, error){
	"mass": measure.ParseMass, "force": measure.ParseForce, "moment": measure.ParseMoment, "area": measure.ParseArea, "inertia": measure.ParseInertia,
	"section modulus": measure.ParseModulus, "stress": measure.ParseStress, "share": measure.ParseShare, "speed": measure.ParseSpeed, "rate": measure.ParseRate,
	"current": measure.ParseCurrent, "voltage": measure.ParseVoltage, "number": measure.ParseNumber, "angle": measure.ParseAngle,
	"load": func(s string) (float64, error) { l, err := measure.ParseLoad(s); return l.Value, err },
}

func TestQuantitySpellings(t *testing.T) {
	for _, c := range []struct {
		kind, text string
		want       float64
	}{
		{"mass", "150lb", 150 * 0.45359237}, {"mass", "68kg", 68}, {"mass", "68 KG", 68}, {"mass", "1.2kip", 1200 * 0.45359237}, {"mass", "500g", 0.5}, {"mass", "8oz", 0.226796185}, {"mass", "2t", 2000}, {"mass", "9.80665N", 1},
		{"force", "150lb", 150 * 4.4482216152605}, {"force", "1.2kip", 1200 * 4.4482216152605}, {"force", "5kN", 5000}, {"force", "500N", 500}, {"force", "68kg", 666.8522}, {"force", "-5kN", -5000}, {"force", "1-1/2kip", 1500 * 4.4482216152605},
		{"moment", "50lbft", 67.7908974165}, {"moment", "50 lb*ft", 67.7908974165}, {"moment", "600in*lb", 67.7908974165}, {"moment", "70Nm", 70}, {"moment", "70 N\u00b7m", 70}, {"moment", "1.5kNm", 1500},
		{"area", "100sqft", 9290304}, {"area", "100 ft2", 9290304}, {"area", "9.3m2", 9.3e6}, {"area", "9.3m\u00b2", 9.3e6}, {"area", "2in2", 1290.32}, {"area", "3cm2", 300}, {"area", "3mm2", 3},
		{"inertia", "0.55in4", 0.55 * 25.4 * 25.4 * 25.4 * 25.4}, {"inertia", "23cm4", 230000}, {"inertia", "23cm\u2074", 230000}, {"inertia", "5mm4", 5},
		{"section modulus", "1.2in3", 1.2 * 16387.064}, {"section modulus", "20cm3", 20000},
		{"stress", "29000ksi", 29000 * 6.894757293168361}, {"stress", "200GPa", 200000}, {"stress", "345MPa", 345}, {"stress", "36000psi", 36 * 6.894757293168361}, {"stress", "345 N/mm2", 345},
		{"share", "30%", 0.3}, {"share", "0.3", 0.3}, {"share", "30 %", 0.3}, {"share", "1/4", 0.25}, {"share", "120%", 1.2},
		{"speed", "8ipm", 8 * 25.4 / 60}, {"speed", "200mm/min", 200.0 / 60}, {"speed", "3mm/s", 3}, {"speed", "8 in/min", 8 * 25.4 / 60},
		{"rate", "1.1lb/h", 1.1 * 0.45359237 / 3600}, {"rate", "0.5kg/h", 0.5 / 3600}, {"rate", "1.1 lb/hr", 1.1 * 0.45359237 / 3600},
		{"current", "110", 110}, {"current", "110A", 110}, {"current", "110 amps", 110}, {"voltage", "19", 19}, {"voltage", "19V", 19},
		{"number", "12", 12}, {"number", "0.5", 0.5}, {"number", "1/2", 0.5}, {"number", "1-1/2", 1.5}, {"number", "1e3", 1000},
		{"angle", "22.5", 22.5}, {"angle", "22.5deg", 22.5}, {"angle", "22.5 degrees", 22.5}, {"angle", "22.5\u00b0", 22.5}, {"angle", "22d30m", 22.5}, {"angle", "22d30", 22.5}, {"angle", "22d30m36s", 22.51}, {"angle", "22d 30m", 22.5}, {"angle", "22\u00b0 30' 36\"", 22.51}, {"angle", "22 deg 30", 22.5},
		{"angle", "22\u00b030'", 22.5}, {"angle", "22\u00b030\u203236\u2033", 22.51}, {"angle", "22-1/2", 22.5}, {"angle", "-45", -45}, {"angle", "4:12", 18.434948822922}, {"angle", "1:1", 45}, {"angle", "1 : 1", 45},
		{"angle", "-1:1", -45}, {"angle", "0:5", 0}, {"angle", "5:0", 90}, {"angle", "1-1/2:12", 7.125016348902}, {"angle", "1rad", 57.295779513082}, {"angle", "360", 360},
		{"load", "20psf", 20 * 47.880258980335 * 1e-6}, {"load", "30plf", 30 * 14.593902937206 * 1e-3}, {"load", "150lb", 150 * 4.4482216152605}, {"load", "1kPa", 1e-3}, {"load", "0.4kN/m", 0.4}, {"load", "0.4 kN/m2", 0.4e-3}, {"load", "2kN", 2000}, {"load", "100 N/m", 0.1},
	} {
		got, err := parsers[c.kind](c.text)
		if err != nil || math.Abs(got-c.want) > 1e-11*math.Abs(c.want) { // a few roundings of a float64
			t.Errorf("%s %q: %.15g, %v; want %.15g", c.kind, c.text, got, err, c.want)
		}
	}
}

func TestLoadKinds(t *testing.T) {
	for text, want := range map[string]measure.LoadKind{"20psf": measure.AreaLoad, "1kPa": measure.AreaLoad, "30plf": measure.LineLoad, "0.4kN/m": measure.LineLoad, "5lb/in": measure.LineLoad,
		"150lb": measure.PointLoad, "2kN": measure.PointLoad, "68kg": measure.PointLoad, "20 lb/ft2": measure.AreaLoad, "20 lb/ft": measure.LineLoad, "10kg/m": measure.LineLoad, "10kg/m2": measure.AreaLoad} {
		if l, err := measure.ParseLoad(text); err != nil || l.Kind != want {
			t.Errorf("%q: kind %d, %v; want %d", text, l.Kind, err, want)
		}
	}
}

func TestTimeSpellings(t *testing.T) {
	for text, want := range map[string]time.Duration{"90s": 90 * time.Second, "2m": 2 * time.Minute, "1h30m": 90 * time.Minute, "1h 30m": 90 * time.Minute, "1.5h": 90 * time.Minute, "2 min": 2 * time.Minute,
		"1h30m15s": 90*time.Minute + 15*time.Second, "2d": 48 * time.Hour, "0s": 0, "250ms": 250 * time.Millisecond, "10M": 10 * time.Minute, ".5s": time.Second / 2} {
		if got, err := measure.ParseTime(text); err != nil || got != want {
			t.Errorf("%q: %s, %v; want %s", text, got, err, want)
		}
	}
	for text, says := range map[string]string{"": "nothing is written", "90": "unit is missing", "-5s": "a number is missing", "30m1h": "longest to the shortest", "1h1h": "longest to the shortest", "5y": "not a unit of time",
		"5 parsecs": "not a unit of time", "400d": "longer than a year", "1h30": "unit is missing", "NaN": "a number is missing"} {
		if _, err := measure.ParseTime(text); err == nil || !strings.Contains(err.Error(), says) || !strings.Contains(err.Error(), "1h30m") {
			t.Errorf("%q: %v, want %q", text, err, says)
		}
	}
}

func TestMoney(t *testing.T) {
	for text, want := range map[string]measure.Money{"34.50": 345000, "0": 0, "41": 410000, "1.2345": 12345, "1.23455": 12346, "-2.50": -25000, ".99": 9900, "1e3": 10_000_000} {
		if got, err := measure.ParseMoney(text); err != nil || got != want {
			t.Errorf("%q: %d, %v; want %d", text, got, err, want)
		}
	}
	for _, text := range []string{"", "$5", "5 USD", "1,000", "NaN", "1e30", "1/2", "5.5.5"} {
		if _, err := measure.ParseMoney(text); err == nil || !strings.Contains(err.Error(), "34.50") {
			t.Errorf("%q: %v", text, err)
		}
	}
	for m, want := range map[measure.Money]string{345000: "34.50", 0: "0.00", -25000: "-2.50", 12345: "1.23", 12350: "1.24", -12350: "-1.24", 5: "0.00", 50: "0.01", -49: "0.00"} {
		if got := m.String(); got != want {
			t.Errorf("%d: %s, want %s", m, got, want)
		}
	}
	// a stick of 20 ft at 1.7250 a foot
	if got := measure.Money(17250).Times(20, 1); got != 345000 {
		t.Errorf("times 20: %d", got)
	}
	if got := measure.Money(100).Times(1, 3); got != 33 {
		t.Errorf("a third of a cent: %d", got)
	}
	if got := measure.Money(math.MaxInt64).Times(math.MaxInt64, 1); got != measure.MaxMoney {
		t.Errorf("overflow: %d", got)
	}
	if got := measure.Money(1000000).Scale(1.239); got != 1239000 {
		t.Errorf("scale: %d", got)
	}
	for _, f := range []float64{math.NaN(), math.Inf(1)} {
		if got := measure.Money(100).Scale(f); got != 0 {
			t.Errorf("scale by %g: %d", f, got)
		}
	}
	if got := measure.Money(-1000000).Scale(1e300); got != -measure.MaxMoney {
		t.Errorf("a great negative amount: %d", got)
	}
	if got := measure.Sum(1, 2, 3); got != 6 {
		t.Errorf("sum: %d", got)
	}
	if got := measure.Money(345000).With("USD"); got != "USD 34.50" {
		t.Errorf("with: %s", got)
	}
	if got := measure.Money(345000).With(""); got != "34.50" {
		t.Errorf("with nothing: %s", got)
	}
}

func TestMoneyRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := measure.Money(rapid.Int64Range(-int64(measure.MaxMoney)/100, int64(measure.MaxMoney)/100).Draw(t, "cents")) * measure.Cent
		if got, err := measure.ParseMoney(m.String()); err != nil || got != m {
			t.Fatalf("%d is printed %s, which reads %d, %v", m, m, got, err)
		}
	})
}

// Each quantity refuses the same kinds of wrong text and names itself, the text and an example.
func TestQuantityErrors(t *testing.T) {
	bare := map[string]bool{"share": true, "current": true, "voltage": true, "number": true, "angle": true}
	for kind, parse := range parsers {
		texts := []string{"", "  ", "fish", "NaN", "inf", "1e99lb", "5 parsecs", "5 5", "1/0", "--5", strings.Repeat("9", 50), "\xff", "5\x00", "\u0663"}
		if !bare[kind] {
			texts = append(texts, "5") // a unit must stand
		}
		for _, text := range texts {
			_, err := parse(text)
			var e *measure.Error
			if !errors.As(err, &e) || e.Kind != kind || e.Text != text || e.Reason == "" || e.Accepts == "" || e.At < 0 || e.At > len(text) {
				t.Errorf("%s %q: %#v", kind, text, err)
			}
		}
	}
	for _, c := range []struct{ kind, text, says string }{
		{"mass", "150", "the unit is missing"}, {"mass", "150ksi", `"ksi" is not a unit of this kind`}, {"angle", "361", "full turn"}, {"angle", "0:0", "both zero"}, {"angle", "4:", "run is missing"},
		{"angle", "22d60m", "not minutes"}, {"angle", "22d30m60s", "not minutes"}, {"angle", "45 grad", "not a unit of angle"},
	} {
		if _, err := parsers[c.kind](c.text); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s %q: %v, want %q", c.kind, c.text, err, c.says)
		}
	}
}

// A quarter megabyte of digits, blanks, letters or signs is refused or read at once, and the message stays short.
func TestHostileText(t *testing.T) {
	const n = 1 << 18
	for _, text := range []string{strings.Repeat("9", n), "1/" + strings.Repeat("9", n), "1e" + strings.Repeat("9", n), strings.Repeat(" ", n) + "5", "5" + strings.Repeat(" ", n) + "x", "5" + strings.Repeat("x", n),
		strings.Repeat("-", n), "." + strings.Repeat("0", n), "8'" + strings.Repeat("9", n), "5d" + strings.Repeat("9", n) + "m", strings.Repeat("1h", n/2), strings.Repeat("\xff", n), "5" + strings.Repeat("\u2032", n/3)} {
		check := func(what string, err error) {
			if err != nil && len(err.Error()) > 1500 {
				t.Errorf("%s of %.10q...: a message of %d bytes", what, text, len(err.Error()))
			}
		}
		start := time.Now()
		for kind, parse := range parsers {
			_, err := parse(text)
			check(kind, err)
		}
		_, err := measure.ParseLength(text, measure.In)
		check("length", err)
		_, err = measure.ParseTime(text)
		check("time", err)
		_, err = measure.ParseMoney(text)
		check("money", err)
		_, err = measure.ParseWall(text, measure.In, nil)
		check("wall", err)
		_, err = measure.ParseTape(text)
		check("tape", err)
		_, err = measure.ParseUnit(text)
		check("unit", err)
		if took := time.Since(start); took > 5*time.Second { // measured: under 0.3 s for all of them; quadratic work would take minutes
			t.Errorf("%.10q...: %s", text, took)
		}
	}
}

// Decimal text reads as the float that Go reads, times the unit.
func TestQuantityValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e9, 1e9).Draw(t, "v")
		text := fmt.Sprintf("%.6f", v)
		var want float64
		if _, err := fmt.Sscan(text, &want); err != nil {
			t.Fatal(err)
		}
		for suffix, factor := range map[string]float64{"MPa": 1, "GPa": 1000, "ksi": measure.KsiMPa} {
			if got, err := measure.ParseStress(text + suffix); err != nil || got != want*factor {
				t.Fatalf("%s%s: %g, %v; want %g", text, suffix, got, err, want*factor)
			}
		}
	})
}

func FuzzQuantities(f *testing.F) {
	for _, s := range []string{"150lb", "1.2 kip", "22d30m15s", "4:12", "30%", "0.4kN/m", "8ipm", "1h30m", "34.50", "100 ft\u00b2", "1/0", "1e30", "NaN", "-0", "22\u00b030\u2032", "d5", "\u0130d5m", "5D\u01303m"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for kind, parse := range parsers {
			v, err := parse(text)
			var e *measure.Error
			switch {
			case err == nil && (math.IsNaN(v) || math.IsInf(v, 0)):
				t.Errorf("%s %q: %g", kind, text, v)
			case err != nil && (!errors.As(err, &e) || e.Kind != kind || e.At < 0 || e.At > len(text)):
				t.Errorf("%s %q: %#v", kind, text, err)
			}
		}
		if d, err := measure.ParseTime(text); err == nil && (d < 0 || d > 366*24*time.Hour) {
			t.Errorf("time %q: %s", text, d)
		}
		if m, err := measure.ParseMoney(text); err == nil && (m > measure.MaxMoney || m < -measure.MaxMoney) {
			t.Errorf("money %q: %d", text, m)
		}
	})
}
