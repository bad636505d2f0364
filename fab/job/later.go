package job

// The tables below belong to rooms that add their keys with their readers; until then a job that uses them is refused.

// Paint is the [paint].
type Paint struct{ Where }

// Labour is the [labour].
type Labour struct{ Where }

// Quote is the [quote].
type Quote struct{ Where }
