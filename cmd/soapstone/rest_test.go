package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What was recorded changes the plan that --rest prints, and not the plan of the whole job.
func TestPlanOfWhatIsLeft(t *testing.T) {
	job := filepath.Join(t.TempDir(), "stand.toml")
	text := `
units = "in"
[section.rail]
shape  = "square-tube"
size   = "1-1/2 x 11ga"
sticks = [{length = "20ft", price = 30}]
[[rectangle]]
name    = "base"
section = "rail"
length  = "40in"
width   = "30in"
[[member]]
name    = "brace"
section = "rail"
from    = "base.x1@5in"
to      = "base.x2@35in"
over    = "1/2in"
`
	if err := os.WriteFile(job, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	home := t.TempDir()
	call := func(args ...string) string {
		t.Helper()
		var out, bad bytes.Buffer
		sh := shell{out: &out, err: &bad, env: func(name string) string {
			if name == "HOME" {
				return home
			}
			return ""
		}}
		if status := run(t.Context(), args, sh); status != 0 {
			t.Fatalf("%v: status %d: %s", args, status, bad.String())
		}
		return out.String()
	}
	whole := call("plan", job)
	if rest := call("plan", job, "--rest"); rest != whole {
		t.Error("with nothing recorded the rest is not the whole")
	}
	call("fit", job, "C-1=40-1/2")
	call("receive", job, "rail", "20ft", "1", "--price", "33")
	rest := call("plan", job, "--rest")
	for _, want := range []string{`40-1/2"`, "came already: 1 x rail", "33.00"} {
		if !strings.Contains(rest, want) {
			t.Errorf("what is left does not say %q", want)
		}
	}
	if call("plan", job) != whole {
		t.Error("the plan of the whole job follows the record")
	}
}
