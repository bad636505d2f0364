package space

import "math"

// Arc is the arc of a circle over a chord, in mm. Both are greater than zero; a rise above half the chord is more than a
// half circle.
type Arc struct{ Chord, Rise float64 }

// Radius gives R = c^2/8h + h/2 (the chord's half is the mean proportional between the parts of the diameter: Euclid III.35).
func (a Arc) Radius() float64 { return a.Chord*a.Chord/(8*a.Rise) + a.Rise/2 }

// Length gives the arc's length, R times the central angle 4 atan(2h/c), which holds beyond the half circle too.
func (a Arc) Length() float64 { return a.Radius() * 4 * math.Atan2(2*a.Rise, a.Chord) }

// Reach gives how far from the middle of the chord the arc reaches: half the chord, or the radius where it bulges over it.
func (a Arc) Reach() float64 {
	if r := a.Radius(); a.Rise > r {
		return r
	}
	return a.Chord / 2
}

// Drop gives how far the arc lies below its highest point at x from the middle; without the loss of figures that
// R - sqrt(R^2-x^2) suffers on a flat arc. NaN where |x| > R.
func (a Arc) Drop(x float64) float64 {
	r := a.Radius()
	return x * x / (r + math.Sqrt(r*r-x*x))
}

// Ordinate gives the height over the chord at x from its middle.
func (a Arc) Ordinate(x float64) float64 { return a.Rise - a.Drop(x) }

// SlopeDeg gives how steeply the arc falls away from the middle at x, in degrees from level; negative where x is.
func (a Arc) SlopeDeg(x float64) float64 { return math.Asin(x/a.Radius()) * 180 / math.Pi }
