package hold

import (
	"fmt"
	"math"
	"testing"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

// TestWeldLines: textbook groups by hand.
func TestWeldLines(t *testing.T) {
	// Two fillets 100 long, 60 apart, throat 4, load 10 kN in their plane 150 beside their middle.
	lines := []WeldLine{{Vec{-30, -50, 0}, Vec{-30, 50, 0}, 4, 1}, {Vec{30, -50, 0}, Vec{30, 50, 0}, 4, 1}}
	w, ok := newWeldShape(lines)
	if !ok {
		t.Fatal("no shape")
	}
	const f, e = 10e3, 150.0
	area := 2 * 100 * 4.0
	j := 2 * (4*100.*100*100/12 + 400*30*30)
	got := w.stress(Vec{0, -f, 0}, Vec{}, Vec{e, 0, 0})
	want := math.Hypot(f*e*50/j, f/area+f*e*30/j)
	if math.Abs(got-want) > 2e-3*want { // the throat's own thickness is in ours
		t.Errorf("stress at the far corner %g MPa, by the elastic method of weld lines by hand %g", got, want)
	}
	// The same group bent out of its plane: f = M / S with S = t L^2 / 3 for two lines.
	got = w.stress(Vec{}, Vec{1e6, 0, 0}, Vec{})
	if got, want := got, 1e6/(4*100*100/3.); math.Abs(got-want) > 2e-3*math.Abs(want) { // the throat's own thickness is in ours
		t.Errorf("%s: %.10g, worked out %.10g", "bending stress, MPa", got, want)
	}
	if s := w.stress(Vec{0, 0, 800}, Vec{}, Vec{}); math.Abs(s-1) > 1e-9 {
		t.Errorf("pull %g", s)
	}
	half := []WeldLine{lines[0], lines[1]}
	half[0].Share, half[1].Share = .5, .5
	w, _ = newWeldShape(half)
	if s := w.stress(Vec{0, 0, 800}, Vec{}, Vec{}); math.Abs(s-2) > 1e-9 {
		t.Errorf("half welded %g", s)
	}
	if _, ok := newWeldShape(nil); ok {
		t.Error("no lines made a group")
	}
}

// TestWeldOfABracket: a cantilever welded to a held post: its weld carries P and P L.
func TestWeldOfABracket(t *testing.T) {
	s := section(t, steel.SquareTube, "2 x 2 x 1/8", "A500-C")
	m := &Model{
		Members:      []Member{{Name: "post", Section: s, A: Vec{0, 0, 0}, B: Vec{0, 0, 1000}, Depth: Vec{1, 0, 0}}, {Name: "arm", Section: s, A: Vec{25.4, 0, 500}, B: Vec{625.4, 0, 500}, Depth: Vec{0, 0, 1}}},
		Links:        []Link{{Name: "J1", At: Vec{25.4, 0, 500}, Ends: []LinkEnd{{Member: 0, AtMM: 500}, {Member: 1, AtMM: 0}}}},
		Holds:        []Hold{{Name: "foot", Member: 0, AtMM: 0, Fix: [6]bool{true, true, true, true, true, true}}, {Name: "head", Member: 0, AtMM: 1000, Fix: [6]bool{true, true, true, true, true, true}}},
		Loads:        []Load{{Case: "tip", Member: 1, Kind: AtPoint, AtMM: 600, W: Vec{0, 0, -300}}},
		Combinations: []Combination{{Name: "tip", Terms: []CaseFactor{{"tip", 1}}}},
	}
	a, err := Analyse(m)
	if err != nil {
		t.Fatal(err)
	}
	q := a.Cases[0].Links[0]
	for d := range q[0].Force {
		if math.Abs(q[0].Force[d]+q[1].Force[d]) > 1e-6 || math.Abs(q[0].Moment[d]+q[1].Moment[d]) > 1e-3 {
			t.Errorf("the joint is not in balance: %+v", q)
		}
	}
	if math.Abs(q[1].Force[2]-300) > 1e-6 || math.Abs(q[1].Moment[1]+300*600) > 1e-3 {
		t.Errorf("arm is held by %+v", q[1])
	}
	// Fillets above and below, 50.8 wide, throat 3: S = t b d per pair.
	welds := a.Welds(m, []WeldGroup{{"J1", 1, []WeldLine{{Vec{25.4, -25.4, 525.4}, Vec{25.4, 25.4, 525.4}, 3, 1}, {Vec{25.4, -25.4, 474.6}, Vec{25.4, 25.4, 474.6}, 3, 1}}}}, 70)
	if len(welds) != 1 {
		t.Fatal(welds)
	}
	want := math.Hypot(300*600/(3*50.8*50.8), 300/(2*3*50.8))
	if math.Abs(welds[0].StressMPa-want) > 0.01*want || math.Abs(welds[0].AllowMPa-21*measure.KsiMPa) > 1e-9 || math.Abs(welds[0].Use.Value-welds[0].StressMPa/welds[0].AllowMPa) > 1e-9 {
		t.Errorf("%+v, by hand %g", welds[0], want)
	}
	if err := welds[0].Use.Check(); err != nil {
		t.Error(err)
	}
}

func TestTrySections(t *testing.T) {
	_, m, _ := modelOf(t, rack+"[[load]]\non = \"lower bars\"\nload = \"30plf\"\n")
	thin, thick := section(t, steel.RectTube, "2-1/2 x 1-1/2 x .083", "A500-C"), section(t, steel.RectTube, "3 x 2 x .120", "A500-C")
	tried := m.Try("rail", []steel.Section{*thin, *thick})
	if len(tried) != 3 {
		t.Fatal(tried)
	}
	for _, x := range tried {
		if x.Err != nil {
			t.Fatal(x.Err)
		}
	}
	if !(tried[1].MassKG < tried[0].MassKG && tried[1].DeflectionMM > tried[0].DeflectionMM && tried[2].MassKG > tried[0].MassKG && tried[2].DeflectionMM < tried[0].DeflectionMM) {
		t.Errorf("%+v", tried)
	}
	if m.Members[0].Section.Size != "2-1/2 x 1-1/2 x .120" {
		t.Error("trying changed the model")
	}
	if got := m.Try("nothing", nil); got != nil {
		t.Errorf("%+v", got)
	}
}

func TestProblemsOfAWeakRack(t *testing.T) {
	f, m, a := analysed(t, rack+"[[load]]\non = \"lower bars\"\nload = \"900plf\"\n[check]\nsag = 1000\n")
	ps := a.Problems(m, f, []WeldAnswer{{Joint: "J1", Member: "lower.y1", StressMPa: 300, AllowMPa: 145, Case: "live", Use: figure.Figure{Value: 300. / 145}}}, measure.Sixteenths)
	codes := map[string]int{}
	for _, p := range ps {
		codes[p.Code]++
		if p.Code == CodeSag && p.Line == 0 {
			t.Errorf("no place: %v", p)
		}
	}
	if codes[CodeOver] < 2 || codes[CodeSag] == 0 || codes[CodeReck] != 1 {
		t.Errorf("%v", ps)
	}
	if j := a.JSON(m, nil, nil, nil); len(j.Cases) != 1 || len(j.Members) != len(m.Members) || j.Cases[0].Utilisation != a.Cases[0].Utilisation || len(j.Cases[0].Reactions) != 4 {
		t.Errorf("%+v", j)
	}
}

func ExampleAnalyse() {
	s, err := steel.New(steel.Spec{Shape: steel.SquareTube, Size: "2 x 2 x .120", Grade: "A500-B"}, frametest.Catalogue())
	if err != nil {
		fmt.Println(err)
		return
	}
	a, err := Analyse(&Model{
		Members:      []Member{{Name: "shelf", Section: &s, A: Vec{0, 0, 0}, B: Vec{1800, 0, 0}, Depth: Vec{0, 0, 1}}},
		Holds:        []Hold{{Name: "left", AtMM: 0, Fix: [6]bool{true, true, true, true}}, {Name: "right", AtMM: 1800, Fix: [6]bool{false, true, true}}},
		Loads:        []Load{{Case: "paddles", Kind: AtPoint, AtMM: 900, W: Vec{0, 0, -1000}}},
		Combinations: []Combination{{Name: "paddles", Terms: []CaseFactor{{"paddles", 1}}, Weight: 1}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.0f %% by %s, sag %.1f mm\n", a.Cases[0].Worst, 100*a.Cases[0].Utilisation, a.Cases[0].Clause, a.Cases[0].DeflectionMM)
	// Output: shelf: 27 % by H1-1b, sag 3.3 mm
}
