package bench

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"

	tea "github.com/charmbracelet/bubbletea"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/text"
	disk "bench.example/soapstone/stock/file"
	"bench.example/soapstone/tui/newjob"
	"bench.example/soapstone/tui/station"
)

// Writer is a source whose job can be written; Write refuses where the file is no longer the one of the stamp.
type Writer interface {
	Text() ([]byte, error)
	Write(data []byte, stamp string) error
	// Check gives the job that a text would be, and what the reader would say of it.
	Check(data []byte) (*job.Job, []text.Problem)
}

// Keeper is a source that may have nowhere to keep an edit; Kept says why, "" where it has.
type Keeper interface{ Kept() string }

// rewriting is one change of the job file made in this session.
type rewriting struct {
	before, after []byte
	what          string
}

// Messages of the job file's writing.
type (
	rewrittenMsg struct {
		err  error
		of   rewriting
		kind int // 0 new, -1 taken back, 1 done again
	}
	editedMsg struct{ err error }
)

// takeDoc reads the job's text for the stations that edit it.
func (m *Model) takeDoc() tea.Cmd {
	w, ok := m.cfg.Source.(Writer)
	if !ok {
		m.desk.CanEdit = "this job is not kept in a file"
		return nil
	}
	m.desk.Check = func(data []byte) []text.Problem { _, p := w.Check(data); return p }
	data, err := w.Text()
	if errors.Is(err, fs.ErrNotExist) {
		m.desk.Doc, m.desk.CanEdit = nil, ""
		return m.begin()
	}
	if err != nil {
		m.desk.Doc, m.desk.CanEdit = nil, err.Error()
		return nil
	}
	m.desk.CanEdit = ""
	if k, ok := m.cfg.Source.(Keeper); ok {
		m.desk.CanEdit = k.Kept()
	}
	m.desk.Doc, _ = text.Parse(m.cfg.Source.Name(), data)
	m.noteEdits()
	return nil
}

func (m *Model) noteEdits() {
	m.desk.Edits = [2]string{}
	if n := len(m.undoEdits); n > 0 {
		m.desk.Edits[0] = m.undoEdits[n-1].what
	}
	if n := len(m.redoEdits); n > 0 {
		m.desk.Edits[1] = m.redoEdits[n-1].what
	}
}

// rewrite writes a new text of the job beside the screen; it counts once it is on the disk.
func (m *Model) rewrite(data []byte, what string) tea.Cmd {
	if m.desk.Doc == nil && m.desk.CanEdit != "" {
		m.say(m.desk.CanEdit, true)
		return nil
	}
	var before []byte
	if m.desk.Doc != nil {
		before = m.desk.Doc.Bytes()
	}
	return m.writeJob(rewriting{before, data, what}, 0)
}

func (m *Model) writeJob(r rewriting, kind int) tea.Cmd {
	w, ok := m.cfg.Source.(Writer)
	if !ok || m.desk.CanEdit != "" {
		m.say("the job file cannot be written: "+m.desk.CanEdit, true)
		return nil
	}
	if m.writingJob {
		m.say("the job file is being written; press again", true)
		return nil
	}
	m.writingJob = true
	stamp := m.stamp
	data := r.after
	if kind < 0 {
		data = r.before
	}
	return m.guard(func() tea.Msg { return rewrittenMsg{w.Write(data, stamp), r, kind} })
}

func (m *Model) revert(again bool) tea.Cmd {
	list, kind := m.undoEdits, -1
	if again {
		list, kind = m.redoEdits, 1
	}
	if len(list) == 0 {
		m.say("there is no edit to take back or do again", false)
		return nil
	}
	r := list[len(list)-1]
	if r.before == nil {
		m.say("the file is new; delete it in a file manager if you do not want it", true)
		return nil
	}
	now := r.after
	if again {
		now = r.before
	}
	if m.desk.Doc == nil || !bytes.Equal(m.desk.Doc.Bytes(), now) {
		m.say("somebody else changed the job file since; the edits made here cannot be stepped through any more", true)
		m.undoEdits, m.redoEdits = nil, nil
		m.noteEdits()
		return nil
	}
	return m.writeJob(r, kind)
}

// mostEdits is how many edits can be taken back.
const mostEdits = 200

func (m *Model) rewritten(msg rewrittenMsg) tea.Cmd {
	m.writingJob = false
	if msg.err != nil {
		r, kind := msg.of, msg.kind
		if errors.Is(msg.err, disk.ErrChanged) {
			m.say("the job file was NOT written: "+msg.err.Error(), true)
			return nil
		}
		m.stick([]string{"the job file: " + r.what}, msg.err, func() tea.Cmd { return m.writeJob(r, kind) })
		return nil
	}
	m.stuck = nil
	switch msg.kind {
	case 0:
		m.undoEdits, m.redoEdits = append(m.undoEdits, msg.of), nil
		if len(m.undoEdits) > mostEdits {
			m.undoEdits = m.undoEdits[1:]
		}
		m.say(msg.of.what, false)
	case -1:
		m.undoEdits = m.undoEdits[:max(0, len(m.undoEdits)-1)]
		m.redoEdits = append(m.redoEdits, msg.of)
		m.say("taken back: "+msg.of.what, false)
	case 1:
		m.redoEdits = m.redoEdits[:max(0, len(m.redoEdits)-1)]
		m.undoEdits = append(m.undoEdits, msg.of)
		m.say("done again: "+msg.of.what, false)
	}
	switch msg.kind {
	case -1:
		m.addCause("taken back: " + msg.of.what)
	case 1:
		m.addCause("done again: " + msg.of.what)
	default:
		m.addCause(msg.of.what)
	}
	return m.reread()
}

// editor opens the job file in the user's editor; the screen comes back when it ends.
func (m *Model) editor() tea.Cmd {
	if m.cfg.Editor == nil {
		m.say("no editor is known; set EDITOR", true)
		return nil
	}
	cmd, err := m.cfg.Editor()
	if err != nil {
		m.say(err.Error(), true)
		return nil
	}
	return tea.ExecProcess(cmd, func(err error) tea.Msg {
		if err != nil {
			return editedMsg{fmt.Errorf("the editor ended with an error: %w", err)}
		}
		return editedMsg{}
	})
}

// begin asks for a new job where there is no file yet.
func (m *Model) begin() tea.Cmd {
	if m.form != nil || m.begun {
		return nil
	}
	m.begun = true
	return m.openForm(newjob.Form("There is no job in "+m.cfg.Source.Name()+" yet. A few questions make one", func(data []byte) []station.Intent {
		return []station.Intent{station.Rewrite{Text: data, What: "a new job"}, station.Go{Station: "Sketch"}}
	}))
}
