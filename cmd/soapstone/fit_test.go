package main

import (
	"strings"
	"testing"
)

func TestFitCommand(t *testing.T) {
	name := writeJob(t, `
[section.rail]
shape = "square-tube"
size = "1-1/4 x 14ga"
[[rectangle]]
name = "panel"
section = "rail"
length = "44in"
width = "28in"
[[member]]
name = "brace"
section = "rail"
from = ["1-1/4", "1-1/4", "5/8"]
to = ["42-3/4", "26-3/4", "5/8"]
ends = ["point", "point"]
over = "3/8"
`)
	status, out, errs := call(t, "fit", name)
	if status != 0 || !strings.Contains(out, "C-1") || !strings.Contains(out, "waits for panel.x1") || !strings.Contains(out, "between ") {
		t.Fatalf("%d %s%s", status, out, errs)
	}
	for _, bad := range []string{"C-1=6ft", "C-1=2in", "C-9=48in", "C-1", "C-1=wide"} {
		if status, out, errs = call(t, "fit", name, bad); status != exitJob || errs == "" {
			t.Errorf("%s: %d %s%s", bad, status, out, errs)
		}
	}
	if status, out, errs = call(t, "log", name); strings.Contains(out, "measured") {
		t.Fatalf("what was refused stands in the record: %d %s%s", status, out, errs)
	}
	if status, out, errs = call(t, "fit", name, "C-1=48-13/16"); status != 0 {
		t.Fatalf("%d %s%s", status, out, errs)
	}
	if status, out, errs = call(t, "fit", name); status != 0 || !strings.Contains(out, `measured 48-13/16"`) {
		t.Fatalf("%d %s%s", status, out, errs)
	}
	if _, out, _ = call(t, "log", name); !strings.Contains(out, `C-1 measured in its place: 48-13/16"`) {
		t.Fatalf("log: %s", out)
	}
}
