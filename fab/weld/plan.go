package weld

import (
	"fmt"
	"math"
	"time"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/space"
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
	Order  []string // seam IDs in the worker's order; nil: the planned one
	Effort *Effort  // nil: DefaultEffort
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
	Docket    Docket
	Schedule  Schedule
	Days      []Day
	MetalKG   float64
	WireKG    float64 // wire or rods used up
	Buy       Purchase
	TestBead  time.Duration // arc of the test bead, burnt before the schedule's start
	ScrapMM   float64       // scrap of the same wall that it takes
	Figures   []figure.Figure
	Notes     []string // what was taken for granted
	Cautions  []string
}

// electrode is the strength class that sizes are reckoned with where nothing is said: E70.
const electrodeKsi = 70

// Make plans the weld work. An error says what is impossible about the welder (no plate, a current above the plate's
// highest ...); a job without seams gives an empty plan.
func Make(in Input) (*Plan, error) {
	if in.Welder == nil {
		return nil, nil
	}
	p := &Plan{Layout: in.Layout, Welder: *in.Welder, Rates: DefaultRates()}
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
	effort := DefaultEffort
	if in.Effort != nil {
		effort = *in.Effort
	}
	// A seam longer than the budget is split: into equal runs, or into full bursts and a rest, whichever ends sooner.
	for k, equal := range []bool{true, false} {
		d, split := p.docket(in, equal)
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
	p.totals()
	p.Pull = p.pull()
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
	p.note("neither travel nor deposit given: %.2f kg/h deposited, from %s", kg*3600, source)
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

// docket makes the tasks. equal: a seam over the budget is split into equal runs, else into full bursts and what is left.
// split tells that there was one.
func (p *Plan) docket(in Input, equal bool) (Docket, bool) {
	b := &docketMaker{p: p, equal: equal, d: Docket{Budget: p.Budget, Spread: true}, last: map[int]int{}}
	p.TestBead = seconds(p.Rates.TestBeadMM / p.travelOf())
	p.ScrapMM = p.Rates.TestBeadMM
	if p.TestBead > p.Budget.Arc {
		p.TestBead = p.Budget.Arc
	}
	if len(p.Layout.Seams) > 0 && p.TestBead > 0 {
		b.d.Before = []Span{{-p.TestBead, 0}}
	}
	for i := range p.Layout.Stages {
		b.stage(i)
	}
	prev := -1
	for _, c := range in.Chores {
		var after []int
		if prev >= 0 {
			after = []int{prev}
		}
		prev = b.add(Task{ID: c.ID, Kind: Saw, What: c.What, Take: c.Take, After: after})
	}
	if len(in.Order) > 0 {
		b.chain(in.Order)
	}
	return b.d, b.split
}

func (p *Plan) travelOf() float64 {
	if p.Welder.TravelMMs > 0 {
		return p.Welder.TravelMMs
	}
	return p.Rates.TravelMMs
}

type docketMaker struct {
	p     *Plan
	d     Docket
	equal bool
	split bool
	over  []int       // gate at the end of each stage
	last  map[int]int // last run of each seam
	ahead map[int]int // first run of each seam
}

func (b *docketMaker) add(t Task) int {
	b.d.Tasks = append(b.d.Tasks, t)
	return len(b.d.Tasks) - 1
}

func place(v space.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// stage adds the tasks of one stage: turn, then for each joint cleaning, fitting and tacking, squaring, then the passes
// with their cleaning.
func (b *docketMaker) stage(i int) {
	st := b.p.Layout.Stages[i]
	r := b.p.Rates
	var after []int
	for _, s := range st.After {
		after = append(after, b.over[s])
	}
	if st.Kind == seam.Bench { // one bench: the sub-frame before must be off it
		for k := i - 1; k >= 0; k-- {
			if b.p.Layout.Stages[k].Kind == seam.Bench {
				after = append(after, b.over[k])
				break
			}
		}
	}
	begin := b.add(Task{ID: fmt.Sprintf("stage %d", i+1), Stage: i, After: after})
	if st.Turn {
		turn := b.add(Task{ID: fmt.Sprintf("turn %d", i+1), Kind: Turn, What: "turn the frame over", Stage: i, Take: r.Turn, After: []int{begin}})
		begin = b.add(Task{ID: fmt.Sprintf("turned %d", i+1), Stage: i, After: []int{turn}})
	}
	tacked := []int{begin}
	fits, tacks := map[int]int{}, map[int]int{} // of each joint
	for _, k := range st.Joints {
		j := b.p.Layout.Joints[k]
		if len(j.Seams) == 0 {
			continue
		}
		prep := b.add(Task{ID: j.ID + " prepare", Kind: Clean, Joint: j.ID, What: b.prep(j), Stage: i, Take: r.Prep[b.finish(j)]})
		set := r.Fit + time.Duration(max(0, len(j.Members)-2))*r.FitMember
		if j.Again { // its member is being set at this place already
			set = r.FitMember
		}
		fit := b.add(Task{ID: j.ID + " fit", Kind: Fit, Joint: j.ID, What: "set and clamp", Stage: i, Place: place(j.At), Take: set, After: []int{prep, begin}})
		fits[k] = fit
		one := b.p.tackTake()
		burst := max(1, int(b.d.Budget.Arc/max(1, one)))
		prev := fit
		for n := j.Tacks; n > 0; n -= burst {
			prev = b.add(Task{ID: j.ID + " tack", Kind: Tack, Joint: j.ID, What: fmt.Sprintf("%d tacks", min(n, burst)), Stage: i, Place: place(j.At),
				Take: min(time.Duration(min(n, burst))*one, b.d.Budget.Arc), After: []int{prev}})
		}
		tacked = append(tacked, prev)
		tacks[k] = prev
	}
	var early []int
	for _, k := range st.Seams { // seams on which a member comes to stand are welded and dressed before it is fitted
		x := b.p.Layout.Seams[k]
		if len(x.Before) == 0 {
			continue
		}
		after := begin
		if t, ok := tacks[x.Joint]; ok {
			after = t
		}
		ends := b.seam(k, i, after)
		early = append(early, ends...)
		for _, j := range x.Before {
			if f, ok := fits[j]; ok {
				b.d.Tasks[f].After = append(b.d.Tasks[f].After, ends...)
			}
		}
	}
	ready := begin
	if len(tacked) > 1 {
		ready = b.add(Task{ID: fmt.Sprintf("tacked %d", i+1), Stage: i, After: tacked})
		if r.Square > 0 && st.Kind != seam.Over {
			square := b.add(Task{ID: fmt.Sprintf("square %d", i+1), Kind: Fit, What: "measure both diagonals and square the frame before any pass", Stage: i, Take: r.Square, After: []int{ready}})
			ready = b.add(Task{ID: fmt.Sprintf("squared %d", i+1), Stage: i, After: []int{square}})
		}
	}
	ends := append([]int{ready}, early...)
	for _, k := range st.Seams {
		if len(b.p.Layout.Seams[k].Before) == 0 {
			ends = append(ends, b.seam(k, i, ready)...)
		}
	}
	b.over = append(b.over, b.add(Task{ID: fmt.Sprintf("stage %d done", i+1), Stage: i, After: ends}))
}

func (b *docketMaker) finish(j seam.Joint) job.Finish { return b.p.Layout.Seams[j.Seams[0]].Finish }

func (b *docketMaker) prep(j seam.Joint) string {
	switch b.finish(j) {
	case job.Galvanised:
		return "grind the zinc back on both sides of the seams"
	case job.Primed:
		return "grind the primer off around the joint"
	case job.Oiled:
		return "wipe the oil off with a solvent that is safe near an arc"
	case job.Scale:
		return "grind mill scale off the seams and the clamp's place"
	}
	return "wipe clean"
}

// seam adds the runs of one seam with their cleaning, and gives the tasks that must be done before the stage is over.
func (b *docketMaker) seam(k, stage, ready int) []int {
	s := b.p.Layout.Seams[k]
	x := &b.p.Seams[k]
	if x.Arc <= 0 {
		return nil
	}
	r := b.p.Rates
	j := b.p.Layout.Joints[s.Joint].ID
	after := []int{ready}
	x.Runs = 0
	var ends []int
	for pass := range s.Passes {
		// whole nanoseconds, so that the passes add up to the seam
		take := x.Arc*time.Duration(pass+1)/time.Duration(s.Passes) - x.Arc*time.Duration(pass)/time.Duration(s.Passes)
		runs := runsOf(take, b.d.Budget, b.equal)
		b.split = b.split || len(runs) > 1
		length := s.WeldMM
		for n, t := range runs {
			what := fmt.Sprintf("seam %s, %s, %s", s.ID, s.Type, s.Position)
			if s.Passes > 1 {
				what += fmt.Sprintf(", pass %d of %d", pass+1, s.Passes)
			}
			if len(runs) > 1 {
				what += fmt.Sprintf(", run %d of %d, laid back towards the one before", n+1, len(runs))
			}
			a := b.add(Task{ID: s.ID, Kind: Arc, Joint: j, Seam: s.ID, What: what, Stage: stage, Take: t, After: after, Place: place(s.Middle())})
			if x.Runs == 0 {
				if b.ahead == nil {
					b.ahead = map[int]int{}
				}
				b.ahead[k] = a
			}
			x.Runs++
			b.last[k] = a
			part := length * float64(t) / float64(take)
			clean := r.Brush
			if b.p.Process.Slag {
				clean = r.PassClean + time.Duration(part*float64(r.CleanMM))
			}
			c := b.add(Task{ID: s.ID + " clean", Kind: Clean, Joint: j, Seam: s.ID, What: cleaning(b.p.Process), Stage: stage, Take: clean, After: []int{a}})
			after = []int{c}
			ends = append(ends, c)
		}
	}
	if s.Dress {
		ends = append(ends, b.add(Task{ID: s.ID + " dress", Kind: Grind, Joint: j, Seam: s.ID, What: "grind the seam flush", Stage: stage,
			Take: time.Duration(s.WeldMM * float64(r.DressMM)), After: after}))
	}
	return ends
}

func cleaning(p Process) string {
	if p.Slag {
		return "chip the slag and brush"
	}
	return "brush"
}

// runsOf splits an arc that is longer than the budget into as few runs as hold it.
func runsOf(take time.Duration, b Budget, equal bool) []time.Duration {
	if take <= b.Arc || b.Arc >= b.Window {
		return []time.Duration{take}
	}
	n := (take + b.Arc - 1) / b.Arc
	runs := make([]time.Duration, n)
	for i := range runs {
		if equal {
			k := time.Duration(i)
			runs[i] = take*(k+1)/n - take*k/n
		} else {
			runs[i] = min(b.Arc, take-time.Duration(i)*b.Arc)
		}
	}
	return runs
}

// chain lays the seams in the worker's order: each begins after the one named before it in the same stage has begun its
// last run.
func (b *docketMaker) chain(order []string) {
	byID := map[string]int{}
	for k, s := range b.p.Layout.Seams {
		byID[s.ID] = k
	}
	prev := map[int]int{} // stage to the last seam named in it
	for _, id := range order {
		k, ok := byID[id]
		if !ok {
			continue
		}
		first, ok := b.ahead[k]
		if !ok {
			continue
		}
		st := b.p.Layout.Seams[k].Stage
		if p, ok := prev[st]; ok {
			t := &b.d.Tasks[first]
			t.After = append(append([]int(nil), t.After...), b.last[p])
		}
		prev[st] = k
	}
	b.d.Spread = false
}
