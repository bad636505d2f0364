package cutstock

import (
	"context"
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/fab/figure/outside"
)

//go:embed testdata/instances.txt
var instances string

type published struct {
	class, name string
	p           Problem
	optimum     int64
}

var sources = map[string]string{
	"falkenauer_t":       "Falkenauer, J. Heuristics 2 (1996), set T; optimum as in BPPLIB",
	"falkenauer_u":       "Falkenauer, J. Heuristics 2 (1996), set U; optimum as in BPPLIB",
	"schwerin_1":         "Schwerin, Waescher, Int. Trans. Oper. Res. 4 (1997), set 1; optimum as in BPPLIB",
	"schwerin_2":         "Schwerin, Waescher, Int. Trans. Oper. Res. 4 (1997), set 2; optimum as in BPPLIB",
	"scholl_1":           "Scholl, Klein, Juergens, C&OR 24 (1997), set 1; optimum as in BPPLIB",
	"scholl_2":           "Scholl, Klein, Juergens, C&OR 24 (1997), set 2; optimum as in BPPLIB",
	"waescher":           "Waescher, Gau, OR Spektrum 18 (1996); optimum as in BPPLIB",
	"hard28":             "Schoenfield 2002, Hard28; optimum as in BPPLIB",
	"random_dim":         "Delorme, Iori, Martello, EJOR 255 (2016), random set; optimum as in BPPLIB",
	"gi":                 "Gschwind, Irnich, INFORMS J. Computing 28 (2016); optimum as in BPPLIB",
	"ai_201":             "Delorme, Iori, Martello, EJOR 255 (2016), AI; optimum by construction",
	"ani_201":            "Delorme, Iori, Martello, EJOR 255 (2016), ANI; optimum by construction",
	"vs_monaci":          "Monaci 2002, variable-sized bin packing",
	"vs_haouari_serairi": "Haouari, Serairi, C&OR 36 (2009), variable-sized bin packing",
}

func load(t testing.TB) (out []published) {
	t.Helper()
	num := func(s string) int64 {
		v, err := strconv.ParseInt(strings.TrimSpace(s), 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, l := range strings.Split(instances, "\n") {
		if l == "" || l[0] == '#' {
			continue
		}
		f := strings.Split(l, ";")
		in := published{class: f[0], name: strings.TrimSpace(f[1]), optimum: num(f[3])}
		for _, w := range strings.Fields(f[2]) {
			a, b, ok := strings.Cut(w, "@")
			s := Stock{num(a), 1, -1}
			if ok {
				s.Cost = num(b)
			}
			in.p.Stocks = append(in.p.Stocks, s)
		}
		for _, w := range strings.Fields(f[4]) {
			a, b, _ := strings.Cut(w, "x")
			in.p.Items = append(in.p.Items, Item{num(a), int(num(b))})
		}
		out = append(out, in)
	}
	return out
}

func TestPublished(t *testing.T) {
	for _, in := range load(t) {
		ctx, cancel := context.WithTimeout(context.Background(), 60*time.Second)
		a, err := Solve(ctx, in.p, Options{})
		cancel()
		if err != nil {
			t.Fatalf("%s: %v", in.name, err)
		}
		if !a.Proven {
			t.Errorf("%s: %d not proved, bound %d", in.name, a.Cost, a.Bound)
		}
		if src, ok := sources[in.class]; ok {
			outside.Check(t, outside.Case{Field: "nest", Source: src, What: in.name + " sticks or cost", Got: float64(a.Cost), Want: float64(in.optimum)})
		} else if a.Cost != in.optimum {
			t.Errorf("%s: %d, optimum %d", in.name, a.Cost, in.optimum)
		}
	}
}

// Two runs give the same plan.
func TestSameEveryTime(t *testing.T) {
	for _, in := range load(t) {
		if in.class != "shop" && in.class != "vs_monaci" && in.class != "hard28" {
			continue
		}
		a, err := Solve(context.Background(), in.p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		b, err := Solve(context.Background(), in.p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if fmt.Sprint(a) != fmt.Sprint(b) {
			t.Errorf("%s: two runs differ", in.name)
		}
	}
}

// A context that has ended already still gives a plan, and no proof that was not made.
func TestAnytime(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for _, in := range load(t) {
		a, err := Solve(ctx, in.p, Options{})
		if err != nil {
			t.Fatalf("%s: %v", in.name, err)
		}
		if a.Bound > in.optimum || a.Cost < in.optimum {
			t.Errorf("%s: %d <= %d <= %d does not hold", in.name, a.Bound, in.optimum, a.Cost)
		}
	}
	// A hard one, cancelled soon: it must come back soon.
	p := job(1000, 10000, 3)
	ctx, cancel = context.WithTimeout(context.Background(), 300*time.Millisecond)
	defer cancel()
	t0 := time.Now()
	a, err := Solve(ctx, p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := Verify(p, a); err != nil {
		t.Fatal(err)
	}
	if d := time.Since(t0); d > 3*time.Second {
		t.Errorf("cancelled after 0.3 s, came back after %v", d)
	}
}

func TestErrors(t *testing.T) {
	for _, c := range []struct {
		p    Problem
		want string
	}{
		{Problem{[]Item{{5, 1}, {12, 1}}, []Stock{{10, 1, -1}}}, "cutstock: item 1 of size 12: longer than every stock"},
		{Problem{[]Item{{6, 3}}, []Stock{{10, 1, 2}}}, "cutstock: the stocks cannot hold all items (proved)"},
		{Problem{[]Item{{0, 3}}, []Stock{{10, 1, 2}}}, "cutstock: bad input: item 0 has size 0; it must be positive"},
		{Problem{[]Item{{1, -3}}, []Stock{{10, 1, 2}}}, "cutstock: bad input: item 0 is wanted -3 times"},
		{Problem{[]Item{{1, 3}}, []Stock{{10, -1, 2}}}, "cutstock: bad input: stock 0 costs -1; it must be 0 or more"},
		{Problem{[]Item{{1 << 59, 9}}, []Stock{{1 << 60, 1, -1}}}, "cutstock: bad input: the items add up to more than 2^60"},
		{Problem{[]Item{{1, 1<<24 + 1}}, []Stock{{10, 1, -1}}}, "cutstock: bad input: more than 16777216 pieces"},
		{Problem{[]Item{{1, 1}}, []Stock{{1<<60 + 1, 1, -1}}}, "cutstock: bad input: stock 0 is out of range (length and cost up to 2^60)"},
		{Problem{[]Item{{1, 9}}, []Stock{{10, 1 << 59, -1}}}, "cutstock: bad input: 9 sticks of stock 0 would cost more than 2^60 with the others"},
	} {
		if _, err := Solve(context.Background(), c.p, Options{}); err == nil || err.Error() != c.want {
			t.Errorf("got %v, want %s", err, c.want)
		}
	}
	if a, err := Solve(context.Background(), Problem{}, Options{}); err != nil || !a.Proven || a.Cost != 0 {
		t.Errorf("nothing to cut: %+v, %v", a, err)
	}
}

func TestVerifyRefuses(t *testing.T) {
	p := Problem{[]Item{{4, 2}, {3, 1}}, []Stock{{10, 5, 2}}}
	good := Answer{Patterns: []Pattern{{0, []Take{{0, 1}, {1, 1}}, 1}, {0, []Take{{0, 1}}, 1}}, Cost: 10, Bound: 5}
	if err := Verify(p, good); err != nil {
		t.Fatal(err)
	}
	bad := func(what string, change func(*Answer)) {
		a := good
		a.Patterns = []Pattern{{0, []Take{{0, 1}, {1, 1}}, 1}, {0, []Take{{0, 1}}, 1}}
		change(&a)
		if Verify(p, a) == nil {
			t.Errorf("%s was accepted", what)
		}
	}
	bad("a missing piece", func(a *Answer) { a.Patterns = a.Patterns[:1]; a.Cost = 5 })
	bad("a piece too many", func(a *Answer) { a.Patterns[1].Takes[0].N = 2 })
	bad("an overfull stick", func(a *Answer) { a.Patterns = []Pattern{{0, []Take{{0, 2}, {1, 1}}, 1}}; a.Cost = 5 })
	bad("a stick over the limit", func(a *Answer) {
		a.Patterns = []Pattern{{0, []Take{{0, 1}}, 2}, {0, []Take{{1, 1}}, 1}}
		a.Cost = 15
	})
	bad("a wrong cost", func(a *Answer) { a.Cost = 9 })
	bad("a proof with a gap", func(a *Answer) { a.Proven = true })
	bad("a bound above the cost", func(a *Answer) { a.Bound = 11 })
}

func ExampleSolve() {
	// 20-foot sticks at 34.50 and 24-foot sticks at 41.00, no kerf: six pieces of 48 in and one of 12 in.
	p := Problem{
		Items:  []Item{{48, 6}, {12, 1}},
		Stocks: []Stock{{240, 3450, -1}, {288, 4100, -1}},
	}
	a, err := Solve(context.Background(), p, Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(a.Cost, a.Proven)
	// Output: 6900 true
}

func BenchmarkPublished(b *testing.B) {
	for _, in := range load(b) {
		b.Run(in.class+"/"+in.name, func(b *testing.B) {
			for b.Loop() {
				if a, err := Solve(context.Background(), in.p, Options{}); err != nil || !a.Proven {
					b.Fatal(err, a.Proven)
				}
			}
		})
	}
}

func BenchmarkShopJobs(b *testing.B) {
	for b.Loop() {
		for seed := uint64(0); seed < 20; seed++ {
			if _, err := Solve(context.Background(), shopJob(seed), Options{}); err != nil {
				b.Fatal(err)
			}
		}
	}
}
