package square_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/square"
	"bench.example/soapstone/fab/text"
)

// TestAllowed: a frame whose diagonals differ by a little less than is allowed is within, by a little more it is not.
func TestAllowed(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l, w := rapid.Float64Range(100, 6000).Draw(r, "l"), rapid.Float64Range(100, 6000).Draw(r, "w")
		x := square.Target{LengthMM: l, WidthMM: w, DiagonalMM: square.Diagonal(l, w)}
		tol := square.Tolerance{Class: rapid.SampledFrom(square.Classes).Draw(r, "class")}
		if rapid.Bool().Draw(r, "own") {
			tol = square.Tolerance{DiffMM: rapid.Float64Range(0.5, 10).Draw(r, "diff")}
		}
		diff, _, err := x.Allowed(tol)
		if err != nil {
			r.Fatal(err)
		}
		for _, k := range []float64{0.999, 1.001} {
			// The sides stay: the squares of the diagonals keep their sum.
			d := k * diff
			sum := math.Sqrt(2*(l*l+w*w)*2 - d*d)
			v, err := x.Check(square.Measured{D1: (sum + d) / 2, D2: (sum - d) / 2}, tol, measure.Sixteenths)
			if err != nil {
				r.Fatal(err)
			}
			if v.Within != (k < 1) {
				r.Fatalf("%v of the %v mm allowed: within %v", k, diff, v.Within)
			}
		}
	})
}

// TestToleranceOfJob: class or own limit of the job, in the order of the steps and refused where it is neither.
func TestToleranceOfJob(t *testing.T) {
	for _, c := range []struct {
		key  string
		want square.Tolerance
		says string
	}{
		{"", square.Tolerance{Class: "B"}, "class B"}, {`square = "a"`, square.Tolerance{Class: "A"}, "class A"},
		{`square = "1/8"`, square.Tolerance{DiffMM: 3.175}, `no more than 1/8"`}, {`square = 0.25`, square.Tolerance{DiffMM: 6.35}, `no more than 1/4"`},
	} {
		j := frametest.Read(t, rack+"\n[check]\n"+c.key+"\n")
		if got := square.ToleranceOf(j.Check); got != c.want {
			t.Errorf("%s: %+v", c.key, got)
		}
		f, _ := frame.Build(j, frametest.Sections(t, j))
		found := false
		for _, s := range square.StepsWithin(f, square.ToleranceOf(j.Check), j.Tape) {
			found = found || strings.Contains(s.Do, c.says)
		}
		if !found {
			t.Errorf("%s: no step says %q", c.key, c.says)
		}
	}
	for _, bad := range []string{`square = "E"`, `square = "about"`, `square = -1`, `square = true`} {
		if _, problems := job.Read("x.toml", []byte(rack+"\n[check]\n"+bad+"\n")); !text.HasErrors(problems) {
			t.Errorf("%s was taken", bad)
		}
	}
}
