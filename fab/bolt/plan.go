package bolt

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/hold"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/spot"
	"bench.example/soapstone/fab/text"
)

// Set is the bolts of one [[bolts]] table.
type Set struct {
	Spec     *job.Bolts
	Size     Size
	Grade    Grade
	Places   []Place
	Bolt     Bolt
	Tight    Tight
	Hole     figure.Figure
	Tap      figure.Figure
	Strength Strength // with the load of the place worked hardest
	MinEdge  float64  // mm
	Qty      int      // bolts
	MassKG   float64  // of all, with nuts and washers
	Buy      []Buy
	Cautions []string
	Figures  []figure.Figure
}

// Place is one foot, plate or member with its bolts.
type Place struct {
	Name string
	At   space.Vec
	Load Load   // of each bolt, the worst of the cases
	Case string // that it comes from
	Use  float64
	// Holes are those of the plate that the bolts go through, EdgeMM how near its edge comes to one; none where the job
	// gives the plate no holes.
	Holes  []space.Vec
	EdgeMM float64

	nowhere bool // a loose plate: no reaction can be found for it
}

// Buy is a line of hardware.
type Buy struct {
	Name   string
	What   string // bolt, nut, flat washer, lock washer
	Qty    int
	Price  measure.Money // cheapest way, 0 where not priced
	Loose  measure.Money // all bought singly
	Boxes  int           // in the cheapest way
	Single int           // bought beside the boxes
	Priced bool
}

// Input is what bolts are reckoned from.
type Input struct {
	Frame *frame.Frame
	Job   *job.Job
	Names *spot.Names
	Loads *hold.Answer // reactions; nil: no analysis was made
}

// plyFu is A36's tensile strength, taken for the plies that bolts bear on.
const plyFu = 400.0

// Plan works out every [[bolts]] table. Problems are names, sizes and grades that do not exist, edges too near, bolts worked
// too hard.
func Plan(in Input) ([]Set, []text.Problem) {
	var sets []Set
	var problems []text.Problem
	for i := range in.Job.Bolts {
		s, ps := plan(in, &in.Job.Bolts[i], fmt.Sprintf("bolts.%d.", i+1))
		problems = append(problems, ps...)
		if s != nil {
			sets = append(sets, *s)
		}
	}
	return sets, problems
}

func plan(in Input, b *job.Bolts, prefix string) (*Set, []text.Problem) {
	var problems []text.Problem
	fault := func(sev text.Severity, code, key, format string, args ...any) {
		w := b.Where
		w = w.In(key)
		problems = append(problems, w.Problem(sev, code, fmt.Sprintf(format, args...)))
	}
	s := &Set{Spec: b}
	var err error
	if s.Size, err = ParseSize(b.Size); err != nil {
		fault(text.Error, text.CodeValue, "size", "%v", err)
		return nil, problems
	}
	grade := b.Grade
	if grade == "" {
		grade = "5"
		if s.Size.Metric {
			grade = "8.8"
		}
	}
	if s.Grade, err = ParseGrade(grade, s.Size); err != nil {
		fault(text.Error, text.CodeValue, "grade", "%v", err)
		return nil, problems
	}
	s.places(in, b, &problems)
	st := Stack{Flats: b.Flat, Locks: b.Lock, Washer: map[string]Washer{"sae": SAE, "uss": USS, "fender": Fender}[b.Washer], Nut: map[string]Nut{"hex": HexNut, "lock": LockNut, "none": NoNut}[b.Nut]}
	thin := math.Inf(1)
	for _, p := range b.Stack {
		st.GripMM += p.Thick.MM()
		if !soft(p.What) {
			thin = math.Min(thin, p.Thick.MM())
		}
	}
	if s.Bolt, err = st.Length(s.Size, prefix); err != nil {
		fault(text.Error, text.CodeValue, "stack", "%v", err)
		return nil, problems
	}
	if s.Tight, err = Tighten(s.Size, s.Grade, b.K, b.Fraction, prefix); err != nil {
		fault(text.Error, text.CodeValue, "k", "%v", err)
		return nil, problems
	}
	s.Hole, s.Tap = s.Size.Clearance(Normal, prefix), s.Size.TapDrill(prefix)
	s.Qty = b.Each * len(s.Places)
	s.MassKG = float64(s.Qty) * s.Size.MassKG(s.Bolt.StockMM, st.Nut, b.Flat, b.Lock, st.Washer)
	s.MinEdge, _ = s.Size.MinEdgeMM()
	if b.Edge > 0 && b.Edge.MM() < s.MinEdge-1e-6 {
		fault(text.Error, text.CodeValue, "edge", "%s from the hole's centre to the edge is too near for %s: at least %s", in.Job.Tape.Print(b.Edge), s.Size.Name, in.Job.Tape.Print(measure.FromMM(s.MinEdge)))
	}
	for i := range s.Places {
		if p := &s.Places[i]; p.EdgeMM > 0 && p.EdgeMM < s.MinEdge-1e-6 && b.Edge == 0 {
			fault(text.Warning, "bolt-edge", "at", "a hole of %s lies %s from its plate's edge; %s wants at least %s", p.Name, in.Job.Tape.Print(measure.FromMM(p.EdgeMM)), s.Size.Name, in.Job.Tape.Print(measure.FromMM(s.MinEdge)))
			break
		}
	}
	for i := range s.Places {
		if p := &s.Places[i]; len(p.Holes) > 0 && len(p.Holes) != b.Each {
			fault(text.Warning, "bolt-holes", "each", "%s has %d holes for %d bolts", p.Name, len(p.Holes), b.Each)
			break
		}
	}
	if math.IsInf(thin, 0) || b.Into != "steel" {
		thin = 0
	}
	worst := Load{}
	for i := range s.Places {
		p := &s.Places[i]
		x := s.Size.Strength(s.Grade, p.Load, thin, b.Edge.MM(), s.Hole.Value, plyFu, prefix)
		p.Use = x.Use.Value
		if i == 0 || x.Use.Value > s.Strength.Use.Value {
			s.Strength, worst = x, p.Load
		}
	}
	if len(s.Places) == 0 {
		s.Strength = s.Size.Strength(s.Grade, worst, thin, b.Edge.MM(), s.Hole.Value, plyFu, prefix)
	}
	if s.Strength.Use.Value > 1 {
		fault(text.Warning, "bolt-strength", "size", "%s %s is worked to %.0f %% of what it may carry (%s tension, %s shear each)", s.Size.Name, s.Grade.Name, 100*s.Strength.Use.Value, in.Job.Tape.Force(worst.TensionN), in.Job.Tape.Force(worst.ShearN))
	}
	for _, n := range s.Bolt.Notes {
		fault(text.Warning, "bolt-length", "stack", "%s: %s", s.Bolt.Name, n)
	}
	s.Figures = append(s.Figures, s.Bolt.Need, s.Bolt.Thread, s.Tight.Area, s.Tight.Proof, s.Tight.Rupture, s.Tight.Clamp, s.Tight.Torque, s.Hole, s.Tap, s.Strength.Tension, s.Strength.Shear)
	if s.Strength.Bearing.Formula != "" {
		s.Figures = append(s.Figures, s.Strength.Bearing)
	}
	s.Figures = append(s.Figures, s.Strength.Use)
	s.buy(b)
	s.caution(b)
	return s, problems
}

// soft tells whether a ply is one that creeps: no bolt keeps its tension through it.
func soft(what string) bool {
	for _, w := range []string{"rubber", "neoprene", "wood", "plastic", "gasket", "shim", "pad"} {
		if strings.Contains(strings.ToLower(what), w) {
			return true
		}
	}
	return false
}

// places finds the members and plates that are bolted, with the reactions there.
func (s *Set) places(in Input, b *job.Bolts, problems *[]text.Problem) {
	for _, n := range b.At {
		plate := false
		for k := range in.Frame.Plates {
			p := &in.Frame.Plates[k]
			if p.Name == n.Text {
				plate = true
				for range max(1, p.Qty) {
					x := Place{Name: fmt.Sprintf("%s %d", p.Name, len(s.Places)+1), At: p.At, nowhere: p.On < 0}
					if p.On >= 0 {
						x.drill(in.Frame, p.On, k)
					}
					s.Places = append(s.Places, x)
				}
			}
		}
		if plate {
			continue
		}
		got, p := in.Names.Find(n)
		if p != nil {
			*problems = append(*problems, *p)
			continue
		}
		for _, g := range got {
			if !g.Given {
				g.AtMM, _ = in.Names.LowEnd(g.Member)
			}
			x := Place{Name: in.Frame.Members[g.Member].Name, At: in.Names.Point(g)}
			if in.Frame.Members[g.Member].Role == frame.Leg {
				x.drill(in.Frame, g.Member, -1)
			}
			s.Places = append(s.Places, x)
		}
	}
	if in.Loads == nil {
		return
	}
	for i := range s.Places {
		p := &s.Places[i]
		if p.nowhere {
			continue
		}
		for _, c := range in.Loads.Cases {
			for _, r := range c.Reactions {
				d := space.Vec{X: r.At[0], Y: r.At[1], Z: r.At[2]}.Dist(p.At)
				if d > 60 { // the support's node stands on the centre line, the plate or foot near it
					continue
				}
				l := Load{TensionN: math.Max(0, -r.Force[2]) / float64(b.Each), ShearN: math.Hypot(r.Force[0], r.Force[1]) / float64(b.Each)}
				if m := math.Hypot(r.Moment[0], r.Moment[1]); m > 1 && b.Apart > 0 && b.Each >= 2 {
					l.TensionN += m / b.Apart.MM() / math.Floor(float64(b.Each)/2)
				}
				if p.Case == "" || l.TensionN+l.ShearN > p.Load.TensionN+p.Load.ShearN {
					p.Load, p.Case = l, c.Name
				}
			}
		}
	}
}

// buy counts up bolts, nuts and washers, bolts in the cheapest mix of boxes and singles.
func (s *Set) buy(b *job.Bolts) {
	add := func(name, what string, qty int, each measure.Money) *Buy {
		if qty == 0 {
			return nil
		}
		x := Buy{Name: name, What: what, Qty: qty, Single: qty, Priced: each > 0}
		x.Loose = each.Times(int64(qty), 1)
		x.Price = x.Loose
		s.Buy = append(s.Buy, x)
		return &s.Buy[len(s.Buy)-1]
	}
	if x := add(s.Bolt.Name+", "+s.Grade.Name, "bolt", s.Qty, b.Price); x != nil {
		x.Priced = b.Priced
		if b.Box > 0 {
			x.cheapest(b)
		}
	}
	kind := map[string]string{"hex": "hex nut", "lock": "nylon lock nut"}
	if b.Nut != "none" {
		add(s.Size.Name+" "+kind[b.Nut], "nut", s.Qty, b.NutPrice)
	}
	dia := strings.SplitN(s.Size.Name, "-", 2)[0]
	if !s.Size.Metric && strings.Contains(s.Size.Name, "/") {
		dia = inchRows[s.Size.row].name
	}
	w := map[string]Washer{"sae": SAE, "uss": USS, "fender": Fender}[b.Washer]
	add(dia+" "+w.String()+" washer", "flat washer", s.Qty*b.Flat, b.FlatPrice)
	add(dia+" split lock washer", "lock washer", s.Qty*b.Lock, b.LockPrice)
}

// cheapest finds how many boxes to buy beside single bolts; without a price for one, boxes alone.
func (x *Buy) cheapest(b *job.Bolts) {
	need := (x.Qty + b.Box - 1) / b.Box
	found := false
	for boxes := 0; boxes <= need; boxes++ {
		single := max(0, x.Qty-boxes*b.Box)
		if single > 0 && !b.Priced {
			continue
		}
		cost := b.BoxPrice.Times(int64(boxes), 1) + b.Price.Times(int64(single), 1)
		if !found || cost < x.Price {
			x.Price, x.Boxes, x.Single, found = cost, boxes, single, true
		}
	}
	x.Priced = true
	if !b.Priced {
		x.Loose = 0
	}
}

func (s *Set) caution(b *job.Bolts) {
	for _, p := range b.Stack {
		if soft(p.What) {
			s.Cautions = append(s.Cautions, fmt.Sprintf("%s in the stack creeps: the torque given is for steel on steel; tighten until it is snug, lock the nut, look again after a week", p.What))
			break
		}
	}
	s.Cautions = append(s.Cautions, fmt.Sprintf("torque for K %.2f; an oiled or waxed thread takes less, and by torque the tension comes out some 25 to 30 %% up or down", b.K))
	switch b.Into {
	case "concrete", "masonry":
		s.Cautions = append(s.Cautions, fmt.Sprintf("anchors into %s: the positions and loads stand here; the anchor, its depth and its edge distance come from its maker's chart and licensed practice, nothing here says that they hold", b.Into))
	case "wood":
		s.Cautions = append(s.Cautions, "into wood: the wood gives way before the bolt; its own code (NDS) decides")
	}
	if b.Seal {
		s.Cautions = append(s.Cautions, "seal under the washer and in the hole; a sealed tube that is to be galvanised needs its vents first")
	}
	if s.Grade.Note != "" {
		s.Cautions = append(s.Cautions, s.Grade.Note)
	}
}

// JSON is one entry of hardware[] of `plan --json`.
type JSON struct {
	Name      string    `json:"name"`
	What      string    `json:"what"`
	Qty       int       `json:"qty"`
	Cost      float64   `json:"cost"`
	Priced    bool      `json:"priced"`
	LooseCost float64   `json:"loose_cost"`
	Boxes     int       `json:"boxes"`
	Singles   int       `json:"singles"`
	Bolt      *BoltJSON `json:"bolt,omitempty"`
}

// BoltJSON is what goes with a bolt.
type BoltJSON struct {
	Size     string      `json:"size"`
	Grade    string      `json:"grade"`
	NeedMM   float64     `json:"need_mm"`
	LengthMM float64     `json:"length_mm"`
	ThreadMM float64     `json:"thread_mm"`
	OutMM    float64     `json:"out_mm"`
	ClearMM  float64     `json:"clear_mm"`
	TapMM    float64     `json:"tap_mm"`
	ClampN   float64     `json:"clamp_n"`
	TorqueNM float64     `json:"torque_nm"`
	EdgeMM   float64     `json:"edge_mm"`
	Use      float64     `json:"utilisation"`
	MassKG   float64     `json:"mass_kg"`
	Places   []PlaceJSON `json:"places"`
	Cautions []string    `json:"cautions"`
}

// PlaceJSON is one bolted place.
type PlaceJSON struct {
	Name     string       `json:"name"`
	AtMM     [3]float64   `json:"at_mm"`
	TensionN float64      `json:"tension_n"`
	ShearN   float64      `json:"shear_n"`
	Case     string       `json:"case"`
	Use      float64      `json:"utilisation"`
	HolesMM  [][3]float64 `json:"holes_mm"`
	ApartMM  float64      `json:"apart_mm"`
	EdgeMM   float64      `json:"edge_mm"` // of the plate, from the nearest hole
}

// Hardware gives the sets as hardware lines, each bolt with what goes with it.
func Hardware(sets []Set) []JSON {
	out := []JSON{}
	for i := range sets {
		s := &sets[i]
		for _, b := range s.Buy {
			j := JSON{Name: b.Name, What: b.What, Qty: b.Qty, Cost: b.Price.Float(), Priced: b.Priced, LooseCost: b.Loose.Float(), Boxes: b.Boxes, Singles: b.Single}
			if b.What == "bolt" {
				x := &BoltJSON{Size: s.Size.Name, Grade: s.Grade.Name, NeedMM: s.Bolt.Need.Value, LengthMM: s.Bolt.StockMM, ThreadMM: s.Bolt.Thread.Value, OutMM: s.Bolt.OutMM, ClearMM: s.Hole.Value, TapMM: s.Tap.Value,
					ClampN: s.Tight.Clamp.Value, TorqueNM: s.Tight.Torque.Value, EdgeMM: s.MinEdge, Use: s.Strength.Use.Value, MassKG: s.MassKG, Places: []PlaceJSON{}, Cautions: append([]string{}, s.Cautions...)}
				for k := range s.Places {
					p := &s.Places[k]
					o := PlaceJSON{p.Name, [3]float64{p.At.X, p.At.Y, p.At.Z}, p.Load.TensionN, p.Load.ShearN, p.Case, p.Use, [][3]float64{}, p.Apart(), p.EdgeMM}
					for _, h := range p.Holes {
						o.HolesMM = append(o.HolesMM, [3]float64{h.X, h.Y, h.Z})
					}
					x.Places = append(x.Places, o)
				}
				j.Bolt = x
			}
			out = append(out, j)
		}
	}
	return out
}
