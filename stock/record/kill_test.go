package record

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/stock/file"
)

// The test binary runs itself as a writer when this is set: the record's path.
const writerEnv = "SOAPSTONE_TEST_WRITER"

func TestMain(m *testing.M) {
	if path := os.Getenv(writerEnv); path != "" {
		writer(path)
		return
	}
	os.Exit(m.Run())
}

// chopped writes in pieces of a few bytes, so that a kill leaves torn entries.
type chopped struct{ file.System }

type choppedHandle struct {
	file.Handle
	rng *rand.Rand
}

func (c chopped) OpenFile(name string, flag int, perm os.FileMode) (file.Handle, error) {
	h, err := c.System.OpenFile(name, flag, perm)
	if err != nil {
		return nil, err
	}
	return choppedHandle{h, rand.New(rand.NewPCG(rand.Uint64(), 1))}, nil
}

func (c choppedHandle) WriteAt(p []byte, off int64) (int, error) {
	if len(p) > 4096 { // the renewal of the end on opening
		return c.Handle.WriteAt(p, off)
	}
	done := 0
	for done < len(p) {
		if c.rng.IntN(4) == 0 {
			time.Sleep(100 * time.Microsecond) // long enough for the kill to fall in here
		}
		n, err := c.Handle.WriteAt(p[done:min(len(p), done+1+c.rng.IntN(40))], off+int64(done))
		if done += n; err != nil {
			return done, err
		}
	}
	return done, nil
}

// writer appends until it is killed, or COUNT entries, and says each confirmed ID. Arguments
// come by the environment: CHOP, COMPACT, COUNT.
func writer(path string) {
	sys := file.OS
	if os.Getenv("CHOP") != "" {
		sys = chopped{sys}
	}
	count, _ := strconv.Atoi(os.Getenv("COUNT"))
	r, _, err := Open(sys, path, Options{Patience: time.Minute})
	if err != nil {
		fmt.Println("error", err)
		return
	}
	for i := 1; count == 0 || i <= count; i++ {
		id := r.Next()
		if _, err := r.Append(Draft{ID: id, At: int64(i), Payload: fmt.Appendf(nil, `{"v":1,"do":"cut","mark":"A","unit":%d,"stick":"rail"}`, i)}); err != nil {
			fmt.Println("error", err)
			return
		}
		fmt.Println(id) // one write to the pipe: what the screen has confirmed
		if os.Getenv("COMPACT") != "" && i%20 == 0 {
			if _, err := r.Compact(func(Entry) bool { return true }); err != nil {
				fmt.Println("error", err)
				return
			}
		}
	}
}

// startWriter starts a writer and collects what it confirms until it ends.
func startWriter(t *testing.T, path string, env ...string) (cmd *exec.Cmd, confirmed func() []string) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd = exec.Command(self)
	cmd.Env = append(os.Environ(), append(env, writerEnv+"="+path)...)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := make(chan []string, 1)
	go func() {
		var got []string
		for s := bufio.NewScanner(out); s.Scan(); {
			got = append(got, s.Text())
		}
		lines <- got
	}()
	return cmd, func() []string {
		got := <-lines
		_ = cmd.Wait()
		return got
	}
}

// TestKill kills a writer at random instants and compares what it had confirmed with what the
// next start reads: a hundred times, ten thousand under SOAK=1.
func TestKill(t *testing.T) {
	kills := 100
	if os.Getenv("SOAK") != "" {
		kills = 10_000
	}
	if testing.Short() {
		kills = 10
	}
	rng := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 3))
	dir := t.TempDir()
	all, torn, compacted := 0, 0, 0
	var confirmed []string
	path := ""
	for k := range kills {
		if k%25 == 0 { // a new record; the older ones were checked to their end
			path, confirmed = filepath.Join(dir, fmt.Sprintf("r%d", k)), nil
		}
		var env []string
		if k%2 == 0 {
			env = append(env, "CHOP=1")
		}
		if k%5 == 4 {
			env = append(env, "COMPACT=1")
		}
		cmd, said := startWriter(t, path, env...)
		time.Sleep(time.Duration(rng.IntN(25_000)) * time.Microsecond)
		_ = cmd.Process.Kill()
		for _, line := range said() {
			if strings.HasPrefix(line, "error") {
				t.Fatalf("kill %d: the writer says %q", k, line)
			}
			confirmed = append(confirmed, line)
			all++
		}
		times := map[string]int{}
		r, notes, err := Open(file.OS, path, Options{Visit: func(e Entry) { times[e.ID.String()]++ }})
		if err != nil {
			t.Fatalf("kill %d: %v", k, err)
		}
		for _, n := range notes {
			if n.Kind != TornTail || n.Aside == "" {
				t.Errorf("kill %d: told %v", k, n)
			}
			torn++
		}
		r.Close()
		for _, id := range confirmed {
			if times[id] != 1 {
				t.Fatalf("kill %d: %s was confirmed and stands there %d times", k, id, times[id])
			}
		}
		if _, err := os.Stat(path + ".compact"); err == nil {
			compacted++
		}
	}
	t.Logf("%d kills, %d entries confirmed, 0 lost; %d torn tails set aside, %d interrupted compactions", kills, all, torn, compacted)
	if all == 0 {
		t.Error("no writer ever confirmed anything: the test shows nothing")
	}
}

// TestTwoWriters lets two processes write the same record at once: 2000 entries each, 100 000
// under SOAK=1. A third one follows.
func TestTwoWriters(t *testing.T) {
	count := 2000
	if os.Getenv("SOAK") != "" {
		count = 100_000
	}
	if testing.Short() {
		count = 200
	}
	path := filepath.Join(t.TempDir(), "r")
	f, _, _ := open(t, path, Options{Patience: time.Minute})
	began := time.Now()
	_, said1 := startWriter(t, path, "COUNT="+strconv.Itoa(count))
	_, said2 := startWriter(t, path, "COUNT="+strconv.Itoa(count))
	followed := map[ID]bool{}
	done := make(chan []string, 1)
	go func() { done <- append(said1(), said2()...) }()
	var confirmed []string
	follow := func() {
		news, err := f.Poll()
		if err != nil || len(news.Notes) > 0 {
			t.Fatal(err, news.Notes)
		}
		for _, e := range news.Entries {
			if followed[e.ID] {
				t.Fatalf("%v came twice to the follower", e.ID)
			}
			followed[e.ID] = true
		}
	}
	for confirmed == nil {
		select {
		case confirmed = <-done:
		case <-time.After(5 * time.Millisecond):
		}
		follow()
	}
	took := time.Since(began)
	if len(confirmed) != 2*count || len(followed) != 2*count {
		t.Fatalf("%d confirmed, %d followed, want %d; the last words were %q", len(confirmed), len(followed), 2*count, confirmed[max(0, len(confirmed)-1):])
	}
	times := map[string]int{}
	seq := uint64(0)
	_, notes, err := Open(file.OS, path, Options{Visit: func(e Entry) {
		times[e.ID.String()]++
		if seq++; e.Seq != seq {
			t.Errorf("entry %d has the number %d", seq, e.Seq)
		}
	}})
	if err != nil || len(notes) > 0 {
		t.Fatal(err, notes)
	}
	for _, id := range confirmed {
		if times[id] != 1 {
			t.Fatalf("%s stands there %d times", id, times[id])
		}
	}
	t.Logf("2 x %d entries in %v, none lost, none doubled; the follower saw each once", count, took.Round(time.Millisecond))
}

// Another window's entry is seen well within a second, also while a third one writes.
func TestSeenWithinASecond(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	a, _, _ := open(t, path, Options{})
	b, _, _ := open(t, path, Options{})
	_, said := startWriter(t, path, "COUNT=300")
	var worst time.Duration
	for range 20 {
		put(t, a, "cut")
		began := time.Now()
		for seen := false; !seen; {
			news, err := b.Poll()
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range news.Entries {
				seen = seen || string(e.Payload) == "cut"
			}
			if !seen {
				time.Sleep(100 * time.Millisecond) // as often as a window looks
			}
		}
		worst = max(worst, time.Since(began))
	}
	said()
	t.Logf("seen after %v at worst", worst)
	if worst > time.Second {
		t.Errorf("seen after %v", worst)
	}
}
