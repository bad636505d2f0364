package plan

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// Sources of what this room adds up.
var (
	tipSource   = figure.Source{Kind: figure.Geometry, Text: "tips of a prism cut by its end planes: the section's outline laid along the centre line (contract, 'Ends')"}
	slopeSource = figure.Source{Kind: figure.Geometry, Text: "slope of the cut plane against a square cut, as an angle"}
	bevelSource = figure.Source{Kind: figure.Geometry, Text: "lean of the plane against the across face, square to the mitre line"}
	massSource  = figure.Source{Kind: figure.Geometry, Text: "a prism between two planes weighs what its line of centroids is long (Pappus)"}
	stickSource = figure.Source{Kind: figure.Common, Text: "what a stick holds: pieces, kerfs, trims (contract, 'What a stick holds')"}
	sumSource   = figure.Source{Kind: figure.Geometry, Text: "sum of the parts"}
	moneySource = figure.Source{Kind: figure.Shop, Text: "prices of the job file"}
	proofSource = figure.Source{Kind: figure.Computed, Text: "cutting-stock problem (Gilmore and Gomory 1961): dual bound in whole numbers, raised to the next total that stick prices can add to; the search shows that nothing lies between"}
	timeSource  = figure.Source{Kind: figure.Common, Text: "rates of a small bandsaw, the shop's to replace ([labour])"}
)

// nanometre is what lengths are rounded to, in mm.
const nanometre = 1e-6

// Figures gives every figure of the plan with its working. They are made when asked for, from the same values that the
// plan prints.
func (p *Plan) Figures() []figure.Figure {
	if p.Failed() {
		return nil
	}
	var fs []figure.Figure
	fs = append(fs, p.sectionFigures()...)
	for i := range p.Pieces {
		fs = append(fs, p.pieceFigures(&p.Pieces[i])...)
	}
	fs = append(fs, p.fitFigures()...)
	fs = append(fs, p.massFigure())
	for i := range p.Nests {
		fs = append(fs, p.nestFigures(&p.Nests[i])...)
	}
	fs = append(fs, p.haulFigures()...)
	fs = append(fs, p.buyFigures()...)
	fs = append(fs, p.sawFigures()...)
	if p.Weld != nil {
		fs = append(fs, p.Weld.Figures...)
		for k := range p.Weld.Seams {
			fs = append(fs, p.Weld.SeamFigures(k)...)
		}
	}
	if p.Mass != nil {
		fs = append(fs, p.Mass.Figures("mass.")...)
	}
	for i := range p.Bolts {
		fs = append(fs, p.Bolts[i].Figures...)
	}
	if p.Loads != nil {
		for _, m := range p.Loads.Members {
			fs = append(fs, m.Figure)
			if m.SagFigure.ID != "" {
				fs = append(fs, m.SagFigure)
			}
		}
	}
	if p.Lift != nil {
		fs = append(fs, p.Lift.Figures...)
	}
	fs = append(fs, p.tradeFigures()...)
	return fs
}

// FindFigure gives the figure of that ID; where there is none, the IDs that come near.
func FindFigure(fs []figure.Figure, id string) (figure.Figure, []string, bool) {
	var near []string
	for _, f := range fs {
		if f.ID == id {
			return f, nil, true
		}
		if strings.HasPrefix(f.ID, id) || strings.HasPrefix(id, f.ID) {
			near = append(near, f.ID)
		}
	}
	if word := strings.ToLower(strings.TrimSpace(id)); len(near) == 0 && len(word) > 2 {
		for _, f := range fs {
			if strings.Contains(strings.ToLower(f.ID), word) || strings.Contains(strings.ToLower(f.Name), word) {
				near = append(near, f.ID)
			}
		}
	}
	if len(near) == 0 {
		ids := make([]string, len(fs))
		for i, f := range fs {
			ids[i] = f.ID
		}
		if n := text.Nearest(id, ids); n != "" {
			near = append(near, n)
		}
	}
	return figure.Figure{}, near, false
}

func (p *Plan) sectionFigures() []figure.Figure {
	var fs []figure.Figure
	for _, s := range p.Job.Sections {
		fs = append(fs, p.Sections[s.Name].Figures("section."+s.Name+".", steel.Nominal)...)
	}
	return fs
}

func (p *Plan) pieceFigures(x *piece.Piece) []figure.Figure {
	id := "piece." + x.Mark + "."
	line := fmt.Sprintf("line %d of the job", x.Where.Line)
	var fs []figure.Figure
	if len(x.Indices) == 0 {
		fs = append(fs, figure.New(id+"length", x.Mark+" from tip to tip", "mm", "l", figure.Source{Kind: figure.Shop, Text: "given in the job file"},
			figure.In("l", "length as written", x.Length.MM(), "mm", line)))
	} else {
		m := &p.Frame.Members[x.Indices[0]]
		from, to := m.Tips()
		what := func(e int) string {
			names := []string{string(m.Ends[e].Kind)}
			for _, k := range m.Ends[e].Meets {
				names = append(names, p.Frame.Members[k].Name)
			}
			return "end of " + m.Name + ": " + strings.Join(names, " ")
		}
		fs = append(fs, figure.New(id+"length", x.Mark+" from tip to tip", "mm", "b - a", tipSource,
			figure.In("b", "tip of its second end, from the start of its centre line", to, "mm", what(1)),
			figure.In("a", "tip of its first end, from the start of its centre line", from, "mm", what(0))).
			RoundedTo(nanometre, "to a nanometre; printed to the tape's division with + or - for heavy and light").
			Without("what the metal moves when it is welded"))
		fs[len(fs)-1].Value = x.Length.MM()
	}
	for e, end := range x.Ends {
		sign := 1.0
		if e == 1 {
			sign = -1
		}
		s, other := end.Slope.SY, end.Slope.SZ
		if end.Across == "width" {
			s, other = other, s
		}
		name := fmt.Sprintf("%s, %s end from square across %s", x.Mark, [2]string{"first", "second"}[e], end.Across)
		f := figure.Found(fmt.Sprintf("%send%d", id, e+1), name, end.MiterDeg, "deg", "sgn * atan(s)", slopeSource,
			figure.In("sgn", "positive where the tip is at the bottom edge", sign, "", "contract, 'Ends'"),
			figure.In("s", "slope of the cut", s, "", string(end.Kind)))
		f.Within = 1e-7 // numbers of loose pieces come as degrees, their slopes from them
		fs = append(fs, f)
		if end.BevelDeg != 0 {
			fs = append(fs, figure.Found(fmt.Sprintf("%sbevel%d", id, e+1), name+", bevel", math.Abs(end.BevelDeg), "deg", "abs(atan(o / sqrt(1 + s^2)))", bevelSource,
				figure.In("o", "slope across the other face", other, "", string(end.Kind)), figure.In("s", "slope of the cut", s, "", string(end.Kind))))
		}
	}
	perM := p.Sections[x.Section].MassKGM()
	mean := 0.0
	if perM > 0 {
		mean = x.MassKG / perM * 1000
	}
	fs = append(fs, figure.Found(id+"mass", "mass of one "+x.Mark, x.MassKG, "kg", "m * c / 1000", massSource,
		figure.In("m", "mass of a metre", perM, "kg/m", "section."+x.Section+".mass"), figure.In("c", "mean length along the line of centroids", mean, "mm", "geometry")).
		Without("holes, weld metal, paint"))
	return fs
}

func (p *Plan) massFigure() figure.Figure {
	var terms []string
	var in []figure.Input
	for i, x := range p.Pieces {
		n, m := fmt.Sprintf("n%d", i+1), fmt.Sprintf("m%d", i+1)
		terms = append(terms, n+"*"+m)
		in = append(in, figure.In(n, "pieces "+x.Mark, float64(x.Qty), "", "cut list"), figure.In(m, "mass of one "+x.Mark, x.MassKG, "kg", "piece."+x.Mark+".mass"))
	}
	if len(terms) == 0 {
		terms = []string{"0"}
	}
	return figure.Found("mass.pieces", "steel in the frame and the loose pieces", p.MassKG, "kg", strings.Join(terms, " + "), sumSource, in...).Without("plates, bought parts, weld metal, paint")
}

func (p *Plan) nestFigures(sn *SectionNest) []figure.Figure {
	id := "nest." + sn.Section + "."
	var fs []figure.Figure
	var terms []string
	var in []figure.Input
	for i, k := range sn.Problem.Kinds {
		n, l := fmt.Sprintf("n%d", i+1), fmt.Sprintf("l%d", i+1)
		terms = append(terms, n+"*"+l)
		in = append(in, figure.In(n, "pieces "+k.Name, float64(k.Qty), "", "cut list"), figure.In(l, "length of "+k.Name, k.Length.MM(), "mm", "piece."+k.Name+".length"))
	}
	need := figure.New(id+"metal", "pieces of "+sn.Section+" end to end", "mm", strings.Join(terms, " + "), sumSource, in...).Without("kerfs, trims, what mitred neighbours share")
	fs = append(fs, need)

	count := map[int]int{}
	for _, u := range sn.Nest.Used {
		count[u.Stick]++
	}
	terms, in = nil, nil
	var costTerms []string
	var costIn []figure.Input
	for i, st := range sn.Problem.Sticks {
		if count[i] == 0 {
			continue
		}
		n, c := fmt.Sprintf("n%d", i+1), fmt.Sprintf("p%d", i+1)
		what := "sticks of " + p.Job.Tape.PrintLong(st.Length)
		if st.OnHand {
			what += " on hand"
		}
		terms = append(terms, n)
		in = append(in, figure.In(n, what, float64(count[i]), "", "nest"))
		if sn.Nest.Priced {
			costTerms = append(costTerms, n+"*"+c)
			costIn = append(costIn, figure.In(n, what, float64(count[i]), "", "nest"), figure.In(c, "price of one", st.Price.Float(), p.Job.Currency, "[section."+sn.Section+"] sticks"))
		}
	}
	fs = append(fs, figure.Found(id+"sticks", "sticks of "+sn.Section, float64(sn.Nest.Bars), "", strings.Join(terms, " + "), proofSource, in...))
	fs = append(fs, figure.Found(id+"sticks.bound", "no nest of "+sn.Section+" takes fewer sticks than", float64(sn.Nest.BoundBars), "", "b", proofSource,
		figure.In("b", "bound of the search", float64(sn.Nest.BoundBars), "", p.proof(sn))))
	if sn.Nest.Priced {
		if n := yardCuts(sn.Nest); n > 0 && p.Job.Saw.YardCut > 0 {
			costTerms = append(costTerms, "y*c")
			costIn = append(costIn, figure.In("y", "cuts by the yard", float64(n), "", "nest"), figure.In("c", "its charge for one", p.Job.Saw.YardCut.Float(), p.Job.Currency, "[saw] yard_cut"))
		}
		fs = append(fs, figure.Found(id+"cost", "money for sticks of "+sn.Section, sn.Nest.Cost.Float(), p.Job.Currency, strings.Join(costTerms, " + "), moneySource, costIn...))
		fs = append(fs, figure.Found(id+"cost.bound", "no nest of "+sn.Section+" costs less than", sn.Nest.BoundCost.Float(), p.Job.Currency, "b", proofSource,
			figure.In("b", "bound of the search", sn.Nest.BoundCost.Float(), p.Job.Currency, p.proof(sn))))
	}
	for i, u := range sn.Nest.Used {
		fs = append(fs, p.stickFigures(sn, fmt.Sprintf("%sstick%d.", id, i+1), u)...)
	}
	return fs
}

func yardCuts(n nest.Nest) int {
	cuts := 0
	for _, u := range n.Used {
		cuts += len(u.Partings())
	}
	return cuts
}

func (p *Plan) proof(sn *SectionNest) string {
	if sn.Nest.Proven {
		return "proven: the nest reaches it"
	}
	return "not reached yet: the nest may be this far from the best"
}

func (p *Plan) stickFigures(sn *SectionNest, id string, u nest.Used) []figure.Figure {
	if len(u.Cuts) == 0 || len(u.Parts) > 1 {
		return nil
	}
	last := u.Cuts[len(u.Cuts)-1]
	length := sn.Problem.Sticks[u.Stick].Length
	sec := secant(last.Lay.Right)
	in := []figure.Input{figure.In("L", "stick", length.MM(), "mm", "nest"), figure.In("x", "last tip", last.To.MM(), "mm", "nest"),
		figure.In("k", "kerf", p.Job.Saw.Kerf.MM(), "mm", "[saw] kerf"), figure.In("s", "1/cos of the last cut", sec, "", "its plane")}
	return []figure.Figure{
		figure.Found(id+"drop", "drop of the stick", u.Drop.MM(), "mm", "max(0, L - x - k*s)", stickSource, in...).RoundedTo(2*nanometre, "to a nanometre"),
		figure.Found(id+"slack", "slack of the stick", u.Slack.MM(), "mm", "L - e - x", stickSource, in[0], in[1],
			figure.In("e", "left unused at the far end", p.Job.Saw.TrimEnd.MM(), "mm", "[saw] trim_end")).RoundedTo(2*nanometre, "to a nanometre"),
	}
}

func (p *Plan) buyFigures() []figure.Figure {
	var terms []string
	var in []figure.Input
	var total measure.Money
	for i, b := range p.Buy {
		if !b.Priced {
			continue
		}
		n, c := fmt.Sprintf("n%d", i+1), fmt.Sprintf("p%d", i+1)
		terms = append(terms, n+"*"+c)
		in = append(in, figure.In(n, "sticks of "+b.Section+", "+p.Job.Tape.PrintLong(b.Length), float64(b.Qty), "", "nest"),
			figure.In(c, "price of one", b.Price.Float(), p.Job.Currency, "[section."+b.Section+"]"))
		total += b.Cost
	}
	if len(terms) == 0 {
		return nil
	}
	if p.YardCuts > 0 && p.Job.Saw.YardCut > 0 {
		terms = append(terms, "y*c")
		in = append(in, figure.In("y", "cuts by the yard", float64(p.YardCuts), "", "nest"), figure.In("c", "its charge for one", p.Job.Saw.YardCut.Float(), p.Job.Currency, "[saw] yard_cut"))
		total += p.Job.Saw.YardCut * measure.Money(p.YardCuts)
	}
	return []figure.Figure{figure.Found("buy.total", "sticks to buy", total.Float(), p.Job.Currency, strings.Join(terms, " + "), moneySource, in...)}
}

func (p *Plan) sawFigures() []figure.Figure {
	by := map[cut.Op]float64{}
	for _, s := range p.Queue.Steps {
		by[s.Op] += s.EstS
	}
	var terms []string
	var in []figure.Input
	for _, op := range []cut.Op{cut.Load, cut.Trim, cut.Prove, cut.Part, cut.Cut} {
		if by[op] == 0 {
			continue
		}
		terms = append(terms, string(op))
		in = append(in, figure.In(string(op), "all steps of this kind", by[op], "s", "queue"))
	}
	if len(terms) == 0 {
		return nil
	}
	one := func(id, name string, v, least int) []figure.Figure {
		src := figure.Source{Kind: figure.Computed, Text: "counted along the queue; the bound is the number of different settings"}
		return []figure.Figure{figure.Found(id, name, float64(v), "", "n", src, figure.In("n", "times along the queue", float64(v), "", "queue")),
			figure.Found(id+".bound", name+", no order needs fewer than", float64(least), "", "n", src, figure.In("n", "different settings", float64(least), "", "queue"))}
	}
	fs := []figure.Figure{figure.Found("saw.time", "time at the saw", p.Queue.EstS, "s", strings.Join(terms, " + "), timeSource, in...)}
	fs = append(fs, one("saw.swings", "settings of the swing", p.Queue.Swings, p.Queue.LeastSwing)...)
	return append(fs, one("saw.stops", "settings of the stop", p.Queue.Stops, p.Queue.LeastStops)...)
}
