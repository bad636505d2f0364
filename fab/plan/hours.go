package plan

import (
	"math"
	"slices"
	"time"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/weld"
	"bench.example/soapstone/fab/work"
)

// sawRates gives the times at the saw: those handed in, else the shop's paces of [labour], whose defaults are cut.UsualRates.
func (p *Plan) sawRates(in Input) cut.Rates {
	if in.Rates != nil {
		return *in.Rates
	}
	l := &p.Job.Labour
	r := cut.UsualRates()
	for _, x := range []struct {
		to   *float64
		pace job.Pace
	}{{&r.LoadS, job.PaceLoad}, {&r.SwingS, job.PaceSwing}, {&r.ProveS, job.PaceProve}, {&r.StopS, job.PaceStop}, {&r.HandleS, job.PaceHandle}, {&r.PatternS, job.PacePattern}, {&r.MarkoutS, job.PaceLine}} {
		if l.Own(x.pace) {
			*x.to = l.Time(x.pace).Seconds()
		}
	}
	if l.FeedMM2 > 0 {
		r.FeedMM2S = l.FeedMM2 / 60
	}
	return r
}

// weldRates gives the times at the booth with the shop's own paces in the place of the defaults.
func (p *Plan) weldRates() *weld.Rates {
	l := &p.Job.Labour
	r := weld.DefaultRates()
	set := func(to *time.Duration, pace job.Pace, per time.Duration) {
		if l.Own(pace) {
			*to = l.Time(pace) / per
		}
	}
	set(&r.Fit, job.PaceFit, 1)
	set(&r.FitMember, job.PaceFitMember, 1)
	set(&r.Square, job.PaceSquare, 1)
	set(&r.Turn, job.PaceTurn, 1)
	set(&r.PassClean, job.PacePass, 1)
	set(&r.CleanMM, job.PacePassLength, 1000)
	set(&r.Brush, job.PaceBrush, 1)
	set(&r.DressMM, job.PaceDress, 1000)
	for finish, pace := range map[job.Finish]job.Pace{job.Bright: job.PacePrepBright, job.Scale: job.PacePrepScale, job.Oiled: job.PacePrepOiled, job.Primed: job.PacePrepPrimed, job.Galvanised: job.PacePrepZinc} {
		if l.Own(pace) {
			r.Prep[finish] = l.Time(pace)
		}
	}
	return &r
}

// hours gathers the time of a lot, activity by activity.
func (p *Plan) hours(l *lot, past []price.Past) price.Hours {
	lab := &p.Job.Labour
	n := float64(l.n)
	var entries []price.Entry
	add := func(a price.Activity, shared bool, terms ...price.Term) {
		if e, ok := price.Gather(a, shared, lab.Allow, terms...); ok {
			entries = append(entries, e)
		}
	}
	pace := func(name string, amount float64, x job.Pace, of string) price.Term {
		return price.Term{Name: name, Amount: amount, EachS: lab.Time(x).Seconds(), From: lab.From(x), Of: of}
	}
	add(price.Office, true, pace("the job", 1, job.PaceOffice, ""))
	add(price.Errand, true, pace("the job", 1, job.PaceErrand, ""))
	add(price.SetUp, true, pace("the job", 1, job.PaceSetup, ""))
	add(price.Saw, false, price.Term{Name: "the queue at the saw", Amount: 1, EachS: l.queue.EstS, From: "saw.time; paces saw_* of [labour]"})
	var ends, marks, copes, holes, plates float64
	for i := range p.Pieces {
		x := &p.Pieces[i]
		qty := float64(x.Qty) * n
		ends += 2 * qty
		for _, m := range x.MarksOut {
			if m.Member != "" {
				marks += qty
			}
		}
		for _, e := range x.Ends {
			if e.Template || len(e.Then) > 0 {
				copes += qty
			}
		}
		for _, h := range x.Holes {
			holes += qty
			if h.Through {
				holes += qty
			}
		}
	}
	for i := range p.Frame.Plates {
		plates += float64(max(1, p.Frame.Plates[i].Qty)) * n
	}
	add(price.Deburr, false, pace("ends of pieces", ends, job.PaceDeburr, "cut list"))
	add(price.MarkOut, false, pace("places marked out", marks, job.PaceMark, "mark-out"))
	add(price.Shape, false, pace("ends finished by hand", copes, job.PaceCope, "cut list"), pace("holes in members", holes, job.PaceHole, "cut list"))
	add(price.Plates, false, pace("plates", plates, job.PacePlate, "[[plate]]"))
	entries = append(entries, p.boothHours(n)...)
	entries = append(entries, p.paintHours(l)...)
	bolts := 0.0
	for i := range p.Bolts {
		bolts += float64(p.Bolts[i].Qty) * n
	}
	add(price.Bolts, false, pace("bolts", bolts, job.PaceBolt, "[[bolts]]"))
	add(price.Out, true, pace("the job", 1, job.PaceOut, ""))
	return price.Of(l.n, entries, past, lab.Learn, lab.RestUnpaid)
}

// boothHours takes the weld plan's tasks together by what they are. Without a welder every joint is still fitted.
func (p *Plan) boothHours(n float64) []price.Entry {
	lab := &p.Job.Labour
	var out []price.Entry
	add := func(a price.Activity, terms ...price.Term) {
		if e, ok := price.Gather(a, false, lab.Allow, terms...); ok {
			out = append(out, e)
		}
	}
	if p.Weld == nil {
		joints := 0
		for i := range p.Frame.Joints {
			if len(p.Frame.Joints[i].Contacts) > 0 {
				joints++
			}
		}
		add(price.FitUp, price.Term{Name: "joints", Amount: n * float64(joints), EachS: lab.Time(job.PaceFit).Seconds(), From: lab.From(job.PaceFit), Of: "joints of the frame"})
		return out
	}
	count, sum := map[weld.Kind]float64{}, map[weld.Kind]float64{}
	for _, t := range p.Weld.Docket.Tasks {
		if t.Take > 0 {
			count[t.Kind]++
			sum[t.Kind] += t.Take.Seconds()
		}
	}
	term := func(name, from string, k weld.Kind) price.Term {
		if count[k] == 0 {
			return price.Term{}
		}
		return price.Term{Name: name, Amount: n * count[k], EachS: sum[k] / count[k], From: from, Of: "weld plan"}
	}
	const paced = "mean of the weld plan's; paces of [labour]"
	add(price.FitUp, term("joints set and clamped, frames squared", paced, weld.Fit))
	add(price.Tack, term("goes of tacks", "weld plan", weld.Tack))
	bead := price.Term{Name: "test bead", Amount: 1, EachS: p.Weld.TestBead.Seconds(), From: "weld plan"}
	add(price.Arc, term("runs", "weld plan: length over travel", weld.Arc), bead)
	add(price.Clean, term("joints and seams cleaned", paced, weld.Clean), term("seams ground flush", paced, weld.Grind))
	add(price.Turn, term("turns of the frame", paced, weld.Turn))
	add(price.Rest, price.Term{Name: "waiting for the machine", Amount: n, EachS: p.Weld.Schedule.RestSum.Seconds(), From: "weld plan: rest that nothing fills"})
	return out
}

func (p *Plan) paintHours(l *lot) []price.Entry {
	if l.paint == nil {
		return nil
	}
	var surface, coats []price.Term
	for _, w := range l.paint.Work {
		unit := "m2"
		if w.Kind == "set-up" || w.Kind == "caps" {
			unit = ""
		}
		t := price.Term{Name: w.Name + ", " + w.Kind, Amount: w.Amount, Unit: unit, EachS: w.EachS, From: w.From, Of: "the paint's areas, coats and caps"}
		if w.Kind == "surface" {
			surface = append(surface, t)
		} else {
			coats = append(coats, t)
		}
	}
	var out []price.Entry
	if e, ok := price.Gather(price.Surface, false, p.Job.Labour.Allow, surface...); ok {
		out = append(out, e)
	}
	if e, ok := price.Gather(price.Coats, false, p.Job.Labour.Allow, coats...); ok {
		out = append(out, e)
	}
	return out
}

// longestGap is the longest time between two ticks of one kind of work that still counts as work: beyond it the worker was
// at something else, or at home.
const longestGap = 20 * time.Minute

// Took gives what the record of work says of a job that is planned as a whole, for the plans of later jobs.
func (p *Plan) Took(s *work.State) []price.Ratio {
	return p.took(&lot{n: 1, nests: p.Nests, bundles: p.Bundles, queue: p.Queue, paint: p.Paint}, s)
}

// took puts the times of the record beside those of the plan, for the same part of the work. At the saw and for fitting,
// time is what lies between one tick and the next, as far as it is no break; arcs and rests are recorded themselves.
func (p *Plan) took(l *lot, s *work.State) []price.Ratio {
	if s == nil {
		return nil
	}
	allow := 1 + p.Job.Labour.Allow
	var out []price.Ratio
	add := func(a price.Activity, planned, taken float64) {
		if planned >= 1 && taken >= 1 {
			out = append(out, price.Ratio{Activity: a, PlanS: int64(math.Round(planned)), TookS: int64(math.Round(taken))})
		}
	}
	cuts := 0
	for _, x := range l.queue.Steps {
		if x.Op == cut.Cut {
			cuts++
		}
	}
	var at []int64
	for _, x := range s.Pieces() {
		at = append(at, x.At)
	}
	n, sum := gaps(at)
	if cuts > 0 {
		add(price.Saw, float64(n)*l.queue.EstS*allow/float64(cuts), sum)
	}
	if p.Weld == nil {
		return out
	}
	var all, arcs, burnt, fitting float64
	var set []int64 // when a joint was tacked up
	var laid []int64
	tacked := 0
	keys, _ := p.Weld.Names()
	for i, t := range p.Weld.Docket.Tasks {
		switch t.Kind {
		case weld.Fit:
			fitting += t.Take.Seconds()
		case weld.Tack:
			fitting += t.Take.Seconds()
			tacked++
			if done := s.Joint(keys[i]); done.Tacked {
				set = append(set, done.At)
			}
		case weld.Arc:
			all += t.Take.Seconds()
			done := s.Joint(keys[i])
			if done.At != 0 {
				laid = append(laid, done.At)
			}
			if done.Welded && done.ArcNS > 0 {
				burnt += float64(done.ArcNS) / 1e9
				arcs += t.Take.Seconds()
			}
		}
	}
	if n, sum = gaps(set, laid...); tacked > 0 {
		add(price.FitUp, float64(n)*fitting*allow/float64(tacked), sum)
	}
	add(price.Arc, arcs*allow, burnt)
	if all > 0 {
		add(price.Rest, p.Weld.Schedule.RestSum.Seconds()*allow*arcs/all, float64(s.RestedNS())/1e9)
	}
	return out
}

// gaps counts the times between ticks that are no breaks and in which nothing else was done, and adds them up in seconds.
func gaps(at []int64, other ...int64) (n int, sum float64) {
	slices.Sort(at)
	slices.Sort(other)
	for i := 1; i < len(at); i++ {
		if k, _ := slices.BinarySearch(other, at[i-1]); k < len(other) && other[k] < at[i] {
			continue
		}
		if d := time.Duration(at[i] - at[i-1]); d > 0 && d <= longestGap {
			n++
			sum += d.Seconds()
		}
	}
	return n, sum
}
