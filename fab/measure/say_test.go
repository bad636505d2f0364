package measure

import "testing"

func TestTapeSaysQuantities(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Sixteenths.Fine(2.1082), `0.083"`}, {HalfMM.Fine(2.1082), "2.11 mm"}, {Sixteenths.Fine(-0.001), `0.000"`},
		{Sixteenths.Mass(PoundKG * 10), "10.0 lb"}, {Millimetres.Mass(10), "10.0 kg"},
		{Sixteenths.Force(-0.1), "0 lb"}, {HalfMM.Force(12.4), "12 N"}, {Sixteenths.Force(PoundN * 250), "250 lb"},
		{Sixteenths.Stress(21 * KsiMPa), "21.0 ksi"}, {HalfMM.Stress(144.8), "145 MPa"},
	} {
		if c.got != c.want {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
}
