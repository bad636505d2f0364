package sheet

import (
	"context"
	"encoding/csv"
	"strings"
	"testing"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/plan"
)

func TestPageStandsAlone(t *testing.T) {
	j := frametest.Read(t, strings.Replace(stand, "Stand", `<script src=\"x\">&`, 1))
	p := plan.Build(context.Background(), plan.Input{Job: j, Steel: frametest.Catalogue(), Effort: -1})
	if p.Failed() {
		t.Fatal(p.Problems)
	}
	s := string(HTML(p))
	for _, bad := range []string{"<script", "http:", "https:", "url(", "<link", "\x1b", "%!"} {
		if strings.Contains(s, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	for _, tag := range []string{"html", "head", "body", "section", "div", "svg", "pre", "h2", "span", "text", "p"} {
		if open, shut := strings.Count(s, "<"+tag+">")+strings.Count(s, "<"+tag+" "), strings.Count(s, "</"+tag+">"); open != shut {
			t.Errorf("<%s> is opened %d times and closed %d times", tag, open, shut)
		}
	}
	for _, want := range []string{"Lifting and turning", "Squaring up", "break-inside:avoid", "data:image/svg+xml", `class="box"`, "&lt;script"} {
		if !strings.Contains(s, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

func TestCellsAreNoFormulas(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"=1+1", "'=1+1"}, {"+A1", "'+A1"}, {"-A1", "'-A1"}, {"@x", "'@x"}, {"-22.5", "-22.5"}, {"rail", "rail"}, {"-Inf", "'-Inf"}, {"|calc", "'|calc"}, {"\uff1d1", "'\uff1d1"}, {"", ""},
	} {
		if got := Cell(c.in); got != c.want {
			t.Errorf("%q becomes %q, want %q", c.in, got, c.want)
		}
	}
}

func TestCSVReadsBack(t *testing.T) {
	j := frametest.Read(t, stand)
	p := plan.Build(context.Background(), plan.Input{Job: j, Steel: frametest.Catalogue(), Effort: -1})
	data, err := CSV(p)
	if err != nil {
		t.Fatal(err)
	}
	blocks := strings.Split(string(data), "\r\n\r\n")
	if len(blocks) != 3 {
		t.Fatalf("%d blocks, want pieces, buy and queue", len(blocks))
	}
	rows, err := csv.NewReader(strings.NewReader(blocks[0])).ReadAll()
	if err != nil || len(rows) != len(p.Pieces)+1 {
		t.Errorf("%d rows of pieces, %v", len(rows), err)
	}
}

// TestCSVTellsHowTheStickLies: a cut made from the file alone needs every setting that the plan has for it.
func TestCSVTellsHowTheStickLies(t *testing.T) {
	j := frametest.Read(t, stand)
	p := plan.Build(context.Background(), plan.Input{Job: j, Steel: frametest.Catalogue(), Effort: -1})
	compounds := 0
	for i := range p.Queue.Steps {
		if s := &p.Queue.Steps[i]; s.Op == cut.Cut && compounds == 0 {
			s.WedgeDeg, s.RollDeg, s.Flip, compounds = 18.5, 180, true, 1
		}
	}
	data, err := CSV(p)
	if err != nil || compounds == 0 {
		t.Fatal(err, compounds)
	}
	blocks := strings.Split(string(data), "\r\n\r\n")
	rows, err := csv.NewReader(strings.NewReader(blocks[2])).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	for _, r := range rows[1:] {
		if r[column["op"]] == "cut" {
			if r[column["wedge_deg"]] != "18.5" || r[column["roll_deg"]] != "180" || !strings.Contains(r[column["before"]], "half a turn") || !strings.Contains(r[column["before"]], "18.5 on wedges") {
				t.Errorf("the row does not say how the stick lies: %q", r)
			}
			return
		}
	}
}
