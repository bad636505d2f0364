package bench

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/record"
	"bench.example/soapstone/tui/station"
)

// deed is what one key recorded, so that it can be taken back and done again. The record keeps all of it: what is taken back
// is an entry more, not one less.
type deed struct {
	events []work.What
	drafts []record.Draft
	was    []string // of each setting: what it was before
}

// mostDeeds is how many deeds of this window can be stepped through.
const mostDeeds = 500

// Kinds of a batch.
const (
	fresh  = iota // a deed of its own
	back          // takes the last deed back
	onward        // does the last one that was taken back again
)

// note keeps a deed that has come to the disk.
func (m *Model) note(b batch) {
	d := deed{b.events, b.drafts, b.was}
	switch b.kind {
	case fresh:
		m.deeds, m.redeeds = append(m.deeds, d), nil
	case onward:
		m.deeds = append(m.deeds, d)
	case back:
		return
	}
	if len(m.deeds) > mostDeeds {
		m.deeds = m.deeds[1:]
	}
}

// told words a deed.
func (m *Model) told(d deed) string {
	var words []string
	for _, e := range d.events {
		words = append(words, Tell(e, m.cfg.Tables.Job))
	}
	return text.Short(strings.Join(words, ", "), 120)
}

// undo takes back the last thing done in this window; where nothing was done in it, the last that the record knows.
func (m *Model) undo() tea.Cmd {
	if m.desk.Saving > 0 {
		m.say("still writing; press again", true)
		return nil
	}
	if s, ok := m.front().(station.Stepper); ok {
		if what := s.StepBack(&m.desk); what != "" {
			m.say("taken back: "+what, false)
			return nil
		}
	}
	if len(m.deeds) == 0 {
		return m.undoOlder()
	}
	d := m.deeds[len(m.deeds)-1]
	m.deeds = m.deeds[:len(m.deeds)-1]
	var events []work.What
	for i := len(d.events) - 1; i >= 0; i-- {
		set, ok := d.events[i].(work.Set)
		if !ok {
			events = append(events, work.Undone{Of: d.drafts[i].ID})
			continue
		}
		if now, _ := m.folded.state.Setting(set.Name); now != set.Value {
			m.say("another window changed that since: "+Tell(set, m.cfg.Tables.Job), true)
			return nil
		}
		events = append(events, work.Set{Name: set.Name, Value: d.was[i]})
	}
	m.redeeds = append(m.redeeds, d)
	m.say("taken back: "+m.told(d)+"; r does it again", false)
	return m.send(events, m.now, back)
}

func (m *Model) now(int) int64 { return m.cfg.Clock().UnixNano() }

// redo does again what was taken back last, with the time that it had.
func (m *Model) redo() tea.Cmd {
	switch {
	case m.desk.Saving > 0:
		m.say("still writing; press again", true)
		return nil
	case len(m.redeeds) == 0:
		m.say("nothing was taken back here", false)
		return nil
	}
	d := m.redeeds[len(m.redeeds)-1]
	m.redeeds = m.redeeds[:len(m.redeeds)-1]
	events := make([]work.What, len(d.events))
	for i, e := range d.events {
		switch w := e.(type) { // what an entry speaks of may have been done again under another number
		case work.ArcOff:
			w.Of = m.latest(w.Of)
			e = w
		case work.Undone:
			w.Of = m.latest(w.Of)
			e = w
		}
		events[i] = e
	}
	cmd := m.send(events, func(i int) int64 { return d.drafts[i].At }, onward)
	m.renumber(d.drafts, m.sent)
	m.say("done again: "+m.told(d), false)
	return cmd
}

// renumber remembers under which number an entry was done again.
func (m *Model) renumber(old, now []record.Draft) {
	if m.renumbered == nil {
		m.renumbered = map[work.ID]work.ID{}
	}
	for i := range old {
		if i < len(now) {
			m.renumbered[old[i].ID] = now[i].ID
		}
	}
}

func (m *Model) latest(id work.ID) work.ID {
	for range mostDeeds {
		next, ok := m.renumbered[id]
		if !ok {
			break
		}
		id = next
	}
	return id
}

// undoOlder takes back the last event of the record: what was done before this window was opened.
func (m *Model) undoOlder() tea.Cmd {
	d, ok := m.folded.state.LastUndoable(m.cfg.Writer)
	if !ok {
		d, ok = m.folded.state.LastUndoable(0)
	}
	if name := m.lastTick(d.ID); name != "" {
		m.say("taken back: "+text.Clean(name), false)
		return m.send([]work.What{work.Set{Name: name, Value: "no"}}, m.now, back)
	}
	if !ok {
		m.say("there is nothing to take back", false)
		return nil
	}
	m.say("taken back: "+Tell(d.What, m.cfg.Tables.Job), false)
	return m.send([]work.What{work.Undone{Of: d.ID}}, m.now, back)
}

// lastTick gives the latest setting of this window, later than the event before, that ticked something off and still stands.
// A setting is taken back by setting it to no; the record keeps both.
func (m *Model) lastTick(before work.ID) string {
	seen := map[string]bool{}
	for _, x := range m.folded.state.Recent(256) {
		if x.ID == before {
			break
		}
		w, ok := x.What.(work.Set)
		if !ok || x.ID.Writer != m.cfg.Writer || seen[w.Name] || w.Value != "yes" && w.Value != "no" {
			continue
		}
		seen[w.Name] = true
		if v, _ := m.folded.state.Setting(w.Name); v == "yes" && w.Value == "yes" {
			return w.Name
		}
	}
	return ""
}
