package work

import (
	"strconv"
	"unicode/utf8"
)

// Encode gives the text of an event: one line, without the line feed. It refuses what could
// not be read again.
func Encode(w What) ([]byte, error) {
	f := w.fields()
	if f.kind == kUnknown {
		return nil, &Error{"", "an event of a later version cannot be written by this one"}
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	b := append(make([]byte, 0, 160), `{"v":1,"do":"`...)
	b = append(append(b, kinds[f.kind]...), '"')
	str := func(key, s string) {
		if s != "" {
			b = append(append(append(b, `,"`...), key...), `":`...)
			b = appendString(b, s)
		}
	}
	num := func(key string, n int64) {
		if n != 0 {
			b = append(append(append(b, `,"`...), key...), `":`...)
			b = strconv.AppendInt(b, n, 10)
		}
	}
	real := func(key string, v float64) {
		if v != 0 {
			b = append(append(append(b, `,"`...), key...), `":`...)
			b = strconv.AppendFloat(b, v, 'g', -1, 64)
		}
	}
	str("mark", f.mark)
	num("unit", f.unit)
	str("stick", f.stick)
	str("section", f.section)
	str("source", f.source)
	num("from_nm", int64(f.from))
	num("to_nm", int64(f.to))
	num("length_nm", int64(f.length))
	num("nominal_nm", int64(f.nominal))
	str("joint", f.joint)
	num("pass", f.pass)
	if !f.of.Zero() {
		str("of", f.of.String())
	}
	num("at_ns", f.at)
	num("rest_ns", f.ns)
	real("amps", f.amps)
	real("left_deg", f.left)
	real("right_deg", f.right)
	str("about", f.about)
	str("name", f.name)
	str("value", f.value)
	str("key", f.key)
	str("text", f.text)
	if r := f.receipt; r != nil {
		num("qty", r.qty)
		num("price_e4", r.price)
		num("wall_nm", int64(r.wall))
		num("bow_nm", int64(r.bow))
		num("twist_nm", int64(r.twist))
		num("no_more", r.noMore)
		str("supplier", r.supplier)
	}
	return append(b, '}'), nil
}

// appendString writes a JSON string (RFC 8259, section 7). Bytes that are not UTF-8 become
// the replacement character.
func appendString(b []byte, s string) []byte {
	const digits = "0123456789abcdef"
	b = append(b, '"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b = append(b, '\\', byte(r))
		case r < 0x20 || r == 0x7f:
			b = append(b, '\\', 'u', '0', '0', digits[r>>4], digits[r&15])
		default:
			b = utf8.AppendRune(b, r)
		}
	}
	return append(b, '"')
}
