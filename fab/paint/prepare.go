package paint

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
)

// gradeText spells a grade with its counterpart: the SSPC summaries set SP 2 beside St 2, SP 3 beside St 3, SP 5, 6, 7 and
// 10 beside Sa 3, Sa 2, Sa 1 and Sa 2-1/2 of ISO 8501-1.
func gradeText(grade string) (name, do string) {
	switch grade {
	case "SP 1":
		return "SSPC-SP 1 solvent cleaning", "wash oil, grease and chalk off with clean rags, the last wipe with a fresh one"
	case "SP 2", "St 2":
		return "SSPC-SP 2 hand tool cleaning (ISO 8501-1 St 2)", "scrape and wire-brush what is loose: scale, rust, old paint"
	case "SP 3", "St 3":
		return "SSPC-SP 3 power tool cleaning (ISO 8501-1 St 3)", "the same with a powered brush or flap disc, to a metallic sheen"
	case "SP 5", "Sa 3":
		return "SSPC-SP 5 white metal blast cleaning (ISO 8501-1 Sa 3)", "blast to bare metal all over"
	case "SP 6", "Sa 2":
		return "SSPC-SP 6 commercial blast cleaning (ISO 8501-1 Sa 2)", "blast: two thirds of every area free of stains"
	case "SP 7", "Sa 1":
		return "SSPC-SP 7 brush-off blast cleaning (ISO 8501-1 Sa 1)", "blast off what is loose"
	case "SP 8":
		return "SSPC-SP 8 pickling", "acid bath, as the galvaniser does it"
	case "SP 10", "Sa 2-1/2":
		return "SSPC-SP 10 near-white blast cleaning (ISO 8501-1 Sa 2-1/2)", "blast: 95 % of every area free of stains"
	case "SP 11":
		return "SSPC-SP 11 power tool cleaning to bare metal", "power tools to bare metal with a profile"
	case "SP 16":
		return "SSPC-SP 16 brush-off blast cleaning of coated steel and stainless", "sweep lightly, or abrade by hand, so that the zinc is dull and stays on"
	}
	return grade, ""
}

// usualGrade is what the steel's skin asks for where the job says nothing (common practice).
func usualGrade(f job.Finish, indoors bool) string {
	switch f {
	case job.Galvanised:
		return "SP 16"
	case job.Bright:
		return "SP 1"
	case job.Scale, "":
		if indoors {
			return "SP 2"
		}
		return "SP 3"
	}
	return "SP 2"
}

func (m *maker) prep() {
	if m.s.Spec.Coating == "none" {
		return
	}
	for _, p := range m.finishes() {
		grade := m.s.Spec.Prep
		p.Own = grade != ""
		if grade == "" {
			grade = usualGrade(p.Finish, m.s.Spec.Indoors)
		}
		if m.s.Spec.Coating == "galvanise" {
			grade, p.Own = "SP 8", false
		}
		p.Grade, p.Do = gradeText(grade)
		if grade != "SP 1" && grade != "SP 8" {
			p.Do = "first SSPC-SP 1: wash oil and grease off; then " + p.Do
		}
		switch p.Finish {
		case job.Primed:
			p.Do += "; the mill's primer ground back where it is burnt, and feathered"
		case job.Oiled:
			p.Do += "; the mill's oil must be gone before any tool spreads it"
		}
		m.s.Prep = append(m.s.Prep, p)
	}
}

// table of vent and drain holes for square and round hollow sections dipped in zinc, mm: the galvaniser's table in the layout
// of EN ISO 14713-2 (as printed for members up to 2.8 m), diameter of each for one, two and four holes at each end.
var vents = []struct{ size, one, two, four float64 }{
	{15, 8, 0, 0}, {20, 10, 0, 0}, {30, 12, 10, 0}, {40, 14, 12, 0}, {50, 16, 12, 10}, {60, 20, 12, 10}, {80, 25, 16, 12},
	{100, 30, 25, 14}, {120, 40, 30, 18}, {160, 60, 40, 25}, {200, 80, 50, 30},
}

// rectangles of the same table that go with each square size: longer x shorter side, mm.
var ventRects = [][2]float64{{20, 10}, {30, 15}, {40, 20}, {50, 30}, {60, 40}, {80, 40}, {100, 60}, {120, 80}, {160, 80}, {200, 120}, {260, 140}}

// ventReach is the longest member of the table, mm; longer ones take 30 % of the section's area.
const ventReach = 2800

// VentHole gives the holes that a closed tube needs at each end before it is dipped: depth and width (round: both the
// diameter), length and inside area of the section. Two holes where the table has them, since corners of square tube trap
// air and zinc. ok is false above 200 mm: ask the galvaniser.
func VentHole(depthMM, widthMM, lengthMM, insideMM2 float64) (h Hole, ok bool) {
	long, short := math.Max(depthMM, widthMM), math.Min(depthMM, widthMM)
	if lengthMM > ventReach {
		// 30 % of the section at each end, in two holes.
		d := math.Sqrt(0.30 * insideMM2 / 2 * 4 / math.Pi)
		return Hole{MM: math.Ceil(math.Max(d, 10)), Each: 2, Source: "members over 2.8 m: holes of 30 % of the section's area at each end (galvaniser's table, layout of EN ISO 14713-2)"}, true
	}
	for i, v := range vents {
		square := long <= v.size+0.5 && math.Abs(long-short) < 1
		rect := math.Abs(long-short) >= 1 && long <= ventRects[i][0]+1 && short <= ventRects[i][1]+1
		if !square && !rect {
			continue
		}
		h = Hole{MM: v.one, Each: 1, Source: "galvaniser's table, layout of EN ISO 14713-2"}
		if v.two > 0 {
			h.MM, h.Each = v.two, 2
		}
		return h, true
	}
	return Hole{}, false
}

// hollow notes a tube whose ends are closed, and what stands in it.
func (m *maker) hollow(i int, open [2]bool) {
	x := &m.in.Frame.Members[i]
	if !x.Section.Hollow {
		return
	}
	from, to := x.Tips()
	inside := math.Max(0, x.Section.OutlineMM2()-x.Section.AreaMM2)
	has := 0
	for _, h := range x.Holes {
		if h.Vent {
			has++
		}
	}
	zinc := m.s.Spec.Coating == "galvanise"
	closes := m.s.Spec.Ends != "open" && !zinc
	shut := [2]bool{!open[0] || closes, !open[1] || closes}
	if zinc || shut[0] && shut[1] && len(x.Holes) == 0 {
		s := Sealed{Member: x.Name, VolumeL: inside * (to - from) / 1e6, Has: has}
		if zinc {
			s.Vent, _ = VentHole(x.Section.DepthMM, x.Section.WidthMM, to-from, inside)
		}
		if zinc && !shut[0] && !shut[1] {
			return // open at both ends: it drains
		}
		m.s.Sealed = append(m.s.Sealed, s)
	}
	if zinc || m.s.Spec.Coating == "none" && m.s.Spec.Indoors {
		return
	}
	for e := range open {
		if open[e] && m.s.Spec.Ends == "open" && outwards(x, e) > 0.2 && !open[1-e] {
			m.s.Traps = append(m.s.Traps, fmt.Sprintf("%s is open at its upper end and closed below: rain stands in it; plug it, or drill a drain of %s at its low end", x.Name, m.in.Job.Tape.Print(measure.FromMM(drainMM))))
		}
	}
	if len(x.Holes) > has && !m.s.Spec.Indoors {
		m.s.Traps = append(m.s.Traps, fmt.Sprintf("%s has holes into the tube: seal them all, or leave the lowest one open as a drain; never half of each", x.Name))
	}
	m.trough(i)
}

// drainMM is a drain's diameter that paint and spiders do not close at once (common practice; 3/8 in is the least of ASTM
// A385 for galvanised rails).
const drainMM = 10.0

// trough tells of open shapes that lie like a gutter.
func (m *maker) trough(i int) {
	x := &m.in.Frame.Members[i]
	if !x.Section.Open() || math.Abs(x.Axis.Z) > 0.2 {
		return
	}
	// The opening looks away from the centroid.
	up := -(x.Depth.Z*x.Section.CentroidYMM + x.Width.Z*x.Section.CentroidZMM)
	if l := math.Hypot(x.Section.CentroidYMM, x.Section.CentroidZMM); l > 0 && up/l > 0.9 {
		m.s.Traps = append(m.s.Traps, fmt.Sprintf("%s lies like a gutter and holds water: turn it, or drill drains of %s", x.Name, m.in.Job.Tape.Print(measure.FromMM(drainMM))))
	}
}

// zinc reckons hot-dip galvanising: both sides of the walls are covered.
func (m *maker) zinc() {
	f := m.in.Frame
	z := &Zinc{Microns: math.Inf(1)}
	for i := range f.Members {
		x := &f.Members[i]
		from, to := x.Tips()
		area := m.bare[i]
		if x.Section.Hollow {
			area += x.Section.InsideMM * (to - from)
		}
		wall := x.Section.WallMM
		if wall == 0 { // a solid bar
			wall = math.Min(x.Section.DepthMM, x.Section.WidthMM)
		}
		um := zincMicrons(wall)
		z.Microns = math.Min(z.Microns, um)
		kg := area * um / 1000 * zincKGMM3
		z.AreaM2 += area / 1e6
		z.KG += kg
		z.SteelKG += x.MassKG()
		m.s.Cover = append(m.s.Cover, Cover{x.Name, kg})
	}
	if math.IsInf(z.Microns, 1) {
		z.Microns = 0
	}
	m.s.MassKG = z.KG
	if z.Priced = m.s.Spec.ZincKG > 0; z.Priced {
		z.Cost = m.s.Spec.ZincKG.Scale(z.SteelKG * m.n)
	} else {
		m.s.Unpriced = append(m.s.Unpriced, "galvanising ([paint] galvanise_kg)")
	}
	m.s.Zinc = z
}

// zincKGMM3 is the density of zinc, 7.14 kg/dm3.
const zincKGMM3 = 7.14e-6

// zincMicrons is the mean coating by the steel's thickness: EN ISO 1461:2009 Table 3 (from memory).
func zincMicrons(mm float64) float64 {
	switch {
	case mm > 6:
		return 85
	case mm > 3:
		return 70
	case mm >= 1.5:
		return 55
	}
	return 45
}

func (m *maker) cautions() {
	s := m.s
	add := func(format string, args ...any) { s.Cautions = append(s.Cautions, fmt.Sprintf(format, args...)) }
	if s.Spec.Coating == "galvanise" {
		add("A sealed tube in the zinc bath can explode: every closed space needs vent and drain holes, at opposite corners, open before it goes. The galvaniser has the last word on them (ASTM A385, EN ISO 14713-2).")
		var need []string
		for _, x := range s.Sealed {
			if x.Has < 2*x.Vent.Each {
				need = append(need, x.Member)
			}
		}
		if len(need) > 0 {
			add("Vent holes are still missing in %s.", few(need))
		}
		add("Weld spatter, slag and marker paint do not take zinc: clean them off.")
		return
	}
	if len(s.Coats) == 0 {
		return
	}
	add("Solvent vapour burns and makes drowsy: doors open, no flame, arc or spark near, rags in a closed metal bin. Sprayed paint needs a respirator for organic vapour with a particle filter; the tin's sheet says what else, local rules come first.")
	add("No welding or grinding on what is painted: the smoke is poisonous. Leave 2 in (50 mm) bare where a seam is still to come.")
	for _, a := range s.Areas {
		if a.Finish == job.Galvanised {
			add("Zinc smoke makes ill (metal fume fever): on galvanised steel grind the zinc off first, and work in moving air.")
			break
		}
	}
	add("Primer goes on within hours of cleaning: bare steel rusts overnight. Not below 5 C (41 F), not on steel that is less than 3 C (5 F) above the dew point.")
	for _, c := range s.Coats {
		if c.Loss > 0.5 {
			add("By %s, %.0f %% of the %s goes past an open frame: a brush or roller loses a tenth.", c.Method, 100*c.Loss, c.Name)
		}
	}
}

func few(names []string) string {
	if len(names) > 6 {
		return strings.Join(names[:6], ", ") + fmt.Sprintf(" and %d more", len(names)-6)
	}
	return strings.Join(names, ", ")
}
