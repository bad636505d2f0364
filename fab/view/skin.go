package view

import (
	"math"
	"slices"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/space"
)

// skin is the outline of a section as a sheet of paper meets it, one turn from where the paper begins.
type skin struct {
	girth float64
	at    func(s float64) (y, z float64)
	stops []float64 // where it bends, the beginning first
	folds []float64
	sides []WrapSide
}

// skinOf walks round a section the way in which paper that is seen from outside runs to the right: at a piece's second end
// from the top over the front, at its first end (first) from the top over the back.
func skinOf(s *frame.Section, across string, first bool) skin {
	up, towards := space.Vec2{Y: 1}, space.Vec2{Z: 1} // as the piece lies with its across face, the front, towards you
	if across == "width" {
		up, towards = space.Vec2{Z: 1}, space.Vec2{Y: -1}
	}
	if first {
		towards = space.Vec2{Y: -towards.Y, Z: -towards.Z}
	}
	if s.Round {
		r := s.RadiusMM
		k := skin{girth: 2 * math.Pi * r}
		k.at = func(t float64) (float64, float64) {
			sin, cos := math.Sincos(t / r)
			return r * (cos*up.Y + sin*towards.Y), r * (cos*up.Z + sin*towards.Z)
		}
		for i := range 4 {
			at := k.girth * float64(i) / 4
			y, z := k.at(at)
			k.stops = append(k.stops, at)
			k.sides = append(k.sides, WrapSide{piece.Side(space.Vec2{Y: y, Z: z}, across), at})
		}
		return k
	}
	const steps = 8 // chords of a rounded corner
	var line []space.Vec2
	for _, p := range s.Outline(steps).Outer {
		line = append(line, space.Vec2{Y: p.Y, Z: p.Z})
	}
	if first {
		slices.Reverse(line)
	}
	open := s.Open()
	begin := 0
	for i, p := range line {
		q := line[(i+1)%len(line)]
		switch {
		case open && p.Y == -s.DepthMM/2 && p.Z == -s.WidthMM/2: // the corner in which the two legs, or leg and web, meet
			begin = i
		case !open && outOf(p, q, first).Y*up.Y+outOf(p, q, first).Z*up.Z > 0.9999: // the flat on top: from its middle
			begin = i + 1
			line = slices.Insert(line, begin, space.Vec2{Y: (p.Y + q.Y) / 2, Z: (p.Z + q.Z) / 2})
		default:
			continue
		}
		break
	}
	line = append(slices.Clone(line[begin:]), line[:begin]...)
	k := skin{}
	for _, p := range line {
		if n := len(k.stops); n > 0 {
			k.girth += math.Hypot(p.Y-line[n-1].Y, p.Z-line[n-1].Z)
		}
		k.stops = append(k.stops, k.girth)
	}
	k.girth += math.Hypot(line[0].Y-line[len(line)-1].Y, line[0].Z-line[len(line)-1].Z)
	ends := append(slices.Clone(k.stops[1:]), k.girth)
	k.at = func(t float64) (float64, float64) {
		i, found := slices.BinarySearch(k.stops, t)
		if !found {
			i--
		}
		i = min(i, len(line)-1)
		p, q := line[i], line[(i+1)%len(line)]
		f := (t - k.stops[i]) / (ends[i] - k.stops[i])
		return p.Y + (q.Y-p.Y)*f, p.Z + (q.Z-p.Z)*f
	}
	for i, p := range line {
		q := line[(i+1)%len(line)]
		out := outOf(p, q, first)
		flat := math.Max(math.Abs(out.Y), math.Abs(out.Z)) > 0.9999
		if !flat {
			continue
		}
		name := piece.Side(out, across)
		h, b := s.DepthMM/2, s.WidthMM/2
		if d := p.Y*out.Y + p.Z*out.Z; d < math.Abs(out.Y)*h+math.Abs(out.Z)*b-1e-6 {
			name += ", inside"
		}
		if i == 0 && !open { // the other half of the flat on top lies at the paper's end
			k.sides = append(k.sides, WrapSide{name, 0})
		} else if i < len(line)-1 || open {
			if ends[i]-k.stops[i] > 1.5*s.WallMM { // not the edges of a leg
				k.sides = append(k.sides, WrapSide{name, (k.stops[i] + ends[i]) / 2})
			}
		}
		if open && i > 0 {
			k.folds = append(k.folds, k.stops[i])
		}
	}
	if h, b, r := s.DepthMM, s.WidthMM, s.RadiusMM; !open {
		if across == "width" {
			h, b = b, h
		}
		corner := 2 * steps * r * math.Sin(math.Pi/4/steps) // along its chords
		k.folds = []float64{b/2 - r + corner/2, b/2 + h - 3*r + corner*3/2, b*3/2 + h - 5*r + corner*5/2, b*3/2 + 2*h - 7*r + corner*7/2}
	}
	return k
}

// outOf gives the direction out of a section at its outline from p to q.
func outOf(p, q space.Vec2, clockwise bool) space.Vec2 {
	n := math.Hypot(q.Y-p.Y, q.Z-p.Z)
	out := space.Vec2{Y: (q.Z - p.Z) / n, Z: -(q.Y - p.Y) / n}
	if clockwise {
		out = space.Vec2{Y: -out.Y, Z: -out.Z}
	}
	return out
}
