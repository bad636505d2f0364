package bolt

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
)

// Grade is a bolt's strength at a size.
type Grade struct {
	Name                           string // "SAE J429 grade 5", "ISO 898-1 class 8.8"
	ProofMPa, YieldMPa, RuptureMPa float64
	Source                         figure.Source
	Note                           string
	Mark                           string // how the head is marked
}

type gradeRow struct {
	name                  string
	fromMM, upToMM        float64 // diameters over and up to
	proof, yield, tensile float64 // ksi or MPa
	note, mark            string
}

const inch = measure.InchMM

var saeRows = [...]gradeRow{
	{"1", 0, 1.5 * inch, 33, 36, 60, "", "no mark"},
	{"2", 0, 0.75 * inch, 55, 57, 74, "for bolts up to 6 in long; longer ones have the strength of grade 1 (33/36/60 ksi)", "no mark"},
	{"2", 0.75 * inch, 1.5 * inch, 33, 36, 60, "over 3/4 in grade 2 falls to 33 ksi proof", "no mark"},
	{"5", 0, 1 * inch, 85, 92, 120, "", "three radial lines"},
	{"5", 1 * inch, 1.5 * inch, 74, 81, 105, "over 1 in grade 5 falls to 74 ksi proof", "three radial lines"},
	{"8", 0, 1.5 * inch, 120, 130, 150, "", "six radial lines"},
}

var isoRows = [...]gradeRow{
	{"4.6", 0, 39, 225, 240, 400, "", "4.6"},
	{"4.8", 0, 39, 310, 340, 420, "", "4.8"},
	{"5.6", 0, 39, 280, 300, 500, "", "5.6"},
	{"5.8", 0, 39, 380, 420, 520, "", "5.8"},
	{"6.8", 0, 39, 440, 480, 600, "", "6.8"},
	{"8.8", 0, 16, 580, 640, 800, "", "8.8"},
	{"8.8", 16, 39, 600, 660, 830, "", "8.8"},
	{"9.8", 0, 16, 650, 720, 900, "", "9.8"},
	{"10.9", 0, 39, 830, 940, 1040, "", "10.9"},
	{"12.9", 0, 39, 970, 1100, 1220, "", "12.9"},
}

// GradeError says what is wrong with a grade.
type GradeError struct{ Text, Reason string }

func (e *GradeError) Error() string { return fmt.Sprintf("bolt grade %q: %s", e.Text, e.Reason) }

// ParseGrade reads a grade for a size: `5`, `grade 8`, `gr5`, `SAE 2`, `J429-8` for inch bolts; `8.8`, `class 10.9` for
// metric ones.
func ParseGrade(text string, size Size) (Grade, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	for changed := true; changed; {
		changed = false
		for _, w := range []string{"sae", "j429", "iso", "898-1", "grade", "class", "gr.", "gr", "cl.", "cl", "g", "-", " "} {
			if b, ok := strings.CutPrefix(t, w); ok {
				t, changed = b, true
			}
		}
	}
	rows, other, unit := saeRows[:], isoRows[:], measure.KsiMPa
	system, words := "SAE J429 grade ", "1, 2, 5 or 8 (SAE J429)"
	source := figure.Source{Kind: figure.Standard, Text: "SAE J429, mechanical requirements by grade and size"}
	if size.Metric {
		rows, other, unit = isoRows[:], saeRows[:], 1
		system, words = "ISO 898-1 class ", "4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9 or 12.9 (ISO 898-1)"
		source.Text = "ISO 898-1:2013, Table 3, mechanical properties by class and size"
	}
	known := false
	for _, r := range rows {
		if r.name != t {
			continue
		}
		known = true
		if size.DiaMM > r.fromMM+1e-9 && size.DiaMM <= r.upToMM+1e-9 {
			return Grade{Name: system + r.name, ProofMPa: r.proof * unit, YieldMPa: r.yield * unit, RuptureMPa: r.tensile * unit, Source: source, Note: r.note, Mark: r.mark}, nil
		}
	}
	if known {
		return Grade{}, &GradeError{text, fmt.Sprintf("%s%s is not made in %s", system, t, size.Name)}
	}
	for _, r := range other {
		if r.name == t {
			kind := "an inch bolt"
			if size.Metric {
				kind = "a metric bolt"
			}
			return Grade{}, &GradeError{text, fmt.Sprintf("%s is %s, which comes in %s", size.Name, kind, words)}
		}
	}
	return Grade{}, &GradeError{text, fmt.Sprintf("%s comes in %s", size.Name, words)}
}
