package site_test

import (
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/sheet/paper"
	"bench.example/soapstone/fab/sheet/site"
)

// TestAsksForWhatAJobNeeds: every measure that a job file of a frame on uneven ground asks for has its blank.
func TestAsksForWhatAJobNeeds(t *testing.T) {
	s := site.New("Rack of the north boathouse", measure.Sixteenths, 7)
	text := s.Plain()
	for _, want := range []string{"width at the near end", "depth on the left", "In the way", "down, first line", "spacer that levels it", "door or gate: clear width", "Pictures", "Sketch", "how heavy", "may be drilled"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not ask for %q", want)
		}
	}
	stations := 0
	for _, p := range s.Parts {
		if p.Title == "Ground" {
			stations = len(p.Grid.Rows)
		}
	}
	if stations != 7 {
		t.Errorf("%d stations across, asked for 7", stations)
	}
	for _, line := range strings.Split(text, "\n") {
		if n := len([]rune(line)); n > 110 {
			t.Errorf("a line of %d: %s", n, line)
		}
	}
	if metric := site.New("", measure.Millimetres, 0).Plain(); !strings.Contains(metric, "(mm)") || strings.Contains(metric, "1/16") {
		t.Error("a metric tape is asked for inches")
	}
}

// Every blank stands on a page, and no block is higher than one.
func TestPages(t *testing.T) {
	s := site.New("Rack", measure.Sixteenths, 9)
	for _, p := range []page.Paper{page.Letter, page.A4} {
		d := s.Pages(p, time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))
		if len(d.Pages) < 2 || len(d.Pages) > 6 {
			t.Errorf("%d pages", len(d.Pages))
		}
		plain := paper.Plain(d)
		for _, part := range s.Parts {
			for _, b := range part.Blanks {
				if word, _, _ := strings.Cut(b.What, ","); !strings.Contains(plain, word) {
					t.Errorf("%q is on no page", b.What)
				}
			}
		}
		pdf, err := paper.PDF(d)
		if err != nil || len(pdf) < 1000 {
			t.Errorf("%d bytes of PDF, %v", len(pdf), err)
		}
		if html := string(paper.HTML(d)); !strings.Contains(html, "down, first line") {
			t.Error("the HTML lacks the table of the ground")
		}
	}
}
