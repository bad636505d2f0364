package bench

import (
	"fmt"

	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// stop is one stop of the guided tour: a station and what is to be seen there.
type stop struct{ station, says string }

var tour = []stop{
	{"", "Welcome. This is the bench of a shop that makes welded frames out of sticks of steel. The job that lies on it is an example: a rack for twelve kayaks on a crowned slipway. You can do anything to it."},
	{"Job", "Number keys and tab walk along the way that steel takes: the job, the sketch, the stock, the saw, squaring, welding, loads, price, the record."},
	{"Sketch", "Everything in the job can be changed here, by form; the drawing and the whole plan follow at once. The job is a plain text file, and your own comments in it stay."},
	{"Saw", "At the saw the next cut stands in figures to be read from two steps away. Space says that it is done, x that it is spoiled, u takes the last step back. Every step is on the disk before the screen says so."},
	{"Weld", "At the booth the bar shows how much arc the machine's rating plate leaves, and how long until the next seam may begin. Space starts and stops the arc."},
	{"", "The line at the foot says what the keys do now; ? says why, with formula and source. That is all. Your own job: soapstone new FILE."},
}

// tourKey answers a key during the tour; other keys than these end it and count.
func (m *Model) tourKey(k string) bool {
	switch k {
	case "space", "enter", "right", "down":
		m.tour++
		if m.tour > len(tour) {
			m.endTour()
			return true
		}
		m.visit()
		return true
	case "left", "up":
		m.tour = max(1, m.tour-1)
		m.visit()
		return true
	case "esc":
		m.endTour()
		return true
	}
	m.endTour()
	return false
}

func (m *Model) visit() {
	for i, s := range m.cfg.Stations {
		if s.Name() == tour[m.tour-1].station {
			m.at = i
		}
	}
}

func (m *Model) endTour() {
	m.tour, m.at = 0, 0
	if m.cfg.Toured != nil {
		m.cfg.Toured()
	}
}

// tourLines draws the words over the station that they speak of.
func (m *Model) tourLines(h int) []string {
	l := m.desk.Look
	s := tour[m.tour-1]
	lines := []string{l.Key.Render(fmt.Sprintf(" A short tour, %d of %d", m.tour, len(tour)))}
	for _, x := range draw.Wrap(s.says, min(m.w-4, 90)) {
		lines = append(lines, l.Strong.Render("  "+x))
	}
	lines = append(lines, l.Rule.Render(" "+repeat(l.Signs.Horizontal, m.w-2)))
	if room := h - len(lines); room > 3 {
		lines = append(lines, m.front().View(&m.desk, m.w, room)...)
	}
	return lines
}

func repeat(s string, n int) string {
	out := ""
	for range n {
		out += s
	}
	return out
}

// mends tells whether the station in front is of use while the job file is broken.
func (m *Model) mends() bool {
	x, ok := m.front().(station.Mender)
	return ok && x.Mends()
}
