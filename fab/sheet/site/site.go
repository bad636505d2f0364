// Package site is the sheet that is taken along when a job is measured: what to measure, how, and blanks to write it on. It
// asks for what a job file asks for, in the order in which one walks round the place, and for what cannot be seen from the
// shop later: the door, the slope, what stands in the way, what the ground is.
//
// The sheet is a value; Plain writes it as text, Pages as pages for the writers of HTML and PDF.
package site

import (
	"fmt"
	"strings"
	"time"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/sheet/page"
)

// Sheet is the whole of it.
type Sheet struct {
	Title string // of the job; "" for a new one
	Parts []Part
}

// Part is what is measured in one go.
type Part struct {
	Title  string
	How    string // how it is measured, and why
	Blanks []Blank
	Grid   *Grid // a table to fill; nil for none
	Sketch string
}

// Blank is one thing to write down.
type Blank struct {
	What string
	Hint string // what belongs on it: a unit, two readings
	Tick bool   // a box to tick instead of a line to write on
}

// Grid is a table of readings.
type Grid struct {
	Head []string // of the columns, the first names the rows
	Rows []string
}

// New makes the sheet of a job that is not drawn yet. Lengths are asked for in the tape's units. stations is how many
// readings are taken across a surface that is not flat: nine where it is not known.
func New(title string, tape measure.Tape, stations int) Sheet {
	if stations < 3 {
		stations = 9
	}
	unit, small := "ft, in and 1/16", "1/16 in"
	if tape.Metric() {
		unit, small = "mm", "mm"
	}
	rows := make([]string, min(stations, 25))
	for i := range rows {
		rows[i] = fmt.Sprint(i + 1)
	}
	return Sheet{Title: title, Parts: []Part{
		{Title: "The job", Blanks: []Blank{{What: "customer, telephone"}, {What: "where it will stand"}, {What: "what it is for, what it carries", Hint: "how many, how heavy, each"}, {What: "wanted by"}, {What: "measured by, day"},
			{What: "finish", Hint: "paint and colour, galvanised, none"}, {What: "indoors", Tick: true}, {What: "salt air or spray", Tick: true}}},
		{Title: "Room", How: "Measure each twice, at both ends, and write down both: walls are seldom parallel. The smaller one counts.", Blanks: []Blank{
			{What: "width at the near end", Hint: unit}, {What: "width at the far end", Hint: unit}, {What: "depth on the left", Hint: unit}, {What: "depth on the right", Hint: unit},
			{What: "both diagonals", Hint: unit + "; equal only where it is square"}, {What: "clear height, lowest point", Hint: unit}, {What: "room to be left free all round", Hint: unit}}},
		{Title: "In the way", How: "Pipes, steps, posts, sockets, hatches, what opens into the room: where from which corner, how large.", Grid: &Grid{
			Head: []string{"what", "from the left", "from the near end", "height over the floor", "size"}, Rows: []string{"1", "2", "3", "4", "5"}}},
		{Title: "Ground", How: "Lay a straightedge or stretch a line level across, wedge it at one end, and measure down to the ground at equal stations, " + small +
			". Do the same at the second place along. The highest point first: it decides the clearance.", Blanks: []Blank{{What: "across: length of the line", Hint: unit}, {What: "line is at height over the highest point", Hint: unit}, {What: "second line is so far along", Hint: unit},
			{What: "ground", Hint: "concrete and how thick, asphalt, planks, earth"}, {What: "may be drilled", Tick: true}},
			Grid: &Grid{Head: []string{"station", "from the left", "down, first line", "down, second line"}, Rows: rows}},
		{Title: "Slope", How: "Along, a level with a spacer: the spacer's height over the level's length is the slope.", Blanks: []Blank{{What: "length of the level", Hint: unit}, {What: "spacer that levels it", Hint: small}, {What: "falls towards", Hint: "water, street, left, right"}}},
		{Title: "Way in", How: "The frame goes through the narrowest of these, whole or in parts.", Blanks: []Blank{{What: "door or gate: clear width", Hint: unit}, {What: "clear height", Hint: unit}, {What: "turn behind it", Hint: "room to swing a long part"}, {What: "steps, how many"},
			{What: "vehicle gets within", Hint: "how far to carry"}, {What: "people there to carry", Hint: "how many"}, {What: "power on site", Tick: true}, {What: "hot work allowed", Tick: true}}},
		{Title: "Pictures", How: "With the tape in the picture. Tick what is taken.", Blanks: []Blank{{What: "the whole place from the front", Tick: true}, {What: "from each side", Tick: true}, {What: "the ground, low, along the line", Tick: true}, {What: "everything in the way", Tick: true},
			{What: "the door from outside and inside", Tick: true}, {What: "what it will carry, with its size", Tick: true}}},
		{Title: "Sketch", Sketch: "from above and from the side, with every measure; say which way is up, and which way is north or water"},
	}}
}

// Plain writes the sheet as text with lines to write on.
func (s Sheet) Plain() string {
	var b strings.Builder
	title := "To measure on site"
	if s.Title != "" {
		title += ": " + s.Title
	}
	fmt.Fprintf(&b, "%s\n%s\n", title, strings.Repeat("=", len([]rune(title))))
	for _, p := range s.Parts {
		fmt.Fprintf(&b, "\n%s\n%s\n", p.Title, strings.Repeat("-", len([]rune(p.Title))))
		if p.How != "" {
			for _, x := range fold(p.How, 78) {
				b.WriteString(x + "\n")
			}
		}
		for _, x := range p.Blanks {
			what := x.What
			if x.Hint != "" {
				what += " (" + x.Hint + ")"
			}
			if x.Tick {
				fmt.Fprintf(&b, "[ ] %s\n", what)
				continue
			}
			n := max(12, 76-len([]rune(what)))
			fmt.Fprintf(&b, "%s %s\n", what, strings.Repeat("_", n))
		}
		if g := p.Grid; g != nil {
			b.WriteString("\n")
			for _, h := range g.Head {
				fmt.Fprintf(&b, "%-19s", h)
			}
			b.WriteString("\n")
			for _, r := range g.Rows {
				fmt.Fprintf(&b, "%-19s%s\n", r, strings.Repeat("________________   ", len(g.Head)-1))
			}
		}
		if p.Sketch != "" {
			fmt.Fprintf(&b, "(%s)%s", p.Sketch, strings.Repeat("\n", 24))
		}
	}
	return b.String()
}

// fold breaks a text at blanks.
func fold(s string, w int) []string {
	var out []string
	line := ""
	for _, x := range strings.Fields(s) {
		if line != "" && len([]rune(line))+1+len([]rune(x)) > w {
			out = append(out, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += x
	}
	return append(out, line)
}

// rowMM is the height of a row to write in by hand.
const rowMM = 9.5

// Pages lays the sheet out for printing.
func (s Sheet) Pages(paper page.Paper, made time.Time) *page.Document {
	d := &page.Document{Title: s.Title, Name: "to measure on site", Made: made, Paper: paper}
	if d.Title == "" {
		d.Title = "New job"
	}
	if d.Paper == page.Either {
		d.Paper = page.Letter
	}
	var all []page.Block
	for _, p := range s.Parts {
		group := []page.Block{&page.Heading{Level: 2, Text: p.Title}}
		if p.How != "" {
			group = append(group, &page.Text{Text: p.How})
		}
		if len(p.Blanks) > 0 {
			t := &page.Table{Columns: []page.Column{{Width: 92}, {}}, Least: rowMM}
			for _, x := range p.Blanks {
				what := x.What
				if x.Hint != "" {
					what += " (" + x.Hint + ")"
				}
				t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: what, Box: x.Tick}, {Blank: !x.Tick}}})
			}
			group = append(group, t)
		}
		if g := p.Grid; g != nil {
			t := &page.Table{Least: rowMM}
			for i, h := range g.Head {
				c := page.Column{Head: h}
				if i == 0 {
					c.Width = 30
				}
				t.Columns = append(t.Columns, c)
			}
			for _, r := range g.Rows {
				cells := []page.Cell{{Text: r}}
				for range g.Head[1:] {
					cells = append(cells, page.Cell{Blank: true})
				}
				t.Rows = append(t.Rows, page.Row{Cells: cells})
			}
			group = append(group, t)
		}
		if p.Sketch != "" {
			group = append(group, &page.Text{Text: p.Sketch}, &page.Space{MM: 120})
		}
		all = append(all, &page.Group{Blocks: group})
	}
	d.Lay([]page.Part{{Name: "to measure", Blocks: all}})
	return d
}
