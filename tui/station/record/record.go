// Package record is the station of the record of work: what has been done, when, the latest first.
package record

import (
	"fmt"
	"time"

	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// Record is the station.
type Record struct {
	top  int
	tell func(d *station.Desk, w work.What) string
	zone *time.Location
}

// New makes the station; tell says in a few words what an event was, zone is the shop's.
func New(tell func(d *station.Desk, w work.What) string, zone *time.Location) *Record {
	return &Record{tell: tell, zone: zone}
}

// Name is the station's name.
func (r *Record) Name() string { return "Record" }

// Purpose says what one sees here.
func (r *Record) Purpose() string {
	return "What has been done on this job and when, the latest first. Every line is on the disk. Taking a step back adds a line; nothing is ever rubbed out."
}

// Keys gives the bindings.
func (r *Record) Keys(d *station.Desk) []station.Key {
	none := ""
	if d.Work.Events() == 0 {
		none = "nothing has been done yet"
	}
	return []station.Key{
		{Keys: []string{"down", "j", "up", "k"}, Shown: "down up", Does: "read on"},
		{Keys: []string{"n"}, Does: "note"},
		{Keys: []string{"c"}, Does: "copy the top line", Off: none, Quiet: true},
	}
}

// Press answers a key.
func (r *Record) Press(d *station.Desk, key string) []station.Intent {
	switch key {
	case "down", "j":
		r.top++
	case "up", "k":
		r.top = max(0, r.top-1)
	case "c":
		if e := d.Work.Recent(256); len(e) > 0 {
			return []station.Intent{station.Copy{Text: r.line(d, e[min(r.top, len(e)-1)])}}
		}
	case "n":
		return []station.Intent{station.Ask{Prompt: "note:", Help: "anything worth keeping", Done: func(s string) ([]station.Intent, error) {
			if s == "" {
				return nil, fmt.Errorf("nothing was written")
			}
			return []station.Intent{station.Write{Events: []work.What{work.Noted{Text: s}}}}, nil
		}}}
	}
	return nil
}

// line is one entry in words.
func (r *Record) line(d *station.Desk, e work.Done) string {
	return time.Unix(0, e.At).In(r.zone).Format("Jan 02 15:04:05") + "  " + r.tell(d, e.What)
}

// View draws the station.
func (r *Record) View(d *station.Desk, w, h int) []string {
	l := d.Look
	lines := []string{l.Strong.Render(fmt.Sprintf(" %d entries, every one on the disk", d.Work.Events()))}
	if !d.Keeps {
		lines[0] = l.Warn.Render(" " + l.Signs.Warn + " no record is kept of this job")
	}
	for _, p := range d.Work.Problems() {
		for _, x := range draw.Wrap(text.Clean(p), w-4) {
			lines = append(lines, l.Warn.Render("  "+l.Signs.Warn+" "+x))
		}
	}
	events := d.Work.Recent(256)
	if len(events) == 0 {
		return append(lines, "", l.Dim.Render("  Nothing has been done yet."))
	}
	room := max(1, h-len(lines))
	if top := max(0, len(events)-room); r.top > top {
		r.top = top
	}
	for _, e := range events[r.top:] {
		style, sign := l.Chalk, l.Signs.Done
		if e.Undone {
			style, sign = l.Dim, l.Signs.Spoiled
		}
		lines = append(lines, style.Render("  "+sign+" "+r.line(d, e)))
	}
	return lines
}
