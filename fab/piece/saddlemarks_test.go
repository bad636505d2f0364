package piece_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/space"
)

// strut is a member of a random truss: its line, what it is made of, and which way its depth looks.
type strut struct {
	name, section string
	from, to      space.Vec
	depth         space.Vec
	ends          string
}

// truss draws two headers and some branches between them that are as wide as the headers, or not, whose centre lines meet
// the headers' or pass them by.
func truss(r *rand.Rand) []strut {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	round := []string{"pipe", "pipe", "pipe", "thick"}
	h := [2]strut{
		{name: "h1", section: round[r.IntN(4)], from: space.Vec{}, to: space.Vec{X: in(900, 1500), Y: in(-200, 200), Z: in(-100, 300)}},
		{name: "h2", section: round[r.IntN(4)], from: space.Vec{X: in(-100, 100), Y: in(500, 700), Z: in(-200, 200)}, to: space.Vec{X: in(900, 1500), Y: in(400, 800), Z: in(-100, 300)}},
	}
	all := []strut{h[0], h[1]}
	for i := range all {
		all[i].ends = `"free", "free"`
	}
	for k, t := range []float64{0.2, 0.45, 0.7} {
		a, b := h[0].from.Lerp(h[0].to, t), h[1].from.Lerp(h[1].to, t+in(-0.08, 0.08))
		if r.IntN(3) == 0 { // it passes the headers' axes by
			off := b.Sub(a).Cross(h[0].to.Sub(h[0].from)).Unit().Mul(in(-8, 8))
			a, b = a.Add(off), b.Add(off)
		}
		line := b.Sub(a).Unit()
		depth := h[0].to.Sub(h[0].from) // a square branch stands in line with its header, or turned
		depth = depth.Sub(line.Mul(depth.Dot(line))).Unit()
		if r.IntN(2) == 0 {
			depth = depth.Rotate(line, in(0, 360))
		}
		all = append(all, strut{fmt.Sprint("b", k), []string{"pipe", "pipe", "box", "thin"}[r.IntN(4)], a, b, depth, `"auto", "auto"`})
	}
	return all
}

const trussSections = `units = "mm"
[section.pipe]
shape = "round-tube"
size = "38.1 x 3"
[section.thick]
shape = "round-tube"
size = "50.8 x 3"
[section.thin]
shape = "round-tube"
size = "25.4 x 2"
[section.box]
shape = "square-tube"
size = "38.1 x 3"
`

// written gives the struts as members of a job, moved; places are rounded to the nanometre, as a job holds them. A round
// one is rolled at random: that is nothing to it.
func written(all []strut, prefix string, r *rand.Rand, at, dir func(space.Vec) space.Vec) string {
	var s strings.Builder
	for _, m := range all {
		p, q := at(m.from), at(m.to)
		roll := r.Float64()*360 - 180
		if m.section == "box" {
			now, want := q.Sub(p).Unit(), dir(m.depth)
			u := upright(now)
			roll = math.Atan2(u.Cross(want).Dot(now), u.Dot(want)) * 180 / math.Pi
		}
		fmt.Fprintf(&s, "[[member]]\nname = \"%s%s\"\nsection = %q\nfrom = [%.6f, %.6f, %.6f]\nto = [%.6f, %.6f, %.6f]\nroll = %.12f\nends = [%s]\n", prefix, m.name, m.section, p.X, p.Y, p.Z,
			q.X, q.Y, q.Z, roll, m.ends)
	}
	return s.String()
}

// anywhere draws a motion in space; mirror turns left into right as well.
func anywhere(r *rand.Rand, shift space.Vec, mirror bool) (at, dir func(space.Vec) space.Vec) {
	axis := space.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Unit()
	turn := r.Float64() * 360
	dir = func(v space.Vec) space.Vec {
		if mirror {
			v.Y = -v.Y
		}
		return v.Rotate(axis, turn)
	}
	return func(v space.Vec) space.Vec { return dir(v).Add(shift) }, dir
}

// TestSaddledMarks: trusses of round members with branches that are as wide as their headers, built several times over in
// one frame, each turned and moved, one of them mirrored, give every branch of the same description the same mark, and no
// more marks than one truss alone; a piece keeps its length to a thousandth of a millimetre. SOAK=1 tries some thousands.
func TestSaddledMarks(t *testing.T) {
	tries := 60
	if os.Getenv("SOAK") != "" {
		tries = 2500
	}
	for seed := range tries {
		r := rand.New(rand.NewPCG(uint64(seed), 3))
		all := truss(r)
		still := func(v space.Vec) space.Vec { return v }
		alone := pieces(t, trussSections+written(all, "", r, still, still))
		at, dir := anywhere(r, space.Vec{X: -1234.5, Y: 99, Z: 4321}, false)
		if why := differ(alone, pieces(t, trussSections+written(all, "", r, at, dir))); why != "" {
			t.Fatalf("seed %d, turned: %s", seed, why)
		}
		const copies = 3
		var toml strings.Builder
		for c := range copies {
			at, dir := anywhere(r, space.Vec{X: 5000 * float64(c), Y: 333.3, Z: -777.7}, c == copies-1)
			toml.WriteString(written(all, fmt.Sprintf("c%d", c), r, at, dir))
		}
		many := pieces(t, trussSections+toml.String())
		// What the marks are, but for the hand.
		byMember := map[string]*piece.Piece{}
		for i := range many {
			for _, m := range many[i].Members {
				byMember[m] = &many[i]
			}
		}
		letter := func(p *piece.Piece) string { return strings.TrimSuffix(strings.TrimSuffix(p.Mark, "-L"), "-R") }
		told := func() string {
			return fmt.Sprintf("seed %d\nalone\n%s\nthree of it\n%s", seed, list(alone), list(many))
		}
		letters := map[string][]string{}
		for i := range alone {
			var got []string
			for _, m := range alone[i].Members {
				for c := range copies {
					p := byMember[fmt.Sprintf("c%d%s", c, m)]
					if l := letter(p); !slices.Contains(got, l) {
						got = append(got, l)
					}
					if d := (p.Length - alone[i].Length).MM(); math.Abs(d) > 1e-3 {
						t.Errorf("seed %d, %s: %s of copy %d is %v mm, alone %v", seed, p.Section, m, c, p.Length.MM(), alone[i].Length.MM())
					}
				}
			}
			if len(got) != 1 {
				t.Fatalf("%v have the marks %v; %s", alone[i].Members, got, told())
			}
			letters[got[0]] = append(letters[got[0]], alone[i].Mark)
		}
		for l, marks := range letters {
			if len(marks) > 1 && letter(&piece.Piece{Mark: marks[0]}) != letter(&piece.Piece{Mark: marks[1]}) {
				t.Fatalf("%s stands for %v; %s", l, marks, told())
			}
		}
	}
}

func pieces(t *testing.T, toml string) []piece.Piece {
	t.Helper()
	j := frametest.Read(t, toml)
	f, _ := frame.Build(j, frametest.Sections(t, j))
	ps, _ := piece.Gather(f, j)
	return ps
}

// differ tells in what two cut lists differ for the saw and the bench, vents left aside (they look down).
func differ(ps, qs []piece.Piece) string {
	if len(ps) != len(qs) {
		return fmt.Sprintf("%d and %d marks\n%s\n%s", len(ps), len(qs), list(ps), list(qs))
	}
	for i := range ps {
		p, q := &ps[i], &qs[i]
		if p.Mark != q.Mark || p.Hand != q.Hand || !slices.Equal(p.Members, q.Members) || line(p) != line(q) && math.Abs((p.Length-q.Length).MM()) > 1e-3 {
			return fmt.Sprintf("%s %v and %s %v", line(p), p.Members, line(q), q.Members)
		}
		var told [2][]string
		var at [2][]float64
		for k, x := range []*piece.Piece{p, q} {
			for _, m := range x.MarksOut {
				if !m.Vent {
					told[k], at[k] = append(told[k], fmt.Sprint(m.Face, m.Side, m.What, m.For)), append(at[k], m.AtMM, m.ToMM)
				}
			}
		}
		if !slices.Equal(told[0], told[1]) {
			return fmt.Sprintf("%s is laid out\n%q %v\n%q %v", p.Mark, told[0], at[0], told[1], at[1])
		}
		for k := range at[0] {
			if math.Abs(at[0][k]-at[1][k]) > 1e-3 {
				return fmt.Sprintf("%s is laid out\n%q %v\n%v", p.Mark, told[0], at[0], at[1])
			}
		}
	}
	return ""
}
