// Package sketch is the station where the job is drawn up: every table of the job file in a list, the frame beside it with
// the selected part lit, and a form for each table. The job stays the user's text; what is not touched stays as it was
// written.
package sketch

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/view"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// Sketch is the station.
type Sketch struct {
	doc  *text.Doc
	rows []row
	at   int
	top  int
	eye  int // which view
	turn float64

	of   *plan.Plan
	seen view.View
	pic  view.Picture
}

// New makes the station.
func New() *Sketch { return &Sketch{} }

// Name is the station's name.
func (s *Sketch) Name() string { return "Sketch" }

// Mends says that the station is of use while the job is broken: it is where one mends it.
func (s *Sketch) Mends() bool { return true }

// Purpose says what one does here.
func (s *Sketch) Purpose() string {
	return "Draw the job up: choose a part on the left, change it by form, add and copy and take out. The selected part is lit on the frame. The job is a plain text file; your comments and your order in it stay, and e opens it in your own editor."
}

var views = []string{"corner", "front", "side", "top"}

func (s *Sketch) view() view.View {
	switch s.eye {
	case 1:
		return view.Front
	case 2:
		return view.Side
	case 3:
		return view.Top
	}
	return view.Isometric(s.turn)
}

func (s *Sketch) follow(d *station.Desk) {
	if s.doc != d.Doc {
		s.doc, s.rows = d.Doc, rowsOf(d.Doc)
	}
	s.at = max(0, min(s.at, len(s.rows)-1))
}

// Keys gives the bindings.
func (s *Sketch) Keys(d *station.Desk) []station.Key {
	s.follow(d)
	off := d.CanEdit
	if off == "" && d.Doc == nil {
		off = "the file is not readable; e opens it in an editor"
	}
	undo, redo := off, off
	if off == "" && d.Edits[0] == "" {
		undo = "nothing was edited here yet"
	}
	if off == "" && d.Edits[1] == "" {
		redo = "nothing was taken back"
	}
	return []station.Key{
		{Keys: []string{"enter", "space"}, Shown: "enter", Does: "change", Off: off},
		{Keys: []string{"a"}, Does: "add", Off: off},
		{Keys: []string{"d"}, Does: "double", Off: off},
		{Keys: []string{"x"}, Does: "take out", Off: off},
		{Keys: []string{"u"}, Does: "undo edit", Off: undo},
		{Keys: []string{"r"}, Does: "redo edit", Off: redo},
		{Keys: []string{"e"}, Does: "editor", Off: d.CanEdit},
		{Keys: []string{"v"}, Does: "view"},
		{Keys: []string{"c"}, Does: "copy the line", Quiet: true},
		{Keys: []string{"left", "right"}, Shown: "left right", Does: "turn the frame", Quiet: true},
		{Keys: []string{"down", "j", "up", "k", "pgdown", "pgup", "home", "end"}, Shown: "down up", Does: "choose", Quiet: true},
	}
}

// Press answers a key.
func (s *Sketch) Press(d *station.Desk, key string) []station.Intent {
	s.follow(d)
	switch key {
	case "down", "j":
		s.at = min(s.at+1, max(0, len(s.rows)-1))
		return nil
	case "up", "k":
		s.at = max(0, s.at-1)
		return nil
	case "pgdown":
		s.at = min(s.at+10, max(0, len(s.rows)-1))
		return nil
	case "pgup":
		s.at = max(0, s.at-10)
		return nil
	case "home":
		s.at = 0
		return nil
	case "end":
		s.at = max(0, len(s.rows)-1)
		return nil
	case "v":
		s.eye = (s.eye + 1) % len(views)
		return nil
	case "left":
		s.turn, s.eye = s.turn-15, 0
		return nil
	case "right":
		s.turn, s.eye = s.turn+15, 0
		return nil
	case "e":
		return []station.Intent{station.Edit{}}
	case "u":
		return []station.Intent{station.Revert{}}
	case "r":
		return []station.Intent{station.Revert{Again: true}}
	case "a":
		if d.Doc != nil {
			return add(d)
		}
		return nil
	}
	if s.at >= len(s.rows) || d.Doc == nil {
		return nil
	}
	r := s.rows[s.at]
	switch key {
	case "enter", "space":
		return edit(d, r)
	case "c":
		return []station.Intent{station.Copy{Text: strings.TrimSpace(kinds[r.kind].title + " " + r.label)}}
	case "d":
		return double(d, r)
	case "x":
		return remove(d, r)
	}
	return nil
}

// listWidth is how wide the list is beside the drawing; 0 where the drawing stands below.
func listWidth(w int) int {
	if w < 76 {
		return 0
	}
	return min(52, w*45/100)
}

// listHeight is how high the list is over the drawing.
func listHeight(n, h int) int {
	if h < 16 {
		return h
	}
	return max(5, min(n+1, h/2))
}

// View draws the station.
func (s *Sketch) View(d *station.Desk, w, h int) []string {
	s.follow(d)
	l := d.Look
	if d.Doc == nil {
		lines := []string{"", l.Bad.Render(" " + l.Signs.Bad + " The job file cannot be read as it is."), ""}
		if d.Plan != nil {
			for _, p := range d.Plan.Problems {
				for _, x := range draw.Wrap(p.String(), w-6) {
					lines = append(lines, l.Chalk.Render("   "+x))
				}
			}
		}
		return append(lines, "", l.Chalk.Render("   e opens it in your editor; it is read again as soon as it is saved."))
	}
	if lw := listWidth(w); lw > 0 {
		list := s.list(d, lw, h)
		return draw.Columns(list, s.frame(d, w-lw-2, h), lw, 2)
	}
	lh := listHeight(len(s.rows), h)
	lines := s.list(d, w, lh)
	for len(lines) < lh {
		lines = append(lines, "")
	}
	if h-lh > 4 {
		lines = append(lines, s.frame(d, w, h-lh)...)
	}
	return lines
}

// list draws the tables of the job; faults of the file stand at the tables that they concern.
func (s *Sketch) list(d *station.Desk, w, h int) []string {
	l := d.Look
	bad := map[string]bool{}
	first := ""
	if d.Plan != nil {
		for _, p := range d.Plan.Problems {
			if p.Severity != text.Error {
				continue
			}
			if first == "" {
				first = p.String()
			}
			k, _, _ := strings.Cut(p.Key, ".")
			bad[k] = true
			bad[p.Key] = true
		}
	}
	var head []string
	if first != "" {
		for i, x := range draw.Wrap(first, w-4) {
			if i < 3 {
				sign := "  "
				if i == 0 {
					sign = l.Signs.Bad + " "
				}
				head = append(head, l.Bad.Render(" "+sign+x))
			}
		}
	}
	room := max(1, h-len(head))
	if s.at < s.top {
		s.top = s.at
	}
	if s.at >= s.top+room {
		s.top = s.at - room + 1
	}
	s.top = max(0, min(s.top, len(s.rows)-room))
	last := -1
	if s.top > 0 {
		last = s.rows[s.top-1].kind
	}
	for i := s.top; i < len(s.rows) && len(head) < h; i++ {
		r := s.rows[i]
		title := kinds[r.kind].title
		if r.kind == last && i > s.top {
			title = ""
		}
		last = r.kind
		sign := " "
		if bad[r.key] && r.key != "" {
			sign = l.Signs.Bad[:1]
			if l.Unicode {
				sign = l.Signs.Warn
			}
		}
		label := text.Clean(r.label)
		if i == s.at {
			head = append(head, l.Mark.Render(draw.FitLine(fmt.Sprintf("%s%s%-12s %s", l.Signs.Next, sign, kinds[r.kind].title, label), w)))
			continue
		}
		head = append(head, l.Bad.Render(" "+sign)+l.Dim.Render(fmt.Sprintf("%-12s ", title))+l.Chalk.Render(label))
	}
	return head
}

// Layers of the drawing.
const (
	layerFar uint8 = iota
	layerNear
	layerLit
)

// frame draws the frame, the parts that the selected table makes lit.
func (s *Sketch) frame(d *station.Desk, w, h int) []string {
	l := d.Look
	p := d.Plan
	if p == nil || p.Frame == nil || len(p.Frame.Members) == 0 {
		return []string{"", l.Dim.Render("  no frame to draw yet: a adds a rectangle")}
	}
	if v := s.view(); s.of != p || s.seen != v {
		s.of, s.seen, s.pic = p, v, view.Draw(p.Frame, v)
	}
	lit := make([]bool, len(p.Frame.Members))
	n := 0
	if s.at < len(s.rows) {
		r := s.rows[s.at]
		for i := range p.Frame.Members {
			m := &p.Frame.Members[i]
			lit[i] = r.key != "" && (m.Where.Key == r.key || strings.HasPrefix(m.Where.Key, r.key+".")) ||
				kinds[r.kind].key == "section" && m.Section != nil && m.Section.Name == r.name
			if lit[i] {
				n++
			}
		}
	}
	c := draw.NewCanvas(w, h-1, l.Unicode)
	place := draw.Place(c, s.pic.MinX, s.pic.MinY, s.pic.MaxX, s.pic.MaxY)
	for _, k := range s.pic.Strokes {
		layer := layerFar
		if k.Near > 0.5 {
			layer = layerNear
		}
		if k.Member >= 0 && k.Member < len(lit) && lit[k.Member] {
			layer = layerLit
		}
		x0, y0 := place(k.X0, k.Y0)
		x1, y1 := place(k.X1, k.Y1)
		c.Line(x0, y0, x1, y1, layer)
	}
	note := "from the " + views[s.eye]
	if n > 0 {
		note += fmt.Sprintf("; %d members lit", n)
	}
	out := []string{l.Dim.Render(" " + note)}
	return append(out, c.Rows(func(layer uint8, run string) string {
		switch layer {
		case layerLit:
			return l.Hot.Render(run)
		case layerNear:
			return l.Chalk.Render(run)
		}
		return l.Rule.Render(run)
	})...)
}

// Click selects the table under the mouse.
func (s *Sketch) Click(d *station.Desk, x, y, w, h int) []station.Intent {
	s.follow(d)
	lw := listWidth(w)
	if lw > 0 && x >= lw || lw == 0 && y >= listHeight(len(s.rows), h) {
		return nil
	}
	if i := s.top + y; i < len(s.rows) {
		if i == s.at {
			return s.Press(d, "enter")
		}
		s.at = i
	}
	return nil
}
