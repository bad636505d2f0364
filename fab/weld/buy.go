package weld

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/seam"
)

// Purchase is what to buy for the welds, in whole spools or packs.
type Purchase struct {
	What   string
	PackKG float64
	Packs  int
	GasM3  float64 // shielding gas, 0 where none is used
}

// Pack sizes as sold (common practice): small spools of 2 lb and 10 lb, packs of rods of 5 lb.
const (
	smallSpoolKG = 2 * measure.PoundKG
	bigSpoolKG   = 10 * measure.PoundKG
	rodPackKG    = 5 * measure.PoundKG
)

// gasM3s is the usual flow of shielding gas, m3/s: 25 cubic feet an hour (common practice).
const gasM3s = 25 * 0.0283168 / 3600

// consumables adds up wire or rods and gas, tacks included.
func (p *Plan) consumables() {
	tacks := 0
	for _, j := range p.Layout.Joints {
		tacks += j.Tacks
	}
	area := seam.FilletArea(inchEighth)
	tackMetal := Metal(area, float64(tacks)*p.Rates.TackMM).Value
	f := Consumable(p.MetalKG+tackMetal, p.Process).Named("weld.wire")
	p.WireKG = f.Value
	p.Figures = append(p.Figures, f)
	if p.WireKG <= 0 {
		return
	}
	b := &p.Buy
	switch {
	case p.Process.Rods:
		b.What, b.PackKG = "pack of rods", rodPackKG
	case p.WireKG <= 2*smallSpoolKG:
		b.What, b.PackKG = "spool of wire", smallSpoolKG
	default:
		b.What, b.PackKG = "spool of wire", bigSpoolKG
	}
	b.Packs = Packs(p.WireKG, b.PackKG)
	if p.Process.Gas {
		b.GasM3 = math.Round(p.Schedule.ArcTime.Seconds()*gasM3s*1000) / 1000
	}
}

const inchEighth = measure.InchMM / 8

// cautions says what to look out for.
func (p *Plan) cautions() {
	add := func(format string, args ...any) { p.Cautions = append(p.Cautions, fmt.Sprintf(format, args...)) }
	if len(p.Layout.Seams) == 0 {
		return
	}
	add("the plate speaks of 40 C air and one input voltage; the machine's own cut-out has the last word. After a trip leave it on, let the fan run about 15 minutes, then use less current")
	add("filter shade %s; screen the arc from others; gloves, sleeves, dry ground", shade(p.Process.Name, p.Welder.Amps))
	add("move what burns 35 ft away or cover it; an extinguisher at hand; fire watch at least %.0f minutes after the last arc (29 CFR 1910.252(a)(2)(iii): 30 minutes; NFPA 51B-2019: 60)", p.Rates.FireWatch.Minutes())
	add("closed tube needs a vent hole before it is heated: trapped air and coatings build pressure")
	seen := map[string]bool{}
	for _, s := range p.Layout.Seams {
		seen[string(s.Finish)] = true
	}
	if seen["galvanised"] {
		add("galvanised steel: zinc fume makes ill (fume fever hours later; limit 5 mg/m3 over 8 h, OSHA). Grind the zinc back at least 1 in from the seam, weld outdoors or with extraction, wear a respirator rated for fume")
	}
	if seen["primed"] {
		add("primer and paint give off poisonous fume: grind back to bare steel around each seam, ventilate")
	}
	if seen["oiled"] {
		add("oil on the tube smokes: wipe it off with a solvent without chlorine (chlorinated ones give poisonous gas at the arc), let it dry")
	}
	thin := 0
	for _, x := range p.Seams {
		if x.ThinWall {
			thin++
		}
	}
	if thin > 0 {
		add("%d seams put much heat into a thin wall: burn-through is likely; go faster, use less current, or lay short runs. Try it on the scrap first", thin)
	}
	if p.Peak > 1.02 {
		add("a simple model of the machine's heat, fitted to its plate, runs %.0f %% over its limit in this plan although the window rule holds: derate, or let it cool longer after the first bursts", 100*(p.Peak-1))
	}
	add("weld a test bead on scrap of the same wall first, break it, and look at the root; %s of scrap is reserved", p.near(p.ScrapMM))
	add("the chart on your machine's door comes first; sizes and strengths here are no design: a licensed engineer and the local code have the last word")
}

// shade gives the filter shade: the least by 29 CFR 1910.133, and that one starts darker.
func shade(process string, amps float64) string {
	row := func(limits []float64, shades []int) int {
		for i, l := range limits {
			if amps < l {
				return shades[i]
			}
		}
		return shades[len(shades)-1]
	}
	var least int
	switch process {
	case "SMAW":
		least = row([]float64{60, 160, 250}, []int{7, 8, 10, 11})
	case "GTAW":
		least = row([]float64{50, 150}, []int{8, 8, 10})
	default:
		least = row([]float64{60, 160, 250}, []int{7, 10, 10, 10})
	}
	return fmt.Sprintf("no lighter than %d (29 CFR 1910.133); start darker and go down", least)
}
