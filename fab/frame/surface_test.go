package frame_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
)

// standOn builds four legs on a surface of the job.
func standOn(surface string) string {
	return `
units = "mm"
tape = "1mm"
[section.leg]
shape = "square-tube"
size = "40 x 40 x 3"
[[rectangle]]
name = "top"
section = "leg"
length = 2400
width = 1200
[[legs]]
under = "top"
section = "leg"
surface = "g"
inset = 6
[surface.g]
` + surface
}

// measured gives the offsets of a circle of radius r (crown at y0, z0) with a scatter.
func measured(r, y0, z0, scatter float64, n int, slip int) string {
	rnd := rand.New(rand.NewSource(7))
	var ps []string
	for i := range n {
		y := -100 + 1400*float64(i)/float64(n-1)
		z := z0 - r + math.Sqrt(r*r-(y-y0)*(y-y0)) + scatter*(2*rnd.Float64()-1)
		if i == slip {
			z += 25
		}
		ps = append(ps, fmt.Sprintf("[%.3f, %.3f]", y, z))
	}
	return "points = [" + strings.Join(ps, ", ") + "]\n"
}

func TestSmoothCircle(t *testing.T) {
	f := sound(t, standOn(measured(3800, 620, -300, 0, 9, -1)))
	s := f.Surfaces[0]
	// Offsets typed to the micrometre: the radius of a circle of 3.8 m over a chord of 1.4 m follows to a few micrometres
	// times (R/c)^2.
	if math.Abs(s.RadiusMM-3800) > 0.1 || s.RMSMM > 0.001 || math.Abs(s.Height(0, 620)+300) > 0.002 {
		t.Errorf("radius %v, rms %v, crown %v", s.RadiusMM, s.RMSMM, s.Height(0, 620))
	}
	for _, foot := range f.Feet {
		if want := math.Asin((620-foot.At.Y)/3800) * 180 / math.Pi; math.Abs(foot.AcrossDeg-want) > 0.001 {
			t.Errorf("%v, not %v", foot.AcrossDeg, want)
		}
	}
	// Scattered by 1 mm the feet stay within half a degree.
	f = sound(t, standOn(measured(3800, 620, -300, 1, 15, -1)))
	for _, foot := range f.Feet {
		if want := math.Asin((620-foot.At.Y)/3800) * 180 / math.Pi; math.Abs(foot.AcrossDeg-want) > 0.5 {
			t.Errorf("%v, not %v", foot.AcrossDeg, want)
		}
	}
	if f.Surfaces[0].RMSMM > 1 || len(f.Surfaces[0].Residuals) != 15 {
		t.Error(f.Surfaces[0].RMSMM)
	}
}

// TestTapeSlip: one point 25 mm off is named.
func TestTapeSlip(t *testing.T) {
	_, problems := build(t, standOn(measured(3800, 620, -300, 1, 15, 5)))
	if len(problems) != 1 || problems[0].Code != frame.CodeSurface || !strings.Contains(problems[0].Message, "y 400mm") {
		t.Error(problems)
	}
}

// TestFlatPoints: offsets on a line make a flat surface, tilted, without a radius.
func TestFlatPoints(t *testing.T) {
	f := sound(t, standOn("points = [[0, -500], [400, -490], [800, -480], [1200, -470]]"))
	for _, foot := range f.Feet {
		if math.Abs(foot.RiseRun-1.0/40) > 1e-6 {
			t.Errorf("%v", foot.RiseRun)
		}
	}
}

// TestCylinder: points in three dimensions of a crowned slip that falls along its length.
func TestCylinder(t *testing.T) {
	var ps []string
	for _, x := range []float64{0, 1200, 2400} {
		for _, y := range []float64{0, 300, 600, 900, 1200} {
			ps = append(ps, fmt.Sprintf("[%g, %g, %.4f]", x, y, -400-5000+math.Sqrt(5000*5000-(y-500)*(y-500))-x/50))
		}
	}
	f := sound(t, standOn("points = ["+strings.Join(ps, ", ")+"]"))
	s := f.Surfaces[0]
	if s.Smooth != "cylinder" || math.Abs(s.Slope+1.0/50) > 1e-6 || math.Abs(s.RadiusMM-5000) > 1 {
		t.Errorf("%+v", s)
	}
	// The same by splines; a slip that twists along its length needs them.
	f = sound(t, standOn("smooth = \"spline\"\npoints = ["+strings.Join(ps, ", ")+"]"))
	for _, foot := range f.Feet {
		want := math.Asin((500-foot.At.Y)/5000) * 180 / math.Pi
		if math.Abs(foot.AcrossDeg-want) > 0.05 || math.Abs(foot.AlongDeg+math.Atan(1.0/50)*180/math.Pi) > 0.01 {
			t.Errorf("%v across, not %v; %v along", foot.AcrossDeg, want, foot.AlongDeg)
		}
	}
}

// TestSpline: two crowns side by side, which no circle follows.
func TestSpline(t *testing.T) {
	var ps []string
	for i := range 33 {
		y := -100 + 1400*float64(i)/32
		ps = append(ps, fmt.Sprintf("[%.3f, %.4f]", y, -400+20*math.Sin(y/1200*2*math.Pi)))
	}
	f := sound(t, standOn("smooth = \"spline\"\npoints = ["+strings.Join(ps, ", ")+"]"))
	if s := f.Surfaces[0]; s.RMSMM > 0.2 {
		t.Errorf("rms %v", s.RMSMM)
	}
	for _, foot := range f.Feet {
		want := math.Atan(20*2*math.Pi/1200*math.Cos(foot.At.Y/1200*2*math.Pi)) * 180 / math.Pi
		if math.Abs(foot.AcrossDeg-want) > 0.2 {
			t.Errorf("%v, not %v", foot.AcrossDeg, want)
		}
	}
}

// TestClear: the crown lies as far under the frame as asked for, and a ground that leaves less is refused.
func TestClear(t *testing.T) {
	legs := func(s string) string {
		return strings.Replace(standOn(s), "inset = 6", "inset = 6\nclear = 150", 1)
	}
	f := sound(t, legs("chord = 1400\nrise = 60\ncentre = 600"))
	if z := f.Surfaces[0].Height(0, 600); math.Abs(z+150) > 1e-9 {
		t.Error(z)
	}
	// On a slope the highest ground is at one end.
	f = sound(t, legs("chord = 1400\nrise = 60\ncentre = 600\nslope = \"1:40\""))
	if z := f.Surfaces[0].Height(2400, 600); math.Abs(z+150) > 1e-9 {
		t.Error(z)
	}
	_, problems := build(t, legs("chord = 1400\nrise = 60\ncentre = 600\ntop = -100"))
	if len(problems) != 1 || problems[0].Code != frame.CodeSurface || !strings.Contains(problems[0].Message, "100mm clear") {
		t.Error(problems)
	}
}

// TestStraightFoot: on a plane falling 1:40 along and 1:10 across, a square foot of 40 x 40 stands open by 40/40 + 40/10.
func TestStraightFoot(t *testing.T) {
	f := sound(t, standOn("points = [[0, -500], [400, -460], [1200, -380]]\nslope = \"1:40\""))
	for _, foot := range f.Feet {
		if math.Abs(foot.GapMM-5) > 1e-3 {
			t.Errorf("%v", foot.GapMM)
		}
	}
}
