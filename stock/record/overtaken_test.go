package record

import (
	"errors"
	"path/filepath"
	"testing"

	"bench.example/soapstone/stock/file"
)

// TestAppendIf: what another process wrote is seen before anything is written, and a condition that fails writes nothing.
func TestAppendIf(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.record")
	open := func() *Record {
		r, _, err := Open(file.OS, path, Options{})
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { r.Close() })
		return r
	}
	a, b := open(), open()
	if _, err := a.Append(Draft{ID: a.Next(), At: 1, Payload: []byte(`{"do":"x"}`)}); err != nil {
		t.Fatal(err)
	}
	seen := 0
	news, err := b.AppendIf(func(others []Entry) bool { seen = len(others); return false }, Draft{ID: b.Next(), At: 2, Payload: []byte(`{"do":"y"}`)})
	if !errors.Is(err, ErrOvertaken) || seen != 1 || len(news.Entries) != 1 {
		t.Fatalf("%v; saw %d entries, news of %d", err, seen, len(news.Entries))
	}
	if news, err = a.Poll(); err != nil || len(news.Entries) != 0 {
		t.Fatalf("something was written all the same: %v %v", news.Entries, err)
	}
	if news, err = b.AppendIf(func(others []Entry) bool { return len(others) == 0 }, Draft{ID: b.Next(), At: 3, Payload: []byte(`{"do":"z"}`)}); err != nil || len(news.Entries) != 1 {
		t.Fatalf("%v %v", news.Entries, err)
	}
}
