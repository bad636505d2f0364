package figure

import (
	"fmt"
	"math"
	"strconv"
	"unicode"
	"unicode/utf8"
)

// functions that a formula may call. Angles are in degrees, as everywhere in the shop.
var functions = map[string]func([]float64) float64{
	"sqrt":  func(a []float64) float64 { return math.Sqrt(a[0]) },
	"abs":   func(a []float64) float64 { return math.Abs(a[0]) },
	"sin":   func(a []float64) float64 { return math.Sin(a[0] * math.Pi / 180) },
	"cos":   func(a []float64) float64 { return math.Cos(a[0] * math.Pi / 180) },
	"tan":   func(a []float64) float64 { return math.Tan(a[0] * math.Pi / 180) },
	"asin":  func(a []float64) float64 { return math.Asin(a[0]) * 180 / math.Pi },
	"acos":  func(a []float64) float64 { return math.Acos(a[0]) * 180 / math.Pi },
	"atan":  func(a []float64) float64 { return math.Atan(a[0]) * 180 / math.Pi },
	"atan2": func(a []float64) float64 { return math.Atan2(a[0], a[1]) * 180 / math.Pi },
	"exp":   func(a []float64) float64 { return math.Exp(a[0]) },
	"ln":    func(a []float64) float64 { return math.Log(a[0]) },
	"ceil":  func(a []float64) float64 { return math.Ceil(a[0]) },
	"floor": func(a []float64) float64 { return math.Floor(a[0]) },
	"round": func(a []float64) float64 { return math.Round(a[0]) },
	"min": func(a []float64) float64 {
		m := a[0]
		for _, v := range a {
			m = math.Min(m, v)
		}
		return m
	},
	"max": func(a []float64) float64 {
		m := a[0]
		for _, v := range a {
			m = math.Max(m, v)
		}
		return m
	},
	"sum": func(a []float64) float64 {
		var t float64
		for _, v := range a {
			t += v
		}
		return t
	},
	// if(a, b, x, y): x where a <= b, else y.
	"if": func(a []float64) float64 {
		if a[0] <= a[1] {
			return a[2]
		}
		return a[3]
	},
}

var arity = map[string]int{"atan2": 2, "min": -1, "max": -1, "sum": -1, "if": 4}

// Eval evaluates a formula in plain notation: numbers, the symbols of vars, + - * / ^ and brackets, pi, and the
// functions sqrt abs sin cos tan asin acos atan atan2 exp ln ceil floor round min max sum if(a, b, x, y) (x where
// a <= b, else y). Angles are degrees. ^ binds tightest and to the right; a minus sign binds weaker than ^.
func Eval(formula string, vars map[string]float64) (float64, error) {
	p := &parser{text: formula, vars: vars}
	p.next()
	v, err := p.sum()
	if err == nil && p.tok != "" {
		err = fmt.Errorf("formula %q: unexpected %q", formula, p.tok)
	}
	return v, err
}

type parser struct {
	text  string
	pos   int
	tok   string
	vars  map[string]float64
	depth int
}

func (p *parser) next() {
	for p.pos < len(p.text) && p.text[p.pos] == ' ' {
		p.pos++
	}
	start := p.pos
	if p.pos >= len(p.text) {
		p.tok = ""
		return
	}
	r, n := utf8.DecodeRuneInString(p.text[p.pos:])
	switch {
	case unicode.IsDigit(r) || r == '.':
		for p.pos < len(p.text) && (p.text[p.pos] >= '0' && p.text[p.pos] <= '9' || p.text[p.pos] == '.' ||
			(p.text[p.pos] == 'e' || p.text[p.pos] == 'E') && p.pos > start ||
			(p.text[p.pos] == '-' || p.text[p.pos] == '+') && p.pos > start && (p.text[p.pos-1] == 'e' || p.text[p.pos-1] == 'E')) {
			p.pos++
		}
	case unicode.IsLetter(r) || r == '_':
		for p.pos < len(p.text) {
			r, n := utf8.DecodeRuneInString(p.text[p.pos:])
			if !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' {
				break
			}
			p.pos += n
		}
	default:
		p.pos += n
	}
	p.tok = p.text[start:p.pos]
}

func (p *parser) sum() (float64, error) {
	if p.depth++; p.depth > 200 {
		return 0, fmt.Errorf("formula is nested too deep")
	}
	defer func() { p.depth-- }()
	v, err := p.product()
	for err == nil && (p.tok == "+" || p.tok == "-") {
		op := p.tok
		p.next()
		var w float64
		if w, err = p.product(); op == "+" {
			v += w
		} else {
			v -= w
		}
	}
	return v, err
}

func (p *parser) product() (float64, error) {
	v, err := p.unary()
	for err == nil && (p.tok == "*" || p.tok == "/") {
		op := p.tok
		p.next()
		var w float64
		if w, err = p.unary(); op == "*" {
			v *= w
		} else {
			v /= w
		}
	}
	return v, err
}

func (p *parser) unary() (float64, error) {
	if p.tok == "-" {
		p.next()
		if p.depth++; p.depth > 200 {
			return 0, fmt.Errorf("formula is nested too deep")
		}
		defer func() { p.depth-- }()
		v, err := p.unary()
		return -v, err
	}
	return p.power()
}

func (p *parser) power() (float64, error) {
	v, err := p.atom()
	if err == nil && p.tok == "^" {
		p.next()
		if p.depth++; p.depth > 200 {
			return 0, fmt.Errorf("formula is nested too deep")
		}
		defer func() { p.depth-- }()
		var e float64
		if e, err = p.unary(); err == nil {
			v = math.Pow(v, e)
		}
	}
	return v, err
}

func (p *parser) atom() (float64, error) {
	tok := p.tok
	if tok == "" {
		return 0, fmt.Errorf("formula %q ends too early", p.text)
	}
	r, _ := utf8.DecodeRuneInString(tok)
	switch {
	case tok == "(":
		p.next()
		v, err := p.sum()
		if err == nil && p.tok != ")" {
			err = fmt.Errorf("formula %q: a bracket is not closed", p.text)
		}
		p.next()
		return v, err
	case unicode.IsDigit(r) || r == '.':
		p.next()
		v, err := strconv.ParseFloat(tok, 64)
		if err != nil {
			return 0, fmt.Errorf("formula %q: %q is not a number", p.text, tok)
		}
		return v, nil
	case unicode.IsLetter(r) || r == '_':
		p.next()
		if f, ok := functions[tok]; ok && p.tok == "(" {
			args, err := p.args()
			if err != nil {
				return 0, err
			}
			want, listed := arity[tok]
			if !listed {
				want = 1
			}
			if want >= 0 && len(args) != want || len(args) == 0 {
				return 0, fmt.Errorf("formula %q: %s takes %d values, not %d", p.text, tok, want, len(args))
			}
			return f(args), nil
		}
		if v, ok := p.vars[tok]; ok {
			return v, nil
		}
		if tok == "pi" {
			return math.Pi, nil
		}
		return 0, fmt.Errorf("formula %q: %q has no value", p.text, tok)
	}
	return 0, fmt.Errorf("formula %q: unexpected %q", p.text, tok)
}

func (p *parser) args() ([]float64, error) {
	var args []float64
	p.next()
	for p.tok != ")" {
		v, err := p.sum()
		if err != nil {
			return nil, err
		}
		args = append(args, v)
		if p.tok == "," {
			p.next()
		} else if p.tok != ")" {
			return nil, fmt.Errorf("formula %q: a bracket is not closed", p.text)
		}
	}
	p.next()
	return args, nil
}
