package job

import "bench.example/soapstone/fab/measure"

// Lift is the [lift]: how the frame gets to where it goes.
//
//	by      "hand", "sling", "jack", or a list of them
//	people  who carry; the fewest are reckoned where left out
//	limit   what one of them is to carry; "51lb" (the lifting equation's constant) where left out
//	picks   places on members where the slings hold: ["upper.x1@24in", ...]; the ends of the longest sides are proposed
//	        where left out
//	hook    height of the hook over the picks; by angle where left out
//	angle   of the slings from the horizontal, 60 where left out
//	h, v, d, a, f, hours, coupling   of the lifting equation, for one person: hands out, hands up, travel, twist, lifts a
//	        minute, hours, good fair poor
//	raise   by how much an end is jacked up; "6in"
//	jack    members under whose ends the jack stands: the end that goes up
//	grip    friction between the foot and the ground while it leans; 0.3
//	with    mass of what else hangs on it while it is lifted
type Lift struct {
	Where
	Given    bool
	By       []string
	People   int
	LimitKG  float64
	Picks    []Name
	Hook     measure.Length
	AngleDeg float64
	H, V, D  measure.Length // 0: not given
	ADeg     float64
	PerMin   float64
	Hours    float64
	Coupling string
	Raise    measure.Length
	Jack     []Name
	Grip     float64
	WithKG   float64
}

// Access is the [access]: what the frame must pass.
//
//	door    ["32in", "80in"]: clear width and height
//	trailer ["6ft", "12ft"]: bed width and length; a third figure for the height under a roof
//	lift    "300lb": the most that is moved at once
type Access struct {
	Where
	Given   bool
	Door    []measure.Length
	Trailer []measure.Length
	LiftKG  float64
}
