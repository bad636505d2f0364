package nest_test

import (
	"context"
	"testing"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

// Jobs whose best material and longest drop were found by trying every way to share the pieces out (exhaustive search,
// outside this program). The purse is tight in each: its dual passes a missing piece's count many times.
func TestMaterialAndDropUnderATightPurse(t *testing.T) {
	type kind struct {
		mm  float64
		qty int
	}
	mm := func(v float64) measure.Length { return measure.Length(v*1e6 + 0.5) }
	for _, c := range []struct {
		name           string
		kerf, trim     float64
		keep           float64
		sticks         []nest.Stick
		kinds          []kind
		material, drop float64
	}{
		{"five pieces on two sticks", 3, 12.7, 150, []nest.Stick{{Length: mm(2000), Price: 2000}},
			[]kind{{615, 2}, {326, 2}, {217, 1}}, 2139.4, 1658.3},
		{"two kinds of stick", 0, 0, 150, []nest.Stick{{Length: mm(2440), Price: 2928}, {Length: mm(2000), Price: 2300}},
			[]kind{{587, 1}, {763, 1}, {522, 2}, {525, 1}}, 2919, 891},
	} {
		p := nest.Problem{Sticks: c.sticks, Rules: nest.Rules{Kerf: mm(c.kerf), Trim: mm(c.trim), Keep: mm(c.keep)}}
		for _, k := range c.kinds {
			p.Kinds = append(p.Kinds, nest.Kind{Length: mm(k.mm), Qty: k.qty})
		}
		n, err := nest.Solve(context.Background(), p, nest.Options{})
		if err != nil {
			t.Fatal(c.name, err)
		}
		if !n.Material.Proven || !n.Longest.Proven {
			t.Errorf("%s: not proven: material %+v, longest drop %+v", c.name, n.Material, n.Longest)
		}
		if measure.Length(n.Material.Value) != mm(c.material) || measure.Length(n.Longest.Value) != mm(c.drop) {
			t.Errorf("%s: material %d nm, longest drop %d nm; want %g mm and %g mm", c.name, n.Material.Value, n.Longest.Value, c.material, c.drop)
		}
	}
}
