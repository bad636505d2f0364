package page

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestWrapLosesNothing: no line is wider than asked for unless it is one character, and the words come back.
func TestWrapLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[a-zA-Z0-9żß€" -]{0,120}`).Draw(t, "text")
		size := rapid.Float64Range(8, 30).Draw(t, "size")
		width := rapid.Float64Range(5, 190).Draw(t, "width")
		lines := Wrap(s, size, true, width)
		if len(lines) == 0 {
			t.Fatal("no line")
		}
		for _, l := range lines {
			if len([]rune(l)) > 1 && WidthMM(l, size, true) > width+1e-6 { // sums of the same widths in another order
				t.Fatalf("%q is %.3f wide, more than %.3f", l, WidthMM(l, size, true), width)
			}
		}
		if got, want := strings.ReplaceAll(strings.Join(lines, ""), " ", ""), strings.ReplaceAll(strings.Join(strings.Fields(s), ""), " ", ""); got != want {
			t.Fatalf("%q became %q", want, got)
		}
	})
}

// TestLayKeepsToTheField: whatever the blocks are, none reaches beyond the page, no row is lost, and rows keep their order.
func TestLayKeepsToTheField(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var blocks []Block
		rows := 0
		table := func() *Table {
			x := &Table{Columns: []Column{{Head: "no", Width: 30, Size: 16}, {Head: "what"}}, Least: float64(rapid.IntRange(0, 12).Draw(t, "least"))}
			for range rapid.IntRange(1, 60).Draw(t, "rows") {
				rows++
				x.Rows = append(x.Rows, Row{Cells: []Cell{{Text: fmt.Sprint(rows), Box: true}, {Text: strings.Repeat("word ", rapid.IntRange(0, 400).Draw(t, "words"))}}})
			}
			return x
		}
		for range rapid.IntRange(1, 8).Draw(t, "blocks") {
			switch rapid.IntRange(0, 6).Draw(t, "kind") {
			case 0:
				blocks = append(blocks, &Heading{Level: rapid.IntRange(1, 3).Draw(t, "level"), Text: "Heading"})
			case 1:
				blocks = append(blocks, &Text{Text: strings.Repeat("some words ", rapid.IntRange(0, 900).Draw(t, "n"))})
			case 2:
				blocks = append(blocks, &Caution{Text: strings.Repeat("take care ", rapid.IntRange(0, 900).Draw(t, "n"))})
			case 3:
				blocks = append(blocks, table())
			case 4:
				blocks = append(blocks, &Drawing{W: Width, H: rapid.Float64Range(1, Body-2).Draw(t, "high")})
			case 5:
				blocks = append(blocks, &Group{Blocks: []Block{&Heading{Level: 3, Text: "Stick"}, &Drawing{W: Width, H: 30}, table()}, Loose: rapid.Bool().Draw(t, "loose")})
			case 6:
				blocks = append(blocks, &Facts{Facts: []Fact{{Name: "a very long name for a fact", Value: strings.Repeat("9", rapid.IntRange(1, 40).Draw(t, "digits"))}, {Name: "b", Value: "1"}}})
			}
		}
		var d Document
		d.Lay([]Part{{Name: "one", Blocks: blocks}, {Name: "two", Blocks: []Block{&Text{Text: "end"}}}})
		next := 1
		for i, p := range d.Pages {
			if p.Number != i+1 {
				t.Fatalf("page %d is numbered %d", i+1, p.Number)
			}
			at := BandHigh + BandSpace
			for _, b := range p.Blocks {
				if b.Y < at-1e-6 || b.Y+b.H > Height+1e-6 { // sums of lengths in mm
					t.Fatalf("page %d: a %T from %.2f to %.2f", p.Number, b.Block, b.Y, b.Y+b.H)
				}
				at = b.Y + b.H
				x, ok := b.Block.(*Table)
				if !ok {
					continue
				}
				for _, r := range x.Rows {
					switch got := strings.Join(r.Cells[0].Lines, ""); got {
					case fmt.Sprint(next):
						next++
					case "": // a long row goes on
					default:
						t.Fatalf("row %q where %d was due", got, next)
					}
				}
			}
		}
		if next != rows+1 {
			t.Fatalf("%d rows of %d", next-1, rows)
		}
	})
}

func TestHeadingIsNeverLeftBehind(t *testing.T) {
	for fill := 200.0; fill < Body; fill++ {
		var d Document
		d.Lay([]Part{{Blocks: []Block{&Drawing{W: Width, H: fill}, &Heading{Level: 2, Text: "Next"}, &Text{Text: "why", Keep: true}, &Drawing{W: Width, H: 30}}}})
		for _, p := range d.Pages {
			last := p.Blocks[len(p.Blocks)-1].Block
			if _, ok := last.(*Heading); ok {
				t.Fatalf("filled to %.0f, the heading is alone", fill)
			}
			if _, ok := last.(*Text); ok {
				t.Fatalf("filled to %.0f, heading and text are alone", fill)
			}
		}
	}
}

func TestCutAndFit(t *testing.T) {
	for _, width := range []float64{5, 20, 60} {
		if got := Cut("a title that is far too long for its place", 12, true, width); WidthMM(got, 12, true) > width+1e-9 && len(got) > 3 {
			t.Errorf("%q is wider than %.0f", got, width)
		}
	}
	if s := Fit("118\"", 22, 9, true, 100); s != 22 {
		t.Errorf("a short text is set in %.1f", s)
	}
}

func ExampleWrap() {
	for _, line := range Wrap("hook the tape once on the first tip", 12, false, 40) {
		fmt.Println(line)
	}
	// Output:
	// hook the tape once
	// on the first tip
}
