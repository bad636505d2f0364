package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// result is what a solver made of a model.
type result struct {
	who    string
	took   time.Duration
	proved bool
	cost   int64 // of the plan it found, -1: none
	what   string
}

func (r result) String() string {
	switch {
	case r.proved:
		return fmt.Sprintf("%s %.2f s", r.who, r.took.Seconds())
	case r.cost >= 0:
		return fmt.Sprintf("%s not proved (found %d)", r.who, r.cost)
	}
	return r.who + " " + r.what
}

type solver struct {
	name, version string
	run           func(path string, limit time.Duration) result
}

// available gives the solvers that are installed.
func available(wanted []string) (out []solver) {
	for _, w := range wanted {
		switch w {
		case "cbc":
			if _, err := exec.LookPath("cbc"); err == nil {
				b, _ := exec.Command("cbc", "-quit").Output()
				out = append(out, solver{"CBC", "CBC " + found(b, `Version: (\S+)`), cbc})
			}
		case "glpk":
			if b, err := exec.Command("glpsol", "--version").Output(); err == nil {
				out = append(out, solver{"GLPK", "GLPK " + found(b, `Solver (\S+)`), glpk})
			}
		case "highs":
			if b, err := exec.Command("/usr/bin/python3", "-c", "import scipy; print(scipy.__version__)").Output(); err == nil {
				out = append(out, solver{"HiGHS", "HiGHS in SciPy " + strings.TrimSpace(string(b)), highs})
			}
		}
	}
	return out
}

func found(b []byte, expr string) string {
	if m := regexp.MustCompile(expr).FindSubmatch(b); m != nil {
		return strings.TrimSuffix(string(m[1]), ",")
	}
	return ""
}

// call runs a solver that holds to its limit by itself; one that goes far past it is stopped.
func call(limit time.Duration, name string, args ...string) ([]byte, time.Duration) {
	ctx, done := context.WithTimeout(context.Background(), 6*limit+30*time.Second)
	defer done()
	before := spent(syscall.RUSAGE_CHILDREN)
	b, _ := exec.CommandContext(ctx, name, args...).CombinedOutput()
	return b, spent(syscall.RUSAGE_CHILDREN) - before
}

func seconds(limit time.Duration) string { return strconv.FormatFloat(limit.Seconds(), 'f', 0, 64) }

func whole(s string) int64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return -1
	}
	return int64(math.Round(v))
}

func cbc(path string, limit time.Duration) result {
	b, took := call(limit, "cbc", path+".lp", "-timeMode", "cpu", "-sec", seconds(limit), "-allowableGap", "0", "-ratioGap", "0", "-solve", "-quit")
	r := result{took: took, cost: -1, what: "found nothing"}
	if v := found(b, `Objective value:\s+(\S+)`); v != "" {
		r.cost = whole(v)
	}
	r.proved = strings.Contains(string(b), "Result - Optimal solution found") && !strings.Contains(string(b), "Result - Stopped")
	return r
}

func glpk(path string, limit time.Duration) result {
	out := path + ".sol"
	b, took := call(limit, "glpsol", "--lp", path+".lp", "--tmlim", seconds(limit), "--cuts", "-o", out)
	r := result{took: took, cost: -1, what: "found nothing"}
	r.proved = strings.Contains(string(b), "INTEGER OPTIMAL SOLUTION FOUND")
	if s, err := os.ReadFile(out); err == nil && (r.proved || strings.Contains(string(s), "INTEGER NON-OPTIMAL")) {
		r.cost = whole(found(s, `Objective:\s+obj = (\S+)`))
	}
	return r
}

func highs(path string, limit time.Duration) result {
	b, _ := call(limit, "/usr/bin/python3", ".ci/bench/peers/milp.py", path+".txt", seconds(limit))
	r := result{took: limit, cost: -1, what: "found nothing"}
	var v struct {
		Proved  bool
		Cost    *int64
		Seconds float64
	}
	if err := json.Unmarshal(b, &v); err != nil {
		r.what = "failed"
		return r
	}
	r.took, r.proved = time.Duration(v.Seconds*1e9), v.Proved
	if v.Cost != nil {
		r.cost = *v.Cost
	}
	return r
}
