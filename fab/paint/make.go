package paint

import (
	"fmt"
	"math"
	"sort"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/steel"
)

// Input is what the paint is reckoned from.
type Input struct {
	Job      *job.Job
	Frame    *frame.Frame
	Pieces   []piece.Piece
	Sections map[string]steel.Section
	Frames   int // painted together; below 1 counts as 1
}

// Sources.
var (
	areaSource = figure.Source{Kind: figure.Geometry, Text: "outside perimeter of the section times the mean length between its cuts, contact faces and closed ends taken off"}
	massBal    = figure.Source{Kind: figure.Common, Text: "mass balance of a litre of paint: what is not solids by volume is solvent of 0.80 kg/l (white spirit)"}
)

// solventKGL is the density of white spirit, kg/l (common practice).
const solventKGL = 0.80

// openShare is the share of a tube's end face that may lie bare before the end counts as open: slits of a fit are welded shut.
const openShare = 0.02

// Make reckons the paint. Without a [paint] there is none, and the sheet is nil.
func Make(in Input) *Sheet {
	spec := &in.Job.Paint
	if !spec.Given {
		return nil
	}
	s := &Sheet{Spec: spec, Frames: max(1, in.Frames)}
	m := &maker{in: in, s: s, n: float64(s.Frames)}
	m.faces()
	m.prep()
	switch spec.Coating {
	case "paint":
		m.coat("primer", &spec.Primer)
		m.coat("top", &spec.Top)
		m.thinner()
	case "galvanise":
		m.zinc()
	}
	m.caps()
	m.work()
	m.calendar()
	m.cautions()
	for i := range s.Coats {
		s.Cost += s.Coats[i].Cost
	}
	s.Cost += s.CapCost
	if s.Zinc != nil {
		s.Cost += s.Zinc.Cost
	}
	m.figures()
	return s
}

type maker struct {
	in    Input
	s     *Sheet
	n     float64
	areas map[string]*Area
	order []string
	bare  []float64 // of each member, mm2: what is covered with paint
}

func (m *maker) area(name string) *Area {
	if m.areas == nil {
		m.areas = map[string]*Area{}
	}
	a, ok := m.areas[name]
	if !ok {
		a = &Area{Name: name}
		m.areas[name] = a
		m.order = append(m.order, name)
	}
	return a
}

// faces measures what shows.
func (m *maker) faces() {
	f := m.in.Frame
	for _, s := range m.in.Job.Sections {
		m.area(s.Name).Finish = s.Finish
	}
	covers := f.Covers()
	m.footed(covers)
	m.bare = make([]float64, len(f.Members))
	for i := range f.Members {
		x := &f.Members[i]
		skin := x.Skin()
		a := m.area(x.Section.Name)
		closed := math.Min(covers[i].SideMM2, skin.SideMM2)
		ends := 0.0
		open := [2]bool{}
		for e := range skin.EndMM2 {
			left := skin.EndMM2[e] - covers[i].EndMM2[e]
			if x.Ends[e].Saddle != nil || skin.EndMM2[e] <= 0 || left <= openShare*skin.EndMM2[e] {
				continue
			}
			if !x.Section.Hollow {
				ends += left
				continue
			}
			open[e] = true
			whole := math.Max(x.Section.OutlineMM2(), 1)
			end := End{Member: x.Name, End: e, OpenM2: left * math.Max(0, 1-x.Section.AreaMM2/whole) / 1e6, Gets: m.s.Spec.Ends}
			end.Up = outwards(x, e) > 0.2
			if end.Partly = left < (1-openShare)*skin.EndMM2[e]; end.Partly && end.Gets == "capped" {
				end.Gets = "strip" // no plug fits where a neighbour stands in the way
			}
			m.s.Ends = append(m.s.Ends, end)
			if end.Gets == "welded" || end.Gets == "strip" {
				ends += left
			} else {
				ends += left * math.Min(1, x.Section.AreaMM2/whole)
			}
		}
		m.bare[i] = skin.SideMM2 - closed + ends
		a.SkinM2 += m.n * skin.SideMM2 / 1e6
		a.ClosedM2 += m.n * closed / 1e6
		a.EndsM2 += m.n * ends / 1e6
		m.hollow(i, open)
	}
	for i := range m.in.Pieces {
		m.loose(&m.in.Pieces[i])
	}
	m.plates()
	for _, name := range m.order {
		a := m.areas[name]
		a.M2 = a.SkinM2 + a.EndsM2 - a.ClosedM2 + a.LooseM2
		if a.M2 > 0 {
			m.s.Areas = append(m.s.Areas, *a)
			m.s.AreaM2 += a.M2
		}
	}
	m.s.AreaM2 *= 1 + m.s.Spec.AreaExtra
}

// outwards gives how far the direction out of an end points up.
func outwards(x *frame.Member, e int) float64 {
	if e == 0 {
		return -x.Axis.Z
	}
	return x.Axis.Z
}

// footed closes the feet that stand on a pad.
func (m *maker) footed(covers []frame.Skin) {
	f := m.in.Frame
	for _, foot := range f.Feet {
		if foot.PadMM <= 0 {
			continue
		}
		x := &f.Members[foot.Member]
		e := 0
		if outwards(x, 1) < outwards(x, 0) {
			e = 1
		}
		covers[foot.Member].EndMM2[e] = x.Skin().EndMM2[e]
	}
}

// loose adds a loose piece: its skin from tip to tip, less what its slanted ends take off, is its mean length's.
func (m *maker) loose(x *piece.Piece) {
	if len(x.Indices) > 0 {
		return
	}
	sec, ok := m.in.Sections[x.Section]
	if !ok {
		return
	}
	p := sec.Properties(steel.Nominal)
	if p.MassKGM <= 0 {
		return
	}
	mean := x.MassKG / p.MassKGM * 1000 // a prism weighs what its line of centroids is long
	qty := float64(x.Qty) * m.n
	m.area(x.Section).LooseM2 += qty * (p.OutsideMM*mean + 2*p.AreaMM2) / 1e6
	if p.InsideMM > 0 && m.s.Spec.Ends != "open" {
		m.s.Caps += 2 * x.Qty
	}
}

// plates adds both faces and the edges of every plate, less what it covers of its member and the member of it.
func (m *maker) plates() {
	f := m.in.Frame
	for i := range f.Plates {
		p := &f.Plates[i]
		x, y, z := p.SizeMM[0], p.SizeMM[1], p.SizeMM[2]
		a := m.area("plates")
		qty := float64(max(1, p.Qty)) * m.n
		a.SkinM2 += qty * (2*x*y + 2*(x+y)*z) / 1e6
		if p.On < 0 || p.On >= len(f.Members) {
			continue
		}
		on := &f.Members[p.On]
		var touch float64
		if math.Abs(p.Normal.Dot(on.Axis)) > 0.5 { // across an end: a foot's pad, a cap
			touch = math.Min(x*y, on.Section.OutlineMM2())
		} else {
			touch = math.Min(y, math.Max(on.Section.DepthMM, on.Section.WidthMM)) * x
			if !m.isPad(i) {
				m.bare[p.On] = math.Max(0, m.bare[p.On]-touch)
				m.area(on.Section.Name).ClosedM2 += m.n * touch / 1e6
			}
		}
		a.ClosedM2 += qty * touch / 1e6
	}
	if a, ok := m.areas["plates"]; ok {
		a.Finish = job.Scale
	}
}

// isPad tells whether a plate lies under a foot: the foot's end was taken off already.
func (m *maker) isPad(plate int) bool {
	p := &m.in.Frame.Plates[plate]
	for i := range m.in.Job.Legs {
		if m.in.Job.Legs[i].Pad == p.Name {
			return true
		}
	}
	return false
}

// caps counts what closes the open ends.
func (m *maker) caps() {
	if m.s.Spec.Ends == "open" || m.s.Zinc != nil {
		m.s.Caps = 0
		return
	}
	for _, e := range m.s.Ends {
		if e.Partly {
			m.s.Strips += m.s.Frames
		} else {
			m.s.Caps++
		}
	}
	m.s.Caps *= m.s.Frames
	m.s.CapCost = m.s.Spec.CapPrice * measure.Money(m.s.Caps)
	if m.s.Caps > 0 && m.s.Spec.CapPrice == 0 {
		m.s.Unpriced = append(m.s.Unpriced, fmt.Sprintf("%d caps ([paint] cap_price)", m.s.Caps))
	}
}

// usualLoss gives the share of paint lost by a method, and where that is from. Shop habits and tables differ widely: the
// shop's own figure goes into the coat's loss.
func usualLoss(method string) (float64, string) {
	switch method {
	case "hvlp":
		return 0.35, "common practice, on open frames"
	case "airless":
		return 0.30, "coatings note on practical coverage: around 30 % airless"
	case "spray":
		return 0.70, "paint trade paper, October 2003: conventional spray puts as little as 30 % on open work"
	case "dip":
		return 0.05, "common practice"
	}
	return 0.10, "common practice: 5 to 15 % by brush or roller"
}

func (m *maker) coat(key string, spec *job.Coat) {
	if spec.Coats == 0 || m.s.AreaM2 <= 0 {
		return
	}
	c := Coat{Spec: spec, Key: key, Name: spec.Name, Coats: spec.Coats, Method: spec.Method, Loss: spec.Loss, AreaM2: m.s.AreaM2}
	id := "paint." + key + "."
	lossFrom := "[paint." + key + "] loss"
	if !spec.LossGiven {
		var why string
		c.Loss, why = usualLoss(c.Method)
		lossFrom = "default for " + c.Method + ", " + why
	}
	cover := Coverage(spec.Solids, spec.FilmMM, spec.Thin).Named(id + "coverage")
	prac := Practical(cover, c.Loss).Named(id + "practical")
	litres := Litres(c.AreaM2, spec.Solids, spec.FilmMM, c.Loss, c.Coats).Named(id + "litres")
	wet := WetFilm(spec.Solids, spec.FilmMM, spec.Thin).Named(id + "wet")
	for _, f := range []*figure.Figure{&cover, &prac, &litres, &wet} {
		m.from(f, key, spec, lossFrom)
	}
	c.CoverM2L, c.PracM2L, c.Litres, c.WetMM = cover.Value, prac.Value, litres.Value, wet.Value
	c.ThinL = c.Litres * spec.Thin
	dense := figure.New(id+"density", "density of the dry film", "kg/l", "(r - (1 - s) * v) / s", massBal, figure.In("r", "paint in its tin", spec.DensityKGL, "kg/l", own(spec, key, "density")),
		figure.In("s", "solids by volume", spec.Solids, "", own(spec, key, "solids")), figure.In("v", "solvent", solventKGL, "kg/l", "white spirit"))
	dry := figure.New(id+"mass", "dry film of "+spec.Name, "kg", "max(0, A * n * d * r)", areaSource, figure.In("A", "area", c.AreaM2, "m2", "paint.area"), figure.In("n", "coats", float64(c.Coats), "", own(spec, key, "coats")),
		figure.In("d", "dry film of a coat", spec.FilmMM, "mm", own(spec, key, "film")), dense.As("r")).Without("runs and pools")
	c.DryKG = dry.Value
	m.s.Figures = append(m.s.Figures, cover, prac, litres, wet, dense, dry)
	m.buy(&c, id)
	m.s.Coats = append(m.s.Coats, c)
	m.s.MassKG += c.DryKG / m.n
}

// from says of each input of a coat's figure where it comes from.
func (m *maker) from(f *figure.Figure, key string, spec *job.Coat, loss string) {
	names := map[string]string{"s": "solids", "t": "thin", "d": "film", "n": "coats"}
	for i := range f.Inputs {
		in := &f.Inputs[i]
		switch in.Symbol {
		case "A":
			in.From = "paint.area"
		case "l":
			in.From = loss
		case "c":
		default:
			in.From = own(spec, key, names[in.Symbol])
		}
	}
}

// own says whether a coat's value is the job's or the stated default.
func own(spec *job.Coat, coat, key string) string {
	if spec.Own(key) {
		return "[paint." + coat + "] " + key
	}
	return "default of [paint." + coat + "] " + key
}

func (m *maker) buy(c *Coat, id string) {
	spec := c.Spec
	if len(spec.Cans) == 0 {
		m.s.Unpriced = append(m.s.Unpriced, fmt.Sprintf("%s, %.2f l: no cans are given", spec.Name, c.Litres))
		return
	}
	c.Cans, c.CanOptimal = Cans(c.Litres, spec.Cans)
	c.Priced = true
	var terms string
	var in []figure.Input
	for i, b := range c.Cans {
		c.BoughtL += b.Litres * float64(b.Qty)
		c.Cost += b.Cost
		t := fmt.Sprintf("n%d*p%d", i+1, i+1)
		if i > 0 {
			t = " + " + t
		}
		terms += t
		in = append(in, figure.In(fmt.Sprintf("n%d", i+1), "cans of "+b.Size, float64(b.Qty), "", "cheapest cover of the litres"), figure.In(fmt.Sprintf("p%d", i+1), "price of one", b.Price.Float(), m.in.Job.Currency, "[paint."+c.Key+"] cans"))
	}
	for _, can := range spec.Cans {
		if !can.Priced {
			c.Priced = false
		}
	}
	if !c.Priced {
		m.s.Unpriced = append(m.s.Unpriced, spec.Name+": a can without a price")
	}
	if c.BoughtL > 0 {
		c.UsedCost = c.Cost.Scale(math.Min(1, c.Litres/c.BoughtL))
	}
	if len(in) > 0 {
		src := figure.Source{Kind: figure.Computed, Text: "cheapest set of whole cans that holds the litres: dynamic programming over millilitres"}
		m.s.Figures = append(m.s.Figures, figure.Found(id+"cost", "cans of "+spec.Name, c.Cost.Float(), m.in.Job.Currency, terms, src, in...))
	}
}

// thinner adds what the coats are thinned with.
func (m *maker) thinner() {
	for _, c := range m.s.Coats {
		m.s.Thinner += c.ThinL
	}
	if m.s.Thinner > 0 && m.s.Spec.Thinner > 0 {
		m.s.Cost += m.s.Spec.Thinner.Scale(m.s.Thinner)
	} else if m.s.Thinner > 0 {
		m.s.Unpriced = append(m.s.Unpriced, fmt.Sprintf("%.2f l of thinner ([paint] thinner_price)", m.s.Thinner))
	}
}

// figures writes the area's working, and shares the weight over the members.
func (m *maker) figures() {
	s := m.s
	var in []figure.Input
	terms := "(1 + x) * (0"
	for i, a := range s.Areas {
		sym := fmt.Sprintf("a%d", i+1)
		terms += " + " + sym
		in = append(in, figure.In(sym, a.Name, a.M2, "m2", "paint.area."+a.Name))
		b := figure.New("paint.area."+a.Name, "area of "+a.Name, "m2", "s + e + l - c", areaSource, figure.In("s", "skin between the cuts", a.SkinM2, "m2", "frame"),
			figure.In("e", "ends that show", a.EndsM2, "m2", "frame"), figure.In("l", "loose pieces", a.LooseM2, "m2", "cut list"), figure.In("c", "contact faces", a.ClosedM2, "m2", "joints"))
		s.Figures = append(s.Figures, b.Without("inside of tubes; holes; the roundness of corners on slanted cuts"))
	}
	in = append(in, figure.In("x", "share added", s.Spec.AreaExtra, "", "[paint] extra"))
	area := figure.Found("paint.area", "area to be covered", s.AreaM2, "m2", terms+")", areaSource, in...)
	s.Figures = append([]figure.Figure{area}, s.Figures...)
	if s.Zinc == nil && len(s.Coats) > 0 {
		sum := "0"
		var parts []figure.Input
		for i, c := range s.Coats {
			sym := fmt.Sprintf("k%d", i+1)
			sum += " + " + sym
			parts = append(parts, figure.In(sym, "dry film of "+c.Name, c.DryKG, "kg", "paint."+c.Key+".mass"))
		}
		parts = append(parts, figure.In("n", "frames", m.n, "", ""))
		s.Figures = append(s.Figures, figure.Found("paint.mass", "dry paint on one frame", s.MassKG, "kg", "("+sum+") / n", areaSource, parts...))
	}
	total := s.AreaM2 * 1e6 / m.n
	if s.MassKG <= 0 || total <= 0 {
		return
	}
	s.PerMM2KG = s.MassKG / total
	if s.Zinc != nil {
		return // shared out already
	}
	for i, b := range m.bare {
		if b > 0 {
			s.Cover = append(s.Cover, Cover{m.in.Frame.Members[i].Name, b * s.PerMM2KG})
		}
	}
}

// finishes gives the finishes of the steel that is covered, with their sections and areas, in the order of the job.
func (m *maker) finishes() []Prep {
	at := map[job.Finish]int{}
	var out []Prep
	for _, a := range m.s.Areas {
		k, ok := at[a.Finish]
		if !ok {
			k = len(out)
			at[a.Finish] = k
			out = append(out, Prep{Finish: a.Finish})
		}
		out[k].Sections = append(out[k].Sections, a.Name)
		out[k].M2 += a.M2 * (1 + m.s.Spec.AreaExtra)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].M2 > out[j].M2 })
	return out
}
