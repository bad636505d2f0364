// Package bench is the root of the workbench: it owns the size, the keys that work everywhere, the record and the plan,
// and hands everything else to the station in front. Its rules:
//
//   - Only the root changes the station, and only in answer to a key or an intent.
//   - Nothing is shown as done before it is on the disk: events go to the record one batch at a time, in order, and the
//     state of the work is folded from what the record confirmed.
//   - Planning runs beside the screen; a result carries the number of its call, and an older one is dropped.
//   - View reads and never computes; what time it is comes in with a tick.
package bench

import (
	"context"
	"fmt"
	"os/exec"
	"time"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/record"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
)

// Journal is the record of work as the bench needs it; *record.Record is one.
type Journal interface {
	// AppendIf records the drafts, if what others wrote before leaves them their meaning.
	AppendIf(still func(others []record.Entry) bool, drafts ...record.Draft) (record.News, error)
	Poll() (record.News, error)
	Next() record.ID
}

// Source is where the job comes from.
type Source interface {
	// Read gives the job as it stands now, its problems, and a stamp that changes when the text does.
	Read() (*job.Job, []text.Problem, string)
	// Changed tells whether the text differs from the stamp.
	Changed(stamp string) bool
	// Name is the file's name for the eye.
	Name() string
}

// Config is what a bench is made from.
type Config struct {
	Source   Source
	Journal  Journal // nil: nothing is kept
	Writer   uint64
	Past     *work.Progress // what the record held when it was opened; nil: nothing
	Told     []string       // what is to be told about the record
	Plan     func(ctx context.Context, in plan.Input) *plan.Plan
	Tables   plan.Input // steel, shelf: what every plan takes
	Clock    func() time.Time
	Look     *look.Look // nil: made from Settings and Found
	Settings Settings
	Found    look.Found                                           // what is known of the terminal
	Keep     func(Settings) error                                 // keeps the settings for every job; nil: nowhere to
	Later    func(time.Duration, func(time.Time) tea.Msg) tea.Cmd // a timer; nil: the screen library's
	AskTerm  func()                                               // asks the terminal for its background; the answer comes as a GroundMsg
	Stations []station.Station
	Bell     func() // sounds the bell
	Copy     func(string)
	Report   func(any) string          // keeps a crash report, gives where it lies
	Editor   func() (*exec.Cmd, error) // the user's editor on the job file; nil: none
	Asked    []text.Asked              // what a job file may hold
	Tour     bool                      // this is the very first start: show the guided tour
	Toured   func()                    // the tour was seen
}

// Model is the bench; it is a tea.Model.
type Model struct {
	cfg      Config
	desk     station.Desk
	at       int
	w, h     int
	ask      *asking
	form     *filling
	tour     int // step of the guided tour, from 1; 0: none
	help     bool
	helpTop  int
	notice   string
	bad      bool
	noticeAt time.Time

	stamp    string
	before   *plan.Plan     // the plan that the next one is compared with
	causes   []string       // why the next plan is made, told with it
	problems []text.Problem // of the job file; a job with errors is not planned
	folded   folding
	gen      int
	cancel   context.CancelFunc
	progress *progress
	queue    []batch // events that wait for the disk
	flying   bool
	quitting bool
	quits    string // what was asked before quitting

	undoEdits, redoEdits []rewriting
	writingJob           bool
	begun                bool // a new job was asked for
	windowTitle          string
	settings             Settings
	mouseOff             bool
	stuck                *stuck
	helpOf               helped
	marks                map[string]string // of the pieces of the last plan, by what they are
	keptMarks            *plan.Plan        // whose marks are on the record
	deeds, redeeds       []deed            // of this window, the latest last
	renumbered           map[work.ID]work.ID
	sent                 []record.Draft // what was queued last
	pondered             int            // numbers the answers to forms
}

type asking struct {
	station.Ask
	field textinput.Model
	err   string
}

// New makes a bench.
func New(cfg Config) *Model {
	m := &Model{cfg: cfg}
	m.desk = station.Desk{Look: cfg.Look, Now: cfg.Clock(), JobName: cfg.Source.Name(), Keeps: cfg.Journal != nil, Writer: cfg.Writer, Asked: cfg.Asked}
	m.settings = cfg.Settings
	if m.desk.Look == nil {
		m.dress()
	}
	m.folded = newFolding(cfg.Past)
	m.desk.Work = m.folded.state
	if cfg.Tour {
		m.tour = 1
	}
	if len(m.folded.state.OpenArcs()) > 0 {
		m.say("an arc was left open: the weld station asks when it stopped", true)
	}
	if len(cfg.Told) > 0 {
		m.say(cfg.Told[0], true)
	}
	return m
}

// Init reads the job, starts the first plan and the clock.
func (m *Model) Init() tea.Cmd { return tea.Batch(m.reread(), tick(), m.askTerm(), m.mouseNow()) }

// askTerm asks the terminal for its background, beside the screen.
func (m *Model) askTerm() tea.Cmd {
	ask := m.cfg.AskTerm
	if ask == nil {
		return nil
	}
	return m.guard(func() tea.Msg { ask(); return nil })
}

// Messages from the bench's own work.
type (
	tickMsg    time.Time
	plannedMsg struct {
		gen  int
		plan *plan.Plan
	}
	savedMsg struct {
		news record.News
		err  error
		of   batch
	}
	polledMsg struct {
		news record.News
		err  error
		job  bool // the job's text changed
	}
	crashMsg struct{ what string }
)

// tickEvery is how often the bench looks at the clock, the record and the job file: other windows' work shows within a
// second.
const tickEvery = 500 * time.Millisecond

func tick() tea.Cmd { return tea.Tick(tickEvery, func(t time.Time) tea.Msg { return tickMsg(t) }) }

// Update takes one message.
func (m *Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.w, m.h = msg.Width, msg.Height
	case tea.KeyMsg:
		cmd := m.keys(msg)
		return m, tea.Batch(cmd, m.mouseNow())
	case GroundMsg:
		m.heard(look.Theme(msg))
	case tea.ResumeMsg: // the terminal may be another one
		return m, m.askTerm()
	case tea.MouseMsg:
		return m, m.mouse(msg)
	case tickMsg:
		m.desk.Now = m.cfg.Clock()
		m.takeProgress()
		if m.notice != "" && m.desk.Now.Sub(m.noticeAt) > noticeStays {
			m.notice = ""
		}
		cmds := []tea.Cmd{tick(), m.poll()}
		return m, tea.Batch(append(cmds, m.tickStations())...)
	case plannedMsg:
		if msg.gen == m.gen {
			m.desk.Plan, m.desk.Busy, m.progress = msg.plan, "", nil
			m.compare(msg.plan)
			if !msg.plan.Failed() {
				m.marks = msg.plan.MarksOf()
			}
			return m, tea.Batch(m.titled(), m.keepMarks())
		}
	case savedMsg:
		return m, m.saved(msg)
	case polledMsg:
		return m, m.polled(msg)
	case ponderMsg:
		return m, m.pondering(msg.gen)
	case answeredMsg:
		return m, m.answered(msg)
	case rewrittenMsg:
		return m, m.rewritten(msg)
	case editedMsg:
		if msg.err != nil {
			m.say(msg.err.Error(), true)
		}
		return m, m.reread()
	case crashMsg:
		m.say("something went wrong beside the screen; a report lies in "+msg.what, true)
	}
	return m, nil
}

// titled sets the window's title where it changed.
func (m *Model) titled() tea.Cmd {
	title := "soapstone: " + m.desk.JobName
	if p := m.desk.Plan; p != nil && p.Job != nil && p.Job.Title != "" {
		title = "soapstone: " + text.Short(p.Job.Title, 60)
	}
	if title == m.windowTitle {
		return nil
	}
	m.windowTitle = title
	return tea.SetWindowTitle(title)
}

// noticeStays is how long a line to the worker stands.
const noticeStays = 12 * time.Second

func (m *Model) say(s string, bad bool) { m.notice, m.bad, m.noticeAt = s, bad, m.cfg.Clock() }

func (m *Model) front() station.Station { return m.cfg.Stations[m.at] }

// carryOut does what a station asked for.
func (m *Model) carryOut(intents []station.Intent) tea.Cmd {
	var cmds []tea.Cmd
	for _, i := range intents {
		switch i := i.(type) {
		case station.Write:
			cmds = append(cmds, m.write(i.Events))
		case station.Burnt:
			cmds = append(cmds, m.burnt(i))
		case station.Say:
			m.say(i.Text, i.Bad)
		case station.Ask:
			cmds = append(cmds, m.open(i))
		case station.Go:
			for n, s := range m.cfg.Stations {
				if s.Name() == i.Station {
					m.at = n
					if f, ok := s.(station.Focuser); ok && i.On != "" {
						f.Focus(&m.desk, i.On)
					}
				}
			}
		case station.Ring:
			if m.cfg.Bell != nil && !m.settings.Quiet {
				m.cfg.Bell()
			}
		case station.Bare:
			m.desk.Bare = !m.desk.Bare
		case station.Form:
			cmds = append(cmds, m.openForm(i))
		case station.Rewrite:
			cmds = append(cmds, m.rewrite(i.Text, i.What))
		case station.Revert:
			cmds = append(cmds, m.revert(i.Again))
		case station.Edit:
			cmds = append(cmds, m.editor())
		case station.Copy:
			if m.cfg.Copy != nil {
				m.cfg.Copy(i.Text)
				m.say("copied: "+i.Text, false)
			}
		}
	}
	return tea.Batch(cmds...)
}

// guard runs a command and turns a panic into a message: the screen library would lose it in its own screen.
func (m *Model) guard(f func() tea.Msg) tea.Cmd {
	report := m.cfg.Report
	return func() (msg tea.Msg) {
		defer func() {
			if r := recover(); r != nil {
				where := fmt.Sprint(r)
				if report != nil {
					where = report(r)
				}
				msg = crashMsg{where}
			}
		}()
		return f()
	}
}

// Work gives the state of the work as the record confirmed it.
func (m *Model) Work() *work.State { return m.folded.state }

// IsTick tells whether a message is the bench's own clock: a caller without a terminal passes the time itself (Look).
func IsTick(msg tea.Msg) bool { _, ok := msg.(tickMsg); return ok }

// Look lets the bench see that it is now so late, as the clock would.
func (m *Model) Look(now time.Time) {
	m.desk.Now = now
	m.tickStations()
}

// tickStations lets every station see the time, the one in front last; nothing is asked while somebody types.
func (m *Model) tickStations() tea.Cmd {
	if m.ask != nil || m.form != nil || m.tour > 0 {
		return nil
	}
	var cmds []tea.Cmd
	for i, s := range m.cfg.Stations {
		if t, ok := s.(station.Ticker); ok {
			m.desk.Front = i == m.at
			cmds = append(cmds, m.carryOut(t.Tick(&m.desk)))
		}
	}
	return tea.Batch(cmds...)
}
