package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/record"
)

// TestPastJobsOfTheFolder: another job of the folder with a record tells how long its cuts took; this job's plan shows it.
func TestPastJobsOfTheFolder(t *testing.T) {
	dir := t.TempDir()
	const toml = "units = \"in\"\n[section.rail]\nshape = \"square-tube\"\nsize = \"2 x 11ga\"\n[[piece]]\nsection = \"rail\"\nlength = \"20in\"\nqty = 6\n[labour]\nrate = 40\n"
	for _, n := range []string{"gate.toml", "bench.toml", "notes.toml"} {
		if err := os.WriteFile(filepath.Join(dir, n), []byte(toml), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	at := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	r, _, err := record.Open(file.OS, filepath.Join(dir, "gate.record"), record.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for u := 1; u <= 4; u++ { // a cut every five minutes
		payload, err := work.Encode(work.Cut{Mark: "A", Unit: u, Stick: "rail 1"})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := r.Append(record.Draft{ID: r.Next(), At: at.Add(time.Duration(u) * 5 * time.Minute).UnixNano(), Payload: payload}); err != nil {
			t.Fatal(err)
		}
	}
	if err := r.Close(); err != nil {
		t.Fatal(err)
	}
	sh := shell{env: func(string) string { return "" }}
	cmd := &cobra.Command{}
	cmd.Flags().String("shop", "", "")
	cmd.SetContext(t.Context())
	p, err := makePlan(cmd, sh, filepath.Join(dir, "bench.toml"), planLimit, plan.Input{})
	if err != nil || p.Failed() {
		t.Fatal(err, p.Problems)
	}
	for _, e := range p.Hours.Entries {
		if e.Activity == price.Saw {
			if e.PastOf != 1 || e.PastX < 1 {
				t.Errorf("cuts every five minutes: %+v", e)
			}
			return
		}
	}
	t.Error("no time at the saw")
}
