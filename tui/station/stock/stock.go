// Package stock is the station of the steel rack: what to buy and how sure it is that nothing cheaper would do, every stick
// of the nest to scale, and what goes back on the shelf.
package stock

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sheet"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// Stock is the station.
type Stock struct {
	at, top int
	of      *plan.Plan
	sticks  [][2]int // bundle and stick of each row
}

// New makes the station.
func New() *Stock { return &Stock{} }

// Name is the station's name.
func (s *Stock) Name() string { return "Stock" }

// Purpose says what one does here.
func (s *Stock) Purpose() string {
	return "What to bring from the rack and from the yard, and how every stick is used, to scale. The proof says how near the plan is to the cheapest that can be. Put a drop back on the shelf with p; what came from the yard, its true price and how straight it is, with r."
}

func (s *Stock) follow(d *station.Desk) {
	if s.of != d.Plan {
		s.of, s.sticks = d.Plan, nil
		if d.Plan != nil && !d.Plan.Failed() {
			for b, sn := range d.Plan.Nests {
				for u := range sn.Nest.Used {
					s.sticks = append(s.sticks, [2]int{b, u})
				}
			}
		}
	}
	s.at = max(0, min(s.at, len(s.sticks)-1))
}

// Keys gives the bindings.
func (s *Stock) Keys(d *station.Desk) []station.Key {
	s.follow(d)
	off := station.Unplanned(d)
	if off == "" && len(s.sticks) == 0 {
		off = "no stick is left to cut"
	}
	shelf := off
	if off == "" {
		if d.Saving > 0 {
			shelf = "the last entry is being written"
		} else if s.used(d).Drop <= 0 {
			shelf = "this stick leaves no drop"
		} else if shelved(d, s.name(d)) {
			shelf = "its drop is on the shelf already"
		}
	}
	came := station.Unplanned(d)
	if came == "" && !d.Keeps {
		came = "nothing can be recorded here"
	}
	if came == "" {
		if names, _ := offered(d); len(names) == 0 {
			came = "the job buys nothing"
		}
	}
	return []station.Key{
		{Keys: []string{"down", "j", "up", "k", "pgdown", "pgup", "home", "end"}, Shown: "down up", Does: "choose a stick", Off: off},
		{Keys: []string{"p"}, Does: "drop to the shelf", Off: shelf},
		{Keys: []string{"r"}, Does: "came from the yard", Off: came},
		{Keys: []string{"c"}, Does: "copy the buy list", Off: station.Unplanned(d)},
		{Keys: []string{"y"}, Does: "copy this stick", Off: off, Quiet: true},
	}
}

func (s *Stock) name(d *station.Desk) string {
	return d.Plan.StickName(s.sticks[s.at][0], s.sticks[s.at][1])
}

// line is the chosen stick in words.
func (s *Stock) line(d *station.Desk) string {
	x, u, p := s.sticks[s.at], s.used(d), d.Plan
	sn := &p.Nests[x[0]]
	words := []string{text.Clean(s.name(d)) + ", " + p.Job.Tape.PrintLong(sn.Problem.Sticks[u.Stick].Length) + ":"}
	for _, c := range u.Cuts {
		words = append(words, text.Clean(p.Pieces[sn.Pieces[c.Kind]].Mark)+" "+p.Job.Tape.Print(c.To-c.From))
	}
	if u.Drop > 0 {
		words = append(words, "drop "+p.Job.Tape.Print(u.Drop))
	}
	return strings.Join(words, "  ")
}

func (s *Stock) used(d *station.Desk) *nest.Used {
	x := s.sticks[s.at]
	return &d.Plan.Nests[x[0]].Nest.Used[x[1]]
}

func shelved(d *station.Desk, stick string) bool {
	for _, x := range d.Work.Drops() {
		if x.Stick == stick {
			return true
		}
	}
	return false
}

// Press answers a key.
func (s *Stock) Press(d *station.Desk, key string) []station.Intent {
	s.follow(d)
	switch key {
	case "down", "j":
		s.at++
	case "up", "k":
		s.at--
	case "pgdown":
		s.at += 10
	case "pgup":
		s.at -= 10
	case "home":
		s.at = 0
	case "end":
		s.at = len(s.sticks) - 1
	case "y":
		if len(s.sticks) > 0 && station.Unplanned(d) == "" {
			return []station.Intent{station.Copy{Text: s.line(d)}}
		}
	case "c":
		if d.Plan != nil && !d.Plan.Failed() {
			return []station.Intent{station.Copy{Text: strings.Join(buyLines(d), "; ")}}
		}
	case "r":
		if station.Unplanned(d) == "" {
			return receive(d)
		}
	case "p":
		if len(s.sticks) > 0 && d.Plan != nil {
			return s.shelve(d)
		}
	}
	s.at = max(0, min(s.at, len(s.sticks)-1))
	return nil
}

// shelve asks for the length of the drop that goes back.
func (s *Stock) shelve(d *station.Desk) []station.Intent {
	u, p := s.used(d), d.Plan
	name, section := s.name(d), p.Nests[s.sticks[s.at][0]].Section
	return []station.Intent{station.Ask{Prompt: "drop of " + name + ":", Initial: station.Typed(p.Job.Tape, u.Drop), Help: "as measured, tip to tip; it goes on the record and on the shelf", Done: func(word string) ([]station.Intent, error) {
		l, err := measure.ParseLength(word, p.Job.Units)
		if err != nil {
			return nil, err
		}
		if l <= 0 || l > u.Drop+measure.Inch {
			return nil, fmt.Errorf("the plan leaves %s; measure again", p.Job.Tape.Print(u.Drop))
		}
		return []station.Intent{station.Write{Events: []work.What{work.Shelved{Stick: name, Section: section, Length: l}}}}, nil
	}}}
}

func buyLines(d *station.Desk) []string {
	p := d.Plan
	var out []string
	for _, b := range p.Buy {
		line := fmt.Sprintf("%d x %s %s", b.Qty, text.Clean(b.Section), p.Job.Tape.PrintLong(b.Length))
		if b.Priced {
			line += "  " + b.Cost.With(text.Clean(p.Job.Currency))
		}
		if b.Supplier != "" {
			line += " from " + text.Clean(b.Supplier)
		}
		if b.Old {
			line += ", OLD price of " + b.Date.String()
		}
		out = append(out, line)
	}
	for _, b := range p.Received {
		out = append(out, fmt.Sprintf("came: %d x %s %s", b.Qty, text.Clean(b.Section), p.Job.Tape.PrintLong(b.Length)))
	}
	if len(out) == 0 {
		out = []string{"nothing to buy"}
	}
	return out
}

// layout gives how many rows the head and the foot take.
func (s *Stock) layout(d *station.Desk, w, h int) (head, foot []string) {
	l, p := d.Look, d.Plan
	head = append(head, l.Strong.Render(" To buy"))
	lines := buyLines(d)
	if most := max(1, h/4); len(lines) > most {
		lines = append(lines[:most-1], fmt.Sprintf("and %d more lines; c copies them all", len(lines)-most+1))
	}
	for _, x := range lines {
		head = append(head, l.Chalk.Render("  "+x))
	}
	if h >= 12 {
		for i, sn := range p.Nests {
			if i > 2 {
				break
			}
			for k, x := range draw.Wrap(text.Clean(sn.Section)+": "+sheet.Proof(sn, text.Clean(p.Job.Currency)), w-6) {
				sign := l.Signs.Done
				if !sn.Nest.Proven {
					sign = l.Signs.Rest
				}
				if k > 0 {
					sign = " "
				}
				head = append(head, l.Dim.Render("  "+sign+" "+x))
			}
		}
	}
	if len(s.sticks) > 0 && h >= 10 {
		x := s.sticks[s.at]
		sn := &p.Nests[x[0]]
		u := &sn.Nest.Used[x[1]]
		st := sn.Problem.Sticks[u.Stick]
		from := "to buy"
		if u.Stick < len(sn.Rests) {
			from = "what is left of it"
		} else if st.OnHand {
			from = "on hand"
		}
		foot = append(foot, l.Strong.Render(fmt.Sprintf(" %s  %s, %s", text.Clean(p.StickName(x[0], x[1])), p.Job.Tape.PrintLong(st.Length), from)))
		var names []string
		for _, c := range u.Cuts {
			names = append(names, fmt.Sprintf("%s %s", p.Pieces[sn.Pieces[c.Kind]].Mark, p.Job.Tape.Print(c.To-c.From)))
		}
		lines := draw.Wrap(strings.Join(names, "  "), w-4)
		if len(lines) > 2 {
			lines = append(lines[:2:2], "...")
		}
		for _, y := range lines {
			foot = append(foot, l.Chalk.Render("  "+y))
		}
		note := "slack " + p.Job.Tape.Print(u.Slack)
		if u.Drop > 0 {
			note += ", drop " + p.Job.Tape.Print(u.Drop)
			if p.Job.Saw.Keep > 0 && u.Drop < p.Job.Saw.Keep {
				note += " (scrap)"
			}
		}
		if len(u.Parts) > 0 {
			var parts []string
			for _, y := range u.Parts {
				parts = append(parts, p.Job.Tape.PrintLong(y))
			}
			note += "; the yard parts it into " + strings.Join(parts, ", ")
		}
		foot = append(foot, l.Dim.Render("  "+note))
	}
	return head, foot
}

// rowsEach is how many lines a stick takes: two where there is room for its pieces' slants.
func rowsEach(n, room int) int {
	if n*2 <= room {
		return 2
	}
	return 1
}

// View draws the station.
func (s *Stock) View(d *station.Desk, w, h int) []string {
	if x := station.Waiting(d, w); x != nil {
		return x
	}
	s.follow(d)
	l := d.Look
	if d.Bare && len(s.sticks) > 0 {
		return s.bare(d, w, h)
	}
	head, foot := s.layout(d, w, h)
	if len(s.sticks) == 0 {
		return append(head, "", l.Cool.Render(" "+l.Signs.Done+" no stick is left to cut"))
	}
	room := max(1, h-len(head)-len(foot))
	each := rowsEach(len(s.sticks), room)
	n := max(1, room/each)
	s.top = station.Scroll(s.top, s.at, len(s.sticks), n)
	lines := head
	for i := s.top; i < len(s.sticks) && i < s.top+n; i++ {
		lines = append(lines, s.stick(d, i, w, each)...)
	}
	for len(lines) < h-len(foot) {
		lines = append(lines, "")
	}
	return append(lines, foot...)
}

// Layers of a stick.
const (
	layerOpen uint8 = iota
	layerDone
	layerDrop
)

// stick draws one stick to the scale of the longest.
func (s *Stock) stick(d *station.Desk, i, w, rows int) []string {
	l := d.Look
	parts, length, name, own := s.lay(d, i, w)
	body := draw.Stick(length.MM(), parts, own, rows, l.Unicode, func(layer uint8, run string) string {
		switch layer {
		case layerDone:
			return l.Cool.Render(run)
		case layerDrop:
			return l.Dim.Render(run)
		}
		return l.Chalk.Render(run)
	})
	var out []string
	for k := 0; k < rows; k++ {
		row := ""
		if k < len(body) {
			row = body[k]
		}
		lead := strings.Repeat(" ", len([]rune(name))+2)
		if k == 0 {
			if i == s.at {
				lead = " " + l.Mark.Render(l.Signs.Next+strings.TrimRight(name, " ")) + strings.Repeat(" ", len([]rune(name))-len([]rune(strings.TrimRight(name, " "))))
			} else {
				lead = "  " + l.Dim.Render(name)
			}
		}
		out = append(out, lead+" "+row)
	}
	return out
}

// lay gives the parts of a stick, its length, its name as it is shown, and how many cells it is drawn in.
func (s *Stock) lay(d *station.Desk, i, w int) (parts []draw.Part, length measure.Length, name string, own int) {
	l, p := d.Look, d.Plan
	x := s.sticks[i]
	sn := &p.Nests[x[0]]
	u := &sn.Nest.Used[x[1]]
	length = sn.Problem.Sticks[u.Stick].Length
	longest := length
	for _, y := range sn.Problem.Sticks {
		longest = max(longest, y.Length)
	}
	sec := p.Sections[sn.Section]
	for _, c := range u.Cuts {
		mark := p.Pieces[sn.Pieces[c.Kind]].Mark
		part := draw.Part{From: c.From.MM(), To: c.To.MM(), LeftSlant: slant(c.Lay.Left, sec.Depth, sec.Width), RightSlant: slant(c.Lay.Right, sec.Depth, sec.Width), Label: mark, Layer: layerOpen}
		unit := c.Unit
		if k := sn.Units[c.Kind]; unit >= 1 && unit <= len(k) {
			unit = k[unit-1]
		}
		if d.Work.IsCut(mark, unit) {
			part.Layer, part.Fill = layerDone, []rune(l.Signs.Light)[0]
		}
		parts = append(parts, part)
	}
	if u.Drop > 0 {
		slant := 0.0
		if n := len(parts); n > 0 {
			slant = parts[n-1].RightSlant
		}
		parts = append(parts, draw.Part{From: (length - u.Drop).MM(), To: length.MM(), LeftSlant: slant, Label: p.Job.Tape.Print(u.Drop), Layer: layerDrop})
	}
	name = draw.FitLine(text.Short(p.StickName(x[0], x[1]), 12), min(13, w/4))
	cells := w - len([]rune(name)) - 4
	own = max(4, int(float64(cells)*length.MM()/longest.MM()+0.5))
	return parts, length, name, own
}

// slant gives how far the far edge of a plane lies right of its near edge, in mm, seen on the face that it leans across.
func slant(p nest.Plane, depth, width measure.Length) float64 {
	if p.SY != 0 {
		return float64(p.SY) / 1e9 * depth.MM()
	}
	return float64(p.SZ) / 1e9 * width.MM()
}

// Click selects a stick.
func (s *Stock) Click(d *station.Desk, x, y, w, h int) []station.Intent {
	if station.Unplanned(d) != "" || d.Bare {
		return nil
	}
	s.follow(d)
	head, foot := s.layout(d, w, h)
	room := max(1, h-len(head)-len(foot))
	if y < len(head) || y >= len(head)+room || len(s.sticks) == 0 {
		return nil
	}
	i := s.top + (y-len(head))/rowsEach(len(s.sticks), room)
	if i >= len(s.sticks) {
		return nil
	}
	s.at = i
	parts, length, name, own := s.lay(d, i, w)
	k := draw.PartAt(length.MM(), parts, own, x-len([]rune(name))-2)
	u := s.used(d)
	if k < 0 || k >= len(u.Cuts) {
		return nil
	}
	c := u.Cuts[k]
	sn := &d.Plan.Nests[s.sticks[i][0]]
	pc := &d.Plan.Pieces[sn.Pieces[c.Kind]]
	say := fmt.Sprintf("%s  %s  %s", text.Clean(pc.Mark), d.Plan.Job.Tape.PrintLong(pc.Length), sheet.PieceEnds(pc))
	if len(pc.Members) > 0 {
		say += ": " + text.Short(text.Clean(strings.Join(pc.Members, ", ")), 80)
	}
	return []station.Intent{station.Say{Text: say}}
}

// mostFigures is how many workings the help shows; `soapstone explain` gives all.
const mostFigures = 60

// Figures gives the working of the nest's figures.
func (s *Stock) Figures(d *station.Desk) []string {
	var out []string
	for _, f := range d.Plan.StockFigures() {
		out = append(out, f.Working())
		if len(out) == mostFigures {
			break
		}
	}
	return out
}
