package nest_test

import (
	"context"
	"strings"
	"testing"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

// What the arithmetic could not hold, or no shop has, is refused before the search, in words.
func TestRefusedProblems(t *testing.T) {
	const ten = 10 * measure.Foot
	stick := nest.Stick{Length: 2 * ten, Price: 1, Limit: 9}
	for _, c := range []struct {
		why  string
		p    nest.Problem
		want string
	}{
		{"kerf", nest.Problem{Rules: nest.Rules{Kerf: measure.MaxLength + 1}}, "must lie between 0 and 10 km"},
		{"trim below 0", nest.Problem{Rules: nest.Rules{Trim: -1}}, "must lie between 0 and 10 km"},
		{"yard's cut", nest.Problem{Rules: nest.Rules{YardCut: -1}}, "it must lie between 0 and 1000000000"},
		{"pieces", nest.Problem{Kinds: []nest.Kind{{Length: ten, Qty: 6_000_000}, {Length: ten, Qty: 4_000_001}}}, "more than 10000000 pieces"},
		{"quantity", nest.Problem{Kinds: []nest.Kind{{Length: ten, Qty: -1}}}, "its quantity is -1; it cannot be below 0"},
		{"length of a piece", nest.Problem{Kinds: []nest.Kind{{Length: measure.MaxLength + 1, Qty: 1}}}, "it must be more than 0 and no more than 10 km"},
		{"length of a stick", nest.Problem{Sticks: []nest.Stick{{Length: measure.MaxLength + 1}}}, "it must be more than 0 and no more than 10 km"},
		{"price of a stick", nest.Problem{Sticks: []nest.Stick{{Length: ten, Price: measure.MaxMoney + 1}}}, "it must lie between 0 and 1000000000"},
		{"limit of a stick", nest.Problem{Sticks: []nest.Stick{{Length: ten, Limit: -1}}}, "its limit is -1; it cannot be below 0"},
	} {
		if len(c.p.Sticks) == 0 {
			c.p.Sticks = []nest.Stick{stick}
		}
		if len(c.p.Kinds) == 0 {
			c.p.Kinds = []nest.Kind{{Length: ten, Qty: 1}}
		}
		if _, err := nest.Solve(context.Background(), c.p, nest.Options{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.why, err, c.want)
		}
	}
}
