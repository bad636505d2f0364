package weld

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// docketOf makes the runs of one seam of so many seconds each, with their cleaning.
func docketOf(takes []int) *Plan {
	p := &Plan{}
	prev := -1
	for _, s := range takes {
		var after []int
		if prev >= 0 {
			after = []int{prev}
		}
		p.Docket.Tasks = append(p.Docket.Tasks, Task{ID: "J1.2", Kind: Arc, Joint: "J1", Seam: "J1.2", Take: time.Duration(s) * time.Second, After: after})
		p.Docket.Tasks = append(p.Docket.Tasks, Task{ID: "J1.2 clean", Kind: Clean, Joint: "J1", Seam: "J1.2", Take: time.Second, After: []int{len(p.Docket.Tasks) - 1}})
		prev = len(p.Docket.Tasks) - 1
	}
	return p
}

func TestPartsAndTheirNames(t *testing.T) {
	parts := docketOf([]int{30, 50}).Parts()
	want := []Part{{0, 0.375}, {0, 0.375}, {0.375, 1}, {0.375, 1}}
	for i := range want {
		if parts[i] != want[i] {
			t.Errorf("task %d: %v, want %v", i, parts[i], want[i])
		}
	}
	for _, c := range []struct {
		part       Part
		word, name string
	}{
		{Part{0, 0.375}, "", "a+b.2 to 37.5%"},
		{Part{0.375, 1}, "", "a+b.2"},
		{Part{0, 1. / 3}, " clean", "a+b.2 to 33.33% clean"},
		{Part{0, 0.5}, " tack", "a+b.2 to 50% tack"},
	} {
		name := c.part.In("a+b.2", c.word)
		whole, share := ReadPart(name)
		if name != c.name || whole != "a+b.2"+c.word || math.Abs(share-c.part.To) > partSlack {
			t.Errorf("%v: %q, read as %q and %g", c.part, name, whole, share)
		}
	}
	for _, name := range []string{"door to yard+b.1", "a to 5e1%", "a to -5%", "a to 100%", "a to %", "way to 12 trees", "a #2", ""} {
		if whole, share := ReadPart(name); whole != name || share != 1 {
			t.Errorf("%q read as %q and %g", name, whole, share)
		}
	}
	if whole, share := ReadPart("door to yard+b.1 to 50%"); whole != "door to yard+b.1" || share != 0.5 {
		t.Errorf("%q %g", whole, share)
	}
}

// TestDoneWhateverTheSplit: what was ticked off in one split is known in any other: no run that is wholly welded is asked
// for again, none that is not is taken for done, and the shares of what is left add up.
func TestDoneWhateverTheSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		takes := rapid.SliceOfN(rapid.IntRange(1, 60), 1, 8)
		first, second := docketOf(takes.Draw(t, "first")), docketOf(takes.Draw(t, "second"))
		was := first.Parts()
		done := rapid.IntRange(0, len(was)/2).Draw(t, "done")
		var shares Shares
		at := 0.0
		for k := range done {
			_, share := ReadPart(was[2*k].In("J1.2", ""))
			shares.Add(share)
			at = was[2*k].To
		}
		if whole, _ := ReadPart(was[0].In("J1.2", "")); whole != "J1.2" {
			t.Fatal(whole)
		}
		left := 0.0
		for i, x := range second.Parts() {
			if second.Docket.Tasks[i].Kind != Arc {
				continue
			}
			got, share := shares.Done(x)
			if got != (at > x.To-partSlack) && math.Abs(at-x.To) > 2*partSlack {
				t.Fatalf("welded to %g: %v done %v", at, x, got)
			}
			left += (1 - share) * (x.To - x.From)
		}
		if math.Abs(left-(1-at)) > 2*partSlack { // shares are written to 0.01 %
			t.Fatalf("welded to %g, left %g", at, left)
		}
		for k := range done { // in its own split each run is its own
			if !shares.Own(was[2*k]) {
				t.Fatalf("%v is not its own in %v", was[2*k], shares)
			}
		}
	})
	var one Shares
	one.Add(1)
	if one.Own(Part{0.5, 1}) || !one.Own(Part{0, 1}) || (Shares{}).Own(Part{0, 1}) {
		t.Error("a whole seam's arc is no measure of its half")
	}
}

// TestPartsOfAPlan: in a plan with split seams the parts of each seam join without a gap, and no two tasks share a name.
func TestPartsOfAPlan(t *testing.T) {
	p := planOf(t, strings.Replace(rack, `duty = "30% at 130A"`, `duty = "1% at 130A"`, 1))
	parts := p.Parts()
	names, to, split := map[string]bool{}, map[string]float64{}, 0
	for i, x := range p.Docket.Tasks {
		if !x.Kind.Burns() {
			continue
		}
		if math.Abs(parts[i].From-to[x.ID]) > 1e-12 || parts[i].To <= parts[i].From {
			t.Errorf("%s: %v after %g", x.ID, parts[i], to[x.ID])
		}
		to[x.ID] = parts[i].To
		name := parts[i].In(x.ID, "")
		if names[name] {
			t.Errorf("two tasks are called %q", name)
		}
		names[name] = true
		if parts[i].To < 1 {
			split++
		}
	}
	for id, x := range to {
		if x != 1 {
			t.Errorf("%s ends at %g", id, x)
		}
	}
	if split == 0 {
		t.Error("no seam was split")
	}
}
