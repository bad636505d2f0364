package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// A long record leaves a checkpoint in the user's cache, not beside the job; the next start makes the same of it, also
// where the checkpoint was lost, or lies there for another record.
func TestOpenRecordFromCheckpoint(t *testing.T) {
	home, dir := t.TempDir(), t.TempDir()
	sh := shell{env: func(k string) string {
		if k == "HOME" {
			return home
		}
		return ""
	}}
	open := func(name string) []byte {
		t.Helper()
		r, past, told, err := openRecord(sh, filepath.Join(dir, name))
		if err != nil || len(told) > 0 {
			t.Fatal(err, told)
		}
		defer r.Close()
		return past.Archive()
	}
	writeWeek(t, filepath.Join(dir, "frame.record"), 25_000)
	first := open("frame.toml")
	kept, _ := filepath.Glob(filepath.Join(home, ".cache/soapstone/records/*"))
	if len(kept) != 1 {
		t.Fatalf("%d checkpoints in the cache, want 1", len(kept))
	}
	if beside, _ := os.ReadDir(dir); len(beside) != 1 {
		t.Errorf("%d files beside the job, want the record alone", len(beside))
	}
	if !bytes.Equal(open("frame.toml"), first) {
		t.Error("a start from the checkpoint gives another state")
	}
	// The record of another job under the same name.
	writeWeek(t, filepath.Join(dir, "other.record"), 24_000)
	if err := os.Rename(filepath.Join(dir, "other.record"), filepath.Join(dir, "frame.record")); err != nil {
		t.Fatal(err)
	}
	other := open("frame.toml")
	if bytes.Equal(other, first) {
		t.Fatal("a checkpoint was taken for another record")
	}
	os.Remove(kept[0])
	if !bytes.Equal(open("frame.toml"), other) {
		t.Error("without its checkpoint the record gives another state")
	}
}
