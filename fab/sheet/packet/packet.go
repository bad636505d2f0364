// Package packet says what stands on the paper that goes to the shop, the yard and the customer, as parts for package page to
// lay out. What is read at the bench is 12 points or more, what is cut to 16 or more; nothing is told by colour, and little
// by tone.
//
// The shop's packet, the customer's quote and the site sheet are three documents: what the shop knows of its costs stands on
// no page of a quote, because the two are never laid out together.
package packet

import (
	"crypto/sha256"
	"encoding/base32"
	"encoding/json"
	"strings"
	"time"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/text"
)

// Options of a document.
type Options struct {
	Paper    page.Paper
	Made     time.Time // the day that is printed; none where it is zero
	Revision string    // see Revision; "" for none
}

// Revision gives a short code of the job's text (and the shop's under it) and of the plan made from them, so that pages of
// two prints are told apart: six characters without I, O, 0 and 1, of a SHA-256.
func Revision(p *plan.Plan, texts ...[]byte) string {
	h := sha256.New()
	for _, t := range texts {
		h.Write(t)
		h.Write([]byte{0})
	}
	doc := p.JSON()
	if data, err := json.Marshal([]any{doc.Pieces, doc.Nests, doc.Queue, doc.Feet, doc.Square}); err == nil {
		h.Write(data)
	}
	return base32.NewEncoding("ABCDEFGHJKLMNPQRSTUVWXYZ23456789").WithPadding(base32.NoPadding).EncodeToString(h.Sum(nil))[:6]
}

// Shop makes the packet that goes to the shop.
func Shop(p *plan.Plan, o Options) *page.Document {
	m := newMaker(p)
	d := m.document("shop packet", o)
	d.Lay(m.parts(o))
	return d
}

// maker holds what every part needs.
type maker struct {
	p        *plan.Plan
	tape     measure.Tape
	currency string
	title    string
	marks    map[int]string // of each member
}

func newMaker(p *plan.Plan) *maker {
	m := &maker{p: p, tape: p.Job.Tape, currency: text.Short(p.Job.Currency, 8), title: text.Short(p.Job.Title, 200), marks: map[int]string{}}
	if strings.TrimSpace(m.title) == "" {
		m.title = "Untitled job"
	}
	for i := range p.Pieces {
		for _, k := range p.Pieces[i].Indices {
			m.marks[k] = p.Pieces[i].Mark
		}
	}
	return m
}

func (m *maker) document(name string, o Options) *page.Document {
	paper := o.Paper
	if paper == page.Either && m.tape.Metric() {
		paper = page.A4
	}
	if paper == page.Either {
		paper = page.Letter
	}
	return &page.Document{Title: m.title, Name: name, Revision: o.Revision, Made: o.Made, Paper: paper}
}

// parts are the parts of the shop's packet, in the order of the work. A part that has nothing to say is left out.
func (m *maker) parts(o Options) []page.Part {
	all := []page.Part{
		m.cover(o), m.buy(), m.receipt(), m.cuts(), m.markOut(), m.labels(o), m.squaring(), m.booth(), m.paint(), m.stand(), m.wraps(),
	}
	var out []page.Part
	for _, x := range all {
		if len(x.Blocks) > 0 {
			out = append(out, x)
		}
	}
	return out
}

func (m *maker) print(l measure.Length) string { return m.tape.Print(l) }
func (m *maker) mm(v float64) string           { return m.tape.Print(measure.FromMM(v)) }
func (m *maker) mass(kg float64) string        { return m.tape.Mass(kg) }

// clean makes a text from a file fit for paper.
func clean(s string) string { return text.Short(s, 300) }

// sectionName says what steel a section is: its name, size and shape.
func (m *maker) sectionName(name string) string {
	s := clean(name)
	if x, ok := m.p.Job.Section(name); ok {
		s += ": " + clean(x.Size) + " " + clean(x.Shape)
	}
	return s
}

// steel says what a section is without the job's own name for it, as a yard knows it.
func (m *maker) steel(name string) string {
	x, ok := m.p.Job.Section(name)
	if !ok {
		return clean(name)
	}
	s := clean(x.Size) + " " + clean(x.Shape)
	if sec, ok := m.p.Sections[name]; ok && sec.Grade.Name != "" {
		s += ", " + clean(sec.Grade.Name)
	}
	return s
}

// cutsOf gives the steps of the queue that cut, by unit.
func (m *maker) cutSteps() []cut.Step {
	var out []cut.Step
	for _, s := range m.p.Queue.Steps {
		if s.Op == cut.Cut {
			out = append(out, s)
		}
	}
	return out
}

func say(s string) *page.Text     { return &page.Text{Text: s} }
func keep(s string) *page.Text    { return &page.Text{Text: s, Keep: true} }
func strong(s string) *page.Text  { return &page.Text{Text: s, Bold: true} }
func warn(s string) *page.Caution { return &page.Caution{Text: upper(long(s))} }

// upper begins a sentence with a capital.
func upper(s string) string {
	if s != "" && s[0] >= 'a' && s[0] <= 'z' {
		return string(s[0]-32) + s[1:]
	}
	return s
}
func head(level int, s string) *page.Heading { return &page.Heading{Level: level, Text: s} }

// long cleans a longer text.
func long(s string) string { return text.Short(s, 2000) }

func cells(texts ...string) []page.Cell {
	out := make([]page.Cell, len(texts))
	for i, s := range texts {
		out[i].Text = s
	}
	return out
}

// tick is a cell with a box to tick.
func tick(s string) page.Cell { return page.Cell{Text: s, Box: true} }
