package frame

import (
	"fmt"
	"slices"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// Codes of the problems that this package finds.
const (
	CodeNoRoom  = "no-room"         // parts do not fit between what they stand between
	CodeNoBars  = "no-bars"         // crossbars of which none is needed
	CodeClash   = "clash"           // members run through each other
	CodeNothing = "touches-nothing" // an end meets nothing
	CodeShape   = "wrong-shape"     // a shape that cannot be joined so
	CodeCut     = "cannot-cut"      // an end cut that cannot be made
	CodeFaces   = "faces-differ"    // faces that do not match at a mitre
	CodeHole    = "hole"            // a hole that cannot be where it is, or opens into nothing
	CodeRadius  = "on-radius"       // an upright over a tube's corner radius
	CodeSurface = "surface"         // a surface that does not carry what stands on it
)

// builder gathers a frame.
type builder struct {
	job       *job.Job
	sections  map[string]*Section
	rects     map[string]int // index into frame.Rects
	f         *Frame
	problems  []text.Problem
	solids    []body
	crossings []crossing
	count     map[string]int // members made so far of each kind on each rectangle
	named     map[int]*job.Member
	opened    map[int]bool // [[joint]]s whose gap is made
	trouble   map[int]bool // members that already have a problem of their own
}

// body is a member's solids and the box round them.
type body struct {
	parts []space.Solid
	box   space.Box
}

// Build places every member of the job in space, cuts their ends and finds their joints. sections holds the steel of each
// section of the job by name. Problems of severity error mean that the frame cannot be built as written; the frame then
// holds what could be placed.
func Build(j *job.Job, sections map[string]steel.Section) (*Frame, []text.Problem) {
	b := &builder{
		job: j, sections: map[string]*Section{}, rects: map[string]int{}, count: map[string]int{}, named: map[int]*job.Member{},
		trouble: map[int]bool{}, opened: map[int]bool{}, f: &Frame{byName: map[string]int{}},
	}
	for i := range j.Sections {
		if s, ok := sections[j.Sections[i].Name]; ok {
			x := NewSection(j.Sections[i].Name, j.Sections[i].TubeSeam, s)
			b.sections[x.Name] = x
			b.f.Sections = append(b.f.Sections, x)
		}
	}
	b.rectangles()
	b.crossbars()
	b.surfaces()
	b.posts()
	b.legs()
	b.members()
	b.cutEnds()
	before := len(b.problems)
	b.join()
	if b.exceptions() {
		b.problems, b.f.Joints = b.problems[:before], nil
		b.join()
		b.exceptions()
	}
	b.fit()
	b.plates()
	b.holes()
	return b.f, b.problems
}

func (b *builder) problem(w job.Where, severity text.Severity, code, format string, args ...any) {
	b.problems = append(b.problems, w.Problem(severity, code, fmt.Sprintf(format, args...)))
}

// madeBy names the table that made a member, and its line.
func (b *builder) madeBy(i int) string {
	m := &b.f.Members[i]
	if m.Where.Line == 0 {
		return "a [[" + m.Table + "]]"
	}
	return fmt.Sprintf("the [[%s]] in line %d", m.Table, m.Where.Line)
}

// placed is the key of the job that says where a member is.
func (m *Member) placed() job.Where {
	if m.Table == "member" {
		return m.Where.In("from")
	}
	return m.Where.In("at", "per_side", "count", "spacing", "gap", "above", "under", "from", "on", "name")
}

// section finds a section; the job's reader has already refused unknown names, so that one that is missing here had no
// usable size.
func (b *builder) section(name string) *Section { return b.sections[name] }

// add puts a member into the frame; its name must be free.
func (b *builder) add(m Member) int {
	if _, taken := b.f.byName[m.Name]; taken {
		b.problem(m.Where.In("name", "on", "from", "under"), text.Error, text.CodeDuplicate, "two members are called %q, which %s made before; give one of them another name", m.Name, b.madeBy(b.f.byName[m.Name]))
		return -1
	}
	i := len(b.f.Members)
	b.f.byName[m.Name] = i
	b.f.Members = append(b.f.Members, m)
	return i
}

// spread makes a member between two points whose depth looks along depth; ends are square through the points.
func spread(name string, s *Section, from, to, depth space.Vec) Member {
	m := Member{Name: name, Section: s, A: from, B: to, Axis: to.Sub(from).Unit(), Depth: depth}
	m.Width = m.Axis.Cross(depth)
	m.Ends[0] = squareEnd(&m, 0)
	m.Ends[1] = squareEnd(&m, 1)
	return m
}

func squareEnd(m *Member, e int) End {
	if e == 0 {
		return End{Kind: Square, Planes: []space.Plane{{Point: m.A, Normal: m.Axis.Mul(-1)}}}
	}
	return End{Kind: Square, Planes: []space.Plane{{Point: m.B, Normal: m.Axis}}}
}

// upright gives the depth direction of a member of the job: the depth upright, of an upright member along x.
func upright(axis space.Vec) space.Vec {
	d := space.Z.Sub(axis.Mul(axis.Z))
	if d.Len() < 1e-9 {
		return space.X
	}
	return d.Unit()
}

// meets notes that an end was cut for a member.
func (e *End) meets(i int) {
	if !slices.Contains(e.Meets, i) {
		e.Meets = append(e.Meets, i)
	}
}
