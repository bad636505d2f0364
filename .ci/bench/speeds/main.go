// Command speeds runs the benchmarks of all stated speeds and prints the table that DEVELOPERS.md shows, with the date
// and the command.
//
//	go run ./.ci/bench/speeds            # all packages
//	go run ./.ci/bench/speeds ./fab/nest # some
package main

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"time"
)

var row = regexp.MustCompile(`^(Benchmark\S+?)(?:-\d+)?\s+(\d+)\s+([\d.]+) ns/op(.*)$`)

func main() {
	args := append([]string{"test", "-run", "xxx", "-bench", ".", "-benchmem", "-benchtime", "1s"}, os.Args[1:]...)
	if len(os.Args) == 1 {
		args = append(args, "./...")
	}
	cmd := exec.Command("go", args...)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "speeds:", err)
		os.Exit(1)
	}
	fmt.Printf("%s, %s %s/%s, %d cores: `go run ./.ci/bench/speeds %s`\n\n", time.Now().Format("2006-01-02"), runtime.Version(), runtime.GOOS, runtime.GOARCH,
		runtime.NumCPU(), strings.Join(os.Args[1:], " "))
	fmt.Println("| package | benchmark | time | bytes | allocations |")
	fmt.Println("|---|---|---|---|---|")
	pkg := ""
	sc := bufio.NewScanner(out)
	for sc.Scan() {
		line := sc.Text()
		if p, ok := strings.CutPrefix(line, "pkg: bench.example/soapstone/"); ok {
			pkg = p
		}
		m := row.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		ns, err := strconv.ParseFloat(m[3], 64)
		if err != nil {
			continue
		}
		fmt.Printf("| `%s` | %s | %s | %s | %s |\n", pkg, strings.TrimPrefix(m[1], "Benchmark"), span(ns), field(m[4], "B/op"), field(m[4], "allocs/op"))
	}
	if err := cmd.Wait(); err != nil {
		fmt.Fprintln(os.Stderr, "speeds:", err)
		os.Exit(1)
	}
}

func span(ns float64) string {
	switch {
	case ns < 1e3:
		return fmt.Sprintf("%.0f ns", ns)
	case ns < 1e6:
		return fmt.Sprintf("%.3g us", ns/1e3)
	case ns < 1e9:
		return fmt.Sprintf("%.3g ms", ns/1e6)
	}
	return fmt.Sprintf("%.3g s", ns/1e9)
}

func field(rest, unit string) string {
	f := strings.Fields(rest)
	for i := 1; i < len(f); i++ {
		if f[i] == unit {
			return f[i-1]
		}
	}
	return ""
}
