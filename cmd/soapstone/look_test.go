package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/bench"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
)

// TestSift takes answers of the terminal out of what was typed, wherever a read cuts them.
func TestSift(t *testing.T) {
	for _, c := range []struct {
		why, in, keys, rest string
		ok                  bool
		ground              look.Theme
	}{
		{"nothing typed", "", "", "", false, 0},
		{"keys alone", "4 \x1b[A", "4 \x1b[A", "", false, 0},
		{"a lone esc stays esc", "\x1b", "\x1b", "", false, 0},
		{"white, ended by ST", "\x1b]11;rgb:ffff/ffff/ffff\x1b\\", "", "", true, look.Light},
		{"black, ended by BEL, between keys", "a\x1b]11;rgb:0000/0000/0000\ab", "ab", "", true, look.Dark},
		{"two digits a part", "\x1b]11;rgb:f4/f1/ea\x1b\\", "", "", true, look.Light},
		{"a blue that white stands on", "\x1b]11;rgb:0000/2b2b/3636\x1b\\", "", "", true, look.Dark},
		{"cut in two", "x\x1b]11;rgb:ff", "x", "\x1b]11;rgb:ff", false, 0},
		{"an answer to something else", "\x1b]52;c;QQ==\x1b\\q", "q", "", false, 0},
		{"no end in sight", "\x1b]" + strings.Repeat("z", 80), "\x1b]" + strings.Repeat("z", 80), "", false, 0},
		{"two answers, the last one counts", "\x1b]11;rgb:0/0/0\a\x1b]11;rgb:f/f/f\a", "", "", true, look.Light},
	} {
		keys, rest, ground, ok := sift([]byte(c.in))
		if string(keys) != c.keys || string(rest) != c.rest || ok != c.ok || ground != c.ground {
			t.Errorf("%s: keys %q rest %q ground %v %v", c.why, keys, rest, ground, ok)
		}
	}
}

// TestConfig reads, refuses and keeps the settings of the config file.
func TestConfig(t *testing.T) {
	dir := t.TempDir()
	env := map[string]string{"XDG_CONFIG_HOME": dir}
	sh := shell{env: func(k string) string { return env[k] }}
	if s, told := readConfig(sh); s != (bench.Settings{}) || told != nil {
		t.Fatalf("no file: %+v %v", s, told)
	}
	want := bench.Settings{Choice: look.Choice{Ground: "light"}, Quiet: true}
	if err := keepConfig(sh, want); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, "soapstone", "config.toml")
	data, err := os.ReadFile(name)
	if err != nil || !strings.Contains(string(data), `ground = "light"`) || !strings.Contains(string(data), "bell = false") || strings.Contains(string(data), "\ncolour") {
		t.Fatalf("%v\n%s", err, data)
	}
	s, told := readConfig(sh)
	if s.Ground != "light" || !s.Quiet || s.NoMouse || told != nil {
		t.Fatalf("read back: %+v %v", s, told)
	}
	// What the user wrote stays.
	os.WriteFile(name, []byte("# mine\nbell   = false # hush\ncolour = \"16\"\n"), 0o644)
	if err := keepConfig(sh, bench.Settings{Choice: look.Choice{Colour: "none"}}); err != nil {
		t.Fatal(err)
	}
	if data, _ = os.ReadFile(name); string(data) != "# mine\nbell   = true # hush\ncolour = \"none\"\n" {
		t.Fatalf("kept as\n%s", data)
	}
	os.WriteFile(name, []byte("ground = \"blue\"\ncolor = \"16\"\nmouse = 1\nsigns = \"ascii\"\n"), 0o644)
	s, told = readConfig(sh)
	all := strings.Join(told, "\n")
	for _, words := range []string{"config.toml:1", "auto, dark", "config.toml:2", "colour", "config.toml:3", "true"} {
		if !strings.Contains(all, words) {
			t.Errorf("what is told of a faulty file lacks %q:\n%s", words, all)
		}
	}
	if s.Signs != "ascii" {
		t.Error("the rest of a faulty file does not count")
	}
	env["SOAPSTONE_THEME"] = "dark"
	if s, _ = readConfig(sh); s.Ground != "dark" {
		t.Error("the environment does not stand above the file")
	}
}

func (x *terminal) wrote() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.raw.String()
}

func (x *terminal) writes(words string) {
	x.t.Helper()
	for end := time.Now().Add(15 * time.Second); !strings.Contains(x.wrote(), words); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			x.t.Fatalf("the terminal never got %q; its screen:\n%s", words, x.screen())
		}
	}
}

// TestTerminalGround answers the question for the background as a light terminal would: the screen takes the light look,
// and nothing of the answer counts as a key.
func TestTerminalGround(t *testing.T) {
	home := t.TempDir()
	x := openTerminalEnv(t, home, 80, 24, []string{"TERM=xterm-256color", "COLORTERM=truecolor"}, writeJob(t, smallJob))
	x.see("of 7 pieces")
	x.writes("\x1b]11;?")
	x.writes("38;2;237;232;220") // chalk on slate until somebody answers
	x.send("\x1b]11;rgb:f4f4/f1")
	time.Sleep(30 * time.Millisecond)
	x.send("f1/eaea\x1b\\")
	x.writes("38;2;29;36;40") // slate on chalk
	x.send("g")
	x.see("how the bench looks", "light here")
	for range 1 { // dark, by hand, whatever the terminal says
		x.send("\x1b[C")
	}
	x.see("< dark >")
	x.send("\x1b[6~")
	time.Sleep(30 * time.Millisecond)
	x.send("\r")
	x.see("kept for every job")
	data, err := os.ReadFile(filepath.Join(home, ".config", "soapstone", "config.toml"))
	if err != nil || !strings.Contains(string(data), `ground = "dark"`) {
		t.Fatalf("%v\n%s", err, data)
	}
	x.send("q")
	if err := x.cmd.Wait(); err != nil {
		t.Fatal(err)
	}
}

// TestTerminalProfiles holds what reaches the terminal in each colour profile and locale.
func TestTerminalProfiles(t *testing.T) {
	job := writeJob(t, smallJob)
	for _, c := range []struct {
		why       string
		env       []string
		has, lack []string
	}{
		{"true colour", []string{"TERM=xterm-256color", "COLORTERM=truecolor"}, []string{"\x1b[1;38;2;", "\x1b]11;?"}, []string{"\x1b[38;5;"}},
		{"256 colours", []string{"TERM=xterm-256color"}, []string{"38;5;"}, []string{"38;2;"}},
		{"16 colours", []string{"TERM=xterm"}, []string{"\x1b[97m", "\x1b[37m"}, []string{"38;2;", "38;5;"}},
		{"NO_COLOR", []string{"TERM=xterm-256color", "COLORTERM=truecolor", "NO_COLOR=1"}, nil, []string{"38;2;", "38;5;", "\x1b[1m", "\x1b[97m"}},
		{"a dumb terminal is asked nothing", []string{"TERM=dumb"}, nil, []string{"38;2;", "]11;?"}},
	} {
		x := openTerminalEnv(t, t.TempDir(), 80, 24, c.env, job)
		x.see("of 7 pieces")
		raw := x.wrote()
		for _, s := range c.has {
			if !strings.Contains(raw, s) {
				t.Errorf("%s: %q never reached the terminal", c.why, s)
			}
		}
		for _, s := range c.lack {
			if strings.Contains(raw, s) {
				t.Errorf("%s: %q reached the terminal", c.why, s)
			}
		}
		x.send("q")
		x.cmd.Wait()
	}
	x := openTerminalEnv(t, t.TempDir(), 80, 24, []string{"TERM=xterm", "LANG=C", "LC_ALL=C"}, job)
	x.see("of 7 pieces")
	for _, k := range "123456789" {
		x.send(string(k))
		time.Sleep(60 * time.Millisecond)
	}
	for _, r := range x.wrote() {
		if r > 126 {
			t.Fatalf("%q reached a terminal whose locale has no Unicode:\n%s", r, x.screen())
		}
	}
}

// TestTerminalEscThenKey sends esc and the next key in one write: both count.
func TestTerminalEscThenKey(t *testing.T) {
	x := openTerminal(t, t.TempDir(), 80, 24, writeJob(t, smallJob))
	x.see("of 7 pieces")
	x.send("2")
	x.see("enter change")
	x.send("a")
	x.see("add to the job")
	x.send("\x1b4")
	x.see("LOAD")
	x.send("l")
	x.see("measured length")
	x.send("\x1b1")
	x.see("of 7 pieces")
}

// TestTerminalSuspend stops the program with ctrl-z, as a shell would see it, and lets it go on.
func TestTerminalSuspend(t *testing.T) {
	if _, err := exec.LookPath("bash"); err != nil {
		t.Skip("no shell with job control")
	}
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	job := writeJob(t, smallJob)
	x := &terminal{t: t}
	x.start(exec.Command("bash", "--norc", "-i"), t.TempDir(), 80, 24, []string{"TERM=tmux-256color", "PS1=ready>"})
	x.see("ready>")
	x.send(path + " " + job + "\r")
	x.see("of 7 pieces", "q leave")
	x.send("\x1a")
	x.writes("\x1b[?1049l")
	x.see("Stopped")
	x.send("fg\r")
	x.see("of 7 pieces", "q leave")
	x.send("4")
	x.see("LOAD")
	x.send("q")
	x.gone("LOAD")
	x.send("stty -a | grep -o ' icanon'; echo left\r")
	x.see("\nleft")
	x.see("icanon")
}

// faulty is a station whose code fails at a key, in its view or beside the screen.
type faulty struct{ view bool }

func (f *faulty) Name() string    { return "Faulty" }
func (f *faulty) Purpose() string { return "fails" }
func (f *faulty) Keys(*station.Desk) []station.Key {
	return []station.Key{{Keys: []string{"x"}, Does: "fail"}, {Keys: []string{"v"}, Does: "fail to draw"}}
}
func (f *faulty) Press(_ *station.Desk, k string) []station.Intent {
	if k == "v" {
		f.view = true
		return nil
	}
	panic("a fault on purpose")
}
func (f *faulty) View(*station.Desk, int, int) []string {
	if f.view {
		panic("a fault on purpose, in drawing")
	}
	return []string{"faulty station"}
}

// TestTerminalFault lets the bench's own code panic: the terminal is given back, and the caller is told where the report lies.
func TestTerminalFault(t *testing.T) {
	for _, key := range []string{"x", "v"} {
		home := t.TempDir()
		x := &terminal{t: t}
		tty := x.open(80, 24)
		before := modes(t, tty)
		sh := shell{tty, tty, tty, func(k string) string {
			return map[string]string{"HOME": home, "TERM": "tmux-256color", "LANG": "C.UTF-8"}[k]
		}}
		cfg := bench.Config{Source: fixed{}, Plan: plan.Build, Tables: plan.Input{Steel: table.Steel()}, Clock: time.Now, Stations: []station.Station{&faulty{}},
			Report: func(v any) string { return crashReport(sh, v) }}
		ended := make(chan error, 1)
		go func() { ended <- runBench(t.Context(), sh, cfg) }()
		x.see("faulty station")
		x.send(key)
		var err error
		select {
		case err = <-ended:
		case <-time.After(10 * time.Second):
			t.Fatalf("%s: it never ended:\n%s", key, x.screen())
		}
		report := filepath.Join(home, ".local", "state", "soapstone", "fault-report.txt")
		if err == nil || !strings.Contains(err.Error(), report) {
			t.Fatalf("%s: the caller is told %v", key, err)
		}
		data, err := os.ReadFile(report)
		if err != nil || !strings.Contains(string(data), "a fault on purpose") || !strings.Contains(string(data), "look_test.go") {
			t.Fatalf("%s: the report does not say where: %v\n%s", key, err, data)
		}
		x.writes("\x1b[?1049l")
		if after := modes(t, tty); after != before {
			t.Errorf("%s: the terminal was left in another mode: %+v, was %+v", key, after, before)
		}
	}
}

// fixed is a job that never changes.
type fixed struct{}

func (fixed) Name() string { return "fixed.toml" }
func (fixed) Read() (*job.Job, []text.Problem, string) {
	cat := table.Steel()
	j, p := job.Reader{Catalogue: &cat}.Read(job.File{Name: "fixed.toml", Data: []byte(smallJob)})
	return &j, p, "1"
}
func (fixed) Changed(string) bool { return false }

var _ tea.Model = (*bench.Guarded)(nil)

// TestTerminalHangup ends the program as a closed window does.
func TestTerminalHangup(t *testing.T) {
	for _, s := range []syscall.Signal{syscall.SIGHUP, syscall.SIGTERM} {
		x := openTerminal(t, t.TempDir(), 80, 24, writeJob(t, smallJob))
		x.see("of 7 pieces")
		x.cmd.Process.Signal(s)
		done := make(chan error, 1)
		go func() { done <- x.cmd.Wait() }()
		select {
		case err := <-done:
			if err != nil {
				t.Errorf("%v: %v", s, err)
			}
		case <-time.After(10 * time.Second):
			t.Fatalf("%v does not end it", s)
		}
		x.writes("\x1b[?1049l")
	}
}
