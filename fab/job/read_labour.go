package job

import (
	"time"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// UsualFeedMM2 is the metal that a small bandsaw takes off in a minute: a square inch of mild steel (common practice).
const UsualFeedMM2 = measure.InchMM * measure.InchMM

// labour reads [labour], the shop's under the job's. Every time is optional: the reader knows them by Pace.
func (rd *reader) labour() {
	rd.top.Skip("labour")
	f, given := rd.shared.Table("labour")
	l := Labour{Where: where(f), Given: given, FeedMM2: UsualFeedMM2, Day: 8 * time.Hour}
	f.Money("rate", &l.Rate, 0)
	rest := "paid"
	f.Choice("rest", &rest, 0, "paid", "unpaid")
	l.RestUnpaid = rest == "unpaid"
	l.FeedOwn = text.Quantity(f, "saw_feed", &l.FeedMM2, text.Positive, measure.ParseArea)
	if text.Quantity(f, "allow", &l.Allow, text.NotNegative, measure.ParseShare) && l.Allow > 5 {
		f.Fault(text.CodeValue, "allow", "more than five times the work itself; 10%% to 20%% is usual")
	}
	f.Bool("learn", &l.Learn, 0)
	if text.Quantity(f, "day", &l.Day, text.Positive, measure.ParseTime) && l.Day > 24*time.Hour {
		f.Fault(text.CodeValue, "day", "a day has 24h")
	}
	for p := range Pace(PaceCount) {
		if l.own[p] = text.Quantity(f, p.Info().Key, &l.times[p], text.NotNegative, measure.ParseTime); l.times[p] > 31*24*time.Hour {
			f.Fault(text.CodeValue, p.Info().Key, "longer than a month")
		}
	}
	f.Done()
	rd.job.Labour = l
}
