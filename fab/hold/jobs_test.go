package hold

import (
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/measure"
)

// beam is one tube of 120 in on two supports that the cases name.
const beam = `
units = "in"
[section.rail]
shape = "rect-tube"
size = "3 x 2 x .120"
[[member]]
name = "beam"
section = "rail"
from = [0, 0, 20]
to = [120, 0, 20]
`

// alone leaves the own weight out.
const alone = "\n[[combination]]\nname = \"load\"\nweight = 0\ncases = {live = 1}\n"

func reaction(t *testing.T, a *Answer, name string) Reaction {
	t.Helper()
	for _, r := range a.Cases[0].Reactions {
		if strings.HasPrefix(r.Name, name) {
			return r
		}
	}
	t.Fatalf("no reaction %s among %v", name, a.Cases[0].Reactions)
	return Reaction{}
}

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if math.Abs(got-want) > rel*math.Max(math.Abs(want), 1e-9) {
		t.Errorf("%s %.6g, by hand %.6g", what, got, want)
	}
}

const (
	left  = "[[support]]\nname = \"left\"\nat = \"beam@0in\"\nfix = \"%\"\n"
	right = "[[support]]\nname = \"right\"\nat = \"beam@120in\"\nfix = \"%\"\n"
)

func held(l, r string) string {
	return strings.Replace(left, "%", l, 1) + strings.Replace(right, "%", r, 1)
}

// TestPartialAndPointLoads: reactions of simple spans by moments about one end.
func TestPartialAndPointLoads(t *testing.T) {
	lb, in := measure.PoundN, measure.InchMM
	_, _, a := analysed(t, beam+held("xyzX", "yz")+"[[load]]\non = \"beam\"\nload = \"30plf\"\nfrom = 24\nto = 60\n"+alone)
	w := 30 * 36 / 12.0 // lb
	near(t, "right of a load from 24 to 60 in", reaction(t, a, "right").Force[2], w*42/120*lb, 1e-6)
	near(t, "left", reaction(t, a, "left").Force[2], w*78/120*lb, 1e-6)
	_, _, a = analysed(t, beam+held("xyzX", "yz")+"[[load]]\non = \"beam\"\nload = \"150lb\"\nat = 30\n"+alone)
	near(t, "right of 150 lb at 30 in", reaction(t, a, "right").Force[2], 150*lb/4, 1e-6)
	near(t, "moment under it", math.Abs(a.Cases[0].Members[0].Demand.Mx), 150*lb*30*90/120*in, 1e-6)
	_, _, a = analysed(t, beam+held("xyzX", "yz")+"[[load]]\non = \"beam@90in\"\nload = \"150lb\"\n"+alone)
	near(t, "right of 150 lb at a named place", reaction(t, a, "right").Force[2], 150*lb*.75, 1e-6)
}

// TestSupportsByDirection: held about its axes a span has its fixed-end moments, one end held makes a propped cantilever,
// and a spring gives way by its force over its stiffness.
func TestSupportsByDirection(t *testing.T) {
	l, w := 120*measure.InchMM, 30*measure.PlfNPerMM
	load := "[[load]]\non = \"beam\"\nload = \"30plf\"\n" + alone
	_, _, a := analysed(t, beam+held("all", "all")+load)
	near(t, "fixed-end moment", math.Abs(reaction(t, a, "left").Moment[1]), w*l*l/12, 1e-3) // shear deformation changes nothing here; the model is straight
	_, _, a = analysed(t, beam+held("all", "yz")+load)
	shear := 0.02 // a propped cantilever's reactions shift a little with shear deformation
	near(t, "propped cantilever, the prop", reaction(t, a, "right").Force[2], 3*w*l/8, shear)
	_, _, a = analysed(t, beam+held("xyzX", "yz")+load)
	near(t, "simple span, no moment", reaction(t, a, "left").Moment[1]+1, 1, 1e-6)
	_, _, a = analysed(t, beam+strings.Replace(left, "%", "xyzX", 1)+"[[support]]\nname = \"right\"\nat = \"beam@120in\"\nfix = \"y\"\nspring = {z = \"200N/mm\"}\n"+load)
	near(t, "on a spring", reaction(t, a, "right").Force[2], w*l/2, 1e-6)
	end := a.Cases[0].Members[0].Line[len(a.Cases[0].Members[0].Line)-1]
	near(t, "gives way", -end.U[2], w*l/2/200, 1e-6)
}

// TestLooseJointTurns: a bar that only lies on its rails carries as a simple span; welded in it is held by them.
func TestLooseJointTurns(t *testing.T) {
	load := "[[load]]\non = \"lower.bar2\"\nload = \"30plf\"\ncase = \"live\"\n" + alone
	loose := "[[joint]]\nbetween = [\"lower.x1\", \"lower.bar2\"]\nkind = \"loose\"\n[[joint]]\nbetween = [\"lower.x2\", \"lower.bar2\"]\nkind = \"loose\"\n"
	worst := func(toml string) (moment float64, lengthMM float64) {
		f, _, a := analysed(t, toml)
		i := f.Index("lower.bar2")
		return math.Abs(a.Cases[0].Members[i].Demand.Mx) + math.Abs(a.Cases[0].Members[i].Demand.My), f.LengthMM(i)
	}
	free, l := worst(rack + load + loose)
	tied, _ := worst(rack + load)
	if want := 30 * measure.PlfNPerMM * l * l / 8; math.Abs(free-want) > 0.02*want {
		t.Errorf("a loose bar bears %.4g N mm, a simple span %.4g", free, want)
	}
	if tied >= free {
		t.Errorf("welded in it bears %.4g N mm, loose %.4g", tied, free)
	}
}

// TestSums: combinations add up: half of one case and twice another is half and twice their reactions.
func TestSums(t *testing.T) {
	_, _, a := analysed(t, beam+held("xyzX", "yz")+`
[[load]]
on = "beam"
load = "30plf"
case = "snow"
[[load]]
on = "beam"
load = "150lb"
at = 30
case = "man"
[[combination]]
name = "both"
weight = 0
cases = {snow = 0.5, man = 2}
[[combination]]
name = "snow"
weight = 0
cases = {snow = 1}
[[combination]]
name = "man"
weight = 0
cases = {man = 1}
`)
	for k := range a.Cases[0].Reactions {
		want := 0.5*a.Cases[1].Reactions[k].Force[2] + 2*a.Cases[2].Reactions[k].Force[2]
		near(t, a.Cases[0].Reactions[k].Name, a.Cases[0].Reactions[k].Force[2], want, 1e-9)
	}
}
