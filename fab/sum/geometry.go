package sum

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/square"
)

func geometrySums() []Sum {
	return []Sum{
		{
			Name: "diagonal", Purpose: "a frame's diagonal, and how far out of square the two measured ones say that it is",
			Takes: []Arg{
				{Name: "length", Takes: "length of one side", Example: "96"},
				{Name: "width", Takes: "length of the other", Example: "48"},
				{Name: "d1", Takes: "one diagonal, as measured", Example: "107-3/8", Optional: true},
				{Name: "d2", Takes: "the other", Example: "107-1/4", Optional: true},
				{Name: "class", Takes: "tolerance class of ISO 13920 for angles: A, B, C or D; left out: B", Example: "A", Optional: true},
				{Name: "tol", Takes: "your own tolerance instead: most difference of the diagonals", Example: "1/8", Optional: true},
			},
			Run: diagonalSum,
		},
		{
			Name: "spacing", Purpose: "bars at equal clear gaps",
			Takes: []Arg{
				{Name: "length", Takes: "clear length between the two end faces", Example: "93"},
				{Name: "count", Takes: "number of bars", Example: "5", Optional: true},
				{Name: "most", Takes: "or the widest gap allowed: the fewest bars that keep it", Example: "4", Optional: true},
				{Name: "bar", Takes: "width of a bar; left out: 0, for marks or holes", Example: "1-1/2", Optional: true},
			},
			Run: spacingSum,
		},
		{
			Name: "arc", Purpose: "an arc from its chord and rise",
			Takes: []Arg{
				{Name: "chord", Takes: "straight length under the arc", Example: "96"},
				{Name: "rise", Takes: "height of the arc over the middle of the chord", Example: "24"},
				{Name: "at", Takes: "distance from mid-chord at which height and slope are wanted; left out: 0", Example: "12", Optional: true},
			},
			Run: arcSum,
		},
		{
			Name: "pitch", Purpose: "rise and run to degrees",
			Takes: []Arg{{Name: "rise", Takes: "length", Example: "4"}, {Name: "run", Takes: "length", Example: "12"}},
			Run:   pitchSum,
		},
		{
			Name: "mitre", Purpose: "saw angle of a mitred corner, from square",
			Takes: []Arg{
				{Name: "corner", Takes: "inside angle of the corner, degrees", Example: "90", Optional: true},
				{Name: "sides", Takes: "or the number of sides of a regular frame", Example: "6", Optional: true},
			},
			Run: mitreSum,
		},
		{
			Name: "compound", Purpose: "mitre and bevel where leaning sides meet at a corner (hopper, crown)",
			Takes: []Arg{
				{Name: "corner", Takes: "inside angle of the corner in plan, degrees", Example: "90"},
				{Name: "tilt", Takes: "lean of the sides from the vertical, degrees", Example: "15"},
			},
			Run: compoundSum,
		},
		{
			Name: "saddle", Purpose: "a round tube's end fitted to a round tube",
			Takes: []Arg{
				{Name: "header", Takes: "outside diameter of the tube that runs through", Example: "2"},
				{Name: "branch", Takes: "outside diameter of the tube that is cut", Example: "1-1/2"},
				{Name: "wall", Takes: "wall of the branch; with it the inside edge, which touches first, is given too", Example: "11ga", Optional: true},
				{Name: "angle", Takes: "angle between the two axes, degrees", Example: "60"},
				{Name: "at", Takes: "wrap angle round the branch, degrees, 0 on the obtuse side; left out: 0", Example: "90", Optional: true},
			},
			Run: saddleSum,
		},
		{
			Name: "twist", Purpose: "wind of a frame from the heights of its four corners, in order round",
			Takes: []Arg{
				{Name: "a", Takes: "height of the first corner", Example: "0", Optional: true},
				{Name: "b", Takes: "of the next one round", Example: "1/8", Optional: true},
				{Name: "c", Takes: "of the one opposite the first", Example: "0", Optional: true},
				{Name: "d", Takes: "of the last", Example: "0", Optional: true},
				{Name: "heights", Takes: "or all four in one, commas between", Example: "0,1/8,0,0", Optional: true},
				{Name: "h1", Takes: "h1 h2 h3 h4: the same as a b c d", Optional: true},
				{Name: "h2", Takes: "see h1", Optional: true}, {Name: "h3", Takes: "see h1", Optional: true}, {Name: "h4", Takes: "see h1", Optional: true},
			},
			Run: twistSum,
		},
	}
}

func theorem(text string) figure.Source { return figure.Source{Kind: figure.Geometry, Text: text} }

func asked(symbol, name string, mm float64) figure.Input {
	return figure.In(symbol, name, mm, "mm", "as asked")
}

func askedDeg(symbol, name string, deg float64) figure.Input {
	return figure.In(symbol, name, deg, "deg", "as asked")
}

func diagonalSum(a *Args) (Result, error) {
	var r Result
	length, width := a.PositiveMM("length"), a.PositiveMM("width")
	d1, d2 := a.PositiveMM("d1"), a.PositiveMM("d2")
	class, tol := a.OneOf("class", "B", "A", "C", "D"), a.PositiveMM("tol")
	if err := a.Err(); err != nil {
		return r, err
	}
	if a.Has("d1") != a.Has("d2") {
		return r, Use("measure both diagonals, d1 and d2: one of them says nothing")
	}
	l, w := asked("l", "length", length), asked("w", "width", width)
	r.AddFigure("diagonal_mm", figure.New("diagonal", "diagonal when square", "mm", "sqrt(l^2 + w^2)", theorem("Pythagoras"), l, w))
	if !a.Has("d1") {
		return r, nil
	}
	k, err := square.RackOf(length, width, d1, d2)
	if err != nil {
		return r, err
	}
	in := []figure.Input{l, w, asked("d1", "first diagonal", d1), asked("d2", "second diagonal", d2)}
	law := theorem("parallelogram law")
	skew := figure.Found("skew", "how far one long side has slid along the other", k.SkewMM, "mm", "(d1^2 - d2^2) / (4 * max(l, w))", law, in...)
	r.AddFigure("skew_mm", skew)
	r.AddFigure("skew_deg", figure.Found("skew_deg", "how far the corners are off square", k.SkewDeg, "deg", "asin(s / min(l, w))", theorem("right triangle of the slide and the short side"), skew.As("s"), l, w))
	short := min(length, width)
	within, limit := false, ""
	if a.Has("tol") {
		within = math.Abs(d1-d2) <= tol+1e-9
		limit = fmt.Sprintf("the diagonals may differ by %s", a.show(tol))
	} else {
		deg, perM, _ := square.AngleTolerance(class, short)
		within = math.Abs(k.SkewDeg) <= deg+1e-12
		limit = fmt.Sprintf("%s, class %s: %.4g minutes of an angle, %.3g mm a metre of the shorter side (%s here)", square.ISO13920, class, deg*60, perM, a.show(perM*short/1000))
	}
	r.Add("within", within)
	pull := "none"
	if k.Longer != 0 {
		pull = fmt.Sprintf("d%d: pull its corners together by %s, until it measures %s", k.Longer, a.show(k.PullMM), a.show(k.TargetMM))
	}
	r.Add("pull", pull)
	target := figure.Found("target", "both diagonals when it is square", k.TargetMM, "mm", "sqrt((d1^2 + d2^2) / 2)", law, in[2:]...)
	r.AddFigure("target_mm", target)
	r.Notes = append(r.Notes, "tolerance: "+limit, "equal diagonals prove a frame square only where opposite sides are equal: measure those first")
	if off := k.SidesOffMM; math.Abs(off) > 0.8 {
		r.Notes = append(r.Notes, fmt.Sprintf("these diagonals belong to a frame whose diagonal is %s when square, not %s: its sides are not what is stated, or a diagonal was misread",
			a.show(k.TargetMM), a.show(k.DiagonalMM)))
	}
	return r, nil
}

// show prints a length in the units of the sum: to the 64th of an inch, or to the half millimetre.
func (a *Args) show(mm float64) string {
	tape := measure.Sixtyfourths
	if a.Unit().Metric() {
		tape = measure.HalfMM
	}
	return tape.Print(measure.FromMM(mm))
}

func spacingSum(a *Args) (Result, error) {
	var r Result
	length, most, bar := a.Length("length"), a.Length("most"), a.Length("bar")
	a.PositiveMM("length")
	a.PositiveMM("most")
	n := a.Count("count", 0, 1)
	if err := a.Err(); err != nil {
		return r, err
	}
	switch {
	case a.Has("count") == a.Has("most"):
		return r, Use("give either count or most")
	case bar < 0:
		a.Fail("bar", "must not be negative")
	case a.Has("most"):
		if float64(length)/float64(most+bar) > frame.MaxBars {
			a.Fail("most", "that is more than %d bars", frame.MaxBars)
			break
		}
		n = frame.FewestBars(length, bar, most)
	}
	if err := a.Err(); err != nil {
		return r, err
	}
	gap, centres, ok := frame.EvenGaps(length, bar, n)
	if !ok {
		if n > frame.MaxBars {
			return r, fmt.Errorf("count=%d: that is more than %d bars", n, frame.MaxBars)
		}
		return r, fmt.Errorf("%d bars of %s do not fit into %s with gaps between them", n, a.show(bar.MM()), a.show(length.MM()))
	}
	in := []figure.Input{asked("l", "clear length", length.MM()), asked("b", "width of a bar", bar.MM()), figure.In("n", "bars", float64(n), "", "as asked")}
	if a.Has("most") {
		f := figure.Found("bars", "fewest bars", float64(n), "", "max(0, ceil((l - g) / (b + g) - 1e-9))", theorem("n bars leave n + 1 gaps"), in[0], in[1], asked("g", "widest gap allowed", most.MM()))
		r.Figures = append(r.Figures, f)
		in[2] = f.As("n")
	}
	r.AddFigure("gap_mm", figure.Found("gap", "clear gap", gap, "mm", "(l - n*b) / (n + 1)", theorem("n bars leave n + 1 gaps"), in...))
	r.Add("centres_mm", centres)
	r.Add("count", float64(n))
	marks := make([]string, len(centres))
	for i, c := range centres {
		marks[i] = a.show(c)
	}
	if n > 0 && n <= 60 {
		r.Notes = append(r.Notes, "centres from the first face, all on one tape: "+strings.Join(marks, ", "))
	}
	return r, nil
}

func arcSum(a *Args) (Result, error) {
	var r Result
	c, h, x := a.PositiveMM("chord"), a.PositiveMM("rise"), a.MM("at")
	if err := a.Err(); err != nil {
		return r, err
	}
	arc := space.Arc{Chord: c, Rise: h}
	if reach := arc.Reach(); math.Abs(x) > reach+1e-9 {
		a.Fail("at", "the arc ends %s from mid-chord", a.show(reach))
		return r, a.Err()
	}
	x = max(-arc.Reach(), min(arc.Reach(), x))
	ci, hi := asked("c", "chord", c), asked("h", "rise", h)
	radius := figure.Found("radius", "radius", arc.Radius(), "mm", "c^2 / (8*h) + h / 2", theorem("intersecting chords, Euclid III.35"), ci, hi)
	r.AddFigure("radius_mm", radius)
	r.AddFigure("arc_mm", figure.Found("arc", "length along the arc", arc.Length(), "mm", "R * 4 * atan(2*h / c) * pi / 180",
		theorem("the angle at the rim is half that at the centre, Euclid III.20"), radius.As("R"), ci, hi))
	xi := asked("x", "distance from mid-chord", x)
	r.AddFigure("ordinate_mm", figure.Found("ordinate", "height over the chord", arc.Ordinate(x), "mm", "sqrt(max(0, R^2 - x^2)) - (R - h)", theorem("equation of the circle"), radius.As("R"), hi, xi))
	r.AddFigure("slope_deg", figure.Found("slope", "fall away from the middle", arc.SlopeDeg(x), "deg", "asin(x / R)", theorem("the tangent is square to the radius"), radius.As("R"), xi))
	return r, nil
}

func pitchSum(a *Args) (Result, error) {
	var r Result
	rise, run := a.MM("rise"), a.PositiveMM("run")
	if a.Err() == nil && rise < 0 {
		a.Fail("rise", "must not be negative")
	}
	if err := a.Err(); err != nil {
		return r, err
	}
	in := []figure.Input{asked("r", "rise", rise), asked("n", "run", run)}
	angle := figure.New("angle", "angle from level", "deg", "atan2(r, n)", theorem("tangent"), in...)
	r.AddFigure("angle_deg", angle)
	r.AddFigure("factor", figure.New("factor", "length along the slope for one of run", "", "sqrt(1 + (r/n)^2)", theorem("Pythagoras"), in...))
	r.Notes = append(r.Notes, fmt.Sprintf("on a piece that lies along the slope a plumb cut stands %.4g degrees off square, a level cut %.4g; a saw that reads 90 at square shows %.4g and %.4g",
		angle.Value, 90-angle.Value, 90-angle.Value, angle.Value))
	return r, nil
}

func mitreSum(a *Args) (Result, error) {
	var r Result
	if a.Has("corner") == a.Has("sides") {
		if err := a.Err(); err != nil {
			return r, err
		}
		return r, Use("give either corner or sides")
	}
	half := theorem("the cut halves the corner; the saw counts from square")
	if a.Has("sides") {
		n := a.Count("sides", 0, 3)
		if err := a.Err(); err != nil {
			return r, err
		}
		f := figure.New("saw", "saw angle from square", "deg", "180 / n", theorem("outside angles of a polygon add up to 360"), figure.In("n", "sides", float64(n), "", "as asked"))
		r.AddFigure("saw_deg", f)
		r.Add("corner_deg", 180-2*f.Value)
		r.Notes = append(r.Notes, fmt.Sprintf("a saw that reads 90 at a square cut is set to %.4g", 90-f.Value))
		return r, nil
	}
	c := a.Quantity("corner", measure.ParseAngle)
	if a.Err() == nil && (c <= 0 || c > 180) {
		a.Fail("corner", "must be the inside angle, above 0 and up to 180 degrees")
	}
	if err := a.Err(); err != nil {
		return r, err
	}
	f := figure.New("saw", "saw angle from square", "deg", "90 - c / 2", half, askedDeg("c", "corner", c))
	r.AddFigure("saw_deg", f)
	r.Notes = append(r.Notes, fmt.Sprintf("a saw that reads 90 at a square cut is set to %.4g", 90-f.Value))
	return r, nil
}

func compoundSum(a *Args) (Result, error) {
	var r Result
	c, s := a.Quantity("corner", measure.ParseAngle), a.Quantity("tilt", measure.ParseAngle)
	if a.Err() == nil && (c <= 0 || c > 180) {
		a.Fail("corner", "must be the inside angle in plan, above 0 and up to 180 degrees")
	}
	if a.Err() == nil && (s < 0 || s > 90) {
		a.Fail("tilt", "must lie between 0 (upright) and 90 (flat)")
	}
	if err := a.Err(); err != nil {
		return r, err
	}
	m, b := piece.Compound(c, s)
	in := []figure.Input{askedDeg("c", "corner", c), askedDeg("s", "tilt from vertical", s)}
	src := theorem("planes of two leaning sides and the plane that halves their corner")
	r.AddFigure("miter_deg", figure.Found("miter", "mitre on the face, from square", m, "deg", "atan(sin(s) / tan(c / 2))", src, in...))
	r.AddFigure("bevel_deg", figure.Found("bevel", "lean of the blade, from square", b, "deg", "asin(cos(s) * cos(c / 2))", src, in...))
	r.Notes = append(r.Notes, "the tilt counts from the vertical; a slope given from the horizontal is 90 less that")
	return r, nil
}

func saddleSum(a *Args) (Result, error) {
	var r Result
	header, branch := a.PositiveMM("header"), a.PositiveMM("branch")
	wall := 0.0
	if a.Has("wall") {
		w := read(a, "wall", func(t string) (measure.Length, error) {
			return measure.ParseWall(t, a.unit, a.Tables.Steel.TubeGauge.Thickness)
		})
		wall = w.MM()
	}
	angle, at := a.Quantity("angle", measure.ParseAngle), a.Quantity("at", measure.ParseAngle)
	if a.Err() == nil {
		switch {
		case angle <= 0 || angle >= 180:
			a.Fail("angle", "must lie between 0 and 180 degrees: the tubes would lie side by side")
		case branch > header:
			a.Fail("branch", "must be no larger than the header (%s)", a.show(header))
		case a.Has("wall") && (wall <= 0 || wall*2 >= branch):
			a.Fail("wall", "must be greater than zero and less than half the branch (%s)", a.show(branch/2))
		}
	}
	if err := a.Err(); err != nil {
		return r, err
	}
	acute := min(angle, 180-angle)
	src := figure.Source{Kind: figure.Handbook, Text: "J. Stockie, The Geometry of Intersecting Tubes Applied to Controlling a Robotic Welding Torch, Maplesoft 1998: intersection of two cylinders"}
	const axial = "(sqrt(max(0, R^2 - (r*sin(t))^2)) - r*cos(t)*cos(b)) / sin(b)"
	const depth = "(R + r*cos(b)) / sin(b) - if(sqrt(R^2 - r^2) * cos(b), r * sin(b), sqrt(R^2 - r^2), (R - r*cos(b)) / sin(b))"
	put := func(prefix, which string, radius float64) {
		s := frame.RoundSaddle{HeaderMM: header / 2, BranchMM: radius, AngleDeg: angle}
		in := []figure.Input{asked("R", "header's radius", header/2), asked("r", "branch's radius, "+which, radius), askedDeg("b", "acute angle between the axes", acute),
			askedDeg("t", "wrap angle from the obtuse side", at)}
		r.AddFigure(prefix+"depth_mm", figure.Found(prefix+"depth", "full depth of the cut, "+which+" of the branch", s.DepthMM(), "mm", depth, src, in[:3]...))
		r.AddFigure(prefix+"axial_mm", figure.Found(prefix+"axial", "from the header's axis along the branch, "+which, s.AxialMM(at), "mm", axial, src, in...))
	}
	put("", "outside", branch/2)
	if a.Has("wall") {
		put("inside_", "inside", branch/2-wall)
	}
	r.Add("wrap_mm", branch/2*at*math.Pi/180)
	r.Notes = append(r.Notes, "the outside line is the template's; the inside edge of the wall touches the header first: file to it",
		"the long point of the branch is on the obtuse side (wrap angle 0)", "the two axes meet; an offset branch needs its own curve")
	return r, nil
}

func twistSum(a *Args) (Result, error) {
	var r Result
	var h [4]float64
	names := []string{"a", "b", "c", "d"}
	sets := 0
	if a.Has("heights") {
		sets++
		parts := strings.Split(a.String("heights"), ",")
		if len(parts) != 4 {
			return r, Use("heights=%s: four heights are wanted, commas between", a.String("heights"))
		}
		for i, p := range parts {
			l, err := measure.ParseLength(strings.TrimSpace(p), a.Unit())
			if err != nil {
				return r, Use("heights: %v", err)
			}
			h[i] = l.MM()
		}
	}
	for _, set := range [][]string{{"a", "b", "c", "d"}, {"h1", "h2", "h3", "h4"}} {
		given := 0
		for i, n := range set {
			if a.Has(n) {
				given++
				h[i] = a.MM(n)
			}
		}
		if given > 0 {
			sets++
			names = set
			if given < 4 {
				return r, Use("all four corners are wanted: %s", strings.Join(set, " "))
			}
		}
	}
	if err := a.Err(); err != nil {
		return r, err
	}
	if sets != 1 {
		return r, Use("give the four corner heights once: a b c d, in order round")
	}
	wind, high := square.Twist(h)
	in := make([]figure.Input, 4)
	for i, s := range []string{"a", "b", "c", "d"} {
		in[i] = asked(s, fmt.Sprintf("height of corner %d", i+1), h[i])
	}
	r.AddFigure("wind_mm", figure.Found("wind", "how far each corner stands off the plane of the other three", wind, "mm", "abs(a - b + c - d)",
		theorem("opposite corners of a flat four-sided frame have one mid-height"), in...))
	which := "none"
	if high > 0 {
		which = names[high-1]
		r.Notes = append(r.Notes, fmt.Sprintf("corner %s is high, with the one opposite: shim or clamp until the two diagonals have one mid-height", which))
	} else {
		r.Notes = append(r.Notes, "the four corners lie in one plane")
	}
	r.Add("high", which)
	return r, nil
}
