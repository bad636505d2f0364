package sum

import (
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/paint"
	"bench.example/soapstone/fab/price"
)

func priceSums() []Sum {
	return []Sum{{
		Name: "paint", Purpose: "how far a paint goes and how much is bought",
		Takes: []Arg{{Name: "area", Takes: "area to paint", Example: "100sqft"}, {Name: "solids", Takes: "solids by volume, from the can's data sheet", Example: "55%"},
			{Name: "film", Takes: "dry film of one coat", Example: "2mil"}, {Name: "loss", Takes: "share of the paint lost", Example: "30%", Optional: true},
			{Name: "coats", Takes: "number of coats", Example: "2", Optional: true}, {Name: "thin", Takes: "thinner added, share of the paint", Example: "10%", Optional: true}},
		Run: paintSum,
	}, {
		Name: "price", Purpose: "price from cost by markup (share of the cost) or margin (share of the price)",
		Takes: []Arg{{Name: "cost", Takes: "what it costs", Example: "240"}, {Name: "markup", Takes: "share of the cost put on top", Example: "30%", Optional: true},
			{Name: "margin", Takes: "share of the price that is left over the cost", Example: "30%", Optional: true}},
		Run: priceSum,
	}}
}

func paintSum(a *Args) (Result, error) {
	area := a.Positive("area", measure.ParseArea) / 1e6
	solids := a.Positive("solids", measure.ParseShare)
	film := a.PositiveMM("film")
	loss := a.Quantity("loss", measure.ParseShare)
	thin := a.Quantity("thin", measure.ParseShare)
	coats := a.Count("coats", 1, 1)
	switch {
	case a.Err() != nil:
	case solids > 1:
		a.Fail("solids", "cannot be more than 100%%")
	case loss < 0 || loss >= 1:
		a.Fail("loss", "must be from 0 to less than 100%%")
	case thin < 0 || thin > 10:
		a.Fail("thin", "must be from 0 to 1000%%")
	}
	if a.Err() != nil {
		return Result{}, a.Err()
	}
	var r Result
	cover := paint.Coverage(solids, film, thin)
	r.AddFigure("coverage_m2_l", cover)
	r.AddFigure("practical_m2_l", paint.Practical(cover, loss))
	r.AddFigure("litres", paint.Litres(area, solids, film, loss, coats))
	wet := paint.WetFilm(solids, film, thin)
	r.AddFigure("wet_film_mm", wet)
	return r, nil
}

func priceSum(a *Args) (Result, error) {
	cost := a.Quantity("cost", func(t string) (float64, error) {
		m, err := measure.ParseMoney(t)
		return m.Float(), err
	})
	if a.Has("markup") == a.Has("margin") {
		return Result{}, Use("give either markup (a share of the cost) or margin (a share of the price)")
	}
	markup, margin := a.Quantity("markup", measure.ParseShare), a.Quantity("margin", measure.ParseShare)
	if a.Err() == nil && cost < 0 {
		a.Fail("cost", "must not be negative")
	}
	if a.Err() != nil {
		return Result{}, a.Err()
	}
	var r Result
	if a.Has("markup") {
		f, err := price.ByMarkup(cost, markup)
		if err != nil {
			return r, err
		}
		r.AddFigure("price", f)
		r.Add("markup", markup)
		r.AddFigure("margin", price.MarginOf(markup))
		return r, nil
	}
	f, err := price.ByMargin(cost, margin)
	if err != nil {
		return r, err
	}
	r.AddFigure("price", f)
	r.AddFigure("markup", price.MarkupOf(margin))
	r.Add("margin", margin)
	return r, nil
}
