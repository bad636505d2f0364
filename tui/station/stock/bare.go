package stock

import (
	"fmt"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
	"bench.example/soapstone/tui/station"
)

// bare shows the next stick to bring, in digits that are read at the rack.
func (s *Stock) bare(d *station.Desk, w, h int) []string {
	l, p := d.Look, d.Plan
	loaded := map[string]bool{}
	for _, x := range d.Work.Sticks() {
		loaded[x.Name] = x.Loaded
	}
	left := 0
	var next *cut.Step
	for i := range p.Queue.Steps {
		st := &p.Queue.Steps[i]
		if st.Op != cut.Load || loaded[p.StickName(st.Bundle, st.Used)] {
			continue
		}
		if left++; next == nil {
			next = st
		}
	}
	if next == nil {
		return []string{"", l.Cool.Render(" " + l.Signs.Done + " Every stick was brought.")}
	}
	sn := &p.Nests[next.Bundle]
	from := "a new stick"
	if sn.Problem.Sticks[sn.Nest.Used[next.Used].Stick].OnHand {
		from = "from the shelf"
	}
	out := []string{l.Strong.Render(fmt.Sprintf(" %s BRING %s, %s", l.Signs.Next, text.Clean(next.Section), from)), ""}
	digits := station.Typed(p.Job.Tape, next.Length)
	rows := draw.Digits(digits, []rune(l.Signs.Full)[0])
	if h >= 16 && 2*draw.DigitsWidth(digits)+4 <= w {
		rows = draw.Twice(rows)
	}
	for _, r := range rows {
		out = append(out, "  "+l.Strong.Render(r))
	}
	say := text.Clean(p.StickName(next.Bundle, next.Used)) + "; " + text.Count(left, "stick") + " still to bring"
	if f := p.Job.Tape.Feet(next.Length); f != "" {
		say = f + "; " + say
	}
	return append(out, "", "  "+l.Dim.Render(say))
}
