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
	shown := clip(e.Text, 60)
	at := ""
	if e.At > 0 && e.At <= len(e.Text) {
		at = fmt.Sprintf(" at character %d", len([]rune(e.Text[:e.At]))+1)
	}
	return fmt.Sprintf("%s %q%s: %s; write %s", e.Kind, shown, at, clip(e.Reason, 160), e.Accepts)
}

// clip shortens a text that nobody would read to its end.
func clip(text string, most int) string {
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "..."
}
