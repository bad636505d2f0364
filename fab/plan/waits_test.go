package plan

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/work"
)

// braced is a standing frame whose two braces are cut to fit.
const braced = `
[section.rail]
shape = "square-tube"
size = "1-1/2 x 14ga"
sticks = [ {length = "20ft", price = 26.40} ]
[section.brace]
shape = "square-tube"
size = "1 x 16ga"
sticks = [ {length = "12ft", price = 11.10} ]
[saw]
kerf = "1/16"
keep = "8in"
[[rectangle]]
name = "panel"
section = "rail"
length = "66in"
width = "40in"
[[crossbars]]
on = "panel"
section = "rail"
count = 1
[[member]]
name = "left brace"
section = "brace"
from = ["1-1/2", "1-1/2", "3/4"]
to = ["32-1/4", "38-1/2", "3/4"]
ends = ["point", "point"]
over = "1/2"
[[member]]
name = "right brace"
section = "brace"
from = ["33-3/4", "1-1/2", "3/4"]
to = ["64-1/2", "38-1/2", "3/4"]
ends = ["point", "point"]
over = "1/2"
[[piece]]
mark = "T"
section = "brace"
length = "14in"
qty = 3
[welder]
process = "GMAW"
amps = 90
volts = 17
duty = "20% at 120A"
travel = "12ipm"
fillet = "1/8"
`

func pieceOf(t *testing.T, p *Plan, mark string) int {
	t.Helper()
	for i := range p.Pieces {
		if p.Pieces[i].Mark == mark {
			return i
		}
	}
	t.Fatalf("no piece %s", mark)
	return -1
}

// TestCutToFit follows a job with braces that are cut to fit from the first plan to the last cut: what waits comes last
// and leaves room for all else, a measured length is planned with, each unit has its own, and the record alone gives the
// same plan.
func TestCutToFit(t *testing.T) {
	p := build(t, braced, nil)
	mark := ""
	for i := range p.Pieces {
		if p.Pieces[i].Over > 0 {
			mark = p.Pieces[i].Mark
			if p.Pieces[i].Qty != 2 {
				t.Fatalf("the two braces are no longer one mark: %+v", p.Pieces[i])
			}
		}
	}
	x := p.Pieces[pieceOf(t, p, mark)]
	seen, waits := false, 0
	for _, s := range p.Queue.Steps {
		if seen && !s.Waits {
			t.Errorf("step %d (%s %s-%d) comes after a piece that waits", s.Number, s.Op, s.Mark, s.Unit)
		}
		seen = seen || s.Waits
		if s.Op == cut.Cut && s.Waits {
			waits++
			if s.Mark != mark || s.Stop != x.Length+measure.Inch/2 {
				t.Errorf("%s-%d waits with %v reserved", s.Mark, s.Unit, s.Stop)
			}
			if !strings.Contains(s.WaitsFor, "panel") || !strings.Contains(s.WaitsFor, "stage: ") {
				t.Errorf("%s-%d waits for %q", s.Mark, s.Unit, s.WaitsFor)
			}
		}
	}
	if waits != 2 {
		t.Fatalf("%d pieces wait, want 2", waits)
	}
	w := &worker{state: work.New()}
	for i := range p.Queue.Steps {
		if s := &p.Queue.Steps[i]; !s.Waits {
			w.step(p, s)
		}
	}
	for _, other := range p.Pieces {
		if other.Over == 0 && len(w.state.CutUnits(other.Mark)) != other.Qty {
			t.Errorf("%s cannot all be cut without what waits: %v of %d", other.Mark, w.state.CutUnits(other.Mark), other.Qty)
		}
	}
	// The second is measured first; it is then the only thing that can be cut.
	second := x.Length - 3*measure.Inch/16
	id := w.do(work.Fitted{Mark: mark, Unit: 2, Length: second})
	p = build(t, braced, w.state.Clone())
	first := firstCut(p)
	if first == nil || first.Waits || first.Mark != mark || first.Unit != 2 || first.Stop != second {
		t.Fatalf("after the entry the queue begins with %+v", first)
	}
	d := p.JSON()
	if m := d.Pieces[pieceOf(t, p, mark)].Measured; len(m) != 1 || m[0].Unit != 2 || m[0].LengthMM != second.MM() {
		t.Errorf("the document says measured %v", m)
	}
	if f, _, ok := FindFigure(p.Figures(), "piece."+mark+"-2.measured"); !ok || f.Value != second.MM() {
		t.Errorf("explain: %v %v", ok, f)
	}
	if !slices.ContainsFunc(p.Notes, func(n string) bool {
		return strings.Contains(n, mark+"-2 was measured in its place: "+p.Job.Tape.PrintLong(second))
	}) {
		t.Errorf("notes: %q", p.Notes)
	}
	grown := total1(p)
	// Taken back: it waits again, with what was reserved.
	w.do(work.Undone{Of: id})
	p = build(t, braced, w.state.Clone())
	if s := firstCut(p); s == nil || !s.Waits || s.Stop != x.Length+measure.Inch/2 {
		t.Fatalf("after undo the queue begins with %+v", s)
	}
	if was := total1(p); grown-was != measure.Inch/2+3*measure.Inch/16 {
		t.Errorf("the drops grew by %v, want 11/16", grown-was)
	}
	w.do(work.Fitted{Mark: mark, Unit: 2, Length: second})
	w.do(work.Fitted{Mark: mark, Unit: 1, Length: x.Length + measure.Inch/16})
	p = build(t, braced, w.state.Clone())
	lengths := map[int]measure.Length{}
	for i := range p.Queue.Steps {
		s := &p.Queue.Steps[i]
		if s.Op == cut.Cut {
			lengths[s.Unit] = s.Stop
		}
		w.step(p, s)
	}
	if lengths[1] != x.Length+measure.Inch/16 || lengths[2] != second {
		t.Errorf("cut to %v", lengths)
	}
	p = build(t, braced, w.state.Clone())
	if len(p.Queue.Steps) != 0 {
		t.Errorf("all is cut, and the queue holds %+v", p.Queue.Steps)
	}
	if len(p.Measured[mark]) != 2 {
		t.Errorf("the plan no longer knows what was measured: %v", p.Measured)
	}
}

func firstCut(p *Plan) *cut.Step {
	for i := range p.Queue.Steps {
		if p.Queue.Steps[i].Op == cut.Cut {
			return &p.Queue.Steps[i]
		}
	}
	return nil
}

// total1 is the length of all drops, kept or not.
func total1(p *Plan) (sum measure.Length) {
	for _, sn := range p.Nests {
		for _, u := range sn.Nest.Used {
			sum += u.Drop
		}
	}
	return sum
}

func TestCheckFit(t *testing.T) {
	p := build(t, braced, nil)
	for i := range p.Pieces {
		x := &p.Pieces[i]
		if x.Over == 0 {
			if CheckFit(x, x.Length, p.Job.Tape) == nil {
				t.Errorf("%s is not cut to fit, and a measured length was taken", x.Mark)
			}
			continue
		}
		for _, c := range []struct {
			by measure.Length
			ok bool
		}{{0, true}, {measure.Inch / 2, true}, {-measure.Inch / 2, true}, {measure.Inch/2 + 1, false}, {-measure.Inch/2 - 1, false}, {30 * measure.Inch, false}} {
			if err := CheckFit(x, x.Length+c.by, p.Job.Tape); (err == nil) != c.ok {
				t.Errorf("%v from the drawing: %v", c.by, err)
			}
		}
	}
}

// TestWaitsLieBehind: whatever is cut to fit lies behind all else on its stick, the sticks hold what they are to hold by
// the contract's own sum, and no more money goes than the proven least, unless the plan says so.
func TestWaitsLieBehind(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var b strings.Builder
		b.WriteString(`
[section.rail]
shape = "rect-tube"
size = "2 x 1 x 14ga"
sticks = [ {length = "20ft", price = 27.80} ]
[saw]
kerf = "1/16"
trim = "1/4"
keep = "12in"
`)
		n := rapid.IntRange(1, 5).Draw(rt, "kinds")
		for k := range n {
			end := rapid.SampledFrom([]string{"[0, 0]", "[45, 45]", "[30, -30]", "[0, 22.5]"})
			b.WriteString("[[piece]]\nmark = \"" + string(rune('P'+k)) + "\"\nsection = \"rail\"\nlength = \"" + rapid.SampledFrom([]string{"31in", "47-1/2", "58in", "96in", "112in"}).Draw(rt, "length") + "\"\nqty = ")
			b.WriteString(rapid.SampledFrom([]string{"1", "2", "3"}).Draw(rt, "qty") + "\nends = " + end.Draw(rt, "ends") + "\n")
			if k == 0 || rapid.Bool().Draw(rt, "over") {
				b.WriteString("over = \"" + rapid.SampledFrom([]string{"1/4", "1", "3"}).Draw(rt, "reserve") + "\"\n")
			}
		}
		p := build(t, b.String(), nil)
		for _, sn := range p.Nests {
			for _, u := range sn.Nest.Used {
				waits := false
				for i, c := range u.Cuts {
					if waits && !sn.Waits[c.Kind] {
						rt.Fatalf("%s lies behind a piece that waits: %+v", p.Pieces[sn.Pieces[c.Kind]].Mark, u.Cuts)
					}
					waits = waits || sn.Waits[c.Kind]
					if c.To-c.From != sn.Problem.Kinds[c.Kind].Length {
						rt.Fatalf("a piece of %v lies on %v", sn.Problem.Kinds[c.Kind].Length, c.To-c.From)
					}
					if i == 0 {
						continue
					}
					// Between two planes at the same place of the section at least a kerf must stay, measured square to either.
					before := u.Cuts[i-1]
					depth, width := sn.Problem.Rules.Depth.MM(), sn.Problem.Rules.Width.MM()
					need := sn.Problem.Rules.Kerf.MM() * max(secant(before.Lay.Right), secant(c.Lay.Left))
					for _, y := range []float64{0, depth} {
						for _, z := range []float64{0, width} {
							r := corner(before.Lay.Right.SY, before.Lay.Right.SZ, y, z, depth, width, before.To.MM(), false)
							l := corner(c.Lay.Left.SY, c.Lay.Left.SZ, y, z, depth, width, c.From.MM(), true)
							if l-r < need-1e-5 { // 10 nm: planes and places are whole billionths and nanometres
								rt.Fatalf("only %v mm between piece %d and the one before, %v needed: %+v", l-r, i, need, u.Cuts)
							}
						}
					}
				}
				last := u.Cuts[len(u.Cuts)-1]
				if last.To > sn.Problem.Sticks[u.Stick].Length {
					rt.Fatalf("the last piece ends beyond the stick: %+v", u)
				}
			}
			if sn.Nest.Proven && sn.Nest.Cost != sn.Nest.BoundCost {
				rt.Fatalf("said to be proven: cost %v, bound %v", sn.Nest.Cost, sn.Nest.BoundCost)
			}
			count := map[int]int{}
			for _, u := range sn.Nest.Used {
				for _, c := range u.Cuts {
					count[c.Kind]++
					if c.Unit != count[c.Kind] {
						rt.Fatalf("units are numbered %d at the %d-th", c.Unit, count[c.Kind])
					}
				}
			}
			for k, want := range sn.Problem.Kinds {
				if count[k] != want.Qty {
					rt.Fatalf("%d of kind %d, want %d", count[k], k, want.Qty)
				}
			}
		}
	})
}

// corner gives where a plane through a tip crosses one edge of the section: the tip is its least place at a left end and
// its greatest at a right end.
func corner(sy, sz int64, y, z, depth, width, tip float64, left bool) float64 {
	at := func(y, z float64) float64 { return float64(sy)/1e9*y + float64(sz)/1e9*z }
	ext := at(0, 0)
	for _, v := range []float64{at(depth, 0), at(0, width), at(depth, width)} {
		if left == (v < ext) && v != ext {
			ext = v
		}
	}
	return tip + at(y, z) - ext
}

// TestFittingOn works the job with braces in any order: pieces cut, spoiled, measured, measured again. It always comes to
// an end; each brace is cut to the length measured last before its cut; no two pieces lie on the same steel.
func TestFittingOn(t *testing.T) {
	runs := 0
	rapid.Check(t, func(rt *rapid.T) {
		if runs++; runs > 12 && os.Getenv("SOAK") == "" {
			return // each run plans the job some thirty times
		}
		w := &worker{state: work.New()}
		p := build(t, braced, nil)
		spoils := 0
		for round := 0; ; round++ {
			if round > 80 {
				rt.Fatalf("the job never ends: %+v", p.Queue.Steps)
			}
			open := 0
			for open < len(p.Queue.Steps) && !p.Queue.Steps[open].Waits {
				open++
			}
			if len(p.Queue.Steps) == 0 {
				break
			}
			n := 0
			if open > 0 {
				n = rapid.IntRange(0, open).Draw(rt, "steps")
			}
			for i := range p.Queue.Steps[:n] {
				s := &p.Queue.Steps[i]
				w.step(p, s)
				if s.Op != cut.Cut {
					continue
				}
				if l, ok := w.state.Fit(s.Mark, s.Unit); ok && s.Stop != l {
					rt.Fatalf("%s-%d is cut to %v, measured %v", s.Mark, s.Unit, s.Stop, l)
				}
			}
			if list := p.ToFit(w.state); len(list) > 0 && (open == 0 || rapid.Bool().Draw(rt, "measure")) {
				f := list[rapid.IntRange(0, len(list)-1).Draw(rt, "which")]
				by := measure.Length(rapid.IntRange(-8, 8).Draw(rt, "16ths")) * measure.Inch / 16
				if CheckFit(f.Piece, f.Piece.Length+by, p.Job.Tape) == nil {
					w.do(work.Fitted{Mark: f.Piece.Mark, Unit: f.Unit, Length: f.Piece.Length + by})
				}
			}
			if all := w.state.Pieces(); len(all) > 0 && spoils < 3 && rapid.IntRange(0, 4).Draw(rt, "spoil") == 0 {
				if x := all[rapid.IntRange(0, len(all)-1).Draw(rt, "spoiled")]; !x.Spoiled {
					spoils++
					w.do(work.Spoiled{Mark: x.Mark, Unit: x.Unit, Key: x.Key})
				}
			}
			p = build(t, braced, w.state.Clone())
		}
		for _, x := range p.Pieces {
			if got := len(w.state.CutUnits(x.Mark)); got != x.Qty {
				rt.Fatalf("%d of %s are cut, want %d", got, x.Mark, x.Qty)
			}
		}
		for _, s := range w.state.Sticks() {
			end := measure.Length(-1 << 40)
			for _, x := range s.Pieces {
				if x.From < end-2*measure.Inch { // tips of slanted ends may pass each other by no more than the section is deep
					rt.Fatalf("%s: %s-%d begins at %v, the one before ends at %v", s.Name, x.Mark, x.Unit, x.From, end)
				}
				end = x.To
			}
		}
	})
}

// TestMeasuredMarks: the document lays out a piece that was measured as it is cut, the others of its mark as drawn.
func TestMeasuredMarks(t *testing.T) {
	toml := strings.Replace(braced, "over = \"1/2\"", "over = \"1/2\"\nholes = [ {at = \"10in\", size = \"5/16\"} ]\n[[member]]\nname = \"prop\"\nsection = \"rail\"\nfrom = \"left brace@20in\"\nto = [20, 20, 20]\nends = [\"auto\", \"free\"]", 1)
	p := build(t, toml, nil)
	k := slices.IndexFunc(p.Pieces, func(x piece.Piece) bool { return slices.Contains(x.Members, "left brace") })
	x := &p.Pieces[k]
	w := &worker{state: work.New()}
	w.do(work.Fitted{Mark: x.Mark, Unit: 1, Length: x.Length + measure.Inch/4})
	p = build(t, toml, w.state)
	d := p.JSON().Pieces[k]
	if len(d.Measured) != 1 || len(d.MarksOut) != 2 || len(d.Measured[0].MarksOut) != 2 {
		t.Fatalf("%+v", d)
	}
	for i, m := range d.MarksOut {
		want := m
		if x.Way.Turned { // the job's tip is the second one here
			want.AtMM += 6.35
			want.ToMM += 6.35
		}
		if got := d.Measured[0].MarksOut[i]; math.Abs(got.AtMM-want.AtMM) > 1e-6 || math.Abs(got.ToMM-want.ToMM) > 1e-6 || got.What != want.What {
			t.Errorf("%+v, want %+v", got, want)
		}
	}
}
