package bench

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"

	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/tui/draw"
)

// stuck is something that could not be put on the disk. Its screen stands until it was written or given up, so that nobody
// works on in the belief that it is kept.
type stuck struct {
	what  []string // what was not kept, in the worker's words
	err   error
	again func() tea.Cmd
	tried int
}

// stick holds what could not be kept.
func (m *Model) stick(what []string, err error, again func() tea.Cmd) {
	n := 1
	if m.stuck != nil {
		n = m.stuck.tried + 1
	}
	m.stuck = &stuck{what, err, again, n}
}

// stuckKey answers a key while something could not be kept.
func (m *Model) stuckKey(k string) tea.Cmd {
	switch k {
	case "space", "enter":
		if m.desk.Saving > 0 || m.writingJob {
			return nil
		}
		return m.stuck.again()
	case "esc":
		m.say("given up, NOT kept: "+strings.Join(m.stuck.what, ", "), true)
		m.stuck = nil
	}
	return nil
}

// remedy says what helps against an error of the disk.
func remedy(err error) string {
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return "Make room: empty the trash, take a large file away. A few kilobytes are enough. Nothing that was recorded before is lost."
	case errors.Is(err, syscall.EROFS), errors.Is(err, fs.ErrPermission):
		return "The folder of the job must allow writing: mend its permissions, or take out the write lock of the card or stick."
	case errors.Is(err, syscall.EIO):
		return "The disk itself fails. Copy the job's folder to another disk now, before anything else."
	}
	return "Mend that, and try again. Nothing that was recorded before is lost."
}

func (m *Model) stuckLines() []string {
	l := m.desk.Look
	lines := []string{"", l.Bad.Render(" " + l.Signs.Bad + " NOT recorded:")}
	wrap := func(style func(...string) string, s string) {
		for _, x := range draw.Wrap(text.Clean(s), m.w-4) {
			lines = append(lines, style("   "+x))
		}
	}
	for i, s := range m.stuck.what {
		if i == 6 && len(m.stuck.what) > 7 {
			wrap(l.Strong.Render, fmt.Sprintf("and %d more", len(m.stuck.what)-i))
			break
		}
		wrap(l.Strong.Render, s)
	}
	lines = append(lines, "")
	wrap(l.Warn.Render, m.stuck.err.Error())
	lines = append(lines, "")
	wrap(l.Chalk.Render, remedy(m.stuck.err))
	wrap(l.Chalk.Render, "Then press space: it is written as you pressed it, with its own time.")
	lines = append(lines, "")
	wrap(l.Dim.Render, "esc gives it up; write it on paper. What you press afterwards is tried anew.")
	if m.stuck.tried > 1 {
		wrap(l.Dim.Render, fmt.Sprintf("tried %d times", m.stuck.tried))
	}
	return lines
}

// problemLines is the screen of a job that cannot be planned as it is written: each fault with its place, and how to mend it.
func (m *Model) problemLines() []string {
	l := m.desk.Look
	lines := []string{"", l.Bad.Render(" " + l.Signs.Bad + " The job file cannot be planned as it is written:"), ""}
	for _, p := range m.problems {
		for i, s := range draw.Wrap(p.String(), m.w-6) {
			lead := "   "
			if i == 0 {
				lead = " " + l.Signs.Bullet + " "
			}
			lines = append(lines, l.Chalk.Render(lead+s))
		}
		for _, s := range strings.Split(strings.TrimRight(p.Quote, "\n"), "\n") {
			if s != "" {
				lines = append(lines, l.Warn.Render("     "+text.Clean(s)))
			}
		}
	}
	how := "2 goes to the sketch, where it can be mended by form; e opens the file in your editor. It is read again as soon as it is saved."
	if m.desk.Doc == nil && m.desk.CanEdit != "" {
		how = "Put the file back, or leave with q and open another. As soon as it is there again the work goes on; the record lies beside it untouched."
	} else if m.desk.Doc == nil {
		how = "e opens the file in your editor. It is read again as soon as it is saved."
	}
	lines = append(lines, "")
	for _, s := range draw.Wrap(how, m.w-4) {
		lines = append(lines, l.Dim.Render("   "+s))
	}
	return lines
}

// tooSmall helps where nothing fits: what to do about it, and that no key counts meanwhile.
func (m *Model) tooSmall() []string {
	say := fmt.Sprintf("window %dx%d is too small, needs %dx%d: make it larger or its letters smaller. Keys wait, nothing is lost; q leaves.", m.w, m.h, leastW, leastH)
	if m.w < 20 || m.h < 3 { // not even that fits
		say = fmt.Sprintf("needs %dx%d", leastW, leastH)
	}
	return draw.Wrap(say, max(1, m.w))
}

func (m *Model) small() bool { return m.w > 0 && m.h > 0 && (m.w < leastW || m.h < leastH) }
