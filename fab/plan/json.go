package plan

import (
	"math"

	"bench.example/soapstone/fab/bolt"
	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/hold"
	"bench.example/soapstone/fab/lift"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest/list"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/weld"
)

// Document is the JSON of `plan --json`, schema 1.
type Document struct {
	Schema    int            `json:"schema"`
	Title     string         `json:"title"`
	Problems  []ProblemJSON  `json:"problems"`
	Notes     []string       `json:"notes"`
	Pieces    []PieceJSON    `json:"pieces"`
	Buy       []BuyJSON      `json:"buy"`
	YardCuts  YardJSON       `json:"yard_cuts"`
	Orders    []OrderJSON    `json:"orders"` // the buy list again, with goods, by supplier
	Received  []BuyJSON      `json:"received"`
	Haul      []HaulJSON     `json:"haul"`
	Prices    PricesJSON     `json:"prices"`
	Nests     []NestJSON     `json:"nests"`
	Queue     []StepJSON     `json:"queue"`
	Saw       *SawJSON       `json:"saw"`
	Weld      *weld.JSON     `json:"weld"`
	Machines  []MachineJSON  `json:"machines"`
	Try       []TryJSON      `json:"try"`
	Square    []SquareJSON   `json:"square"`
	Bodies    []BodyJSON     `json:"body_diagonals"`
	Feet      []FootJSON     `json:"feet"`
	CutToFit  []FitJSON      `json:"cut_to_fit"`
	MassKG    float64        `json:"mass_kg"`
	HoistedKG float64        `json:"hoisted_kg"` // the frame with plates, items, bolts and weld metal
	Centre    *[3]float64    `json:"centre_mm"`
	Bounds    *[2][3]float64 `json:"bounds_mm"`
	Loads     *hold.JSON     `json:"loads"`
	Lift      *lift.JSON     `json:"lift"`
	Hardware  []bolt.JSON    `json:"hardware"`
	Paint     any            `json:"paint"`
	Hours     any            `json:"hours"`
	Price     any            `json:"price"`
}

// TryJSON is one size of a section that the job asks to have tried; the present one comes first.
type TryJSON struct {
	Section      string  `json:"section"`
	Size         string  `json:"size"`
	Sticks       int     `json:"sticks"`
	Cost         float64 `json:"cost"`
	Proven       bool    `json:"proven"`
	PriceByMass  bool    `json:"price_by_mass"`
	MassKG       float64 `json:"mass_kg"`
	Utilisation  float64 `json:"utilisation"`
	DeflectionMM float64 `json:"deflection_mm"`
	Why          string  `json:"why"`
}

// MachineJSON is one welder's column.
type MachineJSON struct {
	Name     string  `json:"name"`
	ElapsedS float64 `json:"elapsed_s"`
	Days     int     `json:"days"`
	Cost     float64 `json:"cost"`
	Why      string  `json:"why"`
}

// ProblemJSON is one problem.
type ProblemJSON struct {
	Code     string `json:"code"`
	Message  string `json:"message"`
	Where    string `json:"where"`
	Severity string `json:"severity"`
}

// PieceJSON is one line of the cut list.
type PieceJSON struct {
	Mark     string     `json:"mark"`
	Hand     string     `json:"hand"`
	Section  string     `json:"section"`
	Qty      int        `json:"qty"`
	LengthMM float64    `json:"length_mm"`
	Ends     [2]EndJSON `json:"ends"`
	MassKG   float64    `json:"mass_kg"`
	Members  []string   `json:"members"`
	MarksOut []MarkJSON `json:"marks_out"`
	OverMM   float64    `json:"over_mm"`
	Measured []UnitJSON `json:"measured"`
}

// UnitJSON is one piece of a mark that was measured in its place.
type UnitJSON struct {
	Unit     int        `json:"unit"`
	LengthMM float64    `json:"length_mm"`
	MarksOut []MarkJSON `json:"marks_out"` // of this one, as it is cut
}

// EndJSON is one end of a piece.
type EndJSON struct {
	MiterDeg float64 `json:"miter_deg"`
	Across   string  `json:"across"`
	BevelDeg float64 `json:"bevel_deg"`
	Kind     string  `json:"kind"`
	SwingDeg float64 `json:"swing_deg"`
	RollDeg  float64 `json:"roll_deg"`
	// Of a point: the cuts through its tip, after a square one off the stick; and, where they lean across one face only, the
	// tip's height over that face's bottom edge.
	Then     []EndJSON `json:"then,omitempty"`
	TipMM    *float64  `json:"tip_mm,omitempty"`
	Template bool      `json:"template"` // cut or finished to a printed template
}

// MarkJSON is one mark to lay out.
type MarkJSON struct {
	AtMM float64 `json:"at_mm"`
	ToMM float64 `json:"to_mm"`
	Face string  `json:"face"`
	Side string  `json:"side"` // front back top bottom, as the piece lies
	What string  `json:"what"`
}

// BuyJSON is one line of the buy list.
type BuyJSON struct {
	Section   string  `json:"section"`
	StickMM   float64 `json:"stick_mm"`
	Qty       int     `json:"qty"`
	UnitPrice float64 `json:"unit_price"`
	Cost      float64 `json:"cost"`
	Supplier  string  `json:"supplier"`
	PriceDate string  `json:"price_date"` // "" where it is not told
	Old       bool    `json:"old"`        // the price is older than the shop's book allows
	Least     int     `json:"least"`      // sticks from which on the price holds
}

// YardJSON is what the yard parts.
type YardJSON struct {
	Qty  int     `json:"qty"`
	Cost float64 `json:"cost"`
}

// NestJSON is the nest of one section.
type NestJSON struct {
	Section   string       `json:"section"`
	Cost      float64      `json:"cost"`
	BoundCost float64      `json:"bound_cost"`
	Proven    bool         `json:"proven"`
	UsedMM    float64      `json:"used_mm"`
	WasteMM   float64      `json:"waste_mm"`
	DropsMM   []float64    `json:"drops_mm"`
	Sticks    []list.Stick `json:"sticks"`
}

// StepJSON is one step of the queue at the saw.
type StepJSON struct {
	Step     int     `json:"step"`
	Section  string  `json:"section"`
	Stick    int     `json:"stick"`
	Op       string  `json:"op"`
	Mark     string  `json:"mark"`
	Unit     int     `json:"unit"`
	SwingDeg float64 `json:"swing_deg"`
	TiltDeg  float64 `json:"tilt_deg"`
	WedgeDeg float64 `json:"wedge_deg"`
	RollDeg  int     `json:"roll_deg"`
	Turned   bool    `json:"turned"`
	StopMM   float64 `json:"stop_mm"`
	NearMM   float64 `json:"near_mm"`
	FarMM    float64 `json:"far_mm"`
	Measure  string  `json:"measure"`
	OffsetMM float64 `json:"offset_mm"`
	Pattern  bool    `json:"pattern"`
	SlackMM  float64 `json:"slack_mm"`
	EstS     float64 `json:"est_s"`
	WaitsFor string  `json:"waits_for"` // what has to stand before its length can be measured; "" for a piece that can be cut now
	Again    bool    `json:"again"`     // of a load: what is left of a stick that was in the saw before
}

// SawJSON counts the settings of the saw.
type SawJSON struct {
	Swings      int     `json:"swings"`
	Stops       int     `json:"stops"`
	LeastSwings int     `json:"least_swings"`
	LeastStops  int     `json:"least_stops"`
	EstS        float64 `json:"est_s"`
}

// JSON gives the plan as the contract's document.
func (p *Plan) JSON() Document {
	d := Document{Schema: 1, Title: text.Clean(p.Job.Title), Problems: []ProblemJSON{}, Notes: append([]string{}, p.Notes...), Pieces: []PieceJSON{}, Buy: []BuyJSON{},
		Nests: []NestJSON{}, Queue: []StepJSON{}, Hardware: []bolt.JSON{}, Machines: []MachineJSON{}, Try: []TryJSON{},
		Square: []SquareJSON{}, Bodies: []BodyJSON{}, Feet: []FootJSON{}, CutToFit: []FitJSON{}}
	d.Orders, d.Received, d.Haul, d.Prices.Used = []OrderJSON{}, []BuyJSON{}, []HaulJSON{}, []UsedPrice{}
	for _, x := range p.Problems {
		d.Problems = append(d.Problems, ProblemJSON{x.Code, x.Message, x.Where(), string(x.Severity)})
	}
	if p.Failed() {
		return d
	}
	for i := range p.Pieces {
		d.Pieces = append(d.Pieces, p.pieceJSON(i))
	}
	p.buyingJSON(&d)
	d.YardCuts = YardJSON{p.YardCuts, (p.Job.Saw.YardCut * measure.Money(p.YardCuts)).Float()}
	for _, sn := range p.Nests {
		d.Nests = append(d.Nests, p.nestJSON(sn))
	}
	for _, s := range p.Queue.Steps {
		d.Queue = append(d.Queue, stepJSON(s))
	}
	q := p.Queue
	d.Saw = &SawJSON{q.Swings, q.Stops, q.LeastSwing, q.LeastStops, q.EstS}
	d.MassKG = p.MassKG
	d.Weld = p.Weld.JSON()
	for _, m := range p.Machines {
		d.Machines = append(d.Machines, MachineJSON{text.Clean(m.Name), m.Elapsed.Seconds(), m.Days, m.Cost.Float(), m.Why})
	}
	for _, t := range p.Tries() {
		d.Try = append(d.Try, TryJSON{t.Section, t.Size, t.Sticks, t.Cost.Float(), t.Proven, t.Scaled, t.MassKG, t.Utilisation, t.DeflectionMM, t.Why})
	}
	p.fitJSON(&d)
	p.tradeJSON(&d)
	d.Loads = p.loadsJSON()
	if p.Lift != nil {
		d.Lift = p.Lift.JSON()
	}
	if len(p.Bolts) > 0 {
		d.Hardware = bolt.Hardware(p.Bolts)
	}
	if p.Mass != nil && len(p.Mass.Parts) > 0 && p.Mass.Whole.KG > 0 && len(p.Frame.Members) > 0 {
		d.MassKG = p.Mass.Steel.KG + p.Mass.Loose
		b := p.Mass.Whole
		d.Centre = &[3]float64{b.Centre.X, b.Centre.Y, b.Centre.Z}
		d.Bounds = &[2][3]float64{{b.Bounds.Lo.X, b.Bounds.Lo.Y, b.Bounds.Lo.Z}, {b.Bounds.Hi.X, b.Bounds.Hi.Y, b.Bounds.Hi.Z}}
		d.HoistedKG = b.KG
	}
	return d
}

func (p *Plan) pieceJSON(i int) PieceJSON {
	x := &p.Pieces[i]
	out := PieceJSON{Mark: x.Mark, Hand: x.Hand, Section: x.Section, Qty: x.Qty, LengthMM: x.Length.MM(), MassKG: x.MassKG,
		Members: append([]string{}, x.Members...), OverMM: x.Over.MM(), Measured: []UnitJSON{}}
	for _, m := range p.Measured[x.Mark] {
		out.Measured = append(out.Measured, UnitJSON{m.Unit, m.Length.MM(), marksJSON(x.AsMeasured(m.Length).MarksOut)})
	}
	for k, e := range x.Ends {
		out.Ends[k] = endJSON(&e)
	}
	out.MarksOut = marksJSON(x.MarksOut)
	return out
}

func marksJSON(ms []piece.Mark) []MarkJSON {
	out := []MarkJSON{}
	for _, m := range ms {
		out = append(out, MarkJSON{m.AtMM, m.ToMM, m.Face, m.Side, m.What})
	}
	return out
}

func endJSON(e *piece.End) EndJSON {
	out := EndJSON{MiterDeg: clean(e.MiterDeg), Across: e.Across, BevelDeg: clean(e.BevelDeg), Kind: string(e.Kind), SwingDeg: clean(e.SwingDeg),
		RollDeg: clean(e.RollDeg), Template: e.Template}
	for k := range e.Then {
		out.Then = append(out.Then, endJSON(&e.Then[k]))
	}
	if e.OneTip {
		tip := e.TipMM
		out.TipMM = &tip
	}
	return out
}

// clean turns a negative zero into zero.
func clean(v float64) float64 {
	if v == 0 {
		return 0
	}
	return v
}

func (p *Plan) nestJSON(sn SectionNest) NestJSON {
	name := func(k int) any { return p.Pieces[sn.Pieces[k]].Mark }
	numbers := func(k int) (float64, float64) {
		e := p.Pieces[sn.Pieces[k]].Ends
		return e[0].MiterDeg, e[1].MiterDeg
	}
	a := list.JSON(sn.Problem, sn.Nest, name, numbers)
	return NestJSON{sn.Section, a.Cost, a.BoundCost, a.Proven, a.UsedMM, a.WasteMM, a.DropsMM, a.Sticks}
}

func stepJSON(s cut.Step) StepJSON {
	return StepJSON{s.Number, s.Section, s.Stick, string(s.Op), s.Mark, s.Unit, clean(s.SwingDeg), clean(s.TiltDeg), clean(s.WedgeDeg), s.RollDeg, s.Turned, s.Stop.MM(), s.Near.MM(), s.Far.MM(),
		s.Measure, clean(s.Offset.MM()), s.Pattern, s.Slack.MM(), math.Round(s.EstS*10) / 10, s.WaitsFor, s.Again}
}
