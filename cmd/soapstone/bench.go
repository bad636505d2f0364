package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime/debug"
	"strings"
	"syscall"
	"time"

	// Before the screen library: see the package.
	_ "bench.example/soapstone/tui/early"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"
	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sum"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/example"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/bench"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
	"bench.example/soapstone/tui/way"
)

// openBench opens the workbench on a job, or on the built-in example.
func openBench(cmd *cobra.Command, args []string, sh shell) error {
	if len(args) > 0 && !strings.ContainsAny(args[0], "./\\") {
		if _, err := os.Stat(args[0]); err != nil {
			return failf(exitUse, "%q is neither a command nor a job file; %s", text.Clean(args[0]), nearCommand(cmd, args[0]))
		}
	}
	if len(args) > 1 {
		return failf(exitUse, "one job at a time; see soapstone --help")
	}
	src := &jobSource{cmd: cmd, sh: sh}
	settings, notes := readConfig(sh)
	if len(args) == 1 && isFolder(args[0]) && asTerminal(sh.in) && asTerminal(sh.out) {
		path, err := chooseJob(cmd.Context(), sh, args[0], settings)
		switch {
		case errors.Is(err, errLeft):
			return nil
		case err != nil:
			return err
		case path == "":
			args = nil
		default:
			args = []string{path}
		}
	}
	if len(args) == 1 {
		src.name = args[0]
		if _, _, err := file.Read(file.OS, src.name, file.MaxText); err != nil {
			// A job that is not there yet is asked for, where somebody can answer and it can be kept.
			if !errors.Is(err, fs.ErrNotExist) || !strings.HasSuffix(src.name, ".toml") || !asTerminal(sh.in) || !asTerminal(sh.out) || !isFolder(filepath.Dir(src.name)) {
				return fail(exitFiles, err)
			}
		}
	} else {
		var err error
		if src.name, err = keepExample(sh); err != nil {
			src.fixed = example.Job
			src.name = example.Name
			notes = append(notes, "the example cannot be kept, so nothing you do here is: "+err.Error())
		}
	}
	if !asTerminal(sh.in) || !asTerminal(sh.out) {
		return failf(exitUse, "the workbench needs a terminal; soapstone plan %s prints the plan", src.name)
	}
	prices, wrong, err := priceBook(cmd, sh)
	if err != nil {
		return err
	}
	for _, p := range wrong {
		notes = append(notes, p.String())
	}
	cfg := bench.Config{
		Source: src, Plan: withPrices(cmd, sh, withPast(cmd, sh, src.kept())), Tables: plan.Input{Steel: table.Steel(), Book: prices, Today: today(sh)}, Clock: time.Now, Settings: settings, Found: found(sh),
		Stations: way.Stations(sum.Tables{Steel: table.Steel()}, func(d *station.Desk, w work.What) string { return bench.Tell(w, jobOf(d)) }, time.Local),
		Asked:    job.Reader{}.Reference(job.File{Name: example.Name, Data: example.Job}),
		Bell:     func() { fmt.Fprint(os.Stdout, "\a") }, Report: func(v any) string { return crashReport(sh, v) },
		Copy: func(s string) { termenv.NewOutput(os.Stdout).Copy(s) },
	}
	if configFile(sh, configName) != "" {
		cfg.Keep = func(s bench.Settings) error { return keepConfig(sh, s) }
	}
	if src.fixed == nil {
		cfg.Editor = src.editor
		if seen := stateFile(sh, "tour-seen"); len(args) == 0 && seen != "" {
			_, err := os.Stat(seen)
			cfg.Tour = errors.Is(err, fs.ErrNotExist)
			cfg.Toured = func() { _ = os.WriteFile(seen, []byte("the guided tour was shown\n"), 0o644) }
		}
		r, past, told, err := openRecord(sh, src.name)
		notes = append(notes, told...)
		if err != nil {
			notes = append(notes, "nothing can be recorded: "+err.Error())
		} else {
			defer r.Close()
			cfg.Journal, cfg.Past, cfg.Writer = r, past, r.Next().Writer
		}
	}
	cfg.Told = notes
	return runBench(cmd.Context(), sh, cfg)
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// heapWanted is what the collector holds the heap to as long as it can; a large job may take more.
const heapWanted = 28 << 20

func runBench(ctx context.Context, sh shell, cfg bench.Config) (err error) {
	// A bench stands open all day beside other programs: rather a little more work for the collector than memory held.
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(heapWanted))
	in, out := sh.in.(*os.File), sh.out.(*os.File)
	if asksGround(sh.env("TERM")) {
		cfg.AskTerm = func() { _, _ = io.WriteString(out, askGround) }
	}
	m := bench.Guard(bench.New(cfg))
	ears := &ear{File: in}
	// Signals end the context. The library's own handler would answer them too, and wait for ever where the loop ended first.
	p := tea.NewProgram(m, tea.WithAltScreen(), tea.WithMouseCellMotion(), tea.WithFPS(120), tea.WithContext(ctx), tea.WithoutSignalHandler(),
		tea.WithInput(ears), tea.WithOutput(out))
	ears.heard = func(t look.Theme) { p.Send(bench.GroundMsg(t)) }
	m.Stop = func() { go p.Quit() }
	hangup := make(chan os.Signal, 1)
	signal.Notify(hangup, syscall.SIGHUP)
	defer signal.Stop(hangup)
	go func() {
		if _, ok := <-hangup; ok {
			p.Quit()
		}
	}()
	_, err = p.Run()
	close(hangup)
	switch {
	case m.Where != "":
		return failf(exitJob, "a fault in soapstone itself; the report lies in %s; every confirmed entry is on the disk", m.Where)
	case errors.Is(err, tea.ErrProgramPanic):
		return failf(exitJob, "%w; every confirmed entry is on the disk", err)
	case errors.Is(err, tea.ErrInterrupted), errors.Is(err, tea.ErrProgramKilled) && ctx.Err() != nil:
		return nil
	case err != nil:
		return fail(exitFiles, err)
	}
	return nil
}

// crashReport writes what is known of a fault beside the state of the user, and gives where.
func crashReport(sh shell, v any) string {
	path := stateFile(sh, "fault-report.txt")
	if path == "" {
		return fmt.Sprint(v)
	}
	report := fmt.Sprintf("soapstone %s\n%v\n\n%s", version, v, debug.Stack())
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Sprint(v)
	}
	if err := os.WriteFile(path, []byte(report), 0o644); err != nil {
		return fmt.Sprint(v)
	}
	return path
}

// keepExample gives the example as a file of the user's state folder, made where it is not there yet.
func keepExample(sh shell) (string, error) {
	path := stateFile(sh, filepath.Join("example", example.Name))
	if path == "" {
		return "", errors.New("HOME is not set")
	}
	if _, err := os.Stat(path); err == nil {
		return path, nil
	} else if !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return "", err
	}
	return path, file.Write(file.OS, path, example.Job, file.Options{})
}

// jobSource is the job file as the bench reads it.
type jobSource struct {
	cmd   *cobra.Command
	sh    shell
	name  string
	fixed []byte // the text itself, where no file can be kept
}

// Name is the file's name.
func (s *jobSource) Name() string { return filepath.Base(s.name) }

// Read reads the job.
func (s *jobSource) Read() (*job.Job, []text.Problem, string) {
	data, err := s.text()
	if err != nil {
		return nil, []text.Problem{{Code: "file", Severity: text.Error, File: s.name, Message: err.Error()}}, ""
	}
	shop, err := shopFiles(s.cmd, s.sh)
	if err != nil {
		return nil, []text.Problem{{Code: "file", Severity: text.Error, Message: err.Error()}}, ""
	}
	cat := table.Steel()
	j, problems := job.Reader{Catalogue: &cat}.Read(job.File{Name: s.Name(), Data: data}, shop...)
	return &j, problems, stampOf(data)
}

func (s *jobSource) text() ([]byte, error) {
	if s.fixed != nil {
		return s.fixed, nil
	}
	data, _, err := file.Read(file.OS, s.name, file.MaxText)
	return data, err
}

// Text gives the job as it is written.
func (s *jobSource) Text() ([]byte, error) {
	return s.text()
}

// Kept says why an edit cannot be kept.
func (s *jobSource) Kept() string {
	if s.fixed != nil {
		return "the example cannot be kept in a file here"
	}
	return ""
}

// Write replaces the file, if it still says what it said at the stamp.
func (s *jobSource) Write(data []byte, stamp string) error {
	if s.fixed != nil {
		return errors.New("the example cannot be kept in a file here")
	}
	old, at, err := file.Read(file.OS, s.name, file.MaxText)
	if errors.Is(err, fs.ErrNotExist) && stamp == "" {
		return file.Write(file.OS, s.name, data, file.Options{Fresh: true})
	}
	if err != nil {
		return err
	}
	if stampOf(old) != stamp {
		return file.ErrChanged
	}
	return file.Write(file.OS, s.name, data, file.Options{Expect: &at})
}

// Check gives what the reader says of a text.
func (s *jobSource) Check(data []byte) (*job.Job, []text.Problem) {
	shop, err := shopFiles(s.cmd, s.sh)
	if err != nil {
		return nil, nil
	}
	cat := table.Steel()
	j, problems := job.Reader{Catalogue: &cat}.Read(job.File{Name: s.Name(), Data: data}, shop...)
	return &j, problems
}

// editor is the user's own editor on the job file, as VISUAL or EDITOR says.
func (s *jobSource) editor() (*exec.Cmd, error) {
	words := strings.Fields(s.sh.env("VISUAL"))
	if len(words) == 0 {
		words = strings.Fields(s.sh.env("EDITOR"))
	}
	if len(words) == 0 {
		if path, err := exec.LookPath("vi"); err == nil {
			words = []string{path}
		}
	}
	if len(words) == 0 {
		return nil, errors.New("no editor is known; set EDITOR")
	}
	cmd := exec.Command(words[0], append(words[1:], s.name)...)
	cmd.Stdin = os.Stdin // the terminal itself: the screen's own input takes answers out
	return cmd, nil
}

// Changed tells whether the file says something else now. A file that cannot be read just now (an editor is about to
// replace it) has not changed yet.
func (s *jobSource) Changed(stamp string) bool {
	data, err := s.text()
	return err == nil && stampOf(data) != stamp
}

func jobOf(d *station.Desk) *job.Job {
	if d.Plan == nil {
		return nil
	}
	return d.Plan.Job
}

func stampOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:8])
}

// nearCommand says where the command that was meant is found: its name, where only a letter or two of it are wrong.
func nearCommand(cmd *cobra.Command, word string) string {
	var names []string
	for _, c := range cmd.Root().Commands() {
		names = append(names, c.Name())
	}
	if n := text.Nearest(strings.ToLower(word), names); n != "" {
		return fmt.Sprintf("is soapstone %s meant?", n)
	}
	return "see soapstone --help"
}
