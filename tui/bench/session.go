package bench

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync/atomic"

	tea "github.com/charmbracelet/bubbletea"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/record"
	"bench.example/soapstone/tui/station"
)

// batch is a few events that are recorded as one.
type batch struct {
	drafts []record.Draft
	events []work.What
	was    []string // of each setting: what it was before
	kind   int
}

// reread reads the job and starts a plan.
func (m *Model) reread() tea.Cmd {
	j, problems, stamp := m.cfg.Source.Read()
	m.problems = problems
	was := m.stamp
	m.stamp = stamp
	begun := m.takeDoc()
	if j == nil || failed(problems) {
		m.cancelPlan()
		m.desk.Plan = &plan.Plan{Job: j, Problems: problems}
		return begun
	}
	m.cfg.Tables.Job = j
	cmd := m.noteJob(stamp, was)
	return tea.Batch(cmd, m.replan())
}

func failed(problems []text.Problem) bool {
	for _, p := range problems {
		if p.Severity == text.Error {
			return true
		}
	}
	return false
}

// noteJob records which text of the job the work goes by, where work has been done and the text is another one.
func (m *Model) noteJob(stamp, was string) tea.Cmd {
	known, ok := m.folded.state.Setting(jobSetting)
	if m.cfg.Journal == nil || known == stamp || m.folded.state.Events() == 0 && !ok {
		return nil
	}
	events := []work.What{work.Set{Name: jobSetting, Value: stamp}}
	if !ok && was != "" && was != stamp {
		events = append([]work.What{work.Set{Name: jobSetting, Value: was}}, events...)
	}
	return m.send(events, m.now, back) // nobody pressed anything: it is not to be taken back
}

func (m *Model) cancelPlan() {
	if m.cancel != nil {
		m.cancel()
		m.cancel = nil
	}
	m.gen++
	m.desk.Busy, m.progress = "", nil
}

// progress is what a running plan reports; the screen looks at it with each tick.
type progress struct{ doing atomic.Pointer[string] }

func (m *Model) takeProgress() {
	if m.progress != nil {
		if s := m.progress.doing.Load(); s != nil {
			m.desk.Busy = *s
		}
	}
}

// replan starts planning from the base of the work.
func (m *Model) replan() tea.Cmd {
	if m.cfg.Tables.Job == nil || failed(m.problems) {
		return nil
	}
	m.cancelPlan()
	ctx, cancel := context.WithCancel(context.Background())
	m.cancel = cancel
	gen := m.gen
	in := m.cfg.Tables
	if in.Marks = m.marks; in.Marks == nil {
		in.Marks = m.folded.state.Settings(plan.MarkSetting)
	}
	base := m.folded.Base()
	m.folded.stale = false
	for _, r := range m.folded.moved {
		if w, ok := r.what.(work.Set); !ok || w.Name != jobSetting { // the job's own change is told by who changed it
			m.addCause(cause(r.what, in.Job, r.undone))
		}
	}
	m.folded.moved = nil
	pr := &progress{}
	m.progress = pr
	m.desk.Busy = "planning"
	in.Report = func(s plan.Stage) {
		doing := s.Doing
		if s.Nest != nil {
			doing = fmt.Sprintf("%s: %d sticks, at least %d", doing, s.Nest.Bars, s.Nest.BoundBars)
		}
		pr.doing.Store(&doing)
	}
	problems := m.problems
	build := m.cfg.Plan
	return m.guard(func() tea.Msg {
		defer cancel()
		in.Work = base
		p := build(ctx, in)
		p.Problems = append(append([]text.Problem{}, problems...), p.Problems...)
		return plannedMsg{gen, p}
	})
}

// write queues events for the record; they count once they are on the disk.
func (m *Model) write(events []work.What) tea.Cmd {
	if len(events) == 0 {
		return nil
	}
	if m.cfg.Journal == nil {
		m.say("nothing can be recorded: there is no record beside this job", true)
		return nil
	}
	return m.send(events, m.now, fresh)
}

// burnt records an arc that has just ended: its start lies in the past.
func (m *Model) burnt(b station.Burnt) tea.Cmd {
	if m.cfg.Journal == nil {
		m.say("nothing can be recorded: there is no record beside this job", true)
		return nil
	}
	now := m.cfg.Clock().UnixNano()
	events := append([]work.What{work.ArcOn{Joint: b.Joint, Amps: b.Amps}, work.ArcOff{}}, b.Then...)
	return m.send(events, func(i int) int64 {
		if i == 0 {
			return now - int64(b.For)
		}
		return now
	}, fresh)
}

// send queues events with their times. An ArcOff that names no arc ends the one of the event before it.
func (m *Model) send(events []work.What, at func(i int) int64, kind int) tea.Cmd {
	b := batch{events: slices.Clone(events), was: make([]string, len(events)), kind: kind}
	m.sent = nil
	for i, e := range events {
		id := m.cfg.Journal.Next()
		if off, ok := e.(work.ArcOff); ok && off.Of.Zero() && i > 0 {
			off.Of = b.drafts[i-1].ID
			e = off
			b.events[i] = e
		}
		if set, ok := e.(work.Set); ok {
			b.was[i], _ = m.folded.state.Setting(set.Name)
		}
		payload, err := work.Encode(e)
		if err != nil {
			m.say(err.Error(), true)
			return nil
		}
		b.drafts = append(b.drafts, record.Draft{ID: id, At: at(i), Payload: payload})
	}
	m.queue = append(m.queue, b)
	m.sent = b.drafts
	m.desk.Saving++
	return m.next()
}

// next sends the next batch to the disk, if none is on its way.
func (m *Model) next() tea.Cmd {
	if m.flying || len(m.queue) == 0 {
		return nil
	}
	b := m.queue[0]
	m.queue = m.queue[1:]
	m.flying = true
	j := m.cfg.Journal
	return m.guard(func() tea.Msg {
		news, err := j.AppendIf(func(others []record.Entry) bool { return !overtaken(b.events, others) }, b.drafts...)
		return savedMsg{news, err, b}
	})
}

// overtaken tells whether others recorded in the meantime what a batch says: a piece cut, a joint tacked or welded, a stick
// loaded. Work is recorded once, even where two windows say it in the same instant.
func overtaken(events []work.What, others []record.Entry) bool {
	for _, o := range others {
		said, err := work.Decode(o.Payload)
		if err != nil {
			continue
		}
		for _, e := range events {
			switch e := e.(type) {
			case work.Cut:
				if s, ok := said.(work.Cut); ok && s.Mark == e.Mark && s.Unit == e.Unit {
					return true
				}
			case work.Loaded:
				if s, ok := said.(work.Loaded); ok && s.Stick == e.Stick {
					return true
				}
			case work.Tacked:
				if said == work.What(e) {
					return true
				}
			case work.Welded:
				if said == work.What(e) {
					return true
				}
			}
		}
	}
	return false
}

func (m *Model) saved(msg savedMsg) tea.Cmd {
	m.flying = false
	m.desk.Saving--
	m.take(msg.news)
	if errors.Is(msg.err, record.ErrOvertaken) {
		msg.err = nil
		m.say("another window recorded that already: "+m.told(deed{events: msg.of.events}), true)
	} else if msg.err != nil {
		// What waited behind it was pressed on the strength of it and is tried again with it.
		held := append([]batch{msg.of}, m.queue...)
		m.desk.Saving -= len(m.queue)
		m.queue = nil
		m.quitting = false
		var what []string
		for _, b := range held {
			for _, e := range b.events {
				what = append(what, Tell(e, m.cfg.Tables.Job))
			}
		}
		m.stick(what, msg.err, func() tea.Cmd {
			m.queue = append(m.queue, held...)
			m.desk.Saving += len(held)
			return m.next()
		})
	} else {
		m.note(msg.of)
	}
	if msg.err == nil && m.stuck != nil && m.desk.Saving == 0 && !m.writingJob {
		m.stuck = nil
		m.say("recorded after all", false)
	}
	cmds := []tea.Cmd{m.keepMarks()}
	if m.folded.stale {
		cmds = append(cmds, m.replan())
	}
	cmds = append(cmds, m.next())
	if m.quitting && !m.flying {
		cmds = append(cmds, tea.Quit)
	}
	return tea.Batch(cmds...)
}

// take folds news of the record in.
func (m *Model) take(news record.News) {
	for _, e := range news.Entries {
		m.folded.apply(e.ID, e.At, e.Payload)
	}
	for _, n := range news.Notes {
		m.say(n.Text, true)
	}
	m.desk.Work = m.folded.state
}

// poll looks whether another window wrote to the record, or somebody to the job.
func (m *Model) poll() tea.Cmd {
	j, src, stamp := m.cfg.Journal, m.cfg.Source, m.stamp
	if m.flying {
		return nil
	}
	return m.guard(func() tea.Msg {
		var msg polledMsg
		if j != nil {
			msg.news, msg.err = j.Poll()
		}
		msg.job = src.Changed(stamp)
		return msg
	})
}

func (m *Model) polled(msg polledMsg) tea.Cmd {
	m.take(msg.news)
	if msg.err != nil && m.notice == "" {
		m.say(msg.err.Error(), true)
	}
	if msg.job && !m.writingJob {
		m.say("the job file changed; planning anew", false)
		m.addCause("the job file was changed outside")
		return m.reread()
	}
	if m.folded.stale {
		return m.replan()
	}
	return nil
}

// keepMarks puts marks that are not those of the pieces' order on the record once work has begun, so that a restart and the
// other window call the pieces the same.
func (m *Model) keepMarks() tea.Cmd {
	p := m.desk.Plan
	if p == nil || p.Failed() || !p.Renamed || m.cfg.Journal == nil || m.folded.state.Events() == 0 || m.keptMarks == p {
		return nil
	}
	m.keptMarks = p
	var events []work.What
	for i := range p.Pieces {
		id := plan.Identity(&p.Pieces[i])
		mark := m.marks[id]
		if known, _ := m.folded.state.Setting(plan.MarkSetting + id); mark != "" && known != mark && len(events) < mostMarks {
			events = append(events, work.Set{Name: plan.MarkSetting + id, Value: mark})
		}
	}
	if len(events) == 0 {
		return nil
	}
	return m.send(events, m.now, back)
}

// mostMarks is how many marks are put on the record at once; a job of more kinds goes by their order.
const mostMarks = 200
