package sheet

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
)

// Parts are the tables that CSV writes.
var Parts = []string{"pieces", "cuts", "buy"}

// CSV writes one table of the plan for a spreadsheet or a machine (RFC 4180, lines end in CR LF): the pieces, the cuts in the
// order of the saw's queue, or what is bought. Every row has as many cells as the head. Texts stand in quotes, numbers do
// not; lengths are millimetres, and once more as the job's tape has them. No cell can be taken for a formula.
func CSV(p *plan.Plan, part string) ([]byte, error) {
	var t table
	switch part {
	case "pieces":
		piecesCSV(&t, p)
	case "cuts":
		cutsCSV(&t, p)
	case "buy":
		buyCSV(&t, p)
	default:
		return nil, fmt.Errorf("no table %q: it is one of %s", part, strings.Join(Parts, ", "))
	}
	return []byte(t.b.String()), nil
}

// table writes the rows. A string is text; a number type is written as such; nil is an empty cell.
type table struct{ b strings.Builder }

func (t *table) row(cells ...any) {
	for i, c := range cells {
		if i > 0 {
			t.b.WriteByte(',')
		}
		switch v := c.(type) {
		case string:
			if v != "" {
				t.b.WriteString(`"` + strings.ReplaceAll(Cell(v), `"`, `""`) + `"`)
			}
		case int:
			t.b.WriteString(strconv.Itoa(v))
		case float64:
			t.b.WriteString(number(v))
		case bool:
			t.b.WriteString(strconv.FormatBool(v))
		case exact:
			t.b.WriteString(string(v))
		}
	}
	t.b.WriteString("\r\n")
}

// exact is a number that is spelled already: money, a mass of so many decimals.
type exact string

func piecesCSV(t *table, p *plan.Plan) {
	t.row("mark", "hand", "section", "size", "qty", "length_mm", "length", "left_deg", "right_deg", "across", "mass_kg", "members")
	for i := range p.Pieces {
		x := &p.Pieces[i]
		size := ""
		if s, ok := p.Job.Section(x.Section); ok {
			size = s.Size
		}
		t.row(x.Mark, x.Hand, x.Section, size, x.Qty, x.Length.MM(), p.Job.Tape.Print(x.Length), x.Ends[0].MiterDeg, x.Ends[1].MiterDeg, x.Across,
			exact(strconv.FormatFloat(x.MassKG, 'f', 3, 64)), strings.Join(x.Members, " "))
	}
}

func buyCSV(t *table, p *plan.Plan) {
	t.row("section", "size", "shape", "stick_mm", "stick", "qty", "unit_price", "cost", "supplier", "price_date", "old", "parted_at")
	for _, b := range p.Buy {
		size, shape := "", ""
		if s, ok := p.Job.Section(b.Section); ok {
			size, shape = s.Size, s.Shape
		}
		var price, cost any
		if b.Priced {
			price, cost = exact(b.Price.String()), exact(b.Cost.String())
		}
		var sticks []string
		for _, partings := range b.Parts { // from the stick's first end
			var at []string
			for _, l := range partings {
				at = append(at, p.Job.Tape.Print(l))
			}
			sticks = append(sticks, strings.Join(at, " and "))
		}
		t.row(b.Section, size, shape, b.Length.MM(), p.Job.Tape.PrintLong(b.Length), b.Qty, price, cost, b.Supplier, b.Date.String(), b.Old, strings.Join(sticks, "; "))
	}
}

func cutsCSV(t *table, p *plan.Plan) {
	t.row("step", "section", "stick", "op", "mark", "unit", "swing_deg", "tilt_deg", "wedge_deg", "roll_deg", "end_for_end", "before", "stop_mm", "stop", "near_mm", "far_mm", "measure", "edge")
	for i := range p.Queue.Steps {
		s := &p.Queue.Steps[i]
		var unit any
		stop := ""
		if s.Op == cut.Cut {
			unit, stop = s.Unit, p.Job.Tape.Print(s.Stop)
		}
		t.row(s.Number, s.Section, s.Stick, string(s.Op), s.Mark, unit, s.SwingDeg, s.TiltDeg, s.WedgeDeg, s.RollDeg, s.Turned,
			strings.TrimPrefix(flip(*s)+compound(*s), "; "), s.Stop.MM(), stop, s.Near.MM(), s.Far.MM(), s.Measure, s.Edge)
	}
}

// Cell cleans a text cell and keeps a spreadsheet from taking it for a formula, with an apostrophe before it.
func Cell(s string) string {
	s = text.Clean(s)
	if s == "" {
		return s
	}
	// Leading spaces do not help a formula past: some spreadsheets take them off first.
	first, _ := utf8.DecodeRuneInString(strings.TrimLeft(s, " \u3000"))
	if strings.ContainsRune("=+-@|%\uff1d\uff0b\uff0d\uff20\u2212", first) { // the full-width forms too: some spreadsheets take them
		return "'" + s
	}
	return s
}

func number(v float64) string { return strconv.FormatFloat(v+0, 'f', -1, 64) }
