// Package early keeps the program from asking the terminal for its background colour while it starts.
//
// The screen library does so in a package init, and where no terminal answers every run, `--version` included, waits five
// seconds. Go initialises ready packages in the order of their import paths, and this path sorts before the library's;
// setting the answer here makes the question unnecessary. Themes are chosen by a setting instead.
package early

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
