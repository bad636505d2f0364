package cut

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

// TestCompoundLines: where a cut that leans both ways crosses the two edges of the face that is towards you, against the
// corners of the section one by one; and that the saw's settings make that plane.
func TestCompoundLines(t *testing.T) {
	compound, flipped, rolled := 0, 0, 0
	rapid.Check(t, func(r *rapid.T) {
		slope := func(name string) int64 {
			return rapid.SampledFrom([]int64{0, 1, -1}).Draw(r, name+" side") * rapid.Int64Range(5e7, 9e8).Draw(r, name)
		}
		rules := nest.Rules{Kerf: measure.Inch / 16, Trim: measure.Inch, Depth: measure.Length(rapid.IntRange(20, 80).Draw(r, "depth")) * measure.Millimetre,
			Width: measure.Length(rapid.IntRange(20, 80).Draw(r, "width")) * measure.Millimetre}
		left, right := nest.Plane{SY: slope("ly"), SZ: slope("lz")}, nest.Plane{SY: slope("ry"), SZ: slope("rz")}
		k := nest.Kind{Length: 500 * measure.Millimetre, Qty: 2, Lays: []nest.Lay{{Left: left, Right: right}}}
		b := bundleOf(t, rules, []nest.Kind{k}, [][2]float64{{}})
		b.Flips = rapid.Bool().Draw(r, "flips")
		saw := Saw{Kerf: rules.Kerf, Tilts: rapid.Bool().Draw(r, "tilts"), Limited: true, Least: -60, Most: 60}
		if b.Flips && !saw.Tilts {
			saw.Least = 0
		}
		for _, s := range Build([]Bundle{b}, saw, UsualRates()).Steps {
			if s.Op != Cut {
				continue
			}
			p := s.Right
			sy, sz := float64(p.SY)/1e9, float64(p.SZ)/1e9
			h, w := rules.Depth.MM()/2, rules.Width.MM()/2
			tip := (s.To - s.From).MM() // of the corner that reaches farthest
			at := func(y, z float64) float64 { return tip - math.Abs(sy)*h - math.Abs(sz)*w + sy*y + sz*z }
			roll := 1.0 // a half roll brings the opposite corner to each place
			if s.Flipped {
				roll = -1
				flipped++
			}
			near, far := at(-h*roll, w*roll), at(h*roll, w*roll) // on the depth face you see greater width
			main, other := sy, sz
			if s.Face == nest.Width { // on the width face lesser depth
				near, far = at(-h*roll, -w*roll), at(-h*roll, w*roll)
				main, other = sz, sy
			}
			// Each of two or three products is rounded to a nanometre.
			if math.Abs(s.Near.MM()-near) > 5e-6 || math.Abs(s.Far.MM()-far) > 5e-6 {
				r.Fatalf("plane %v on %v, flipped %v: %v and %v mm, want %v and %v", p, s.Face, s.Flipped, s.Near.MM(), s.Far.MM(), near, far)
			}
			// The tape is hooked on the edge where the fresh end reaches farther.
			ly, lz := float64(s.Left.SY)/1e9, float64(s.Left.SZ)/1e9
			front := w * roll
			fresh := [2]float64{ly*-h*roll + lz*front, ly*h*roll + lz*front}
			if s.Face == nest.Width {
				front = -h * roll
				fresh = [2]float64{ly*front - lz*w*roll, ly*front + lz*w*roll}
			}
			if d := fresh[1] - fresh[0]; d > 1e-3 && s.Edge != "near" || d < -1e-3 && s.Edge != "far" {
				r.Fatalf("fresh end %v on %v, flipped %v: measured on the %s edge", s.Left, s.Face, s.Flipped, s.Edge)
			}
			// Settings to a ten-millionth of a degree.
			tan := func(deg float64) float64 { return math.Tan(deg * math.Pi / 180) }
			switch {
			case main == 0 && other == 0:
			case saw.Tilts:
				if math.Abs(tan(s.SwingDeg)+main*roll) > 1e-7 || math.Abs(tan(s.TiltDeg)*math.Hypot(1, main)-other) > 1e-7 {
					r.Fatalf("plane %v on %v: swing %v, tilt %v", p, s.Face, s.SwingDeg, s.TiltDeg)
				}
			default:
				if math.Abs(math.Abs(tan(s.SwingDeg))-math.Hypot(main, other)) > 1e-7 || math.Abs(tan(s.WedgeDeg)*main-other) > 1e-7 {
					r.Fatalf("plane %v on %v: swing %v, wedge %v", p, s.Face, s.SwingDeg, s.WedgeDeg)
				}
				rolled++
			}
			if p.SY != 0 && p.SZ != 0 {
				compound++
			}
		}
	})
	if compound < 20 || rolled < 20 || flipped < 5 {
		t.Errorf("only %d compound cuts, %d on a saw that swings, %d with the stick rolled half a turn", compound, rolled, flipped)
	}
}

// TestTrimOnItsOwnFace: of a piece whose ends lean across different faces the fresh end is told on the face across which it
// leans, and its line leans there.
func TestTrimOnItsOwnFace(t *testing.T) {
	rules := nest.Rules{Kerf: measure.Inch / 16, Trim: measure.Inch, Depth: 2 * measure.Inch, Width: measure.Inch}
	k := nest.Kind{Length: 20 * measure.Inch, Qty: 1, Lays: []nest.Lay{{Left: nest.Plane{SY: 1e9}, Right: nest.Plane{SZ: -5e8}}}}
	b := bundleOf(t, rules, []nest.Kind{k}, [][2]float64{{}})
	found := 0
	for _, s := range Build([]Bundle{b}, Saw{Kerf: rules.Kerf}, UsualRates()).Steps {
		switch s.Op {
		case Trim:
			found++
			if s.Face != nest.Depth || s.Far-s.Near != 2*measure.Inch || s.SwingDeg != -45 {
				t.Errorf("trim on %v from %v to %v, swing %v", s.Face, s.Near, s.Far, s.SwingDeg)
			}
		case Cut:
			found++
			if s.Face != nest.Width || s.Near-s.Far != measure.Inch/2 {
				t.Errorf("cut on %v from %v to %v", s.Face, s.Near, s.Far)
			}
		}
	}
	if found != 2 {
		t.Errorf("%d steps", found)
	}
}
