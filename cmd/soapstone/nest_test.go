package main

import (
	"strings"
	"testing"
)

// TestNestSpeaksTheUnits: what cannot be nested is told in the lengths that the call was written in.
func TestNestSpeaksTheUnits(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--stick", "20ft", "2@300"}, `piece 1: 300" (25') long, but the sticks hold no more than 240" (20')`},
		{[]string{"--stick", "6m", "--units", "mm", "2@7m"}, "piece 1: 7000mm long, but the sticks hold no more than 6000mm"},
		{[]string{"--stick", "20ft", "--depth", "2", "2@1:45/45"}, `piece 1: 1" from tip to tip is too short`},
	} {
		status, _, errs := call(t, append([]string{"nest"}, c.args...)...)
		if status != exitJob || !strings.Contains(errs, c.want) {
			t.Errorf("%v: exit %d, %s", c.args, status, errs)
		}
	}
}
