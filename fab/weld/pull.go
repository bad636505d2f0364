package weld

import (
	"fmt"
	"math"
	"sort"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/seam"
)

// Pull says how the welding is expected to move the frame, and what the order of the passes does to it. Estimates only:
// clamps, tacks and stiffness change them by half.
type Pull struct {
	Members []MemberPull
	// Lopsided is how far the centre of the heat laid so far strays from where it ends, at most, as a length (mm) weighted
	// by the share of heat laid: 0 would be welding everywhere at once. Plain is the same if joint after joint were finished.
	Lopsided, Plain float64
	Bows            []StageBow // of each stage with seams
	PreSets         []string
}

// MemberPull is the expected shortening of one member, mm: along its length by the seams that run along it, and at its ends
// by the seams across.
type MemberPull struct {
	Member  int
	ShortMM float64
}

// pull estimates it from a finished plan.
func (p *Plan) pull() Pull {
	var out Pull
	short := map[int]float64{}
	type spot struct {
		at   [3]float64
		heat float64
	}
	var planned []spot
	for _, e := range p.Schedule.Entries {
		if e.Kind == Arc {
			planned = append(planned, spot{p.Docket.Tasks[e.Task].Place, (e.End - e.Start).Seconds()})
		}
	}
	plain := []spot{}
	for _, j := range p.Layout.Joints {
		most := 0.0 // the joint closes by what its strongest seam pulls, not by the sum: the others find it closed
		for _, k := range j.Seams {
			x := p.Seams[k]
			if x.Arc <= 0 {
				continue
			}
			most = math.Max(most, x.Shrink.AcrossMM.Value)
			plain = append(plain, spot{place(p.Layout.Seams[k].Middle()), x.Arc.Seconds()})
		}
		if n := len(j.Index); n > 0 && most > 0 {
			short[j.Index[n-1]] += most // the member that is cut to the other
		}
	}
	stray := func(s []spot) float64 {
		var centre, sum [3]float64
		var all float64
		for _, x := range s {
			all += x.heat
			for a := range centre {
				centre[a] += x.heat * x.at[a]
			}
		}
		if all <= 0 {
			return 0
		}
		for a := range centre {
			centre[a] /= all
		}
		most := 0.0
		for _, x := range s {
			d := 0.0
			for a := range sum {
				sum[a] += x.heat * (x.at[a] - centre[a])
				d += sum[a] * sum[a]
			}
			most = math.Max(most, math.Sqrt(d)/all)
		}
		return most
	}
	out.Lopsided, out.Plain = stray(planned), stray(plain)
	for m, v := range short {
		out.Members = append(out.Members, MemberPull{m, v})
	}
	sort.Slice(out.Members, func(i, j int) bool { return out.Members[i].Member < out.Members[j].Member })
	for _, s := range p.Layout.Seams {
		if s.Type == seam.OutsideCorner {
			out.PreSets = append(out.PreSets, "corners close as they cool: tack each about 1/16 in open on the inside, weld from the inside towards the outside corner (common practice)")
			break
		}
	}
	out.Bows = p.bows()
	for _, b := range out.Bows {
		if b.PreSet != "" {
			out.PreSets = append(out.PreSets, b.PreSet)
		}
	}
	worst := 0.0
	for _, m := range out.Members {
		worst = math.Max(worst, m.ShortMM)
	}
	if worst > 0 {
		out.PreSets = append(out.PreSets, fmt.Sprintf("members between two welded ends draw the frame in by up to %s: where an outside size matters, set it so much long, or clamp against a spacer (rule of thumb, TWI)", p.near(worst)))
	}
	return out
}

// SeamFigures gives the figures of one seam: cross-section, weld metal, arc time, energy, heat, allowable force, shrinkage.
// Their IDs are weld.J3.2.area and so on.
func (p *Plan) SeamFigures(k int) []figure.Figure {
	s, x := p.Layout.Seams[k], p.Seams[k]
	if x.Arc <= 0 {
		return nil
	}
	id := func(what string) string { return "weld." + s.ID + "." + what }
	area := s.Area().Named(id("area"))
	metal := Metal(area.Value, s.WeldMM).Named(id("metal"))
	metal.Inputs[0] = area.As("A")
	speed := figure.Source{Kind: figure.Shop, Text: "travel as the welder's table gives it, or deposit rate over cross-section"}
	arc := figure.New(id("arc"), "arc time", "s", "n * L / v", speed, figure.In("n", "passes", float64(s.Passes), "", ""),
		figure.In("L", "length of weld", s.WeldMM, "mm", "geometry"), figure.In("v", "travel", x.TravelMMs, "mm/s", "[welder]"))
	energy := ArcEnergy(p.Welder.Volts, p.Welder.Amps, x.TravelMMs).Named(id("energy"))
	inches := figure.New(id("energy_in"), "heat input as AWS codes count it", "kJ/in", "25.4 * E", energy.Source, energy.As("E"))
	out := []figure.Figure{area, metal, arc, energy, inches, HeatInput(energy, p.Process.Thermal).Named(id("heat"))}
	if s.Type == seam.Fillet {
		allow := seam.Allowable(s.LegMM, electrodeKsi).Named(id("allow"))
		out = append(out, seam.MinLeg(s.WallMM[0], s.WallMM[1], p.Process.Name != "SMAW").Named(id("least")), seam.MaxLeg(math.Min(s.WallMM[0], s.WallMM[1])).Named(id("most")), allow)
	}
	return append(out, x.Shrink.AcrossMM.Named(id("across")), x.Shrink.AlongMM.Named(id("along")))
}

// totals adds the figures of the whole: arc, elapsed, bound.
func (p *Plan) totals() {
	s := p.Schedule
	found := figure.Source{Kind: figure.Computed, Text: "schedule under the window rule; " + s.Why}
	p.Figures = append(p.Figures,
		figure.New("weld.elapsed", "elapsed time at the booth", "s", "a + w + r", found,
			figure.In("a", "arc, tacks included", s.ArcTime.Seconds(), "s", "schedule"), figure.In("w", "fitting, cleaning, turning, sawing", s.WorkSum.Seconds(), "s", "schedule"),
			figure.In("r", "rests with nothing to do", s.RestSum.Seconds(), "s", "schedule")).Without("breaks, and the fire watch after the last arc"),
		figure.New("weld.gap", "at most this much longer than any order could be", "s", "e - b", found,
			figure.In("e", "elapsed", s.Elapsed.Seconds(), "s", "weld.elapsed"), figure.In("b", "lower bound", s.Bound.Seconds(), "s", "bursts, rests between them, and the work before and behind")),
		figure.New("weld.filled", "time saved by working through the rests", "s", "u - e",
			figure.Source{Kind: figure.Computed, Text: "the same order of arcs, with nothing done while the machine rests"},
			figure.In("u", "elapsed without filling rests", s.Unfilled.Seconds(), "s", "schedule"), figure.In("e", "elapsed", s.Elapsed.Seconds(), "s", "weld.elapsed")))
}
