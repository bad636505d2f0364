// Command screen measures the workbench from outside, in a pseudo-terminal: the time from start to the first screen on the
// built-in example, from a key to its painted screen, and the most memory that the program held.
//
//	go build -o /tmp/soapstone ./cmd/soapstone && go run ./.ci/bench/screen /tmp/soapstone [JOB | large]
//
// large is a job of 10,000 pieces on some 500 sticks, made for the measurement; without a job it is the built-in example.
package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"sort"
	"strings"
	"time"

	"github.com/creack/pty"
)

const (
	starts = 11
	keys   = 120
)

func main() {
	if len(os.Args) < 2 {
		fmt.Fprintln(os.Stderr, "usage: screen BINARY [JOB]")
		os.Exit(2)
	}
	home, err := os.MkdirTemp("", "soapstone-screen")
	check(err)
	defer os.RemoveAll(home)
	if len(os.Args) > 2 && os.Args[2] == "large" {
		os.Args[2] = home + "/large.toml"
		check(os.WriteFile(os.Args[2], large(), 0o644))
	}
	var first []time.Duration
	for range starts {
		p := open(home, os.Args[1], os.Args[2:]...)
		first = append(first, p.until(func(b []byte) bool { return bytes.Contains(b, []byte("soapstone")) }))
		p.end()
	}
	tell("first screen", first)

	p := open(home, os.Args[1], os.Args[2:]...)
	p.until(func(b []byte) bool { return bytes.Contains(b, []byte("pieces")) })
	p.send("\x1b")
	time.Sleep(300 * time.Millisecond)
	var all []time.Duration
	for _, station := range []string{"1", "2", "3", "4", "5", "6", "7", "9"} {
		p.send(station)
		time.Sleep(300 * time.Millisecond)
		var took []time.Duration
		for i := range keys {
			p.drain()
			start := time.Now()
			// A key that moves where something moves, and one that always changes the screen where nothing does.
			p.send([]string{"?", "?", "\x1b[B", "\x1b[A"}[i%4])
			select {
			case <-p.out:
				took = append(took, time.Since(start))
			case <-time.After(100 * time.Millisecond): // the screen stays as it is
			}
			time.Sleep(time.Duration(5+i%11) * time.Millisecond)
		}
		tell("key, station "+station, took)
		all = append(all, took...)
	}
	tell("key to painted screen", all)
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	if err == nil {
		for _, line := range strings.Split(string(status), "\n") {
			if strings.HasPrefix(line, "VmHWM") || strings.HasPrefix(line, "RssAnon") {
				fmt.Println(strings.Join(strings.Fields(line), " "))
			}
		}
	}
	p.end()
}

// large writes the large job.
func large() []byte {
	var b strings.Builder
	b.WriteString("title = \"Large\"\n[section.rail]\nshape = \"rect-tube\"\nsize = \"2 x 1 x 14ga\"\nsticks = [{length = \"20ft\", price = 27.8}]\n[saw]\nkerf = \"1/16\"\n")
	for i := range 10 {
		fmt.Fprintf(&b, "[[piece]]\nsection = \"rail\"\nlength = \"%dmm\"\nqty = 1000\n", 270+3*i)
	}
	b.WriteString("[[rectangle]]\nname = \"lower\"\nsection = \"rail\"\nlength = \"96in\"\nwidth = \"44in\"\n[[crossbars]]\non = \"lower\"\nsection = \"rail\"\ncount = 40\n" +
		"[welder]\nprocess = \"GMAW\"\namps = 96\nvolts = 17.5\nduty = \"20% at 148A\"\ntravel = \"13ipm\"\nfillet = \"1/8\"\n")
	return []byte(b.String())
}

func check(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

type process struct {
	cmd   *exec.Cmd
	file  *os.File
	out   chan []byte
	began time.Time
}

func open(home, binary string, args ...string) *process {
	p := &process{cmd: exec.Command(binary, args...), out: make(chan []byte, 4096), began: time.Now()}
	p.cmd.Env = []string{"HOME=" + home, "TERM=tmux-256color", "LANG=C.UTF-8"}
	var err error
	p.file, err = pty.StartWithSize(p.cmd, &pty.Winsize{Rows: 40, Cols: 120})
	check(err)
	go func() {
		defer close(p.out)
		for {
			b := make([]byte, 1<<16)
			n, err := p.file.Read(b)
			if n > 0 {
				p.out <- b[:n]
			}
			if err != nil {
				return
			}
		}
	}()
	return p
}

func (p *process) until(done func([]byte) bool) time.Duration {
	var all []byte
	for b := range p.out {
		if all = append(all, b...); done(all) {
			return time.Since(p.began)
		}
	}
	check(fmt.Errorf("the program ended early:\n%s", all))
	return 0
}

func (p *process) drain() {
	for {
		select {
		case <-p.out:
		default:
			return
		}
	}
}

func (p *process) send(s string) {
	_, err := p.file.WriteString(s)
	check(err)
}

func (p *process) end() {
	p.cmd.Process.Kill()
	p.cmd.Wait()
	p.file.Close()
}

func tell(what string, took []time.Duration) {
	sort.Slice(took, func(i, j int) bool { return took[i] < took[j] })
	at := func(q float64) time.Duration {
		return took[min(len(took)-1, int(q*float64(len(took))))].Round(100 * time.Microsecond)
	}
	fmt.Printf("%-24s n=%d median %v p99 %v worst %v\n", what, len(took), at(0.5), at(0.99), took[len(took)-1].Round(100*time.Microsecond))
}
