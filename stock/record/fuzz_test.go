package record

import (
	"bytes"
	"strings"
	"testing"

	"bench.example/soapstone/stock/file/trouble"
	"pgregory.net/rapid"
)

// readAll opens the bytes as a record on a disk in memory.
func readAll(t *testing.T, d *trouble.Disk) (r *Record, held []Entry, notes []Note, err error) {
	r, notes, err = Open(d, "/r/x", Options{Writer: 0x777, Visit: func(e Entry) {
		e.Payload = bytes.Clone(e.Payload)
		held = append(held, e)
	}})
	return r, held, notes, err
}

// FuzzScan: whatever a file holds, opening it does not panic, hands out checked entries only,
// loses no byte (what is not in the file any more is in a side file), and takes new entries
// that are read back beside the old ones.
func FuzzScan(f *testing.F) {
	var good []byte
	for _, e := range version1 {
		good = appendEntry(good, e)
	}
	f.Add(good)
	f.Add(good[:len(good)-9])
	f.Add(append(bytes.Clone(good), make([]byte, 50)...))
	f.Add([]byte("=1 \n=2 x\n"))
	f.Add([]byte(strings.Repeat("=1 1 1 0000000000000001 1 65536 00000000 \n", 20)))
	f.Add(append(append(bytes.Clone(good), "rubbish\n"...), good...))
	f.Fuzz(func(t *testing.T, text []byte) {
		d := trouble.New("/r")
		d.Put("/r/x", string(text), 0o644)
		r, held, _, err := readAll(t, d)
		if err != nil {
			if now, _ := d.Text("/r/x"); now != string(text) {
				t.Fatal("a file that is no record was changed")
			}
			return
		}
		for _, e := range held {
			if line := appendEntry(nil, e); !bytes.Contains(text, line[:len(line)-1]) {
				t.Fatalf("%+v does not stand in the file", e)
			}
		}
		now, _ := d.Text("/r/x")
		aside, _ := d.Text("/r/x.aside-1")
		if now+aside != string(text) {
			t.Fatalf("bytes are lost: %q + %q of %q", now, aside, text)
		}
		if _, err := r.Append(Draft{Payload: []byte("new")}); err != nil {
			t.Fatal(err)
		}
		r.Close()
		_, again, _, err := readAll(t, d)
		if err != nil || len(again) != len(held)+1 || string(again[len(held)].Payload) != "new" {
			t.Fatalf("after appending: %d entries of %d, %v", len(again), len(held)+1, err)
		}
		for i, e := range held {
			if e.ID != again[i].ID || !bytes.Equal(e.Payload, again[i].Payload) {
				t.Fatalf("entry %d has changed", i)
			}
		}
	})
}

// What appendEntry writes, parseEntry reads, byte for byte; every cut of it is short; every
// other byte in it is noticed.
func TestEntryRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := Entry{rapid.Uint64().Draw(t, "seq"), rapid.Int64().Draw(t, "at"),
			ID{Writer: rapid.Uint64().Draw(t, "writer"), Number: rapid.Uint64().Draw(t, "number")},
			rapid.SliceOfN(rapid.ByteRange(1, 255), 1, 300).Draw(t, "payload")}
		if check(e.Payload) != nil {
			return
		}
		line := appendEntry(nil, e)
		got, n, v := parseEntry(line)
		if v != whole || n != len(line)-1 || got.ID != e.ID || got.At != e.At || got.Seq != e.Seq || !bytes.Equal(got.Payload, e.Payload) {
			t.Fatalf("%q reads as %+v, %d, %v", line, got, n, v)
		}
		cut := rapid.IntRange(0, len(line)-2).Draw(t, "cut")
		if _, _, v := parseEntry(line[:cut]); v != short {
			t.Fatalf("%q is not short but %v", line[:cut], v)
		}
		i := rapid.IntRange(0, len(line)-2).Draw(t, "byte")
		hurt := bytes.Clone(line)
		hurt[i] ^= rapid.ByteRange(1, 255).Draw(t, "bits")
		if _, _, v := parseEntry(hurt); v == whole {
			t.Fatalf("%q passes for %q", hurt, line)
		}
	})
}

// Megabytes of hostile bytes take bounded time and memory.
func TestHostileMegabyte(t *testing.T) {
	line := string(appendEntry(nil, version1[0]))
	for _, unit := range []string{"\n", "=1 ", "\n=1 ", "\n=2 ", "=1 1 1 0000000000000001 1 65536 00000000 \n", "x\n" + line, "\x00", "=1 1 1 0000000000000001 1 65536 00000000 x"} {
		d := trouble.New("/r")
		d.Put("/r/x", line+strings.Repeat(unit, 1<<20/len(unit)), 0o644)
		r, held, notes, err := readAll(t, d)
		if err != nil || len(held) < 1 || len(notes) > 3*maxNotes {
			t.Fatalf("%.20q: %d entries, %d notes, %v", unit, len(held), len(notes), err)
		}
		if _, err := r.Append(Draft{Payload: []byte("new")}); err != nil {
			t.Fatalf("%.20q: %v", unit, err)
		}
	}
}
