package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// TestTerminalFullDisk fills a real disk under the record: what is pressed then is held on the screen, not lost and not shown
// as done, and is written once there is room.
func TestTerminalFullDisk(t *testing.T) {
	disk := t.TempDir()
	if err := unix.Mount("tmpfs", disk, "tmpfs", 0, "size=256k"); err != nil {
		t.Skipf("no small disk can be made here: %v", err)
	}
	t.Cleanup(func() { unix.Unmount(disk, unix.MNT_DETACH) })
	job := filepath.Join(disk, "frame.toml")
	if err := os.WriteFile(job, []byte(smallJob), 0o644); err != nil {
		t.Fatal(err)
	}
	x := openTerminal(t, t.TempDir(), 90, 28, job)
	x.see("of 7 pieces")
	x.send("4")
	x.see("LOAD")
	x.send(" ")
	x.gone("LOAD")
	filler := filepath.Join(disk, "filler")
	f, err := os.Create(filler)
	if err != nil {
		t.Fatal(err)
	}
	for err == nil {
		_, err = f.Write(make([]byte, 4096))
	}
	if f.Close(); !errors.Is(err, unix.ENOSPC) {
		t.Fatal(err)
	}
	// The record's last page may still have room: tick marks until the disk refuses.
	x.send("5")
	x.see("marked out")
	for n := 0; n < 400 && !strings.Contains(x.screen(), "NOT recorded"); n++ {
		x.send("\x1b[H")
		time.Sleep(8 * time.Millisecond)
		was := x.screen()
		x.send(" ")
		for end := time.Now().Add(2 * time.Second); x.screen() == was && time.Now().Before(end); time.Sleep(4 * time.Millisecond) { // no key before the one ahead of it is answered
		}
	}
	x.see("NOT recorded", "disk is full", "Make room", "try again")
	// Keys that were on their way when the disk refused try again too: wait until none is, or one of them would write what
	// the key below is to write.
	before := x.screen()
	for still := time.Now(); time.Since(still) < 400*time.Millisecond; time.Sleep(4 * time.Millisecond) {
		if now := x.screen(); now != before {
			before, still = now, time.Now()
		}
	}
	x.send("1")
	x.send(" ")
	for end := time.Now().Add(15 * time.Second); x.screen() == before && time.Now().Before(end); time.Sleep(4 * time.Millisecond) {
	}
	x.see("tried ")
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	x.send(" ")
	x.see("recorded after all")
	x.send("1")
	x.see("of 7 pieces")
	cut := confirmedAtJob(x.screen())
	x.send("q")
	if err := x.cmd.Wait(); err != nil {
		t.Fatal(err)
	}
	// The next start shows the same.
	x = openTerminal(t, t.TempDir(), 90, 28, job)
	x.see("of 7 pieces")
	if again := confirmedAtJob(x.screen()); again != cut {
		t.Fatalf("%s pieces before, %s after a restart; the screen of trouble was\n%s", cut, again, before)
	}
}

func confirmedAtJob(screen string) string {
	i := strings.Index(screen, " of 7 pieces")
	if i < 2 {
		return "?"
	}
	return strings.TrimSpace(screen[i-2 : i])
}

// TestTerminalFolder opens folders: an empty one helps, one with jobs lets choose.
func TestTerminalFolder(t *testing.T) {
	dir := t.TempDir()
	x := openTerminal(t, t.TempDir(), 80, 24, dir)
	x.see("No job lies in this folder", "n begins one")
	x.send("n")
	x.see("file name: frame.toml")
	x.send("\r")
	x.see("There is no job in frame.toml yet")
	x.send("\x1b")
	x.gone("There is no job")
	x.send("q")
	x.cmd.Wait()

	os.WriteFile(filepath.Join(dir, "anchor.toml"), []byte(smallJob), 0o644)
	os.WriteFile(filepath.Join(dir, "broken.toml"), []byte("title = \"x\n"), 0o644)
	x = openTerminal(t, t.TempDir(), 80, 24, dir)
	x.see("Which job?", "anchor.toml", "Paddle stand", "cannot be read")
	x.send("\r")
	x.see("of 7 pieces")
	x.send("q")
	x.cmd.Wait()
	x = openTerminal(t, t.TempDir(), 80, 24, dir)
	x.see("Which job?")
	x.send("\x1b[B\r")
	x.see("cannot be planned", "broken.toml:1", "e opens the file")
	x.send("q")
	if err := x.cmd.Wait(); err != nil {
		t.Fatal(err)
	}
}

// TestTerminalFileGoes takes the job file away and puts it back under the running program.
func TestTerminalFileGoes(t *testing.T) {
	job := writeJob(t, smallJob)
	x := openTerminal(t, t.TempDir(), 80, 24, job)
	x.see("of 7 pieces")
	os.Remove(job)
	time.Sleep(700 * time.Millisecond)
	x.see("of 7 pieces") // an editor may be about to replace it: what is planned stays
	os.WriteFile(job, []byte(strings.Replace(smallJob, "61in", "62 yards of", 1)), 0o644)
	x.see("cannot be planned", "62 yards of")
	os.WriteFile(job, []byte(smallJob), 0o644)
	x.see("of 7 pieces")
}
