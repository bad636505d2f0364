package newjob

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/station"
)

func check(data []byte) []text.Problem {
	cat := table.Steel()
	_, p := job.Reader{Catalogue: &cat}.Read(job.File{Name: "new.toml", Data: data})
	return p
}

func answers(changes map[int]string) []string {
	var v []string
	for _, f := range Questions() {
		v = append(v, f.Value)
	}
	for q, s := range changes {
		v[q] = s
	}
	return v
}

// TestText reads every text that the answers make with the job's own reader.
func TestText(t *testing.T) {
	for _, c := range []map[int]string{
		{},
		{qTitle: `the "8 ft" rack`, qLength: `8'`, qWidth: `44"`, qHeight: "30", qLowBars: "5", qHighBars: "3", qUprights: "3", qLegs: "10in", qPrice: "27.80", qAmps: "96"},
		{qUnits: "mm", qLength: "2400", qWidth: "800", qTube: "50mm x 25mm x 2mm", qPost: "40mm x 3mm", qHeight: "700", qStick: "6m", qAmps: "96A"},
	} {
		data, err := Text(answers(c))
		if err != nil {
			t.Errorf("%v: %v", c, err)
			continue
		}
		if err := Judge(check(data)); err != nil {
			t.Errorf("%v: the reader says %v of\n%s", c, err, data)
		}
	}
}

func TestTextRefusesAtTheField(t *testing.T) {
	for _, c := range []struct {
		field int
		with  string
	}{{qLength, "long"}, {qWidth, "-3"}, {qHeight, "x"}, {qLowBars, "some"}, {qHighBars, "-1"}, {qUprights, "1e9"}, {qPrice, "cheap"}, {qStick, "0"}, {qLegs, "5 parsecs"}, {qUnits, "ell"}, {qTitle, "a\nb"}} {
		_, err := Text(answers(map[int]string{c.field: c.with}))
		var a *station.Amiss
		if !errors.As(err, &a) || a.Field != c.field {
			t.Errorf("field %d with %q: %v", c.field, c.with, err)
		}
	}
	for field, with := range map[int]string{qTube: "2 by 1 by thin", qDuty: "often"} {
		data, err := Text(answers(map[int]string{field: with, qAmps: "96"}))
		if err != nil {
			t.Fatal(err)
		}
		var a *station.Amiss
		if err := Judge(check(data)); !errors.As(err, &a) || a.Field != field {
			t.Errorf("field %d with %q: the reader's fault is told at %v", field, with, err)
		}
	}
}

func TestAsk(t *testing.T) {
	var out bytes.Buffer
	in := strings.NewReader("Dinghy dolly\n\nnonsense\n60\n30\n0\n\n\n2\n\n\n\n\n\n\n")
	data, err := Ask(in, &out, false, check, nil)
	if err != nil {
		t.Fatalf("%v\n%s", err, out.String())
	}
	if !strings.Contains(string(data), `"Dinghy dolly"`) || !strings.Contains(string(data), `"60"`) || !strings.Contains(out.String(), "that cannot be") {
		t.Fatalf("%s\n%s", data, out.String())
	}
	if _, err := Ask(strings.NewReader("x\n"), &out, false, check, nil); !errors.Is(err, ErrNoAnswer) {
		t.Fatalf("an input that ends: %v", err)
	}
}

// TestNothingIsAmiss holds that a new job, answered plainly, plans without a warning of its own making, in inches and
// millimetres.
func TestNothingIsAmiss(t *testing.T) {
	for _, c := range []map[int]string{
		{qHeight: "30", qLowBars: "5", qHighBars: "3", qUprights: "3", qLegs: "10in", qPrice: "27.80", qAmps: "96"},
		{qTube: "3 x 2 x 3/16", qPost: "2 x 3/16", qHeight: "30", qLegs: "10in"},
		{qUnits: "mm", qLength: "2400", qWidth: "800", qTube: "50mm x 30mm x 2mm", qPost: "40mm x 3mm", qHeight: "700", qLegs: "300", qStick: "6m"},
	} {
		data, err := Text(answers(c))
		if err != nil {
			t.Fatal(err)
		}
		cat := table.Steel()
		j, problems := job.Reader{Catalogue: &cat}.Read(job.File{Name: "new.toml", Data: data})
		p := plan.Build(t.Context(), plan.Input{Job: &j, Steel: cat, Effort: -1})
		for _, x := range append(problems, p.Problems...) {
			if x.Severity != text.Caution {
				t.Errorf("%s\n%s", x, data)
			}
		}
	}
}

// TestOneTubeIsOneSection holds uprights of the rails' own tube to the rails' section, so that one nest buys them.
func TestOneTubeIsOneSection(t *testing.T) {
	for post, want := range map[string]bool{"1-1/2 x 14ga": true, "1-1/2 x 11ga": false, "2 x 14ga": false} {
		data, err := Text(answers(map[int]string{qTube: "1.5 x 1.5 x 14ga", qPost: post, qHeight: "48", qLegs: "8"}))
		if err != nil {
			t.Fatal(err)
		}
		if err := Judge(check(data)); err != nil {
			t.Errorf("%s: %v", post, err)
		}
		if got := !strings.Contains(string(data), "upright\""); got != want {
			t.Errorf("uprights of %s: one section %v, wanted %v\n%s", post, got, want, data)
		}
	}
}

// TestAskReadsAtEightyColumns holds every line that is told to the width of a plain terminal, and a ? to an answer.
func TestAskReadsAtEightyColumns(t *testing.T) {
	var out bytes.Buffer
	in := strings.NewReader("?\n\n\n7ft\n2'\n4 foot\n48\n\n\n\n\n\n8\n\n\n90\n\n")
	if _, err := Ask(in, &out, false, check, nil); err != nil {
		t.Fatalf("%v\n%s", err, out.String())
	}
	if n := strings.Count(out.String(), asking); n != 2 {
		t.Errorf("how to answer is told %d times, wanted at the start and at the ?\n%s", n, out.String())
	}
	for _, l := range strings.Split(out.String(), "\n") {
		if len([]rune(l)) > 79 && !strings.HasPrefix(l, "  [") {
			t.Errorf("%d columns: %q", len([]rune(l)), l)
		}
	}
}
