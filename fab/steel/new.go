package steel

import (
	"fmt"
	"slices"

	"bench.example/soapstone/fab/measure"
)

// New makes the section that spec describes. Errors: *SizeError for the size; others for shape and grade.
func New(spec Spec, cat Catalogue) (Section, error) {
	s := Section{Shape: spec.Shape, Size: spec.Size}
	z := &sizer{shape: spec.Shape, text: spec.Size, unit: spec.Unit, cat: cat}
	grade := spec.Grade
	if grade == "" {
		// The usual grade of tube hangs on its wall, and the wall's gauge series on no grade: read the size first.
		s.UsualGrade = true
		if err := z.read(&s); err != nil {
			return Section{}, err
		}
		grade = UsualGrade(s.Shape, s.Wall)
	}
	g, err := cat.Grade(grade)
	if err != nil {
		return Section{}, err
	}
	if !slices.Contains(g.Shapes, spec.Shape) && spec.Shape != NoShape {
		return Section{}, fmt.Errorf("grade %s is not sold as %s; its usual grade is %s", g.Name, spec.Shape, UsualGrade(spec.Shape, measure.Inch))
	}
	s.Grade, z.grade = g, g
	if err := z.read(&s); err != nil {
		return Section{}, err
	}
	if s.Material, err = cat.Material(g.Material); err != nil {
		return Section{}, err
	}
	s.DesignWallMM = s.Wall.MM()
	if s.Shape.Hollow() && g.Wall == Wall93 {
		s.DesignWallMM, s.designTable = cat.designWall(s.Shape, s.Wall)
	}
	return s, nil
}

// designWall gives 0.93 of the nominal wall, as the published table rounds it where the table has that wall.
func (c Catalogue) designWall(shape Shape, wall measure.Length) (mm float64, inTable bool) {
	for _, d := range c.DesignWalls {
		// half a mil apart: tables print .1875 also as .188
		if d.Pipe == (shape == Pipe) && (d.Nominal-wall).Abs() <= measure.Mil/2 {
			return d.Design.MM(), true
		}
	}
	return designShare * wall.MM(), false
}

// designShare is the design wall over the nominal wall: ANSI/AISC 360-22 B4.2.
const designShare = 0.93

// Radius gives the outside corner radius for a wall.
func (r CornerRule) Radius(wall measure.Length) measure.Length {
	if len(r.Ranges) == 0 {
		return measure.FromMM(r.Factor * wall.MM())
	}
	mid := func(c CornerRange) float64 { return (c.Least + c.Most).MM() / 2 }
	w := wall.MM()
	first, last := r.Ranges[0], r.Ranges[len(r.Ranges)-1]
	switch {
	case wall <= first.Wall:
		return measure.FromMM(mid(first) * w / first.Wall.MM())
	case wall >= last.Wall:
		return measure.FromMM(mid(last) * w / last.Wall.MM())
	}
	for i := 1; i < len(r.Ranges); i++ {
		if a, b := r.Ranges[i-1], r.Ranges[i]; wall <= b.Wall {
			f := (w - a.Wall.MM()) / (b.Wall.MM() - a.Wall.MM())
			return measure.FromMM(mid(a) + f*(mid(b)-mid(a)))
		}
	}
	return 0
}

// Of gives the same section in another material: material is a grade, or a material of the catalogue by its name, for
// which the first grade of that material that is sold in the shape stands. The size is read anew, for gauges and corners
// hang on the material. Bare numbers of the size are in unit.
func (s Section) Of(material string, unit measure.Unit, cat Catalogue) (Section, error) {
	m, err := cat.Material(material)
	if err != nil {
		return Section{}, err
	}
	grade := ""
	if g, err := cat.Grade(material); err == nil {
		grade = g.Name
	} else if m.Name != s.Material.Name {
		for _, g := range cat.Grades {
			if g.Material == m.Name && slices.Contains(g.Shapes, s.Shape) {
				grade = g.Name
				break
			}
		}
		if grade == "" {
			return Section{}, fmt.Errorf("%s is not sold as %s", m.Name, s.Shape)
		}
	}
	return New(Spec{Shape: s.Shape, Size: s.Size, Grade: grade, Unit: unit}, cat)
}
