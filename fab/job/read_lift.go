package job

import (
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// lift reads [lift].
func (rd *reader) lift() {
	f, given := rd.top.Table("lift")
	l := Lift{Where: where(f), Given: given, LimitKG: 51 * measure.PoundKG, AngleDeg: 60, PerMin: 0.2, Hours: 1, Coupling: "fair", Raise: 6 * measure.Inch, Grip: 0.3}
	for _, v := range words(f, "by", `["hand", "sling"]`) {
		switch w := strings.ToLower(trimmed(v.Text)); w {
		case "hand", "sling", "jack":
			l.By = append(l.By, w)
		default:
			f.FaultAt(v, text.CodeValue, "by", "%s is none of hand, sling, jack", text.Short(v.Raw(), 40))
		}
	}
	if len(l.By) == 0 && given {
		l.By = []string{"hand"}
	}
	f.Count("people", &l.People, 1, 100, 0)
	text.Quantity(f, "limit", &l.LimitKG, text.Positive, measure.ParseMass)
	l.Picks = namesOf(f, "picks", `["upper.x1@24in", "upper.x2@24in"]`)
	f.Length("hook", &l.Hook, text.Positive)
	if f.Angle("angle", &l.AngleDeg, text.Positive) && (l.AngleDeg < 30 || l.AngleDeg > 90) {
		f.Fault(text.CodeValue, "angle", "no sling leg may run under 30 degrees from the horizontal, nor over 90; 60 is usual")
	}
	f.Length("h", &l.H, text.Positive)
	f.Length("v", &l.V, text.NotNegative)
	f.Length("d", &l.D, text.NotNegative)
	f.Angle("a", &l.ADeg, text.NotNegative)
	f.Number("f", &l.PerMin, text.NotNegative)
	if f.Number("hours", &l.Hours, text.Positive) && l.Hours > 8 {
		f.Fault(text.CodeValue, "hours", "the lifting equation covers up to 8 hours a day")
	}
	f.Choice("coupling", &l.Coupling, 0, "good", "fair", "poor")
	f.Length("raise", &l.Raise, text.Positive)
	l.Jack = namesOf(f, "jack", `["lower.leg1", "lower.leg2"]`)
	if f.Number("grip", &l.Grip, text.Positive) && l.Grip > 1.2 {
		f.Fault(text.CodeValue, "grip", "friction of steel on a floor lies between 0.1 (wet, painted) and 0.6 (rough concrete)")
	}
	text.Quantity(f, "with", &l.WithKG, text.NotNegative, measure.ParseMass)
	f.Done()
	rd.job.Lift = l
}

// access reads [access].
func (rd *reader) access() {
	f, given := rd.top.Table("access")
	a := Access{Where: where(f), Given: given}
	a.Door = f.Lengths("door", 2, 2, `["32in", "80in"]: width and height`, text.Positive)
	a.Trailer = f.Lengths("trailer", 2, 3, `["6ft", "12ft"]: width and length of the bed`, text.Positive)
	text.Quantity(f, "lift", &a.LiftKG, text.Positive, measure.ParseMass)
	f.Done()
	rd.job.Access = a
}
