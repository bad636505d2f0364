package sum

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/hold/stiffness"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// frameSum reads a frame from a TOML file and solves it. Units are whatever consistent set the file uses.
func frameSum(a *Args) (Result, error) {
	var r Result
	doc, ps := text.Parse(a.Name, a.Text)
	rd := text.NewReading(a.Name)
	for _, p := range ps {
		rd.Add(p)
	}
	if doc == nil || rd.Failed() {
		return r, problems(rd)
	}
	f := &frameFile{model: &stiffness.Model{}, nodes: map[string]int{}, bars: map[string]int{}}
	f.read(rd.Top(doc))
	if rd.Failed() {
		return r, problems(rd)
	}
	sys, err := stiffness.NewSystem(f.model)
	if err != nil {
		return r, err
	}
	res, err := sys.Solve(f.load)
	if err != nil {
		return r, err
	}
	nodes := map[string][6]float64{}
	for i, u := range res.U {
		nodes[f.model.Nodes[i].ID] = u
	}
	reactions := map[string][6]float64{}
	for _, q := range res.Reactions {
		reactions[f.model.Nodes[q.Node].ID] = q.F
	}
	type ends struct {
		From [6]float64 `json:"from"`
		To   [6]float64 `json:"to"`
	}
	bars := map[string]ends{}
	for i, e := range res.Ends {
		bars[f.model.Bars[i].ID] = ends{[6]float64(e[:6]), [6]float64(e[6:])}
	}
	r.Add("nodes", nodes)
	r.Add("reactions", reactions)
	r.Add("bars", bars)
	r.Figures = append(r.Figures, figure.Found("frame.imbalance", "loads and reactions together, as a share of the loads", res.Imbalance, "", "x",
		figure.Source{Kind: figure.Computed, Text: "direct stiffness method; the sum of loads and reactions, forces and moments, must vanish"}, figure.In("x", "what is left over", res.Imbalance, "", "")))
	r.Notes = append(r.Notes, "nodes: displacements along x y z and rotations about them; reactions: force and moment that the support gives, global axes;"+
		" bars: force and moment that the joints give to the bar's ends, in the bar's own axes x' y' z'; shear deformation left out")
	return r, nil
}

func problems(rd *text.Reading) error {
	var lines []string
	for _, p := range rd.Problems() {
		lines = append(lines, p.String())
	}
	return errors.New(strings.Join(lines, "\n"))
}

type frameFile struct {
	model       *stiffness.Model
	load        stiffness.Case
	nodes, bars map[string]int
}

func (f *frameFile) read(top *text.Fields) {
	m := f.model
	for i, t := range top.Tables("node") {
		var n stiffness.Node
		n.ID = identity(t, "id", i+1)
		if _, twice := f.nodes[n.ID]; twice {
			t.Fault(text.CodeValue, "id", "there are two nodes called %s", n.ID)
		}
		f.nodes[n.ID] = len(m.Nodes)
		vector(t, "at", 3, text.Need, n.At[:])
		fixed(t, "fix", n.Fix[:])
		vector(t, "spring", 6, text.NotNegative, n.Spring[:])
		if vector(t, "settle", 6, 0, n.Settle[:]) {
			f.load.Settle = 1
		}
		m.Nodes = append(m.Nodes, n)
		t.Done()
	}
	for i, t := range top.Tables("bar") {
		var b stiffness.Bar
		b.ID = identity(t, "id", i+1)
		if _, twice := f.bars[b.ID]; twice {
			t.Fault(text.CodeValue, "id", "there are two bars called %s", b.ID)
		}
		f.bars[b.ID] = len(m.Bars)
		b.From, b.To = f.look(t, "from", f.nodes, "node"), f.look(t, "to", f.nodes, "node")
		for _, q := range []struct {
			key   string
			to    *float64
			rules text.Rule
		}{{"a", &b.A, text.Need | text.Positive}, {"iy", &b.Iy, text.Need | text.NotNegative}, {"iz", &b.Iz, text.Need | text.NotNegative}, {"j", &b.J, text.Need | text.NotNegative},
			{"e", &b.E, text.Need | text.Positive}, {"g", &b.G, text.Need | text.NotNegative}, {"mass", &b.Mass, text.NotNegative},
			{"asy", &b.ShearY, text.NotNegative}, {"asz", &b.ShearZ, text.NotNegative}} {
			number(t, q.key, q.to, q.rules)
		}
		vector(t, "up", 3, 0, b.Up[:])
		vector(t, "offset_from", 3, 0, b.OffsetFrom[:])
		vector(t, "offset_to", 3, 0, b.OffsetTo[:])
		release(t, &b.Release)
		m.Bars = append(m.Bars, b)
		t.Done()
	}
	for _, t := range top.Tables("force") {
		var l stiffness.JointLoad
		l.Node = f.look(t, "node", f.nodes, "node")
		some := vector(t, "f", 3, 0, l.F[:])
		if !vector(t, "m", 3, 0, l.M[:]) && !some {
			t.Fault(text.CodeMissing, "f", "give f = [fx, fy, fz] or m = [mx, my, mz]")
		}
		f.load.Joints = append(f.load.Joints, l)
		t.Done()
	}
	for _, t := range top.Tables("spread") {
		var l stiffness.Spread
		l.Bar = f.look(t, "bar", f.bars, "bar")
		vector(t, "w", 3, text.Need, l.W0[:])
		l.W1 = l.W0
		vector(t, "w_to", 3, 0, l.W1[:])
		if t.Has("to") {
			number(t, "to", &l.To, text.NotNegative)
		} else if t.Take("to"); l.Bar < len(m.Bars) && good(m, l.Bar) {
			l.To = m.Length(l.Bar)
		}
		number(t, "from", &l.From, text.NotNegative)
		f.load.Spreads = append(f.load.Spreads, l)
		t.Done()
	}
	for _, t := range top.Tables("point") {
		var l stiffness.Point
		l.Bar = f.look(t, "bar", f.bars, "bar")
		number(t, "at", &l.At, text.Need|text.NotNegative)
		vector(t, "f", 3, 0, l.F[:])
		vector(t, "m", 3, 0, l.M[:])
		f.load.Points = append(f.load.Points, l)
		t.Done()
	}
	vector(top, "gravity", 3, 0, f.load.Gravity[:])
	var title string
	top.Text("title", &title, 0)
	top.Done()
}

func good(m *stiffness.Model, i int) bool {
	b := m.Bars[i]
	return b.From >= 0 && b.From < len(m.Nodes) && b.To >= 0 && b.To < len(m.Nodes)
}

// identity reads a name, which may be written as a number.
func identity(t *text.Fields, key string, n int) string {
	v := t.Take(key)
	switch {
	case v == nil:
		return fmt.Sprint(n)
	case v.Kind == text.String || v.Kind == text.Integer || v.Kind == text.Float:
		if strings.TrimSpace(v.Text) != "" {
			return v.Text
		}
		fallthrough
	default:
		t.FaultAt(v, text.CodeValue, key, "a name belongs here, such as \"a\" or 1")
	}
	return fmt.Sprint(n)
}

func (f *frameFile) look(t *text.Fields, key string, names map[string]int, kind string) int {
	v := t.Take(key)
	if v == nil {
		t.Fault(text.CodeMissing, key, "%s is missing: the id of a %s", key, kind)
		return 0
	}
	if i, ok := names[v.Text]; ok && v.Kind != text.Array && v.Kind != text.TableKind {
		return i
	}
	t.FaultAt(v, text.CodeValue, key, "there is no %s %q", kind, v.Text)
	return 0
}

func number(t *text.Fields, key string, to *float64, rules text.Rule) bool {
	return text.Quantity(t, key, to, rules, plainNumber)
}

// plainNumber reads a number in any of the forms that TOML has.
func plainNumber(s string) (float64, error) {
	if x, err := strconv.ParseFloat(strings.TrimSpace(s), 64); err == nil {
		return x, nil
	}
	return measure.ParseNumber(s)
}

// vector reads a list of n numbers; false where the key is missing.
func vector(t *text.Fields, key string, n int, rules text.Rule, to []float64) bool {
	list := t.List(key, n, n, fmt.Sprintf("%d numbers", n), rules)
	for i, v := range list {
		if x, ok := text.QuantityOf(t, v, key, rules&^text.Need, plainNumber); ok {
			to[i] = x
		}
	}
	return list != nil
}

const freedoms = "xyzXYZ"

func letters(t *text.Fields, v *text.Value, key, word string, to []bool) {
	for _, c := range word {
		d := strings.IndexRune(freedoms, c)
		if d < 0 {
			t.FaultAt(v, text.CodeValue, key, "%q is none of the letters xyz (along) and XYZ (about)", c)
			return
		}
		to[d] = true
	}
}

func fixed(t *text.Fields, key string, to []bool) {
	v := t.Take(key)
	switch {
	case v == nil:
	case v.Kind != text.String:
		t.FaultAt(v, text.CodeType, key, "letters belong here: any of \"xyzXYZ\"")
	default:
		letters(t, v, key, strings.TrimSpace(v.Text), to)
	}
}

// release reads which ends are let go, in the bar's own axes: ["YZ", "Z"] for the two ends, "YZ" for both,
// "from:YZ to:Z", {from = "YZ", to = "Z"}, or twelve figures or truths.
func release(t *text.Fields, to *[12]bool) {
	const key, how = "release", howRelease
	v := t.Take(key)
	if v == nil {
		return
	}
	switch v.Kind {
	case text.String:
		releaseWords(t, v, v.Text, to)
	case text.Array:
		if len(v.Items) == 12 {
			for i, x := range v.Items {
				switch {
				case x.Kind == text.Bool:
					to[i] = x.Text == "true"
				case x.Kind == text.Integer && (x.Text == "0" || x.Text == "1"):
					to[i] = x.Text == "1"
				default:
					t.FaultAt(x, text.CodeType, key, "%s", how)
				}
			}
			return
		}
		named := false
		for _, x := range v.Items {
			named = named || x.Kind == text.String && strings.ContainsAny(x.Text, ":.=ft")
		}
		if named { // ["from:Y", "to:YZ"]
			for _, x := range v.Items {
				releaseWords(t, x, x.Text, to)
			}
			return
		}
		if len(v.Items) != 2 {
			t.FaultAt(v, text.CodeValue, key, "%s", how)
			return
		}
		for i, x := range v.Items {
			half := to[6*i : 6*i+6]
			switch {
			case x.Kind == text.String:
				letters(t, x, key, strings.TrimSpace(x.Text), half)
			case x.Kind == text.Array && len(x.Items) == 6:
				for d, y := range x.Items {
					half[d] = y.Text == "true" || y.Text == "1"
				}
			case x.Kind == text.Array:
				for _, y := range x.Items {
					letters(t, y, key, y.Text, half)
				}
			default:
				t.FaultAt(x, text.CodeType, key, "%s", how)
			}
		}
	case text.TableKind:
		sub, _ := t.Table(key)
		fixed(sub, "from", to[:6])
		fixed(sub, "to", to[6:])
		sub.Done()
	default:
		t.FaultAt(v, text.CodeType, key, "%s", how)
	}
}

const howRelease = "write [\"YZ\", \"\"]: letters for the from end and for the to end, in the bar's own axes"

// releaseWords reads "YZ" (both ends), "from:YZ to:Z", "from", "both".
func releaseWords(t *text.Fields, v *text.Value, word string, to *[12]bool) {
	for _, w := range strings.FieldsFunc(word, func(r rune) bool { return strings.ContainsRune(" ,;/|", r) }) {
		end, l, two := strings.Cut(strings.NewReplacer("=", ":", ".", ":").Replace(w), ":")
		if !two {
			switch end {
			case "from", "start", "to", "end", "both", "pin", "pinned":
				l = "YZ"
			default:
				end, l = "both", end
			}
		}
		switch end {
		case "from", "start":
			letters(t, v, "release", l, to[:6])
		case "to", "end":
			letters(t, v, "release", l, to[6:])
		case "both", "pin", "pinned":
			letters(t, v, "release", l, to[:6])
			letters(t, v, "release", l, to[6:])
		default:
			t.FaultAt(v, text.CodeValue, "release", "%q is not understood; %s", w, howRelease)
		}
	}
}
