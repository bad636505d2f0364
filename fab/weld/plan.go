package weld

import (
	"fmt"
	"math"
	"time"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/seam"
)

// Chore is work away from the booth that is due anyway and may fill a rest: a piece to saw, a hole to drill.
type Chore struct {
	ID   string
	What string
	Take time.Duration
}

// Input is what a plan is made from.
type Input struct {
	Layout seam.Layout
	Welder *job.Welder
	Rates  *Rates  // nil: DefaultRates
	Chores []Chore // in their own order
	Trips  Trips
	Order  []seam.Place // the worker's own order of joints and seams; nil: the planned one. Stages: seam.Find
	Effort *Effort      // nil: DefaultEffort
	Tape   measure.Tape // prints the lengths of notes and cautions; none: half millimetres
}

// SeamPlan is what the plan says of one seam, index for index with the layout's seams.
type SeamPlan struct {
	Arc       time.Duration // all passes
	Runs      int           // separate arcs: passes, and their parts where the budget splits them
	BackStep  bool          // long enough to be laid in steps against the general direction
	AreaMM2   float64
	MetalKG   float64
	EnergyKJ  float64 // arc energy, kJ/mm
	HeatKJ    float64 // heat input, kJ/mm
	AllowN    float64 // allowable force on the whole seam, fillets only
	Shrink    Shrinkage
	ThinWall  bool // burn-through is likely
	TravelMMs float64
}

// Plan is the weld work of a job.
type Plan struct {
	Layout    seam.Layout
	Welder    job.Welder
	Process   Process
	Rates     Rates
	Seams     []SeamPlan
	PlateDuty figure.Figure // what the plate allows
	Duty      figure.Figure // what is planned with
	Budget    Budget
	Pull      Pull
	Thermal   Thermal // the second view of the machine, fitted to the plate
	Peak      float64 // highest temperature of the schedule in it, as a share of the limit
	PeakAt    time.Duration
	Docket    Docket
	Schedule  Schedule
	Days      []Day
	MetalKG   float64
	WireKG    float64 // wire or rods used up
	Buy       Purchase
	Guides    []Setting     // starting points at the machine, one for each wall that is welded; published tables
	TestBead  time.Duration // arc of the test bead, burnt before the schedule's start
	ScrapMM   float64       // scrap of the same wall that it takes
	Figures   []figure.Figure
	Notes     []string // what was taken for granted
	Cautions  []string
	OwnOrder  bool   // the worker's own order of stages or joints was kept
	bend      []Bend // of each seam: what it adds to its stage's bow
	sway      []Bend // the same less its share of the bow in the end
	tape      measure.Tape
}

// electrode is the strength class that sizes are reckoned with where nothing is said: E70.
const electrodeKsi = 70

// Make plans the weld work. An error says what is impossible about the welder (no plate, a current above the plate's
// highest ...); a job without seams gives an empty plan.
func Make(in Input) (*Plan, error) {
	if in.Welder == nil {
		return nil, nil
	}
	p := &Plan{OwnOrder: len(in.Order) > 0 || in.Layout.Reordered, Layout: in.Layout, Welder: *in.Welder, Rates: DefaultRates(), tape: in.Tape}
	if p.tape == (measure.Tape{}) {
		p.tape = measure.HalfMM
	}
	if in.Rates != nil {
		p.Rates = *in.Rates
	}
	if p.Welder.HoursPerDay > 0 {
		p.Rates.HoursPerDay = p.Welder.HoursPerDay
	}
	if p.Welder.Tack > 0 {
		p.Rates.TackMM = p.Welder.Tack.MM()
	}
	if err := p.machine(in.Trips); err != nil {
		return nil, err
	}
	p.seams()
	p.bend, p.sway = p.bends()
	effort := DefaultEffort
	if in.Effort != nil {
		effort = *in.Effort
	}
	// A seam longer than the budget is split: into equal runs, or into full bursts and a rest, whichever ends sooner.
	for k, equal := range []bool{true, false} {
		d, split, err := p.docket(in, equal)
		if err != nil {
			return nil, err
		}
		if k > 0 && !split {
			break
		}
		s, err := d.Best(effort)
		if err != nil {
			return nil, err
		}
		if k == 0 || s.Elapsed < p.Schedule.Elapsed {
			p.Docket, p.Schedule = d, s
		}
	}
	p.consumables()
	p.guides()
	p.totals()
	p.Pull = p.pull()
	p.Figures = append(p.Figures, p.BowFigures()...)
	plate := PlateOf(&p.Welder)
	var err error
	if p.Thermal, err = FitThermal(plate); err != nil {
		return nil, err
	}
	p.Peak, p.PeakAt = p.Thermal.Peak(append(append([]Span(nil), p.Docket.Before...), p.Schedule.Arcs()...), p.Welder.Amps, plate.Window)
	p.Days = p.Docket.Days(p.Schedule.Order(), p.Rates.HoursPerDay, p.Rates.FireWatch)
	p.cautions()
	return p, nil
}

// PlateOf gives the rating plate of a job's welder.
func PlateOf(w *job.Welder) Plate {
	p := Plate{Window: w.Window}
	if p.Window <= 0 {
		p.Window = PlateWindow
	}
	for _, x := range w.Duty {
		p.Points = append(p.Points, Point{x.Duty, x.Amps})
	}
	return p
}

// machine reads the welder: process, duty, budget.
func (p *Plan) machine(trips Trips) error {
	w := &p.Welder
	var err error
	if p.Process, err = FindProcess(w.Process); err != nil {
		return err
	}
	plate := PlateOf(w)
	if err = plate.Check(); err != nil {
		return err
	}
	if w.Amps <= 0 {
		w.Amps = plate.Most()
		p.note("no amps given: the plate's highest current of %g A", w.Amps)
	}
	if w.Volts <= 0 {
		w.Volts = PlateVolts(p.Process.Name, w.Amps)
		p.note("no volts given: %.1f V, the conventional load voltage at %g A", w.Volts, w.Amps)
	}
	if w.Derate <= 0 || w.Derate > 1 {
		w.Derate = 1
	}
	if p.PlateDuty, err = plate.DutyAt(w.Amps); err != nil {
		return err
	}
	if p.Duty, err = plate.Working(w.Amps, w.Derate, trips); err != nil {
		return err
	}
	if p.Budget, err = NewBudget(plate.Window, p.Duty.Value); err != nil {
		return err
	}
	p.Figures = append(p.Figures, p.PlateDuty, p.Duty,
		figure.New("weld.burst", "arc in every window", "s", "W * D", figure.Source{Kind: figure.Common, Text: "duty is a share of the plate's period: AWS glossary, ten minutes"},
			figure.In("W", "the plate's period", plate.Window.Seconds(), "s", "[welder] window"), p.Duty.As("D")),
		figure.New("weld.cool", "rest that restores a full burst", "s", "W * (1 - D)", figure.Source{Kind: figure.Common, Text: "what the burst leaves of the period"},
			figure.In("W", "the plate's period", plate.Window.Seconds(), "s", "[welder] window"), p.Duty.As("D")))
	return nil
}

func (p *Plan) note(format string, args ...any) {
	p.Notes = append(p.Notes, fmt.Sprintf(format, args...))
}

// seconds rounds a number of seconds to whole nanoseconds.
func seconds(s float64) time.Duration { return time.Duration(math.Round(s * 1e9)) }

// near prints a length in mm by the nearest mark of the tape.
func (p *Plan) near(mm float64) string { return p.tape.Print(p.tape.Nearest(measure.FromMM(mm))) }

// rate gives the deposit rate (kg/s) where no travel is given.
func (p *Plan) rate() float64 {
	w := &p.Welder
	if w.DepositKGs > 0 {
		return w.DepositKGs
	}
	wire := w.Wire.MM()
	if wire <= 0 {
		wire = 0.035 * measure.InchMM
	}
	kg, source := Deposit(p.Process, wire, w.WFS, w.Amps)
	p.note("neither travel nor deposit given: %s an hour deposited, from %s", p.tape.Mass(kg*3600), source)
	return kg
}

// seams works out time, metal and heat of each seam.
func (p *Plan) seams() {
	w := &p.Welder
	deposit := 0.0
	if w.TravelMMs <= 0 {
		deposit = p.rate()
	}
	p.Seams = make([]SeamPlan, len(p.Layout.Seams))
	for i, s := range p.Layout.Seams {
		if s.TackOnly || s.Skipped != "" {
			continue
		}
		x := &p.Seams[i]
		x.AreaMM2 = s.Area().Value
		x.MetalKG = Metal(x.AreaMM2, s.WeldMM).Value
		x.TravelMMs = w.TravelMMs
		if deposit > 0 {
			x.TravelMMs = deposit / (x.AreaMM2 / float64(s.Passes) * SteelKGPerMM3)
		}
		x.Arc = seconds(float64(s.Passes) * s.WeldMM / x.TravelMMs)
		x.BackStep = s.WeldMM > backStepOver
		energy := ArcEnergy(w.Volts, w.Amps, x.TravelMMs)
		x.EnergyKJ, x.HeatKJ = energy.Value, HeatInput(energy, p.Process.Thermal).Value
		x.ThinWall = BurnThrough(x.EnergyKJ, math.Min(s.WallMM[0], s.WallMM[1]))
		if s.Type == seam.Fillet {
			x.AllowN = seam.Allowable(s.LegMM, electrodeKsi).Value * s.WeldMM
		}
		x.Shrink = Shrink(s)
		p.MetalKG += x.MetalKG
	}
}

// backStepOver is the length (mm) from which a seam is laid in back steps: about two hand spans (common practice).
const backStepOver = 300

// tackTake gives the arc of one tack.
func (p *Plan) tackTake() time.Duration {
	v := p.Welder.TravelMMs
	if v <= 0 {
		v = p.Rates.TravelMMs
	}
	return seconds(p.Rates.TackMM / v)
}
