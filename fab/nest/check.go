package nest

import (
	"fmt"

	"bench.example/soapstone/fab/measure"
)

// Error says which piece or stick cannot be as it is written. Kind and Stick are indexes into the problem, -1 where it is
// not about one.
type Error struct {
	Kind, Stick int
	Name        string         // of the kind
	Length      measure.Length // of the piece or stick
	Most        measure.Length // the longest piece with these ends that a stick holds, where the piece is too long

	format string // what is wrong, without the name
	args   []any  // what stands in it; the lengths as measure.Length
}

// Reason says what is wrong without naming the piece; print writes the lengths.
func (e *Error) Reason(print func(measure.Length) string) string {
	args := make([]any, len(e.args))
	for i, a := range e.args {
		if l, ok := a.(measure.Length); ok {
			a = print(l)
		}
		args[i] = a
	}
	return fmt.Sprintf(e.format, args...)
}

// Say says it in a sentence; print writes the lengths.
func (e *Error) Say(print func(measure.Length) string) string {
	reason := e.Reason(print)
	switch {
	case e.Kind >= 0 && e.Name != "":
		return fmt.Sprintf("piece %s: %s", e.Name, reason)
	case e.Kind >= 0:
		return fmt.Sprintf("piece %d: %s", e.Kind+1, reason)
	case e.Stick >= 0:
		return fmt.Sprintf("stick %d: %s", e.Stick+1, reason)
	}
	return reason
}

// Error says it in a sentence, lengths in mm.
func (e *Error) Error() string {
	return e.Say(func(l measure.Length) string { return fmt.Sprintf("%.6g mm", l.MM()) })
}

// wrong is what is said of the whole problem.
func wrong(format string, args ...any) *Error {
	return &Error{Kind: -1, Stick: -1, format: format, args: args}
}

// maxSteep bounds the slopes of a plane: an 87-degree cut; beyond it the sums could leave an int64.
const maxSteep = 20 * slopeUnit

// maxPieces is the most pieces of one job.
const maxPieces = 10_000_000

// check says what is wrong with the problem as such; whether every piece fits a stick is seen in the model.
func check(p *Problem) error {
	r := &p.Rules
	for _, l := range []struct {
		name string
		v    measure.Length
	}{{"kerf", r.Kerf}, {"trim", r.Trim}, {"trim_end", r.TrimEnd}, {"grip", r.Grip}, {"keep", r.Keep}, {"haul", r.Haul},
		{"yard_trim", r.YardTrim}, {"depth", r.Depth}, {"width", r.Width}} {
		if l.v < 0 || l.v > measure.MaxLength {
			return wrong("%s is %s; it must lie between 0 and 10 km", l.name, l.v)
		}
	}
	if r.YardCut < 0 || r.YardCut > measure.MaxMoney {
		return wrong("yard_cut is %s; it must lie between 0 and %s", r.YardCut, measure.MaxMoney)
	}
	pieces := 0
	for i, k := range p.Kinds {
		bad := func(format string, a ...any) error {
			return &Error{Kind: i, Stick: -1, Name: k.Name, Length: k.Length, format: format, args: a}
		}
		if k.Qty < 0 {
			return bad("its quantity is %d; it cannot be below 0", k.Qty)
		}
		if k.Length <= 0 || k.Length > measure.MaxLength {
			return bad("its length is %s; it must be more than 0 and no more than 10 km", k.Length)
		}
		if pieces += k.Qty; pieces > maxPieces || k.Qty > maxPieces {
			return bad("more than %d pieces", maxPieces)
		}
		for _, l := range k.Lays {
			if steep(l.Left) || steep(l.Right) {
				return bad("an end is cut steeper than 87 degrees from square")
			}
			left, right := l.Left.corners(r), l.Right.corners(r)
			_, hiRight := bounds(right)
			loLeft, _ := bounds(left)
			short, mean := int64(k.Length), int64(0)
			for c := range left {
				at := int64(k.Length) - hiRight + right[c] + loLeft - left[c]
				short = min(short, at)
				mean += at
			}
			if short < 0 || mean <= 0 {
				return bad("%s from tip to tip is too short for its ends: the two cuts cross inside the section, %s short of meeting at its edge",
					k.Length, measure.Length(-short))
			}
		}
	}
	for i, s := range p.Sticks {
		bad := func(format string, a ...any) error {
			return &Error{Kind: -1, Stick: i, Length: s.Length, format: format, args: a}
		}
		switch {
		case s.Length <= 0 || s.Length > measure.MaxLength:
			return bad("its length is %s; it must be more than 0 and no more than 10 km", s.Length)
		case s.Price < 0 || s.Price > measure.MaxMoney:
			return bad("its price is %s; it must lie between 0 and %s", s.Price, measure.MaxMoney)
		case s.Limit < 0:
			return bad("its limit is %d; it cannot be below 0", s.Limit)
		}
		for _, l := range s.Ends {
			if steep(l.Left) || steep(l.Right) {
				return bad("an end is cut steeper than 87 degrees from square")
			}
		}
	}
	return nil
}

func steep(p Plane) bool {
	return p.SY > maxSteep || p.SY < -maxSteep || p.SZ > maxSteep || p.SZ < -maxSteep
}

func bounds(c [4]int64) (lo, hi int64) {
	return min(c[0], c[1], c[2], c[3]), max(c[0], c[1], c[2], c[3])
}
