package job

import (
	"fmt"
	"regexp"
	"strings"

	"bench.example/soapstone/fab/text"
)

// kind is what a name must be the name of.
type kind uint8

const (
	aSection kind = iota
	aRectangle
	aSurface
	aPlate
	aMember // a member, a rectangle's side, bar, post or leg, or a piece's mark
	aSpot   // a member, or "NAME corners"
)

// ref is a name in the file that is looked up once everything is read.
type ref struct {
	f    *text.Fields
	v    *text.Value // nil: the key is missing
	key  string
	kind kind
	name string
}

func (rd *reader) ref(f *text.Fields, v *text.Value, key string, k kind, name string) {
	rd.refs = append(rd.refs, ref{f, v, key, k, name})
}

func (rd *reader) pad(name string) {
	if rd.pads == nil {
		rd.pads = map[string]bool{}
	}
	rd.pads[name] = true
}

// sectionOf reads the key section.
func (rd *reader) sectionOf(f *text.Fields, to *string) {
	rd.named(f, "section", aSection, to)
}

// rectangleOf reads a key that names a rectangle.
func (rd *reader) rectangleOf(f *text.Fields, key string, to *string) {
	rd.named(f, key, aRectangle, to)
}

func (rd *reader) named(f *text.Fields, key string, k kind, to *string) {
	if v := f.Take(key); v == nil || f.Text(key, to, 0) {
		rd.ref(f, v, key, k, *to)
	}
}

// name reads the name of a rectangle or member.
func (rd *reader) name(f *text.Fields, to *string) {
	f.Name("name", to, banned, 0)
}

// autoNames numbers the rectangles and members that have no name: rectangle1, passing over names that are given.
func (rd *reader) autoNames() {
	taken := map[string]bool{}
	for _, r := range rd.job.Rectangles {
		taken[r.Name] = true
	}
	for _, m := range rd.job.Members {
		taken[m.Name] = true
	}
	for i := range rd.job.Rectangles {
		if r := &rd.job.Rectangles[i]; r.Name == "" {
			r.Name = numbered("rectangle", i+1, taken)
		}
	}
	for i := range rd.job.Members {
		if m := &rd.job.Members[i]; m.Name == "" {
			m.Name = numbered("member", i+1, taken)
		}
	}
}

// madeName is the end of a name that the contract fixes for members made by a table.
var madeName = regexp.MustCompile(`\.(x1|x2|y1|y2|(bar|post|leg)[1-9][0-9]{0,5})$`)

// names finds names that are given twice, and looks up every name that is used.
func (rd *reader) names() {
	rd.autoNames()
	rd.circles()
	j := &rd.job
	first := map[string]Where{}
	double := func(name string, w Where, f *text.Fields) {
		if was, there := first[name]; there {
			f.Fault(text.CodeDuplicate, "name", "the name %q is already given on line %d; each rectangle and member needs its own", text.Short(name, 40), was.Line)
			return
		}
		first[name] = w
	}
	sets := map[kind][]string{}
	for i, r := range j.Rectangles {
		double(r.Name, r.Where, rd.frames[i])
		sets[aRectangle] = append(sets[aRectangle], r.Name)
	}
	for i, m := range j.Members {
		double(m.Name, m.Where, rd.bodies[i])
		sets[aMember] = append(sets[aMember], m.Name)
	}
	for _, p := range j.Pieces {
		if p.Mark != "" {
			sets[aMember] = append(sets[aMember], p.Mark)
		}
	}
	for _, s := range j.Sections {
		sets[aSection] = append(sets[aSection], s.Name)
	}
	for _, s := range j.Surfaces {
		sets[aSurface] = append(sets[aSurface], s.Name)
	}
	for _, p := range j.Plates {
		sets[aPlate] = append(sets[aPlate], p.Name)
	}
	index := map[kind]map[string]bool{}
	for k, names := range sets {
		index[k] = map[string]bool{}
		for _, n := range names {
			index[k][n] = true
		}
	}
	for _, r := range rd.refs {
		rd.lookUp(r, sets, index)
	}
}

func (k kind) String() string {
	return [...]string{"section", "rectangle", "surface", "plate", "member or mark", "member or place"}[k]
}

// lookUp reports a name that nothing has.
func (rd *reader) lookUp(r ref, sets map[kind][]string, index map[kind]map[string]bool) {
	known := sets[r.kind]
	if r.kind == aSpot {
		known = sets[aMember]
	}
	if r.v == nil {
		if r.f.Meant(r.key) {
			return
		}
		hint := ""
		switch {
		case len(known) == 1:
			hint = fmt.Sprintf(": %s = %s", r.key, text.Short(text.Quote(known[0]), 42))
		case len(known) > 1:
			hint = fmt.Sprintf("; it names one of %s", text.List(known))
		default:
			hint = fmt.Sprintf("; it names a %s", r.kind)
		}
		r.f.Fault(text.CodeMissing, r.key, "%s is missing%s", r.key, hint)
		return
	}
	if index[r.kind][r.name] || r.kind == aSpot && index[aMember][r.name] {
		return
	}
	if rd.Full() {
		rd.Count()
		return
	}
	if r.key == "between" && IsMark(r.name) {
		return // a mark of the cut list, which only the plan knows
	}
	switch r.kind {
	case aMember, aSpot:
		if r.kind == aSpot {
			if base, ok := strings.CutSuffix(r.name, " corners"); ok {
				if !index[aRectangle][trimmed(base)] {
					rd.unknown(r, aRectangle, trimmed(base), sets[aRectangle])
				}
				return
			}
			if base, _, ok := strings.Cut(r.name, "@"); ok {
				r.name = trimmed(base)
				if index[aMember][r.name] {
					return
				}
			}
		}
		if base, part, dotted := strings.Cut(r.name, "."); dotted {
			switch {
			case !index[aRectangle][base]:
				rd.unknown(r, aRectangle, base, sets[aRectangle])
			case !madeName.MatchString(r.name):
				r.f.FaultAt(r.v, text.CodeName, r.key, "%s has no part %q; its parts are x1, x2, y1, y2, bar1 ..., post1 ... and leg1 ...",
					text.Short(base, 40), text.Short(part, 40))
			}
			return
		}
		if index[aRectangle][r.name] {
			r.f.FaultAt(r.v, text.CodeName, r.key, "%q is a whole rectangle; name one of its members, such as %s.x1", text.Short(r.name, 40), text.Short(r.name, 40))
			return
		}
		for _, name := range sets[aRectangle] {
			known = append(known[:len(known):len(known)], name+".x1")
		}
	}
	rd.unknown(r, r.kind, r.name, known)
}

func (rd *reader) unknown(r ref, k kind, name string, known []string) {
	shown := text.Short(name, 40)
	switch near := text.Nearest(name, known); {
	case near != "":
		r.f.FaultAt(r.v, text.CodeName, r.key, "there is no %s %q; did you mean %q?", k, shown, text.Short(near, 40))
	case len(known) > 0:
		r.f.FaultAt(r.v, text.CodeName, r.key, "there is no %s %q; there is %s", k, shown, text.List(known))
	default:
		what := map[kind]string{aSection: "[section.%s]", aRectangle: "[[rectangle]] with name = %q", aSurface: "[surface.%s]", aPlate: "[[plate]] with name = %q"}[k]
		if what == "" {
			r.f.FaultAt(r.v, text.CodeName, r.key, "there is no %s %q in this job", k, shown)
			return
		}
		r.f.FaultAt(r.v, text.CodeName, r.key, "there is no %s %q; add "+what, k, shown, shown)
	}
}
