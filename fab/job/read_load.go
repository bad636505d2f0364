package job

import (
	"math"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

const likeMembers = `["lower.x1", "lower bars"]`

// namesOf reads names of members, groups and marks; the rooms that know the frame look them up.
func namesOf(f *text.Fields, key, like string) (out []Name) {
	for _, v := range words(f, key, like) {
		n := nameAt(f, key, v)
		if n.Text == "" {
			f.FaultAt(v, text.CodeValue, key, "a name belongs here: %s", like)
			continue
		}
		out = append(out, n)
	}
	return out
}

// nameAt gives a name with its own place.
func nameAt(f *text.Fields, key string, v *text.Value) Name {
	w := where(f)
	w.Line, w.Column = v.Line(), 0
	w.Key = f.Path() + "." + key
	return Name{w, trimmed(v.Text)}
}

func needNames(f *text.Fields, key, like string) []Name {
	if !f.Has(key) {
		f.Take(key)
		f.Fault(text.CodeMissing, key, "%s is missing: names of members or groups, such as %s", key, like)
		return nil
	}
	out := namesOf(f, key, like)
	if v := f.Find(key); len(out) == 0 && v.Kind == text.Array && len(v.Items) == 0 {
		f.Fault(text.CodeValue, key, "the list is empty; it names members or groups, such as %s", like)
	}
	return out
}

var directions = map[string][3]float64{"down": {0, 0, -1}, "up": {0, 0, 1}, "+x": {1, 0, 0}, "-x": {-1, 0, 0}, "+y": {0, 1, 0}, "-y": {0, -1, 0}, "+z": {0, 0, 1}, "-z": {0, 0, -1}}

// direction reads a direction: a word, or three figures.
func direction(f *text.Fields, key string, to *[3]float64, list ...string) {
	v := f.Find(key)
	if v == nil {
		f.Take(key)
		return
	}
	if v.Kind != text.Array {
		var w string
		if f.Choice(key, &w, 0, list...) {
			*to = directions[w]
		}
		return
	}
	var d [3]float64
	ok := true
	items := f.List(key, 3, 3, "[0, 0, -1]", 0)
	for i, it := range items {
		x, good := text.QuantityOf(f, it, key, 0, measure.ParseNumber)
		d[i], ok = x, ok && good
	}
	n := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
	switch {
	case items == nil || !ok:
	case n == 0:
		f.FaultAt(v, text.CodeValue, key, "three zeros are no direction; write [0, 0, -1] for down")
	default:
		*to = [3]float64{d[0] / n, d[1] / n, d[2] / n}
	}
}

// loads reads [[load]].
func (rd *reader) loads() {
	for _, f := range rd.tables("load") {
		l := Load{Where: where(f), Case: "live", Factor: 1, Dir: directions["down"]}
		l.On = needNames(f, "on", likeMembers)
		if v := f.Take("load"); v == nil {
			f.Fault(text.CodeMissing, "load", `load is missing: "20psf", "30plf" or "150lb"`)
		} else if s, ok := f.TextOf(v, "load"); ok {
			x, err := measure.ParseLoad(s)
			switch {
			case err != nil:
				f.FaultAt(v, text.CodeValue, "load", "%v", err)
			case x.Value < 0:
				f.FaultAt(v, text.CodeValue, "load", "%s cannot be: a load is zero or more; dir says where it points", text.Short(v.Raw(), 40))
			}
			l.Load = x
		}
		f.Name("case", &l.Case, "", 0)
		f.Number("factor", &l.Factor, text.NotNegative)
		l.AtGiven = f.Length("at", &l.At, text.NotNegative)
		f.Length("from", &l.From, text.NotNegative)
		if f.Length("to", &l.To, text.Positive) && l.To <= l.From {
			f.Fault(text.CodeValue, "to", "to lies at or before from; both are measured from the member's start")
		}
		f.Length("width", &l.Width, text.Positive)
		f.Bool("total", &l.Total, 0)
		direction(f, "dir", &l.Dir, "down", "up", "+x", "-x", "+y", "-y", "+z", "-z")
		l.Rides = l.Dir == directions["down"]
		f.Bool("rides", &l.Rides, 0)
		point := l.Load.Kind == measure.PointLoad
		switch {
		case l.AtGiven && !point:
			f.Fault(text.CodeConflict, "at", "at goes with a point load; a line or area load takes from and to")
		case (f.Has("from") || f.Has("to")) && point:
			f.Fault(text.CodeConflict, "from", "from and to go with a line or area load; a point load takes at")
		case f.Has("width") && l.Load.Kind != measure.AreaLoad:
			f.Fault(text.CodeConflict, "width", "width goes with an area load, such as 20psf")
		case l.Total && (!point || l.AtGiven):
			f.Fault(text.CodeConflict, "total", "total shares a point load among all the members named; it goes without at")
		}
		f.Done()
		rd.job.Loads = append(rd.job.Loads, l)
	}
}

// supports reads [[support]].
func (rd *reader) supports() {
	const like = `["lower legs"]`
	for _, f := range rd.tables("support") {
		s := Support{Where: where(f)}
		s.At = needNames(f, "at", like)
		fix := "xyz"
		given := f.Text("fix", &fix, 0)
		sub, springs := f.Table("spring")
		if springs {
			for i, k := range []string{"x", "y", "z"} {
				if v := sub.Take(k); v != nil {
					t, ok := sub.TextOf(v, k)
					if !ok {
						continue
					}
					x, err := measure.ParseLoad(t)
					if err != nil || x.Kind != measure.LineLoad || x.Value <= 0 {
						sub.FaultAt(v, text.CodeValue, k, `%s is no stiffness; write a force for a length, such as "200N/mm" or "500lb/in"`, text.Short(v.Raw(), 40))
						continue
					}
					s.Spring[i] = x.Value
				}
			}
			sub.Done()
			if !given {
				fix = ""
			}
		}
		if fix == "all" {
			fix = "xyzXYZ"
		}
		for _, c := range fix {
			d := strings.IndexRune("xyzXYZ", c)
			if d < 0 {
				f.Fault(text.CodeValue, "fix", "%q is none of the letters xyz (held along) and XYZ (held about)", c)
				break
			}
			s.Fix[d] = true
		}
		if fix == "" && !springs {
			f.Fault(text.CodeValue, "fix", `it holds nothing; any of the letters "xyzXYZ" belong here, or "all"`)
		}
		f.Text("name", &s.Name, 0)
		f.Done()
		rd.job.Supports = append(rd.job.Supports, s)
	}
}

// rides are the standards that [[combination]] knows by name; the values are hold's.
var rides = []string{"49 CFR 393.102(a)(1)", "49 CFR 393.102(a)(2)"}

// combinations reads [[combination]].
func (rd *reader) combinations() {
	cases := map[string]bool{}
	var known []string
	for _, l := range rd.job.Loads {
		if !cases[l.Case] {
			cases[l.Case] = true
			known = append(known, l.Case)
		}
	}
	for i, f := range rd.tables("combination") {
		c := Combination{Where: where(f), Weight: 1, Forward: directions["+x"], Name: "combination " + strconv.Itoa(i+1)}
		f.Text("name", &c.Name, 0)
		sub, _ := f.Table("cases")
		for _, k := range sub.Keys() {
			x := CaseFactor{Case: k}
			if sub.Number(k, &x.Factor, text.NotNegative) {
				c.Cases = append(c.Cases, x)
			}
			if !cases[k] {
				sub.Fault(text.CodeName, k, "no [[load]] has case = %q; there are: %s", text.Short(k, 40), text.List(known))
			}
		}
		sub.Done()
		f.Number("weight", &c.Weight, text.NotNegative)
		for j, v := range f.List("g", 3, 3, "[0.5, 0, 0]", 0) {
			if x, ok := text.QuantityOf(f, v, "g", 0, measure.ParseNumber); ok {
				c.G[j] = x
				if math.Abs(x) > 100 {
					f.FaultAt(v, text.CodeValue, "g", "%g g is more than any road gives; write a share of the weight, such as 0.5", x)
				}
			}
		}
		f.Choice("ride", &c.Ride, 0, rides...)
		direction(f, "forward", &c.Forward, "+x", "-x", "+y", "-y")
		if c.Ride != "" && f.Has("g") {
			f.Fault(text.CodeConflict, "g", "ride sets the accelerations; take g or ride out")
		}
		f.Done()
		rd.job.Combinations = append(rd.job.Combinations, c)
	}
}

// check reads [check].
func (rd *reader) check() {
	f, _ := rd.top.Table("check")
	c := Check{Where: where(f), SagOver: 240, ElectrodeKSI: 70, SquareClass: "B"}
	if v := f.Take("sag"); v != nil {
		t := strings.TrimPrefix(strings.TrimPrefix(strings.ToUpper(strings.TrimSpace(v.Text)), "L"), "/")
		x, err := strconv.ParseFloat(strings.TrimSpace(t), 64)
		if err != nil || !(x >= 10) || x > 10000 {
			f.FaultAt(v, text.CodeValue, "sag", `%s is no limit of sag; write "L/240" or 240`, text.Short(v.Raw(), 40))
		} else {
			c.SagOver = x
		}
	}
	if f.Number("k", &c.K, text.Positive) && c.K > 10 {
		f.Fault(text.CodeValue, "k", "an effective length factor lies between 0.5 and about 2.1")
	}
	if f.Number("electrode", &c.ElectrodeKSI, text.Positive) && (c.ElectrodeKSI < 40 || c.ElectrodeKSI > 130) {
		f.Fault(text.CodeValue, "electrode", "weld metal has 60 to 120 ksi; E70 is 70")
	}
	rd.square(f, &c)
	f.Done()
	rd.job.Check = c
}
