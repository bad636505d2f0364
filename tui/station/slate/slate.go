// Package slate is the station of the small sums: choose one, fill in what it takes, and read result, working and source.
// The answer grows beside the fields while they are filled in.
package slate

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/sum"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// Slate is the station.
type Slate struct {
	tables sum.Tables
	sums   []sum.Sum
	at     int
	top    int                 // first line shown of what is told of a sum
	typed  map[string][]string // by sum: what its fields held last
}

// New makes the station; the tables are those that the sums look into.
func New(tables sum.Tables) *Slate {
	s := &Slate{tables: tables, typed: map[string][]string{}}
	for _, x := range sum.List() {
		if !x.File { // a sum over a file belongs to the command line
			s.sums = append(s.sums, x)
		}
	}
	return s
}

// Name is the station's name.
func (s *Slate) Name() string { return "Slate" }

// Purpose says what one does here.
func (s *Slate) Purpose() string {
	return "The small sums of the bench, by the same code as the plan: choose one, press enter, fill in what it takes. The working and its source stand under the result. What was typed stays until the workbench is closed."
}

// Mends tells that the slate is of use while a job cannot be planned.
func (s *Slate) Mends() bool { return true }

// Keys gives the bindings.
func (s *Slate) Keys(d *station.Desk) []station.Key {
	none := ""
	if s.typed[s.sums[s.at].Name] == nil {
		none = "nothing has been worked out yet"
	}
	return []station.Key{
		{Keys: []string{"down", "j", "up", "k"}, Shown: "down up", Does: "choose"},
		{Keys: []string{"enter", "space"}, Shown: "enter", Does: "work it out"},
		{Keys: []string{"pgdown", "pgup"}, Shown: "pgdn pgup", Does: "read on", Off: none, Quiet: true},
		{Keys: []string{"c"}, Does: "copy the result", Off: none, Quiet: true},
	}
}

// Press answers a key.
func (s *Slate) Press(d *station.Desk, key string) []station.Intent {
	switch key {
	case "down", "j":
		s.at, s.top = min(s.at+1, len(s.sums)-1), 0
	case "up", "k":
		s.at, s.top = max(s.at-1, 0), 0
	case "pgdown":
		s.top += 5
	case "pgup":
		s.top = max(0, s.top-5)
	case "enter", "space":
		return []station.Intent{s.form(d)}
	case "c":
		x := s.sums[s.at]
		if r, err := s.work(d, x, s.typed[x.Name]); err == nil {
			return []station.Intent{station.Copy{Text: strings.Join(r.Lines(tapeOf(d)), "\n")}}
		}
	}
	return nil
}

// Click chooses the sum under the mouse, and opens it when it was chosen already.
func (s *Slate) Click(d *station.Desk, x, y, w, h int) []station.Intent {
	list, first := s.window(h)
	if i := first + y - 1; x <= nameWidth+3 && y >= 1 && y <= list {
		if i == s.at {
			return []station.Intent{s.form(d)}
		}
		s.at, s.top = i, 0
	}
	return nil
}

// unitsOf is the unit of a bare number: the job's, or inches.
func unitsOf(d *station.Desk) measure.Unit {
	if d.Plan != nil && d.Plan.Job != nil {
		return d.Plan.Job.Units
	}
	return measure.In
}

func tapeOf(d *station.Desk) *measure.Tape {
	t := measure.Sixteenths
	if d.Plan != nil && d.Plan.Job != nil {
		t = d.Plan.Job.Tape
	}
	return &t
}

// form asks for what a sum takes.
func (s *Slate) form(d *station.Desk) station.Form {
	x := s.sums[s.at]
	f := station.Form{Title: x.Name + ": " + x.Purpose}
	old := s.typed[x.Name]
	for i, a := range x.Takes {
		field := station.Field{Label: a.Name, Help: a.Takes}
		if a.Optional {
			field.Help += " (may be left empty)"
		}
		if a.Example != "" {
			field.Help += "; such as " + a.Example
		}
		if i < len(old) {
			field.Value = old[i]
		}
		f.Fields = append(f.Fields, field)
	}
	f.Live = func(d *station.Desk, values []string, w, h int) []string {
		r, err := s.work(d, x, values)
		if err != nil {
			return nil
		}
		return tell(d, r, w, h)
	}
	f.Done = func(d *station.Desk, values []string) ([]station.Intent, error) {
		if _, err := s.work(d, x, values); err != nil {
			why, _, _ := strings.Cut(err.Error(), "\n") // the lines behind it list what the fields say already
			for i, a := range x.Takes {
				if values[i] == "" && !a.Optional || strings.Contains(why, a.Name+"=") || strings.HasPrefix(why, a.Name+":") || strings.HasPrefix(why, a.Name+" ") {
					return nil, &station.Amiss{Field: i, Why: why}
				}
			}
			return nil, errors.New(why)
		}
		s.typed[x.Name], s.top = slices.Clone(values), 0
		return nil, nil
	}
	return f
}

// work runs a sum over what its fields hold.
func (s *Slate) work(d *station.Desk, x sum.Sum, values []string) (sum.Result, error) {
	var words []string
	for i, a := range x.Takes {
		if i < len(values) && strings.TrimSpace(values[i]) != "" {
			words = append(words, a.Name+"="+values[i])
		}
	}
	return x.Call(append(words, "units="+unitsOf(d).String()), s.tables, "", nil)
}

func tell(d *station.Desk, r sum.Result, w, h int) []string {
	l := d.Look
	var out []string
	for i, y := range r.Lines(tapeOf(d)) {
		style := l.Dim
		if i < len(r.Values) {
			style = l.Strong
		}
		for _, z := range draw.Wrap(text.Clean(y), max(10, w)) {
			out = append(out, style.Render(z))
		}
	}
	return out[:min(len(out), max(0, h))]
}

const nameWidth = 12

// window gives how many sums the list shows and which is the first.
func (s *Slate) window(h int) (list, first int) {
	list = min(len(s.sums), max(1, h-1))
	return list, min(max(0, s.at-list/2), len(s.sums)-list)
}

// View draws the station.
func (s *Slate) View(d *station.Desk, w, h int) []string {
	l := d.Look
	list, first := s.window(h)
	left := []string{l.Dim.Render(fmt.Sprintf(" %d sums", len(s.sums)))}
	for i := first; i < first+list; i++ {
		name := draw.FitLine(" "+s.sums[i].Name, nameWidth)
		if i == s.at {
			left = append(left, " "+l.Mark.Render(name))
		} else {
			left = append(left, " "+l.Chalk.Render(name))
		}
	}
	x := s.sums[s.at]
	width := max(10, w-nameWidth-5)
	var right []string
	for _, y := range draw.Wrap(strings.ToUpper(x.Purpose[:1])+x.Purpose[1:]+".", width) {
		right = append(right, l.Strong.Render(y))
	}
	right = append(right, "")
	if values := s.typed[x.Name]; values != nil {
		for i, a := range x.Takes {
			if values[i] != "" {
				right = append(right, l.Dim.Render(draw.FitLine(a.Name, 12)+" ")+l.Chalk.Render(text.Clean(values[i])))
			}
		}
		right = append(right, "")
		if r, err := s.work(d, x, values); err == nil {
			right = append(right, tell(d, r, width, 1<<10)...)
		} else {
			right = append(right, l.Bad.Render(text.Clean(err.Error())))
		}
	} else {
		for _, a := range x.Takes {
			takes, name := a.Takes, a.Name
			if a.Optional && !strings.Contains(takes, "left out") {
				takes += " (may be left out)"
			}
			for _, y := range draw.Wrap(takes, max(8, width-13)) {
				right = append(right, l.Key.Render(draw.FitLine(name, 12))+" "+l.Dim.Render(y))
				name = ""
			}
		}
	}
	if top := max(0, len(right)-h); s.top > top {
		s.top = top
	}
	return draw.Columns(left, right[s.top:min(len(right), s.top+h)], nameWidth+2, 3)
}
