package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"sort"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/record"
	"bench.example/soapstone/tui/bench"
	"bench.example/soapstone/tui/door"
)

// errLeft says that the folder's screen was left without a choice.
var errLeft = errors.New("nothing was chosen")

// chooseJob shows the jobs of a folder and gives the path of the chosen one, "" for the built-in example.
func chooseJob(ctx context.Context, sh shell, folder string, settings bench.Settings) (string, error) {
	jobs, err := jobsIn(folder)
	if err != nil {
		return "", fail(exitFiles, err)
	}
	shown, err := filepath.Abs(folder)
	if err != nil {
		shown = folder
	}
	m := &door.Model{Look: settings.Made(found(sh)), Folder: shown, Jobs: jobs}
	p := tea.NewProgram(m, tea.WithAltScreen(), tea.WithMouseCellMotion(), tea.WithContext(ctx), tea.WithInput(sh.in), tea.WithOutput(sh.out))
	if _, err := p.Run(); err != nil && !errors.Is(err, tea.ErrInterrupted) {
		return "", fail(exitFiles, err)
	}
	switch {
	case m.Example:
		return "", nil
	case m.Chosen == "":
		return "", errLeft
	}
	return filepath.Join(folder, m.Chosen), nil
}

// mostJobs is how many files of a folder are looked into.
const mostJobs = 500

// jobsIn lists the job files of a folder by name.
func jobsIn(folder string) ([]door.Job, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var jobs []door.Job
	for _, e := range entries {
		if e.IsDir() || !strings.HasSuffix(e.Name(), ".toml") || strings.HasPrefix(e.Name(), ".") || len(jobs) == mostJobs {
			continue
		}
		path := filepath.Join(folder, e.Name())
		j := door.Job{Name: e.Name()}
		data, _, err := file.Read(file.OS, path, file.MaxText)
		if err != nil {
			j.Amiss = err.Error()
		} else if doc, problems := text.Parse(e.Name(), data); doc == nil {
			j.Amiss = problems[0].String()
		} else if v := doc.Find(text.At("title")); v != nil {
			j.Title = v.Text
		}
		if beside, err := record.Beside(file.OS, path); err == nil {
			_, err := os.Stat(beside)
			j.Work = err == nil
		}
		jobs = append(jobs, j)
	}
	sort.Slice(jobs, func(a, b int) bool { return jobs[a].Name < jobs[b].Name })
	return jobs, nil
}
