package plan

import (
	"strings"

	"bench.example/soapstone/fab/figure"
)

// PieceFigures gives the figures of one piece, by its mark: those of Figures that begin with "piece.MARK.".
func (p *Plan) PieceFigures(mark string) []figure.Figure {
	for i := range p.Pieces {
		if p.Pieces[i].Mark == mark && !p.Failed() {
			return only(p.pieceFigures(&p.Pieces[i]), "piece."+mark+".")
		}
	}
	return nil
}

// StockFigures gives the figures of the nests and of what is bought.
func (p *Plan) StockFigures() []figure.Figure {
	if p.Failed() {
		return nil
	}
	var fs []figure.Figure
	for i := range p.Nests {
		fs = append(fs, p.nestFigures(&p.Nests[i])...)
	}
	return append(only(fs, "nest."), only(p.buyFigures(), "buy.")...)
}

func only(fs []figure.Figure, prefix string) []figure.Figure {
	var out []figure.Figure
	for _, f := range fs {
		if strings.HasPrefix(f.ID, prefix) {
			out = append(out, f)
		}
	}
	return out
}
