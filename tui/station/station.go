// Package station is what the stations of the workbench have in common: what lies on the desk before them (Desk), what
// they may ask of the bench (Intent), and the keys that they answer to (Key). A station never imports another one, knows
// no terminal and no clock, and computes no plan; it shows what lies on the desk and turns keys into intents.
package station

import (
	"time"

	"bench.example/soapstone/fab/plan"
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
	Keeps   bool   // the record is kept on the disk
	Writer  uint64 // this window's identity in the record
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
	// Go changes to another station by name.
	Go struct{ Station string }
	// Ring sounds the bell.
	Ring struct{}
	// Bare changes to the next action alone, or back.
	Bare struct{}
	// Copy puts text on the clipboard of the terminal.
	Copy struct{ Text string }
)

func (Write) intent() {}
func (Say) intent()   {}
func (Ask) intent()   {}
func (Go) intent()    {}
func (Ring) intent()  {}
func (Bare) intent()  {}
func (Copy) intent()  {}

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
	Figures(d *Desk) []string // IDs as plan.Figures gives them
}
