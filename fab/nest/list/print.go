package list

import (
	"fmt"
	"io"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

// Print writes an answer for a person: the cost with its bound, then every stick with its pieces in the order of the saw.
// Lengths follow the tape.
func Print(w io.Writer, p nest.Problem, n nest.Nest, pieces []Piece, tape measure.Tape, seconds float64) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%d %s", n.Bars, plural(n.Bars, "stick"))
	if n.Priced {
		fmt.Fprintf(&b, ", cost %s", n.Cost)
	}
	switch {
	case n.Proven && n.Priced:
		b.WriteString("; proven: no nest of these pieces costs less")
	case n.Proven:
		b.WriteString("; proven: no nest of these pieces takes less stick")
	case n.Priced:
		fmt.Fprintf(&b, "; not proven: none costs less than %s", n.BoundCost)
	default:
		fmt.Fprintf(&b, "; not proven: none takes fewer than %d", n.BoundBars)
	}
	fmt.Fprintf(&b, " (%.3f s)\n", seconds)
	for start := 0; start < len(n.Used); {
		end := start + 1
		for end < len(n.Used) && alike(n.Used[start], n.Used[end]) {
			end++
		}
		writeStick(&b, p, n.Used[start], pieces, tape, start+1, end)
		start = end
	}
	if len(n.Drops) > 0 {
		words := make([]string, 0, 12)
		for i, d := range n.Drops {
			if i == 12 {
				words = append(words, fmt.Sprintf("and %d more", len(n.Drops)-i))
				break
			}
			words = append(words, tape.Print(d))
		}
		fmt.Fprintf(&b, "drops kept: %s\n", strings.Join(words, "  "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func writeStick(b *strings.Builder, p nest.Problem, u nest.Used, pieces []Piece, tape measure.Tape, first, last int) {
	s := p.Sticks[u.Stick]
	source := "buy"
	if s.OnHand {
		source = "shelf"
	}
	label := fmt.Sprintf("%d", first)
	if last > first {
		label = fmt.Sprintf("%d-%d", first, last)
	}
	fmt.Fprintf(b, "%8s  %-5s %9s  ", label, source, tape.Print(s.Length))
	for i := 0; i < len(u.Cuts); {
		j := i + 1
		for j < len(u.Cuts) && u.Cuts[j].Kind == u.Cuts[i].Kind && u.Cuts[j].Lay == u.Cuts[i].Lay {
			j++
		}
		c := u.Cuts[i]
		if i > 0 {
			b.WriteString(" | ")
		}
		fmt.Fprintf(b, "%d x #%d %s", j-i, c.Kind+1, tape.Print(pieces[c.Kind].Length))
		if l, r := c.Lay.Numbers(pieces[c.Kind].Left, pieces[c.Kind].Right); l != 0 || r != 0 {
			fmt.Fprintf(b, " %.4g/%.4g", l, r)
		}
		i = j
	}
	for _, part := range u.Partings() {
		fmt.Fprintf(b, " | yard parts at %s", tape.Print(part))
	}
	fmt.Fprintf(b, " | drop %s, slack %s\n", tape.Print(u.Drop), tape.Print(u.Slack))
}

// alike tells whether two sticks are cut the same.
func alike(a, b nest.Used) bool {
	if a.Stick != b.Stick || len(a.Cuts) != len(b.Cuts) || len(a.Partings()) != len(b.Partings()) {
		return false
	}
	for i := range a.Cuts {
		if a.Cuts[i].Kind != b.Cuts[i].Kind || a.Cuts[i].Lay != b.Cuts[i].Lay {
			return false
		}
	}
	for i := range a.Parts {
		if a.Parts[i] != b.Parts[i] {
			return false
		}
	}
	return true
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}
