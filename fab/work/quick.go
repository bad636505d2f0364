package work

// slot is one field as Encode writes it: what stands before its value, and which field it is. (Which, and not a function
// that gives it: that would make every event a thing for the garbage collector.)
type slot struct {
	before string
	field  field
}

type field uint8

const (
	theMark field = iota // names, which come again and again
	theStick
	theSection
	theSource
	theJoint
	theKey
	theText // comes once
	theUnit // numbers
	thePass
	theFrom
	theTo
	theLength
	theNominal
	theAt
	theOf // an ID
)

// textAt tells where a name or text goes.
func (f *fields) textAt(x field) *string {
	switch x {
	case theMark:
		return &f.mark
	case theStick:
		return &f.stick
	case theSection:
		return &f.section
	case theSource:
		return &f.source
	case theJoint:
		return &f.joint
	case theKey:
		return &f.key
	}
	return &f.text
}

// numberAt tells where a number goes.
func (f *fields) numberAt(x field) *int64 {
	switch x {
	case theUnit:
		return &f.unit
	case thePass:
		return &f.pass
	case theFrom:
		return (*int64)(&f.from)
	case theTo:
		return (*int64)(&f.to)
	case theLength:
		return (*int64)(&f.length)
	case theNominal:
		return (*int64)(&f.nominal)
	}
	return &f.at
}

// slots are the fields of the frequent kinds, in the order in which Encode writes them.
var slots = func() (all [len(kinds)][]slot) {
	mark, unit, stick := slot{`,"mark":"`, theMark}, slot{`,"unit":`, theUnit}, slot{`,"stick":"`, theStick}
	from, to, key := slot{`,"from_nm":`, theFrom}, slot{`,"to_nm":`, theTo}, slot{`,"key":"`, theKey}
	joint, of := slot{`,"joint":"`, theJoint}, slot{`,"of":"`, theOf}
	all[kCut] = []slot{mark, unit, stick, from, to, key}
	all[kSpoiled] = []slot{mark, unit, stick, from, to, key, {`,"text":"`, theText}}
	all[kUndone] = []slot{of}
	all[kLoaded] = []slot{stick, {`,"section":"`, theSection}, {`,"source":"`, theSource}, {`,"length_nm":`, theLength}, {`,"nominal_nm":`, theNominal}}
	all[kTacked] = []slot{joint}
	all[kWelded] = []slot{joint, {`,"pass":`, thePass}}
	all[kArcOn] = []slot{joint} // and amps, see quick
	all[kArcOff] = []slot{of, {`,"at_ns":`, theAt}}
	return all
}()

// quick reads the text of an event of a frequent kind, if it is spelled as Encode spells it and needs no escapes. It
// reports whether it could; else f is to be read anew the long way, which gives the same of what both can read.
func (f *fields) quick(text []byte, name func([]byte) string) bool {
	if len(text) <= len(opening) || string(text[:len(opening)]) != opening {
		return false
	}
	b := text[len(opening):]
	n := plainRun(b)
	f.kind = kindOf(b[:n])
	if n == len(b) || b[n] != '"' || slots[f.kind] == nil {
		return false
	}
	b = b[n+1:]
	for i := range slots[f.kind] {
		s := &slots[f.kind][i]
		if len(b) < len(s.before) || string(b[:len(s.before)]) != s.before {
			continue // it is left out, or this is not Encode's spelling, which shows at the end
		}
		b = b[len(s.before):]
		if s.field >= theUnit && s.field < theOf {
			n := wholeNumber(b, f.numberAt(s.field))
			if n == 0 {
				return false
			}
			b = b[n:]
			continue
		}
		n := plainRun(b)
		if n == len(b) || b[n] != '"' {
			return false
		}
		switch {
		case s.field < theText:
			*f.textAt(s.field) = name(b[:n])
		case s.field == theText:
			f.text = string(b[:n])
		default:
			id, ok := parseID(b[:n])
			if !ok {
				return false
			}
			f.of = id
		}
		b = b[n+1:]
	}
	if f.kind == kArcOn {
		const before = `,"amps":`
		var amps int64
		if len(b) > len(before) && string(b[:len(before)]) == before {
			n := wholeNumber(b[len(before):], &amps)
			if n == 0 || n > 15 { // a whole number of more digits may have no float64 of its own
				return false
			}
			f.amps, b = float64(amps), b[len(before)+n:]
		}
	}
	return len(b) == 1 && b[0] == '}'
}

// plainRun tells how many bytes at the beginning stand for themselves within a text.
func plainRun(b []byte) int {
	for n, c := range b {
		if !plain[c] {
			return n
		}
	}
	return len(b)
}

// wholeNumber reads the digits at the beginning, at most 18 so that they cannot overflow, without a sign and without
// leading zeros, and tells how many they are; 0 where something else stands there.
func wholeNumber(b []byte, to *int64) int {
	var v int64
	for n, c := range b {
		d := c - '0'
		if d > 9 {
			if n == 0 || n > 1 && b[0] == '0' || c != ',' && c != '}' {
				return 0
			}
			*to = v
			return n
		}
		if n == 18 {
			return 0
		}
		v = v*10 + int64(d)
	}
	return 0
}
