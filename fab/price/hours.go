package price

import (
	"fmt"
	"math"
	"sort"

	"bench.example/soapstone/fab/figure"
)

// Activity is a kind of work, as the record of work and past jobs tell it apart.
type Activity string

// Activities, in the order in which steel goes through a shop.
const (
	Office  Activity = "office"
	Errand  Activity = "fetching"
	SetUp   Activity = "set-up"
	Saw     Activity = "saw"
	Deburr  Activity = "deburr"
	MarkOut Activity = "mark out"
	Shape   Activity = "cope and drill"
	Plates  Activity = "plates"
	FitUp   Activity = "fit up"
	Tack    Activity = "tack"
	Arc     Activity = "arc"
	Clean   Activity = "clean and grind"
	Turn    Activity = "turn"
	Rest    Activity = "rest"
	Surface Activity = "surface"
	Coats   Activity = "paint"
	Bolts   Activity = "bolts"
	Out     Activity = "load out"
)

// Entry is the time of one activity.
type Entry struct {
	Activity Activity
	PlanS    int64   // planned from the plan's own counts and the paces of [labour], in whole seconds
	PaidS    int64   // what is charged: PlanS, or what the last jobs say (learn), nothing for an unpaid rest
	Shared   bool    // does not grow with the number of frames
	DoneS    int64   // planned for the part that the record says is done; 0 where the record says nothing
	TookS    int64   // what that part really took, by the record
	PastX    float64 // what the last jobs took against their plans: the median of at most three; 0: none known
	PastOf   int     // jobs behind PastX
	Working  figure.Figure
}

// Hours is the time of a job, activity by activity.
type Hours struct {
	Frames  int
	Entries []Entry
	PlanS   int64
	PaidS   int64
	Figures []figure.Figure // totals; each entry has its own working
	Notes   []string
}

// Past is what one earlier job really took.
type Past struct {
	Job    string
	AtNS   int64 // its last event, for the order
	Ratios []Ratio
}

// Ratio is an activity's time by the record beside its planned time, both of the part that was done.
type Ratio struct {
	Activity     Activity
	PlanS, TookS int64
}

// Term is one part of an activity's time: so many times so long.
type Term struct {
	Name   string
	Amount float64
	Unit   string // of the amount: "" for a count
	EachS  float64
	From   string // where the pace comes from
	Of     string // where the amount comes from
}

// hoursSource says what hours are made of.
var hoursSource = figure.Source{Kind: figure.Common, Text: "counts of the plan times the paces of [labour], the shop's own or the stated defaults"}

// Gather makes the entry of an activity out of its terms; allow is the share added for interruptions. Times are whole
// seconds, so that money is reckoned with whole numbers.
func Gather(a Activity, shared bool, allow float64, terms ...Term) (Entry, bool) {
	e := Entry{Activity: a, Shared: shared}
	sum := 0.0
	formula := "(1 + a) * (0"
	in := []figure.Input{figure.In("a", "share added for interruptions", allow, "", "[labour] allow")}
	for _, t := range terms {
		if t.Amount == 0 || t.EachS == 0 {
			continue
		}
		n := len(in)
		formula += fmt.Sprintf(" + n%d*t%d", n, n)
		in = append(in, figure.In(fmt.Sprintf("n%d", n), t.Name, t.Amount, t.Unit, t.Of), figure.In(fmt.Sprintf("t%d", n), "time for each", t.EachS, "s", t.From))
		sum += t.Amount * t.EachS
	}
	if sum <= 0 {
		return e, false
	}
	e.PlanS = int64(math.Round(math.Min(sum*(1+allow), 1e11)))
	e.PaidS = e.PlanS
	e.Working = figure.Found("hours."+string(a), "time for "+string(a), float64(e.PlanS), "s", formula+")", hoursSource, in...).RoundedTo(0.5, "to a second")
	return e, true
}

// Of adds up the entries. past are the last jobs; learn reckons with what they took. An unpaid rest is counted, not charged.
func Of(frames int, entries []Entry, past []Past, learn, restUnpaid bool) Hours {
	h := Hours{Frames: max(1, frames), Entries: append([]Entry(nil), entries...)}
	ratios := medians(past)
	for i := range h.Entries {
		e := &h.Entries[i]
		e.Working.ID = hoursID(h.Frames) + string(e.Activity)
		if r, ok := ratios[e.Activity]; ok {
			e.PastX, e.PastOf = r.x, r.of
		}
		e.PaidS = e.PlanS
		if learn && e.PastX > 0 {
			e.PaidS = int64(math.Round(math.Min(float64(e.PlanS)*e.PastX, 1e11)))
		}
		if e.Activity == Rest && restUnpaid {
			e.PaidS = 0
		}
		h.PlanS += e.PlanS
		h.PaidS += e.PaidS
	}
	h.figures(learn, restUnpaid)
	return h
}

// hoursID begins the names of the figures of a number of frames.
func hoursID(frames int) string {
	if frames > 1 {
		return fmt.Sprintf("hours.of%d.", frames)
	}
	return "hours."
}

func (h *Hours) figures(learn, restUnpaid bool) {
	id := hoursID(h.Frames)
	formula, paid := "0", "0"
	var plan, pay []figure.Input
	for i, e := range h.Entries {
		sym := fmt.Sprintf("t%d", i+1)
		formula += " + " + sym
		paid += " + " + sym
		plan = append(plan, figure.In(sym, string(e.Activity), float64(e.PlanS), "s", id+string(e.Activity)))
		from := id + string(e.Activity)
		switch {
		case e.Activity == Rest && restUnpaid:
			from = "[labour] rest = unpaid"
		case learn && e.PastX > 0:
			from = fmt.Sprintf("planned %d s times %.3f, the median of the last %d jobs ([labour] learn)", e.PlanS, e.PastX, e.PastOf)
		}
		pay = append(pay, figure.In(sym, string(e.Activity), float64(e.PaidS), "s", from))
	}
	h.Figures = append(h.Figures, figure.Found(id+"all", "time of the job", float64(h.PlanS), "s", formula, hoursSource, plan...),
		figure.Found(id+"paid", "time that is charged", float64(h.PaidS), "s", paid, hoursSource, pay...))
}

type median struct {
	x  float64
	of int
}

// pastJobs is how many of the last jobs count.
const pastJobs = 3

// medians gives of each activity the median, over the last three jobs that did any of it, of the time taken against the time
// planned. Of two jobs it is their mean.
func medians(past []Past) map[Activity]median {
	p := append([]Past(nil), past...)
	sort.SliceStable(p, func(i, j int) bool { return p[i].AtNS > p[j].AtNS })
	ratios := map[Activity][]float64{}
	for _, job := range p {
		for _, r := range job.Ratios {
			if r.PlanS > 0 && r.TookS > 0 && len(ratios[r.Activity]) < pastJobs {
				ratios[r.Activity] = append(ratios[r.Activity], float64(r.TookS)/float64(r.PlanS))
			}
		}
	}
	out := map[Activity]median{}
	for a, xs := range ratios {
		sort.Float64s(xs)
		m := xs[len(xs)/2]
		if len(xs)%2 == 0 {
			m = (xs[len(xs)/2-1] + m) / 2
		}
		out[a] = median{m, len(xs)}
	}
	return out
}

// Took puts what the record says beside the plan.
func (h *Hours) Took(ratios []Ratio) {
	for _, r := range ratios {
		for i := range h.Entries {
			if h.Entries[i].Activity == r.Activity {
				h.Entries[i].DoneS, h.Entries[i].TookS = r.PlanS, r.TookS
			}
		}
	}
}
