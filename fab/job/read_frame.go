package job

import (
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// rectangles reads [[rectangle]].
func (rd *reader) rectangles() {
	for _, f := range rd.tables("rectangle") {
		r := Rectangle{Where: where(f), Plane: XY, Corner: "mitre", Heel: "out-bottom"}
		rd.name(f, &r.Name)
		rd.sectionOf(f, &r.Section)
		f.Length("length", &r.Length, text.Need|text.Positive)
		f.Length("width", &r.Width, text.Need|text.Positive)
		plane := string(XY)
		f.Choice("plane", &plane, 0, string(XY), string(XZ), string(YZ))
		r.Plane = Plane(plane)
		switch only(f, false, "at", "above") {
		case "at":
			if p, ok := point(f, f.Take("at"), "at", 3, threeLengths); ok {
				r.At = [3]measure.Length(p)
			}
		case "above":
			if f.Text("above", &r.Above, 0) {
				rd.ref(f, f.Take("above"), "above", aRectangle, r.Above)
			}
		}
		if f.Length("clear", &r.Clear, text.NotNegative) && r.Above == "" && !f.Has("above") {
			f.Fault(text.CodeConflict, "clear", `clear goes with above = "NAME" only`)
		}
		f.Choice("corner", &r.Corner, 0, "mitre", "butt-long", "butt-short", "posts", "cope")
		r.Flat = stand(f)
		f.Choice("heel", &r.Heel, 0, "out-bottom", "out-top", "in-bottom", "in-top")
		var sizes string
		if f.Choice("sizes", &sizes, 0, "outside", "inside") {
			r.Inside = sizes == "inside"
		}
		f.Done()
		rd.frames = append(rd.frames, f)
		rd.job.Rectangles = append(rd.job.Rectangles, r)
	}
}

// circles refuses rectangles that stand above one another in a ring.
func (rd *reader) circles() {
	above := map[string]string{}
	for _, r := range rd.job.Rectangles {
		above[r.Name] = r.Above
	}
	state := map[string]int{} // of a name: 1 being followed, 2 known to end
	for i, r := range rd.job.Rectangles {
		var trail []string
		at := r.Name
		for at != "" && state[at] == 0 {
			state[at] = 1
			trail = append(trail, at)
			at = above[at]
		}
		if at != "" && state[at] == 1 {
			rd.frames[i].Fault(text.CodeConflict, "above", "these rectangles stand above one another in a ring; give one of them a place with at = [x, y, z]")
		}
		for _, n := range trail {
			state[n] = 2
		}
	}
}

// stand reads how a section stands; it tells whether it lies flat.
func stand(f *text.Fields) bool {
	s := "edge"
	f.Choice("stand", &s, 0, "edge", "flat")
	return s == "flat"
}

// crossbars reads [[crossbars]].
func (rd *reader) crossbars() {
	for _, f := range rd.tables("crossbars") {
		c := Crossbars{Where: where(f), Run: "width", Set: "bottom"}
		rd.rectangleOf(f, "on", &c.On)
		rd.sectionOf(f, &c.Section)
		switch only(f, true, "count", "spacing", "gap", "at") {
		case "count":
			f.Count("count", &c.Count, 1, MaxBars, 0)
		case "spacing":
			f.Length("spacing", &c.Spacing, text.Positive)
		case "gap":
			f.Length("gap", &c.Gap, text.Positive)
		case "at":
			c.At = f.Lengths("at", 1, MaxBars, `["10in", "20in"]`, text.NotNegative)
			rd.twice(f, "at", c.At)
		}
		f.Choice("run", &c.Run, 0, "width", "length")
		c.Flat = stand(f)
		f.Choice("set", &c.Set, 0, "bottom", "centre", "top")
		f.Length("offset", &c.Offset, 0)
		f.Length("fit", &c.Fit, text.NotNegative)
		f.Done()
		rd.job.Crossbars = append(rd.job.Crossbars, c)
	}
}

// twice refuses two bars at one place.
func (rd *reader) twice(f *text.Fields, key string, at []measure.Length) {
	seen := map[measure.Length]bool{}
	for i, l := range at {
		if seen[l] {
			f.FaultAt(f.Take(key).Items[i], text.CodeDuplicate, key, "a bar stands at this place already")
		}
		seen[l] = true
	}
}

// spots reads where uprights stand: at, or per_side.
func (rd *reader) spots(f *text.Fields) Spots {
	s := Spots{}
	switch only(f, false, "at", "per_side") {
	case "per_side":
		f.Count("per_side", &s.PerSide, 2, 100, 0)
		return s
	case "at":
		const like = `"corners", "inside-corners" or centres such as [["4in", "4in"], ["4in", "44in"]]`
		v := f.Take("at")
		switch {
		case v.Kind == text.String:
			w, _ := f.ChoiceOf(v, "at", "corners", "inside-corners")
			s.Corners, s.InsideCorners = w == "corners", w == "inside-corners"
		case v.Kind == text.Array && len(v.Items) == 2 && v.Items[0].Kind != text.Array && v.Items[1].Kind != text.Array:
			f.FaultAt(v, text.CodeType, "at", "centres are a list of lists: [%s]", text.Short(v.Raw(), 40))
		default:
			for _, it := range f.ListOf(v, "at", 1, MaxBars, like) {
				if p, ok := point(f, it, "at", 2, `["4in", "4in"]`); ok {
					s.Points = append(s.Points, [2]measure.Length(p))
				}
			}
		}
		return s
	}
	s.Corners = !f.Has("at") && !f.Has("per_side")
	return s
}

// posts reads [[posts]].
func (rd *reader) posts() {
	for _, f := range rd.tables("posts") {
		p := Posts{Where: where(f)}
		rd.rectangleOf(f, "from", &p.From)
		rd.rectangleOf(f, "to", &p.To)
		if p.From != "" && p.From == p.To {
			f.Fault(text.CodeConflict, "to", "posts run between two rectangles; from and to name the same one")
		}
		rd.sectionOf(f, &p.Section)
		f.Bool("through", &p.Through, 0)
		p.At = rd.spots(f)
		f.Length("inset", &p.Inset, text.NotNegative)
		f.Done()
		rd.job.Posts = append(rd.job.Posts, p)
	}
}

// legs reads [[legs]].
func (rd *reader) legs() {
	for _, f := range rd.tables("legs") {
		l := Legs{Where: where(f)}
		rd.rectangleOf(f, "under", &l.Under)
		rd.sectionOf(f, &l.Section)
		switch only(f, true, "surface", "length") {
		case "surface":
			if f.Text("surface", &l.Surface, 0) {
				rd.ref(f, f.Take("surface"), "surface", aSurface, l.Surface)
			}
		case "length":
			f.Length("length", &l.Length, text.Positive)
		}
		l.At = rd.spots(f)
		f.Length("inset", &l.Inset, text.NotNegative)
		if f.Text("pad", &l.Pad, 0) {
			rd.ref(f, f.Take("pad"), "pad", aPlate, l.Pad)
			rd.pad(l.Pad)
		}
		if l.ClearGiven = f.Length("clear", &l.Clear, text.NotNegative); l.ClearGiven && l.Surface == "" && f.Has("length") {
			f.Fault(text.CodeConflict, "clear", "clear is measured to a surface; legs of one length have none")
		}
		f.Length("over", &l.Over, text.NotNegative)
		f.Done()
		rd.job.Legs = append(rd.job.Legs, l)
	}
}

// surfaces reads [surface.NAME].
func (rd *reader) surfaces() {
	all, _ := rd.top.Table("surface")
	for i, name := range all.Keys() {
		if i == MaxTables {
			all.Fault(text.CodeTooMuch, name, "more than %d surfaces; split the job", MaxTables)
			break
		}
		f, given := all.Table(name)
		if !given {
			continue
		}
		s := Surface{Where: where(f), Name: name}
		f.Skip("rise", "centre", "top", "smooth", "slope")
		switch only(f, true, "chord", "points", "level") {
		case "chord":
			a := f.Length("chord", &s.Chord, text.Positive)
			b := f.Length("rise", &s.Rise, text.Positive)
			if !f.Has("rise") { // not needed as such: a floor has none
				f.Fault(text.CodeMissing, "rise", "rise is missing")
			}
			if a && b && 2*s.Rise > s.Chord {
				f.Fault(text.CodeValue, "rise", "the rise is more than half the chord; that is more than half a circle")
			}
			if !f.Length("centre", &s.Centre, 0) && !f.Has("centre") {
				f.Warn(text.CodeMissing, "centre", "centre is left out; the arc's middle is taken to lie at y = 0")
			}
			s.TopGiven = f.Length("top", &s.Top, 0)
		case "points":
			rd.offsets(f, &s)
			f.Choice("smooth", &s.Smooth, 0, "circle", "cylinder", "spline")
			s.TopGiven = f.Length("top", &s.Top, 0)
		case "level":
			s.IsLevel = f.Length("level", &s.Level, 0)
		}
		for _, k := range []string{"rise", "centre"} {
			if f.Has(k) && !f.Has("chord") {
				f.Fault(text.CodeConflict, k, "%s goes with chord = only", k)
			}
		}
		if f.Has("top") && f.Has("level") {
			f.Fault(text.CodeConflict, "top", "level says how high the floor is; take top out")
		}
		if f.Has("smooth") && !f.Has("points") {
			f.Fault(text.CodeConflict, "smooth", "smooth goes with points = only")
		}
		if f.Angle("slope", &s.Slope, 0) && (s.Slope >= 45 || s.Slope <= -45) {
			f.Fault(text.CodeValue, "slope", `steeper than a roof; a slope is rise:run, such as "1:40"`)
		}
		f.Done()
		rd.job.Surfaces = append(rd.job.Surfaces, s)
	}
}

// offsets reads the measured points of a surface.
func (rd *reader) offsets(f *text.Fields, s *Surface) {
	const like = `[[0, 0], ["10in", "1/2in"], ["20in", "5/8in"]] as [y, z], or [x, y, z]`
	n := 0
	for _, v := range f.List("points", 3, MaxPoints, like, 0) {
		if v.Kind != text.Array || len(v.Items) < 2 || len(v.Items) > 3 {
			f.FaultAt(v, text.CodeType, "points", "each point is a list of its own: %s", like)
			return
		}
		if n == 0 {
			n = len(v.Items)
		}
		if len(v.Items) != n {
			f.FaultAt(v, text.CodeValue, "points", "this point has %d numbers and those before have %d", len(v.Items), n)
			return
		}
		p, ok := point(f, v, "points", n, like)
		if !ok {
			return
		}
		for _, q := range s.Points {
			if n == 2 && q[0] == p[0] || n == 3 && q[0] == p[0] && q[1] == p[1] {
				f.FaultAt(v, text.CodeDuplicate, "points", "this place is measured twice")
				return
			}
		}
		s.Points = append(s.Points, p)
	}
}
