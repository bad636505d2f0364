package measure

import (
	"fmt"
	"strings"
)

// Error says why a text is not the quantity that was asked for.
type Error struct {
	Kind    string // length, angle, ...
	Text    string // as written
	At      int    // byte offset of what is wrong in Text
	Reason  string // a clause: `"fet" is not a unit of length`
	Accepts string // what is accepted, as examples
}

// Error gives one line: the kind, the text, the place, the reason, and an example of what is accepted.
func (e *Error) Error() string {
	shown := e.Text
	if len(shown) > 60 {
		shown = strings.ToValidUTF8(shown[:60], "") + "..."
	}
	at := ""
	if e.At > 0 && e.At <= len(e.Text) {
		at = fmt.Sprintf(" at character %d", len([]rune(e.Text[:e.At]))+1)
	}
	return fmt.Sprintf("%s %q%s: %s; write %s", e.Kind, shown, at, e.Reason, e.Accepts)
}
