package seam

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// directions of the frame as it stands: x to the right, y to the back, z up.
var directions = []struct {
	word string
	to   space.Vec
}{
	{"top", space.Vec{Z: 1}}, {"bottom", space.Vec{Z: -1}},
	{"left", space.Vec{X: -1}}, {"right", space.Vec{X: 1}},
	{"front", space.Vec{Y: -1}}, {"back", space.Vec{Y: 1}},
}

// Limits of the words for a side.
const (
	alikeDeg = 1.0 // two directions as near as this to each other both count: the outer edge of a mitre is left and front
	cornerOn = 0.3 // cosine from which a side of a corner looks into its angle
)

// FacingOf gives the words for the side of a joint on which a seam lies. out is where its torch looks from, normal that of
// the faces that touch: the torch leans over one of them, so what counts is the direction within their plane. A side that
// leans counts for the nearest direction, and for two that are equally near. corner is the direction from a corner into the
// angle between its members; the zero vector where the joint is none.
func FacingOf(out, normal, corner space.Vec) (words []string) {
	side := out.Along(normal, -out.Dot(normal))
	if side.Len() < 0.1 { // it looks along the normal: an edge of no plane
		side = out
	}
	side = side.Unit()
	least := math.Inf(1)
	for _, d := range directions {
		least = math.Min(least, side.AngleDeg(d.to))
	}
	for _, d := range directions {
		if side.AngleDeg(d.to) <= least+alikeDeg {
			words = append(words, d.word)
		}
	}
	if corner.Len() > 0 {
		switch c := side.Dot(corner.Unit()); {
		case c > cornerOn:
			words = append(words, "inside")
		case c < -cornerOn:
			words = append(words, "outside")
		}
	}
	return words
}

// into gives the direction from a corner into the angle between two of its members; zero where the joint is no corner or
// the members go on in one line.
func (s *finder) into(fj *frame.Joint, kind string, members [2]int) space.Vec {
	if kind != string(frame.Corner) {
		return space.Vec{}
	}
	var sum space.Vec
	for _, m := range members {
		x := &s.f.Members[m]
		way := x.Axis
		if x.Centre().Sub(fj.At).Dot(way) < 0 {
			way = way.Mul(-1)
		}
		sum = sum.Add(way)
	}
	if sum.Len() < 0.1 {
		return space.Vec{}
	}
	return sum.Unit()
}

// draft is a seam that may be welded, with what there is to say about it if it is.
type draft struct {
	Seam
	problems []text.Problem
}

func (d *draft) problem(w job.Where, sev text.Severity, code, format string, args ...any) {
	d.problems = append(d.problems, w.Problem(sev, code, fmt.Sprintf(format, args...)))
}

// asked gathers what the words of one [[joint]] met with at the joints that it stands for.
type asked struct {
	names  []job.Name
	hit    []bool
	joints []string
	sides  map[string]bool
}

// choose marks the seams that the job's exception leaves out, with the reason.
func (s *finder) choose(spec *job.Joint, jt *Joint, seams []draft) {
	if spec == nil || len(seams) == 0 {
		return
	}
	if n := spec.Sides; n > 0 && n < len(seams) {
		keep := easiest(seams, n)
		for i := range seams {
			if !keep[i] {
				seams[i].Skipped = fmt.Sprintf("[[joint]] on line %d welds the easiest %d only", spec.Where.Line, n)
			}
		}
	}
	if len(spec.Facing) == 0 {
		return
	}
	// a [[joint]] between marks stands for many joints: they have their place in the file in common
	k := slices.IndexFunc(s.asked, func(a *asked) bool { return a.names[0].Where == spec.Facing[0].Where })
	if k < 0 {
		k = len(s.asked)
		s.asked = append(s.asked, &asked{names: spec.Facing, hit: make([]bool, len(spec.Facing)), sides: map[string]bool{}})
	}
	a := s.asked[k]
	a.joints = append(a.joints, fmt.Sprintf("%s (%s)", jt.ID, text.Clean(strings.Join(jt.Members, ", "))))
	wanted, has := make([]bool, len(seams)), map[string]bool{}
	any := false
	for i := range seams {
		for _, w := range seams[i].Faces {
			a.sides[w], has[w] = true, true
			for n := range spec.Facing {
				if spec.Facing[n].Text == w {
					a.hit[n], wanted[i], any = true, true, true
				}
			}
		}
	}
	var words []string
	for _, n := range spec.Facing {
		words = append(words, n.Text)
	}
	if !any {
		s.problem(spec.Where, text.Warning, text.CodeName, "%s has no side that is welded by this [[joint]] (%s), only %s: it is welded all round; give it a [[joint]] of its own",
			a.joints[len(a.joints)-1], strings.Join(words, ", "), sidesOf(has))
		return
	}
	for i := range seams {
		if !wanted[i] {
			seams[i].Skipped = fmt.Sprintf("[[joint]] on line %d welds only: %s", spec.Where.Line, strings.Join(words, ", "))
		}
	}
}

// unmet tells of the words for sides that no joint has.
func (s *finder) unmet() {
	for _, a := range s.asked {
		for n, name := range a.names {
			if a.hit[n] {
				continue
			}
			what := "no seam of " + a.joints[0]
			if len(a.joints) > 1 {
				what = fmt.Sprintf("of the %d joints from %s to %s no seam", len(a.joints), a.joints[0], a.joints[len(a.joints)-1])
			}
			s.problem(name.Where, text.Error, text.CodeName, "%s faces %q; the sides there are %s", what, name.Text, sidesOf(a.sides))
		}
	}
}

// sidesOf lists words for sides in their usual order.
func sidesOf(has map[string]bool) string {
	var list []string
	for _, w := range job.Facings() {
		if has[w] {
			list = append(list, w)
		}
	}
	return strings.Join(list, ", ")
}

// NotWelded tells of the seams that the job leaves out at the joint, and why; "" where it leaves out none.
func (j Joint) NotWelded() string {
	if len(j.LeftOut) == 0 {
		return ""
	}
	var list []string
	for _, x := range j.LeftOut {
		list = append(list, strings.TrimPrefix(x.ID, j.ID)+" "+strings.Join(x.Faces, "/"))
	}
	return fmt.Sprintf("not welded: %s (%s)", strings.Join(list, ", "), j.LeftOut[0].Skipped)
}
