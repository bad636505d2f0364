package weld

import (
	"fmt"
	"math"
	"slices"

	"bench.example/soapstone/fab/measure"
)

// Setting is a starting point at the machine for one thickness: a guide from published tables, not the machine's own.
type Setting struct {
	ThicknessMM float64
	Amps        [2]float64 // least and greatest
	Volts       [2]float64 // 0, 0: not set at the machine
	FeedMMs     [2]float64 // wire feed; 0, 0: none
	TravelMMs   [2]float64 // 0, 0: not given
	Use         string     // electrode or wire
	Source      string
	Notes       []string
}

// DoorChart stands above every setting.
const DoorChart = "the chart on your machine's door comes first; try it on scrap of the same wall"

const ipm = measure.InchMM / 60

// fluxCored is the data sheet of E71T-11, .035 in, flat and horizontal, DC electrode negative.
var fluxCored = []struct{ upToMM, feed, amps, volts float64 }{
	{0.95, 50, 30, 14},     // 22-20 ga
	{2.0, 70, 65, 15},      // flat and horizontal fillet
	{3.2, 90, 90, 16},      // 14-12 ga
	{7.94, 110, 120, 16.5}, // 3/16 in; to 5/16 in in several passes
}

// solidFillet is a 350 A MAG source's manual, appendix p. 52: horizontal fillets with solid wire and gas.
var solidFillet = []struct {
	mm             float64
	amps, volts    [2]float64
	travel         [2]float64 // cm/min
	wireLo, wireHi float64
}{
	{0.6, [2]float64{70, 80}, [2]float64{17, 18}, [2]float64{50, 60}, 0.4, 0.6},
	{1.0, [2]float64{85, 90}, [2]float64{18, 19}, [2]float64{50, 60}, 0.6, 0.8},
	{1.6, [2]float64{100, 110}, [2]float64{18, 19.5}, [2]float64{50, 60}, 0.6, 0.8},
	{2.4, [2]float64{115, 125}, [2]float64{19.5, 20}, [2]float64{50, 60}, 0.8, 1.0},
	{3.2, [2]float64{130, 140}, [2]float64{19.5, 21}, [2]float64{50, 60}, 0.8, 1.2},
}

// rods are the largest electrode by thickness (stick inverter's manual p. 14) and its currents (the same, p. 21, and an
// engine-driven machine's table B.4).
var rods = []struct {
	upToMM float64
	use    string
	amps   [2]float64
}{
	{2, "E6013 3/32 in (2.5 mm)", [2]float64{60, 95}},
	{5, "E6013 1/8 in (3.2 mm)", [2]float64{100, 130}},
	{8, "E6013 5/32 in (4.0 mm)", [2]float64{130, 165}},
}

// Guide gives a starting point for a process and the thickness of the thinner part. ok is false where no published table
// reaches: a process or thickness that the tables do not hold.
func Guide(process string, thicknessMM float64) (s Setting, ok bool) {
	s.ThicknessMM = thicknessMM
	switch process {
	case "FCAW-S":
		for _, r := range fluxCored {
			if thicknessMM <= r.upToMM+1e-9 {
				s.Amps, s.Volts, s.FeedMMs = [2]float64{0.9 * r.amps, 1.1 * r.amps}, [2]float64{r.volts - 0.5, r.volts + 0.5}, [2]float64{0.9 * r.feed * ipm, 1.1 * r.feed * ipm}
				s.Use, s.Source = "E71T-11 .035 in, electrode negative", "data sheet of E71T-11 wire, nominal +-10 %"
				s.Notes = []string{"stick-out 1/2 in, drag 10-20 degrees", "vertical up: 60 ipm, 50 A, 14.5 V"}
				if thicknessMM > 4.8 {
					s.Notes = append(s.Notes, "general-purpose wire: not for code work, at most about three layers")
				}
				return s, true
			}
		}
	case "GMAW":
		best := -1
		for k, r := range solidFillet {
			if best < 0 || math.Abs(r.mm-thicknessMM) < math.Abs(solidFillet[best].mm-thicknessMM) {
				best = k
			}
		}
		r := solidFillet[best]
		if thicknessMM > 4 || thicknessMM < 0.5 {
			return s, false
		}
		s.Amps, s.Volts = r.amps, r.volts
		s.TravelMMs = [2]float64{r.travel[0] * 10 / 60, r.travel[1] * 10 / 60}
		s.Use, s.Source = fmt.Sprintf("solid wire %.1f-%.1f mm with gas", r.wireLo, r.wireHi), "350 A MAG source, owner's manual, appendix p. 52: horizontal fillet"
		s.Notes = []string{"the printed travel is for a steady machine; a hand on a small machine goes 8-16 in/min", "one ampere for each .001 in of thickness is the short-arc rule of small machines"}
		return s, true
	case "SMAW":
		for _, r := range rods {
			if thicknessMM <= r.upToMM+1e-9 {
				s.Amps, s.Use, s.Source = r.amps, r.use, "stick inverter, owner's manual pp. 14 and 21"
				s.Notes = []string{"one rod burns about a minute: mind the stub", "E7018 is kept at 250 F once the can is open; E6011 and E6013 only dry"}
				return s, true
			}
		}
	}
	return s, false
}

// guides gives the starting points for the walls that are welded, the thinnest first; a wall that no table reaches is
// noted.
func (p *Plan) guides() {
	var walls []float64
	for _, s := range p.Layout.Seams {
		thin := math.Min(s.WallMM[0], s.WallMM[1])
		if s.Skipped == "" && !slices.ContainsFunc(walls, func(w float64) bool { return math.Abs(w-thin) < 0.05 }) {
			walls = append(walls, thin)
		}
	}
	slices.Sort(walls)
	for _, t := range walls {
		g, ok := Guide(p.Process.Name, t)
		if !ok {
			p.note("no published table of settings at hand for %s on a wall of %s: %s", p.Process.Name, p.tape.Fine(t), DoorChart)
			continue
		}
		p.Guides = append(p.Guides, g)
	}
}

// Words puts a starting point in a line, the wall as tape has it.
func (s Setting) Words(tape measure.Tape) string {
	out := fmt.Sprintf("wall %s: %s, %.0f to %.0f A", tape.Fine(s.ThicknessMM), s.Use, s.Amps[0], s.Amps[1])
	if s.Volts[1] > 0 {
		out += fmt.Sprintf(", %.1f to %.1f V", s.Volts[0], s.Volts[1])
	}
	if s.FeedMMs[1] > 0 {
		out += fmt.Sprintf(", feed %.0f to %.0f in/min", s.FeedMMs[0]/ipm, s.FeedMMs[1]/ipm)
	}
	if s.TravelMMs[1] > 0 {
		out += fmt.Sprintf(", travel %.0f to %.0f in/min", s.TravelMMs[0]/ipm, s.TravelMMs[1]/ipm)
	}
	return out + " (" + s.Source + ")"
}
