package figure_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/figure"
	"pgregory.net/rapid"
)

func TestEval(t *testing.T) {
	vars := map[string]float64{"a": 2, "b": 3, "L": 10, "x_1": 4, "α": 5, "min": 7, "e": 1.5}
	for _, c := range []struct {
		formula string
		want    float64
	}{
		{"1+2*3", 7}, {"(1+2)*3", 9}, {"10-4-3", 3}, {"24/4/3", 2}, {"2^3^2", 512}, {"-2^2", -4}, {"(-2)^2", 4}, {"2^-1", 0.5}, {"2*-3", -6}, {"--3", 3}, {"1 - -1", 2}, {"4-2^2", 0},
		{"3/4*8", 6}, {"2*3^2", 18}, {"6/2*(1+2)", 9}, {"a*b + L", 16}, {"a^b", 8}, {"x_1/2", 2}, {"α", 5}, {"pi", math.Pi}, {"2*pi*a", 4 * math.Pi},
		{"1e3", 1000}, {"1.5e-1", 0.15}, {"2E+2", 200}, {".5", 0.5}, {"5.", 5}, {"1e3+1", 1001}, {"  1  +  1 ", 2}, {"1+1", 2},
		{"sqrt(16)", 4}, {"abs(-3)", 3}, {"sin(30)", 0.5}, {"cos(60)", 0.5}, {"tan(45)", 1}, {"asin(0.5)", 30}, {"acos(0.5)", 60}, {"atan(1)", 45}, {"atan2(1, -1)", 135},
		{"exp(0)", 1}, {"ln(exp(2))", 2}, {"ceil(1.2)", 2}, {"floor(-1.2)", -2}, {"round(2.5)", 3}, {"round(-2.5)", -3}, {"min(3, 1, 2)", 1}, {"max(3, 1, 2)", 3}, {"sum(1, 2, 3)", 6}, {"max(5)", 5},
		{"if(1, 2, 10, 20)", 10}, {"if(2, 1, 10, 20)", 20}, {"if(2, 2, 10, 20)", 10}, {"sqrt(a^2 + b^2)", math.Sqrt(13)}, {"min(a, if(a, b, 1, 0))", 1},
		{"min + 1", 8}, // a symbol may bear a function's name: brackets tell them apart
		{"e*2", 3},     // and e is a symbol, not an exponent
		{"2*(3*(4+1))", 30}, {"((((1))))", 1}, {"-(1+2)", -3}, {"-sqrt(4)", -2}, {"2^sqrt(4)", 4},
	} {
		got, err := figure.Eval(c.formula, vars)
		if err != nil || math.Abs(got-c.want) > 1e-14*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s = %.17g, %v; want %.17g", c.formula, got, err, c.want)
		}
	}
}

func TestEvalSymbolsComeFirst(t *testing.T) {
	if v, err := figure.Eval("pi", map[string]float64{"pi": 3}); err != nil || v != 3 {
		t.Errorf("a given pi: %g, %v", v, err)
	}
}

func TestEvalErrors(t *testing.T) {
	for _, c := range []struct{ formula, says string }{
		{"", "ends too early"}, {"1+", "ends too early"}, {"2*", "ends too early"}, {"(1+2", "not closed"}, {"1+2)", `unexpected ")"`}, {"1 2", `unexpected "2"`}, {"a", `"a" has no value`}, {"a + q", `has no value`},
		{"sqrt", "has no value"}, {"sqrt()", "takes 1 values, not 0"}, {"sqrt(1, 2)", "takes 1 values, not 2"}, {"atan2(1)", "takes 2"}, {"if(1, 2, 3)", "takes 4"}, {"max()", "not 0"}, {"sqrt(4", "not closed"},
		{"1..2", "not a number"}, {"1e", "not a number"}, {"1e+", "not a number"}, {"$", `unexpected "$"`}, {"1 $ 2", `unexpected "$"`}, {"2(3)", `unexpected "("`}, {"foo(3)", "has no value"}, {"*2", `unexpected "*"`},
		{strings.Repeat("(", 10000), "too deep"}, {strings.Repeat("-", 10000) + "1", "too deep"}, {"2" + strings.Repeat("^2", 10000), "too deep"}, {strings.Repeat("sqrt(", 10000), "too deep"}, {"max(1,,2)", "unexpected"},
		{"\xff", "unexpected"}, {"1\t+1", "unexpected"},
	} {
		v, err := figure.Eval(c.formula, nil)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%.20q: %g, %v; want %q", c.formula, v, err, c.says)
		}
	}
}

// A random sum of products evaluates as Go evaluates it.
func TestEvalAgainstGo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var text strings.Builder
		vars := map[string]float64{}
		want := 0.0
		for i := range rapid.IntRange(1, 8).Draw(t, "terms") {
			term := 1.0
			if i > 0 {
				text.WriteString(" + ")
			}
			for j := range rapid.IntRange(1, 4).Draw(t, "factors") {
				name := fmt.Sprintf("v%d_%d", i, j)
				v := rapid.Float64Range(-100, 100).Draw(t, name)
				vars[name] = v
				if j > 0 {
					text.WriteString("*")
				}
				text.WriteString(name)
				term *= v
			}
			want += term
		}
		if got, err := figure.Eval(text.String(), vars); err != nil || got != want {
			t.Fatalf("%s: %g, %v; want %g", &text, got, err, want)
		}
	})
}

func FuzzEval(f *testing.F) {
	for _, s := range []string{"1+2*3", "sqrt(a^2 + b^2)", "if(a, b, 1, 2)", "-(-(1))", "((((", "1e999", "2^2^2^2^2", "min(", "max(1,", "\xff\xfe", "α", "1e", "..", "sum(1,2,3)/0", "pi pi"} {
		f.Add(s)
	}
	vars := map[string]float64{"a": 3, "b": 4}
	f.Fuzz(func(t *testing.T, text string) {
		a, err := figure.Eval(text, vars)
		b, again := figure.Eval(text, vars)
		if (err == nil) != (again == nil) || err == nil && a != b && !(math.IsNaN(a) && math.IsNaN(b)) {
			t.Errorf("%q: %g, %v and then %g, %v", text, a, err, b, again)
		}
	})
}

func BenchmarkEval(b *testing.B) {
	vars := map[string]float64{"H": 63.5, "B": 38.1, "t": 3.048, "Ro": 4.36, "Ri": 1.3}
	for b.Loop() {
		if _, err := figure.Eval("H*B - (4-pi)*Ro^2 - ((H-2*t)*(B-2*t) - (4-pi)*Ri^2)", vars); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleEval() {
	v, _ := figure.Eval("sqrt(a^2 + b^2)", map[string]float64{"a": 3, "b": 4})
	fmt.Println(v)
	_, err := figure.Eval("sqrt(a^2 + c^2)", map[string]float64{"a": 3, "b": 4})
	fmt.Println(err)
	// Output:
	// 5
	// formula "sqrt(a^2 + c^2)": "c" has no value
}
