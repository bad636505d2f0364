package square

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
)

// Target is a flat frame's measures when it is square, over its outside corners.
type Target struct {
	Name       string
	LengthMM   float64
	WidthMM    float64
	DiagonalMM float64
	Standing   bool // its plane is upright as built
}

// Targets gives the target of every rectangle of a frame.
func Targets(f *frame.Frame) []Target {
	out := make([]Target, 0, len(f.Rects))
	for i := range f.Rects {
		q := &f.Rects[i]
		out = append(out, Target{q.Name, q.LengthMM, q.WidthMM, Diagonal(q.LengthMM, q.WidthMM), q.N != space.Z})
	}
	return out
}

// Body is the measure between two levels: from an outside low corner of the lower frame to the outside high corner of the
// upper one that lies opposite. The four are equal where both frames have one size and stand plumb over each other.
type Body struct {
	Lower, Upper string
	DiagonalMM   [4]float64 // from the lower frame's corners (0,0), (L,0), (L,W), (0,W)
}

// Bodies gives the body diagonals of every two rectangles that lie flat and are joined by posts.
func Bodies(f *frame.Frame) []Body {
	var out []Body
	for lo := range f.Rects {
		for hi := range f.Rects {
			a, b := &f.Rects[lo], &f.Rects[hi]
			if a.N != space.Z || b.N != space.Z || b.Corner.Z < a.Corner.Z+a.ThickMM-space.Near || !posted(f, a, b) {
				continue
			}
			d := Body{Lower: a.Name, Upper: b.Name}
			for k := range 4 {
				from := corner(a, k)
				to := corner(b, (k+2)%4)
				to.Z += b.ThickMM
				d.DiagonalMM[k] = from.Dist(to)
			}
			out = append(out, d)
		}
	}
	return out
}

func corner(q *frame.Rect, k int) space.Vec {
	p := q.Corner
	if k == 1 || k == 2 {
		p = p.Along(q.U, q.LengthMM)
	}
	if k >= 2 {
		p = p.Along(q.V, q.WidthMM)
	}
	return p
}

// posted tells whether a post reaches from one rectangle to the other.
func posted(f *frame.Frame, a, b *frame.Rect) bool {
	for i := range f.Members {
		m := &f.Members[i]
		lo, hi := min(m.A.Z, m.B.Z), max(m.A.Z, m.B.Z)
		if m.Role == frame.Post && (m.Group == a.Name || m.Group == b.Name) && lo <= a.Corner.Z+a.ThickMM+space.Near && hi >= b.Corner.Z-space.Near {
			return true
		}
	}
	return false
}

// Tolerance is how far out of square a frame may be: a class of ISO 13920, or the shop's own limit on the difference of
// the diagonals (DiffMM > 0).
type Tolerance struct {
	Class  string
	DiffMM float64
}

// ToleranceOf gives the tolerance that a job holds its frames to: [check] square, or class B.
func ToleranceOf(c job.Check) Tolerance {
	if c.SquareDiff > 0 {
		return Tolerance{DiffMM: c.SquareDiff.MM()}
	}
	if c.SquareClass == "" {
		return Tolerance{Class: "B"}
	}
	return Tolerance{Class: c.SquareClass}
}

// Allowed gives by how much the two diagonals of a frame may differ, and where that comes from. Of an angular tolerance it
// is the difference of the diagonals of a parallelogram of these sides that leans by it.
func (t Target) Allowed(tol Tolerance) (diffMM float64, from string, err error) {
	if tol.DiffMM > 0 {
		return tol.DiffMM, "the job's own limit on the difference of the diagonals", nil
	}
	short := min(t.LengthMM, t.WidthMM)
	deg, _, ok := AngleTolerance(tol.Class, short)
	if !ok {
		return 0, "", fmt.Errorf("ISO 13920 has no class %q; it has A, B, C and D", tol.Class)
	}
	c := math.Sin(deg * math.Pi / 180)
	d := func(sign float64) float64 {
		return math.Sqrt(t.LengthMM*t.LengthMM + t.WidthMM*t.WidthMM + sign*2*t.LengthMM*t.WidthMM*c)
	}
	return d(1) - d(-1), fmt.Sprintf("%s, class %s", ISO13920, tol.Class), nil
}

// Measured is what the tape says of a frame on the bench.
type Measured struct {
	D1, D2 float64    // the diagonals, mm
	Sides  [4]float64 // two opposite sides, then the other two; 0: not measured
}

// Verdict is what to do about a frame.
type Verdict struct {
	Rack
	Within     bool
	SidesEqual bool    // of the opposite sides that were measured
	LimitMM    float64 // the slide of one long side that the tolerance allows; of DiffMM the difference of the diagonals
	Limit      string  // where that comes from
	Notes      []string
}

// Check compares measured diagonals (and sides) with the target.
func (t Target) Check(m Measured, tol Tolerance, tape measure.Tape) (Verdict, error) {
	long, short := max(t.LengthMM, t.WidthMM), min(t.LengthMM, t.WidthMM)
	show := func(mm float64) string { return tape.Print(measure.FromMM(mm)) }
	v := Verdict{SidesEqual: true}
	for k := 0; k < 4; k += 2 {
		if a, b := m.Sides[k], m.Sides[k+1]; a > 0 && b > 0 && math.Abs(a-b) > tape.Division().MM()+1e-9 {
			v.SidesEqual = false
			v.Notes = append(v.Notes, fmt.Sprintf("opposite sides measure %s and %s: equal diagonals will not make this frame square; find the piece that is off first", show(a), show(b)))
		}
	}
	r, err := RackOf(long, short, m.D1, m.D2)
	if err != nil {
		return v, err
	}
	v.Rack = r
	if tol.DiffMM > 0 {
		v.LimitMM, v.Limit = tol.DiffMM, "the job's own limit on the difference of the diagonals"
		v.Within = math.Abs(m.D1-m.D2) <= tol.DiffMM+1e-9
	} else {
		deg, perM, ok := AngleTolerance(tol.Class, short)
		if !ok {
			return v, fmt.Errorf("ISO 13920 has no class %q; it has A, B, C and D", tol.Class)
		}
		v.LimitMM, v.Limit = perM*short/1000, fmt.Sprintf("%s, class %s", ISO13920, tol.Class)
		v.Within = math.Abs(r.SkewDeg) <= deg+1e-12
	}
	if off := r.SidesOffMM; math.Abs(off) > tape.Division().MM()/2 {
		v.Notes = append(v.Notes, fmt.Sprintf("square, this frame would measure %s over the corners, not %s: its sides are not what the job says, or a diagonal was misread", show(r.TargetMM), show(t.DiagonalMM)))
	}
	return v, nil
}

// Step is one step of squaring up.
type Step struct {
	Title string
	Do    string
}

// Steps gives the order that works for a frame: each step keeps what the one before has made (common practice).
func Steps(f *frame.Frame, tape measure.Tape) []Step { return StepsWithin(f, Tolerance{}, tape) }

// StepsWithin gives the same, and says when the diagonals are good enough.
func StepsWithin(f *frame.Frame, tol Tolerance, tape measure.Tape) []Step {
	show := func(mm float64) string { return tape.PrintLong(measure.FromMM(mm)) }
	out := []Step{{"level the table", "Set the table level both ways, or shim the supports: a frame welded in wind stays in wind."}}
	bars := false
	for i := range f.Members {
		bars = bars || f.Members[i].Role == frame.Bar
	}
	for _, t := range Targets(f) {
		good := ""
		if diff, from, err := t.Allowed(tol); err == nil {
			good = fmt.Sprintf(" Good enough when they differ by no more than %s (%s).", tape.Print(measure.FromMM(diff)), from)
		}
		out = append(out,
			Step{t.Name + ": dry-fit", "Lay the sides together without a tack; close every corner to the root gap wanted."},
			Step{t.Name + ": compare opposite sides", fmt.Sprintf("Both pairs must agree before any diagonal means something: %s and %s.", show(t.LengthMM), show(t.WidthMM))},
			Step{t.Name + ": tack outside", "One tack at the outside of each corner; it still hinges."},
			Step{t.Name + ": diagonals", fmt.Sprintf("Both over the outside corners: %s. Pull the corners of the longer one together by half the difference, and measure again.%s", show(t.DiagonalMM), good)},
			Step{t.Name + ": four corner heights", "From the table or a string to each corner, in order round: opposite corners must have one mid-height, or the frame is in wind. Shim or clamp."},
			Step{t.Name + ": tack inside", "Then check the diagonals once more: the inside tacks pull."})
	}
	if bars {
		out = append(out, Step{"the bars last", "Fit the bars after the corners are tacked both sides and the diagonals hold; a bar that is forced in pushes the sides apart."})
	}
	for _, b := range Bodies(f) {
		text := fmt.Sprintf("Plumb each post both ways, then the diagonals through the body, from a low corner of %s to the high corner of %s across: %s", b.Lower, b.Upper, show(b.DiagonalMM[0]))
		if d := b.DiagonalMM; math.Abs(d[0]-d[1]) > 0.01 || math.Abs(d[0]-d[2]) > 0.01 || math.Abs(d[0]-d[3]) > 0.01 {
			text += fmt.Sprintf(", %s, %s, %s, in order round", show(d[1]), show(d[2]), show(d[3]))
		}
		out = append(out, Step{b.Lower + " to " + b.Upper + ": plumb and body diagonals", text + "."})
	}
	return out
}
