package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestManPage holds that the page names every command, flag and station, and that the typesetter finds nothing wrong with it.
func TestManPage(t *testing.T) {
	status, out, errs := call(t, "man")
	if status != 0 || errs != "" {
		t.Fatalf("exit %d, %s", status, errs)
	}
	for _, words := range []string{".TH SOAPSTONE 1", "soapstone plan JOB", "soapstone completion", `\-\-json`, `\-\-shop`, ".SS 4 Saw", ".SS 6 Weld", ".SS 0 Slate", "config.toml", "NO_COLOR", "could not be read or written"} {
		if !strings.Contains(out, words) {
			t.Errorf("the page lacks %q", words)
		}
	}
	if _, again, _ := call(t, "man"); again != out {
		t.Error("the page differs from one call to the next")
	}
	groff, err := exec.LookPath("groff")
	if err != nil {
		t.Skip("no groff here to set the page with")
	}
	cmd := exec.Command(groff, "-man", "-Tutf8", "-ww", "-Kutf8")
	cmd.Stdin = strings.NewReader(out)
	var set, wrong bytes.Buffer
	cmd.Stdout, cmd.Stderr = &set, &wrong
	if err := cmd.Run(); err != nil || wrong.Len() > 0 {
		t.Fatalf("groff: %v\n%s", err, wrong.String())
	}
	if n := strings.Count(set.String(), "\n"); n < 150 {
		t.Errorf("the page has only %d lines", n)
	}
}

// TestCompletion asks for completions as the shells' scripts do.
func TestCompletion(t *testing.T) {
	job := writeJob(t, smallJob)
	t.Chdir(filepath.Dir(job))
	for _, c := range []struct {
		why  string
		args []string
		has  []string
	}{
		{"commands and jobs", []string{""}, []string{"plan\t", "sum\t", filepath.Base(job) + "\t", ":0"}},
		{"a job by its folder", []string{"./"}, []string{"toml", ":8"}},
		{"a job of plan", []string{"plan", ""}, []string{"toml", ":8"}},
		{"sums", []string{"sum", "di"}, []string{"diagonal\t"}},
		{"arguments of a sum", []string{"sum", "diagonal", "length=96", ""}, []string{"width=", ":6"}},
		{"figures of a job", []string{"explain", job, ""}, []string{"piece.A.", ":4"}},
		{"flags", []string{"plan", "--"}, []string{"--json"}},
		{"topics of help", []string{"help", ""}, []string{"plan\t", "guide\t", "job\t"}},
	} {
		_, out, _ := call(t, append([]string{"__complete"}, c.args...)...)
		for _, words := range c.has {
			if !strings.Contains(out, words) {
				t.Errorf("%s: %q is not among\n%s", c.why, words, out)
			}
		}
	}
	if _, out, _ := call(t, "__complete", "sum", "diagonal", "length=96", ""); strings.Contains(out, "length=") {
		t.Error("an argument that is given is offered again")
	}
	for _, sh := range []string{"bash", "zsh", "fish", "powershell"} {
		status, out, errs := call(t, "completion", sh)
		if status != 0 || errs != "" || !strings.Contains(out, "soapstone") {
			t.Errorf("%s: exit %d %s", sh, status, errs)
		}
		path, err := exec.LookPath(sh)
		if err != nil {
			continue
		}
		script := t.TempDir() + "/script"
		os.WriteFile(script, []byte(out), 0o644)
		if out, err := exec.Command(path, "-n", script).CombinedOutput(); err != nil {
			t.Errorf("%s does not take its script: %v\n%s", sh, err, out)
		}
	}
}

// TestVersion prints one line and nothing else.
func TestVersion(t *testing.T) {
	for _, flag := range []string{"--version", "-v"} {
		if status, out, errs := call(t, flag); status != 0 || out != "soapstone "+version+"\n" || errs != "" {
			t.Errorf("%s: exit %d, %q, %q", flag, status, out, errs)
		}
	}
}
