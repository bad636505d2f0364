// Command pages fills the parts of README.md and DEVELOPERS.md that the code itself can tell: what stands between
//
//	<!-- made by go run ./.ci/pages: NAME -->   and   <!-- end of NAME -->
//
//	go run ./.ci/pages             # the reference of the job file, the checks by field
//	go run ./.ci/pages -cover      # the coverage of the core too: runs its tests
package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"sort"
	"strings"
	"time"
)

func main() {
	cover := flag.Bool("cover", false, "run the tests of the core and fill in their coverage")
	flag.Parse()
	if err := run(*cover); err != nil {
		fmt.Fprintln(os.Stderr, "pages:", err)
		os.Exit(1)
	}
}

func run(cover bool) error {
	reference, err := output("go", "run", "./cmd/soapstone", "help", "job")
	if err != nil {
		return err
	}
	if err := fill("README.md", "job reference", "```\n"+strings.TrimRight(reference, "\n")+"\n```"); err != nil {
		return err
	}
	checks, err := fields()
	if err != nil {
		return err
	}
	if err := fill("DEVELOPERS.md", "checks by field", checks); err != nil {
		return err
	}
	if !cover {
		return nil
	}
	table, err := coverage()
	if err != nil {
		return err
	}
	return fill("DEVELOPERS.md", "coverage", table)
}

// fill replaces what stands between the marks of that name.
func fill(file, name, text string) error {
	old, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	head := fmt.Sprintf("<!-- made by go run ./.ci/pages: %s -->\n", name)
	foot := fmt.Sprintf("<!-- end of %s -->", name)
	before, rest, ok := bytes.Cut(old, []byte(head))
	_, after, ok2 := bytes.Cut(rest, []byte(foot))
	if !ok || !ok2 {
		return fmt.Errorf("%s has no marks for %q", file, name)
	}
	now := string(before) + head + "\n" + text + "\n\n" + foot + string(after)
	return os.WriteFile(file, []byte(now), 0o644)
}

// fields counts the register by field.
func fields() (string, error) {
	tsv, err := os.ReadFile("cmd/soapstone/sources.tsv")
	if err != nil {
		return "", err
	}
	count := map[string]int{}
	all := 0
	for _, l := range strings.Split(strings.TrimSpace(string(tsv)), "\n")[1:] {
		f, _, _ := strings.Cut(l, "\t")
		count[f]++
		all++
	}
	var b strings.Builder
	b.WriteString("| field | checks against published values |\n|---|---|\n")
	names := make([]string, 0, len(count))
	for f := range count {
		names = append(names, f)
	}
	sort.Strings(names)
	for _, f := range names {
		fmt.Fprintf(&b, "| %s | %d |\n", f, count[f])
	}
	fmt.Fprintf(&b, "| all | %d |", all)
	return b.String(), nil
}

var covered = regexp.MustCompile(`bench\.example/soapstone/(\S+)\s.*coverage: ([\d.]+)% of statements`)

// coverage runs the tests of the core and tells which share of each package's statements they reach.
func coverage() (string, error) {
	out, err := output("go", "test", "-cover", "./fab/...", "./stock/...")
	if err != nil {
		return "", err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: `go run ./.ci/pages -cover`, each package by its own tests\n\n| package | statements reached |\n|---|---|\n", time.Now().Format("2006-01-02"))
	for _, m := range covered.FindAllStringSubmatch(out, -1) {
		if m[2] != "0.0" { // tables and test tools have no tests of their own
			fmt.Fprintf(&b, "| `%s` | %s %% |\n", m[1], m[2])
		}
	}
	return strings.TrimRight(b.String(), "\n"), nil
}

func output(name string, args ...string) (string, error) {
	cmd := exec.Command(name, args...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		os.Stderr.Write(out)
		return "", fmt.Errorf("%s: %w", strings.Join(cmd.Args, " "), err)
	}
	return string(out), nil
}
