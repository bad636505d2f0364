package paint

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/job"
)

// surfaceMinutes is the time for a square metre of surface preparation by grade; paintMinutes for a square metre of one coat
// by method: round figures for open frames of tube (common practice), the shop's to replace.
var (
	surfaceMinutes = map[string]float64{"SP 1": 3, "SP 2": 8, "St 2": 8, "SP 3": 10, "St 3": 10, "SP 7": 10, "Sa 1": 10, "SP 6": 20, "Sa 2": 20, "SP 10": 30,
		"Sa 2-1/2": 30, "SP 5": 40, "Sa 3": 40, "SP 8": 0, "SP 11": 30, "SP 16": 12}
	paintMinutes = map[string]float64{"brush": 9, "roller": 8, "hvlp": 5, "spray": 4, "airless": 4, "dip": 3}
)

// work reckons the time of the hands: preparation, then each coat.
func (m *maker) work() {
	lab := &m.in.Job.Labour
	s := m.s
	pace := func(p job.Pace, usualMin float64, what string) (float64, string) {
		if lab.Own(p) {
			return lab.Time(p).Seconds(), lab.From(p)
		}
		if usualMin > 0 {
			return usualMin * 60, "default for " + what + ", common practice: a round figure"
		}
		return lab.Time(p).Seconds(), lab.From(p)
	}
	add := func(kind, name string, p job.Pace, amount, each float64, from string) {
		if amount*each > 0 {
			s.Work = append(s.Work, Work{Kind: kind, Name: name, Seconds: amount * each, Shared: p.Info().Shared, Pace: p, Amount: amount, EachS: each, From: from})
		}
	}
	for _, p := range s.Prep {
		grade := s.Spec.Prep
		if grade == "" {
			grade = usualGrade(p.Finish, s.Spec.Indoors)
		}
		if s.Spec.Coating != "paint" {
			continue
		}
		each, from := pace(job.PaceSurface, surfaceMinutes[grade], grade)
		add("surface", p.Grade, job.PaceSurface, p.M2, each, from)
		if grade == "SP 3" || grade == "St 3" || grade == "SP 11" {
			s.PowerS += p.M2 * each
		}
	}
	for _, c := range s.Coats {
		each, from := pace(job.PacePaint, paintMinutes[c.Method], c.Method)
		setup, why := pace(job.PacePaintSetup, 0, "")
		add("set-up", c.Name, job.PacePaintSetup, float64(c.Coats), setup, why)
		add("coat", c.Name, job.PacePaint, c.AreaM2*float64(c.Coats), each, from)
	}
	each, from := pace(job.PaceCap, 0, "")
	add("caps", "caps and strips", job.PaceCap, float64(s.Caps+s.Strips), each, from)
}

// calendar lays the work on working days: hands work within the day, paint dries round the clock. A coat that does not fit
// into what is left of a day begins the next morning; one that is longer than a day goes on the next.
func (m *maker) calendar() {
	s := m.s
	if len(s.Coats) == 0 {
		return
	}
	c := &clock{day: math.Max(0.5, m.in.Job.Labour.Day.Hours())}
	hours := func(kind, name string) float64 {
		t := 0.0
		for _, w := range s.Work {
			if w.Kind == kind && (name == "" || w.Name == name) {
				t += w.Seconds / 3600
			}
		}
		return t
	}
	s.Steps = append(s.Steps, c.work("prepare the surface", hours("surface", "")))
	if t := hours("caps", ""); t > 0 {
		s.Steps = append(s.Steps, c.work("plug or cap the open tube ends", t))
	}
	for k := range s.Coats {
		coat := &s.Coats[k]
		one := (hours("coat", coat.Name) + hours("set-up", coat.Name)) / float64(coat.Coats)
		for n := 1; n <= coat.Coats; n++ {
			what := coat.Name
			if coat.Coats > 1 {
				what += fmt.Sprintf(", coat %d", n)
			}
			s.Steps = append(s.Steps, c.work(what, one))
			last := k == len(s.Coats)-1 && n == coat.Coats
			if !last {
				s.Steps = append(s.Steps, c.wait("dry before the next coat", coat.Spec.Recoat.Hours()))
			} else {
				s.Steps = append(s.Steps, c.wait("cure before it is handled and loaded", coat.Spec.Cure.Hours()))
			}
		}
	}
	s.Hours = c.now
}

// clock counts hours since the first morning; hands work in the first hours of each day.
type clock struct{ now, day float64 }

func (c *clock) place(at float64) (day int, in float64) {
	d := math.Floor(at/24 + 1e-9)
	return int(d) + 1, math.Max(0, at-24*d)
}

func (c *clock) work(what string, h float64) Step {
	_, in := c.place(c.now)
	if in >= c.day-1e-9 || in > 0 && h <= c.day && in+h > c.day+1e-9 {
		c.now = 24 * (math.Floor(c.now/24+1e-9) + 1)
	}
	s := Step{What: what, Work: true, StartH: c.now}
	s.Day, s.AtH = c.place(c.now)
	for h > 1e-12 {
		_, in := c.place(c.now)
		room := c.day - in
		if room <= 1e-9 {
			c.now = 24 * (math.Floor(c.now/24+1e-9) + 1)
			continue
		}
		use := math.Min(room, h)
		c.now += use
		h -= use
	}
	s.EndH = c.now
	return s
}

func (c *clock) wait(what string, h float64) Step {
	s := Step{What: what, StartH: c.now}
	s.Day, s.AtH = c.place(c.now)
	c.now += h
	s.EndH = c.now
	return s
}
