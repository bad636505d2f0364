package piece_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/space"
)

// TestTurnedJob: a job whose places are turned as a whole, with each roll turned along, gives the same pieces: what meets
// what, which end is cut to which and every angle is found anew, and none of it may lean on the axes.
func TestTurnedJob(t *testing.T) {
	tried := 0
	rapid.Check(t, func(r *rapid.T) {
		// A tetrahedron-like truss on four nodes, with a strut between two of its bars.
		node := func(k int) space.Vec {
			base := []space.Vec{{X: 0, Y: 0, Z: 0}, {X: 50, Y: 0, Z: 0}, {X: 22, Y: 44, Z: 0}, {X: 25, Y: 15, Z: 40}}[k]
			f := func(n string) float64 { return rapid.Float64Range(-6, 6).Draw(r, fmt.Sprint(n, k)) }
			return base.Add(space.Vec{X: f("x"), Y: f("y"), Z: f("z")})
		}
		var nodes [4]space.Vec
		for k := range nodes {
			nodes[k] = node(k)
		}
		bars := [][2]space.Vec{{nodes[0], nodes[1]}, {nodes[1], nodes[2]}, {nodes[2], nodes[0]}, {nodes[0], nodes[3]}}
		a := bars[0][0].Lerp(bars[0][1], 0.55)
		b := bars[3][0].Lerp(bars[3][1], 0.6)
		bars = append(bars, [2]space.Vec{a, b})
		roll := make([]float64, len(bars))
		for k := range roll {
			roll[k] = rapid.SampledFrom([]float64{0, 0, 90, 30}).Draw(r, fmt.Sprint("roll", k))
		}
		axis := space.Vec{X: rapid.Float64Range(-1, 1).Draw(r, "ax"), Y: rapid.Float64Range(-1, 1).Draw(r, "ay"), Z: rapid.Float64Range(0.1, 1).Draw(r, "az")}.Unit()
		turn := rapid.Float64Range(-180, 180).Draw(r, "turn")
		write := func(at func(space.Vec) space.Vec, dir func(space.Vec) space.Vec) string {
			s := "[section.tube]\nshape = \"rect-tube\"\nsize = \"2 x 1 x 14ga\"\n"
			for k, m := range bars {
				p, q := at(m[0]), at(m[1])
				// The depth as the untold roll has it here, and as it must be.
				line := m[1].Sub(m[0]).Unit()
				want := dir(upright(line).Rotate(line, roll[k]))
				now := q.Sub(p).Unit()
				u := upright(now)
				deg := math.Atan2(u.Cross(want).Dot(now), u.Dot(want)) * 180 / math.Pi
				s += fmt.Sprintf("[[member]]\nname = \"m%d\"\nsection = \"tube\"\nfrom = [%.9f, %.9f, %.9f]\nto = [%.9f, %.9f, %.9f]\nroll = %.12f\n", k, p.X, p.Y, p.Z, q.X, q.Y, q.Z, deg)
			}
			return s
		}
		pieces := func(toml string) ([]piece.Piece, int) {
			j := frametest.Read(t, toml)
			f, problems := frame.Build(j, frametest.Sections(t, j))
			ps, _ := piece.Gather(f, j)
			return ps, len(problems)
		}
		still := func(v space.Vec) space.Vec { return v }
		turned := func(v space.Vec) space.Vec { return v.Rotate(axis, turn) }
		before, n := pieces(write(still, still))
		after, m := pieces(write(turned, turned))
		if n != m || len(before) != len(after) {
			r.Fatalf("%d pieces, %d problems; turned %d and %d", len(before), n, len(after), m)
		}
		tried++
		for i := range before {
			p, q := &before[i], &after[i]
			// Places are written to a nanometre; a cut of 80 degrees makes six of it on the length, a steep point some more.
			if d := (p.Length - q.Length).MM(); math.Abs(d) > 1e-3 || fmt.Sprint(p.Members) != fmt.Sprint(q.Members) {
				r.Fatalf("%v: %v mm and %v: %v mm", p.Members, p.Length.MM(), q.Members, q.Length.MM())
			}
			for e := range p.Ends {
				x, y := p.Ends[e], q.Ends[e]
				if x.Kind != y.Kind || math.Abs(x.SwingDeg-y.SwingDeg) > 1e-4 {
					r.Fatalf("%v, end %d: %+v, turned %+v", p.Members, e, x, y)
				}
			}
		}
	})
	if tried < 20 {
		t.Errorf("only %d tried", tried)
	}
}

// upright is the depth of a member that nobody rolled, by the contract: upright, of an upright member along x.
func upright(axis space.Vec) space.Vec {
	d := space.Z.Sub(axis.Mul(axis.Z))
	if d.Len() < 1e-9 {
		return space.X
	}
	return d.Unit()
}
