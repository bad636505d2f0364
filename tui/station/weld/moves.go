package weld

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/weld"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/station"
)

// later moves the joint in hand behind all that can come before it. It is an entry of the record, so it stays so.
func (s *Weld) later(d *station.Desk, i int) []station.Intent {
	b := &s.booth
	t := d.Plan.Weld.Docket.Tasks[i]
	name := b.moves(t)
	others := false
	for k, x := range d.Plan.Weld.Docket.Tasks {
		others = others || k != i && x.Kind != weld.Gate && x.Kind != weld.Saw && !b.done[k] && b.moves(x) != name && b.ready(k) && b.rank(d, x) <= 0
	}
	if !others {
		return []station.Intent{station.Say{Text: "nothing else can come before it"}}
	}
	events := []work.What{work.Set{Name: lastSetting + name, Value: "yes"}}
	if b.rank(d, t) < 0 {
		events = append([]work.What{work.Set{Name: firstSetting + name, Value: "no"}}, events...)
	}
	return append(write(events...), station.Say{Text: text.Clean(s.line(d, i)) + ": later; u takes that back"})
}

// other asks which joint is to come next.
func (s *Weld) other(d *station.Desk) []station.Intent {
	return []station.Intent{station.Ask{
		Prompt: "next:", Help: "a joint (J7), a seam (J7.2), members (lower.x1 + lower.bar3) or a mark; it comes as soon as it can",
		Done: func(word string) ([]station.Intent, error) {
			b := &s.booth
			w := d.Plan.Weld
			word = strings.TrimSpace(word)
			places, problems := w.Layout.Sequence([]job.Name{{Text: word}})
			if len(problems) > 0 {
				return nil, fmt.Errorf("%s", problems[0].Message)
			}
			chosen := map[string]bool{}
			for _, p := range places {
				for _, k := range p.Joints {
					chosen[w.Layout.Joints[k].ID] = true
				}
				for _, k := range p.Seams {
					chosen[w.Layout.Joints[w.Layout.Seams[k].Joint].ID] = true
				}
			}
			var events []work.What
			left, open, stage := false, false, ""
			moved := map[string]bool{}
			for k, t := range w.Docket.Tasks {
				if t.Kind == weld.Gate || t.Kind == weld.Saw || b.done[k] {
					continue
				}
				name := b.moves(t)
				if !chosen[t.Joint] { // what was called up before gives way
					if v, _ := d.Work.Setting(firstSetting + name); v == "yes" && !moved[name] {
						moved[name] = true
						events = append(events, work.Set{Name: firstSetting + name, Value: "no"})
					}
					continue
				}
				left, open = true, open || b.ready(k)
				if stage == "" {
					stage = w.Layout.Stages[t.Stage].Name
				}
				if moved[name] {
					continue
				}
				moved[name] = true
				if v, _ := d.Work.Setting(lastSetting + name); v == "yes" {
					events = append(events, work.Set{Name: lastSetting + name, Value: "no"})
				}
				events = append(events, work.Set{Name: firstSetting + name, Value: "yes"})
			}
			switch {
			case !left:
				return nil, fmt.Errorf("%s is finished", text.Clean(word))
			case !open:
				return append(write(events...), station.Say{Text: text.Clean(word) + " comes first once its turn can come: " + text.Clean(stage)}), nil
			}
			return append(write(events...), station.Say{Text: text.Clean(word) + " is next"}), nil
		}}}
}
