package paper

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/text"
)

// sample is a document with every kind of block, with a text from outside everywhere.
func sample(s string) *page.Document {
	d := &page.Document{Title: s, Name: "sample", Revision: "ABC234", Made: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)}
	pic := &page.Drawing{W: 50, H: 20, Says: s}
	pic.Add(page.Line{X1: 50, Y1: 20, W: .2}, page.Rect(1, 1, 5, 5, .3, page.Light), page.Disc{X: 9, Y: 9, R: 2, Fill: page.Slate}, page.Label{X: 5, Y: 5, Text: s, Size: 10, Up: true, Bold: true})
	d.Lay([]page.Part{{Name: s, Blocks: []page.Block{
		&page.Heading{Level: 1, Text: s}, &page.Text{Text: s, Bold: true}, &page.Caution{Text: s}, &page.Facts{Facts: []page.Fact{{Name: s, Value: s}}}, pic, &page.Space{MM: 3},
		&page.Table{Columns: []page.Column{{Head: s, Width: 40, Right: true}, {Head: "b", Bold: true}}, Rows: []page.Row{{Wide: true, Cells: []page.Cell{{Text: s}}}, {Cells: []page.Cell{{Text: s, Box: true}, {Text: s}}}}},
	}}})
	return d
}

// inside says which elements may stand in which, as far as our pages use them (WHATWG HTML, content models; SVG 1.1).
var inside = map[string]string{
	"html": "head body", "head": "meta title style", "body": "section", "section": "h1 h2 h3 h4 p div dl table figure svg", "div": "svg br dt dd", "dl": "div", "figure": "svg",
	"table": "colgroup thead tbody", "colgroup": "col", "thead": "tr", "tbody": "tr", "tr": "th td", "td": "span br", "h2": "br", "h3": "br", "h4": "br", "p": "br", "svg": "path circle text",
}

// wellFormed reads HTML as strict XML, and checks that every element stands where it may and every attribute is known.
func wellFormed(doc []byte) error {
	dec := xml.NewDecoder(bytes.NewReader(doc))
	dec.Strict = true
	var open []string
	known := " lang charset name content class style role scope colspan width height viewBox d fill stroke stroke-width stroke-linecap stroke-linejoin stroke-dasharray cx cy r x y font-size font-weight transform aria-label aria-hidden "
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			if len(open) > 0 {
				return fmt.Errorf("%q stays open", open)
			}
			return nil
		}
		if err != nil {
			return err
		}
		switch x := tok.(type) {
		case xml.StartElement:
			name := x.Name.Local
			if len(open) > 0 && !strings.Contains(" "+inside[open[len(open)-1]]+" ", " "+name+" ") {
				return fmt.Errorf("<%s> in <%s>", name, open[len(open)-1])
			}
			open = append(open, name)
			for _, a := range x.Attr {
				if !strings.Contains(known, " "+a.Name.Local+" ") {
					return fmt.Errorf("attribute %s of <%s>", a.Name.Local, name)
				}
			}
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 && strings.Contains(" table tr tbody thead colgroup dl svg section body html head ", " "+open[len(open)-1]+" ") && len(bytes.TrimSpace(x)) > 0 {
				return fmt.Errorf("text %q in <%s>", x, open[len(open)-1])
			}
		}
	}
}

func TestHTMLIsWellFormed(t *testing.T) {
	for _, s := range []string{"Rack", `<script>alert("x")</script>`, `"><img src=http://x>`, "a & b < c", "style=\"x\" url(http://x)", "źdźbło 字"} {
		if err := wellFormed(HTML(sample(s))); err != nil {
			t.Errorf("%q: %v", s, err)
		}
	}
}

func TestPDFIsTheSameEachTime(t *testing.T) {
	a, err := PDF(sample("Rack"))
	if err != nil {
		t.Fatal(err)
	}
	b, _ := PDF(sample("Rack"))
	if !bytes.Equal(a, b) {
		t.Error("the same pages give other bytes")
	}
	if !bytes.Contains(a, []byte("D:20261125")) {
		t.Error("the date is not the one given")
	}
}

// TestLettersOfNames: letters that the core fonts lack come from the second font, always in the same bytes; what that lacks
// too is spelled out.
func TestLettersOfNames(t *testing.T) {
	plain, _ := PDF(sample("Lodz"))
	a, err := PDF(sample("Łódź, Волга, Ωmega, 字"))
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if b, _ := PDF(sample("Łódź, Волга, Ωmega, 字")); !bytes.Equal(a, b) {
			t.Fatal("the same pages give other bytes")
		}
	}
	if len(a) < len(plain)+5000 {
		t.Errorf("%d bytes against %d without the letters: where are they?", len(a), len(plain))
	}
	f := fpdf.New("P", "mm", "A4", "")
	f.AddUTF8FontFromBytes("wide", "", wideFont)
	f.SetFont("wide", "", 12)
	for r := rune(0x100); r < 0x2300; r++ {
		if wide(r) && r != 0x3a2 && f.GetStringWidth(string(r)) <= 0 { // 3a2 is no character
			t.Errorf("the second font lacks %c (%U)", r, r)
		}
	}
}

// TestWidths holds the table of widths against the library that writes the PDF.
func TestWidths(t *testing.T) {
	f := fpdf.New("P", "mm", "A4", "")
	for _, bold := range []string{"", "B"} {
		f.SetFont("Helvetica", bold, 12)
		for r := rune(0x20); r < 0x2200; r++ {
			c, ok := page.Code(r)
			if !ok {
				continue
			}
			want, got := f.GetStringWidth(string([]byte{c})), page.WidthMM(string(r), 12, bold == "B")
			if math.Abs(got-want) > 0.003 { // the library rounds to thousandths of its unit
				t.Errorf("%q %s: %.4f mm, the library says %.4f", r, bold, got, want)
			}
		}
	}
}

func TestPlainSaysEverything(t *testing.T) {
	s := Plain(sample("Rack"))
	for _, want := range []string{"# Rack", "! Rack", "Rack: Rack", "[Rack | b]", "[ ] Rack | Rack", "(Rack: 3 strokes; Rack)"} {
		if !strings.Contains(s, want) {
			t.Errorf("%q is missing in\n%s", want, s)
		}
	}
}

// FuzzHTML: whatever a text from a file holds, the page stays well formed and reaches for nothing outside.
func FuzzHTML(f *testing.F) {
	for _, s := range []string{"Rack", "<script>", `" onload="x`, "</style>", "]]>", "<!--", "&#x0;", "\u202e", "javascript:x", "{}@import"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if len(s) > 3000 { // text.MaxText is 2000 characters
			return
		}
		d := sample(text.Clean(s))
		doc := HTML(d)
		if err := wellFormed(doc); err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		low := strings.ToLower(string(doc))
		for _, bad := range []string{"<script", "<img", "<link", "<iframe", "<object", "<a ", " src=", " href=", " onload="} {
			if strings.Contains(low, bad) && !strings.Contains(strings.ToLower(s), strings.TrimSpace(bad)) {
				t.Fatalf("%q: the page holds %q", s, bad)
			}
		}
		at := strings.Index(low, "<style>")
		style := low[at:strings.Index(low, "</style>")]
		if strings.Contains(style, "url(") || strings.Contains(style, "@import") {
			t.Fatal("the style reaches outside")
		}
		if _, err := PDF(d); err != nil {
			t.Fatalf("%q: %v", s, err)
		}
	})
}
