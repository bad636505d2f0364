package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
)

// binary is the program under test, built once.
var binary = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "soapstone-test")
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "soapstone")
	out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%v\n%s", err, out)
	}
	return path, nil
})

// terminal is the program in a pseudo-terminal, its output fed to a terminal emulator.
type terminal struct {
	t    *testing.T
	cmd  *exec.Cmd
	file *os.File
	mu   sync.Mutex
	emu  *vt.Emulator
	raw  bytes.Buffer // all that was written
	done chan struct{}
}

func openTerminal(t *testing.T, home string, w, h int, args ...string) *terminal {
	t.Helper()
	return openTerminalEnv(t, home, w, h, []string{"TERM=tmux-256color"}, args...)
}

func openTerminalEnv(t *testing.T, home string, w, h int, env []string, args ...string) *terminal {
	t.Helper()
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	x := &terminal{t: t}
	x.start(exec.Command(path, args...), home, w, h, env)
	return x
}

// start runs a command in the terminal.
func (x *terminal) start(cmd *exec.Cmd, home string, w, h int, env []string) {
	x.t.Helper()
	tty := x.open(w, h)
	x.cmd = cmd
	cmd.Env = append([]string{"HOME=" + home, "LANG=C.UTF-8", "PATH=" + os.Getenv("PATH"), "EDITOR=" + os.Getenv("EDITOR")}, env...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = tty, tty, tty
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := cmd.Start(); err != nil {
		x.t.Fatal(err)
	}
	tty.Close()
	x.t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
	})
}

// open makes the pair of a terminal and reads what is written to it.
func (x *terminal) open(w, h int) *os.File {
	x.t.Helper()
	x.emu, x.done = vt.NewEmulator(w, h), make(chan struct{})
	file, tty, err := pty.Open()
	if err != nil {
		x.t.Fatal(err)
	}
	x.file = file
	if err := pty.Setsize(file, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)}); err != nil {
		x.t.Fatal(err)
	}
	go func() {
		defer close(x.done)
		buf := make([]byte, 1<<16)
		for {
			n, err := file.Read(buf)
			x.mu.Lock()
			x.emu.Write(buf[:n])
			x.raw.Write(buf[:n])
			x.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	go func() { // what the emulator would answer goes nowhere; unread it would block
		buf := make([]byte, 1024)
		for {
			if _, err := x.emu.Read(buf); err != nil {
				return
			}
		}
	}()
	x.t.Cleanup(func() { // runs after the one that ends the command
		tty.Close()
		file.Close()
		<-x.done
		x.emu.Close() // else the answers are waited for as long as the test runs, and the emulator is kept
	})
	return tty
}

func (x *terminal) screen() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.emu.String()
}

func (x *terminal) send(keys string) {
	x.t.Helper()
	if _, err := x.file.Write([]byte(keys)); err != nil {
		x.t.Fatal(err)
	}
}

// see waits until the screen shows all the words.
func (x *terminal) see(words ...string) string {
	x.t.Helper()
	end := time.Now().Add(15 * time.Second)
	for {
		s := x.screen()
		all := true
		for _, w := range words {
			all = all && strings.Contains(s, w)
		}
		if all {
			return s
		}
		if time.Now().After(end) {
			x.t.Fatalf("the screen never showed %q:\n%s", words, s)
		}
		time.Sleep(10 * time.Millisecond)
	}
}

// gone waits until the screen no longer shows the words.
func (x *terminal) gone(words string) {
	x.t.Helper()
	for end := time.Now().Add(15 * time.Second); strings.Contains(x.screen(), words); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			x.t.Fatalf("the screen still shows %q:\n%s", words, x.screen())
		}
	}
}

func TestTerminalOpensTheExample(t *testing.T) {
	x := openTerminal(t, t.TempDir(), 80, 24)
	x.see("soapstone", "Kayak rack", "A short tour")
	x.send("\x1b")
	x.gone("A short tour") // an escape and the next key in one read would be another key
	x.see("proven")
	x.send("?")
	x.see("at a glance")
	x.send("?")
	x.send("q")
	if err := x.cmd.Wait(); err != nil {
		t.Fatalf("leaving: %v", err)
	}
}

func writeJob(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "frame.toml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

const smallJob = `
title = "Paddle stand"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
sticks = [ {length = "20ft", price = 31.20} ]
[[rectangle]]
name = "base"
section = "rail"
length = "61in"
width = "33in"
[[crossbars]]
on = "base"
section = "rail"
count = 3
`

// confirmed gives how many pieces the screen says are cut.
func confirmed(screen string) int {
	var n, of int
	for _, line := range strings.Split(screen, "\n") {
		if i := strings.Index(line, "  piece "); i >= 0 {
			if _, err := fmt.Sscanf(line[i:], "  piece %d of %d", &n, &of); err == nil {
				return n - 1
			}
		}
	}
	if strings.Contains(screen, "Every piece is cut") {
		return 7
	}
	return -1
}

// TestTerminalKilledAtTheSaw kills the program between two keystrokes, again and again: the next start must show every
// cut that a screen had confirmed.
func TestTerminalKilledAtTheSaw(t *testing.T) {
	job, home := writeJob(t, smallJob), t.TempDir()
	seen := 0
	for round := 0; seen < 7 && round < 30; round++ {
		x := openTerminal(t, home, 100, 30, job)
		x.see("of 7 pieces")
		x.send("4")
		x.see("stick")
		var at int
		end := time.Now().Add(10 * time.Second)
		for at = -1; at < 0 && time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
			at = confirmed(x.screen())
		}
		if at < seen {
			t.Fatalf("round %d: the screen had confirmed %d cuts, now it shows %d:\n%s", round, seen, at, x.screen())
		}
		for k := 0; k <= round%4+3; k++ {
			x.send(" ")
			time.Sleep(time.Duration(3+7*(round%5)) * time.Millisecond)
		}
		// Kill at an instant that depends on the round, then believe only what the screen had shown by then.
		if n := confirmed(x.screen()); n > seen {
			seen = n
		}
		x.cmd.Process.Signal(syscall.SIGKILL)
		x.cmd.Wait()
		<-x.done
		if n := confirmed(x.screen()); n > seen {
			seen = n
		}
	}
	if seen < 7 {
		t.Fatalf("only %d of 7 pieces were ever confirmed", seen)
	}
	x := openTerminal(t, home, 100, 30, job)
	x.see("7 of 7 pieces")
}

func TestTerminalSpoiledPiece(t *testing.T) {
	job, home := writeJob(t, smallJob), t.TempDir()
	x := openTerminal(t, home, 100, 30, job)
	x.see("of 7 pieces")
	x.send("4")
	x.see("LOAD")
	for n := 0; n < 12 && confirmed(x.screen()) < 2; n++ {
		x.send(" ")
		time.Sleep(150 * time.Millisecond)
	}
	before := confirmed(x.screen())
	if before < 2 {
		t.Fatalf("no cut was confirmed:\n%s", x.screen())
	}
	x.send("x")
	x.see("spoiled piece:")
	x.send("\r")
	x.see("was spoiled")
	x.send("1")
	x.see(fmt.Sprintf("%d of 7 pieces", before-1))
}

func TestTerminalTwoWindows(t *testing.T) {
	job, home := writeJob(t, smallJob), t.TempDir()
	a := openTerminal(t, home, 100, 30, job)
	b := openTerminal(t, home, 100, 30, job)
	a.see("0 of 7 pieces")
	b.see("0 of 7 pieces")
	a.send("4")
	a.see("LOAD")
	for n := 0; n < 12 && confirmed(a.screen()) < 1; n++ {
		a.send(" ")
		time.Sleep(150 * time.Millisecond)
	}
	b.see(fmt.Sprintf("%d of 7 pieces", confirmed(a.screen())))
}

func TestTerminalResizes(t *testing.T) {
	home := t.TempDir()
	x := openTerminal(t, home, 80, 24)
	x.see("A short tour")
	x.send("\x1b")
	x.see("pieces")
	for _, s := range [][2]int{{50, 15}, {20, 5}, {200, 60}, {80, 24}} {
		pty.Setsize(x.file, &pty.Winsize{Cols: uint16(s[0]), Rows: uint16(s[1])})
		x.mu.Lock()
		x.emu.Resize(s[0], s[1])
		x.mu.Unlock()
		time.Sleep(50 * time.Millisecond)
	}
	x.see("Kayak rack", "30 of 9 kinds")
	x.send("q")
	x.cmd.Wait()
	// The tour is never shown again.
	x = openTerminal(t, home, 80, 24)
	x.see("30 of 9 kinds")
	if strings.Contains(x.screen(), "A short tour") {
		t.Fatal("the tour is shown a second time")
	}
}

// TestTerminalResizeStorm resizes in the midst of keys, many times; the last size must be drawn whole.
func TestTerminalResizeStorm(t *testing.T) {
	job := writeJob(t, smallJob)
	x := openTerminal(t, t.TempDir(), 80, 24, job)
	x.see("7 pieces")
	for i := range 60 {
		w, h := 20+(i*37)%150, 5+(i*13)%50
		pty.Setsize(x.file, &pty.Winsize{Cols: uint16(w), Rows: uint16(h)})
		x.mu.Lock()
		x.emu.Resize(w, h)
		x.mu.Unlock()
		x.send(string("12345678\t"[i%9]))
		time.Sleep(3 * time.Millisecond)
	}
	pty.Setsize(x.file, &pty.Winsize{Cols: 90, Rows: 28})
	x.mu.Lock()
	x.emu.Resize(90, 28)
	x.mu.Unlock()
	x.send("1")
	x.see("Paddle stand", "7 pieces", "q leave")
}

// TestTerminalNewJobToSaw begins with no file at all.
func TestTerminalNewJob(t *testing.T) {
	path := filepath.Join(t.TempDir(), "mooring.toml")
	x := openTerminal(t, t.TempDir(), 100, 34, path)
	x.see("There is no job in mooring.toml yet", "how long")
	x.send("\x7f\x7f\x7f\x7f\x7fCleat bench")
	for range 15 {
		x.send("\x1b[B")
		time.Sleep(15 * time.Millisecond)
	}
	x.send("\r")
	x.see("Cleat bench", "rectangle")
	data, err := os.ReadFile(path)
	if err != nil || !strings.Contains(string(data), "Cleat bench") {
		t.Fatalf("the job was not written: %v\n%s", err, data)
	}
	x.send("4")
	x.see("LOAD")
}

// TestTerminalEditor edits the job in the user's editor and takes the change up.
func TestTerminalEditor(t *testing.T) {
	job := writeJob(t, smallJob)
	editor := filepath.Join(t.TempDir(), "ed")
	os.WriteFile(editor, []byte("#!/bin/sh\nsed -i s/33in/35in/ \"$1\"\n"), 0o755)
	t.Setenv("EDITOR", editor)
	x := openTerminal(t, t.TempDir(), 100, 30, job)
	x.see("7 pieces")
	x.send("2")
	x.see("rectangle")
	x.send("e")
	x.see("35in")
}

// TestTerminalTitleAndBell reads what goes to the terminal beside the screen.
func TestTerminalCopies(t *testing.T) {
	x := openTerminal(t, t.TempDir(), 100, 30, writeJob(t, smallJob))
	x.see("7 pieces")
	x.send("3")
	x.see("To buy")
	x.send("c")
	x.see("copied:")
	x.mu.Lock()
	raw := x.raw.String()
	x.mu.Unlock()
	if !strings.Contains(raw, "\x1b]52;") {
		t.Error("no OSC 52 reached the terminal")
	}
	if !strings.Contains(raw, "\x1b]2;") {
		t.Error("the window has no title")
	}
	x.send("q")
	x.cmd.Wait()
	<-x.done
	x.mu.Lock()
	defer x.mu.Unlock()
	if !strings.HasSuffix(strings.TrimRight(x.raw.String(), "\r\n"), "h") && !strings.Contains(x.raw.String(), "\x1b[?1049l") {
		t.Error("the terminal was not given back")
	}
}

func TestExitStatus(t *testing.T) {
	dir := t.TempDir()
	bad := filepath.Join(dir, "bad.toml")
	os.WriteFile(bad, []byte("titel = \"x\"\n"), 0o644)
	for _, c := range []struct {
		why    string
		args   []string
		status int
	}{
		{"version", []string{"--version"}, 0},
		{"help", []string{"--help"}, 0},
		{"unknown command", []string{"no-such-command"}, 2},
		{"unknown flag", []string{"plan", "--colour"}, 2},
		{"missing argument", []string{"plan"}, 2},
		{"no such file", []string{"plan", "no/such/file.toml"}, 3},
		{"a folder in place of a file", []string{"check", dir}, 3},
		{"a job that cannot be read", []string{"check", bad}, 1},
		{"piece longer than every stick", []string{"nest", "--stick", "20ft", "1@21ft"}, 1},
		{"not a piece", []string{"nest", "--stick", "20ft", "nonsense"}, 2},
		{"no sum of that name", []string{"sum", "nothing"}, 2},
		{"a sum without its arguments", []string{"sum", "section"}, 2},
		{"the workbench without a terminal", nil, 2},
	} {
		var out, err bytes.Buffer
		got := run(t.Context(), c.args, shell{strings.NewReader(""), &out, &err, func(k string) string {
			if k == "HOME" {
				return dir
			}
			return ""
		}})
		if got != c.status {
			t.Errorf("%s: exit %d, want %d; %s", c.why, got, c.status, err.String())
		}
		if c.status != 0 && (out.Len() > 0 || err.Len() == 0) {
			t.Errorf("%s: a refusal writes to standard error only; out %q, err %q", c.why, out.String(), err.String())
		}
	}
}
