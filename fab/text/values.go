package text

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"bench.example/soapstone/fab/measure"
)

// Rule says what a value must be besides readable.
type Rule uint8

const (
	Need        Rule = 1 << iota // the key must be given; Done reports it
	Positive                     // more than zero
	NotNegative                  // zero or more
)

// number is what a quantity may be held in.
type number interface{ ~int | ~int64 | ~float64 }

// spelled gives the text of a value for a quantity: a string's, or a number's
// as it is written, without what only TOML knows (underscores, other bases, a
// plus).
func (v *Value) spelled() (string, bool) {
	switch v.Kind {
	case String:
		return v.Text, true
	case Integer:
		n, err := strconv.ParseInt(v.Text, 0, 64)
		return strconv.FormatInt(n, 10), err == nil
	case Float:
		return strings.ReplaceAll(strings.TrimPrefix(v.Text, "+"), "_", ""), true
	}
	return "", false
}

// Quantity takes a key as a quantity, with the parser that reads it; a bare
// number and a text are both accepted. It reports what is wrong and gives
// true only where to has been set.
func Quantity[T number](f *Fields, key string, to *T, rules Rule, parse func(string) (T, error)) bool {
	v := f.Take(key)
	if f.r != nil && f.r.asked != nil {
		f.ask(key, kindOf(parse), accepts(parse), rules)
	}
	if v == nil {
		f.need(key, rules)
		return false
	}
	n, ok := QuantityOf(f, v, key, rules, parse)
	if ok {
		*to = n
	}
	return ok
}

// QuantityOf reads a value that was taken already, such as one of a list.
func QuantityOf[T number](f *Fields, v *Value, key string, rules Rule, parse func(string) (T, error)) (T, bool) {
	text, ok := v.spelled()
	if !ok {
		f.FaultAt(v, CodeType, key, "this is %s; write %s", v.Kind, accepts(parse))
		return 0, false
	}
	n, err := parse(text)
	if err != nil {
		e, ok := err.(*measure.Error)
		switch {
		case !ok:
			f.FaultAt(v, CodeValue, key, "%s", Clean(err.Error()))
		case v.Kind == Float && strings.ContainsAny(v.Text, "in"): // inf, nan
			f.FaultAt(v, CodeValue, key, "%s is no %s; write %s", v.Text, e.Kind, e.Accepts)
		default:
			f.faultWithin(v, e.At, key, "%s is no %s: %s; write %s", Short(v.Raw(), 48), e.Kind, Short(e.Reason, 120), e.Accepts)
		}
		return 0, false
	}
	if x := float64(n); math.IsNaN(x) || math.IsInf(x, 0) {
		f.FaultAt(v, CodeValue, key, "%s is no value; write a number", Short(v.Raw(), 48))
		return 0, false
	}
	if !f.sign(v, key, rules, float64(n)) {
		return 0, false
	}
	return n, true
}

// faultWithin is FaultAt with the caret under the part of a text that is
// wrong, where the text stands in the file letter by letter.
func (f *Fields) faultWithin(v *Value, at int, key, format string, args ...any) {
	from := v.start + at
	if v.Kind == String {
		from++
	}
	raw := v.Raw()
	if at <= 0 || at >= len(v.Text) || raw != v.Text && (len(raw) < 2 || raw[1:len(raw)-1] != v.Text) || f.r.Full() {
		f.FaultAt(v, CodeValue, key, format, args...)
		return
	}
	f.r.Add(v.doc.problem(CodeValue, f.key(key), from, from+len(v.Text)-at, fmt.Sprintf(format, args...)))
}

func (f *Fields) sign(v *Value, key string, rules Rule, x float64) bool {
	switch {
	case rules&Positive != 0 && x <= 0:
		f.FaultAt(v, CodeValue, key, "%s cannot be: it must be more than zero", Short(v.Raw(), 48))
	case rules&NotNegative != 0 && x < 0:
		f.FaultAt(v, CodeValue, key, "%s cannot be: it must be zero or more", Short(v.Raw(), 48))
	default:
		return true
	}
	return false
}

// accepts asks a parser for examples of what it reads.
func accepts[T any](parse func(string) (T, error)) string {
	if _, err := parse(""); err != nil {
		if e, ok := err.(*measure.Error); ok {
			return e.Accepts
		}
	}
	return "a number"
}

// kindOf names what a parser reads.
func kindOf[T any](parse func(string) (T, error)) string {
	if _, err := parse(""); err != nil {
		if e, ok := err.(*measure.Error); ok {
			return e.Kind
		}
	}
	return "number"
}

func (f *Fields) need(key string, rules Rule) {
	if rules&Need != 0 {
		f.missed = append(f.missed, key)
	}
}

// Length takes a length; a bare number is in the unit of the file it stands in.
func (f *Fields) Length(key string, to *measure.Length, rules Rule) bool {
	v := f.Take(key)
	f.ask(key, "length", `96in, 3-1/2", 8' 3-1/2" or 2440mm`, rules)
	if v == nil {
		f.need(key, rules)
		return false
	}
	l, ok := f.LengthOf(v, key, rules)
	if ok {
		*to = l
	}
	return ok
}

// LengthOf reads a value that was taken already as a length.
func (f *Fields) LengthOf(v *Value, key string, rules Rule) (measure.Length, bool) {
	return QuantityOf(f, v, key, rules, func(s string) (measure.Length, error) { return measure.ParseLength(s, v.doc.Unit) })
}

// WallOf reads a value that was taken already as a wall: a length, or a gauge
// of the given series.
func (f *Fields) WallOf(v *Value, key string, gauges measure.Gauges, rules Rule) (measure.Length, bool) {
	return QuantityOf(f, v, key, rules, func(s string) (measure.Length, error) { return measure.ParseWall(s, v.doc.Unit, gauges) })
}

// Angle takes an angle in degrees.
func (f *Fields) Angle(key string, to *float64, rules Rule) bool {
	return Quantity(f, key, to, rules, measure.ParseAngle)
}

// Number takes a plain number; NaN and infinities are refused.
func (f *Fields) Number(key string, to *float64, rules Rule) bool {
	return Quantity(f, key, to, rules, measure.ParseNumber)
}

// Money takes an amount in the job's currency, zero or more.
func (f *Fields) Money(key string, to *measure.Money, rules Rule) bool {
	return Quantity(f, key, to, rules|NotNegative, measure.ParseMoney)
}

// Share takes a share: 30% or 0.3, from 0 to 1.
func (f *Fields) Share(key string, to *float64, rules Rule) bool {
	var x float64
	if !Quantity(f, key, &x, rules|NotNegative, measure.ParseShare) {
		return false
	}
	if x > 1 {
		f.Fault(CodeValue, key, "%s is more than all of it; write a share such as 30%% or 0.3", Short(f.Find(key).Raw(), 48))
		return false
	}
	*to = x
	return true
}

// Count takes a whole number from least to most.
func (f *Fields) Count(key string, to *int, least, most int, rules Rule) bool {
	v := f.Take(key)
	f.ask(key, "whole number", fmt.Sprintf("%d to %d", least, most), rules)
	if v == nil {
		f.need(key, rules)
		return false
	}
	n, err := strconv.ParseInt(v.Text, 0, 64)
	if v.Kind == String { // "5" is as good as 5
		n, err = strconv.ParseInt(strings.TrimSpace(v.Text), 10, 64)
	}
	switch {
	case v.Kind != Integer && v.Kind != String || err != nil:
		f.FaultAt(v, CodeType, key, "%s is no whole number; write one from %d to %d", Short(v.Raw(), 48), least, most)
		return false
	case n < int64(least) || n > int64(most):
		f.FaultAt(v, CodeValue, key, "%s cannot be; write a whole number from %d to %d", Short(v.Raw(), 48), least, most)
		return false
	}
	*to = int(n)
	return true
}

// Bool takes true or false.
func (f *Fields) Bool(key string, to *bool, rules Rule) bool {
	v := f.Take(key)
	f.ask(key, "true or false", "", rules)
	if v == nil {
		f.need(key, rules)
		return false
	}
	if v.Kind != Bool {
		f.FaultAt(v, CodeType, key, "%s is neither true nor false (without quotation marks)", Short(v.Raw(), 48))
		return false
	}
	*to = v.Text == "true"
	return true
}

// MaxText is the longest text that a job holds, in characters.
const MaxText = 2000

// Text takes a text.
func (f *Fields) Text(key string, to *string, rules Rule) bool {
	v := f.Take(key)
	f.ask(key, "text", "", rules)
	if v == nil {
		f.need(key, rules)
		return false
	}
	s, ok := f.TextOf(v, key)
	if ok {
		*to = s
	}
	return ok
}

// TextOf reads a value that was taken already as a text.
func (f *Fields) TextOf(v *Value, key string) (string, bool) {
	switch {
	case v.Kind != String:
		hint := ""
		if v.Kind != Array && v.Kind != TableKind {
			hint = ": " + Short(Quote(v.Raw()), 48)
		}
		f.FaultAt(v, CodeType, key, "this is %s; a text in quotation marks belongs here%s", v.Kind, hint)
	case utf8.RuneCountInString(v.Text) > MaxText:
		f.FaultAt(v, CodeTooMuch, key, "the text is longer than %d characters", MaxText)
	default:
		return v.Text, true
	}
	return "", false
}

// Name takes a name: a text of 1 to MaxKeyLength characters without the
// characters of banned.
func (f *Fields) Name(key string, to *string, banned string, rules Rule) bool {
	var s string
	if !f.Text(key, &s, rules) {
		return false
	}
	switch i := strings.IndexAny(s, banned); {
	case strings.TrimSpace(s) == "":
		f.Fault(CodeValue, key, "a name is at least one character long")
	case utf8.RuneCountInString(s) > MaxKeyLength:
		f.Fault(CodeTooMuch, key, "a name is at most %d characters long", MaxKeyLength)
	case s != strings.TrimSpace(s):
		f.Fault(CodeValue, key, "a name does not begin or end with a blank: write %s", Short(Quote(strings.TrimSpace(s)), 60))
	case banned != "" && i >= 0:
		r, _ := utf8.DecodeRuneInString(s[i:])
		f.Fault(CodeValue, key, "a name holds no %q: it has a meaning where names are used", r)
	default:
		*to = s
		return true
	}
	return false
}

// Choice takes one word of several.
func (f *Fields) Choice(key string, to *string, rules Rule, words ...string) bool {
	v := f.Take(key)
	f.ask(key, "one of "+strings.Join(words, ", "), "", rules)
	if v == nil {
		f.need(key, rules)
		return false
	}
	s, ok := f.ChoiceOf(v, key, words...)
	if ok {
		*to = s
	}
	return ok
}

// ChoiceOf reads a value that was taken already as one of several words.
func (f *Fields) ChoiceOf(v *Value, key string, words ...string) (string, bool) {
	s, ok := f.TextOf(v, key)
	if !ok {
		return "", false
	}
	for _, w := range words {
		if w == s {
			return s, true
		}
	}
	f.FaultAt(v, CodeValue, key, "%s is not among %s%s", Short(Quote(s), 48), List(words), suggest(s, words))
	return "", false
}

// List takes a list of least to most values (most 0: no limit but the file's).
func (f *Fields) List(key string, least, most int, what string, rules Rule) []*Value {
	v := f.Take(key)
	f.ask(key, "list", what, rules)
	if v == nil {
		f.need(key, rules)
		return nil
	}
	return f.ListOf(v, key, least, most, what)
}

// ListOf reads a value that was taken already as a list.
func (f *Fields) ListOf(v *Value, key string, least, most int, what string) []*Value {
	if v.Kind != Array {
		f.FaultAt(v, CodeType, key, "this is %s; a list belongs here: %s", v.Kind, what)
		return nil
	}
	n := len(v.Items)
	if n >= least && (most == 0 || n <= most) {
		return v.Items
	}
	how := fmt.Sprintf("%d to %d", least, most)
	switch {
	case most == 0:
		how = fmt.Sprintf("at least %d", least)
	case least == most:
		how = strconv.Itoa(least)
	}
	f.FaultAt(v, CodeValue, key, "the list holds %d, and %s belong here: %s", n, how, what)
	return nil
}

// Lengths takes a list of lengths; nil where it is missing or wrong.
func (f *Fields) Lengths(key string, least, most int, what string, rules Rule) []measure.Length {
	var out []measure.Length
	all := true
	for _, v := range f.List(key, least, most, what, rules) {
		l, ok := f.LengthOf(v, key, rules&^Need)
		out, all = append(out, l), all && ok
	}
	if !all {
		return nil
	}
	return out
}
