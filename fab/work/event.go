package work

import "bench.example/soapstone/fab/measure"

// What is what happened: one of the types below.
type What interface{ fields() fields }

// Loaded: a stick was put into the saw, and measured.
type Loaded struct {
	Stick   string         // the name of this one stick in this job, "rail 2"
	Section string         // of the job
	Source  string         // buy | shelf
	Length  measure.Length // as measured, or as bought where nobody measured
	Nominal measure.Length // as the plan took it; 0 where that is the same
}

// Cut: a piece came off a stick.
type Cut struct {
	Mark     string
	Unit     int // which of that mark, from 1
	Stick    string
	From, To measure.Length // its tips along the stick
	Key      string         // what the piece is, so that it is known again when an edit renames marks
}

// Spoiled: a piece is lost, after it was cut or in the cutting.
type Spoiled struct {
	Mark     string
	Unit     int
	Stick    string         // where it was spoiled in the cutting: the steel that is gone
	From, To measure.Length // of that steel
	Key      string
	Why      string
}

// Undone: the event Of does not count.
type Undone struct{ Of ID }

// Tacked: a joint holds by tacks.
type Tacked struct{ Joint string }

// Welded: a joint is finished, or one pass of several.
type Welded struct {
	Joint string
	Pass  int // 0: the whole joint
}

// ArcOn: an arc was started, at the time of the event.
type ArcOn struct {
	Joint string
	Amps  float64
}

// ArcOff: the arc that the event Of started has stopped, at the time of the event or, where
// somebody says so later, at At.
type ArcOff struct {
	Of ID
	At int64 // nanoseconds since 1970-01-01 UTC; 0: the time of the event
}

// Tripped: the welder's thermal switch cut out.
type Tripped struct{ Amps float64 }

// Rested: the machine rested.
type Rested struct{ NS int64 } // nanoseconds

// Fitted: a piece that is cut to fit was measured in its place.
type Fitted struct {
	Mark   string
	Unit   int
	Length measure.Length
}

// Shelved: a drop went back on the shelf.
type Shelved struct {
	Stick   string // of which it was left
	Section string
	Length  measure.Length // tip to tip
	Ends    [2]float64     // degrees, as the contract's ends
}

// Noted: somebody wrote something down.
type Noted struct {
	Text  string
	About string // a mark, joint or stick; may be empty
}

// Set: a setting of the job's work, such as the amps that are used now.
type Set struct{ Name, Value string }

// Unknown is an event of a later version: its kind and its text.
type Unknown struct {
	Do  string
	Raw string
}

// Limits on what an event may hold. Texts are in bytes.
const (
	MaxName = 256  // of marks, sticks, sections, joints, names and sources
	MaxText = 8192 // of notes, reasons, values and keys
	MaxUnit = 10_000_000
)

// kind of an event, as a small number for the fold.
type kind uint8

const (
	kUnknown kind = iota
	kLoaded
	kCut
	kSpoiled
	kUndone
	kTacked
	kWelded
	kArcOn
	kArcOff
	kTripped
	kRested
	kFitted
	kShelved
	kNoted
	kSet
	kReceived
)

// kinds are the words of the text, in the order of the numbers.
var kinds = [...]string{"", "load", "cut", "spoil", "undo", "tack", "weld", "arc-on", "arc-off", "trip", "rest", "fit", "shelve", "note", "set", "receive"}

// fields is any event laid flat; the fold and the text both work on it.
type fields struct {
	kind                                kind
	do                                  string // of an unknown kind
	mark, stick, section, source, joint string
	about, name, key, text, value       string
	unit, pass                          int64
	from, to, length, nominal           measure.Length
	of                                  ID
	at, ns                              int64
	amps, left, right                   float64
	receipt                             *receipt // of a receipt alone
}

func (e Loaded) fields() fields {
	return fields{kind: kLoaded, stick: e.Stick, section: e.Section, source: e.Source, length: e.Length, nominal: e.Nominal}
}
func (e Cut) fields() fields {
	return fields{kind: kCut, mark: e.Mark, unit: int64(e.Unit), stick: e.Stick, from: e.From, to: e.To, key: e.Key}
}
func (e Spoiled) fields() fields {
	return fields{kind: kSpoiled, mark: e.Mark, unit: int64(e.Unit), stick: e.Stick, from: e.From, to: e.To, key: e.Key, text: e.Why}
}
func (e Undone) fields() fields  { return fields{kind: kUndone, of: e.Of} }
func (e Tacked) fields() fields  { return fields{kind: kTacked, joint: e.Joint} }
func (e Welded) fields() fields  { return fields{kind: kWelded, joint: e.Joint, pass: int64(e.Pass)} }
func (e ArcOn) fields() fields   { return fields{kind: kArcOn, joint: e.Joint, amps: e.Amps} }
func (e ArcOff) fields() fields  { return fields{kind: kArcOff, of: e.Of, at: e.At} }
func (e Tripped) fields() fields { return fields{kind: kTripped, amps: e.Amps} }
func (e Rested) fields() fields  { return fields{kind: kRested, ns: e.NS} }
func (e Fitted) fields() fields {
	return fields{kind: kFitted, mark: e.Mark, unit: int64(e.Unit), length: e.Length}
}
func (e Shelved) fields() fields {
	return fields{kind: kShelved, stick: e.Stick, section: e.Section, length: e.Length, left: e.Ends[0], right: e.Ends[1]}
}
func (e Noted) fields() fields { return fields{kind: kNoted, text: e.Text, about: e.About} }
func (e Set) fields() fields   { return fields{kind: kSet, name: e.Name, value: e.Value} }
func (e Unknown) fields() fields {
	return fields{kind: kUnknown, do: e.Do, text: e.Raw}
}

// what gives the typed value.
func (f *fields) what() What {
	switch f.kind {
	case kLoaded:
		return Loaded{f.stick, f.section, f.source, f.length, f.nominal}
	case kCut:
		return Cut{f.mark, int(f.unit), f.stick, f.from, f.to, f.key}
	case kSpoiled:
		return Spoiled{f.mark, int(f.unit), f.stick, f.from, f.to, f.key, f.text}
	case kUndone:
		return Undone{f.of}
	case kTacked:
		return Tacked{f.joint}
	case kWelded:
		return Welded{f.joint, int(f.pass)}
	case kArcOn:
		return ArcOn{f.joint, f.amps}
	case kArcOff:
		return ArcOff{f.of, f.at}
	case kTripped:
		return Tripped{f.amps}
	case kRested:
		return Rested{f.ns}
	case kFitted:
		return Fitted{f.mark, int(f.unit), f.length}
	case kShelved:
		return Shelved{f.stick, f.section, f.length, [2]float64{f.left, f.right}}
	case kNoted:
		return Noted{f.text, f.about}
	case kSet:
		return Set{f.name, f.value}
	case kReceived:
		return f.received()
	}
	return Unknown{f.do, f.text}
}
