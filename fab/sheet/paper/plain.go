package paper

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/sheet/page"
)

// Plain writes what stands on the pages as text: every word, and of drawings the labels and what they show. Tests compare it.
func Plain(d *page.Document) string {
	var b strings.Builder
	for i := range d.Pages {
		p := &d.Pages[i]
		fmt.Fprintf(&b, "=== %s | %s | page %d of %d\n", d.Title, p.Part, p.Number, len(d.Pages))
		for _, x := range p.Blocks {
			plainBlock(&b, x.Block)
		}
	}
	return b.String()
}

func plainBlock(b *strings.Builder, block page.Block) {
	switch x := block.(type) {
	case *page.Heading:
		fmt.Fprintf(b, "%s %s\n", strings.Repeat("#", x.Level), strings.Join(x.Lines, " "))
	case *page.Text:
		fmt.Fprintf(b, "%s\n", strings.Join(x.Lines, " "))
	case *page.Caution:
		fmt.Fprintf(b, "! %s\n", strings.Join(x.Lines, " "))
	case *page.Facts:
		for _, f := range x.Facts {
			fmt.Fprintf(b, "%s: %s\n", f.NameLine, f.Value)
		}
	case *page.Table:
		var head []string
		for _, c := range x.Columns {
			head = append(head, c.HeadLine)
		}
		fmt.Fprintf(b, "[%s]\n", strings.Join(head, " | "))
		for _, r := range x.Rows {
			var cells []string
			for _, c := range r.Cells {
				s := strings.Join(c.Lines, " ")
				if c.Box {
					s = strings.TrimRight("[ ] "+s, " ")
				}
				cells = append(cells, s)
			}
			fmt.Fprintf(b, "  %s\n", strings.Join(cells, " | "))
		}
	case *page.Drawing:
		var labels []string
		strokes := 0
		for _, s := range x.Shapes {
			if l, ok := s.(page.Label); ok {
				labels = append(labels, l.Text)
			} else {
				strokes++
			}
		}
		fmt.Fprintf(b, "(%s: %d strokes; %s)\n", x.Says, strokes, strings.Join(labels, ", "))
	}
}
