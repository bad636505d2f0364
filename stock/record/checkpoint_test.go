package record

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"bench.example/soapstone/stock/file"
)

// tally is a state that a test can look into: how many entries, and a sum over their payloads in their order.
type tally struct {
	n, sum  uint64
	visited int
	refuse  bool
}

func (s *tally) add(e Entry) {
	s.n++
	s.visited++
	for _, c := range e.Payload {
		s.sum = s.sum*31 + uint64(c)
	}
}

// openTally opens with a checkpoint.
func openTally(t *testing.T, path, checkpoint string, s *tally) (*Record, []Note) {
	t.Helper()
	c := &Checkpoint{
		Path: checkpoint,
		Resume: func(b []byte) bool {
			if s.refuse {
				return false
			}
			_, err := fmt.Sscanf(string(b), "%d %d", &s.n, &s.sum)
			return err == nil
		},
		Save: func() []byte { return fmt.Appendf(nil, "%d %d", s.n, s.sum) },
	}
	r, notes, err := Open(file.OS, path, Options{Checkpoint: c, Visit: s.add})
	if err != nil {
		t.Fatal(err)
	}
	return r, notes
}

// writeMany writes a record of n entries.
func writeMany(t *testing.T, n int) (path, checkpoint string) {
	t.Helper()
	dir := t.TempDir()
	path, checkpoint = filepath.Join(dir, "r.record"), filepath.Join(dir, "r.checkpoint")
	var b []byte
	for i := range n {
		b = appendEntry(b, Entry{Seq: uint64(i + 1), At: int64(i), ID: ID{Writer: 7, Number: uint64(i + 1)}, Payload: fmt.Appendf(nil, "entry %d of a long week at the bench", i)})
	}
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
	return path, checkpoint
}

// plainTally is what a start without a checkpoint gives.
func plainTally(t *testing.T, path string) (s tally, notes []Note) {
	t.Helper()
	r, notes, err := Open(file.OS, path, Options{ReadOnly: true, Visit: s.add})
	if err != nil {
		t.Fatal(err)
	}
	r.Close()
	return s, notes
}

func TestCheckpoint(t *testing.T) {
	path, cp := writeMany(t, checkpointEvery+500)
	var first tally
	r, _ := openTally(t, path, cp, &first)
	r.Close()
	if _, err := os.Stat(cp); err != nil {
		t.Fatal("no checkpoint was made:", err)
	}
	var again tally
	r, notes := openTally(t, path, cp, &again)
	if again.visited != 0 || again.n != first.n || again.sum != first.sum || len(notes) > 0 {
		t.Fatalf("with a checkpoint %+v, without %+v; told %v", again, first, notes)
	}
	// What was skipped is known all the same: an entry is not written twice, and the numbers go on.
	news, err := r.Append(Draft{ID: ID{Writer: 7, Number: 12}, Payload: []byte("entry 11 of a long week at the bench")}, Draft{Payload: []byte("new")})
	if err != nil || len(news.Entries) != 1 || news.Entries[0].Seq != uint64(checkpointEvery+501) {
		t.Fatal(news, err)
	}
	r.Close()
	want, _ := plainTally(t, path)
	for range 2 { // few entries behind it: it stays, and they are visited each time
		var s tally
		r, _ = openTally(t, path, cp, &s)
		r.Close()
		if s.n != want.n || s.sum != want.sum || s.visited != 1 {
			t.Fatalf("%+v, want %+v and one visited", s, want)
		}
	}
	s := tally{refuse: true}
	r, _ = openTally(t, path, cp, &s)
	r.Close()
	if s.n != want.n || s.sum != want.sum {
		t.Fatalf("where the state is refused: %+v, want %+v", s, want)
	}
	// Many entries behind it: a new one is made from the old one and them.
	r, _, _ = open(t, path, Options{})
	for i := 0; i < checkpointEvery; i += 1000 {
		var drafts []Draft
		for k := range 1000 {
			drafts = append(drafts, Draft{Payload: []byte("more " + strconv.Itoa(i+k))})
		}
		if _, err := r.Append(drafts...); err != nil {
			t.Fatal(err)
		}
	}
	r.Close()
	want, _ = plainTally(t, path)
	var behind tally
	r, _ = openTally(t, path, cp, &behind)
	r.Close()
	var anew tally
	r, _ = openTally(t, path, cp, &anew)
	r.Close()
	if behind.sum != want.sum || anew.sum != want.sum || behind.visited != checkpointEvery || anew.visited != 0 {
		t.Fatalf("behind it %+v, anew %+v, want %+v", behind, anew, want)
	}
}

// Whatever happens to the record or to the checkpoint, a start with a checkpoint shows what a start without one shows,
// and tells the same.
func TestCheckpointHidesNothing(t *testing.T) {
	path, cp := writeMany(t, checkpointEvery+500)
	var s tally
	r, _ := openTally(t, path, cp, &s)
	r.Close()
	record, _ := os.ReadFile(path)
	checkpoint, _ := os.ReadFile(cp)
	rng := rand.New(rand.NewPCG(3, 4))
	flip := func(b []byte) []byte {
		b = bytes.Clone(b)
		i := rng.IntN(len(b))
		b[i] ^= byte(1 + rng.IntN(255))
		return b
	}
	cut := func(b []byte) []byte { return b[:1+rng.IntN(len(b)-1)] }
	without := func(b []byte) []byte { // an entry is taken out whole
		lines := bytes.SplitAfter(b, []byte{'\n'})
		i := rng.IntN(len(lines) - 1)
		return bytes.Join(append(append([][]byte{}, lines[:i]...), lines[i+1:]...), nil)
	}
	same := func(b []byte) []byte { return b }
	for name, change := range map[string][2]func([]byte) []byte{
		"record damaged":  {flip, same},
		"record cut":      {cut, same},
		"entry taken out": {without, same},
		"entry added": {func(b []byte) []byte {
			return appendEntry(bytes.Clone(b), Entry{Seq: checkpointEvery + 501, ID: ID{Writer: 9, Number: 1}, Payload: []byte("one more")})
		}, same},
		"checkpoint damaged":    {same, flip},
		"checkpoint cut":        {same, cut},
		"checkpoint of nothing": {same, func([]byte) []byte { return nil }},
		"both damaged":          {flip, flip},
	} {
		for round := range 6 {
			rec, chk := change[0](record), change[1](checkpoint)
			os.WriteFile(path, rec, 0o644)
			want, wantNotes := plainTally(t, path)
			os.WriteFile(path, rec, 0o644)
			os.WriteFile(cp, chk, 0o644)
			var got tally
			r, notes := openTally(t, path, cp, &got)
			r.Close()
			if got.n != want.n || got.sum != want.sum || len(notes) != len(wantNotes) {
				t.Errorf("%s, round %d: with a checkpoint %d entries, sum %x, told %v; without %d, sum %x, told %v", name, round, got.n, got.sum, notes, want.n, want.sum, wantNotes)
			}
		}
	}
}

// A record with something to tell has no checkpoint: it is told at every start.
func TestNoCheckpointOfDamage(t *testing.T) {
	path, cp := writeMany(t, checkpointEvery+500)
	b, _ := os.ReadFile(path)
	b[len(b)/2] ^= 1
	os.WriteFile(path, b, 0o644)
	for range 2 {
		var s tally
		r, notes := openTally(t, path, cp, &s)
		r.Close()
		if len(notes) == 0 {
			t.Error("the damage is not told")
		}
	}
	if _, err := os.Stat(cp); err == nil {
		t.Error("a checkpoint was made of a damaged record")
	}
}

// A compacted record is another file: the checkpoint of the old one is not taken for it.
func TestCheckpointAfterCompacting(t *testing.T) {
	path, cp := writeMany(t, checkpointEvery+500)
	var s tally
	r, _ := openTally(t, path, cp, &s)
	if _, err := r.Compact(func(e Entry) bool { return e.ID.Number%2 == 0 }); err != nil {
		t.Fatal(err)
	}
	r.Close()
	want, _ := plainTally(t, path)
	var got tally
	r, _ = openTally(t, path, cp, &got)
	r.Close()
	if got.n != want.n || got.sum != want.sum || got.n != (checkpointEvery+500)/2 {
		t.Errorf("%+v, want %+v", got, want)
	}
}

func FuzzCheckpoint(f *testing.F) {
	b := []byte(checkpointHead + "\x05\x00\x00\x00\x00\x00\x00\x00\x01\x00\x00\x00\x00\x00\x00\x00")
	f.Add(b)
	f.Fuzz(func(t *testing.T, b []byte) {
		b = append(b, 0, 0, 0, 0) // make the checksum right, so that the rest is looked at
		binary.LittleEndian.PutUint32(b[len(b)-4:], crc32.Checksum(b[:len(b)-4], castagnoli))
		if p, ok := parseCheckpoint(b); ok && (p.sums.size <= 0 || int64(len(p.sums.sums)) != (p.sums.size+blockSize-1)/blockSize || len(p.ids)+len(p.state) > len(b)) {
			t.Errorf("%d bytes gave %+v", len(b), p)
		}
	})
}
