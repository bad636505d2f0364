package sum

import (
	"errors"
	"math"
	"testing"
)

// value gives the number under a key.
func weldValue(t *testing.T, r Result, key string) float64 {
	t.Helper()
	for _, v := range r.Values {
		if v.Key == key {
			return v.Value.(float64)
		}
	}
	t.Fatalf("%s is not among %+v", key, r.Values)
	return 0
}

func TestDutySum(t *testing.T) {
	s, err := Find("duty")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		words []string
		key   string
		want  float64
	}{
		{[]string{"plate=30% at 130A", "amps=91"}, "duty", 0.3 * 130 * 130 / 91 / 91},
		{[]string{"plate=30% at 130A", "amps=91"}, "burst_s", 600 * 0.3 * 130 * 130 / 91 / 91},
		{[]string{"plate=30% at 130A", "amps=91A"}, "rest_s", 600 - 600*0.3*130*130/91/91},
		{[]string{"plate=30% at 130A", "amps=130"}, "duty", 0.3},
		{[]string{"plate=30% at 130A", "amps=20"}, "duty", 1},
		{[]string{"plate=20% at 90A, 35% at 70A", "amps=90"}, "duty", 0.2},
		{[]string{`plate=["20% at 90A", "35% at 70A"]`, "amps=70"}, "duty", 0.35},
		{[]string{"plate=90A @ 20%; 70 A @ 35%", "amps=80"}, "duty", 0.35 * math.Pow(0.2/0.35, math.Log(80.0/70)/math.Log(90.0/70))},
		{[]string{"plate=0.2 at 90", "amps=45"}, "duty", 0.8},
		{[]string{"plate=25% at 400A", "duty=50%"}, "amps", 400 * math.Sqrt(0.5)},
		{[]string{"plate=25% at 400A", "duty=0.5"}, "amps", 400 * math.Sqrt(0.5)},
		{[]string{"plate=25% at 400A", "duty=10%"}, "amps", 400},
		{[]string{"plate=60% at 52A", "duty=100%"}, "amps", 52 * math.Sqrt(0.6)},
		{[]string{"plate=30% at 130A", "amps=130", "window=5m"}, "burst_s", 90},
	} {
		r, err := s.Call(c.words, Tables{}, "", nil)
		if err != nil {
			t.Errorf("%v: %v", c.words, err)
			continue
		}
		// formulas evaluated in another order differ in the last digits only
		if got := weldValue(t, r, c.key); math.Abs(got-c.want) > 1e-9*c.want {
			t.Errorf("%v: %s %.12g, want %.12g", c.words, c.key, got, c.want)
		}
		for _, f := range r.Figures {
			if err := f.Check(); err != nil {
				t.Error(err)
			}
		}
	}
	for _, c := range []struct {
		words []string
		use   bool
	}{
		{[]string{"plate=30% at 130A", "amps=131"}, false},
		{[]string{"plate=130% at 130A", "amps=13"}, false},
		{[]string{"plate=30% at 130A, 40% at 150A", "amps=13"}, false},
		{[]string{"plate=30% at 130A", "amps=-5"}, false},
		{[]string{"plate=30% at 130A", "duty=150%"}, false},
		{[]string{"plate=30% at 130A", "duty=0"}, false},
		{[]string{"plate=30% at 130A"}, true},
		{[]string{"plate=30% at 130A", "amps=50", "duty=50%"}, true},
		{[]string{"plate=nonsense", "amps=50"}, true},
		{[]string{"plate=30A at 130A", "amps=50"}, true},
		{[]string{"amps=50"}, true},
	} {
		_, err := s.Call(c.words, Tables{}, "", nil)
		if err == nil || errors.Is(err, ErrUse) != c.use {
			t.Errorf("%v: error %v, of use: wanted %v", c.words, err, c.use)
		}
	}
}
