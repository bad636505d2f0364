package job

import (
	"time"

	"bench.example/soapstone/fab/measure"
)

// PlatePoint is one point of a welder's rating plate.
type PlatePoint struct {
	Duty float64 // fraction of the plate's period
	Amps float64
}

// Welder is the [welder].
type Welder struct {
	Where
	Name        string // of a machine in the shop file; "" the job's own
	Process     string // SMAW GMAW FCAW-S FCAW-G GTAW
	Amps        float64
	Volts       float64
	Duty        []PlatePoint
	Window      time.Duration // the plate's period
	Wire        measure.Length
	TravelMMs   float64 // mm/s; 0 where Deposit counts
	DepositKGs  float64 // kg/s of deposited metal; 0 where Travel counts
	Fillet      measure.Length
	Derate      float64        // share of the plate's duty that is planned with, 0..1; 1: all of it
	WFS         float64        // wire feed, mm/s; 0: not given
	Price       measure.Money  // rent or cost for a day
	Tack        measure.Length // length of a tack
	HoursPerDay time.Duration
}
