package lift

import (
	"fmt"
	"math"
	"sort"

	"bench.example/soapstone/fab/measure"
)

// Passage says whether the frame goes where it must.
type Passage struct {
	Door, Trailer, Lift *bool // nil: not asked
	Parts               int   // bolted parts that would pass; 1: it passes whole
	Splits              []Split
	Why                 []string
}

// Split is where a bolted split would fall: across the longest axis, between cross members.
type Split struct {
	Axis string
	AtMM float64 // coordinate in the job
}

// passes tells whether a box goes through a door, whichever of its faces first.
func passes(x, y, z, w, h float64) bool {
	d := []float64{x, y, z}
	sort.Float64s(d)
	return d[0] <= math.Min(w, h) && d[1] <= math.Max(w, h)
}

func (a *Answer) access(in Input) {
	acc := &in.Job.Access
	p := &Passage{Parts: 1}
	dims := []float64{a.Size.X, a.Size.Y, a.Size.Z}
	sort.Float64s(dims)
	long, lo := a.longAxis(in)
	length := long(in.Mass.Whole.Bounds.Hi) - lo
	yes := func(ok bool, why string) *bool {
		if !ok {
			p.Why = append(p.Why, why)
		}
		return &ok
	}
	tape := func(mm float64) string { return in.Job.Tape.Print(measure.FromMM(mm)) }
	parts := 1
	if len(acc.Door) == 2 {
		w, h := acc.Door[0].MM(), acc.Door[1].MM()
		ok := passes(a.Size.X, a.Size.Y, a.Size.Z, w, h)
		p.Door = yes(ok, fmt.Sprintf("its smallest face is %s by %s, the door %s by %s", tape(dims[0]), tape(dims[1]), tape(w), tape(h)))
		if !ok {
			n := 2
			for n <= 6 && !passes(length/float64(n), math.Min(a.Size.X, a.Size.Y), a.Size.Z, w, h) {
				n++
			}
			if n > 6 {
				p.Why = append(p.Why, "splitting it along its length does not bring it through the door")
			} else {
				parts = max(parts, n)
			}
		}
	}
	if len(acc.Trailer) >= 2 {
		w, l := acc.Trailer[0].MM(), acc.Trailer[1].MM()
		sx, sy := math.Min(a.Size.X, a.Size.Y), math.Max(a.Size.X, a.Size.Y)
		ok := sx <= math.Min(w, l) && sy <= math.Max(w, l)
		if len(acc.Trailer) == 3 {
			ok = ok && a.Size.Z <= acc.Trailer[2].MM()
		}
		p.Trailer = yes(ok, fmt.Sprintf("it is %s by %s on the ground and %s high, the trailer's bed %s by %s", tape(sx), tape(sy), tape(a.Size.Z), tape(w), tape(l)))
		if sy > math.Max(w, l) {
			parts = max(parts, int(math.Ceil(sy/math.Max(w, l))))
		}
	}
	if acc.LiftKG > 0 {
		ok := a.MassKG <= acc.LiftKG
		p.Lift = yes(ok, fmt.Sprintf("it weighs %s, one lift is %s", in.Job.Tape.Mass(a.MassKG), in.Job.Tape.Mass(acc.LiftKG)))
		parts = max(parts, int(math.Ceil(a.MassKG/acc.LiftKG)))
	}
	p.Parts = parts
	axis := "x"
	if a.Size.Y > a.Size.X {
		axis = "y"
	}
	// Cross members' places along the long axis: a split falls in the middle of the gap nearest to the even place.
	var at []float64
	for i := range in.Frame.Members {
		m := &in.Frame.Members[i]
		if math.Abs(long(m.Axis)) < 0.5 {
			at = append(at, long(m.Centre()))
		}
	}
	sort.Float64s(at)
	for k := 1; k < parts; k++ {
		want := lo + length*float64(k)/float64(parts)
		best, gap := want, math.Inf(1)
		for i := 0; i+1 < len(at); i++ {
			if at[i+1]-at[i] < 100 {
				continue
			}
			mid := (at[i] + at[i+1]) / 2
			if d := math.Abs(mid - want); d < gap {
				best, gap = mid, d
			}
		}
		p.Splits = append(p.Splits, Split{axis, best})
	}
	a.Access = p
}
