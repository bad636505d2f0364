package view_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/view"
)

// cutList builds a job and gathers its pieces.
func cutList(t testing.TB, toml string) (*frame.Frame, []piece.Piece) {
	t.Helper()
	j := frametest.Read(t, toml)
	f, _ := frame.Build(j, frametest.Sections(t, j))
	ps, _ := piece.Gather(f, j)
	return f, ps
}

func pieceOf(t testing.TB, ps []piece.Piece, member string) *piece.Piece {
	t.Helper()
	for i := range ps {
		for _, m := range ps[i].Members {
			if m == member {
				return &ps[i]
			}
		}
	}
	t.Fatalf("no piece of %s", member)
	return nil
}

// along reads a wrap's rim at a place round the skin.
func along(w view.Wrap, round float64) float64 {
	round = math.Mod(math.Mod(round, w.GirthMM)+w.GirthMM, w.GirthMM)
	for i := 1; i < len(w.Points); i++ {
		if a, b := w.Points[i-1], w.Points[i]; round <= b.RoundMM && b.RoundMM > a.RoundMM {
			return a.AlongMM + (b.AlongMM-a.AlongMM)*(round-a.RoundMM)/(b.RoundMM-a.RoundMM)
		}
	}
	return w.Points[len(w.Points)-1].AlongMM
}

// hung gives how far along the piece both of its cuts lie on the line of its skin that stands at share k/n of a turn from
// its top over its front, as somebody finds it who wraps both templates round it, the print outwards, the cut towards
// the end, with the words on the sides that they name.
func hung(t testing.TB, f *frame.Frame, x *piece.Piece, n int) (at [2][]float64) {
	t.Helper()
	for e := range 2 {
		w := view.WrapOf(f, x, e)
		if len(w.Sides) != 4 || w.Sides[0].Name != "top" || w.Sides[0].RoundMM != 0 {
			t.Fatalf("sides %+v", w.Sides)
		}
		// On paper seen from outside with the second end upwards the front lies right of the top; with the first end
		// upwards it lies left of it.
		for i, s := range w.Sides {
			want := [2]string{"top back bottom front", "top front bottom back"}[e]
			if s.Name != strings.Fields(want)[i] {
				t.Fatalf("end %d: sides %+v", e, w.Sides)
			}
		}
		for k := range n {
			round := w.GirthMM * float64(k) / float64(n)
			if e == 0 {
				round = -round
			}
			v := along(w, round)
			if e == 1 {
				v = x.Length.MM() - v
			}
			at[e] = append(at[e], v)
		}
	}
	return at
}

// fits tells how well what the templates show lies on the real rims, real[e] being at n lines round the member
// right-handed about its axis: the least over all rolls by whole steps and both ways round of the greatest distance.
func fits(at, rims [2][]float64, length float64, step int) float64 {
	n := len(at[0])
	m := len(rims[0])
	best := math.Inf(1)
	for _, turned := range []bool{false, true} {
		for c := 0; c < m; c += step {
			worst := 0.0
			for k := 0; k < n && worst < best; k++ {
				i := ((k*(m/n)+c)%m + m) % m
				a, b := 0.0, 0.0
				if turned {
					i = ((c-k*(m/n))%m + m) % m
					a, b = length-rims[1][i], length-rims[0][i]
				} else {
					a, b = rims[0][i], rims[1][i]
				}
				worst = max(worst, math.Abs(a-at[0][k]), math.Abs(b-at[1][k]))
			}
			best = min(best, worst)
		}
	}
	return best
}

// meets is where a line from p along the unit vector d enters a cylinder, by the textbook: |(p + t d - c) x u| = r.
func meets(p, d, c, u space.Vec, r float64) float64 {
	w, e := p.Sub(c).Cross(u), d.Cross(u)
	a, b, q := e.Dot(e), w.Dot(e), w.Dot(w)-r*r
	return (-b - math.Sqrt(max(0, b*b-a*q))) / a
}

// TestSaddleWrapsFit: both templates of a round branch between two round members, whose axes pass its own at a distance,
// wrapped round the piece as it is shown, give the textbook's curves together: neither mirrored nor rolled against the
// other.
func TestSaddleWrapsFit(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 3))
	const header, branch = 30.0, 19.0
	for n := range 25 {
		to := space.Vec{X: 600 + 400*r.Float64(), Y: 400*r.Float64() - 200, Z: 400*r.Float64() - 200}
		axis := to.Unit()
		var at, dir [2]space.Vec
		toml := "units = \"mm\"\n[section.h]\nshape = \"round-tube\"\nsize = \"60 x 4\"\n[section.b]\nshape = \"round-tube\"\nsize = \"38 x 3\"\n"
		for e, p := range []space.Vec{{}, to} {
			u := space.Vec{X: r.Float64() - 0.5, Y: r.Float64() - 0.5, Z: 1}.Unit()
			at[e], dir[e] = p.Along(u.Cross(axis).Unit(), 18*r.Float64()-9), u
			a, b := at[e].Along(u, -300), at[e].Along(u, 300)
			toml += fmt.Sprintf("[[member]]\nname = \"h%d\"\nsection = \"h\"\nfrom = [%.6f, %.6f, %.6f]\nto = [%.6f, %.6f, %.6f]\nends = [\"free\", \"free\"]\n", e, a.X, a.Y, a.Z, b.X, b.Y, b.Z)
		}
		toml += fmt.Sprintf("[[member]]\nname = \"b\"\nsection = \"b\"\nfrom = [0, 0, 0]\nto = [%.6f, %.6f, %.6f]\n", to.X, to.Y, to.Z)
		f, ps := cutList(t, toml)
		x := pieceOf(t, ps, "b")
		const lines = 2880
		one := axis.Cross(space.Z).Unit()
		two := axis.Cross(one)
		var rims [2][]float64
		least, most := math.Inf(1), math.Inf(-1)
		for k := range lines {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / lines)
			p := to.Mul(0.5).Along(one, branch*cos).Along(two, branch*sin)
			rims[0] = append(rims[0], -meets(p, axis.Mul(-1), at[0], dir[0], header))
			rims[1] = append(rims[1], meets(p, axis, at[1], dir[1], header))
			least, most = min(least, rims[0][k]), max(most, rims[1][k])
		}
		for e := range rims {
			for k := range rims[e] {
				rims[e][k] -= least
			}
		}
		if math.Abs(most-least-x.Length.MM()) > 0.01 { // a step of an eighth of a degree misses an extreme by less
			t.Errorf("%d: length %v, not %v", n, x.Length.MM(), most-least)
		}
		for e := range 2 {
			if w := view.WrapOf(f, x, e); math.Abs(w.GirthMM-2*math.Pi*branch) > 1e-9 {
				t.Errorf("girth %v", w.GirthMM)
			}
		}
		// The roll is tried in steps of an eighth of a degree, 0.04 mm round the skin, on slopes up to 2; and the line drawn
		// keeps within 0.02 mm.
		if off := fits(hung(t, f, x, 48), rims, most-least, 1); off > 0.1 {
			t.Errorf("%d: the templates lie %.2f mm off the textbook's curves", n, off)
		}
	}
}

// TestCompoundWrapsFit: the templates of tubes whose ends lean both ways, and of pieces that are shown the other way
// round, put the cuts where the members have them, side by side.
func TestCompoundWrapsFit(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 11))
	turned, leaning := 0, 0
	for n := range 60 {
		to := space.Vec{X: 500 + 300*r.Float64(), Y: 500*r.Float64() - 250, Z: 500*r.Float64() - 250}
		ends := []string{"level", "plumb", "square"}
		toml := fmt.Sprintf("units = \"mm\"\n[section.s]\nshape = %q\nsize = %q\n[[member]]\nname = \"m\"\nsection = \"s\"\nfrom = [0, 0, 0]\nto = [%.6f, %.6f, %.6f]\nroll = %.3f\nends = [%q, %q]\n",
			[]string{"square-tube", "rect-tube", "square-bar"}[n%3], []string{"40 x 3", "60 x 30 x 3", "25"}[n%3], to.X, to.Y, to.Z, 90*r.Float64(), ends[r.IntN(3)], ends[r.IntN(3)])
		if math.Abs(to.Z) < 120 { // a level cut would run along the piece
			toml = strings.ReplaceAll(toml, `"level"`, `"plumb"`)
		}
		f, ps := cutList(t, toml)
		x, m := pieceOf(t, ps, "m"), &f.Members[0]
		from, until := m.Tips()
		var rims [2][]float64
		for _, d := range []space.Vec{m.Depth.Mul(m.Section.DepthMM / 2), m.Width.Mul(m.Section.WidthMM / 2), m.Depth.Mul(-m.Section.DepthMM / 2), m.Width.Mul(-m.Section.WidthMM / 2)} {
			for e := range rims {
				q := m.Ends[e].Planes[0]
				p := m.A.Add(d)
				rims[e] = append(rims[e], q.Point.Sub(p).Dot(q.Normal)/m.Axis.Dot(q.Normal)-from)
			}
		}
		if off := fits(hungFlats(t, f, x), rims, until-from, 1); off > 0.02 {
			t.Errorf("%d: the templates lie %.3f mm off the cuts\n%s", n, off, toml)
		}
		if x.Way.Turned {
			turned++
		}
		if x.Ends[0].BevelDeg != 0 && x.Ends[1].BevelDeg != 0 {
			leaning++
		}
	}
	if turned < 10 || leaning < 10 {
		t.Errorf("%d turned, %d with two compound ends: too few to tell anything", turned, leaning)
	}
}

// hungFlats is hung for the middles of the four flats.
func hungFlats(t testing.TB, f *frame.Frame, x *piece.Piece) (at [2][]float64) {
	hung(t, f, x, 4) // for the order of the sides
	for e := range 2 {
		w := view.WrapOf(f, x, e)
		for _, name := range []string{"top", "front", "bottom", "back"} {
			for _, s := range w.Sides {
				if s.Name == name {
					v := along(w, s.RoundMM)
					if e == 1 {
						v = x.Length.MM() - v
					}
					at[e] = append(at[e], v)
				}
			}
		}
	}
	return at
}

// TestWrapOfOpenSection: the paper runs once round an angle, outsides and insides, and is folded at its corners.
func TestWrapOfOpenSection(t *testing.T) {
	f, ps := cutList(t, "units = \"mm\"\n[section.a]\nshape = \"angle\"\nsize = \"50 x 40 x 5\"\n[[piece]]\nsection = \"a\"\nlength = 300\nends = [30, 0]\nacross = \"depth\"\n")
	for e := range 2 {
		w := view.WrapOf(f, &ps[0], e)
		if math.Abs(w.GirthMM-2*(50+40)) > 1e-9 || len(w.Folds) != 5 {
			t.Errorf("end %d: girth %v, folds %v", e, w.GirthMM, w.Folds)
		}
		// 30 degrees across the depth: 50 tan 30 deep at the first end, nothing at the second.
		if want := [2]float64{50 * math.Tan(math.Pi/6), 0}[e]; math.Abs(w.DepthMM-want) > 1e-6 {
			t.Errorf("end %d: depth %v, not %v", e, w.DepthMM, want)
		}
		var names []string
		for _, s := range w.Sides {
			names = append(names, s.Name)
		}
		if got, want := strings.Join(names, ", "), [2]string{"bottom, top, inside, front, inside, back", "back, front, inside, top, inside, bottom"}[e]; got != want {
			t.Errorf("end %d: %s", e, got)
		}
	}
}

// TestTemplates: the print has its bars, one template below the other, at full size.
func TestTemplates(t *testing.T) {
	f, ps := cutList(t, "[section.t]\nshape = \"square-tube\"\nsize = \"2 x 11ga\"\n[[piece]]\nsection = \"t\"\nlength = 30\nends = [50, 20]\n")
	one := view.Named{Title: "A <first> end", Wrap: view.WrapOf(f, &ps[0], 0)}
	if d := one.Wrap.DepthMM; math.Abs(d-50.8*math.Tan(50*math.Pi/180)) > 1e-6 {
		t.Errorf("depth %v", d)
	}
	doc := view.Templates([]view.Named{one, {Title: "A, second end", Wrap: view.WrapOf(f, &ps[0], 1)}}, measure.Sixteenths)
	wellFormed(t, doc)
	for _, want := range []string{`mm" height=`, "100 mm", "A &lt;first&gt; end", "A, second end", "print outwards"} {
		if !strings.Contains(string(doc), want) {
			t.Errorf("no %s", want)
		}
	}
	if n := strings.Count(string(doc), `class="rim"`); n != 2 {
		t.Errorf("%d rims", n)
	}
	if view.Templates(nil, measure.Sixteenths) != nil {
		t.Error("a print of nothing")
	}
}
