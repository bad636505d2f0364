package main

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/record"
)

const killJob = "# our own words stay\n" + `title = "Paddle stand"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
sticks = [ {length = "20ft", price = 31.20} ]
[[rectangle]]
name = "base" # the low one
section = "rail"
length = "61in"
width = "33in"
[[crossbars]]
on = "base"
section = "rail"
count = 3
[welder]
process = "GMAW"
amps = 96
volts = 17.5
duty = "20% at 148A"
travel = "13ipm"
fillet = "1/8"
# the end
`

// shop is one job that is worked on, killed at, and taken up again.
type killShop struct {
	rng       *rand.Rand
	job, home string
	entries   int            // the most that a screen had confirmed
	lines     map[string]int // of the record, as a screen had shown them: how often each
	cuts      int            // good pieces, as the saw's screen had said; -1: something else may have changed them since
	titles    []string       // that the job file may have: the last that a screen had shown, and those tried since
	serial    int

	kills, killedEarly, shown, torn, seenCuts, seenTitles, tails int
}

func newKillShop(t *testing.T, rng *rand.Rand) *killShop {
	t.Helper()
	dir := t.TempDir()
	s := &killShop{rng: rng, job: filepath.Join(dir, "frame.toml"), home: dir, lines: map[string]int{}, cuts: -1, titles: []string{"Paddle stand"}}
	if err := os.WriteFile(s.job, []byte(killJob), 0o644); err != nil {
		t.Fatal(err)
	}
	return s
}

var (
	recordRow  = regexp.MustCompile(`^\s+\S (\w{3} \d\d \d\d:\d\d:\d\d)  (.*)$`)
	recordHead = regexp.MustCompile(`(\d+) entries, every one on the disk`)
	frameEnd   = regexp.MustCompile(`\x1b\[\d*(;\d*)?H$`)
)

// look takes what a screen confirms.
func (s *killShop) look(screen string, sawOnly bool) {
	if m := recordHead.FindStringSubmatch(screen); m != nil {
		s.shown++
		n, _ := strconv.Atoi(m[1])
		s.entries = max(s.entries, n)
		now := map[string]int{}
		for _, row := range strings.Split(screen, "\n") {
			if m := recordRow.FindStringSubmatch(row); m != nil {
				at, err := time.Parse("Jan 02 15:04:05", m[1])
				if err == nil {
					now[at.Format("01-02 15:04:05")+"  "+strings.TrimSpace(m[2])]++
				}
			}
		}
		for k, n := range now {
			s.lines[k] = max(s.lines[k], n)
		}
	}
	if n := killCuts(screen); n >= 0 && sawOnly {
		s.cuts = n
		s.seenCuts++
	}
	if strings.Contains(screen, "from the corner") && !strings.Contains(screen, "take it") {
		for i, title := range s.titles {
			if i > 0 && strings.Contains(screen, "job          "+title+" ") {
				s.titles = s.titles[i:]
				s.seenTitles++
				break
			}
		}
	}
}

// frame gives the screen, and whether it is a whole frame: the last one may be cut off in the midst of a line.
func (x *terminal) frame() (screen string, whole bool) {
	x.mu.Lock()
	defer x.mu.Unlock()
	raw := x.raw.Bytes()
	return x.emu.String(), frameEnd.Match(raw[max(0, len(raw)-20):])
}

// killCuts gives how many good pieces the saw's screen says there are, -1 where it does not.
func killCuts(screen string) int {
	for _, line := range strings.Split(screen, "\n") {
		var n, of int
		if i := strings.Index(line, "  piece "); i >= 0 {
			if _, err := fmt.Sscanf(line[i:], "  piece %d of %d", &n, &of); err == nil {
				return n - 1
			}
		}
	}
	return -1
}

// round starts the program, presses keys at random, kills it at a random instant, and checks.
func (s *killShop) round(t *testing.T) {
	x := openTerminal(t, s.home, 150, 48, s.job)
	kind := s.rng.IntN(8)
	sawOnly := kind == 1
	pause := func(most int) { time.Sleep(time.Duration(s.rng.IntN(most*1000)) * time.Microsecond) }
	if kind == 0 {
		pause(250)
		s.killedEarly++
	} else {
		if kind != 1 {
			s.cuts = -1
		}
		x.see("pieces")
		s.keys(x, kind, pause)
		for range s.rng.IntN(12) { // what the screen confirms while time goes by
			pause(40)
			if screen, whole := x.frame(); whole {
				s.look(screen, sawOnly)
			}
		}
	}
	_ = x.cmd.Process.Signal(syscall.SIGKILL)
	_ = x.cmd.Wait()
	<-x.done
	if screen, whole := x.frame(); whole {
		s.look(screen, sawOnly)
	} else {
		s.torn++
	}
	s.kills++
	s.check(t)
}

// keys presses what one does at a station.
func (s *killShop) keys(x *terminal, kind int, pause func(int)) {
	esc := func(keys ...string) {
		for _, k := range keys {
			x.send(k)
			pause(30)
		}
	}
	record := func() {
		if s.rng.IntN(3) > 0 {
			pause(150)
			esc("\x1b") // a question may be open
			time.Sleep(60 * time.Millisecond)
			esc("9")
		}
	}
	switch kind {
	case 1:
		esc("4")
		for range 1 + s.rng.IntN(14) {
			esc(" ")
		}
	case 2:
		esc("6")
		for range 1 + s.rng.IntN(20) {
			esc([]string{" ", "w", "f", "w", "t", "y\r"}[s.rng.IntN(6)])
		}
		record()
	case 3:
		esc("9")
		for range 1 + s.rng.IntN(6) {
			s.serial++
			esc("n", fmt.Sprintf("gap %d closed", s.serial), "\r")
		}
	case 4:
		for range 1 + s.rng.IntN(3) {
			s.serial++
			title := fmt.Sprintf("Stand K%d", s.serial)
			s.titles = append(s.titles, title)
			esc("2", "\x1b[H", "\r", "\x15", title, "\x1b[6~", "\r")
			pause(300)
		}
	case 5:
		esc("3", "\x1b[F", "p", "\r")
		record()
	case 6:
		esc("4", " ", " ", " ", " ", " ", "x", "\r")
		record()
	default:
		esc("4")
		for range 1 + s.rng.IntN(25) {
			esc([]string{" ", " ", " ", "u", "4", "9", "6", "w", "x", "\r", "l", "3", "p"}[s.rng.IntN(13)])
		}
		record()
	}
}

// check compares what lies on the disk with what the screens had confirmed.
func (s *killShop) check(t *testing.T) {
	t.Helper()
	path, _ := binary()
	cmd := exec.Command(path, "log", s.job)
	var told strings.Builder
	cmd.Env, cmd.Stderr = []string{"HOME=" + s.home}, &told
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("log: %v\n%s", err, told.String())
	}
	if told.Len() > 0 {
		s.tails++
		if !strings.Contains(told.String(), "the last write was interrupted") {
			t.Errorf("log says %s", told.String())
		}
	}
	logged, n := map[string]int{}, 0
	for _, line := range strings.Split(strings.TrimSuffix(string(out), "\n"), "\n") {
		if len(line) > 5 && line[4] == '-' {
			logged[line[5:]]++
			n++
		}
	}
	if n < s.entries {
		t.Errorf("LOST: the screen had confirmed %d entries, the log has %d", s.entries, n)
	}
	for _, k := range slices.Sorted(maps.Keys(s.lines)) {
		if logged[k] < s.lines[k] {
			t.Errorf("LOST: the screen had shown %q %d times, the log has it %d times", k, s.lines[k], logged[k])
		}
	}
	if s.cuts >= 0 {
		if good := s.good(t); good < s.cuts {
			t.Errorf("LOST: the saw had shown %d good pieces, the record holds %d", s.cuts, good)
		}
	}
	data, err := os.ReadFile(s.job)
	if err != nil {
		t.Fatal(err)
	}
	for _, title := range s.titles {
		if string(data) == strings.Replace(killJob, "Paddle stand", title, 1) {
			return
		}
	}
	t.Errorf("LOST: the job file is none of the texts with the titles %q:\n%s", s.titles, data)
}

// good counts the good pieces of the record.
func (s *killShop) good(t *testing.T) (n int) {
	t.Helper()
	state := work.New()
	r, _, err := record.Open(file.OS, strings.TrimSuffix(s.job, ".toml")+".record", record.Options{ReadOnly: true, Visit: func(e record.Entry) { state.Apply(e.ID, e.At, e.Payload) }})
	if err != nil {
		return 0 // it was never opened
	}
	r.Close()
	for _, p := range state.Pieces() {
		if !p.Spoiled {
			n++
		}
	}
	return n
}

// TestTerminalKilled kills the real program at random instants of work at all its stations and compares what the next
// start finds with what the screens had confirmed: every entry, line for line; the pieces; the job file, byte for byte.
// SOAPSTONE_KILLS says how often.
func TestTerminalKilled(t *testing.T) {
	kills, lanes := 12, 1
	if n, err := strconv.Atoi(os.Getenv("SOAPSTONE_KILLS")); err == nil {
		kills, lanes = n, 2
	}
	if testing.Short() {
		t.Skip("starts the program again and again")
	}
	var done atomic.Int64
	shops := make([][]*killShop, lanes)
	t.Run("lanes", func(t *testing.T) {
		for lane := range lanes {
			t.Run(strconv.Itoa(lane), func(t *testing.T) {
				t.Parallel()
				rng := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), uint64(lane)))
				var s *killShop
				for k := 0; done.Add(1) <= int64(kills) && !t.Failed(); k++ {
					if k%30 == 0 { // a new job before everything is done
						s = newKillShop(t, rng)
						shops[lane] = append(shops[lane], s)
					}
					t.Run(strconv.Itoa(k), s.round)
				}
			})
		}
	})
	var sum killShop
	confirmed := 0
	for _, s := range slices.Concat(shops...) {
		sum.kills += s.kills
		sum.killedEarly += s.killedEarly
		sum.shown += s.shown
		sum.torn += s.torn
		sum.seenCuts += s.seenCuts
		sum.seenTitles += s.seenTitles
		sum.tails += s.tails
		confirmed += s.entries
	}
	t.Logf("%d kills, %d of them in the start; %d entries confirmed by %d screens of the record, %d counts at the saw, %d edits of the job; %d torn tails; %d last frames cut off",
		sum.kills, sum.killedEarly, confirmed, sum.shown, sum.seenCuts, sum.seenTitles, sum.tails, sum.torn)
	if sum.shown == 0 || confirmed == 0 {
		t.Error("no screen ever confirmed anything: the test shows nothing")
	}
}
