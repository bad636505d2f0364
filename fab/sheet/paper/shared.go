package paper

import (
	"fmt"

	"bench.example/soapstone/fab/sheet/page"
)

// band is the head of every page: the job on slate, and what tells this page from any other.
func band(d *page.Document, p *page.Page) *page.Drawing {
	b := &page.Drawing{W: page.Width, H: page.BandHigh}
	b.Add(page.Rect(0, 0, page.Width, page.BandHigh, 0, page.Slate))
	right := fmt.Sprintf("page %d of %d", p.Number, len(d.Pages))
	if d.Revision != "" {
		right = "revision " + d.Revision + " · " + right
	}
	if day := d.Day(); day != "" {
		right = day + " · " + right
	}
	const size = 11.0
	room := page.Width - 10 - page.WidthMM(right, size, true) - 6
	least := page.WidthMM("   "+p.Part, size, false)
	title, part := page.Cut(d.Title, size, true, max(room*0.4, room-least)), ""
	if p.Part != "" {
		part = page.Cut("   "+p.Part, size, false, room-page.WidthMM(title, size, true))
	}
	b.Add(page.Label{X: 4, Y: 6, Text: title, Size: size, Bold: true, White: true})
	if part != "" {
		b.Add(page.Label{X: 4 + page.WidthMM(title+"   ", size, true), Y: 6, Text: part[3:], Size: size, White: true})
	}
	b.Add(page.Label{X: page.Width - 4, Y: 6, Text: right, Size: size, Bold: true, White: true, Anchor: page.End})
	return b
}

// sign is the sign before a caution: a triangle with its mark, readable without colour.
func sign() *page.Drawing {
	d := &page.Drawing{W: 7, H: 6.4}
	d.Add(page.Poly{Points: []page.Point{{X: 3.5, Y: 0.3}, {X: 6.8, Y: 6.1}, {X: 0.2, Y: 6.1}}, Fill: page.Slate},
		page.Label{X: 3.5, Y: 5.4, Text: "!", Size: 11, Bold: true, White: true, Anchor: page.Middle})
	return d
}
