package piece

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/text"
)

// Codes of the problems that this package finds.
const (
	CodeSwing    = "past-swing"   // a cut past the saw's range
	CodeCompound = "compound-cut" // a saw that does not tilt must make a compound cut
	CodeCapacity = "too-big"      // more than the saw takes
	CodeGrip     = "too-short"    // too short to hold
)

// bevelToldDeg is the least lean against the face that is told: no scale of a saw reads finer.
const bevelToldDeg = 0.05

// saw says what the shop's saw cannot do with a piece as it stands, each with a way out.
func (g *gatherer) saw(x *group) {
	w := &g.job.Saw
	p := &x.piece
	named := p.Mark
	if len(p.Members) > 0 {
		named += " (" + strings.Join(p.Members[:min(4, len(p.Members))], ", ")
		if n := len(p.Members) - 4; n > 0 {
			named += fmt.Sprintf(" and %d more", n)
		}
		named += ")"
	}
	say := func(at job.Where, severity text.Severity, code, format string, args ...any) {
		g.problems = append(g.problems, at.Problem(severity, code, "piece "+named+": "+fmt.Sprintf(format, args...)))
	}
	most := math.Inf(1)
	if w.SwingGiven {
		most = max(math.Abs(w.Swing[0]), math.Abs(w.Swing[1]))
	}
	told := map[string]bool{}
	once := func(code string, f func()) {
		if !told[code] {
			told[code] = true
			f()
		}
	}
	var cuts []*End
	var first []bool // of an end: the cut off the stick
	for e := range p.Ends {
		cuts, first = append(cuts, &p.Ends[e]), append(first, true)
		for k := range p.Ends[e].Then {
			cuts, first = append(cuts, &p.Ends[e].Then[k]), append(first, false)
		}
	}
	for e := range p.Ends {
		x := &x.shape.ends[e]
		p.Ends[e].Template = p.Ends[e].Template || len(x.drums) > 0 || len(x.notch) > 0
	}
	for i, end := range cuts {
		swing := math.Abs(end.MiterDeg)
		if end.BevelDeg != 0 && !w.Tilts {
			swing = end.SwingDeg
			end.Template = true
			if !told[CodeCompound] && math.Abs(end.BevelDeg) >= bevelToldDeg {
				told[CodeCompound] = true
				g.compound = append(g.compound, x)
			}
		}
		if swing > most+1e-6 {
			end.Template = true
			once(CodeSwing, func() {
				if rest := 90 - swing; rest <= most+1e-6 {
					say(p.Where.Cut(), text.Warning, CodeSwing, "a cut of %.1f degrees is past the saw's %.4g: clamp the piece square across the vise on a jig and swing to %.1f, or cut to the printed template with a grinder", swing, most, rest)
				} else {
					say(p.Where.Cut(), text.Warning, CodeSwing, "a cut of %.1f degrees is past the saw's %.4g: cut to the printed template with a grinder", swing, most)
				}
			})
		}
		if first[i] && w.CapacityH > 0 && w.CapacityW > 0 && !g.takes(x, end, swing) {
			once(CodeCapacity, func() {
				say(p.Where.In("section"), text.Warning, CodeCapacity, "at %.1f degrees this saw takes %s wide and %s high, less than section %s: cut it from both sides, or with a grinder to the printed template", swing,
					g.job.Tape.Print(lengthOf(w.CapacityW.MM()*math.Cos(swing/deg))), g.job.Tape.Print(w.CapacityH), p.Section)
			})
		}
	}
	for e := range p.Ends {
		for k := range p.Ends[e].Then {
			p.Ends[e].Template = p.Ends[e].Template || p.Ends[e].Then[k].Template
		}
	}
	if w.Grip > 0 && p.Length < w.Grip {
		say(p.Where.Size(), text.Caution, CodeGrip, "it is %s long, and the vise holds no less than %s: cut it off the front of a longer stick, never from a rest in the hand", g.job.Tape.Print(p.Length), g.job.Tape.Print(w.Grip))
	}
	if x.short() <= 0 {
		say(p.Where.Cut(), text.Error, frame.CodeNoRoom, "its two end cuts cross: nothing is left on one side of the section; make it longer, or cut its ends less steeply")
	}
}

// takes tells whether the section goes under the blade: at a swing the blade crosses 1/cos of the width that lies on the
// table. A square cut may lie on either face.
func (g *gatherer) takes(x *group, end *End, swing float64) bool {
	s := x.shape.section
	h, w := g.job.Saw.CapacityH.MM(), g.job.Saw.CapacityW.MM()
	fits := func(lying, standing float64) bool {
		return lying/math.Cos(swing/deg) <= w+1e-6 && standing <= h+1e-6
	}
	if swing == 0 {
		return fits(s.DepthMM, s.WidthMM) || fits(s.WidthMM, s.DepthMM)
	}
	if end.Across == width {
		return fits(s.WidthMM, s.DepthMM)
	}
	return fits(s.DepthMM, s.WidthMM)
}

// short gives the length of the shortest line along the piece between its end planes.
func (x *group) short() float64 {
	least := math.Inf(1)
	s := x.shape.section
	for _, y := range []float64{-s.DepthMM / 2, s.DepthMM / 2} {
		for _, z := range []float64{-s.WidthMM / 2, s.WidthMM / 2} {
			at := [2]float64{0, x.shape.length}
			for e := range x.shape.ends {
				if fs := x.shape.ends[e].planes; len(fs) == 1 && len(x.shape.ends[e].drums) == 0 {
					at[e] = (fs[0].d - fs[0].ny*y - fs[0].nz*z) / fs[0].nx
				}
			}
			least = min(least, at[1]-at[0])
		}
	}
	return least
}

// compounds tells, once for each table, which of its pieces have ends that lean both ways, where the saw does not tilt.
func (g *gatherer) compounds() {
	for i := 0; i < len(g.compound); {
		first := &g.compound[i].piece
		var marks []string
		for ; i < len(g.compound) && g.compound[i].piece.Where.Line == first.Where.Line && g.compound[i].piece.Where.File == first.Where.File; i++ {
			marks = append(marks, g.compound[i].piece.Mark)
		}
		end, what := first.leaning()
		face, roll := end.Across, end.RollDeg
		if math.Abs(roll) > 45 { // it lies nearer to the other face
			roll -= math.Copysign(90, roll)
			face = map[string]string{depth: width, width: depth}[face]
		}
		g.problems = append(g.problems, first.Where.Cut().Problem(text.Caution, CodeCompound, fmt.Sprintf(
			"piece %s: %s leans both ways, and this saw only swings. %s: mitre %.1f with bevel %.1f is one swing of %.1f with the piece rolled by %.1f degrees on wedges from lying with its %s face up; or cut to the printed template",
			strings.Join(marks, ", "), what, marks[0], end.MiterDeg, end.BevelDeg, end.SwingDeg, roll, face)))
	}
}

// leaning gives the first cut of a piece that leans both ways, and what it is of.
func (p *Piece) leaning() (*End, string) {
	for e := range p.Ends {
		if math.Abs(p.Ends[e].BevelDeg) >= bevelToldDeg {
			return &p.Ends[e], "an end"
		}
		for k := range p.Ends[e].Then {
			if math.Abs(p.Ends[e].Then[k].BevelDeg) >= bevelToldDeg {
				return &p.Ends[e].Then[k], "a cut of a point"
			}
		}
	}
	return &p.Ends[0], "an end"
}
