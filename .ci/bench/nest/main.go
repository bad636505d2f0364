// Command nest runs the cutting-stock engine over a folder of benchmark instances and prints a table: class,
// proved/total, median, mean and longest time, then mean and most processor time.
//
//	go run ./.ci/bench/nest [-limit 60s] [-class a,b] [-every N] [-known] [-jobs N] [-cpu] [-v] FOLDER...
//
// A folder holds files CLASS.txt or CLASS.txt.gz with lines `name; capacity; optimum; size x count ...`, where capacity
// may be a list `length@cost length@cost ...` and the optimum a range `lo..hi`, and shop jobs as .json files (stock:
// length, price, count; pieces: length, count; kerf). A wrong cost or a proof that contradicts a known optimum ends the
// run with status 1.
package main

import (
	"bufio"
	"compress/gzip"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/pprof"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"time"

	"bench.example/soapstone/fab/nest/cutstock"
)

type instance struct {
	name   string
	p      cutstock.Problem
	lo, hi int64 // known bounds of the optimum; hi < 0: none
}

type outcome struct {
	a   cutstock.Answer
	err error
	d   time.Duration // on the clock
	cpu time.Duration // of the whole process, so meaningful with -jobs 1 only
}

// spent is the processor time that this process has taken so far.
func spent() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func main() {
	limit := flag.Duration("limit", 60*time.Second, "time for one instance")
	class := flag.String("class", "", "only these classes, comma between (a prefix ending in * is allowed)")
	every := flag.Int("every", 1, "only every n-th instance")
	only := flag.String("name", "", "only instances whose name contains this")
	known := flag.Bool("known", false, "only instances whose optimum is known exactly")
	jobs := flag.Int("jobs", 1, "instances at a time")
	byCPU := flag.Bool("cpu", false, "the limit is processor time, not the clock (one instance at a time): for a machine that is not ours alone")
	verbose := flag.Bool("v", false, "a line for each instance; otherwise only those that were not proved")
	slow := flag.Duration("slow", 5*time.Second, "also a line for each instance that took longer")
	profile := flag.String("cpuprofile", "", "write a profile")
	flag.Parse()
	if *profile != "" {
		f, err := os.Create(*profile)
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(3)
		}
		if err := pprof.StartCPUProfile(f); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(3)
		}
		defer pprof.StopCPUProfile()
	}
	bad := false
	fmt.Printf("%-22s %12s %10s %10s %10s %10s %10s\n", "class", "proved", "median s", "mean s", "most s", "cpu mean", "cpu most")
	for _, dir := range flag.Args() {
		files, err := classes(dir)
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(3)
		}
		for _, f := range files {
			if !wanted(f.class, *class) {
				continue
			}
			list, err := f.load()
			if err != nil {
				fmt.Fprintln(os.Stderr, err)
				os.Exit(3)
			}
			if *known {
				list = slices.DeleteFunc(list, func(in instance) bool { return in.lo != in.hi })
			}
			if !run(f.class, list, *limit, *byCPU, *every, *jobs, *only, *verbose, *slow) {
				bad = true
			}
		}
	}
	if bad {
		pprof.StopCPUProfile()
		os.Exit(1)
	}
}

func wanted(class, list string) bool {
	if list == "" {
		return true
	}
	for _, w := range strings.Split(list, ",") {
		if w == class || strings.HasSuffix(w, "*") && strings.HasPrefix(class, strings.TrimSuffix(w, "*")) {
			return true
		}
	}
	return false
}

func run(class string, list []instance, limit time.Duration, byCPU bool, every, jobs int, only string, verbose bool, slow time.Duration) bool {
	var pick []instance
	for i := 0; i < len(list); i += every {
		if strings.Contains(list[i].name, only) {
			pick = append(pick, list[i])
		}
	}
	out := make([]outcome, len(pick))
	var wg sync.WaitGroup
	var mu sync.Mutex
	next := 0
	good := true
	for w := 0; w < jobs; w++ {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for {
				mu.Lock()
				i := next
				next++
				mu.Unlock()
				if i >= len(pick) {
					return
				}
				ctx, cancel := within(limit, byCPU && jobs == 1)
				t, c := time.Now(), spent()
				a, err := cutstock.Solve(ctx, pick[i].p, cutstock.Options{})
				out[i] = outcome{a, err, time.Since(t), spent() - c}
				cancel()
				mu.Lock()
				if say := judge(class, pick[i], out[i], verbose, slow); say != "" {
					good = false
					fmt.Println(say)
				}
				mu.Unlock()
			}
		}()
	}
	wg.Wait()
	var secs []float64
	proved, sum, cpu, cpuMost := 0, 0.0, 0.0, 0.0
	for _, o := range out {
		if o.err == nil && o.a.Proven {
			proved++
		}
		secs = append(secs, o.d.Seconds())
		sum += o.d.Seconds()
		cpu += o.cpu.Seconds()
		cpuMost = max(cpuMost, o.cpu.Seconds())
	}
	sort.Float64s(secs)
	if n := len(secs); n > 0 {
		fmt.Printf("%-22s %12s %10.4f %10.4f %10.3f %10.4f %10.3f\n", class, fmt.Sprintf("%d/%d", proved, n), secs[n/2], sum/float64(n), secs[n-1], cpu/float64(n), cpuMost)
	}
	return good
}

// within gives a context that ends after limit, of the clock or of this process's processor time.
func within(limit time.Duration, byCPU bool) (context.Context, context.CancelFunc) {
	if !byCPU {
		return context.WithTimeout(context.Background(), limit)
	}
	ctx, cancel := context.WithCancel(context.Background())
	end := spent() + limit
	go func() {
		for left := limit; left > 0 && ctx.Err() == nil; left = end - spent() {
			// So long it takes at least: one thread does the work, the collector takes part of another.
			select {
			case <-time.After(max(left/2, 5*time.Millisecond)):
			case <-ctx.Done():
			}
		}
		cancel()
	}()
	return ctx, cancel
}

func judge(class string, in instance, o outcome, verbose bool, slow time.Duration) string {
	if o.err != nil {
		return fmt.Sprintf("WRONG %s %s: %v", class, in.name, o.err)
	}
	if err := cutstock.Verify(in.p, o.a); err != nil {
		return fmt.Sprintf("WRONG %s %s: %v", class, in.name, err)
	}
	if in.hi >= 0 && (o.a.Proven && (o.a.Cost < in.lo || o.a.Cost > in.hi) || o.a.Cost < in.lo || o.a.Bound > in.hi) {
		return fmt.Sprintf("WRONG %s %s: cost %d bound %d proven %v, known %d..%d", class, in.name, o.a.Cost, o.a.Bound, o.a.Proven, in.lo, in.hi)
	}
	if verbose || !o.a.Proven || o.d > slow {
		fmt.Printf("  %-28s cost %d bound %d known %d..%d proven %v nodes %d rounds %d %.3f s (cpu %.3f)\n", in.name, o.a.Cost, o.a.Bound, in.lo, in.hi, o.a.Proven, o.a.Nodes, o.a.Rounds, o.d.Seconds(), o.cpu.Seconds())
	}
	return ""
}

type file struct {
	class string
	paths []string
}

func classes(dir string) ([]file, error) {
	ents, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var out []file
	var jobs []string
	for _, e := range ents {
		n := e.Name()
		switch {
		case strings.HasSuffix(n, ".txt"), strings.HasSuffix(n, ".txt.gz"):
			out = append(out, file{strings.TrimSuffix(strings.TrimSuffix(n, ".gz"), ".txt"), []string{filepath.Join(dir, n)}})
		case strings.HasSuffix(n, ".json"):
			jobs = append(jobs, filepath.Join(dir, n))
		}
	}
	if len(jobs) > 0 {
		out = append(out, file{filepath.Base(dir), jobs})
	}
	return out, nil
}

func (f file) load() (out []instance, err error) {
	for _, p := range f.paths {
		r, err := os.Open(p)
		if err != nil {
			return nil, err
		}
		defer r.Close()
		if strings.HasSuffix(p, ".json") {
			in, err := job(p, r)
			if err != nil {
				return nil, err
			}
			out = append(out, in)
			continue
		}
		var src io.Reader = r
		if strings.HasSuffix(p, ".gz") {
			if src, err = gzip.NewReader(r); err != nil {
				return nil, err
			}
		}
		sc := bufio.NewScanner(src)
		sc.Buffer(nil, 1<<24)
		for sc.Scan() {
			if l := strings.TrimSpace(sc.Text()); l != "" && l[0] != '#' {
				in, err := line(l)
				if err != nil {
					return nil, fmt.Errorf("%s: %w", p, err)
				}
				out = append(out, in)
			}
		}
		if err := sc.Err(); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func line(l string) (in instance, err error) {
	f := strings.Split(l, ";")
	if len(f) != 4 {
		return in, fmt.Errorf("%d fields in %.60q", len(f), l)
	}
	num := func(s string) int64 {
		v, e := strconv.ParseInt(strings.TrimSpace(s), 10, 64)
		if e != nil && err == nil {
			err = e
		}
		return v
	}
	in.name = strings.TrimSpace(f[0])
	for _, w := range strings.Fields(f[1]) {
		a, b, ok := strings.Cut(w, "@")
		s := cutstock.Stock{Length: num(a), Cost: 1, Limit: -1}
		if ok {
			s.Cost = num(b)
		}
		in.p.Stocks = append(in.p.Stocks, s)
	}
	switch opt := strings.TrimSpace(f[2]); {
	case opt == "?":
		in.hi = -1
	default:
		a, b, ok := strings.Cut(opt, "..")
		if !ok {
			b = a
		}
		if b == "?" {
			in.lo, in.hi = num(a), 1<<62
		} else {
			in.lo, in.hi = num(a), num(b)
		}
	}
	for _, w := range strings.Fields(f[3]) {
		a, b, _ := strings.Cut(w, "x")
		in.p.Items = append(in.p.Items, cutstock.Item{Size: num(a), Demand: int(num(b))})
	}
	return in, err
}

func job(path string, r io.Reader) (in instance, err error) {
	var j struct {
		Name  string
		Kerf  int64
		Stock []struct {
			Length, Price int64
			Count         *int
		}
		Pieces  []struct{ Length, Count int64 }
		Optimum struct {
			Bounds []int64 `json:"cost_bounds"`
		}
	}
	if err := json.NewDecoder(r).Decode(&j); err != nil {
		return in, fmt.Errorf("%s: %w", path, err)
	}
	in.name, in.hi = j.Name, -1
	for _, s := range j.Stock {
		k := cutstock.Stock{Length: s.Length + j.Kerf, Cost: s.Price, Limit: -1}
		if s.Count != nil {
			k.Limit, k.Cost = *s.Count, 0
		}
		in.p.Stocks = append(in.p.Stocks, k)
	}
	for _, p := range j.Pieces {
		in.p.Items = append(in.p.Items, cutstock.Item{Size: p.Length + j.Kerf, Demand: int(p.Count)})
	}
	if b := j.Optimum.Bounds; len(b) == 2 {
		in.lo, in.hi = b[0], b[1]
	}
	return in, nil
}
