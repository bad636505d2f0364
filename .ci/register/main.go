// Command register runs the tests, gathers every check against the outside world that ran (see fab/figure/outside) and
// writes the sources register that `soapstone explain --sources` shows, and beside it the sources that the figures cite.
//
//	go run ./.ci/register            # writes cmd/soapstone/sources.tsv and cited.tsv
//	go run ./.ci/register -cited     # writes cited.tsv only: quick, after a figure's source changed
//	go run ./.ci/register -check     # fails where the stored register is another one
package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"sort"
	"strings"

	"bench.example/soapstone/fab/figure/outside"
)

const target = "cmd/soapstone/sources.tsv"

func main() {
	anyway := flag.Bool("anyway", false, "write what was checked even where some tests fail")
	only := flag.Bool("cited", false, "write only what the figures cite, without running the tests")
	check := flag.Bool("check", false, "compare with the stored register in place of writing it")
	flag.Parse()
	var text []byte
	var err error
	if *only {
		text, err = os.ReadFile(target)
	} else {
		text, err = gather(*anyway)
	}
	var cited []byte
	if err == nil {
		cited, err = cites(text)
	}
	for name, now := range map[string][]byte{target: text, citedTarget: cited} {
		if err == nil && *check {
			var old []byte
			if old, err = os.ReadFile(name); err == nil && !bytes.Equal(old, now) {
				err = fmt.Errorf("%s is not what the code gives; run go run ./.ci/register", name)
			}
		} else if err == nil {
			err = os.WriteFile(name, now, 0o644)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "register:", err)
		os.Exit(1)
	}
}

// noSource matches what is no source outside: a bare formula, a derivation of our own, a value from memory. Such checks
// run, but are not counted.
var noSource = regexp.MustCompile(`^DERIVED|from memory|^\S{1,3}=|^2R asin|^atan\(|computed by hand$`)

func gather(anyway bool) ([]byte, error) {
	cmd := exec.Command("go", "test", "-json", "-count=1", "./fab/...", "./stock/...")
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	rows := map[string]bool{}
	sc := bufio.NewScanner(out)
	sc.Buffer(nil, 1<<24)
	for sc.Scan() {
		var e struct{ Action, Package, Key, Value string }
		if json.Unmarshal(sc.Bytes(), &e) != nil || e.Action != "attr" || e.Key != "outside" {
			continue
		}
		var l outside.Line
		if err := json.Unmarshal([]byte(e.Value), &l); err != nil {
			return nil, err
		}
		if !l.Held || noSource.MatchString(l.Source) {
			continue
		}
		pkg := strings.TrimPrefix(e.Package, "bench.example/soapstone/")
		rows[strings.Join([]string{l.Field, clean(l.Source), clean(l.What), pkg + " " + l.Test, fmt.Sprintf("%.8g", l.Want), fmt.Sprintf("%.3g", l.Abs), fmt.Sprintf("%.3g", l.Rel), clean(l.Why)}, "\t")] = true
	}
	if err := sc.Err(); err != nil {
		return nil, err
	}
	if err := cmd.Wait(); err != nil && !anyway {
		return nil, fmt.Errorf("the tests do not pass: %w", err)
	}
	lines := make([]string, 0, len(rows))
	for r := range rows {
		lines = append(lines, r)
	}
	sort.Strings(lines)
	return []byte("field\tsource\twhat\ttest\tpublished\ttolerance\trelative\twhy\n" + strings.Join(lines, "\n") + "\n"), nil
}

func clean(s string) string { return strings.Join(strings.Fields(s), " ") }
