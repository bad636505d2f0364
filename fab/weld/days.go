package weld

import "time"

// Day is one day of the work.
type Day struct {
	Entries []Entry       // times from the day's own start
	End     time.Duration // of the day's last task
	LastArc time.Duration // end of the last arc; 0 where none burns
	Watch   time.Duration // until when the fire watch stays; 0 where no arc burnt
}

// Days lays an order of tasks over days of so many hours. A task that does not fit the day waits for the next, an arc also
// where the fire watch after it would not; days so short that the watch would fill half of them keep their hours for work, and
// the watch comes on top. Overnight the window is empty. A task longer than a day has its day to itself
// and runs over.
func (d *Docket) Days(order []int, hours, watch time.Duration) []Day {
	if len(order) == 0 || hours <= 0 {
		return nil
	}
	before := hours - watch // until when an arc may burn
	if hours < 2*watch {
		before = hours
	}
	var days []Day
	var day Day
	arc := *d.history()
	var now time.Duration
	flush := func() {
		day.End = now
		if day.LastArc > 0 {
			day.Watch = day.LastArc + watch
		}
		days = append(days, day)
		day, now, arc = Day{}, 0, burnt{}
	}
	for _, i := range order {
		t := &d.Tasks[i]
		for {
			start, limit := now, hours
			if t.Kind.Burns() {
				start = d.Budget.earliest(&arc, now, t.Take)
				limit = before
			}
			if start+t.Take > limit && len(day.Entries) > 0 {
				flush()
				continue
			}
			if start > now {
				day.Entries = append(day.Entries, Entry{-1, Rest, "", now, start})
			}
			now = start + t.Take
			if t.Kind.Burns() {
				arc.add(Span{start, now})
				day.LastArc = now
			}
			day.Entries = append(day.Entries, Entry{i, t.Kind, t.Joint, start, now})
			break
		}
	}
	flush()
	return days
}
