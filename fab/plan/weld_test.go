package plan

import (
	"context"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/text"
)

const booth = small + `
[welder]
process = "GMAW"
amps = 100
volts = 18
duty = "30% at 130A"
travel = "10ipm"
fillet = "1/8"
`

// TestOwnOrderReachesThePlan: the job's order is kept, what cannot be is an error at its line, and without a welder it says
// that there is nothing to order.
func TestOwnOrderReachesThePlan(t *testing.T) {
	p := build(t, booth+"[sequence]\njoints = [\"base.x2 + base.bar3\", \"base.x1 + base.bar1\"]\n", nil)
	first, second := -1, -1
	for k, j := range p.Weld.Layout.Joints {
		switch strings.Join(j.Members, " ") {
		case "base.x2 base.bar3":
			first = k
		case "base.x1 base.bar1":
			second = k
		}
	}
	at := map[string]int{}
	for n, e := range p.Weld.Schedule.Entries {
		if e.Task >= 0 && p.Weld.Docket.Tasks[e.Task].Kind == "fit" {
			at[e.Joint] = n
		}
	}
	a, b := p.Weld.Layout.Joints[first].ID, p.Weld.Layout.Joints[second].ID
	if first < 0 || second < 0 || at[a] >= at[b] || !p.Weld.OwnOrder || !p.JSON().Weld.OwnOrder {
		t.Errorf("%s is set as entry %d, %s as %d", a, at[a], b, at[b])
	}
	for _, c := range []struct{ toml, key, want string }{
		{booth + "[sequence]\njoints = [\"J99\"]\n", "sequence.joints", "is no joint, seam, member or mark"},
		{booth + "[sequence]\njoints = [\"base.bar1\", \"base.x1 + base.bar1\"]\n", "sequence.joints", "comes twice"},
		{booth + "[sequence]\nstages = [\"base\", \"attic\"]\n", "sequence.stages", `there is no stage "attic"`},
		{booth + "[sequence]\nstages = [\"turned over\", \"base\"]\n", "sequence.stages", `"base" cannot come after "turned over"`},
		{small + "[sequence]\nstages = [\"base\"]\n", "sequence", "there is no [welder]"},
	} {
		j := frametest.Read(t, c.toml)
		p := Build(context.Background(), Input{Job: j, Steel: frametest.Catalogue(), Effort: -1})
		var got []text.Problem
		for _, x := range p.Problems {
			if strings.HasPrefix(x.Key, "sequence") {
				got = append(got, x)
			}
		}
		if len(got) != 1 || got[0].Key != c.key || got[0].Line == 0 || !strings.Contains(got[0].Message, c.want) || (got[0].Severity == text.Error) != p.Failed() {
			t.Errorf("%s: %v", c.want, got)
		}
	}
}

// TestScrapForTheTestBead: the shortest scrap that is long enough is put aside, a drop worth keeping only where there is
// none, and where nothing is left the worker is told.
func TestScrapForTheTestBead(t *testing.T) {
	p := build(t, booth, nil)
	if p.Bead == nil || p.Bead.Section != "rail" || p.Bead.Take.MM() != 100 {
		t.Fatalf("%+v", p.Bead)
	}
	if p.Bead.Stick == "" || p.Bead.Left < p.Bead.Take {
		t.Errorf("%+v", p.Bead)
	}
	for _, sn := range p.Nests {
		for _, u := range sn.Nest.Used {
			if u.Drop >= p.Bead.Take+p.Job.Saw.Kerf && u.Drop < p.Bead.Left {
				t.Errorf("a shorter scrap of %v would do, taken was %v", u.Drop, p.Bead.Left)
			}
		}
	}
	said := false
	for _, n := range p.Notes {
		said = said || strings.Contains(n, "test bead") && strings.Contains(n, p.Bead.Stick)
	}
	if !said {
		t.Errorf("the plan does not say where it comes from: %q", p.Notes)
	}
	kept := build(t, strings.Replace(booth, "[saw]\n", "[saw]\nkeep = \"2in\"\n", 1), nil)
	if kept.Bead == nil || !kept.Bead.Kept {
		t.Errorf("%+v", kept.Bead)
	}
	none := build(t, strings.Replace(booth, `[ {length = "20ft", price = 31.20} ]`, `[ {length = "61-3/8in", price = 8}, {length = "31in", price = 4}, {length = "33-3/8in", price = 4} ]`, 1), nil)
	if none.Bead == nil || none.Bead.Stick != "" {
		t.Errorf("%+v", none.Bead)
	}
}
