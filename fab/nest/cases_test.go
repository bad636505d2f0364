package nest

import (
	"bufio"
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bench.example/soapstone/fab/measure"
)

// mitreCase is one line of testdata/mitre.txt.
type mitreCase struct {
	name   string
	p      Problem
	bars   int
	usedIn float64
}

func lines(t testing.TB, file string) [][]string {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out [][]string
	for sc := bufio.NewScanner(f); sc.Scan(); {
		if l := sc.Text(); l != "" && l[0] != '#' {
			out = append(out, strings.Split(l, "; "))
		}
	}
	return out
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func inches(v float64) measure.Length { return measure.FromMM(v * 25.4) }

func mitreCases(t testing.TB) []mitreCase {
	t.Helper()
	var out []mitreCase
	for _, l := range lines(t, "testdata/mitre.txt") {
		c := mitreCase{name: l[0], usedIn: number(t, l[6]), bars: int(number(t, l[5]))}
		c.p.Sticks = []Stick{{Length: inches(number(t, l[1]))}}
		c.p.Rules = Rules{Kerf: inches(number(t, l[2])), Depth: inches(number(t, l[3]))}
		for _, w := range strings.Fields(l[7]) {
			var n int
			var long, left, right float64
			if _, err := fmt.Sscanf(w, "%d@%f:%f/%f", &n, &long, &left, &right); err != nil {
				t.Fatal(w, err)
			}
			c.p.Kinds = append(c.p.Kinds, Kind{Name: w, Length: inches(long), Qty: n,
				Lays: slices.DeleteFunc(LaysOf(left, right, Depth, Rectangular), func(w Lay) bool {
					return w.Turned && !strings.Contains(l[4], "turn") || w.Roll != 0 && !strings.Contains(l[4], "roll")
				})})
		}
		out = append(out, c)
	}
	return out
}

func TestMitreCases(t *testing.T) {
	for _, c := range mitreCases(t) {
		t.Run(c.name, func(t *testing.T) {
			n, err := Solve(context.Background(), c.p, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if n.Bars != c.bars || !n.Proven {
				t.Errorf("%d sticks, proven %v; the optimum is %d", n.Bars, n.Proven, c.bars)
			}
			// The published totals have six decimals; a joint is rounded to the nanometre.
			if used := n.UsedLength.Inches(); math.Abs(used-c.usedIn) > 1e-5*float64(n.Bars) {
				t.Errorf("used %.6f in, the optimum is %.6f", used, c.usedIn)
			}
		})
	}
}

type shopCase struct {
	name string
	p    Problem
	cost measure.Money
}

func shopCases(t testing.TB) []shopCase {
	t.Helper()
	var out []shopCase
	const sixteenth = measure.Inch / 16
	for _, l := range lines(t, "testdata/shop.txt") {
		c := shopCase{name: l[0], cost: measure.Money(number(t, l[3])) * measure.Cent}
		c.p.Rules.Kerf = measure.Length(number(t, l[1])) * sixteenth
		for _, w := range strings.Fields(l[2]) {
			var a, b int
			if _, err := fmt.Sscanf(w, "%d@%d", &a, &b); err == nil {
				c.p.Sticks = append(c.p.Sticks, Stick{Length: measure.Length(a) * sixteenth, Price: measure.Money(b) * measure.Cent})
			} else if _, err := fmt.Sscanf(w, "%dx%d", &a, &b); err == nil {
				c.p.Sticks = append(c.p.Sticks, Stick{Length: measure.Length(a) * sixteenth, Limit: b, OnHand: true})
			} else {
				t.Fatal(w, err)
			}
		}
		for _, w := range strings.Fields(l[4]) {
			var n, long int
			if _, err := fmt.Sscanf(w, "%d@%d", &n, &long); err != nil {
				t.Fatal(w, err)
			}
			c.p.Kinds = append(c.p.Kinds, Kind{Name: w, Length: measure.Length(long) * sixteenth, Qty: n})
		}
		out = append(out, c)
	}
	return out
}

func TestShopCases(t *testing.T) {
	for _, c := range shopCases(t) {
		t.Run(c.name, func(t *testing.T) {
			n, err := Solve(context.Background(), c.p, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if n.Cost != c.cost || !n.Proven {
				t.Errorf("cost %s (at least %s, proven %v); the optimum is %s", n.Cost, n.BoundCost, n.Proven, c.cost)
			}
		})
	}
}
