// Package spot finds what the names in a job's tables mean in its frame: a member, a place on a member, the legs of a
// rectangle, all members of a piece's mark.
package spot

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// Spot is a member, or a place on one.
type Spot struct {
	Member int
	AtMM   float64 // from the member's first tip
	Given  bool    // the place was given
}

// Names looks names up.
type Names struct {
	Frame *frame.Frame
	Unit  measure.Unit
	marks map[string][]int
	rects map[string]bool
	known []string
}

// NewNames makes ready to look up names; pieces may be nil where marks do not matter.
func NewNames(f *frame.Frame, pieces []piece.Piece, unit measure.Unit) *Names {
	n := &Names{Frame: f, Unit: unit, marks: map[string][]int{}, rects: map[string]bool{}}
	for _, p := range pieces {
		if len(p.Indices) > 0 {
			n.marks[p.Mark] = append(n.marks[p.Mark], p.Indices...)
		}
	}
	for _, r := range f.Rects {
		n.rects[r.Name] = true
		n.known = append(n.known, r.Name)
	}
	for i := range f.Members {
		n.known = append(n.known, f.Members[i].Name)
	}
	return n
}

var groups = map[string]frame.Role{"sides": frame.Side, "bars": frame.Bar, "posts": frame.Post, "legs": frame.Leg, "members": frame.Single}

// IsRect tells whether a name is a whole rectangle.
func (n *Names) IsRect(name string) bool { return n.rects[strings.TrimSpace(name)] }

// Find gives what a name means: a member, "member@place", a rectangle (its sides), "rectangle bars" (sides, posts, legs),
// "rectangle corners" (the ends of its long sides), "legs" (all of them), or a mark. The second value is false, and a
// problem is given, where it means nothing.
func (n *Names) Find(w job.Name) ([]Spot, *text.Problem) {
	fail := func(format string, args ...any) ([]Spot, *text.Problem) {
		p := w.Problem(text.Error, text.CodeName, fmt.Sprintf(format, args...))
		return nil, &p
	}
	t := strings.TrimSpace(w.Text)
	if base, place, ok := strings.Cut(t, "@"); ok {
		i := n.Frame.Index(strings.TrimSpace(base))
		if i < 0 {
			return fail("%s", n.unknown(strings.TrimSpace(base)))
		}
		at, err := measure.ParseLength(place, n.Unit)
		if err != nil {
			return fail("behind the @: %v", err)
		}
		if l := n.Frame.LengthMM(i); at < 0 || at.MM() > l+0.5 {
			return fail("%s is %s long; %s is not on it", base, measure.Sixteenths.Print(measure.FromMM(l)), strings.TrimSpace(place))
		}
		return []Spot{{i, at.MM(), true}}, nil
	}
	if i := n.Frame.Index(t); i >= 0 {
		return []Spot{{Member: i}}, nil
	}
	if n.rects[t] {
		return n.all(t, frame.Side), nil
	}
	base, word := "", t
	if i := strings.LastIndexByte(t, ' '); i > 0 {
		base, word = strings.TrimSpace(t[:i]), t[i+1:]
	}
	if base == "" || n.rects[base] {
		if word == "corners" {
			return n.corners(base), nil
		}
		if role, ok := groups[word]; ok {
			s := n.all(base, role)
			if len(s) == 0 {
				return fail("the frame has no %s", t)
			}
			return s, nil
		}
	}
	if m := n.marks[t]; len(m) > 0 {
		var s []Spot
		for _, i := range m {
			s = append(s, Spot{Member: i})
		}
		return s, nil
	}
	return fail("%s", n.unknown(t))
}

func (n *Names) unknown(name string) string {
	if near := text.Nearest(name, n.known); near != "" {
		return fmt.Sprintf("there is no member, rectangle or mark %q; did you mean %q?", text.Short(name, 40), text.Short(near, 40))
	}
	return fmt.Sprintf("there is no member, rectangle or mark %q; write a member such as %s, or a group such as \"legs\"", text.Short(name, 40), text.List(n.known))
}

func (n *Names) all(rect string, role frame.Role) (out []Spot) {
	for i := range n.Frame.Members {
		m := &n.Frame.Members[i]
		if m.Role == role && (rect == "" || m.Group == rect) {
			out = append(out, Spot{Member: i})
		}
	}
	return out
}

// corners gives the ends of the long-axis sides.
func (n *Names) corners(rect string) (out []Spot) {
	for _, r := range n.Frame.Rects {
		if rect != "" && r.Name != rect {
			continue
		}
		for _, i := range r.Sides[:2] {
			out = append(out, Spot{i, 0, true}, Spot{i, n.Frame.LengthMM(i), true})
		}
	}
	return out
}

// Point gives a place on a member's centre line, from its first tip.
func (n *Names) Point(s Spot) space.Vec {
	m := &n.Frame.Members[s.Member]
	from, _ := m.Tips()
	return m.Place(from+s.AtMM, 0, 0)
}

// LowEnd gives where a member's lower end is, from its first tip, and whether the member is level (within 15 degrees).
func (n *Names) LowEnd(i int) (atMM float64, level bool) {
	m := &n.Frame.Members[i]
	l := n.Frame.LengthMM(i)
	if math.Abs(m.Axis.Z) < 0.26 {
		return 0, true
	}
	if m.Axis.Z < 0 {
		return l, false
	}
	return 0, false
}
