package work

import (
	"fmt"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"

	"bench.example/soapstone/fab/measure"
)

// Decode reads the text of an event. An event of a later version or of a kind that is not
// known comes back as Unknown and is no error.
func Decode(text []byte) (What, error) {
	var f fields
	if err := f.decode(text, func(b []byte) string { return string(b) }); err != nil {
		return nil, err
	}
	return f.what(), nil
}

// decode reads the text into f. name makes the strings of names, which come again and again.
//
// It reads JSON (RFC 8259) objects by hand, because a start reads half a million of them in
// a blink; encoding/json takes ten times as long.
func (f *fields) decode(text []byte, name func([]byte) string) error {
	if f.quick(text, name) {
		return f.check()
	}
	*f = fields{}
	r := reader{b: text}
	var version int64
	var do string
	var wrong error // a field of the wrong kind; no matter in an event of a later version
	str := func(to *string, make func([]byte) string) {
		if r.peek() != '"' {
			if wrong == nil {
				wrong = &Error{do, fmt.Sprintf("byte %d: a text is wanted here", r.i)}
			}
			r.skip(0)
			return
		}
		*to = make(r.text())
	}
	num := func(to *int64) {
		n, ok := r.integer()
		if !ok && wrong == nil && r.err == nil {
			wrong = &Error{do, fmt.Sprintf("byte %d: a whole number is wanted here", r.i)}
		}
		*to = n
	}
	length := func(to *measure.Length) { num((*int64)(to)) }
	real := func(to *float64) {
		v, ok := r.real()
		if !ok && wrong == nil && r.err == nil {
			wrong = &Error{do, fmt.Sprintf("byte %d: a number is wanted here", r.i)}
		}
		*to = v
	}
	long := func(b []byte) string { return string(b) }
	r.want('{')
	for first := true; r.err == nil; first = false {
		if first && r.peek() == '}' {
			r.i++
			break
		}
		if r.peek() != '"' {
			r.fail("a field's name in quotes is wanted here")
			break
		}
		key := r.text()
		r.want(':')
		if r.err != nil {
			break
		}
		switch string(key) {
		case "v":
			num(&version)
		case "do":
			if r.peek() != '"' {
				r.fail("the kind of an event is a text")
				break
			}
			b := r.text()
			if f.kind = kindOf(b); f.kind != kUnknown {
				do = kinds[f.kind] // no copy
			} else {
				do = string(b)
			}
		case "mark":
			str(&f.mark, name)
		case "unit":
			num(&f.unit)
		case "stick":
			str(&f.stick, name)
		case "section":
			str(&f.section, name)
		case "source":
			str(&f.source, name)
		case "from_nm":
			length(&f.from)
		case "to_nm":
			length(&f.to)
		case "length_nm":
			length(&f.length)
		case "nominal_nm":
			length(&f.nominal)
		case "joint":
			str(&f.joint, name)
		case "pass":
			num(&f.pass)
		case "of":
			r.id(&f.of, do, &wrong)
		case "at_ns":
			num(&f.at)
		case "rest_ns":
			num(&f.ns)
		case "amps":
			real(&f.amps)
		case "left_deg":
			real(&f.left)
		case "right_deg":
			real(&f.right)
		case "about":
			str(&f.about, long)
		case "name":
			str(&f.name, name)
		case "value":
			str(&f.value, long)
		case "key":
			str(&f.key, name)
		case "text":
			str(&f.text, long)
		case "supplier":
			str(&f.bill().supplier, name)
		default:
			if to := f.number(string(key)); to != nil {
				num(to)
			} else {
				r.skip(0)
			}
		}
		if c := r.peek(); c == '}' {
			r.i++
			break
		}
		r.want(',')
	}
	if r.peek(); r.err == nil && r.i < len(r.b) {
		r.fail("nothing may follow the closing brace")
	}
	if r.err != nil {
		return r.err
	}
	if version < 1 {
		return &Error{do, `it needs "v", the version of its text, which is 1 today`}
	}
	if version > 1 || f.kind == kUnknown {
		if do == "" {
			return &Error{"", `it needs "do", the kind of event`}
		}
		if len(do) > MaxName {
			return &Error{"", "the name of its kind is too long"}
		}
		*f = fields{kind: kUnknown, do: do, text: string(text)}
		return nil
	}
	if wrong != nil {
		return wrong
	}
	return f.check()
}

// opening is how every text of this version that Encode wrote begins.
const opening = `{"v":1,"do":"`

func kindOf(do []byte) kind {
	switch string(do) { // the frequent ones first
	case "cut":
		return kCut
	case "arc-on":
		return kArcOn
	case "arc-off":
		return kArcOff
	}
	for k := 1; k < len(kinds); k++ {
		if kinds[k] == string(do) {
			return kind(k)
		}
	}
	return kUnknown
}

// reader walks over JSON. The first thing that is wrong stays in err, and everything after it
// does nothing.
type reader struct {
	b   []byte
	i   int
	err error
}

func (r *reader) fail(what string) {
	if r.err == nil {
		r.err = &Error{"", fmt.Sprintf("byte %d: %s", r.i, what)}
	}
	r.i = len(r.b)
}

// peek gives the next byte that is no blank, or 0.
func (r *reader) peek() byte {
	for r.i < len(r.b) {
		c := r.b[r.i]
		if c != ' ' && c != '\t' && c != '\r' && c != '\n' {
			return c
		}
		r.i++
	}
	return 0
}

// want steps over a byte that has to stand here.
func (r *reader) want(c byte) {
	if r.i < len(r.b) && r.b[r.i] == c {
		r.i++
		return
	}
	r.wantBehindBlanks(c)
}

func (r *reader) wantBehindBlanks(c byte) {
	if r.peek() != c || r.i >= len(r.b) {
		r.fail(fmt.Sprintf("%q is wanted here", string(rune(c))))
		return
	}
	r.i++
}

// text reads a string; the result may alias the input.
func (r *reader) text() []byte {
	r.want('"')
	from := r.i
	rest := r.b[from:]
	for n, c := range rest {
		if plain[c] {
			continue
		}
		r.i = from + n
		switch {
		case c == '"':
			r.i++
			return rest[:n]
		case c == '\\' || c >= 0x80:
			return r.slowText(from)
		}
		r.fail("a control character in a text has to be written as an escape")
		return nil
	}
	r.i = len(r.b)
	r.fail("a text has no closing quote")
	return nil
}

// plain are the bytes that stand for themselves within a text.
var plain = func() (t [256]bool) {
	for c := 0x20; c < 0x80; c++ {
		t[c] = c != '"' && c != '\\'
	}
	return t
}()

// slowText reads a string with escapes or letters beyond ASCII.
func (r *reader) slowText(from int) []byte {
	out := append([]byte(nil), r.b[from:r.i]...)
	for r.i < len(r.b) {
		c := r.b[r.i]
		switch {
		case c == '"':
			r.i++
			return out
		case c < 0x20:
			r.fail("a control character in a text has to be written as an escape")
			return nil
		case c >= 0x80:
			u, n := utf8.DecodeRune(r.b[r.i:])
			out = utf8.AppendRune(out, u)
			r.i += n
		case c != '\\':
			out = append(out, c)
			r.i++
		default:
			u, ok := r.escape()
			if !ok {
				r.fail("an escape that JSON does not know")
				return nil
			}
			out = utf8.AppendRune(out, u)
		}
	}
	r.fail("a text has no closing quote")
	return nil
}

func (r *reader) escape() (rune, bool) {
	if r.i+1 >= len(r.b) {
		return 0, false
	}
	c := r.b[r.i+1]
	r.i += 2
	switch c {
	case '"', '\\', '/':
		return rune(c), true
	case 'b':
		return '\b', true
	case 'f':
		return '\f', true
	case 'n':
		return '\n', true
	case 'r':
		return '\r', true
	case 't':
		return '\t', true
	case 'u':
		u, ok := r.hex4()
		if !ok {
			return 0, false
		}
		if utf16.IsSurrogate(u) {
			if r.i+1 < len(r.b) && r.b[r.i] == '\\' && r.b[r.i+1] == 'u' {
				at := r.i
				r.i += 2
				if low, ok := r.hex4(); ok {
					if pair := utf16.DecodeRune(u, low); pair != utf8.RuneError {
						return pair, true
					}
				}
				r.i = at
			}
			return utf8.RuneError, true
		}
		return u, true
	}
	return 0, false
}

func (r *reader) hex4() (rune, bool) {
	if r.i+4 > len(r.b) {
		return 0, false
	}
	var u rune
	for _, c := range r.b[r.i : r.i+4] {
		switch {
		case c >= '0' && c <= '9':
			u = u<<4 | rune(c-'0')
		case c >= 'a' && c <= 'f':
			u = u<<4 | rune(c-'a'+10)
		case c >= 'A' && c <= 'F':
			u = u<<4 | rune(c-'A'+10)
		default:
			return 0, false
		}
	}
	r.i += 4
	return u, true
}

// number gives the bytes of a number, or none where no number stands; then it steps over
// what stands there.
func (r *reader) number() []byte {
	if c := r.peek(); c != '-' && (c < '0' || c > '9') {
		r.skip(0)
		return nil
	}
	from := r.i
	if r.b[r.i] == '-' {
		r.i++
	}
	zero := r.i < len(r.b) && r.b[r.i] == '0'
	if n := r.digits(); n == 0 || zero && n > 1 {
		r.fail("this is no number")
		return nil
	}
	if r.i < len(r.b) && r.b[r.i] == '.' {
		r.i++
		if r.digits() == 0 {
			r.fail("this is no number")
			return nil
		}
	}
	if r.i < len(r.b) && (r.b[r.i] == 'e' || r.b[r.i] == 'E') {
		r.i++
		if r.i < len(r.b) && (r.b[r.i] == '+' || r.b[r.i] == '-') {
			r.i++
		}
		if r.digits() == 0 {
			r.fail("this is no number")
			return nil
		}
	}
	return r.b[from:r.i]
}

func (r *reader) digits() (n int) {
	for r.i < len(r.b) && r.b[r.i] >= '0' && r.b[r.i] <= '9' {
		r.i++
		n++
	}
	return n
}

func (r *reader) integer() (int64, bool) {
	r.peek()
	// Nearly always a few digits and what ends the field; all else goes the long way.
	var n int64
	for i, c := range r.b[r.i:min(r.i+19, len(r.b))] {
		if d := c - '0'; d <= 9 {
			n = n*10 + int64(d)
			continue
		}
		if (c == ',' || c == '}') && (i == 1 || i > 1 && r.b[r.i] != '0') {
			r.i += i
			return n, true
		}
		break
	}
	b := r.number()
	if len(b) == 0 {
		return 0, false
	}
	if len(b) < 19 { // cannot overflow
		n = 0
		s := b
		if s[0] == '-' {
			s = s[1:]
		}
		for _, c := range s {
			if c < '0' || c > '9' {
				return 0, false
			}
			n = n*10 + int64(c-'0')
		}
		if b[0] == '-' {
			n = -n
		}
		return n, true
	}
	n, err := strconv.ParseInt(string(b), 10, 64)
	return n, err == nil
}

func (r *reader) real() (float64, bool) {
	b := r.number()
	if len(b) == 0 {
		return 0, false
	}
	v, err := strconv.ParseFloat(string(b), 64)
	return v, err == nil
}

func (r *reader) id(to *ID, do string, wrong *error) {
	if r.peek() == '"' {
		if id, ok := parseID(r.text()); ok {
			*to = id
			return
		}
	} else {
		r.skip(0)
	}
	if *wrong == nil && r.err == nil {
		*wrong = &Error{do, `"of" has to name an event, as in "00c0ffee00c0ffee-17"`}
	}
}

const maxDepth = 32 // of values within values that are stepped over

// skip steps over any value.
func (r *reader) skip(depth int) {
	if depth > maxDepth {
		r.fail("values are nested too deep")
		return
	}
	switch c := r.peek(); {
	case r.i >= len(r.b):
		r.fail("a value is wanted here")
	case c == '"':
		r.text()
	case c == '-' || c >= '0' && c <= '9':
		r.number()
	case c == '{' || c == '[':
		r.skipMany(c, depth)
	default:
		for _, word := range [...]string{"true", "false", "null"} {
			if len(r.b)-r.i >= len(word) && string(r.b[r.i:r.i+len(word)]) == word {
				r.i += len(word)
				return
			}
		}
		r.fail("a value is wanted here")
	}
}

func (r *reader) skipMany(open byte, depth int) {
	r.i++
	closing := byte(']')
	if open == '{' {
		closing = '}'
	}
	for first := true; r.err == nil; first = false {
		if first && r.peek() == closing {
			break
		}
		if open == '{' {
			r.peek()
			r.text()
			r.want(':')
		}
		r.skip(depth + 1)
		if r.peek() == closing {
			break
		}
		r.want(',')
	}
	if r.err == nil {
		r.i++
	}
}
