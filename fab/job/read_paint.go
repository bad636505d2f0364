package job

import (
	"time"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// Usual values of a coat whose data sheet is not given. Solids and films are those of alkyd paints: enamel maker's technical
// data (42-43 % gloss, 1.5-2.5 mils), SSPC-Paint 25 (65 % at 2.0 mils); recoating after 24 h by the same sheet. Densities
// are common practice.
var (
	usualPrimer = Coat{Name: "primer", Solids: 0.65, FilmMM: 2 * measure.InchMM / 1000, Coats: 1, DensityKGL: 1.45, Recoat: 24 * time.Hour, Cure: 24 * time.Hour}
	usualTop    = Coat{Name: "top coat", Solids: 0.425, FilmMM: 2 * measure.InchMM / 1000, Coats: 2, DensityKGL: 1.05, Recoat: 24 * time.Hour, Cure: 48 * time.Hour}
)

// PrepGrades are the grades of surface preparation that are understood: SSPC's, and those of ISO 8501-1.
func PrepGrades() []string {
	return []string{"SP 1", "SP 2", "SP 3", "SP 5", "SP 6", "SP 7", "SP 8", "SP 10", "SP 11", "SP 16", "St 2", "St 3", "Sa 1", "Sa 2", "Sa 2-1/2", "Sa 3"}
}

// PaintMethods are the ways to lay paint on.
func PaintMethods() []string { return []string{"brush", "roller", "hvlp", "spray", "airless", "dip"} }

// paint reads [paint], the shop's under the job's.
func (rd *reader) paint() {
	rd.top.Skip("paint")
	f, given := rd.shared.Table("paint")
	p := Paint{Where: where(f), Given: given, Coating: "paint", Ends: "capped"}
	f.Choice("coating", &p.Coating, 0, "paint", "galvanise", "none")
	place := "outdoors"
	f.Choice("place", &place, 0, "outdoors", "indoors")
	p.Indoors = place == "indoors"
	f.Choice("prep", &p.Prep, 0, PrepGrades()...)
	method := "brush"
	f.Choice("method", &method, 0, PaintMethods()...)
	f.Choice("ends", &p.Ends, 0, "capped", "welded", "open")
	f.Money("cap_price", &p.CapPrice, 0)
	f.Money("galvanise_kg", &p.ZincKG, 0)
	f.Money("thinner_price", &p.Thinner, 0)
	f.Share("extra", &p.AreaExtra, 0)
	top := usualTop
	if p.Indoors {
		top.Coats = 1
	}
	p.Primer = rd.coat(f, "primer", usualPrimer, method)
	p.Top = rd.coat(f, "top", top, method)
	f.Done()
	rd.job.Paint = p
}

// coat reads [paint.primer] or [paint.top]. Without a table of its own the usual one is laid; coats = 0 leaves it out.
func (rd *reader) coat(f *text.Fields, key string, c Coat, method string) Coat {
	g, given := f.Table(key)
	c.Where, c.Given, c.Method = where(g), given, method
	c.own = map[string]bool{}
	for _, k := range g.Keys() {
		c.own[k] = true
	}
	g.Text("name", &c.Name, 0)
	if g.Share("solids", &c.Solids, text.Positive) && c.Solids < 0.05 {
		g.Fault(text.CodeValue, "solids", "a paint holds between 5%% and 100%% solids by volume; its data sheet says how much")
	}
	if text.Quantity(g, "film", &c.FilmMM, text.Positive, measure.ParseFilm) && c.FilmMM > 2 {
		g.Fault(text.CodeValue, "film", "thicker than 2 mm; a dry film is a few mils, such as 2mil or 50um")
	}
	g.Count("coats", &c.Coats, 0, 10, 0)
	g.Choice("method", &c.Method, 0, PaintMethods()...)
	if c.LossGiven = g.Share("loss", &c.Loss, 0); c.Loss > 0.95 {
		g.Fault(text.CodeValue, "loss", "a loss of more than 95%% lays nothing on")
		c.Loss = 0.95
	}
	if text.Quantity(g, "thin", &c.Thin, text.NotNegative, measure.ParseShare) && c.Thin > 1 {
		g.Fault(text.CodeValue, "thin", "more thinner than paint; a data sheet allows 5%% to 25%%")
	}
	if text.Quantity(g, "density", &c.DensityKGL, text.Positive, measure.ParseDensity) && (c.DensityKGL < 0.6 || c.DensityKGL > 5) {
		g.Fault(text.CodeValue, "density", "a paint weighs between 0.8 and 3.5 kg a litre")
	}
	text.Quantity(g, "recoat", &c.Recoat, text.NotNegative, measure.ParseTime)
	text.Quantity(g, "cure", &c.Cure, text.NotNegative, measure.ParseTime)
	for i, t := range g.Tables("cans") {
		var can Can
		if v := t.Take("size"); v != nil {
			can.Size = trimmed(v.Text)
		}
		text.Quantity(t, "size", &can.Litres, text.Need|text.Positive, measure.ParseVolume)
		can.Priced = t.Money("price", &can.Price, 0)
		t.Done()
		if i < maxCans && can.Litres > 0 {
			c.Cans = append(c.Cans, can)
		} else if i == maxCans {
			t.Fault(text.CodeTooMuch, "", "more than %d sizes of can", maxCans)
		}
	}
	g.Done()
	return c
}

// maxCans is how many sizes of can are weighed against each other.
const maxCans = 12
