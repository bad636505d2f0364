package sheet

import (
	"bytes"
	"context"
	"encoding/csv"
	"strconv"
	"strings"
	"testing"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/plan"
)

func TestCellsAreNoFormulas(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"=1+1", "'=1+1"}, {"+A1", "'+A1"}, {"-A1", "'-A1"}, {"@x", "'@x"}, {"rail", "rail"}, {"-Inf", "'-Inf"}, {"|calc", "'|calc"}, {"\uff1d1", "'\uff1d1"}, {"\uff0b1", "'\uff0b1"},
		{"  =1", "'  =1"}, {"\t=1", `\t=1`}, {"\r=1", `\r=1`}, {"", ""}, {"\u22121", "'\u22121"},
	} {
		if got := Cell(c.in); got != c.want {
			t.Errorf("%q becomes %q, want %q", c.in, got, c.want)
		}
	}
}

func tables(t *testing.T, p *plan.Plan, part string) []map[string]string {
	t.Helper()
	data, err := CSV(p, part)
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(data, []byte("\n")); n != bytes.Count(data, []byte("\r\n")) {
		t.Errorf("%s: %d lines do not end in CR LF", part, n-bytes.Count(data, []byte("\r\n")))
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll() // refuses rows of another length
	if err != nil {
		t.Fatal(part, err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, name := range rows[0] {
			m[name] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func TestCSVReadsBack(t *testing.T) {
	p := plan.Build(context.Background(), plan.Input{Job: frametest.Read(t, stand), Steel: frametest.Catalogue(), Effort: -1})
	pieces := tables(t, p, "pieces")
	if len(pieces) != len(p.Pieces) {
		t.Errorf("%d rows of pieces, want %d", len(pieces), len(p.Pieces))
	}
	for i, r := range pieces {
		if r["mark"] != p.Pieces[i].Mark || r["length_mm"] != strconv.FormatFloat(p.Pieces[i].Length.MM(), 'f', -1, 64) || r["qty"] != strconv.Itoa(p.Pieces[i].Qty) {
			t.Errorf("piece %d reads %v", i, r)
		}
	}
	buy := tables(t, p, "buy")
	if len(buy) != len(p.Buy) || buy[0]["cost"] != p.Buy[0].Cost.String() {
		t.Errorf("the buy list reads %v", buy)
	}
	cuts := tables(t, p, "cuts")
	if len(cuts) != len(p.Queue.Steps) {
		t.Errorf("%d rows of cuts, want %d", len(cuts), len(p.Queue.Steps))
	}
	if _, err := CSV(p, "hours"); err == nil || !strings.Contains(err.Error(), "pieces, cuts, buy") {
		t.Errorf("an unknown table gives %v", err)
	}
}

// TestCSVTellsTextFromNumbers: texts stand in quotes, numbers do not, so that a spreadsheet that is told so takes a mark such
// as 1E5 for what it is.
func TestCSVTellsTextFromNumbers(t *testing.T) {
	p := plan.Build(context.Background(), plan.Input{Job: frametest.Read(t, stand), Steel: frametest.Catalogue(), Effort: -1})
	p.Pieces[0].Mark = "1E5"
	data, _ := CSV(p, "pieces")
	row := strings.Split(string(data), "\r\n")[1]
	if !strings.HasPrefix(row, `"1E5",`) || !strings.Contains(row, ",2,1524,") {
		t.Errorf("the row is %s", row)
	}
}

// TestCSVTellsHowTheStickLies: a cut made from the file alone needs every setting that the plan has for it.
func TestCSVTellsHowTheStickLies(t *testing.T) {
	p := plan.Build(context.Background(), plan.Input{Job: frametest.Read(t, stand), Steel: frametest.Catalogue(), Effort: -1})
	at := -1
	for i := range p.Queue.Steps {
		if s := &p.Queue.Steps[i]; s.Op == cut.Cut && at < 0 {
			s.WedgeDeg, s.RollDeg, s.Flip, at = 18.5, 180, true, i
		}
	}
	r := tables(t, p, "cuts")[at]
	if r["wedge_deg"] != "18.5" || r["roll_deg"] != "180" || !strings.Contains(r["before"], "half a turn") || !strings.Contains(r["before"], "18.5 on wedges") {
		t.Errorf("the row does not say how the stick lies: %v", r)
	}
}
