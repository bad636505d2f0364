package weld

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"bench.example/soapstone/fab/weld"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/station"
)

// Weld is the station.
type Weld struct {
	booth  booth
	turn   float64
	rang   bool // the bell for the present rest was sounded
	asked  work.ID
	early  int // the task that was to be started before the machine has cooled, plus one
	frames sketch
	drawn  drawing
}

// New makes the station.
func New() *Weld { return &Weld{} }

// Name is the station's name.
func (s *Weld) Name() string { return "Weld" }

// Purpose says what one does here.
func (s *Weld) Purpose() string {
	return "Tack and weld in the order that keeps the frame straight and the machine inside its rating plate. Space starts the arc and stops it again; start and stop are on the disk before the screen says so. The bar shows how much arc the plate's window still holds. The machine's own cut-out has the last word."
}

// why says why nothing can be done here, "" where something can.
func (s *Weld) why(d *station.Desk) string {
	switch {
	case d.Plan == nil:
		return "the plan is still being made"
	case d.Plan.Failed():
		return "the job cannot be built as it is written"
	case d.Plan.Weld == nil:
		return "the job has no [welder]"
	case d.Saving > 0:
		return "the last entry is being written"
	}
	return ""
}

// Keys gives the bindings.
func (s *Weld) Keys(d *station.Desk) []station.Key {
	off := s.why(d)
	none := off
	does := "done"
	arcOff := "no arc was struck yet"
	chores := off
	if d.Plan != nil && d.Plan.Weld != nil && !d.Plan.Failed() {
		s.booth.follow(d)
		i := s.booth.task(d)
		a, open := s.booth.open(d)
		switch {
		case open && d.Now.UnixNano()-a.From >= 0:
			does = "STOP the arc"
		case i < 0:
			none = "everything is welded"
		case d.Plan.Weld.Docket.Tasks[i].Kind.Burns():
			does = "START the arc"
		}
		if len(s.booth.arcs) > 0 {
			arcOff = ""
		}
	}
	if off != "" {
		arcOff = off
	}
	return []station.Key{
		{Keys: []string{"space"}, Does: does, Off: none},
		{Keys: []string{"w"}, Does: "work of the list done", Off: chores, Quiet: true},
		{Keys: []string{"f"}, Does: "finished by hand", Off: none, Quiet: true},
		{Keys: []string{"d"}, Does: "this joint later", Off: none, Quiet: true},
		{Keys: []string{"o"}, Does: "another joint next", Off: none, Quiet: true},
		{Keys: []string{"m"}, Does: "enter an arc", Off: off},
		{Keys: []string{"e"}, Does: "last arc's length", Off: arcOff, Quiet: true},
		{Keys: []string{"t"}, Does: "it cut out", Off: off},
		{Keys: []string{"left", "right"}, Shown: "left right", Does: "turn the frame", Quiet: true, Off: s.drawOff(d)},
		{Keys: []string{"c"}, Does: "copy the line", Off: none, Quiet: true},
	}
}

func (s *Weld) drawOff(d *station.Desk) string {
	if d.Plan == nil || d.Plan.Frame == nil {
		return "there is no frame"
	}
	return ""
}

// Press answers a key.
func (s *Weld) Press(d *station.Desk, key string) []station.Intent {
	switch key {
	case "left":
		s.turn -= 15
		return nil
	case "right":
		s.turn += 15
		return nil
	}
	if s.why(d) != "" {
		return nil
	}
	s.booth.follow(d)
	b := &s.booth
	i := b.task(d)
	a, open := b.open(d)
	switch key {
	case "space":
		if open {
			return s.stop(d, a, i)
		}
		if i < 0 {
			return nil
		}
		if t := d.Plan.Weld.Docket.Tasks[i]; t.Kind.Burns() {
			if wait := b.wait(d, t.Take); wait > 0 && s.early != i+1 {
				s.early = i + 1
				return []station.Intent{station.Say{Text: "the plate asks for " + clock(wait) + " more rest; space again starts all the same", Bad: true}}
			}
			s.rang, s.early = false, 0
			return write(work.ArcOn{Joint: b.keys[i], Amps: d.Plan.Weld.Welder.Amps})
		}
		return write(s.finished(d, i))
	case "w":
		list := s.chores(d, time.Hour)
		if len(list) == 0 || d.Plan.Weld.Docket.Tasks[list[0]].Kind == weld.Saw {
			return []station.Intent{station.Say{Text: "nothing else is due at the booth"}}
		}
		return append(write(s.finished(d, list[0])), station.Say{Text: "done: " + s.line(d, list[0])})
	case "f":
		if i >= 0 && !open {
			return write(s.finished(d, i))
		}
		return []station.Intent{station.Say{Text: "stop the arc first", Bad: true}}
	case "d", "o":
		if open || i < 0 {
			return []station.Intent{station.Say{Text: "stop the arc first", Bad: true}}
		}
		if key == "d" {
			return s.later(d, i)
		}
		return s.other(d)
	case "m":
		return s.enter(d, i)
	case "e":
		return s.amend(d)
	case "t":
		if open {
			return write(work.ArcOff{Of: a.ID}, work.Tripped{Amps: d.Plan.Weld.Welder.Amps})
		}
		return write(work.Tripped{Amps: d.Plan.Weld.Welder.Amps})
	case "c":
		if i >= 0 {
			return []station.Intent{station.Copy{Text: s.line(d, i)}}
		}
	}
	return nil
}

func write(e ...work.What) []station.Intent { return []station.Intent{station.Write{Events: e}} }

// finished is the entry that says a task is done.
func (s *Weld) finished(d *station.Desk, i int) work.What {
	key := s.booth.keys[i]
	switch d.Plan.Weld.Docket.Tasks[i].Kind {
	case weld.Tack:
		return work.Tacked{Joint: key}
	case weld.Arc:
		return work.Welded{Joint: key}
	}
	return work.Set{Name: doneSetting + key, Value: "yes"}
}

// stop ends the arc. One that took much less or far more than planned is asked about; any other finishes its task.
func (s *Weld) stop(d *station.Desk, a work.Arc, i int) []station.Intent {
	s.rang = false
	off := work.ArcOff{Of: a.ID}
	k, ok := s.booth.byKey[a.Joint]
	if !ok {
		return write(off)
	}
	take := d.Plan.Weld.Docket.Tasks[k].Take
	burnt := time.Duration(d.Now.UnixNano() - a.From)
	switch {
	case burnt > 2*take+2*time.Second:
		return s.ask(d, a, k)
	case burnt < take/2:
		return append(write(off), station.Ask{
			Prompt: fmt.Sprintf("%s of %s: is it finished?", clock(burnt), clock(take)), Initial: "no", Help: "yes or no; no keeps it open and it goes on where it stopped",
			Done: func(word string) ([]station.Intent, error) {
				switch {
				case strings.HasPrefix("yes", word) && word != "":
					return write(s.finished(d, k)), nil
				case strings.HasPrefix("no", word):
					return nil, nil
				}
				return nil, fmt.Errorf("write yes or no")
			}})
	}
	return write(off, s.finished(d, k))
}

// ask asks when an arc really stopped.
func (s *Weld) ask(d *station.Desk, a work.Arc, k int) []station.Intent {
	guess := 10 * time.Second
	if k >= 0 {
		guess = d.Plan.Weld.Docket.Tasks[k].Take
	}
	burnt := time.Duration(d.Now.UnixNano() - a.From)
	return []station.Intent{station.Ask{
		Prompt: fmt.Sprintf("the arc has no end for %s; it burnt:", clock(burnt)), Initial: spell(guess), Help: "how long it really burnt: 40s, 1m20s; 0 where it never burnt",
		Done: func(word string) ([]station.Intent, error) {
			t, err := duration(word)
			if err != nil {
				return nil, err
			}
			if t > burnt {
				return nil, fmt.Errorf("only %s have passed since it was started", clock(burnt))
			}
			events := []work.What{work.ArcOff{Of: a.ID, At: max(a.From+int64(t), 1)}}
			if k >= 0 && t >= d.Plan.Weld.Docket.Tasks[k].Take/2 {
				events = append(events, s.finished(d, k))
			}
			return write(events...), nil
		}}}
}

// enter records an arc that was welded without the station: how long, now ending.
func (s *Weld) enter(d *station.Desk, i int) []station.Intent {
	if a, open := s.booth.open(d); open {
		k, ok := s.booth.byKey[a.Joint]
		if !ok {
			k = -1
		}
		return s.ask(d, a, k)
	}
	if i < 0 {
		return []station.Intent{station.Say{Text: "everything is welded", Bad: false}}
	}
	t := d.Plan.Weld.Docket.Tasks[i]
	if !t.Kind.Burns() {
		return []station.Intent{station.Say{Text: "next is no arc; space says that it is done", Bad: false}}
	}
	return []station.Intent{station.Ask{
		Prompt: "arc time of " + t.Joint + ":", Initial: spell(t.Take), Help: "as it was welded without this screen, ending now: 40s, 1m20s",
		Done: func(word string) ([]station.Intent, error) {
			took, err := duration(word)
			if err != nil {
				return nil, err
			}
			if took > time.Hour {
				return nil, fmt.Errorf("an arc of %s is hard to believe; enter the parts", clock(took))
			}
			return []station.Intent{station.Burnt{Joint: s.booth.keys[i], Amps: d.Plan.Weld.Welder.Amps, For: took, Then: []work.What{s.finished(d, i)}}}, nil
		}}}
}

// amend corrects the length of the last arc.
func (s *Weld) amend(d *station.Desk) []station.Intent {
	if len(s.booth.arcs) == 0 {
		return nil
	}
	a := s.booth.arcs[len(s.booth.arcs)-1]
	if a.Open {
		k, ok := s.booth.byKey[a.Joint]
		if !ok {
			k = -1
		}
		return s.ask(d, a, k)
	}
	return []station.Intent{station.Ask{
		Prompt: "the last arc burnt:", Initial: spell(time.Duration(a.To - a.From)), Help: "how long it really burnt: 40s, 1m20s",
		Done: func(word string) ([]station.Intent, error) {
			t, err := duration(word)
			if err != nil {
				return nil, err
			}
			if a.From+int64(t) > d.Now.UnixNano() {
				return nil, fmt.Errorf("that would end in the future")
			}
			return write(work.ArcOff{Of: a.ID, At: a.From + int64(t)}), nil
		}}}
}

func spell(t time.Duration) string { return t.Round(time.Second).String() }

// duration reads a time as people write it; a bare number is seconds.
func duration(word string) (time.Duration, error) {
	if f, err := strconv.ParseFloat(word, 64); err == nil && f >= 0 && f < 1e6 {
		return time.Duration(f * float64(time.Second)), nil
	}
	t, err := time.ParseDuration(strings.ReplaceAll(word, " ", ""))
	if err != nil || t < 0 || t > 100*time.Hour {
		return 0, fmt.Errorf("%q is no time; write 40s or 1m20s", word)
	}
	return t, nil
}

// Tick sounds the bell when the machine is ready again, and asks about an arc that was left open.
func (s *Weld) Tick(d *station.Desk) []station.Intent {
	if s.why(d) != "" {
		return nil
	}
	s.booth.follow(d)
	b := &s.booth
	if a, open := b.open(d); open {
		k, known := b.byKey[a.Joint]
		limit := 2 * b.budget(d).Arc
		if known {
			limit = 2*d.Plan.Weld.Docket.Tasks[k].Take + 30*time.Second
		} else {
			k = -1
		}
		if time.Duration(d.Now.UnixNano()-a.From) > limit && s.asked != a.ID && d.Front {
			s.asked = a.ID
			return append(s.ask(d, a, k), station.Ring{})
		}
		// The budget is used up: ring once while the arc burns.
		if b.at(d).Left == 0 && !s.rang {
			s.rang = true
			return []station.Intent{station.Ring{}, station.Say{Text: "the window is full: stop, and let the machine cool with its fan running", Bad: true}}
		}
		return nil
	}
	if b.next < 0 || !d.Plan.Weld.Docket.Tasks[b.next].Kind.Burns() {
		s.rang = true
		return nil
	}
	if b.wait(d, d.Plan.Weld.Docket.Tasks[b.next].Take) > 0 {
		s.rang = false
		return nil
	}
	if !s.rang && len(b.burns) > 0 {
		s.rang = true
		return []station.Intent{station.Ring{}, station.Say{Text: "the machine is ready for the next seam"}}
	}
	return nil
}

func (b *booth) at(d *station.Desk) weld.Booth { return b.budget(d).At(b.burns, now(d)) }

// Figures gives the working behind the seam in hand.
func (s *Weld) Figures(d *station.Desk) []string {
	if s.why(d) != "" {
		return nil
	}
	s.booth.follow(d)
	w := d.Plan.Weld
	out := []string{s.booth.rest.Duty.Working(), w.PlateDuty.Working(), s.booth.rest.Pace.Working()}
	if s.booth.amiss != nil {
		out = []string{w.Duty.Working(), w.PlateDuty.Working()}
	}
	if i := s.booth.task(d); i >= 0 {
		for k := range w.Layout.Seams {
			if w.Layout.Seams[k].ID == w.Docket.Tasks[i].Seam {
				for _, f := range w.SeamFigures(k) {
					out = append(out, f.Working())
				}
			}
		}
	}
	return out
}

// line says the task in one line.
func (s *Weld) line(d *station.Desk, i int) string {
	t := d.Plan.Weld.Docket.Tasks[i]
	line := string(t.Kind)
	switch {
	case t.Seam != "":
		line += " " + t.Seam
	case t.Joint != "":
		line += " " + t.Joint
	}
	if t.What != "" {
		line += ": " + t.What
	}
	return line + ", " + clock(t.Take)
}
