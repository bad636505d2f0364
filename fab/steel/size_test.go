package steel_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

func mil(v int64) measure.Length { return measure.Length(v) * measure.Mil }

func TestSizesRead(t *testing.T) {
	for _, c := range []struct {
		shape              steel.Shape
		size               string
		unit               measure.Unit
		depth, width, wall measure.Length
	}{
		{steel.RectTube, "2-1/2 x 1-1/2 x 11ga", measure.In, mil(2500), mil(1500), mil(120)},
		{steel.RectTube, "2-1/2x1-1/2x11ga", measure.In, mil(2500), mil(1500), mil(120)},
		{steel.RectTube, "2-1/2X1-1/2X11 GA", measure.In, mil(2500), mil(1500), mil(120)},
		{steel.RectTube, "2-1/2 × 1-1/2 × 11 gauge", measure.In, mil(2500), mil(1500), mil(120)},
		{steel.RectTube, "2 1/2\" x 1 1/2\" x .120\"", measure.In, mil(2500), mil(1500), mil(120)},
		{steel.RectTube, "60 x 40 x 3", measure.MM, 60 * measure.Millimetre, 40 * measure.Millimetre, 3 * measure.Millimetre},
		{steel.RectTube, "60mm x 40mm x 3mm", measure.In, 60 * measure.Millimetre, 40 * measure.Millimetre, 3 * measure.Millimetre},
		{steel.RectTube, "60mmx40mmx3mm", measure.In, 60 * measure.Millimetre, 40 * measure.Millimetre, 3 * measure.Millimetre},
		{steel.RectTube, "60 x 40 x 11ga", measure.MM, 60 * measure.Millimetre, 40 * measure.Millimetre, mil(120)},
		{steel.RectTube, "2in x 40mm x 3mm", measure.MM, 2 * measure.Inch, 40 * measure.Millimetre, 3 * measure.Millimetre},
		{steel.RectTube, "1 x 2 x 1/8", measure.In, mil(1000), mil(2000), mil(125)},
		{steel.SquareTube, "2 x 2 x .120", measure.In, mil(2000), mil(2000), mil(120)},
		{steel.SquareTube, "2 x 11ga", measure.In, mil(2000), mil(2000), mil(120)},
		{steel.SquareTube, "2 x .120", measure.In, mil(2000), mil(2000), mil(120)},
		{steel.RoundTube, "1-1/2 x 16ga", measure.In, mil(1500), mil(1500), mil(65)},
		{steel.RoundTube, "2.375 x 0.188", measure.In, mil(2375), mil(2375), mil(188)},
		{steel.Pipe, "1-1/4 sch40", measure.In, mil(1660), mil(1660), mil(140)},
		{steel.Pipe, "1-1/4 x sch 80", measure.In, mil(1660), mil(1660), mil(191)},
		{steel.Pipe, "1 1/4\" SCH40", measure.In, mil(1660), mil(1660), mil(140)},
		{steel.Pipe, "1.25 xxs", measure.In, mil(1660), mil(1660), mil(382)},
		{steel.Pipe, "1-1/4 xs", measure.In, mil(1660), mil(1660), mil(191)},
		{steel.Pipe, "1-1/4 x xs", measure.In, mil(1660), mil(1660), mil(191)},
		{steel.Pipe, "1-1/4 x xxs", measure.In, mil(1660), mil(1660), mil(382)},
		{steel.Pipe, "1-1/4 std", measure.In, mil(1660), mil(1660), mil(140)},
		{steel.Pipe, "1-1/4 40", measure.In, mil(1660), mil(1660), mil(140)},
		{steel.Pipe, "DN32 sch40", measure.MM, mil(1660), mil(1660), mil(140)},
		{steel.Pipe, "1/2 sch40", measure.MM, mil(840), mil(840), mil(109)},
		{steel.Angle, "2 x 2 x 1/4", measure.In, mil(2000), mil(2000), mil(250)},
		{steel.Angle, "3 x 2 x 11ga", measure.In, mil(3000), mil(2000), 1196 * measure.Mil / 10},
		{steel.Flat, "3 x 1/4", measure.In, mil(3000), mil(250), mil(250)},
		{steel.Flat, "3 x 11ga", measure.In, mil(3000), 1196 * measure.Mil / 10, 1196 * measure.Mil / 10},
		{steel.RoundBar, "3/4", measure.In, mil(750), mil(750), 0},
		{steel.RoundBar, "20mm", measure.In, 20 * measure.Millimetre, 20 * measure.Millimetre, 0},
		{steel.SquareBar, "1/2", measure.In, mil(500), mil(500), 0},
		{steel.SquareBar, "1/2 x 1/2", measure.In, mil(500), mil(500), 0},
		{steel.Channel, "4 x 1-3/4 x 3/16", measure.In, mil(4000), mil(1750), mil(1875) / 10},
		{steel.Channel, "c3 x 4.1", measure.In, mil(3000), mil(1410), mil(170)},
	} {
		s, err := steel.New(steel.Spec{Shape: c.shape, Size: c.size, Unit: c.unit}, small())
		if err != nil {
			t.Errorf("%s %q: %v", c.shape, c.size, err)
			continue
		}
		if s.Depth != c.depth || s.Width != c.width || s.Wall != c.wall {
			t.Errorf("%s %q: %d x %d x %d nm, want %d x %d x %d", c.shape, c.size, s.Depth, s.Width, s.Wall, c.depth, c.width, c.wall)
		}
	}
}

func TestGaugeOfMaterial(t *testing.T) {
	for grade, want := range map[string]measure.Length{"A36": 1196, "304": 1250, "6061-T6": 907} {
		if s := section(t, steel.Flat, "3 x 11ga", grade); s.Wall != want*measure.Mil/10 {
			t.Errorf("11ga flat of %s: %v in, want %d/10000", grade, s.Wall.Inches(), want)
		}
	}
	if s := section(t, steel.RoundTube, "2 x 11ga", "304"); s.Wall != mil(120) {
		t.Errorf("11ga stainless tube: %v in, want .120: tube walls are BWG in any metal", s.Wall.Inches())
	}
}

// Each wrong size names the part that is wrong and says what would be right.
func TestSizeErrors(t *testing.T) {
	for _, c := range []struct {
		shape      steel.Shape
		size       string
		part, says string
	}{
		{steel.RectTube, "2 x 1 x 1/2", "wall", "leave no hollow"},
		{steel.RectTube, "2 x 1 x .6", "wall", `under 1/2"`},
		{steel.RectTube, "2 x 1 x 3", "wall", "depth x width x wall, in this order"},
		{steel.RectTube, "2-1/2 x 1-1/2", "wall", "2-1/2 x 1-1/2 x 11ga"},
		{steel.RectTube, "11ga x 2 x 1", "depth", "stands last"},
		{steel.RectTube, "2 x 11ga x 1", "width", "stands last"},
		{steel.RectTube, "0 x 1 x .120", "depth", "not greater than zero"},
		{steel.RectTube, "2 x -1 x .120", "width", "not greater than zero"},
		{steel.RectTube, "2 x 1 x 0", "wall", "not greater than zero"},
		{steel.RectTube, "2 x 1 x 12.5ga", "wall", "11 16 with ga"},
		{steel.RectTube, "2 x 1 x 3fet", "wall", "not a unit of length"},
		{steel.RectTube, "2 x  x .120", "width", "nothing is written"},
		{steel.RectTube, "2 x 1 x .120 x 4", "", "1 too many"},
		{steel.RectTube, "NaN x 1 x .120", "depth", "a number is missing"},
		{steel.RectTube, "2", "", "1 of 3 numbers"},
		{steel.RectTube, "", "", "nothing is written"},
		{steel.RectTube, "900in x 1 x .120", "depth", "more than 2 m"},
		{steel.SquareTube, "2 x 2", "wall", "2 x 2 x 11ga"},
		{steel.SquareTube, "2 x 1 x .120", "width", "rect-tube"},
		{steel.RoundTube, "2", "wall", "2 x 11ga"},
		{steel.RoundTube, "2 x 1", "wall", "leave no hollow"},
		{steel.Pipe, "1-1/4", "schedule", "sch40"},
		{steel.Pipe, "1-1/4 sch30", "schedule", "round-tube"},
		{steel.Pipe, "1/2 xxs", "schedule", "no xxs wall"},
		{steel.Pipe, "1-3/4 sch40", "nominal size", "1/2 1-1/4"},
		{steel.Angle, "2 x 1/4", "thickness", "2 x 2 x 1/4"},
		{steel.Angle, "1/4 x 2 x 2", "thickness", "thickness last"},
		{steel.Flat, "1/4 x 3", "", "3 x 1/4"},
		{steel.Flat, "11ga x 3", "", "3 x 11ga"},
		{steel.Flat, "3", "thickness", "3 x 1/4"},
		{steel.RoundBar, "3/4 x 2", "", "1 too many"},
		{steel.SquareBar, "1 x 2", "side", `shape = "flat"`},
		{steel.Channel, "C9x99", "", "neither a channel of the catalogue"},
		{steel.Channel, "4 x 2 x 1/4 x 3", "flange", "no web between"},
		{steel.Channel, "4 x 2 x 3", "web", "less than the width"},
	} {
		_, err := steel.New(steel.Spec{Shape: c.shape, Size: c.size}, small())
		var e *steel.SizeError
		switch {
		case !errors.As(err, &e):
			t.Errorf("%s %q: %v, want a size error", c.shape, c.size, err)
		case e.Part != c.part || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "; write "):
			t.Errorf("%s %q: part %q, says %q; want part %q and %q", c.shape, c.size, e.Part, err, c.part, c.says)
		}
	}
}

func TestMetricAdviceInMetric(t *testing.T) {
	_, err := steel.New(steel.Spec{Shape: steel.RectTube, Size: "60 x 40 x 25", Unit: measure.MM}, small())
	if err == nil || !strings.Contains(err.Error(), "a wall under 20mm") {
		t.Errorf("got %v", err)
	}
}

func TestGrades(t *testing.T) {
	cat := small()
	for _, name := range []string{"A500-B", "a500b", "A500 Gr. B", "ASTM A500 Grade B", "A500"} {
		if g, err := cat.Grade(name); err != nil || g.Name != "A500-B" {
			t.Errorf("%q: %q, %v", name, g.Name, err)
		}
	}
	if _, err := cat.Grade("A5000"); err == nil || !strings.Contains(err.Error(), "A36 A500-B") {
		t.Errorf("an unknown grade: %v", err)
	}
	if _, err := steel.New(steel.Spec{Shape: steel.Flat, Size: "3 x 1/4", Grade: "A500-B"}, cat); err == nil || !strings.Contains(err.Error(), "A36") {
		t.Errorf("tube's grade on a flat: %v", err)
	}
	for shape, want := range map[steel.Shape][2]string{
		steel.RectTube: {"2 x 1 x 11ga", "A513"}, steel.SquareTube: {"2 x 2 x 1/8", "A500-B"}, steel.Pipe: {"1-1/4 sch40", "A53-B"}, steel.Angle: {"2 x 2 x 1/4", "A36"},
	} {
		if s := section(t, shape, want[0], ""); s.Grade.Name != want[1] || !s.UsualGrade {
			t.Errorf("%s %s: %s, want %s", shape, want[0], s.Grade.Name, want[1])
		}
	}
}

func TestOtherMaterial(t *testing.T) {
	s := section(t, steel.Flat, "3 x 11ga", "")
	o, err := s.Of("stainless", measure.In, small())
	if err != nil || o.Grade.Name != "304" || o.Wall != mil(125) {
		t.Errorf("%v %s %v", err, o.Grade.Name, o.Wall)
	}
	if _, err := s.Of("oak", measure.In, small()); err == nil || !strings.Contains(err.Error(), "aluminium") {
		t.Errorf("oak: %v", err)
	}
	same, err := s.Of("carbon-steel", measure.In, small())
	if err != nil || !same.Same(s) {
		t.Errorf("the same material made another section: %v", err)
	}
}

func FuzzSize(f *testing.F) {
	for _, s := range []string{"2-1/2 x 1-1/2 x 11ga", "2 x 2 x .120", "1-1/4 sch40", "DN32 xxs", "3 x 1/4", "60 × 40 × 3mm", "C3X4.1", "x", "xxs", "2xxxs", "\x00", "9e99 x 1 x 1"} {
		for sh := range 9 {
			f.Add(s, byte(sh), sh%2 == 0)
		}
	}
	cat := small()
	f.Fuzz(func(t *testing.T, size string, shape byte, metric bool) {
		spec := steel.Spec{Shape: steel.Shape(1 + shape%9), Size: size}
		if metric {
			spec.Unit = measure.MM
		}
		s, err := steel.New(spec, cat)
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" {
				t.Error("an empty error")
			}
			return
		}
		for _, basis := range []steel.Basis{steel.Nominal, steel.Design} {
			p := s.Properties(basis)
			for name, v := range map[string]float64{"mass": p.MassKGM, "area": p.AreaMM2, "Ix": p.IxMM4, "Iy": p.IyMM4, "Sx": p.SxMM3, "Zy": p.ZyMM3, "J": p.JMM4, "C": p.CMM3, "rz": p.RMinorMM, "P": p.OutsideMM} {
				if !(v > 0) || math.IsInf(v, 0) {
					t.Errorf("%s %q: %s = %v", s.Shape, size, name, v)
				}
			}
		}
	})
}
