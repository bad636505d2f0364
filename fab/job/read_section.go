package job

import (
	"regexp"
	"strings"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// sections reads [section.NAME], the job's first, then those that only the shop has.
func (rd *reader) sections(shops []*text.Doc) {
	rd.top.Skip("section")
	all, _ := rd.shared.Table("section")
	for i, name := range all.Keys() {
		if i == MaxTables {
			all.Fault(text.CodeTooMuch, name, "more than %d sections; split the job", MaxTables)
			break
		}
		f, given := all.Table(name)
		if !given {
			continue
		}
		if trimmed(name) == "" {
			f.Fault(text.CodeValue, "", "a section needs a name: [section.rail]")
			continue
		}
		rd.job.Sections = append(rd.job.Sections, rd.section(f, name))
	}
}

func (rd *reader) section(f *text.Fields, name string) Section {
	s := Section{Where: where(f), Name: name, TubeSeam: "any"}
	shapeOK := f.Choice("shape", &s.Shape, text.Need, steel.ShapeNames()...)
	sizeOK := f.Text("size", &s.Size, text.Need)
	gradeOK := f.Text("grade", &s.Grade, 0) || !f.Has("grade")
	if shapeOK && sizeOK && gradeOK {
		rd.size(f, &s)
	}
	finish := string(usualFinish(s.Shape))
	f.Choice("finish", &finish, 0, string(Scale), string(Oiled), string(Primed), string(Galvanised), string(Bright))
	s.Finish = Finish(finish)
	if f.Choice("tube_seam", &s.TubeSeam, 0, "any", "inside") && s.TubeSeam == "inside" && shapeOK && !tube(s.Shape) {
		f.Fault(text.CodeConflict, "tube_seam", "only tube and pipe have a seam; take tube_seam out of this %s", s.Shape)
	}
	rd.sticks(f, &s)
	switch only(f, false, "price_ft", "price_kg", "price_cwt") {
	case "price_ft":
		f.Money("price_ft", &s.PriceFt, 0)
	case "price_kg":
		f.Money("price_kg", &s.PriceKG, 0)
	case "price_cwt":
		f.Money("price_cwt", &s.PriceCwt, 0)
	}
	for _, v := range words(f, "try", `["2 x 1 x 14ga"]`) {
		s.Try = append(s.Try, v.Text)
	}
	f.Done()
	return s
}

// usualFinish is how a shape usually comes from the yard (common practice): tube oiled, hot-rolled bars in their scale.
func usualFinish(shape string) Finish {
	if tube(shape) {
		return Oiled
	}
	return Scale
}

func tube(shape string) bool {
	return strings.HasSuffix(shape, "-tube") || shape == "pipe"
}

// sticks reads the lengths that the yard sells: tables, or plain lengths.
func (rd *reader) sticks(f *text.Fields, s *Section) {
	const like = `[ {length = "20ft", price = 30.50} ]`
	for i, v := range f.List("sticks", 1, 200, like, 0) {
		st := Stick{Limit: -1}
		if v.Kind != text.TableKind {
			if l, ok := f.LengthOf(v, "sticks", text.Positive); ok {
				st.Length = l
				s.Sticks = append(s.Sticks, st)
			}
			continue
		}
		g := f.Inside(v, "sticks", i+1)
		ok := g.Length("length", &st.Length, text.Need|text.Positive)
		rd.stickPrice(g, &st)
		g.Count("limit", &st.Limit, 0, MaxPieces, 0)
		if g.Text("supplier", &st.Supplier, 0); len(st.Supplier) > 200 {
			g.Fault(text.CodeTooMuch, "supplier", "a supplier's name is at most 200 bytes long")
		}
		st.Supplier = text.Clean(trimmed(st.Supplier))
		book.ReadDay(g, "date", &st.Date, 0)
		g.Done()
		if ok {
			s.Sticks = append(s.Sticks, st)
		}
	}
}

// stickPrice reads what a stick costs, as a whole or by the foot. Prices by weight belong to the section: they need its
// mass.
func (rd *reader) stickPrice(g *text.Fields, st *Stick) {
	switch k := only(g, false, "price", "price_ft", "price_kg", "price_cwt"); k {
	case "price":
		st.Priced = g.Money("price", &st.Price, 0)
	case "price_ft":
		var foot measure.Money
		if st.Priced = g.Money("price_ft", &foot, 0); st.Priced {
			st.Price = foot.Scale(st.Length.Feet())
		}
	case "price_kg", "price_cwt":
		g.Fault(text.CodeConflict, k, "a price by weight holds for all lengths: put %s into the section, outside sticks", k)
	}
}

// size checks a section's size, and with a catalogue its grade.
func (rd *reader) size(f *text.Fields, s *Section) {
	unit := rd.job.Units
	if v := f.Take("size"); v != nil {
		unit = v.Doc().Unit
	}
	if rd.cat != nil {
		shape, err := steel.ParseShape(s.Shape)
		if err != nil {
			f.Fault(text.CodeValue, "shape", "%s", err)
			return
		}
		if _, err = steel.New(steel.Spec{Shape: shape, Size: s.Size, Grade: s.Grade, Unit: unit}, *rd.cat); err != nil {
			key := "size"
			if _, isSize := err.(*steel.SizeError); !isSize && s.Grade != "" {
				key = "grade"
			}
			f.Fault(text.CodeValue, key, "%s", err)
		}
	} else {
		plainSize(f, s, unit)
	}
	if unit != rd.job.Units {
		s.Size = ExplicitSize(s.Size, unit)
	}
}

// plainSize checks what a size tells without tables: that its parts are lengths, and that a tube's walls leave a hollow.
func plainSize(f *text.Fields, s *Section, unit measure.Unit) {
	if s.Shape == "pipe" || s.Shape == "channel" {
		return // names of tables
	}
	var least, last measure.Length
	parts := strings.FieldsFunc(s.Size, func(r rune) bool { return r == 'x' || r == 'X' || r == '\u00d7' })
	for i, part := range parts {
		part = trimmed(part)
		if i > 0 && strings.HasSuffix(strings.ToLower(part), "ga") {
			return
		}
		l, err := measure.ParseLength(part, unit)
		if err != nil {
			f.Fault(text.CodeValue, "size", "%s", err)
			return
		}
		if l <= 0 {
			f.Fault(text.CodeValue, "size", "%s cannot be: every part of a size is more than zero", text.Short(part, 40))
			return
		}
		if last = l; i == 0 || l < least && i+1 < len(parts) {
			least = l
		}
	}
	if tube(s.Shape) && len(parts) > 1 && 2*last >= least {
		f.Fault(text.CodeValue, "size", "the wall of %s is half the tube or more; nothing of it would be hollow", text.Short(s.Size, 40))
	}
}

var bareSide = regexp.MustCompile(`(^|[xX\x{00d7}])(\s*[0-9.][0-9 ./-]*?)(\s*)([xX\x{00d7}]|$)`)

// ExplicitSize writes the unit behind every bare number of a size, for a section from a shop file that has other units
// than the job.
func ExplicitSize(size string, unit measure.Unit) string {
	if size == "" || size[0] != '.' && (size[0] < '0' || size[0] > '9') {
		return size // a name of a table, such as C3x4.1
	}
	for i := 0; i < 3; i++ { // neighbours share their x, so one pass is not enough
		size = bareSide.ReplaceAllString(size, "${1}${2}"+unit.String()+"${3}${4}")
	}
	return size
}

// onHand reads [[on_hand]].
func (rd *reader) onHand() {
	for _, f := range rd.tables("on_hand") {
		o := OnHand{Where: where(f), Qty: 1}
		rd.sectionOf(f, &o.Section)
		f.Length("length", &o.Length, text.Need|text.Positive)
		f.Count("qty", &o.Qty, 0, MaxQty, 0)
		angles(f, "ends", &o.Ends, 85)
		o.Priced = f.Money("price", &o.Price, 0)
		f.Done()
		rd.job.OnHand = append(rd.job.OnHand, o)
	}
}

func defaultSaw() Saw { return Saw{Kerf: measure.Inch / 16} }

// saw reads [saw], the shop's under the job's.
func (rd *reader) saw() {
	rd.top.Skip("saw")
	s := defaultSaw()
	f, given := rd.shared.Table("saw")
	if !given {
		rd.job.Saw = s
		return
	}
	s.Where = where(f)
	s.KerfGiven = f.Length("kerf", &s.Kerf, text.NotNegative)
	if s.Kerf > 2*measure.Inch {
		f.Fault(text.CodeValue, "kerf", "no blade is that thick: a kerf is what the blade takes, such as 1/16in")
	}
	f.Length("trim", &s.Trim, text.NotNegative)
	f.Length("trim_end", &s.TrimEnd, text.NotNegative)
	f.Length("grip", &s.Grip, text.NotNegative)
	if s.SwingGiven = angles(f, "swing", &s.Swing, 90); s.SwingGiven && s.Swing[0] > s.Swing[1] {
		f.Fault(text.CodeValue, "swing", "the least angle stands first: [-45, 60]")
		s.SwingGiven = false
	} else if s.SwingGiven && (s.Swing[0] > 0 || s.Swing[1] < 0) {
		f.Fault(text.CodeValue, "swing", "a saw must cut square, too: its range holds 0, as in [0, 45]")
		s.SwingGiven = false
	}
	var reads string
	if f.Choice("reads", &reads, 0, "square", "blade") {
		s.ReadsBlade = reads == "blade"
	}
	f.Bool("tilts", &s.Tilts, 0)
	if v := f.Take("capacity"); v != nil {
		if sides, ok := rd.sizeOf(f, v, "capacity", 2, `"4 x 6" (height x width)`); ok {
			s.CapacityH, s.CapacityW = sides[0], sides[1]
		}
	}
	f.Length("stop_max", &s.StopMax, text.Positive)
	s.KeepGiven = f.Length("keep", &s.Keep, text.NotNegative)
	f.Length("haul", &s.Haul, text.Positive)
	f.Length("yard_trim", &s.YardTrim, text.NotNegative)
	f.Money("yard_cut", &s.YardCut, 0)
	f.Count("gang_cut", &s.GangCut, 1, 1000, 0)
	f.Done()
	rd.job.Saw = s
}

// sizeOf reads n lengths, written as "4 x 6" or as a list; the last of three may be a sheet gauge.
func (rd *reader) sizeOf(f *text.Fields, v *text.Value, key string, n int, like string) ([]measure.Length, bool) {
	if v.Kind == text.Array {
		return positive(f, v, key, n, like)
	}
	s, ok := f.TextOf(v, key)
	if !ok {
		return nil, false
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == 'x' || r == 'X' || r == '\u00d7' })
	if len(parts) != n {
		f.FaultAt(v, text.CodeValue, key, "%d parts belong here, and %s has %d: write %s", n, text.Short(v.Raw(), 40), len(parts), like)
		return nil, false
	}
	var out []measure.Length
	for i, p := range parts {
		var gauges measure.Gauges
		if rd.cat != nil {
			gauges = rd.cat.SheetGauge.Thickness
		}
		l, err := measure.ParseLength(trimmed(p), v.Doc().Unit)
		if i == 2 {
			l, err = measure.ParseWall(trimmed(p), v.Doc().Unit, gauges)
		}
		switch {
		case err != nil:
			f.FaultAt(v, text.CodeValue, key, "%s", err)
			return nil, false
		case l <= 0:
			f.FaultAt(v, text.CodeValue, key, "%s cannot be: every part is more than zero", text.Short(trimmed(p), 40))
			return nil, false
		}
		out = append(out, l)
	}
	return out, true
}

func positive(f *text.Fields, v *text.Value, key string, n int, like string) ([]measure.Length, bool) {
	out, ok := point(f, v, key, n, like)
	for i, l := range out {
		if ok && l <= 0 {
			f.FaultAt(v.Items[i], text.CodeValue, key, "%s cannot be: every part is more than zero", text.Short(v.Items[i].Raw(), 40))
			return nil, false
		}
	}
	return out, ok
}
