package record

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/file/trouble"
)

// onDisk opens a record on a disk in memory and gives what it holds.
func onDisk(t *testing.T, d *trouble.Disk) (*Record, []string, []Note) {
	t.Helper()
	var held []string
	r, notes, err := Open(d, "/r/kayak-rack.record", Options{Visit: func(e Entry) { held = append(held, string(e.Payload)) }})
	if err != nil {
		t.Fatal(err)
	}
	return r, held, notes
}

// failing makes every call of the kinds fail until it is called off.
func failing(d *trouble.Disk, err error, kinds ...trouble.Kind) {
	d.Plan = func(c trouble.Call) trouble.Fault {
		for _, k := range kinds {
			if c.Kind == k {
				return trouble.Fault{Err: err, Bytes: c.Size / 2}
			}
		}
		return trouble.Fault{}
	}
}

func try(r *Record, payload string) error {
	_, err := r.Append(Draft{Payload: []byte(payload)})
	return err
}

// A full disk is told, nothing of the entry is left, and there may be room again.
func TestFullDisk(t *testing.T) {
	d := trouble.New("/r")
	r, _, _ := onDisk(t, d)
	put(t, r, "one")
	failing(d, syscall.ENOSPC, trouble.Write)
	err := try(r, "two")
	const want = "/r/kayak-rack.record: writing to the record failed: the disk is full; this entry was not recorded, all earlier ones are safe; it can be tried again"
	if err == nil || err.Error() != want {
		t.Errorf("told %v\nwant %s", err, want)
	}
	d.Plan = nil
	put(t, r, "three")
	_, held, notes := onDisk(t, d)
	same(t, "held", held, "one", "three")
	if len(notes) > 0 {
		t.Errorf("told %v", notes)
	}
}

// After a sync that failed nothing is taken until the record is opened again, however well
// everything goes by then.
func TestFailedSyncCloses(t *testing.T) {
	d := trouble.New("/r")
	r, _, _ := onDisk(t, d)
	put(t, r, "one")
	failing(d, syscall.EIO, trouble.Sync)
	err := try(r, "two")
	if !errors.Is(err, ErrClosed) || !errors.Is(err, syscall.EIO) || !strings.Contains(err.Error(), "not confirmed") || !strings.Contains(err.Error(), "the disk reports a fault") {
		t.Errorf("told %v", err)
	}
	d.Plan = nil
	if err := try(r, "three"); !errors.Is(err, ErrClosed) {
		t.Errorf("an entry was taken after a failed sync: %v", err)
	}
	if _, err := r.Reopen(); err != nil || r.Writable() != nil {
		t.Fatal(err, r.Writable())
	}
	put(t, r, "four")
	_, held, _ := onDisk(t, d)
	same(t, "held", held, "one", "four")
}

// A torn tail on a full disk: it cannot be set aside, so it stays, and work goes on as soon as
// there is room.
func TestTornTailOnFullDisk(t *testing.T) {
	d := trouble.New("/r")
	r, _, _ := onDisk(t, d)
	put(t, r, "one")
	text, _ := d.Text("/r/kayak-rack.record")
	d.Put("/r/kayak-rack.record", text+text[:20], 0o644)
	d.Plan = func(c trouble.Call) trouble.Fault {
		if strings.Contains(c.Name, ".aside-") && c.Kind == trouble.Write {
			return trouble.Fault{Err: syscall.ENOSPC}
		}
		return trouble.Fault{}
	}
	r, held, notes := onDisk(t, d)
	same(t, "held", held, "one")
	if len(notes) != 1 || notes[0].Kind != TornTail || !strings.Contains(notes[0].Text, "left where it is, because it could not be set aside: the disk is full") {
		t.Errorf("told %v", notes)
	}
	// Two windows find it so; one writes, and dies while it writes on.
	other, _, _ := onDisk(t, d)
	put(t, other, "two")
	news, err := r.Poll()
	same(t, "news", payloads(news), "two")
	if err != nil || len(news.Notes) > 0 {
		t.Errorf("told %v, %v", news.Notes, err)
	}
	text, _ = d.Text("/r/kayak-rack.record")
	d.Put("/r/kayak-rack.record", text+"\n=1 ", 0o644)
	put(t, r, "three")
	_, held, _ = onDisk(t, d)
	same(t, "held", held, "one", "two", "three")
}

// A folder in which nothing can be written: what stands there can be read, and the window
// knows why nothing is recorded.
func TestReadOnlyDisk(t *testing.T) {
	for _, e := range []error{syscall.EROFS, syscall.EACCES} {
		d := trouble.New("/r")
		r, _, _ := onDisk(t, d)
		put(t, r, "one")
		r.Close()
		n := 0
		d.Plan = func(c trouble.Call) trouble.Fault {
			if c.Kind == trouble.Open {
				if n++; n == 1 { // for writing; the second is for reading
					return trouble.Fault{Err: e}
				}
			}
			return trouble.Fault{}
		}
		r, held, notes := onDisk(t, d)
		same(t, "held", held, "one")
		if len(notes) != 1 || notes[0].Kind != CannotWrite || !errors.Is(r.Writable(), e) || !errors.Is(try(r, "two"), e) {
			t.Errorf("told %v, writable %v", notes, r.Writable())
		}
	}
}

// A lock that another process holds for ever is waited for a while, then told.
func TestLockIsHeld(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	r, _, _ := open(t, path, Options{Patience: 20 * time.Millisecond})
	h, err := file.OS.OpenFile(path, os.O_RDWR, 0)
	if err != nil || h.Lock(true) != nil {
		t.Fatal(err)
	}
	if err := try(r, "one"); !errors.Is(err, file.ErrLocked) || !strings.Contains(err.Error(), "another process holds it") {
		t.Errorf("told %v", err)
	}
	h.Close()
	put(t, r, "one")
}

// A hundred entries, the power cut at a random call, a hundred times over: every confirmed
// entry is there, and the tail that was not is told or gone without a trace.
func TestPowerCuts(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 9))
	for round := range 100 {
		d := trouble.New("/r")
		at := rng.IntN(600)
		d.Plan = func(c trouble.Call) trouble.Fault {
			return trouble.Fault{Die: c.N == at, Bytes: rng.IntN(100)}
		}
		confirmed := 0
		if r, _, err := Open(d, "/r/kayak-rack.record", Options{}); err == nil {
			for ; confirmed < 100 && try(r, "entry") == nil; confirmed++ {
			}
		}
		d.Plan = nil
		d.PowerCut(rng)
		r, held, _ := onDisk(t, d)
		if len(held) < confirmed || len(held) > confirmed+1 {
			t.Fatalf("round %d: %d confirmed, %d held", round, confirmed, len(held))
		}
		put(t, r, "more")
	}
}

func TestBeside(t *testing.T) {
	d := trouble.New("/r", "/s")
	d.Put("/r/kayak-rack.toml", "", 0o644)
	d.Link("/s/link.toml", "../r/kayak-rack.toml")
	for job, want := range map[string]string{
		"/r/kayak-rack.toml": "/r/kayak-rack.record",
		"/s/link.toml":       "/r/kayak-rack.record",
		"/r/job":             "/r/job.record",
	} {
		if got, err := Beside(d, job); got != want || err != nil {
			t.Errorf("%s: %s, %v; want %s", job, got, err, want)
		}
	}
}

// What is set aside is for no other eyes than the record, and the same tail is not set aside twice: neither where the
// process died before it could be cut off, nor where the disk refuses to cut it off at each start.
func TestAsideIsPrivateAndOnce(t *testing.T) {
	d := trouble.New("/r")
	whole := string(appendEntry(nil, Entry{Seq: 1, At: 1, ID: ID{Writer: 1, Number: 1}, Payload: []byte("kept")}))
	d.Put("/r/x.record", whole+"=1 2 torn", 0o600)
	refuse := true
	d.Plan = func(c trouble.Call) trouble.Fault {
		if refuse && c.Kind == trouble.Truncate {
			return trouble.Fault{Err: syscall.EIO}
		}
		return trouble.Fault{}
	}
	for i := range 4 {
		refuse = i < 3
		r, notes, err := Open(d, "/r/x.record", Options{})
		if err != nil || len(notes) == 0 || notes[0].Kind != TornTail || notes[0].Aside != "/r/x.record.aside-1" {
			t.Fatalf("start %d: %v, told %+v", i, err, notes)
		}
		r.Close()
	}
	info, err := d.Stat("/r/x.record.aside-1")
	if text, _ := d.Text("/r/x.record.aside-1"); err != nil || text != "=1 2 torn" || info.Mode().Perm() != 0o600 {
		t.Errorf("set aside: %q with %v, %v", text, info, err)
	}
	if text, _ := d.Text("/r/x.record"); text != whole {
		t.Errorf("the record holds %q", text)
	}
	if names, _ := d.Names("/r"); len(names) != 2 {
		t.Errorf("the folder holds %v", names)
	}
	// Another tail goes into another file; where there is no name left it stays, and is told.
	for i := 2; i < 10_000; i++ {
		d.Put(fmt.Sprintf("/r/x.record.aside-%d", i), "older", 0o600)
	}
	d.Put("/r/x.record", whole+"=1 2 other", 0o600)
	r, notes, err := Open(d, "/r/x.record", Options{})
	if err != nil || len(notes) != 1 || !strings.Contains(notes[0].Text, "could not be set aside: /r/x.record.aside-1 to -9999 are all there already") {
		t.Fatalf("%v, told %+v", err, notes)
	}
	if news, err := r.Append(Draft{Payload: []byte("goes on")}); err != nil || len(news.Entries) != 1 {
		t.Errorf("work goes on: %v, %v", news, err)
	}
}
