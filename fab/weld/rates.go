package weld

import (
	"time"

	"bench.example/soapstone/fab/job"
)

// Rates are the times of the work around the arc: planning values, the shop's own to set. The record of work puts real
// times beside them.
type Rates struct {
	Fit         time.Duration // to set and clamp a joint
	FitMember   time.Duration // and for each member beyond the second
	Square      time.Duration // to measure diagonals and square a tacked sub-frame
	Turn        time.Duration // to turn the frame over
	PassClean   time.Duration // to put the hood up, chip and brush after a pass that leaves slag
	CleanMM     time.Duration // and for each mm of it
	Brush       time.Duration // to brush a seam without slag
	DressMM     time.Duration // to grind a mm of seam flush
	TackMM      float64       // length of a tack where the welder gives none
	TravelMMs   float64       // travel where the welder gives neither travel nor deposit nor wire
	TestBeadMM  float64       // length of the test bead on scrap
	FireWatch   time.Duration // after the last arc
	HoursPerDay time.Duration
	Prep        map[job.Finish]time.Duration // to clean a joint before it is fitted
}

// DefaultRates are the times that are planned with where the shop says nothing.
func DefaultRates() Rates {
	return Rates{
		Fit: 60 * time.Second, FitMember: 20 * time.Second, Square: 120 * time.Second, Turn: 180 * time.Second,
		PassClean: 8 * time.Second, CleanMM: 120 * time.Millisecond, Brush: 5 * time.Second, DressMM: 600 * time.Millisecond,
		TackMM: 12.7, TravelMMs: 9 * 25.4 / 60, TestBeadMM: 100, FireWatch: 30 * time.Minute, HoursPerDay: 8 * time.Hour,
		Prep: map[job.Finish]time.Duration{job.Bright: 15 * time.Second, job.Scale: 45 * time.Second, job.Oiled: 30 * time.Second,
			job.Primed: 75 * time.Second, job.Galvanised: 120 * time.Second},
	}
}
