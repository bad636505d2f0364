package sheet_test

import (
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/sheet"
)

// TestPieceEnds: no end that is more than a plain cut reads like one.
func TestPieceEnds(t *testing.T) {
	plain := func(miter float64, across string) piece.End {
		return piece.End{Kind: frame.Butt, MiterDeg: miter, Across: across}
	}
	square := plain(0, "depth")
	point := piece.End{Kind: frame.Point, Across: "depth", Then: []piece.End{plain(69.1, "depth"), plain(-20.9, "depth")}, OneTip: true, TipMM: 12.7}
	steep := piece.End{Kind: frame.Point, Across: "depth", Then: []piece.End{{MiterDeg: 30, BevelDeg: 54, Across: "width"}, plain(58, "width")}, Template: true}
	for _, c := range []struct {
		ends  [2]piece.End
		says  string
		lines []string // what each must hold
	}{
		{[2]piece.End{square, square}, "square", nil},
		{[2]piece.End{plain(45, "width"), plain(45, "width")}, "45 / 45 across width", nil},
		{[2]piece.End{plain(45, "width"), plain(0, "width")}, "45 / 0 across width", nil},
		{[2]piece.End{plain(45, "depth"), plain(30, "width")}, "45 depth / 30 width", nil},
		{[2]piece.End{{Kind: frame.OnFoot, MiterDeg: 4.7, BevelDeg: -1.6, Across: "depth"}, square}, "4.7 bevel -1.6 / square", []string{"first end: 4.7 across depth with bevel -1.6, its tip at the front"}},
		{[2]piece.End{square, {Kind: frame.Saddled, Across: "depth"}}, "square / saddle", []string{"second end: saddle"}},
		{[2]piece.End{{Kind: frame.Cope, Across: "depth"}, {Kind: frame.Cope, Across: "depth"}}, "cope / cope", []string{"both ends: cope"}},
		{[2]piece.End{point, square}, "point / square", []string{`69.1 across depth and -20.9 across depth, from the tip, 1/2" over the bottom edge`}},
		{[2]piece.End{steep, square}, "point / square", []string{"template"}},
	} {
		x := piece.Piece{Ends: c.ends, Across: c.ends[0].Across}
		if got := sheet.PieceEnds(&x); got != c.says {
			t.Errorf("%q, want %q", got, c.says)
		}
		lines := sheet.EndLines(&x, measure.Sixteenths)
		if len(lines) != len(c.lines) {
			t.Errorf("%s: %q", c.says, lines)
			continue
		}
		for k, want := range c.lines {
			if !strings.Contains(lines[k], want) {
				t.Errorf("%q does not hold %q", lines[k], want)
			}
		}
	}
}
