package measure

import (
	"fmt"
	"math/big"
	"strings"
)

// Money is an amount in hundredths of a cent of the job's currency, so that a price by the foot is exact too. Amounts
// that are charged are whole cents: round them with Cents.
type Money int64

// Cent is one hundredth of the currency's unit.
const Cent Money = 100

// Whole is one unit of the currency.
const Whole = 100 * Cent

// MaxMoney is the largest amount that is read.
const MaxMoney = 1_000_000_000 * Whole

// ParseMoney reads a plain number: 34.50.
func ParseMoney(text string) (Money, error) {
	s := &scanner{text: text}
	fail := func(reason string) (Money, error) {
		return 0, &Error{Kind: "money", Text: text, At: s.pos, Reason: reason, Accepts: "a plain number such as 34.50"}
	}
	s.spaces()
	negative := s.sign()
	v, _, reason := s.decimal()
	if reason != "" {
		return fail(reason)
	}
	s.spaces()
	if !s.end() {
		return fail(fmt.Sprintf("%q is left over", s.text[s.pos:]))
	}
	m, ok := roundRat(v.Mul(v, new(big.Rat).SetInt64(int64(Whole))))
	if !ok || Money(m) > MaxMoney {
		s.pos = 0
		return fail("more than a job can cost")
	}
	if negative {
		m = -m
	}
	return Money(m), nil
}

// Cents rounds to whole cents, halves away from zero.
func (m Money) Cents() Money {
	if m < 0 {
		return -(-m).Cents()
	}
	return (m + Cent/2) / Cent * Cent
}

// Float gives the amount in units of the currency.
func (m Money) Float() float64 { return float64(m) / float64(Whole) }

// String prints the amount with two decimals, rounded to the cent: 34.50.
func (m Money) String() string {
	c := int64(m.Cents() / Cent)
	sign := ""
	if c < 0 {
		sign, c = "-", -c
	}
	return fmt.Sprintf("%s%d.%02d", sign, c/100, c%100)
}

// Times multiplies by a fraction num/den exactly and rounds to the hundredth of a cent, halves away from zero.
// den must not be zero.
func (m Money) Times(num, den int64) Money {
	v := new(big.Rat).SetFrac(new(big.Int).Mul(big.NewInt(int64(m)), big.NewInt(num)), big.NewInt(den))
	r, ok := roundRat(v)
	if !ok {
		if v.Sign() < 0 {
			return -MaxMoney
		}
		return MaxMoney
	}
	return Money(r)
}

// Scale multiplies by a float factor (hours, kilograms) and rounds to the whole cent; beyond MaxMoney it saturates, and a
// factor that is not finite gives 0.
func (m Money) Scale(factor float64) Money {
	v := new(big.Rat)
	if v.SetFloat64(factor) == nil {
		return 0
	}
	v.Mul(v, new(big.Rat).SetInt64(int64(m)))
	r, ok := roundRat(v)
	switch {
	case ok && Money(r) <= MaxMoney && Money(r) >= -MaxMoney:
		return Money(r).Cents()
	case v.Sign() < 0:
		return -MaxMoney
	}
	return MaxMoney
}

// Sum adds amounts.
func Sum(amounts ...Money) Money {
	var t Money
	for _, a := range amounts {
		t += a
	}
	return t
}

// With prints the amount with the currency in front: USD 34.50.
func (m Money) With(currency string) string { return strings.TrimSpace(currency + " " + m.String()) }
