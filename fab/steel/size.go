package steel

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"bench.example/soapstone/fab/measure"
)

// SizeError says which part of a size is wrong and what would be right.
type SizeError struct {
	Shape  Shape
	Text   string // the size as written
	Part   string // depth, width, wall, ...; "" where the whole is wrong
	Reason string
	Right  string // a size that would do, or what to write
}

// Error gives one line.
func (e *SizeError) Error() string {
	part := ""
	if e.Part != "" {
		part = e.Part + ": "
	}
	shown := e.Text
	if len(shown) > 60 {
		shown = strings.ToValidUTF8(shown[:60], "") + "..."
	}
	return fmt.Sprintf("size %q of %s: %s%s; write %s", shown, withArticle(e.Shape), part, e.Reason, e.Right)
}

func withArticle(s Shape) string {
	if s == Angle {
		return "an angle"
	}
	return "a " + s.String()
}

// maxSide is the longest side that a section may have: nothing that is sawn by hand comes near it.
const maxSide = 2 * measure.Metre

// minWall is the thinnest wall that is read: foil is no stock.
const minWall = measure.Millimetre / 10

// sizer reads one size.
type sizer struct {
	shape Shape
	text  string
	unit  measure.Unit
	cat   Catalogue
	grade Grade
	parts []string
}

func (z *sizer) fail(part, reason, right string, args ...any) error {
	if right == "" {
		right = fmt.Sprintf("%s, such as %s", z.shape.SizeForm(), z.shape.SizeExample())
	}
	return &SizeError{Shape: z.shape, Text: z.text, Part: part, Reason: fmt.Sprintf(reason, args...), Right: right}
}

// splitSize cuts a size at its x, X, times sign or star, with or without blanks. An x inside a word (xxs, hex) stays.
func splitSize(text string) []string {
	var parts []string
	var b strings.Builder
	runes := []rune(text)
	letter := func(i int) bool {
		return i >= 0 && i < len(runes) && (runes[i] >= 'a' && runes[i] <= 'z' || runes[i] >= 'A' && runes[i] <= 'Z')
	}
	for i, r := range runes {
		cut := r == '×' || r == '*'
		if r == 'x' || r == 'X' {
			// between numbers, or behind a unit (60mmx40mm): a word never goes on after it
			cut = !letter(i+1) && !(letter(i-1) && (runes[i-1] == 'x' || runes[i-1] == 'X'))
		}
		if cut {
			parts = append(parts, strings.TrimSpace(b.String()))
			b.Reset()
			continue
		}
		b.WriteRune(r)
	}
	return append(parts, strings.TrimSpace(b.String()))
}

// length reads one side of the size.
func (z *sizer) length(i int, name string) (measure.Length, error) {
	if z.parts[i] == "" {
		return 0, z.fail(name, "nothing is written there", "")
	}
	if isGauge(z.parts[i]) {
		return 0, z.fail(name, "%q is a gauge, which only a wall or thickness has, and that stands last", "", z.parts[i])
	}
	l, err := measure.ParseLength(z.parts[i], z.unit)
	if err != nil {
		return 0, z.measureFault(name, err)
	}
	switch {
	case l <= 0:
		return 0, z.fail(name, "%s is not greater than zero", "", z.parts[i])
	case l < minWall:
		return 0, z.fail(name, "%s is thinner than any stock", "", z.parts[i])
	case l > maxSide:
		return 0, z.fail(name, "%s is more than 2 m", "", z.parts[i])
	}
	return l, nil
}

func (z *sizer) measureFault(name string, err error) error {
	e, ok := err.(*measure.Error)
	if !ok {
		return z.fail(name, "%v", "", err)
	}
	return z.fail(name, "%q: %s", "", e.Text, e.Reason)
}

func isGauge(text string) bool {
	t := strings.ToLower(text)
	return strings.HasSuffix(t, "ga") || strings.HasSuffix(t, "ga.") || strings.HasSuffix(t, "gauge")
}

// wall reads a wall or thickness; gauges are those of the shape and material.
func (z *sizer) wall(i int, name string) (measure.Length, string, error) {
	text := z.parts[i]
	if text == "" {
		return 0, "", z.fail(name, "nothing is written there", "")
	}
	if !isGauge(text) {
		l, err := z.length(i, name)
		return l, "as written", err
	}
	table, series := z.gauges()
	l, err := measure.ParseWall(text, z.unit, table.Thickness)
	if err != nil {
		names := make([]string, 0, len(table.Thickness))
		for n := range table.Thickness {
			names = append(names, n)
		}
		sort.Slice(names, func(a, b int) bool {
			x, _ := strconv.Atoi(names[a])
			y, _ := strconv.Atoi(names[b])
			return x < y || x == y && names[a] < names[b]
		})
		return 0, "", z.fail(name, "there is no %q in the %s series", "one of "+strings.Join(names, " ")+" with ga behind it, or the thickness itself", text, series)
	}
	return l, fmt.Sprintf("%s %s: %s", series, text, table.Source), nil
}

func (z *sizer) gauges() (GaugeTable, string) {
	switch {
	case z.shape.Hollow():
		return z.cat.TubeGauge, "tube gauge (BWG)"
	case z.grade.Material == "stainless":
		return z.cat.StainlessGauge, "stainless sheet gauge"
	case z.grade.Material == "aluminium":
		return z.cat.AluminiumGauge, "aluminium sheet gauge"
	}
	return z.cat.SheetGauge, "sheet-steel gauge"
}

// read fills the section's dimensions.
func (z *sizer) read(s *Section) error {
	if !utf8.ValidString(z.text) || len(z.text) > 200 {
		return z.fail("", "it is not a readable size", "")
	}
	if strings.TrimSpace(z.text) == "" {
		return z.fail("", "nothing is written here", "")
	}
	if z.shape == Pipe {
		return z.pipe(s)
	}
	if z.shape == Channel {
		if done := z.namedChannel(s); done {
			return nil
		}
	}
	z.parts = splitSize(z.text)
	switch z.shape {
	case RectTube, SquareTube:
		return z.boxTube(s)
	case RoundTube:
		return z.roundTube(s)
	case Angle:
		return z.angle(s)
	case Channel:
		return z.channel(s)
	case Flat:
		return z.flat(s)
	case RoundBar, SquareBar:
		return z.bar(s)
	}
	return fmt.Errorf("a section needs a shape; there are: %s", strings.Join(ShapeNames(), " "))
}

func (z *sizer) count(least, most int) error {
	n := len(z.parts)
	switch {
	case n < least:
		return z.fail("", "it has %d of %d numbers (%s)", "", n, least, z.shape.SizeForm())
	case n > most:
		return z.fail("", "it has %d numbers, which is %d too many", "", n, n-most)
	}
	return nil
}

func (z *sizer) boxTube(s *Section) (err error) {
	square := z.shape == SquareTube
	if square && len(z.parts) == 2 {
		if a, e := measure.ParseLength(z.parts[0], z.unit); e == nil && !isGauge(z.parts[1]) {
			if b, e := measure.ParseLength(z.parts[1], z.unit); e == nil && 2*b >= a {
				return z.fail("wall", "it is missing", fmt.Sprintf("the wall behind the sides: %s x %s x 11ga", z.parts[0], z.parts[1]))
			}
		}
		z.parts = []string{z.parts[0], z.parts[0], z.parts[1]}
	}
	if len(z.parts) == 2 && !isGauge(z.parts[1]) {
		return z.fail("wall", "it is missing", fmt.Sprintf("the wall behind depth and width: %s x %s x 11ga", z.parts[0], z.parts[1]))
	}
	if err = z.count(3, 3); err != nil {
		return err
	}
	if s.Depth, err = z.length(0, "depth"); err != nil {
		return err
	}
	if s.Width, err = z.length(1, "width"); err != nil {
		return err
	}
	if square && s.Depth != s.Width {
		return z.fail("width", "the sides of a square tube are equal", `them equal, or shape = "rect-tube"`)
	}
	if s.Wall, s.WallFrom, err = z.wall(2, "wall"); err != nil {
		return err
	}
	if err = z.thinEnough(s.Wall, min(s.Depth, s.Width)); err != nil {
		return err
	}
	least := min(s.Depth, s.Width)
	s.OutsideRadius = min(z.grade.Corner.Radius(s.Wall), least/2)
	s.InsideRadius = max(0, s.OutsideRadius-s.Wall)
	return nil
}

func (z *sizer) thinEnough(wall, side measure.Length) error {
	if 2*wall < side {
		return nil
	}
	right := "a wall under " + z.print(side/2)
	if wall > side {
		right = fmt.Sprintf("%s, in this order, such as %s", z.shape.SizeForm(), z.shape.SizeExample())
	}
	return z.fail("wall", "two walls of %s leave no hollow in %s", right, z.parts[len(z.parts)-1], z.print(side))
}

// print gives a length in the unit that the job thinks in.
func (z *sizer) print(l measure.Length) string {
	if z.unit.Metric() {
		return fmt.Sprintf("%gmm", l.MM())
	}
	return measure.Sixtyfourths.Print(l)
}

func (z *sizer) roundTube(s *Section) (err error) {
	if len(z.parts) == 1 {
		return z.fail("wall", "it is missing", fmt.Sprintf("the wall behind the diameter: %s x 11ga", z.parts[0]))
	}
	if err = z.count(2, 2); err != nil {
		return err
	}
	if s.Depth, err = z.length(0, "diameter"); err != nil {
		return err
	}
	s.Width = s.Depth
	if s.Wall, s.WallFrom, err = z.wall(1, "wall"); err != nil {
		return err
	}
	return z.thinEnough(s.Wall, s.Depth)
}

func (z *sizer) angle(s *Section) (err error) {
	if len(z.parts) == 2 {
		return z.fail("thickness", "it is missing", fmt.Sprintf("both legs and the thickness: %s x %s x 1/4", z.parts[0], z.parts[0]))
	}
	if err = z.count(3, 3); err != nil {
		return err
	}
	if s.Depth, err = z.length(0, "first leg"); err != nil {
		return err
	}
	if s.Width, err = z.length(1, "second leg"); err != nil {
		return err
	}
	if s.Wall, s.WallFrom, err = z.wall(2, "thickness"); err != nil {
		return err
	}
	if s.Wall >= min(s.Depth, s.Width) {
		return z.fail("thickness", "it is not less than the shorter leg", fmt.Sprintf("the legs first and the thickness last, such as %s", z.shape.SizeExample()))
	}
	return nil
}

func (z *sizer) channel(s *Section) (err error) {
	if len(z.parts) < 3 {
		return z.fail("", "%q is neither a channel of the catalogue nor depth x width x web", "", z.text)
	}
	if err = z.count(3, 4); err != nil {
		return err
	}
	if s.Depth, err = z.length(0, "depth"); err != nil {
		return err
	}
	if s.Width, err = z.length(1, "width"); err != nil {
		return err
	}
	if s.Wall, s.WallFrom, err = z.wall(2, "web"); err != nil {
		return err
	}
	s.Flange = s.Wall
	if len(z.parts) == 4 {
		if s.Flange, _, err = z.wall(3, "flange"); err != nil {
			return err
		}
	}
	if s.Wall >= s.Width {
		return z.fail("web", "it is not less than the width", "depth, width, web in this order, such as "+z.shape.SizeExample())
	}
	if 2*s.Flange >= s.Depth {
		return z.fail("flange", "two flanges leave no web between them", "depth, width, web in this order, such as "+z.shape.SizeExample())
	}
	return nil
}

func (z *sizer) namedChannel(s *Section) bool {
	name := strings.ToUpper(strings.NewReplacer(" ", "", "×", "X").Replace(z.text))
	for i, c := range z.cat.Channels {
		if c.Name != name {
			continue
		}
		s.Depth, s.Width, s.Wall, s.WallFrom = c.Depth, c.Width, c.Web, "channel table: "+c.Source.String()
		s.Flange = measure.FromMM((c.AreaMM2 - c.Depth.MM()*c.Web.MM()) / (2 * (c.Width.MM() - c.Web.MM())))
		s.Published = &z.cat.Channels[i]
		return true
	}
	return false
}

func (z *sizer) flat(s *Section) (err error) {
	if len(z.parts) == 1 {
		return z.fail("thickness", "it is missing", fmt.Sprintf("the thickness behind the width: %s x 1/4", z.parts[0]))
	}
	if err = z.count(2, 2); err != nil {
		return err
	}
	if isGauge(z.parts[0]) {
		return z.fail("", "the thickness stands first", fmt.Sprintf("width x thickness: %s x %s", z.parts[1], z.parts[0]))
	}
	if s.Depth, err = z.length(0, "width"); err != nil {
		return err
	}
	if s.Wall, s.WallFrom, err = z.wall(1, "thickness"); err != nil {
		return err
	}
	if s.Wall > s.Depth {
		return z.fail("", "the thickness is more than the width", fmt.Sprintf("width x thickness: %s x %s", z.parts[1], z.parts[0]))
	}
	s.Width = s.Wall
	return nil
}

func (z *sizer) bar(s *Section) (err error) {
	name := "diameter"
	if z.shape == SquareBar {
		name = "side"
	}
	if z.shape == SquareBar && len(z.parts) == 2 {
		var other measure.Length
		if other, err = z.length(1, name); err != nil {
			return err
		}
		if first, e := z.length(0, name); e == nil && first != other {
			return z.fail(name, "the sides of a square bar are equal", `one side, or shape = "flat"`)
		}
		z.parts = z.parts[:1]
	}
	if err = z.count(1, 1); err != nil {
		return err
	}
	if s.Depth, err = z.length(0, name); err != nil {
		return err
	}
	s.Width = s.Depth
	return nil
}

// pipe reads a nominal size and a schedule: `1-1/4 sch40`, `1-1/4 x sch 80`, `DN32 sch40`, `2 xxs`, `2in std`.
func (z *sizer) pipe(s *Section) error {
	nominal, schedule := "", ""
	t := strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(z.text), "schedule", "sch")), " ")
	for _, w := range []struct{ ending, schedule string }{
		{"sch40", "sch40"}, {"sch 40", "sch40"}, {"std", "sch40"}, {" 40", "sch40"}, {"sch80", "sch80"}, {"sch 80", "sch80"}, {" 80", "sch80"},
		{"xxs", "xxs"}, {"xs", "sch80"}, // xxs before xs
	} {
		if rest, ok := strings.CutSuffix(t, w.ending); ok {
			rest = strings.TrimSpace(rest)
			nominal, schedule = strings.TrimSpace(strings.TrimSuffix(rest, "x")), w.schedule
			break
		}
	}
	if schedule == "" {
		word := t[strings.LastIndexByte(t, ' ')+1:]
		if _, err := measure.ParseLength(t, measure.In); err == nil || word == t {
			return z.fail("schedule", "it is missing", fmt.Sprintf("it behind the nominal size: %s sch40 (or sch80, xxs)", t))
		}
		return z.fail("schedule", "%q is not in the catalogue", "sch40, sch80 or xxs (any other wall as a round-tube by its outside diameter)", word)
	}
	p, ok := z.pipeSize(nominal)
	if !ok {
		names := make([]string, len(z.cat.Pipes))
		for i, p := range z.cat.Pipes {
			names[i] = p.Nominal
		}
		return z.fail("nominal size", "%q is not in the catalogue", "one of "+strings.Join(names, " ")+" (inches), or DN and its number", nominal)
	}
	wall, ok := p.Schedules[schedule]
	if !ok {
		return z.fail("schedule", "%s has no %s wall in the catalogue", "sch40, sch80 or xxs (any other wall as a round-tube by its outside diameter)", p.Nominal, schedule)
	}
	s.Depth, s.Width, s.Wall = p.Outside, p.Outside, wall
	s.WallFrom = fmt.Sprintf("pipe %s %s: %s", p.Nominal, schedule, p.Source)
	return nil
}

func (z *sizer) pipeSize(nominal string) (PipeSize, bool) {
	nominal = strings.TrimSpace(nominal)
	if dn, ok := strings.CutPrefix(nominal, "dn"); ok {
		for _, p := range z.cat.Pipes {
			if p.DN == strings.TrimSpace(dn) {
				return p, true
			}
		}
		return PipeSize{}, false
	}
	nominal = strings.TrimSpace(strings.TrimPrefix(nominal, "nps"))
	want, err := measure.ParseLength(nominal, measure.In) // a nominal size is a name in inches, whatever the job's unit
	if err != nil {
		return PipeSize{}, false
	}
	for _, p := range z.cat.Pipes {
		if l, err := measure.ParseLength(p.Nominal, measure.In); err == nil && l == want {
			return p, true
		}
	}
	return PipeSize{}, false
}
