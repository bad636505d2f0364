package plan

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/text"
)

// marksOf gives the mark of each member.
func marksOf(p *Plan) map[string]string {
	of := map[string]string{}
	for i := range p.Pieces {
		for _, m := range p.Pieces[i].Members {
			of[m] = p.Pieces[i].Mark
		}
	}
	return of
}

// TestSidesThroughThePlan: words for sides work between marks, the document tells what is left out, and what is left out
// takes no arc.
func TestSidesThroughThePlan(t *testing.T) {
	whole := build(t, booth, nil)
	marks := marksOf(whole)
	bar, rail := marks["base.bar1"], marks["base.x1"]
	src := booth + "[[joint]]\nbetween = [\"" + bar + "\", \"" + rail + "\"]\nsides = [\"top\"]\n"
	p := build(t, src, nil)
	n := 0
	for k, j := range p.Weld.Layout.Joints {
		was := whole.Weld.Layout.Joints[k]
		ours := false
		for _, pair := range [][2]int{{0, 1}, {1, 0}} {
			ours = ours || len(j.Members) == 2 && marks[j.Members[pair[0]]] == bar && marks[j.Members[pair[1]]] == rail
		}
		if !ours {
			if len(j.LeftOut) > 0 || len(j.Seams) != len(was.Seams) {
				t.Errorf("%s %v: %s", j.ID, j.Members, j.NotWelded())
			}
			continue
		}
		n++
		if len(j.Seams)+len(j.LeftOut) != len(was.Seams) || len(j.Seams) == 0 || len(j.LeftOut) == 0 {
			t.Errorf("%s: %d and %d of %d", j.ID, len(j.Seams), len(j.LeftOut), len(was.Seams))
		}
		for _, i := range j.Seams {
			if !slices.Contains(p.Weld.Layout.Seams[i].Faces, "top") {
				t.Errorf("%s faces %v", p.Weld.Layout.Seams[i].ID, p.Weld.Layout.Seams[i].Faces)
			}
		}
		lines, _ := p.Weld.Kinds(&p.Weld.Layout.Joints[k], func(float64) string { return "" })
		if last := lines[len(lines)-1]; !strings.HasPrefix(last, "not welded: .") || !strings.Contains(last, "welds only: top") {
			t.Errorf("%q", lines)
		}
		var doc struct {
			Weld struct {
				Joints []struct {
					ID        string
					Seams     []struct{ Faces []string }
					NotWelded []struct {
						ID, Skipped string
						Faces       []string
					} `json:"not_welded"`
				}
				ArcS float64 `json:"arc_s"`
			}
		}
		raw, err := json.Marshal(p.JSON())
		if err != nil || json.Unmarshal(raw, &doc) != nil {
			t.Fatal(err)
		}
		o := doc.Weld.Joints[k]
		if len(o.Seams) != len(j.Seams) || len(o.NotWelded) != len(j.LeftOut) || !strings.Contains(o.NotWelded[0].Skipped, "[[joint]] on line") || len(o.NotWelded[0].Faces) == 0 {
			t.Errorf("%+v", o)
		}
	}
	if n < 2 || p.Weld.Schedule.ArcTime >= whole.Weld.Schedule.ArcTime {
		t.Errorf("%d joints; arc %v, all round %v", n, p.Weld.Schedule.ArcTime, whole.Weld.Schedule.ArcTime)
	}
	// one joint has each word at least: only a word that none has is an error, once, at its line
	bad := Build(context.Background(), Input{Job: frametest.Read(t, strings.Replace(src, `["top"]`, `["top", "outside"]`, 1)), Steel: frametest.Catalogue(), Effort: -1})
	var got []text.Problem
	for _, x := range bad.Problems {
		if strings.HasSuffix(x.Key, ".sides") || x.Key == "joint.sides" {
			got = append(got, x)
		}
	}
	if len(got) != 1 || got[0].Line != strings.Count(src, "\n") || !strings.Contains(got[0].Message, `faces "outside"`) || !strings.Contains(got[0].Message, "joints from J") || !bad.Failed() {
		t.Errorf("%v", got)
	}
	// both ends of the bars at once: left is at neither's, or at all
	both := booth + "[[joint]]\nbetween = [\"" + rail + "\", \"" + marks["base.y1"] + "\"]\nsides = [\"left\", \"top\"]\n"
	if q := build(t, both, nil); q.Failed() {
		t.Errorf("a word that some of the joints have is none to refuse: %v", q.Problems)
	}
}

// TestSequenceByMark: a mark stands for the joints of its members, in their natural order.
func TestSequenceByMark(t *testing.T) {
	whole := build(t, booth, nil)
	marks := marksOf(whole)
	bar := marks["base.bar1"]
	var want []string
	for _, j := range whole.Weld.Layout.Joints {
		if slices.ContainsFunc(j.Members, func(m string) bool { return marks[m] == bar }) && len(j.Seams) > 0 {
			want = append(want, j.ID)
		}
	}
	ids := func(l *seam.Layout, p seam.Place) (out []string) {
		for _, k := range p.Joints {
			out = append(out, l.Joints[k].ID)
		}
		return out
	}
	for _, c := range []struct {
		list string
		want func(j seam.Joint) bool
	}{
		{`"` + bar + `"`, func(j seam.Joint) bool { return slices.Contains(want, j.ID) }},
		{`"` + bar + ` + base.x2"`, func(j seam.Joint) bool { return slices.Contains(want, j.ID) && slices.Contains(j.Members, "base.x2") }},
	} {
		j := frametest.Read(t, booth+"[sequence]\njoints = ["+c.list+"]\n")
		p := build(t, booth+"[sequence]\njoints = ["+c.list+"]\n", nil)
		places, problems := p.Weld.Layout.Sequence(j.Sequence.Joints)
		var all []string
		for _, x := range p.Weld.Layout.Joints {
			if c.want(x) {
				all = append(all, x.ID)
			}
		}
		if len(problems) > 0 || len(places) != 1 || len(all) < 2 || !slices.Equal(ids(&p.Weld.Layout, places[0]), all) || !p.Weld.OwnOrder {
			t.Errorf("%s: %v, want %v; %v", c.list, places, all, problems)
		}
	}
	for _, c := range []struct{ list, says string }{
		{`"` + bar + `", "base.x1 + base.bar2"`, "comes twice"},
		{`"QQ"`, "is no joint, seam, member or mark"},
		{`"` + bar + ` + ` + bar + `"`, "is no joint"}, // bars do not meet each other
	} {
		p := Build(context.Background(), Input{Job: frametest.Read(t, booth+"[sequence]\njoints = ["+c.list+"]\n"), Steel: frametest.Catalogue(), Effort: -1})
		if !p.Failed() || !slices.ContainsFunc(p.Problems, func(x text.Problem) bool {
			return x.Key == "sequence.joints" && x.Line > 0 && strings.Contains(x.Message, c.says)
		}) {
			t.Errorf("%s: %v", c.list, p.Problems)
		}
	}
}

// TestSidesThatOneJointLacks: where only some of the joints of a [[joint]] have a side, the others are welded all round
// rather than not at all, and the plan says so.
func TestSidesThatOneJointLacks(t *testing.T) {
	square := strings.Replace(booth, `length = "61in"`, `length = "33in"`, 1) +
		"[[rectangle]]\nname = \"high\"\nsection = \"rail\"\nlength = \"33in\"\nwidth = \"33in\"\nat = [0, 0, \"30in\"]\n[[crossbars]]\non = \"high\"\nsection = \"rail\"\ncount = 3\nrun = \"length\"\n"
	marks := marksOf(build(t, square, nil))
	if marks["base.bar1"] != marks["high.bar1"] || marks["base.x1"] != marks["high.y1"] {
		t.Fatalf("the frame is not what the test wants: %v", marks)
	}
	p := build(t, square+"[[joint]]\nbetween = [\""+marks["base.bar1"]+"\", \""+marks["base.x1"]+"\"]\nsides = [\"left\"]\n", nil)
	one, round, said := 0, 0, 0
	for _, j := range p.Weld.Layout.Joints {
		switch {
		case !strings.Contains(j.Members[1], ".bar") && !strings.Contains(j.Members[0], ".bar"):
		case len(j.LeftOut) > 0 && len(j.Seams) == 1:
			one++
		case len(j.LeftOut) == 0 && len(j.Seams) > 1:
			round++
		}
	}
	for _, x := range p.Problems {
		if x.Severity == text.Warning && strings.Contains(x.Message, "it is welded all round") && x.Line > 0 {
			said++
		}
	}
	if one != 6 || round != 6 || said != 6 {
		t.Errorf("%d joints on one side, %d all round, %d told of", one, round, said)
	}
}
