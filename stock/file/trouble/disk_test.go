package trouble

import (
	"errors"
	"math/rand/v2"
	"os"
	"syscall"
	"testing"

	"bench.example/soapstone/stock/file"
)

// fates writes under the given care, cuts the power, and counts what was there afterwards.
func fates(t *testing.T, care func(d *Disk, h file.Handle)) map[string]int {
	t.Helper()
	seen := map[string]int{}
	for luck := range uint64(200) {
		d := New("/w")
		h, err := d.OpenFile("/w/f", os.O_RDWR|os.O_CREATE, 0o666)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := h.WriteAt([]byte("text"), 0); err != nil {
			t.Fatal(err)
		}
		care(d, h)
		d.PowerCut(rand.New(rand.NewPCG(luck, 1)))
		text, there := d.Text("/w/f")
		if !there {
			text = "no file"
		}
		seen[text]++
	}
	return seen
}

// The disk forgets what was not synced, names as well as bytes, and never what was: else the
// tests that run on it would show nothing.
func TestWhatAPowerCutTakes(t *testing.T) {
	if seen := fates(t, func(*Disk, file.Handle) {}); seen["no file"] == 0 || seen["text"] == 0 || seen[""] == 0 || seen["\x00\x00\x00\x00"] == 0 {
		t.Errorf("without any sync: %v", seen)
	}
	if seen := fates(t, func(_ *Disk, h file.Handle) { h.Sync() }); seen["no file"] == 0 || seen["text"]+seen["no file"] != 200 {
		t.Errorf("with the file synced: %v", seen)
	}
	if seen := fates(t, func(d *Disk, h file.Handle) { h.Sync(); d.SyncFolder("/w") }); seen["text"] != 200 {
		t.Errorf("with both synced: %v", seen)
	}
	failed := func(d *Disk, h file.Handle) {
		d.SyncFolder("/w")
		d.Plan = func(Call) Fault { return Fault{Err: syscall.EIO} }
		if err := h.Sync(); !errors.Is(err, syscall.EIO) {
			t.Errorf("the sync did not fail: %v", err)
		}
		d.Plan = nil
		if err := h.Sync(); err != nil { // reports success, and does nothing
			t.Error(err)
		}
	}
	if seen := fates(t, failed); seen["text"] == 200 || seen["no file"] > 0 {
		t.Errorf("a second sync after one that failed: %v", seen)
	}
}

func TestLocksDieWithTheProcess(t *testing.T) {
	d := New("/w")
	a, _ := d.OpenFile("/w/f", os.O_RDWR|os.O_CREATE, 0o666)
	b, _ := d.OpenFile("/w/f", os.O_RDWR, 0)
	if a.Lock(true) != nil || !errors.Is(b.Lock(false), file.ErrLocked) {
		t.Error("the lock does not keep others out")
	}
	d.Restart()
	if _, err := b.Stat(); !errors.Is(err, ErrDead) {
		t.Error("a handle outlived its process")
	}
	c, _ := d.OpenFile("/w/f", os.O_RDWR, 0)
	if err := c.Lock(true); err != nil {
		t.Error(err)
	}
}
