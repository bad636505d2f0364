// Package price asks what a job must bring: what it costs, with hours and overhead, and the price by markup or margin.
//
// Markup and margin are two things and are never confused: markup is a share of the cost, margin a share of the price.
package price

import (
	"errors"

	"bench.example/soapstone/fab/figure"
)

// Sources of the relations between cost, markup, margin and price: definitions of bookkeeping.
var (
	markupSource = figure.Source{Kind: figure.Common, Text: "markup is a share of the cost"}
	marginSource = figure.Source{Kind: figure.Common, Text: "margin is a share of the price"}
)

// ErrMargin says that no price has this margin.
var ErrMargin = errors.New("a margin must be less than 100%: it is a share of the price; a share of the cost is a markup")

// ErrMarkup says that a markup takes more than the cost away.
var ErrMarkup = errors.New("a markup must be more than -100%")

// ByMarkup gives the price that adds markup (a fraction of the cost).
func ByMarkup(cost, markup float64) (figure.Figure, error) {
	if !(markup > -1) {
		return figure.Figure{}, ErrMarkup
	}
	return figure.New("price.sell", "price", "", "c * (1 + u)", markupSource, figure.In("c", "cost", cost, "", ""), figure.In("u", "markup, share of the cost", markup, "", "")), nil
}

// ByMargin gives the price of which margin (a fraction of the price) is left over the cost.
func ByMargin(cost, margin float64) (figure.Figure, error) {
	if !(margin < 1) {
		return figure.Figure{}, ErrMargin
	}
	return figure.New("price.sell", "price", "", "c / (1 - m)", marginSource, figure.In("c", "cost", cost, "", ""), figure.In("m", "margin, share of the price", margin, "", "")), nil
}

// MarginOf gives the margin that a markup comes to.
func MarginOf(markup float64) figure.Figure {
	return figure.New("price.margin", "margin", "", "u / (1 + u)", marginSource, figure.In("u", "markup, share of the cost", markup, "", ""))
}

// MarkupOf gives the markup that a margin comes to.
func MarkupOf(margin float64) figure.Figure {
	return figure.New("price.markup", "markup", "", "m / (1 - m)", markupSource, figure.In("m", "margin, share of the price", margin, "", ""))
}
