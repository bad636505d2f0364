package record

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("pin", false, "write testdata/version1.record anew; only for a format that was never released")

// version1 is what the stored file holds. The bytes of the file are on people's disks: every
// later version has to read them.
var version1 = []Entry{
	{1, 1772434800000000000, ID{Writer: 0xa11ce, Number: 1}, []byte(`{"v":1,"do":"load","stick":"rail 1","section":"rail","source":"buy","length_nm":6096000000}`)},
	{2, 1772434860000000000, ID{Writer: 0xa11ce, Number: 2}, []byte(`{"v":1,"do":"cut","mark":"A","unit":1,"stick":"rail 1","from_nm":12700000,"to_nm":2451100000}`)},
	{3, -1, ID{Writer: 0xffffffffffffffff, Number: 18446744073709551615}, []byte("any bytes: \x01\xff = 1 \t")},
	{4, 0, ID{Writer: 1, Number: 0}, []byte("x")},
}

func TestVersion1IsPinned(t *testing.T) {
	path := filepath.Join("testdata", "version1.record")
	var now []byte
	for _, e := range version1 {
		now = appendEntry(now, e)
	}
	if *update {
		if err := os.WriteFile(path, now, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	stored, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(now, stored) {
		t.Errorf("the same entries are written as\n%q\nand are stored as\n%q", now, stored)
	}
	copied := filepath.Join(t.TempDir(), "r")
	os.WriteFile(copied, stored, 0o666)
	i := 0
	r, held, notes := open(t, copied, Options{})
	for ; i < len(held) && i < len(version1); i++ {
		if held[i] != string(version1[i].Payload) {
			t.Errorf("entry %d reads as %q", i, held[i])
		}
	}
	if len(held) != len(version1) || len(notes) > 0 {
		t.Errorf("%d entries, told %v", len(held), notes)
	}
	put(t, r, "and on")
	again, _ := os.ReadFile(copied)
	if !bytes.HasPrefix(again, stored) {
		t.Error("appending changed what stood there")
	}
}

// A line of a later version is left in place, told, and does not stand in the way.
func TestLaterVersion(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	r, _, _ := open(t, path, Options{})
	put(t, r, "one")
	r.Close()
	f, _ := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	f.WriteString("=2 whatever a later version writes\n=2 and again\n")
	f.Close()
	before, _ := os.ReadFile(path)
	r, held, notes := open(t, path, Options{})
	same(t, "held", held, "one")
	if len(notes) != 1 || notes[0].Kind != NewerFormat || notes[0].Count != 2 {
		t.Errorf("told %v", notes)
	}
	put(t, r, "two")
	r.Close()
	after, _ := os.ReadFile(path)
	if !bytes.HasPrefix(after, before) {
		t.Error("the later version's lines were changed")
	}
	r, held, _ = open(t, path, Options{})
	same(t, "held after appending", held, "one", "two")
	if _, err := r.Compact(func(Entry) bool { return true }); err != nil {
		t.Fatal(err)
	}
	compacted, _ := os.ReadFile(path)
	if !bytes.Contains(compacted, []byte("=2 whatever a later version writes\n=2 and again\n")) {
		t.Errorf("compacting lost a later version's lines: %q", compacted)
	}
}
