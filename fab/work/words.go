package work

import (
	"fmt"
	"strconv"
	"strings"

	"bench.example/soapstone/fab/measure"
)

// Words says an event in one line for the log, without its time. Lengths are printed by tape.
// The names in it come from the record as they stand: they are to be cleaned before they reach
// a terminal.
func Words(w What, tape func(measure.Length) string) string {
	piece := func(mark string, unit int) string { return mark + " " + strconv.Itoa(unit) }
	of := func(what, name string) string {
		if name == "" {
			return ""
		}
		return what + name
	}
	switch e := w.(type) {
	case Loaded:
		s := fmt.Sprintf("%s loaded, %s of %s", e.Stick, tape(e.Length), e.Section)
		if e.Nominal != 0 && e.Nominal != e.Length {
			s += fmt.Sprintf(" (planned as %s)", tape(e.Nominal))
		}
		return s + of(", from the ", e.Source)
	case Cut:
		return fmt.Sprintf("%s cut from %s, %s", piece(e.Mark, e.Unit), e.Stick, tape(e.To-e.From))
	case Spoiled:
		return piece(e.Mark, e.Unit) + " spoiled" + of(" on ", e.Stick) + of(": ", e.Why)
	case Undone:
		return "undone: " + e.Of.String()
	case Tacked:
		return e.Joint + " tacked"
	case Welded:
		if e.Pass > 0 {
			return fmt.Sprintf("%s welded, pass %d", e.Joint, e.Pass)
		}
		return e.Joint + " welded"
	case ArcOn:
		s := "arc on" + of(" at ", e.Joint)
		if e.Amps != 0 {
			s += fmt.Sprintf(", %g A", e.Amps)
		}
		return s
	case ArcOff:
		return "arc off"
	case Tripped:
		if e.Amps != 0 {
			return fmt.Sprintf("the welder tripped at %g A", e.Amps)
		}
		return "the welder tripped"
	case Rested:
		return fmt.Sprintf("rested %d s", e.NS/1_000_000_000)
	case Fitted:
		return fmt.Sprintf("%s measured in its place, %s", piece(e.Mark, e.Unit), tape(e.Length))
	case Shelved:
		s := fmt.Sprintf("drop of %s shelved, %s", e.Section, tape(e.Length))
		if e.Ends != [2]float64{} {
			s += fmt.Sprintf(", ends %g and %g degrees", e.Ends[0], e.Ends[1])
		}
		return s
	case Noted:
		return "note" + of(" on ", e.About) + ": " + strings.Join(strings.Fields(e.Text), " ")
	case Received:
		return e.words(tape)
	case Set:
		return e.Name + " set to " + e.Value
	case Unknown:
		return fmt.Sprintf("something that a later soapstone recorded (%q)", e.Do)
	}
	return fmt.Sprintf("%T", w)
}
