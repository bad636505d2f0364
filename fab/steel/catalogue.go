package steel

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
)

// Catalogue is what New looks up: gauges, pipe sizes, named channels, materials and grades, each with its source.
type Catalogue struct {
	TubeGauge      GaugeTable // walls of tube: BWG
	SheetGauge     GaugeTable // carbon-steel sheet, plate, flat and angle: the sheet-steel series
	StainlessGauge GaugeTable // stainless sheet
	AluminiumGauge GaugeTable // aluminium sheet
	Pipes          []PipeSize
	Channels       []ChannelSize
	DesignWalls    []DesignWall
	Materials      []Material
	Grades         []Grade
}

// GaugeTable is one series of gauge numbers.
type GaugeTable struct {
	Thickness measure.Gauges
	Source    figure.Source
}

// PipeSize is one nominal size of pipe with the walls of its schedules.
type PipeSize struct {
	Nominal   string // 1-1/4
	DN        string // 32
	Outside   measure.Length
	Schedules map[string]measure.Length // sch40, sch80, xxs
	Source    figure.Source
}

// ChannelSize is a hot-rolled channel known by its name, with its published properties. Its outline is drawn with flanges
// of the even thickness that gives the published area; the taper of the rolled flange is in the properties only.
type ChannelSize struct {
	Name                string // C3X4.1
	Depth, Width, Web   measure.Length
	MassKGM, AreaMM2    float64
	IxMM4, SxMM3, ZxMM3 float64
	IyMM4, SyMM3, ZyMM3 float64
	JMM4                float64
	Source              figure.Source
}

// DesignWall is a design wall as the tables print it, for tube of one nominal wall.
type DesignWall struct {
	Pipe    bool
	Nominal measure.Length
	Design  measure.Length
	Source  figure.Source
}

// Material is what a grade is made of.
type Material struct {
	Name        string // carbon-steel, stainless, aluminium
	DensityKGM3 float64
	EMPa        float64 // modulus of elasticity
	GMPa        float64 // shear modulus
	Source      figure.Source
	ModulusFrom figure.Source
}

// WallRule says which wall strength is reckoned with.
type WallRule int

// The wall rules of ANSI/AISC 360-22 B4.2.
const (
	WallNominal WallRule = iota // the design wall is the nominal one
	Wall93                      // the design wall is 0.93 of the nominal one
)

// CornerRange is the range of outside corner radii that a tube standard allows at one wall.
type CornerRange struct{ Wall, Least, Most measure.Length }

// CornerRule gives the outside corner radius of square and rectangular tube. With Ranges the middle of the range is taken,
// between two walls on a straight line; without, Factor times the wall (0: sharp corners).
type CornerRule struct {
	Factor float64
	Ranges []CornerRange
	Source figure.Source
}

// Grade is a standard and grade that sections are sold to.
type Grade struct {
	Name     string // A500-C
	Aliases  []string
	Material string
	FyMPa    float64 // least yield strength
	FuMPa    float64 // least tensile strength
	Shapes   []Shape // sold in
	Wall     WallRule
	Corner   CornerRule
	Source   figure.Source // of the strengths
	Note     string        // what to know before relying on it
}

func plainName(text string) string {
	t := strings.ToUpper(text)
	t = strings.NewReplacer("GRADE", "", "GR.", "", " ", "", "-", "", "_", "", "ASTM", "").Replace(t)
	for _, p := range []string{"A500GR", "A53GR"} {
		if rest, ok := strings.CutPrefix(t, p); ok {
			t = p[:len(p)-2] + rest
		}
	}
	return t
}

// Grade finds a grade by name or alias; letter case, blanks, hyphens and the words ASTM and Grade do not matter.
func (c Catalogue) Grade(name string) (Grade, error) {
	want := plainName(name)
	for _, g := range c.Grades {
		if plainName(g.Name) == want {
			return g, nil
		}
		for _, a := range g.Aliases {
			if plainName(a) == want {
				return g, nil
			}
		}
	}
	return Grade{}, fmt.Errorf("grade %q is not in the catalogue; there are: %s", name, strings.Join(c.GradeNames(), " "))
}

// GradeNames lists the grades in the catalogue's order.
func (c Catalogue) GradeNames() []string {
	names := make([]string, len(c.Grades))
	for i, g := range c.Grades {
		names[i] = g.Name
	}
	return names
}

// Material finds a material by its name, or that of a grade.
func (c Catalogue) Material(name string) (Material, error) {
	want := plainName(name)
	names := make([]string, 0, len(c.Materials))
	for _, m := range c.Materials {
		if plainName(m.Name) == want {
			return m, nil
		}
		names = append(names, m.Name)
	}
	if g, err := c.Grade(name); err == nil {
		return c.Material(g.Material)
	}
	return Material{}, fmt.Errorf("material %q is not in the catalogue; there are: %s, or a grade such as A36", name, strings.Join(names, " "))
}

// Wall of tube from which on structural tube is usual; thinner tube is mechanical tube.
const structuralWall = measure.Inch / 8

// UsualGrade gives the grade that a shape is usually sold in: A36 for bars, flats, angles and channels; A53-B for pipe;
// for tube A513 where the wall is under 1/8 in (structural tables begin there), else A500-B.
func UsualGrade(shape Shape, wall measure.Length) string {
	switch {
	case shape == Pipe:
		return "A53-B"
	case shape.Hollow() && wall < structuralWall:
		return "A513"
	case shape.Hollow():
		return "A500-B"
	}
	return "A36"
}
