package hold

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/spot"
	"bench.example/soapstone/fab/text"
)

// Wanted tells whether a job asks for an analysis: it has a load, a support or a combination, or sizes to try under its own
// weight and legs to stand on.
func Wanted(j *job.Job) bool {
	for i := range j.Sections {
		if len(j.Sections[i].Try) > 0 && len(j.Legs) > 0 {
			return true
		}
	}
	return len(j.Loads) > 0 || len(j.Supports) > 0 || len(j.Combinations) > 0
}

func vec(v space.Vec) Vec { return Vec{v.X, v.Y, v.Z} }

// builder turns a job's frame into a model.
type fromFrame struct {
	f        *frame.Frame
	j        *job.Job
	names    *spot.Names
	m        *Model
	start    []float64 // where each member's model begins, from its first tip
	link     []int     // of each joint
	problems []text.Problem
}

// FromFrame makes the model of a frame: a member from each of its members (centre lines shifted to the centroid), a rigid
// link at each joint, supports and loads from the job's tables. The mass of a member is its true one, spread over its
// model. pieces give the marks; they may be nil.
func FromFrame(f *frame.Frame, j *job.Job, pieces []piece.Piece) (*Model, []text.Problem) {
	b := &fromFrame{f: f, j: j, names: spot.NewNames(f, pieces, j.Units), m: &Model{SpanOver: j.Check.SagOver}, start: make([]float64, len(f.Members))}
	marks := map[int]string{}
	for _, p := range pieces {
		for _, i := range p.Indices {
			marks[i] = p.Mark
		}
	}
	b.cluster()
	stations := b.stations()
	for i := range f.Members {
		b.member(i, marks[i], stations[i])
	}
	b.links(stations)
	b.supports()
	b.ownWeight()
	b.loads()
	b.combinations()
	return b.m, b.problems
}

// member adds one member; where an end is cut to another the model ends in the middle of that contact.
func (b *fromFrame) member(i int, mark string, st []station) {
	m := &b.f.Members[i]
	from, to := m.Tips()
	lo, hi := 0.0, to-from
	for _, s := range st {
		switch s.end {
		case 0:
			lo = math.Max(lo, s.x)
		case 1:
			hi = math.Min(hi, s.x)
		}
	}
	for _, s := range st { // every joint stays on it
		lo, hi = math.Min(lo, s.x), math.Max(hi, s.x)
	}
	if hi-lo < 2*joinMM {
		lo, hi = 0, to-from
	}
	cy, cz := m.Section.CentroidYMM, m.Section.CentroidZMM
	k, kFrom := 1.0, "K = 1 between joints"
	if m.Role == frame.Post || m.Role == frame.Leg {
		k, kFrom = 2, "K = 2: a post or leg that may sway"
	}
	if b.j.Check.K > 0 {
		k, kFrom = b.j.Check.K, "[check] k"
	}
	b.start[i] = lo
	b.m.Members = append(b.m.Members, Member{Name: m.Name, Mark: mark, Section: &m.Section.Section, Group: m.Section.Name, A: vec(m.Place(from+lo, cy, cz)), B: vec(m.Place(from+hi, cy, cz)),
		Depth: vec(m.Depth), K: k, KFrom: kFrom, MassKGM: 1000 * m.MassKG() / (hi - lo)})
}

// on gives the distance along the model of a place from the first tip.
func (b *fromFrame) on(i int, tipMM float64) float64 {
	return math.Min(math.Max(tipMM-b.start[i], 0), b.m.Members[i].LengthMM())
}

func (b *fromFrame) fault(w job.Where, key, format string, args ...any) {
	if key != "" {
		w = w.In(key)
	}
	b.problems = append(b.problems, w.Problem(text.Error, text.CodeValue, fmt.Sprintf(format, args...)))
}

func (b *fromFrame) find(n job.Name) []spot.Spot {
	s, p := b.names.Find(n)
	if p != nil {
		b.problems = append(b.problems, *p)
	}
	return s
}

func (b *fromFrame) supports() {
	list := b.j.Supports
	if len(list) == 0 {
		for i := range b.f.Members {
			if b.f.Members[i].Role == frame.Leg {
				at, _ := b.names.LowEnd(i)
				b.hold(spot.Spot{Member: i, AtMM: at, Given: true}, job.Support{Fix: [6]bool{true, true, true}})
			}
		}
		if len(b.m.Holds) > 0 {
			b.problems = append(b.problems, job.Where{}.Problem(text.Warning, text.CodeMissing, "no [[support]]: every leg is taken to be held along x, y and z at its foot, free to turn"))
		}
		return
	}
	for _, s := range list {
		for _, n := range s.At {
			for _, p := range b.find(n) {
				low, level := b.names.LowEnd(p.Member)
				switch {
				case p.Given:
					b.hold(p, s)
				case level:
					b.hold(spot.Spot{Member: p.Member, AtMM: 0}, s)
					b.hold(spot.Spot{Member: p.Member, AtMM: b.f.LengthMM(p.Member)}, s)
				default:
					b.hold(spot.Spot{Member: p.Member, AtMM: low}, s)
				}
			}
		}
	}
}

func (b *fromFrame) hold(p spot.Spot, s job.Support) {
	name := b.f.Members[p.Member].Name
	if s.Name != "" {
		name = s.Name + ", " + name
	}
	if _, level := b.names.LowEnd(p.Member); level {
		name += "@" + b.j.Tape.Print(measure.FromMM(p.AtMM))
	}
	h := Hold{Name: name, Member: p.Member, AtMM: b.on(p.Member, p.AtMM), Fix: s.Fix}
	copy(h.Spring[:3], s.Spring[:])
	b.m.Holds = append(b.m.Holds, h)
}

// ownWeight puts plates, and bought parts that hang on a member, on the members that carry them.
func (b *fromFrame) ownWeight() {
	put := func(member int, tipMM, kg float64, what string) {
		if kg > 0 {
			b.m.Loads = append(b.m.Loads, Load{Case: OwnWeight, Member: member, Kind: AtPoint, AtMM: b.on(member, tipMM), W: Vec{0, 0, -kg * measure.Gravity}, From: what})
		}
	}
	for i := range b.f.Plates {
		p := &b.f.Plates[i]
		if p.On < 0 {
			continue
		}
		from, _ := b.f.Members[p.On].Tips()
		x, _, _ := b.f.Members[p.On].Local(p.At)
		put(p.On, x-from, p.SizeMM[0]*p.SizeMM[1]*p.SizeMM[2]*plateKGPerMM3, p.Name)
	}
	for _, it := range b.j.Items {
		var on []int
		for _, name := range it.At {
			if i := b.f.Index(name); i >= 0 {
				on = append(on, i)
			}
		}
		for _, i := range on {
			put(i, b.f.LengthMM(i)/2, it.MassKG*float64(it.Qty)/float64(len(on)), it.Name)
		}
	}
}

// plateKGPerMM3 is the density of carbon steel, 7850 kg/m3.
const plateKGPerMM3 = 7.85e-6

func (b *fromFrame) loads() {
	for _, l := range b.j.Loads {
		var members []spot.Spot
		for _, n := range l.On {
			got := b.find(n)
			if b.names.IsRect(n.Text) && l.Load.Kind == measure.AreaLoad {
				got = b.bearing(n.Text)
			}
			members = append(members, got...)
		}
		if len(members) == 0 {
			continue
		}
		w := func(size float64) Vec {
			size *= l.Factor
			return Vec{size * l.Dir[0], size * l.Dir[1], size * l.Dir[2]}
		}
		from := fmt.Sprintf("line %d", l.Line)
		var areas map[int]float64
		if l.Load.Kind == measure.AreaLoad && l.Width == 0 {
			areas = b.areas(members)
		}
		seen := map[spot.Spot]bool{}
		all := 0.0
		for _, p := range members {
			all += b.f.LengthMM(p.Member)
		}
		for k, p := range members {
			if seen[p] {
				b.fault(l.Where, "on", "%s is named twice", b.f.Members[p.Member].Name)
				continue
			}
			seen[p] = true
			length := b.f.LengthMM(p.Member)
			add := Load{Case: l.Case, Member: p.Member, Carried: l.Rides, From: from, Kind: Line}
			lo, hi := l.From.MM(), l.To.MM()
			if hi == 0 {
				hi = length
			}
			if lo > length || hi > length+0.5 {
				b.fault(l.Where, "to", "%s is %s long; the load would lie beyond its end", b.f.Members[p.Member].Name, b.j.Tape.Print(measure.FromMM(length)))
				continue
			}
			add.FromMM, add.ToMM = b.on(p.Member, lo), b.on(p.Member, hi)
			// What lies on the stretch that the model leaves out at a cut end stays on the member.
			stretch := func() float64 { return (hi - lo) / math.Max(add.ToMM-add.FromMM, 1e-9) }
			switch {
			case l.Load.Kind == measure.PointLoad && l.Total:
				add.FromMM, add.ToMM = 0, b.m.Members[p.Member].LengthMM()
				add.W = w(l.Load.Value * length / all / add.ToMM)
			case l.Load.Kind == measure.PointLoad:
				at := length / 2
				switch {
				case p.Given:
					at = p.AtMM
				case l.AtGiven:
					at = l.At.MM()
					if at > length+0.5 {
						b.fault(l.Where, "at", "%s is %s long; the load would lie beyond its end", b.f.Members[p.Member].Name, b.j.Tape.Print(measure.FromMM(length)))
						continue
					}
				}
				add.Kind, add.AtMM, add.W = AtPoint, b.on(p.Member, at), w(l.Load.Value)
			case l.Load.Kind == measure.LineLoad:
				add.W = w(l.Load.Value * stretch())
			default:
				width := l.Width.MM()
				if area, ok := areas[p.Member]; ok && width == 0 {
					if area == 0 { // a rail across bars that leave nothing over it
						continue
					}
					width = area / length
				}
				if width == 0 {
					width = b.tributary(members, k)
				}
				if width == 0 {
					b.fault(l.Where, "width", "%s has no neighbour in this load to share the area with; give width, the strip that it carries", b.f.Members[p.Member].Name)
					continue
				}
				add.W = w(l.Load.Value * width * stretch())
			}
			b.m.Loads = append(b.m.Loads, add)
		}
	}
}

// bearing gives the members of a rectangle that an area load on it rests on: its bars and all its sides.
func (b *fromFrame) bearing(rect string) []spot.Spot {
	var out []spot.Spot
	for i := range b.f.Members {
		if m := &b.f.Members[i]; m.Group == rect && (m.Role == frame.Bar || m.Role == frame.Side) {
			out = append(out, spot.Spot{Member: i})
		}
	}
	return out
}

// tributary gives the width of the strip of member k of a set that is part of no rectangle: half way to its neighbours among
// those that run with it.
func (b *fromFrame) tributary(set []spot.Spot, k int) float64 {
	m := &b.f.Members[set[k].Member]
	left, right := math.Inf(1), math.Inf(1)
	across := m.Axis.Cross(space.Vec{Z: 1})
	if across.Len() < 1e-6 {
		return 0
	}
	across = across.Unit()
	mid := m.A.Lerp(m.B, 0.5)
	for i, p := range set {
		o := &b.f.Members[p.Member]
		if i == k || math.Abs(o.Axis.Dot(m.Axis)) < 0.99 {
			continue
		}
		d := o.A.Lerp(o.B, 0.5).Sub(mid).Dot(across)
		switch {
		case d > 1:
			right = math.Min(right, d)
		case d < -1:
			left = math.Min(left, -d)
		}
	}
	width := 0.0
	for _, d := range []float64{left, right} {
		if !math.IsInf(d, 0) {
			width += d / 2
		}
	}
	return width
}

// Ride is a set of accelerations that a standard asks for, in g: forward, rearward, to either side, and up.
type Ride struct {
	Name                    string
	Forward, Rear, Side, Up float64
	Source                  string
}

// Rides lists the standards for cargo that [[combination]] ride knows.
func Rides() []Ride {
	return []Ride{
		{"49 CFR 393.102(a)(1)", 0.8, 0.5, 0.5, 0.2, "49 CFR 393.102(a)(1) and (b): against breaking strength, one direction at a time; upward 20 % of the weight where nothing contains the cargo"},
		{"49 CFR 393.102(a)(2)", 0.435, 0.5, 0.25, 0.2, "49 CFR 393.102(a)(2) and (b): against working load limits, one direction at a time; upward 20 % of the weight where nothing contains the cargo"},
	}
}

func (b *fromFrame) combinations() {
	var cases []string
	seen := map[string]bool{}
	for _, l := range b.j.Loads {
		if !seen[l.Case] {
			seen[l.Case] = true
			cases = append(cases, l.Case)
		}
	}
	out := []Combination{}
	if len(b.j.Combinations) == 0 {
		var all []CaseFactor
		for _, c := range cases {
			out = append(out, Combination{Name: c, Terms: []CaseFactor{{c, 1}}, Weight: 1})
			all = append(all, CaseFactor{c, 1})
		}
		if len(cases) > 1 {
			out = append(out, Combination{Name: "all together", Terms: all, Weight: 1})
		}
		if len(cases) == 0 {
			out = append(out, Combination{Name: "own weight", Weight: 1})
		}
	}
	for _, c := range b.j.Combinations {
		base := Combination{Name: c.Name, Weight: c.Weight, G: c.G}
		for _, t := range c.Cases {
			base.Terms = append(base.Terms, CaseFactor{t.Case, t.Factor})
		}
		if c.Ride == "" {
			out = append(out, base)
			continue
		}
		for _, r := range Rides() {
			if r.Name != c.Ride {
				continue
			}
			f := Vec(c.Forward)
			side := Vec{-f[1], f[0], 0}
			for _, way := range []struct {
				word string
				dir  Vec
				g    float64
			}{{"forward", f, r.Forward}, {"rearward", Vec{-f[0], -f[1], 0}, r.Rear}, {"left", side, r.Side}, {"right", Vec{-side[0], -side[1], 0}, r.Side}, {"up", Vec{0, 0, 1}, r.Up}} {
				x := base
				x.Name = c.Name + ", " + way.word
				x.Source = r.Source
				x.G = Vec{way.dir[0] * way.g, way.dir[1] * way.g, way.dir[2] * way.g}
				out = append(out, x)
			}
		}
	}
	b.m.Combinations = out
}
