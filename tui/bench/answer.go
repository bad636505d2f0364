package bench

import (
	"bytes"
	"context"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/newjob"
)

// answer is what the plan says to a form while it is filled in: the job that the fields would make is planned beside the
// screen, first by a look that ends at once, then by a search of a few seconds. Another key calls the search off.
type answer struct {
	gen    int
	cancel context.CancelFunc
	asked  []byte // the text that the answer is for
	busy   bool
	frame  *frame.Frame // the last that could be built
	told   []string
	fault  string
	final  bool
}

// Messages of the answer's work.
type (
	ponderMsg   struct{ gen int }
	answeredMsg struct {
		gen   int
		plan  *plan.Plan
		fault string
		final bool
		next  plan.Input
	}
)

// How long the answer waits for the next key, and how long it searches.
const (
	ponderAfter = 150 * time.Millisecond
	ponderFor   = 4 * time.Second
)

// ponder asks the plan for its answer to the form as it stands.
func (m *Model) ponder(after time.Duration) tea.Cmd {
	f := m.form
	if f == nil || f.Would == nil {
		return nil
	}
	data := f.Would(&m.desk, f.trimmed())
	if data != nil && bytes.Equal(data, f.answer.asked) {
		return nil
	}
	f.answer.stop()
	m.pondered++
	f.answer.gen = m.pondered
	f.answer.asked = data
	if data == nil { // not yet a job: what was answered before stands no more, the drawing does
		f.answer.told, f.answer.fault, f.answer.busy = nil, "", false
		return nil
	}
	if m.desk.Doc != nil && bytes.Equal(data, m.desk.Doc.Bytes()) && m.desk.Plan != nil { // nothing is changed yet
		f.answer.told, f.answer.fault, f.answer.busy, f.answer.frame = nil, "", false, m.desk.Plan.Frame
		return nil
	}
	f.answer.busy = true
	gen := m.pondered
	if after == 0 {
		return m.guard(func() tea.Msg { return ponderMsg{gen} })
	}
	later := m.cfg.Later
	if later == nil {
		later = tea.Tick
	}
	return later(after, func(time.Time) tea.Msg { return ponderMsg{gen} })
}

func (a *answer) stop() {
	if a.cancel != nil {
		a.cancel()
		a.cancel = nil
	}
}

// pondering starts the work once no key has come for a while.
func (m *Model) pondering(gen int) tea.Cmd {
	w, ok := m.cfg.Source.(Writer)
	if m.form == nil || m.form.answer.gen != gen || !ok {
		return nil
	}
	data, in, build, base, marks := m.form.answer.asked, m.cfg.Tables, m.cfg.Plan, m.folded.Base(), m.marks
	return m.guard(func() tea.Msg {
		j, problems := w.Check(data)
		if j == nil || failed(problems) {
			return answeredMsg{gen: gen, fault: firstFault(problems), final: true}
		}
		over, cancel := context.WithCancel(context.Background())
		cancel()
		in.Job, in.Work, in.Marks = j, base, marks
		p := build(over, in)
		return answeredMsg{gen: gen, plan: p, fault: firstFault(p.Problems), final: p.Failed(), next: in}
	})
}

func firstFault(problems []text.Problem) string {
	for _, p := range problems {
		if p.Severity == text.Error {
			return p.String()
		}
	}
	return ""
}

// answered takes an answer; the first one starts the search for a better one.
func (m *Model) answered(msg answeredMsg) tea.Cmd {
	if m.form == nil || m.form.answer.gen != msg.gen {
		return nil
	}
	a := &m.form.answer
	a.fault, a.final = msg.fault, msg.final
	if p := msg.plan; p != nil && p.Frame != nil {
		a.frame = p.Frame
	}
	a.told = nil
	if p := msg.plan; p != nil && !p.Failed() {
		now := tallyOf(p)
		if was := m.desk.Plan; was != nil && !was.Failed() {
			a.told = append(now.against(tallyOf(was)), pieceChanges(was, p)...)
		} else {
			a.told = now.alone()
		}
		a.final = a.final || now.proven
	}
	if a.busy = !a.final; a.final {
		return nil
	}
	ctx, cancel := context.WithTimeout(context.Background(), ponderFor)
	a.cancel = cancel
	build, in := m.cfg.Plan, msg.next
	return m.guard(func() tea.Msg {
		defer cancel()
		p := build(ctx, in)
		return answeredMsg{gen: msg.gen, plan: p, fault: firstFault(p.Problems), final: true}
	})
}

// answerLines words the answer for the foot of the form.
func (m *Model) answerLines(w int) []string {
	l, a := m.desk.Look, &m.form.answer
	if m.form.Would == nil {
		return nil
	}
	switch {
	case a.fault != "":
		var out []string
		for i, s := range draw.Wrap(a.fault, w-6) {
			lead := "    "
			if i == 0 {
				lead = "  " + l.Signs.Warn + " "
			}
			out = append(out, l.Warn.Render(lead+s))
		}
		return out[:min(3, len(out))]
	case len(a.told) > 0:
		var out []string
		told := strings.Join(a.told, ", ")
		if a.busy {
			told = "searching, at most: " + told
		}
		for i, s := range draw.Wrap(told, w-6) {
			lead := "    "
			if i == 0 {
				lead = "  " + l.Signs.Done + " "
				if a.busy {
					lead = "  " + l.Signs.Rest + " "
				}
			}
			out = append(out, l.Cool.Render(lead+s))
		}
		return out[:min(3, len(out))]
	case a.asked != nil && !a.busy:
		return nil
	case a.busy:
		return []string{l.Dim.Render("  " + l.Signs.Rest + " working it out")}
	}
	return []string{l.Dim.Render("  " + l.Signs.Open + " no job yet as it stands")}
}

// pictureLines draws the frame that the form would give.
func (m *Model) pictureLines(w, h int) []string {
	l := m.desk.Look
	f := m.form
	if f.Live != nil {
		return f.Live(&m.desk, f.values, w, h)
	}
	var out []string
	for _, r := range newjob.Picture(f.answer.frame, w, h, l.Unicode) {
		out = append(out, l.Chalk.Render(r))
	}
	return out
}
