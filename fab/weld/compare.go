package weld

import (
	"time"

	"bench.example/soapstone/fab/measure"
)

// Side is one machine's column where several are compared.
type Side struct {
	Name    string
	Plan    *Plan // nil where Err says why
	Err     error
	Elapsed time.Duration
	Days    int
	Cost    measure.Money // rent or cost of the machine for those days; wire and work are priced elsewhere
}

// Compare plans the same job on several machines. Each input brings its own layout, because the process decides on sizes.
func Compare(machines []Input) []Side {
	var out []Side
	for _, in := range machines {
		s := Side{}
		if in.Welder != nil {
			s.Name = in.Welder.Name
			if s.Name == "" {
				s.Name = "the job's own"
			}
		}
		s.Plan, s.Err = Make(in)
		if s.Plan != nil {
			s.Elapsed, s.Days = s.Plan.Schedule.Elapsed, len(s.Plan.Days)
			s.Cost = in.Welder.Price.Times(int64(s.Days), 1)
		}
		out = append(out, s)
	}
	return out
}
