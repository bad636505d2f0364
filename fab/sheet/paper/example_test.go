package paper_test

import (
	"fmt"

	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/sheet/paper"
)

// The same pages as text, HTML or PDF.
func ExamplePlain() {
	d := page.Document{Title: "Paddle stand"}
	d.Lay([]page.Part{{Name: "Cuts", Blocks: []page.Block{&page.Heading{Level: 1, Text: "Cut sheet"}, &page.Text{Text: "Two rails of 48 in."}}}})
	fmt.Println(len(d.Pages))
	fmt.Print(paper.Plain(&d))
	// Output:
	// 1
	// === Paddle stand | Cuts | page 1 of 1
	// # Cut sheet
	// Two rails of 48 in.
}
