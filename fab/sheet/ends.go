package sheet

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
)

// SquareEnds is what PieceEnds says of two square ends.
const SquareEnds = "square"

// PieceEnds says in a few words how the two ends of a piece are cut: two plain angles across one face, or each end by its
// kind. An end that is more than a plain cut is named, so that nobody saws it square and takes it for done; EndLines tells
// the rest.
func PieceEnds(x *piece.Piece) string {
	l, r := &x.Ends[0], &x.Ends[1]
	if plain(l) && plain(r) && (l.Across == r.Across || l.MiterDeg == 0 || r.MiterDeg == 0) {
		return Ends(l.MiterDeg, r.MiterDeg, x.Across)
	}
	return short(l) + " / " + short(r)
}

// finished tells of an end whether more is done to it than the saw's cut.
func finished(e *piece.End) bool {
	return len(e.Then) > 0 || e.Kind == frame.Saddled || e.Kind == frame.Cope
}

func plain(e *piece.End) bool { return e.BevelDeg == 0 && !finished(e) }

func short(e *piece.End) string {
	switch {
	case finished(e):
		return string(e.Kind)
	case e.BevelDeg != 0:
		return Degrees(e.MiterDeg) + " bevel " + Degrees(e.BevelDeg)
	case e.MiterDeg == 0:
		return SquareEnds
	}
	return Degrees(e.MiterDeg) + " " + e.Across
}

// EndLines tells each end that is more than a plain cut, a line for each; none where both are plain.
func EndLines(x *piece.Piece, tape measure.Tape) []string {
	var out []string
	for k := range x.Ends {
		if e := &x.Ends[k]; !plain(e) {
			out = append(out, [2]string{"first", "second"}[k]+" end: "+long(e, tape))
		}
	}
	if len(out) == 2 && strings.TrimPrefix(out[0], "first") == strings.TrimPrefix(out[1], "second") {
		return []string{"both ends" + strings.TrimPrefix(out[0], "first end")}
	}
	return out
}

// cutOf says one plane cut.
func cutOf(e *piece.End) string {
	switch {
	case e.BevelDeg != 0:
		to := "back"
		if e.BevelDeg < 0 {
			to = "front"
		}
		return fmt.Sprintf("%s across %s with bevel %s, its tip at the %s", Degrees(e.MiterDeg), e.Across, Degrees(e.BevelDeg), to)
	case e.MiterDeg == 0:
		return SquareEnds
	}
	return Degrees(e.MiterDeg) + " across " + e.Across
}

func long(e *piece.End, tape measure.Tape) string {
	switch {
	case len(e.Then) > 0:
		cuts := make([]string, len(e.Then))
		for k := range e.Then {
			cuts[k] = cutOf(&e.Then[k])
		}
		s := "point: saw it off square at the tip, then " + strings.Join(cuts, " and ")
		if e.OneTip {
			s += ", from the tip, " + tape.Print(measure.FromMM(e.TipMM)) + " over the bottom edge"
		}
		if e.Template {
			s += "; mark them by the printed template"
		}
		return s
	case e.Kind == frame.Saddled:
		return "saddle: saw it off square at the long point, then cope it to the printed template"
	case e.Kind == frame.Cope:
		return "cope: saw it " + cutOf(e) + ", then notch it by the printed template to fit the profile that it meets"
	}
	return cutOf(e)
}
