package weld

import (
	"fmt"
	"math"
	"regexp"
	"sort"
	"strings"
	"time"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
)

// Point is one point of a rating plate.
type Point struct {
	Duty float64 // share of the period, 0..1
	Amps float64
}

// Plate is a rating plate: points in any order, and the period that they speak of.
type Plate struct {
	Points []Point
	Window time.Duration
}

// PlateWindow is the period of rating plates that name none: ten minutes (AWS online glossary, "duty cycle").
const PlateWindow = 10 * time.Minute

var (
	plateSplit = regexp.MustCompile(`(?i)[,;\n]+|\s+and\s+`)
	platePoint = regexp.MustCompile(`(?i)^([-+0-9./ ]*[0-9.])\s*(%|A|amps?)?\s*(?:\bat\b|@|/|:|\s)\s*([-+0-9./ ]*[0-9.])\s*(%|A|amps?)?$`)
)

// ParsePlate reads the points of a rating plate: `30% at 130A`, several with commas between (`20% at 90A, 35% at 70A`),
// also as a list in square brackets and quotes, with @ for at, or the current first (`130A at 30%`). A share may be a
// fraction (`0.3 at 130`).
func ParsePlate(text string) ([]Point, error) {
	fail := func(part, reason string) ([]Point, error) {
		return nil, &measure.Error{Kind: "plate", Text: part, Reason: reason, Accepts: `"30% at 130A", or several: "20% at 90A, 35% at 70A"`}
	}
	var points []Point
	clean := strings.NewReplacer("[", " ", "]", " ", `"`, " ", "'", " ", "\u201c", " ", "\u201d", " ").Replace(text)
	for _, part := range plateSplit.Split(clean, -1) {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		m := platePoint.FindStringSubmatch(part)
		if m == nil {
			return fail(part, "not a share at a current")
		}
		share, amps := m[1]+m[2], m[3]
		if m[4] == "%" || m[2] != "" && m[2] != "%" {
			share, amps = m[3]+m[4], m[1]
		}
		if strings.Count(m[2]+m[4], "%") > 1 || strings.ContainsAny(share, "aA") {
			return fail(part, "one number must be a share, the other a current")
		}
		d, err := measure.ParseShare(strings.TrimSpace(share))
		if err != nil {
			return fail(part, "not a share at a current")
		}
		a, err := measure.ParseCurrent(strings.TrimSpace(amps))
		if err != nil {
			return fail(part, "not a share at a current")
		}
		points = append(points, Point{d, a})
	}
	if len(points) == 0 {
		return fail(text, "nothing is written here")
	}
	return points, Plate{points, PlateWindow}.Check()
}

// Check says why a plate is impossible: no point, a share outside 0..100 %, no current, one current with two duties, or a
// duty that rises with the current.
func (p Plate) Check() error {
	if len(p.Points) == 0 {
		return fmt.Errorf("the plate has no point; write \"30%% at 130A\"")
	}
	if p.Window <= 0 {
		return fmt.Errorf("the plate's period is %v; plates say 10m", p.Window)
	}
	for _, x := range p.Points {
		switch {
		case !(x.Duty > 0 && x.Duty <= 1):
			return fmt.Errorf("a duty of %s is impossible: it lies above 0 and up to 100%%", share(x.Duty))
		case !(x.Amps > 0) || math.IsInf(x.Amps, 0):
			return fmt.Errorf("a current of %g A is impossible", x.Amps)
		}
	}
	s := p.sorted()
	for i := 1; i < len(s); i++ {
		a, b := s[i-1], s[i]
		switch {
		case a.Amps == b.Amps:
			return fmt.Errorf("the plate gives two duties at %g A", a.Amps)
		case b.Duty > a.Duty:
			return fmt.Errorf("the plate gives more duty at %g A (%s) than at %g A (%s): a higher current has the lower duty", b.Amps, share(b.Duty), a.Amps, share(a.Duty))
		}
	}
	return nil
}

// sorted gives the points by rising current, equal points once.
func (p Plate) sorted() []Point {
	s := append([]Point(nil), p.Points...)
	sort.SliceStable(s, func(i, j int) bool { return s[i].Amps < s[j].Amps })
	out := s[:0]
	for i, x := range s {
		if i == 0 || x != out[len(out)-1] {
			out = append(out, x)
		}
	}
	return out
}

// Most is the plate's highest current.
func (p Plate) Most() float64 {
	s := p.sorted()
	return s[len(s)-1].Amps
}

func share(d float64) string { return fmt.Sprintf("%.4g%%", 100*d) }

func (p Plate) String() string {
	var parts []string
	for _, x := range p.sorted() {
		parts = append(parts, fmt.Sprintf("%s at %gA", share(x.Duty), x.Amps))
	}
	return strings.Join(parts, ", ")
}

var (
	squareLaw = figure.Source{Kind: figure.Handbook,
		Text: "square law of duty and current, D2 = D1 (I1/I2)^2: heat in windings goes with the square of the current (AWS Welding Handbook, power sources; makers' manuals)"}
	betweenPoints = figure.Source{Kind: figure.Common, Text: "straight line between two points of the plate on log-log paper; the plate's own points are met exactly"}
)

// DutyAt gives the duty (fraction of the period) at a current, as a figure: on a point the plate's own, between two points
// log-log, below the lowest current by the square law from it, at most 100 %. A current above the plate's highest is an
// error: the square law is not to be used upwards.
func (p Plate) DutyAt(amps float64) (figure.Figure, error) {
	if err := p.Check(); err != nil {
		return figure.Figure{}, err
	}
	s := p.sorted()
	most := s[len(s)-1].Amps
	switch {
	case !(amps > 0) || math.IsInf(amps, 0):
		return figure.Figure{}, fmt.Errorf("a current of %g A is impossible", amps)
	case amps > most:
		return figure.Figure{}, fmt.Errorf("%g A is more than the plate's highest current of %g A: no duty is given there, and none may be reckoned", amps, most)
	case amps <= s[0].Amps:
		return figure.New("weld.duty", "duty at the working current", "", "min(1, D1 * (I1 / I)^2)", squareLaw,
			figure.In("D1", "duty on the plate", s[0].Duty, "", "rating plate"), figure.In("I1", "its current", s[0].Amps, "A", "rating plate"),
			figure.In("I", "working current", amps, "A", "")).Without("dust, a hot shop, a long extension cord: derate for those"), nil
	}
	i := sort.Search(len(s), func(i int) bool { return s[i].Amps >= amps })
	a, b := s[i-1], s[i]
	return figure.New("weld.duty", "duty at the working current", "", "D1 * (D2 / D1)^(ln(I / I1) / ln(I2 / I1))", betweenPoints,
		figure.In("D1", "duty at the lower current", a.Duty, "", "rating plate"), figure.In("I1", "lower current", a.Amps, "A", "rating plate"),
		figure.In("D2", "duty at the higher current", b.Duty, "", "rating plate"), figure.In("I2", "higher current", b.Amps, "A", "rating plate"),
		figure.In("I", "working current", amps, "A", "")).Without("dust, a hot shop, a long extension cord: derate for those"), nil
}

// AmpsAt gives the highest current (A) at which a duty is allowed, as a figure; capped says that the plate's highest
// current decided: the duty is less than the plate gives there.
func (p Plate) AmpsAt(duty float64) (f figure.Figure, capped bool, err error) {
	if err := p.Check(); err != nil {
		return figure.Figure{}, false, err
	}
	if !(duty > 0 && duty <= 1) {
		return figure.Figure{}, false, fmt.Errorf("a duty of %s is impossible: it lies above 0 and up to 100%%", share(duty))
	}
	s := p.sorted()
	last := s[len(s)-1]
	if duty <= last.Duty {
		return figure.New("weld.amps", "highest current for the duty", "A", "I1",
			figure.Source{Kind: figure.Common, Text: "never above the plate's highest current"},
			figure.In("I1", "the plate's highest current", last.Amps, "A", "rating plate"), figure.In("D", "duty wanted", duty, "", "")), duty < last.Duty, nil
	}
	for i := len(s) - 2; i >= 0; i-- {
		a, b := s[i], s[i+1]
		if duty <= a.Duty {
			return figure.New("weld.amps", "highest current for the duty", "A", "I1 * (I2 / I1)^(ln(D / D1) / ln(D2 / D1))", betweenPoints,
				figure.In("D1", "duty at the lower current", a.Duty, "", "rating plate"), figure.In("I1", "lower current", a.Amps, "A", "rating plate"),
				figure.In("D2", "duty at the higher current", b.Duty, "", "rating plate"), figure.In("I2", "higher current", b.Amps, "A", "rating plate"),
				figure.In("D", "duty wanted", duty, "", "")), false, nil
		}
	}
	return figure.New("weld.amps", "highest current for the duty", "A", "I1 * sqrt(D1 / D)", squareLaw,
		figure.In("D1", "duty on the plate", s[0].Duty, "", "rating plate"), figure.In("I1", "its current", s[0].Amps, "A", "rating plate"),
		figure.In("D", "duty wanted", duty, "", "")), false, nil
}

// Trips is what the booth's record says about the machine's cut-out.
type Trips struct {
	Count int           // trips so far
	Since time.Duration // arc burnt since the last one without another
}

// tripStep is the factor that each trip puts on the working duty; after regain bursts' worth of arc without a trip one step
// is given back. Both are the shop's own caution: no standard gives them.
const (
	tripStep = 0.9
	regain   = 5
)

// Working gives the duty that is planned with: the plate's at the current, times the user's derate (1: all of it), times
// 0.9 for each trip of the cut-out that has not been made good by five bursts' worth of arc without a trip. Whatever it
// gives, the machine's own cut-out has the last word.
func (p Plate) Working(amps, derate float64, trips Trips) (figure.Figure, error) {
	plate, err := p.DutyAt(amps)
	if err != nil {
		return figure.Figure{}, err
	}
	if !(derate > 0 && derate <= 1) {
		return figure.Figure{}, fmt.Errorf("a derate of %g is impossible: it is the share of the plate's duty that is planned with, above 0 and up to 1", derate)
	}
	n := trips.Count
	if burst := plate.Value * p.Window.Seconds(); burst > 0 && n > 0 {
		n = max(0, n-int(trips.Since.Seconds()/(regain*burst)))
	}
	return figure.New("weld.working_duty", "duty that is planned with", "", "D * k * s^n",
		figure.Source{Kind: figure.Shop, Text: "derate for dust, heat and extension cord; a tenth less after each trip of the cut-out"},
		plate.As("D"), figure.In("k", "derate", derate, "", "[welder] derate"), figure.In("s", "factor for a trip", tripStep, "", "shop's own"),
		figure.In("n", "trips that count", float64(n), "", "record of work")).
		Without("the temperature inside the machine: no plan promises that the cut-out stays quiet"), nil
}
