package job

import (
	"time"

	"bench.example/soapstone/fab/measure"
)

// Paint is the [paint]: how the frame is kept from rusting.
type Paint struct {
	Where
	Given     bool
	Coating   string // paint | galvanise (hot-dip, after welding) | none
	Indoors   bool   // place = "indoors"
	Prep      string // grade of surface preparation; "": by the steel's finish
	Primer    Coat
	Top       Coat
	Ends      string        // what open tube ends get: capped | welded | open
	CapPrice  measure.Money // of one plug or cap
	ZincKG    measure.Money // price of galvanising for a kilogram of steel
	Thinner   measure.Money // price of a litre of thinner
	AreaExtra float64       // share of the area added for what the geometry does not see (bolts, bought parts)
}

// Coat is [paint.primer] or [paint.top].
type Coat struct {
	Where
	Given      bool
	Name       string
	Solids     float64 // by volume, share
	FilmMM     float64 // dry, of one coat
	Coats      int
	Method     string  // brush | roller | hvlp | spray | airless | dip
	Loss       float64 // share of the paint used; meaningful where LossGiven
	LossGiven  bool
	Thin       float64       // thinner added, share of the paint's volume
	DensityKGL float64       // of the paint in the can, kg/l
	Recoat     time.Duration // before the next coat, from its tin
	Cure       time.Duration // before it may be handled and loaded, from its tin
	Cans       []Can
	own        map[string]bool
}

// Own tells whether a key was given; else its value is the stated default.
func (c *Coat) Own(key string) bool { return c.own[key] }

// Can is one size as it is sold.
type Can struct {
	Litres float64
	Size   string // as written: 1gal
	Price  measure.Money
	Priced bool
}
