// Package station is what the stations of the workbench have in common: what lies on the desk before them (Desk), what
// they may ask of the bench (Intent), and the keys that they answer to (Key). A station never imports another one, knows
// no terminal and no clock, and computes no plan; it shows what lies on the desk and turns keys into intents.
package station

import (
	"time"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/look"
)

// Desk is what lies before a station. Stations only read it.
type Desk struct {
	Look    *look.Look
	Plan    *plan.Plan  // nil until the first plan is there
	Work    *work.State // what the record holds, and nothing that it does not
	Now     time.Time
	Busy    string // what is being planned right now; "" where nothing is
	JobName string // of the file, for the eye
	Saving  int    // events on the way to the disk
	Bare    bool   // only the next action
	Front   bool   // the station stands in front: while time passes others may ring, but not ask
	Keeps   bool   // the record is kept on the disk
	Writer  uint64 // this window's identity in the record

	Doc     *text.Doc                   // the job file as it stands; nil where it is not TOML
	Asked   []text.Asked                // what a job file may hold, told by its reader
	Check   func([]byte) []text.Problem // what the reader would say of another text of the job
	CanEdit string                      // why the job file cannot be written; "" where it can
	Changed string                      // what the last new plan changed, and because of what
	Edits   [2]string                   // what would be taken back, and what done again; "" where nothing
}

// Key is one binding of a station.
type Key struct {
	Keys  []string // as the terminal reports them: "enter", " ", "x"
	Shown string   // how the foot shows it: "space"
	Does  string   // in two or three words
	Off   string   // why it does nothing now; "" where it works
	Quiet bool     // not in the foot, only in the help
}

// Intent is what a station asks of the bench.
type Intent interface{ intent() }

// The intents.
type (
	// Write asks for events to be recorded, in order, as one.
	Write struct{ Events []work.What }
	// Burnt asks for an arc to be recorded that has just ended, and what it finished.
	Burnt struct {
		Joint string
		Amps  float64
		For   time.Duration
		Then  []work.What
	}
	// Say shows a line to the worker.
	Say struct {
		Text string
		Bad  bool
	}
	// Ask opens a line for typing; Done gets what was typed and gives intents, or an error to be shown at the field.
	Ask struct {
		Prompt, Initial, Help string
		Done                  func(text string) ([]Intent, error)
	}
	// Go changes to another station by name, and there to what is named On, where it is a Focuser.
	Go struct{ Station, On string }
	// Ring sounds the bell.
	Ring struct{}
	// Bare changes to the next action alone, or back.
	Bare struct{}
	// Form opens a form of several fields.
	Form struct {
		Title  string
		Fields []Field
		// Would gives the job's text that the fields would make, nil where they make none yet; the bench plans it beside the
		// screen, draws its frame and tells what it changes. nil: the form is not about the job.
		Would func(d *Desk, values []string) []byte
		// Live draws beside the fields what they would give; nil draws nothing.
		Live func(d *Desk, values []string, w, h int) []string
		// Done takes the values; an Amiss says at which field something is wrong.
		Done func(d *Desk, values []string) ([]Intent, error)
	}
	// Rewrite asks for the job file to be written anew.
	Rewrite struct {
		Text []byte
		What string // "lower made longer", for undo and for the eye
	}
	// Revert takes the last rewriting of this session back, or does it again.
	Revert struct{ Again bool }
	// Edit opens the job file in the user's editor.
	Edit struct{}
	// Copy puts text on the clipboard of the terminal.
	Copy struct{ Text string }
)

func (Write) intent() {}
func (Burnt) intent() {}
func (Say) intent()   {}
func (Ask) intent()   {}
func (Go) intent()    {}
func (Ring) intent()  {}
func (Bare) intent()  {}
func (Copy) intent()  {}

func (Form) intent()    {}
func (Rewrite) intent() {}
func (Revert) intent()  {}
func (Edit) intent()    {}

// Field is one line of a form.
type Field struct {
	Label, Value, Help string
	Choices            []string // what it may be, taken through with left and right; nil: anything typed
}

// Amiss says what is wrong at one field of a form.
type Amiss struct {
	Field int
	Why   string
}

// Error is the reason.
func (a *Amiss) Error() string { return a.Why }

// Station is one screen of the workbench.
type Station interface {
	// Name is the station's name: one word of the trade.
	Name() string
	// Purpose says in a sentence what one does here, for the help.
	Purpose() string
	// Keys gives the bindings as they are now.
	Keys(d *Desk) []Key
	// Press answers a key that Keys names and that is not off.
	Press(d *Desk, key string) []Intent
	// View draws the station; it gives at most h lines of at most w cells.
	View(d *Desk, w, h int) []string
}

// Clicker is a station that answers the mouse; x and y count from the station's upper left corner, w and h are as View
// was last given.
type Clicker interface {
	Click(d *Desk, x, y, w, h int) []Intent
}

// Ticker is a station that has something to say as time passes.
type Ticker interface {
	Tick(d *Desk) []Intent
}

// Reasoner is a station that can give the working of the figure it shows.
type Reasoner interface {
	Figures(d *Desk) []string // workings as figure.Working gives them, the most asked for first
}

// Typed is a length as a field holds it to begin with: what the tape shows, without the marks of heavy and light, so that it
// can be taken as it stands.
func Typed(t measure.Tape, l measure.Length) string { return t.Print(t.Nearest(l)) }

// Focuser is a station that can go to one of its things by name, such as a piece by its mark.
type Focuser interface {
	Focus(d *Desk, name string)
}

// Stepper is a station with steps that have no entry of their own in the record.
type Stepper interface {
	// StepBack takes the last such step back, if it is the last thing that was done, and says what it was; "" where there is none.
	StepBack(d *Desk) string
}

// Mender is a station that is of use while the job file cannot be planned.
type Mender interface{ Mends() bool }
