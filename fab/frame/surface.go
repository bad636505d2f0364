package frame

import (
	"math"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// Surface is what legs stand on: a height over every place of the ground plan. Along x it rises with an even slope; over y
// it is an arc, a curve smoothed through measured points, or level.
type Surface struct {
	Name      string
	profile   profile // height over y at x = 0; nil: level
	twist     profile // change of the slope along x over y, of a spline through points in three dimensions; nil: none
	base      float64 // added to the profile: z of the level, or of the profile's zero
	Slope     float64 // rise along x for one of run
	LoY, HiY  float64 // what it was given for
	LoX, HiX  float64
	Residuals []Residual // of measured points
	RMSMM     float64    // of the residuals
	Smooth    string     // circle, cylinder, spline
	RadiusMM  float64    // of a circle or cylinder; negative where it is hollow
	floating  bool       // no height was given: the legs' clearance sets it
	where     job.Where
}

// Residual is how far a measured point lies over the smoothed surface.
type Residual struct {
	At    space.Vec
	OffMM float64
}

// profile is a height over one coordinate with its derivative.
type profile interface {
	at(y float64) (z, slope float64)
}

// crown is an arc whose highest point is at height zero over centre.
type crown struct {
	arc    space.Arc
	centre float64
}

func (c crown) at(y float64) (z, slope float64) {
	x, r := y-c.centre, c.arc.Radius()
	if reach := 0.999 * r; math.Abs(x) > reach { // beyond the circle: its tangent goes on
		edge := math.Copysign(reach, x)
		slope = -math.Tan(math.Asin(edge / r))
		return -c.arc.Drop(edge) + slope*(x-edge), slope
	}
	return -c.arc.Drop(x), -math.Tan(math.Asin(x / r))
}

// Height gives the surface's z at a place.
func (s *Surface) Height(x, y float64) float64 {
	z := s.base + s.Slope*x
	if s.profile != nil {
		v, _ := s.profile.at(y)
		z += v
	}
	if s.twist != nil {
		v, _ := s.twist.at(y)
		z += v * x
	}
	return z
}

// Normal gives the surface's unit normal at a place, upwards.
func (s *Surface) Normal(x, y float64) space.Vec {
	dx, dy := s.slopes(x, y)
	return space.Vec{X: -dx, Y: -dy, Z: 1}.Unit()
}

// slopes gives the rise along x and along y for one of run.
func (s *Surface) slopes(x, y float64) (dx, dy float64) {
	dx = s.Slope
	if s.profile != nil {
		_, dy = s.profile.at(y)
	}
	if s.twist != nil {
		v, d := s.twist.at(y)
		dx, dy = dx+v, dy+d*x
	}
	return dx, dy
}

func (s *Surface) level() bool { return s.profile == nil && s.Slope == 0 }

// holds tells whether a place lies within what the surface was given for.
func (s *Surface) holds(p space.Vec) bool {
	return p.Y >= s.LoY-1 && p.Y <= s.HiY+1 && p.X >= s.LoX-1 && p.X <= s.HiX+1
}

// foot gives the foot of a plumb leg whose centre line comes down from top.
func (s *Surface) foot(top space.Vec, sec *Section, padMM float64) Foot {
	x, y := top.X, top.Y
	dx, dy := s.slopes(x, y)
	f := Foot{At: space.Vec{X: x, Y: y, Z: s.Height(x, y)}, Normal: s.Normal(x, y), PadMM: padMM}
	const deg = 180 / math.Pi
	f.AlongDeg, f.AcrossDeg = math.Atan(dx)*deg, math.Atan(dy)*deg
	f.RiseRun = math.Hypot(dx, dy)
	f.AngleDeg = math.Atan(f.RiseRun) * deg
	// What stands open under a square foot that rests on its highest point: the foot's corners and middle.
	least, most := f.At.Z, f.At.Z
	for _, c := range sec.Parts[0] {
		z := s.Height(x+c.Y, y+c.Z)
		least, most = min(least, z), max(most, z)
	}
	f.GapMM = most - least
	return f
}

// highest gives the highest point of the surface under a box of the ground plan.
func (s *Surface) highest(x0, y0, x1, y1 float64) space.Vec {
	best := space.Vec{Z: math.Inf(-1)}
	const steps = 400
	try := func(x, y float64) {
		if z := s.Height(x, y); z > best.Z {
			best = space.Vec{X: x, Y: y, Z: z}
		}
	}
	for _, x := range []float64{x0, x1} { // the slope along x is even: the highest point is at one end
		for i := range steps + 1 {
			try(x, y0+(y1-y0)*float64(i)/steps)
		}
		if c, ok := s.profile.(crown); ok && c.centre > y0 && c.centre < y1 {
			try(x, c.centre)
		}
	}
	return best
}

// surfaces makes the surfaces of the job.
func (b *builder) surfaces() {
	for i := range b.job.Surfaces {
		j := &b.job.Surfaces[i]
		inf := math.Inf(1)
		s := Surface{Name: j.Name, where: j.Where, Slope: math.Tan(j.Slope * math.Pi / 180), LoX: -inf, HiX: inf, LoY: -inf, HiY: inf}
		switch {
		case j.IsLevel:
			s.base = j.Level.MM()
		case len(j.Points) > 0:
			if !b.smooth(&s, j) {
				continue
			}
		case j.Chord > 0:
			c := crown{space.Arc{Chord: j.Chord.MM(), Rise: j.Rise.MM()}, j.Centre.MM()}
			s.profile, s.RadiusMM = c, c.arc.Radius()
			s.LoY, s.HiY = c.centre-c.arc.Reach(), c.centre+c.arc.Reach()
			s.base, s.floating = j.Top.MM(), !j.TopGiven
		default:
			continue
		}
		b.f.Surfaces = append(b.f.Surfaces, s)
	}
}

// surfaceUnder gives the surface of legs under a rectangle, at the height that their clearance asks for where it has none
// of its own, and checks the clearance where it has.
func (b *builder) surfaceUnder(l *job.Legs, q *Rect) *Surface {
	for i := range b.f.Surfaces {
		s := &b.f.Surfaces[i]
		if s.Name != l.Surface {
			continue
		}
		peak := s.highest(q.Corner.X, q.Corner.Y, q.Corner.X+q.LengthMM, q.Corner.Y+q.WidthMM)
		if s.floating && l.ClearGiven {
			s.base += q.bottom() - l.Clear.MM() - peak.Z
			s.floating = false
			return s
		}
		s.floating = false
		if gap := q.bottom() - peak.Z; l.ClearGiven && gap < l.Clear.MM()-space.Near {
			b.problem(l.Where.In("clear"), text.Error, CodeSurface, "surface %q rises to z %s under %q (at x %s, y %s): %s clear, not the %s asked for; lower its top, or raise the frame", s.Name, b.tape(peak.Z),
				q.Name, b.tape(peak.X), b.tape(peak.Y), b.tape(gap), b.tape(l.Clear.MM()))
			return nil
		}
		return s
	}
	return nil
}
