package bench

import tea "github.com/charmbracelet/bubbletea"

// Guarded is a bench that survives a fault in its own code as far as the terminal goes: it keeps the report, ends the
// program in good order, and tells the caller where the report lies.
type Guarded struct {
	*Model
	Where string // the report, "" where nothing went wrong
	Stop  func() // ends the program from a view
}

// Guard wraps a bench.
func Guard(m *Model) *Guarded { return &Guarded{Model: m} }

func (g *Guarded) caught(r any) {
	g.Where = "no report could be written"
	if g.cfg.Report != nil {
		g.Where = g.cfg.Report(r)
	}
}

// Update takes one message.
func (g *Guarded) Update(msg tea.Msg) (model tea.Model, cmd tea.Cmd) {
	if g.Where != "" {
		return g, tea.Quit
	}
	defer func() {
		if r := recover(); r != nil {
			g.caught(r)
			model, cmd = g, tea.Quit
		}
	}()
	_, cmd = g.Model.Update(msg)
	return g, cmd
}

// View draws the screen.
func (g *Guarded) View() (s string) {
	if g.Where != "" {
		return ""
	}
	defer func() {
		if r := recover(); r != nil {
			g.caught(r)
			s = ""
			if g.Stop != nil {
				g.Stop()
			}
		}
	}()
	return g.Model.View()
}
