package sheet

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"
	"unicode/utf8"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
)

// CSV writes pieces, sticks to buy and the queue at the saw as three blocks in one file (RFC 4180), each with a head of its
// own and a blank line between. Lengths are millimetres. A cell that a spreadsheet would take for a formula is written with
// an apostrophe before it.
func CSV(p *plan.Plan) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	var failed error
	row := func(cells ...string) {
		for i := range cells {
			cells[i] = Cell(cells[i])
		}
		if err := w.Write(cells); err != nil && failed == nil {
			failed = err
		}
	}
	gap := func() {
		w.Flush()
		b.WriteString("\r\n")
	}
	row("mark", "hand", "section", "qty", "length_mm", "length", "left_deg", "right_deg", "across", "mass_kg", "members")
	for _, x := range p.Pieces {
		row(x.Mark, x.Hand, x.Section, strconv.Itoa(x.Qty), number(x.Length.MM()), p.Job.Tape.Print(x.Length), number(x.Ends[0].MiterDeg), number(x.Ends[1].MiterDeg), x.Across,
			strconv.FormatFloat(x.MassKG, 'f', 3, 64), strings.Join(x.Members, " "))
	}
	gap()
	row("section", "stick_mm", "stick", "qty", "unit_price", "cost")
	for _, x := range p.Buy {
		price, cost := "", ""
		if x.Priced {
			price, cost = x.Price.String(), x.Cost.String()
		}
		row(x.Section, number(x.Length.MM()), p.Job.Tape.PrintLong(x.Length), strconv.Itoa(x.Qty), price, cost)
	}
	gap()
	row("step", "section", "stick", "op", "mark", "unit", "swing_deg", "tilt_deg", "wedge_deg", "roll_deg", "end_for_end", "before", "stop_mm", "near_mm", "far_mm", "measure", "edge")
	for _, s := range p.Queue.Steps {
		unit := ""
		if s.Op == cut.Cut {
			unit = strconv.Itoa(s.Unit)
		}
		row(strconv.Itoa(s.Number), s.Section, strconv.Itoa(s.Stick), string(s.Op), s.Mark, unit, number(s.SwingDeg), number(s.TiltDeg), number(s.WedgeDeg), strconv.Itoa(s.RollDeg),
			strconv.FormatBool(s.Turned), strings.TrimPrefix(flip(s)+compound(s), "; "), number(s.Stop.MM()), number(s.Near.MM()), number(s.Far.MM()), s.Measure, s.Edge)
	}
	w.Flush()
	if failed == nil {
		failed = w.Error()
	}
	return b.Bytes(), failed
}

// Cell cleans a cell and keeps a spreadsheet from taking it for a formula. A plain number stays as it is.
func Cell(s string) string {
	s = text.Clean(s)
	if s == "" {
		return s
	}
	if _, err := strconv.ParseFloat(s, 64); err == nil && !strings.ContainsAny(s, "xXpPiInN_") {
		return s
	}
	first, _ := utf8.DecodeRuneInString(s)
	if strings.ContainsRune("=+-@|%\uff1d\uff0b\uff0d\uff20", first) { // the full-width forms too: some spreadsheets take them
		return "'" + s
	}
	return s
}

func number(v float64) string { return strconv.FormatFloat(v+0, 'f', -1, 64) }
