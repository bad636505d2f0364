package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/record"
)

// writeWeek fills a record with n entries of a busy week at two windows: cuts that are taken back and done again, spoiled
// pieces, sticks, joints, arcs, notes.
func writeWeek(t *testing.T, path string, n int) {
	t.Helper()
	rng := rand.New(rand.NewPCG(1, 2))
	var windows [2]*record.Record
	for i := range windows {
		r, _, err := record.Open(file.OS, path, record.Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer r.Close()
		windows[i] = r
	}
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC).UnixNano()
	var drafts []record.Draft
	emit := func(w work.What) record.ID {
		text, err := work.Encode(w)
		if err != nil {
			t.Fatal(err)
		}
		at += rng.Int64N(2_000_000_000)
		drafts = append(drafts, record.Draft{ID: windows[0].Next(), At: at, Payload: text})
		return drafts[len(drafts)-1].ID
	}
	for done, arc, stick := 0, (record.ID{}), 1; done < n; stick++ {
		name := fmt.Sprintf("rail %d", stick%200)
		emit(work.Loaded{Stick: name, Section: "rail", Source: "buy", Length: 20 * measure.Foot})
		for range 8 {
			from := measure.Length(rng.IntN(10)) * measure.Foot
			id := emit(work.Cut{Mark: string(rune('A' + rng.IntN(3))), Unit: 1 + rng.IntN(400), Stick: name, From: from, To: from + measure.Foot})
			emit(work.Undone{Of: id})
		}
		joint := fmt.Sprintf("J%d", rng.IntN(500))
		emit(work.Noted{Text: "gap closed with the clamp", About: joint})
		if !arc.Zero() {
			emit(work.ArcOff{Of: arc})
		}
		arc = emit(work.ArcOn{Joint: joint, Amps: 96})
		if stick%20 == 0 {
			emit(work.Undone{Of: emit(work.Spoiled{Mark: "A", Unit: 1 + rng.IntN(400), Stick: name, To: measure.Foot})})
		}
		if len(drafts) > 3000 {
			if _, err := windows[0].Append(drafts...); err != nil {
				t.Fatal(err)
			}
			done += len(drafts)
			drafts = nil
		}
	}
}

// resident gives how many kilobytes of memory a process holds, 0 where the system does not tell.
func resident(pid int) int {
	b, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	for line := range strings.Lines(string(b)) {
		if f := strings.Fields(line); len(f) > 1 && f[0] == "VmRSS:" {
			n, _ := strconv.Atoi(f[1])
			return n
		}
	}
	return 0
}

// TestTerminalWeek works at two windows of the real program on a job whose record holds 500 000 entries: cuts, undone and
// spoiled ones, notes, edits of the job, each with its new plan. It compares memory and the time from a key to the screen
// at the beginning and at the end. SOAPSTONE_WEEK says for how long, as 5m.
func TestTerminalWeek(t *testing.T) {
	long, err := time.ParseDuration(os.Getenv("SOAPSTONE_WEEK"))
	if err != nil {
		t.Skip("a soak: SOAPSTONE_WEEK=5m")
	}
	job := filepath.Join(t.TempDir(), "frame.toml")
	os.WriteFile(job, []byte(killJob), 0o644)
	writeWeek(t, strings.TrimSuffix(job, ".toml")+".record", 500_000)
	home := t.TempDir()
	if _, err := binary(); err != nil { // built before the clock runs
		t.Fatal(err)
	}
	var windows [2]*terminal
	for i := range windows {
		began := time.Now()
		windows[i] = openTerminal(t, home, 120, 40, job)
		windows[i].see("of 7 pieces")
		t.Logf("window %d: first plan on the screen after %v", i+1, time.Since(began).Round(time.Millisecond))
	}
	rng := rand.New(rand.NewPCG(5, 6))
	var memory, wait [2][]int
	end, serial := time.Now().Add(long), 0
	for time.Now().Before(end) {
		w := rng.IntN(2)
		x := windows[w]
		press := func(keys ...string) {
			for _, k := range keys {
				x.send(k)
				time.Sleep(25 * time.Millisecond)
			}
		}
		serial++
		switch rng.IntN(6) {
		case 0, 1:
			press("4", " ", " ", " ", " ")
		case 2:
			press("4", " ", " ", " ", "u", "u")
		case 3:
			press("4", " ", " ", " ", "x", "\r", "u")
		case 4:
			press("9", "n", fmt.Sprintf("note %d", serial), "\r")
		case 5:
			press("2", "\x1b[H", "\r", "\x15", fmt.Sprintf("Stand %d", serial), "\x1b[6~", "\r")
		}
		press("\x1b")
		time.Sleep(60 * time.Millisecond)
		press("1")
		time.Sleep(150 * time.Millisecond)
		// A key that changes the whole screen: how long until it does.
		x.mu.Lock()
		from := x.raw.Len()
		if from > 1<<20 { // keep the test's own memory flat too
			x.raw.Reset()
			from = 0
		}
		x.mu.Unlock()
		began := time.Now()
		x.send("3")
		for grown := false; !grown && time.Since(began) < 5*time.Second; time.Sleep(time.Millisecond) {
			x.mu.Lock()
			grown = x.raw.Len() > from
			x.mu.Unlock()
		}
		wait[w] = append(wait[w], int(time.Since(began).Microseconds()))
		memory[w] = append(memory[w], resident(x.cmd.Process.Pid))
	}
	mid := func(v []int) int { v = slices.Clone(v); slices.Sort(v); return v[len(v)/2] }
	for w := range windows {
		n := len(memory[w])
		if n < 8 {
			t.Fatalf("window %d was looked at %d times", w+1, n)
		}
		q := n / 4
		t.Logf("window %d, %d rounds: memory %d MB in the second quarter, %d MB in the last; key to screen %.1f ms in the first quarter, %.1f ms in the last",
			w+1, n, mid(memory[w][q:2*q])>>10, mid(memory[w][n-q:])>>10, float64(mid(wait[w][:q]))/1000, float64(mid(wait[w][n-q:]))/1000)
		if early, late := mid(memory[w][q:2*q]), mid(memory[w][n-q:]); late > early+early/4+4096 {
			t.Errorf("window %d: memory grew from %d to %d KB", w+1, early, late)
		}
	}
	windows[0].send("9")
	s := windows[0].see("entries, every one on the disk")
	t.Log(strings.TrimSpace(recordHead.FindString(s)))
}
