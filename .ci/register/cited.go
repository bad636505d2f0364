package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
)

const citedTarget = "cmd/soapstone/cited.tsv"

// cites asks the program itself for the figures of the example and of the jobs in testdata, and lists every source that
// they name: how many figures stand on it, the ids of one of each kind, and the tests of the register whose published
// value comes from the same standard, handbook or paper.
func cites(registered []byte) ([]byte, error) {
	jobs, err := filepath.Glob("testdata/*.toml")
	if err != nil {
		return nil, err
	}
	type cited struct {
		figures int
		kinds   map[string]bool
	}
	bySource := map[string]*cited{}
	for _, job := range append(jobs, "stock/example/kayak-rack.toml") {
		cmd := exec.Command("go", "run", "./cmd/soapstone", "explain", job, "--json")
		cmd.Stderr = os.Stderr
		out, err := cmd.Output()
		if err != nil {
			return nil, fmt.Errorf("explain %s: %w", job, err)
		}
		var doc struct {
			Figures []struct{ ID, Source string }
		}
		if err := json.Unmarshal(out, &doc); err != nil {
			return nil, fmt.Errorf("explain %s: %w", job, err)
		}
		for _, f := range doc.Figures {
			s := clean(f.Source)
			if bySource[s] == nil {
				bySource[s] = &cited{kinds: map[string]bool{}}
			}
			bySource[s].figures++
			parts := strings.Split(f.ID, ".")
			kind := parts[0]
			if len(parts) > 1 {
				kind += "." + parts[len(parts)-1]
			}
			bySource[s].kinds[kind] = true
		}
	}
	tests := map[string]map[string]bool{} // by work
	for _, row := range strings.Split(strings.TrimSpace(string(registered)), "\n")[1:] {
		f := strings.Split(row, "\t")
		for _, w := range works(f[1]) {
			if tests[w] == nil {
				tests[w] = map[string]bool{}
			}
			tests[w][f[3]] = true
		}
	}
	var rows []string
	for s, c := range bySource {
		checked := map[string]bool{}
		for _, w := range works(s) {
			for t := range tests[w] {
				checked[t] = true
			}
		}
		rows = append(rows, strings.Join([]string{s, fmt.Sprint(c.figures), names(c.kinds, " "), names(checked, ", ")}, "\t"))
	}
	sort.Strings(rows)
	return []byte("source\tfigures\tkinds\tchecked by\n" + strings.Join(rows, "\n") + "\n"), nil
}

// work matches the name of a standard without its year and clause (AISC 360, AWS D1.1, EN ISO 15614-1), or of a book or
// paper that the sources call by one word.
var work = regexp.MustCompile(`\b(?:(?:SAE )?J429|[A-Z]{3,} [A-Z]?\d+(?:\.\d+)*(?:-\d)?\b|EN \d+-\d+|ISO \d+(?:-\d+)?|NIOSH|TWI|ESAB|Roark|Timoshenko|Shigley|Machinery's Handbook|Procedure Handbook|Gilmore)`)

func works(source string) []string {
	out := work.FindAllString(source, -1)
	for i, w := range out {
		if strings.HasPrefix(w, "AISC 360") {
			out[i] = "AISC 360"
		}
		out[i] = strings.TrimPrefix(out[i], "SAE ")
	}
	return out
}

func names(set map[string]bool, by string) string {
	out := make([]string, 0, len(set))
	for s := range set {
		out = append(out, s)
	}
	sort.Strings(out)
	return strings.Join(out, by)
}
