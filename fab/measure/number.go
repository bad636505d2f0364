package measure

import (
	"math/big"
	"strconv"
	"strings"
	"unicode/utf8"
)

// scanner walks over a quantity's text. Typographic quotes, primes and spaces count as their plain forms.
type scanner struct {
	text string
	pos  int
}

var plain = map[rune]rune{
	'\u2032': '\'', '\u2019': '\'', '\u2018': '\'', '\u2033': '"', '\u201c': '"', '\u201d': '"',
	'\u2212': '-', '\u2010': '-', '\u2011': '-', '\u2012': '-', '\u2013': '-', '\u00a0': ' ', '\u202f': ' ', '\u2009': ' ', '\t': ' ',
	'\u00d7': 'x', '\u2044': '/', '\u00b0': 'd', '\u00b2': '2', '\u2074': '4', '\u00b7': '*',
}

func (s *scanner) peek() (rune, int) {
	if s.pos >= len(s.text) {
		return 0, 0
	}
	r, n := utf8.DecodeRuneInString(s.text[s.pos:])
	if p, ok := plain[r]; ok {
		r = p
	}
	return r, n
}

func (s *scanner) spaces() {
	for {
		r, n := s.peek()
		if n == 0 || r != ' ' {
			return
		}
		s.pos += n
	}
}

func (s *scanner) end() bool { return s.pos >= len(s.text) }

func (s *scanner) take(want rune) bool {
	if r, n := s.peek(); n > 0 && r == want {
		s.pos += n
		return true
	}
	return false
}

func digit(r rune) bool { return r >= '0' && r <= '9' }

// digits reads a run of decimal digits.
func (s *scanner) digits() string {
	start := s.pos
	for {
		r, n := s.peek()
		if n == 0 || !digit(r) {
			return s.text[start:s.pos]
		}
		s.pos += n
	}
}

// word reads letters, and the signs that units are made of.
func (s *scanner) word() string {
	var b strings.Builder
	for {
		r, n := s.peek()
		if n == 0 || !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '%' || r == '/' || r == '\'' || r == '"' || r == '*' ||
			b.Len() > 0 && digit(r) || r > 127) {
			return b.String()
		}
		b.WriteRune(r)
		s.pos += n
	}
}

// mark reads a unit of length: a prime or double prime, or letters. Digits end it, so that 8'3" and 8ft3in read.
func (s *scanner) mark() string {
	if s.take('"') {
		return `"`
	}
	if s.take('\'') {
		if s.take('\'') {
			return `"`
		}
		return "'"
	}
	start := s.pos
	for {
		r, n := s.peek()
		if n == 0 || r == ' ' || r == '\'' || r == '"' || r == '-' || r == '+' || r == '.' || r == '/' || digit(r) {
			return s.text[start:s.pos]
		}
		s.pos += n
	}
}

// Bounds on what a number may look like: enough for any measure, and no text can make the arithmetic slow.
const (
	maxDigits   = 40
	maxExponent = 30
)

// decimal reads an unsigned decimal number (12, 12.5, .5, 1e3) exactly. whole tells that it was digits only.
func (s *scanner) decimal() (value *big.Rat, whole bool, reason string) {
	start := s.pos
	a := s.digits()
	whole = true
	b := ""
	if r, n := s.peek(); n > 0 && r == '.' {
		s.pos += n
		b = s.digits()
		whole = false
	}
	if a == "" && b == "" {
		s.pos = start
		return nil, false, "a number is missing"
	}
	if len(a)+len(b) > maxDigits {
		return nil, false, "more digits than any measure has"
	}
	exp := ""
	if r, n := s.peek(); n > 0 && (r == 'e' || r == 'E') {
		save := s.pos
		s.pos += n
		sign := ""
		if s.take('-') {
			sign = "-"
		} else {
			s.take('+')
		}
		if d := s.digits(); d != "" {
			exp, whole = sign+d, false
		} else {
			s.pos = save
		}
	}
	text := a + "." + b
	if b == "" {
		text = a
	}
	if exp != "" {
		if n, err := strconv.Atoi(exp); err != nil || n > maxExponent || n < -maxExponent {
			return nil, false, "its exponent is out of range"
		}
		text += "e" + exp
	}
	if strings.HasPrefix(text, ".") {
		text = "0" + text
	}
	v, ok := new(big.Rat).SetString(text)
	if !ok {
		return nil, false, "not a number"
	}
	return v, whole, ""
}

// mixed reads a whole number, a decimal, a fraction, or a whole number and a fraction (3-1/2, 3 1/2).
func (s *scanner) mixed() (value *big.Rat, reason string) {
	if f := s.vulgar(); f != nil {
		return f, ""
	}
	v, whole, reason := s.decimal()
	if reason != "" {
		return nil, reason
	}
	if !whole {
		return v, ""
	}
	if s.fractionBar() {
		return s.over(v)
	}
	save := s.pos
	s.take('-')
	s.spaces()
	if f := s.vulgar(); f != nil {
		return f.Add(f, v), ""
	}
	if s.pos == save {
		return v, ""
	}
	num, whole, r := s.decimal()
	if r == "" && whole && s.fractionBar() {
		f, reason := s.over(num)
		if reason != "" {
			return nil, reason
		}
		if f.Cmp(big.NewRat(1, 1)) >= 0 {
			return nil, "the fraction after a whole number must be less than one"
		}
		return f.Add(f, v), ""
	}
	s.pos = save
	return v, ""
}

// vulgar reads one of the fractions that are single characters; nil where there is none.
func (s *scanner) vulgar() *big.Rat {
	r, n := s.peek()
	num, den := int64(1), int64(0)
	switch r {
	case '\u00bd':
		den = 2
	case '\u2153', '\u2154':
		num, den = int64(r-'\u2152'), 3
	case '\u00bc':
		den = 4
	case '\u00be':
		num, den = 3, 4
	case '\u215b', '\u215c', '\u215d', '\u215e':
		num, den = 2*int64(r-'\u215b')+1, 8
	default:
		return nil
	}
	s.pos += n
	return big.NewRat(num, den)
}

func (s *scanner) fractionBar() bool {
	r, n := s.peek()
	if n == 0 || r != '/' {
		return false
	}
	if s.pos+n < len(s.text) && digit(rune(s.text[s.pos+n])) {
		s.pos += n
		return true
	}
	return false
}

func (s *scanner) over(num *big.Rat) (*big.Rat, string) {
	d := s.digits()
	if len(d) > maxDigits {
		return nil, "more digits than any measure has"
	}
	den, ok := new(big.Int).SetString(d, 10)
	if !ok {
		return nil, "the fraction has no denominator"
	}
	if den.Sign() == 0 {
		return nil, "the fraction divides by zero"
	}
	return new(big.Rat).Quo(num, new(big.Rat).SetInt(den)), ""
}

// sign reads a leading plus or minus.
func (s *scanner) sign() (negative bool) {
	if s.take('-') {
		negative = true
	} else {
		s.take('+')
	}
	s.spaces()
	return negative
}
