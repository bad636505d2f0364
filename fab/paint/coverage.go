// Package paint reckons what a frame takes to be painted: how far a paint goes, how much is bought, how thick it is laid
// on wet.
package paint

import "bench.example/soapstone/fab/figure"

// SpreadingRate is the source of the coverage relation: one US gallon (231 cubic inches) laid one thousandth of an inch
// thick covers 1604 square feet; in metric, one litre a millimetre thick covers one square metre.
var SpreadingRate = figure.Source{Kind: figure.Handbook, Text: `theoretical spreading rate, coating makers' data sheets and SSPC paint specifications: 1604 sq ft x volume solids / mils`}

// lossSource: loss is on the paint used.
var lossSource = figure.Source{Kind: figure.Handbook, Text: "practical spreading rate: theoretical rate x (1 - loss); loss is a share of the paint used, not an add-on"}

// Coverage gives how far one litre of the paint as applied goes in m2, without loss: volume solids as a fraction, dry film
// in mm, thinner added as a share of the paint's volume.
func Coverage(solids, filmMM, thin float64) figure.Figure {
	return figure.New("paint.coverage", "theoretical coverage", "m2/l", "s / (1 + t) / d", SpreadingRate,
		figure.In("s", "solids by volume, before thinning", solids, "", ""), figure.In("t", "thinner added, share of the paint", thin, "", ""),
		figure.In("d", "dry film", filmMM, "mm", "")).Without("loss, roughness of the steel, sharp edges")
}

// Practical gives the coverage after loss (a share of the paint used).
func Practical(coverage figure.Figure, loss float64) figure.Figure {
	return figure.New("paint.practical", "practical coverage", "m2/l", "c * (1 - l)", lossSource, coverage.As("c"), figure.In("l", "loss, share of the paint used", loss, "", ""))
}

// Litres gives the paint to buy, thinner not counted: area in m2 for each of the coats.
func Litres(areaM2, solids, filmMM, loss float64, coats int) figure.Figure {
	return figure.New("paint.litres", "paint to buy", "l", "A * n * d / s / (1 - l)", lossSource,
		figure.In("A", "area", areaM2, "m2", ""), figure.In("n", "coats", float64(coats), "", ""), figure.In("d", "dry film of a coat", filmMM, "mm", ""),
		figure.In("s", "solids by volume", solids, "", ""), figure.In("l", "loss, share of the paint used", loss, "", "")).Without("what stays in the can; whole cans are bought")
}

// WetFilm gives the thickness to lay on, in mm, for the wet-film comb.
func WetFilm(solids, filmMM, thin float64) figure.Figure {
	return figure.New("paint.wet", "wet film", "mm", "d * (1 + t) / s", SpreadingRate,
		figure.In("d", "dry film", filmMM, "mm", ""), figure.In("t", "thinner added, share of the paint", thin, "", ""), figure.In("s", "solids by volume", solids, "", ""))
}
