package sheet

import (
	"context"
	"encoding/csv"
	"strings"
	"testing"

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
		{"=1+1", "'=1+1"}, {"+A1", "'+A1"}, {"-A1", "'-A1"}, {"@x", "'@x"}, {"-22.5", "-22.5"}, {"rail", "rail"}, {"-Inf", "'-Inf"}, {"|calc", "'|calc"}, {"", ""},
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
