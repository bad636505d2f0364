package sum

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/steel"
)

func steelSums() []Sum {
	shapes := strings.Join(steel.ShapeNames(), " ")
	return []Sum{
		{
			Name: "section", Purpose: "properties of a section",
			Takes: []Arg{
				{Name: "shape", Takes: shapes, Example: "rect-tube"},
				{Name: "size", Takes: "as in a job: depth x width x wall, leg x leg x thickness, 1-1/4 sch40", Example: "2-1/2 x 1-1/2 x 11ga"},
				{Name: "grade", Takes: "a grade of the catalogue; left out: the usual one of the shape", Example: "A500-C", Optional: true},
				{Name: "wall", Takes: "nominal, or design: the wall that strength is reckoned with", Example: "design", Optional: true},
			},
			Run: sectionSum,
		},
		{
			Name: "weight", Purpose: "mass of a length of a section",
			Takes: []Arg{
				{Name: "shape", Takes: shapes, Example: "angle"},
				{Name: "size", Takes: "as in a job", Example: "2 x 2 x 1/4"},
				{Name: "length", Takes: "length of one piece", Example: "20ft"},
				{Name: "qty", Takes: "how many pieces; left out: 1", Example: "4", Optional: true},
				{Name: "material", Takes: "carbon-steel, stainless, aluminium, or a grade; left out: the usual one of the shape", Example: "stainless", Optional: true},
			},
			Run: weightSum,
		},
	}
}

// Section reads the arguments shape, size and grade (under that name) into a section of the catalogue, for every sum that
// takes one.
func (a *Args) Section(shape, size, grade string) (steel.Section, error) {
	sh, err := steel.ParseShape(a.String(shape))
	if err != nil {
		return steel.Section{}, Use("%v", err)
	}
	if err := a.Err(); err != nil {
		return steel.Section{}, err
	}
	g := ""
	if grade != "" {
		g = a.String(grade)
	}
	return steel.New(steel.Spec{Shape: sh, Size: a.String(size), Grade: g, Unit: a.Unit()}, a.Tables.Steel)
}

func gradeNotes(s steel.Section) []string {
	var notes []string
	if s.UsualGrade {
		notes = append(notes, fmt.Sprintf("grade: %s, the usual one of %s of this wall", s.Grade.Name, s.Shape))
	} else {
		notes = append(notes, "grade: "+s.Grade.Name)
	}
	if s.Grade.Note != "" {
		notes = append(notes, s.Grade.Name+": "+s.Grade.Note)
	}
	return notes
}

func sectionSum(a *Args) (Result, error) {
	basis := steel.Nominal
	if a.OneOf("wall", "nominal", "design") == "design" {
		basis = steel.Design
	}
	s, err := a.Section("shape", "size", "grade")
	if err != nil {
		return Result{}, err
	}
	var r Result
	byID := map[string]figure.Figure{}
	figures := s.Figures("section.", basis)
	for _, f := range figures {
		byID[f.ID] = f
	}
	for _, k := range []struct{ key, id string }{
		{"mass_kg_m", "mass"}, {"area_mm2", "area"}, {"ix_mm4", "ix"}, {"sx_mm3", "sx"}, {"zx_mm3", "zx"}, {"rx_mm", "rx"},
		{"iy_mm4", "iy"}, {"sy_mm3", "sy"}, {"zy_mm3", "zy"}, {"ry_mm", "ry"}, {"j_mm4", "j"},
	} {
		r.Add(k.key, byID["section."+k.id].Value)
	}
	skin := figure.New("section.skin", "skin of a metre", "m2/m", "P/1000",
		figure.Source{Kind: figure.Geometry, Text: "outside perimeter times length"}, byID["section.outside"].As("P"))
	r.Add("skin_m2_m", skin.Value)
	r.Add("depth_mm", s.Depth.MM())
	r.Add("width_mm", s.Width.MM())
	if s.Wall > 0 {
		r.Add("wall_mm", s.Properties(basis).WallMM)
	}
	r.Add("c_mm3", byID["section.c"].Value)
	r.Add("r_min_mm", byID["section.r_minor"].Value)
	r.Add("grade", s.Grade.Name)
	r.Add("fy_mpa", s.Grade.FyMPa)
	r.Add("fu_mpa", s.Grade.FuMPa)
	r.Figures = append(figures, skin)
	r.Notes = gradeNotes(s)
	if s.Shape.Hollow() {
		r.Notes = append(r.Notes, fmt.Sprintf("wall: %s, %.4g mm; mass is by the nominal wall, %.4g mm", basis, s.Properties(basis).WallMM, s.Wall.MM()))
	}
	if s.Published != nil {
		r.Notes = append(r.Notes, fmt.Sprintf("%s: properties as published; drawn with flanges of even thickness that give the published area", s.Published.Name))
	}
	r.Notes = append(r.Notes, "warping is left out")
	return r, nil
}

func weightSum(a *Args) (Result, error) {
	length := a.PositiveMM("length")
	qty := a.Count("qty", 1, 1)
	s, err := a.Section("shape", "size", "")
	if err != nil {
		return Result{}, err
	}
	if a.Has("material") {
		if s, err = s.Of(a.String("material"), a.Unit(), a.Tables.Steel); err != nil {
			return Result{}, err
		}
	}
	var mass figure.Figure
	var r Result
	for _, f := range s.Figures("weight.", steel.Nominal) {
		switch f.ID {
		case "weight.area":
			r.Figures = append(r.Figures, f)
		case "weight.mass":
			r.Figures, mass = append(r.Figures, f), f
		}
	}
	r.AddFigure("mass_kg", figure.New("weight.total", "mass of all pieces", "kg", "n*L*m/1000",
		figure.Source{Kind: figure.Geometry, Text: "mass of a metre times length times count"},
		figure.In("n", "pieces", float64(qty), "", "qty"), figure.In("L", "length of a piece", length, "mm", "length"), mass.As("m")).
		Without("mill tolerance: tube walls may be 10 % off either way"))
	r.Add("mass_kg_m", mass.Value)
	r.Add("material", s.Material.Name)
	r.Notes = gradeNotes(s)
	return r, nil
}
