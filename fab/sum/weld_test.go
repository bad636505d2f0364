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

func TestWeldSums(t *testing.T) {
	const in = 25.4
	const q = 7.84e-6 * in * in * in // kg/in3
	for _, c := range []struct {
		sum   string
		words []string
		key   string
		want  float64
		tol   float64 // absolute
	}{
		{"heat", []string{"volts=29", "amps=325", "travel=12.5ipm"}, "energy_kj_mm", 45.24 / in, 1e-9},
		{"heat", []string{"volts=24V", "amps=120A", "travel=10"}, "energy_kj_mm", 17.28 / in, 1e-9},
		{"heat", []string{"volts=24", "amps=120", "travel=254mm/min", "k=0.6"}, "heat_kj_mm", 0.6 * 17.28 / in, 1e-9},
		{"heat", []string{"volts=24", "amps=120", "travel=254", "units=mm"}, "heat_kj_mm", 0.8 * 17.28 / in, 1e-9},
		{"seam", []string{"leg=1/4", "length=12in"}, "metal_kg", 0.25 * 0.25 / 2 * 12 * q, 1e-9},
		{"seam", []string{"leg=1/4", "length=1ft", "process=SMAW"}, "consumable_kg", 0.25 * 0.25 / 2 * 12 * q / 0.55, 1e-9},
		{"seam", []string{"leg=1/4", "length=1ft", "cap=1/2 x 1/16"}, "metal_kg", (0.03125 + 0.03125*2/3) * 12 * q, 1e-9},
		{"seam", []string{"leg=3/16", "length=12in", "process=GMAW", "wire=.030", "wfs=250ipm"}, "arc_s",
			60 * (0.1875 * 0.1875 / 2 * 12) / (3.14159265358979 / 4 * 0.03 * 0.03 * 250 * 0.9), 1e-6},
		{"fillet", []string{"thickness=1/4"}, "min_leg_mm", in / 8, 1e-9},
		{"fillet", []string{"thickness=.2501"}, "min_leg_mm", 3 * in / 16, 1e-9},
		{"fillet", []string{"thickness=3/4", "other=1/4"}, "min_leg_mm", in / 8, 1e-9},
		{"fillet", []string{"thickness=3/4", "other=1/2", "process=SMAW"}, "min_leg_mm", in / 4, 1e-9},
		{"fillet", []string{"thickness=3/4", "other=1/2", "process=SMAW", "low_hydrogen=yes"}, "min_leg_mm", 3 * in / 16, 1e-9},
		{"fillet", []string{"thickness=3/4", "other=1/2", "low_hydrogen=no"}, "min_leg_mm", in / 4, 1e-9},
		{"fillet", []string{"thickness=3/16"}, "max_leg_mm", 3 * in / 16, 1e-9},
		{"fillet", []string{"thickness=1/4"}, "max_leg_mm", 3 * in / 16, 1e-9},
		{"fillet", []string{"thickness=1/4", "leg=3/16", "exx=E7018"}, "allow_n_mm", 0.707 * 0.1875 * 21000 * 4.4482216152605 / in, 1e-6},
		{"fillet", []string{"thickness=1/4", "leg=3/16", "exx=60"}, "allow_n_mm", 0.707 * 0.1875 * 18000 * 4.4482216152605 / in, 1e-6},
		{"fillet", []string{"thickness=1/4", "leg=3/16", "exx=E71T-11"}, "allow_n_mm", 0.707 * 0.1875 * 21000 * 4.4482216152605 / in, 1e-6},
	} {
		s, err := Find(c.sum)
		if err != nil {
			t.Fatal(err)
		}
		r, err := s.Call(c.words, Tables{}, "", nil)
		if err != nil {
			t.Errorf("%s %v: %v", c.sum, c.words, err)
			continue
		}
		if got := weldValue(t, r, c.key); math.Abs(got-c.want) > c.tol {
			t.Errorf("%s %v: %s %.12g, want %.12g", c.sum, c.words, c.key, got, c.want)
		}
		for _, f := range r.Figures {
			if err := f.Check(); err != nil {
				t.Error(err)
			}
		}
	}
	for _, c := range []struct {
		sum   string
		words []string
		use   bool
	}{
		{"heat", []string{"volts=20", "amps=100", "travel=0ipm"}, false},
		{"heat", []string{"volts=20", "amps=100", "travel=9ipm", "k=1.2"}, false},
		{"heat", []string{"volts=20", "amps=100", "travel=fast"}, true},
		{"seam", []string{"leg=0", "length=12"}, false},
		{"seam", []string{"leg=1/4", "length=12", "process=glue"}, true},
		{"seam", []string{"leg=1/4", "length=12", "cap=big"}, true},
		{"seam", []string{"leg=1/4", "length=12", "process=SMAW", "wfs=100ipm"}, false},
		{"fillet", []string{"thickness=-1"}, false},
		{"fillet", []string{"thickness=1/4", "exx=glue"}, true},
		{"fillet", []string{"thickness=1/4", "low_hydrogen=perhaps"}, true},
	} {
		s, _ := Find(c.sum)
		if _, err := s.Call(c.words, Tables{}, "", nil); err == nil || errors.Is(err, ErrUse) != c.use {
			t.Errorf("%s %v: error %v, of use: wanted %v", c.sum, c.words, err, c.use)
		}
	}
}
