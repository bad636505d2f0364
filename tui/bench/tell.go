package bench

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
)

// Tell says in a few words what an event was.
func Tell(w work.What, j *job.Job) string {
	tape := measure.Sixteenths
	if j != nil {
		tape = j.Tape
	}
	c := text.Clean
	switch w := w.(type) {
	case work.Loaded:
		return fmt.Sprintf("%s loaded, %s", c(w.Stick), tape.Print(w.Length))
	case work.Cut:
		return fmt.Sprintf("%s-%d cut", c(w.Mark), w.Unit)
	case work.Spoiled:
		return fmt.Sprintf("%s-%d spoiled", c(w.Mark), w.Unit)
	case work.Undone:
		return "a step taken back"
	case work.Tacked:
		return c(strings.TrimSuffix(w.Joint, " tack")) + " tacked"
	case work.Welded:
		return c(w.Joint) + " welded"
	case work.ArcOn:
		return "arc started at " + c(w.Joint)
	case work.ArcOff:
		return "arc stopped"
	case work.Tripped:
		return "the machine cut out"
	case work.Rested:
		return fmt.Sprintf("rested %d s", w.NS/1e9)
	case work.Fitted:
		return fmt.Sprintf("%s-%d measured in its place: %s", c(w.Mark), w.Unit, tape.Print(w.Length))
	case work.Shelved:
		return fmt.Sprintf("%s of %s put on the shelf", tape.Print(w.Length), c(w.Section))
	case work.Received:
		return c(work.Words(w, tape.Print))
	case work.Noted:
		return "note: " + c(w.Text)
	case work.Set:
		if w.Name == jobSetting {
			return "by the job file as it is from here on"
		}
		if name, ok := strings.CutPrefix(w.Name, "done: "); ok {
			return c(name) + map[bool]string{true: ": done", false: ": not done after all"}[w.Value == "yes"]
		}
		if name, ok := strings.CutPrefix(w.Name, "later: "); ok {
			return c(name) + map[bool]string{true: ": moved down, after what can come before it", false: ": back in its place"}[w.Value == "yes"]
		}
		if name, ok := strings.CutPrefix(w.Name, "first: "); ok {
			return c(name) + map[bool]string{true: ": called up, next at the booth", false: ": back in its place"}[w.Value == "yes"]
		}
		if name, ok := strings.CutPrefix(w.Name, "marked out: "); ok {
			return c(name) + map[bool]string{true: " marked out", false: " not marked out after all"}[w.Value == "yes"]
		}
		if name, ok := strings.CutPrefix(w.Name, "diagonals: "); ok {
			var a, b int64
			if n, _ := fmt.Sscanf(w.Value, "%d %d", &a, &b); n == 2 {
				return fmt.Sprintf("diagonals of %s measured: %s and %s", c(name), tape.PrintLong(measure.Length(a)), tape.PrintLong(measure.Length(b)))
			}
		}
		return fmt.Sprintf("%s set to %s", c(w.Name), c(w.Value))
	case work.Unknown:
		return "an entry of a later soapstone"
	}
	return "an entry"
}
