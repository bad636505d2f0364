package work

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/measure"
)

// Error says why a value or a text cannot be an event.
type Error struct {
	Do   string // its kind, where that is known
	What string // what is wrong, and what would be right
}

// Error gives both in one line.
func (e *Error) Error() string {
	if e.Do == "" {
		return "this is no event of the record: " + e.What
	}
	return fmt.Sprintf("this %q cannot be recorded: %s", e.Do, e.What)
}

// check holds every event to the same limits, on the way out and on the way in.
func (f *fields) check() error {
	bad := func(format string, args ...any) error {
		return &Error{kinds[f.kind], fmt.Sprintf(format, args...)}
	}
	if max(len(f.mark), len(f.stick), len(f.section), len(f.source), len(f.joint), len(f.about), len(f.name),
		len(f.text), len(f.value), len(f.key)) > MaxName { // rare: which, and is it over its own limit?
		for _, n := range [...]struct{ field, s string }{{"mark", f.mark}, {"stick", f.stick}, {"section", f.section},
			{"source", f.source}, {"joint", f.joint}, {"about", f.about}, {"name", f.name}} {
			if len(n.s) > MaxName {
				return bad("%s has %d bytes, the limit is %d", n.field, len(n.s), MaxName)
			}
		}
		for _, n := range [...]struct{ field, s string }{{"text", f.text}, {"value", f.value}, {"key", f.key}} {
			if len(n.s) > MaxText {
				return bad("%s has %d bytes, the limit is %d", n.field, len(n.s), MaxText)
			}
		}
	}
	for _, l := range [...]measure.Length{f.from, f.to, f.length, f.nominal} {
		if l > measure.MaxLength || l < -measure.MaxLength {
			return bad("a length of %g m is beyond every stick", float64(l)/float64(measure.Metre))
		}
	}
	for _, v := range [...]float64{f.amps, f.left, f.right} {
		if math.IsNaN(v) || math.Abs(v) > 1e6 {
			return bad("%v is no number of amps or degrees", v)
		}
	}
	if f.to < f.from {
		return bad("the piece ends (%d nm) before it begins (%d nm)", f.to, f.from)
	}
	if f.kind == kReceived {
		return f.checkReceipt(bad)
	}
	unit := f.kind == kCut || f.kind == kSpoiled || f.kind == kFitted
	switch {
	case unit && f.mark == "":
		return bad("it needs a mark")
	case unit && (f.unit < 1 || f.unit > MaxUnit):
		return bad("the unit is %d; units count from 1 to %d", f.unit, MaxUnit)
	case (f.kind == kCut || f.kind == kLoaded) && f.stick == "":
		return bad("it needs a stick")
	case (f.kind == kLoaded || f.kind == kFitted || f.kind == kShelved) && f.length <= 0:
		return bad("the length is %d nm; it must be above 0", f.length)
	case (f.kind == kTacked || f.kind == kWelded) && f.joint == "":
		return bad("it needs a joint")
	case f.pass < 0 || f.pass > 1000:
		return bad("pass %d; passes count from 1, 0 is the whole joint", f.pass)
	case (f.kind == kUndone || f.kind == kArcOff) && f.of.Zero():
		return bad("it must name the event it belongs to")
	case f.ns < 0:
		return bad("a rest cannot be shorter than nothing")
	case f.kind == kNoted && f.text == "":
		return bad("the note is empty")
	case f.kind == kSet && f.name == "":
		return bad("it needs a name")
	}
	return nil
}
