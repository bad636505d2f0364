package bench

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"hash/crc32"
	"io/fs"
	"strings"
	"sync"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sum"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/example"
	"bench.example/soapstone/stock/record"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
	"bench.example/soapstone/tui/way"
)

var update = flag.Bool("update", false, "write the golden screens anew; read the difference")

func stampOf(data []byte) string {
	if data == nil {
		return ""
	}
	return fmt.Sprintf("%08x", crc32.ChecksumIEEE(data))
}

// reference is asked of the reader once for all tests.
var reference = sync.OnceValue(func() []text.Asked {
	cat := table.Steel()
	return job.Reader{Catalogue: &cat}.Reference(job.File{Name: example.Name, Data: example.Job})
})

// memory is a record without a disk.
type memory struct {
	entries []record.Entry
	given   int
	number  uint64
	fail    error
}

func (m *memory) Next() record.ID {
	m.number++
	return record.ID{Writer: 7, Number: m.number}
}

func (m *memory) AppendIf(still func([]record.Entry) bool, drafts ...record.Draft) (record.News, error) {
	if m.fail != nil {
		return record.News{}, m.fail
	}
	if !still(m.entries[m.given:]) {
		n, _ := m.Poll()
		return n, record.ErrOvertaken
	}
	for _, d := range drafts {
		m.entries = append(m.entries, record.Entry{Seq: uint64(len(m.entries) + 1), At: d.At, ID: d.ID, Payload: d.Payload})
	}
	return m.Poll()
}

func (m *memory) Poll() (record.News, error) {
	n := record.News{Entries: m.entries[m.given:]}
	m.given = len(m.entries)
	return n, nil
}

// file is a job that a test can change.
type file struct {
	data []byte
	fail error
}

func (f *file) Name() string { return "kayak-rack.toml" }
func (f *file) Read() (*job.Job, []text.Problem, string) {
	if f.data == nil {
		return nil, []text.Problem{{Code: "file", Severity: text.Error, Message: "there is no such file"}}, ""
	}
	cat := table.Steel()
	j, p := job.Reader{Catalogue: &cat}.Read(job.File{Name: f.Name(), Data: f.data})
	return &j, p, stampOf(f.data)
}
func (f *file) Changed(stamp string) bool { return stampOf(f.data) != stamp }

// driver runs a bench without a terminal: commands run at once, ticks only when asked for.
type driver struct {
	t       testing.TB
	m       *Model
	journal *memory
	file    *file
	now     time.Time
	quit    bool
	bells   int
	copied  string
	tour    bool
	toured  int
	build   planner          // in place of plan.Build
	timers  []func() tea.Msg // that wait until settle
}

type (
	ctxt    = context.Context
	planner = func(context.Context, plan.Input) *plan.Plan
)

func (f *file) Text() ([]byte, error) {
	if f.data == nil {
		return nil, fs.ErrNotExist
	}
	return f.data, f.fail
}
func (f *file) Write(data []byte, stamp string) error {
	if f.fail != nil {
		return f.fail
	}
	if f.Changed(stamp) {
		return errors.New("changed by another program since it was read")
	}
	f.data = data
	return nil
}
func (f *file) Check(data []byte) (*job.Job, []text.Problem) {
	cat := table.Steel()
	j, p := job.Reader{Catalogue: &cat}.Read(job.File{Name: f.Name(), Data: data})
	return &j, p
}

func stations() []station.Station {
	return way.Stations(sum.Tables{Steel: table.Steel()}, func(d *station.Desk, w work.What) string {
		if d.Plan == nil {
			return Tell(w, nil)
		}
		return Tell(w, d.Plan.Job)
	}, time.UTC)
}

func newDriver(t testing.TB, profile termenv.Profile, unicode bool, stations ...station.Station) *driver {
	d := &driver{t: t, journal: &memory{}, file: &file{data: example.Job}, now: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	d.start(profile, unicode, stations...)
	return d
}

// past gives what the entries made.
func (j *memory) past() *work.Progress {
	p := work.NewProgress()
	for _, e := range j.entries {
		p.Apply(e.ID, e.At, e.Payload)
	}
	return p
}

func (d *driver) start(profile termenv.Profile, unicode bool, stations ...station.Station) {
	d.journal.given = len(d.journal.entries)
	if d.build == nil {
		d.build = plan.Build
	}
	d.m = New(Config{Source: d.file, Journal: d.journal, Writer: 7, Past: d.journal.past(), Plan: d.build, Tables: plan.Input{Steel: table.Steel()},
		Clock: func() time.Time { return d.now }, Look: look.New(profile, look.Dark, unicode), Stations: stations, Bell: func() { d.bells++ }, Copy: func(s string) { d.copied = s },
		Later: func(_ time.Duration, f func(time.Time) tea.Msg) tea.Cmd {
			d.timers = append(d.timers, func() tea.Msg { return f(d.now) })
			return nil
		},
		Asked: reference(), Tour: d.tour, Toured: func() { d.toured++ }})
	d.do(d.m.reread())
}

// do runs a command and what follows from it.
func (d *driver) do(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	done := make(chan tea.Msg, 1)
	go func() { done <- cmd() }()
	var msg tea.Msg
	select {
	case msg = <-done:
	case <-time.After(30 * time.Second):
		d.t.Fatal("a command never came back")
	}
	d.take(msg)
}

func (d *driver) take(msg tea.Msg) {
	switch msg := msg.(type) {
	case nil, tickMsg:
		return
	case tea.QuitMsg:
		d.quit = true
		return
	case tea.BatchMsg:
		for _, c := range msg {
			d.do(c)
		}
		return
	}
	_, cmd := d.m.Update(msg)
	d.do(cmd)
}

// settle lets the timers that are set run out.
func (d *driver) settle() {
	for len(d.timers) > 0 {
		f := d.timers[0]
		d.timers = d.timers[1:]
		d.take(f())
	}
}

func (d *driver) size(w, h int) { d.take(tea.WindowSizeMsg{Width: w, Height: h}) }

// press sends keys as a terminal would report them.
func (d *driver) press(keys ...string) {
	for _, k := range keys {
		d.take(keyMsg(k))
	}
}

func keyMsg(k string) tea.KeyMsg {
	special := map[string]tea.KeyType{"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "up": tea.KeyUp, "down": tea.KeyDown,
		"left": tea.KeyLeft, "right": tea.KeyRight, "backspace": tea.KeyBackspace, "ctrl+c": tea.KeyCtrlC, "shift+tab": tea.KeyShiftTab, "pgdown": tea.KeyPgDown,
		"pgup": tea.KeyPgUp, "home": tea.KeyHome, "end": tea.KeyEnd}
	if t, ok := special[k]; ok {
		return tea.KeyMsg{Type: t}
	}
	if k == "space" {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
}

// pass moves the clock and lets the bench look at it.
func (d *driver) pass(by time.Duration) {
	d.now = d.now.Add(by)
	_, cmd := d.m.Update(tickMsg(d.now))
	if cmd == nil {
		return
	}
	for _, c := range cmd().(tea.BatchMsg)[1:] { // the first is the next tick
		d.do(c)
	}
}

// screen gives the view without escape sequences, and checks its size.
func (d *driver) screen() string {
	d.t.Helper()
	v := d.m.View()
	lines := strings.Split(v, "\n")
	if len(lines) != d.m.h {
		d.t.Fatalf("the view has %d lines, the window %d", len(lines), d.m.h)
	}
	for i, l := range lines {
		if w := ansi.StringWidth(l); w != d.m.w {
			d.t.Fatalf("line %d has %d cells, the window %d:\n%q", i, w, d.m.w, l)
		}
	}
	return ansi.Strip(v)
}

func (d *driver) see(words ...string) {
	d.t.Helper()
	s := d.screen()
	for _, w := range words {
		if !strings.Contains(s, w) {
			d.t.Fatalf("the screen does not show %q:\n%s", w, s)
		}
	}
}
