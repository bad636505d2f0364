package cut

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

const inch = measure.Inch

// bundleOf nests pieces of the given lengths, numbers and quantities on 20-foot sticks of 2 x 1 tube.
func bundleOf(t testing.TB, rules nest.Rules, kinds []nest.Kind, ends [][2]float64) Bundle {
	t.Helper()
	p := nest.Problem{Kinds: kinds, Sticks: []nest.Stick{{Length: 240 * inch}}, Rules: rules}
	n, err := nest.Solve(context.Background(), p, nest.Options{Effort: -1})
	if err != nil {
		t.Fatal(err)
	}
	b := Bundle{Section: "rail", Problem: p, Nest: n, Ends: ends, Flips: true, Depth: rules.Depth, Width: rules.Width, AreaMM2: 200}
	for i := range kinds {
		b.Marks = append(b.Marks, string(rune('A'+i)))
		b.Faces = append(b.Faces, nest.Depth)
	}
	return b
}

func kind(length measure.Length, qty int, left, right float64) (nest.Kind, [2]float64) {
	return nest.Kind{Length: length, Qty: qty, Lays: nest.LaysOf(left, right, nest.Depth, nest.Rectangular)}, [2]float64{left, right}
}

func TestMitredPairRollsInPlaceOfSwinging(t *testing.T) {
	k, e := kind(96*inch, 2, 45, 45)
	b := bundleOf(t, nest.Rules{Kerf: inch / 16, Depth: 2 * inch, Width: inch}, []nest.Kind{k}, [][2]float64{e})
	q := Build([]Bundle{b}, Saw{Kerf: inch / 16}, UsualRates())
	if q.Swings != 1 || q.LeastSwing != 1 {
		t.Errorf("the swing is set %d times (least %d), want once: the stick is rolled instead", q.Swings, q.LeastSwing)
	}
	flips := 0
	for _, s := range q.Steps {
		if s.Flip {
			flips++
		}
	}
	if flips == 0 {
		t.Error("no roll is asked for, yet the cuts lean to both sides")
	}
	b.Flips = false
	if q := Build([]Bundle{b}, Saw{Kerf: inch / 16}, UsualRates()); q.Swings < 2 {
		t.Errorf("a section that must not be rolled needs both swings, got %d", q.Swings)
	}
}

func TestOneSidedSaw(t *testing.T) {
	k, e := kind(50*inch, 3, 30, -30)
	b := bundleOf(t, nest.Rules{Kerf: inch / 16, Depth: 2 * inch, Width: inch}, []nest.Kind{k}, [][2]float64{e})
	q := Build([]Bundle{b}, Saw{Kerf: inch / 16, Limited: true, Least: 0, Most: 45}, UsualRates())
	for _, s := range q.Steps {
		if (s.Op == Cut || s.Op == Trim) && (s.SwingDeg < 0 || s.SwingDeg > 45) {
			t.Errorf("step %d swings to %g on a saw that swings from 0 to 45", s.Number, s.SwingDeg)
		}
	}
}

func TestSettingsAreFew(t *testing.T) {
	a, ea := kind(57*inch, 4, 0, 0)
	c, ec := kind(33*inch, 6, 0, 0)
	d, ed := kind(20*inch, 8, 0, 0)
	b := bundleOf(t, nest.Rules{Kerf: inch / 16, Depth: 2 * inch, Width: inch}, []nest.Kind{a, c, d}, [][2]float64{ea, ec, ed})
	q := Build([]Bundle{b}, Saw{Kerf: inch / 16}, UsualRates())
	if q.Swings != 1 || q.LeastStops != 3 {
		t.Errorf("swings %d, least stops %d; want 1 and 3", q.Swings, q.LeastStops)
	}
	// A stick that holds k lengths needs k-1 changes within; between two sticks none where they share a length.
	if most := 2 * len(b.Nest.Used); q.Stops > most+3 {
		t.Errorf("the stop is set %d times for %d sticks", q.Stops, len(b.Nest.Used))
	}
}

func TestPatternOncePerMark(t *testing.T) {
	a, ea := kind(57*inch, 4, 0, 0)
	c, ec := kind(33*inch, 6, 0, 22.5)
	b := bundleOf(t, nest.Rules{Kerf: inch / 16, Depth: 2 * inch, Width: inch}, []nest.Kind{a, c}, [][2]float64{ea, ec})
	b.Units = [][]int{{1, 2, 3, 4}, {2, 3, 4, 5, 6, 7}}
	q := Build([]Bundle{b}, Saw{Kerf: inch / 16}, UsualRates())
	patterns, units := map[string]int{}, map[string]map[int]bool{"A": {}, "B": {}}
	for _, s := range q.Steps {
		if s.Op != Cut {
			continue
		}
		if s.Pattern {
			patterns[s.Mark]++
		}
		if units[s.Mark][s.Unit] {
			t.Errorf("%s-%d is cut twice", s.Mark, s.Unit)
		}
		units[s.Mark][s.Unit] = true
	}
	if patterns["A"] != 1 || patterns["B"] != 0 {
		t.Errorf("patterns %v; want one of A, none of B, whose first unit is cut already", patterns)
	}
	if !units["B"][7] || units["B"][1] {
		t.Errorf("units of B: %v; want 2 to 7", units["B"])
	}
}

// TestLinesLieWhereThePiecesEnd follows the saw along every stick with geometry of its own: the line through the near and
// far mark, laid onto the stick as it lies (rolled or not), must be the plane of the piece's end as the nest has it.
func TestLinesLieWhereThePiecesEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "kinds")
		var kinds []nest.Kind
		var ends [][2]float64
		angle := rapid.SampledFrom([]float64{-45, -30, 0, 0, 22.5, 45})
		for range n {
			k, e := kind(measure.Length(rapid.Int64Range(15*64, 110*64).Draw(t, "64ths"))*measure.Sixtyfourth, rapid.IntRange(1, 4).Draw(t, "qty"), angle.Draw(t, "left"), angle.Draw(t, "right"))
			kinds, ends = append(kinds, k), append(ends, e)
		}
		rules := nest.Rules{Kerf: inch / 16, Trim: inch / 2, Depth: 3 * inch, Width: inch}
		p := nest.Problem{Kinds: kinds, Sticks: []nest.Stick{{Length: 240 * inch}}, Rules: rules}
		sol, err := nest.Solve(context.Background(), p, nest.Options{Effort: -1})
		if err != nil {
			t.Fatal(err)
		}
		b := Bundle{Section: "rail", Problem: p, Nest: sol, Ends: ends, Flips: rapid.Bool().Draw(t, "flips"), Depth: rules.Depth, Width: rules.Width, AreaMM2: 200}
		for i := range kinds {
			b.Marks, b.Faces = append(b.Marks, string(rune('A'+i))), append(b.Faces, nest.Depth)
		}
		q := Build([]Bundle{b}, Saw{Kerf: rules.Kerf}, UsualRates())
		depth := rules.Depth.MM()
		count := map[string]int{}
		for _, s := range q.Steps {
			if s.Op != Cut {
				continue
			}
			count[s.Mark]++
			k := int(s.Mark[0] - 'A')
			// The end numbers as the piece lies at the saw, by the contract: a turn swaps, a half roll negates.
			l, r := ends[k][0], ends[k][1]
			if s.Turned {
				l, r = r, l
			}
			if s.RollDeg == 180 {
				l, r = -l, -r
			}
			if math.Abs(r-s.SwingDeg) > 1e-6 {
				t.Fatalf("%s: its right number as it lies is %g, the swing %g", s.Mark, r, s.SwingDeg)
			}
			// Right end: x at the near edge and at the far edge, from the tip to tip length and the number.
			length := kinds[k].Length.MM()
			lean := depth * math.Tan(r*math.Pi/180)
			near, far := length, length-lean
			if r < 0 {
				near, far = length+lean, length
			}
			// 2 nm: the lines are whole nanometres on both edges.
			if math.Abs(near-s.Near.MM()) > 2e-6 || math.Abs(far-s.Far.MM()) > 2e-6 {
				t.Fatalf("%s: near %g far %g, want %g %g", s.Mark, s.Near.MM(), s.Far.MM(), near, far)
			}
			if math.Abs(s.Offset.MM()-(near-far)) > 2e-6 {
				t.Fatalf("%s: lean %g, want %g", s.Mark, s.Offset.MM(), near-far)
			}
			_ = l
		}
		for i := range kinds {
			if count[b.Marks[i]] != kinds[i].Qty {
				t.Fatalf("%d of %s are cut, %d wanted", count[b.Marks[i]], b.Marks[i], kinds[i].Qty)
			}
		}
	})
}

// TestOrderKeepsTheNest: changing the order of pieces and sticks must not use more of any stick than the nest does.
func TestOrderKeepsTheNest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var kinds []nest.Kind
		var ends [][2]float64
		for range rapid.IntRange(1, 4).Draw(t, "kinds") {
			a := rapid.SampledFrom([]float64{0, 0, 45}).Draw(t, "angle")
			k, e := kind(measure.Length(rapid.Int64Range(10*64, 100*64).Draw(t, "64ths"))*measure.Sixtyfourth, rapid.IntRange(1, 5).Draw(t, "qty"), a, a)
			kinds, ends = append(kinds, k), append(ends, e)
		}
		rules := nest.Rules{Kerf: inch / 16, Grip: 2 * inch, Depth: 2 * inch, Width: inch}
		p := nest.Problem{Kinds: kinds, Sticks: []nest.Stick{{Length: 240 * inch}}, Rules: rules}
		sol, err := nest.Solve(context.Background(), p, nest.Options{Effort: -1})
		if err != nil {
			t.Fatal(err)
		}
		b := Bundle{Problem: p, Nest: sol, Ends: ends, Depth: rules.Depth, Width: rules.Width}
		for range kinds {
			b.Marks, b.Faces = append(b.Marks, "x"), append(b.Faces, nest.Depth)
		}
		for _, a := range arrange(&b) {
			u := sol.Used[a.used]
			if len(a.cuts) != len(u.Cuts) || a.cuts[len(a.cuts)-1].To != u.Cuts[len(u.Cuts)-1].To {
				t.Fatalf("the order changed what the stick takes: %v, was %v", a.cuts, u.Cuts)
			}
			for i := 1; i < len(a.cuts); i++ {
				if a.cuts[i].From-a.cuts[i-1].To != u.Cuts[i].From-u.Cuts[i-1].To {
					t.Fatalf("the gap before place %d changed", i)
				}
			}
			if last := a.cuts[len(a.cuts)-1]; last.To-last.From+u.Drop < rules.Grip && u.Cuts[len(u.Cuts)-1].To-u.Cuts[len(u.Cuts)-1].From+u.Drop >= rules.Grip {
				t.Fatal("the vise no longer holds the last piece")
			}
		}
	})
}
