package weld

import (
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/weld"
)

// replan gives the bench the plan of a machine with another duty, as after a trip or with a machine that is lent.
func (b *bench) replan(duty string) {
	b.t.Helper()
	j := frametest.Read(b.t, strings.Replace(rack, "30% at 130A", duty+" at 130A", 1))
	p := plan.Build(b.t.Context(), plan.Input{Job: j, Steel: frametest.Catalogue(), Effort: -1, Work: b.d.Work})
	if p.Failed() {
		b.t.Fatal(p.Problems)
	}
	b.d.Plan = p
	b.s.booth.follow(b.d)
}

// runs counts the runs of a seam in the plan and those that are done.
func (b *bench) runs(id string) (n, done int) {
	for i, t := range b.d.Plan.Weld.Docket.Tasks {
		if t.ID == id && t.Kind == weld.Arc {
			n++
			if b.s.booth.done[i] {
				done++
			}
		}
	}
	return n, done
}

// TestSplitAnew: what was welded stays welded, and no more than that, when a new plan splits the seams otherwise.
func TestSplitAnew(t *testing.T) {
	b := newBench(t)
	var welded []string
	for range 6 {
		x := b.until(weld.Arc)
		b.burn(x.Take)
		welded = append(welded, x.ID)
	}
	b.until(weld.Arc) // the last one cleaned too
	left := 0
	for i, x := range b.d.Plan.Weld.Docket.Tasks {
		if x.Kind == weld.Clean && !b.s.booth.done[i] && x.Seam == welded[0] {
			t.Errorf("%s is not done", x.ID)
		}
	}
	b.replan("1%")
	split := 0
	for _, id := range welded {
		n, done := b.runs(id)
		if done != n {
			t.Errorf("%s is welded; of %d runs %d are done", id, n, done)
		}
		if n > 1 {
			split++
		}
	}
	if split == 0 {
		t.Fatal("the new plan splits none of what was welded")
	}
	for i, x := range b.d.Plan.Weld.Docket.Tasks {
		if x.Kind == weld.Clean && x.Seam == welded[0] && !b.s.booth.done[i] {
			t.Errorf("%s is asked for again", x.ID)
		}
	}
	for _, x := range b.d.Plan.Weld.Layout.Seams {
		if n, done := b.runs(x.ID); done > 0 && !strings.Contains(strings.Join(welded, " ")+" ", x.ID+" ") {
			t.Errorf("%s was never welded; of %d runs %d are done", x.ID, n, done)
		}
	}
	// one run of a split seam, then a machine that lays it in one: the seam is open, and only the rest of it is planned
	x := b.until(weld.Arc)
	if n, _ := b.runs(x.ID); n < 2 {
		t.Fatalf("%s is laid in %d run", x.ID, n)
	}
	first := b.s.booth.keys[b.s.booth.next]
	b.burn(x.Take)
	if !strings.Contains(first, " to ") || !strings.HasSuffix(first, "%") {
		t.Errorf("the run is called %q", first)
	}
	b.replan("30%")
	if n, done := b.runs(x.ID); n != 1 || done != 0 {
		t.Fatalf("%s: %d of %d runs are done after one of more", x.ID, done, n)
	}
	whole := time.Duration(0)
	for i, y := range b.d.Plan.Weld.Docket.Tasks {
		switch {
		case y.Kind == weld.Saw || b.s.booth.done[i]:
		case y.Kind.Burns():
			left++
			whole += y.Take
		}
	}
	saved := whole - b.s.booth.rest.Arc
	if saved < x.Take*9/10 || saved > x.Take*11/10 { // the pace of arcs that burnt as planned is 1
		t.Errorf("of %v in %d arcs %v are left; the run that is done burnt %v", whole, left, b.s.booth.rest.Arc, x.Take)
	}
	// and it is finished as a whole, in either plan
	for b.s.booth.next >= 0 {
		y := b.next()
		if !y.Kind.Burns() {
			b.press("space", "")
			b.d.Now = b.d.Now.Add(y.Take)
		} else {
			b.burn(y.Take)
		}
		b.s.booth.follow(b.d)
	}
	b.replan("1%")
	for _, y := range b.d.Plan.Weld.Layout.Seams {
		if n, done := b.runs(y.ID); done != n {
			t.Errorf("%s: %d of %d", y.ID, done, n)
		}
	}
	if b.s.booth.next >= 0 {
		t.Errorf("%s is asked for though all was done", b.next().ID)
	}
}

// TestBoothTellsWhatIsNotWelded: at a joint of which the job welds some sides only, the screen says which not, and why.
func TestBoothTellsWhatIsNotWelded(t *testing.T) {
	b := newBench(t)
	j := frametest.Read(t, rack+"[[joint]]\nbetween = [\"lower.x1\", \"lower.bar1\"]\nsides = [\"top\"]\n")
	p := plan.Build(t.Context(), plan.Input{Job: j, Steel: frametest.Catalogue(), Effort: -1})
	if p.Failed() {
		t.Fatal(p.Problems)
	}
	b.d.Plan = p
	seen := 0
	for range 500 {
		b.s.booth.follow(b.d)
		if b.s.booth.next < 0 {
			break
		}
		x := b.next()
		ours := false
		for k := range p.Weld.Layout.Joints {
			ours = ours || p.Weld.Layout.Joints[k].ID == x.Joint && len(p.Weld.Layout.Joints[k].LeftOut) > 0
		}
		view := strings.Join(strings.Fields(strings.Join(b.s.View(b.d, 140, 48), " ")), " ")
		if says := strings.Contains(view, "not welded: ."); says != ours {
			t.Fatalf("%s: says %v:\n%s", x.ID, says, strings.Join(b.s.View(b.d, 140, 48), "\n"))
		}
		if ours {
			seen++
		}
		if x.Kind.Burns() {
			b.burn(x.Take)
		} else {
			b.press("space", "")
		}
	}
	if seen < 3 {
		t.Errorf("the joint was met %d times", seen)
	}
}
