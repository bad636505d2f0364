package job

import (
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// members reads [[member]].
func (rd *reader) members() {
	for _, f := range rd.tables("member") {
		m := Member{Where: where(f), Ends: [2]string{"auto", "auto"}}
		rd.name(f, &m.Name)
		rd.sectionOf(f, &m.Section)
		from := rd.place(f, "from", &m.From)
		to := rd.place(f, "to", &m.To)
		if from && to && m.From == m.To {
			f.Fault(text.CodeValue, "to", "from and to are the same place; the member has no length")
		}
		f.Angle("roll", &m.Roll, 0)
		const kinds = `["auto", "square"]`
		for i, v := range f.List("ends", 2, 2, kinds, 0) {
			if w, ok := f.ChoiceOf(v, "ends", "auto", "square", "mitre", "butt", "point", "cope", "level", "plumb", "free"); ok {
				m.Ends[i] = w
			}
		}
		f.Length("over", &m.Over, text.NotNegative)
		f.Bool("lap", &m.Lap, 0)
		m.Holes = rd.holes(f)
		f.Done()
		rd.bodies = append(rd.bodies, f)
		rd.job.Members = append(rd.job.Members, m)
	}
}

// place reads a point in space, or a named place on a member: "lower.x1@24in".
func (rd *reader) place(f *text.Fields, key string, to *Place) bool {
	v := f.Take(key)
	if v == nil {
		f.Fault(text.CodeMissing, key, `%s is missing: a point such as [0, 0, "24in"], or a place such as "lower.x1@24in"`, key)
		return false
	}
	if v.Kind != text.String {
		p, ok := point(f, v, key, 3, threeLengths+` or a place such as "lower.x1@24in"`)
		if ok {
			to.Point = [3]measure.Length(p)
		}
		return ok
	}
	name, along, given := strings.Cut(v.Text, "@")
	to.On = trimmed(name)
	rd.ref(f, v, key, aMember, to.On)
	if !given {
		return true
	}
	l, err := measure.ParseLength(along, v.Doc().Unit)
	switch {
	case err != nil:
		f.FaultAt(v, text.CodeValue, key, "behind the @: %s", err)
		return false
	case l < 0:
		f.FaultAt(v, text.CodeValue, key, "behind the @ stands how far along the member, zero or more")
		return false
	}
	to.Along, to.AlongGiven = l, true
	return true
}

// holes reads the holes of a member or piece: lengths along it.
func (rd *reader) holes(f *text.Fields) (out []Hole) {
	const like = `[ {at = "3in", face = "depth", size = "13/32"} ]`
	for i, v := range f.List("holes", 0, MaxPoints, like, 0) {
		if v.Kind != text.TableKind {
			f.FaultAt(v, text.CodeType, "holes", "this is %s; a hole is a table: %s", v.Kind, like)
			continue
		}
		g := f.Inside(v, "holes", i+1)
		h := Hole{Face: "depth"}
		g.Length("at", &h.At[0], text.Need|text.NotNegative)
		g.Choice("face", &h.Face, 0, "depth", "width")
		g.Length("size", &h.Size, text.Need|text.Positive)
		g.Bool("through", &h.Through, 0)
		g.Done()
		out = append(out, h)
	}
	return out
}

// pieces reads [[piece]].
func (rd *reader) pieces() {
	marks := map[string]int{}
	for _, f := range rd.tables("piece") {
		p := Piece{Where: where(f), Qty: 1, Across: "depth"}
		if f.Name("mark", &p.Mark, banned, 0) {
			if line, there := marks[p.Mark]; there {
				f.Fault(text.CodeDuplicate, "mark", "the piece on line %d has the mark %s already; give this one another, or leave it out", line, text.Short(p.Mark, 40))
			} else {
				marks[p.Mark] = p.Where.Line
			}
		}
		rd.sectionOf(f, &p.Section)
		f.Length("length", &p.Length, text.Need|text.Positive)
		f.Count("qty", &p.Qty, 1, MaxQty, 0)
		angles(f, "ends", &p.Ends, 85)
		f.Choice("across", &p.Across, 0, "depth", "width")
		f.Length("over", &p.Over, text.NotNegative)
		p.Holes = rd.holes(f)
		for i, h := range p.Holes {
			if p.Length > 0 && h.At[0] > p.Length {
				f.FaultAt(f.Take("holes").Items[i], text.CodeValue, "holes", "this hole is beyond the end of the piece")
			}
		}
		f.Name("same_stick", &p.SameStick, "", 0)
		f.Done()
		rd.job.Pieces = append(rd.job.Pieces, p)
	}
}

// plates reads [[plate]].
func (rd *reader) plates() {
	lines := map[string]int{}
	for _, f := range rd.tables("plate") {
		p := Plate{Where: where(f)}
		if f.Name("name", &p.Name, "", text.Need) {
			if line, there := lines[p.Name]; there {
				f.Fault(text.CodeDuplicate, "name", "the plate on line %d is called %s already", line, text.Short(p.Name, 40))
			}
			lines[p.Name] = p.Where.Line
		}
		const like = `"4 x 4 x 1/4" (length x width x thickness)`
		if v := f.Take("size"); v == nil {
			f.Fault(text.CodeMissing, "size", "size is missing: %s", like)
		} else if s, ok := rd.sizeOf(f, v, "size", 3, like); ok {
			p.Size = [3]measure.Length(s)
		}
		for _, v := range words(f, "at", `["lower corners"]`) {
			p.At = append(p.At, v.Text)
			rd.ref(f, v, "at", aSpot, v.Text)
		}
		if f.Count("qty", &p.Qty, 1, MaxQty, 0) && len(p.At) > 0 {
			f.Fault(text.CodeConflict, "qty", "the places in at = say how many there are; take qty or at out")
		} else if p.Qty == 0 && len(p.At) == 0 && !f.Has("at") && !f.Has("qty") && !rd.pads[p.Name] {
			p.Qty = 1
		}
		rd.plateHoles(f, &p)
		f.Text("grade", &p.Grade, 0)
		f.Money("price", &p.Price, 0)
		f.Done()
		rd.job.Plates = append(rd.job.Plates, p)
	}
}

// plateHoles reads a plate's holes, each within the plate.
func (rd *reader) plateHoles(f *text.Fields, p *Plate) {
	const like = `[ {at = ["2in", "2in"], size = "9/16"} ]`
	for i, v := range f.List("holes", 0, MaxPoints, like, 0) {
		if v.Kind != text.TableKind {
			f.FaultAt(v, text.CodeType, "holes", "this is %s; a hole is a table: %s", v.Kind, like)
			continue
		}
		g := f.Inside(v, "holes", i+1)
		h := Hole{Through: true}
		if at := g.Take("at"); at == nil {
			g.Fault(text.CodeMissing, "at", "at is missing: where the hole's centre is, from the plate's corner: %s", like)
		} else if xy, ok := point(g, at, "at", 2, `["2in", "2in"]`); ok {
			h.At = [2]measure.Length(xy)
			if p.Size[0] > 0 && (xy[0] < 0 || xy[1] < 0 || xy[0] > p.Size[0] || xy[1] > p.Size[1]) {
				g.Fault(text.CodeValue, "at", "this hole is outside the plate")
			}
		}
		g.Length("size", &h.Size, text.Need|text.Positive)
		g.Done()
		p.Holes = append(p.Holes, h)
	}
}

// items reads [[item]].
func (rd *reader) items() {
	for _, f := range rd.tables("item") {
		it := Item{Where: where(f), Qty: 1}
		f.Name("name", &it.Name, "", text.Need)
		f.Count("qty", &it.Qty, 1, MaxQty, 0)
		text.Quantity(f, "mass", &it.MassKG, text.NotNegative, measure.ParseMass)
		it.Priced = f.Money("price", &it.Price, 0)
		for _, v := range words(f, "at", `["lower.x1"]`) {
			it.At = append(it.At, v.Text)
			rd.ref(f, v, "at", aSpot, v.Text)
		}
		f.Done()
		rd.job.Items = append(rd.job.Items, it)
	}
}

// joints reads [[joint]].
func (rd *reader) joints() {
	for _, f := range rd.tables("joint") {
		j := Joint{Where: where(f)}
		for _, v := range f.List("between", 2, 2, `["lower.x1", "lower.bar3"]`, text.Need) {
			if s, ok := f.TextOf(v, "between"); ok {
				j.Between = append(j.Between, s)
				rd.ref(f, v, "between", aMember, s)
			}
		}
		if len(j.Between) == 2 && j.Between[0] == j.Between[1] && !IsMark(j.Between[0]) {
			f.Fault(text.CodeValue, "between", "a joint is between two members; this names one twice")
		}
		rd.sides(f, &j)
		f.Length("fillet", &j.Fillet, text.Positive)
		f.Count("passes", &j.Passes, 1, 50, 0)
		if f.Text("pattern", &j.Pattern, 0) {
			rd.pattern(f, j.Pattern)
		}
		j.GapGiven = f.Length("gap", &j.Gap, text.NotNegative)
		f.Bool("dress", &j.Dress, 0)
		f.Choice("kind", &j.Kind, 0, "corner", "tee", "lap", "loose")
		f.Bool("tack", &j.Tack, 0)
		f.Done()
		rd.job.Joints = append(rd.job.Joints, j)
	}
}

// pattern checks an intermittent weld: length of each part and pitch from centre to centre, as welding symbols give them
// (AWS A2.4, EN ISO 2553).
func (rd *reader) pattern(f *text.Fields, s string) {
	v := f.Take("pattern")
	bad := func(why string) {
		f.FaultAt(v, text.CodeValue, "pattern", `%s; a pattern is the length of each part and their pitch: "2-6"`, why)
	}
	i := strings.LastIndexByte(s, '-')
	if i < 0 {
		bad("the - between two lengths is missing")
		return
	}
	a, err := measure.ParseLength(s[:i], v.Doc().Unit)
	if err != nil {
		bad(err.Error())
		return
	}
	b, err := measure.ParseLength(s[i+1:], v.Doc().Unit)
	switch {
	case err != nil:
		bad(err.Error())
	case a <= 0:
		bad("a part of no length")
	case b <= a:
		bad("the pitch must be more than the length of a part")
	}
}
