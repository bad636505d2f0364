// Package sheet writes a plan down: as plain text for a terminal or a printer. Everything is bytes; where they go is the
// caller's business. All text that came from a file is cleaned of control characters on the way.
package sheet
