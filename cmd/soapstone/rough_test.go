package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestRoughByArgumentsAndByQuestions(t *testing.T) {
	home := t.TempDir()
	status, byArgs, errs := at(t, home, "2026-11-25", "rough", "section=rect-tube 2 x 1 x 14ga", "size=96 x 48", "bars=4", "finish=none", "price_ft=1.65", "rate=60", "markup=25%")
	if status != 0 || !strings.Contains(byArgs, "between USD") || !strings.Contains(byArgs, "what moves it") {
		t.Fatalf("exit %d: %s%s", status, byArgs, errs)
	}
	var o, e bytes.Buffer
	in := strings.NewReader("tube\nrect-tube 2 x 1 x 14ga\n96 x 48\n4\nnone\n1.65\n60\n25%\n")
	status = run(t.Context(), []string{"rough"}, shell{in, &o, &e, func(k string) string { return map[string]string{"HOME": home, "SOAPSTONE_TODAY": "2026-11-25"}[k] }})
	if status != 0 || o.String() != byArgs {
		t.Errorf("asked one by one: exit %d\n%s%s\nby arguments\n%s", status, o.String(), e.String(), byArgs)
	}
	status, out, _ := at(t, home, "2026-11-25", "rough", "--json", "section=rect-tube 2 x 1 x 14ga", "size=96 x 48", "rate=60")
	var d struct {
		Likely, Low, High float64
		Swings            []any
	}
	if err := json.Unmarshal([]byte(out), &d); status != 0 || err != nil || !(0 < d.Low && d.Low < d.Likely && d.Likely < d.High) || len(d.Swings) < 3 {
		t.Errorf("exit %d, %v: %s", status, err, out)
	}
	for _, wrong := range [][]string{{"rough", "size"}, {"rough", "size=96"}, {"rough", "section=rect-tube 2 x 1 x 14ga"}, {"rough", "times=2"}, {"rough", "colour=red"}} {
		if status, _, _ := at(t, home, "2026-11-25", wrong...); status != 2 {
			t.Errorf("%v: exit %d, want 2", wrong, status)
		}
	}
	if status, _, _ := at(t, home, "2026-11-25", "rough"); status != 2 {
		t.Errorf("no answers at all: exit %d", status)
	}
}

func TestSiteSheet(t *testing.T) {
	dir := t.TempDir()
	for name, head := range map[string]string{"a.txt": "To measure on site", "a.html": "<!DOCTYPE html>", "a.pdf": "%PDF-"} {
		path := filepath.Join(dir, name)
		if status, _, errs := at(t, dir, "2026-11-25", "site", "-o", path, "--title", "North boathouse", "--stations", "7"); status != 0 {
			t.Fatalf("%s: exit %d, %s", name, status, errs)
		}
		data, err := os.ReadFile(path)
		if err != nil || !bytes.HasPrefix(bytes.ToLower(data), []byte(strings.ToLower(head))) {
			t.Errorf("%s begins %.40q, %v", name, data, err)
		}
	}
	for _, wrong := range [][]string{{"site"}, {"site", "-o", "a.doc"}, {"site", "-o", "a.txt", "--units", "rods"}, {"site", "-o", "a.txt", "--paper", "a9"}} {
		if status, _, _ := at(t, dir, "2026-11-25", wrong...); status != 2 {
			t.Errorf("%v: exit %d, want 2", wrong, status)
		}
	}
}
