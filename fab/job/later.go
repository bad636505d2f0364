package job

// The tables below belong to rooms that add their keys with their readers; until then a job that uses them is refused.

// Load is a [[load]].
type Load struct{ Where }

// Support is a [[support]].
type Support struct{ Where }

// Bolts is a [[bolts]].
type Bolts struct{ Where }

// Lift is the [lift].
type Lift struct{ Where }

// Paint is the [paint].
type Paint struct{ Where }

// Labour is the [labour].
type Labour struct{ Where }

// Quote is the [quote].
type Quote struct{ Where }

// Access is the [access].
type Access struct{ Where }
