// Command peers runs the nest beside general-purpose integer-programming solvers on the same shop jobs in the same run
// and prints a table: what each took, what it proved, and how many times longer the best of them took than soapstone.
//
//	apt-get install coinor-cbc glpk-utils python3-scipy
//	go run ./.ci/bench/peers [-limit 60s] [-jobs 12] [-models arcflow,patterns,assign] [-solvers cbc,glpk,highs] [FOLDER]
//
// The solvers are a reference, nothing of the program uses them: CBC and GLPK read the model as a file, HiGHS is the one
// inside SciPy (milp.py beside this file). Times are processor time of the solving alone: of the solver's process for CBC
// and GLPK, of the call for HiGHS (neither the interpreter's start nor the building of the model count). soapstone's
// time is that of the whole Solve, until its cost is proven. FOLDER holds further jobs (.json: stock with length, price,
// count; pieces; kerf). A peer that proves another cost than soapstone ends the run with status 1.
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"syscall"
	"time"

	"bench.example/soapstone/fab/nest/cutstock"
)

type job struct {
	name string
	p    cutstock.Problem
}

func main() {
	limit := flag.Duration("limit", 60*time.Second, "processor time for one solver on one model")
	count := flag.Int("jobs", 12, "random shop jobs")
	models := flag.String("models", "arcflow,patterns,assign", "formulations to try")
	solvers := flag.String("solvers", "cbc,glpk,highs", "solvers to run, where they are installed")
	keep := flag.String("keep", "", "folder in which the models stay")
	flag.Parse()
	jobs, err := load(flag.Args())
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(3)
	}
	for seed := range *count {
		jobs = append(jobs, job{fmt.Sprintf("random-%02d", seed), shopJob(uint64(seed))})
	}
	dir := *keep
	if dir == "" {
		if dir, err = os.MkdirTemp("", "peers"); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(3)
		}
		defer os.RemoveAll(dir)
	}
	if !race(jobs, strings.Split(*models, ","), available(strings.Split(*solvers, ",")), *limit, dir) {
		os.Exit(1)
	}
}

// race runs every job with everyone, and tells whether nobody contradicts us.
func race(jobs []job, models []string, peers []solver, limit time.Duration, dir string) bool {
	fmt.Printf("%s; limit %v of processor time; load %s\n\n", strings.Join(names(peers), ", "), limit, load1())
	fmt.Println("| job | pieces | kinds | sorts of stick | soapstone cost | ms | best peer | s | times longer | the others |")
	fmt.Println("|---|---|---|---|---|---|---|---|---|---|")
	good := true
	var ours, ratios []float64
	proved := 0
	for _, j := range jobs {
		took, a, err := ourselves(j.p)
		if err != nil || !a.Proven {
			fmt.Fprintf(os.Stderr, "%s: proven %v, %v\n", j.name, a.Proven, err)
			good = false
			continue
		}
		best := result{took: limit, who: "none", what: "not proved"}
		var rest []string
		for _, form := range models {
			m, why := build(form, j.p)
			if m == nil {
				rest = append(rest, form+": "+why)
				continue
			}
			path := filepath.Join(dir, j.name+"-"+form)
			if err := m.write(path); err != nil {
				fmt.Fprintln(os.Stderr, err)
				return false
			}
			for _, s := range peers {
				r := s.run(path, limit)
				r.who = s.name + " " + form
				if r.proved && r.cost != a.Cost {
					fmt.Fprintf(os.Stderr, "%s: %s proves %d, soapstone %d\n", j.name, r.who, r.cost, a.Cost)
					good = false
				}
				rest = append(rest, r.String())
				if r.proved && (!best.proved || r.took < best.took) {
					best = r
				}
			}
		}
		times := best.took.Seconds() / took.Seconds()
		more := ""
		if best.proved {
			proved++
		} else {
			more = "> "
		}
		pieces := 0
		for _, it := range j.p.Items {
			pieces += it.Demand
		}
		fmt.Printf("| %s | %d | %d | %d | %d | %.2f | %s | %s%.2f | %s%.0f | %s |\n", j.name, pieces, len(j.p.Items), len(j.p.Stocks), a.Cost,
			took.Seconds()*1000, best.who, more, best.took.Seconds(), more, times, strings.Join(rest, "; "))
		ours, ratios = append(ours, took.Seconds()*1000), append(ratios, times)
	}
	if len(ours) == 0 {
		return false
	}
	sort.Float64s(ours)
	sort.Float64s(ratios)
	n := len(ours)
	fmt.Printf("\nsoapstone proved %d of %d: median %.2f ms, most %.2f ms. The best peer of each job proved %d of %d.\n", n, len(jobs), ours[n/2], ours[n-1], proved, n)
	fmt.Printf("Times longer (where no peer proved the job, its limit is taken): least %.0f, median %.0f, most %.0f\n", ratios[0], ratios[n/2], ratios[n-1])
	return good
}

func names(peers []solver) (out []string) {
	for _, s := range peers {
		out = append(out, s.version)
	}
	return out
}

func load1() string {
	b, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return "unknown"
	}
	return strings.Fields(string(b))[0]
}

// spent is the processor time of this process, or with who = RUSAGE_CHILDREN of the children waited for.
func spent(who int) time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(who, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// ourselves solves the job until nothing is left to prove, three times; the middle time counts.
func ourselves(p cutstock.Problem) (time.Duration, cutstock.Answer, error) {
	var took []time.Duration
	var last cutstock.Answer
	for range 3 {
		ctx, done := context.WithTimeout(context.Background(), time.Minute)
		c := spent(syscall.RUSAGE_SELF)
		a, err := cutstock.Solve(ctx, p, cutstock.Options{})
		took = append(took, spent(syscall.RUSAGE_SELF)-c)
		done()
		if err != nil {
			return 0, a, err
		}
		last = a
	}
	slices.Sort(took)
	return max(took[1], time.Microsecond), last, nil
}

// shopJob is a random job of a small shop: 20 to 120 pieces of 5 to 25 kinds, three stick lengths with prices, one of
// them perhaps limited, a few drops on hand that cost nothing; lengths in 1/16 in with a kerf of 1/16 in.
func shopJob(seed uint64) cutstock.Problem {
	r := rand.New(rand.NewPCG(seed, 99))
	const kerf = 1
	per := 0.9 + 0.4*r.Float64()
	p := cutstock.Problem{Stocks: []cutstock.Stock{
		{Length: 20*192 + kerf, Cost: int64(2000 * per * (0.95 + 0.1*r.Float64())), Limit: -1},
		{Length: 24*192 + kerf, Cost: int64(2400 * per * (0.95 + 0.1*r.Float64())), Limit: -1},
		{Length: 40*192 + kerf, Cost: int64(4000 * per * (0.90 + 0.1*r.Float64())), Limit: -1},
	}}
	if r.IntN(3) == 0 {
		p.Stocks[r.IntN(3)].Limit = 1 + r.IntN(3)
	}
	for n := r.IntN(5); n > 0; n-- {
		p.Stocks = append(p.Stocks, cutstock.Stock{Length: int64(400+16*r.IntN(120)) + kerf, Limit: 1 + r.IntN(2)})
	}
	pieces := 20 + r.IntN(101)
	for kinds := 5 + r.IntN(21); kinds > 0 && pieces > 0; kinds-- {
		d := max(1, pieces/(kinds+r.IntN(kinds)))
		if kinds == 1 {
			d = pieces
		}
		pieces -= d
		p.Items = append(p.Items, cutstock.Item{Size: int64(12*16+8*r.IntN(200)) + kerf, Demand: d})
	}
	return p
}

// load reads the jobs of folders.
func load(dirs []string) (out []job, err error) {
	for _, dir := range dirs {
		paths, err := filepath.Glob(filepath.Join(dir, "*.json"))
		if err != nil {
			return nil, err
		}
		for _, path := range paths {
			data, err := os.ReadFile(path)
			if err != nil {
				return nil, err
			}
			var j struct {
				Name  string
				Kerf  int64
				Stock []struct {
					Length, Price int64
					Count         *int
				}
				Pieces []struct{ Length, Count int64 }
			}
			if err := json.Unmarshal(data, &j); err != nil {
				return nil, fmt.Errorf("%s: %w", path, err)
			}
			in := job{name: j.Name}
			for _, s := range j.Stock {
				k := cutstock.Stock{Length: s.Length + j.Kerf, Cost: s.Price, Limit: -1}
				if s.Count != nil {
					k.Limit, k.Cost = *s.Count, 0
				}
				in.p.Stocks = append(in.p.Stocks, k)
			}
			for _, q := range j.Pieces {
				in.p.Items = append(in.p.Items, cutstock.Item{Size: q.Length + j.Kerf, Demand: int(q.Count)})
			}
			out = append(out, in)
		}
	}
	return out, nil
}
